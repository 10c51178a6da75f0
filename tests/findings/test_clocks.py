"""Cameras' clocks: what corrects them, how far, what is named, and what is left open."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from statistics import NormalDist
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from claimkit.compose.packet.plates import plate
from claimkit.compose.packet.view import view
from claimkit.findings.clocks.evidence import Shot
from claimkit.findings.clocks.gps import middle
from claimkit.findings.clocks.names import named
from claimkit.findings.clocks.order import counter_of, order_of
from claimkit.findings.seams import gaps
from claimkit.findings.timeline.photo_time import dating
from claimkit.model.answers import Answer
from claimkit.model.case import Case, ClockCorrection, DatedPhoto, Finding, Reader, TimeBasis
from claimkit.model.job import Site
from claimkit.model.photo import Camera, Photo
from claimkit.model.stages import Stage
from claimkit.rules.capture import MAD_FACTOR
from tests.build import AS_OF, NOW, facts, job, moment, photo
from tests.findings.cases_check_clocks import clock, counted, fixes, made, shot
from tests.findings.gap_build import dry, known_facts
from tests.findings.test_gaps_witness import DRY, FASTENED, span
from tests.findings.work_build import log, seen, staged

SITE = ZoneInfo("America/Chicago")


def by_name(case: Case, name: str) -> DatedPhoto:
    place = f"photos/{name}.jpg"
    return next(d for d in case.photos if place in case.facts.photo_of(d.sha256).places)


def told(case: Case, rule: str) -> Finding:
    (found,) = [f for f in case.findings if f.rule == rule]
    return found


def said(case: Case, rule: str) -> list[str]:
    return [f.message for f in case.findings if f.rule == rule]


def test_a_corrected_time_places_a_photo_and_says_what_it_rests_on() -> None:
    """Twelve minutes slow: 09:05 by the camera is 09:17, at the curb from 09:10 to 09:40."""
    case = made(shot("a", "08:00:00"), shot("b", "09:05:00"), records=(clock("a", "08:12"),))
    found = by_name(case, "b")
    assert found.stage is Stage.CURB
    assert found.basis is TimeBasis.OFFSET_TAG
    assert found.rests_on is TimeBasis.CLOCK_SHOWN
    assert found.camera_text == "2026:05:04 09:05:00 -05:00"
    assert found.taken.earliest == datetime(2026, 5, 4, 14, 4, 59, tzinfo=UTC)
    # Read 08:12:00 to 08:12:59.999 give or take 60 s, the photo 08:00:00 give or take 1 s; three
    # seconds a day of drift over 65 minutes are 0.14 s.
    drift = timedelta(seconds=3) * (65 / 1440)
    low = timedelta(minutes=12, seconds=-61) - drift
    assert found.corrected.earliest == found.taken.earliest + low
    assert any(
        "11 min to 14 min slow" in s and "decides where the photo belongs" in s
        for s in found.beside
    )
    assert "photo-clock-off" in found.suspicions
    assert "corrected by a clock shown in a picture" in told(case, "photo-clock-corrected").message


@pytest.mark.parametrize(
    "record_day, second_day, holds",
    [
        ("2026-05-03 10:00:00", None, True),  # 23 h 5 min before
        ("2026-05-02 10:00:00", None, False),  # two days: the clock may have been set since
        ("2026-05-02 10:00:00", "2026-05-09 10:00:00", True),  # between two that agree
    ],
)
def test_how_far_one_clock_in_a_picture_reaches(
    record_day: str, second_day: str | None, holds: bool
) -> None:
    days = [d for d in (record_day, second_day) if d]
    shots = [shot(f"c{n}", d) for n, d in enumerate(days)]
    reads = [
        clock(f"c{n}", f"{datetime.fromisoformat(d) + timedelta(minutes=12):%Y-%m-%d %H:%M}")
        for n, d in enumerate(days)
    ]
    case = made(shot("b", "09:05:00"), *shots, records=tuple(reads))
    found = by_name(case, "b")
    assert found.correction.holds is holds
    assert (found.stage is Stage.CURB) is holds
    assert holds or "both times are kept open" in " ".join(found.beside).lower()


def test_a_clock_put_forward_gives_each_side_its_own_correction() -> None:
    """Two hours slow by one clock, right by a later one; no camera time fits both sides."""
    case = made(
        shot("early", "07:20:00"),
        shot("a", "07:25:00"),
        shot("b", "13:00:00"),
        shot("late", "13:30:00"),
        records=(clock("a", "09:25"), clock("b", "13:00")),
    )
    early = by_name(case, "early")
    assert early.correction.holds
    assert early.stage is Stage.CURB
    assert by_name(case, "late").correction is None
    assert "put forward by about 2 h" in told(case, "photo-clock-set-between").message


def test_a_clock_put_back_leaves_open_what_may_lie_on_either_side() -> None:
    """Right at 09:15, two hours slow at 13:00: 09:20 may be 09:20 or 11:20."""
    case = made(
        shot("a", "09:15:00"),
        shot("middle", "09:20:00"),
        shot("b", "11:00:00"),
        shot("late", "13:30:00"),
        records=(clock("a", "09:15"), clock("b", "13:00")),
    )
    late, between = by_name(case, "late"), by_name(case, "middle")
    assert late.correction.holds
    assert abs(late.correction.low - timedelta(hours=2)) < timedelta(minutes=3)
    assert not between.correction.holds
    assert between.stage is None
    assert between.correction.low < timedelta() < timedelta(hours=2) < between.correction.high
    assert "put back by about 2 h" in told(case, "photo-clock-set-between").message


def test_contradicting_clocks_in_one_minute_are_not_used_to_place() -> None:
    """GPS agrees with the camera, a record says an hour later: neither is chosen."""
    case = made(*fixes(5, 9, 12, 7), records=(clock("g0", "10:12"),))
    assert not by_name(case, "g1").correction.holds
    assert by_name(case, "g1").stage is None
    assert "contradict" in told(case, "photo-clock-evidence-differs").message


def test_gps_alone_corrects_in_print_and_places_nothing() -> None:
    case = made(*fixes(5, 9, 12, 7, apart_s=7200))
    found = by_name(case, "g1")
    assert found.correction.basis is TimeBasis.GPS_ALONE
    assert found.corrected is not None
    assert found.stage is None
    assert "another time zone, 2 h away" in told(case, "photo-clock-corrected").message


def test_gps_and_the_records_together_place() -> None:
    """Two hours slow by GPS, and the receipt was photographed before the truck came."""
    shots = fixes(5, 9, 12, 7, apart_s=7200, offset=None)
    # The camera's 09:12 is 11:12 by GPS; the truck came at 11:05.
    more: dict[str, Any] = {"receipt_photos": ("photos/g0.jpg",)}
    more |= {"arrived": moment("2026-05-04 11:05"), "driver_left": moment("2026-05-04 11:40")}
    case = made(*shots, **more, signed_at=None)
    found = by_name(case, "g1")
    assert found.rests_on is TimeBasis.CLOCKS_AGREE
    assert found.stage is Stage.CURB


def test_a_stale_fix_accuses_no_clock() -> None:
    """A fix one hour old to the minute looks like another zone, but the other fixes say stale."""
    alone = by_name(made(*fixes(3600)), "g0")
    assert alone.suspicions == ("photo-gps-earlier",)
    case = made(*fixes(5, 9, 3600, 12, 7))
    found = by_name(case, "g2")
    assert found.suspicions == ()
    assert found.stage is Stage.CURB
    assert told(case, "photo-clock-sound").standing.value == "supports"


def test_one_fix_kept_over_several_photos_counts_once() -> None:
    """Four photos in a minute with one fix among them: that is one witness, not four."""
    shots = [shot(f"h{n}", f"09:12:{15 * n:02d}", "14:12:00") for n in range(4)]
    assert not said(made(*shots), "photo-clock-sound")
    assert said(made(*fixes(0, 0, 0, 0)), "photo-clock-sound")


def test_a_corrected_time_that_contradicts_the_records_places_nothing() -> None:
    """Two hours fast by one clock; then the receipt was photographed before the truck came."""
    shots = [shot("a", "11:15:00"), shot("r", "09:20:00"), shot("b", "11:20:00")]
    case = made(*shots, records=(clock("a", "09:15"),), receipt_photos=("photos/r.jpg",))
    assert "contradicts what is recorded" in by_name(case, "r").correction.why_not
    assert by_name(case, "r").stage is None
    assert by_name(case, "b").stage is Stage.CURB


def test_gps_and_custody_together_correct() -> None:
    """Seen by a custody log at 13:00 UTC, dated 14:12 UTC, and two hours fast by GPS."""
    shots = fixes(5, 9, 12, 7, apart_s=-7200)
    lines = [seen(s.places[0], "2026-05-04 13:00") for s in shots]
    found = staged(built=facts(photos=shots, custody=log(*lines))).photos
    assert {d.rests_on for d in found} == {TimeBasis.CLOCKS_AGREE}
    without = staged(built=facts(photos=shots)).photos
    assert {d.rests_on for d in without} == {TimeBasis.OFFSET_TAG}


@pytest.mark.parametrize("reads, off", [("09:15:30", False), ("09:15:45", True)])
def test_half_a_minute_off_is_still_sound(reads: str, off: bool) -> None:
    """Right within 10 s, the photo within 1 s: at least 19 s off, or at least 34 s."""
    case = made(shot("a", "09:15:00"), records=(clock("a", reads, within=10),))
    assert (by_name(case, "a").correction is not None) is off


def test_fields_that_hold_local_time_are_no_evidence() -> None:
    """GPS fields five hours behind at -05:00: the fields hold the phone's own clock."""
    case = made(*fixes(5, 9, 12, 7, apart_s=-18_000))
    assert not said(case, "photo-clock-corrected")


