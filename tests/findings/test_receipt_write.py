"""The words to add: made from what is recorded, blanks for the rest, and themselves well graded."""

from __future__ import annotations

import re
from itertools import product

import pytest

from claimkit.findings.receipt.counts import Recorded
from claimkit.findings.receipt.grade import grade, grade_at
from claimkit.findings.receipt.write import HANDHELD, AtTheCurb, Found
from claimkit.model.receipt import Grade, Reservation
from tests.findings.receipt_notes import every_note

CRUSHED = Found("Wall panel", "crushed", "lower left corner", "4 in")
CRACKED = Found("Floor tray", "cracked", None, None)
SHORT = Recorded(units_expected=4, units_received=3)


@pytest.mark.parametrize("words", ["", "all good", "damaged", "STI", "box looks bad", None])
def test_recorded_damage_written_out_grades_specific_and_reserved(words: str | None) -> None:
    curb = AtTheCurb(SHORT, "skid", inspected=False, why_not="dark", found=(CRUSHED,))
    reading = grade_at(words, curb)
    again = grade(reading.write_long, units_expected=4, units_received=3)
    assert again.grade is Grade.SPECIFIC
    assert again.reservation is Reservation.FULL
    brief = grade(reading.write_short, units_expected=4, units_received=3)
    assert brief.grade is Grade.SPECIFIC


@pytest.mark.parametrize("part", ["lower left corner", "top edge", "right side"])
@pytest.mark.parametrize(
    "what", ["crushed", "cracked", "chipped", "bowed", "wet", "torn", "dented"]
)
def test_every_kind_written_out_is_read_back(what: str, part: str) -> None:
    curb = AtTheCurb(found=(Found("Glass panel", what, part, "3 in"),))
    reading = grade_at("", curb)
    assert what in reading.write_long
    assert part in reading.write_long
    assert grade(reading.write_long).grade is Grade.SPECIFIC
    assert grade(reading.write_short).grade is Grade.SPECIFIC


def test_a_missing_fact_is_a_blank() -> None:
    reading = grade_at("", AtTheCurb(found=(CRACKED,)))
    assert "where on it ___ cracked, size ___" in reading.write_long
    unknown = grade("damaged")
    assert unknown.write_long.count("___") >= 4
    why = grade_at("", AtTheCurb(inspected=False))
    assert "Unable to inspect: ___." in why.write_long


def test_nothing_is_added_where_nothing_is_missing() -> None:
    whole = AtTheCurb(Recorded(1, 1, 4, 4), inspected=True)
    assert grade_at("all good", whole).write_long == ""
    said = "3 of 4 skids rec'd, short 1. Subject to further inspection."
    assert grade_at(said, AtTheCurb(SHORT, inspected=False)).write_long == ""
    stated = "wall panel crushed on lower left corner"
    assert grade_at(stated, AtTheCurb(inspected=True, found=(CRUSHED,))).write_long == ""


def test_a_short_count_is_added_to_a_clear_receipt() -> None:
    reading = grade_at("all good", AtTheCurb(SHORT, "skid", inspected=True))
    assert "Received 3 of 4 skids; 1 skid short." in reading.write_long
    assert reading.write_short == "Rcvd 3 of 4 skids, short 1"


def test_a_contradiction_is_taken_back_in_its_own_words() -> None:
    reading = grade("All in good order. Box 2 crushed on top.")
    assert "“All in good order” is withdrawn" in reading.write_long or (
        "“good order” is withdrawn" in reading.write_long
    )
    assert "“Box 2 crushed" in reading.write_long


def test_an_uninspected_load_is_reserved_with_further() -> None:
    curb = AtTheCurb(inspected=False, why_not="driver would not wait")
    reading = grade_at("", curb)
    assert "Unable to inspect: driver would not wait. Subject to further inspection." in (
        reading.write_long
    )
    assert grade(reading.write_short).reservation is Reservation.FULL


def test_the_handheld_line_is_short_for_any_note() -> None:
    founds = ((), (CRUSHED,), (CRUSHED, CRACKED), (Found("X" * 80, "dented", "y" * 40, "9 in"),))
    for found, inspected in product(founds, (True, False, None)):
        for note, _ in every_note()[::15]:
            curb = AtTheCurb(SHORT, "crate", inspected, None, found)
            assert len(grade_at(note.text, curb).write_short) <= HANDHELD


def test_no_number_is_made_up() -> None:
    """Every number written stands in the note, in the counts, or in a recorded damage."""
    for note, reading in every_note():
        given = set(re.findall(r"\d+", note.text))
        counts = {note.expected, note.received}
        if note.expected is not None and note.received is not None:
            counts |= {note.expected - note.received, note.received - note.expected}
        allowed = given | {str(n) for n in counts if n is not None}
        written = set(re.findall(r"\d+", reading.write_long + reading.write_short))
        assert written <= allowed, note.text
