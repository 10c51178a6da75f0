"""Gaps marked by hand: geometry worked on paper, a pinhole's picture, and senseless marks."""

from __future__ import annotations

import math

import numpy as np
import pytest

from claimkit.model.card import Refusal, Why
from claimkit.model.measurement import Measurement
from claimkit.pixels.by_hand import ID_1_MM, Marked, gap_by_hand
from claimkit.pixels.four_points import NoPerspective, moved, perspective
from tests.seams.render_photo import Camera, project

SHA = "ab" * 32


def test_a_flat_picture_is_a_scale():
    # 10 pixels a millimetre; the edges 43 pixels apart: 4.3 mm.
    marked = Marked(
        ((100.0, 100.0), (956.0, 100.0), (956.0, 639.8), (100.0, 639.8)),
        ID_1_MM,
        ((1000.0, 200.0),),
        ((1043.0, 200.0),),
    )
    gap = gap_by_hand(marked, photo_sha=SHA)
    assert isinstance(gap, Measurement)
    assert gap.value_mm == pytest.approx(4.3)
    # Two points marked to 1.5 px: √2 · 0.15 mm; half a millimetre is the floor.
    parts = {cause.split(":")[0]: part for cause, part in gap.parts}
    assert parts["marked edges"] == pytest.approx(math.sqrt(2.0) * 0.15, rel=0.02)
    assert parts["by hand"] == 0.5


def pictured(camera, points):
    xy = np.array(points, float)
    u, v = project(camera, xy[:, 0], xy[:, 1])
    return tuple((float(a), float(b)) for a, b in zip(u, v, strict=True))


@pytest.mark.parametrize("tilt", [0.0, 12.0, 30.0])
@pytest.mark.parametrize("slant", [0.0, 0.2, 1.4])
def test_a_tilted_picture_is_straightened(tilt, slant):
    camera = Camera(tilt=math.radians(tilt), azimuth=1.1, roll=0.4, aim=(60.0, 30.0))
    wide, high = ID_1_MM
    c, s = math.cos(slant), math.sin(slant)
    left, right = [], []
    for t in (0.0, 15.0, 40.0):
        x, y = 90.0 - t * s, 5.0 + t * c
        left.append((x, y))
        right.append((x + 5.0 * c, y + 5.0 * s))
    corners = pictured(camera, [(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)])
    marked = Marked(corners, ID_1_MM, pictured(camera, left), pictured(camera, right[:2]))
    gap = gap_by_hand(marked, photo_sha=SHA)
    assert isinstance(gap, Measurement)
    assert gap.value_mm == pytest.approx(5.0, abs=0.02)
    assert 2.0 * gap.u_mm >= 1.0


def test_it_never_claims_better_than_a_millimetre_and_worse_from_afar():
    def u_at(distance):
        camera = Camera(distance=distance)
        corners = pictured(camera, [(0, 0), (85.6, 0), (85.6, 53.98), (0, 53.98)])
        left = pictured(camera, [(100, 0), (100, 40)])
        right = pictured(camera, [(104, 0), (104, 40)])
        gap = gap_by_hand(Marked(corners, ID_1_MM, left, right), photo_sha=SHA)
        assert isinstance(gap, Measurement)
        return gap.u_mm

    near, far = u_at(250.0), u_at(1500.0)
    assert 0.5 <= near < 0.56
    assert far > 1.5 * near


GOOD = ((100.0, 100.0), (956.0, 100.0), (956.0, 640.0), (100.0, 640.0))
LEFT, RIGHT = ((1000.0, 100.0), (1000.0, 500.0)), ((1040.0, 100.0), (1040.0, 500.0))


@pytest.mark.parametrize(
    "corners,left,right,why",
    [
        (GOOD[::-1], LEFT, RIGHT, Why.RECTANGLE),  # the other way round: a mirrored card
        ((GOOD[0], GOOD[2], GOOD[1], GOOD[3]), LEFT, RIGHT, Why.RECTANGLE),  # crossing sides
        ((GOOD[0], GOOD[1], GOOD[1], GOOD[3]), LEFT, RIGHT, Why.RECTANGLE),  # a corner twice
        (GOOD, (), RIGHT, Why.SIDES),
        (GOOD, LEFT, ((990.0, 100.0), (1010.0, 500.0)), Why.SIDES),  # the edges cross
        (GOOD, (LEFT[0],), (LEFT[0],), Why.SIDES),  # one and the same point
        (GOOD, ((3000.0, 100.0),), ((3040.0, 100.0),), Why.REACH),  # 20 cm beside the card
    ],
)
def test_marks_that_make_no_sense_are_refused(corners, left, right, why):
    gap = gap_by_hand(Marked(corners, ID_1_MM, left, right), photo_sha=SHA)
    assert isinstance(gap, Refusal)
    assert gap.why is why


def test_a_rectangle_has_a_size():
    gap = gap_by_hand(Marked(GOOD, (85.6, 0.0), LEFT, RIGHT), photo_sha=SHA)
    assert isinstance(gap, Refusal)
    assert gap.why is Why.RECTANGLE


def test_a_perspective_takes_its_four_points_where_they_belong():
    # Worked by hand: the unit square to a trapezium, its middle where the diagonals cross.
    to = ((0.0, 0.0), (4.0, 0.0), (3.0, 2.0), (1.0, 2.0))
    p = perspective(((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)), to)
    for corner, wanted in zip(((0, 0), (1, 0), (1, 1), (0, 1)), to, strict=True):
        assert moved(p, corner) == pytest.approx(wanted)
    assert moved(p, (0.5, 0.5)) == pytest.approx((2.0, 4.0 / 3.0))


def test_three_points_in_line_make_no_perspective():
    square = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
    with pytest.raises(NoPerspective):
        perspective(((0.0, 0.0), (1.0, 1.0), (2.0, 2.0), (0.0, 1.0)), square)


def test_a_point_on_the_horizon_is_told():
    with pytest.raises(NoPerspective):
        moved((1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 1.0, 0.0), (-1.0, 0.0))
