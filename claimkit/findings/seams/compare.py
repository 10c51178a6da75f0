"""Gaps compared: within the design or not, opened, closed or unchanged, each with its probability.

Every comparison has a third answer. A gap is within its design or outside it where the
probability of conformance says so at 95 %; a change is told where the difference, widened by its
uncertainty, passes the tolerance; anything else cannot be told from these readings.
"""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.findings.seams.normal import K_ONE_SIDED, RISK, probability_below
from claimkit.model.gap import Change, Fit
from claimkit.model.measurement import Measurement

NANOMETRES = 6
"""Decimals of a millimetre that count: a limit met exactly is met, whatever a float rounds to."""


@dataclass(frozen=True, slots=True)
class Limits:
    """The design's smallest and largest gap in mm; None where that side has no limit."""

    low: float | None
    high: float | None

    def __post_init__(self) -> None:
        """Refuse limits that limit nothing or exclude each other."""
        if self.low is None and self.high is None:
            raise ValueError("a design gap has at least one limit")
        if self.low is not None and self.high is not None and self.high < self.low:
            raise ValueError("the largest design gap is below the smallest")


@dataclass(frozen=True, slots=True)
class ChangeNumbers:
    """A change judged: the answer and the probability of each of the three."""

    change: Change
    p_opened: float
    p_closed: float
    p_unchanged: float


def probability_within(gap: Measurement, limits: Limits) -> float:
    """Give the probability that the gap conforms to its limits (JCGM 106:2012, 8.2 and 8.3)."""
    below_high = (
        1.0 if limits.high is None else probability_below(limits.high, gap.value_mm, gap.u_mm)
    )
    below_low = 0.0 if limits.low is None else probability_below(limits.low, gap.value_mm, gap.u_mm)
    return max(below_high - below_low, 0.0)


def fit(gap: Measurement, limits: Limits, risk: float = RISK) -> tuple[Fit, float]:
    """Tell whether a gap is within its design; within at P >= 1 - risk, outside at P <= risk."""
    p = probability_within(gap, limits)
    if p >= 1.0 - risk:
        return Fit.WITHIN, p
    if p <= risk:
        return Fit.OUTSIDE, p
    return Fit.CANNOT_TELL, p


def change(difference: Measurement, tolerance_mm: float, k: float = K_ONE_SIDED) -> ChangeNumbers:
    """Judge a difference, later less earlier, against the change that matters; all in mm.

    Opened where d - k u > T, closed where d + k u < -T, unchanged where |d| + k u <= T.
    """
    d, u = difference.value_mm, difference.u_mm
    p_up_to = probability_below(tolerance_mm, d, u)
    p_closed = probability_below(-tolerance_mm, d, u)
    numbers = (1.0 - p_up_to, p_closed, max(p_up_to - p_closed, 0.0))
    if round(d - k * u - tolerance_mm, NANOMETRES) > 0:
        return ChangeNumbers(Change.OPENED, *numbers)
    if round(d + k * u + tolerance_mm, NANOMETRES) < 0:
        return ChangeNumbers(Change.CLOSED, *numbers)
    if round(abs(d) + k * u - tolerance_mm, NANOMETRES) <= 0:
        return ChangeNumbers(Change.UNCHANGED, *numbers)
    return ChangeNumbers(Change.CANNOT_TELL, *numbers)


def chance_unchanged_shown(u_mm: float, tolerance_mm: float, k: float = K_ONE_SIDED) -> float:
    """Give the chance that "unchanged" is told where nothing changed at all.

    90 % at T = 3.3 u, 61 % at 2.5 u, 28 % at 2 u, none from T = 1.645 u downwards.
    """
    room = tolerance_mm - k * u_mm
    if room < 0.0:
        return 0.0
    return probability_below(room, 0.0, u_mm) - probability_below(-room, 0.0, u_mm)


def u_for_fit(value_mm: float, limits: Limits, k: float = K_ONE_SIDED) -> float:
    """Give the largest standard uncertainty in mm that would still decide this value's fit."""
    sides = [limit for limit in (limits.low, limits.high) if limit is not None]
    return min(abs(value_mm - limit) for limit in sides) / k


def u_for_change(difference_mm: float, tolerance_mm: float, k: float = K_ONE_SIDED) -> float:
    """Give the largest standard uncertainty in mm that would still decide this difference."""
    return abs(abs(difference_mm) - tolerance_mm) / k
