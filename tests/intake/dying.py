"""A disk that dies: before or after any step that writes, or with part of the bytes on the disk.

A run without a death counts the steps and gives every point at which it can die. The program can
be killed: what was flushed stays. The power can fail: bytes that no fsync has made safe are gone,
and the names of files that no fsync of their folder has made safe are gone or not.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass, field
from io import FileIO
from pathlib import Path

from claimkit.intake.disk import Digest, FileBytes, Handle, RealDisk
from claimkit.intake.say import Say

Point = tuple[int, str]  # number of the step, and "before", "after" or how many bytes arrive
DEATHS = ("killed", "power fails, names stay", "power fails, names go")


class Died(BaseException):
    """The run ends here. No `except Exception` of the code under test may catch it."""


@dataclass
class DyingDisk(RealDisk):
    """The real disk until its time comes.

    `unsafe_bytes` holds, for each file, what it falls back to; `unsafe_names` how to undo each
    change of a folder's list of names, in order.
    """

    die_at: Point | None = None
    death: str = "killed"
    points: list[Point] = field(default_factory=list)
    steps: list[str] = field(default_factory=list)
    unsafe_bytes: dict[Path, bytes] = field(default_factory=dict)
    unsafe_names: list[tuple[Path, Callable[[], object]]] = field(default_factory=list)
    held: list[FileIO] = field(default_factory=list)

    def step(self, name: str, act: Callable[[], object], data: bytes = b"") -> None:
        """Do one step, or die at it."""
        number = len(self.steps)
        self.steps.append(name)
        cuts = sorted(_cuts(data))
        self.points += [(number, "before"), *((number, str(c)) for c in cuts), (number, "after")]
        if self.die_at == (number, "before"):
            self.die()
        act()
        if self.die_at == (number, "after"):
            self.die()

    def arriving(self) -> int | None:
        """Give how many bytes of the next step reach the disk, where it is the one to die in."""
        number, how = self.die_at or (-1, "")
        return int(how) if number == len(self.steps) and how.isdecimal() else None

    def die(self) -> None:
        """End as the system ends a program, and lose what the death loses."""
        for file in self.held:
            file.close()
        if self.death != "killed":
            self.lose_power()
        raise Died

    def lose_power(self) -> None:
        """Undo all that is not safe."""
        for path, data in self.unsafe_bytes.items():
            if path.exists():
                path.write_bytes(data)
        if self.death == "power fails, names go":
            for _, undo in reversed(self.unsafe_names):
                undo()

    def make_folder(self, path: Path) -> None:
        if not path.is_dir():
            self.step("make_folder", lambda: RealDisk.make_folder(self, path))
            self.unsafe_names.append((path.parent, path.rmdir))

    def open(self, path: Path, mode: str) -> Handle:
        return DyingHandle(self, path, mode)

    def sync_folder(self, path: Path) -> None:
        def safe() -> None:
            self.unsafe_names = [row for row in self.unsafe_names if row[0] != path]

        self.step("sync_folder", safe)

    def replace(self, source: Path, target: Path) -> None:
        def act() -> None:
            old = target.read_bytes() if target.exists() else None
            RealDisk.replace(self, source, target)
            if source in self.unsafe_bytes:  # the new name would stand over bytes that are lost
                self.unsafe_bytes[target] = self.unsafe_bytes.pop(source)
            self.unsafe_names.append(
                (target.parent, target.unlink if old is None else lambda: target.write_bytes(old))
            )

        self.step("replace", act)

    def remove(self, path: Path) -> None:
        self.step("remove", lambda: RealDisk.remove(self, path))

    def lock(self, root: Path, say: Say | None) -> AbstractContextManager[None]:
        return nullcontext()


class DyingHandle:
    """A file of a disk that dies. Bytes wait in memory until flush, and are lost with the run."""

    def __init__(self, disk: DyingDisk, path: Path, mode: str) -> None:
        self.disk, self.path, self.waiting = disk, path, b""
        self.was = path.read_bytes() if mode == "ab" and path.exists() else b""
        disk.step("open", lambda: self._open(mode))

    def _open(self, mode: str) -> None:
        if not self.path.exists():
            self.disk.unsafe_names.append(
                (self.path.parent, lambda: self.path.unlink(missing_ok=True))
            )
        self.file = FileIO(self.path, mode)
        self.disk.held.append(self.file)

    def write(self, data: bytes) -> None:
        def act() -> None:
            self.waiting += data

        self.disk.step("write", act)

    def flush(self) -> None:
        arriving = self.disk.arriving()
        if arriving is not None:  # the system had passed this much on to the disk by itself
            self.file.write(self.waiting[:arriving])
            self.disk.die()
        self.disk.step("flush", self._flush, self.waiting)

    def _flush(self) -> None:
        self.disk.unsafe_bytes.setdefault(self.path, self.was)
        self.file.write(self.waiting)
        self.waiting = b""

    def fsync(self) -> None:
        self.disk.step("fsync", lambda: self.disk.unsafe_bytes.pop(self.path, None))

    def close(self) -> None:
        self.file.close()


def _cuts(data: bytes) -> set[int]:
    """Give where to cut: the first byte, the middle, and around the end of every line."""
    ends = [place + 1 for place, byte in enumerate(data) if byte == 10]
    cuts = {1, len(data) // 2, *(cut for end in ends for cut in (end - 1, end, end + 1))}
    return {cut for cut in cuts if 0 < cut < len(data)}


@dataclass
class CountingDisk(RealDisk):
    """Notes every file that is opened for reading."""

    opened: list[Path] = field(default_factory=list)

    def read(self, path: Path) -> FileBytes:
        self.opened.append(path)
        return super().read(path)

    def digest(self, path: Path, head: int) -> Digest:
        self.opened.append(path)
        return super().digest(path, head)
