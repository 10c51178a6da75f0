"""When a photo was taken: tags, offsets, resolution, and every reason for not knowing."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec import structs

from claimkit.findings.timeline.photo_time import Dating, dating
from claimkit.model.case import TimeBasis
from claimkit.model.photo import DateTag, ExifState, Photo
from tests.build import photo

SITE = ZoneInfo("America/Chicago")
SECOND = timedelta(seconds=1)


def tag(name: str, text: str, offset: str | None = None, **more: Any) -> DateTag:
    """A tag as intake reads it: text 'YYYY:MM:DD HH:MM:SS', offset '+02:00'."""
    local = datetime.strptime(text, "%Y:%m:%d %H:%M:%S")  # noqa: DTZ007  a clock face
    minutes = None
    if offset:
        minutes = int(offset[:3]) * 60 + int(offset[0] + offset[4:6])
    return DateTag(
        name, text, **({"offset_text": offset, "local": local, "offset_minutes": minutes} | more)
    )


def of(*tags: DateTag, **more: Any) -> Photo:
    return structs.replace(photo("a.jpg", None), dates=tags, exif_state=ExifState.READ, **more)


def dated(*tags: DateTag, zone: ZoneInfo | None = SITE, **more: Any) -> Dating:
    return dating(of(*tags, **more), zone)


def utc(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


ORIGINAL, DIGITIZED, CHANGE = "DateTimeOriginal", "DateTimeDigitized", "DateTime"


def test_an_offset_tag_gives_the_instant() -> None:
    found = dated(tag(ORIGINAL, "2026:05:04 09:15:00", "-05:00"))
    assert found.basis is TimeBasis.OFFSET_TAG
    assert (found.taken.earliest, found.taken.latest) == (
        utc("2026-05-04 14:14:59"),
        utc("2026-05-04 14:15:01"),
    )
    assert found.camera_text == "2026:05:04 09:15:00 -05:00"
    assert found.tag == ORIGINAL
    assert not found.notes


@pytest.mark.parametrize(
    "digits, local_us, step",
    [
        ("5", 500_000, timedelta(milliseconds=100)),  # a decimal fraction: half a second
        ("050", 50_000, timedelta(milliseconds=1)),  # not fifty hundredths
        ("935476", 935_476, timedelta(microseconds=1)),
        ("9354761", 935_476, timedelta(microseconds=1)),  # finer than a microsecond is not kept
        ("  ", 0, SECOND),  # blank: unknown
        (None, 0, SECOND),
        ("x", 0, SECOND),
    ],
)
def test_resolution_follows_the_sub_seconds(
    digits: str | None, local_us: int, step: timedelta
) -> None:
    """SubSec is a decimal fraction of a second (Exif 2.32, 4.6.5, SubSecTime)."""
    at = datetime.fromisoformat("2024-03-08 04:05:06").replace(microsecond=local_us)
    found = dated(tag(ORIGINAL, "2024:03:08 04:05:06", "+00:00", subsec_text=digits, local=at))
    middle = at.replace(tzinfo=UTC)
    assert (found.taken.earliest, found.taken.latest) == (middle - step, middle + step)


def test_an_offset_other_than_the_sites_is_kept_and_noted() -> None:
    found = dated(tag(ORIGINAL, "2026:05:04 09:15:00", "+02:00"))
    assert found.taken.earliest == utc("2026-05-04 07:14:59")
    assert "UTC+02:00" in found.notes[0]
    assert "UTC−05:00" in found.notes[0]


@pytest.mark.parametrize(
    "minutes, used",
    [(-720, True), (840, True), (-735, False), (855, False), (5940, False)],
    ids=["UTC-12", "UTC+14", "beyond UTC-12", "beyond UTC+14", "99 hours"],
)
def test_an_offset_in_use_nowhere_is_not_used(minutes: int, used: bool) -> None:
    found = dated(tag(ORIGINAL, "2026:05:04 09:15:00", offset_minutes=minutes, offset_text="x"))
    assert (found.basis is TimeBasis.OFFSET_TAG) is used
    assert used or "used nowhere" in found.why


def test_no_offset_is_borrowed_from_another_tag() -> None:
    """c07: OffsetTime belongs to DateTime, edited in summer; the photo was taken in winter."""
    found = dated(
        tag(ORIGINAL, "2024:01:20 16:00:00"),
        tag(CHANGE, "2024:07:15 21:10:00", "+02:00"),
        zone=ZoneInfo("Europe/Berlin"),
    )
    assert found.basis is TimeBasis.SITE_ZONE
    assert found.taken.earliest == utc("2024-01-20 14:59:59")
    assert any("DateTime “2024:07:15 21:10:00”" in note for note in found.notes)


def test_original_comes_before_digitized() -> None:
    found = dated(
        tag(DIGITIZED, "2026:05:06 10:00:00", "-05:00"),
        tag(ORIGINAL, "2026:05:04 09:15:00", "-05:00"),
    )
    assert found.tag == ORIGINAL
    assert found.notes == ("DateTimeDigitized differs: “2026:05:06 10:00:00”.",)


@pytest.mark.parametrize(
    "original, said",
    [
        ((), "DateTimeOriginal is absent"),
        (
            (DateTag(ORIGINAL, "0000:00:00 00:00:00", fault="no month 0"),),
            "DateTimeOriginal reads “0000:00:00 00:00:00”",
        ),
    ],
)
def test_digitized_serves_where_the_original_does_not(
    original: tuple[DateTag, ...], said: str
) -> None:
    found = dated(*original, tag(DIGITIZED, "2026:05:04 09:15:00", "-05:00"))
    assert found.tag == DIGITIZED
    assert said in found.why
    assert "made digital" in found.why


def test_the_date_of_the_last_change_dates_nothing() -> None:
    found = dated(tag(CHANGE, "2026:05:04 09:15:00", "-05:00"))
    assert not found.taken.known
    assert found.basis is TimeBasis.NONE
    assert found.camera_text == "2026:05:04 09:15:00 -05:00"
    assert "last change" in found.why


@pytest.mark.parametrize(
    "shot, said",
    [
        (structs.replace(of(), exif_state=ExifState.NONE), "holds no Exif"),
        (
            structs.replace(of(), exif_state=ExifState.UNREADABLE, exif_reason="it is cut short"),
            "cannot be read: it is cut short.",
        ),
        (structs.replace(of(), exif_state=ExifState.DISAGREES), "neither is claimed"),
        (of(), "holds no date"),
        (of(DateTag(ORIGINAL, "    :  :     :  :  ", fault="It is blank")), "It is blank"),
        (of(DateTag(ORIGINAL, "2024:10:05 24:00:00", fault="hour 24")), "hour 24"),
    ],
    ids=["no Exif", "unreadable", "two readings", "no date", "blank", "hour 24"],
)
def test_each_reason_for_no_time_is_its_own(shot: Photo, said: str) -> None:
    found = dating(shot, SITE)
    assert not found.taken.known
    assert found.taken.basis == found.why
    assert said in found.why


def test_a_disagreeing_exif_is_not_dated_by_either_reading() -> None:
    shot = structs.replace(
        of(tag(ORIGINAL, "2026:05:04 09:15:00", "-05:00")), exif_state=ExifState.DISAGREES
    )
    assert not dating(shot, SITE).taken.known


def test_without_a_site_zone_only_an_offset_dates() -> None:
    assert dated(tag(ORIGINAL, "2026:05:04 09:15:00", "-05:00"), zone=None).taken.known
    found = dated(tag(ORIGINAL, "2026:05:04 09:15:00"), zone=None)
    assert not found.taken.known
    assert "no site zone" in found.why
    assert found.camera_text == "2026:05:04 09:15:00"


@pytest.mark.parametrize("year", [1, 9999])
@pytest.mark.parametrize("offset", [None, "+14:00", "-12:00"])
def test_the_ends_of_the_calendar_do_not_crash(year: int, offset: str | None) -> None:
    local = datetime(year, 12, 31, 23, 59, 59) if year > 1 else datetime(year, 1, 1)  # noqa: DTZ001
    text = f"{year:04d}:12:31 23:59:59"
    minutes = {"+14:00": 840, "-12:00": -720}.get(offset or "")
    found = dated(DateTag(ORIGINAL, text, offset, None, local, minutes))
    assert not found.taken.known
    assert text in found.why


ZONES = [
    "America/Chicago", "Europe/Berlin", "Australia/Lord_Howe", "Asia/Kathmandu", "Pacific/Apia",
    "America/St_Johns", "Africa/Casablanca", "Pacific/Kiritimati",
]  # fmt: skip


@given(
    local=st.datetimes(datetime.fromisoformat("1971-01-01"), datetime.fromisoformat("2036-12-30")),
    zone=st.sampled_from(ZONES),
)
def test_an_assumed_zone_never_moves_the_clock_face(local: datetime, zone: str) -> None:
    """Within the hour that a zone shifts by, the interval shows the camera's own clock face."""
    at = local.replace(microsecond=0)
    found = dated(tag(ORIGINAL, f"{at:%Y:%m:%d %H:%M:%S}"), zone=ZoneInfo(zone))
    first, last = found.taken.earliest, found.taken.latest
    assert first is not None
    assert last is not None
    assert timedelta(seconds=2) <= last - first
    if not found.ambiguous:
        assert last - first == timedelta(seconds=2)
        assert (first + SECOND).astimezone(ZoneInfo(zone)).replace(tzinfo=None) == at


@pytest.mark.parametrize(
    "seconds,noted", [(-2, True), (-1, False), (0, False), (1, False), (2, True)]
)
@pytest.mark.parametrize("name", [DIGITIZED, CHANGE])
def test_another_tag_is_noted_where_it_differs_by_more_than_a_second(
    name: str, seconds: int, noted: bool
) -> None:
    """A text counts in whole seconds (Exif 2.32, 4.6.5): one second apart is the same time."""
    other = f"2026:05:04 09:15:{30 + seconds}"
    found = dated(tag(ORIGINAL, "2026:05:04 09:15:30"), tag(name, other))
    assert [other in note for note in found.notes] == ([True] if noted else [])
    broken = tag(name, other, local=None)
    assert dated(tag(ORIGINAL, "2026:05:04 09:15:30"), broken).notes == ()


def test_a_reason_of_the_file_ends_in_one_stop() -> None:
    damaged = structs.replace(
        of(), exif_state=ExifState.UNREADABLE, exif_reason="the block ends early."
    )
    found = dating(damaged, SITE)
    assert found.why == "The file's Exif cannot be read: the block ends early."
    assert dating(structs.replace(of(), exif_state=ExifState.NONE), SITE).why == (
        "The file holds no Exif, so no camera time."
    )
