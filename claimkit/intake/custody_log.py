"""One writer's custody log: lines of JSON, each carrying the hash of the line before it.

A line is its stored bytes without the line's end, and its hash is the SHA-256 of exactly those.
The chain shows changes before its last line that something else has cited: another writer's log,
a packet that was sent, a timestamp. Cutting off the end, or rewriting all of it, cannot be seen
without one and looks like a run that was cut short.
"""

from __future__ import annotations

import base64
import codecs
import hashlib
import json
from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

from msgspec import structs

from claimkit.model.facts import CustodyEvent, CustodyLine

NO_LINE = "0" * 64
_CLOCK_SLACK = timedelta(minutes=2)


@dataclass(frozen=True, slots=True)
class Head:
    """The last line of a writer's log as another line cites it."""

    writer: str
    number: int
    sha256: str


@dataclass(frozen=True, slots=True)
class Entry:
    """Something to be written as one line. `text` is a record's own bytes, kept whole."""

    event: CustodyEvent
    path: str | None = None
    sha256: str | None = None
    size_bytes: int | None = None
    was_sha256: str | None = None
    detail: str | None = None
    text: bytes | None = None


@dataclass(frozen=True, slots=True)
class Stored:
    """One line as it stands in a log.

    `heads` are the other logs' last lines that it cites, `follow` how many lines its run set out
    to write after it (None where it says nothing of that), `named` the writer that it names.
    `own_form` is False where its bytes are not as claimkit writes these values.
    """

    line: CustodyLine
    heads: tuple[Head, ...] = ()
    follow: int | None = None
    named: str | None = None
    own_form: bool = True


@dataclass(frozen=True, slots=True)
class Log:
    """A log as read: its readable lines, what does not fit, and where the next line goes.

    `torn` are bytes after the last whole line, `whole` the length in bytes up to there. `last` is
    the hash of the last whole line, `number` its number. `short` tells how many lines the last
    run announced and did not write.
    """

    writer: str
    lines: tuple[Stored, ...] = ()
    breaks: tuple[str, ...] = ()
    torn: bytes = b""
    whole: int = 0
    last: str = NO_LINE
    number: int = 0
    short: int = 0

    @property
    def head(self) -> Head:
        """The last whole line, to be cited."""
        return Head(self.writer, self.number, self.last)


def encode(
    log: Log, entries: Sequence[Entry], at: datetime, heads: Sequence[Head] = (), tool: str = ""
) -> bytes:
    """Give the entries as lines that continue the log, each with its line end.

    The first line carries the tool's version, the heads of the other logs and how many lines
    follow it. `at` is aware; it is written as UTC.
    """
    if at.tzinfo is None:
        raise ValueError("custody writes aware times only")
    written = []
    previous = log.last
    for place, entry in enumerate(entries):
        fields = _fields(entry)
        fields |= {"n": log.number + place + 1, "at": at.astimezone(UTC).isoformat()}
        fields["prev"] = previous
        if place == 0:
            cited = {head.writer: [head.number, head.sha256] for head in heads}
            fields |= {"writer": log.writer, "tool": tool, "heads": cited}
            fields["lines"] = len(entries) - 1
        line = _canonical(fields)
        previous = hashlib.sha256(line).hexdigest()
        written.append(line + b"\n")
    return b"".join(written)


def _fields(entry: Entry) -> dict[str, Any]:
    fields = {
        "event": entry.event.value,
        "path": entry.path,
        "sha256": entry.sha256,
        "size": entry.size_bytes,
        "was": entry.was_sha256,
        "detail": entry.detail,
    }
    if entry.text is not None:
        try:
            fields["detail"] = entry.text.decode("utf-8")
        except UnicodeDecodeError:  # no text after all: its bytes are kept as they are
            fields["base64"] = base64.b64encode(entry.text).decode("ascii")
    return {key: value for key, value in fields.items() if value is not None}


def _canonical(fields: Mapping[str, Any]) -> bytes:
    # ASCII only: no editor or synced folder can change it by taking it for another encoding.
    return json.dumps(fields, sort_keys=True, separators=(",", ":")).encode("ascii")


