"""GPS, file names, clocks in pictures, unset clocks: beside a photo's time, never instead."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from claimkit.findings.clocks.photo_clocks import photographer_of
from claimkit.findings.timeline.photo_beside import (
    beside_gps,
    beside_names,
    clock_start_of,
    is_zone_step,
)
from claimkit.findings.timeline.photo_time import dating
from claimkit.model.case import DatedPhoto, TimeBasis
from claimkit.model.job import Person, Site
from claimkit.model.photo import Camera, Gps
from claimkit.model.records import CameraClock
from claimkit.model.stages import Event, Stage
from claimkit.rules.capture import CLOCK_STARTS, NAME_PATTERNS
from tests.build import facts, job, moment, photo, record
from tests.findings.work_build import delivery, log, seen, staged, step

SITE = ZoneInfo("America/Chicago")


def gps(at: str, date_text: str | None = None) -> Gps:
    utc = datetime.fromisoformat(at).replace(tzinfo=UTC)
    return Gps(None, None, date_text or f"{utc:%Y:%m:%d}", f"{utc:%H:%M:%S}", utc)


def told(at: str, taken: str = "2026-05-04 09:15:00", date_text: str | None = None, **more: Any):
    shot = photo("a.jpg", taken, **more)
    return beside_gps(gps(at, date_text), dating(shot, SITE), SITE)


# The camera's time is 14:15:00 UTC, give or take a second.
@pytest.mark.parametrize(
    "at, words, opens",
    [
        ("2026-05-04 14:15:00", "agrees", False),
        ("2026-05-04 14:16:55", "1 min 54 s away: it agrees", False),  # a minute is normal
        ("2026-05-04 14:17:10", "contradict", True),  # later: no stale fix is newer
        ("2026-05-04 13:52:00", "23 min earlier", False),  # a fix may be old
        ("2026-05-02 15:05:00", "older than the picture", False),  # 47 h
        ("2026-05-02 13:35:00", "contradict", True),  # 49 h: older than any that was seen
        ("2026-05-04 16:45:30", "another zone", True),  # two and a half hours
        ("2026-05-04 12:15:00", "another zone than America/Chicago", True),
        ("2027-05-04 14:15:00", "365 days later", True),
    ],
)
def test_gps_against_an_assumed_zone(at: str, words: str, opens: bool) -> None:
    found = told(at, offset=None)
    assert words in found.sentences[0]
    assert (found.other is not None) is opens


def test_gps_fields_that_hold_local_time_are_explained() -> None:
    """GPS 09:15 'UTC' beside 09:15 -05:00: the fields hold the phone's own clock."""
    found = told("2026-05-04 09:15:00")
    assert "hold local time" in found.sentences[0]
    assert found.other is None


def test_the_same_with_no_offset_may_as_well_be_a_camera_on_utc() -> None:
    found = told("2026-05-04 09:15:00", offset=None)
    assert "another zone" in found.sentences[0]
    assert found.other is not None


def test_a_gps_date_that_is_the_local_one_is_explained() -> None:
    """21:15 -05:00 is 02:15 UTC of the next day, stamped with the local date."""
    found = told("2026-05-04 02:15:00", "2026-05-04 21:15:00", date_text="2026:05:04")
    assert "local one" in found.sentences[0]
    assert found.other is None


@pytest.mark.parametrize(
    "day, words", [("2026:05:04", "agrees"), ("2026:05:05", "contradicts"), ("junk", None)]
)
def test_a_gps_date_alone_is_compared_by_day(day: str, words: str | None) -> None:
    shot = photo("a.jpg")
    found = beside_gps(Gps(date_text=day), dating(shot, SITE), SITE)
    assert found.other is None
    assert [words in s for s in found.sentences] == ([True] if words else [])


def test_gps_does_not_date_an_undated_photo() -> None:
    case = staged([delivery()], [photo("a.jpg", None, gps=gps("2026-05-04 14:15:00"))])
    (found,) = case.photos
    assert not found.taken.known
    assert found.stage is None
    assert "does not date the photo" in found.beside[0]


@pytest.mark.parametrize("row", NAME_PATTERNS, ids=lambda row: row.id)
def test_name_patterns_match_their_own_and_pass_the_others(row: Any) -> None:
    assert row.citation
    assert row.mark in ("S", "M")
    assert all(re.match(row.pattern, name) for name in row.must_match)
    assert not any(re.match(row.pattern, name) for name in row.must_pass)


@pytest.mark.parametrize(
    "name, words",
    [
        # 14:15:00 UTC in a name that follows UTC; 09:15 in those that follow local time.
        ("PXL_20260504_141500123.jpg", "in UTC: it agrees"),
        ("PXL_20260504_091500123.jpg", "in UTC, 5 h from the camera's time: they do not agree"),
        ("IMG_20260504_091503.jpg", "in local time: it agrees"),
        ("IMG_20260504_141500.jpg", "5 h from the camera's time"),
        ("20260504_091500.jpg", "it agrees"),
        ("Screenshot_20260504-091500.png", "it agrees"),
        ("IMG-20260504-WA0007.jpg", "not before the camera's date"),
        ("IMG-20260503-WA0007.jpg", "before the camera's date"),
    ],
)
def test_names_corroborate_or_contradict(name: str, words: str) -> None:
    shot = photo(f"photos/{name}")
    assert words in beside_names(shot, dating(shot, SITE))[0]


