"""Counting days: edges of months, weekends, holidays, and the promise about the day to act by.

Expected days were typed by hand from a printed calendar and the rule named in each row; the
holidays of the rows are US federal ones as observed (5 USC 6103(a)).
"""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from claimkit.findings.limits.calendar import (
    WEEKDAYS_ONLY,
    CannotCount,
    WorkCalendar,
    act_by_day,
    add_months,
    careful_day,
    count_days,
    counted,
    described,
    no_calendar,
    nominal_day,
    work_calendar,
    written,
)
from claimkit.model.quantities import Span
from claimkit.rules.carriage import FIRST_DAY_COUNTS, PLAIN, SUNDAYS_EXCEPTED

US = work_calendar("US")


def day(text: str) -> date:
    return date.fromisoformat(text)


@pytest.mark.parametrize(
    "start,months,end",
    [
        ("2026-01-31", 1, "2026-02-28"),  # clipped
        ("2024-01-31", 1, "2024-02-29"),  # clipped in a leap year
        ("2026-01-28", 1, "2026-02-28"),  # nothing to clip
        ("2026-03-31", 6, "2026-09-30"),  # 31st to a month of 30
        ("2026-02-28", 9, "2026-11-28"),  # the last day of a month is no day 30: corresponding day
        ("2026-04-30", 9, "2027-01-30"),  # over the year's end
        ("2026-12-31", 2, "2027-02-28"),
        ("2026-03-31", 9, "2026-12-31"),  # into December
        ("2024-02-29", 12, "2025-02-28"),  # leap day, a year on
        ("2024-02-29", 48, "2028-02-29"),  # leap day, four years on
        ("2000-02-29", 1200, "2100-02-28"),  # 2100 is no leap year
    ],
)
def test_months(start: str, months: int, end: str) -> None:
    """R.P. Hazzard Co., 121 Me. 199 (1922): corresponding day, or the month's last."""
    assert add_months(day(start), months) == day(end)


def test_nine_months_are_not_270_days() -> None:
    assert add_months(day("2026-03-02"), 9) == day("2026-12-02")
    assert day("2026-03-02") + timedelta(days=270) == day("2026-11-27")


@pytest.mark.parametrize(
    "start,span,end",
    [
        ("2026-03-02", Span(5, "business days"), "2026-03-09"),
        ("2026-03-06", Span(1, "business days"), "2026-03-09"),  # Friday to Monday
        ("2026-03-07", Span(1, "business days"), "2026-03-09"),  # Saturday to Monday
        ("2026-03-08", Span(1, "business days"), "2026-03-09"),  # Sunday to Monday
        ("2026-07-02", Span(1, "business days"), "2026-07-06"),  # over the observed holiday
        ("2026-03-02", Span(15, "business days"), "2026-03-23"),
        ("2026-03-02", Span(10, "calendar days"), "2026-03-12"),
        ("2026-03-02", Span(24, "hours"), "2026-03-03"),
        ("2026-03-02", Span(48, "hours"), "2026-03-04"),
        ("2026-03-02", Span(36, "hours"), "2026-03-03"),  # a rest is dropped: never too late
        ("2026-03-02", Span(12, "hours"), "2026-03-02"),
        ("2024-02-29", Span(2, "years"), "2026-02-28"),
        ("2024-02-29", Span(2, "years", extra_days=1), "2026-03-01"),
        ("2026-12-31", Span(1, "calendar days"), "2027-01-01"),
        ("2026-02-28", Span(1, "calendar days"), "2026-03-01"),
        ("2028-02-28", Span(1, "calendar days"), "2028-02-29"),
    ],
)
def test_last_day(start: str, span: Span, end: str) -> None:
    assert nominal_day(span, day(start), PLAIN, US) == day(end)


