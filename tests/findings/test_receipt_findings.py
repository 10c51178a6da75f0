"""What the checks say of a receipt beside the rest of the record."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from claimkit.model.answers import Answer
from claimkit.model.case import Case, Finding, Standing
from claimkit.model.receipt import Grade
from claimkit.model.records import Damage, Delivery, FoundAt, Wrap
from tests.build import case, facts, job, record, shipment
from tests.findings.work_build import delivery


def told(**more: Any) -> Case:
    return case(facts(records=[delivery(**more)]))


def found(case_: Case, rule: str) -> Finding:
    one = [f for f in case_.findings if f.rule == rule]
    assert len(one) == 1, [f.rule for f in case_.findings]
    return one[0]


def rules(case_: Case) -> set[str]:
    return {f.rule for f in case_.findings if f.rule.startswith("receipt-")}


def test_every_delivery_in_force_has_its_receipt() -> None:
    old = replace(delivery("01-old", words="damaged"), replaced_by="02-new")
    new = delivery("02-new", words="all good", shipment="two")
    two = job(shipment=(shipment(), shipment(id="two")))
    both = case(facts(job_=two, records=[old, new, delivery("03-main", shipment="main")]))
    assert [(r.shipment, r.reading.grade) for r in both.receipts] == [
        ("two", Grade.CLEAR),
        ("main", Grade.NOT_STATED),
    ]


def test_a_finding_names_the_record_and_the_words() -> None:
    source = found(told(words="all good"), "receipt-clear").evidence[0]
    assert (source.path, source.key_path) == ("records/01-delivery.toml", "words")
    assert source.sha256


def test_a_clear_receipt_is_against_and_no_bar() -> None:
    clear = found(told(words="rec'd OK"), "receipt-clear")
    assert clear.standing is Standing.AGAINST
    assert "no bar" in clear.message
    assert "Home Furniture" in clear.citation
    assert "“rec'd OK”" in clear.message


@pytest.mark.parametrize(
    "words, rule",
    [
        ("all good", "receipt-clear"),
        ("damaged", "receipt-too-vague"),
        ("", "receipt-not-stated"),
        ("STI", "receipt-reservation-only"),
        ("rec'd 4 of 4, short 1", "receipt-contradictory"),
    ],
)
def test_it_is_urgent_until_the_driver_has_left(words: str, rule: str) -> None:
    there = found(told(words=words, driver_left=None, inspected=False), rule)
    gone = found(told(words=words, inspected=False), rule)
    assert there.urgent
    assert not gone.urgent
    assert "add on paper" in there.do_next
    assert "add on paper" not in gone.do_next


def test_a_reservation_without_further_is_weaker() -> None:
    weak = found(told(words="subject to inspection"), "receipt-reservation-only")
    full = found(told(words="subject to further inspection"), "receipt-reservation-only")
    assert weak.standing is Standing.AGAINST
    assert full.standing is Standing.NOTE
    assert "9.7" in weak.citation
    assert "weaker still" in weak.message
    assert "weak all the same" in full.message


def test_copies() -> None:
    differ = found(
        told(words="all good", words_on_our_copy="ctn 2 crushed on top"), "receipt-copies-differ"
    )
    assert "ours is graded" in differ.message.lower()
    assert differ.standing is Standing.AGAINST
    same = told(words="ctn 2 crushed, top", words_on_our_copy="CTN 2\nCRUSHED - TOP")
    assert same.receipts[0].copies_differ is Answer.NO
    assert told(words="all good").receipts[0].copies_differ is Answer.CANNOT_TELL
    only_ours = told(words=None, words_on_our_copy="ctn 2 crushed")
    assert only_ours.receipts[0].copies_differ is Answer.CANNOT_TELL
    assert "ctn 2 crushed" in found(only_ours, "receipt-not-recorded").message


def test_a_carton_short_inside_an_intact_wrap_is_hidden() -> None:
    words = "1 skid STC 4 ctns SLC, wrap intact"
    hidden = found(
        told(words=words, cartons_received=3, wrap=Wrap.INTACT), "receipt-short-not-stated"
    )
    assert hidden.standing is Standing.NOTE
    assert "concealed loss" in hidden.message
    assert "300135" in hidden.citation
    seen = found(
        told(words="1 skid", cartons_received=3, wrap=Wrap.BROKEN), "receipt-short-not-stated"
    )
    assert seen.standing is Standing.AGAINST
    assert "recorded as broken" in seen.message


@pytest.mark.parametrize(
    "words", ["short 1 ctn", "rec'd 3 of 4 ctns", "ctn 3 missing", "BOL 4, got 3 ctns"]
)
def test_a_short_that_is_stated_is_not_reported(words: str) -> None:
    assert "receipt-short-not-stated" not in rules(told(words=words, cartons_received=3))


def test_a_short_of_another_number_is_not_the_one_counted() -> None:
    told_two = told(words="short 2 ctns", cartons_received=3)
    assert "receipt-short-not-stated" in rules(told_two)
    assert "receipt-contradictory" in rules(told_two)


@pytest.mark.parametrize(
    "words, stated",
    [
        ("panel crushed lower left corner", True),
        ("ctn 2 smashed on the corner", True),
        ("panel cracked", False),
        ("crushed", False),
        ("not crushed", False),
        ("all good", False),
    ],
)
def test_damage_found_at_the_curb(words: str, stated: bool) -> None:
    damage = Damage(item="panel", what="crushed", part="lower left corner", found_at=FoundAt.CURB)
    seen = case(facts(records=[delivery(words=words), record("02-damage", damage)]))
    assert ("receipt-damage-not-stated" not in rules(seen)) is stated
    later = replace(damage, found_at=FoundAt.UNPACKING)
    quiet = case(facts(records=[delivery(words=words), record("02-damage", later)]))
    assert "receipt-damage-not-stated" not in rules(quiet)


def test_damage_of_another_shipment_is_not_asked_of_this_receipt() -> None:
    two = job(shipment=(shipment(), shipment(id="two")))
    damage = Damage(item="panel", shipment="two", what="crushed", found_at=FoundAt.CURB)
    seen = case(
        facts(job_=two, records=[delivery(words="", shipment="main"), record("02-d", damage)])
    )
    assert "receipt-damage-not-stated" not in rules(seen)


def test_the_driver_and_the_refusal() -> None:
    words = "refused 1 ctn, glass broken"
    both = told(words=words, refused="one carton", driver_signed=None)
    assert found(both, "receipt-driver-not-signed").standing is Standing.MISSING
    assert found(both, "receipt-refused").standing is Standing.NOTE
    silent = told(words="all good", refused="one carton")
    assert found(silent, "receipt-refused").standing is Standing.AGAINST
    assert "receipt-driver-not-signed" not in rules(silent)


def test_a_job_that_cannot_be_read_still_grades() -> None:
    bare = case(replace(facts(records=[delivery(words="ctn 2 crushed")]), job=None))
    assert bare.receipts[0].reading.grade is Grade.SPECIFIC
    assert isinstance(bare.facts.in_force(Delivery)[0].body, Delivery)
    assert not [n for n in bare.not_checked if n.crashed]


@pytest.mark.parametrize(
    "words, refused",
    [
        ("nothing was refused", False),
        ("Nothing.", False),
        ("none", False),
        ("no", False),
        ("-", False),
        ("n/a", False),
        ("not refused", False),
        ("no goods were refused", False),
        ("nothing refused; all cartons taken", False),
        ("nothing refused, all taken except carton 2", True),
        ("nothing but carton 3: crushed", True),
        ("refused", True),
        ("no. 3, crushed", True),
        ("one carton", True),
    ],
)
def test_words_for_nothing_are_no_refusal(words: str, refused: bool) -> None:
    """The first is what docs/job-folder.md once gave as its example."""
    case = told(words="all good", refused=words)
    assert any(f.rule == "receipt-refused" for f in case.findings) is refused
