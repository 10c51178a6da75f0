"""Which correction holds for a photo, which evidence bounds it, and what a wrong clock looks like.

Cameras and times are invented: 4 May 2026 in Chicago, the truck at the curb from 09:10 to 09:40.
What is right about a photo follows from the clock faces shown; each is worked by hand.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from claimkit.findings.clocks.correct import amount, sentence
from claimkit.model.case import ClockCorrection, TimeBasis
from claimkit.model.facts import CustodyEvent
from tests.build import case, facts, moment, record
from tests.findings.cases_check_clocks import clock, fixes, made, shot
from tests.findings.test_clocks import by_name, said
from tests.findings.work_build import delivery, log, seen, staged

HOUR, MINUTE = timedelta(hours=1), timedelta(minutes=1)


@pytest.mark.parametrize(
    "reads,off",
    [
        # Right within 10 s, the photo within 1 s, read to the second: fast by 18 s at least, and
        # by 33 s at least.
        ("09:14:30", False),
        ("09:14:15", True),
        ("09:15:30", False),
        ("09:15:45", True),
    ],
)
def test_half_a_minute_either_way_is_sound(reads: str, off: bool) -> None:
    found = made(shot("a", "09:15:00"), records=(clock("a", reads, within=10),))
    assert (by_name(found, "a").correction is not None) is off


def test_order_is_that_of_the_true_time_and_not_of_the_cameras() -> None:
    """Right at 11:00; put back, it says 10:00 at noon. 13:00 by the camera is 15:00."""
    found = made(
        shot("a", "11:00:00"),
        shot("b", "10:00:00"),
        shot("late", "13:00:00"),
        records=(clock("a", "11:00"), clock("b", "12:00")),
    )
    late = by_name(found, "late").correction
    assert late is not None
    assert late.holds
    assert abs(late.low - 2 * HOUR) < 3 * MINUTE


def test_a_photo_beyond_the_next_clock_is_no_longer_of_the_first() -> None:
    """Right at 09:00; 11:00 is 13:00; 16:00 is 19:00. 14:00 is 16:00 or 17:00, and not 14:00."""
    found = made(
        shot("a", "09:00:00"),
        shot("b", "11:00:00"),
        shot("c", "16:00:00"),
        shot("x", "14:00:00"),
        records=(clock("a", "09:00"), clock("b", "13:00"), clock("c", "19:00")),
    )
    one = by_name(found, "x").correction
    assert one is not None
    assert not one.holds
    assert abs(one.low - 2 * HOUR) < 3 * MINUTE
    assert abs(one.high - 3 * HOUR) < 3 * MINUTE


def test_gps_and_records_place_only_where_every_bound_is_kept() -> None:
    """Two hours slow by GPS: 09:12 is 11:12, the truck came at 11:05; 09:21 would be 11:21.

    A custody log that saw that last photo at 10:00 says that it cannot be.
    """
    shots = fixes(5, 9, 12, 7, apart_s=7200, offset=None)
    came = delivery(
        receipt_photos=("photos/g0.jpg",),
        arrived=moment("2026-05-04 11:05"),
        driver_left=moment("2026-05-04 11:40"),
        signed_at=None,
    )

    def placed(at_utc: str) -> TimeBasis:
        custody = log(seen("photos/g3.jpg", at_utc))
        built = facts(records=[came], photos=shots, custody=custody)
        return by_name(staged(built=built), "g1").correction.basis

    assert placed("2026-05-04 20:00") is TimeBasis.CLOCKS_AGREE
    assert placed("2026-05-04 15:00") is TimeBasis.GPS_ALONE


def test_a_clock_in_a_picture_that_fits_the_gps_is_no_contradiction() -> None:
    found = made(*fixes(5, 9, 12, 7), records=(clock("g0", "09:12:00", within=10),))
    assert not said(found, "photo-clock-evidence-differs")
    # One and a half minutes apart is within what fixes agree to, five are not.
    near = made(*fixes(5, 9, 12, 7), records=(clock("g0", "09:13:30", within=10),))
    assert not said(near, "photo-clock-evidence-differs")
    near = made(*fixes(5, 9, 12, 7), records=(clock("g0", "09:10:30", within=10),))
    assert not said(near, "photo-clock-evidence-differs")
    for reads in ("09:17:00", "09:07:00"):
        far = made(*fixes(5, 9, 12, 7), records=(clock("g0", reads, within=10),))
        assert said(far, "photo-clock-evidence-differs")


def test_photos_that_name_no_camera_are_judged_each_alone() -> None:
    unnamed = {"make": None, "model": None}
    shots = (shot("a", "08:00:00", **unnamed), shot("b", "09:05:00", **unnamed))
    found = made(*shots, records=(clock("a", "08:12"),))
    assert by_name(found, "a").correction is not None
    assert by_name(found, "b").correction is None


# What bounds a photo


def test_a_replaced_record_bounds_no_photo_and_hides_no_later_one() -> None:
    """r.jpg is of 08:30; as a photo of the receipt it would be before the truck."""
    names = {"receipt_photos": ("photos/r.jpg",)}
    old = replace(delivery(**names), id="00-old", path="records/00-old.toml", replaced_by="z-new")
    new = record("z-new", delivery().body, replaces="00-old")
    shots = [shot("r", "08:30:00")]
    found = case(facts(records=[old, new], photos=shots))
    assert not said(found, "photo-clock-and-events")
    naming = record("z-new", delivery(**names).body, replaces="00-old")
    found = case(facts(records=[old, naming], photos=shots))
    assert said(found, "photo-clock-and-events")


def test_a_receipt_may_be_photographed_again_later_and_the_curb_may_not() -> None:
    shots = [shot("r", "18:00:00")]
    assert not said(made(*shots, receipt_photos=("photos/r.jpg",)), "photo-clock-and-events")
    assert said(made(*shots, photos=("photos/r.jpg",)), "photo-clock-and-events")


@pytest.mark.parametrize(
    "first,second,early",
    [
        ("2026-05-04 09:10", "2026-05-06 09:10", False),  # the first of two arrivals
        ("2026-05-06 09:10", "2026-05-04 09:10", False),
        ("2026-05-06 09:10", "2026-05-07 09:10", True),
        (None, "2026-05-07 09:10", False),  # one states no time: it may have come before
        ("2026-05-07 09:10", None, False),
    ],
)
def test_goods_came_with_the_first_truck(
    first: str | None, second: str | None, early: bool
) -> None:
    """A receipt photographed on 5 May at 10:00."""
    times = {"signed_at": None, "driver_left": None}
    bodies = [
        delivery(arrived=moment(at) if at else None, receipt_photos=names, **times).body
        for at, names in ((first, ("photos/r.jpg",)), (second, ()))
    ]
    records = [record(f"d{n}", body) for n, body in enumerate(bodies)]
    found = case(facts(records=records, photos=[shot("r", "2026-05-05 10:00:00")]))
    assert bool(said(found, "photo-clock-and-events")) is early
    assert not [gap for gap in found.not_checked if gap.crashed]


@pytest.mark.parametrize(
    "event,off",
    [
        (CustodyEvent.FIRST_SEEN, True),
        (CustodyEvent.CHANGED, True),
        (CustodyEvent.MISSING, False),  # that it was not there dates no picture
    ],
)
def test_what_a_log_saw_was_taken_before(event: CustodyEvent, off: bool) -> None:
    """Dated 14:15 UTC by its camera, and seen by a log at 13:00."""
    custody = log(seen("photos/a.jpg", "2026-05-04 13:00", event))
    found = case(facts(photos=[shot("a", "09:15:00")], custody=custody))
    (state,) = found.clocks
    assert bool(state.broken) is off


# What a wrong clock looks like


@pytest.mark.parametrize("taken,words", [("21:20:00", "less"), ("2026-05-03 21:20:00", "more")])
def test_half_a_day_is_named_with_its_direction(taken: str, words: str) -> None:
    """At the curb about 09:20 on 4 May: 21:20 of that day is 12 hours more than it was."""
    found = made(shot("a", taken), photos=("photos/a.jpg",))
    (state,) = found.clocks
    assert state.fits == (f"12 hours {words}, as when AM and PM were exchanged",)


def test_photos_of_several_years_fit_no_one_year() -> None:
    shots = (
        shot("a", "2025-05-04 09:15:00", offset=None),
        shot("b", "2024-05-04 09:20:00", offset=None),
    )
    assert [words for state in made(*shots).clocks for words in state.fits] == []


def test_one_clock_is_told_once_and_many_by_their_number() -> None:
    one = made(shot("a", "08:00:00"), records=(clock("a", "08:12"),))
    because = by_name(one, "a").correction.evidence
    assert len(because) == 1
    assert "more." not in because[0]
    shots = [shot(f"c{n}", f"08:0{n}:00") for n in range(5)]
    reads = tuple(clock(f"c{n}", f"08:1{n + 2}") for n in range(5))
    because = by_name(made(*shots, records=reads), "c0").correction.evidence
    assert because[-1] == "And 2 more."
    by_gps = by_name(made(*fixes(5, 9, 12, 7, apart_s=7200)), "g1").correction.evidence
    assert by_gps[0] == "4 GPS fixes of this camera agree with each other."


def found_of(low: int, high: int, **more: object) -> ClockCorrection:
    values = {"holds": True, "named": None, "why_not": None} | more
    minutes = (timedelta(minutes=low), timedelta(minutes=high))
    return ClockCorrection(*minutes, TimeBasis.CLOCK_SHOWN, (), (), **values)


@pytest.mark.parametrize(
    "low,high,text",
    [
        (11, 13, "11 min to 13 min slow"),
        (-13, -11, "11 min to 13 min fast"),
        (-1, 2, "at most 1 min fast or 2 min slow"),
    ],
)
def test_how_far_a_clock_is_off(low: int, high: int, text: str) -> None:
    assert amount(found_of(low, high)) == text


def test_a_correction_in_a_sentence() -> None:
    assert sentence(found_of(11, 13)) == (
        "By a clock shown in a picture the camera was 11 min to 13 min slow; the camera's time "
        "stays as it is, and the corrected time decides where the photo belongs."
    )
    open_ = found_of(59, 61, named="summer time", holds=False, why_not="It is too far.")
    assert sentence(open_) == (
        "By a clock shown in a picture the camera was 59 min to 1 h 1 min slow, as with summer "
        "time; the camera's time stays as it is. It is too far. Both times are kept open."
    )
