"""Probabilities of a normal distribution, and the factors that follow from a risk of 5 %.

A measurement is taken as normal about its value with its standard uncertainty (JCGM 106:2012,
7.1). Several statements made together share the risk; few repeats widen it by Student's t.
"""

from __future__ import annotations

import math
from statistics import NormalDist

RISK = 0.05

K_ONE_SIDED = 1.645
"""One-sided coverage factor for 95 % (JCGM 106:2012, normal distribution)."""
K_TWO_SIDED = 1.96
"""Two-sided coverage factor for 95 % (normal distribution)."""

# One-sided 95 %, that is two-sided 90 %, for 1, 2, 3 ... degrees of freedom: NIST TN 1297 (1994),
# table B.1 and JCGM 100:2008, table G.2 give these to two decimals.
_STUDENT_95 = (
    6.314, 2.920, 2.353, 2.132, 2.015, 1.943, 1.895, 1.860, 1.833, 1.812,
    1.796, 1.782, 1.771, 1.761, 1.753, 1.746, 1.740, 1.734, 1.729, 1.725,
)  # fmt: skip


def probability_below(limit: float, value: float, u: float) -> float:
    """Give the probability that a quantity with this value and standard uncertainty is <= limit.

    With `u` zero the value is exact. All three in the same unit.
    """
    if u == 0.0:
        return 1.0 if value <= limit else 0.0
    return 0.5 * math.erfc((value - limit) / (u * math.sqrt(2.0)))


def factor_together(count: int) -> float:
    """Give the one-sided factor k where `count` statements share a risk of 5 % (Bonferroni).

    1 gives 1.645, 3 gives 2.13, 5 gives 2.33, 8 gives 2.50.
    """
    return K_ONE_SIDED if count <= 1 else NormalDist().inv_cdf(1.0 - RISK / count)


def student_95(degrees_of_freedom: int) -> float:
    """Give Student's t for one-sided 95 %; above 20 degrees of freedom that of 20 (careful)."""
    if degrees_of_freedom < 1:
        raise ValueError("Student's t needs at least one degree of freedom")
    return _STUDENT_95[min(degrees_of_freedom, len(_STUDENT_95)) - 1]


def student_below(t: float, degrees_of_freedom: int) -> float:
    """Give the probability that Student's t with whole degrees of freedom is at most `t`.

    The finite sums in sine and cosine of Abramowitz and Stegun, 26.7.3 and 26.7.4 (M).
    """
    if degrees_of_freedom < 1:
        raise ValueError("Student's t needs at least one degree of freedom")
    angle = math.atan(t / math.sqrt(degrees_of_freedom))
    sine, square = math.sin(angle), math.cos(angle) ** 2
    even = degrees_of_freedom % 2 == 0
    term = 1.0 if even else math.cos(angle)
    terms = []
    for step in range(0 if even else 1, degrees_of_freedom - 1, 2):
        terms.append(term)
        term *= square * (step + 1) / (step + 2)
    within = sine * math.fsum(terms)
    if not even:
        within = 2.0 / math.pi * (angle + within)
    return 0.5 * (1.0 + within)


def student_factor(level: float, degrees_of_freedom: int) -> float:
    """Give the t that Student's t exceeds with probability 1 - `level`, for a level above 0.5."""
    if not 0.5 < level < 1.0:
        raise ValueError("the level lies between 0.5 and 1")
    low, high = 0.0, 1.0
    while student_below(high, degrees_of_freedom) < level:
        low, high = high, 2.0 * high
    for _ in range(60):
        half = (low + high) / 2.0
        low, high = (half, high) if student_below(half, degrees_of_freedom) < level else (low, half)
    return (low + high) / 2.0


def chi_squared_above(value: float, degrees_of_freedom: int) -> float:
    """Give the probability that chi squared with whole degrees of freedom exceeds `value`.

    The finite sums of Abramowitz and Stegun, 26.4.4 and 26.4.5 (M).
    """
    half = value / 2.0
    even = degrees_of_freedom % 2 == 0
    term = 1.0 if even else math.sqrt(half) / math.gamma(1.5)
    terms = []
    for step in range(2 if even else 3, degrees_of_freedom + 1, 2):
        terms.append(term)
        term *= half / (step / 2.0)
    tail = math.exp(-half) * math.fsum(terms)
    return tail if even else math.erfc(math.sqrt(half)) + tail
