"""What was refused is no shortage, and an article on a skid is no skid.

The rule is law.md's, section 2: a refusal that says what and why is specific; and arithmetic:
received and refused together are what was expected, in like units (a panel is no skid).
"""

from __future__ import annotations

import re
from typing import Any

import pytest

from claimkit.findings.receipt.counts import Recorded
from claimkit.findings.receipt.grade import grade_at
from claimkit.findings.receipt.refusal import refused_units
from claimkit.findings.receipt.write import AtTheCurb
from claimkit.model.answers import Answer
from claimkit.model.case import Case
from claimkit.model.receipt import Grade
from claimkit.model.records import CountedItem, FoundAt, Record, Unpacking, Wrap
from tests.build import case, facts, moment, record
from tests.findings.office_build import PANEL, TRAY, a_job, damage, delivery, with_item

ONE_SKID = AtTheCurb(Recorded(1, 1, 3, None, "skid"), "skid", inspected=True)
CRATES = Recorded(2, 1, None, None, "crate")


@pytest.mark.parametrize(
    "words",
    [
        "2 panels good, 1 panel refused: corner crushed 6 in",
        "Refused 1 panel, corner crushed 6 in; accepted 2 panels",
        "3 panels: 2 good, 1 refused, corner crushed",
        "received 2 doors, refused 1 door, edge chipped",
        "2 tubs in good order, 1 tub cracked, refused",
    ],
)
def test_articles_are_not_counted_against_skids(words: str) -> None:
    reading = grade_at(words, ONE_SKID)
    assert reading.grade is Grade.SPECIFIC
    assert reading.write_long == ""


@pytest.mark.parametrize("words", ["2 skids received", "2 plts in good order"])
def test_skids_are_counted_against_skids(words: str) -> None:
    assert grade_at(words, ONE_SKID).grade is Grade.CONTRADICTORY


def test_cartons_are_the_units_where_the_record_counts_cartons_as_units() -> None:
    counted = Recorded(3, 3, None, None, "carton")
    words = "2 ctns received"
    assert grade_at(words, AtTheCurb(counted, "carton")).grade is Grade.CONTRADICTORY
    on_skids = AtTheCurb(Recorded(3, 3, None, None, "skid"), "skid")
    assert grade_at(words, on_skids).grade is not Grade.CONTRADICTORY


def test_articles_that_do_not_add_up_among_themselves_still_contradict() -> None:
    words = "3 panels received: 2 panels good, 2 panels crushed"
    assert grade_at(words, ONE_SKID).grade is Grade.CONTRADICTORY


@pytest.mark.parametrize(
    "words, refused, number",
    [
        ("1 crate refused, side stove in. 1 crate taken", None, 1),
        ("1 of 2 refused, crushed", None, 1),
        ("refused, both crates wet through", None, 2),
        (None, "1 of 2 crates: side stove in, the counter in it broken in two", 1),
        (None, "both crates, wet through", 2),
        ("1 panel refused, corner crushed", None, 0),
        ("driver refused to wait", None, 0),
        ("1 crate received", None, 0),
        ("refused, wet", None, None),
        (None, "crate 2, wet", None),
    ],
)
def test_how_many_units_were_refused(
    words: str | None, refused: str | None, number: int | None
) -> None:
    assert refused_units(words, refused, CRATES, "handling") == number


def test_cartons_refused_leave_the_skid() -> None:
    counted = Recorded(1, 1, 10, 8, "skid")
    words = "2 ctns crushed and refused, 8 ctns received"
    assert refused_units(words, None, counted, "handling") == 0
    assert refused_units(words, None, counted, "carton") == 2


@pytest.mark.parametrize(
    "expected, received, words, short",
    [
        (2, 1, "1 crate refused, side stove in. 1 crate taken", False),
        (2, 0, "refused, both crates wet through", False),
        (4, 2, "2 crates received, 1 crate refused, side stove in", True),
    ],
)
def test_the_words_to_write_leave_a_refusal_a_refusal(
    expected: int, received: int, words: str, short: bool
) -> None:
    counted = Recorded(expected, received, None, None, "crate")
    added = grade_at(words, AtTheCurb(counted, "crate", inspected=True)).write_long
    assert ("short" in added) is short
    if short:
        assert re.search(r"2 of 4 crates; 1 crate refused; 1 crate short", added)


def test_a_recorded_refusal_that_the_words_leave_out_is_to_be_written() -> None:
    curb = AtTheCurb(CRATES, "crate", inspected=True, refused="1 of 2 crates: side stove in")
    added = grade_at("1 crate taken", curb).write_long
    assert "1 crate refused. Refused 1 of 2 crates: side stove in." in added
    assert "short" not in added


