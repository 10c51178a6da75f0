"""How light falls off over one rounded panel edge, as the camera sees it across a seam.

Looked at from the side, an edge shows its flat, its rounded lip and, where the camera sees into
the gap towards it, its wall. Whatever lights the place, the fall-off is a sum of a few shapes that
follow from the geometry alone (cosine law; view factors of long strips, J. R. Howell, A Catalog of
Radiation Heat Transfer Configuration Factors, C-1 and C-5); how much of each is then fitted.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

STEP_MM = 0.04
LIT_DEPTHS = (0.0, 0.15, 0.3, 0.5, 0.8, 1.2, 2.0, 3.5)
"""How deep lamps may light a wall, in gap widths: fully to one of these, not at all from the next.

Sums of such shapes follow any light that falls off with depth, a lamp's sharp shadow as well.
"""
SMALLEST_TANGENT = 1e-3


@dataclass(frozen=True)
class Shapes:
    """Shapes of light over the distance from a panel's face, outwards onto the panel.

    `light` has one row a shape: lit from above, lit by the whole sky, the lip's own part (of
    either sign), and, where the wall is seen, lit by lamps to each of LIT_DEPTHS. The first two
    are 1 far out on the panel, the others 0; all are 0 far inside the gap. `rise` are their
    derivatives. `start` is the first distance in mm, further ones follow at STEP_MM.
    """

    start: float
    light: Array
    rise: Array

    def at(self, distance: Array) -> tuple[Array, Array]:
        """Give shapes and derivatives at distances in mm, one row a shape."""
        import numpy as np

        place = np.clip((distance - self.start) / STEP_MM, 0.0, self.light.shape[1] - 1.001)
        low = place.astype(np.int64)
        part = place - low
        light = self.light[:, low] * (1.0 - part) + self.light[:, low + 1] * part
        return light, self.rise[:, low]


def edge_shapes(
    *, radius_mm: float, tangent: float, gap_mm: float, spread: Array, reach_mm: float
) -> Shapes:
    """Work out the shapes of an edge.

    `tangent` is that of the view angle across the seam, positive where the camera sees this
    edge's wall; `gap_mm` is about how wide the gap is; `spread` is how the picture spreads a sharp
    edge, at STEP_MM about its middle; the shapes reach `reach_mm` to both sides of the face.
    """
    import numpy as np

    d = np.arange(-reach_mm, reach_mm, STEP_MM)
    top = d >= radius_mm
    lip, cosine = _lip(d, radius_mm, tangent)
    sine = np.where(lip, np.sqrt(1.0 - cosine**2), 0.0)
    shapes = [top + cosine * lip]
    depth = np.zeros_like(d)
    wall = np.zeros_like(top)
    if tangent > SMALLEST_TANGENT:
        wall = d < -tangent * radius_mm
        depth = np.maximum(-d / tangent - radius_mm, 0.0) / gap_mm
    sky_on_wall = 0.5 * (1.0 - depth / np.sqrt(1.0 + depth**2))
    shapes.append(top + lip * (1.0 + cosine) / 2.0 + wall * sky_on_wall)
    shapes.append(sine)
    if tangent > SMALLEST_TANGENT:
        for full, none in pairwise(LIT_DEPTHS):
            shapes.append(sine + wall * np.interp(depth, [full, none], [1.0, 0.0]))
    light = _blurred(np.array(shapes, np.float64), spread)
    return Shapes(-reach_mm, light, np.gradient(light, STEP_MM, axis=1))


def _lip(d: Array, radius: float, tangent: float) -> tuple[NDArray[np.bool_], Array]:
    """Tell which rays meet the lip, a quarter circle, and the cosine of its lean there.

    A ray is d + s h over height h, the circle's middle is (r, -r): a quadratic in h.
    """
    import numpy as np

    s = -tangent
    off = d - radius
    a, b, c = 1.0 + s * s, s * off + radius, off * off
    inside = b * b - a * c
    h = (-b + np.sqrt(np.maximum(inside, 0.0))) / a
    meets = (inside > 0.0) & (h >= -radius) & (d + s * h <= radius) & (d < radius)
    return meets, np.clip((h + radius) / radius, 0.0, 1.0)


def _blurred(rows: Array, spread: Array) -> Array:
    import numpy as np

    reach = len(spread) // 2
    padded = np.pad(rows, ((0, 0), (reach, reach)), mode="edge")
    return np.array([np.convolve(row, spread, "valid") for row in padded])
