"""What stands outside a log and has kept one of its lines: a packet, a timestamp, another log.

Up to such a line a log cannot be changed without showing, whoever changes it; after it, whoever
can write the file can write its end anew. An anchor counts for as much as its copies elsewhere.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from claimkit.intake.custody_log import Log, log_path
from claimkit.model.anchors import LogHead
from claimkit.model.verified import Outcome, Point


@dataclass(frozen=True, slots=True)
class Anchor:
    """Something that has kept lines of logs. `name` says which, for print."""

    name: str
    heads: tuple[LogHead, ...]


def in_logs(logs: Iterable[Log]) -> Iterator[Anchor]:
    """Give the lines that logs have kept of each other."""
    for log in logs:
        for stored in log.lines:
            kept = tuple(
                LogHead(head.writer, head.number, head.sha256)
                for head in stored.heads
                if head.number and head.writer != log.writer
            )
            if kept:
                yield Anchor(f"{log_path(log.writer)}, line {stored.line.number}", kept)


def held_against(logs: Sequence[Log], anchors: Iterable[Anchor]) -> Iterator[Point]:
    """Hold each anchor's lines against the logs as they are now."""
    ends = {log.writer: log.number for log in logs}
    lines = _lines(logs)
    for anchor in anchors:
        for head in anchor.heads:
            if lines.get((head.writer, head.number)) == head.sha256:
                continue
            where = log_path(head.writer)
            kept = f"{anchor.name} keeps line {head.number} of it as {head.sha256[:12]}…"
            end = ends.get(head.writer)
            if end is None:
                found = "and this log is not here. It is still to be synchronised, or was removed."
            elif end < head.number:
                found = f"and it ends with line {end}. The rest was removed, or never came here."
            else:
                found = (
                    f"and another line {head.number} stands there now. It, or a line before it, "
                    "was changed, removed, moved or put in after that."
                )
            yield Point(Outcome.BROKEN, where, f"{kept}, {found}")


def reach(logs: Sequence[Log], anchors: Sequence[Anchor]) -> Iterator[Point]:
    """Say up to which line each log is anchored, by what, and what after it cannot be seen."""
    lines = _lines(logs)
    for log in logs:
        if not log.lines:
            continue
        best = max(
            (
                (head.number, anchor.name)
                for anchor in anchors
                for head in anchor.heads
                if head.writer == log.writer
                and lines.get((head.writer, head.number)) == head.sha256
            ),
            default=(0, ""),
        )
        yield from _reach(log, *best)


def _reach(log: Log, number: int, name: str) -> Iterator[Point]:
    where = log_path(log.writer)
    if number:
        yield Point(
            Outcome.HOLDS,
            where,
            f"Up to line {number} it is as {name} has kept it; a change there would show.",
        )
    if number == log.number:
        what, them = "Lines put in or cut off after its last line", "that"
    elif number + 1 == log.number:
        what, them = f"Line {log.number} stands after that. Rewriting or cutting it off", "it"
        if not number:
            what = "Nothing outside has kept a line of it. Rewriting or cutting it off"
    else:
        what = f"Lines {number + 1} to {log.number} stand after that."
        if not number:
            what = f"Nothing outside has kept any of its {log.number} lines."
        what, them = f"{what} Rewriting all of them, or cutting some off at the end,", "them"
    yield Point(
        Outcome.OPEN,
        where,
        f"{what} cannot be seen here. A packet that is sent, a timestamp or a run of claimkit on "
        f"another computer keeps {them}.",
    )


def _lines(logs: Iterable[Log]) -> dict[tuple[str, int], str]:
    return {
        (log.writer, stored.line.number): stored.line.line_sha256
        for log in logs
        for stored in log.lines
    }
