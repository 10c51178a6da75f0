"""What the GPS directory of an Exif block states: a place, and the GPS clock's time in UTC.

CIPA DC-008 4.6.6: degrees, minutes and seconds as three rationals with N/S and E/W beside them;
the time as three rationals and the day as text, both UTC. A value that is out of range or has a
zero below its fraction is no value.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from fractions import Fraction

from claimkit.intake.metadata.exifdates import is_day
from claimkit.intake.metadata.readings import Reading
from claimkit.model.photo import Gps

_LAT_REF, _LAT, _LON_REF, _LON, _TIME, _DAY = 1, 2, 3, 4, 7, 0x1D


def read_gps(first: Reading, second: Reading) -> tuple[Gps | None, str | None]:
    """Read place and time from two readings; give them with a sentence where the two differ."""
    one, two = _read(first), _read(second)
    if one != two:
        return None, (
            "Two readings of the GPS part of the Exif differ: nothing of it is used. "
            "Ask for the original from the phone."
        )
    return one, None


def _read(reading: Reading) -> Gps | None:
    latitude = _degrees(reading, _LAT, _LAT_REF, "NS", 90)
    longitude = _degrees(reading, _LON, _LON_REF, "EW", 180)
    if latitude is None or longitude is None:
        latitude = longitude = None
    day = reading.text("gps", _DAY)
    parts = reading.ratios("gps", _TIME)
    seconds = _seconds(parts)
    utc = None
    if day is not None and is_day(day) and seconds is not None:
        utc = datetime.strptime(day, "%Y:%m:%d").replace(tzinfo=UTC) + timedelta(
            microseconds=int(seconds * 1_000_000)
        )
    time = _time_text(parts, seconds)
    if time is None:
        time = reading.text("gps", _TIME)
    if latitude is None and day is None and time is None:
        return None
    return Gps(latitude, longitude, day, time, utc)


def _degrees(reading: Reading, tag: int, ref: int, signs: str, most: int) -> float | None:
    """Give signed decimal degrees, or None where anything of them is missing or out of range."""
    parts, side = reading.ratios("gps", tag), (reading.text("gps", ref) or "").upper()
    if parts is None or len(parts) != 3 or side not in (signs[0], signs[1]):
        return None
    degrees, minutes, seconds = parts
    if degrees is None or minutes is None or seconds is None:
        return None
    if degrees < 0 or not 0 <= minutes < 60 or not 0 <= seconds < 60:
        return None
    value = degrees + minutes / 60 + seconds / 3600
    if value > most:
        return None
    return float(value if side == signs[0] else -value)


def _seconds(parts: tuple[Fraction | None, ...] | None) -> Fraction | None:
    """Give the seconds since midnight, or None where the three parts are no time of day."""
    if parts is None or len(parts) != 3:
        return None
    hour, minute, second = parts
    if hour is None or minute is None or second is None:
        return None
    if hour.denominator != 1 or minute.denominator != 1:
        return None
    if not (0 <= hour < 24 and 0 <= minute < 60 and 0 <= second < 60):
        return None
    return hour * 3600 + minute * 60 + second


def _time_text(parts: tuple[Fraction | None, ...] | None, seconds: Fraction | None) -> str | None:
    """Print a valid time as HH:MM:SS with its fraction, any other as its fractions stand."""
    if parts is None:
        return None
    if seconds is None:
        return " ".join("n/0" if p is None else f"{p.numerator}/{p.denominator}" for p in parts)
    hour, minute = divmod(int(seconds) // 60, 60)
    rest = float(seconds - hour * 3600 - minute * 60)
    whole = f"{rest:09.6f}".rstrip("0").rstrip(".")
    return f"{hour:02}:{minute:02}:{whole if '.' in whole else whole.zfill(2)}"
