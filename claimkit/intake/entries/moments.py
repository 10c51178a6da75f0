"""Times as people write them, placed in the site's time zone.

Only the ISO order year-month-day is read: 05/04/2026 is two different days to two readers. A local
time that the clocks skipped or passed twice is no one instant, so it is refused until its offset
from UTC is written. A date without a time is the whole local day, however long that day was.
"""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, time, timedelta, timezone, tzinfo
from functools import lru_cache
from importlib import resources

from claimkit.intake.entries.problems import Unreadable, listed, nearest, quoted
from claimkit.model.moment import Moment, Precision

EARLIEST_YEAR, LATEST_YEAR = 1990, 2100

_ISO = re.compile(
    r"(\d{4})-(\d{2})-(\d{2})"
    r"(?:[ T](\d{2}):(\d{2})(?::(\d{2})(?:[.]\d+)?)?(?: ?(Z|[+-]\d{2}:?\d{2}))?)?",
    re.ASCII | re.IGNORECASE,
)
_BARE_TIME = re.compile(r"\d{1,2}(?:[:.h]\d{2}){1,2} ?(?:[ap][.]?m[.]?)?", re.ASCII | re.I)
_NUMBERS = re.compile(r"(\d{1,4})[-/. ](\d{1,2})[-/. ](\d{1,4})(.*)", re.ASCII)
_CLOCK = re.compile(r"[T ,]*(\d{1,2}):(\d{2})(?::(\d{2}))? ?([ap])?[.]?m?[.]?", re.ASCII | re.I)
_NAMED_MONTH = re.compile(
    r"(?:(\d{1,2})[. ]+([a-z]{3})[a-z]*[., ]+(\d{4})"
    r"|([a-z]{3})[a-z]*[. ]+(\d{1,2}),? +(\d{4}))(.*)",
    re.ASCII | re.IGNORECASE,
)
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


def moment(value: object, zone: tzinfo | None, spelled: str | None = None) -> Moment:
    """Read a time written as text or as a TOML date or date-time.

    `zone` is the site's; `spelled` how a TOML date or date-time stands in the file. TOML always
    wants seconds, so a TOML date-time that ends in :00 is taken as written to the minute. Raises
    Unreadable, with `needs_zone` where only the zone is missing.
    """
    if isinstance(value, datetime):
        whole_minute = value.second == 0 and value.microsecond == 0
        precision = Precision.MINUTE if whole_minute else Precision.SECOND
        return _placed(value.replace(microsecond=0), precision, zone, spelled or str(value))
    if isinstance(value, date):
        return _whole_day(value, zone, spelled or str(value))
    if isinstance(value, time):
        raise _bare_time(str(value))
    if not isinstance(value, str):
        raise Unreadable(f"{value} is not a time.", "Write such as 2026-05-04 09:10, in quotes.")
    return _from_text(value, zone)


def _from_text(text: str, zone: tzinfo | None) -> Moment:
    found = _ISO.fullmatch(text.strip())
    if not found:
        raise _not_iso(text)
    year, month, day, hour, minute, second, offset = found.groups()
    try:
        on = date(int(year), int(month), int(day))
    except ValueError:
        raise Unreadable(
            f"{quoted(text)} is a day that no calendar has.", "Look again at month and day."
        ) from None
    if hour is None:
        return _whole_day(on, zone, text)
    try:
        at = datetime.combine(on, time(int(hour), int(minute), int(second or 0)))
    except ValueError:
        raise Unreadable(
            f"{quoted(text)} has a time that no clock shows.",
            "Write hours 00 to 23, minutes 00 to 59.",
        ) from None
    if offset:
        at = at.replace(tzinfo=_offset(offset, text))
    return _placed(at, Precision.SECOND if second else Precision.MINUTE, zone, text)


def _offset(written: str, text: str) -> timezone:
    if written in "Zz":
        return UTC
    hours, minutes = int(written[1:3]), int(written[-2:])
    if hours > 14 or minutes > 59:  # the widest offset in use is +14:00
        raise Unreadable(
            f"{quoted(text)} has an offset that no zone has.", "Write such as -05:00 or Z for UTC."
        )
    size = timedelta(hours=hours, minutes=minutes)
    return timezone(-size if written[0] == "-" else size)


