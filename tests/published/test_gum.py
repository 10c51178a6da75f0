"""Worked examples of JCGM 100:2008 (the GUM) and NIST TN 1297 that our propagation must give."""

from __future__ import annotations

import math
from itertools import pairwise
from statistics import fmean

import pytest

from claimkit.findings.seams.normal import student_95
from claimkit.findings.seams.readings import hand_part
from claimkit.model.measurement import Measurement, covariance
from claimkit.model.measuring import Instrument
from claimkit.rules.instruments import BY_INSTRUMENT

# GUM H.2.2, table H.2: five simultaneous observations (seen).
V = (5.007, 4.994, 5.005, 4.990, 4.999)
I_MA = (19.663, 19.639, 19.640, 19.685, 19.678)
PHI = (1.0456, 1.0438, 1.0468, 1.0428, 1.0433)


def mean_of(observations, unit=1.0):
    """The mean as a measurement: each set of observations is a cause that its quantities share.

    The products of the parts of two means then sum to their covariance, GUM 5.2.3, equation (17).
    """
    mean = fmean(observations)
    scale = math.sqrt(len(observations) * (len(observations) - 1))
    parts = {f"set {n}": (x - mean) * unit / scale for n, x in enumerate(observations)}
    return Measurement.of(mean * unit, parts)


def linear(value, *terms):
    """A result from its sensitivity coefficients (GUM 5.1.3)."""
    total = Measurement.of(0.0, {})
    for coefficient, quantity in terms:
        total = total.plus(quantity.scaled(coefficient))
    return Measurement(value, total.parts)


def test_h2_resistance_reactance_impedance_and_their_correlations():
    v, i, phi = mean_of(V), mean_of(I_MA, 1e-3), mean_of(PHI)
    z = v.value_mm / i.value_mm
    cos, sin = math.cos(phi.value_mm), math.sin(phi.value_mm)
    resistance = linear(z * cos, (cos / i.value_mm, v), (-z * cos / i.value_mm, i), (-z * sin, phi))
    reactance = linear(z * sin, (sin / i.value_mm, v), (-z * sin / i.value_mm, i), (z * cos, phi))
    impedance = linear(z, (1 / i.value_mm, v), (-z / i.value_mm, i))
    # GUM table H.4: values and combined standard uncertainties in ohm.
    for found, value, u in (
        (resistance, 127.732, 0.071),
        (reactance, 219.847, 0.295),
        (impedance, 254.260, 0.236),
    ):
        assert found.value_mm == pytest.approx(value, abs=0.0006)
        assert found.u_mm == pytest.approx(u, abs=0.0006)

    def r(a, b):
        return covariance(a, b) / (a.u_mm * b.u_mm)

    assert r(resistance, reactance) == pytest.approx(-0.588, abs=0.0006)
    assert r(resistance, impedance) == pytest.approx(-0.485, abs=0.0006)
    assert r(reactance, impedance) == pytest.approx(0.993, abs=0.0006)


def test_h1_gauge_block_combines_to_32_nm():
    # GUM table H.1 / NIST TN 1297 D.2: contributions in nm; the total is seen, the parts of the
    # comparator 5.8, 3.9, 6.7 and of temperature 2.9 and 16.6 are from memory.
    block = Measurement.of(
        50_000_838.0,
        {
            "standard": 25.0,
            "repeats": 5.8,
            "comparator, random": 3.9,
            "comparator, systematic": 6.7,
            "expansion difference": 2.9,
            "temperature difference": 16.6,
        },
    )
    assert block.u_mm == pytest.approx(32.0, abs=0.5)


@pytest.mark.parametrize(
    "instrument, u",
    [
        # GUM F.2.2.1: division / sqrt(12); the figures were computed outside this project.
        (Instrument.TAPE_16TH, 0.458),
        (Instrument.TAPE_32ND, 0.229),
        (Instrument.RULE_64TH, 0.115),
        (Instrument.RULE_HALF_MM, 0.144),
        (Instrument.RULE_MM, 0.289),
        (Instrument.TAPE_MM, 0.289),
        (Instrument.TAPER_GAUGE, 0.029),
        (Instrument.FEELER, 0.014),
    ],
)
def test_resolution_of_each_instrument(instrument, u):
    resolution = BY_INSTRUMENT[instrument].resolution_mm
    assert resolution is not None
    assert float(resolution) / math.sqrt(12) == pytest.approx(u, abs=0.0005)


def test_f221_resolution_in_units_of_the_division():
    # GUM F.2.2.1: u = 0.29 times the division.
    assert 1 / math.sqrt(12) == pytest.approx(0.29, abs=0.005)


@pytest.mark.parametrize(
    "dof, t",
    # GUM table G.2 / NIST TN 1297 table B.1, column for 90 %, two-sided.
    [(1, 6.31), (2, 2.92), (3, 2.35), (4, 2.13), (5, 2.02), (6, 1.94), (7, 1.89), (8, 1.86),
     (9, 1.83), (10, 1.81), (11, 1.80), (12, 1.78), (13, 1.77), (14, 1.76), (15, 1.75),
     (16, 1.75), (17, 1.74), (18, 1.73), (19, 1.73), (20, 1.72)],
)  # fmt: skip
def test_student_t(dof, t):
    assert student_95(dof) == pytest.approx(t, abs=0.0051)


def test_student_t_is_never_too_small_beyond_the_table():
    assert student_95(400) == pytest.approx(1.725)
    assert all(a > b for a, b in pairwise(student_95(n) for n in range(1, 21)))
    with pytest.raises(ValueError, match="degree of freedom"):
        student_95(0)


def test_mean_of_repeats_is_s_over_root_n_widened_by_student():
    # GUM 4.2.3 on 3.0, 3.4, 3.2, 3.6 mm: s = 0.258199, s / 2 = 0.129099; G.3 with 3 degrees of
    # freedom: 2.353 / 1.645. Worked by hand.
    kind, u, _ = hand_part((3.0, 3.4, 3.2, 3.6), 0.1, 0.1)
    assert kind == "repeats"
    assert u == pytest.approx(0.129099 * 2.353 / 1.645, abs=1e-5)
