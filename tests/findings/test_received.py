"""Ordered against received: sizes exact, words as words, counts added up, nothing passed over."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from claimkit.findings.timeline.likeness import division_of, same_condition, same_size, same_words
from claimkit.model.answers import Answer
from claimkit.model.case import Difference
from claimkit.model.job import Item
from claimkit.model.quantities import Length
from claimkit.model.records import CountedItem, Record
from tests.build import facts, inches, job, mm, shipment
from tests.findings.work_build import counted, delivery, staged, unpacking

YES, NO, CANNOT = Answer.YES, Answer.NO, Answer.CANNOT_TELL


@pytest.mark.parametrize(
    "ordered, found, tolerance, same",
    [
        # With a tolerance: up to and including it. 1 in = 25.4 mm exactly.
        (mm(900), mm(902), mm(2), YES),
        (mm(900), mm("902.001"), mm(2), NO),
        (inches("36"), inches("35 7/8"), inches("1/8"), YES),
        (inches("36"), inches("35 27/32"), inches("1/8"), NO),
        (inches("35 7/16"), mm("900.1125"), mm(0), YES),  # the same length, exactly
        (inches("35 7/16"), mm("900.11"), mm(0), NO),
        # Without one: equal figures only; one division of the tape cannot be told.
        (mm(900), mm(900), None, YES),
        (mm(900), mm(901), None, CANNOT),
        (mm(900), mm(902), None, NO),
        (inches("36"), inches("35 7/8"), None, CANNOT),
        (inches("36"), inches("35 3/4"), None, CANNOT),  # written in quarters: one division
        (inches("36"), inches("35 5/8"), None, NO),
    ],
)
def test_one_length(ordered: Length, found: Length, tolerance: Length | None, same: Answer) -> None:
    assert same_size((ordered,), (found,), tolerance)[0] is same


@pytest.mark.parametrize(
    "found, same, words",
    [
        ((mm(900), mm(2100)), YES, "900 mm × 2100 mm"),
        ((mm(900), mm(2110)), NO, "2110"),
        ((mm(2100), mm(900)), CANNOT, "another order"),
        ((mm(900),), CANNOT, "2 dimensions ordered"),
        ((), CANNOT, ""),
    ],
)
def test_a_size_of_two(found: tuple[Length, ...], same: Answer, words: str) -> None:
    answer, text = same_size((mm(900), mm(2100)), found, mm(2))
    assert answer is same
    assert words in text


def test_a_missing_tolerance_is_said() -> None:
    assert "no size tolerance" in same_size((mm(900),), (mm(905),), None)[1]


@pytest.mark.parametrize(
    "length, division",
    [
        (mm(900), Fraction(1)),
        (mm("900.5"), Fraction(1, 10)),
        (inches("35 7/8"), Fraction("25.4") / 8),
        (inches("3/16"), Fraction("25.4") / 16),
        (inches("36"), Fraction("25.4")),
        (Length(Fraction("4.826"), "0.19 in"), Fraction("0.254")),
        (Length(Fraction("28.575"), '1 1/8"'), Fraction("25.4") / 8),
        (Length(Fraction("28.575"), "1-1/8 in"), Fraction("25.4") / 8),
        (Length(Fraction(0), "0 mm"), Fraction(0)),
        (Length(Fraction(5), "about a hand"), Fraction(0)),
    ],
)
def test_one_division_as_written(length: Length, division: Fraction) -> None:
    assert division_of(length) == division


@given(
    st.integers(1, 5000),
    st.integers(1, 5000),
    st.integers(0, 200),
)
def test_a_wider_tolerance_never_turns_yes_into_no(a: int, b: int, tolerance: int) -> None:
    """Against plain integers of a tenth of a millimetre, and in both directions."""
    ordered, found = (mm(str(Fraction(n, 10))) for n in (a, b))
    narrow = same_size((ordered,), (found,), mm(str(Fraction(tolerance, 10))))[0]
    assert narrow is (YES if abs(a - b) <= tolerance else NO)
    assert same_size((found,), (ordered,), mm(str(Fraction(tolerance, 10))))[0] is narrow


@pytest.mark.parametrize(
    "ordered, found, same",
    [
        ("left", "Left", YES),
        ("left", "LH", YES),
        ("left hand", "L", YES),
        ("left", "right", NO),
        ("left", None, CANNOT),
        ("left", "not checked", CANNOT),
        ("left", "left, seen from outside", CANNOT),  # says more
        ("matt white", "white", CANNOT),  # says less
        ("left", "not left", CANNOT),  # a negation is never a yes
        ("grey", "gray", YES),
        ("centre", "center", YES),
        ("rear left", "left rear", YES),
        ("white", "black", NO),
        ("RAL 9010", "RAL 9016", NO),
        ("12 in from left", "14 in from left", NO),
    ],
)
def test_words(ordered: str, found: str | None, same: Answer) -> None:
    """Common practice, no source: how people write a hand or a colour."""
    assert same_words(ordered, found) is same


@pytest.mark.parametrize(
    "found, same",
    [
        ("good", YES),
        ("Good.", YES),
        ("undamaged", YES),
        ("not damaged", YES),
        ("good except one corner", NO),
        ("not good", NO),
        ("damaged", NO),
        ("not undamaged", NO),
        ("corner chipped", NO),
        (None, CANNOT),
        ("unknown", CANNOT),
        ("?", CANNOT),
        ("", CANNOT),
    ],
)
def test_condition(found: str | None, same: Answer) -> None:
    assert same_condition(found) is same


def differences(*records: Record, items: tuple[Item, ...] | None = None, **of_job: Any):
    chosen = {"item": items} if items else {}
    built = facts(job_=job(**chosen, **of_job), records=records)
    return staged(built=built).differences


def row(found: tuple[Difference, ...], item: str, what: str) -> Difference:
    (one,) = [d for d in found if (d.item, d.what) == (item, what)]
    return one


def test_what_nobody_checked_is_listed() -> None:
    items = (Item(id="panel", description="x", size=(mm(900),), hand="left", colour="white"),)
    found = differences(items=items)
    assert {(d.what, d.same) for d in found} == {
        ("quantity", CANNOT),
        ("size", CANNOT),
        ("hand", CANNOT),
        ("colour", CANNOT),
    }
    assert all(d.found == "not recorded" and d.sources for d in found)


@pytest.mark.parametrize(
    "quantities, same, short, text",
    [
        ((3,), YES, 0, "3"),
        ((2,), NO, 1, "2"),
        ((4,), NO, 0, "4"),
        ((2, 1), YES, 0, "3 (2 + 1)"),  # two records in force add up
        ((2, None), CANNOT, 0, "2 + not recorded"),
        ((0,), NO, 3, "0"),
    ],
)
def test_counts(quantities: tuple[int | None, ...], same: Answer, short: int, text: str) -> None:
    records = [
        unpacking(counted("panel", quantity=q), record_id=f"u{n}") for n, q in enumerate(quantities)
    ]
    items = (Item(id="panel", description="x", quantity=3),)
    found = row(differences(*records, items=items), "panel", "quantity")
    assert (found.same, found.short, found.found) == (same, short, text)


def test_what_is_not_on_the_order_is_told() -> None:
    found = row(differences(unpacking(counted("mirror"))), "mirror", "quantity")
    assert (found.ordered, found.same) == ("not on the order", NO)


def test_an_item_of_another_shipment_is_compared_and_not_counted() -> None:
    """A replacement panel in a second shipment, with the wrong hand."""
    items = (Item(id="panel", description="x", shipment="main", hand="left"),)
    second = unpacking(counted("panel", hand="right"), shipment="second", record_id="u2")
    first = unpacking(counted("panel", hand="left"), shipment="main", record_id="u1")
    found = differences(
        first, second, items=items, shipment=(shipment(), shipment(id="second")), seam=()
    )
    hands = {d.shipment: d.same for d in found if d.what == "hand"}
    assert hands == {"main": YES, "second": NO}
    quantities = {(d.shipment, d.same) for d in found if d.what == "quantity"}
    assert quantities == {("main", YES), ("second", CANNOT)}


def test_an_accessory_is_counted_and_its_condition_not_asked_for() -> None:
    items = (Item(id="screws", description="x", quantity=12, accessory=True),)
    found = differences(unpacking(CountedItem(item="screws", quantity=12)), items=items)
    assert [(d.what, d.same) for d in found if d.item == "screws"] == [("quantity", YES)]


@pytest.mark.parametrize(
    "received, same, short",
    [(1, YES, 0), (0, NO, 1), (2, NO, 0), (None, CANNOT, 0)],
)
def test_handling_units(received: int | None, same: Answer, short: int) -> None:
    found = row(
        differences(delivery(units_received=received)), "handling units (skid)", "handling units"
    )
    assert (found.same, found.short) == (same, short)


def test_two_trucks_of_one_shipment_add_up() -> None:
    halves = [delivery(f"d{n}", cartons_received=2, units_expected=None) for n in range(2)]
    assert row(differences(*halves), "cartons", "cartons").same is YES


def test_without_a_number_on_the_bill_the_receipt_counts() -> None:
    (bill,) = (shipment(handling_units=None, cartons=None),)
    found = differences(delivery(cartons_received=3), shipment=(bill,))
    assert row(found, "cartons", "cartons").ordered == "4"


def test_a_replaced_unpacking_decides_nothing() -> None:
    old = replace(unpacking(counted("panel", quantity=0), record_id="u1"), replaced_by="u2")
    found = differences(old, unpacking(counted("panel"), record_id="u2"))
    assert row(found, "panel", "quantity").same is YES
