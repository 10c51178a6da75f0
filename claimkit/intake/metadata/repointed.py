"""Dates that a damaged entry may have been led to: another's bytes, or another picture's.

An entry names the place of its value (TIFF 6.0 section 2), so a few changed bytes let it name
another date of the same file, which then reads as well as its own. What gives it away is the text
that it named before: it still stands in the block, and no entry names it any more.
"""

from __future__ import annotations

import re
import struct
from collections import deque
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

MAX_DIRECTORIES = 64
MAX_SIDE_ENTRIES = 2_000
"""Bounds of the walk over the directories that are not read; a camera's block has three."""

SCANNED = 1_000_000
"""Bytes that are looked through for texts at either end of a block; a TIFF file is itself one."""

# Bytes per value by TIFF type (TIFF 6.0 section 2; 13 and 129 from later texts: IFD, Exif 3 UTF-8).
TYPE_BYTES = {
    1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 6: 1, 7: 1, 8: 2, 9: 4, 10: 8, 11: 4, 12: 8, 13: 4, 129: 1,
}  # fmt: skip
MORE_DIRECTORIES = frozenset({0x014A, 0xA005})
"""Entries that name a directory which is not read: a TIFF's further pictures, interoperability."""

_JPEG_AT, _JPEG_BYTES = 0x0201, 0x0202
_DATE = re.compile(rb"\d{4}:\d\d:\d\d \d\d:\d\d:\d\d")
_OFFSET = re.compile(rb"[+-]\d\d:\d\d")
_DATES = frozenset({0x0132, 0x9003, 0x9004})
_OFFSETS = frozenset({0x9010, 0x9011, 0x9012})


@dataclass(frozen=True, slots=True)
class Named:
    """Bytes of the block that an entry names as its value: from `start` to before `end`."""

    start: int
    end: int
    home: str
    tag: int


@dataclass(frozen=True, slots=True)
class Walked:
    """What a walk over the first, Exif and GPS directories of a block came upon.

    `order` is struct's sign of the byte order. `values` is what the directories name, `tables`
    where they stand, `sides` where further directories are said to be.
    """

    block: bytes
    order: str
    values: Sequence[Named]
    tables: Sequence[int]
    sides: Sequence[int]
    has_exif: bool


@dataclass(frozen=True, slots=True)
class Astray:
    """What the structure speaks against.

    `shared` are the directory and number of each date and offset whose bytes another entry names
    too, where a text of its form is left that none names. `exif_lost` tells that a date is left
    so, and no Exif directory names it.
    """

    shared: frozenset[tuple[str, int]] = frozenset()
    exif_lost: bool = False


def astray(walked: Walked) -> Astray:
    """Look for dates and offsets that may be another's.

    TIFF 6.0 section 7 forbids that two entries name the same bytes ("No Duplicate Pointers"). A
    writer that does it with values that are equal leaves no text over; that is not told. The work
    is bounded; never raises.
    """
    everything = [*walked.values, *_side_values(walked)]
    shared = _shared(walked.values, everything)
    stated = any(v.home == "first" and v.tag in _DATES for v in walked.values)
    if not shared and (walked.has_exif or not stated):
        return Astray()
    free = _free(everything, len(walked.block))
    date_left = _left(_DATE, walked.block, free)
    offset_left = any(tag in _OFFSETS for _, tag in shared) and _left(_OFFSET, walked.block, free)
    return Astray(
        frozenset(one for one in shared if (date_left if one[1] in _DATES else offset_left)),
        exif_lost=date_left and not walked.has_exif,
    )


def _shared(values: Sequence[Named], everything: Sequence[Named]) -> set[tuple[str, int]]:
    """Give the dates and offsets whose bytes another entry names too."""
    found = set()
    for one in values:
        if one.tag not in _DATES | _OFFSETS:
            continue
        me = (one.home, one.tag)
        over = (v for v in everything if v.start < one.end and one.start < v.end)
        if any((v.home, v.tag) != me for v in over):
            found.add(me)
    return found


def _side_values(walked: Walked) -> list[Named]:
    """Give what the thumbnail's and all further directories name, as far as they can be read."""
    block, number = walked.block, struct.Struct(walked.order + "L")
    entry, short = struct.Struct(walked.order + "HHL4s"), struct.Struct(walked.order + "H")
    places, seen, left = deque(walked.sides), set(walked.tables), MAX_SIDE_ENTRIES
    found: list[Named] = []
    for _ in range(MAX_DIRECTORIES):
        if not places:
            break
        at = places.popleft()
        if at in seen or at < 8 or at + 2 > len(block):
            continue
        seen.add(at)
        count = short.unpack_from(block, at)[0]
        end = at + 2 + 12 * count
        if end > len(block):
            continue  # costs nothing: a damaged count keeps no other directory from being read
        left -= count
        if left < 0:
            break
        preview = {}
        for tag, kind, many, raw in entry.iter_unpack(block[at + 2 : end]):
            place = number.unpack(raw)[0]
            size = many * TYPE_BYTES.get(kind, 0)
            if 4 < size <= len(block) - place:
                found.append(Named(place, place + size, "side", tag))
            if tag in MORE_DIRECTORIES | {0x8769, 0x8825} and size == 4:
                places.append(place)
            preview[tag] = place
        if _JPEG_AT in preview:
            start = preview[_JPEG_AT]
            found.append(Named(start, start + preview.get(_JPEG_BYTES, 0), "side", _JPEG_AT))
        if end + 4 <= len(block):
            places.append(number.unpack_from(block, end)[0])
    return found


def _free(named: Sequence[Named], size: int) -> list[tuple[int, int]]:
    """Give the stretches of a block of that size that no entry names."""
    gaps, at = [], 0
    for one in sorted(named, key=lambda v: v.start):
        if one.start > at:
            gaps.append((at, one.start))
        at = max(at, one.end)
    return [*gaps, (at, size)] if at < size else gaps


def _left(form: re.Pattern[bytes], block: bytes, free: Iterable[tuple[int, int]]) -> bool:
    """Tell whether a text of that form stands where no entry names it."""
    tail = max(SCANNED, len(block) - SCANNED)
    return any(
        form.search(block, max(start, low), min(end, high))
        for start, end in free
        for low, high in ((0, SCANNED), (tail, len(block)))
    )
