"""Fourteen worked cases of freight-claim law, through the whole stage and by a second count.

The dates were worked out by hand from the rules named in each test and typed; the day-stepping
count of tests/published/date_oracle.py must give them too, so that the second count is itself
tied to the table. Holidays: US federal, as observed (5 USC 6103(a)); case 13: Good Friday and
Easter Monday, public holidays in Germany, typed in tests/published/european_holidays.py.

Nom: five business days of NMFC item 300135-A, the delivery day not counted. NoHol: the same with
holidays ignored. Incl: the delivery day counted as the first. 5cal: five calendar days after
delivery. 9m: nine months, the corresponding day, clipped (R.P. Hazzard Co., 121 Me. 199 (1922)).
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, timezone

import pytest

from claimkit.findings.limits.calendar import WEEKDAYS_ONLY, count_days, nominal_day, work_calendar
from claimkit.findings.limits.stage import work_out
from claimkit.model.case import Case
from claimkit.model.job import BillText, Job, Shipment, Site, Terms
from claimkit.model.limit import LimitState, TimeLimit
from claimkit.model.moment import Moment, Precision
from claimkit.model.quantities import Span
from claimkit.model.records import About, Delivery, Notice, Record
from claimkit.rules.carriage import FIRST_DAY_COUNTS, PLAIN
from tests.build import facts, job, moment, record, shipment
from tests.published import date_oracle as oracle
from tests.published.european_holidays import GERMAN

REPORT, DAMAGE = "us-motor-concealed-report", "us-motor-claim-damage"
FIVE = Span(5, "business days")


def us_shipment(**more: object) -> Shipment:
    return shipment(terms=Terms.US_INTERSTATE_MOTOR, classification_applies=True, **more)


def limits(
    records: list[Record], as_of: date, shipment_: Shipment | None = None, **more: object
) -> dict[str, list[TimeLimit]]:
    """Work the limits out and give them by the id of their clause."""
    job_: Job = job(shipment=(shipment_ or us_shipment(),), **more)
    facts_ = facts(job_=job_, records=records)
    found: dict[str, list[TimeLimit]] = {}
    for limit in work_out(Case(facts_, as_of, datetime(2026, 1, 1, tzinfo=UTC))).limits:
        found.setdefault(limit.clause.id, []).append(limit)
    return found


def day(text: str | None) -> date | None:
    return date.fromisoformat(text) if text else None


# Each row: case, delivered, then Nom, NoHol, Incl, 5cal, careful "act by" and 9m where the case
# states them. The careful day of cases 1, 3, 5, 6, 7 is not stated there; it follows from the
# careful count and is typed in the second table below.
ROWS = [
    # The UTC date of 23:50 local is the next day and must not be used.
    (1, "2026-03-02 23:50", "2026-03-09", None, "2026-03-06", "2026-03-07", None, "2026-12-02"),
    # 4 July is a Saturday, observed on Friday 3 July.
    (2, "2026-07-01", "2026-07-09", "2026-07-08", None, None, "2026-07-06", "2027-04-01"),
    # Delivered on a Saturday: day 1 is Monday.
    (3, "2026-03-07", "2026-03-13", None, None, "2026-03-12", None, "2026-12-07"),
    # Thanksgiving; five calendar days end on a Sunday.
    (4, "2026-11-24", "2026-12-02", "2026-12-01", None, None, "2026-11-27", "2027-08-24"),
    # Christmas and New Year's Day.
    (5, "2026-12-24", "2027-01-04", "2026-12-31", None, None, None, "2027-09-24"),
    # February has no day 31: clipped.
    (6, "2026-05-31", "2026-06-05", None, None, None, None, "2027-02-28"),
    # The same in a leap year.
    (7, "2023-05-31", "2023-06-07", None, None, None, None, "2024-02-29"),
]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"case {row[0]}")
def test_cases_1_to_7(row: tuple[int, str, *tuple[str | None, ...]]) -> None:
    _, delivered, nom, no_hol, incl, cal5, careful, months9 = row
    records = [record("d", Delivery(signed_at=moment(str(delivered))))]
    found = limits(records, date.fromisoformat(str(delivered)[:10]))
    start = date.fromisoformat(str(delivered)[:10])
    assert found[REPORT][0].started_on == start
    assert found[REPORT][0].nominal == day(nom) == oracle.after_working_days(start, 5)
    assert found[DAMAGE][0].nominal == day(months9) == oracle.after_months(start, 9)
    if no_hol:
        assert nominal_day(FIVE, start, PLAIN, WEEKDAYS_ONLY) == day(no_hol)
    if incl:
        before = start - timedelta(days=1)
        assert nominal_day(FIVE, before, PLAIN, work_calendar("US")) == day(incl)
    if cal5:
        assert oracle.after_days(start, 5) == day(cal5)
        five = Span(5, "calendar days")
        assert nominal_day(five, start, PLAIN, work_calendar("US")) == day(cal5)
    if careful:
        assert found[REPORT][0].act_by == day(careful) == oracle.careful_working_days(start, 5)


@pytest.mark.parametrize(
    "delivered,act_by",
    [
        ("2026-03-02", "2026-03-06"),  # 1: counted with the Monday it is Friday, and Sat 5cal
        ("2026-07-01", "2026-07-06"),  # 2: holidays ignored Tue 07-07; five calendar days Mon
        ("2026-03-07", "2026-03-12"),  # 3: five calendar days, a Thursday
        ("2026-11-24", "2026-11-27"),  # 4: five calendar days end on Sunday, so Friday
        ("2026-12-24", "2026-12-29"),  # 5: five calendar days, a Tuesday
        # 6: both counts end on Friday 06-05, the last day itself. The careful count is then not
        # earlier than it, so the other rule holds: strictly before, Thursday.
        ("2026-05-31", "2026-06-04"),
        ("2023-05-31", "2023-06-05"),  # 7: five calendar days, a Monday
    ],
)
def test_careful_day_of_each(delivered: str, act_by: str) -> None:
    """By the careful count and "strictly before the last day"; typed by hand from those rules."""
    start = date.fromisoformat(delivered)
    days = count_days(FIVE, start, work_calendar("US"), cautious=FIRST_DAY_COUNTS)
    nominal = oracle.after_working_days(start, 5)
    careful = oracle.careful_working_days(start, 5)
    assert days.act_by == day(act_by) == oracle.act_by(nominal, careful)


def test_case_1_with_the_time_written_in_utc() -> None:
    """23:50 at the site is 05:50 UTC of the next day; the local date counts."""
    utc = datetime(2026, 3, 3, 5, 50, tzinfo=UTC)
    written = Moment(utc, "2026-03-03T05:50Z", Precision.MINUTE)
    found = limits([record("d", Delivery(signed_at=written))], date(2026, 3, 3))
    assert found[REPORT][0].started_on == date(2026, 3, 2)
    assert found[REPORT][0].nominal == date(2026, 3, 9)
    east = Moment(utc.astimezone(timezone(timedelta(hours=9))), "", Precision.MINUTE)
    found = limits([record("d", Delivery(signed_at=east))], date(2026, 3, 3))
    assert found[REPORT][0].started_on == date(2026, 3, 2)


def test_case_6_act_by_of_the_nine_months() -> None:
    found = limits([record("d", Delivery(signed_at=moment("2026-05-31")))], date(2026, 6, 1))
    assert found[DAMAGE][0].act_by == date(2027, 2, 26)  # Friday; the last day is a Sunday


def test_case_8_no_roll_over_a_weekend() -> None:
    """United Van Lines v. Anderson, 802 F. Supp. 1399 (D.S.C. 1992): the court went to Monday
    1992-01-06; the nominal day stays the Saturday.
    """
    found = limits([record("d", Delivery(signed_at=moment("1991-04-04")))], date(1991, 4, 5))
    limit = found[DAMAGE][0]
    assert limit.nominal == date(1992, 1, 4)
    assert limit.act_by == date(1992, 1, 3)  # Friday; 1992 lies outside the typed holiday table
    assert any("Anderson" in step for step in limit.steps())
    assert oracle.after_months(date(1991, 4, 4), 9) == date(1992, 1, 4)


@pytest.mark.parametrize(
    "text,clause,nominal,act_by",
    [
        # Text A runs from the reasonable time for delivery.
        (BillText.BEFORE_2016, "before-2016", "2026-12-10", "2026-12-09"),
        # Texts B and C run from the bill's date; the day is Thanksgiving, so Wednesday.
        (BillText.FROM_2016, "from-2016", "2026-11-26", "2026-11-25"),
        (BillText.FROM_2016_DAY, "from-2016", "2026-11-26", "2026-11-25"),
        # Not known: the stricter.
        (BillText.NOT_KNOWN, "from-2016", "2026-11-26", "2026-11-25"),
    ],
)
def test_case_9_not_delivered(text: BillText, clause: str, nominal: str, act_by: str) -> None:
    shipment_ = us_shipment(
        bill_date=moment("2026-02-26"),
        reasonable_delivery=moment("2026-03-10"),
        bill_text=text,
    )
    found = limits([], date(2026, 3, 20), shipment_)
    names = [name for name in found if "nondelivery" in name]
    assert names == [f"us-motor-claim-nondelivery-{clause}"]
    limit = found[names[0]][0]
    assert (limit.nominal, limit.act_by) == (day(nominal), day(act_by))
    start = date(2026, 3, 10) if clause == "before-2016" else date(2026, 2, 26)
    assert oracle.after_months(start, 9) == day(nominal)
    assert oracle.act_by(oracle.after_months(start, 9)) == day(act_by)
    assert any("strictest" in step for step in limit.because) is (text is BillText.NOT_KNOWN)


def test_case_10_the_carriers_duties() -> None:
    """49 CFR 370.5 (30 days) and 370.9 (120 days, then every 60)."""
    claim = Notice(about=About.CLAIM, sender="us", to="hauler", received=moment("2026-03-10 09:00"))
    found = limits([record("n", claim)], date(2026, 3, 11))
    assert [t.nominal for t in found["us-motor-acknowledge"]] == [date(2026, 4, 9)]
    assert [t.nominal for t in found["us-motor-dispose"]] == [date(2026, 7, 8)]
    status = [date(2026, 9, 6), date(2026, 11, 5), date(2027, 1, 4)]
    assert [t.nominal for t in found["us-motor-status"]] == status
    received = date(2026, 3, 10)
    assert [oracle.after_days(received, d) for d in (30, 120)] == [
        date(2026, 4, 9),
        date(2026, 7, 8),
    ]
    assert [oracle.after_days(received, d) for d in (180, 240, 300)] == status


@pytest.mark.parametrize(
    "text,nominal",
    [
        (BillText.FROM_2016, "2026-02-28"),  # exactly two years, clipped
        (BillText.NOT_KNOWN, "2026-02-28"),  # the stricter
        (BillText.BEFORE_2016, "2026-03-01"),  # the bill's own text adds a day
        (BillText.FROM_2016_DAY, "2026-03-01"),
    ],
)
def test_case_11_suit(text: BillText, nominal: str) -> None:
    """49 USC 14706(e)(1): two years from written notice of disallowance."""
    letter = Notice(
        about=About.DISALLOWANCE,
        sender="hauler",
        to="us",
        how="letter",
        sent=moment("2024-02-29"),
        states_disallowance=True,
        gives_reasons=True,
    )
    found = limits([record("n", letter)], date(2024, 3, 1), us_shipment(bill_text=text))
    suit = next(t for name, ts in found.items() if "suit" in name for t in ts)
    assert suit.nominal == day(nominal)
    assert suit.state is LimitState.RUNNING
    end = oracle.after_months(date(2024, 2, 29), 24)
    assert day(nominal) in (end, oracle.after_days(end, 1))


def test_case_11_an_offer_starts_nothing() -> None:
    """49 USC 14706(e)(2): a compromise offer alone is no disallowance."""
    offer = Notice(about=About.OFFER, sender="hauler", to="us", sent=moment("2024-02-29"))
    found = limits([record("n", offer)], date(2024, 3, 1))
    suit = found["us-motor-suit"][0]
    assert suit.state is LimitState.NOT_STARTED
    assert suit.nominal is None
    assert suit.act_by is None
    assert any("14706(e)(2)" in step for step in suit.because)


def at(zone: str, country: str) -> dict[str, object]:
    return {"site": Site(address="1 Yard Road", zone=zone, country=country)}


def counted(found: dict[str, list[TimeLimit]]) -> dict[str, str]:
    return {name: str(t.nominal) for name, ts in found.items() for t in ts if t.nominal}


def test_case_12_canada() -> None:
    """Uniform Conditions of Carriage: 60 days from delivery, 9 months from shipment."""
    shipment_ = shipment(terms=Terms.CANADA, shipped=moment("2026-04-29"))
    records = [record("d", Delivery(signed_at=moment("2026-05-04 09:00")))]
    found = limits(records, date(2026, 5, 5), shipment_, **at("America/Toronto", "CA"))
    assert counted(found) == {"ca-notice": "2026-07-03", "ca-final-statement": "2027-01-29"}
    assert oracle.after_days(date(2026, 5, 4), 60) == date(2026, 7, 3)
    assert oracle.after_months(date(2026, 4, 29), 9) == date(2027, 1, 29)
    # Friday is the last day of both, and no roll: Thursday.
    assert found["ca-notice"][0].act_by == date(2026, 7, 2)
    assert found["ca-final-statement"][0].act_by == date(2027, 1, 28)


def test_case_12_canada_not_delivered() -> None:
    """On failure to deliver the notice runs from the shipment too."""
    shipment_ = shipment(terms=Terms.CANADA, shipped=moment("2026-04-29"))
    found = limits([], date(2026, 6, 1), shipment_, **at("America/Toronto", "CA"))
    assert counted(found) == {
        "ca-notice-nondelivery": "2027-01-29",
        "ca-final-statement": "2027-01-29",
    }
    assert found["ca-notice"][0].state is LimitState.NOT_STARTED


def test_case_13_cmr() -> None:
    """CMR Articles 30 and 32; days counted to the seventh: 2, 4, 7, 8, 9, 10 and 11 April."""
    records = [record("d", Delivery(signed_at=moment("2026-04-01 09:00", "Europe/Berlin")))]
    found = limits(
        records, date(2026, 4, 2), shipment(terms=Terms.CMR), **at("Europe/Berlin", "DE")
    )
    assert counted(found) == {
        "cmr-reserve-apparent": "2026-04-01",
        "cmr-reserve-hidden": "2026-04-11",
        "cmr-delay": "2026-04-22",
        "cmr-suit": "2027-04-01",
    }
    delivered = date(2026, 4, 1)
    assert oracle.after_days_without_sundays(delivered, 7, GERMAN) == date(2026, 4, 11)
    assert oracle.after_days(delivered, 21) == date(2026, 4, 22)
    assert oracle.after_months(delivered, 12) == date(2027, 4, 1)
    # Saturdays count for the last day, and are no working day to act on.
    assert found["cmr-reserve-hidden"][0].act_by == date(2026, 4, 10)


def test_case_13_in_a_place_without_those_holidays() -> None:
    """In the United States neither Good Friday nor Easter Monday is a federal holiday."""
    records = [record("d", Delivery(signed_at=moment("2026-04-01 09:00")))]
    found = limits(records, date(2026, 4, 2), shipment(terms=Terms.CMR))
    assert counted(found)["cmr-reserve-hidden"] == "2026-04-09"


def test_case_14_air_and_sea() -> None:
    """Montreal Convention Articles 31 and 35; COGSA s. 3(6)."""
    records = [record("d", Delivery(signed_at=moment("2026-06-08 09:00")))]
    found = limits(records, date(2026, 6, 9), shipment(terms=Terms.MONTREAL))
    assert counted(found) == {
        "montreal-notice": "2026-06-22",
        "montreal-delay": "2026-06-29",
        "montreal-suit": "2028-06-08",
    }
    found = limits(records, date(2026, 6, 9), shipment(terms=Terms.COGSA))
    assert counted(found) == {
        "cogsa-notice-apparent": "2026-06-08",
        "cogsa-notice": "2026-06-11",
        "cogsa-suit": "2027-06-08",
    }
    start = date(2026, 6, 8)
    assert [oracle.after_days(start, d) for d in (14, 3)] == [day("2026-06-22"), day("2026-06-11")]
    assert [oracle.after_months(start, m) for m in (24, 12)] == [
        day("2028-06-08"),
        day("2027-06-08"),
    ]
