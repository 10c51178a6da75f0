"""The custody of a job folder: what was first seen when, what changed, what went missing.

Each computer appends to a log of its own under custody/ and cites the others. A run that died in
the middle of a line is mended by the next one, which keeps the torn bytes and says so; everything
else that does not fit in any log is reported and left exactly as it stands.
"""

from __future__ import annotations

import errno
import hashlib
import os
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from claimkit import __version__
from claimkit.intake.custody_log import (
    Entry,
    Log,
    broken_citations,
    encode,
    in_order,
    log_path,
    read_log,
)
from claimkit.intake.disk import Disk, RealDisk, append, put
from claimkit.intake.entry import Entry as Listed
from claimkit.intake.entry import EntryKind
from claimkit.intake.paths import CUSTODY, shown
from claimkit.intake.refused import reason_of
from claimkit.intake.unlogged import News, Taken, unlogged
from claimkit.intake.writer import is_writer, writer_name
from claimkit.model.facts import Custody, CustodyEvent

TOOL = f"claimkit {__version__}"
TEXT_LIMIT = 1 << 20  # bytes of a record that a line keeps; a longer one is no record
_TORN = re.compile(r"(?P<writer>.+)\.torn-(?P<number>\d+)")


@dataclass(frozen=True, slots=True)
class Shelf:
    """What custody/ holds: logs in order of writers, torn pieces kept, sentences on the rest.

    `listed` is what stood there before any of it was read. `copies` are files that look like logs
    and are none; `closed` are logs that cannot be read. `whole` is False where a line that is due
    could not be written this time.
    """

    listed: tuple[Listed, ...] = ()
    logs: tuple[Log, ...] = ()
    torn: tuple[str, ...] = ()
    copies: tuple[tuple[str, bytes], ...] = ()
    closed: tuple[tuple[str, str], ...] = ()
    whole: bool = True

    def log(self, writer: str) -> Log:
        """Give a writer's log, an empty one where it has none."""
        return next((log for log in self.logs if log.writer == writer), Log(writer))

    @property
    def at_rest(self) -> bool:
        """Tell whether no writer has anything to mend or to add and every log could be read."""
        stored = (stored.line for log in self.logs for stored in log.lines)
        said = {line.path for line in stored if line.event is CustodyEvent.RECOVERED}
        cut_off = any(log.torn or log.short for log in self.logs)
        unsaid = any(f"{CUSTODY}/{name}" not in said for name in self.torn)
        return self.whole and not (self.closed or cut_off or unsaid)


def read_custody(root: Path, disk: Disk) -> Custody:
    """Read all logs of a job folder together and check them. Writes nothing, never raises."""
    try:
        shelf = _shelf(root, disk)
    except OSError as error:
        return Custody(breaks=(f"{CUSTODY}/ cannot be read: {reason_of(error)}.",))
    return custody_of(shelf)


def read_logs(root: Path, disk: Disk) -> tuple[Log, ...]:
    """Read the logs of a job folder, each by itself. Raises OSError where custody/ is closed."""
    return _shelf(root, disk).logs


def pending(root: Path, taken: Taken, disk: Disk) -> int:
    """Tell how many lines about files `take_in` would write. Writes nothing."""
    return len(unlogged(read_custody(root, disk).lines, taken))


def take_in(root: Path, taken: Taken, writer: str, now: datetime, disk: Disk) -> Shelf:
    """Append what this run sees and no log has said, and give what custody/ holds then.

    `now` is aware. Mends this writer's own log first where a run died while writing it. Writes
    nothing where there is nothing to say. Raises OSError where custody/ cannot be written; what is
    on the disk then is still whole, or is mended by the next run.
    """
    shelf = _shelf(root, disk)
    entries = _mended(root, shelf, writer, disk)
    news = unlogged(in_order(shelf.logs), taken)
    due = [tuple(_entry(item, disk)) for item in news]
    entries += [entry for one in due for entry in one]
    if entries:
        shelf = _written(root, writer, [Entry(CustodyEvent.RUN), *entries], now, disk)
    return replace(shelf, whole=all(due))


def custody_of(shelf: Shelf) -> Custody:
    """Read the logs of a shelf together and check them."""
    lines = in_order(shelf.logs)
    breaks = [sentence for log in shelf.logs for sentence in log.breaks]
    breaks += broken_citations(shelf.logs)
    breaks += [said for name, data in shelf.copies if (said := _copy_sentence(shelf, name, data))]
    breaks += [
        f"{CUSTODY}/{shown(name)} cannot be read: {why}. What it says is not known here."
        for name, why in shelf.closed
    ]
    recovered = [
        line.detail or "" for line in lines if line.event is CustodyEvent.RECOVERED and line.detail
    ]
    recovered += [_unmended(log) for log in shelf.logs if log.torn or log.short]
    return Custody(lines, tuple(breaks), tuple(recovered))


