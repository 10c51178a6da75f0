"""The rows beyond US motor carriage: what meets each, what matters, and the user's own papers.

Dates were typed by hand from the rule each test names; US federal holidays as observed unless a
place is named.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

import pytest

from claimkit.findings.limits.conditions import matters
from claimkit.findings.limits.stage import Applied, apply_terms
from claimkit.model.case import Case
from claimkit.model.contract import Duty, OwnTerm, Policy, Start
from claimkit.model.job import Party, Role, SaleTerms, Site, Terms
from claimkit.model.limit import LimitState
from claimkit.model.quantities import Money, Span
from claimkit.model.receipt import Grade, Receipt, ReceiptReading, Reservation
from claimkit.model.records import About, CountedItem, Damage, Delivery, FoundAt, Unpacking
from claimkit.model.source import Source
from claimkit.rules import carriage
from claimkit.rules.carriage import CLAUSES
from tests.build import ZONE, case, facts, job, moment, record, shipment
from tests.findings.limit_build import DELIVERED, all_of, apply, claim, notice, one

# Delivered Monday 2026-03-02.
CRACKED = Damage(item="panel", found_at=FoundAt.UNPACKING, what="cracked")
AT_CURB = Damage(item="panel", found_at=FoundAt.CURB, what="crushed")
GERMANY = Site(address="x", zone="Europe/Berlin", country="DE")
DAYS = "calendar days"


def told(to: str = "hauler", received: str = "2026-03-05", **more: Any) -> Any:
    return notice(About.DAMAGE_NOTICE, to=to, received=received, **more)


# What meets a limit under other terms


HUNDRED = Money(Decimal(100), "CAD")
SEEN = Damage(item="panel", found_at=FoundAt.CURB, what="dented")


@pytest.mark.parametrize(
    "terms,clause,about",
    [
        (Terms.CANADA, "ca-notice", About.DAMAGE_NOTICE),
        (Terms.CANADA, "ca-notice", About.CLAIM),
        (Terms.CMR, "cmr-reserve-hidden", About.DAMAGE_NOTICE),
        (Terms.CMR, "cmr-reserve-hidden", About.CONCEALED_DAMAGE),
        (Terms.CMR, "cmr-delay", About.DELAY_NOTICE),
        (Terms.MONTREAL, "montreal-notice", About.CLAIM),
        (Terms.MONTREAL, "montreal-delay", About.DELAY_NOTICE),
        (Terms.COGSA, "cogsa-notice", About.DAMAGE_NOTICE),
        (Terms.CANADA, "ca-final-statement", About.CLAIM),
        (Terms.CMR, "cmr-suit", About.SUIT),
    ],
)
def test_a_notice_meets_it(terms: Terms, clause: str, about: About) -> None:
    found = apply(
        [DELIVERED, notice(about, received="2026-03-05", amount=HUNDRED)],
        terms=terms,
        shipped=moment("2026-02-20"),
    )
    limit = one(found, clause)
    assert (limit.state, limit.met_on) == (LimitState.MET, date(2026, 3, 5))


@pytest.mark.parametrize(
    "terms,clause,about",
    [
        (Terms.CMR, "cmr-delay", About.DAMAGE_NOTICE),  # a reservation for damage is none for delay
        (Terms.MONTREAL, "montreal-delay", About.CLAIM),
        (Terms.CANADA, "ca-final-statement", About.DAMAGE_NOTICE),  # an estimate is no statement
        (Terms.CMR, "cmr-reserve-hidden", About.DELAY_NOTICE),
        (Terms.COGSA, "cogsa-suit", About.CLAIM),
    ],
)
def test_another_notice_does_not(terms: Terms, clause: str, about: About) -> None:
    found = apply(
        [DELIVERED, notice(about, received="2026-03-05")],
        terms=terms,
        shipped=moment("2026-02-20"),
        as_of=date(2026, 3, 6),
    )
    assert one(found, clause).met_on is None


@pytest.mark.parametrize(
    "more,words",
    [
        ({"sent": "2026-03-04"}, "its receipt is not on record"),
        ({"received": "2026-03-04", "how": "telephone"}, "what was said cannot be shown"),
        ({"received": "2026-03-04", "to": "shop"}, "not entered as a carrier"),
    ],
)
def test_what_only_looks_like_a_notice_is_said(more: dict[str, Any], words: str) -> None:
    values = {"to": "hauler"} | more
    found = apply(
        [DELIVERED, notice(About.DAMAGE_NOTICE, **values)],
        terms=Terms.CMR,
        job_=job(site=GERMANY),
    )
    limit = one(found, "cmr-reserve-hidden")
    assert limit.met_on is None
    assert words in " ".join(limit.because)
    assert "49 CFR" not in " ".join(limit.because)


def graded(grade: Grade) -> Receipt:
    reading = ReceiptReading(grade, Reservation.NONE, (), (), "", "")
    return Receipt(Source("records/r0.toml"), "main", "words", reading)


@pytest.mark.parametrize(
    "grade,state",
    [
        (Grade.SPECIFIC, LimitState.MET),
        (Grade.TOO_VAGUE, LimitState.PASSED),
        (Grade.CLEAR, LimitState.PASSED),
        (Grade.RESERVATION_ONLY, LimitState.PASSED),
    ],
)
@pytest.mark.parametrize(
    "terms,clause",
    [(Terms.CMR, "cmr-reserve-apparent"), (Terms.COGSA, "cogsa-notice-apparent")],
)
def test_apparent_damage_is_reserved_on_the_receipt(
    terms: Terms, clause: str, grade: Grade, state: LimitState
) -> None:
    """CMR Article 30(1) and COGSA s. 3(6): what can be seen, at delivery."""
    facts_ = facts(
        job_=job(shipment=(shipment(terms=terms),)),
        records=[record("r0", DELIVERED), record("r1", SEEN)],
    )
    found = apply_terms(
        Case(facts_, date(2026, 3, 3), datetime(2026, 3, 3, tzinfo=UTC), receipts=(graded(grade),))
    )
    limit = one(found, clause)
    assert (limit.state, limit.nominal) == (state, date(2026, 3, 2))


def test_at_delivery_on_a_saturday_the_day_to_act_is_a_working_day() -> None:
    found = apply([Delivery(signed_at=moment("2026-03-07 09:00")), SEEN], terms=Terms.CMR)
    limit = one(found, "cmr-reserve-apparent")
    assert limit.nominal == date(2026, 3, 7)
    assert limit.act_by == date(2026, 3, 6)
    assert "at once" in " ".join(limit.steps())


def test_a_missed_notice_is_a_burden_or_a_bar_as_its_text_says() -> None:
    rows = {clause.id: clause.on_pass for clause in CLAUSES}
    assert "not barred" in rows["cmr-reserve-hidden"]
    assert "presumption, no bar" in rows["cogsa-notice"]
    assert "not barred" in rows["us-motor-concealed-report"]
    assert rows["montreal-notice"].startswith("No action lies")
    assert rows["cmr-delay"].startswith("Nothing is payable")
    assert rows["sale-reasonable-time"].startswith("The buyer is barred")


def test_wilful_misconduct_is_named_and_not_assumed() -> None:
    (row,) = [c for c in CLAUSES if c.id == "cmr-suit"]
    assert row.span == Span(1, "years", written="1 year")
    assert "three years in case of wilful misconduct, which is not assumed" in row.citation


# When they matter, and where they begin


@pytest.mark.parametrize(
    "delivered,expected,late",
    [
        ("2026-03-02", "2026-03-02", False),  # on the day
        ("2026-03-02", "2026-03-01", True),  # the day after
        ("2026-03-02", "2026-03-03", False),
        ("2026-03-02", None, False),  # not known
    ],
)
def test_delay_matters_only_where_it_is_late(
    delivered: str, expected: str | None, late: bool
) -> None:
    bodies = [Delivery(signed_at=moment(f"{delivered} 09:00"))]
    more = {"reasonable_delivery": moment(expected)} if expected else {}
    one_ = shipment(terms=Terms.CMR, **more)
    facts_ = facts(job_=job(shipment=(one_,)), records=[record("d", bodies[0])])
    case_ = Case(facts_, date(2026, 3, 3), datetime(2026, 3, 3, tzinfo=UTC))
    assert matters(case_, one_, carriage.DELAY) is late
    (limit,) = [t for t in apply_terms(case_).limits if t.clause.id == "cmr-delay"]
    said = " ".join(limit.because)
    assert ("enter reasonable_delivery" in said) is (expected is None)


@pytest.mark.parametrize(
    "more,nominal,words",
    [
        ({"shipped": "2026-01-05"}, "2027-03-06", "60th day"),  # 01-05 + 60 days is 03-06
        ({"reasonable_delivery": "2026-01-20"}, "2027-02-19", "30th day"),  # + 30 is 02-19
        (
            {"shipped": "2026-01-05", "reasonable_delivery": "2026-01-20"},
            "2027-02-19",
            "30th day",
        ),  # the earlier way
    ],
)
def test_goods_never_delivered_under_the_cmr(
    more: dict[str, str], nominal: str, words: str
) -> None:
    """CMR Article 32(1)(b)."""
    moments = {key: moment(value) for key, value in more.items()}
    found = apply([], terms=Terms.CMR, as_of=date(2026, 6, 1), **moments)
    limit = one(found, "cmr-suit-total-loss")
    assert str(limit.nominal) == nominal
    assert words in limit.because[0]
    assert one(found, "cmr-suit").state is LimitState.NOT_STARTED
    assert not all_of(apply([DELIVERED], terms=Terms.CMR, **moments), "cmr-suit-total-loss")


@pytest.mark.parametrize(
    "terms,before,first",
    [
        (Terms.MONTREAL, "2003-11-03", "2003-11-04"),
        (Terms.CANADA, "2005-12-31", "2006-01-01"),
        (Terms.CMR, "1961-07-01", "1961-07-02"),
        (Terms.COGSA, "1936-07-14", "1936-07-15"),
    ],
)
def test_outside_their_dates_nothing_is_counted(terms: Terms, before: str, first: str) -> None:
    for day, counted in ((before, False), (first, True)):
        delivered = [Delivery(signed_at=moment(f"{day} 12:00"))]
        found = apply(delivered, terms=terms, shipped=moment(day), as_of=date.fromisoformat(day))
        limits = [t for t in found.limits if t.started_on and t.clause.terms == terms.value]
        assert bool(limits) is counted
        gaps = [g.rule for g in found.gaps]
        assert ("limit-outside-effective-dates" in gaps) is not counted


# The seller


SALE = SaleTerms(
    report_within=Span(72, "hours"), reject_within=Span(10, DAYS), source="Terms of sale, 4"
)


def test_the_sellers_days_stand_beside_any_carriage() -> None:
    for terms in Terms:
        found = apply([DELIVERED, told("shop", "2026-03-04")], job_=job(sale=SALE), terms=terms)
        limit = one(found, "sale-report")
        assert (limit.nominal, limit.state) == (date(2026, 3, 5), LimitState.MET)
        assert limit.span_source == "Terms of sale, 4"
        assert any(s.key_path == "sale.report_within" for s in limit.sources)
        assert one(found, "sale-reject").nominal == date(2026, 3, 12)


def test_a_letter_to_the_carrier_does_not_meet_the_sellers_and_is_no_miss() -> None:
    found = apply([DELIVERED, told("hauler", "2026-03-04")], job_=job(sale=SALE))
    limit = one(found, "sale-report")
    assert limit.met_on is None
    assert "went to" not in " ".join(limit.because)


def test_only_what_the_terms_state_is_counted() -> None:
    found = apply([DELIVERED], job_=job(sale=SaleTerms(risk_passes="at the curb")))
    assert not [t for t in found.limits if t.clause.terms == carriage.SALE]
    assert not found.gaps


def test_three_business_days_have_a_careful_count() -> None:
    """Friday 2026-03-06, three business days: plain Wed 03-11; Friday as day 1 ends on Tuesday,
    three calendar days on Monday 03-09.
    """
    sale = SaleTerms(report_within=Span(3, "business days"))
    found = apply([Delivery(signed_at=moment("2026-03-06 10:00"))], job_=job(sale=sale))
    limit = one(found, "sale-report")
    assert (limit.nominal, limit.act_by) == (date(2026, 3, 11), date(2026, 3, 9))


@pytest.mark.parametrize(
    "bodies,state",
    [
        ([DELIVERED], None),  # nothing wrong: not shown
        ([DELIVERED, CRACKED], LimitState.NOT_STARTED),  # found at an unpacking with no date
        ([DELIVERED, AT_CURB], LimitState.NO_DATE),
        ([DELIVERED, AT_CURB, told("shop")], LimitState.MET),
    ],
)
def test_a_reasonable_time_has_no_number(bodies: list[Any], state: LimitState | None) -> None:
    """UCC 2-607(3)(a): no number of days is invented."""
    limits = all_of(apply(bodies), "sale-reasonable-time")
    assert [t.state for t in limits] == ([state] if state else [])
    for limit in limits:
        assert limit.nominal is None
        assert limit.act_by is None
        assert limit.span.unit == carriage.NO_NUMBER


@pytest.mark.parametrize(
    "site,parties,shown",
    [
        ({}, True, True),
        ({"country": "CA"}, True, False),  # another law of sale
        ({"subdivision": "LA"}, True, False),  # not enacted in Louisiana (from memory)
        ({"subdivision": "TX"}, True, True),
        ({}, False, False),  # no seller
    ],
)
def test_where_the_uniform_code_holds(site: dict[str, str], parties: bool, shown: bool) -> None:
    job_ = job(site=Site(address="x", zone=ZONE, **site))
    if not parties:
        job_ = replace(job_, party=job_.party[:2])
    found = apply([DELIVERED, AT_CURB], job_=job_)
    assert bool(all_of(found, "sale-reasonable-time")) is shown


def test_the_first_sign_starts_the_reasonable_time() -> None:
    unpacking = Unpacking(
        began=moment("2026-03-04 10:00"),
        counted=(CountedItem(item="panel", quantity=1, condition="split along one edge"),),
    )
    later = replace(CRACKED, found=moment("2026-03-06 09:00"))
    limit = one(apply([DELIVERED, later, unpacking]), "sale-reasonable-time")
    assert limit.started_on == date(2026, 3, 4)
    limit = one(apply([DELIVERED, later]), "sale-reasonable-time")
    assert limit.started_on == date(2026, 3, 6)


def test_the_truck_that_came_the_day_before_starts_it() -> None:
    delivery = Delivery(arrived=moment("2026-03-02 23:30"), signed_at=moment("2026-03-03 00:10"))
    limit = one(apply([delivery, AT_CURB]), "sale-reasonable-time")
    assert limit.started_on == date(2026, 3, 2)


def test_a_wrong_piece_alone_starts_it_too() -> None:
    """A piece of the wrong hand is no damage for the carrier, and a breach for the seller."""
    job_ = job(shipment=(shipment(terms=Terms.US_INTERSTATE_MOTOR, classification_applies=True),))
    job_ = replace(job_, item=(replace(job_.item[0], hand="left"), job_.item[1]))
    wrong = Unpacking(
        began=moment("2026-03-04 10:00"),
        counted=(CountedItem(item="panel", quantity=1, hand="right", condition="good"),),
    )
    found = case(
        facts(job_=job_, records=[record("d", DELIVERED), record("u", wrong)]), date(2026, 3, 5)
    )
    (limit,) = [t for t in found.limits if t.clause.id == "sale-reasonable-time"]
    assert (limit.state, limit.started_on) == (LimitState.NO_DATE, date(2026, 3, 4))
    assert "limit-without-a-date" in {f.rule for f in found.findings}


# The user's own contract and policy


def own(duty: Duty, start: Start, length: Span, **more: Any) -> OwnTerm:
    values = {"id": "t", "title": "Own clause", "source": "Contract 7, clause 9"}
    return OwnTerm(**(values | more), duty=duty, runs_from=start, length=length)


@pytest.mark.parametrize(
    "term,day",
    [
        (own(Duty.REPORT, Start.DELIVERY, Span(48, "hours")), "2026-03-04"),
        (own(Duty.CLAIM, Start.SHIPMENT_DATE, Span(6, "months")), "2026-08-20"),
        (own(Duty.CLAIM, Start.BILL_DATE, Span(60, DAYS)), "2026-04-20"),
        (own(Duty.CLAIM_UNDELIVERED, Start.REASONABLE_DATE, Span(10, DAYS)), "2026-03-11"),
        (own(Duty.REPORT, Start.DISCOVERY, Span(5, DAYS)), "2026-03-09"),
        (own(Duty.ACKNOWLEDGE, Start.CLAIM_RECEIVED, Span(14, DAYS)), "2026-03-19"),
        (own(Duty.DECIDE, Start.CLAIM_RECEIVED, Span(90, DAYS)), "2026-06-03"),
        (own(Duty.SUIT, Start.DISALLOWANCE, Span(1, "years")), "2027-03-06"),
    ],
)
@pytest.mark.parametrize("terms", [Terms.OWN_CONTRACT, Terms.US_INTRASTATE, Terms.CMR])
def test_each_own_duty_from_each_event(terms: Terms, term: OwnTerm, day: str) -> None:
    disallowed = notice(
        About.DISALLOWANCE,
        to="us",
        sender="hauler",
        sent="2026-03-06",
        states_disallowance=True,
        gives_reasons=True,
    )
    found = apply(
        [
            DELIVERED,
            replace(CRACKED, found=moment("2026-03-04 10:00")),
            claim("2026-03-05"),
            disallowed,
        ],
        terms=terms,
        shipped=moment("2026-02-20"),
        bill_date=moment("2026-02-19"),
        reasonable_delivery=moment("2026-03-01"),
        own_term=(term,),
    )
    limit = one(found, "own-t")
    assert str(limit.nominal) == day
    assert limit.span_source == "Contract 7, clause 9"
    assert limit.clause.citation == "Contract 7, clause 9"
    assert any(s.key_path == "shipment[1].own_term[1].length" for s in limit.sources)
    if term.duty is Duty.SUIT:
        assert "14706" not in limit.because[0]


def gaps(found: Applied) -> list[str]:
    return [g.reason for g in found.gaps if g.rule == "limit-terms-not-known"]


def test_an_own_contract_without_periods_is_a_gap_and_with_them_is_none() -> None:
    term = own(Duty.CLAIM, Start.DELIVERY, Span(6, "months"))
    assert "none of its periods is entered" in gaps(apply([DELIVERED], terms=Terms.OWN_CONTRACT))[0]
    assert not gaps(apply([DELIVERED], terms=Terms.OWN_CONTRACT, own_term=(term,)))
    (why,) = gaps(apply([DELIVERED], terms=Terms.PARCEL, own_term=(term,)))
    assert why.endswith("Only the periods that you entered are counted.")


def test_own_terms_name_what_passing_means_only_where_the_user_wrote_it() -> None:
    bare = one(
        apply([DELIVERED], own_term=(own(Duty.REPORT, Start.DELIVERY, Span(2, DAYS)),)), "own-t"
    )
    assert "does not say what passing it means" in bare.clause.on_pass
    said = own(Duty.REPORT, Start.DELIVERY, Span(2, DAYS), if_passed="All rights are lost")
    limit = one(apply([DELIVERED], own_term=(said,)), "own-t")
    assert limit.clause.on_pass.removesuffix(".") == "All rights are lost"


def test_keeping_the_packing_is_no_limit_to_act_by() -> None:
    keep = own(Duty.KEEP_PACKING, Start.DELIVERY, Span(30, DAYS))
    assert not all_of(apply([DELIVERED], own_term=(keep,)), "own-t")


BEACON = Party(id="beacon", name="Beacon Mutual", roles=(Role.INSURER,))
COVER = Party(id="cover", name="Cover & Sons", roles=(Role.INSURER,))


def insured(*policies: Policy, **more: Any) -> Applied:
    job_ = job(policy=policies)
    return apply(job_=replace(job_, party=(*job_.party, BEACON, COVER)), **more)


def test_the_insurers_notice_is_met_by_telling_that_insurer() -> None:
    term = own(Duty.REPORT, Start.DISCOVERY, Span(30, DAYS))
    first = Policy(insurer="beacon", number="B 1", term=(term,))
    second = Policy(insurer="cover", number="C-2", term=(term,))
    found = insured(first, second, bodies=[DELIVERED, AT_CURB, told("beacon")])
    assert one(found, "insurer-b-1-t").state is LimitState.MET
    assert one(found, "insurer-c-2-t").state is LimitState.RUNNING
    assert one(found, "insurer-c-2-t").nominal == date(2026, 4, 1)


def test_a_policy_of_another_shipment_does_not_run_here() -> None:
    term = own(Duty.REPORT, Start.DELIVERY, Span(30, DAYS))
    found = insured(Policy(insurer="beacon", shipment="other", term=(term,)), bodies=[DELIVERED])
    assert not [t for t in found.limits if t.clause.terms == carriage.INSURANCE]


def test_an_own_term_can_name_who_must_have_it() -> None:
    term = own(Duty.REPORT, Start.DELIVERY, Span(5, DAYS), to="shop")
    assert one(apply([DELIVERED, told("hauler")], own_term=(term,)), "own-t").met_on is None
    assert one(apply([DELIVERED, told("shop")], own_term=(term,)), "own-t").met_on
