"""Published rules of daylight-saving time, against how photos without an offset are dated.

United States: 15 USC 260a as amended by the Energy Policy Act of 2005, section 110: from 2 a.m. on
the second Sunday of March to 2 a.m. on the first Sunday of November, local time, one hour.
European Union: Directive 2000/84/EC, articles 2 and 3: from 1 a.m. UTC on the last Sunday of March
to 1 a.m. UTC on the last Sunday of October, one hour, everywhere at the same instant.
Lord Howe Island (half an hour, at 2 a.m. local, first Sundays of October and April): IANA time
zone database, file australasia. All three from memory; the dates were counted on a calendar. The
oracle here applies these rules in UTC and uses no time zone library.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from claimkit.findings.timeline.photo_time import Pass, dating, passes
from claimkit.model.case import TimeBasis
from tests.build import photo

SECOND = timedelta(seconds=1)
HOUR = timedelta(hours=1)


def at(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


def taken(text: str, zone: str) -> tuple[datetime, datetime]:
    """Give the interval of a photo with no offset, its second of reading taken off."""
    dated = dating(photo("a.jpg", text, offset=None), ZoneInfo(zone))
    assert dated.basis is TimeBasis.SITE_ZONE
    assert dated.taken.earliest is not None
    assert dated.taken.latest is not None
    return dated.taken.earliest + SECOND, dated.taken.latest - SECOND


# Local clock face, zone, how often it comes, first and last instant in UTC, reckoned by hand.
ROWS = [
    # Chicago is UTC-6, in summer UTC-5. 2026: second Sunday of March is the 8th.
    ("2026-03-08 01:59:59", "America/Chicago", Pass.ONCE, "2026-03-08 07:59:59", None),
    ("2026-03-08 02:30:00", "America/Chicago", Pass.NEVER, "2026-03-08 07:30", "2026-03-08 08:30"),
    ("2026-03-08 03:00:00", "America/Chicago", Pass.ONCE, "2026-03-08 08:00:00", None),
    # First Sunday of November 2026 is the 1st.
    ("2026-11-01 00:59:59", "America/Chicago", Pass.ONCE, "2026-11-01 05:59:59", None),
    ("2026-11-01 01:00:00", "America/Chicago", Pass.TWICE, "2026-11-01 06:00", "2026-11-01 07:00"),
    (
        "2026-11-01 01:59:59",
        "America/Chicago",
        Pass.TWICE,
        "2026-11-01 06:59:59",
        "2026-11-01 07:59:59",
    ),
    ("2026-11-01 02:00:00", "America/Chicago", Pass.ONCE, "2026-11-01 08:00:00", None),
    # The year before: 9 March and 2 November 2025, in New York (UTC-5, in summer UTC-4).
    ("2025-03-09 02:00:00", "America/New_York", Pass.NEVER, "2025-03-09 06:00", "2025-03-09 07:00"),
    ("2025-11-02 01:30:00", "America/New_York", Pass.TWICE, "2025-11-02 05:30", "2025-11-02 06:30"),
    # Los Angeles, 10 March 2024: the same clock face in another zone is another instant.
    (
        "2024-03-10 02:30:00",
        "America/Los_Angeles",
        Pass.NEVER,
        "2024-03-10 09:30",
        "2024-03-10 10:30",
    ),
    # Berlin is UTC+1, in summer UTC+2. 2024: 31 March and 27 October.
    ("2024-03-31 01:59:59", "Europe/Berlin", Pass.ONCE, "2024-03-31 00:59:59", None),
    ("2024-03-31 02:30:00", "Europe/Berlin", Pass.NEVER, "2024-03-31 00:30", "2024-03-31 01:30"),
    ("2024-10-27 02:30:00", "Europe/Berlin", Pass.TWICE, "2024-10-27 00:30", "2024-10-27 01:30"),
    ("2024-10-27 03:00:00", "Europe/Berlin", Pass.ONCE, "2024-10-27 02:00:00", None),
    # London changes at the same instant by another clock face: 1 to 2 o'clock.
    ("2025-03-30 01:30:00", "Europe/London", Pass.NEVER, "2025-03-30 00:30", "2025-03-30 01:30"),
    ("2025-10-26 01:30:00", "Europe/London", Pass.TWICE, "2025-10-26 00:30", "2025-10-26 01:30"),
    # Lord Howe Island: UTC+10:30, in summer UTC+11; half an hour. 7 April and 6 October 2024.
    (
        "2024-04-07 01:45:00",
        "Australia/Lord_Howe",
        Pass.TWICE,
        "2024-04-06 14:45",
        "2024-04-06 15:15",
    ),
    ("2024-04-07 01:15:00", "Australia/Lord_Howe", Pass.ONCE, "2024-04-06 14:15:00", None),
    (
        "2024-10-06 02:15:00",
        "Australia/Lord_Howe",
        Pass.NEVER,
        "2024-10-05 15:15",
        "2024-10-05 15:45",
    ),
    ("2024-10-06 02:45:00", "Australia/Lord_Howe", Pass.ONCE, "2024-10-05 15:45:00", None),
    # No daylight saving: every clock face comes once, on days on which others change too.
    ("2026-03-08 02:30:00", "America/Phoenix", Pass.ONCE, "2026-03-08 09:30:00", None),
    ("2026-11-01 01:30:00", "America/Phoenix", Pass.ONCE, "2026-11-01 08:30:00", None),
    ("2026-03-29 02:30:00", "Asia/Tokyo", Pass.ONCE, "2026-03-28 17:30:00", None),
    ("2026-03-29 02:30:00", "Asia/Kathmandu", Pass.ONCE, "2026-03-28 20:45:00", None),
]


@pytest.mark.parametrize("local, zone, how, first, last", ROWS)
def test_a_clock_face_of_the_site(
    local: str, zone: str, how: Pass, first: str, last: str | None
) -> None:
    assert passes(datetime.fromisoformat(local), ZoneInfo(zone))[0] is how
    assert taken(local, zone) == (at(first), at(last or first))


@pytest.mark.parametrize("local, zone, how, first, last", ROWS)
def test_ambiguity_is_told(local: str, zone: str, how: Pass, first: str, last: str | None) -> None:
    dated = dating(photo("a.jpg", local, offset=None), ZoneInfo(zone))
    assert dated.ambiguous is (how is not Pass.ONCE)
    words = {Pass.ONCE: "is assumed.", Pass.TWICE: "came twice", Pass.NEVER: "was skipped"}
    assert words[how] in dated.why


def sunday(year: int, month: int, number: int) -> date:
    """Give the number-th Sunday of a month, from the end where negative."""
    days = [date(year, month, 1) + timedelta(days=n) for n in range(31)]
    sundays = [day for day in days if day.month == month and day.weekday() == 6]
    return sundays[number if number < 0 else number - 1]


def chicago(utc: datetime) -> timedelta:
    """15 USC 260a in UTC: 2 a.m. standard time is 08:00 UTC, 2 a.m. daylight time 07:00 UTC."""
    begins = datetime.combine(sunday(utc.year, 3, 2), datetime.min.time(), UTC) + 8 * HOUR
    ends = datetime.combine(sunday(utc.year, 11, 1), datetime.min.time(), UTC) + 7 * HOUR
    return -5 * HOUR if begins <= utc < ends else -6 * HOUR


def berlin(utc: datetime) -> timedelta:
    """Directive 2000/84/EC: 01:00 UTC on the last Sundays of March and October."""
    begins = datetime.combine(sunday(utc.year, 3, -1), datetime.min.time(), UTC) + HOUR
    ends = datetime.combine(sunday(utc.year, 10, -1), datetime.min.time(), UTC) + HOUR
    return 2 * HOUR if begins <= utc < ends else HOUR


ORACLES: dict[str, tuple[Callable[[datetime], timedelta], tuple[timedelta, timedelta]]] = {
    "America/Chicago": (chicago, (-6 * HOUR, -5 * HOUR)),
    "Europe/Berlin": (berlin, (HOUR, 2 * HOUR)),
}

# Mostly ordinary times, often near the changes (the last and first three hours of a Sunday).
NEAR = st.builds(
    lambda day, seconds: datetime.combine(day, datetime.min.time()) + timedelta(seconds=seconds),
    st.builds(
        sunday, st.integers(2008, 2036), st.sampled_from([3, 10, 11]), st.sampled_from([1, 2, -1])
    ),
    st.integers(0, 4 * 3600),
)
ANY = st.datetimes(datetime.fromisoformat("2008-01-02"), datetime.fromisoformat("2036-12-30")).map(
    lambda d: d.replace(microsecond=0)
)


@pytest.mark.parametrize("zone", ORACLES)
@given(local=st.one_of(NEAR, ANY))
def test_agrees_with_the_statutes(zone: str, local: datetime) -> None:
    """Every instant at which the statute's clock shows this face is covered, and nothing else is.

    A skipped face is no instant; then both offsets are tried and both are covered.
    """
    offset_at, offsets = ORACLES[zone]
    tried = [local.replace(tzinfo=UTC) - offset for offset in offsets]
    real = [utc for utc in tried if utc + offset_at(utc) == local.replace(tzinfo=UTC)]
    instants = real or tried
    assert taken(f"{local:%Y-%m-%d %H:%M:%S}", zone) == (min(instants), max(instants))


def test_the_hours_order_is_reversed_by_naive_sorting() -> None:
    """Two photos of 27 October 2024 in Berlin: 02:30 at +02:00 comes before 02:10 at +01:00."""
    first = dating(
        photo("a.jpg", "2024-10-27 02:30:00", offset="+02:00"), ZoneInfo("Europe/Berlin")
    )
    second = dating(
        photo("b.jpg", "2024-10-27 02:10:00", offset="+01:00"), ZoneInfo("Europe/Berlin")
    )
    assert first.taken.latest is not None
    assert second.taken.earliest is not None
    assert first.taken.latest < second.taken.earliest
    assert first.taken.earliest == at("2024-10-27 00:30") - SECOND
    assert second.taken.earliest == at("2024-10-27 01:10") - SECOND