def test_a_correction_of_a_count_keeps_the_refusal() -> None:
    words = "3 crates taken, 1 crate refused, side stove in. 5 crates in good order"
    added = grade_at(words, AtTheCurb(CRATES, "crate", inspected=True)).write_long
    assert "the refusal stands" in added


def _case(words: str, *more: Record, expected: int = 2, received: int = 1, **of: Any) -> Case:
    came = delivery(words=words, units_expected=expected, units_received=received, **of)
    job = a_job(PANEL, TRAY, ship={"handling_units": expected, "handling_unit": "crate"})
    return case(facts(job_=job, records=(came, *more)))


REFUSED = "1 crate refused, side stove in. 1 crate taken"


@pytest.mark.parametrize(
    "words, short",
    [(REFUSED, False), ("1 crate taken", True)],
)
def test_a_refused_crate_is_short_in_no_finding_and_nobody_is_asked_for_it(
    words: str, short: bool
) -> None:
    made = _case(words, damage(found_at=FoundAt.CURB))
    rules = {f.rule for f in made.findings}
    assert ("receipt-short-not-stated" in rules) is short
    assert ("delivery-short" in rules) is short
    assert any(a.about.startswith("shipment main: 1 of 2") for a in made.addressees) is short


def test_how_many_were_refused_is_asked_where_it_is_not_said() -> None:
    made = _case("crate 2 refused, wet", damage(found_at=FoundAt.CURB))
    rules = {f.rule for f in made.findings}
    assert "delivery-short" not in rules
    told = [f.message for f in made.findings if f.rule == "delivery-not-counted"]
    assert any("how many were refused" in text for text in told)


def test_all_refused_is_not_goods_that_never_came() -> None:
    words = "refused, both crates wet through"
    late = {"arrived": moment("2026-03-01 09:00"), "signed_at": None}
    made = _case(words, damage(found_at=FoundAt.CURB), received=0, **late)
    assert not [a for a in made.addressees if "nothing was delivered" in a.about]


def test_a_panel_refused_is_not_claimed_as_damaged_and_as_short() -> None:
    panel = with_item(PANEL, quantity=3)
    rows = (CountedItem(item="panel", quantity=2, condition="good"),)
    hurt = damage(found_at=FoundAt.CURB, quantity=1)
    words = f"1 {panel.description.split()[-1]} refused, corner crushed 6 in"
    came = delivery(words=words, units_expected=1, units_received=1, wrap=Wrap.INTACT)
    job = a_job(panel, TRAY, ship={"handling_units": 1, "cartons": None})
    made = case(facts(job_=job, records=(came, hurt, record("u", Unpacking(counted=rows)))))
    row = next(d for d in made.differences if d.item == "panel" and d.what == "quantity")
    assert (row.short, row.found) == (0, "2 (1 refused)")
    loss = [line.quantity for line in made.amount if line.item == "panel"]
    assert sum(loss) == 1
    assert len([a for a in made.addressees if a.about.startswith(panel.description)]) == 1


def test_another_panel_missing_is_short_beside_the_refused_one() -> None:
    panel = with_item(PANEL, quantity=4)
    rows = (CountedItem(item="panel", quantity=2, condition="good"),)
    hurt = damage(found_at=FoundAt.CURB, quantity=1)
    came = delivery(words="1 panel refused, corner crushed", units_received=1, wrap=Wrap.INTACT)
    made = case(
        facts(
            job_=a_job(panel, TRAY, ship={"handling_units": 1}),
            records=(came, hurt, record("u", Unpacking(counted=rows))),
        )
    )
    row = next(d for d in made.differences if d.item == "panel" and d.what == "quantity")
    assert row.short == 1
    short = next(a for a in made.addressees if a.kind == "shortage")
    wanted = [w for c in short.candidates for w in c.settle]
    assert any("in what was refused" in text for text in wanted)


def test_ask_says_of_a_shortage_that_it_is_stated_only_where_it_is() -> None:
    words = "1 crate received, side of crate 1 crushed 4 in"
    made = _case(words, damage(found_at=FoundAt.CURB))
    assert "receipt-short-not-stated" in {f.rule for f in made.findings}
    short = next(a for a in made.addressees if a.kind == "shortage")
    because = [text for c in short.candidates for text, _ in c.because]
    assert not any("states it" in text for text in because)


def test_what_was_refused_is_no_agreement_with_the_order_and_nothing_over() -> None:
    made = _case(REFUSED, damage(found_at=FoundAt.CURB))
    row = next(d for d in made.differences if d.what == "handling units")
    assert (row.found, row.same, row.short, row.refused) == ("1 (1 refused)", Answer.NO, 0, 1)
    assert "delivery-over" not in {f.rule for f in made.findings}
