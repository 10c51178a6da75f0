"""The card's plane against the pinhole that made the picture."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from tests.seams.photos import needs_opencv
from tests.seams.render_photo import Camera, _axes, project

pytestmark = needs_opencv


def seen_by(camera):
    from claimkit.pixels.plane import plane_of
    from claimkit.pixels.tags import corners_mm

    mm = corners_mm()
    px = np.stack(project(camera, mm[:, 0], mm[:, 1]), axis=1)
    found = plane_of(mm, px, (camera.wide, camera.high), camera.focal_35)
    assert found is not None
    return found


@pytest.mark.parametrize("tilt", [0.0, 10.0, 24.0, 45.0])
@pytest.mark.parametrize("azimuth", [0.3, 2.0, 4.4])
def test_the_camera_is_found_where_it_stood(tilt, azimuth):
    camera = Camera(tilt=math.radians(tilt), azimuth=azimuth, roll=1.2, aim=(20.0, 70.0))
    plane, residual = seen_by(camera)
    place, *_ = _axes(camera)
    assert residual < 1e-3
    assert plane.camera == pytest.approx(tuple(place), rel=1e-3, abs=0.3)
    across, along = plane.tangents(46.0, 40.0)
    assert across == pytest.approx((place[0] - 46.0) / place[2], abs=2e-3)
    assert along == pytest.approx((place[1] - 40.0) / place[2], abs=2e-3)


def test_a_wrong_focal_length_hardly_moves_a_small_angle():
    from claimkit.pixels.plane import plane_of
    from claimkit.pixels.tags import corners_mm

    camera = Camera(tilt=math.radians(8.0), azimuth=0.0, focal_35=24.0)
    mm = corners_mm()
    px = np.stack(project(camera, mm[:, 0], mm[:, 1]), axis=1)
    found = plane_of(mm, px, (camera.wide, camera.high), None)
    assert found is not None
    assert found[0].tangents(46.0, 40.0)[0] == pytest.approx(math.tan(math.radians(8.0)), abs=0.02)


def test_a_plane_seen_from_behind_is_no_plane():
    from claimkit.pixels.plane import plane_of
    from claimkit.pixels.tags import corners_mm

    camera = Camera()
    mm = corners_mm()
    u, v = project(camera, mm[:, 0], mm[:, 1])
    mirrored = np.stack([camera.wide - 1.0 - u, v], axis=1)
    assert plane_of(mm, mirrored, (camera.wide, camera.high), None) is None


def test_corners_off_the_plane_show_in_the_residual():
    from claimkit.pixels.plane import plane_of
    from claimkit.pixels.tags import corners_mm

    camera = replace(Camera(), tilt=0.3)
    mm = corners_mm()
    lifted = 0.02 * (mm[:, 0] - 46.0) ** 2 / 46.0
    px = np.stack(project(camera, mm[:, 0], mm[:, 1], lifted * 10.0), axis=1)
    found = plane_of(mm, px, (camera.wide, camera.high), camera.focal_35)
    assert found is not None
    assert found[1] > 1.0
