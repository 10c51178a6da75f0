"""The few things intake does to a disk, behind one type that tests replace by one that dies.

Originals are opened for reading only. Everything that is written goes through `append` or `put`,
whose every step (write, flush, fsync, replace) can be watched and broken.
"""

from __future__ import annotations

import errno
import hashlib
import os
import stat
import sys
import time
from collections.abc import Iterable
from contextlib import AbstractContextManager, suppress
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import BinaryIO, Protocol

from claimkit.intake.entry import Entry, Stamp, entry_of, stamp_of, status_of
from claimkit.intake.lock import locked
from claimkit.intake.mark import mark_of
from claimkit.intake.say import Say

if sys.platform == "darwin":
    import fcntl

UNFINISHED = ".tmp"  # what a name ends with until its file is whole
_BLOCK = 1 << 20
_HELD_S = (0.05, 0.1, 0.2, 0.4)  # waits for another program to let go of a file


@dataclass(frozen=True, slots=True)
class FileBytes:
    """A file read once. `steady` is False where it changed while it was being read."""

    data: bytes
    stamp: Stamp
    steady: bool


@dataclass(frozen=True, slots=True)
class Digest:
    """A large file hashed piece by piece: its SHA-256 and its first bytes."""

    sha256: str
    head: bytes
    stamp: Stamp
    steady: bool


class Handle(Protocol):
    """A file open for writing."""

    def write(self, data: bytes) -> None:
        """Hand over the bytes."""

    def flush(self) -> None:
        """Pass what was handed over on to the system."""

    def fsync(self) -> None:
        """Wait until the system has it on the disk."""

    def close(self) -> None:
        """Let go of the file."""


class Disk(Protocol):
    """What intake needs of a disk. All methods raise OSError where the disk refuses."""

    def scan(self, folder: Path) -> tuple[Entry, ...]:
        """List a folder, links not followed, in order of names."""

    def mark(self, root: Path) -> str:
        """Name the state of all of a job folder's files but claimkit's own; see `mark.mark_of`."""

    def look(self, path: Path) -> Entry | None:
        """Tell what stands at a path, links not followed; None where nothing does."""

    def follow(self, path: Path) -> tuple[Path, Entry]:
        """Tell where a link leads in the end and what stands there."""

    def read(self, path: Path) -> FileBytes:
        """Read a whole file."""

    def digest(self, path: Path, head: int) -> Digest:
        """Hash a file without holding it, and give its first `head` bytes."""

    def make_folder(self, path: Path) -> None:
        """Make a folder where there is none."""

    def open(self, path: Path, mode: str) -> Handle:
        """Open for writing: `ab` at the end, `wb` from nothing."""

    def sync_folder(self, path: Path) -> None:
        """Wait until a folder's list of names is on the disk, where the system can."""

    def replace(self, source: Path, target: Path) -> None:
        """Put one file in the place of another in one step."""

    def remove(self, path: Path) -> None:
        """Delete a file of claimkit's own."""

    def lock(self, root: Path, say: Say | None) -> AbstractContextManager[None]:
        """Keep other runs away from a job folder; `say` is told when this has to wait."""


def append(disk: Disk, path: Path, data: bytes) -> None:
    """Add bytes at the end of a file and wait until they are on the disk."""
    new = disk.look(path) is None
    _write(disk.open(path, "ab"), (data,))
    if new:
        disk.sync_folder(path.parent)


def put(disk: Disk, path: Path, data: bytes) -> None:
    """Make a file hold exactly these bytes: never half of them, whenever the run dies.

    The job's lock keeps two runs from writing to one unfinished file; whoever calls holds it.
    """
    _put(disk, path, (data,))


def put_new(disk: Disk, path: Path, data: bytes) -> None:
    """As `put`, under a name that must be free. Raises FileExistsError where it is not."""
    if disk.look(path) is not None:
        raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(path))
    _put(disk, path, (data,))


def put_copy(disk: Disk, path: Path, source: Path) -> None:
    """As `put`, with the bytes of another file, which are not held in memory."""
    with source.open("rb") as file:
        _put(disk, path, iter(partial(file.read, _BLOCK), b""))


def _put(disk: Disk, path: Path, blocks: Iterable[bytes]) -> None:
    unfinished = path.with_name(f"{path.name}{UNFINISHED}")
    try:
        _write(disk.open(unfinished, "wb"), blocks)
        disk.replace(unfinished, path)
    except OSError:
        with suppress(OSError):  # on a full disk half a file would only keep it full
            disk.remove(unfinished)
        raise
    disk.sync_folder(path.parent)


def _write(handle: Handle, blocks: Iterable[bytes]) -> None:
    try:
        for block in blocks:
            handle.write(block)
        handle.flush()
        handle.fsync()
    finally:
        handle.close()