@pytest.mark.parametrize(
    "start,span,act_by,at_once",
    [
        # Monday, 24 hours: the last day is Tuesday, so Monday itself: at once.
        ("2026-03-02", Span(24, "hours"), "2026-03-02", True),
        ("2026-03-02", Span(48, "hours"), "2026-03-03", False),
        ("2026-03-02", Span(1, "business days"), "2026-03-02", True),
        # Friday, 48 hours: ends on Sunday; Friday is the last working day before that.
        ("2026-03-06", Span(48, "hours"), "2026-03-06", True),
        # Saturday, one business day: ends on Monday and no working day lies before; so Monday.
        ("2026-03-07", Span(1, "business days"), "2026-03-09", True),
        # Saturday, one day: ends on Sunday. Nothing is left; Friday has passed.
        ("2026-03-07", Span(1, "calendar days"), "2026-03-06", True),
        ("2026-03-07", Span(12, "hours"), "2026-03-06", True),
        # A Monday, and less than a day: the same Monday.
        ("2026-03-02", Span(12, "hours"), "2026-03-02", True),
        # Christmas Eve, a Thursday, 48 hours: Friday is the holiday.
        ("2026-12-24", Span(48, "hours"), "2026-12-24", True),
        # On Christmas Day itself, 24 hours: ends on Saturday; Thursday has passed.
        ("2026-12-25", Span(24, "hours"), "2026-12-24", True),
        # Nine months to a Monday after a weekend: the Friday before.
        ("2026-03-07", Span(9, "months"), "2026-12-04", False),
        # To the Tuesday after a Monday holiday (2026-10-12): the Friday before that.
        ("2026-01-13", Span(9, "months"), "2026-10-09", False),
        # Saturday before a Monday holiday (2026-10-12), two business days: the careful count ends
        # on that Monday, before which nothing is left; the first working day is Tuesday.
        ("2026-10-10", Span(2, "business days"), "2026-10-13", True),
        # Monday, three business days over a Wednesday holiday (2026-11-11): holidays ignored the
        # third is that Wednesday, so Tuesday; skipping it would give Thursday.
        ("2026-11-09", Span(3, "business days"), "2026-11-10", False),
        # Fifteen business days: read as calendar days they end earlier, and that is kept.
        ("2026-03-02", Span(15, "business days"), "2026-03-17", False),
    ],
)
def test_day_to_act_by(start: str, span: Span, act_by: str, at_once: bool) -> None:
    """Last working day strictly before the last day; the careful count; what is left of a day."""
    days = count_days(span, day(start), US, cautious=FIRST_DAY_COUNTS)
    assert (days.act_by, days.at_once) == (day(act_by), at_once)


def test_careful_count_never_moves_the_day_to_the_last_day_itself() -> None:
    """Delivered on a Sunday: both counts end on Friday 2026-06-05, the day to act is Thursday."""
    five = Span(5, "business days")
    assert careful_day(five, day("2026-05-31"), FIRST_DAY_COUNTS) == day("2026-06-05")
    assert nominal_day(five, day("2026-05-31"), PLAIN, US) == day("2026-06-05")
    assert count_days(five, day("2026-05-31"), US, cautious=FIRST_DAY_COUNTS).act_by == day(
        "2026-06-04"
    )


def test_only_business_days_have_a_careful_count() -> None:
    for unit in ("hours", "calendar days", "months", "years"):
        assert careful_day(Span(5, unit), day("2026-03-02"), FIRST_DAY_COUNTS) is None
    assert careful_day(Span(5, "business days"), day("2026-03-02"), "") is None


SPANS = st.one_of(
    st.builds(Span, st.integers(1, 400), st.just("hours")),
    st.builds(Span, st.integers(1, 400), st.just("calendar days"), st.integers(0, 3)),
    st.builds(Span, st.integers(1, 90), st.just("business days")),
    st.builds(Span, st.integers(1, 30), st.just("months"), st.integers(0, 3)),
    st.builds(Span, st.integers(1, 4), st.just("years"), st.integers(0, 3)),
)
DATES = st.dates(date(1990, 1, 1), date(2090, 1, 1))


@given(SPANS, DATES, st.sampled_from([PLAIN, SUNDAYS_EXCEPTED]), st.sampled_from(["", "day one"]))
def test_the_day_to_act_by_is_a_working_day_and_never_late(
    span: Span, start: date, endpoint: str, cautious: str
) -> None:
    """For any period, also one of a day or an hour that the user's own paper sets."""
    cautious = FIRST_DAY_COUNTS if cautious else ""
    days = count_days(span, start, US, endpoint, cautious)
    assert days.act_by.isoweekday() <= 5
    assert US.holiday(days.act_by) is None
    assert days.act_by <= days.nominal
    assert days.nominal >= start
    if not days.at_once:
        assert start < days.act_by < days.nominal
    if days.careful and not days.at_once:
        assert days.act_by <= days.careful


