"""A received bag as names and bytes, from a folder or a zip, with nothing unpacked.

A name that could lead out of its folder, a link, a second file of one name or a zip that grows
beyond measure is refused before a byte is read.
"""

from __future__ import annotations

import os
import stat
import struct
import unicodedata
import zipfile
import zlib
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from claimkit.intake.paths import shown
from claimkit.intake.refused import reason_of
from claimkit.intake.writer import is_device
from claimkit.model.stop import CannotGoOn

MOST_FILES = 100_000
_RATIO, _SLACK = 200, 1 << 20  # a picture shrinks by a tenth; only a trap grows two hundred times
_METHODS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
_LOCAL_HEADER = 30  # bytes before the name of a file in a zip (APPNOTE.TXT, 4.3.7)
_ENCRYPTED = 0x1
_BLOCK = 1 << 20


class BagPlace(Protocol):
    """A received bag. `sizes` maps each file's name below the bag's own folder to its bytes."""

    sizes: dict[str, int]

    def blocks(self, name: str) -> Iterator[bytes]:
        """Give a file piece by piece. Raises OSError or zipfile.BadZipFile."""


@dataclass(frozen=True, slots=True)
class Refused:
    """Why a received bag is not read at all: (name, sentence) pairs."""

    reasons: tuple[tuple[str, str], ...]


def why_unsafe(name: str) -> str | None:
    """Say why a name in a bag is not followed, or None where it is safe."""
    if any(unicodedata.category(character) == "Cc" for character in name):
        return "Its name holds a control character."
    if "\\" in name or ":" in name:
        return "Its name holds a backslash or a colon, which mean another place to some systems."
    parts = name.split("/")
    if name.startswith("/") or ".." in parts or "" in parts or "." in parts:
        return "Its name leads out of the bag, or round about."
    if any(is_device(part.partition(".")[0]) or part[-1] in ". " for part in parts):
        return "Its name means something else to some systems."
    return None


# What Python's own reader raises on a zip with flipped bytes, tried on some thousands of them.
_DAMAGED = (
    zipfile.BadZipFile,
    zlib.error,
    EOFError,
    NotImplementedError,
    RuntimeError,
    ValueError,
    OverflowError,
    struct.error,
)


def opened(path: Path) -> BagPlace | Refused:
    """Open a received bag. Raises CannotGoOn where it is no bag at all."""
    try:
        return _folder(path) if path.is_dir() else _zip(path)
    except _DAMAGED as error:
        raise CannotGoOn(
            f"{path} is no zip file that can be read ({error}). Ask for it again, or give the "
            "folder of the bundle."
        ) from error
    except OSError as error:
        raise CannotGoOn(
            f"{path} cannot be read ({reason_of(error)}). Give a bundle that you may read."
        ) from error


@dataclass(slots=True)
class _Folder:
    root: Path
    sizes: dict[str, int]

    def blocks(self, name: str) -> Iterator[bytes]:
        # Without following a link that took the file's place since the folder was listed.
        flags = os.O_RDONLY | getattr(os, "O_BINARY", 0) | getattr(os, "O_NOFOLLOW", 0)
        with os.fdopen(os.open(self.root / name, flags), "rb") as file:
            while block := file.read(_BLOCK):
                yield block


def _folder(root: Path) -> BagPlace | Refused:
    sizes: dict[str, int] = {}
    reasons: list[tuple[str, str]] = []
    folders = [root]
    while folders:
        folder = folders.pop()
        for entry in sorted(os.scandir(folder), key=lambda entry: entry.name):
            name = Path(entry.path).relative_to(root).as_posix()
            status = entry.stat(follow_symlinks=False)
            if stat.S_ISDIR(status.st_mode):
                folders.append(Path(entry.path))
            elif not stat.S_ISREG(status.st_mode):
                reasons.append((shown(name), "It is a link or no ordinary file."))
            else:
                sizes[name] = status.st_size
            if len(sizes) > MOST_FILES:
                return Refused(((shown(str(root)), f"It holds more than {MOST_FILES} files."),))
    return Refused(tuple(reasons)) if reasons else _Folder(root, sizes)


@dataclass(slots=True)
class _Zip:
    file: Path
    top: str
    sizes: dict[str, int]

    def blocks(self, name: str) -> Iterator[bytes]:
        try:
            with zipfile.ZipFile(self.file) as archive, archive.open(self.top + name) as member:
                # Never more than the zip's list says: the library ends there and checks the sum.
                while block := member.read(_BLOCK):
                    yield block
        except _DAMAGED as error:
            raise OSError(f"the zip is damaged there ({error})") from error


def _zip(file: Path) -> BagPlace | Refused:
    with zipfile.ZipFile(file) as archive:
        infos = archive.infolist()
        start = archive.start_dir
    reasons = list(_traps(infos, start))
    if reasons:
        return Refused(tuple(dict.fromkeys(reasons)))
    names = {info.filename: info.file_size for info in infos if not info.is_dir()}
    declared = [
        name for name in names if name.split("/")[-1] == "bagit.txt" and name.count("/") < 2
    ]
    if len(declared) != 1:
        raise CannotGoOn(
            f"{file} holds no bag: there is no single bagit.txt at its top or in one folder there."
        )
    top = declared[0].removesuffix("bagit.txt")
    outside = [name for name in names if not name.startswith(top)]
    if outside:
        return Refused(tuple((shown(name), "It lies outside the bag.") for name in outside))
    return _Zip(file, top, {name.removeprefix(top): size for name, size in names.items()})


def _traps(infos: list[zipfile.ZipInfo], start: int) -> Iterator[tuple[str, str]]:
    """Name what makes a zip unsafe to read; `start` is where its list of files begins."""
    if len(infos) > MOST_FILES:
        yield "the zip", f"It holds more than {MOST_FILES} files."
        return
    for name, times in Counter(_alike(info.filename) for info in infos).items():
        if times > 1:
            yield (
                shown(name),
                "Several files have this name, or names that some systems take for it.",
            )
    for info in infos:
        why = why_unsafe(info.filename.removesuffix("/")) or _trap(info)
        if why:
            yield shown(info.filename), why
    ends = [info.header_offset for info in sorted(infos, key=lambda i: i.header_offset)][1:]
    for info, end in zip(sorted(infos, key=lambda i: i.header_offset), [*ends, start], strict=True):
        if info.header_offset + _LOCAL_HEADER + info.compress_size > end:
            yield shown(info.filename), "It shares its bytes with another file, as a trap does."


def _alike(name: str) -> str:
    return unicodedata.normalize("NFC", name).casefold()


def _trap(info: zipfile.ZipInfo) -> str | None:
    kind = stat.S_IFMT(info.external_attr >> 16)
    if kind not in (0, stat.S_IFREG, stat.S_IFDIR):
        return "It is a link or no ordinary file."
    if info.flag_bits & _ENCRYPTED:
        return "It is encrypted."
    if info.compress_type not in _METHODS:
        return "It is compressed in a way that is not read here."
    if info.file_size > _RATIO * info.compress_size + _SLACK:
        return "It would grow beyond measure when it is unpacked."
    return None
