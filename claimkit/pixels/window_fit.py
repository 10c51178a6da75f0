"""Both edges of the gap in one window: fitted to the mean cut, then to each millimetre's own.

The fit starts from several rough edges, because a lit wall looks like panel and a dark lip like
gap; the best is kept. Single millimetres then say how the edges wander, and single ones far off
the others, a chip or a speck, are left out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from claimkit.model.card import Refusal, Why
from claimkit.pixels.cuts import COLUMN_MM, ROW_MM, Cut, Rough, rough, smooth
from claimkit.pixels.edges import EdgeFit, Look, fit_edges
from claimkit.pixels.plane import Plane
from claimkit.rules.card_layout import Box
from claimkit.rules.card_limits import (
    ROUNDED_FREE_MM,
    ROUNDED_MISFIT,
    ROUNDED_RADII_MM,
    U_PER_ROUNDED_MM,
    U_UNLIKE_MM,
    Limits,
)

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

_PANEL_MM = 2.5
"""How much panel beside each edge is fitted along with it."""
_ROUGH_LEVELS = ((0.5, 0.5), (0.7, 0.7), (0.85, 0.5), (0.5, 0.85), (0.85, 0.85))
"""Where rough edges are tried, of the way from dark to bright: left and right."""
_FEWEST_SAMPLES = 40
_FARTHEST_MM = 1.0
_OUTLIER, _OUTLIER_MM = 3.5, 0.02


@dataclass(frozen=True)
class SingleCuts:
    """Each millimetre's own edges across, at `y` from the window's middle, in mm.

    `slope` is how much their middle leans beside the cut's slant; `gap` is the gap along the cut
    in the window's middle, `scatter` how it wanders about a straight taper (SD, robust).
    """

    y: Array
    left: Array
    right: Array
    slope: float
    gap: float
    scatter: float


@dataclass(frozen=True)
class Found:
    """All that was found in a window."""

    plane: Plane
    window: Box
    cut: Cut
    look: Look
    fit: EdgeFit
    single: SingleCuts

    @property
    def gap_mm(self) -> float:
        """The gap square to the seam, in the card's mm."""
        return self.single.gap * math.cos(math.atan(self.cut.slant))

    @property
    def px_per_mm(self) -> float:
        """Pixels a millimetre across the seam in the window's middle."""
        return self.plane.px_per_mm(*self.window.centre)


def fit_mean(cut: Cut, look: Look, px_per_mm: float, limits: Limits) -> EdgeFit | Refusal:
    """Fit the edges in the mean of a cut's rows, or say why there are none to fit."""
    mean = cut.rows.mean(axis=0)
    smoothed = smooth(mean, look.blur_mm)
    guess = rough(smoothed)
    if guess is None:
        return Refusal.of(Why.NO_GAP)
    refused = _light_refused(guess, limits)
    if refused:
        # A narrow dark line is grey in the picture because it is narrow.
        wide = (guess.edge(smoothed, 1, 0.5) - guess.edge(smoothed, -1, 0.5)) * COLUMN_MM
        narrow = wide * px_per_mm < limits.least_gap_px + 1.0
        if refused.why is Why.CONTRAST and narrow:
            return Refusal.of(Why.NARROW, px=wide * px_per_mm, least=limits.least_gap_px + 1.0)
        return refused
    fits: list[EdgeFit] = []
    for left_level, right_level in _ROUGH_LEVELS:
        left, right = guess.edge(smoothed, -1, left_level), guess.edge(smoothed, 1, right_level)
        fit = fit_around(cut, (float(cut.x[left]), float(cut.x[right])), look)
        if fit is not None:
            fits.append(fit)
    if not fits:
        return Refusal.of(Why.NO_GAP)
    best = min(fits, key=lambda f: f.cost)
    return replace(best, rounded=_rounded(best, cut, look))


def fit_around(cut: Cut, start: tuple[float, float], look: Look) -> EdgeFit | None:
    """Fit the mean of a cut from given edges, with some panel to both sides."""
    reach = _PANEL_MM + 3.0 * look.blur_mm
    near = (cut.x > start[0] - reach) & (cut.x < start[1] + reach)
    if near.sum() < _FEWEST_SAMPLES:
        return None
    return fit_edges(cut.x[near], cut.rows.mean(axis=0)[near], start, look)


def _rounded(fit: EdgeFit, cut: Cut, look: Look) -> float:
    """Give the standard uncertainty in mm for edges that look rounder than taken, or like none.

    The radius whose edges fit the cut best tells how much rounder they look. The gap keeps its
    value all the same: two photos of one station would else be read under two radii, and their
    difference would not lose what they share.
    """
    unlike = U_UNLIKE_MM * _between(fit.misfit, *ROUNDED_MISFIT)
    best, cost = look.radius_mm, fit.cost
    for radius in ROUNDED_RADII_MM:
        if radius > look.radius_mm:
            other = fit_around(cut, (fit.left, fit.right), replace(look, radius_mm=radius))
            if other is not None and other.cost < cost:
                best, cost = radius, other.cost
    return max(unlike, U_PER_ROUNDED_MM * (best - look.radius_mm - ROUNDED_FREE_MM))


def _between(value: float, none: float, full: float) -> float:
    return min(max((value - none) / (full - none), 0.0), 1.0)


def _light_refused(guess: Rough, limits: Limits) -> Refusal | None:
    bright = min(guess.bright)
    if max(guess.bright) >= limits.bright:
        return Refusal.of(Why.BRIGHT)
    if bright < limits.dark:
        return Refusal.of(Why.DARK)
    return contrast_refused(1.0 - guess.dark / bright, limits)


def contrast_refused(contrast: float, limits: Limits) -> Refusal | None:
    """Refuse a gap that is not dark enough beside its panels; `contrast` is 0 to 1."""
    if contrast >= limits.contrast:
        return None
    shown = max(100.0 * contrast, 0.0)
    return Refusal.of(Why.CONTRAST, contrast=shown, least=100.0 * limits.contrast)


def single_cuts(cut: Cut, fit: EdgeFit) -> SingleCuts:
    """Find the edges in each millimetre's own cut, and how they wander about straight lines."""
    import numpy as np

    a_cut = round(1.0 / ROW_MM)
    count = len(cut.y) // a_cut
    rows = cut.rows[: count * a_cut].reshape(count, a_cut, -1).mean(axis=1)
    y = cut.y[: count * a_cut].reshape(count, a_cut).mean(axis=1) - cut.middle
    near = np.searchsorted(cut.x, fit.x[0] - 1e-6), np.searchsorted(cut.x, fit.x[-1] + 1e-6)
    moved = np.clip(fit.shifts(rows[:, near[0] : near[1]].T), -_FARTHEST_MM, _FARTHEST_MM)
    left, right = fit.left + moved[0], fit.right + moved[1]
    gaps = right - left
    off = gaps - np.polyval(np.polyfit(y, gaps, 1), y)
    off -= np.median(off)
    scatter = 1.4826 * float(np.median(np.abs(off)))
    keep = np.abs(off) <= _OUTLIER * scatter + _OUTLIER_MM
    slope = float(np.polyfit(y[keep], (left + right)[keep] / 2.0, 1)[0])
    gap = float(np.polyval(np.polyfit(y[keep], gaps[keep], 1), 0.0))
    return SingleCuts(y[keep], left[keep], right[keep], slope, gap, scatter)
