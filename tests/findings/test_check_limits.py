"""Findings about time limits: each rule fires and stays silent, and says what to do."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

import pytest

from claimkit.findings.limits.check_limits import CHECKS, limits_passed
from claimkit.model.case import Case, Finding, Standing
from claimkit.model.job import BillText, Terms
from claimkit.model.receipt import Grade, Receipt, ReceiptReading, Reservation
from claimkit.model.records import About, Damage, FoundAt
from claimkit.model.source import Source
from tests.findings.cases_check_limits import (
    CASES,
    COUNTED,
    CRACKED,
    LETTER,
    claim,
    made,
    override,
    report,
    told,
)

RULES = [rule for rule, _, _ in CHECKS]


def found(case: Case, rule: str) -> list[Finding]:
    return [f for f in case.findings if f.rule == rule]


def test_every_rule_has_its_two_cases() -> None:
    assert sorted(CASES) == sorted(RULES)
    assert len(RULES) == len(set(RULES))
    assert all(re.fullmatch(r"limit(-[a-z]+)+", rule) for rule in RULES)


@pytest.mark.parametrize("rule", RULES)
def test_fires_and_stays_silent(rule: str) -> None:
    fires, silent = (pair() for pair in CASES[rule])
    said = [r for r in (*fires.findings, *fires.not_checked) if r.rule == rule]
    assert said
    assert not [r for r in (*silent.findings, *silent.not_checked) if r.rule == rule]
    assert not [n for n in (*fires.not_checked, *silent.not_checked) if n.crashed]
    for result in said:
        if isinstance(result, Finding):
            assert result.evidence
            assert result.citation
            assert result.do_next or result.standing is Standing.SUPPORTS
        else:
            assert len(result.reason) > 40


def test_nobody_is_warned_about_goods_with_which_nothing_is_wrong() -> None:
    late = made(COUNTED, as_of=date(2027, 6, 1))
    for rule in ("limit-passed", "limit-soon", "limit-act-by-passed"):
        assert not found(late, rule)
    assert found(made(CRACKED, as_of=date(2027, 6, 1)), "limit-passed")


@pytest.mark.parametrize(
    "as_of,rules",
    [
        (date(2026, 4, 30), set()),  # eight days before the day to act by
        (date(2026, 5, 1), {"limit-soon"}),  # seven
        (date(2026, 5, 4), {"limit-soon"}),
        (date(2026, 5, 8), {"limit-soon"}),  # the day to act by itself
        (date(2026, 5, 9), {"limit-act-by-passed"}),  # the day after
        (date(2026, 5, 11), {"limit-act-by-passed"}),  # the last day itself
        (date(2026, 5, 12), {"limit-passed"}),  # the day after
    ],
)
def test_from_soon_to_passed(as_of: date, rules: set[str]) -> None:
    """Delivered Monday 2026-05-04: careful day Friday 05-08, five business days Monday 05-11."""
    case = made(CRACKED, as_of=as_of)
    names = {"limit-soon", "limit-act-by-passed", "limit-passed"}
    said = {f.rule for f in case.findings if f.rule in names and "concealed" in f.message}
    assert said == rules


def test_a_week_is_soon_and_eight_days_are_not() -> None:
    """Nine months from 2026-05-04 end on Thursday 2027-02-04; act by Wednesday 02-03."""
    sent = report(received="2026-05-05")
    assert found(made(CRACKED, sent, as_of=date(2027, 1, 27)), "limit-soon")
    assert not found(made(CRACKED, sent, as_of=date(2027, 1, 26)), "limit-soon")


def test_urgent_is_what_only_now_can_mend() -> None:
    for rule in ("limit-soon", "limit-act-by-passed", "limit-look-for-hidden-damage"):
        assert all(f.urgent for f in found(CASES[rule][0](), rule))
    assert not any(f.urgent for f in found(CASES["limit-passed"][0](), "limit-passed"))


def test_passing_the_report_is_an_evidence_burden_and_no_bar() -> None:
    """NMFC item 300135-A."""
    message = found(made(CRACKED), "limit-passed")[0].message
    assert "not barred" in message
    assert "reasonable evidence" in message


def test_the_carriers_lateness_is_a_lever() -> None:
    late = made(claim(received="2026-05-15"), as_of=date(2026, 12, 1))
    said = found(late, "limit-carrier-late")
    assert [f.standing for f in said] == [Standing.NOTE] * len(said)
    assert any("lever" in f.message for f in said)
    done = told(About.ACKNOWLEDGEMENT, "us", "hauler", sent="2026-06-20")
    said = found(made(claim(received="2026-05-15"), done), "limit-carrier-late")
    assert not said  # the legal day is before the acknowledgement was due
    said = found(
        made(claim(received="2026-05-15"), done, as_of=date(2026, 7, 1)), "limit-carrier-late"
    )
    assert "done on Sat 2026-06-20" in said[0].message
    assert not said[0].do_next


def test_below_the_floor_is_never_called_void() -> None:
    case = made(CRACKED, override=override("us-motor-claim-damage", 30, "calendar days"))
    said = found(case, "limit-override-below-floor")
    assert "14706(e)(1)" in said[0].message
    assert "14101(b)" in said[0].message
    everything = [f.message + f.do_next for f in case.findings]
    everything += [step for limit in case.limits for step in limit.because]
    assert not [text for text in everything if re.search(r"\b(void|invalid|unlawful)\b", text)]


@pytest.mark.parametrize(
    "clause,count,unit,below",
    [
        ("us-motor-claim-damage", 9, "months", False),
        ("us-motor-claim-damage", 8, "months", True),
        ("us-motor-claim-damage", 12, "months", False),
        # From 2026-05-04 nine months are 276 days.
        ("us-motor-claim-damage", 276, "calendar days", False),
        ("us-motor-claim-damage", 275, "calendar days", True),
        ("us-motor-suit", 2, "years", False),
        ("us-motor-suit", 1, "years", True),
        ("us-motor-concealed-report", 48, "hours", False),  # no statute sets a floor for reports
    ],
)
def test_the_floor(clause: str, count: int, unit: str, below: bool) -> None:
    case = made(override=override(clause, count, unit))
    assert bool(found(case, "limit-override-below-floor")) is below


def test_a_refusal_that_may_count_gets_a_careful_day() -> None:
    """Two years from the letter of Friday 2026-05-15, should it turn out to be a disallowance."""
    case = CASES["limit-disallowance-incomplete"][0]()
    said = found(case, "limit-disallowance-incomplete")
    assert "act by Fri 2028-05-12: the last day to sue is Mon 2028-05-15" in said[0].do_next
    assert not found(case, "limit-offer-is-no-disallowance")


def test_our_own_counter_offer_is_no_letter_of_the_carrier() -> None:
    ours = told(About.OFFER, sent="2026-05-15")
    assert not found(made(ours), "limit-offer-is-no-disallowance")


def test_a_claim_at_the_carrier_silences_the_one_at_the_broker() -> None:
    both = made(CRACKED, claim(to="agent", received="2026-05-10"), claim(received="2026-05-12"))
    assert not found(both, "limit-sent-to-broker")
    late = found(made(CRACKED, report(to="agent", received="2026-05-06")), "limit-sent-to-broker")
    assert "Lanebridge Brokers, a broker" in late[0].message


def test_a_call_confirmed_by_mail_is_no_finding() -> None:
    call = report(received="2026-05-05", how="telephone")
    mail = report(received="2026-05-06", how="e-mail")
    assert not found(made(CRACKED, call, mail), "limit-telephone-not-confirmed")


def receipt_graded(grade: Grade) -> Receipt:
    reading = ReceiptReading(grade, Reservation.NONE, (), (), "", "")
    return Receipt(Source(path="records/delivery.toml"), "main", "as typed", reading)


@pytest.mark.parametrize(
    "grade,reported",
    [
        (Grade.SPECIFIC, False),  # noted: not concealed
        (Grade.CLEAR, True),  # signed clear: the carrier may call it concealed
        (Grade.TOO_VAGUE, True),
        (Grade.RESERVATION_ONLY, True),
    ],
)
def test_damage_seen_at_the_curb_and_not_noted_is_to_be_reported(
    grade: Grade, reported: bool
) -> None:
    curb = Damage(item="panel", found_at=FoundAt.CURB, what="crushed corner")
    case = replace(made(curb), receipts=(receipt_graded(grade),))
    said = [f for f in limits_passed(case) if "concealed" in f.message]
    assert bool(said) is reported


def test_the_strictest_text_is_said_once_per_shipment() -> None:
    said = found(made(bill_text=BillText.NOT_KNOWN), "limit-bill-text-not-known")
    assert len(said) == 1
    assert not found(
        made(bill_text=BillText.NOT_KNOWN, terms=Terms.PARCEL), "limit-bill-text-not-known"
    )


def test_a_complete_refusal_silences_both_letter_rules() -> None:
    letter = told(About.OFFER, **LETTER, states_disallowance=True, gives_reasons=True)
    case = made(letter)
    assert not found(case, "limit-disallowance-incomplete")
    assert not found(case, "limit-offer-is-no-disallowance")
