"""Times as people write them, in the site's zone.

The oracle for local times goes the other way round: it tries every offset of a quarter of an hour
and asks `zoneinfo` only for UTC to local. Dates of the changes: US Energy Policy Act of 2005, s.
110 (second Sunday of March, first Sunday of November at 2:00); Brazil's change at midnight and the
day that Samoa left out are from the IANA time zone database.
"""

from __future__ import annotations

import tomllib
from datetime import UTC, date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from claimkit.intake.entries.moments import moment, zone_name, zone_names
from claimkit.intake.entries.problems import Unreadable
from claimkit.model.moment import Moment, Precision

CHICAGO = ZoneInfo("America/Chicago")
ZONES = [
    "America/Chicago",
    "America/St_Johns",  # half-hour offset
    "Asia/Kathmandu",  # quarter-hour offset, no change
    "Australia/Lord_Howe",  # the clocks change by half an hour
    "America/Sao_Paulo",  # changed at midnight until 2018
    "Europe/Dublin",  # winter time is the one that is "daylight saving" in the database
    "Africa/Casablanca",  # back for one month a year
    "Pacific/Apia",  # left out 2011-12-30
    "America/Havana",  # changes at midnight and at one
    "UTC",
]


def refusal(value: Any, zone: ZoneInfo | None = CHICAGO) -> str:
    with pytest.raises(Unreadable) as caught:
        moment(value, zone)
    return f"{caught.value.found} {caught.value.write}"


def instants(local: datetime, zone: ZoneInfo) -> list[datetime]:
    """Give every instant at which clocks in the zone show a local time."""
    quarters = (timedelta(minutes=15 * n) for n in range(-14 * 4, 15 * 4))
    candidates = ((local - q).replace(tzinfo=UTC) for q in quarters)
    shown = ((c, c.astimezone(zone).replace(tzinfo=None, fold=0)) for c in candidates)
    return sorted(instant for instant, face in shown if face == local)


@pytest.mark.parametrize(
    "written, at, precision",
    [
        ("2026-05-04 09:10", "2026-05-04T09:10:00-05:00", Precision.MINUTE),
        ("2026-05-04T09:10", "2026-05-04T09:10:00-05:00", Precision.MINUTE),
        ("2026-05-04T09:10:30", "2026-05-04T09:10:30-05:00", Precision.SECOND),
        ("2026-05-04 09:10:00", "2026-05-04T09:10:00-05:00", Precision.SECOND),
        ("2026-05-04 09:10:30.75", "2026-05-04T09:10:30-05:00", Precision.SECOND),
        ("2026-05-04", "2026-05-04T00:00:00-05:00", Precision.DAY),
        ("2026-01-04 09:10", "2026-01-04T09:10:00-06:00", Precision.MINUTE),  # winter
        ("2026-05-04 09:10-05:00", "2026-05-04T09:10:00-05:00", Precision.MINUTE),
        ("2026-05-04 09:10 -0500", "2026-05-04T09:10:00-05:00", Precision.MINUTE),
        ("2026-05-04T14:10Z", "2026-05-04T09:10:00-05:00", Precision.MINUTE),  # into the site's
        ("2026-05-05T01:10Z", "2026-05-04T20:10:00-05:00", Precision.MINUTE),  # the day before
        ("2024-02-29 12:00", "2024-02-29T12:00:00-06:00", Precision.MINUTE),  # leap day
    ],
)
def test_texts(written: str, at: str, precision: Precision) -> None:
    read = moment(written, CHICAGO)
    assert read.at.isoformat() == at
    assert (read.precision, read.written) == (precision, written)
    assert read.at.utcoffset() == read.at.tzinfo.utcoffset(None)  # type: ignore[union-attr]


@pytest.mark.parametrize(
    "toml, at, precision",
    [
        # TOML 1.0 wants seconds, so :00 does not say that anybody looked at them
        ("2026-05-04T09:10:00", "2026-05-04T09:10:00-05:00", Precision.MINUTE),
        ("2026-05-04 09:10:30", "2026-05-04T09:10:30-05:00", Precision.SECOND),
        ("2026-05-04T14:10:00Z", "2026-05-04T09:10:00-05:00", Precision.MINUTE),
        ("2026-05-04", "2026-05-04T00:00:00-05:00", Precision.DAY),
    ],
)
def test_dates_of_toml(toml: str, at: str, precision: Precision) -> None:
    read = moment(tomllib.loads(f"x = {toml}")["x"], CHICAGO, toml)
    assert (read.at.isoformat(), read.precision, read.written) == (at, precision, toml)