@given(SPANS, DATES)
def test_an_earlier_event_never_gives_a_later_day(span: Span, start: date) -> None:
    earlier = nominal_day(span, start - timedelta(days=1), PLAIN, US)
    assert earlier <= nominal_day(span, start, PLAIN, US)


@pytest.mark.parametrize(
    "country,part,holiday,name",
    [
        ("US", None, "2026-07-03", "Independence Day"),
        ("us", None, "2026-07-03", "Independence Day"),  # however it is written
        ("US", "TX", "2026-03-02", "Texas Independence Day"),  # a state's own day
        ("US", "US-TX", "2026-03-02", "Texas Independence Day"),
        ("CA", "ON", "2026-07-01", "Canada Day"),
        ("DE", None, "2026-04-06", "Easter Monday"),  # in English where the library has it
    ],
)
def test_holidays_of_a_place(country: str, part: str | None, holiday: str, name: str) -> None:
    """The dates are of general knowledge."""
    calendar = work_calendar(country, part)
    assert name in (calendar.holiday(day(holiday)) or "")
    assert not calendar.works(day(holiday))
    assert "holidays library" in calendar.basis


def test_a_states_own_holiday_does_not_count_unless_it_is_named() -> None:
    assert US.works(day("2026-03-02"))


@pytest.mark.parametrize("holiday", ["2021-01-20", "2025-01-20"])
def test_inauguration_day_is_no_holiday_outside_washington(holiday: str) -> None:
    """5 USC 6103(c). In 2025 it fell on the Birthday of Martin Luther King, Jr."""
    assert US.works(day(holiday)) is (holiday == "2021-01-20")


@pytest.mark.parametrize(
    "country,part,words",
    [
        ("US", "ZZ", "US-ZZ are not known: write one of AK, AL"),
        ("QQ", None, "QQ are not known: write the ISO 3166 code"),
        ("", None, "not known: write the ISO 3166 code"),
        ("U.S.", None, "not known: write the ISO 3166 code"),
    ],
)
def test_an_unknown_place_is_named_with_what_to_write(
    country: str, part: str | None, words: str
) -> None:
    with pytest.raises(CannotCount) as refused:
        work_calendar(country, part)
    assert words in str(refused.value)


