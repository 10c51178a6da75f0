"""100,000 random dates: every clause against a second count that steps day by day.

The second count is tests/published/date_oracle.py, which knows neither claimkit nor the holidays
library; its holidays are a table typed by hand, checked here against python-dateutil.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta

import pytest
from dateutil.easter import easter
from dateutil.rrule import MO, TH, YEARLY, rrule

from claimkit.findings.limits.calendar import count_days, work_calendar
from claimkit.findings.limits.stage import apply_terms
from claimkit.model.case import Case
from claimkit.model.job import BillText, SaleTerms, Terms
from claimkit.model.quantities import Span
from claimkit.model.records import About, Delivery, Notice
from claimkit.rules import carriage
from claimkit.rules.carriage import CLAUSES
from tests.build import facts, job, moment, record, shipment
from tests.published import date_oracle as oracle
from tests.published.european_holidays import EASTER_SUNDAYS, FRENCH, GERMAN
from tests.published.us_federal_holidays import FEDERAL_HOLIDAYS, FIRST_DAY, LAST_DAY

ROW = {clause.id: clause for clause in CLAUSES}


def test_the_typed_table_is_what_the_statute_says() -> None:
    """5 USC 6103(a) and (b), EO 11582 s. 3(a), Pub. L. 117-17; python-dateutil as the calendar."""
    start, end = datetime(2010, 12, 1), datetime(2031, 1, 31)  # noqa: DTZ001 - dateutil wants naive
    days: set[date] = set()
    for rule in (
        {"bymonth": 1, "byweekday": MO(3)},  # Birthday of Martin Luther King, Jr.
        {"bymonth": 2, "byweekday": MO(3)},  # Washington's Birthday
        {"bymonth": 5, "byweekday": MO(-1)},  # Memorial Day
        {"bymonth": 9, "byweekday": MO(1)},  # Labor Day
        {"bymonth": 10, "byweekday": MO(2)},  # Columbus Day
        {"bymonth": 11, "byweekday": TH(4)},  # Thanksgiving Day
    ):
        days |= {d.date() for d in rrule(YEARLY, dtstart=start, until=end, **rule)}
    for month, day, first in (
        (1, 1, 2011),
        (6, 19, 2021),
        (7, 4, 2011),
        (11, 11, 2011),
        (12, 25, 2011),
    ):
        for year in range(first, 2032):
            fixed = date(year, month, day)
            moved = {6: fixed - timedelta(days=1), 7: fixed + timedelta(days=1)}
            days.add(moved.get(fixed.isoweekday(), fixed))
    typed = {d for d in FEDERAL_HOLIDAYS if FIRST_DAY <= d <= LAST_DAY}
    assert {d for d in days if FIRST_DAY <= d <= LAST_DAY} == typed
    assert len(typed) == 209  # 20 years of 10, 10 of Juneteenth, less New Year 2011, kept in 2010


def test_the_typed_easters_are_those_of_the_calendar() -> None:
    """python-dateutil computes Easter by its own method; the holidays are counted from it."""
    assert [easter(sunday.year) for sunday in EASTER_SUNDAYS] == list(EASTER_SUNDAYS)
    assert len(EASTER_SUNDAYS) == 20
    assert len(GERMAN) == 181  # nine a year, and Reformation Day of 2017
    assert len(FRENCH) == 220  # eleven a year; in none of these does Ascension fall on 8 May


# How each clause ends by the second count, and how many dates of it: the long periods cost the
# day-stepping count the most. Nine months, 60 and 30 days: Uniform Straight Bill of Lading and
# 49 CFR 370.5 and 370.9. Five business days: NMFC item 300135-A. Two years: 49 USC 14706(e)(1).
# Canada: Uniform Conditions of Carriage. CMR Articles 30 and 32. Montreal Convention Articles 31
# and 35. COGSA s. 3(6). The user's own periods are counted with the lengths of OWN_LENGTHS.
def same_day(day: date) -> date:
    return day


def months(count: int) -> Callable[[date], date]:
    return lambda day: oracle.after_months(day, count)


def days(count: int) -> Callable[[date], date]:
    return lambda day: oracle.after_days(day, count)


LAST: dict[str, tuple[int, Callable[[date], date]]] = {
    "us-motor-concealed-report": (37_000, lambda d: oracle.after_working_days(d, 5)),
    "us-motor-claim-damage": (8_000, months(9)),
    "us-motor-claim-nondelivery-from-2016": (2_000, months(9)),
    "us-motor-claim-nondelivery-before-2016": (2_000, months(9)),
    "us-motor-acknowledge": (6_000, days(30)),
    "us-motor-dispose": (5_000, days(120)),
    "us-motor-status": (6_000, days(60)),
    "us-motor-suit": (1_500, months(24)),
    "us-motor-suit-and-day": (1_500, lambda d: oracle.after_days(oracle.after_months(d, 24), 1)),
    "ca-notice": (6_000, days(60)),
    "ca-notice-nondelivery": (1_000, months(9)),
    "ca-final-statement": (2_000, months(9)),
    "cmr-reserve-apparent": (1_000, same_day),
    "cmr-delay": (3_000, days(21)),
    "cmr-suit": (1_000, months(12)),
    "cmr-suit-total-loss": (500, months(12)),
    "montreal-notice": (3_000, days(14)),
    "montreal-delay": (1_000, days(21)),
    "montreal-suit": (500, months(24)),
    "montreal-suit-nondelivery": (500, months(24)),
    "cogsa-notice-apparent": (1_000, same_day),
    "cogsa-notice": (6_000, days(3)),
    "cogsa-suit": (1_000, months(12)),
    "cogsa-suit-nondelivery": (500, months(12)),
    "sale-report": (1_500, lambda d: oracle.after_working_days(d, 3)),
    "sale-reject": (1_500, days(10)),
}
# The two whose end no single calendar gives: counted in test_reservations_by_place below.
BY_PLACE = {"cmr-reserve-hidden": (GERMAN, FRENCH)}
WITHOUT_A_NUMBER = {"sale-reasonable-time"}
OWN_LENGTHS = {
    "sale-report": Span(3, "business days"),
    "sale-reject": Span(10, "calendar days"),
}
BUSINESS_DAYS = {"us-motor-concealed-report": 5, "sale-report": 3}


def test_every_clause_is_counted_and_the_dates_are_a_hundred_thousand() -> None:
    assert set(LAST) | set(BY_PLACE) | WITHOUT_A_NUMBER == set(ROW)
    assert sum(count for count, _ in LAST.values()) == 100_000
    assert {i for i, c in ROW.items() if c.span.unit == carriage.NO_NUMBER} == WITHOUT_A_NUMBER
    assert {i for i, c in ROW.items() if c.endpoint == carriage.SUNDAYS_EXCEPTED} == set(BY_PLACE)
    paper = {i for i, c in ROW.items() if c.span.unit == carriage.PAPER_STATES}
    assert paper == set(OWN_LENGTHS)


def nearest_by_hand(start: date, nominal: date, careful: date | None) -> date:
    """The day to act by, where the plain rule may leave no working day from the event on."""
    strict = oracle.act_by(nominal, careful)
    if strict >= start:
        return strict
    first = start
    while not oracle.is_working(first):
        first += oracle.TOMORROW
    if first <= nominal:
        return first
    last = nominal
    while not oracle.is_working(last):
        last -= oracle.TOMORROW
    return last


@pytest.mark.parametrize("name", LAST)
def test_random_dates(name: str) -> None:
    clause, (how_many, last) = ROW[name], LAST[name]
    span = OWN_LENGTHS.get(name, clause.span)
    calendar = work_calendar("US")
    chosen = random.Random(f"claimkit {name}")
    latest = date(2028, 12, 1) if span.unit == "years" else date(2030, 3, 1)
    wrong = []
    for _ in range(how_many):
        start = FIRST_DAY + timedelta(days=chosen.randrange(8, (latest - FIRST_DAY).days))
        ours = count_days(span, start, calendar, clause.endpoint, clause.cautious)
        nominal = last(start)
        careful = None
        if name in BUSINESS_DAYS:
            careful = oracle.careful_working_days(start, BUSINESS_DAYS[name])
        expected = (nominal, nearest_by_hand(start, nominal, careful))
        if (ours.nominal, ours.act_by) != expected:
            wrong.append((start, ours, expected))
    assert not wrong, wrong[:5]


@pytest.mark.parametrize("country,holidays", [("DE", GERMAN), ("FR", FRENCH)])
def test_reservations_by_place(country: str, holidays: frozenset[date]) -> None:
    """CMR Article 30(1): the public holidays of the place of delivery are not counted."""
    clause = ROW["cmr-reserve-hidden"]
    calendar = work_calendar(country)
    chosen = random.Random(f"claimkit cmr {country}")
    first, last = date(2011, 1, 10), date(2030, 12, 1)
    for _ in range(5_000):
        start = first + timedelta(days=chosen.randrange((last - first).days))
        ours = count_days(clause.span, start, calendar, clause.endpoint, clause.cautious)
        nominal = oracle.after_days_without_sundays(start, 7, holidays)
        strict = oracle.act_by(nominal, None, holidays)
        assert strict >= start  # seven such days always leave a working day
        assert (ours.nominal, ours.act_by) == (nominal, strict), start


@pytest.mark.parametrize("name", sorted(OWN_LENGTHS))
def test_the_users_own_lengths_come_through_the_whole_stage(name: str) -> None:
    sale = SaleTerms(
        report_within=OWN_LENGTHS["sale-report"], reject_within=OWN_LENGTHS["sale-reject"]
    )
    chosen = random.Random(f"claimkit own {name}")
    for _ in range(50):
        start = date(2015, 1, 1) + timedelta(days=chosen.randrange(5000))
        facts_ = facts(
            job_=job(sale=sale), records=[record("d", Delivery(signed_at=moment(f"{start} 08:00")))]
        )
        limits = apply_terms(Case(facts_, start, datetime(2026, 1, 1, tzinfo=UTC))).limits
        (limit,) = [t for t in limits if t.clause.id == name]
        assert limit.nominal == LAST[name][1](start)


def test_random_jobs_through_the_whole_stage() -> None:
    """The same, from records of a job: delivery to claim to the carrier's three duties."""
    chosen = random.Random("claimkit jobs")
    for _ in range(300):
        delivered = date(2017, 1, 1) + timedelta(days=chosen.randrange(4000))
        filed = delivered + timedelta(days=chosen.randrange(200))
        clock = f"{chosen.randrange(24):02}:{chosen.randrange(60):02}"
        shipment_ = shipment(
            terms=Terms.US_INTERSTATE_MOTOR,
            classification_applies=True,
            bill_text=chosen.choice(list(BillText)),
        )
        claim = Notice(
            about=About.CLAIM, sender="us", to="hauler", received=moment(f"{filed} {clock}")
        )
        delivery = Delivery(signed_at=moment(f"{delivered} {clock}"))
        records = [record("d", delivery), record("n", claim)]
        facts_ = facts(job_=job(shipment=(shipment_,)), records=records)
        case = Case(facts_, filed, datetime(2026, 1, 1, tzinfo=UTC))
        found = {}
        for limit in apply_terms(case).limits:
            found.setdefault(limit.clause.id, []).append((limit.nominal, limit.act_by))
        report, damage = oracle.after_working_days(delivered, 5), oracle.after_months(delivered, 9)
        careful = oracle.careful_working_days(delivered, 5)
        assert found["us-motor-concealed-report"] == [(report, oracle.act_by(report, careful))]
        assert found["us-motor-claim-damage"] == [(damage, oracle.act_by(damage))]
        due = [oracle.after_days(filed, days) for days in (30, 120, 180, 240, 300)]
        duties = ["us-motor-acknowledge", "us-motor-dispose", "us-motor-status"]
        counted = [days for name in duties for days in found[name]]
        assert counted == [(day, oracle.act_by(day)) for day in due]