@pytest.mark.parametrize(
    "text, says",
    [
        ("05/04/2026", "'2026-05-04' or '2026-04-05'"),  # the US and most others differ
        ("04.05.2026", "'2026-04-05' or '2026-05-04'"),
        ("5/4/26 9:10 PM", "'2026-05-04 21:10' or '2026-04-05 21:10'"),
        ("05/14/2026", "'2026-05-14'"),  # only one day is possible; still not the form
        ("05/05/2026", "'2026-05-05'"),  # both readings are one day
        ("4 May 2026", "'2026-05-04'"),
        ("May 4, 2026 9:10am", "'2026-05-04 09:10'"),
        ("12:30 am", "time of day without its day"),
        ("May 4, 2026 12:30 am", "'2026-05-04 00:30'"),  # half past midnight
        ("May 4, 2026 12:30 pm", "'2026-05-04 12:30'"),
        ("2026/05/04", "'2026-05-04'"),
        ("20260504", "'2026-05-04'"),
        ("2026-5-4", "'2026-05-04'"),
        ("2026-05-04 9:10", "'2026-05-04 09:10'"),
        ("09:10", "without its day"),
        ("9.10 am", "without its day"),
        ("2026-02-29", "no calendar"),  # no leap year
        ("2026-04-31 09:00", "no calendar"),
        ("2026-05-04 24:00", "no clock"),
        ("2026-05-04 09:60", "no clock"),
        ("2026-05-04 09:10+99:00", "offset that no zone has"),
        ("0226-05-04", "the year 226"),  # digits swapped
        ("1989-12-31", "the year 1989"),
        ("2101-01-01 00:00", "the year 2101"),
        ("2026-05-04 09:10 CDT", "not a time that can be read"),  # no part of it is dropped
        ("yesterday", "not a time that can be read"),
        ("", "not a time that can be read"),
    ],
)
def test_times_that_are_refused(text: str, says: str) -> None:
    assert says in refusal(text)


@pytest.mark.parametrize("text", ["1990-01-01", "2100-12-31 23:59"])
def test_the_years_at_the_ends_are_taken(text: str) -> None:
    assert moment(text, CHICAGO).written == text


def test_a_time_of_day_of_toml_is_refused() -> None:
    assert "without its day" in refusal(tomllib.loads("x = 09:10:00")["x"])


def test_a_skipped_time_is_refused_with_both_offsets() -> None:
    said = refusal("2026-03-08 02:30")  # second Sunday of March 2026
    assert "did not exist" in said
    assert "'2026-03-08 02:30-06:00' or '2026-03-08 02:30-05:00'" in said
    assert moment("2026-03-08 01:59", CHICAGO).at.isoformat() == "2026-03-08T01:59:00-06:00"
    assert moment("2026-03-08 03:00", CHICAGO).at.isoformat() == "2026-03-08T03:00:00-05:00"


def test_a_time_that_came_twice_is_refused_until_its_offset_is_written() -> None:
    said = refusal("2026-11-01 01:30")  # first Sunday of November 2026
    assert "happened twice" in said
    assert "'2026-11-01 01:30-05:00' or '2026-11-01 01:30-06:00'" in said
    first = moment("2026-11-01 01:30-05:00", CHICAGO)
    second = moment("2026-11-01 01:30-06:00", CHICAGO)
    assert second.at - first.at == timedelta(hours=1)
    assert moment("2026-11-01 00:59", CHICAGO).at.isoformat() == "2026-11-01T00:59:00-05:00"
    assert moment("2026-11-01 02:00", CHICAGO).at.isoformat() == "2026-11-01T02:00:00-06:00"


@pytest.mark.parametrize(
    "zone, day, hours",
    [
        ("America/Chicago", "2026-05-04", 24),
        ("America/Chicago", "2026-03-08", 23),
        ("America/Chicago", "2026-11-01", 25),
        ("America/Sao_Paulo", "2018-11-04", 23),  # begins at 01:00: midnight was skipped
        ("America/Sao_Paulo", "2018-02-17", 25),  # its last hour came twice
        ("Australia/Lord_Howe", "2026-04-05", 24.5),
        ("America/Havana", "2026-11-01", 25),  # its first hour comes twice: it has two midnights
    ],
)
def test_a_day_is_the_whole_local_day(zone: str, day: str, hours: float) -> None:
    stretch = moment(day, ZoneInfo(zone)).interval("")
    assert stretch.earliest is not None
    assert stretch.latest is not None
    length = stretch.latest - stretch.earliest + timedelta(microseconds=1)
    assert length == timedelta(hours=hours)
    faces = [
        end.astimezone(ZoneInfo(zone)).date().isoformat()
        for end in (stretch.earliest, stretch.latest)
    ]
    assert faces == [day, day]


