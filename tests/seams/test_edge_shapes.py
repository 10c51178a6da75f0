"""The shapes of light over an edge against brute force: rays marched, skies summed up."""

from __future__ import annotations

import math

import numpy as np
import pytest

from claimkit.pixels.edge_shapes import STEP_MM, edge_shapes

SHARP = np.array([1.0])  # a picture without any blur
COSINE, SKY, LIP = 0, 1, 2


def sky_by_summing(normal, low, high, steps=20000):
    """Sum up a uniform sky over what is seen of it: half of the cosine over the angle."""
    angle = np.linspace(low, high, steps)
    return float(np.trapezoid(np.maximum(np.cos(angle - normal), 0.0), angle) / 2.0)


@pytest.mark.parametrize("depth", [0.1, 0.5, 1.0, 3.0])
def test_sky_on_a_wall_is_that_of_its_view_of_the_opening(depth):
    gap, tangent, radius = 4.0, 0.3, 0.01
    shapes = edge_shapes(radius_mm=radius, tangent=tangent, gap_mm=gap, spread=SHARP, reach_mm=12.0)
    light, _ = shapes.at(np.array([-tangent * (depth * gap + radius)]))
    # The wall looks level; the opposite edge cuts off the sky below this angle from upright.
    limit = math.atan2(gap, depth * gap)
    assert light[SKY, 0] == pytest.approx(
        sky_by_summing(math.pi / 2, 0.0, limit), abs=2 * STEP_MM / gap
    )


def lip_by_marching(d0, radius, tangent):
    """March a ray down in small steps until it meets the quarter circle; give the cosine there."""
    for h in np.arange(0.5, -radius, -1e-4):
        d = d0 - tangent * h
        if d >= radius and h <= 0.0:
            return 1.0
        if d < radius and math.hypot(d - radius, h + radius) <= radius:
            return (h + radius) / radius
    return None


@pytest.mark.parametrize("tangent", [-0.3, 0.0, 0.3])
@pytest.mark.parametrize("d0", [0.05, 0.2, 0.35, 0.6])
def test_the_lip_leans_where_rays_meet_it(d0, tangent):
    radius = 0.4
    shapes = edge_shapes(radius_mm=radius, tangent=tangent, gap_mm=3.0, spread=SHARP, reach_mm=6.0)
    light, _ = shapes.at(np.array([d0]))
    expected = lip_by_marching(d0, radius, tangent)
    assert light[COSINE, 0] == pytest.approx(0.0 if expected is None else expected, abs=0.06)


def test_far_out_all_is_panel_and_far_in_all_is_dark():
    shapes = edge_shapes(radius_mm=0.2, tangent=-0.2, gap_mm=3.0, spread=SHARP, reach_mm=8.0)
    light, rise = shapes.at(np.array([-7.0, 7.0]))
    assert light[:, 0].tolist() == [0.0, 0.0, 0.0]
    assert light[:, 1].tolist() == [1.0, 1.0, 0.0]
    assert not rise.any()


def test_a_wall_is_seen_only_from_the_other_side():
    def wall(tangent):
        shapes = edge_shapes(radius_mm=0.1, tangent=tangent, gap_mm=3.0, spread=SHARP, reach_mm=8.0)
        return shapes.at(np.array([-0.3]))[0][SKY, 0]

    assert wall(0.3) > 0.2
    assert wall(-0.3) == 0.0
