"""What is learnt later about a card: scale, step and radius move the value and its parts."""

from __future__ import annotations

import pytest

from claimkit.findings.seams.known import with_radius, with_scale, with_step
from claimkit.model.card import CardReading, Refusal, View, Why, Window
from claimkit.model.measurement import Measurement
from tests.seams.photos import both, needs_opencv
from tests.seams.test_read_cards import with_card, with_panels

VIEW = View(px_per_mm=7.0, tilt_deg=12.0, tan_across=-0.2, residual_px=0.2, blur_mm=0.1)
PARTS = {
    "card lip: card 3": 0.07,
    "rounded edges: card 3": 0.2,
    "card scale: card 3": 0.02,
    "edges: card 3 in photo aa": 0.06,
    "step: card 3 in photo aa": -0.22,
}
READ = CardReading("aa", 3, Window.BOTH, Measurement.of(5.0, PARTS), None, view=VIEW)
REFUSED = CardReading("aa", 3, Window.BOTH, None, Refusal.of(Why.NO_GAP), view=VIEW)


def parts_of(reading):
    assert reading.measurement is not None
    return dict(reading.measurement.parts)


def test_a_print_that_came_out_large_reads_small():
    # 250 mm on the sheet measure 251 mm: all is 0.4 % larger than read, u 0.2 mm in 250 mm.
    better = with_scale(READ, 251.0 / 250.0, 0.2 / 250.0)
    assert better.measurement
    assert better.measurement.value_mm == pytest.approx(5.02)
    assert parts_of(better)["card scale: card 3"] == pytest.approx(5.02 * 0.0008)
    assert parts_of(better)["card lip: card 3"] == pytest.approx(0.07 * 1.004)


def test_a_radius_told_later_leaves_a_part_of_the_doubt_about_rounding():
    assert parts_of(with_radius(READ, 0.7, 0.1))["rounded edges: card 3"] == pytest.approx(0.14)


def test_a_step_is_seen_the_more_the_more_from_the_side():
    # Right panel 1 mm proud, seen from the left (tangent -0.2): 0.2 mm too much was seen.
    better = with_step(READ, 1.0, 0.1)
    assert better.measurement
    assert better.measurement.value_mm == pytest.approx(4.8)
    assert parts_of(better)["step: card 3 in photo aa"] == pytest.approx(-0.02)


def test_a_larger_radius_means_a_smaller_gap():
    better = with_radius(READ, 0.7, 0.1)
    assert better.measurement
    assert better.measurement.value_mm == pytest.approx(5.0 - 0.57 * 0.5)
    assert parts_of(better)["card lip: card 3"] == pytest.approx((0.05**2 + 0.057**2) ** 0.5)


@pytest.mark.parametrize("change", [with_scale, with_step, with_radius])
def test_a_refused_reading_stays_refused(change):
    assert change(REFUSED, 1.0, 0.1) is REFUSED


@needs_opencv
def test_a_step_entered_brings_a_rendered_gap_home():
    for step in (-1.5, 1.5):
        reading = both(with_panels(step=step))
        better = with_step(reading, step, 0.1)
        assert reading.measurement
        assert better.measurement
        assert abs(better.measurement.value_mm - 3.0) < abs(reading.measurement.value_mm - 3.0)
        assert better.measurement.value_mm == pytest.approx(3.0, abs=0.15)
        assert better.measurement.u_mm < reading.measurement.u_mm


@needs_opencv
def test_a_scale_entered_brings_a_rendered_gap_home():
    scene = with_card(scale=(1.04, 1.04))
    reading = both(scene)
    assert reading.measurement
    assert reading.measurement.value_mm == pytest.approx(3.0 / 1.04, abs=0.1)
    plain = both(with_card(scale=(1.0, 1.0))).measurement
    better = with_scale(reading, 1.04, 0.001).measurement
    assert plain
    assert better
    assert better.value_mm == pytest.approx(plain.value_mm, abs=0.03)
