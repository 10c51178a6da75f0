"""The skeleton of an Exif block: which directories it has and whether they hold together.

The two readers of `exif` are given only blocks whose directories pass here, so that a pointer
into nothing, a directory that points at itself or one of a million entries costs no time. Only
the first directory, the Exif and the GPS directory count; the thumbnail's is another picture's.
"""

from __future__ import annotations

import struct
from dataclasses import dataclass, field

from claimkit.intake.metadata.repointed import (
    MORE_DIRECTORIES,
    TYPE_BYTES,
    Astray,
    Named,
    Walked,
    astray,
)

MAX_ENTRIES = 2_000
"""Entries of the three directories together; cameras write some 150."""

MAX_NUMBERS = 100_000
"""Numbers in all entries that are decoded; a camera writes some 500."""

EXIF_POINTER = 0x8769
GPS_POINTER = 0x8825
FIRST_TAGS = frozenset({0x0100, 0x0101, 0x010F, 0x0110, 0x0112, 0x0131, 0x0132, 0x9003})
"""Tags that are read from the first directory; a TIFF's own tables of strips are left alone."""

_BYTES = frozenset({1, 2, 7, 129})
_TEXTS = frozenset({2, 129})
_SUBSECS = frozenset({0x9290, 0x9291, 0x9292})


@dataclass(frozen=True, slots=True)
class Skeleton:
    """What the directories of a block look like.

    `trouble` says why they cannot be used, in words, or is None. `twice` are the directory and
    number of each tag that stands more than once with different entries (directory is "first",
    "exif" or "gps"). `utf8` are the texts that Exif 3 stores as UTF-8, which the two readers skip.
    `unended` are the sub-seconds without the NUL that ends a text (TIFF 6.0 section 2, ASCII):
    a wrong count cuts digits off or adds some. `astray` are the dates that may be another's.
    """

    trouble: str | None = None
    twice: frozenset[tuple[str, int]] = frozenset()
    utf8: tuple[tuple[str, int, str], ...] = ()
    flaws: tuple[str, ...] = ()
    unended: frozenset[tuple[str, int]] = frozenset()
    astray: Astray = field(default_factory=Astray)


class _Unusable(Exception):
    """A directory cannot be used; the text says why."""


def look_at(block: bytes) -> Skeleton:
    """Walk the three directories of a block that begins with a TIFF header.

    Source of the layout: TIFF 6.0 section 2 and CIPA DC-008 4.6. Never raises; the work is
    bounded by MAX_ENTRIES.
    """
    try:
        return _look_at(block)
    except _Unusable as error:
        return Skeleton(trouble=str(error))


def _look_at(block: bytes) -> Skeleton:
    order = "<" if block[:2] == b"II" else ">"
    if len(block) < 8:
        raise _Unusable("the Exif block ends inside its header")
    first_at = struct.unpack(order + "L", block[4:8])[0]
    walk = _Walk(block, order)
    first = walk.entries(first_at, "first")
    seen = {first_at}
    flaws: list[str] = []
    for name, tag in (("exif", EXIF_POINTER), ("gps", GPS_POINTER)):
        if tag not in first:
            continue
        at = walk.pointer(first[tag])
        if at in seen:
            raise _Unusable("a directory of the Exif block points back at another")
        seen.add(at)
        try:
            walk.entries(at, name)
        except _Unusable as error:
            if name == "exif":
                raise
            flaws.append(f"The GPS part of the Exif cannot be read: {error}. It is not used.")
    if walk.claimed > len(block):
        raise _Unusable("the entries of the Exif block claim more bytes than it has")
    return Skeleton(
        None,
        frozenset(walk.twice),
        tuple(walk.utf8),
        tuple(flaws),
        frozenset(walk.unended),
        astray(Walked(block, order, walk.values, walk.tables, walk.sides, EXIF_POINTER in first)),
    )


class _Walk:
    """Reads directories and counts what they claim."""

    def __init__(self, block: bytes, order: str) -> None:
        self.block = block
        self.entry = struct.Struct(order + "HHL4s")
        self.order = order
        self.left = MAX_ENTRIES
        self.numbers = MAX_NUMBERS
        self.claimed = 0
        self.twice: set[tuple[str, int]] = set()
        self.utf8: list[tuple[str, int, str]] = []
        self.unended: set[tuple[str, int]] = set()
        self.values: list[Named] = []
        self.tables: list[int] = []
        self.sides: list[int] = []

    def entries(self, at: int, name: str) -> dict[int, bytes]:
        """Give the raw entry of each tag of the directory at that place."""
        if at < 8 or at + 2 > len(self.block):
            raise _Unusable("a directory of the Exif block lies outside it")
        count = struct.unpack_from(self.order + "H", self.block, at)[0]
        self.left -= count
        if self.left < 0:
            raise _Unusable(f"the Exif block lists more than {MAX_ENTRIES} entries")
        end = at + 2 + 12 * count
        if end > len(self.block):
            raise _Unusable("a directory of the Exif block is cut short")
        self.tables.append(at)
        if name == "first" and end + 4 <= len(self.block):
            self.sides.append(struct.unpack_from(self.order + "L", self.block, end)[0])
        found: dict[int, bytes] = {}
        for start in range(at + 2, end, 12):
            raw = self.block[start : start + 12]
            tag, kind, number, value = self.entry.unpack(raw)
            if found.setdefault(tag, raw) != raw:
                self.twice.add((name, tag))
            self._claim(name, tag, kind, number, value)
        return found

    def _claim(self, name: str, tag: int, kind: int, number: int, value: bytes) -> None:
        size = number * TYPE_BYTES.get(kind, 0)
        at = struct.unpack(self.order + "L", value)[0]
        if size <= 4:
            text = last = value[:size]
            if tag in MORE_DIRECTORIES and size == 4:
                self.sides.append(at)
        else:
            if at + size > len(self.block):
                return  # nothing is there to read: Pillow leaves it out, ExifRead reads nothing
            self.values.append(Named(at, at + size, name, tag))
            self.claimed += size
            if kind not in _BYTES and (name != "first" or tag in FIRST_TAGS):
                self.numbers -= number
            if self.numbers < 0:
                raise _Unusable(f"the Exif block lists more than {MAX_NUMBERS} numbers")
            text = self.block[at : at + min(size, 200)] if kind == 129 else b""
            last = self.block[at + size - 1 : at + size]
        if tag in _SUBSECS and kind in _TEXTS and last[-1:] != b"\0":
            self.unended.add((name, tag))
        if kind == 129:
            self.utf8.append((name, tag, text.split(b"\0")[0].decode("utf-8", "replace")))

    def pointer(self, raw: bytes) -> int:
        """Give the place that a pointer entry names: one LONG (or IFD)."""
        _, kind, number, value = self.entry.unpack(raw)
        if kind not in (4, 13) or number != 1:
            raise _Unusable("a pointer of the Exif block is not a place")
        return int(struct.unpack(self.order + "L", value)[0])
