"""Typed readings that look like slips: one repeat apart, more than the gauge reads, a leaf at 0."""

from __future__ import annotations

import random

import pytest

from claimkit.findings.seams.readings import NotUsable, read_all, stands_apart
from claimkit.model.measuring import Instrument, Readings
from claimkit.model.stages import Stage
from tests.build import case, moment
from tests.findings.gap_build import dry, known_facts, whole, worked_out

RULE = "gap-repeat-stands-apart"


def body(instrument: Instrument) -> Readings:
    taken = moment("2026-05-04 10:00")
    return Readings(seam="s1", stage=Stage.DRY_FIT, taken=taken, instrument=instrument, at=())


@pytest.mark.parametrize(
    "instrument,repeats,apart",
    [
        (Instrument.FEELER, (20, 2.0, 1.95), 20),  # a point left out
        (Instrument.FEELER, (2.0, 0.2, 1.95), 0.2),
        (Instrument.FEELER, (20, 2.0), 20),
        (Instrument.FEELER, (3.0, 3.05, 3.3), None),  # hands differ
        (Instrument.FEELER, (3.0, 3.0, 3.5), None),  # five times the hand's 0.1 mm, not more
        (Instrument.FEELER, (3.0, 3.0, 3.51), 3.51),
        (Instrument.FEELER, (2.0, 2.2, 4.2), None),  # ten times the others' spread, not more
        (Instrument.FEELER, (2.0, 2.2, 4.21), 4.21),
        (Instrument.FEELER, (2.0, 2.0, 20, 20), None),  # two and two: neither stands alone
        (Instrument.RULE_MM, (3, 3, 8), None),  # five of its divisions
        (Instrument.RULE_MM, (3, 3, 30), 30),
        (Instrument.FEELER, (20,), None),
        (Instrument.OTHER, (20, 2.0, 1.95), None),  # its division is not known
    ],
)
def test_one_repeat_far_from_all_others(instrument, repeats, apart) -> None:
    assert stands_apart(body(instrument), repeats) == apart


def test_hands_that_differ_hardly_ever_bring_it_about() -> None:
    """Three repeats of one gap by a hand of 0.1 mm, and of one that is three times as unsteady."""
    rng = random.Random(17)
    for sigma, most in ((0.1, 0.002), (0.3, 0.12)):
        sets = [tuple(round(rng.gauss(3, sigma) * 20) / 20 for _ in range(3)) for _ in range(2000)]
        called = sum(stands_apart(body(Instrument.FEELER), s) is not None for s in sets)
        assert called / len(sets) <= most, sigma


def test_no_repeat_is_dropped() -> None:
    known = case(known_facts(dry(20, "2.0", "1.95")))
    (found,) = [f for f in known.findings if f.rule == RULE]
    assert "one stands apart: 20 mm" in found.message
    two = case(known_facts(dry(20, "2.0")))
    (of_two,) = [f for f in two.findings if f.rule == RULE]
    assert "(20 mm, 2.0 mm) stand far apart" in of_two.message
    (reading,) = known.readings
    assert reading.measurement.value_mm == pytest.approx((20 + 2.0 + 1.95) / 3)
    assert reading.measurement.u_mm > 6  # s/√3 alone: the three scatter by over 10 mm


@pytest.mark.parametrize(
    "instrument,gap,usable",
    [
        (Instrument.FEELER, "100", True),
        (Instrument.FEELER, "100.1", False),
        (Instrument.TAPER_GAUGE, "100", True),
        (Instrument.TAPER_GAUGE, "101", False),
        (Instrument.CALIPER, "150", True),
        (Instrument.CALIPER, "151", False),
        (Instrument.TAPE_MM, "151", True),
    ],
)
def test_more_than_the_instrument_reads_is_no_measurement(instrument, gap, usable) -> None:
    known = case(known_facts(dry(2, gap, instrument=instrument)))
    _, refused = read_all(known)
    assert len(known.readings) == usable
    assert len(refused) == (not usable)
    for one in refused:
        assert isinstance(one, NotUsable)
        assert f"does not read {float(gap):g} mm" in one.reason
        assert "Add a record that replaces this one" in one.reason


def test_a_leaf_that_did_not_go_in_is_one_sided_and_keeps_its_value() -> None:
    (reading,) = worked_out(dry(0)).readings
    assert reading.measurement.value_mm == 0
    assert any("less than that leaf" in remark for remark in reading.remarks)
    (other,) = worked_out(dry("0.05")).readings
    assert not any("less than that leaf" in remark for remark in other.remarks)
    assert whole(worked_out(dry(0))).before is not None
