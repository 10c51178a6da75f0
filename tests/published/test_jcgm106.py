"""Conformance probabilities of JCGM 106:2012 and the normal distribution they rest on."""

from __future__ import annotations

from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from claimkit.findings.seams.compare import (
    Limits,
    chance_unchanged_shown,
    change,
    fit,
    probability_within,
)
from claimkit.findings.seams.normal import K_ONE_SIDED, factor_together, probability_below
from claimkit.model.gap import Change, Fit
from claimkit.model.measurement import Measurement


def measured(value, u):
    return Measurement.of(value, {"all": u})


@pytest.mark.parametrize(
    "z, p",
    # Standard normal table, four decimals, as printed in any statistics handbook.
    [(0.0, 0.5), (0.5, 0.6915), (1.0, 0.8413), (1.28, 0.8997), (1.4, 0.9192), (1.645, 0.9500),
     (1.96, 0.9750), (2.0, 0.9772), (2.5, 0.9938), (3.0, 0.9987), (-1.0, 0.1587), (-2.0, 0.0228)],
)  # fmt: skip
def test_normal_table(z, p):
    assert probability_below(z, 0.0, 1.0) == pytest.approx(p, abs=0.00006)


@given(st.floats(-20, 20), st.floats(-20, 20), st.floats(0.01, 10))
def test_normal_against_the_standard_library(limit, value, u):
    expected = NormalDist(value, u).cdf(limit)
    assert probability_below(limit, value, u) == pytest.approx(expected, abs=1e-12)


def test_an_exact_value_has_no_doubt():
    assert probability_below(2.0, 2.0, 0.0) == pytest.approx(1.0)
    assert probability_below(2.0, 2.1, 0.0) == pytest.approx(0.0)


def test_one_upper_limit():
    # JCGM 106:2012, 8.3.2: upper limit -5.40 V, y = -5.47 V, u = 0.05 V: 92 % (from memory; the
    # value follows from the standard normal table at 1.4).
    p = probability_within(measured(-5.47, 0.05), Limits(None, -5.40))
    assert p == pytest.approx(0.92, abs=0.005)


def test_one_lower_limit_is_the_mirror():
    p = probability_within(measured(5.47, 0.05), Limits(5.40, None))
    assert p == pytest.approx(0.92, abs=0.005)


def test_two_limits():
    # JCGM 106:2012, 8.3.3: an oil between 12.5 and 16.3 mm2/s read as 13.6 with u = 1.8: 66 %
    # (from memory; by the table, Phi(1.5) - Phi(-0.611) = 0.9332 - 0.2706).
    p = probability_within(measured(13.6, 1.8), Limits(12.5, 16.3))
    assert p == pytest.approx(0.9332 - 0.2706, abs=0.0006)


@pytest.mark.parametrize(
    "value, answer",
    [
        # One upper limit of 4, u = 0.2: 1.645 u = 0.329 (JCGM 106, z for 95 %).
        (3.670, Fit.WITHIN),
        (3.672, Fit.CANNOT_TELL),
        (4.0, Fit.CANNOT_TELL),
        (4.328, Fit.CANNOT_TELL),
        (4.330, Fit.OUTSIDE),
    ],
)
def test_the_three_answers_turn_at_95_percent(value, answer):
    assert fit(measured(value, 0.2), Limits(None, 4.0))[0] is answer


def test_a_reading_coarser_than_the_design_is_never_within():
    # At the middle of a 2 mm band with u = 0.6 P is 90 %: less than asked for.
    assert fit(measured(3.0, 0.6), Limits(2.0, 4.0))[0] is Fit.CANNOT_TELL


@pytest.mark.parametrize("low, high", [(None, None), (4.0, 2.0)])
def test_limits_that_limit_nothing_are_refused(low, high):
    with pytest.raises(ValueError, match="design gap"):
        Limits(low, high)


@pytest.mark.parametrize(
    "d, answer",
    [
        # T = 0.8, u = 0.2, k u = 0.329: opened above 1.129, unchanged up to 0.471, by hand.
        (1.130, Change.OPENED),
        (1.129, Change.CANNOT_TELL),  # at the limit itself: not over it
        (0.8, Change.CANNOT_TELL),
        (0.472, Change.CANNOT_TELL),
        (0.471, Change.UNCHANGED),  # at the limit itself: not over it
        (0.0, Change.UNCHANGED),
        (-0.471, Change.UNCHANGED),
        (-0.472, Change.CANNOT_TELL),
        (-1.129, Change.CANNOT_TELL),
        (-1.130, Change.CLOSED),
    ],
)
def test_change_turns_at_its_limits(d, answer):
    assert change(measured(d, 0.2), 0.8).change is answer


@given(st.floats(-5, 5), st.floats(0.01, 2), st.floats(0, 2))
def test_probabilities_of_a_change_are_those_of_the_normal_distribution(d, u, tolerance):
    found = change(measured(d, u), tolerance)
    true = NormalDist(d, u)
    assert found.p_opened == pytest.approx(1 - true.cdf(tolerance), abs=1e-9)
    assert found.p_closed == pytest.approx(true.cdf(-tolerance), abs=1e-9)
    assert found.p_opened + found.p_closed + found.p_unchanged == pytest.approx(1.0)


@pytest.mark.parametrize(
    "ratio, chance",
    # Chance of "unchanged" where nothing changed at T = ratio times u (computed elsewhere).
    [(3.3, 0.90), (2.5, 0.61), (2.0, 0.28), (1.645, 0.0), (1.0, 0.0)],
)
def test_chance_that_unchanged_can_be_shown(ratio, chance):
    assert chance_unchanged_shown(0.3, 0.3 * ratio) == pytest.approx(chance, abs=0.005)


@pytest.mark.parametrize("count, k", [(1, 1.645), (3, 2.13), (5, 2.33), (8, 2.50)])
def test_several_stations_share_the_risk(count, k):
    # Bonferroni, 5 % over all statements; the figures were computed outside this project.
    assert factor_together(count) == pytest.approx(k, abs=0.005)


def test_the_factor_is_that_of_95_percent_one_sided():
    assert NormalDist().cdf(K_ONE_SIDED) == pytest.approx(0.95, abs=0.0001)
