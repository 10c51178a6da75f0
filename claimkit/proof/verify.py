"""A job folder read again from nothing and held against its logs and all that anchors them.

Every original is hashed anew, past the index; every log, every packet and every timestamp is read.
Nothing is written. What no log and no anchor can show is said as plainly as what they do.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from claimkit.intake.custody import read_custody, read_logs
from claimkit.intake.custody_log import Log, in_order
from claimkit.intake.disk import Disk, RealDisk
from claimkit.intake.entries.stated import JOB, is_record
from claimkit.intake.entry import EntryKind
from claimkit.intake.paths import CUSTODY, OUT, on_disk, shown
from claimkit.intake.refused import reason_of
from claimkit.intake.unlogged import News, Seen, Taken, unlogged
from claimkit.intake.walk import STAMP, Unread, walk
from claimkit.model.facts import CustodyEvent, CustodyLine
from claimkit.model.stop import CannotGoOn
from claimkit.model.verified import Outcome, Point, Verified
from claimkit.proof.anchors import Anchor, held_against, in_logs, reach
from claimkit.proof.stamps import stamps
from claimkit.render.kept import in_packet

_SIGHTS = (CustodyEvent.FIRST_SEEN, CustodyEvent.RECORD_ADDED, CustodyEvent.CHANGED)


def verify_job(
    root: Path,
    *,
    packets: Sequence[Path] = (),
    roots: Sequence[Path] = (),
    disk: Disk | None = None,
) -> Verified:
    """Verify a job folder. Writes nothing into it.

    `packets` are further copies of packets, such as one that a reader got; `roots` certificates of
    timestamp authorities to trust instead of those kept beside the timestamps. Raises CannotGoOn
    where the folder cannot be read.
    """
    disk = disk or RealDisk()
    root = root.resolve()
    with disk.lock(root, None):
        try:
            taken, unread = fresh(root, disk)
            logs = read_logs(root, disk)
        except OSError as error:
            raise CannotGoOn(f"{shown(str(root))} cannot be read: {reason_of(error)}.") from error
        lines = in_order(logs)
        points = [
            Point(Outcome.UNREAD, one.path, f"It could not be read: {one.why}.") for one in unread
        ]
        points += originals(lines, taken)
        custody = read_custody(root, disk)
        points += [Point(Outcome.BROKEN, CUSTODY, sentence) for sentence in custody.breaks]
        points += [Point(Outcome.NOTE, CUSTODY, sentence) for sentence in custody.recovered]
        points += texts(logs)
        sent = _packets(root, lines, packets, disk)
        stamped = stamps(stamp_files(root, disk), (one.sha256 for one in taken.files), roots)
        points += [*sent.points, *_gone_stamps(root, lines), *stamped.points]
        points += _bundles(lines)
        anchors = (*sent.anchors, *stamped.anchors)
        points += held_against(logs, anchors)
        points += reach(logs, [*anchors, *in_logs(logs)])
    counts = (
        ("originals", len(taken.files)),
        ("logs", len(logs)),
        ("lines", len(lines)),
        ("packets", len(sent.anchors)),
        ("timestamps", len(stamped.anchors)),
    )
    return Verified(shown(root.name), tuple(points), counts)


def fresh(root: Path, disk: Disk) -> tuple[Taken, list[Unread]]:
    """Hash every file of the folder, past the index."""
    found = walk(root, disk)
    seen, unread = [], list(found.unread)
    for file in found.files:
        try:
            got = disk.digest(file.where, 0)
            if not got.steady:
                got = disk.digest(file.where, 0)
        except OSError as error:
            unread.append(Unread(file.path, reason_of(error)))
            continue
        if not got.steady:
            unread.append(Unread(file.path, "it changes while it is being read"))
            continue
        seen.append(Seen(file.path, got.sha256, got.stamp.size, file.where, is_record(file.path)))
    held = (*(one.path for one in unread), *(left.path for left in found.not_taken))
    return Taken(tuple(seen), held), unread


def originals(lines: Sequence[CustodyLine], taken: Taken) -> Iterator[Point]:
    """Hold every file against what the logs have said of it, and its history in the logs."""
    by_hash = {seen.sha256: seen.path for seen in taken.files}
    news = unlogged(lines, taken)
    told = {one.path for one in news}
    for one in news:
        yield _news(one, by_hash)
    first: dict[str, CustodyLine] = {}
    last: dict[str, CustodyLine] = {}
    gone: dict[str, CustodyLine] = {}
    for line in lines:
        if line.path and line.event in _SIGHTS:
            first.setdefault(line.path, line)
            last[line.path] = line
            gone.pop(line.path, None)
        elif line.path and line.event is CustodyEvent.RETURNED:
            gone.pop(line.path, None)
        elif line.path and line.event is CustodyEvent.MISSING:
            gone[line.path] = line
    for path in sorted(last.keys() - told):
        if path in gone:
            sha256 = last[path].sha256 or ""
            yield _missing(path, sha256, by_hash, f"since {_when(gone[path])}")
        elif first[path].sha256 != last[path].sha256:
            yield _changed_before(path, first[path], last[path])


def _news(one: News, by_hash: dict[str, str]) -> Point:
    if one.event is CustodyEvent.MISSING:
        return _missing(one.path, one.sha256, by_hash, "and no log says so yet")
    if one.event is CustodyEvent.CHANGED:
        return Point(
            Outcome.BROKEN,
            one.path,
            f"It is not the file that was logged: its SHA-256 is {one.sha256}, the log has "
            f"{one.was_sha256}. Put back the original, from a copy if need be.",
        )
    if one.event is CustodyEvent.RETURNED:
        return Point(Outcome.NOTE, one.path, "It was missing and is back with the same bytes.")
    return Point(
        Outcome.NOT_LOGGED,
        one.path,
        "No log knows it yet, so nothing shows since when it is here. Any command of claimkit "
        "that reads the job logs it.",
    )


def _missing(path: str, sha256: str, by_hash: dict[str, str], since: str) -> Point:
    other = by_hash.get(sha256)
    if other:
        return Point(Outcome.NOTE, path, f"It is gone; the same bytes stand at {other}.")
    return Point(
        Outcome.BROKEN,
        path,
        f"It is missing, {since}. Its SHA-256 was {sha256}. Put it back from a copy.",
    )


def _changed_before(path: str, first: CustodyLine, last: CustodyLine) -> Point:
    said = (
        f"It was {first.sha256} when first seen on {_when(first)}, and the log says that it was "
        f"changed by {_when(last)}."
    )
    if path.casefold() == JOB:
        return Point(Outcome.NOTE, path, f"{said} Each text of it is kept in the log.")
    if is_record(path):
        said += " The text before is kept in the log; a correction belongs in a record of its own."
    else:
        said += " Put back the original, from a copy if need be."
    return Point(Outcome.BROKEN, path, said)


def _when(line: CustodyLine) -> str:
    return f"{line.at:%Y-%m-%d %H:%M} UTC ({line.writer} line {line.number})"


def texts(logs: Iterable[Log]) -> Iterator[Point]:
    """Hold the text of a record that a line keeps against the hash in the same line."""
    for log in logs:
        for stored in log.lines:
            line = stored.line
            if line.event not in _SIGHTS or line.detail is None or line.sha256 is None:
                continue
            own = hashlib.sha256(line.detail.encode("utf-8", "surrogatepass")).hexdigest()
            if own != line.sha256:
                yield Point(
                    Outcome.BROKEN,
                    f"custody/{log.writer}.jsonl, line {line.number}",
                    f"The text that it keeps of {line.path} does not have the hash that it gives.",
                )


@dataclass(frozen=True, slots=True)
class _Sent:
    points: tuple[Point, ...]
    anchors: tuple[Anchor, ...]


def _packets(
    root: Path, lines: Sequence[CustodyLine], further: Sequence[Path], disk: Disk
) -> _Sent:
    """Hold each packet that the logs name, and each that lies in out/, against the other."""
    logged = {
        line.path: line
        for line in lines
        if line.event is CustodyEvent.PACKET_WRITTEN and line.path and line.sha256
    }
    hashes = {line.sha256 for line in lines if line.event is CustodyEvent.PACKET_WRITTEN}
    points: list[Point] = []
    anchors: list[Anchor] = []
    looked = set()
    for path, line in sorted(logged.items()):
        file = on_disk(root, path)
        if "/" not in path or not file.is_file():
            points.append(_elsewhere(path, line))
            continue
        looked.add(file.resolve())
        points += _packet(path, file, {line.sha256}, anchors, disk)
    for file in (*_in_out(root, disk), *further):
        if file.resolve() in looked:
            continue
        name = f"{OUT}/{shown(file.name)}" if file.parent == root / OUT else shown(str(file))
        kept = in_packet(file)
        if kept or file in further:
            points += _packet(name, file, hashes, anchors, disk)
    return _Sent(tuple(points), tuple(anchors))


def _in_out(root: Path, disk: Disk) -> list[Path]:
    folder = root / OUT
    if disk.look(folder) is None:
        return []
    entries = disk.scan(folder)
    return [
        folder / entry.name
        for entry in entries
        if entry.kind is EntryKind.FILE and entry.name.casefold().endswith(".pdf")
    ]


def _elsewhere(path: str, line: CustodyLine) -> Point:
    return Point(
        Outcome.OPEN,
        path,
        f"Written {line.detail} on {_when(line)} with the SHA-256 {line.sha256}, and not here to "
        "be read. Give the copy that was sent with --packet.",
    )


def _packet(
    name: str, file: Path, hashes: set[str | None], anchors: list[Anchor], disk: Disk
) -> Iterator[Point]:
    """Check one packet's hash, and take the lines that it keeps as an anchor."""
    try:
        sha256 = disk.digest(file, 0).sha256
    except OSError as error:
        yield Point(Outcome.UNREAD, name, f"It could not be read: {reason_of(error)}.")
        return
    kept = in_packet(file)
    if sha256 not in hashes:
        yield Point(
            Outcome.BROKEN,
            name,
            f"Its SHA-256 is {sha256}, and no log has a packet of that hash under this name. It "
            "was changed after it was written, or lines of a log were removed, or it is of "
            "another job, or the run that wrote it was cut off before it could log it. Write it "
            "anew and send that one.",
        )
    if kept is None:
        yield Point(
            Outcome.NOTE,
            name,
            "It keeps no lines of the logs that can be read; it anchors nothing.",
        )
        return
    anchors.append(Anchor(name, kept.heads))
    if sha256 in hashes:
        yield Point(Outcome.HOLDS, name, f"Its SHA-256 is the one that was logged, {sha256}.")


