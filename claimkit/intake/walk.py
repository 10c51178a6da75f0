"""Every file of a job folder, wherever somebody put it, and every one that is named and left.

Photos and papers are taken at any place and depth; custody/ and out/ are claimkit's own. Links
that lead out of the folder, hidden files and what systems and synced folders leave are named with
the reason. Nothing is opened here.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from claimkit.intake.disk import UNFINISHED, Disk
from claimkit.intake.entry import Entry, EntryKind, Stamp
from claimkit.intake.left_alone import HIDDEN_BY_MARK, why_left_alone
from claimkit.intake.paths import CUSTODY, OUT, shown
from claimkit.intake.refused import reason_of
from claimkit.intake.writer import is_writer
from claimkit.model.facts import NotTaken

STAMP = re.compile(r"stamp-([0-9a-f]{12})\.(list|tsq|tsr|pem)")  # the files of a timestamp
_OWN = {
    CUSTODY: "It has the name of the folder of claimkit's own logs, in other letters.",
    OUT: "It has the name of the folder that claimkit writes to, in other letters.",
}
_STRAY = (
    "It lies in custody/, which holds only claimkit's own logs. "
    "Move it elsewhere if it belongs to the job."
)
_LOG_COPY = (
    "A copy of a custody log, and not read as one. If it holds lines that the log itself lacks, "
    "that is told with the log; else it can be deleted."
)


@dataclass(frozen=True, slots=True)
class FoundFile:
    """One file to take. `path` is its name in facts, `where` its place on the disk."""

    path: str
    where: Path
    stamp: Stamp


@dataclass(frozen=True, slots=True)
class Unread:
    """A file or folder of the job that could not be read, and the system's reason."""

    path: str
    why: str


@dataclass(frozen=True, slots=True)
class Found:
    """What a job folder holds, each part in order of paths."""

    files: tuple[FoundFile, ...]
    not_taken: tuple[NotTaken, ...] = ()
    unread: tuple[Unread, ...] = ()


@dataclass(frozen=True, slots=True)
class _Folder:
    """A folder still to be listed; `real` are the real folders on the way down to it."""

    path: str
    where: Path
    real: tuple[Path, ...]


@dataclass(slots=True)
class _Walk:
    """What one walk has found so far."""

    root: Path
    disk: Disk
    files: list[FoundFile] = field(default_factory=list)
    not_taken: list[NotTaken] = field(default_factory=list)
    unread: list[Unread] = field(default_factory=list)
    folders: list[_Folder] = field(default_factory=list)
    followed: set[Path] = field(default_factory=set)


def walk(root: Path, disk: Disk) -> Found:
    """List what a job folder holds. `root` is resolved: absolute and free of links.

    Raises OSError where the job folder itself cannot be listed. A folder below that cannot be
    listed is in `unread`. The order does not depend on the disk.
    """
    going = _Walk(root, disk)
    _list(going, _Folder("", root, (root,)), disk.scan(root))
    while going.folders:
        folder = going.folders.pop()
        try:
            entries = disk.scan(folder.where)
        except OSError as error:
            going.unread.append(Unread(folder.path, reason_of(error)))
        else:
            _list(going, folder, entries)
    return Found(
        tuple(_one_each(going)),
        tuple(sorted(going.not_taken, key=lambda left: (left.path, left.reason))),
        tuple(sorted(going.unread, key=lambda unread: unread.path)),
    )


def _list(going: _Walk, folder: _Folder, entries: tuple[Entry, ...]) -> None:
    below: list[_Folder] = []
    for entry in sorted(entries, key=lambda entry: entry.name):
        path = f"{folder.path}/{shown(entry.name)}" if folder.path else shown(entry.name)
        reason = _left(folder.path, entry)
        if reason:
            going.not_taken.append(NotTaken(path, reason))
        elif not folder.path and entry.name in _OWN and entry.kind is EntryKind.FOLDER:
            if entry.name == CUSTODY:
                _strays(going, folder.where / entry.name)
        else:
            below += _take(going, folder, path, entry)
    # The last one put on the pile is listed first: names in order, so that the same link wins.
    going.folders += reversed(below)


