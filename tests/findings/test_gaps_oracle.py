"""Coverage of the three answers on simulated readings, whose true gaps are known.

Readings are made as a hand makes them: true gap, a scatter of the hand, a scale that is off in
the same way each time, rounded to a division. Whatever the truth, a firm answer may be wrong in
5 % of cases, plus what the number of draws leaves open.
"""

from __future__ import annotations

import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from claimkit.findings.seams.compare import Limits, chance_unchanged_shown, change, fit
from claimkit.findings.seams.readings import hand_part
from claimkit.findings.seams.temperature import thermal
from claimkit.model.gap import Change, Fit
from claimkit.model.job import Material
from claimkit.model.measurement import Measurement
from claimkit.model.measuring import Instrument
from claimkit.model.stages import Event, Stage
from claimkit.rules.instruments import BY_INSTRUMENT
from tests.build import celsius, mm, seam
from tests.findings.gap_build import dry, handover, milestone, read, worked_out

DRAWS = 3000
HAND_MM = 0.1
# 5 % and four standard deviations of a share of 5 % in 3,000 draws.
MOST_WRONG = 0.05 + 4 * math.sqrt(0.05 * 0.95 / DRAWS)


def simulated(rng, true, instrument, repeats, *, zero=0.0, hand=HAND_MM):
    """Repeats of one reading, rounded to the instrument's divisions."""
    step = float(BY_INSTRUMENT[instrument].resolution_mm)
    return tuple(round((true + zero + rng.gauss(0.0, hand)) / step) * step for _ in range(repeats))


def as_measured(repeats, instrument, occasion, which):
    """The measurement our parts make of them."""
    row = BY_INSTRUMENT[instrument]
    step = float(row.resolution_mm)
    kind, u, _ = hand_part(repeats, step, row.operator_mm)
    parts = {
        f"resolution: {occasion}": step / math.sqrt(12),
        f"{kind}: {occasion}": u,
        f"zero: {which}": row.zero_limit_mm / math.sqrt(3),
    }
    return Measurement.of(sum(repeats) / len(repeats), parts)


def pair(rng, g0, g1, instrument, repeats, *, hand=HAND_MM, same=True):
    row = BY_INSTRUMENT[instrument]
    zeros = [rng.uniform(-row.zero_limit_mm, row.zero_limit_mm) for _ in range(2)]
    if same:
        zeros[1] = zeros[0]
    first = simulated(rng, g0, instrument, repeats, zero=zeros[0], hand=hand)
    second = simulated(rng, g1, instrument, repeats, zero=zeros[1], hand=hand)
    return (
        as_measured(first, instrument, "before", "A"),
        as_measured(second, instrument, "after", "A" if same else "B"),
    )


SETUPS = [
    # instrument, repeats, hand in mm, same instrument both times
    (Instrument.FEELER, 1, 0.1, True),
    (Instrument.TAPER_GAUGE, 1, 0.1, False),
    (Instrument.TAPER_GAUGE, 3, 0.2, True),  # a hand worse than the floor, and repeats to show it
    (Instrument.FEELER, 2, 0.3, True),  # two repeats know their scatter badly
    (Instrument.CALIPER, 5, 0.03, False),  # a hand better than the floor
    (Instrument.RULE_HALF_MM, 1, 0.1, True),
    (Instrument.RULE_64TH, 5, 0.1, True),
]


@pytest.mark.parametrize("instrument, repeats, hand, same", SETUPS)
@pytest.mark.parametrize("moved", [0.8, -0.8])
def test_a_change_at_the_tolerance_is_seldom_called_more_or_less(
    instrument, repeats, hand, same, moved
):
    # The hardest truth: exactly the tolerance. "Opened" and "unchanged" are both wrong there.
    rng = random.Random(20260504)
    tolerance = 0.8
    over = under = 0
    for _ in range(DRAWS):
        g0 = rng.uniform(2, 6)
        before, after = pair(rng, g0, g0 + moved, instrument, repeats, hand=hand, same=same)
        answer = change(after.minus(before), tolerance).change
        over += answer in (Change.OPENED, Change.CLOSED)
        under += answer is Change.UNCHANGED
    assert round(MOST_WRONG * DRAWS - over) >= 0
    assert round(MOST_WRONG * DRAWS - under) >= 0


@pytest.mark.parametrize("instrument, repeats, hand, same", SETUPS)
def test_firm_answers_on_random_truths_are_right(instrument, repeats, hand, same):
    rng = random.Random(7)
    tolerance, limits = 0.8, Limits(2.0, 4.0)
    told: dict[object, list[bool]] = {}
    for _ in range(DRAWS):
        g0, g1 = rng.uniform(1, 5), rng.uniform(1, 5)
        before, after = pair(rng, g0, g1, instrument, repeats, hand=hand, same=same)
        truth = Change.UNCHANGED
        if abs(g1 - g0) > tolerance:
            truth = Change.OPENED if g1 > g0 else Change.CLOSED
        inside = Fit.WITHIN if limits.low <= g0 <= limits.high else Fit.OUTSIDE
        moved = change(after.minus(before), tolerance).change
        told.setdefault(moved, []).append(moved is not truth)
        fitted, _ = fit(before, limits)
        told.setdefault(fitted, []).append(fitted is not inside)
    withheld = [len(told.pop(answer, ())) for answer in (Change.CANNOT_TELL, Fit.CANNOT_TELL)]
    for answer, wrong in told.items():
        most = 0.05 * len(wrong) + 4 * math.sqrt(0.05 * 0.95 * len(wrong))
        assert round(most - sum(wrong)) >= 0, answer
    assert len(told) >= 4
    # Of 2 x DRAWS: answers are given, not only withheld. Two repeats of a bad hand tell least.
    assert sum(withheld) < 1.6 * DRAWS


