"""Dates that may be another entry's: blocks made byte by byte, and what their directories name.

What counts is TIFF 6.0: section 2 (an entry is 12 bytes, its value stands in it up to four bytes
and else where it says, a directory names the next) and section 7 (no two entries name the same
bytes). The numbers of further directories are those of TIFF 6.0 supplement 1 (014A) and CIPA
DC-008 4.6.3 (8769, 8825, A005); 0201 and 0202 are the thumbnail's place and length (4.6.4).
"""

from __future__ import annotations

import struct
from collections.abc import Sequence

import pytest

from claimkit.intake.metadata.repointed import (
    MAX_SIDE_ENTRIES,
    SCANNED,
    Astray,
    Named,
    Walked,
    astray,
)

OWN, FREE = 200, 300  # where the date that is claimed stands, and one that nobody claims
DATE = b"2024:05:12 14:03:22\0"
SHARED = Astray(frozenset({("exif", 0x9003)}))
Row = tuple[int, int, int, int]  # tag, type, count, value or place


def directory(rows: Sequence[Row], after: int | None = 0) -> bytes:
    """Give the bytes of a directory; without the place of a next one where `after` is None."""
    body = struct.pack("<H", len(rows)) + b"".join(struct.pack("<HHLL", *row) for row in rows)
    return body if after is None else body + struct.pack("<L", after)


def block(*placed: tuple[int, bytes], size: int = 400, free: bytes = DATE) -> bytes:
    """Give a block with bytes at their places, the claimed date and another that is left."""
    raw = bytearray(size)
    for at, body in ((OWN, DATE), (FREE, free), *placed):
        raw[at : at + len(body)] = body
    return bytes(raw)


def look(
    raw: bytes,
    sides: Sequence[int] = (),
    *,
    more: Sequence[Named] = (),
    tables: Sequence[int] = (8,),
    has_exif: bool = True,
) -> Astray:
    """Ask for a date of capture in the Exif directory that stands at its own place."""
    own = Named(OWN, OWN + 20, "exif", 0x9003)
    return astray(Walked(raw, "<", [*more, own], tables, sides, has_exif))


DATE_ROW: Row = (0x0132, 2, 20, OWN)


@pytest.mark.parametrize(
    "raw, sides",
    [
        (block((40, directory([DATE_ROW]))), [40]),
        # Behind directories that are none: inside the header, beyond the end, too long.
        (block((40, directory([DATE_ROW]))), [0, 4, 399, 400, 9_999, 40]),
        (block((40, directory([DATE_ROW])), (100, b"\xff\xff")), [100, 40]),
        # The next directory, and the next of that.
        (
            block((40, directory([], 60)), (60, directory([], 80)), (80, directory([DATE_ROW]))),
            [40],
        ),
        # Directories that an entry names.
        *(
            (block((40, directory([(tag, 4, 1, 80)])), (80, directory([DATE_ROW]))), [40])
            for tag in (0x014A, 0xA005, 0x8769, 0x8825)
        ),
        # The thumbnail's picture runs over the date.
        (block((40, directory([(0x0201, 4, 1, 195), (0x0202, 4, 1, 6)]))), [40]),
        # Five bytes inside it; the last byte of it; the first.
        (block((40, directory([(0x9999, 1, 5, OWN + 3)]))), [40]),
        (block((40, directory([(0x9999, 1, 5, OWN + 19)]))), [40]),
        (block((40, directory([(0x9999, 1, 5, OWN - 4)]))), [40]),
        # Numbers of two, four and eight bytes.
        (block((40, directory([(0x9999, 3, 10, OWN - 19)]))), [40]),
        (block((40, directory([(0x9999, 5, 2, OWN - 15)]))), [40]),
        # A directory at the very end, with and without a place for a next one.
        (block((386, directory([DATE_ROW], None))), [386]),
        (block((382, directory([], 40)), (40, directory([DATE_ROW]))), [382]),
        (block((394, directory([], 40)), (40, directory([DATE_ROW]))), [394]),
    ],
)  # fmt: skip
def test_a_date_that_another_entry_names_too(raw: bytes, sides: list[int]) -> None:
    assert look(raw, sides) == SHARED


