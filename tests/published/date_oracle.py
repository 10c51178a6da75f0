"""A second way to the same days: a person with a wall calendar, stepping one day at a time.

It imports nothing of claimkit and no holiday library. Its holidays are the typed table beside it,
its rules come from the texts: the day of the event is not counted (common practice; 49 CFR 370
counts days "after" receipt), a month runs to the corresponding day or the month's last day
(R.P. Hazzard Co., 121 Me. 199 (1922)), and nothing rolls over a weekend.
"""

from __future__ import annotations

from datetime import date, timedelta

from tests.published.us_federal_holidays import FEDERAL_HOLIDAYS, FIRST_DAY, LAST_DAY

TOMORROW = timedelta(days=1)


def is_weekday(day: date) -> bool:
    return day.isoweekday() not in (6, 7)


def is_working(day: date) -> bool:
    assert FIRST_DAY <= day <= LAST_DAY, f"{day} is outside the typed table"
    return is_weekday(day) and day not in FEDERAL_HOLIDAYS


def after_days(start: date, days: int) -> date:
    day = start
    for _ in range(days):
        day += TOMORROW
    return day


def after_working_days(start: date, days: int) -> date:
    """Report on or before working day number `days`; the delivery day has no number."""
    day, number = start, 0
    while number < days:
        day += TOMORROW
        if is_working(day):
            number += 1
    return day


def after_months(start: date, months: int) -> date:
    """Turn over so many months, then go to the same day number or the last day there is."""
    day, turned = start, 0
    while turned < months:
        day += TOMORROW
        if day.day == 1:
            turned += 1
    while day.day != start.day and (day + TOMORROW).day != 1:
        day += TOMORROW
    return day


def after_days_without_sundays(start: date, days: int, holidays: frozenset[date]) -> date:
    """CMR Article 30(1): Saturdays have a number, Sundays and public holidays have none."""
    day, number = start, 0
    while number < days:
        day += TOMORROW
        if day.isoweekday() != 7 and day not in holidays:
            number += 1
    return day


def careful_working_days(start: date, days: int) -> date:
    """Number the weekdays with the delivery day as the first; or as many calendar days after it.

    The earlier of the two; where that is no working day, the working day before.
    """
    day, number = start, 1 if is_weekday(start) else 0
    while number < days:
        day += TOMORROW
        if is_weekday(day):
            number += 1
    earlier = after_days(start, days)
    if day < earlier:
        earlier = day
    while not is_working(earlier):
        earlier -= TOMORROW
    return earlier


def last_working_day_before(day: date, holidays: frozenset[date] | None = None) -> date:
    def rests(day: date) -> bool:
        if holidays is None:
            return not is_working(day)
        return not is_weekday(day) or day in holidays

    day -= TOMORROW
    while rests(day):
        day -= TOMORROW
    return day


def act_by(
    nominal: date, careful: date | None = None, holidays: frozenset[date] | None = None
) -> date:
    """The last working day strictly before the last day, unless the careful count is earlier."""
    strict = last_working_day_before(nominal, holidays)
    return careful if careful is not None and careful < strict else strict
