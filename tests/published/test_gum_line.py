"""GUM H.3, a straight line by least squares, and tabled values that our line through stations uses.

JCGM 100:2008, H.3 (data seen, results from memory and worked again outside this project); tables
of Student's t and chi squared from memory. NumPy and statistics are the second routes.
"""

from __future__ import annotations

import math
from statistics import NormalDist, fmean

import numpy as np
import pytest

from claimkit.findings.seams.least_squares import chi_squared, generalised
from claimkit.findings.seams.line import Point, degrees, line_through
from claimkit.findings.seams.normal import (
    chi_squared_above,
    factor_together,
    student_95,
    student_below,
    student_factor,
)
from claimkit.model.measurement import Measurement

# JCGM 100:2008, table H.6: thermometer readings t and observed corrections b, both in degrees C.
T = (21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511)
B = (-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160)
T0 = 20.0


def equal(count):
    """The unit matrix: equal and independent uncertainties, whose size the residuals tell."""
    return [[float(i == j) for j in range(count)] for i in range(count)]


def test_h3_calibration_line_of_a_thermometer():
    weights = generalised([(1.0, t - T0) for t in T], equal(len(T)))
    y1, y2 = weights.estimate(B)
    residuals = [b - y1 - y2 * (t - T0) for b, t in zip(B, T, strict=True)]
    s = math.sqrt(chi_squared(residuals, equal(len(T))) / (len(T) - 2))
    (v1, v12), (_, v2) = weights.covariance
    u1, u2, r = s * math.sqrt(v1), s * math.sqrt(v2), v12 / math.sqrt(v1 * v2)
    # H.3.3, as printed.
    assert f"{y1:.4f} ({u1:.4f})" == "-0.1712 (0.0029)"
    assert f"{y2:.5f} ({u2:.5f})" == "0.00218 (0.00067)"
    assert f"{r:.3f}" == "-0.930"
    assert f"{s:.4f}" == "0.0035"
    # H.3.4: the correction at 30 degrees and its uncertainty, with their correlation.
    at_30 = y1 + y2 * (30.0 - T0)
    u_30 = math.sqrt(u1**2 + 100.0 * u2**2 + 20.0 * u1 * u2 * r)
    assert f"{at_30:.4f} ({u_30:.4f})" == "-0.1494 (0.0041)"


def test_h3_through_the_line_of_a_seam():
    """The same data as stations: its middle is not t0, so only taper, s and the fit are its own."""
    # Equal u so small that the residuals alone make the uncertainty: widened by s / u.
    u = 1e-4
    points = tuple(
        Point(f"{t}", 1000.0 * (t - T0), Measurement.of(b, {f"own: {t}": u}))
        for t, b in zip(T, B, strict=True)
    )
    line = line_through(points)
    assert f"{line.slope.value_mm:.5f} ({line.u_slope:.5f})" == "0.00218 (0.00067)"
    assert f"{u * line.widened_by:.4f}" == "0.0035"
    at_30 = line.offset.value_mm + line.slope.value_mm * (10.0 - line.middle_mm / 1000.0)
    assert f"{at_30:.4f}" == "-0.1494"
    # H.3.5: uncorrelated where the reference is the mean of t; here it is near the middle.
    assert abs(line.correlation) < 0.05
    assert fmean(T) == pytest.approx(24.0085, abs=5e-4)


@pytest.mark.parametrize(
    "dof, t_95, t_9545",
    # JCGM 100:2008, table G.2: columns for 95 % and 95.45 %, two-sided (from memory).
    [(1, 12.71, 13.97), (2, 4.30, 4.53), (3, 3.18, 3.31), (4, 2.78, 2.87), (5, 2.57, 2.65),
     (6, 2.45, 2.52), (7, 2.36, 2.43), (8, 2.31, 2.37), (9, 2.26, 2.32), (10, 2.23, 2.28),
     (20, 2.09, 2.13), (50, 2.01, 2.05), (100, 1.984, 2.025)],
)  # fmt: skip
def test_student_at_any_level(dof, t_95, t_9545):
    assert student_factor(0.975, dof) == pytest.approx(t_95, abs=0.0051)
    assert student_factor(0.97725, dof) == pytest.approx(t_9545, abs=0.0051)
    assert student_below(-t_95, dof) == pytest.approx(0.025, abs=0.0003)


@pytest.mark.parametrize("dof", range(1, 21))
def test_student_agrees_with_the_table_of_the_readings(dof):
    assert student_factor(0.95, dof) == pytest.approx(student_95(dof), abs=0.0006)


def test_student_refuses_what_it_cannot_give():
    with pytest.raises(ValueError, match="degree of freedom"):
        student_below(1.0, 0)
    with pytest.raises(ValueError, match="lies between"):
        student_factor(0.4, 3)


@pytest.mark.parametrize(
    "dof, at_5, at_1",
    # Upper 5 % and 1 % points of chi squared, as in any table (from memory).
    [(1, 3.841, 6.635), (2, 5.991, 9.210), (3, 7.815, 11.345), (4, 9.488, 13.277),
     (5, 11.070, 15.086), (6, 12.592, 16.812), (8, 15.507, 20.090)],
)  # fmt: skip
def test_chi_squared(dof, at_5, at_1):
    assert chi_squared_above(at_5, dof) == pytest.approx(0.05, abs=2e-5)
    assert chi_squared_above(at_1, dof) == pytest.approx(0.01, abs=1e-5)
    assert chi_squared_above(0.0, dof) == pytest.approx(1.0)


def test_a_millimetre_in_a_metre_is_0_0573_degrees():
    assert degrees(1.0) == pytest.approx(0.0573, abs=5e-5)


@pytest.mark.parametrize("count, k, sidak", [(3, 2.13, 2.12), (5, 2.33, 2.32), (8, 2.50, 2.49)])
def test_factor_for_stations_together_by_its_derivation(count, k, sidak):
    """Bonferroni: 5 % over the statements. Sidak's, for independent ones, is a little smaller."""
    normal = NormalDist()
    assert f"{normal.inv_cdf(1 - 0.05 / count):.2f}" == f"{k:.2f}"
    assert f"{normal.inv_cdf(0.95 ** (1 / count)):.2f}" == f"{sidak:.2f}"
    assert factor_together(count) == pytest.approx(normal.inv_cdf(1 - 0.05 / count))


@pytest.mark.parametrize("count", [3, 5, 10])
@pytest.mark.parametrize("shared", [0.0, 0.7])
def test_many_stations_make_none_opened_by_chance(count, shared):
    """Simulated at the tolerance itself: 5 % at most are called opened, however they correlate."""
    rng = np.random.default_rng(20260511)
    own = rng.normal(size=(40_000, count)) * math.sqrt(1.0 - shared**2)
    errors = own + shared * rng.normal(size=(40_000, 1))
    assert (errors.max(axis=1) > factor_together(count)).mean() <= 0.052
    alone = (errors.max(axis=1) > 1.645).mean()
    assert alone > 0.07, "the single factor would call too many opened"