def test_the_scaled_deviation_is_the_standard_deviation_of_a_normal_spread() -> None:
    """The factor is 1 / Φ⁻¹(3/4), by the standard library's own distribution."""
    assert pytest.approx(1 / NormalDist().inv_cdf(0.75), abs=5e-5) == MAD_FACTOR
    drawn = NormalDist(40, 7).samples(20_001, seed=5)
    center, spread = middle(drawn)
    assert center == pytest.approx(40, abs=0.2)
    assert spread == pytest.approx(7, abs=0.2)
    # One part in five stale by hours moves neither much.
    stale = [v - 9000 for v in drawn[:4000]]
    center, spread = middle([*stale, *drawn[4000:]])
    assert center == pytest.approx(40, abs=3)
    assert spread < 12


def face(text: str) -> datetime:
    return datetime.fromisoformat(text)


MAY = face("2026-05-04 09:15")


@pytest.mark.parametrize(
    "local, apart, words",
    [
        (MAY, timedelta(hours=12), "AM and PM"),
        (MAY, timedelta(hours=-12), "AM and PM"),
        (MAY, timedelta(hours=1), "summer time"),
        (MAY, timedelta(hours=5, minutes=30), "another time zone, 5 h 30 min away"),
        (MAY, timedelta(days=365), "wrong year, 2026 for 2027"),
        (face("2023-05-04 09:15"), timedelta(days=366), "wrong year, 2023 for 2024"),
        (face("2024-02-29 09:15"), timedelta(days=366), "wrong date"),  # no such day in 2025
        (face("2026-04-05 09:15"), timedelta(days=29), "day and month exchanged"),
        (MAY, timedelta(days=3), "wrong date, 3 days off"),
        (face("2015-01-01 00:09"), timedelta(days=4141, hours=9), "never set"),
        (MAY, timedelta(minutes=11), None),
        (MAY, timedelta(hours=3, minutes=44), None),
    ],
)
def test_what_a_difference_looks_like(local: datetime, apart: timedelta, words: str | None) -> None:
    at = local.replace(tzinfo=SITE).astimezone(UTC)
    margin = timedelta(seconds=90)
    found = named(apart - margin, apart + margin, local, at, SITE)
    assert (words in found) if words else found is None