def test_names_do_not_follow_the_readers_language(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same packet on every machine: the library would else take LANGUAGE and LANG."""
    for language in ("de", "th", "C"):
        work_calendar.cache_clear()
        monkeypatch.setenv("LANGUAGE", language)
        monkeypatch.setenv("LANG", f"{language}_XX.UTF-8")
        assert work_calendar("DE").holiday(day("2026-04-06")) == "Easter Monday"
        assert work_calendar("US").holiday(day("2026-12-25")) == "Christmas Day"
    work_calendar.cache_clear()


def test_years_that_the_library_does_not_cover() -> None:
    with pytest.raises(CannotCount, match="2150"):
        US.works(day("2150-12-28"))


def test_without_a_calendar_months_count_and_working_days_do_not() -> None:
    unknown = no_calendar("The public holidays of the site are not known.")
    assert nominal_day(Span(9, "months"), day("2026-03-02"), PLAIN, unknown) == day("2026-12-02")
    with pytest.raises(CannotCount, match="not known"):
        nominal_day(Span(5, "business days"), day("2026-03-02"), PLAIN, unknown)
    with pytest.raises(CannotCount, match="not known"):
        count_days(Span(9, "months"), day("2026-03-02"), unknown)


@pytest.mark.parametrize(
    "span,words",
    [
        (Span(0, "calendar days"), "at least 1"),
        (Span(-3, "business days"), "at least 1"),
        (Span(2, "years", extra_days=-1), "at least 1"),
        (Span(3, "weeks"), "no period that can be counted"),
        (Span(10**9, "business days"), "hundred years"),  # and the answer comes at once
        (Span(10**9, "hours"), "hundred years"),
        (Span(101, "years"), "hundred years"),
    ],
)
def test_what_is_no_period(span: Span, words: str) -> None:
    with pytest.raises(CannotCount, match=words):
        nominal_day(span, day("2026-03-02"), PLAIN, US)


def test_the_end_of_the_calendar_is_no_crash() -> None:
    for span in (Span(9, "months"), Span(60, "calendar days"), Span(1, "years")):
        with pytest.raises(CannotCount, match="past the calendar"):
            nominal_day(span, date(9999, 12, 1), PLAIN, WEEKDAYS_ONLY)


def test_sundays_and_holidays_excepted() -> None:
    """CMR Art. 30: seven days, Sundays and public holidays not counted, Saturdays counted.

    Delivered Wed 2026-04-01; holidays Fri 04-03 and Mon 04-06: the days counted are 2, 4, 7, 8,
    9, 10 and 11 April (a worked case typed from the rule).
    """
    names = {day("2026-04-03"): "Good Friday", day("2026-04-06"): "Easter Monday"}
    calendar = WorkCalendar(names.get, "typed")
    seven = Span(7, "calendar days")
    last = nominal_day(seven, day("2026-04-01"), SUNDAYS_EXCEPTED, calendar)
    assert last == day("2026-04-11")
    said = counted(seven, day("2026-04-01"), last, SUNDAYS_EXCEPTED, calendar)
    assert "Good Friday" in said
    assert "Saturdays count" in said


@pytest.mark.parametrize(
    "span,start,words",
    [
        (Span(5, "business days"), "2026-07-01", "(Fri 2026-07-03, Independence Day (observed))"),
        (Span(9, "months"), "2026-05-31", "2027-02 has no day 31, so its last day"),
        (Span(9, "months"), "2026-03-02", "the corresponding day"),
        (Span(2, "years", extra_days=1), "2024-02-29", "then 1 day more"),
        (Span(2, "years"), "2024-02-29", "2026-02 has no day 29, so its last day"),
        (Span(4, "years"), "2024-02-29", "the corresponding day"),
        (Span(48, "hours"), "2026-03-02", "whole days of 24 hours"),
        (Span(30, "calendar days"), "2026-03-10", "Last day: Thu 2026-04-09."),
    ],
)
def test_the_steps_are_said(span: Span, start: str, words: str) -> None:
    last = nominal_day(span, day(start), PLAIN, US)
    assert words in counted(span, day(start), last, PLAIN, US)


def test_a_period_in_words() -> None:
    assert described(Span(9, "months", written="nine (9) months")) == "nine (9) months"
    assert described(Span(1, "months")) == "1 month"
    assert described(Span(2, "years", extra_days=1)) == "2 years and 1 day"
    assert described(Span(15, "business days")) == "15 business days"
    assert written(day("2026-07-09")) == "Thu 2026-07-09"


def test_act_by_when_a_holiday_week_leaves_nothing() -> None:
    """Every day a holiday until the last one: the day before the event, at once."""
    closed = {day("2026-03-02") + timedelta(days=n): "closed" for n in range(10)}
    calendar = WorkCalendar(closed.get, "typed")
    found = act_by_day(day("2026-03-02"), day("2026-03-06"), None, calendar)
    assert found == (day("2026-02-27"), True)


@pytest.mark.parametrize(
    "start,count,careful",
    [
        ("2026-03-02", 5, "2026-03-06"),  # Monday is day 1, so Friday; five days on is Saturday
        ("2026-03-05", 3, "2026-03-08"),  # Thursday, Friday, Monday 03-09; three days on is Sunday
        ("2026-03-06", 2, "2026-03-08"),  # Friday and Monday; two days on is Sunday
        ("2026-03-07", 1, "2026-03-08"),  # a Saturday is no day 1; one day on is Sunday
        ("2026-03-08", 5, "2026-03-13"),  # Monday to Friday, and five days on: the same Friday
        ("2026-03-05", 1, "2026-03-05"),  # the day itself
    ],
)
def test_the_careful_day_is_the_earlier_of_two_readings(
    start: str, count: int, careful: str
) -> None:
    """Day 1 is the day itself if Monday to Friday; or as many calendar days after (by hand)."""
    span = Span(count, "business days")
    assert careful_day(span, day(start), FIRST_DAY_COUNTS) == day(careful)