def _placed(at: datetime, precision: Precision, zone: tzinfo | None, written: str) -> Moment:
    """Give the moment with the fixed offset that the site's clocks had."""
    _plausible(at.date(), written)
    if at.tzinfo is not None:
        local = at.astimezone(zone) if zone else at
        return Moment(local.astimezone(_fixed(local)), written, precision)
    if zone is None:
        raise _no_zone(written)
    instants = _instants(at, zone)
    if len(instants) == 1:
        return Moment(instants[0], written, precision)
    plain = f"{at:%Y-%m-%d %H:%M}" + (f":{at:%S}" if precision is Precision.SECOND else "")
    if not instants:
        raise Unreadable(
            f"{quoted(written)} did not exist at the site ({zone}): the clocks were put forward "
            "over it.",
            f"Look again; if the clock was not put forward, write its offset: "
            f"{listed(_with_offset(plain, at, zone))}.",
        )
    raise Unreadable(
        f"{quoted(written)} happened twice at the site ({zone}): the clocks were put back.",
        f"Write which one, with its offset: {listed(_with_offset(plain, at, zone))}.",
    )


def _instants(at: datetime, zone: tzinfo) -> tuple[datetime, ...]:
    """Give the instants, none, one or two, at which the site's clocks showed this local time."""
    found = []
    for fold in (0, 1):
        aware = at.replace(tzinfo=zone, fold=fold)
        fixed = aware.astimezone(_fixed(aware))
        shows = fixed.astimezone(UTC).astimezone(zone).replace(tzinfo=None, fold=0)
        if shows == at.replace(fold=0) and fixed not in found:
            found.append(fixed)
    return tuple(found)


def _with_offset(plain: str, at: datetime, zone: tzinfo) -> tuple[str, ...]:
    offsets = (at.replace(tzinfo=zone, fold=fold) for fold in (0, 1))
    return tuple(f"'{plain}{o.isoformat()[-6:]}'" for o in offsets)


def _whole_day(on: date, zone: tzinfo | None, written: str) -> Moment:
    _plausible(on, written)
    if zone is None:
        raise _no_zone(written)
    begins, ends = _first_instant(on, zone), _first_instant(on + timedelta(days=1), zone)
    if ends <= begins:  # a zone that moved across the date line left a whole day out
        raise Unreadable(
            f"{quoted(written)} did not exist at the site ({zone}).", "Look again at the day."
        )
    usual = ends - begins == timedelta(days=1)
    return Moment(begins, written, Precision.DAY, None if usual else ends)


def _first_instant(on: date, zone: tzinfo) -> datetime:
    """Give the first instant of a local day; where midnight was skipped, the next that existed."""
    midnight = datetime.combine(on, time())
    if instants := _instants(midnight, zone):
        return min(instants)
    # Read with the offset before the change, a skipped midnight is the instant of the change.
    skipped = midnight.replace(tzinfo=zone, fold=0).astimezone(UTC).astimezone(zone)
    return skipped.astimezone(_fixed(skipped))


def _fixed(aware: datetime) -> timezone:
    return timezone(aware.utcoffset() or timedelta())


def _plausible(on: date, written: str) -> None:
    if not EARLIEST_YEAR <= on.year <= LATEST_YEAR:
        raise Unreadable(f"{quoted(written)} has the year {on.year}.", "Look again at the year.")


def _no_zone(written: str) -> Unreadable:
    return Unreadable(
        f"{quoted(written)} is a local time, and the site's zone is not known.",
        "Mend the zone in job.toml first.",
        needs_zone=True,
    )


def _bare_time(text: str) -> Unreadable:
    return Unreadable(
        f"{quoted(text)} is a time of day without its day.", "Write such as 2026-05-04 09:10."
    )