def test_a_difference_known_too_loosely_is_not_named() -> None:
    low, high = timedelta(hours=11, minutes=45), timedelta(hours=12, minutes=15)
    assert named(low, high, MAY, MAY.replace(tzinfo=SITE), SITE) is None


def test_a_site_without_summer_time_has_no_clock_left_on_it() -> None:
    found = named(
        *2 * (timedelta(hours=1),), MAY, MAY.replace(tzinfo=UTC), ZoneInfo("Asia/Kolkata")
    )
    assert found == "another time zone, 1 h away"


@pytest.mark.parametrize(
    "taken, fits",
    [
        ("2025-05-04 09:15:00", ["the year 2026 for 2025"]),
        ("2027-05-04 09:15:00", ["the year 2026 for 2027"]),  # in the future as well
        ("2025-12-04 09:15:00", []),
    ],
)
def test_a_wrong_year_is_named_and_not_mended(taken: str, fits: list[str]) -> None:
    case = made(shot("a", taken, offset=None))
    found = by_name(case, "a")
    assert [words for state in case.clocks for words in state.fits] == fits
    assert found.corrected is None
    assert found.stage is None


def test_am_and_pm_are_named_where_a_record_bounds_the_photo() -> None:
    """Named as taken at the curb, 09:10 to 09:40, and dated 21:20 of that day."""
    shots = [shot("a", "21:20:00"), shot("b", "21:25:00")]
    case = made(*shots, photos=("photos/a.jpg", "photos/b.jpg"))
    assert "AM and PM" in told(case, "photo-clock-would-fit").message
    assert "too late" in told(case, "photo-clock-and-events").message
    assert by_name(case, "a").stage is None
    assert by_name(case, "a").corrected is None


