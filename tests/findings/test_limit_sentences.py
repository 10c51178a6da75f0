"""What a limit says of itself and what it is about: each only where its fact is so.

Delivered on Monday 2026-03-02 unless a row says otherwise. Days were counted by hand on a printed
calendar; the rule or the paper that each follows is named beside it.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from claimkit.findings.limits.conditions import (
    CONCERNS,
    hidden_damage,
    noted_on_receipt,
    short_at_curb,
    situation,
    under_uniform_code,
)
from claimkit.model.case import Case
from claimkit.model.job import Item, Shipment, Site, TermOverride, Terms
from claimkit.model.limit import LimitState
from claimkit.model.quantities import Span
from claimkit.model.records import (
    About,
    Body,
    CountedItem,
    Damage,
    Delivery,
    FoundAt,
    Notice,
    Unpacking,
)
from claimkit.rules.carriage import ANY_BREACH, HIDDEN_DAMAGE, LOSS_OR_DAMAGE, NON_DELIVERY
from tests.build import ZONE, case, facts, job, moment, record
from tests.findings.limit_build import (
    ACKNOWLEDGE,
    AS_OF,
    DAMAGE,
    DELIVERED,
    NOW,
    REPORT,
    STATUS,
    SUIT,
    all_of,
    apply,
    claim,
    letter,
    notice,
    one,
    us,
)

CRUSHED = Damage(item="tray", found_at=FoundAt.CURB, what="crushed")
NONDELIVERY = "us-motor-claim-nondelivery-from-2016"


def of(ship: Shipment, *bodies: Body, as_of: date = AS_OF) -> tuple[Case, Shipment]:
    records = [record(f"r{n}", body) for n, body in enumerate(bodies)]
    return Case(facts(job_=job(shipment=(ship,)), records=records), as_of, NOW), ship


# What the day to act by rests on


@pytest.mark.parametrize(
    "clause,span,act_by,says,says_not",
    [
        # Five business days, the first being the Monday itself: Friday.
        (REPORT, None, "2026-03-06", "the last working day by Fri 2026-03-06", "at once"),
        (REPORT, None, "2026-03-06", "Careful count", "Do not count on its moving"),
        # 24 hours end on Tuesday; the working day before that is the day of the delivery.
        (REPORT, Span(24, "hours"), "2026-03-02", "at once, as no later working day", "Careful"),
        # 48 hours end on Wednesday.
        (REPORT, Span(48, "hours"), "2026-03-03", "last working day before Wed", "at once"),
        # Five days end on a Saturday.
        (REPORT, Span(5, "calendar days"), "2026-03-06", "Sat 2026-03-07 is a weekend", "Careful"),
        # Nine months, 49 USC 14706(e)(1), end on a Wednesday.
        (DAMAGE, None, "2026-12-01", "last working day before Wed 2026-12-02", "Do not count on"),
    ],
)
def test_the_day_to_act_by_says_why(
    clause: str, span: Span | None, act_by: str, says: str, says_not: str
) -> None:
    own = (TermOverride(clause=clause, length=span, source="Tariff"),) if span else ()
    limit = one(apply([DELIVERED], override=own, as_of=date(2026, 3, 2)), clause)
    told = " ".join(limit.act_because)
    assert str(limit.act_by) == act_by
    assert says in told
    assert says_not not in told
    assert f"Act by {limit.act_by:%a %Y-%m-%d}" in told


def test_the_carriers_day_is_one_to_remind_and_is_never_missed_by_us() -> None:
    """49 CFR 370.5(a): 30 days from receipt on 2026-03-03 end on Thursday 04-02."""
    limit = one(apply([DELIVERED, claim("2026-03-03")], as_of=date(2026, 4, 2)), ACKNOWLEDGE)
    assert (limit.nominal, limit.act_by) == (date(2026, 4, 2), date(2026, 4, 1))
    assert limit.state is LimitState.RUNNING
    assert "Remind the carrier by Wed 2026-04-01" in " ".join(limit.act_because)
    # From 03-05 they end on Saturday 04-04: no court's word on the user's own days is quoted.
    limit = one(apply([DELIVERED, claim("2026-03-05")]), ACKNOWLEDGE)
    assert limit.nominal == date(2026, 4, 4)
    assert "Do not count on" not in " ".join(limit.act_because)


# What a limit says of its event and of what met it


@pytest.mark.parametrize("bill,after", [("2026-03-09", 0), ("2026-03-10", 0), ("2026-03-11", 1)])
def test_an_event_after_the_legal_day_is_told(bill: str, after: int) -> None:
    short = Delivery(signed_at=moment("2026-03-02"), cartons_received=3)
    limit = one(apply([short], bill_date=moment(bill), as_of=date(2026, 3, 10)), NONDELIVERY)
    assert sum("lies after the legal day" in step for step in limit.because) == after


@pytest.mark.parametrize(
    "received,late",
    [("2026-03-02", False), ("2026-12-02", False), ("2026-12-03", True)],
)
def test_what_met_it_is_told_as_late_only_after_the_last_day(received: str, late: bool) -> None:
    limit = one(apply([DELIVERED, claim(received)], as_of=date(2026, 12, 31)), DAMAGE)
    assert limit.state is (LimitState.MET_LATE if late else LimitState.MET)
    assert ("after the last day, Wed 2026-12-02" in limit.because[-1]) is late


def test_a_delay_is_told_with_both_days() -> None:
    """CMR Article 30(3)."""
    late = moment("2026-02-27")
    limit = one(apply([DELIVERED], terms=Terms.CMR, reasonable_delivery=late), "cmr-delay")
    assert "Delivered on Mon 2026-03-02, to be expected by Fri 2026-02-27: late." in limit.because


def test_a_reasonable_time_is_met_by_a_notice_and_has_no_day() -> None:
    """UCC 2-607(3)(a)."""
    told = notice(About.DAMAGE_NOTICE, to="shop", received="2026-03-04")
    limit = one(apply([DELIVERED, CRUSHED, told]), "sale-reasonable-time")
    assert (limit.state, limit.met_on, limit.nominal) == (LimitState.MET, date(2026, 3, 4), None)
    assert limit.because[-1].startswith("Met by: Notice of loss or damage received")
    assert limit.sources[-1].path == "records/r2.toml"
    limit = one(apply([DELIVERED, CRUSHED]), "sale-reasonable-time")
    assert (limit.state, limit.met_on) == (LimitState.NO_DATE, None)


def test_a_delivery_of_nothing_hides_no_later_one() -> None:
    none = Delivery(signed_at=moment("2026-02-27 09:00"), units_received=0)
    assert one(apply([none, DELIVERED]), DAMAGE).started_on == date(2026, 3, 2)


def test_the_truck_is_named_only_where_it_came_on_an_earlier_day() -> None:
    same = Delivery(arrived=moment("2026-03-02 08:00"), signed_at=moment("2026-03-02 09:30"))
    assert "The truck was there" not in one(apply([same]), DAMAGE).because[0]


def test_two_records_of_one_day_are_both_told_and_the_earlier_day_is_careful() -> None:
    again = Delivery(
        arrived=moment("2026-03-01 23:00"),
        signed_at=moment("2026-03-02 00:30"),
        refused="one carton, wet",
    )
    limit = one(apply([again, DELIVERED]), REPORT)
    assert "records/r0.toml" in limit.because[0]
    assert "records/r1.toml" in limit.because[0]
    assert "Something was refused" in limit.because[0]
    # From Sunday 03-01 both counts end on Friday 03-06, so the working day before: Thursday.
    assert limit.act_by == date(2026, 3, 5)
    assert "careful count starts there" in limit.because[0]


def test_the_first_of_several_claims_counts() -> None:
    bodies = [DELIVERED, claim("2026-03-05"), claim("2026-03-04"), claim("2026-03-09")]
    limit = one(apply(bodies), ACKNOWLEDGE)
    assert limit.started_on == date(2026, 3, 4)
    assert "2 later; the first one counts here." in limit.because[0]
    assert "later" not in one(apply(bodies[:2]), ACKNOWLEDGE).because[0]


@pytest.mark.parametrize(
    "letters,day,says,says_not",
    [
        # Sent counts; where two letters disallow, the earlier, however its day is known.
        (
            [letter("2026-06-01"), letter(None, received="2026-06-05")],
            "2026-06-01",
            "stricter reading of 49 USC 14706(e)(1)",
            "(records/r0.toml: received)",
        ),
        (
            [letter(None, received="2026-06-05")],
            "2026-06-05",
            "(records/r0.toml: received)",
            "stricter reading",
        ),
    ],
)
def test_a_suit_runs_from_the_first_letter_that_disallows(
    letters: list[Notice], day: str, says: str, says_not: str
) -> None:
    limit = one(apply(letters, as_of=date(2026, 7, 1)), SUIT)
    assert str(limit.started_on) == day
    assert says in limit.because[0]
    assert says_not not in limit.because[0]


def test_only_offers_and_refusals_are_told_to_start_no_suit() -> None:
    """49 USC 14706(e)(2): an offer is no disallowance."""
    offer = notice(About.OFFER, to="us", sender="hauler", sent="2026-03-05")
    other = notice(About.ACKNOWLEDGEMENT, to="us", sender="hauler", sent="2026-03-05")
    ours = notice(About.OFFER, sent="2026-03-05")
    told = one(apply([DELIVERED, other, offer, ours]), SUIT).because
    said = [step for step in told if "starts no suit period" in step]
    assert [step.split()[0] for step in said] == ["records/r2.toml"]
    assert said[0].endswith("(49 USC 14706(e)(2)).")


@pytest.mark.parametrize(
    "sent,states",
    [
        # Periods of 60 days end on 08-30, 10-29 and 12-28.
        ("2026-08-30", [LimitState.MET, LimitState.PASSED]),  # its last day, and no day of the next
        ("2026-08-31", [LimitState.MET_LATE, LimitState.MET]),
        ("2026-10-29", [LimitState.MET_LATE, LimitState.MET]),
    ],
)
def test_a_status_on_the_last_day_is_of_that_period(sent: str, states: list[LimitState]) -> None:
    """49 CFR 370.9(b): 120 days from receipt on 2026-03-03 end on 07-01, then each 60 days."""
    told = notice(About.STATUS, to="us", sender="hauler", sent=sent)
    found = apply([DELIVERED, claim("2026-03-03"), told], as_of=date(2026, 11, 20))
    limits = all_of(found, STATUS)
    assert [str(t.nominal) for t in limits] == ["2026-08-30", "2026-10-29", "2026-12-28"]
    assert [t.state for t in limits[:2]] == states
    early = all_of(apply([DELIVERED, claim("2026-03-03")]), STATUS)
    assert not [b for t in early for b in t.because if "lies after the legal day" in b]


def test_what_stands_beside_a_limit_is_told_once_and_with_why() -> None:
    # A claim that was sent starts no duty of the carrier's: that it is not shown received.
    told = one(apply([DELIVERED, claim(sent="2026-03-03")]), ACKNOWLEDGE).because
    assert "no record says that it was received" in told[-1]
    told = one(apply([DELIVERED, claim("2026-03-11")]), DAMAGE).because
    assert "received on Wed 2026-03-11, after the legal day, 2026-03-10" in told[-1]
    bodies = [DELIVERED, claim("2026-03-03"), claim("2026-03-04"), claim("2026-03-11")]
    told = one(apply(bodies), REPORT).because
    assert sum("On record beside it" in step for step in told) == 1
    assert "records/r1.toml" in told[-1]


def test_a_named_carrier_needs_no_role_to_be_one() -> None:
    party = tuple(replace(p, roles=()) if p.id == "hauler" else p for p in job().party)
    limit = one(apply([DELIVERED, claim("2026-03-05")], job_=job(party=party)), DAMAGE)
    assert limit.state is LimitState.MET


# What the facts of a shipment amount to


@pytest.mark.parametrize(
    "bodies,bill,points",
    [
        ([Delivery(cartons_received=3)], {}, []),  # nobody says how many there should be
        (
            [Delivery(cartons_expected=4, cartons_received=3)],
            {},
            [("3 of 4 cartons received", "cartons_received")],
        ),
        # Two deliveries of one promise are added.
        ([Delivery(cartons_expected=4, cartons_received=2), Delivery(cartons_received=2)], {}, []),
        # One that was not counted may have brought the rest.
        ([Delivery(cartons_expected=4, cartons_received=2), Delivery()], {}, []),
        (
            [Delivery(units_expected=2, units_received=1)],
            {},
            [("1 of 2 handling units received", "units_received")],
        ),
        # The bill of lading decides over the delivery paper.
        (
            [Delivery(cartons_expected=3, cartons_received=3)],
            {"cartons": 4},
            [("3 of 4 cartons received", "cartons_received")],
        ),
        ([Delivery(cartons_expected=4, cartons_received=4)], {"cartons": 4}, []),
    ],
)
def test_short_is_what_every_delivery_together_lacks(
    bodies: list[Body], bill: dict[str, int], points: list[tuple[str, str]]
) -> None:
    ship = us(**({"cartons": None, "handling_units": None} | bill))
    found = short_at_curb(*of(ship, *bodies))
    assert [(text, source.key_path) for text, source in found] == points


def test_damage_is_of_its_own_shipment() -> None:
    ships = (us(id="a"), us(id="b"))
    items = tuple(
        Item(id=name, description=name, shipment=ship)
        for name, ship in (("panel", "a"), ("tray", "b"))
    )
    records = [record("x", replace(CRUSHED, found_at=FoundAt.DRY_FIT))]
    found = Case(facts(job_=job(shipment=ships, item=items), records=records), AS_OF, NOW)
    assert not hidden_damage(found, ships[0])
    assert hidden_damage(found, ships[1])
    assert [CONCERNS[LOSS_OR_DAMAGE](found, ship) for ship in ships] == [False, True]


def test_an_item_counted_without_its_condition_shows_no_damage() -> None:
    counted = Unpacking(counted=(CountedItem(item="tray", quantity=1),))
    assert hidden_damage(*of(us(), counted)) == ()


def test_damage_at_the_curb_is_damage() -> None:
    assert CONCERNS[LOSS_OR_DAMAGE](*of(us(), CRUSHED))
    assert CONCERNS[ANY_BREACH](*of(us(), CRUSHED))
    assert not CONCERNS[LOSS_OR_DAMAGE](*of(us()))


@pytest.mark.parametrize(
    "words,noted,says",
    [
        ("1 of 4 cartons, lower left corner crushed 4 in", True, "needs no report here"),
        ("subject to inspection", False, "the carrier may treat it as concealed"),
    ],
)
def test_damage_seen_at_the_curb_is_reported_unless_the_receipt_states_it(
    words: str, noted: bool, says: str
) -> None:
    """NMFC item 300135: concealed is what was not noted at delivery."""
    ship = us(id="main")
    bodies = [replace(DELIVERED, words=words, signed=True, shipment="main"), CRUSHED]
    records = [record(f"r{n}", body) for n, body in enumerate(bodies)]
    found = case(facts(job_=job(shipment=(ship,)), records=records), AS_OF)
    assert noted_on_receipt(found, ship) is noted
    assert not noted_on_receipt(found, replace(ship, id="other"))
    assert CONCERNS[HIDDEN_DAMAGE](found, ship) is not noted
    assert says in situation(found, ship)


@pytest.mark.parametrize(
    "bodies,expected,as_of,missing",
    [
        ([], "2026-03-10", "2026-03-09", False),
        ([], "2026-03-10", "2026-03-10", False),  # the day itself may still bring them
        ([], "2026-03-10", "2026-03-11", True),
        ([], None, "2026-03-09", False),  # no day is known at all
        ([Unpacking()], "2026-03-10", "2026-03-11", False),  # unpacked, so it came
        ([CRUSHED], "2026-03-10", "2026-03-11", False),  # found damaged, so it came
        ([Delivery(cartons_received=3)], "2026-03-10", "2026-03-09", True),  # came, and short
        ([Delivery(cartons_received=4)], "2026-03-10", "2026-03-11", False),
        ([Delivery(units_received=0)], None, "2026-03-09", True),
    ],
)
def test_goods_are_missing_once_they_were_to_be_expected(
    bodies: list[Body], expected: str | None, as_of: str, missing: bool
) -> None:
    ship = us(reasonable_delivery=moment(expected) if expected else None)
    found = of(ship, *bodies, as_of=date.fromisoformat(as_of))
    assert CONCERNS[NON_DELIVERY](*found) is missing


@pytest.mark.parametrize(
    "days,as_of,missing",
    [
        # CMR Article 20(1), from memory: not delivered within 60 days from the taking over.
        ({"shipped": "2026-01-05"}, "2026-03-06", False),  # day 60, counted on a calendar
        ({"shipped": "2026-01-05"}, "2026-03-07", True),
        ({"bill_date": "2026-01-05"}, "2026-03-06", False),
        ({"bill_date": "2026-01-05"}, "2026-03-07", True),
        ({"bill_date": "2026-01-02", "shipped": "2026-01-05"}, "2026-03-06", False),
        # A day that is stated counts alone, earlier or later.
        ({"shipped": "2026-01-05", "reasonable_delivery": "2026-01-09"}, "2026-01-10", True),
        ({"shipped": "2026-01-05", "reasonable_delivery": "2026-03-31"}, "2026-03-07", False),
    ],
)
def test_where_no_day_is_stated_sixty_days_on_the_road_are_waited_for(
    days: dict[str, str], as_of: str, missing: bool
) -> None:
    found = of(us(**{k: moment(v) for k, v in days.items()}), as_of=date.fromisoformat(as_of))
    assert CONCERNS[NON_DELIVERY](*found) is missing


@pytest.mark.parametrize(
    "country,part,under",
    [
        ("US", None, True),
        ("US", "TX", True),
        ("US", "US-TX", True),
        ("US", "LA", False),
        ("US", "US-LA", False),
        ("US", "la", False),
        ("CA", None, False),
        ("CA", "QC", False),
    ],
)
def test_louisiana_alone_did_not_enact_article_2(
    country: str, part: str | None, under: bool
) -> None:
    """Uniform Commercial Code, article 2: enacted by every state but Louisiana (memory)."""
    site = Site(address="x", zone=ZONE, country=country, subdivision=part)
    assert under_uniform_code(Case(facts(job_=job(site=site)), AS_OF, NOW)) is under