@pytest.mark.parametrize("limit_truth", [2.0, 4.0])
def test_a_gap_on_its_limit_is_seldom_called_in_or_out(limit_truth):
    rng = random.Random(11)
    counts = dict.fromkeys(Fit, 0)
    for _ in range(DRAWS):
        before, _ = pair(rng, limit_truth, limit_truth, Instrument.FEELER, 1)
        counts[fit(before, Limits(2.0, 4.0))[0]] += 1
    assert round(MOST_WRONG * DRAWS - counts[Fit.WITHIN]) >= 0
    assert round(MOST_WRONG * DRAWS - counts[Fit.OUTSIDE]) >= 0


@pytest.mark.parametrize("ratio, chance", [(3.3, 0.90), (2.5, 0.61), (2.0, 0.28)])
def test_chance_of_unchanged_is_the_share_of_draws_that_show_it(ratio, chance):
    # Normal readings of a gap that did not move; the published shares, and our own figure.
    rng = random.Random(3)
    u = 0.25
    shown = sum(
        change(Measurement.of(rng.gauss(0, u), {"all": u}), ratio * u).change is Change.UNCHANGED
        for _ in range(DRAWS)
    )
    assert shown / DRAWS == pytest.approx(chance, abs=0.035)
    assert shown / DRAWS == pytest.approx(chance_unchanged_shown(u, ratio * u), abs=0.035)


def test_panels_that_shrink_and_grow_are_seen_through():
    # Truth: nothing moved but the panel's width; the gap follows -a W dT by simulation.
    rng = random.Random(5)
    wide = seam(material=Material.ACRYLIC, panel_width=mm(900))
    opened = 0
    for _ in range(400):
        t0, t1 = rng.randint(5, 30), rng.randint(5, 30)
        real = rng.uniform(65e-6, 75e-6) * 900
        drift = -real * ((t1 + rng.uniform(-1, 1)) - (t0 + rng.uniform(-1, 1)))
        g1 = 4 + drift + rng.gauss(0, 0.1)
        case = worked_out(
            dry(4, temperature=celsius(t0)), handover(round(g1, 2), temperature=celsius(t1)),
            material=Material.ACRYLIC, panel_width=mm(900),
        )  # fmt: skip
        a, b = case.readings
        heat = thermal(None, wide, a, b)
        difference = b.measurement.minus(a.measurement).plus(heat.correction)
        opened += change(difference, 0.0).change is not Change.CANNOT_TELL
    # With T = 0 every firm answer is wrong; two-sided, so twice 5 %.
    assert round((0.10 + 4 * math.sqrt(0.09 / 400)) * 400 - opened) >= 0


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.sampled_from(Stage),
            st.integers(1, 20),
            st.sampled_from(["10:00", "11:30", ""]),
            st.lists(st.integers(0, 300), max_size=4),
            st.sampled_from(Instrument),
            st.sampled_from([None, "panel B"]),
            st.sampled_from(["top", "bottom"]),
            st.sampled_from([None, True, False]),
        ),
        max_size=7,
    ),
    st.booleans(),
)
def test_any_records_give_answers_and_never_a_crash(rows, with_fastening):
    records = [
        read(
            f"r{n}", stage, f"2026-05-{day:02d} {clock}".strip(),
            *[mm(f"{g / 10}") for g in gaps], instrument=instrument, piece=piece, station=station,
            clamped=clamped,
        )
        for n, (stage, day, clock, gaps, instrument, piece, station, clamped) in enumerate(rows)
    ]  # fmt: skip
    if with_fastening:
        records.append(milestone(Event.FASTENED, "2026-05-10 09:00"))
    case = worked_out(*records)
    for c in case.comparisons:
        assert c.before is not None or c.after is not None
        assert (c.change.difference is None) == (
            c.before is None or c.after is None or bool(c.not_comparable)
        )
        if c.change.p_opened is not None:
            total = c.change.p_opened + c.change.p_closed + c.change.p_unchanged
            assert total == pytest.approx(1.0)
        if c.change.change is Change.CANNOT_TELL and c.change.p_opened is not None:
            assert c.change.settle
    places = [(c.station, c.piece) for c in case.comparisons if not c.step]
    assert len(places) == len(set(places))
    assert set(places) <= {(r.station, r.piece) for r in case.readings}
