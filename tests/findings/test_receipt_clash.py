"""Counts on a receipt against each other and against those recorded: plain arithmetic, by hand.

What a note's counts mean follows the trade: cartons stand inside handling units, so that a carton
can be short where every unit arrived; "N of M" names the whole (common practice, no source).
"""

from __future__ import annotations

import pytest

from claimkit.findings.receipt.clash import clashes, missing_by_count
from claimkit.findings.receipt.counts import Count, Recorded
from claimkit.findings.receipt.reading import read


def c(role: str, value: int, of: int | None = None, unit: str = "", *, whole: bool = False):
    return Count(role, value, of, unit, 0, 1, whole)


def told(*found: Count, full: bool = False, stc: bool = False, **recorded: int) -> tuple[str, ...]:
    return clashes(found, full, Recorded(**recorded), said_to_contain=stc)


@pytest.mark.parametrize(
    "found, number",
    [
        ((c("received", 3, 4),), 0),
        ((c("received", 4, 4),), None),
        ((c("received", 5, 4),), None),
        ((c("short", 3, 4),), None),
        ((c("expected", 10), c("received", 9)), 1),
        ((c("expected", 10), c("received", 10)), None),
        ((c("expected", 10, unit="carton"), c("received", 9, unit="carton")), 1),
        # 10 cartons are due, 1 skid came: no shortage by that.
        ((c("expected", 10, unit="carton"), c("received", 1, unit="handling")), None),
        ((c("expected", 10), c("received", 9, unit="carton")), 1),
        ((c("received", 9),), None),
    ],
)
def test_a_shortage_shown_by_a_count(found: tuple[Count, ...], number: int | None) -> None:
    assert missing_by_count(found) == (None if number is None else found[number])


@pytest.mark.parametrize(
    "found, says",
    [
        # A count and what is short of it.
        ((c("received", 3, 4), c("short", 1)), ""),
        ((c("received", 3, 4), c("short", 2)), "received 3 of 4 does not make 2 short"),
        ((c("received", 4, 4), c("short", 1)), "received 4 of 4 does not make 1 short"),
        ((c("received", 3), c("short", 1, 4)), ""),
        ((c("received", 3), c("short", 2, 4)), "received 3 does not make 2 short of 4"),
        ((c("expected", 4), c("received", 3), c("short", 1)), ""),
        (
            (c("expected", 4), c("received", 3), c("short", 2)),
            "received 3 of 4 does not make 2 short",
        ),
        ((c("received", 3), c("short", 1)), ""),  # of how many is not said
        # A carton may be short inside a skid that came; cartons and pieces are counted alike.
        ((c("received", 1, 1, "handling"), c("short", 2, unit="carton")), ""),
        (
            (c("received", 3, 4, "carton"), c("short", 2, unit="piece")),
            "received 3 of 4 does not make 2 short",
        ),
        ((c("received", 3, 4, "carton"), c("short", 1, unit="piece")), ""),
        ((c("received", 1, 1, "handling"), c("short", 2, unit="piece")), ""),
        ((c("named", 3, 4), c("short", 2)), "received 3 of 4 does not make 2 short"),
        # One whole stated twice.
        ((c("received", 6, 6), c("received", 5, 6)), "5 and 6 of 6 received cannot both hold"),
        ((c("received", 6, 6), c("received", 6, 6)), ""),
        ((c("received", 6, 6, "carton"), c("received", 2, 6, "handling")), ""),
        ((c("received", 6, 6), c("received", 5, 8)), ""),
        (
            (c("received", 5, unit="carton"), c("named", 6, unit="carton", whole=True)),
            "5 and 6 received cannot both hold",
        ),
        ((c("received", 6, unit="carton"), c("named", 6, unit="carton", whole=True)), ""),
        ((c("received", 5, unit="carton"), c("named", 2, unit="handling", whole=True)), ""),
        # A total and the list beside it.
        (
            (c("total", 14, whole=True), c("named", 9), c("named", 4)),
            "9 and 4 do not make the total of 14",
        ),
        ((c("total", 13, whole=True), c("named", 9), c("named", 4)), ""),
        ((c("total", 14, whole=True), c("named", 9)), ""),  # one number is no list
        ((c("total", 14), c("named", 9), c("named", 4)), ""),
        (
            (c("total", 14, whole=True), c("named", 9, unit="carton"), c("named", 4)),
            "",
        ),
        # Good and damaged of a total.
        (
            (c("received", 10), c("good", 8), c("bad", 3)),
            "8 good and 3 damaged do not make the 10 received",
        ),
        (
            (c("received", 10), c("good", 6), c("bad", 3)),
            "6 good and 3 damaged do not make the 10 received",
        ),
        ((c("received", 10), c("good", 7), c("bad", 3)), ""),
        ((c("received", 10), c("good", 2), c("good", 3), c("bad", 3)), ""),  # the rest is not said
        (
            (c("received", 10), c("good", 5), c("good", 3), c("bad", 3)),
            "8 good and 3 damaged do not make the 10 received",
        ),
        ((c("received", 10), c("good", 8)), ""),
        ((c("received", 10), c("bad", 3)), ""),
        ((c("received", 1, unit="handling"), c("good", 8, unit="carton"), c("bad", 3)), ""),
        ((c("received", 10), c("good", 8, 9), c("bad", 3)), ""),  # "8 of 9" is a whole of its own
    ],
)
def test_counts_against_each_other(found: tuple[Count, ...], says: str) -> None:
    assert told(*found) == ((says,) if says else ())