def test_a_day_that_was_left_out_is_refused() -> None:
    assert "did not exist" in refusal("2011-12-30", ZoneInfo("Pacific/Apia"))


@given(
    st.sampled_from(ZONES),
    st.datetimes(datetime(1991, 1, 1), datetime(2035, 1, 1)).map(  # noqa: DTZ001  # local times
        lambda d: d.replace(second=0, microsecond=0)
    ),
)
def test_local_times_by_trying_every_offset(name: str, local: datetime) -> None:
    _compare(ZoneInfo(name), local)


@given(st.sampled_from(ZONES), st.integers(2000, 2030), st.integers(-180, 180))
def test_local_times_around_the_changes(name: str, year: int, minutes: int) -> None:
    """Random times rarely meet a change, so look for each and go around it."""
    zone = ZoneInfo(name)
    day = datetime(year, 1, 1, tzinfo=UTC)
    for hour in range(0, 366 * 24, 24):
        a, b = day + timedelta(hours=hour), day + timedelta(hours=hour + 24)
        if a.astimezone(zone).utcoffset() != b.astimezone(zone).utcoffset():
            while b - a > timedelta(minutes=1):
                middle = a + (b - a) / 2
                same = a.astimezone(zone).utcoffset() == middle.astimezone(zone).utcoffset()
                a, b = (middle, b) if same else (a, middle)
            local = b.astimezone(zone).replace(tzinfo=None, fold=0) + timedelta(minutes=minutes)
            _compare(zone, local.replace(second=0, microsecond=0))


def _compare(zone: ZoneInfo, local: datetime) -> None:
    text, expected = f"{local:%Y-%m-%d %H:%M}", instants(local, zone)
    try:
        read: Moment | None = moment(text, zone)
    except Unreadable:
        read = None
    assert ([read.at] if read else []) == (expected if len(expected) == 1 else [])
    if read:
        assert read.at.replace(tzinfo=None) == local


@given(st.sampled_from(ZONES), st.dates(date(1991, 1, 1), date(2035, 1, 1)))
def test_days_are_cut_where_the_local_date_changes(name: str, day: date) -> None:
    zone = ZoneInfo(name)
    try:
        read = moment(day.isoformat(), zone)
    except Unreadable:
        assert (name, day.isoformat()) == ("Pacific/Apia", "2011-12-30")
        return
    stretch = read.interval("")
    ends = [stretch.earliest, stretch.latest]
    beyond = [
        stretch.earliest - timedelta(microseconds=1),
        stretch.latest + timedelta(microseconds=1),
    ]
    assert [end.astimezone(zone).date() for end in ends] == [day, day]
    before, after = (end.astimezone(zone).date() for end in beyond)
    assert before < day < after


def test_without_the_zone_only_times_with_an_offset_are_read() -> None:
    with pytest.raises(Unreadable) as caught:
        moment("2026-05-04 09:10", None)
    assert caught.value.needs_zone
    assert moment("2026-05-04 09:10-05:00", None).at.isoformat() == "2026-05-04T09:10:00-05:00"
    with pytest.raises(Unreadable) as caught:
        moment("05/04/2026", None)  # wrong whatever the zone
    assert not caught.value.needs_zone


@given(st.text(max_size=40))
def test_any_text_is_a_time_or_refused(text: str) -> None:
    try:
        read = moment(text, CHICAGO)
    except Unreadable:
        assert refusal(text)
    else:
        assert read.at.tzinfo is not None


@pytest.mark.parametrize(
    "name", ["America/Chicago", "US/Central", "America/Argentina/Salta", "UTC"]
)
def test_zones(name: str) -> None:
    assert zone_name(name) == name


@pytest.mark.parametrize(
    "name, like",
    [
        ("EST", "America/New_York"),  # in the database, but without summer time
        ("EST5EDT", "America/New_York"),
        ("CST", "America/Chicago"),
        ("Pacific time", "America/Los_Angeles"),
        ("America/Chigaco", "America/Chicago"),
        ("america/chicago", "America/Chicago"),  # found on some disks and not on others
        ("Chicago", "America/Chicago"),
        ("Singapore", "Asia/Singapore"),  # an old name of the database; the town has a newer
        ("Etc/GMT+5", "'"),  # its sign is the other way round than people think
        ("../../etc/passwd", "'"),
        ("", "'"),
    ],
)
def test_zones_that_are_refused(name: str, like: str) -> None:
    with pytest.raises(Unreadable) as caught:
        zone_name(name)
    assert like in caught.value.write


def test_every_zone_of_a_place_can_be_loaded() -> None:
    for name in sorted(zone_names())[::25]:
        assert ZoneInfo(name).utcoffset(datetime(2026, 5, 4, tzinfo=UTC)) is not None