@pytest.mark.parametrize(
    "rows",
    [
        [(0x9999, 2, 4, OWN)],  # four bytes stand in the entry: no place
        [(0x9999, 2, 5, OWN - 5)],  # ends right before it
        [(0x9999, 2, 5, OWN + 20)],  # begins right behind it
        [(0x9999, 99, 20, OWN)],  # no type that TIFF knows
        [(0x9999, 2, 300, OWN)],  # more than the block has
        [(0x0201, 4, 1, 100), (0x0202, 4, 1, 100)],  # the thumbnail ends right before it
        [(0x9999, 4, 1, 80)],  # an ordinary number is no directory
        [(0x014A, 3, 1, 80)],  # nor is a short one
    ],
)
def test_a_date_that_nothing_else_names(rows: list[Row]) -> None:
    raw = block((40, directory(rows)), (80, directory([DATE_ROW])))
    assert look(raw, [40]) == Astray()


def test_a_directory_that_was_read_is_not_read_as_another() -> None:
    raw = block((40, directory([DATE_ROW], 40)))
    assert look(raw, [40], tables=(8, 40)) == Astray()
    assert look(raw, [40], tables=(8,)) == SHARED


@pytest.mark.parametrize("entries, read", [(MAX_SIDE_ENTRIES - 1, True), (MAX_SIDE_ENTRIES, False)])
def test_so_many_entries_are_read_and_no_more(entries: int, read: bool) -> None:
    many = directory([(0x9999, 4, 1, 0)] * entries)
    raw = block((40, directory([DATE_ROW])), (400, many), size=500 + len(many))
    assert (look(raw, [400, 40]) == SHARED) is read


def test_nothing_is_told_where_no_text_of_the_form_is_left() -> None:
    raw = block((40, directory([DATE_ROW])), free=b"no date")
    assert look(raw, [40]) == Astray()
    # It is left only where no entry names it.
    both = [DATE_ROW, (0x0132, 2, 20, FREE)]
    assert look(block((40, directory(both))), [40]) == Astray()
    assert look(block((40, directory([DATE_ROW, (0x0132, 2, 19, FREE)]))), [40]) == Astray()


def test_an_offset_is_told_by_an_offset_that_is_left() -> None:
    other = [Named(240, 247, "exif", 0x9011), Named(240, 247, "exif", 0x9012)]
    found = frozenset({("exif", 0x9011), ("exif", 0x9012)})
    assert look(block((240, b"+02:00\0"), free=b"+03:00\0"), more=other) == Astray(found)
    assert look(block((240, b"+02:00\0")), more=other) == Astray()
    # What else is shared is no date, and keeps none from being looked at.
    names = [Named(260, 270, "first", 0x010F), Named(260, 270, "first", 0x0110)]
    raw = block((240, b"+02:00\0"), free=b"+03:00\0")
    assert look(raw, more=[*names, *other]) == Astray(found)


def test_the_exif_directory_is_lost_where_a_date_of_change_and_a_free_date_are_left() -> None:
    changed = Named(240, 260, "first", 0x0132)
    raw = block((240, DATE))
    lost = Walked(raw, "<", [changed], (8,), (), False)
    assert astray(lost) == Astray(exif_lost=True)
    assert astray(Walked(raw, "<", [changed], (8,), (), True)) == Astray()
    # Without a stated date nothing is claimed that could be wrong.
    maker = Named(240, 260, "first", 0x010F)
    assert astray(Walked(raw, "<", [maker], (8,), (), False)) == Astray()


def test_a_long_file_is_looked_through_at_both_ends() -> None:
    size = 2 * SCANNED + 500_000
    for at, found in ((size - 20, True), (SCANNED - 20, True), (SCANNED + 250_000, False)):
        raw = block((40, directory([DATE_ROW])), (at, DATE), size=size, free=b"no date")
        assert (look(raw, [40]) == SHARED) is found
