"""Times that people wrote, as stretches of the site's own calendar.

A day is the site's local day: 23 or 25 hours long where the clocks change. Everything here uses
fixed UTC offsets, because two times with the same zone rules compare by their clock faces.
"""

from __future__ import annotations

from datetime import datetime, time, timedelta, timezone
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from claimkit.model.facts import Facts
from claimkit.model.moment import Interval, Moment, Precision

TICK = timedelta(microseconds=1)


def site_zone(facts: Facts) -> ZoneInfo | None:
    """Give the site's time zone, or None where the job names none that exists."""
    if facts.job is None:
        return None
    try:
        return ZoneInfo(facts.job.site.zone)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return None


def fixed(at: datetime) -> datetime:
    """Give the same instant with the fixed offset in force, so that comparing is by instants."""
    return at.astimezone(timezone(at.utcoffset() or timedelta()))


def stretch_of(moment: Moment, zone: ZoneInfo | None, basis: str = "as written") -> Interval:
    """Give the stretch that a written time names; a day ends at the site's next local midnight."""
    if moment.precision is not Precision.DAY or moment.ends is not None or zone is None:
        return moment.interval(basis)
    midnight = datetime.combine(moment.day + timedelta(days=1), time(), tzinfo=zone)
    return Interval(moment.at, fixed(midnight) - TICK, basis)