def _not_iso(text: str) -> Unreadable:
    """Say why a text is no time, and give the ISO form of what it can mean."""
    plain = " ".join(text.split())
    if _BARE_TIME.fullmatch(plain):
        return _bare_time(text)
    meant = _can_mean(plain)
    if len(meant) > 1:
        choices = listed(f"'{one}'" for one in meant)
        return Unreadable(
            f"{quoted(text)} can be read as more than one day.",
            f"Write {choices}: year, month, day.",
        )
    if meant:
        return Unreadable(
            f"{quoted(text)} is not written as year-month-day hours:minutes.",
            f"Write '{meant[0]}'.",
        )
    return Unreadable(
        f"{quoted(text)} is not a time that can be read.",
        "Write such as '2026-05-04 09:10', or '2026-05-04' for the whole day.",
    )


def _can_mean(plain: str) -> tuple[str, ...]:
    """Give the ISO forms of a date in another order, one for each day that it can mean."""
    if found := re.fullmatch(r"(\d{4})(\d{2})(\d{2})(.*)", plain, re.ASCII):
        orders, rest = [(found[1], found[2], found[3])], found[4]
    elif found := _NUMBERS.fullmatch(plain):
        a, b, c, rest = found.groups()
        orders = [(a, b, c)] if len(a) == 4 else [(c, a, b), (c, b, a)]
    elif found := _NAMED_MONTH.fullmatch(plain):
        day, name, year = (
            (found[1], found[2], found[3]) if found[1] else (found[5], found[4], found[6])
        )
        month = _MONTHS.index(name.lower()) + 1 if name.lower() in _MONTHS else 0
        orders, rest = [(year, str(month), day)], found[7]
    else:
        return ()
    clock = _clock(rest)
    if rest.strip() and not clock:
        return ()
    return tuple(dict.fromkeys(f"{d}{clock}" for o in orders if (d := _day(*o))))


def _day(year: str, month: str, day: str) -> date | None:
    try:
        full = int(year) + (2000 if len(year) == 2 else 0)
        return date(full, int(month), int(day))
    except ValueError:
        return None


def _clock(rest: str) -> str:
    """Give ' HH:MM' of a time after a date, on the 24-hour clock; empty where there is none."""
    found = _CLOCK.fullmatch(rest)
    if not found:
        return ""
    hour, half = int(found[1]), (found[4] or "").lower()
    if half:
        hour = hour % 12 + (12 if half == "p" else 0)
    return f" {hour:02}:{found[2]}" + (f":{found[3]}" if found[3] else "")


@lru_cache(maxsize=1)
def zone_names() -> frozenset[str]:
    """Give the names of the IANA time zone database, as the tzdata package lists them."""
    listing = resources.files("tzdata").joinpath("zones").read_text(encoding="utf-8")
    return frozenset(listing.split())


_OF_ABBREVIATION = {
    **dict.fromkeys(("EST", "EDT", "ET", "EST5EDT", "EASTERN"), "America/New_York"),
    **dict.fromkeys(("CST", "CDT", "CT", "CST6CDT", "CENTRAL"), "America/Chicago"),
    **dict.fromkeys(("MST", "MDT", "MT", "MST7MDT", "MOUNTAIN"), "America/Denver"),
    **dict.fromkeys(("PST", "PDT", "PT", "PST8PDT", "PACIFIC"), "America/Los_Angeles"),
    **dict.fromkeys(("GMT", "BST", "WET", "GB"), "Europe/London"),
    **dict.fromkeys(("CET", "CEST", "MET"), "Europe/Paris"),
}


def zone_name(text: str) -> str:
    """Check the name of a time zone: 'America/Chicago'. Raises Unreadable.

    Abbreviations are refused even where the database has them: EST there has no summer time.
    """
    if text == "UTC" or (text in zone_names() and "/" in text and not text.startswith("Etc/")):
        return text
    if place := _OF_ABBREVIATION.get(text.upper().split()[0] if text.split() else ""):
        raise Unreadable(
            f"{quoted(text)} is not the zone of a place: it does not say when clocks change.",
            f"Write the zone of the site's town, such as '{place}'.",
        )
    likely = nearest(text, (z for z in zone_names() if "/" in z[1:] and z[:4] != "Etc/"))
    raise Unreadable(
        f"{quoted(text)} is not a time zone of a place.",
        f"Write the IANA name for the site's town, such as '{likely or 'America/Chicago'}'.",
    )
