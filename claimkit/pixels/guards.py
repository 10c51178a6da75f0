"""The guards of a window: each looks at what was found and refuses by name, or lets it pass.

A number that looks sure and is wrong does more harm than none, so whatever makes a cut unlike two
plain edges and an open gap ends in a refusal that says what to do. The limits are data.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from claimkit.model.card import Refusal, Why
from claimkit.pixels.cuts import smooth
from claimkit.pixels.window_fit import Found, contrast_refused, fit_around
from claimkit.rules.card_layout import SEAM_X
from claimkit.rules.card_limits import Limits


def first_refusal(found: Found, limits: Limits) -> Refusal | None:
    """Give the first guard's refusal, or None where all let the window pass."""
    for guard in GUARDS:
        refusal = guard(found, limits)
        if refusal:
            return refusal
    return None


def _from_the_side(found: Found, limits: Limits) -> Refusal | None:
    if abs(found.look.tangent) <= limits.tan_across:
        return None
    angle, most = (math.degrees(math.atan(t)) for t in (found.look.tangent, limits.tan_across))
    return Refusal.of(Why.ACROSS, angle=abs(angle), most=most)


def _size(found: Found, limits: Limits) -> Refusal | None:
    px = found.gap_mm * found.px_per_mm
    if px < limits.least_gap_px:
        return Refusal.of(Why.NARROW, px=px, least=limits.least_gap_px)
    if found.gap_mm > limits.most_gap_mm:
        return Refusal.of(Why.WIDE, gap=found.gap_mm, most=limits.most_gap_mm)
    return None


def _in_the_window(found: Found, limits: Limits) -> Refusal | None:
    fit, window = found.fit, found.window
    if min(fit.left - window.x, window.x + window.wide - fit.right) >= limits.border_mm:
        return None
    return Refusal.of(Why.OFF_CENTRE, off=abs((fit.left + fit.right) / 2.0 - SEAM_X))


def _blur(found: Found, limits: Limits) -> Refusal | None:
    blur, most = found.look.blur_mm, min(limits.blur_mm, limits.blur_of_gap * found.gap_mm)
    return Refusal.of(Why.BLURRED, blur=blur, most=most) if blur > most else None


def _contrast(found: Found, limits: Limits) -> Refusal | None:
    return contrast_refused(1.0 - found.fit.dark, limits)


def _clear(found: Found, limits: Limits) -> Refusal | None:
    ratio = (1.0 - found.fit.dark) / max(found.fit.misfit, 1e-6)
    if ratio >= limits.signal_to_misfit:
        return None
    return Refusal.of(Why.UNCLEAR, snr=ratio, least=limits.signal_to_misfit)


def _one_line(found: Found, limits: Limits) -> Refusal | None:
    share = _second_line(found)
    if share <= limits.second_share:
        return None
    return Refusal.of(Why.SECOND_LINE, share=100.0 * share)


def _second_line(found: Found) -> float:
    """Give how dark the darkest place beside the gap is, as a part of the gap's own darkness."""
    import numpy as np

    x, fit = found.cut.x, found.fit
    mean = smooth(found.cut.rows.mean(axis=0), found.look.blur_mm)
    beside = 1.0 + 3.0 * found.look.blur_mm
    share = 0.0
    for place in (x < fit.left - beside, x > fit.right + beside):
        if place.sum() > 20:
            bright = float(np.quantile(mean[place], 0.7))
            drop = 1.0 - float(mean[place].min()) / max(bright, 1e-6)
            share = max(share, drop / max(1.0 - fit.dark, 1e-6))
    return share


def _open_joint(found: Found, limits: Limits) -> Refusal | None:
    """Refuse what looks like a filled joint.

    Looked at from a little to one side, an open joint shows its far wall, lit less and less with
    depth; a filled one shows none. A floor that is not black needs the wall to be taken as deep.
    """
    floor, gap = found.fit.floor, found.gap_mm
    wall_in_view = abs(found.look.tangent) * gap >= limits.wall_in_view_mm
    black = limits.blackest_floor if wall_in_view else limits.black_floor
    filled = floor > limits.floor + limits.floor_per_mm * gap
    if filled or (floor > black and _wall_gain(found) < limits.wall_cost):
        return Refusal.of(Why.FILLED, floor=100.0 * floor)
    return None


def _wall_gain(found: Found) -> float:
    """Give how much better the cut fits with a wall in view than without one."""
    look = replace(found.look, plain_floor=True)
    edges = (found.fit.left, found.fit.right)
    with_wall = fit_around(found.cut, edges, look)
    without = fit_around(found.cut, edges, replace(look, tangent=0.0))
    if with_wall is None or without is None:
        return 0.0
    return without.cost - with_wall.cost


def _even(found: Found, limits: Limits) -> Refusal | None:
    scatter = found.single.scatter
    if scatter <= limits.uneven_mm:
        return None
    return Refusal.of(Why.UNEVEN, scatter=scatter, most=limits.uneven_mm)


GUARDS: tuple[Callable[[Found, Limits], Refusal | None], ...] = (
    _from_the_side,
    _size,
    _in_the_window,
    _blur,
    _contrast,
    _clear,
    _one_line,
    _open_joint,
    _even,
)