def test_where_the_clock_is_supported_the_records_are_to_be_looked_at() -> None:
    shots = [shot("r", "08:30:00"), *fixes(5, 9, 12, 7)]
    case = made(*shots, receipt_photos=("photos/r.jpg",))
    assert "look at the records first" in told(case, "photo-clock-and-events").message
    assert "photo-clock-and-events" not in by_name(case, "r").suspicions


def test_a_clock_that_ran_from_its_default_date_is_corrected_and_places_only_itself() -> None:
    """The battery may have been out twice: only the picture of the clock itself is sure."""
    shots = [
        shot("a", "2015-01-01 00:15:00", offset=None),
        shot("b", "2015-01-01 00:20:00", offset=None),
    ]
    case = made(*shots, records=(clock("a", "09:15"),))
    assert by_name(case, "a").stage is Stage.CURB
    assert by_name(case, "b").stage is None
    assert "more than once" in by_name(case, "b").correction.why_not
    assert "never set" in told(case, "photo-clock-corrected").message


@pytest.mark.parametrize(
    "day, decides", [("2026-05-04", ""), ("2026-05-01", "; both times are kept open")]
)
def test_a_plate_prints_the_corrected_time_beside_the_camera_s_own(day: str, decides: str) -> None:
    case = made(
        shot("a", f"{day} 08:00:00"), shot("b", "09:05:00"), records=(clock("a", f"{day} 08:12"),)
    )
    seen = view(case, Reader.OWN, None, ())
    lines = [s.text for s in plate(seen, by_name(case, "b")).caption]
    assert lines[1] == "2026-05-04 09:05:00 UTC−05:00 (camera's offset tag)"
    assert lines[2].startswith("Corrected: 2026-05-04 09:15:")
    assert lines[2].endswith(f"(corrected by a clock shown in a picture{decides})")


# Counters


@pytest.mark.parametrize(
    "path, found",
    [
        ("photos/IMG_0042.jpg", ("photos/IMG_", 42)),
        ("photos/DSC01234.JPG", ("photos/DSC0", 1234)),
        ("photos/P1010042.jpg", ("photos/P101", 42)),
        ("photos/IMG_20260504_091500.jpg", None),  # a date, no counter
        ("photos/IMG-20260504-WA0007.jpg", None),
        ("photos/IMG_0042 (1).jpg", None),
        ("photos/20260504.jpg", None),
        ("photos/scan.jpg", None),
    ],
)
def test_counters_in_names(path: str, found: tuple[str, int] | None) -> None:
    assert counter_of(path) == found


