"""The table of a site's holidays that is kept with its job says what the holidays library says.

The library (python-holidays) is the oracle: a table that is a day or a year short would move a
time limit in silence.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import holidays
import pytest

from claimkit.findings.limits.calendar import CannotCount, site_calendar, work_calendar
from claimkit.rules import public_holidays
from claimkit.rules.public_holidays import table
from tests.build import facts, job

YEAR = 2026


def at(country: str, part: str | None, *, year: int = YEAR):
    """Facts of a job at a place, with the table that is read with it."""
    built = job()
    built = replace(built, site=replace(built.site, country=country, subdivision=part))
    return replace(facts(job_=built), holidays=table(country, part, year))


@pytest.mark.parametrize(
    "country, part", [("US", None), ("US", "TX"), ("DE", "BY"), ("CA", "ON"), ("GB", "SCT")]
)
def test_every_day_is_what_the_library_says(country: str, part: str | None) -> None:
    found = site_calendar(at(country, part))
    oracle = holidays.country_holidays(country, subdiv=part, language="en_US")
    first, last = date(YEAR - 4, 1, 1), date(YEAR + 5, 12, 31)  # past both ends of the table
    for n in range((last - first).days + 1):
        day = first + timedelta(days=n)
        assert found.holiday(day) == oracle.get(day), day
    assert found.basis == work_calendar(country, part).basis


def test_days_within_the_table_ask_no_library(monkeypatch: pytest.MonkeyPatch) -> None:
    calendar = site_calendar(at("US", None))

    def asked(*_place: object) -> str | None:
        raise AssertionError("the library was asked")

    monkeypatch.setattr(public_holidays, "holiday", asked)
    within = (date(YEAR - public_holidays.BEFORE, 1, 1), date(YEAR + public_holidays.AFTER, 12, 31))
    assert [calendar.holiday(day) for day in within] == ["New Year's Day", None]
    for day in (within[0] - timedelta(days=1), within[1] + timedelta(days=1)):
        with pytest.raises(AssertionError, match="library was asked"):
            calendar.holiday(day)


def test_a_table_of_another_place_is_not_used() -> None:
    """job.toml was changed after the table was made."""
    moved = replace(at("DE", "BY"), holidays=table("US", None, YEAR))
    assert site_calendar(moved).holiday(date(2026, 7, 4)) is None
    assert site_calendar(moved).holiday(date(2026, 1, 6)) == "Epiphany"  # in Bavaria


def test_a_year_at_the_end_of_what_the_library_knows() -> None:
    calendar = site_calendar(at("US", None, year=2099))
    assert calendar.holiday(date(2100, 12, 25)) == "Christmas Day"
    with pytest.raises(CannotCount, match="2101"):
        calendar.holiday(date(2101, 1, 3))


def test_a_place_that_is_not_known_has_no_table_and_says_so() -> None:
    assert table("US", "Nowhere", YEAR) is None
    with pytest.raises(CannotCount, match="Nowhere are not known: write one of"):
        site_calendar(at("US", "Nowhere"))
    with pytest.raises(CannotCount, match=r"job\.toml could not be read"):
        site_calendar(replace(at("US", None), job=None))
