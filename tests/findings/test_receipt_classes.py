"""Notes of six classes that were misread, each with neighbours that must keep their grade.

The grades are claimkit's own convention, docs/methods.md, "Grades of a receipt": print states
nothing and what follows it counts; good order beside an exception contradicts; counts that clash
contradict; a kind alone is too vague; a refusal that says what and why is specific. Invented notes.
"""

from __future__ import annotations

import time

import pytest

from claimkit.findings.receipt.grade import grade
from claimkit.model.receipt import Grade

SPECIFIC, CLASH, VAGUE = Grade.SPECIFIC, Grade.CONTRADICTORY, Grade.TOO_VAGUE
CLEAR, NOTHING, RESERVED = Grade.CLEAR, Grade.NOT_STATED, Grade.RESERVATION_ONLY


@pytest.mark.parametrize(
    "words, expected",
    [
        ("Received in good condition except as noted: 2 ctns crushed on corner", SPECIFIC),
        ("Undersigned agrees to good order except as follows: skid 2 leaning", SPECIFIC),
        ("Goods in good order unless an exception is noted here >> box 3 punctured", SPECIFIC),
        ("Consignee acknowledges good order, exceptions: vanity top cracked", SPECIFIC),
        ("Delivered complete except as stated hereon. Short 1 ctn", SPECIFIC),
        ("No damage unless noted / NOTED: pallet 3 crushed one side", SPECIFIC),
        ("Except as noted below, freight was received in good order. 1 ctn wet", SPECIFIC),
        ("Exceptions (if any): 2 bags torn", SPECIFIC),
        ("In apparent good order, exceptions as follows: 4 bags wet on bottom tier", SPECIFIC),
        ("In good order except as noted. Noted: subject to further inspection", RESERVED),
        ("Received in good order except as noted: DAMAGED", VAGUE),
        ("Exceptions, if any: NONE", CLEAR),
        ("Shortage / damage exceptions: none", CLEAR),
        ("Good condition unless noted below: all ok", CLEAR),
        ("Consignee certifies good condition unless exceptions are listed below", NOTHING),
        ("No exceptions unless noted below. J. Dorn", NOTHING),
        ("Please list exceptions below", NOTHING),
        ("Exceptions (if any): none. Box 2 wet", CLASH),
        # What is written before the print, or with no print at all, keeps its grade.
        ("ctn 4 crushed, all else in good order except as noted", SPECIFIC),
        ("good order except for 1 wet box", SPECIFIC),
        ("Customer agrees ctn 2 is crushed on one corner", SPECIFIC),
        ("in good order, no exceptions noted, box 4 crushed on corner", CLASH),
        ("no scratches - received in apparent good order except as noted", CLEAR),
        ("crushed in spots, received in apparent good order except as noted", VAGUE),
        ("received in good order", CLEAR),
    ],
)
def test_print_states_nothing_and_what_follows_it_counts(words: str, expected: Grade) -> None:
    assert grade(words).grade is expected


@pytest.mark.parametrize(
    "words, expected",
    [
        ("arrived in faultless condition", CLEAR),
        ("goods impeccable", CLEAR),
        ("not so much as a scratch", CLEAR),
        ("as new", CLEAR),
        ("couldn't fault it. sofa leg snapped", CLASH),
        ("first class condition. 2 boxes crushed", CLASH),
        ("Everything faultless, ctn 3 torn open", CLASH),
        ("other 3 immaculate, this one has a cracked lid", SPECIFIC),
        ("far from flawless", VAGUE),
        ("nowhere near immaculate", VAGUE),
        ("hardly in pristine condition", VAGUE),
        ("as new address", NOTHING),
        ("Attn Greta", NOTHING),
    ],
)
def test_praise_is_good_order(words: str, expected: Grade) -> None:
    assert grade(words).grade is expected