def shots_of(*rows: tuple[int, str], **more: Any) -> list[Shot]:
    found = []
    for number, at in rows:
        one: Photo = photo(f"photos/IMG_{number:04d}.jpg", f"2026-05-04 {at}", **more)
        dated = dating(one, SITE)
        found.append(Shot(one, dated, dated.taken.earliest, dated.taken.latest))
    return found


@pytest.mark.parametrize(
    "rows, reversals, mixed",
    [
        ([(1, "09:00:00"), (2, "09:01:00"), (3, "09:02:00")], 0, False),
        ([(1, "09:00:00"), (2, "08:00:00"), (3, "08:02:00")], 1, False),
        ([(1, "09:00:00"), (2, "08:59:30"), (3, "09:02:00")], 0, False),  # written out of order
        ([(9998, "09:00:00"), (9999, "09:01:00"), (1, "09:02:00")], 0, False),  # 9999 comes round
        ([(9999, "09:01:00"), (1, "08:02:00")], 1, False),
        # Two phones of one model: their counters are far apart.
        ([(1, "09:10:00"), (2, "09:20:00"), (900, "08:00:00"), (901, "08:05:00")], 0, True),
        # Or near, and the times jump to and fro.
        (
            [(1, "09:00:00"), (2, "08:00:00"), (3, "09:10:00"), (4, "08:10:00"), (5, "09:20:00"),
             (6, "08:20:00")],
            0,
            True,
        ),
    ],
)  # fmt: skip
def test_counters_against_times(rows: list[tuple[int, str]], reversals: int, mixed: bool) -> None:
    found = order_of(shots_of(*rows))
    assert len(found.reversals) == reversals
    assert found.mixed is mixed


def test_a_serial_number_tells_two_cameras_apart() -> None:
    rows = [(1, "09:10:00"), (2, "09:20:00"), (900, "08:00:00"), (901, "08:05:00")]
    one = order_of(shots_of(*rows, camera=Camera("Fairlight", "F2", serial="77")))
    assert len(one.reversals) == 1


def test_after_a_reversal_neither_side_is_placed_without_evidence() -> None:
    case = counted("08:00:00")
    assert {d.stage for d in case.photos} == {None}
    assert all("photo-clock-and-counter" in d.suspicions for d in case.photos)


def test_evidence_speaks_for_its_own_side_of_a_reversal_alone() -> None:
    shots = [
        shot("IMG_0001", "09:12:00"),
        shot("IMG_0002", "09:15:00"),
        shot("IMG_0003", "07:20:00"),
        shot("IMG_0004", "07:25:00"),
    ]
    case = made(*shots, records=(clock("IMG_0003", "09:20"),))
    assert by_name(case, "IMG_0004").stage is Stage.CURB
    assert by_name(case, "IMG_0004").rests_on is TimeBasis.CLOCK_SHOWN
    assert by_name(case, "IMG_0001").stage is None
    assert by_name(case, "IMG_0001").correction is None


def test_a_repeated_hour_is_no_clock_set_back() -> None:
    """Clocks go back on 27 October 2024 in Berlin; the counter rises, the face falls."""
    shots = [
        photo("photos/IMG_0001.jpg", "2024-10-27 02:50:00", offset=None),
        photo("photos/IMG_0002.jpg", "2024-10-27 02:10:00", offset=None),
    ]
    site = job(site=Site(address="x", zone="Europe/Berlin"), shipment=())
    case = staged(built=facts(job_=site, photos=shots))
    assert not any(state.reversals for state in case.clocks)
    assert {d.suspicions for d in case.photos} == {("photo-time-ambiguous",)}


