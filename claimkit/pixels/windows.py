"""One window of a card read: straightened along the seam, fitted, guarded, and its edges placed.

The seam's slant is found twice, the second time from the edges themselves. What comes out is a
gap in the card's millimetres, square to the seam, with what its uncertainty rests on, or a refusal.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from claimkit.model.card import Refusal, Why
from claimkit.pixels.cuts import seam_slant, straightened
from claimkit.pixels.edges import Look
from claimkit.pixels.guards import first_refusal, seen_across
from claimkit.pixels.plane import Plane
from claimkit.pixels.tags import Borders, Light
from claimkit.pixels.window_fit import Found, fit_mean, single_cuts
from claimkit.rules.card_layout import SEAM_X, Box
from claimkit.rules.card_limits import Limits

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

_SLANT_DONE = 2e-3


@dataclass(frozen=True)
class Laid:
    """A card laid into its plane: where everything on it is, and the light around it."""

    plane: Plane
    borders: Borders
    light: Light


@dataclass(frozen=True)
class WindowFit:
    """A gap in one window, in the card's mm, square to the seam, and what it rests on.

    `u_fit_mm` comes from the fit of the mean cut, `u_scatter_mm` from how the edges wander along
    the window. `tangent` is that of the view angle across the seam. `rounded` is the standard
    uncertainty in mm for edges that look rounder than taken. `caution` is a reason for care. `left`
    and `right` are points on the edges in pixels.
    """

    gap_mm: float
    u_fit_mm: float
    u_scatter_mm: float
    tangent: float
    rounded: float
    caution: Refusal | None
    left: Array
    right: Array


def read_window(laid: Laid, window: Box, radius_mm: float, limits: Limits) -> WindowFit | Refusal:
    """Measure the gap in one window, or say why it is not measured."""
    first = straightened(laid.light, laid.plane, window, 0.0)
    slant = seam_slant(first, laid.borders.blur_mm[0])
    found = _found(laid, window, slant, radius_mm, limits)
    if isinstance(found, Found) and abs(found.single.slope) > _SLANT_DONE:
        found = _found(laid, window, slant + found.single.slope, radius_mm, limits)
    if isinstance(found, Refusal):
        return found
    return first_refusal(found, limits) or _placed(found, limits)


def _found(
    laid: Laid, window: Box, slant: float, radius_mm: float, limits: Limits
) -> Found | Refusal:
    angle = math.degrees(abs(math.atan(slant)))
    if angle > limits.slant_deg:
        return Refusal.of(Why.SLANTED, angle=angle, most=limits.slant_deg)
    cut = straightened(laid.light, laid.plane, window, slant)
    across, along = laid.plane.tangents(SEAM_X, window.centre[1])
    tangent = (across - slant * along) * math.cos(math.atan(slant))
    look = Look(tangent, laid.borders.blur_mm[0], laid.borders.spread, radius_mm)
    fit = fit_mean(cut, look, laid.plane.px_per_mm(*window.centre), limits)
    if isinstance(fit, Refusal):
        return fit
    return Found(laid.plane, window, cut, look, fit, single_cuts(cut, fit))


def _placed(found: Found, limits: Limits) -> WindowFit:
    import numpy as np

    single = found.single
    lean = found.cut.slant * single.y
    left, right = (
        found.plane.pixels(np.stack([edge + lean, single.y + found.cut.middle], axis=1))
        for edge in (single.left, single.right)
    )
    return WindowFit(
        gap_mm=found.gap_mm,
        u_fit_mm=found.fit.u_mm,
        u_scatter_mm=single.scatter / math.sqrt(max(len(single.y) / 2.0, 1.0)),
        tangent=found.look.tangent,
        rounded=found.fit.rounded,
        caution=seen_across(found, limits.tan_across),
        left=left,
        right=right,
    )
