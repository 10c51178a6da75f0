"""Fitting both edges of a cut whose edges are known by their formula, not by our own shapes."""

from __future__ import annotations

import math

import numpy as np
import pytest

from claimkit.pixels.edges import Look, fit_edges

STEP = 0.04


def spread_of(sigma):
    at = np.arange(-30, 31) * STEP
    kernel = np.exp(-0.5 * (at / sigma) ** 2)
    return kernel / kernel.sum()


def cut(left, right, sigma, *, bright=(0.6, 0.5), dark=0.02):
    """Two error functions: sharp edges seen through a Gaussian blur."""
    x = np.arange(36.0, 56.0, 0.05)
    below = np.array([0.5 * math.erfc((v - left) / (sigma * math.sqrt(2.0))) for v in x])
    above = np.array([0.5 * math.erfc((right - v) / (sigma * math.sqrt(2.0))) for v in x])
    return x, dark + below * (bright[0] - dark) + above * (bright[1] - dark)


@pytest.mark.parametrize("gap", [0.7, 2.0, 6.0])
@pytest.mark.parametrize("sigma", [0.08, 0.2])
def test_sharp_edges_are_found_where_they_are(gap, sigma):
    left = 45.13
    x, light = cut(left, left + gap, sigma)
    look = Look(tangent=0.0, blur_mm=sigma, spread=spread_of(sigma), radius_mm=0.005)
    fit = fit_edges(x, light, (left - 0.15, left + gap + 0.2), look)
    assert fit is not None
    assert fit.left == pytest.approx(left, abs=0.03)
    assert fit.right == pytest.approx(left + gap, abs=0.03)
    assert fit.misfit < 0.01


def test_single_cuts_show_how_far_they_are_off():
    sigma = 0.15
    x, light = cut(45.0, 48.0, sigma)
    look = Look(tangent=0.0, blur_mm=sigma, spread=spread_of(sigma), radius_mm=0.005)
    fit = fit_edges(x, light, (45.0, 48.0), look)
    assert fit is not None
    wider = cut(44.95, 48.08, sigma, bright=(0.5, 0.45))[1]
    left, right = fit.shifts(wider[:, None])
    assert left[0] == pytest.approx(44.95 - fit.left, abs=0.03)
    assert right[0] == pytest.approx(48.08 - fit.right, abs=0.03)


def test_no_light_no_edges():
    x = np.arange(36.0, 56.0, 0.05)
    look = Look(tangent=0.0, blur_mm=0.1, spread=spread_of(0.1), radius_mm=0.2)
    assert fit_edges(x, np.zeros_like(x), (45.0, 47.0), look) is None