RECORDED = {
    "units_expected": 2,
    "units_received": 2,
    "cartons_expected": 10,
    "cartons_received": 9,
}
CARTONS = {"cartons_expected": 10, "cartons_received": 9}
UNITS = {"units_expected": 10, "units_received": 9}


@pytest.mark.parametrize(
    "found, recorded, says",
    [
        ((c("received", 9, unit="carton"),), RECORDED, ""),
        (
            (c("received", 10, unit="carton"),),
            RECORDED,
            "the words say 10 received, and the record has 9 of 10 received",
        ),
        ((c("received", 9, 10, "carton"),), RECORDED, ""),
        (
            (c("received", 9, 11, "carton"),),
            RECORDED,
            "the words say 9 of 11 received, and the record has 9 of 10 received",
        ),
        ((c("received", 2, unit="handling"),), RECORDED, ""),
        (
            (c("received", 1, unit="handling"),),
            RECORDED,
            "the words say 1 received, and the record has 2 of 2 received",
        ),
        ((c("received", 1, unit="handling"),), CARTONS, ""),  # nobody counted units
        ((c("received", 2),), RECORDED, ""),  # either line may be meant
        ((c("received", 9),), RECORDED, ""),
        (
            (c("received", 5),),
            RECORDED,
            "the words say 5 received, and the record has 2 of 2 received",
        ),
        ((c("short", 1, unit="carton"),), CARTONS, ""),
        (
            (c("short", 2, unit="carton"),),
            CARTONS,
            "the words say 2 short, and the record has 9 of 10 received",
        ),
        ((c("expected", 10, unit="carton"),), CARTONS, ""),
        (
            (c("expected", 12, unit="carton"),),
            CARTONS,
            "the words say 12 expected, and the record has 9 of 10 received",
        ),
        ((c("short", 2, unit="carton"),), {"cartons_received": 9}, ""),  # of how many is unknown
        ((c("bad", 5, unit="carton"),), CARTONS, ""),
        # Cartons are held against units only where units were counted like cartons.
        (
            (c("received", 8, unit="carton"),),
            UNITS,
            "the words say 8 received, and the record has 9 of 10 received",
        ),
        ((c("received", 8, unit="carton"),), {"units_expected": 1, "units_received": 1}, ""),
        # More in good order than came.
        (
            (c("good", 10, unit="carton"),),
            CARTONS,
            "the words say 10 in good order, and the record has 9 of 10 received",
        ),
        ((c("good", 9, unit="carton"),), CARTONS, ""),
        ((c("good", 10, 10, "carton"),), CARTONS, ""),
    ],
)
def test_counts_against_the_record(
    found: tuple[Count, ...], recorded: dict[str, int], says: str
) -> None:
    assert told(*found, **recorded) == ((says,) if says else ())


def test_said_to_contain_keeps_cartons_apart_from_units() -> None:
    eight = c("received", 8, unit="carton")
    assert told(eight, **UNITS)
    assert told(eight, stc=True, **UNITS) == ()
    # The note names skids of its own: the recorded units are those.
    assert told(eight, c("received", 9, unit="handling"), **UNITS) == ()


FULL = "the words state a full count, and the record counts fewer than expected"


