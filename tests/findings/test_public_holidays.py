"""Which calendar a job's site counts by, and the table of public holidays that it is read with.

The US days are the statute's, as typed in `tests.published`; a table of invented days shows which
of the two, table or library, was asked.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import holidays
import pytest

from claimkit.findings.limits.calendar import (
    CannotCount,
    WorkCalendar,
    counted,
    day_of_rest,
    no_calendar,
    nominal_day,
    site_calendar,
    work_calendar,
)
from claimkit.model.facts import Facts
from claimkit.model.holidays import PublicHolidays
from claimkit.model.quantities import Span
from claimkit.rules.carriage import AT_THE_EVENT, PLAIN
from claimkit.rules.public_holidays import NotKnown, basis, holiday, table
from tests.build import facts, job
from tests.published.us_federal_holidays import FEDERAL_HOLIDAYS


def day(text: str) -> date:
    return date.fromisoformat(text)


FOUNDING = (day("2026-03-02"), "Founding Day")
KEPT = PublicHolidays("US", None, 2025, 2027, (FOUNDING,), "Typed by hand.")


def at(country: str = "US", part: str | None = None, kept: PublicHolidays | None = KEPT) -> Facts:
    base = job()
    site = replace(base.site, country=country, subdivision=part)
    return replace(facts(job_=replace(base, site=site)), holidays=kept)


def test_the_table_that_was_read_with_the_job_is_asked_for_its_years() -> None:
    found = site_calendar(at())
    assert found.basis == "Typed by hand."
    assert found.holiday(day("2026-03-02")) == "Founding Day"
    # The table has no New Year's Day, and answers for its first and its last year.
    assert found.holiday(day("2025-01-01")) is None
    assert found.holiday(day("2027-12-24")) is None


def test_the_library_is_asked_for_other_years() -> None:
    found = site_calendar(at())
    assert found.holiday(day("2024-12-25")) == "Christmas Day"
    assert found.holiday(day("2028-12-25")) == "Christmas Day"
    with pytest.raises(CannotCount, match="2150"):
        found.holiday(day("2150-12-25"))


@pytest.mark.parametrize(
    "of",
    [
        at(kept=None),
        at(kept=replace(KEPT, country="CA")),
        at(kept=replace(KEPT, subdivision="TX")),
        at(part="CA"),
    ],
)
def test_a_table_of_another_place_is_not_asked(of: Facts) -> None:
    found = site_calendar(of)
    assert found.holiday(day("2026-03-02")) is None
    assert found.holiday(day("2026-12-25")) == "Christmas Day"
    assert "holidays library" in found.basis


def test_without_a_place_nothing_is_counted() -> None:
    with pytest.raises(CannotCount, match=r"job\.toml could not be read"):
        site_calendar(replace(at(), job=None))
    with pytest.raises(CannotCount, match="QQ are not known"):
        site_calendar(at("QQ"))


def test_a_table_holds_the_statutes_days_of_six_years() -> None:
    """5 USC 6103: every federal holiday as observed, and no working day beside them."""
    made = table("US", None, 2026)
    assert made is not None
    assert (made.country, made.subdivision) == ("US", None)
    assert (made.first_year, made.last_year) == (2024, 2029)
    weekdays = {day for day, _ in made.days if day.isoweekday() <= 5}
    assert weekdays == {d for d in FEDERAL_HOLIDAYS if 2024 <= d.year <= 2029}
    assert list(made.days) == sorted(made.days)
    assert made.basis == basis("US", None)


@pytest.mark.parametrize(
    "country, part", [("US", None), ("US", "TX"), ("DE", "BY"), ("CA", "ON"), ("GB", "SCT")]
)
def test_a_table_and_the_library_answer_alike(country: str, part: str | None) -> None:
    """Every day of ten years, past both ends of the table; the library is asked by itself."""
    found = site_calendar(at(country, part, table(country, part, 2026)))
    oracle = holidays.country_holidays(country, subdiv=part, language="en_US")
    for n in range(date(2022, 1, 1).toordinal(), date(2032, 1, 1).toordinal()):
        each = date.fromordinal(n)
        assert found.holiday(each) == oracle.get(each), each
    assert found.basis == work_calendar(country, part).basis


def test_a_table_ends_where_the_library_does() -> None:
    known = holidays.country_holidays("US")  # the years that the installed library covers
    first, last = known.start_year, known.end_year
    early, late = table("US", None, first), table("US", None, last)
    assert early is not None
    assert late is not None
    assert (early.first_year, early.last_year) == (first, first + 3)
    assert (late.first_year, late.last_year) == (last - 2, last)
    assert holiday("US", None, date(first, 3, 2)) is None
    assert holiday("US", None, date(last, 12, 25)) == "Christmas Day"
    for year in (first - 1, last + 1):
        with pytest.raises(NotKnown, match=str(year)):
            holiday("US", None, date(year, 12, 25))
    assert table("QQ", None, 2026) is None
    assert table("US", "ZZ", 2026) is None


def test_where_the_holidays_come_from_names_the_place() -> None:
    assert basis("US", "TX").startswith("Public holidays of US-TX by the holidays library ")
    assert basis("US", None).startswith("Public holidays of US by the holidays library ")


def test_a_day_of_rest_has_its_name() -> None:
    us = work_calendar("US")
    assert day_of_rest(day("2026-12-25"), us) == "Christmas Day"
    assert day_of_rest(day("2026-07-04"), us) == "Independence Day"  # on a Saturday
    assert day_of_rest(day("2026-03-07"), us) == "a weekend"
    assert day_of_rest(day("2026-03-02"), us) is None
    unknown = no_calendar("not known")
    assert day_of_rest(day("2026-03-08"), unknown) == "a weekend"
    assert day_of_rest(day("2026-03-02"), unknown) is None


def test_what_is_due_at_the_event_is_due_on_its_day() -> None:
    """Art. III 6 of the Hague rules and Art. 30 (1) CMR: apparent damage, at the time of taking."""
    us = work_calendar("US")
    span = Span(1, AT_THE_EVENT)
    assert nominal_day(span, day("2026-12-25"), PLAIN, us) == day("2026-12-25")
    said = counted(span, day("2026-12-25"), day("2026-12-25"), PLAIN, us)
    assert said == "It has to be done at the event itself: Fri 2026-12-25."


def test_only_the_holidays_between_are_said_to_be_skipped() -> None:
    names = {day("2026-03-02"): "the day itself", day("2026-03-04"): "a feast"}
    names[day("2026-02-27")] = "before"
    calendar = WorkCalendar(names.get, "typed")
    five = Span(5, "business days")
    last = nominal_day(five, day("2026-03-02"), PLAIN, calendar)
    said = counted(five, day("2026-03-02"), last, PLAIN, calendar)
    assert "(Wed 2026-03-04, a feast)." in said
    plain = counted(five, day("2026-03-09"), day("2026-03-16"), PLAIN, calendar)
    assert "public holidays skipped. Last day: Mon 2026-03-16." in plain


def test_a_hundred_years_can_be_counted_and_no_day_more() -> None:
    us = work_calendar("US")
    assert nominal_day(Span(100, "years"), day("2026-03-02"), PLAIN, us) == day("2126-03-02")
    with pytest.raises(CannotCount, match="hundred years"):
        nominal_day(Span(2, "years", extra_days=36_601), day("2026-03-02"), PLAIN, us)