def stamp_files(root: Path, disk: Disk) -> dict[str, bytes]:
    """Read the files of all timestamps. Raises OSError where custody/ cannot be read."""
    folder = root / CUSTODY
    if disk.look(folder) is None:
        return {}
    return {
        entry.name: disk.read(folder / entry.name).data
        for entry in disk.scan(folder)
        if entry.kind is EntryKind.FILE and STAMP.fullmatch(entry.name)
    }


def _gone_stamps(root: Path, lines: Sequence[CustodyLine]) -> Iterator[Point]:
    for line in lines:
        if line.event is not CustodyEvent.TIMESTAMPED or line.path is None:
            continue
        file = root / line.path
        if not file.is_file():
            yield Point(Outcome.BROKEN, line.path, f"It was taken in by {_when(line)} and is gone.")
        elif hashlib.sha256(file.read_bytes()).hexdigest() != line.sha256:
            yield Point(Outcome.BROKEN, line.path, "It is not the reply that was taken in.")


def _bundles(lines: Sequence[CustodyLine]) -> Iterator[Point]:
    for line in lines:
        if line.event is CustodyEvent.BUNDLE_WRITTEN and line.path:
            told = f"A bundle, written {line.detail}. Verify it by itself: --expect {line.sha256}"
            yield Point(Outcome.NOTE, line.path, told)
