"""The cut across a seam in one window: straightened along the seam, and roughly understood.

The window is sampled in the card's millimetres along the seam's own slant, so that all its rows
lie over each other. The slant is that at which the mean of the rows has the sharpest edges; where
the gap is, and how bright the panels beside it are, is read from that mean.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from claimkit.pixels.plane import Plane
from claimkit.pixels.tags import Light
from claimkit.rules.card_layout import Box

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

ROW_MM, COLUMN_MM = 0.25, 0.05
_END_MM, _SIDE_MM = 2.0, 0.8
"""Left out at the window's ends and sides: the card's own edges and their shadows."""
_SLANTS = 0.16


@dataclass(frozen=True)
class Cut:
    """A window straightened: one row of light every ROW_MM, all in line with the seam.

    `x` are places across in mm where the seam's line crosses the window's middle `y`; `slant` is
    the seam's dx/dy.
    """

    x: Array
    y: Array
    rows: Array
    slant: float
    middle: float


def straightened(light: Light, plane: Plane, window: Box, slant: float) -> Cut:
    """Sample a window along a slant (dx/dy of the seam)."""
    import numpy as np

    middle = window.centre[1]
    y = np.arange(window.y + _END_MM, window.y + window.high - _END_MM + 1e-6, ROW_MM)
    x = np.arange(window.x + _SIDE_MM, window.x + window.wide - _SIDE_MM + 1e-6, COLUMN_MM)
    grid = np.empty((len(y), len(x), 2))
    grid[..., 0] = x[None, :] + slant * (y - middle)[:, None]
    grid[..., 1] = y[:, None]
    rows = light.at(plane.pixels(grid)).astype(np.float64)
    return Cut(x, y, rows, slant, middle)


def seam_slant(cut: Cut, blur_mm: float) -> float:
    """Find the slant at which the mean of the rows has the sharpest edges, dx/dy."""
    import numpy as np

    tries = np.linspace(-_SLANTS, _SLANTS, 33)
    places = np.arange(len(cut.x))
    energy = np.empty(len(tries))
    for k, slant in enumerate(tries):
        shift = np.round(slant * (cut.y - cut.middle) / COLUMN_MM).astype(np.int64)
        index = np.clip(places[None, :] + shift[:, None], 0, len(places) - 1)
        mean = smooth(np.take_along_axis(cut.rows, index, axis=1).mean(axis=0), blur_mm)
        energy[k] = float((np.diff(mean) ** 2).sum())
    best = int(energy.argmax())
    if 0 < best < len(tries) - 1:
        a, b, c = energy[best - 1 : best + 2]
        if a + c < 2 * b:
            return float(tries[best] + (tries[1] - tries[0]) * 0.5 * (a - c) / (a - 2 * b + c))
    return float(tries[best])


def smooth(mean: Array, blur_mm: float) -> Array:
    """Smooth a mean cut by about the picture's own blur."""
    import numpy as np

    sd = max(blur_mm, 0.1) / COLUMN_MM
    reach = math.ceil(3 * sd)
    kernel = np.exp(-0.5 * (np.arange(-reach, reach + 1) / sd) ** 2)
    return np.convolve(np.pad(mean, reach, mode="edge"), kernel / kernel.sum(), "valid")


@dataclass(frozen=True)
class Rough:
    """The dark middle of a mean cut: its place, its level, and the panels' levels beside it."""

    core: int
    dark: float
    bright: tuple[float, float]

    def edge(self, mean: Array, side: int, level: float) -> int:
        """Give where the light first reaches a level, going out from the core to one side."""
        bright = self.bright[0 if side < 0 else 1]
        wanted = self.dark + level * (bright - self.dark)
        place = self.core
        while 0 < place < len(mean) - 1 and mean[place] < wanted:
            place += side
        return place


def rough(mean: Array) -> Rough | None:
    """Find the dark core; None where it lies at the window's border."""
    import numpy as np

    edge = len(mean) // 20
    core = edge + int(mean[edge:-edge].argmin())
    left, right = mean[:core], mean[core + 1 :]
    if len(left) < edge or len(right) < edge:
        return None
    bright = (float(np.quantile(left, 0.85)), float(np.quantile(right, 0.85)))
    return Rough(core, float(mean[core]), bright)
