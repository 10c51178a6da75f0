"""100,000 random dates: every clause against a second count that steps day by day.

The second count is tests/published/date_oracle.py, which knows neither claimkit nor the holidays
library; its holidays are a table typed by hand, checked here against python-dateutil.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta

import pytest
from dateutil.rrule import MO, TH, YEARLY, rrule

from claimkit.findings.calendar import count_days, work_calendar
from claimkit.findings.limits import apply_terms
from claimkit.model.case import Case, Clause
from claimkit.model.job import BillText, Terms
from claimkit.model.records import About, Delivery, Notice
from claimkit.rules.carriage import CLAUSES
from tests.build import facts, job, moment, record, shipment
from tests.published import date_oracle as oracle
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


# Nine months, 60 and 30 days: Uniform Straight Bill of Lading and 49 CFR 370.5 and 370.9.
# Five business days: NMFC item 300135-A. Two years: 49 USC 14706(e)(1). How many dates of each:
# the long periods cost the day-stepping count the most.
LAST = {
    "us-motor-concealed-report": lambda d: oracle.after_working_days(d, 5),
    "us-motor-claim-damage": lambda d: oracle.after_months(d, 9),
    "us-motor-claim-nondelivery-from-2016": lambda d: oracle.after_months(d, 9),
    "us-motor-claim-nondelivery-before-2016": lambda d: oracle.after_months(d, 9),
    "us-motor-acknowledge": lambda d: oracle.after_days(d, 30),
    "us-motor-dispose": lambda d: oracle.after_days(d, 120),
    "us-motor-status": lambda d: oracle.after_days(d, 60),
    "us-motor-suit": lambda d: oracle.after_months(d, 24),
    "us-motor-suit-and-day": lambda d: oracle.after_days(oracle.after_months(d, 24), 1),
}
HOW_MANY = {
    "us-motor-concealed-report": 43_000,
    "us-motor-claim-damage": 12_000,
    "us-motor-claim-nondelivery-from-2016": 4_000,
    "us-motor-claim-nondelivery-before-2016": 4_000,
    "us-motor-acknowledge": 14_000,
    "us-motor-dispose": 7_000,
    "us-motor-status": 11_000,
    "us-motor-suit": 3_000,
    "us-motor-suit-and-day": 2_000,
}


def test_every_clause_is_counted_and_the_dates_are_a_hundred_thousand() -> None:
    assert set(LAST) == set(HOW_MANY) == set(ROW)
    assert sum(HOW_MANY.values()) == 100_000


@pytest.mark.parametrize("clause", CLAUSES, ids=lambda clause: clause.id)
def test_random_dates(clause: Clause) -> None:
    calendar = work_calendar("US")
    chosen = random.Random(f"claimkit {clause.id}")
    latest = date(2028, 12, 1) if clause.span.unit == "years" else date(2030, 3, 1)
    last: Callable[[date], date] = LAST[clause.id]
    wrong = []
    for _ in range(HOW_MANY[clause.id]):
        start = FIRST_DAY + timedelta(days=chosen.randrange(5, (latest - FIRST_DAY).days))
        ours = count_days(clause.span, start, calendar, clause.endpoint, clause.cautious)
        nominal = last(start)
        careful = None
        if clause.id == "us-motor-concealed-report":
            careful = oracle.careful_working_days(start, 5)
        expected = (nominal, oracle.act_by(nominal, careful))
        if (ours.nominal, ours.act_by) != expected:
            wrong.append((start, ours, expected))
    assert not wrong, wrong[:5]


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
