"""Time limits from a job's records: what starts them, how they stand, what is not covered.

Dates were typed by hand from the rule each names; US federal holidays as observed.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta, timezone

import pytest

from claimkit.findings.limits.conditions import (
    CONCERNS,
    all_looked_at,
    hidden_damage,
    lateness,
    situation,
)
from claimkit.findings.limits.events import is_spoken, why_no_disallowance
from claimkit.findings.limits.misses import Why, misses_of
from claimkit.findings.limits.stage import apply_terms, work_out
from claimkit.model.case import Case
from claimkit.model.contract import Duty, OwnTerm, Start
from claimkit.model.job import (
    Item,
    Party,
    Role,
    Shipment,
    Site,
    Terms,
)
from claimkit.model.limit import LimitState
from claimkit.model.moment import Moment, Precision
from claimkit.model.quantities import Span
from claimkit.model.records import (
    About,
    Body,
    CountedItem,
    Damage,
    Delivery,
    FoundAt,
    Unpacking,
)
from claimkit.rules.carriage import APPARENT_DAMAGE, CLAIM, NOT_COVERED, SALE_LAW, TOLD_SELLER
from tests.build import ZONE, facts, job, moment, record
from tests.findings.limit_build import (
    ACKNOWLEDGE,
    AS_OF,
    DAMAGE,
    DELIVERED,
    NOW,
    REPORT,
    all_of,
    apply,
    claim,
    letter,
    notice,
    one,
    us,
)

# When a period starts


@pytest.mark.parametrize(
    "at,day",
    [
        ("2026-03-02 23:50", "2026-03-02"),  # 05:50 UTC of the next day
        ("2026-03-02 00:00", "2026-03-02"),
        ("2026-03-08 01:59", "2026-03-08"),  # the night the clocks go forward
        ("2026-03-08 03:01", "2026-03-08"),
        ("2026-11-01 01:30", "2026-11-01"),  # the hour that comes twice
        ("2026-11-01 23:59", "2026-11-01"),
        ("2028-02-29 23:59", "2028-02-29"),  # leap day
        ("2026-12-31 23:59", "2026-12-31"),  # the next year in UTC
        ("2026-03-02", "2026-03-02"),  # a date alone
    ],
)
def test_the_local_date_counts(at: str, day: str) -> None:
    start = date.fromisoformat(day)
    assert one(apply([Delivery(signed_at=moment(at))], as_of=start), DAMAGE).started_on == start


@pytest.mark.parametrize("hours", [-12, -6, 0, 9, 14])
def test_the_offset_a_record_was_written_with_does_not_move_the_day(hours: int) -> None:
    local = moment("2026-03-02 23:50").at
    moved = Moment(local.astimezone(timezone(timedelta(hours=hours))), "", Precision.MINUTE)
    assert one(apply([Delivery(signed_at=moved)]), DAMAGE).started_on == date(2026, 3, 2)


def test_the_signature_decides_and_an_earlier_arrival_only_the_careful_day() -> None:
    late = Delivery(
        arrived=moment("2026-03-02 23:40"),
        signed_at=moment("2026-03-03 00:15"),
        driver_left=moment("2026-03-03 00:30"),
    )
    limit = one(apply([late]), REPORT)
    assert limit.started_on == date(2026, 3, 3)
    assert limit.nominal == date(2026, 3, 10)
    assert limit.act_by == date(2026, 3, 6)  # counted from Monday, not 03-07, a Saturday
    assert "careful count starts there" in limit.because[0]


@pytest.mark.parametrize("key", ["signed_at", "arrived", "driver_left"])
def test_any_of_the_three_times_will_do(key: str) -> None:
    limit = one(apply([Delivery(**{key: moment("2026-03-02 10:00")})]), DAMAGE)
    assert limit.started_on == date(2026, 3, 2)
    assert key in limit.because[0]


def test_several_deliveries_have_a_count_each() -> None:
    second = Delivery(signed_at=moment("2026-03-20 09:00"))
    found = apply([DELIVERED, second, claim("2026-03-10")], as_of=date(2026, 3, 25))
    limits = all_of(found, DAMAGE)
    assert [t.started_on for t in limits] == [date(2026, 3, 2), date(2026, 3, 20)]
    # The claim was there before the second delivery: it cannot be about that one.
    assert [t.state for t in limits] == [LimitState.MET, LimitState.RUNNING]
    assert "delivery 2 of 2" in limits[1].because[0]


def test_two_records_of_one_day_are_one_delivery() -> None:
    again = Delivery(arrived=moment("2026-03-02 08:00"))
    limit = one(apply([DELIVERED, again]), DAMAGE)
    assert {s.path for s in limit.sources} == {"records/r0.toml", "records/r1.toml"}


def test_a_replaced_record_decides_nothing() -> None:
    old = record("old", DELIVERED, replaced_by="new")
    new = record("new", Delivery(signed_at=moment("2026-03-04 09:00")), replaces="old")
    assert one(apply([old, new]), DAMAGE).started_on == date(2026, 3, 4)


def test_without_a_delivery_the_limit_says_what_would_start_it() -> None:
    limit = one(apply(), DAMAGE)
    assert limit.state is LimitState.NOT_STARTED
    assert (limit.started_on, limit.nominal, limit.act_by) == (None, None, None)
    assert "A delivery record with signed_at would start it" in limit.because[0]


def test_a_delivery_of_nothing_starts_no_damage_claim_but_the_other_one() -> None:
    none = Delivery(
        signed_at=moment("2026-03-02 09:00"), units_received=0, refused="wet, sent back"
    )
    found = apply([none], bill_date=moment("2026-02-26"))
    assert one(found, DAMAGE).state is LimitState.NOT_STARTED
    assert one(found, "us-motor-claim-nondelivery-from-2016").started_on == date(2026, 2, 26)


@pytest.mark.parametrize(
    "body,shown",
    [
        (Delivery(signed_at=moment("2026-03-02"), cartons_received=4, units_received=1), False),
        (Delivery(signed_at=moment("2026-03-02"), cartons_received=3), True),  # one carton short
        (Delivery(signed_at=moment("2026-03-02"), units_received=0, cartons_received=2), True),
        (Delivery(signed_at=moment("2026-03-02")), False),  # not counted is not short
    ],
)
def test_what_was_not_delivered_has_its_own_period(body: Delivery, shown: bool) -> None:
    found = apply([body], bill_date=moment("2026-02-26"))
    assert bool(all_of(found, "us-motor-claim-nondelivery-from-2016")) is shown
    assert one(found, DAMAGE).state is LimitState.RUNNING


def test_a_carton_missing_inside_is_not_delivered_either() -> None:
    """Two deliveries of four cartons; an item of two of which one was found."""
    items = (Item(id="panel", description="Wall panel", quantity=2),)
    unpacked = Unpacking(counted=(CountedItem(item="panel", quantity=1),))
    found = apply([DELIVERED, unpacked], job_=job(item=items), bill_date=moment("2026-02-26"))
    assert one(found, "us-motor-claim-nondelivery-from-2016").nominal == date(2026, 11, 26)
    assert "1 of 2 found" in " ".join(one(found, REPORT).because)


# How a limit stands


@pytest.mark.parametrize(
    "as_of,state",
    [
        ("2026-03-02", LimitState.RUNNING),  # the day of the delivery
        ("2026-03-06", LimitState.RUNNING),  # the day to act by
        ("2026-03-07", LimitState.DUE_PASSED),  # the day after it
        ("2026-03-09", LimitState.DUE_PASSED),  # the last day
        ("2026-03-10", LimitState.PASSED),  # the day after
    ],
)
def test_the_state_of_a_report(as_of: str, state: LimitState) -> None:
    assert one(apply([DELIVERED], as_of=date.fromisoformat(as_of)), REPORT).state is state


@pytest.mark.parametrize(
    "received,as_of,state",
    [
        ("2026-12-01 17:00", "2026-12-05", LimitState.MET),  # after the day to act by is in time
        ("2026-12-02 23:50", "2026-12-05", LimitState.MET),  # the last day, 05:50 UTC of the next
        ("2026-12-03 00:10", "2026-12-05", LimitState.MET_LATE),
        ("2026-12-01", "2026-11-30", LimitState.RUNNING),  # not yet received on the legal day
    ],
)
def test_received_meets(received: str, as_of: str, state: LimitState) -> None:
    found = apply([DELIVERED, claim(received)], as_of=date.fromisoformat(as_of))
    limit = one(found, DAMAGE)
    assert limit.state is state
    assert (limit.met_on is not None) is (state is not LimitState.RUNNING)


def test_sent_meets_nothing_and_the_record_that_did_is_named() -> None:
    sent = claim(sent="2026-03-03")
    limit = one(apply([DELIVERED, sent]), DAMAGE)
    assert limit.state is LimitState.RUNNING
    assert "no record says that it was received" in limit.because[-1]
    assert one(apply([DELIVERED, sent]), ACKNOWLEDGE).state is LimitState.NOT_STARTED
    met = one(apply([DELIVERED, sent, claim("2026-03-09")]), DAMAGE)
    assert met.met_on == date(2026, 3, 9)
    assert "records/r2.toml" in met.because[-1]
    assert met.sources[-1].path == "records/r2.toml"
    assert met.sources[-1].key_path == "received"


def test_a_broker_is_no_carrier() -> None:
    broker = Party(id="agent", name="Lanebridge", roles=(Role.BROKER,))
    job_ = job(party=(*job().party, broker))
    found = apply([DELIVERED, claim("2026-03-05", to="agent")], job_=job_, broker="agent")
    assert one(found, DAMAGE).state is LimitState.RUNNING
    assert "not shown filed with a carrier" in one(found, DAMAGE).because[-1]
    assert one(found, ACKNOWLEDGE).state is LimitState.NOT_STARTED
    named = apply([DELIVERED, claim("2026-03-05", to="agent")], job_=job_, carrier="agent")
    assert one(named, DAMAGE).state is LimitState.RUNNING, "a broker entered as the carrier"
    both = replace(broker, roles=(Role.BROKER, Role.DELIVERING_CARRIER))
    job_ = job(party=(*job().party, both))
    carries = apply([DELIVERED, claim("2026-03-05", to="agent")], job_=job_, carrier="agent")
    assert one(carries, DAMAGE).state is LimitState.MET


@pytest.mark.parametrize(
    "to,met", [("hauler", True), ("first", True), ("last", True), ("shop", False)]
)
def test_any_carrier_of_the_shipment_is_a_proper_one(to: str, met: bool) -> None:
    more = (
        Party(id="first", name="Origin Lines", roles=(Role.ORIGIN_CARRIER,)),
        Party(id="last", name="Doorstep", roles=(Role.LAST_MILE_CARRIER,)),
    )
    job_ = job(party=(*job().party, *more))
    found = apply([DELIVERED, claim("2026-03-05", to=to)], job_=job_, origin_carrier="first")
    assert (one(found, DAMAGE).state is LimitState.MET) is met


def test_a_last_mile_carrier_of_another_shipment_is_none_of_this_one() -> None:
    last = Party(id="last", name="Doorstep", roles=(Role.LAST_MILE_CARRIER,))
    ships = (us(id="a"), us(id="b", carrier="last"))
    bodies = [replace(DELIVERED, shipment="a"), claim("2026-03-05", shipment="a", to="last")]
    found = apply(bodies, shipments=ships, job_=job(party=(*job().party, last)))
    assert all_of(found, DAMAGE)[0].state is LimitState.RUNNING


def test_two_shipments_never_mix() -> None:
    other = Party(id="other", name="Southway", roles=(Role.DELIVERING_CARRIER,))
    ships = (us(id="a"), us(id="b", carrier="other"))
    job_ = job(party=(*job().party, other))
    bodies = [
        replace(DELIVERED, shipment="a"),
        Delivery(shipment="b", signed_at=moment("2026-03-05")),
        claim("2026-03-09", shipment="a", to="hauler"),
        claim("2026-03-09", shipment="b", to="hauler"),  # the other shipment's carrier
    ]
    found = apply(bodies, shipments=ships, job_=job_)
    states = {t.shipment: t.state for t in all_of(found, DAMAGE)}
    assert states == {"a": LimitState.MET, "b": LimitState.RUNNING}
    unplaced = apply([DELIVERED], shipments=ships, job_=job_)
    assert all(t.state is LimitState.NOT_STARTED for t in all_of(unplaced, DAMAGE))


@pytest.mark.parametrize(
    "how,spoken",
    [
        ("telephone", True),
        ("Phone call to dispatch", True),
        ("voicemail", True),
        ("left a voice mail", True),
        ("told the driver", True),
        ("in person", True),
        ("telephone, not confirmed in writing", True),
        ("e-mail", False),
        ("telephone, confirmed by e-mail", False),
        ("called and then wrote on the portal", False),
        ("tracked post", False),
        ("recall letter", False),
        (None, False),  # not said: taken as written
    ],
)
def test_what_was_only_spoken(how: str | None, spoken: bool) -> None:
    assert is_spoken(notice(About.CONCEALED_DAMAGE, how=how)) is spoken


def test_a_telephone_report_waits_for_its_confirmation() -> None:
    """NMFC item 300135-A: by telephone, confirmed in writing or electronically."""
    call = notice(About.CONCEALED_DAMAGE, how="telephone", received="2026-03-03")
    limit = one(apply([DELIVERED, call], as_of=date(2026, 3, 6)), REPORT)
    assert limit.state is LimitState.RUNNING
    assert "confirmed in writing" in limit.because[-1]
    mail = notice(About.CONCEALED_DAMAGE, how="e-mail", received="2026-03-05")
    met = one(apply([DELIVERED, call, mail]), REPORT)
    assert (met.state, met.met_on) == (LimitState.MET, date(2026, 3, 5))
    late = notice(About.INSPECTION_REQUESTED, how="e-mail", received="2026-03-10")
    doubted = one(apply([DELIVERED, call, late]), REPORT)
    assert (doubted.state, doubted.met_on) == (LimitState.IN_DOUBT, None)
    assert one(apply([DELIVERED, late]), REPORT).state is LimitState.MET_LATE


def test_a_claim_is_no_report_but_is_named_beside_it() -> None:
    limit = one(apply([DELIVERED, claim("2026-03-04")], as_of=date(2026, 3, 5)), REPORT)
    assert limit.state is LimitState.RUNNING
    assert "That alone does not meet this limit" in limit.because[-1]


def test_a_spoken_claim_is_no_claim() -> None:
    """49 CFR 370.3(b): a written communication."""
    limit = one(apply([DELIVERED, claim("2026-03-04", how="phone")]), DAMAGE)
    assert limit.state is LimitState.RUNNING
    assert "370.3(b)" in limit.because[-1]


# Places, and what is not covered


def test_an_unknown_subdivision_leaves_the_plain_days_and_no_day_to_act() -> None:
    job_ = job(site=Site(address="x", zone=ZONE, subdivision="ZZ"))
    found = apply([DELIVERED, claim("2026-03-10")], job_=job_)
    assert one(found, DAMAGE).nominal == date(2026, 12, 2)
    assert all(limit.act_by is None for limit in found.limits)
    assert not all_of(found, REPORT)
    assert {g.rule for g in found.gaps} == {"limit-holidays-not-known"}


def test_a_states_own_holidays_count_where_it_is_named() -> None:
    """Texas Independence Day, Monday 2026-03-02: the fifth business day moves on by one."""
    friday = [Delivery(signed_at=moment("2026-02-27 09:00"))]
    texas = job(site=Site(address="x", zone=ZONE, subdivision="TX"))
    assert one(apply(friday), REPORT).nominal == date(2026, 3, 6)
    assert one(apply(friday, job_=texas), REPORT).nominal == date(2026, 3, 9)


@pytest.mark.parametrize("terms", list(NOT_COVERED))
def test_other_terms_are_not_guessed(terms: Terms) -> None:
    found = apply([DELIVERED, claim("2026-03-10")], terms=terms)
    assert {limit.clause.terms for limit in found.limits} <= {SALE_LAW}
    (gap,) = found.gaps
    assert gap.rule == "limit-terms-not-known"
    assert terms.value in gap.reason


def test_no_job_and_no_shipment_are_said() -> None:
    nothing = replace(facts(), job=None, job_sha256=None)
    assert apply_terms(Case(nothing, AS_OF, NOW)).gaps[0].where == "job.toml"
    empty = facts(job_=job(shipment=()))
    assert "Add [[shipment]]" in apply_terms(Case(empty, AS_OF, NOW)).gaps[0].reason
    assert work_out(Case(empty, AS_OF, NOW)).limits == ()


# What the window for hidden damage is for


@pytest.mark.parametrize(
    "bodies,words",
    [
        ((), "Nothing hidden has been found yet"),
        ((Damage(item="tray", found_at=FoundAt.UNPACKING, what="split"),), "tray: split, found"),
        ((Damage(item="tray", found_at=FoundAt.DRY_FIT, what="bowed"),), "tray: bowed, found"),
        ((Damage(item="tray", found_at=FoundAt.CURB, what="crushed"),), "seen at the curb"),
        (
            (Unpacking(counted=(CountedItem(item="tray", quantity=1, condition="wet"),)),),
            "condition not good",
        ),
        ((Unpacking(counted=(CountedItem(item="tray", quantity=0),)),), "0 of 1 found"),
        (
            (
                Unpacking(
                    counted=(
                        CountedItem(item="tray", quantity=1, condition="Good."),
                        CountedItem(item="panel", quantity=1, condition="undamaged"),
                    )
                ),
            ),
            "nothing hidden was found",
        ),
    ],
)
def test_what_the_window_is_for(bodies: tuple[Body, ...], words: str) -> None:
    records = [record(f"r{n}", body) for n, body in enumerate(bodies)]
    ship = us()
    case = Case(facts(job_=job(shipment=(ship,)), records=records), AS_OF, NOW)
    assert words in situation(case, ship)
    hidden = "found" in words and "nothing" not in words.lower()
    assert bool(hidden_damage(case, ship)) is (hidden or "condition" in words)


def test_an_item_counted_in_two_unpackings_is_summed() -> None:
    items = (Item(id="tray", description="Tray", quantity=2),)
    halves = [Unpacking(counted=(CountedItem(item="tray", quantity=1, condition="good"),))] * 2
    records = [record(f"r{n}", body) for n, body in enumerate(halves)]
    ship = us()
    case = Case(facts(job_=job(shipment=(ship,), item=items), records=records), AS_OF, NOW)
    assert not hidden_damage(case, ship)


def stated(*bodies: Body, **terms: object) -> tuple[Case, Shipment]:
    records = [record(f"r{n}", body) for n, body in enumerate(bodies)]
    ship = us(**terms)
    return Case(facts(job_=job(shipment=(ship,)), records=records), AS_OF, NOW), ship


@pytest.mark.parametrize(
    "body,seen",
    [
        (Damage(item="tray", found_at=FoundAt.CURB, what="crushed"), True),
        (Damage(item="tray", found_at=FoundAt.UNPACKING, what="crushed"), False),
        (Delivery(signed_at=moment("2026-03-02"), cartons_received=3), True),
        (Delivery(signed_at=moment("2026-03-02"), cartons_received=4), False),
    ],
)
def test_damage_or_a_shortage_alone_could_be_seen_at_delivery(body: Body, seen: bool) -> None:
    """CMR Article 30(1): apparent loss or damage, which is either."""
    assert CONCERNS[APPARENT_DAMAGE](*stated(body)) is seen


@pytest.mark.parametrize(
    "signed,late,words",
    [
        ("2026-03-01 23:59", False, "to be expected by Mon 2026-03-02: not late."),
        ("2026-03-02 23:59", False, "to be expected by Mon 2026-03-02: not late."),
        ("2026-03-03 00:01", True, "to be expected by Mon 2026-03-02: late."),
        (None, False, "Whether it was late is not known"),
    ],
)
def test_late_is_after_the_day_to_be_expected(signed: str | None, late: bool, words: str) -> None:
    expected = moment("2026-03-02 12:00")
    bodies = [Delivery(signed_at=moment(signed))] if signed else []
    told, text = lateness(*stated(*bodies, reasonable_delivery=expected))
    assert told is late
    assert words in text
    assert lateness(*stated(DELIVERED))[0] is False, "no day to be expected is entered"


PANEL, TRAY = Item(id="panel", description="Panel"), Item(id="tray", description="Tray")


@pytest.mark.parametrize(
    "items,counted,looked",
    [
        ((PANEL, TRAY), {"panel": "good", "tray": "bowed"}, True),
        ((PANEL, TRAY), {"panel": "good"}, False),
        ((PANEL, TRAY), {"panel": "good", "tray": None}, False),  # counted, not looked at
        ((PANEL, replace(TRAY, shipment="other")), {"panel": "good"}, True),  # not of this one
        ((PANEL, replace(TRAY, shipment="other")), {"tray": "good"}, False),
        ((), {}, True),  # nothing listed: any unpacking will do
        ((), None, False),
        ((PANEL,), None, False),
    ],
)
def test_looked_at_is_every_item_of_the_shipment_with_its_condition(
    items: tuple[Item, ...], counted: dict[str, str | None] | None, looked: bool
) -> None:
    rows = tuple(
        CountedItem(item=name, quantity=1, condition=state)
        for name, state in (counted or {}).items()
    )
    ship = us()
    records = [] if counted is None else [record("u", Unpacking(shipment="main", counted=rows))]
    job_ = job(shipment=(replace(ship, id="other"), ship), item=items)
    job_ = replace(job_, item=tuple(replace(i, shipment=i.shipment or "main") for i in items))
    assert all_looked_at(Case(facts(job_=job_, records=records), AS_OF, NOW), ship) is looked


@pytest.mark.parametrize(
    "changed,why",
    [
        ({}, None),
        ({"sent": None, "received": "2026-06-02"}, None),  # received is a date too
        ({"states_disallowance": None}, "does not say that the letter disallows"),
        ({"sender": "adjuster"}, "does not say that it acts for the carrier"),
        ({"sender": "adjuster", "acts_for_carrier": True}, None),
        ({"how": "telephone"}, "spoken, not written"),
        ({"gives_reasons": False}, "does not say that it gives reasons"),
        ({"sent": None}, "no date"),
    ],
)
def test_a_letter_disallows_in_writing_with_reasons_for_the_carrier(
    changed: dict[str, object], why: str | None
) -> None:
    """49 USC 14706(e)(1) and (2): written notice, reasons, and by or for the carrier."""
    ship = us()
    told = why_no_disallowance(job(shipment=(ship,)), ship, letter(**changed))
    assert (told is None) if why is None else (told is not None and why in told)


def test_what_the_second_shipment_rests_on_is_its_own_table() -> None:
    ships = (us(id="a"), us(id="b", bill_date=moment("2026-02-26")))
    bodies = [Delivery(shipment="b", signed_at=moment("2026-03-02"), cartons_received=3)]
    (found,) = [
        t
        for t in all_of(apply(bodies, shipments=ships), "us-motor-claim-nondelivery-from-2016")
        if t.shipment == "b"
    ]
    assert [s.key_path for s in found.sources] == ["shipment[2].bill_date"]


def test_a_letter_to_nobody_that_job_toml_lists_is_told_by_its_id() -> None:
    told = one(apply([DELIVERED, claim("2026-03-05", to="nobody")]), DAMAGE).because
    assert "went to nobody, who is not entered as a carrier" in told[-1]


def test_what_met_a_limit_is_told_with_its_day() -> None:
    told = one(apply([DELIVERED, claim("2026-03-09")]), DAMAGE).because
    assert told[-1] == "Met by: Claim received on Mon 2026-03-09 (records/r1.toml)."


@pytest.mark.parametrize(
    "bodies,day",
    [
        # The first sign of several, whatever their words.
        (
            [
                Damage(item="tray", what="a", found_at=FoundAt.DRY_FIT, found=moment("2026-03-09")),
                Damage(item="tray", what="b", found_at=FoundAt.DRY_FIT, found=moment("2026-03-06")),
            ],
            "2026-03-06",
        ),
        # A piece missing at an unpacking, on the day of the unpacking.
        (
            [
                Unpacking(
                    began=moment("2026-03-05 08:00"),
                    counted=(CountedItem(item="tray", quantity=0),),
                )
            ],
            "2026-03-05",
        ),
        # Damage without a day of its own, found at an unpacking that has one.
        (
            [
                Damage(item="tray", what="split", found_at=FoundAt.UNPACKING),
                Unpacking(began=moment("2026-03-05 08:00"), ended=moment("2026-03-06 09:00")),
            ],
            "2026-03-05",
        ),
        ([Damage(item="tray", what="split", found_at=FoundAt.DRY_FIT)], None),
    ],
)
def test_found_is_the_first_day_on_which_something_wrong_is_on_record(
    bodies: list[Body], day: str | None
) -> None:
    term = OwnTerm(
        id="found",
        title="Notice of loss",
        duty=Duty.REPORT,
        runs_from=Start.DISCOVERY,
        length=Span(30, "calendar days"),
        source="Contract 7",
    )
    limit = one(apply([DELIVERED, *bodies], own_term=(term,)), "own-found")
    assert limit.started_on == (date.fromisoformat(day) if day else None)


def test_a_broker_is_known_by_its_role_or_as_the_shipments_broker() -> None:
    agent = Party(id="agent", name="Lanebridge", roles=(Role.INSTALLER,))
    job_ = job(party=(*job().party, agent))
    sent = [DELIVERED, claim("2026-03-05", to="agent")]
    told = " ".join(one(apply(sent, job_=job_, broker="agent"), DAMAGE).because)
    assert "Lanebridge, a broker" in told
    told = " ".join(one(apply(sent, job_=job_), DAMAGE).because)
    assert "Lanebridge, who is not entered as a carrier" in told


def test_a_sent_letter_is_told_with_its_day_or_as_not_dated() -> None:
    told = one(apply([DELIVERED, claim(sent="2026-03-03")]), DAMAGE).because
    assert "sent on Tue 2026-03-03, and no record" in " ".join(told)
    assert "not dated, and no record" in " ".join(one(apply([DELIVERED, claim()]), DAMAGE).because)


@pytest.mark.parametrize(
    "terms,to,rule",
    [
        (Terms.US_INTERSTATE_MOTOR, "hauler", "370.3(b)"),
        (Terms.US_INTERSTATE_MOTOR, "shop", "only what is in writing is counted here"),
        (Terms.CMR, "hauler", "only what is in writing is counted here"),
    ],
)
def test_the_rule_against_a_spoken_notice_is_the_carriers_only(
    terms: Terms, to: str, rule: str
) -> None:
    """49 CFR 370.3(b) binds claims on motor carriers; a seller is not one."""
    case, ship = stated(DELIVERED, claim("2026-03-04", to=to, how="phone"), terms=terms)
    word = CLAIM if to == "hauler" else TOLD_SELLER
    (miss,) = misses_of(case, ship, word)
    assert miss.why is Why.SPOKEN
    assert rule in miss.said