def read_log(writer: str, data: bytes) -> Log:
    """Read a log and check its chain. Never raises: what does not fit is a sentence in `breaks`."""
    whole = data.rfind(b"\n") + 1
    rows = data[:whole].split(b"\n")[:-1]
    breaks = []
    if rows and rows[0].startswith(codecs.BOM_UTF8):
        breaks.append(
            f"{log_path(writer)}: another program put a mark of its encoding in front. Apart from "
            "what is said below, its lines are as they were written."
        )
        rows[0] = rows[0].removeprefix(codecs.BOM_UTF8)
    if any(row.endswith(b"\r") for row in rows):
        breaks.append(
            f"{log_path(writer)}: another program changed its line ends. Apart from what is "
            "said below, its lines are as they were written."
        )
        rows = [row.removesuffix(b"\r") for row in rows]
    lines: list[Stored] = []
    last, number = NO_LINE, 0
    for row in rows:
        stored = _parsed(writer, row)
        wrong = _what_is_wrong(stored, last, number, lines[-1] if lines else None)
        breaks += [f"{log_path(writer)}, line {number + 1}: {sentence}" for sentence in wrong]
        last = stored.line.line_sha256 if stored else hashlib.sha256(row).hexdigest()
        number = stored.line.number if stored else number + 1
        if stored:
            lines.append(stored)
    short = _short(lines)
    return Log(writer, tuple(lines), tuple(breaks), data[whole:], whole, last, number, short)


def log_path(writer: str) -> str:
    """Name a writer's log, relative to the job folder."""
    return f"custody/{writer}.jsonl"


def _parsed(writer: str, row: bytes) -> Stored | None:
    try:
        fields = json.loads(row)
        line = CustodyLine(
            writer=writer,
            number=_a(int, fields["n"]),
            at=_utc(fields["at"]),
            event=CustodyEvent(fields["event"]),
            path=_a(str, fields.get("path"), None),
            sha256=_a(str, fields.get("sha256"), None),
            detail=_a(str, fields.get("detail"), None),
            previous=_a(str, fields["prev"]),
            line_sha256=hashlib.sha256(row).hexdigest(),
            was_sha256=_a(str, fields.get("was"), None),
            size_bytes=_a(int, fields.get("size"), None),
        )
        heads = tuple(
            Head(_a(str, name), _a(int, number), _a(str, sha256))
            for name, (number, sha256) in _a(dict, fields.get("heads", {})).items()
        )
        follow = _a(int, fields.get("lines"), None)
        named = _a(str, fields.get("writer"), None)
        tool = _a(str, fields.get("tool", ""))
        own_form = _canonical(fields) == row
    except (ValueError, TypeError, KeyError, AttributeError, OverflowError, RecursionError):
        return None
    if line.event is CustodyEvent.RUN:
        line = _with_run(line, tool, heads, follow or 0)
    return Stored(line, heads, follow, named, own_form)


def _a(kind: type[Any], value: Any, *other: None) -> Any:
    if type(value) is kind or (other and value is None):
        return value
    raise TypeError(f"{value!r} is no {kind.__name__}")


def _utc(text: Any) -> datetime:
    at = datetime.fromisoformat(_a(str, text))
    if at.tzinfo is None:
        raise ValueError("a custody line's time carries its zone")
    return at.astimezone(UTC)


def _with_run(line: CustodyLine, tool: str, heads: Sequence[Head], follow: int) -> CustodyLine:
    cited = ", ".join(f"{head.writer} line {head.number} {head.sha256[:12]}" for head in heads)
    others = f"other logs: {cited}" if cited else "no other logs"
    lines = "1 line follows" if follow == 1 else f"{follow} lines follow"
    return structs.replace(line, detail=f"{tool}; {lines}; {others}")


def _what_is_wrong(
    stored: Stored | None, last: str, number: int, before: Stored | None
) -> Iterator[str]:
    if stored is None:
        yield "it cannot be read as a custody line. It was changed or damaged after it was written."
        return
    line = stored.line
    if line.previous != last:
        yield (
            "it does not follow from what stands before it. A line there was changed, removed, "
            "moved or put in."
        )
    elif line.number != number + 1:
        yield f"it carries the number {line.number}. It was changed or put in."
    if not stored.own_form:
        yield "it is not written as claimkit writes it. It was changed or put in."
    if stored.named not in (None, line.writer):
        yield (
            f"it names the writer {stored.named}. The log was copied or renamed: give it back "
            f"the name {stored.named}.jsonl, or delete the copy."
        )
    if before and line.at < before.line.at - _CLOCK_SLACK:
        yield (
            f"its time, {line.at:%Y-%m-%d %H:%M} UTC, is before that of the line above it. That "
            "computer's clock was set back, or a line was made up."
        )


