"""A photo named as witness of a reading must itself be dated with it."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from claimkit.findings.seams import gaps
from claimkit.model.answers import Answer
from claimkit.model.case import Case, DatedPhoto, Episode, TimeBasis
from claimkit.model.moment import Interval
from claimkit.model.stages import Stage
from tests.build import AS_OF, NOW, ZONE, photo
from tests.findings.gap_build import dry, known_facts

SHOT = "photos/a.jpg"
OTHER = "photos/b.jpg"


def span(first, last=None):
    """An interval in local time; '' leaves an end open, no second end means one second."""

    def at(text):
        return datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(ZONE)) if text else None

    begins = at(first)
    ends = at(last) if last is not None else begins + timedelta(seconds=1)
    return Interval(begins, ends, "as the test says")


def episode(stage, first, last, number=1):
    return Episode(f"{stage.value} {number}", stage, span(first, last), "", ())


def answer(taken, episodes=(), *, record=None, named=(SHOT,), photos=(SHOT,)):
    """Whether the witness of a dry fit on 4 May at 10:00 holds."""
    record = record or dry(3, witness=named)
    pictures = [photo(path) for path in photos]
    case = Case(known_facts(record, photos=pictures), AS_OF, NOW)
    dated = tuple(
        DatedPhoto(p.sha256, taken, TimeBasis.OFFSET_TAG, None, None, "") for p in pictures
    )
    case = replace(case, photos=dated, episodes=tuple(episodes))
    return gaps.work_out(case).readings[0].witness_holds


DRY = episode(Stage.DRY_FIT, "2026-05-04 09:00", "2026-05-04 12:00")
FASTENED = episode(Stage.FASTENED, "2026-05-04 14:00", "2026-05-04 17:00")


@pytest.mark.parametrize(
    "taken, episodes, expected",
    [
        # wholly in the dry fit
        (span("2026-05-04 11:55:00"), [DRY, FASTENED], Answer.YES),
        # the whole interval counts, not its middle: it may be taken in the fastening
        (span("2026-05-04 11:00", "2026-05-04 14:30"), [DRY, FASTENED], Answer.CANNOT_TELL),
        # same day, between the episodes
        (span("2026-05-04 13:00:00"), [DRY, FASTENED], Answer.YES),
        # certainly in the fastening
        (span("2026-05-04 14:30:00"), [DRY, FASTENED], Answer.NO),
        # in the fastening, while nobody wrote when the dry fit ended
        (span("2026-05-04 14:30:00"),
         [episode(Stage.DRY_FIT, "2026-05-04 09:00", ""), FASTENED], Answer.CANNOT_TELL),
        # another day
        (span("2026-05-05 10:00:00"), [DRY, FASTENED], Answer.NO),
        (span("2026-05-03 10:00:00"), [DRY, FASTENED], Answer.NO),
        # nothing dates the photo
        (Interval(None, None, "no time"), [DRY, FASTENED], Answer.CANNOT_TELL),
        # no episodes known: beside the reading, the same day, another day
        (span("2026-05-04 10:02:00"), [], Answer.YES),
        (span("2026-05-04 16:00:00"), [], Answer.YES),
        (span("2026-05-05 00:00:00"), [], Answer.NO),
        (span("2026-05-03 23:59:58"), [], Answer.NO),
        # the next stage began and nobody wrote its end
        (span("2026-05-04 15:00:00"), [episode(Stage.FASTENED, "2026-05-04 14:00", "")],
         Answer.CANNOT_TELL),
        (span("2026-05-04 10:10:00"), [episode(Stage.FASTENED, "2026-05-04 10:05", "")],
         Answer.CANNOT_TELL),
        # the stage before never got an end: it ended when the dry fit was read
        (span("2026-05-04 10:40:00"), [episode(Stage.UNPACKING, "2026-05-04 08:00", "")],
         Answer.YES),
        (span("2026-05-04 08:30:00"), [episode(Stage.UNPACKING, "2026-05-04 08:00", "")],
         Answer.CANNOT_TELL),
        # the dry fit of another piece, on another day, is not this one
        (span("2026-05-11 10:00:00"),
         [DRY, episode(Stage.DRY_FIT, "2026-05-11 09:00", "2026-05-11 12:00", 2)], Answer.NO),
        # a dry fit that ran on into the next day, closed by its records
        (span("2026-05-05 08:30:00"),
         [episode(Stage.DRY_FIT, "2026-05-04 09:00", "2026-05-05 09:00")], Answer.YES),
        # an open dry fit: a later photo may still belong to it
        (span("2026-05-05 08:30:00"), [episode(Stage.DRY_FIT, "2026-05-04 09:00", "")],
         Answer.CANNOT_TELL),
        # its certain stretch begins a minute after the reading: still the right one
        (span("2026-05-04 10:30:00"),
         [episode(Stage.DRY_FIT, "2026-05-04 10:01", "2026-05-04 11:00")], Answer.YES),
    ],
)  # fmt: skip
def test_where_a_photo_lies(taken, episodes, expected):
    assert answer(taken, episodes) is expected


def test_without_a_named_photo_it_cannot_be_told():
    assert answer(span("2026-05-04 10:02:00"), named=()) is Answer.CANNOT_TELL


def test_a_path_without_a_photo_cannot_be_told():
    taken = span("2026-05-04 10:02:00")
    assert answer(taken, named=("photos/gone.jpg",)) is Answer.CANNOT_TELL
    assert answer(taken, named=(SHOT, "photos/gone.jpg")) is Answer.CANNOT_TELL


def test_every_named_photo_must_hold():
    right, wrong = span("2026-05-04 10:02:00"), span("2026-05-09 10:00:00")
    record = dry(3, witness=(SHOT, OTHER))
    pictures = [photo(SHOT), photo(OTHER)]
    case = Case(known_facts(record, photos=pictures), AS_OF, NOW)
    dated = tuple(
        DatedPhoto(p.sha256, taken, TimeBasis.OFFSET_TAG, None, None, "")
        for p, taken in zip(pictures, (right, wrong), strict=True)
    )
    reading = gaps.work_out(replace(case, photos=dated)).readings[0]
    assert reading.witness_holds is Answer.NO
    assert reading.witness == tuple(p.sha256 for p in pictures)


@pytest.mark.parametrize(
    "taken, expected",
    [
        # A reading dated by its day alone: any time of that local day is beside it.
        (span("2026-05-04 20:00:00"), Answer.YES),
        # 04:30 UTC of the 5th is still the 4th at the site.
        (Interval(datetime.fromisoformat("2026-05-05T04:30:00+00:00"),
                  datetime.fromisoformat("2026-05-05T04:30:01+00:00"), ""), Answer.YES),
        (span("2026-05-05 10:00:00"), Answer.NO),
    ],
)  # fmt: skip
def test_a_reading_dated_by_its_day(taken, expected):
    assert answer(taken, record=dry(3, taken="2026-05-04", witness=(SHOT,))) is expected