@pytest.mark.parametrize(
    "words, expected, counts",
    # counts are handling units expected and received, as recorded
    [
        ("20 pcs shipped 20 pcs received, 4 pcs not delivered", CLASH, None),
        ("20 pcs shipped 16 pcs received, 4 pcs not delivered", SPECIFIC, None),
        ("shipped 8 ctns, received 7 ctns", SPECIFIC, None),
        ("shipped 8 ctns, received 8 ctns", CLEAR, None),
        ("20 pieces rec'd of 20, 3 pieces not delivered", CLASH, None),
        ("2 ctns not shipped", SPECIFIC, None),
        ("overage none, short 1 ctn", SPECIFIC, None),
        ("no shortage, short 1 ctn", CLASH, None),
        ("over 0 short 3 damaged 0", SPECIFIC, None),
        ("over: 0 short: 0 damaged: 0", CLEAR, None),
        ("lost 1 ctn from 8", SPECIFIC, (8, 7)),
        ("lost 2 ctns from 8", CLASH, (8, 7)),
        ("short 1 from 9", CLASH, (8, 7)),
        ("PO 88213 / job 14 of 20", NOTHING, None),
        ("invoice 2 of 2", NOTHING, None),
        ("stop 3 of 9", NOTHING, (9, 9)),
        ("job 14 of 20, 6 of 6 recd", CLEAR, (6, 6)),
        ("load 2 of 3, rec'd 3 of 4 ctns", SPECIFIC, None),
    ],
)
def test_counts_clash_only_with_counts(
    words: str, expected: Grade, counts: tuple[int, int] | None
) -> None:
    due, got = counts or (None, None)
    assert grade(words, units_expected=due, units_received=got).grade is expected


@pytest.mark.parametrize(
    "words, expected",
    [
        ("checked for broken glass and there isn't any", CLEAR),
        ("checked for broken glass and there isnt any", CLEAR),
        ("looked for dents, found none", CLEAR),
        ("inspected for damage, nothing to report", CLEAR),
        ("examined for crushed corners; there are none", CLEAR),
        ("any scratches? couldn't find any", CLEAR),
        ("dents: I see none", CLEAR),
        ("checked for broken glass and there is some in crate 2", SPECIFIC),
        ("checked for damage, ctn 2 crushed, found none of the rest wet", SPECIFIC),
        ("corner of ctn 2 crushed and there isnt any foam inside", SPECIFIC),
        ("ctn 2 crushed, asked about packing, there isn't any", SPECIFIC),
        ("searched for 2 missing ctns, found none", SPECIFIC),
        ("ctn 5 wet. checked for more, found none", SPECIFIC),
    ],
)
def test_what_was_looked_for_and_not_found_is_denied(words: str, expected: Grade) -> None:
    assert grade(words).grade is expected


@pytest.mark.parametrize(
    "words, expected",
    [
        ("shtg", VAGUE),
        ("O.S.&D.", VAGUE),
        ("shtg 2 ctns", SPECIFIC),
        ("no shtg no dmg", CLEAR),
        ("subject too further inspecton, dont have tools to open crate", RESERVED),
        ("Number four carton of seven has a pallet nail trough it", SPECIFIC),
        ("fork throught carton 3", SPECIFIC),
        ("feed trough, 2 pcs", NOTHING),
        ("took carton 3 through the hallway", NOTHING),
    ],
)
def test_short_forms_and_slips(words: str, expected: Grade) -> None:
    assert grade(words).grade is expected


@pytest.mark.parametrize(
    "words, expected",
    [
        ("Refused 2 wall cabs. we ordered white shaker, these are grey", SPECIFIC),
        ("refused 3 doors - should be left hand, these are right hand", SPECIFIC),
        ("refused 2 stools: black instead of white", SPECIFIC),
        ("Refused 1 skid, belongs to another customer", SPECIFIC),
        ("Refused. We ordered white, these are grey", VAGUE),
        ("refused 2 wall cabs", VAGUE),
        ("refused 2 ctns. ordered lunch", VAGUE),
        ("we ordered white last time", NOTHING),
    ],
)
def test_a_refusal_that_says_what_and_why_is_specific(words: str, expected: Grade) -> None:
    assert grade(words).grade is expected


@pytest.mark.parametrize("words", ["received in good order except as noted, ", "found none, "])
def test_a_long_note_of_print_takes_no_square_of_its_length(words: str) -> None:
    def seconds(times: int) -> float:
        begun = time.perf_counter()
        grade(words * times)
        return time.perf_counter() - begun

    # Eight times the words; a square would take 64 times as long.
    short = max(0.005, min(seconds(200) for _ in range(3)))
    assert min(seconds(1600) for _ in range(2)) < 40 * short