@pytest.mark.parametrize("name", ["IMG_0042.jpg", "20261304_091500.jpg", "F2_0144.jpg"])
def test_other_names_say_nothing(name: str) -> None:
    shot = photo(f"photos/{name}")
    assert beside_names(shot, dating(shot, SITE)) == ()


def test_a_name_never_dates_a_photo() -> None:
    shot = photo("photos/IMG_20260504_091500.jpg", None)
    (found,) = staged([delivery()], [shot]).photos
    assert not found.taken.known
    assert "a name does not date a photo" in found.beside[0]


def test_a_copy_from_a_messaging_app_is_only_consistent_with_one() -> None:
    shot = photo(
        "IMG-20260504-WA0007.jpg", None, make=None, model=None, width_px=1600, height_px=1200
    )
    (said,) = beside_names(shot, dating(shot, SITE))
    assert "consistent with a copy re-encoded" in said


@pytest.mark.parametrize(
    "local, unset",
    [
        ("1970-01-01 00:00:12", True),
        ("1969-12-31 19:00:12", True),  # the Epoch seen from Chicago
        ("1980-01-01 00:00:00", True),
        ("2000-01-01 23:59:59", True),  # it ran on for the day
        ("2000-01-02 00:00:00", False),
        ("2015-01-01 05:00:00", True),
        ("2019-01-01 00:31:00", True),  # midnight of 1 January of any year
        ("2019-01-01 01:00:00", False),
        ("2026-05-04 00:00:00", False),  # midnight alone is no default
    ],
)
def test_where_unset_clocks_start(local: str, unset: bool) -> None:
    """Dates from memory, as are the rows; midnight and the day's length are our own convention."""
    assert (clock_start_of(datetime.fromisoformat(local)) is not None) is unset


def test_every_default_date_is_cited() -> None:
    assert all(row.citation and row.mark in ("S", "M") for row in CLOCK_STARTS)


def only(*records: Any, **of_photo: Any) -> DatedPhoto:
    (found,) = staged(records, [photo("photos/a.jpg", **of_photo)]).photos
    return found


def test_doubt_about_the_date_keeps_a_photo_out_of_every_episode() -> None:
    """Sure by its numbers, but the log had seen the file an hour before."""
    clear = only(delivery())
    assert clear.stage is Stage.CURB
    built = facts(
        records=[delivery()],
        photos=[photo("photos/a.jpg")],
        custody=log(seen("photos/a.jpg", "2026-05-04 13:00")),
    )
    (found,) = staged(built=built).photos
    assert found.suspicions == ("photo-after-intake",)
    assert found.stage is None
    assert found.taken == clear.taken


@pytest.mark.parametrize(
    "reads, within, agrees",
    [
        ("2026-05-04 09:15", 60, True),
        ("2026-05-04 09:16", 60, True),  # the next minute begins 59 to 61 s after the photo
        ("2026-05-04 09:17", 60, False),
        ("2026-05-04 09:18", 240, True),
        ("2026-05-04 08:15", 60, False),
    ],
)
def test_a_clock_in_the_picture(reads: str, within: int, agrees: bool) -> None:
    body = CameraClock(photo="photos/a.jpg", read=moment(reads), within_seconds=within)
    found = only(delivery(), record("clock", body))
    assert ("photo-clock-off" not in found.suspicions) is agrees
    assert any("shows a clock" in said for said in found.beside)


def test_a_camera_that_is_off_counts_only_where_both_times_lie() -> None:
    """Ten minutes slow: 09:15 may be 09:25, still at the curb; 09:35 may be 09:45, gone."""
    body = CameraClock(photo="photos/clock.jpg", read=moment("2026-05-04 08:10"))
    shots = [
        photo("photos/clock.jpg", "2026-05-04 08:00:00"),
        photo("photos/early.jpg", "2026-05-04 09:15:00"),
        photo("photos/late.jpg", "2026-05-04 09:35:00"),
        photo("photos/other.jpg", "2026-05-04 09:35:00", model="F9"),
    ]
    case = staged([delivery(), record("clock", body)], shots)
    stages = {case.facts.photo_of(d.sha256).places[0]: d.stage for d in case.photos}
    assert stages == {
        "photos/clock.jpg": None,
        "photos/early.jpg": Stage.CURB,
        "photos/late.jpg": None,
        "photos/other.jpg": Stage.CURB,
    }
    slow = next(d for d in case.photos if d.stage is Stage.CURB)
    assert "slow" in " ".join(slow.beside)