def _left(folder: str, entry: Entry) -> str | None:
    own = None if folder else _OWN.get(entry.name.casefold())
    if own and entry.name not in _OWN:
        return own
    if own and entry.kind is not EntryKind.FOLDER:
        return f"claimkit keeps a folder of the name {entry.name}; this is none. Rename it."
    return why_left_alone(entry.name) or (HIDDEN_BY_MARK if entry.hidden else None)


def _take(going: _Walk, folder: _Folder, path: str, entry: Entry) -> Iterator[_Folder]:
    where = folder.where / entry.name
    if entry.kind is EntryKind.FILE:
        going.files.append(FoundFile(path, where, entry.stamp))
    elif entry.kind is EntryKind.FOLDER:
        yield _Folder(path, where, (*folder.real, folder.real[-1] / entry.name))
    elif entry.kind is EntryKind.LINK:
        yield from _follow(going, folder, path, where)
    else:
        reason = "Neither a file nor a folder, but a pipe, socket or device. Remove it."
        going.not_taken.append(NotTaken(path, reason))


def _follow(going: _Walk, folder: _Folder, path: str, where: Path) -> Iterator[_Folder]:
    try:
        target, entry = going.disk.follow(where)
    except OSError:
        going.not_taken.append(
            NotTaken(path, "A link that leads nowhere. Put the file itself here.")
        )
        return
    reason = _not_followed(going, folder, target, entry)
    if reason:
        going.not_taken.append(NotTaken(path, reason))
    elif entry.kind is EntryKind.FILE:
        going.files.append(FoundFile(path, where, entry.stamp))
    else:
        going.followed.add(target)
        yield _Folder(path, where, (*folder.real, target))


def _not_followed(going: _Walk, folder: _Folder, target: Path, entry: Entry) -> str | None:
    if not target.is_relative_to(going.root):
        return "A link that leads outside the job folder. Put the file itself here."
    inside = target.relative_to(going.root)
    if inside.parts and inside.parts[0] in _OWN:
        return f"A link into {inside.parts[0]}/, which is claimkit's own."
    if entry.kind is EntryKind.OTHER:
        return "A link to a pipe, socket or device. Remove it."
    if target in folder.real:
        return "A link back to a folder that holds it. Following it would never end."
    if target in going.followed:
        return f"A second link to {shown(inside.as_posix())}/, which is read there already."
    return None


def _strays(going: _Walk, folder: Path) -> None:
    try:
        entries = going.disk.scan(folder)
    except OSError as error:
        going.unread.append(Unread(CUSTODY, reason_of(error)))
        return
    for entry in entries:
        if not is_own(entry):
            copy = _LOG_COPY if ".jsonl" in entry.name else None
            reason = copy or why_left_alone(entry.name) or _STRAY
            going.not_taken.append(NotTaken(f"{CUSTODY}/{shown(entry.name)}", reason))


def unfinished(root: Path, disk: Disk) -> tuple[str, ...]:
    """Name what a run that was cut off has left unfinished in out/; nothing where out/ is closed.

    It is told with the run and is no fact of the job: a packet made again keeps its bytes.
    """
    try:
        entries = disk.scan(root / OUT)
    except OSError:
        return ()
    return tuple(f"{OUT}/{shown(e.name)}" for e in entries if e.name.endswith(UNFINISHED))


def is_own(entry: Entry) -> bool:
    """Tell whether an entry of custody/ is a log, a torn piece of one, a timestamp or a lock."""
    if entry.name == ".lock":
        return True
    name = entry.name.removesuffix(UNFINISHED)
    torn = name.rpartition(".torn-")[2].isdecimal()
    log = name.endswith(".jsonl") and is_writer(name.removesuffix(".jsonl"))
    stamp = bool(STAMP.fullmatch(name))
    return entry.kind is EntryKind.FILE and (torn or log or stamp)


def _one_each(going: _Walk) -> Iterator[FoundFile]:
    """Give the files in order; of two names that show alike only the first can be named."""
    taken: set[str] = set()
    for file in sorted(going.files, key=lambda file: (file.path, str(file.where))):
        if file.path in taken:
            reason = "Another file here shows the same name. Rename one of them."
            going.not_taken.append(NotTaken(file.path, reason))
            continue
        taken.add(file.path)
        yield file
