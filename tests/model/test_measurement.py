"""Propagation of uncertainty against the `uncertainties` package, an independent oracle."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import covariance_matrix, ufloat

from claimkit.model.measurement import Measurement, covariance

CAUSES = ("rule A", "rule B", "hand", "temperature", "lip")
number = st.floats(-50, 50, allow_nan=False, allow_subnormal=False)
parts = st.dictionaries(st.sampled_from(CAUSES), st.floats(-2, 2, allow_subnormal=False))


def oracle(value, given_parts, causes):
    """The same quantity as a sum of independent unit variables, by the other package."""
    return sum((u * causes[cause] for cause, u in given_parts.items()), value + 0 * causes["hand"])


def fresh():
    return {cause: ufloat(0, 1) for cause in CAUSES}


@given(number, parts, number, parts, st.floats(-3, 3, allow_subnormal=False))
def test_sums_and_differences_agree_with_an_independent_package(a, pa, b, pb, factor):
    causes = fresh()
    ours_a, ours_b = Measurement.of(a, pa), Measurement.of(b, pb)
    theirs_a, theirs_b = oracle(a, pa, causes), oracle(b, pb, causes)
    for ours, theirs in (
        (ours_a.minus(ours_b), theirs_a - theirs_b),
        (ours_a.plus(ours_b), theirs_a + theirs_b),
        (ours_a.scaled(factor), factor * theirs_a),
        (
            ours_a.minus(ours_b).scaled(factor).plus(ours_a),
            factor * (theirs_a - theirs_b) + theirs_a,
        ),
    ):
        assert ours.value_mm == pytest.approx(theirs.nominal_value, abs=1e-9)
        assert ours.u_mm == pytest.approx(theirs.std_dev, abs=1e-9)
    matrix = covariance_matrix([theirs_a, theirs_b])
    assert covariance(ours_a, ours_b) == pytest.approx(float(matrix[0][1]), abs=1e-9)


@given(number, parts)
def test_contributions_are_the_whole_variance(value, given_parts):
    found = Measurement.of(value, given_parts).contributions()
    u = Measurement.of(value, given_parts).u_mm
    assert math.fsum(part**2 for _, part, _ in found) == pytest.approx(u * u, abs=1e-12)
    if found:
        assert math.fsum(share for _, _, share in found) == pytest.approx(1.0)
        assert [part for _, part, _ in found] == sorted((p for _, p, _ in found), reverse=True)
    else:
        assert u == pytest.approx(0.0)


def test_equal_contributions_are_told_in_order_of_their_names():
    found = Measurement.of(5.0, {"rule B": 0.3, "lip": -0.4, "hand": 0.0, "rule A": -0.3})
    # 0.4² + 0.3² + 0.3² = 0.34, worked by hand.
    assert [(cause, u) for cause, u, _ in found.contributions()] == [
        ("lip", 0.4),
        ("rule A", 0.3),
        ("rule B", 0.3),
    ]
    shares = [share for _, _, share in found.contributions()]
    assert shares == pytest.approx([0.16 / 0.34, 0.09 / 0.34, 0.09 / 0.34])


def test_the_same_rule_cancels_in_a_difference_and_adds_in_a_sum():
    # JCGM 100:2008, F.1.2.3: two quantities measured with one instrument are correlated.
    a = Measurement.of(5.0, {"rule A": 0.3})
    b = Measurement.of(4.0, {"rule A": 0.3})
    assert a.minus(b).u_mm == pytest.approx(0.0)
    assert a.plus(b).u_mm == pytest.approx(0.6)
    other = Measurement.of(4.0, {"rule B": 0.3})
    assert a.minus(other).u_mm == pytest.approx(0.3 * math.sqrt(2))
