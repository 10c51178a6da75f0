"""A BagIt bag (RFC 8493) written as a folder or a zip: hashed while copied, then put in place.

Whatever dies on the way leaves no bag. Files go in unchanged and uncompressed; an original that is
no longer the one that was hashed before stops it.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import zipfile
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import BinaryIO, Protocol

from claimkit.intake.refused import next_step, reason_of
from claimkit.model.stop import CannotGoOn

PAYLOAD = "data/"
DECLARATION = b"BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"
MANIFEST, TAG_MANIFEST = "manifest-sha256.txt", "tagmanifest-sha256.txt"
_BLOCK = 1 << 20


class Place(Protocol):
    """Where the files of a bag are written to."""

    def write(self, name: str, blocks: Iterable[bytes]) -> None:
        """Write one file of the bag."""

    def close(self) -> None:
        """Finish writing."""


class InFolder:
    """A bag as a folder."""

    def __init__(self, root: Path) -> None:
        self._root = root
        root.mkdir(parents=True)

    def write(self, name: str, blocks: Iterable[bytes]) -> None:
        """Write one file of the bag."""
        file = self._root / name
        file.parent.mkdir(parents=True, exist_ok=True)
        with file.open("xb") as out:
            for block in blocks:
                out.write(block)
            out.flush()
            os.fsync(out.fileno())

    def close(self) -> None:
        """Nothing is left to do."""


class InZip:
    """A bag in a zip file below one folder, stored without compression."""

    def __init__(self, file: Path, top: str) -> None:
        self._file = file.open("xb")
        self._zip = zipfile.ZipFile(self._file, "w", zipfile.ZIP_STORED)
        self._top = top

    def write(self, name: str, blocks: Iterable[bytes]) -> None:
        """Write one file of the bag; its time is fixed, so that the same files give a same zip."""
        info = zipfile.ZipInfo(f"{self._top}/{name}", (1980, 1, 1, 0, 0, 0))
        info.external_attr = 0o100644 << 16
        info.create_system = 3
        with self._zip.open(info, "w", force_zip64=True) as out:
            for block in blocks:
                out.write(block)

    def close(self) -> None:
        """Write the zip's own list of files, and wait until all of it is on the disk."""
        with self._file as file:
            self._zip.close()
            file.flush()
            os.fsync(file.fileno())


@dataclass(slots=True)
class Bag:
    """A bag being written; `payload` and `tags` map names to hashes."""

    place: Place
    payload: dict[str, str] = field(default_factory=dict)
    tags: dict[str, str] = field(default_factory=dict)
    size: int = 0

    def copy(self, name: str, source: Path, sha256: str) -> None:
        """Copy an original whose hash is known. Raises CannotGoOn where it is another now."""
        with _opened(source) as file:
            found = self._add(name, iter(lambda: file.read(_BLOCK), b""))
        if found != sha256:
            raise CannotGoOn(
                f"{source} is no longer the file that was read: its SHA-256 was {sha256} and is "
                f"{found}. No bundle was written. Run claimkit verify on the job."
            )

    def text(self, name: str, data: bytes) -> None:
        """Write a file whose bytes are at hand."""
        self._add(name, (data,))

    def _add(self, name: str, blocks: Iterable[bytes]) -> str:
        held = self.payload if name.startswith(PAYLOAD) else self.tags
        if name.casefold() in {known.casefold() for known in (*self.payload, *self.tags)}:
            raise ValueError(f"two files of a bag would be named {name}")
        digest = hashlib.sha256()

        def told() -> Iterator[bytes]:
            for block in blocks:
                digest.update(block)
                self.size += len(block) if held is self.payload else 0
                yield block

        self.place.write(name, told())
        held[name] = digest.hexdigest()
        return held[name]

    def finish(self, info: Iterable[tuple[str, str]]) -> str:
        """Write the bag's own files; give the hash of the list that covers all of them."""
        self.text("bagit.txt", DECLARATION)
        lines = [*info, ("Payload-Oxum", f"{self.size}.{len(self.payload)}")]
        told = "".join(f"{key}: {' '.join(value.split())}\n" for key, value in lines)
        self.text("bag-info.txt", told.encode("utf-8"))
        self.text(MANIFEST, _listed(self.payload))
        listed = _listed(self.tags)
        self.place.write(TAG_MANIFEST, (listed,))
        self.place.close()
        return hashlib.sha256(listed).hexdigest()


def _opened(source: Path) -> BinaryIO:
    try:
        return source.open("rb")
    except OSError as error:
        what_next = next_step(error, "Put it back, or run claimkit verify on the job.")
        raise CannotGoOn(
            f"{source} cannot be read: {reason_of(error)}. No bundle was written. {what_next}"
        ) from error


def _listed(files: dict[str, str]) -> bytes:
    return "".join(f"{sha256}  {name}\n" for name, sha256 in sorted(files.items())).encode("utf-8")


def begin(target: Path, *, zipped: bool) -> tuple[Bag, Path]:
    """Start a bag beside its place `target`; give it and the unfinished file or folder."""
    target.parent.mkdir(parents=True, exist_ok=True)
    unfinished = target.with_name(f"{target.name}.tmp")
    discard(unfinished)
    place: Place = InZip(unfinished, target.stem) if zipped else InFolder(unfinished)
    return Bag(place), unfinished


def discard(unfinished: Path) -> None:
    """Remove what a run that died has left of an unfinished bag."""
    if unfinished.is_dir():
        shutil.rmtree(unfinished)
    else:
        unfinished.unlink(missing_ok=True)
