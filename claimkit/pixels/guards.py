"""The guards of a window: each looks at what was found and refuses by name, or lets it pass.

A number that looks sure and is wrong does more harm than none, so whatever makes a cut unlike two
plain edges and an open gap ends in a refusal that says what to do. The limits are data.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from claimkit.model.card import Refusal, Why
from claimkit.pixels.cuts import COLUMN_MM, smooth
from claimkit.pixels.window_fit import Found, contrast_refused, fit_around
from claimkit.rules.card_layout import SEAM_X
from claimkit.rules.card_limits import Limits

_STEP_REACH_MM = 0.2
_FEWEST_BESIDE = 20


def first_refusal(found: Found, limits: Limits) -> Refusal | None:
    """Give the first guard's refusal, or None where all let the window pass."""
    for guard in GUARDS:
        refusal = guard(found, limits)
        if refusal:
            return refusal
    return None


def _from_the_side(found: Found, limits: Limits) -> Refusal | None:
    return seen_across(found, limits.most_tan_across)


def seen_across(found: Found, most: float) -> Refusal | None:
    """Refuse, or caution, where the view angle across the seam has more than this tangent."""
    tangent = abs(found.look.tangent)
    if tangent <= most:
        return None
    angle, most_deg = (math.degrees(math.atan(t)) for t in (tangent, most))
    return Refusal.of(Why.ACROSS, angle=angle, most=most_deg)


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
    line, edge = _beside(found)
    if line <= limits.second_share and edge <= limits.second_edge:
        return None
    return Refusal.of(Why.SECOND_LINE, share=100.0 * max(line, edge))


def _beside(found: Found) -> tuple[float, float]:
    """Give the darkest place and the largest step of light beside the gap, of its own darkness.

    A lit floor between a thin shadow and the far panel shows such a step, where the shadow alone
    would be read as the gap.
    """
    import numpy as np

    x, fit = found.cut.x, found.fit
    blur = found.look.blur_mm
    mean = smooth(found.cut.rows.mean(axis=0), blur)
    far = round((_STEP_REACH_MM + 2.0 * blur) / COLUMN_MM)
    steps = np.abs(mean[2 * far :] - mean[: -2 * far])
    steps = np.pad(steps, far, mode="edge") / max(min(fit.bright) * fit.full, 1e-6)
    beside = 1.0 + 3.0 * blur
    line = edge = 0.0
    for place in (x < fit.left - beside, x > fit.right + beside):
        if place.sum() > _FEWEST_BESIDE:
            bright = float(np.quantile(mean[place], 0.7))
            line = max(line, 1.0 - float(mean[place].min()) / max(bright, 1e-6))
            edge = max(edge, float(steps[place].max()))
    darkness = max(1.0 - fit.dark, 1e-6)
    return line / darkness, edge / darkness


def _open_joint(found: Found, limits: Limits) -> Refusal | None:
    """Refuse what looks like a filled joint.

    Looked at from a little to one side, an open joint shows its far wall, lit less and less with
    depth; a filled one shows none. A floor that is not black needs the wall to be taken as deep.
    """
    floor, gap = found.fit.floor, found.gap_mm
    wall_in_view = abs(found.look.tangent) * gap >= limits.wall_in_view_mm
    black = limits.blackest_floor if wall_in_view else limits.black_floor
    if floor <= black:
        return None
    gain, most = _wall_gain(found), limits.floor + limits.floor_per_mm * gap
    least = limits.wall_cost if floor > limits.grey_floor else limits.wall_hint
    if gain >= least and floor <= most:
        return None
    return Refusal.of(Why.FILLED, floor=100.0 * floor)


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
