"""The two edges of a gap in one averaged cut across a seam, with their uncertainty.

The cut is taken as two panel edges and the dark between them, each a sum of the shapes that its
geometry allows; where the edges stand is fitted together with how much of each shape there is,
held to what is plausible. Straight thresholds read a lit wall as panel and a lip as gap.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from claimkit.pixels.edge_shapes import LIT_DEPTHS, Shapes, edge_shapes

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

MODEL_NOISE = 0.015
"""How far the shapes and a real cut differ, of full light (from our own renders)."""
INDEPENDENT = 0.4
"""Part of the samples that count as independent: neighbours share pixels."""
LEAST_GAP_MM = 0.1
_BETWEEN = 41
_MOST_STEP_MM, _DONE_MM, _SETTLED_MM, _ROUNDS = 0.25, 1e-3, 0.03, 16

# Of full light: what each shape's amount is held to, and how loosely (SD).
_WALLS = len(LIT_DEPTHS) - 1
_MEANS = (0.4, 0.4, 0.0, *(0.0,) * _WALLS)
_SPREADS = (0.25, 0.25, 0.04, *(0.12,) * _WALLS)
_LIP = 2
"""The shape whose amount may be negative: a lip turned away from the light is darker."""
_EXTRA_SPREADS = (0.05, 0.05, 0.1, 0.1, 0.3, 0.1)
"""Slopes of the panels a mm; the floor's hollow and twist across; its light, and its slope."""
_PLAIN_SPREAD, _PLAIN_WIDTH = 1e-3, 10.0
"""How the floor's hollow and twist are held to nothing; they are below this many blurs of gap."""


@dataclass(frozen=True)
class Look:
    """How the seam is seen.

    `tangent` of the view angle across it, positive from the right; `blur_mm` the SD of the blur
    and `spread` its shape, at STEP_MM about its middle; `radius_mm` that edges are taken to have;
    `plain_floor` where the floor is held to a straight slope.
    """

    tangent: float
    blur_mm: float
    spread: Array
    radius_mm: float
    plain_floor: bool = False


@dataclass(frozen=True)
class EdgeFit:
    """Both faces in mm along the cut, and how well the cut is understood.

    `u_mm` is the standard uncertainty of right - left from the fit alone. `misfit` is the residual
    (RMS), `dark` the least light in the gap with its blur undone and `floor` its lower quartile,
    all of the panels' light; `cost` compares fits of one cut. `moves` turns the residuals of single
    cuts into moves of both edges, see shifts(). `rounded` is the standard uncertainty in mm
    for edges that look rounder than the radius taken, or like none that is known.
    """

    left: float
    right: float
    u_mm: float
    misfit: float
    dark: float
    floor: float
    bright: tuple[float, float]
    cost: float
    full: float
    x: Array
    columns: Array
    moves: Array
    rounded: float = 0.0

    @property
    def gap_mm(self) -> float:
        """The distance between the faces along the cut."""
        return self.right - self.left

    def shifts(self, cuts: Array) -> Array:
        """Give how far left and right edge of single cuts lie from the fit's, in mm.

        `cuts` has one column for each cut, sampled where the fitted cut was. Brightness may
        differ from cut to cut; the shares of the shapes are those of the fit.
        """
        import numpy as np

        values = cuts / self.full
        amounts, *_ = np.linalg.lstsq(self.columns, values, rcond=1e-6)
        return np.asarray(self.moves @ (values - self.columns @ amounts))


def fit_edges(x: Array, light: Array, start: tuple[float, float], look: Look) -> EdgeFit | None:
    """Fit both edges of a dark gap in a cut; None where they do not settle.

    `x` are places in mm, rising; `light` is linear. `start` are rough edges.
    """
    import numpy as np

    full = float(np.quantile(light, 0.9))
    if full <= 0.0:
        return None
    reach = float(x[-1] - x[0])
    best = _searched(x, light / full, start, _both_shapes(look, start, reach), look)
    if best is None:
        return None
    sharp = _both_shapes(replace(look, spread=np.ones(1)), start, reach)
    between = np.linspace(best.edges[0], best.edges[1], _BETWEEN)[1:-1]
    unblurred = _Model.at(between, best.edges, sharp, look).columns @ best.solved.amounts
    return _fit(best, x, full, unblurred)


@dataclass(frozen=True)
class _Best:
    """Edges, the shapes there, and what was solved from them."""

    edges: Array
    model: _Model
    solved: _Solved


def _searched(
    x: Array,
    values: Array,
    start: tuple[float, float],
    shapes: tuple[Shapes, Shapes],
    look: Look,
) -> _Best | None:
    """Move the edges while that fits better; a step that fits worse is taken back by thirds."""
    import numpy as np

    here = np.array(start, np.float64)
    best: _Best | None = None
    step = np.zeros(2)
    for _ in range(_ROUNDS):
        model = _Model.at(x, here, shapes, look)
        solved = _solve(model, values)
        if best is None or solved.cost < best.solved.cost:
            best = _Best(here, model, solved)
            step = np.clip(solved.move, -_MOST_STEP_MM, _MOST_STEP_MM)
        else:
            step = step / 3.0
        if np.abs(step).max() < _DONE_MM:
            break
        here = best.edges + step
        here[1] = max(here[1], here[0] + LEAST_GAP_MM)
        if here[0] < x[0] or here[1] > x[-1]:
            return None
    return best if np.abs(step).max() <= _SETTLED_MM else None