def clock_behind(lines: Sequence[CustodyLine], now: datetime) -> str:
    """Say which line is later than `now` (aware) on this computer's clock; empty where none is."""
    latest = max(lines, key=lambda line: line.at, default=None)
    if latest is None or latest.at <= now + _CLOCK_SLACK:
        return ""
    return (
        f"This computer's clock says {now.astimezone(UTC):%Y-%m-%d %H:%M} UTC, and "
        f"{log_path(latest.writer)}, line {latest.number}, was written at "
        f"{latest.at:%Y-%m-%d %H:%M} UTC. This clock is behind, or that of {latest.writer} was "
        "ahead."
    )


def _short(lines: Sequence[Stored]) -> int:
    for behind, stored in enumerate(reversed(lines)):
        if stored.follow is not None:
            return max(0, stored.follow - behind)
    return 0


def in_order(logs: Sequence[Log]) -> tuple[CustodyLine, ...]:
    """Give the lines of all logs, each after every line that its writer knew of.

    What a log cites decides, not the clocks of the machines; among lines that do not know of each
    other the earlier time comes first.
    """
    ranks: dict[str, list[int]] = {log.writer: [] for log in logs}
    numbers = {log.writer: sorted(stored.line.number for stored in log.lines) for log in logs}
    pending = [log for log in logs if log.lines]
    while pending:
        moved = [_advance(log, numbers, ranks) for log in pending]
        if not any(moved):  # logs that cite each other in a ring: made up, and read all the same
            _rank_next(pending[0], numbers, ranks)
        pending = [log for log in pending if len(ranks[log.writer]) < len(log.lines)]
    placed = [
        (rank, stored.line.at, log.writer, place, stored.line)
        for log in logs
        for place, (rank, stored) in enumerate(zip(ranks[log.writer], log.lines, strict=True))
    ]
    return tuple(line for *_, line in sorted(placed, key=lambda row: row[:4]))


def _advance(log: Log, numbers: dict[str, list[int]], ranks: dict[str, list[int]]) -> bool:
    """Rank this log's lines as far as all that they cite is ranked; tell whether any was."""
    before = len(ranks[log.writer])
    while len(ranks[log.writer]) < len(log.lines):
        cited = log.lines[len(ranks[log.writer])].heads
        if any(
            len(ranks[head.writer]) < _upto(head, numbers) for head in cited if head.writer in ranks
        ):
            break
        _rank_next(log, numbers, ranks)
    return len(ranks[log.writer]) > before


def _upto(head: Head, numbers: dict[str, list[int]]) -> int:
    """Tell how many lines of the cited log come up to the line that is cited."""
    return bisect_right(numbers[head.writer], head.number)


def _rank_next(log: Log, numbers: dict[str, list[int]], ranks: dict[str, list[int]]) -> None:
    own = ranks[log.writer]
    known = own[-1:]
    for head in log.lines[len(own)].heads:
        if head.writer in ranks:
            known = known + ranks[head.writer][: _upto(head, numbers)][-1:]
    own.append(max(known, default=0) + 1)


def broken_citations(logs: Sequence[Log]) -> tuple[str, ...]:
    """Give a sentence for each line of a log that another log cites and that is not there so."""
    lines = {
        (log.writer, stored.line.number): stored.line.line_sha256
        for log in logs
        for stored in log.lines
    }
    ends = {log.writer: log.number for log in logs}
    breaks = []
    for log in logs:
        for stored in log.lines:
            for head in stored.heads:
                if head.number == 0 or lines.get((head.writer, head.number)) == head.sha256:
                    continue
                breaks.append(
                    f"{log_path(log.writer)}, line {stored.line.number}: "
                    + _citation_sentence(head, ends.get(head.writer))
                )
    return tuple(breaks)


def _citation_sentence(head: Head, end: int | None) -> str:
    cited = f"it cites line {head.number} of {log_path(head.writer)}"
    if end is None:
        return f"{cited}, and that log is not here. It is still to be synchronised, or was removed."
    if end < head.number:
        return (
            f"{cited}, and that log ends with line {end}. The rest is still to be synchronised, "
            "or was removed."
        )
    return f"{cited}, and that line is another now. It was changed after it had been cited."
