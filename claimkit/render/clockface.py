"""The scale of a timeline: round local times, evenly chosen, and dates in words.

Divisions are counted on the local calendar, so that midnight is midnight on both sides of a clock
change; their places on the line are instants.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


@dataclass(frozen=True, slots=True)
class Division:
    """A step of the scale: `count` of minutes, days, months or years; its length in seconds."""

    count: int
    unit: str
    seconds: float

    def words(self) -> str:
        """Say the step: 10 minutes, 1 day."""
        unit, count = self.unit, self.count
        if unit == "minute" and count >= 60:
            unit, count = "hour", count // 60
        return f"{count} {unit}{'s' if count > 1 else ''}"


_DAY = 86_400.0
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
DIVISIONS = (
    *(Division(n, "minute", n * 60.0) for n in (1, 2, 5, 10, 15, 30, 60, 120, 180, 360, 720)),
    *(Division(n, "day", n * _DAY) for n in (1, 2, 7, 14)),
    *(Division(n, "month", n * 30.5 * _DAY) for n in (1, 2, 3, 6)),
    *(Division(n, "year", n * 365.25 * _DAY) for n in (1, 2, 5, 10, 20, 50, 100, 1000)),
)


def division(length: float, most: int) -> Division:
    """Choose the finest division that gives at most `most` steps in `length` seconds."""
    return next((d for d in DIVISIONS if length / d.seconds <= most), DIVISIONS[-1])


def local(at: float, zone: ZoneInfo) -> datetime:
    """Give local time of an instant, within the years that the calendar holds."""
    try:
        return (_EPOCH + timedelta(seconds=at)).astimezone(zone)
    except OverflowError:
        return datetime(1 if at < 0 else 9999, 1 if at < 0 else 12, 31, tzinfo=zone)


def ticks(
    begins: float, ends: float, step: Division, zone: ZoneInfo
) -> Iterator[tuple[float, str]]:
    """Yield (instant in seconds, label) for each division between two instants."""
    naive = _floor(local(begins, zone).replace(tzinfo=None), step)
    for _ in range(2000):
        at = _instant(naive, zone)
        if at is not None and begins <= at <= ends:
            yield at, _label(naive, step)
        if at is not None and at > ends:
            return
        try:
            naive = _next(naive, step)
        except (OverflowError, ValueError):
            return


def _instant(naive: datetime, zone: ZoneInfo) -> float | None:
    """Give the instant of a local time; None where a clock change leaves it out."""
    try:
        aware = naive.replace(tzinfo=zone).astimezone(UTC)
        back = aware.astimezone(zone).replace(tzinfo=None)
    except OverflowError:
        return None
    return (aware - _EPOCH) / timedelta(seconds=1) if back == naive else None


def _floor(naive: datetime, step: Division) -> datetime:
    midnight = naive.replace(hour=0, minute=0, second=0, microsecond=0)
    match step.unit:
        case "minute":
            minutes = (naive.hour * 60 + naive.minute) // step.count * step.count
            return midnight + timedelta(minutes=minutes)
        case "day":
            # Weeks begin on Mondays: 0001-01-01 was one in this calendar.
            return midnight - timedelta(days=(naive.toordinal() - 1) % step.count)
        case "month":
            return midnight.replace(day=1, month=(naive.month - 1) // step.count * step.count + 1)
    return midnight.replace(day=1, month=1, year=max(1, naive.year // step.count * step.count))


def _next(naive: datetime, step: Division) -> datetime:
    match step.unit:
        case "minute":
            return naive + timedelta(minutes=step.count)
        case "day":
            return naive + timedelta(days=step.count)
        case "month":
            months = naive.month - 1 + step.count
            return naive.replace(year=naive.year + months // 12, month=months % 12 + 1)
    return naive.replace(year=naive.year + step.count)


def _label(naive: datetime, step: Division) -> str:
    month = MONTHS[naive.month - 1]
    match step.unit:
        case "minute":
            clock = f"{naive.hour:02d}:{naive.minute:02d}"
            return clock if clock != "00:00" else f"{naive.day} {month}"
        case "day":
            return f"{naive.day} {month}"
        case "month":
            return month if naive.month > 1 else str(naive.year)
    return str(naive.year)


def day_in_words(at: datetime) -> str:
    """Print a day with its weekday: Mon 4 May 2026."""
    return f"{DAYS[at.weekday()]} {at.day} {MONTHS[at.month - 1]} {at.year}"


def stretch_in_words(begins: float, ends: float, zone: ZoneInfo) -> str:
    """Print a stretch of local time as day and clock, or from day to day.

    Over a change of the clocks each clock time carries its offset: 01:18 to 01:07 is an hour.
    """
    first, last = local(begins, zone), local(ends, zone)
    if first.utcoffset() != last.utcoffset() and ends - begins < 3 * _DAY:
        until = "" if last.date() == first.date() else f"{day_in_words(last)}, "
        return (
            f"{day_in_words(first)}, {first:%H:%M} {_offset(first)} to {until}{last:%H:%M} "
            f"{_offset(last)}"
        )
    if last.date() == first.date():
        return f"{day_in_words(first)}, {first:%H:%M} to {last:%H:%M}"
    if ends - begins < 3 * _DAY:
        return f"{day_in_words(first)}, {first:%H:%M} to {day_in_words(last)}, {last:%H:%M}"
    return f"{day_in_words(first)} to {day_in_words(last)}"


def offsets_in_words(begins: float, ends: float, zone: ZoneInfo) -> str:
    """Print the UTC offset at both ends, once where it is the same."""
    shown = [_offset(local(at, zone)) for at in (begins, ends)]
    return shown[0] if shown[0] == shown[1] else f"{shown[0]}, later {shown[1]}"


def _offset(at: datetime) -> str:
    minutes = round((at.utcoffset() or timedelta()) / timedelta(minutes=1))
    sign = "−" if minutes < 0 else "+"
    return f"UTC{sign}{abs(minutes) // 60:02d}:{abs(minutes) % 60:02d}"
