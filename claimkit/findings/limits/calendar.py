"""Counting days, months and working days by the local calendar of the place of delivery.

Two days come out of a period: the nominal one, counted plainly, and the day to act by, which is
always a working day and never later. No text that claimkit counts by defines "business day", so
wherever it can be read in two ways the day to act by takes the earlier one.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache, partial
from zoneinfo import ZoneInfo

from claimkit.model.facts import Facts
from claimkit.model.quantities import Span
from claimkit.rules import carriage, public_holidays

ONE_DAY = timedelta(days=1)
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
SATURDAY, SUNDAY = 5, 6
LONGEST = {
    "hours": 24 * 36600,
    "calendar days": 36600,
    "business days": 26000,
    "months": 1200,
    "years": 100,
}


class CannotCount(ValueError):
    """A period or a calendar that cannot be counted with; the message says why and what to do."""


@dataclass(frozen=True, slots=True)
class WorkCalendar:
    """Which days are working days at a place: Monday to Friday, public holidays excepted.

    `holiday` gives a day's holiday name or None. `basis` says in a sentence where the holidays
    come from.
    """

    holiday: Callable[[date], str | None]
    basis: str

    def works(self, day: date) -> bool:
        """Tell whether it is Monday to Friday and no public holiday."""
        return day.weekday() < SATURDAY and self.holiday(day) is None

    def last_working(self, day: date) -> date:
        """Give that day, or the nearest working day before it."""
        while not self.works(day):
            day -= ONE_DAY
        return day

    def first_working(self, day: date) -> date:
        """Give that day, or the nearest working day after it."""
        while not self.works(day):
            day += ONE_DAY
        return day


WEEKDAYS_ONLY = WorkCalendar(lambda _day: None, "Monday to Friday; no holidays.")


@lru_cache(maxsize=16)
def work_calendar(country: str, subdivision: str | None = None) -> WorkCalendar:
    """Give the calendar of a country (ISO 3166 code) and, where one is named, of its subdivision.

    A subdivision may be written with its country, as `US-TX`. Raises CannotCount where the
    holidays library does not know the place, or a day lies outside the years that it covers.
    """
    country = country.strip().upper()
    part = (subdivision or "").strip().removeprefix(f"{country}-") or None
    try:
        told = public_holidays.basis(country, part)
    except public_holidays.NotKnown as error:
        raise CannotCount(str(error)) from None
    return WorkCalendar(partial(_asked, country, part), told)


def site_calendar(facts: Facts) -> WorkCalendar:
    """Give the calendar of a job's site: the table that was read with the job, else the library.

    Raises CannotCount where there is no job or the holidays of its site are not known.
    """
    job = facts.job
    if job is None:
        raise CannotCount("job.toml could not be read, so no place is known.")
    kept = facts.holidays
    if kept is None or (kept.country, kept.subdivision) != (job.site.country, job.site.subdivision):
        return work_calendar(job.site.country, job.site.subdivision)
    names = dict(kept.days)

    def holiday(day: date) -> str | None:
        if kept.first_year <= day.year <= kept.last_year:
            return names.get(day)
        return _asked(kept.country, kept.subdivision, day)

    return WorkCalendar(holiday, kept.basis)


def _asked(country: str, subdivision: str | None, day: date) -> str | None:
    try:
        return public_holidays.holiday(country, subdivision, day)
    except public_holidays.NotKnown as error:
        raise CannotCount(str(error)) from None


def no_calendar(reason: str) -> WorkCalendar:
    """Give a calendar that knows no holidays and says so: counting working days raises."""

    def holiday(_day: date) -> str | None:
        raise CannotCount(reason)

    return WorkCalendar(holiday, reason)


def written(day: date) -> str:
    """Write a day with its weekday: Thu 2026-07-09. The same in every locale."""
    return f"{WEEKDAYS[day.weekday()]} {day.isoformat()}"


def add_months(start: date, months: int) -> date:
    """Give the corresponding day of the later month, or that month's last day if it has none.

    R.P. Hazzard Co., 121 Me. 199 (1922): nine months are not 270 days.
    """
    year, month = divmod(start.year * 12 + start.month - 1 + months, 12)
    first_of_next = date(year + (month == 11), (month + 1) % 12 + 1, 1)
    last = (first_of_next - ONE_DAY).day
    return date(year, month + 1, min(start.day, last))


def nominal_day(span: Span, start: date, endpoint: str, calendar: WorkCalendar) -> date:
    """Give the last day of a period by the plain count; weekends do not move it.

    The day of the event is not counted. Business days are Monday to Friday without public
    holidays. Hours are whole days of 24, a rest dropped, so that the day is never later than the
    hour. With the endpoint SUNDAYS_EXCEPTED, calendar days leave out Sundays and public holidays
    and count Saturdays. What has to be done at the event ends on its day. Raises CannotCount for a
    period that is no period.
    """
    _check(span)
    try:
        if span.unit == "months":
            day = add_months(start, span.count)
        elif span.unit == "years":
            day = add_months(start, 12 * span.count)
        elif span.unit == carriage.AT_THE_EVENT:
            day = start
        elif span.unit == "hours":
            day = start + timedelta(days=span.count // 24)
        elif span.unit == "business days":
            day = _step(start, span.count, calendar.works)
        elif endpoint == carriage.SUNDAYS_EXCEPTED:
            day = _step(
                start,
                span.count,
                lambda d: d.weekday() != SUNDAY and calendar.holiday(d) is None,
            )
        else:
            day = start + timedelta(days=span.count)
        return day + timedelta(days=span.extra_days)
    except (OverflowError, ValueError) as error:
        if isinstance(error, CannotCount):
            raise
        raise CannotCount(
            f"{described(span)} from {written(start)} is past the calendar."
        ) from None


def careful_day(span: Span, start: date, cautious: str) -> date | None:
    """Give the earlier day that a reader of the text could mean, or None where it knows none.

    For business days whose text does not say how they are counted: the day of the event is day 1
    if it is Monday to Friday, holidays are not skipped, and of that and the same number of
    calendar days after the event the earlier counts. Nominal counting is `nominal_day`.
    """
    if cautious != carriage.FIRST_DAY_COUNTS or span.unit != "business days":
        return None
    weekday_before = start - ONE_DAY
    inclusive = _step(weekday_before, span.count, lambda d: d.weekday() < SATURDAY)
    return min(inclusive, start + timedelta(days=span.count))


def act_by_day(
    start: date, nominal: date, careful: date | None, calendar: WorkCalendar
) -> tuple[date, bool]:
    """Give the working day to act by, and whether that means at once.

    It is the last working day strictly before the nominal day; where the text's own careful count
    gives an earlier day, it is that one, or the working day before it. So where both counts end
    on the same day (a Sunday delivery, five business days: both end on Friday), it is the day
    before: never the nominal day itself.

    Only where that leaves no working day from the event on (a Saturday delivery, one business
    day) is the rule bent, so that something can be done: then it is the first working day from
    the event on, if that is not after the nominal day, else the last working day before the
    event, which has passed. Both, and the day of the event itself, mean at once.
    """
    latest = nominal - ONE_DAY
    if careful is not None:
        latest = min(latest, careful)
    day = calendar.last_working(min(latest, nominal))
    if day >= start:
        return day, day == start
    first = calendar.first_working(start)
    return (first if first <= nominal else calendar.last_working(nominal)), True


@dataclass(frozen=True, slots=True)
class Days:
    """What a period comes to: its last day, the careful day its text may mean, the day to act."""

    nominal: date
    careful: date | None
    act_by: date
    at_once: bool


def count_days(
    span: Span,
    start: date,
    calendar: WorkCalendar,
    endpoint: str = carriage.PLAIN,
    cautious: str = "",
) -> Days:
    """Count a period from the local date of its event to its last day and the day to act by."""
    nominal = nominal_day(span, start, endpoint, calendar)
    careful = careful_day(span, start, cautious)
    return Days(nominal, careful, *act_by_day(start, nominal, careful, calendar))


def counted(span: Span, start: date, nominal: date, endpoint: str, calendar: WorkCalendar) -> str:
    """Say in a sentence how the nominal day follows from the start."""
    period = described(span)
    if span.unit == "business days":
        how = "the day itself not counted, Monday to Friday, public holidays skipped"
        how += _skipped(start, nominal, SATURDAY, calendar)
    elif span.unit in ("months", "years"):
        how = "the corresponding day of the later month"
        plain = add_months(start, span.count * (12 if span.unit == "years" else 1))
        if plain.day != start.day:
            how = (
                f"{plain:%Y-%m} has no day {start.day}, so its last day "
                "(R.P. Hazzard Co., 121 Me. 199 (1922))"
            )
        if span.extra_days:
            how += f", then {_number(span.extra_days, 'day')} more"
    elif span.unit == carriage.AT_THE_EVENT:
        return f"It has to be done at the event itself: {written(nominal)}."
    elif span.unit == "hours":
        how = (
            "counted as whole days of 24 hours; on that day they run out at the hour of the event, "
            "an hour off where the clocks change between"
        )
    elif endpoint == carriage.SUNDAYS_EXCEPTED:
        how = "the day itself, Sundays and public holidays not counted; Saturdays count"
        how += _skipped(start, nominal, SUNDAY, calendar)
    else:
        how = "the day itself not counted"
    return f"{period} from {written(start)}: {how}. Last day: {written(nominal)}."


def run_out(span: Span, at: datetime, zone: ZoneInfo) -> datetime:
    """Give the local instant at which a period in hours runs out, over a change of the clocks.

    Hours are elapsed time: 48 hours from 01:50 UTC−04:00 on the night on which the clocks go back
    end at 00:50 UTC−05:00.
    """
    return (at.astimezone(UTC) + timedelta(hours=span.count)).astimezone(zone)


def ends_earlier(span: Span, days: int) -> Span:
    """Give a period in hours that ends so many days earlier; none is left where it ends at once."""
    hours = span.count - 24 * days
    if hours < 24:
        return Span(0, carriage.AT_THE_EVENT, written=span.written)
    return replace(span, count=hours)


def described(span: Span) -> str:
    """Write a period: as its paper writes it, or from its number and unit."""
    if span.written:
        return span.written
    name = _number(span.count, span.unit.removesuffix("s"))
    return f"{name} and {_number(span.extra_days, 'day')}" if span.extra_days else name


def day_of_rest(day: date, calendar: WorkCalendar) -> str | None:
    """Name what makes a day none of work, as far as the calendar knows, or give None."""
    try:
        holiday = calendar.holiday(day)
    except CannotCount:
        holiday = None
    return holiday or ("a weekend" if day.weekday() >= SATURDAY else None)


def _number(count: int, name: str) -> str:
    return f"{count} {name}" if count == 1 else f"{count} {name}s"


def _check(span: Span) -> None:
    if span.unit == carriage.AT_THE_EVENT:
        return
    if span.unit not in LONGEST:
        raise CannotCount(
            f"'{described(span)}' is no period that can be counted: write hours, calendar days, "
            "business days, months or years."
        )
    if span.count < 1 or span.extra_days < 0:
        raise CannotCount(f"'{described(span)}' is no period: write a number of at least 1.")
    if span.count > LONGEST[span.unit] or span.extra_days > LONGEST["calendar days"]:
        raise CannotCount(f"'{described(span)}' is longer than a hundred years.")


def _step(start: date, count: int, counts: Callable[[date], bool]) -> date:
    """Go forward day by day from the day after the start until so many days have counted."""
    day = start
    while count:
        day += ONE_DAY
        count -= counts(day)
    return day


def _skipped(start: date, nominal: date, rest_day: int, calendar: WorkCalendar) -> str:
    """Name the holidays that a count passed over, those on its days of rest left out."""
    names = []
    day = start + ONE_DAY
    while day <= nominal:
        name = calendar.holiday(day)
        if name and day.weekday() < rest_day:
            names.append(f"{written(day)}, {name}")
        day += ONE_DAY
    return f" ({'; '.join(names)})" if names else ""
