"""A drawn file put in place whole and logged; what was sent is never overwritten."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from claimkit.model.stop import CannotGoOn

if TYPE_CHECKING:
    from claimkit.model.document import Document

Paper = Literal["letter", "a4"]


@dataclass(frozen=True, slots=True)
class Written:
    """A packet on disk: its path, its hash, and whether the same bytes were there already.

    `not_archive` says why it is no PDF/A-2b; empty where it is one. `document` is what was drawn,
    `refused` the papers whose pages were not added, each with the reason.
    """

    path: Path
    sha256: str
    already_there: bool
    not_archive: tuple[str, ...] = ()
    document: Document | None = None
    refused: tuple[tuple[str, str], ...] = ()


def put_in_place(folder: Path, pdf: Path, wanted: Path, for_whom: str, now: datetime) -> Written:
    """Put a drawn file in place whole and log its hash; keep what is there and differs.

    Under the job's lock, so that two runs at once take two names and never one unfinished file.
    """
    from claimkit.intake.custody import log_packet
    from claimkit.intake.disk import RealDisk, put_copy
    from claimkit.intake.read import moved

    disk, path = RealDisk(), wanted
    try:
        with disk.lock(folder.resolve(), None):
            if not folder.is_dir():
                raise moved(folder)
            sha256 = disk.digest(pdf, 0).sha256
            path, there = _free(wanted, sha256)
            if not there:
                disk.make_folder(path.parent)
                put_copy(disk, path, pdf)
        log_packet(folder, path=within(folder, path), sha256=sha256, for_whom=for_whom, now=now)
    except OSError as error:
        raise not_written(path, error) from error
    return Written(path, sha256, there)


def not_written(path: Path, error: OSError) -> CannotGoOn:
    """Give the sentence on a file that the disk did not take."""
    from claimkit.intake.refused import next_step, reason_of

    what_next = "Close it where it is open, or choose another place with --out."
    told = f"{path} cannot be written ({reason_of(error)}). {next_step(error, what_next)}"
    return CannotGoOn(told)


def _free(wanted: Path, sha256: str) -> tuple[Path, bool]:
    """Give the first name that is free or holds exactly these bytes, and whether it does."""
    from claimkit.intake.disk import RealDisk

    for path in _numbered(wanted):
        if not path.exists():
            return path, False
        if path.is_file() and RealDisk().digest(path, 0).sha256 == sha256:
            return path, True
    raise AssertionError("names do not end")


def _numbered(path: Path) -> Iterator[Path]:
    yield path
    for number in count(2):
        yield path.with_stem(f"{path.stem}-{number}")


def within(folder: Path, path: Path) -> str:
    """Name a file relative to the job folder where it lies in it, else by its last part."""
    folder, path = folder.resolve(), path.resolve()
    return path.relative_to(folder).as_posix() if path.is_relative_to(folder) else path.name
