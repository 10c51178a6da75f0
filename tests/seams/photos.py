"""Small rendered photos for tests: a camera of 2 megapixels held closer, as sharp on the card.

Rendering takes a good part of a second, so every scene is drawn once in a run.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import pytest

from claimkit.model.card import CardReading, Window
from claimkit.pixels.cards import CardsSeen, read_cards
from claimkit.pixels.opencv import available
from claimkit.rules.card_limits import LIMITS
from tests.seams.render_photo import Camera, Scene, render

needs_opencv = pytest.mark.skipif(
    available() is not None, reason="photos are measured only where OpenCV is installed"
)

SMALL = replace(LIMITS, copy_long_side_px=1000)
"""The guard against downsized copies goes by the picture's size and would refuse these."""

SQUARE = Camera(wide=1600, high=1200, distance=265.0)
TURNED = replace(SQUARE, tilt=math.radians(14.0), azimuth=0.6, roll=0.3)


@cache
def photo(scene: Scene) -> bytes:
    """Draw a scene, once."""
    return render(scene, samples=2)


@cache
def seen(scene: Scene) -> CardsSeen:
    """Read a scene's cards, once."""
    return read_cards(photo(scene), limits=SMALL)


def both(scene: Scene) -> CardReading:
    """Give the reading of both windows of a scene's only card."""
    (reading,) = (r for r in seen(scene).readings if r.window is Window.BOTH)
    return reading


def smaller(scene: Scene) -> Scene:
    """Take a scene drawn at random to the small camera, at the same pixels a millimetre."""
    camera = scene.camera
    part = 1600.0 / camera.wide
    return replace(
        scene,
        camera=replace(camera, wide=1600, high=1200, distance=max(camera.distance * part, 200.0)),
    )
