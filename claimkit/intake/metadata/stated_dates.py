"""Dates as XMP, IPTC and videos write them: ISO 8601 in whole or in part, and IPTC's own digits.

XMP dates follow a profile of ISO 8601 (ISO 16684-1, 8.2.1.2); IPTC-IIM 4.2 writes CCYYMMDD and
HHMMSS±HHMM in two fields. A text that is not of its form is kept and no date is claimed from it.
"""

from __future__ import annotations

import re
from datetime import datetime

from claimkit.model.photo import StatedDate

_ISO = re.compile(
    r"(\d{4})-(\d\d)-(\d\d)(?:[T ](\d\d):(\d\d)(?::(\d\d)(?:[.,](\d+))?)?"
    r"\s*(Z|[+-]\d\d:?\d\d)?)?",
    re.ASCII,
)
_IPTC = re.compile(r"(\d{4})(\d\d)(\d\d)(?:(\d\d)(\d\d)(\d\d)([+-]\d{4})?)?", re.ASCII)
MOST_TEXT = 64


def iso_date(where: str, text: str) -> StatedDate:
    """Read an ISO 8601 date, with or without a time of day and an offset."""
    text = text.strip()[:MOST_TEXT]
    found = _ISO.fullmatch(text)
    if found is None:
        return StatedDate(where, text)
    *numbers, fraction, zone = found.groups()
    return _stated(where, text, numbers, fraction, zone)


def iptc_date(where: str, day: str, time: str) -> StatedDate:
    """Read IPTC's date created and its time created, the second of which may be absent."""
    text = f"{day} {time}".strip()[:MOST_TEXT]
    found = _IPTC.fullmatch(day + time)
    if found is None:
        return StatedDate(where, text)
    *numbers, zone = found.groups()
    return _stated(where, text, numbers, None, zone)


def _stated(
    where: str, text: str, numbers: list[str | None], fraction: str | None, zone: str | None
) -> StatedDate:
    year, month, day, hour, minute, second = (int(n) if n else 0 for n in numbers)
    micro = int((fraction or "0")[:6].ljust(6, "0"))
    try:
        local = datetime(year, month, day, hour, minute, second, micro)  # noqa: DTZ001 - a clock face
    except ValueError:
        return StatedDate(where, text)
    return StatedDate(where, text, local, _minutes(zone), day_only=numbers[3] is None)


def _minutes(zone: str | None) -> int | None:
    if zone is None:
        return None
    if zone == "Z":
        return 0
    digits = zone[1:].replace(":", "")
    minutes = int(digits[:2]) * 60 + int(digits[2:])
    return -minutes if zone[0] == "-" else minutes
