"""A seeded slice of the study of random jobs; tests/bench/clock_study.py runs all thousand."""

from __future__ import annotations

import statistics

import pytest

from claimkit.model.case import TimeBasis
from tests.bench.clock_study import FAULTS, Study, planted, study

SEEDS = range(5000, 5150)


@pytest.fixture(scope="module")
def whole() -> Study:
    return study(SEEDS)


def test_corrected_intervals_hold_the_true_time(whole: Study) -> None:
    """At least 95 %, with intervals no wider than three times the planted noise in the middle."""
    score = whole.by_fault["all"]
    assert score.total > 500
    assert score.inside / score.total >= 0.95
    assert statistics.median(score.ratios) <= 3


def test_those_that_may_place_a_photo_hold_it_more_surely(whole: Study) -> None:
    score = whole.by_fault["all"]
    assert score.holds > 300
    assert score.holds_inside / score.holds >= 0.98
    assert statistics.median(score.sure_ratios) <= 3
    assert whole.by_basis[TimeBasis.GPS_ALONE.value].holds == 0


def test_a_sound_clock_is_hardly_ever_accused(whole: Study) -> None:
    assert whole.sound > 150
    assert whole.sound_accused / whole.sound <= 0.01


def test_every_kind_of_fault_was_planted_and_is_mostly_noticed(whole: Study) -> None:
    assert set(whole.cameras) == set(FAULTS)
    faulty = sum(n for fault, n in whole.cameras.items() if fault != "sound")
    # About one faulty camera in ten has nothing in its job that could show the fault.
    assert sum(whole.seen.values()) / faulty >= 0.8


def test_the_study_can_fail() -> None:
    """The same score over the cameras' own times: most planted faults lie outside."""
    inside = total = 0
    for seed in SEEDS[:40]:
        case, cameras = planted(seed)
        for one in cameras:
            for dated in case.photos:
                if dated.sha256 in one.true and dated.corrected is not None:
                    total += 1
                    inside += dated.taken.earliest <= one.true[dated.sha256] <= dated.taken.latest
    assert total > 100
    assert inside / total < 0.5
