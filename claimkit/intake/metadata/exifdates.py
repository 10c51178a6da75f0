"""The texts that cameras write for dates, offsets and parts of a second, strictly read.

CIPA DC-008 (Exif 2.32 and 3.0) 4.6.5 fixes the forms. A text that is not exactly of its form is
kept as it stands with a sentence on what is wrong with it; it is never repaired into a date.
"""

from __future__ import annotations

import re
from datetime import datetime

_DATE = re.compile(r"(\d{4}):(\d{2}):(\d{2}) (\d{2}):(\d{2}):(\d{2})", re.ASCII)
_DAY = re.compile(r"(\d{4}):(\d{2}):(\d{2})", re.ASCII)
_OFFSET = re.compile(r"([+-])(\d{2}):(\d{2})", re.ASCII)
_EARLIEST_OFFSET, _LATEST_OFFSET = -12 * 60, 14 * 60


def read_date(text: str, subsec_text: str | None) -> tuple[datetime | None, str | None]:
    """Read a date tag's text and its sub-seconds: the camera's naive time, or why there is none.

    The form is `YYYY:MM:DD HH:MM:SS`, a real calendar date, hour 0 to 23, second 0 to 59. Spaces
    or zeros in all places mean unknown (DC-008 4.6.5, DateTimeOriginal). Whether the year makes
    sense is not judged here.
    """
    if not text.strip(" :") or not text.strip("0 :"):
        return None, "The date is blank: unknown."
    found = _DATE.fullmatch(text)
    if found is None:
        return None, "The text is not of the form YYYY:MM:DD HH:MM:SS."
    year, month, day, hour, minute, second = (int(part) for part in found.groups())
    for value, last, name in ((hour, 23, "hour"), (minute, 59, "minute"), (second, 59, "second")):
        if value > last:
            return None, f"The {name} is {value}: a clock shows 0 to {last}."
    micro = read_subsec(subsec_text) or 0
    try:
        return datetime(year, month, day, hour, minute, second, micro), None  # noqa: DTZ001 - the camera's own clock, without zone
    except ValueError:
        return None, f"There is no such day: {text[:10]}."


def read_offset(text: str | None) -> int | None:
    """Read an offset from UTC in minutes: `+HH:MM` or `-HH:MM`, from -12:00 to +14:00.

    Anything else, blanks too, means unknown. The range is that of the world's zones (common
    practice, no source).
    """
    found = _OFFSET.fullmatch(text or "")
    if found is None or int(found[3]) > 59:
        return None
    minutes = int(found[2]) * 60 + int(found[3])
    minutes = -minutes if found[1] == "-" else minutes
    return minutes if _EARLIEST_OFFSET <= minutes <= _LATEST_OFFSET else None


def read_subsec(text: str | None) -> int | None:
    """Read sub-seconds as microseconds: digits of a decimal fraction, so "5" is half a second.

    Trailing blanks are fill (DC-008 4.6.5, SubSecTime); digits beyond six are dropped.
    """
    digits = (text or "").rstrip(" ")
    if not (digits.isascii() and digits.isdigit()):
        return None
    return int(digits[:6].ljust(6, "0"))


def is_day(text: str | None) -> bool:
    """Tell whether a text is a real day of the form `YYYY:MM:DD`."""
    found = _DAY.fullmatch(text or "")
    if found is None:
        return False
    try:
        datetime(int(found[1]), int(found[2]), int(found[3]))  # noqa: DTZ001 - only tried
    except ValueError:
        return False
    return True