class RealDisk:
    """The machine's own disk."""

    def scan(self, folder: Path) -> tuple[Entry, ...]:
        """List a folder, links not followed, in order of names."""
        with os.scandir(folder) as listing:
            entries = [
                entry_of(found.name, status) for found in listing if (status := status_of(found))
            ]
        return tuple(sorted(entries, key=lambda entry: entry.name))

    def mark(self, root: Path) -> str:
        """Name the state of all of a job folder's files but claimkit's own."""
        return mark_of(root)

    def look(self, path: Path) -> Entry | None:
        """Tell what stands at a path, links not followed; None where nothing does."""
        try:
            return entry_of(path.name, path.lstat())
        except FileNotFoundError:
            return None

    def follow(self, path: Path) -> tuple[Path, Entry]:
        """Tell where a link leads in the end and what stands there; a loop is an OSError."""
        try:
            target = path.resolve(strict=True)
        except RuntimeError as loop:  # how Python before 3.13 reports a link that leads to itself
            raise OSError(str(loop)) from loop
        return target, entry_of(path.name, target.stat())

    def read(self, path: Path) -> FileBytes:
        """Read a whole file."""
        with _opened(path) as file:
            before = _regular(file)
            data = file.read()
            after = stamp_of(os.fstat(file.fileno()))
        return FileBytes(data, before, before == after and len(data) == before.size)

    def digest(self, path: Path, head: int) -> Digest:
        """Hash a file without holding it, and give its first `head` bytes."""
        total = hashlib.sha256()
        first = b""
        length = 0
        with _opened(path) as file:
            before = _regular(file)
            while block := file.read(_BLOCK):
                total.update(block)
                length += len(block)
                if len(first) < head:
                    first += block[: head - len(first)]
            after = stamp_of(os.fstat(file.fileno()))
        return Digest(total.hexdigest(), first, before, before == after and length == before.size)

    def make_folder(self, path: Path) -> None:
        """Make a folder, and those above it, where there is none."""
        path.mkdir(parents=True, exist_ok=True)

    def open(self, path: Path, mode: str) -> Handle:
        """Open for writing: `ab` at the end, `wb` from nothing."""
        return _RealHandle(path, mode)

    def sync_folder(self, path: Path) -> None:
        """Wait until a folder's list of names is on the disk.

        Windows cannot open a folder for this, and some network disks refuse: there the names
        are as safe as the system makes them.
        """
        if sys.platform == "win32":
            return
        folder = os.open(path, os.O_RDONLY)
        try:
            os.fsync(folder)
        except OSError:
            return
        finally:
            os.close(folder)

    def replace(self, source: Path, target: Path) -> None:
        """Put one file in the place of another in one step.

        On Windows a viewer, a virus scanner or a synced folder may hold the file for a moment.
        """
        for wait in (*_HELD_S, None):
            try:
                source.replace(target)
            except PermissionError:
                if wait is None:
                    raise
                time.sleep(wait)
            else:
                return

    def remove(self, path: Path) -> None:
        """Delete a file of claimkit's own."""
        path.unlink()

    def lock(self, root: Path, say: Say | None) -> AbstractContextManager[None]:
        """Keep other runs away from a job folder; `say` is told when this has to wait."""
        return locked(root, say)


class _RealHandle:
    """A file of the machine's own disk, open for writing."""

    def __init__(self, path: Path, mode: str) -> None:
        self._file = path.open(mode)

    def write(self, data: bytes) -> None:
        """Hand over the bytes."""
        self._file.write(data)

    def flush(self) -> None:
        """Pass them on to the system."""
        self._file.flush()

    def fsync(self) -> None:
        """Wait until the system has them on the disk."""
        if sys.platform == "darwin":
            # There fsync leaves the bytes in the drive's own memory (Apple, fsync(2)).
            with suppress(OSError):
                fcntl.fcntl(self._file.fileno(), fcntl.F_FULLFSYNC)
                return
        os.fsync(self._file.fileno())

    def close(self) -> None:
        """Let go of the file."""
        self._file.close()


def _opened(path: Path) -> BinaryIO:
    # Without waiting: a pipe that took a file's place must not hang the run (open(2), O_NONBLOCK).
    flags = os.O_RDONLY | getattr(os, "O_BINARY", 0) | getattr(os, "O_NONBLOCK", 0)
    return os.fdopen(os.open(path, flags), "rb")


def _regular(file: BinaryIO) -> Stamp:
    status = os.fstat(file.fileno())
    if not stat.S_ISREG(status.st_mode):
        raise OSError("it is no ordinary file")
    return stamp_of(status)