@pytest.mark.parametrize(
    "cameras, by",
    [
        ((("F2",),), "p0"),  # model alone
        ((("fairlight  f2",),), "p0"),  # case and spaces do not count
        ((("Fairlight F2 no. 77",),), "p0"),
        ((("Fairlight F2",), ("F2",)), None),  # two people with one model
        ((("Fairlight F2",), ("Fairlight F2 no. 77",)), "p1"),  # the serial number tells
        ((("F22",),), None),
        (((),), None),
    ],
)
def test_the_photographer_is_named_only_where_one_person_fits(
    cameras: tuple[tuple[str, ...], ...], by: str | None
) -> None:
    people = tuple(Person(id=f"p{n}", name="x", cameras=names) for n, names in enumerate(cameras))
    camera = Camera("Fairlight", "F2", serial="77")
    assert photographer_of(camera, job(person=people)) == by


def test_who_wrote_a_record_did_not_hold_the_camera() -> None:
    people = (Person(id="dana", name="Dana Voss"),)
    case = staged(
        built=facts(
            job_=job(person=people),
            records=[delivery(photos=("photos/a.jpg",))],
            photos=[photo("photos/a.jpg")],
        )
    )
    assert case.photos[0].by is None


def berlin(*shots: Any) -> list[DatedPhoto]:
    site = Site(address="x", zone="Europe/Berlin")
    return list(staged(built=facts(job_=job(site=site, shipment=()), photos=shots)).photos)


def test_the_crafted_set_of_clock_troubles() -> None:
    """The shared photos c15 to c19, rebuilt by hand: gap, two passes of a fold, wrong year."""
    gap = photo("c15.jpg", "2024-03-31 02:30:00", offset=None)
    first = photo("c16.jpg", "2024-10-27 02:30:00", offset="+02:00")
    second = photo("c17.jpg", "2024-10-27 02:10:00", offset="+01:00")
    year = photo("c19.jpg", "2023-02-03 11:12:13", offset=None, gps=gps("2024-02-03 10:12:10"))
    found = berlin(second, first, year, gap)
    assert [d.sha256 for d in found] == [p.sha256 for p in (year, gap, first, second)]
    by = {d.sha256: d for d in found}
    assert by[gap.sha256].suspicions == ("photo-time-ambiguous",)
    assert by[gap.sha256].taken.latest - by[gap.sha256].taken.earliest == timedelta(
        hours=1, seconds=2
    )
    assert by[first.sha256].suspicions == by[second.sha256].suspicions == ()
    wrong = by[year.sha256]
    assert wrong.basis is TimeBasis.SITE_ZONE
    assert wrong.taken.earliest == datetime(2023, 2, 3, 10, 12, 12, tzinfo=UTC)
    assert wrong.suspicions == ("photo-clock-and-gps",)
    assert "365 days later" in wrong.beside[0]


def test_undated_photos_come_last() -> None:
    found = berlin(photo("a.jpg", None), photo("b.jpg", "2024-05-04 09:00:00"))
    assert [d.taken.known for d in found] == [True, False]


@pytest.mark.parametrize(
    "step_on, taken, why",
    [
        # A handover written down ahead of time: five days after now, 20 May 2026.
        ("2026-05-25", "2026-05-25 10:00:00", "photo-future"),
        ("2015-01-01", "2015-01-01 10:00:00", "photo-default-clock"),
    ],
)
def test_an_episode_does_not_vouch_for_a_doubtful_date(step_on: str, taken: str, why: str) -> None:
    found = only(step(Event.HANDOVER, step_on), taken=taken)
    assert found.suspicions == (why,)
    assert found.stage is None


def test_an_unset_clock_is_not_told_twice() -> None:
    assert only(delivery(), taken="2000-01-01 07:12:00").suspicions == ("photo-default-clock",)


@pytest.mark.parametrize(
    "at, stage",
    [
        ("2026-05-04 14:15:20", Stage.CURB),
        ("2026-05-04 15:15:00", None),  # an hour later: gone by the GPS clock
        ("2026-05-04 14:20:00", Stage.CURB),  # both readings lie at the curb
        ("2026-05-04 13:50:00", Stage.CURB),  # an old fix contradicts nothing
    ],
)
def test_gps_that_contradicts_leaves_both_readings_open(at: str, stage: Stage | None) -> None:
    assert only(delivery(), gps=gps(at)).stage is stage


def test_thirty_hours_are_no_difference_of_zones() -> None:
    assert "contradict" in told("2026-05-05 20:15:00").sentences[0]
    assert is_zone_step(timedelta(hours=-26))
    assert not is_zone_step(timedelta(hours=30))
    assert not is_zone_step(timedelta(minutes=1))


def test_a_replaced_record_does_not_open_the_job() -> None:
    """An arrival first written as January is corrected: a photo of February is before the job."""
    wrong = replace(delivery("00-wrong", arrived=moment("2026-01-04")), replaced_by="01-delivery")
    found = only(wrong, delivery(), taken="2026-02-04 09:00:00")
    assert found.suspicions == ("photo-before-job",)
    still = only(replace(wrong, replaced_by=None), delivery(), taken="2026-02-04 09:00:00")
    assert still.suspicions == ()