@pytest.mark.parametrize(
    "found, recorded, says",
    [
        ((), CARTONS, (FULL,)),
        ((), UNITS, (FULL,)),
        ((), {"cartons_expected": 9, "cartons_received": 9}, ()),
        ((), {"cartons_expected": 9, "cartons_received": 10}, ()),
        ((), {"cartons_received": 9}, ()),
        ((c("received", 9, unit="handling"),), UNITS, (FULL,)),
        # Units came as counted; that a carton is short inside is no contradiction.
        ((c("received", 2, unit="handling"),), RECORDED, ()),
        (
            (c("received", 3, 4),),
            {},
            ("the words state a full count, and 3 received of 4",),
        ),
        (
            (c("expected", 4), c("received", 3)),
            {},
            ("the words state a full count, and 3 received of more",),
        ),
    ],
)
def test_a_full_count_against_the_counts(
    found: tuple[Count, ...], recorded: dict[str, int], says: tuple[str, ...]
) -> None:
    assert told(*found, full=True, **recorded) == says
    assert FULL not in told(*found, **recorded)


@pytest.mark.parametrize(
    "other, clash",
    [
        # "2 plts / 9 cs", nine cartons recorded: the bare 2 is the pallets' number.
        (c("received", 9, unit="carton"), False),
        (c("received", 8, unit="carton"), True),
    ],
)
def test_a_number_of_the_unit_that_nobody_recorded_is_left(other: Count, clash: bool) -> None:
    found = told(c("received", 2, unit="handling"), other, **CARTONS)
    assert bool(found) is clash
    pallets = told(c("received", 12, unit="carton"), c("received", 9, unit="handling"), **UNITS)
    assert pallets == ()


# What each note counts, as a person reads it: role, number, of how many, unit.
NOTES: list[tuple[str, list[tuple[str, int, int | None, str]]]] = [
    ("rec'd 3 of 4 ctns", [("received", 3, 4, "carton")]),
    ("recd 4 of the 6 ctns", [("received", 4, 6, "carton")]),
    ("recd 4 out of 6", [("received", 4, 6, "")]),
    ("received all 4", [("received", 4, None, "")]),
    ("got only 2/3 skids", [("received", 2, 3, "handling")]),
    ("count 12 pcs", [("received", 12, None, "piece")]),
    ("short 2 ctns", [("short", 2, None, "carton")]),
    ("short 1 of 4 ctns", [("short", 1, 4, "carton")]),
    ("missing 1 of 6", [("short", 1, 6, "")]),
    ("4 pcs missing", [("short", 4, None, "piece")]),
    ("1 ctn not recd", [("short", 1, None, "carton")]),
    ("3 of 4 wet", [("bad", 3, 4, "")]),
    ("two of three boxes wet", [("bad", 2, 3, "carton")]),
    ("5/6 pcs ok", [("good", 5, 6, "piece")]),
    ("BOL 10, got 9 ctns", [("expected", 10, None, ""), ("received", 9, None, "carton")]),
    ("on order 5 ctns", [("expected", 5, None, "carton")]),
    # The order of "good order" is none that goods are due by.
    (
        "4 ctns good order 1 ctn crushed",
        [("good", 4, None, "carton"), ("bad", 1, None, "carton")],
    ),
    ("3 good order 2 wet", [("good", 3, None, ""), ("bad", 2, None, "")]),
    (
        "rec'd 10 ctns, 8 good 2 damaged",
        [("received", 10, None, "carton"), ("good", 8, None, ""), ("bad", 2, None, "")],
    ),
    # A label, a page, a date and a truck are no counts of goods.
    ("ctn 3 of 4 wet", []),
    ("ctn 3/14 dented", []),
    ("page 1 of 2", []),
    ("truck 2 of 3", []),
]


@pytest.mark.parametrize("words, counted", NOTES)
def test_what_a_note_counts(words: str, counted: list[tuple[str, int, int | None, str]]) -> None:
    found = read(words, Recorded()).counts
    assert [(one.role, one.value, one.of, one.unit) for one in found] == counted


def test_the_rest_in_good_order_contradicts_no_record() -> None:
    five = Recorded(cartons_expected=5, cartons_received=5)
    assert read("4 ctns good order 1 ctn crushed on corner", five).clash == ()
    assert read("BOL says 4, 1 ctn crushed on corner", five).clash != ()
