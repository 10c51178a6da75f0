"""The words for the carrier's copy, held against claimkit's grader and the trade's own example."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from claimkit.compose.sheets.receiving_words import (
    AtTheCurb,
    Counts,
    Form,
    Name,
    Names,
    Seen,
    words,
)
from claimkit.findings.receipt.grade import grade
from claimkit.model.receipt import Grade, Reservation
from claimkit.rules.receiving import (
    KINDS,
    PHRASES,
    REASONS,
    SITUATIONS,
    SIZES,
    WHERES,
    WHICH,
    Choice,
    plural,
)
from claimkit.rules.receiving_steps import (
    AFTER,
    ANDROID,
    ANY_PHONE,
    IPHONE,
    LOOK,
    RECEIPT_SHOTS,
    SAFETY,
    SHOTS,
    UNPACKING,
)

NAMES = Names(
    Name("skid", "skids", "SKID", "SKIDS", "tarima", "tarimas"),
    items={
        "panel": (Name("Wall panel", "", "WALL PANEL", "", "Wall panel", ""), 6),
        "tray": (Name("Floor tray, white", "", "FLOOR TRAY", "", "Floor tray, white", ""), 1),
    },
)
UNITS, CARTONS = Counts(2, 2), Counts(4, 4)
WHOLE = AtTheCurb(UNITS, CARTONS, inspected="outside")
FORMS: tuple[Form, ...] = ("long", "short")


def graded(curb: AtTheCurb, form: Form) -> tuple[Grade, Reservation]:
    """Grade what is composed, beside the counts that the record would have."""
    reading = grade(
        words(curb, NAMES, form),
        units_expected=curb.units.expected,
        units_received=curb.units.received,
        cartons_expected=curb.cartons.expected,
        cartons_received=curb.cartons.received,
    )
    return reading.grade, reading.reservation


def test_the_form_of_a_good_exception() -> None:
    """Practice: how many, which, where on it, kind and extent; then the reservation."""
    curb = replace(WHOLE, seen=(Seen("carton", "crushed", (2,), 1, "lower-left", "4in"),))
    assert words(curb, NAMES, "long") == (
        "Carton 2 of 4: lower left corner crushed, 4 in. Received 2 of 2 skids, 4 of 4 cartons. "
        "Outside only inspected; contents subject to further inspection."
    )
    assert words(curb, NAMES, "short") == (
        "CTN 2/4 LOWER LEFT CORNER CRUSHED 4IN. CONTENTS SUBJ TO FURTHER INSP."
    )
    assert words(curb, NAMES, "es").startswith("Caja 2 de 4: esquina inferior izquierda, aplastado")


# Which pieces, in the words of the receipt: units and cartons are numbered, items are counted.
@pytest.mark.parametrize(
    "seen, said",
    [
        (Seen("carton", "wet", (2,)), "Carton 2 of 4: wet."),
        (Seen("carton", "wet", (3, 1)), "2 cartons (1 and 3): wet."),
        (Seen("carton", "wet", (1, 2, 3, 4)), "All 4 cartons: wet."),
        (Seen("carton", "wet", (), 3), "3 of 4 cartons: wet."),
        (Seen("unit", "wet", (1,)), "Skid 1 of 2: wet."),
        (Seen("panel", "wet", (), 2), "Wall panel, 2 pcs: wet."),
        (Seen("tray", "wet"), "Floor tray, white: wet."),
        (Seen("carton", "wet", (2,), refused=True), "Refused carton 2 of 4: wet."),
        (Seen("carton", "warped {which}", (2,)), "Carton 2 of 4: warped {which}."),
    ],
)
def test_which_pieces(seen: Seen, said: str) -> None:
    assert words(replace(WHOLE, seen=(seen,)), NAMES, "long").startswith(said)


def test_one_unit_alone_needs_no_number() -> None:
    curb = AtTheCurb(Counts(1, 1), wrap_broken=(1,), inspected="outside")
    assert words(curb, NAMES, "long").startswith("Stretch wrap or seal broken on skid 1 of 1.")


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.id)
def test_every_damage_that_can_be_picked_is_a_specific_exception(kind: Choice, form: Form) -> None:
    """All kinds on all places, with a seeded choice of pieces, sizes and refusals."""
    chance = random.Random(f"{kind.id} {form}")
    pieces = (("unit", (1,)), ("unit", (1, 2)), ("carton", (2,)), ("carton", (1, 3)), ("tray", ()))
    sizes = [None, *(choice.id for choices in SIZES.values() for choice in choices)]
    for where in (None, *(choice.id for choice in WHERES)):
        on, numbers = chance.choice(pieces)
        seen = Seen(on, kind.id, numbers, 1, where, chance.choice(sizes), chance.random() < 0.3)
        curb = replace(WHOLE, seen=(seen,))
        assert graded(curb, form)[0] is Grade.SPECIFIC, words(curb, NAMES, form)


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("units", [(1,), (1, 2)])
@pytest.mark.parametrize("what", ["wrap_broken", "tilt", "shock"])
def test_wrap_and_indicators_on_a_named_unit_are_specific(
    what: str, units: tuple[int, ...], form: Form
) -> None:
    assert graded(replace(WHOLE, **{what: units}), form)[0] is Grade.SPECIFIC


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("reason", [choice.id for choice in REASONS] + ["nobody had a light"])
def test_what_could_not_be_inspected_is_a_full_reservation(reason: str, form: Form) -> None:
    curb = AtTheCurb(UNITS, CARTONS, inspected="no", because=reason)
    assert graded(curb, form) == (Grade.RESERVATION_ONLY, Reservation.FULL)


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("inspected", ["outside", None])
def test_a_clean_outside_reserves_the_contents(inspected: str | None, form: Form) -> None:
    curb = replace(WHOLE, inspected=inspected)
    assert graded(curb, form) == (Grade.RESERVATION_ONLY, Reservation.FULL)


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize(
    "units, cartons",
    [((2, 1), (4, 4)), ((2, 2), (4, 3)), ((2, 1), (4, 2)), ((1, 0), (4, 0)), ((2, 2), (4, 5))],
)
def test_counts_that_differ_are_specific_and_no_contradiction(
    units: tuple[int, int], cartons: tuple[int, int], form: Form
) -> None:
    curb = AtTheCurb(Counts(*units), Counts(*cartons), inspected="outside")
    assert graded(curb, form)[0] is Grade.SPECIFIC, words(curb, NAMES, form)


def test_an_opened_delivery_with_nothing_wrong_says_no_more_than_that() -> None:
    """It is an honest clear receipt: the words do not pretend to reserve what was looked at."""
    curb = AtTheCurb(UNITS, CARTONS, inspected="opened")
    assert graded(curb, "long") == (Grade.CLEAR, Reservation.NONE)


def test_the_situations_of_the_sheet_amount_to_what_they_say() -> None:
    seen = (Seen("carton", "crushed", (1,), 1, "top", "2in"),)
    filled = {
        "damage": replace(WHOLE, seen=seen, inspected="opened"),
        "short": replace(WHOLE, cartons=Counts(4, 3), inspected="opened"),
        "outside": WHOLE,
        "not-inspected": replace(WHOLE, inspected="no", because="dark"),
        "wrap": replace(WHOLE, wrap_broken=(1,), inspected="opened"),
        "indicator": replace(WHOLE, tilt=(2,), inspected="opened"),
        "refused": replace(WHOLE, seen=(replace(seen[0], refused=True),), inspected="opened"),
    }
    assert set(filled) == {situation.id for situation in SITUATIONS}
    for situation in SITUATIONS:
        for form in FORMS:
            assert graded(filled[situation.id], form)[0].value == situation.grade, situation.id


@pytest.mark.parametrize(
    "noun, many",
    [("skid", "skids"), ("box", "boxes"), ("crate", "crates"), ("body", "bodies"), ("day", "days")],
)
def test_plural(noun: str, many: str) -> None:
    assert plural(noun) == many


def test_every_row_has_both_languages_and_a_source() -> None:
    rows = (*SAFETY, *SHOTS, *RECEIPT_SHOTS, *LOOK, *UNPACKING, *ANY_PHONE, *IPHONE, *ANDROID)
    for row in (*rows, *AFTER):
        assert row.text.en.strip()
        assert row.text.es.strip()
        assert row.text.en != row.text.es
        assert row.citation.strip()
        assert row.mark in ("S", "P", "M")
    for phrase in (*PHRASES.values(), *WHICH.values()):
        assert phrase.citation.strip()
        assert phrase.es.strip()


def test_safety_comes_from_the_carrier_and_the_site_first() -> None:
    """What the issue asks for by name: rules first, tailgate, team lift, straps, glass."""
    assert [row.id for row in SAFETY] == ["rules-first", "tailgate", "team-lift", "straps", "glass"]
