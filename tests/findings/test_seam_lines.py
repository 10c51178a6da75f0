"""Gaps along a seam: the line against NumPy and uncertainties, and what is said of one to many.

Geometry is worked by hand (1 mm in 1 m is 0.0573 degrees); the uncertainty of a taper over five
stations of 2 m is from a study outside this project.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from uncertainties import correlated_values

from claimkit.findings.seams import check_lines, seam_lines
from claimkit.findings.seams.check_gaps import CHECKS
from claimkit.findings.seams.least_squares import NotDetermined, cholesky, generalised
from claimkit.findings.seams.line import Point, factors, line_through
from claimkit.findings.seams.taper import judged, numbers_text
from claimkit.model.gap import Change, Meaning
from claimkit.model.job import Joint, Material
from claimkit.model.measurement import Measurement
from claimkit.model.measuring import Instrument
from claimkit.model.seam_line import Taper, WholeSeam
from tests.build import case, celsius, mm
from tests.findings.gap_build import dry, handover, known_facts, worked_out
from tests.findings.line_build import (
    at_places,
    dry_fit,
    fixed,
    handed_over,
    line_of,
    lines_of,
)

METRE = at_places(0, 500, 1000)
FIVE = at_places(0, 250, 500, 750, 1000)


def own(values, u, at):
    """Points with independent uncertainties."""
    return tuple(
        Point(f"p{n}", x, Measurement.of(v, {f"own: {n}": u}))
        for n, (v, x) in enumerate(zip(values, at, strict=True))
    )


# ---- the fit against other routes


@st.composite
def correlated(draw):
    """Three to eight stations, V = diag(u^2) + u_c^2 11' + u_s^2 dd', as two rules and one card."""
    count = draw(st.integers(3, 8))
    step = st.floats(0.05, 0.9)
    x = np.cumsum([draw(step) for _ in range(count)])
    d = np.array([draw(st.floats(-3, 3)) for _ in range(count)])
    u = np.array([draw(st.floats(0.05, 0.4)) for _ in range(count)])
    return x, d, u, draw(st.floats(0, 0.5)), draw(st.floats(0, 0.02))


@settings(max_examples=60, deadline=None)
@given(correlated())
def test_line_is_that_of_numpy_with_the_whole_covariance(case):
    x, d, u, u_c, u_s = case
    points = tuple(
        Point(
            f"p{n}",
            1000 * x[n],
            Measurement.of(d[n], {f"own: {n}": u[n], "offset": u_c, "scale": u_s * d[n]}),
        )
        for n in range(len(x))
    )
    line = line_through(points)
    v = np.diag(u**2) + u_c**2 + u_s**2 * np.outer(d, d)
    design = np.column_stack([np.ones(len(x)), x - (x[0] + x[-1]) / 2])
    inverse = np.linalg.inv(v)
    cov = np.linalg.inv(design.T @ inverse @ design)
    beta = cov @ design.T @ inverse @ d
    residuals = d - design @ beta
    assert line.offset.value_mm == pytest.approx(beta[0], abs=1e-8)
    assert line.slope.value_mm == pytest.approx(beta[1], abs=1e-8)
    # The parts kept by cause make the same uncertainty as the inverse matrix.
    assert line.offset.u_mm == pytest.approx(math.sqrt(cov[0, 0]), rel=1e-6)
    assert line.slope.u_mm == pytest.approx(math.sqrt(cov[1, 1]), rel=1e-6)
    expected = cov[0, 1] / math.sqrt(cov[0, 0] * cov[1, 1])
    assert line.correlation == pytest.approx(expected, abs=1e-6)
    assert line.chi_squared == pytest.approx(residuals @ inverse @ residuals, abs=1e-6)


@settings(max_examples=40, deadline=None)
@given(correlated())
def test_weights_propagate_like_the_uncertainties_package(case):
    x, d, u, u_c, _ = case
    v = np.diag(u**2) + u_c**2
    design = [(1.0, float(p - x.mean())) for p in x]
    weights = generalised(design, v.tolist())
    values = correlated_values(d, v)
    for number, row in enumerate(weights.rows):
        total = sum(w * value for w, value in zip(row, values, strict=True))
        assert total.std_dev == pytest.approx(math.sqrt(weights.covariance[number][number]))
        assert total.nominal_value == pytest.approx(weights.estimate(d)[number], abs=1e-9)


def test_equal_uncertainties_give_the_ordinary_line_of_numpy():
    at, values = (0, 300, 700, 1500), (2.1, 2.4, 2.2, 3.1)
    slope, start = np.polyfit(np.array(at) / 1000, values, 1)
    line = line_through(own(values, 0.2, at))
    assert line.slope.value_mm == pytest.approx(slope)
    assert line.offset.value_mm == pytest.approx(start + slope * 0.75)


def test_five_stations_over_two_metres():
    # u_d 0.15 mm, 2 m, five stations: U(slope) 0.19 mm/m (computed outside this project).
    line = line_through(own([0.0] * 5, 0.15, (0, 500, 1000, 1500, 2000)))
    assert 2 * line.u_slope == pytest.approx(0.19, abs=0.005)


def test_a_shared_offset_leaves_the_taper_alone():
    points = own((0.1, 0.0, 0.2), 0.1, (0, 500, 1000))
    moved = [Point(p.station, p.at_mm, p.measured.plus(Measurement.of(0, {"all": 2.0})))
             for p in points]  # fmt: skip
    plain, shared = line_through(points), line_through(tuple(moved))
    assert shared.slope.u_mm == pytest.approx(plain.slope.u_mm, rel=1e-6)
    assert shared.offset.u_mm == pytest.approx(math.hypot(plain.offset.u_mm, 2.0), rel=1e-6)


def test_a_matrix_without_an_inverse_is_refused():
    with pytest.raises(NotDetermined):
        cholesky([[1.0, 1.0], [1.0, 1.0]])
    with pytest.raises(NotDetermined):
        generalised([(1.0, 2.0), (1.0, 2.0)], [[1.0, 0.0], [0.0, 1.0]])
    twice = Measurement.of(1.0, {"one": 0.1})
    told = line_through((Point("a", 0, twice), Point("b", 100, twice)))
    assert "not independent" in told


# ---- one, two, three and more


def test_one_station_gives_no_line():
    line = line_of(dry_fit(3), handed_over(3), station=at_places(0))
    assert line.change.line is None
    assert line.at_first.because == "No line: One station shows no taper."
    assert line.together is None


def test_two_stations_are_a_line_that_nothing_checks():
    line = line_of(dry_fit(3, 3), handed_over(3, 5), station=at_places(0, 1000))
    fit = line.change.line
    # Worked by hand: +2 mm over a metre, +1 mm at the middle, 2 mm/m is 0.1146 degrees. One
    # feeler reading has u = hypot(0.05 / sqrt(12), 0.1); four of them make U = 4 u = 0.404 mm,
    # which is 0.0231 degrees; both are rounded up.
    assert (fit.slope.value_mm, fit.offset.value_mm) == pytest.approx((2.0, 1.0))
    assert "taper +2.00 ± 0.41 mm/m (+0.115 ± 0.024°)" in numbers_text(fit)
    assert "Two-point, straightness unchecked." in line.change.because
    assert (fit.degrees_of_freedom, fit.widened_by) == (0, 1.0)
    assert line.change.taper is Taper.TOWARD_LAST


def test_three_stations_on_a_line_are_not_widened():
    fit = line_of(dry_fit(3, 3, 3), handed_over(3, 4, 5), station=METRE).change.line
    assert fit.chi_squared == pytest.approx(0.0, abs=1e-9)
    assert factors(fit) == (1.645, 2.0)


def test_scatter_about_the_line_widens_it_by_its_root_with_student():
    u = 0.1
    line = line_through(own((0.0, 0.3, 0.0), u, (0, 500, 1000)))
    # Mean 0.1; residuals -0.1, +0.2, -0.1: 0.06 / 0.01 = 6 with one degree of freedom.
    assert line.chi_squared == pytest.approx(6.0)
    assert line.widened_by == pytest.approx(math.sqrt(6.0))
    # u / sqrt(Sxx) with Sxx = 0.5 m^2.
    assert line.u_slope == pytest.approx(math.sqrt(6.0) * u / math.sqrt(0.5))
    # GUM table G.2, one degree of freedom: 6.31 (90 %) and 13.97 (95.45 %).
    assert factors(line) == pytest.approx((6.314, 13.97), abs=0.005)


def test_less_scatter_than_expected_narrows_nothing():
    line = line_through(own((0.0, 0.01, 0.0), 0.1, (0, 500, 1000)))
    assert line.widened_by == 1.0


def test_two_stations_at_one_place_count_as_one_place():
    line = line_of(dry_fit(3, 3, 4), station=at_places(0, 0, 1000)).at_first
    assert line.line.places == 2
    assert line.because == "Two places only, straightness unchecked."
    alone = line_of(dry_fit(3, 4), station=at_places(200, 200)).at_first
    assert alone.line is None
    assert "entered at the same place" in alone.because


def test_a_station_without_its_place_is_named_and_left_out():
    line = line_of(dry_fit(3, 9, 3), station=at_places(0, None, 1000))
    assert line.at_first.line.stations == ("a", "c")
    assert ("b", "its place along the seam (at) is not entered in job.toml") in line.left_out
    none = line_of(dry_fit(3, 3), station=at_places(None, None))
    assert none.at_first.because == ("No line: The place of a and b along the seam is not entered.")


def test_a_station_read_in_another_episode_is_left_out():
    case = lines_of(
        dry_fit(3, 3, 3),
        handed_over(3, 3, None),
        fixed(None, None, 5),
        station=METRE,
    )
    (line,) = (one for one in case.lines if not one.step)
    assert line.change.line.stations == ("a", "b")
    assert any(name == "c" and "fastening" in why for name, why in line.left_out)


def test_stations_in_another_state_are_on_no_line_of_change():
    line = line_of(dry_fit(3, 3, 3, clamped=False), handed_over(3, 4, 5), station=METRE)
    assert line.change.line is None
    assert line.now.line is not None
    assert {name for name, _ in line.left_out} == {"a", "b", "c"}


# ---- the three answers, and what they mean


def test_a_taper_of_the_dry_fit_is_no_movement():
    line = line_of(dry_fit(2, 3, 4), handed_over(2, 3, 4), station=METRE)
    assert line.at_first.taper is Taper.TOWARD_LAST
    assert line.now.taper is Taper.TOWARD_LAST
    assert line.change.taper is Taper.EVEN
    assert "an edge that is not square" in line.at_first.meaning
    assert line.change.meaning == ""


def test_a_change_alike_everywhere_changes_no_taper():
    line = line_of(dry_fit(3, 3, 3), handed_over(5, 5, 5), station=METRE)
    assert line.change.taper is Taper.EVEN
    assert line.change.line.offset.value_mm == pytest.approx(2.0)
    assert line.together.answer is WholeSeam.OPENED


@pytest.mark.parametrize(
    "length, limit, taper",
    # 1.2 mm/m against 0.8 mm over the length read: 1.6 mm/m over 0.5 m, 0.4 mm/m over 2 m.
    [(500, 1.6, Taper.CANNOT_TELL), (2000, 0.4, Taper.TOWARD_LAST)],
)
def test_what_matters_is_the_tolerance_over_the_length_that_was_read(length, limit, taper):
    ends = (3 - 0.0006 * length, 3, 3 + 0.0006 * length)
    answer = line_of(dry_fit(*ends), station=at_places(0, length / 2, length)).at_first
    assert answer.limit_mm_per_m == pytest.approx(limit)
    assert answer.line.slope.value_mm == pytest.approx(1.2)
    assert answer.taper is taper


def test_it_turns_toward_either_end():
    assert (
        line_of(dry_fit(3, 3, 3), handed_over(5, 4, 3), station=METRE).change.taper
        is Taper.TOWARD_FIRST
    )


@pytest.mark.parametrize(
    "joint, words",
    # Rigid panels: a butt seam turns in its plane; in a corner dg/dy is lean less slope.
    [
        (Joint.BUTT, "A base with one uniform slope turns both alike and gives no taper"),
        (Joint.LAP, "in the plane of the lap"),
        (Joint.CORNER, "a change in the lean of the panel whose face is met"),
    ],
)
def test_what_a_changed_taper_is_consistent_with(joint, words):
    line = line_of(dry_fit(3, 3, 3), handed_over(3, 4, 5), station=METRE, joint=joint)
    assert words in line.change.meaning
    assert "consistent with" in line.change.meaning
    assert "0.115 ±" in line.change.meaning
    for cause in ("because", "caused", "fault", "due to"):
        assert cause not in line.change.meaning


def test_a_tape_cannot_tell_and_the_need_is_said():
    line = line_of(
        dry_fit(3, 3, 3),
        handed_over(3, 3, 3, instrument=Instrument.TAPE_16TH),
        station=METRE,
    )
    assert line.change.taper is Taper.CANNOT_TELL
    # 0.8 mm/m over 1.645.
    assert "at most 0.49 mm/m" in line.change.settle
    assert "Read the seam again" in line.change.settle


def test_where_the_dry_fit_is_too_coarse_no_later_reading_settles_it():
    line = line_of(
        dry_fit(3, 3, 3, instrument=Instrument.TAPE_16TH), handed_over(3, 3, 3), station=METRE
    )
    assert line.change.taper is Taper.CANNOT_TELL
    assert "No later reading can settle it" in line.change.settle


def test_without_a_tolerance_nothing_is_judged():
    line = line_of(dry_fit(3, 3, 3), handed_over(3, 4, 5), station=METRE, tolerance=None)
    assert line.change.taper is Taper.CANNOT_TELL
    assert line.change.p_even is None
    assert line.change.line.slope.value_mm == pytest.approx(2.0)
    assert "tolerance" in line.change.because


@settings(max_examples=50, deadline=None)
@given(st.lists(st.floats(-2, 2), min_size=3, max_size=6), st.floats(0.02, 0.5))
def test_probabilities_add_up_and_agree_with_the_answer(values, u):
    at = tuple(400.0 * n for n in range(len(values)))
    answer = judged(line_through(own(values, u, at)), 0.8)
    odds = (answer.p_toward_first, answer.p_toward_last, answer.p_even)
    assert sum(odds) == pytest.approx(1.0)
    if answer.taper is Taper.TOWARD_LAST:
        assert answer.p_toward_last > 0.949
    if answer.taper is Taper.TOWARD_FIRST:
        assert answer.p_toward_first > 0.949
    if answer.taper is Taper.EVEN:
        assert answer.p_even > 0.899


@pytest.mark.parametrize("factor, most", [(1.0, 0.05), (2.0, 0.06)])
def test_how_often_a_taper_is_told_that_is_not_over_the_limit(factor, most):
    """Simulated at the limit itself, five stations; also where the scatter is twice what u says."""
    rng = np.random.default_rng(20260512)
    at = (0.0, 250.0, 500.0, 750.0, 1000.0)
    truth = 0.8 * np.array(at) / 1000.0
    told = 0
    for _ in range(1500):
        values = truth + rng.normal(0.0, 0.2 * factor, 5)
        answer = judged(line_through(own(values.tolist(), 0.2, at)), 0.8)
        told += answer.taper is Taper.TOWARD_LAST
    assert told / 1500 <= most + 0.012  # two standard deviations of the count


# ---- temperature, and the stations together


def test_temperature_is_one_cause_for_the_whole_seam():
    warm = {"material": Material.ACRYLIC, "panel_width": mm(900), "station": METRE}
    records = (
        dry_fit(3, 3, 3, temperature=celsius(20)),
        handed_over(3, 3, 3, temperature=celsius(10)),
    )
    plain = line_of(dry_fit(3, 3, 3), handed_over(3, 3, 3), station=METRE).change.line
    heated = line_of(*records, **warm).change.line
    # Ten kelvin on 900 mm of acrylic are taken out alike everywhere; the taper knows none of it.
    assert heated.offset.value_mm == pytest.approx(-0.63, abs=0.07)
    assert heated.slope.value_mm == pytest.approx(0.0, abs=1e-9)
    assert heated.slope.u_mm == pytest.approx(plain.slope.u_mm, rel=1e-6)
    assert heated.offset.u_mm > plain.offset.u_mm
    expansion = dict(heated.offset.parts)["expansion: acrylic"]
    assert "expansion: acrylic" not in dict(heated.slope.parts)
    assert abs(expansion) > 0.01


def test_temperatures_of_separate_records_of_one_day_are_one_cause():
    """Each station in a record of its own: what was not recorded is still one temperature."""
    records = []
    for name in "abc":
        records += [
            dry(3, station=name, record_id=f"d-{name}"),
            handover(3, station=name, record_id=f"h-{name}"),
        ]
    warm = {"material": Material.ACRYLIC, "panel_width": mm(900), "station": METRE}
    line = line_of(*records, **warm).change.line
    plain = line_of(*records, station=METRE).change.line
    assert line.slope.u_mm == pytest.approx(plain.slope.u_mm, rel=1e-6)
    assert line.offset.u_mm > 0.3


def test_ten_stations_need_more_than_one_alone():
    """Feeler gauge: u_d 0.143 mm. 0.8 + 1.645 u_d = 1.04 and 0.8 + 2.58 u_d = 1.17."""
    gaps = [3] * 9
    line = line_of(
        dry_fit(*gaps, 3), handed_over(*gaps, "4.1"), station=at_places(*range(0, 1000, 100))
    )
    assert line.together.factor == pytest.approx(2.576, abs=0.001)
    assert dict(line.together.stations)["j"] is Change.CANNOT_TELL
    assert line.together.answer is WholeSeam.CANNOT_TELL


@pytest.mark.parametrize(
    "later, answer",
    [
        ((3, 3, 3), WholeSeam.UNCHANGED),
        ((3, 3, 5), WholeSeam.OPENED),
        ((3, 3, 1), WholeSeam.CLOSED),
        ((5, 3, 1), WholeSeam.BOTH),
        ((3, 3, "3.7"), WholeSeam.CANNOT_TELL),
    ],
)
def test_the_seam_as_a_whole(later, answer):
    line = line_of(dry_fit(3, 3, 3), handed_over(*later), station=METRE)
    assert line.together.answer is answer
    assert f"The seam as a whole: {answer.value}." in line.together.because


def test_stations_that_were_not_compared_are_named():
    line = line_of(dry_fit(3, 3, 3), handed_over(3, 3), station=at_places(0, 400, 800, 1200))
    assert line.together.not_compared == ("c", "d")
    assert "unchanged at every station compared. Not compared: c and d." in line.together.because


def test_a_widened_line_says_that_scatter_stands_in_the_way():
    line = line_of(dry_fit(3, 3, 3), handed_over(3, "3.6", 3), station=METRE)
    assert line.change.taper is Taper.CANNOT_TELL
    # |0 - 0.8| over Student's 6.314 for one degree of freedom.
    assert "at most 0.13 mm/m" in line.change.settle
    assert "look for what is not straight" in line.change.settle


def test_readings_by_hand_and_in_photos_are_not_put_on_one_line():
    """A gauge meets the faces and a photo shows the opening: two lines, each with its name."""
    case = worked_out(dry_fit(3, 3, 3), handed_over(3, 4, 5), station=METRE)
    seen = tuple(
        replace(
            c,
            before=replace(c.before, meaning=Meaning.OPENING),
            after=replace(c.after, meaning=Meaning.OPENING),
        )
        for c in case.comparisons
    )
    both = seam_lines.work_out(replace(case, comparisons=case.comparisons + seen))
    assert [line.named for line in both.lines] == ["s1", "s1, in photos"]
    assert all(len(line.change.line.stations) == 3 for line in both.lines)
    together = {rule: run for rule, _, run in CHECKS}["gap-seam-together"]
    assert [f.where for f in together(both)] == ["seam s1", "seam s1, in photos"]


def test_a_dry_fit_in_another_state_is_named_as_that():
    records = (
        dry_fit(3, 3, None, record_id="d-1"),
        dry_fit(None, None, 3, record_id="d-2", clamped=False),
    )
    line = line_of(*records, station=METRE)
    assert line.left_out == (
        ("c", "read in another state (in the opening, set level and not clamped) than the others"),
    )


def test_each_step_has_its_line():
    case = lines_of(dry_fit(3, 3, 3), fixed(3, 3, 3), handed_over(3, 4, 5), station=METRE)
    steps = {(s.before.stage.value, s.after.stage.value): s.change.taper
             for s in case.lines if s.step}  # fmt: skip
    assert steps == {
        ("dry fit", "fastened"): Taper.EVEN,
        ("fastened", "handover"): Taper.TOWARD_LAST,
    }


def test_a_small_change_of_the_taper_is_not_titled_as_none_at_all():
    """0.2 mm more at one end of a metre, with 0.8 mm/m that matters: changed, and let pass."""
    title = {rule: title for rule, title, _ in check_lines.CHECKS}["seam-taper-unchanged"]
    known = case(known_facts(dry_fit(3, 3, 3), handed_over(3, "3.1", "3.2"), station=METRE))
    (found,) = [f for f in known.findings if f.rule == "seam-taper-unchanged"]
    assert "+0.20 ±" in found.message
    assert title == "The taper of a seam did not change by more than matters"
