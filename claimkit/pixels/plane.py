"""The card's plane in the picture: millimetres to pixels, how square on it was photographed.

A flat card and a pinhole camera make one homography (R. Hartley and A. Zisserman, Multiple View
Geometry, 2nd edition, 8.1). With the focal length, which a camera states or a phone of the usual
kind has, it also says where the camera stood, and so at what angle the seam was seen.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

USUAL_FOCAL_35 = 26.0
"""The main camera of phones, as on 35 mm film (common practice, no source)."""

_FOCAL_LOG_SD_STATED, _FOCAL_LOG_SD_USUAL = 0.03, 0.15
_PRINT_SHAPE_SD = 0.006
"""How far the two directions of a print may differ in scale, or a bent card seem to."""


@dataclass(frozen=True)
class Plane:
    """A plane in the picture: `h` takes (x, y, 1) in mm to pixels; the camera's place in mm."""

    h: Array
    camera: tuple[float, float, float]

    def pixels(self, xy: Array) -> Array:
        """Give the pixels of points in mm; the last axis holds x and y."""
        return projected(self.h, xy)

    def jacobian(self, x: float, y: float) -> Array:
        """Give the pixels a millimetre at a point: rows u and v, columns x and y."""
        import numpy as np

        u, v, w = self.h @ np.array([x, y, 1.0])
        return np.array(
            [
                [(self.h[0, k] * w - u * self.h[2, k]) / w**2 for k in (0, 1)],
                [(self.h[1, k] * w - v * self.h[2, k]) / w**2 for k in (0, 1)],
            ]
        )

    def px_per_mm(self, x: float, y: float) -> float:
        """Give the pixels a millimetre at a point, across the card."""
        j = self.jacobian(x, y)
        return math.hypot(float(j[0, 0]), float(j[1, 0]))

    def tangents(self, x: float, y: float) -> tuple[float, float]:
        """Give the tangents of the view angle at a point, across (x) and along (y)."""
        cx, cy, high = self.camera
        return (cx - x) / high, (cy - y) / high

    def tilt_deg(self, x: float, y: float) -> float:
        """Give the angle in degrees between the look at a point and the plane's upright."""
        return math.degrees(math.atan(math.hypot(*self.tangents(x, y))))


def projected(h: Array, xy: Array) -> Array:
    """Apply a homography to points; the last axis holds x and y."""
    import numpy as np

    homogeneous = xy @ h[:, :2].T + h[:, 2]
    return np.asarray(homogeneous[..., :2] / homogeneous[..., 2:])


def plane_of(
    mm: Array, px: Array, size: tuple[int, int], focal_35: float | None
) -> tuple[Plane, float] | None:
    """Fit the plane to points in mm and in pixels, and give the residual in pixels (RMS).

    `size` is the picture's width and height in pixels. None where the points fit no plane that
    a camera in front of it could see.
    """
    import cv2
    import numpy as np

    found, _ = cv2.findHomography(mm, px, 0)
    if found is None or not np.isfinite(found).all():
        return None
    h = np.asarray(found, np.float64)
    off = projected(h, mm) - px
    residual = math.sqrt(float((off**2).sum(axis=1).mean()))
    camera = _camera(h, size, focal_35)
    return (Plane(h, camera), residual) if camera else None


def _camera(
    h: Array, size: tuple[int, int], focal_35: float | None
) -> tuple[float, float, float] | None:
    """Place the camera in the plane's frame, in mm; the third number is its height.

    The focal length is the one near the stated or usual one that best makes the plane's two
    directions equally long and square to each other.
    """
    import numpy as np

    usual = (focal_35 or USUAL_FOCAL_35) / 36.0 * max(size)
    spread = _FOCAL_LOG_SD_STATED if focal_35 else _FOCAL_LOG_SD_USUAL
    best = (math.inf, h[:, :2], h[:, 2])
    for step in np.linspace(-3.0, 3.0, 25):
        f = usual * math.exp(step * spread)
        axes, place = _axes(h, size, f)
        a, b = np.linalg.norm(axes, axis=0)
        square = float(axes[:, 0] @ axes[:, 1]) / (a * b)
        unequal = math.log(a / b)
        cost = float(step**2) + (square**2 + unequal**2) / _PRINT_SHAPE_SD**2
        if cost < best[0]:
            best = (cost, axes, place)
    _, axes, place = best
    u, _, vt = np.linalg.svd(axes, full_matrices=False)
    x, y = (u @ vt).T
    upright = np.cross(x, y)
    centre = -np.array([x @ place, y @ place, upright @ place])
    # The plane's z points away from a viewer who reads it, x to the right and y down.
    return (float(centre[0]), float(centre[1]), -float(centre[2])) if centre[2] < 0 else None


def _axes(h: Array, size: tuple[int, int], f: float) -> tuple[Array, Array]:
    """Give the plane's two directions and its origin before the camera, in mm."""
    import numpy as np

    middle = np.array([(size[0] - 1) / 2.0, (size[1] - 1) / 2.0])
    b = h.copy()
    b[:2] = (b[:2] - middle[:, None] * b[2]) / f
    scale = math.sqrt(float(np.linalg.norm(b[:, 0]) * np.linalg.norm(b[:, 1])))
    b = b / scale
    if b[2, 2] < 0:
        b = -b
    return b[:, :2], b[:, 2]
