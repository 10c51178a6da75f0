"""A straight line through the gaps along a seam: how wide at its middle, how much it tapers.

The stations' measurements share causes (one scale, one thermometer, one coefficient of
expansion), so they are fitted with their full covariance and the line keeps the causes by name.
Where three or more places show more scatter than their uncertainty explains, the line is widened
by it and what is said of it uses Student's t (JCGM 100:2008, 5.1.2, G.3 and H.3).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from claimkit.findings.seams.least_squares import NotDetermined, chi_squared, generalised
from claimkit.findings.seams.normal import (
    K_ONE_SIDED,
    chi_squared_above,
    probability_below,
    student_below,
    student_factor,
)
from claimkit.model.measurement import Measurement, covariance
from claimkit.model.seam_line import LineFit

MM_PER_M = 1000.0
K_SHOWN = 2.0
LEVEL_OF_K_2 = 0.97725
"""One-sided level of k = 2, two-sided 95.45 %, as in JCGM 100:2008, table G.2."""
ONE_SIDED = 0.95
NOT_BY_CHANCE = 0.05
CANCELLED = 1e-12


@dataclass(frozen=True, slots=True)
class Point:
    """A station with its distance from the seam's start in mm and what was measured there."""

    station: str
    at_mm: float
    measured: Measurement


def line_through(points: tuple[Point, ...]) -> LineFit | str:
    """Fit offset at the middle (mm) and taper (mm per m), or say why there is no line.

    The middle lies halfway between the outermost stations. Chi squared has as many degrees of
    freedom as there are stations over two; with two there is none and nothing is checked.
    """
    if len(points) < 2:
        return "one station shows no taper" if points else "no station has a usable reading"
    places = {point.at_mm for point in points}
    if len(places) < 2:
        names = " and ".join(point.station for point in points)
        return f"stations {names} are entered at the same place of the seam"
    ordered = tuple(sorted(points, key=lambda point: point.at_mm))
    middle = (ordered[0].at_mm + ordered[-1].at_mm) / 2.0
    design = [(1.0, (point.at_mm - middle) / MM_PER_M) for point in ordered]
    measured = [point.measured for point in ordered]
    shared = [[covariance(a, b) for b in measured] for a in measured]
    try:
        weights = generalised(design, shared)
    except NotDetermined:
        return "the readings of its stations are not independent of each other"
    offset, slope = (_combined(row, measured) for row in weights.rows)
    residuals = [
        m.value_mm - offset.value_mm - x * slope.value_mm
        for m, (_, x) in zip(measured, design, strict=True)
    ]
    freedom = len(ordered) - 2
    misfit = chi_squared(residuals, shared) if freedom else 0.0
    (var_offset, between), (_, var_slope) = weights.covariance
    return LineFit(
        stations=tuple(point.station for point in ordered),
        at_mm=tuple(point.at_mm for point in ordered),
        middle_mm=middle,
        offset=offset,
        slope=slope,
        correlation=between / math.sqrt(var_offset * var_slope),
        chi_squared=misfit,
        degrees_of_freedom=freedom,
        widened_by=max(math.sqrt(misfit / freedom), 1.0) if freedom else 1.0,
        places=len(places),
    )


def not_straight(line: LineFit) -> bool:
    """Tell whether the stations lie off the line by more than their uncertainty, at 5 %."""
    if not line.degrees_of_freedom:
        return False
    return chi_squared_above(line.chi_squared, line.degrees_of_freedom) < NOT_BY_CHANCE


def factors(line: LineFit) -> tuple[float, float]:
    """Give the factor for one-sided 95 % and the one for intervals shown: 1.645 and 2.

    Where the uncertainty comes from the residuals both are Student's, at the same levels.
    """
    if line.widened_by <= 1.0:
        return K_ONE_SIDED, K_SHOWN
    freedom = line.degrees_of_freedom
    return student_factor(ONE_SIDED, freedom), student_factor(LEVEL_OF_K_2, freedom)


def taper_below(line: LineFit, limit_mm_per_m: float) -> float:
    """Give the probability that the taper is at most this limit."""
    value, u = line.slope.value_mm, line.u_slope
    if line.widened_by <= 1.0:
        return probability_below(limit_mm_per_m, value, u)
    return student_below((limit_mm_per_m - value) / u, line.degrees_of_freedom)


def degrees(mm_per_m: float) -> float:
    """Give the angle of a taper: 1 mm/m is 0.0573 degrees."""
    return math.degrees(math.atan(mm_per_m / MM_PER_M))


def _combined(weights: tuple[float, ...], measured: list[Measurement]) -> Measurement:
    total = Measurement.of(0.0, {})
    for weight, one in zip(weights, measured, strict=True):
        total = total.plus(one.scaled(weight))
    # What every station shares cancels in a taper up to rounding: that rest is no cause.
    kept = {cause: part for cause, part in total.parts if abs(part) > CANCELLED * total.u_mm}
    return Measurement.of(total.value_mm, kept)