def log_packet(  # noqa: PLR0913 - the parts of one custody line
    root: Path,
    *,
    path: str,
    sha256: str,
    for_whom: str,
    now: datetime,
    writer: str | None = None,
    disk: Disk | None = None,
) -> Custody:
    """Append that a packet was written: where, its hash, for whom.

    `path` is relative to the job folder where the packet lies in it. Otherwise as `log_entry`.
    """
    line = Entry(CustodyEvent.PACKET_WRITTEN, shown(path), sha256, detail=f"for {for_whom}")
    return log_entry(root, line, now=now, writer=writer, disk=disk)


def log_entry(
    root: Path,
    line: Entry,
    *,
    now: datetime,
    writer: str | None = None,
    disk: Disk | None = None,
) -> Custody:
    """Append one line about something that claimkit wrote or took in. Waits for other runs.

    `writer` and `disk` default to this computer's. The line cites the other logs by itself and
    stands without a RUN line, so that a packet that prints the intake lines is the same before and
    after it was logged. Raises OSError where custody/ cannot be written.
    """
    disk = disk or RealDisk()
    root = root.resolve()
    writer = writer_name(writer, disk)
    with disk.lock(root, None):
        shelf = _shelf(root, disk)
        mended = _mended(root, shelf, writer, disk)
        if mended:
            _written(root, writer, [Entry(CustodyEvent.RUN), *mended], now, disk)
        return custody_of(_written(root, writer, [line], now, disk))


def listed(root: Path, disk: Disk) -> tuple[Listed, ...]:
    """List custody/ and open nothing. Raises OSError where it is closed or no folder."""
    folder = root / CUSTODY
    there = disk.look(folder)
    if there is None:
        return ()
    if there.kind is not EntryKind.FOLDER:
        raise OSError("it is no folder")
    return tuple(entry for entry in disk.scan(folder) if entry.name != ".lock")


def _shelf(root: Path, disk: Disk) -> Shelf:
    folder = root / CUSTODY
    files = listed(root, disk)
    held: dict[str, bytes] = {}
    torn, closed = [], []
    for entry in files:
        if entry.kind is not EntryKind.FILE or entry.name.endswith(".tmp"):
            continue
        if _TORN.fullmatch(entry.name):
            torn.append(entry.name)
        elif ".jsonl" in entry.name:
            try:
                held[entry.name] = disk.read(folder / entry.name).data
            except OSError as error:
                closed.append((entry.name, reason_of(error)))
    copies = tuple((name, data) for name, data in held.items() if _is_copy(name, held))
    logs = tuple(
        read_log(name.removesuffix(".jsonl"), data)
        for name, data in held.items()
        if (name, data) not in copies
    )
    return Shelf(files, logs, tuple(torn), copies, tuple(closed))


def _is_copy(name: str, held: dict[str, bytes]) -> bool:
    """Tell whether a file is no writer's log: by its name, or as a renamed copy of another here."""
    writer = name.removesuffix(".jsonl")
    if not name.endswith(".jsonl") or not is_writer(writer):
        return True
    first = held[name].partition(b"\n")[0]
    named = next((stored.named for stored in read_log(writer, first + b"\n").lines), None)
    other = held.get(f"{named}.jsonl")
    return named != writer and other is not None and other.startswith(first + b"\n")


def _unmended(log: Log) -> str:
    ends = []
    if log.short:
        ends.append(f"{log.short} lines short of what its last run set out to write")
    if log.torn:
        ends.append(f"with {len(log.torn)} bytes of an unfinished line")
    return (
        f"{log_path(log.writer)} ends {' and '.join(ends)}. A run was cut off, or the file is "
        f"still being written or synchronised. The next run of claimkit as {log.writer} mends it."
    )


