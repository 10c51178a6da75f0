"""The skeleton of an Exif block: which directories it has and whether they hold together.

The two readers of `exif` are given only blocks whose directories pass here, so that a pointer
into nothing, a directory that points at itself or one of a million entries costs no time. Only
the first directory, the Exif and the GPS directory count; the thumbnail's is another picture's.
"""

from __future__ import annotations

import struct
from dataclasses import dataclass

MAX_ENTRIES = 2_000
"""Entries of the three directories together; cameras write some 150."""

MAX_NUMBERS = 100_000
"""Numbers in all entries that are decoded; a camera writes some 500."""

EXIF_POINTER = 0x8769
GPS_POINTER = 0x8825
FIRST_TAGS = frozenset({0x0100, 0x0101, 0x010F, 0x0110, 0x0112, 0x0131, 0x0132, 0x9003})
"""Tags that are read from the first directory; a TIFF's own tables of strips are left alone."""

# Bytes per value by TIFF type (TIFF 6.0 section 2; 13 and 129 from later texts: IFD, Exif 3 UTF-8).
_TYPE_BYTES = {
    1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 6: 1, 7: 1, 8: 2, 9: 4, 10: 8, 11: 4, 12: 8, 13: 4, 129: 1,
}  # fmt: skip
_BYTES = frozenset({1, 2, 7, 129})


@dataclass(frozen=True, slots=True)
class Skeleton:
    """What the directories of a block look like.

    `trouble` says why they cannot be used, in words, or is None. `twice` are the directory and
    number of each tag that stands more than once with different entries (directory is "first",
    "exif" or "gps"). `utf8` are the texts that Exif 3 stores as UTF-8, which the two readers skip.
    """

    trouble: str | None = None
    twice: frozenset[tuple[str, int]] = frozenset()
    utf8: tuple[tuple[str, int, str], ...] = ()
    flaws: tuple[str, ...] = ()


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
    return Skeleton(None, frozenset(walk.twice), tuple(walk.utf8), tuple(flaws))


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

    def entries(self, at: int, name: str) -> dict[int, bytes]:
        """Give the raw entry of each tag of the directory at that place."""
        if at < 8 or at + 2 > len(self.block):
            raise _Unusable("a directory of the Exif block lies outside it")
        count = struct.unpack_from(self.order + "H", self.block, at)[0]
        self.left -= count
        if self.left < 0:
            raise _Unusable(f"the Exif block lists more than {MAX_ENTRIES} entries")
        if at + 2 + 12 * count > len(self.block):
            raise _Unusable("a directory of the Exif block is cut short")
        found: dict[int, bytes] = {}
        for start in range(at + 2, at + 2 + 12 * count, 12):
            raw = self.block[start : start + 12]
            tag, kind, number, value = self.entry.unpack(raw)
            if found.setdefault(tag, raw) != raw:
                self.twice.add((name, tag))
            self._claim(name, tag, kind, number, value)
        return found

    def _claim(self, name: str, tag: int, kind: int, number: int, value: bytes) -> None:
        size = number * _TYPE_BYTES.get(kind, 0)
        if size <= 4:
            text = value[:size]
        else:
            at = struct.unpack(self.order + "L", value)[0]
            if at + size > len(self.block):
                return  # nothing is there to read: Pillow leaves it out, ExifRead reads nothing
            self.claimed += size
            if kind not in _BYTES and (name != "first" or tag in FIRST_TAGS):
                self.numbers -= number
            if self.numbers < 0:
                raise _Unusable(f"the Exif block lists more than {MAX_NUMBERS} numbers")
            text = self.block[at : at + min(size, 200)] if kind == 129 else b""
        if kind == 129:
            self.utf8.append((name, tag, text.split(b"\0")[0].decode("utf-8", "replace")))

    def pointer(self, raw: bytes) -> int:
        """Give the place that a pointer entry names: one LONG (or IFD)."""
        _, kind, number, value = self.entry.unpack(raw)
        if kind not in (4, 13) or number != 1:
            raise _Unusable("a pointer of the Exif block is not a place")
        return int(struct.unpack(self.order + "L", value)[0])