@pytest.mark.parametrize(
    "corrected, expected",
    [("2026-05-04 11:30:00", Answer.YES), ("2026-05-04 14:30:00", Answer.CANNOT_TELL)],
)
def test_a_witness_counts_only_where_both_open_times_say_so(
    corrected: str, expected: Answer
) -> None:
    """A dry fit from 09:00 to 12:00; the photo is of 11:00 by its camera, and open."""
    record = dry(3, witness=("photos/a.jpg",))
    case = Case(known_facts(record, photos=[photo("photos/a.jpg")]), AS_OF, NOW)
    case = replace(case, episodes=(DRY, FASTENED))
    taken, moved = span("2026-05-04 11:00:00"), span(corrected)
    open_ = ClockCorrection(
        moved.earliest - taken.earliest,
        moved.latest - taken.latest,
        TimeBasis.CLOCK_SHOWN,
        (),
        (),
        holds=False,
    )
    dated = DatedPhoto(
        photo("photos/a.jpg").sha256, taken, TimeBasis.OFFSET_TAG, None, None, "",
        correction=open_, corrected=moved,
    )  # fmt: skip
    case = replace(case, photos=(dated,))
    assert gaps.work_out(case).readings[0].witness_holds is expected


def a_year_back(read: str, **more: Any) -> Case:
    """One phone: a photo whose clock stood a year back, and three of the day of the delivery."""
    shots = [shot("old", "2025-05-03 16:24:05")]
    shots += [shot(name, at) for name, at in (("a", "08:30:00"), ("b", "09:15:00"))]
    return made(*shots, records=(clock("old", read),), **more)


@pytest.mark.parametrize("read", ["2026-05-03 16:24", "2024-05-03 16:24", "2027-05-03 16:24"])
def test_a_clock_that_stood_a_year_off_is_not_spread_over_photos_that_fit(read: str) -> None:
    """Read a year later the others would be of 2027, a year earlier of 2025: before the job."""
    case = a_year_back(read)
    for name in ("a", "b"):
        assert by_name(case, name).correction is None
    assert by_name(case, "b").stage is Stage.CURB
    kept = 3 if read.startswith("2027") else 2  # a clock read in the future was misread
    assert f"does not hold for {kept} photos" in told(case, "photo-clock-does-not-hold").message


def test_the_photo_of_the_clock_itself_is_corrected() -> None:
    found = by_name(a_year_back("2026-05-03 16:24"), "old")
    assert found.correction is not None
    assert found.correction.low > timedelta(days=364)
    message = told(a_year_back("2026-05-03 16:24"), "photo-clock-corrected").message
    assert "was about 365 days slow" in message


def test_a_time_after_the_custody_log_saw_the_file_is_impossible() -> None:
    """Corrected by an hour the photo is of 15:15 UTC; the log had it at 14:40, or at 15:40."""
    for at, holds in (("2026-05-04 14:40", False), ("2026-05-04 15:40", True)):
        shots = [shot("a", "11:00:00"), shot("b", "09:15:00")]
        records = [clock("a", "12:00")]
        line = seen("photos/b.jpg", at)
        built = facts(records=records, photos=shots, custody=log(line))
        found = by_name(staged(built=built), "b")
        assert (found.correction is not None) is holds, at


def test_a_time_after_the_record_that_names_the_photo_is_impossible() -> None:
    """The clock's own record was written at 11:30; by it the photo was taken at 12:00."""
    for written, holds in (("2026-05-04 11:30", False), ("2026-05-04 12:30", True)):
        shown_in = replace(clock("a", "12:00"), written=moment(written))
        found = staged(records=[shown_in], photos_=[shot("a", "11:00:00"), shot("b", "10:00:00")])
        assert (by_name(found, "a").correction is not None) is holds
        assert (by_name(found, "b").correction is not None) is holds


def test_a_photo_beyond_one_that_fits_is_not_corrected_either() -> None:
    """Thirty days slow on 2 April; the curb photo of 4 May fits, so the clock was set before it."""
    shots = [shot("old", "2026-04-02 10:00:00"), shot("b", "09:15:00"), shot("c", "20:00:00")]
    case = made(
        *shots, records=(clock("old", "2026-05-02 10:00"),), receipt_photos=("photos/b.jpg",),
        photos=("photos/b.jpg",), driver_left=moment("2026-05-04 09:40"),
    )  # fmt: skip
    assert by_name(case, "b").correction is None
    assert by_name(case, "c").correction is None
