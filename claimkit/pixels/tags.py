"""Tags in a picture: found at half size, then their borders located at full size.

OpenCV finds AprilTag 36h11 in a smaller copy. Each black border is then crossed by short lines of
samples, whose bright and dark parts balance at the border; straight lines through these give the
corners to a small part of a pixel, and how wide the borders are gives the blur.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from claimkit.pixels.plane import Plane, plane_of
from claimkit.rules import card_layout as layout

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]
    Grey = NDArray[np.uint8]

LONG_SIDE_SEARCHED = 2016
_REACH_MM = 1.5
"""A border is searched this far to both sides: half a cell, so that no other cell is met."""
_ALONG, _ACROSS = 36, 41
_FROM_CORNER_MM = 2.0
SPREAD_STEP_MM = 0.04
SPREAD_REACH_MM = 1.2


@dataclass(frozen=True)
class TagSeen:
    """A tag found: its id and its corners in pixels, clockwise as OpenCV gives them."""

    id: int
    corners: Array


def find_tags(grey: Grey) -> tuple[TagSeen, ...]:
    """Find every AprilTag 36h11 in a grey picture; corners to about a pixel of it."""
    import cv2

    high, wide = grey.shape
    part = max(1, round(max(high, wide) / LONG_SIDE_SEARCHED))
    size = (wide // part, high // part)
    small = cv2.resize(grey, size, interpolation=cv2.INTER_AREA) if part > 1 else grey
    family = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_APRILTAG_36h11)
    detector = cv2.aruco.ArucoDetector(family, cv2.aruco.DetectorParameters())
    quads, ids, _ = detector.detectMarkers(small)
    if ids is None:
        return ()
    # The middle of the first small pixel is the middle of the first part x part pixels.
    found = (
        TagSeen(int(i), (q.reshape(4, 2).astype("f8") + 0.5) * part - 0.5)
        for i, q in zip(ids.ravel(), quads, strict=True)
    )
    return tuple(sorted(found, key=lambda tag: (tag.id, tag.corners[0].tolist())))


@dataclass(frozen=True)
class Light:
    """A part of the picture in linear light, 0 to 1, and where its first pixel is."""

    values: NDArray[np.float32]
    left: int
    top: int

    def at(self, px: Array) -> NDArray[np.float32]:
        """Sample at points in the whole picture's pixels, between pixels by straight lines."""
        import cv2
        import numpy as np

        flat = px.reshape(1, -1, 2) - np.array([self.left, self.top])
        rows = -(-flat.shape[1] // 4096)
        padded = np.pad(flat[0], ((0, rows * 4096 - flat.shape[1]), (0, 0)), mode="edge")
        x, y = padded.astype(np.float32).T.reshape(2, rows, 4096)
        out = cv2.remap(self.values, x, y, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
        return np.asarray(out.ravel()[: flat.shape[1]].reshape(px.shape[:-1]), np.float32)


def linear_light(grey: Grey, around: Array, margin: int) -> Light:
    """Give the box around points in linear light, by the sRGB curve (IEC 61966-2-1)."""
    import numpy as np

    high, wide = grey.shape
    left, top = (max(int(v) - margin, 0) for v in np.floor(around.min(axis=0)))
    right = min(math.ceil(around[:, 0].max()) + margin + 1, wide)
    low = min(math.ceil(around[:, 1].max()) + margin + 1, high)
    v = np.arange(256) / 255.0
    curve = np.where(v <= 0.04045, v / 12.92, ((v + 0.055) / 1.055) ** 2.4).astype(np.float32)
    return Light(curve[grey[top:low, left:right]], left, top)


@dataclass(frozen=True)
class Borders:
    """All sixteen corners located, and what their borders say of the picture.

    `corners` are in pixels, four a tag as in Box.corners. `blur_mm` is the spread (SD) of the
    borders across and along the seam. `spread` is how a sharp border across the seam is spread by
    lens and camera, at SPREAD_STEP_MM about its middle, in all 1. `white` and `black` are the
    card's own levels of light.
    """

    corners: Array
    blur_mm: tuple[float, float]
    spread: Array
    white: float
    black: float


def corners_mm() -> Array:
    """Give the sixteen tag corners of the layout in mm, four a tag as in Box.corners."""
    import numpy as np

    return np.array([c for _, box in layout.TAG_PLACES for c in box.corners])


def locate_borders(light: Light, plane: Plane) -> Borders | None:
    """Locate the tags' corners from where a rough plane puts them; None where borders are lost."""
    import numpy as np

    squares = corners_mm().reshape(4, 4, 2)
    start, end = squares, np.roll(squares, -1, axis=1)
    along = (end - start) / layout.TAG
    # Clockwise with y down: outwards is the direction turned back by a quarter.
    out = np.stack([along[..., 1], -along[..., 0]], axis=-1)
    s = np.linspace(_FROM_CORNER_MM, layout.TAG - _FROM_CORNER_MM, _ALONG)
    t = np.linspace(-_REACH_MM, _REACH_MM, _ACROSS)
    points = (
        start[:, :, None, None, :]
        + along[:, :, None, None, :] * s[None, None, :, None, None]
        + out[:, :, None, None, :] * t[None, None, None, :, None]
    )
    values = light.at(plane.pixels(points)).astype(np.float64)
    white = values[..., -8:].mean(axis=-1)
    black = values[..., :8].mean(axis=-1)
    span = white - black
    if not (np.median(span, axis=2) > 0.02).all():
        return None
    bright = (values - black[..., None]) / np.maximum(span, 0.01)[..., None]
    step = t[1] - t[0]
    offset = (1.0 - bright).sum(axis=-1) * step - _REACH_MM - step / 2.0
    inner = np.median(bright, axis=2)
    blur = math.sqrt(math.pi) * np.clip(inner * (1.0 - inner), -0.05, None).sum(axis=-1) * step
    lines = _lines(s, offset)
    corners = _crossings(start, along, out, lines)
    return Borders(
        corners=plane.pixels(corners.reshape(-1, 2)),
        blur_mm=(float(np.median(blur[:, 1::2])), float(np.median(blur[:, 0::2]))),
        spread=_spread(s, t, bright[:, 1::2], lines[:, 1::2]),
        white=float(np.median(white)),
        black=float(np.median(black)),
    )


def _spread(s: Array, t: Array, bright: Array, lines: Array) -> Array:
    """Average the borders' own shape, about where each was located, and take its derivative.

    A border once blurred is blurred alike everywhere, whatever lens, hand and the camera's
    sharpening did. The two sides are averaged: sharpening in a camera's own tone scale is not
    quite even in light.
    """
    import numpy as np

    at = lines[..., :1] + lines[..., 1:] * s
    half = round(SPREAD_REACH_MM / SPREAD_STEP_MM) + 1
    wanted = at[..., None] + np.arange(-half, half + 1) * SPREAD_STEP_MM
    place = np.clip((wanted - t[0]) / (t[1] - t[0]), 0.0, len(t) - 1.001)
    low = place.astype(np.int64)
    part = place - low
    lines_at = np.take_along_axis(bright, low, axis=-1) * (1.0 - part)
    lines_at += np.take_along_axis(bright, low + 1, axis=-1) * part
    edge = np.median(lines_at.reshape(-1, 2 * half + 1), axis=0)
    slope = (edge[2:] - edge[:-2]) / 2.0
    even = (slope + slope[::-1]) / 2.0
    even *= np.cos(np.linspace(-math.pi / 2, math.pi / 2, len(even))) ** 0.25
    return np.asarray(even / even.sum())


def _lines(s: Array, offset: Array) -> Array:
    """Fit offset = a + b s for each border, twice, the second time without far-off samples."""
    import numpy as np

    weight = np.ones_like(offset)
    fit = np.zeros((*offset.shape[:2], 2))
    middle = s - s.mean()
    for _ in range(3):
        w = weight.sum(axis=-1)
        m = (weight * middle).sum(axis=-1) / w
        v = (weight * offset).sum(axis=-1) / w
        d = middle - m[..., None]
        b = (weight * d * (offset - v[..., None])).sum(axis=-1) / (weight * d * d).sum(axis=-1)
        a = v - b * m
        off = np.abs(offset - a[..., None] - b[..., None] * middle)
        limit = 3.0 * 1.4826 * np.median(off, axis=-1) + 0.005
        weight = np.where(off <= limit[..., None], 1.0, 1e-3)
        fit = np.stack([a - b * s.mean(), b], axis=-1)
    return fit


def _crossings(start: Array, along: Array, out: Array, lines: Array) -> Array:
    """Cross each border's line with that before it, in mm: the corner where the border starts."""
    import numpy as np

    corners = np.empty_like(start)
    for tag in range(start.shape[0]):
        for side in range(4):
            rows, values = [], []
            for k in (side - 1, side):
                a, b = lines[tag, k]
                # out·(p - start) = a + b along·(p - start)
                row = out[tag, k] - b * along[tag, k]
                rows.append(row)
                values.append(a + row @ start[tag, k])
            corners[tag, side] = np.linalg.solve(np.array(rows), np.array(values))
    return corners


def rough_plane(
    tags: Iterable[TagSeen], card: int, size: tuple[int, int], focal_35: float | None
) -> tuple[Plane, float] | None:
    """Lay the card's plane through its four tags as found, whichever way a tag itself is turned.

    The tags' middles say how the card lies; each tag's corners then follow. Gives the plane and
    the residual in pixels, or None where the tags do not stand as on a card.
    """
    import cv2
    import numpy as np

    by_id = {tag.id: tag.corners for tag in tags}
    quads = np.array([by_id[i] for i in layout.tags_of(card)])
    middles = np.array([box.centre for _, box in layout.TAG_PLACES])
    h = cv2.getPerspectiveTransform(
        middles.astype(np.float32), quads.mean(axis=1).astype(np.float32)
    )
    from claimkit.pixels.plane import projected

    expected = projected(np.asarray(h, np.float64), corners_mm()).reshape(4, 4, 2)
    turned = [np.roll(quads, -k, axis=1) for k in range(4)]
    best = min(turned, key=lambda q: float(((q - expected) ** 2).sum()))
    return plane_of(corners_mm(), best.reshape(-1, 2), size, focal_35)