def _copy_sentence(shelf: Shelf, name: str, data: bytes) -> str | None:
    """Say how the lines of a file that looks like a log differ from the log's own.

    None where they do not, and its name already says that it is a copy: then the walk names it
    among the files that are not taken, and no log is in doubt.
    """
    copy = read_log("copy", data)
    writer = next((stored.named for stored in copy.lines if stored.named), None)
    said = f"{CUSTODY}/{shown(name)} is not the log of a writer and was not read as one."
    if writer is None:
        return f"{said} It names no writer. Move it out of {CUSTODY}/."
    own = {stored.line.line_sha256 for stored in shelf.log(writer).lines}
    extra = [stored for stored in copy.lines if stored.line.line_sha256 not in own]
    if not extra and not copy.torn:
        if not is_writer(name.removesuffix(".jsonl")):
            return None
        return f"{said} All its lines stand in {log_path(writer)}: it can be deleted."
    return (
        f"{said} It is a copy of {log_path(writer)} with {len(extra)} lines that are not there: "
        "two computers may write under one name. Keep the copy, and give one of them another "
        "name with CLAIMKIT_WRITER."
    )


def _mended(root: Path, shelf: Shelf, writer: str, disk: Disk) -> list[Entry]:
    """Cut this writer's log back to its last whole line, and give what is to be said of it.

    The torn bytes are kept first, so that dying between any two steps loses nothing: a torn piece
    that no line names yet was kept by a run that died before it could say so.
    """
    log = shelf.log(writer)
    if f"{writer}.jsonl" in {name for name, _ in (*shelf.closed, *shelf.copies)}:
        raise OSError(f"{log_path(writer)} cannot be read, or is a copy of another log")
    pieces = {name: _piece(root, name, disk) for name in shelf.torn if _of(name) == writer}
    if log.torn:
        if log.torn not in pieces.values():
            name = f"{writer}.torn-{_next_number(pieces)}"
            put(disk, root / CUSTODY / name, log.torn)
            pieces[name] = log.torn
        file = root / log_path(writer)
        put(disk, file, disk.read(file).data[: log.whole])
    said = {stored.line.path for stored in log.lines if stored.line.event is CustodyEvent.RECOVERED}
    entries = [
        _kept(f"{CUSTODY}/{name}", piece)
        for name, piece in sorted(pieces.items())
        if f"{CUSTODY}/{name}" not in said
    ]
    if not entries and log.short:
        entries = [Entry(CustodyEvent.RECOVERED, detail=_cut_off(log))]
    return entries


def _kept(path: str, piece: bytes) -> Entry:
    return Entry(
        CustodyEvent.RECOVERED,
        path,
        hashlib.sha256(piece).hexdigest(),
        len(piece),
        detail=(
            f"This log ended in the middle of a line, as when a run is cut off. The {len(piece)} "
            f"bytes of that line are kept in {path}; what is still so is logged again."
        ),
    )


def _cut_off(log: Log) -> str:
    return (
        f"This log ended with line {log.number}, {log.short} lines short of what its last run set "
        "out to write, as when a run is cut off. What is still so is logged again."
    )


def _of(name: str) -> str | None:
    match = _TORN.fullmatch(name)
    return match["writer"] if match else None


def _piece(root: Path, name: str, disk: Disk) -> bytes:
    return disk.read(root / CUSTODY / name).data


def _next_number(pieces: dict[str, bytes]) -> int:
    return 1 + max((int(name.rpartition("-")[2]) for name in pieces), default=0)


def _entry(news: News, disk: Disk) -> Iterator[Entry]:
    """Give the line for one piece of news, or none where the text to be kept is gone again."""
    seen = news.seen
    if seen is None:
        yield Entry(news.event, news.path, news.sha256)
        return
    text = None
    if seen.keep_text and news.event is not CustodyEvent.RETURNED and seen.size_bytes <= TEXT_LIMIT:
        text = seen.data
        if text is None:
            try:
                text = disk.read(seen.where).data
            except OSError:
                return
            if hashlib.sha256(text).hexdigest() != seen.sha256:
                return  # edited since it was read: the next run sees the new text
    yield Entry(news.event, news.path, news.sha256, seen.size_bytes, news.was_sha256, text=text)


def _written(root: Path, writer: str, entries: Sequence[Entry], now: datetime, disk: Disk) -> Shelf:
    """Append the entries in one piece, and give what custody/ holds then."""
    folder = root / CUSTODY
    if disk.look(root) is None:  # moved meanwhile: no second job folder is begun in its place
        raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT), str(root))
    if disk.look(folder) is None:
        disk.make_folder(folder)
        disk.sync_folder(root)
    shelf = _shelf(root, disk)
    heads = [log.head for log in shelf.logs if log.writer != writer and log.number]
    append(disk, root / log_path(writer), encode(shelf.log(writer), entries, now, heads, TOOL))
    return _shelf(root, disk)