def _both_shapes(look: Look, start: tuple[float, float], reach_mm: float) -> tuple[Shapes, Shapes]:
    def of(tangent: float) -> Shapes:
        return edge_shapes(
            radius_mm=look.radius_mm,
            tangent=tangent,
            gap_mm=max(start[1] - start[0], 0.3),
            spread=look.spread,
            reach_mm=reach_mm + 0.5,
        )

    return of(look.tangent), of(-look.tangent)


@dataclass(frozen=True)
class _Model:
    """The shapes at the samples, one column each, their pulls by the edges, and their bounds."""

    columns: Array
    rises: tuple[Array, Array]
    floors: Array
    means: Array
    spreads: Array
    free_sign: NDArray[np.bool_]
    counts: tuple[int, int]

    @classmethod
    def at(cls, x: Array, edges: Array, shapes: tuple[Shapes, Shapes], look: Look) -> _Model:
        import numpy as np

        to_left, to_right = edges[0] - x, x - edges[1]
        left, left_rise = shapes[0].at(to_left)
        right, right_rise = shapes[1].at(to_right)
        inside = np.clip(1.0 - left[0] - right[0], 0.0, 1.0)
        place = (x - edges.mean()) / max(edges[1] - edges[0], 0.3)
        floors = np.stack([4.0 * place**2 - 1.0 / 3.0, 8.0 * place**3, place**0, place], axis=1)
        extra = [
            np.maximum(to_left - look.radius_mm, 0.0),
            np.maximum(to_right - look.radius_mm, 0.0),
            *(inside * floors.T),
        ]
        counts = (len(left), len(right))
        means = [*_MEANS[: counts[0]], *_MEANS[: counts[1]], *(0.0,) * len(extra)]
        spreads = [*_SPREADS[: counts[0]], *_SPREADS[: counts[1]], *_EXTRA_SPREADS]
        if look.plain_floor or edges[1] - edges[0] < _PLAIN_WIDTH * look.blur_mm:
            spreads[-4] = spreads[-3] = _PLAIN_SPREAD
        free = np.zeros(len(means), bool)
        free[[_LIP, counts[0] + _LIP]] = True
        free[-len(extra) :] = True
        free[-2] = False  # the floor's own light
        return cls(
            np.vstack([left, right, extra]).T,
            (left_rise.T, right_rise.T),
            floors,
            np.array(means),
            np.array(spreads),
            free,
            counts,
        )


@dataclass(frozen=True)
class _Solved:
    """Amounts of the shapes, the edges' next move, and what both rest on."""

    amounts: Array
    active: NDArray[np.bool_]
    residual: Array
    cost: float
    move: Array
    information: Array
    moves: Array


def _solve(model: _Model, values: Array) -> _Solved:
    """Find the amounts by least squares, none negative that cannot be, and the edges' move."""
    import numpy as np

    weight = math.sqrt(INDEPENDENT) / MODEL_NOISE
    columns = model.columns * weight
    held = np.diag(1.0 / model.spreads)
    aim = model.means / model.spreads
    active = np.ones(len(aim), bool)
    for _ in range(5):
        a = np.vstack([columns[:, active], held[:, active]])
        y = np.concatenate([values * weight, np.where(active, aim, 0.0)])
        found, *_ = np.linalg.lstsq(a, y, rcond=None)
        amounts = np.zeros(len(aim))
        amounts[active] = found
        wrong = (amounts < 0.0) & ~model.free_sign
        if not wrong.any():
            break
        active &= ~wrong
    residual = y - a @ found
    pull = np.vstack([_pulls(model, amounts) * weight, np.zeros((len(aim), 2))])
    q, _ = np.linalg.qr(a)
    pull = pull - q @ (q.T @ pull)
    information = pull.T @ pull + np.eye(2) * 1e-6
    moves = np.linalg.solve(information, pull.T)
    n = len(values)
    return _Solved(
        amounts,
        active,
        residual[:n] / weight,
        float(residual @ residual),
        moves @ residual,
        information,
        moves[:, :n] * weight,
    )


def _pulls(model: _Model, amounts: Array) -> Array:
    """Give how the light at each sample changes as the left and the right edge move."""
    import numpy as np

    n, m = model.counts
    dark = model.floors @ amounts[-model.floors.shape[1] :]
    left = model.rises[0] @ amounts[:n] - dark * model.rises[0][:, 0]
    right = model.rises[1] @ amounts[n : n + m] - dark * model.rises[1][:, 0]
    return np.stack([left, -right], axis=1)


def _fit(best: _Best, x: Array, full: float, between: Array) -> EdgeFit:
    import numpy as np

    solved = best.solved
    misfit = math.sqrt(float((solved.residual**2).mean()))
    cov = np.linalg.inv(solved.information)
    spread = math.sqrt(max(float(cov[0, 0] + cov[1, 1] - 2.0 * cov[0, 1]), 0.0))
    n, _ = best.model.counts
    bright = (float(solved.amounts[:2].sum()), float(solved.amounts[n : n + 2].sum()))
    least = max(min(bright), 1e-6)
    return EdgeFit(
        left=float(best.edges[0]),
        right=float(best.edges[1]),
        u_mm=spread * max(1.0, misfit / MODEL_NOISE),
        misfit=misfit / least,
        dark=float(between.min()) / least,
        floor=float(np.quantile(between, 0.25)) / least,
        bright=bright,
        cost=solved.cost,
        full=full,
        x=x,
        columns=best.model.columns[:, solved.active],
        moves=solved.moves,
    )
