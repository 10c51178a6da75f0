"""Two independent readings of one Exif block, by ExifRead and by Pillow, in one common shape.

Each reading answers for a directory ("first", "exif" or "gps") and a tag's number. Neither keeps
anything from one block to the next, and each is bounded: ExifRead by a reader that gives up.
"""

from __future__ import annotations

import warnings
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Any

from claimkit.intake.metadata.directories import EXIF_POINTER, FIRST_TAGS, GPS_POINTER

MAX_READS = 100_000
MAX_BYTES_READ = 1_000_000
"""A whole Exif directory needs some 2,000 reads and 20 kB; beyond these the block is hostile.

The bytes are fewer than a large block's size on purpose: ExifRead walks a text that stands in
the place of a coded value letter by letter, and eight million of them take over a second.
"""

Value = bytes | tuple[int, ...] | tuple[Fraction | None, ...] | None


class Unreadable(Exception):
    """A reading gave up; the text says why."""


class _Spent(Exception):
    """The budget of reads is spent."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading: the values by directory and tag number."""

    values: Mapping[tuple[str, int], Value]

    def text(self, directory: str, tag: int) -> str | None:
        """Give a text, cut at the first NUL, or None where there is none."""
        value = self.values.get((directory, tag))
        return _text(value) if isinstance(value, bytes) else None

    def number(self, directory: str, tag: int) -> int | None:
        """Give a single whole number, or None."""
        value = self.values.get((directory, tag))
        if isinstance(value, tuple) and len(value) == 1 and isinstance(value[0], int):
            return value[0]
        return None

    def ratios(self, directory: str, tag: int) -> tuple[Fraction | None, ...] | None:
        """Give rationals (None for one with denominator 0), or None where they are no rationals."""
        value = self.values.get((directory, tag))
        if not isinstance(value, tuple) or any(isinstance(v, int) for v in value):
            return None
        return tuple(v if isinstance(v, Fraction) else None for v in value) or None


class Sparing:
    """A file over bytes that gives up after so many reads or so many bytes."""

    def __init__(self, block: bytes) -> None:
        self.block = block
        self.at = 0
        self.reads = MAX_READS
        self.bytes = MAX_BYTES_READ

    def read(self, size: int = -1) -> bytes:
        """Read on from the current place."""
        end = len(self.block) if size < 0 else self.at + size
        piece = self.block[self.at : end]
        self.at += len(piece)
        self.reads -= 1
        self.bytes -= len(piece)
        if self.reads < 0 or self.bytes < 0:
            raise _Spent
        return piece

    def seek(self, offset: int, whence: int = 0) -> int:
        """Move, as a file does; a place beyond the end reads as nothing."""
        self.at = max(0, offset + (0, self.at, len(self.block))[whence])
        return self.at

    def tell(self) -> int:
        """Tell the current place."""
        return self.at


@cache
def _exifread() -> Any:
    """Import ExifRead once and keep its warnings, which are no news to the user, off the screen."""
    import logging

    import exifread

    logging.getLogger("exifread").setLevel(logging.CRITICAL)
    return exifread


def by_exifread(block: bytes) -> Reading:
    """Read a block with ExifRead, without maker notes and thumbnails.

    Raises Unreadable, also where the budget is spent.
    """
    library = _exifread()
    try:
        tags = library.process_file(Sparing(block), details=False, extract_thumbnail=False)
    except _Spent:
        raise Unreadable("the Exif block takes too long to read: damaged or hostile") from None
    except Exception as error:  # it lets six classes of exception out on damaged blocks
        raise Unreadable(f"the Exif block is damaged ({type(error).__name__})") from None
    homes = {"Image": "first", "EXIF": "exif", "GPS": "gps"}
    values: dict[tuple[str, int], Value] = {}
    for key, tag in tags.items():
        home = homes.get(key.split(" ", 1)[0])
        if home is not None and hasattr(tag, "values"):
            values[home, tag.tag] = _from_exifread(tag.field_type, tag.values)
    return Reading(values)


def _from_exifread(kind: int, values: Any) -> Value:
    if isinstance(values, str | bytes):
        return values.encode() if isinstance(values, str) else values
    if not isinstance(values, list) or not values:
        return None
    if kind in (1, 7):  # BYTE and UNDEFINED: some writers store texts so
        return bytes(values)
    return _numbers(values)


def _numbers(values: Sequence[Any]) -> Value:
    """Give whole numbers, or fractions with None for one that has a zero below."""
    if all(isinstance(v, int) for v in values):
        return tuple(values)
    if all(hasattr(v, "numerator") and hasattr(v, "denominator") for v in values):
        return tuple(
            Fraction(int(v.numerator), int(v.denominator)) if v.denominator else None
            for v in values
        )
    return None


def by_pillow(block: bytes) -> Reading:
    """Read a block with Pillow's Exif parser. Raises Unreadable."""
    from PIL import Image

    exif = Image.Exif()
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            exif.load(block)
            more = exif.get_ifd(EXIF_POINTER), exif.get_ifd(GPS_POINTER)
            parts = (("first", exif), ("exif", more[0]), ("gps", more[1]))
            found = [
                (home, tag, part[tag])
                for home, part in parts
                for tag in list(part)
                if home != "first" or tag in FIRST_TAGS
            ]
    except Exception as error:  # damaged blocks raise SyntaxError, struct.error and others
        raise Unreadable(f"the Exif block is damaged ({type(error).__name__})") from None
    return Reading({(home, tag): _from_pillow(value) for home, tag, value in found})


def _from_pillow(value: Any) -> Value:
    if isinstance(value, str):  # Pillow decodes as Latin-1, which keeps the bytes
        return value.encode("latin-1", "replace")
    if isinstance(value, bytes):
        return value
    return _numbers(value if isinstance(value, tuple) else (value,))


def _text(raw: bytes) -> str:
    raw = raw.split(b"\0", 1)[0]
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError:
        return raw.decode("latin-1")
