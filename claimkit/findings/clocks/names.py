"""What kind of error a difference looks like: AM and PM, year, zone, summer time, never set.

A name is a likeness, not a finding of cause: it is given where the difference is known well
enough that it can be told from others, and nothing is corrected because of it.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from claimkit.findings.timeline.photo_beside import clock_start_of, is_zone_step
from claimkit.findings.wording import in_words
from claimkit.findings.written_time import fixed
from claimkit.rules.capture import NAMEABLE, NAMED_WITHIN

HALF_DAY = timedelta(hours=12)
HOUR = timedelta(hours=1)
DAY = timedelta(days=1)


def named(
    low: timedelta, high: timedelta, local: datetime, at: datetime, zone: ZoneInfo | None
) -> str | None:
    """Say what kind of error a correction between `low` and `high` looks like, or None.

    `local` is the camera's clock face at one photo and `at` the instant it was read as. Kinds that
    fit as well are joined by “or”.
    """
    if low <= timedelta() <= high or high - low > NAMEABLE:
        return None
    found = []
    if clock_start_of(local) is not None:
        found.append("a clock that was never set and runs from its default date")
    if (year := wrong_year(low, high, local, at)) is not None:
        found.append(f"a wrong year, {local.year} for {year}")
    if _holds(low, high, HALF_DAY) or _holds(low, high, -HALF_DAY):
        found.append("AM and PM exchanged")
    if (_holds(low, high, HOUR) or _holds(low, high, -HOUR)) and _has_summer_time(zone, at):
        found.append("a clock not changed for summer time")
    middle = low + (high - low) / 2
    if is_zone_step(middle) and "AM and PM exchanged" not in found:
        found.append(f"another time zone, {in_words(_step(middle))} away")
    if (swapped := _day_for_month(low, high, local, at)) is not None:
        found.append(f"day and month exchanged, {local:%m-%d} for {swapped:%m-%d}")
    if not found and abs(middle) > DAY - NAMED_WITHIN:
        days = round(middle / DAY)
        if _holds(low, high, days * DAY):
            found.append(f"a wrong date, {abs(days)} days off")
    return " or ".join(found) or None


def _holds(low: timedelta, high: timedelta, exact: timedelta) -> bool:
    return low - NAMED_WITHIN <= exact <= high + NAMED_WITHIN


def _step(apart: timedelta) -> timedelta:
    half = timedelta(minutes=30)
    return half * round(apart / half)


def wrong_year(low: timedelta, high: timedelta, local: datetime, at: datetime) -> int | None:
    """Give the year that would make up the whole difference, or None."""
    guess = (at + low + (high - low) / 2).year
    for year in (guess - 1, guess, guess + 1):
        shifted = in_year(local, year)
        if shifted is not None and year != local.year and _holds(low, high, shifted - local):
            return year
    return None


def in_year(local: datetime, year: int) -> datetime | None:
    """Give a clock face in another year, None where that year has no such day."""
    try:
        return local.replace(year=year)
    except ValueError:
        return None


def _day_for_month(
    low: timedelta, high: timedelta, local: datetime, at: datetime
) -> datetime | None:
    del at
    try:
        swapped = local.replace(month=local.day, day=local.month)
    except ValueError:
        return None
    return swapped if swapped != local and _holds(low, high, swapped - local) else None


def _has_summer_time(zone: ZoneInfo | None, at: datetime) -> bool:
    if zone is None:
        return False
    offsets = {
        fixed(at.replace(month=month, day=1).astimezone(zone)).utcoffset() for month in range(1, 13)
    }
    return len(offsets) > 1
