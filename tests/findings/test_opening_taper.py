"""Tapers beside openings: rigid panels moved by coordinates, and the answers in both directions."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from claimkit.findings.seams.opening_taper import Seen, explain
from claimkit.findings.seams.opening_turn import Turn
from claimkit.model.answers import Answer
from claimkit.model.measurement import Measurement
from claimkit.model.opening import Checked, Explains
from claimkit.model.stages import Event
from tests.build import mm
from tests.findings.gap_build import fastening, milestone
from tests.findings.opening_build import (
    AFTER,
    butt,
    check,
    fitted,
    handed_over,
    one_result,
    worked_out,
)

HEIGHTS = (100.0, 1000.0, 1900.0)
PLACES = (50.0, 450.0, 850.0)


# Oracle: panels as corner points in a plane, turned as rigid bodies. Nothing of claimkit. ---------


def turned(points, about, angle):
    """Points turned about one of them by an angle in radians, counter-clockwise."""
    c, s = math.cos(angle), math.sin(angle)
    return (np.asarray(points) - about) @ np.array([[c, s], [-s, c]]) + about


def x_at(lower, upper, y):
    """Where the line through two points stands at a height."""
    (x0, y0), (x1, y1) = lower, upper
    return x0 + (x1 - x0) * (y - y0) / (y1 - y0)


def corner_gaps(lean, rise, skew=0.0):
    """The gap at each height between a leaning wall at x = 0 and a panel on a rising base.

    `lean` into the opening, `rise` away from the wall, in mm per mm; `skew` is how far the panel's
    own edge leans away from the wall.
    """
    panel = np.array([[8.0, 0.0], [8.0 + 2000 * skew, 2000.0]])
    edge = turned(panel, panel[0], math.atan(rise))
    return [x_at(edge[0], edge[1], y) - lean * y for y in HEIGHTS]


def butt_gaps(before, after):
    """The gap between two upright panels 900 wide whose base bends under the seam at x = 900."""
    first = np.array([[900.0, 0.0], [900.0, 2000.0]])
    second = np.array([[905.0, 0.0], [905.0, 2000.0]])
    left = turned(first, first[0], math.atan(before))
    right = turned(second, second[0], math.atan(after))
    return [x_at(*right, y) - x_at(*left, y) for y in HEIGHTS]


def slope_of(gaps):
    """mm per m, by numpy's own least squares."""
    return float(np.polyfit(HEIGHTS, gaps, 1)[0] * 1000)


def wall(lean):
    """Distances from a plumb line 60 mm in front of the wall's foot."""
    return {y: round(60 - lean * y, 6) for y in HEIGHTS}


def base(rise, bend=0.0, at=900.0, places=PLACES):
    """Distances down from a level line 40 mm above the base's start."""
    return {x: round(40 - rise * x - bend * max(x - at, 0.0), 6) for x in places}


def given_by(*records, **more):
    (found,) = worked_out(*records, **more).explanations
    return found


@settings(max_examples=40, deadline=None)
@given(st.integers(-60, 60), st.integers(-60, 60))
def test_a_corner_turns_as_real_panels_do(lean: int, rise: int) -> None:
    lean_mm, rise_mm = lean / 10_000, rise / 10_000  # up to 6 mm per m
    found = given_by(check(plumb=wall(lean_mm), level=base(rise_mm)))
    assert found.predicted is not None
    # Small angles: the second order is below 6e-3 of 12 mm/m.
    expected = slope_of(corner_gaps(lean_mm, rise_mm))
    assert found.predicted.value_mm == pytest.approx(expected, abs=0.01)


@pytest.mark.parametrize("before, after", [(0, 3), (3, 0), (-2, 2), (4, 4), (0, 0)])
def test_coplanar_panels_turn_with_the_base_beneath_each(before: int, after: int) -> None:
    places = (100.0, 500.0, 900.0, 1300.0, 1700.0)
    level = base(before / 1000, (after - before) / 1000, 900.0, places)
    found = given_by(check(level=level, seam_at=mm(900)), seam_=butt())
    assert found.predicted is not None
    expected = slope_of(butt_gaps(before / 1000, after / 1000))
    assert found.predicted.value_mm == pytest.approx(expected, abs=0.01)
    if before == after:
        # One uniform slope turns both alike and gives no taper.
        assert found.predicted.value_mm == pytest.approx(0.0, abs=1e-9)


def test_the_opening_by_its_diagonals_where_the_level_was_not_read() -> None:
    # The wall leans 2 mm/m into the opening and the base is level: as a parallelogram of 900 by
    # 2000 its first diagonal is longer. Corners: (0,0) (900,0) (4,2000) (904,2000).
    first, second = math.dist((0, 0), (904, 2000)), math.dist((900, 0), (4, 2000))
    found = given_by(
        check(
            plumb=wall(0.002),
            diagonals=(mm(round(first, 6)), mm(round(second, 6))),
            width=mm(900),
            height=mm(2000),
        )
    )
    assert found.predicted is not None
    assert found.predicted.value_mm == pytest.approx(slope_of(corner_gaps(0.002, 0.0)), abs=0.01)


def test_a_taper_without_a_dry_fit_also_holds_the_panels_own_squareness() -> None:
    skew = 0.003
    first, second = math.dist((0, 0), (906, 2000)), math.dist((900, 0), (6, 2000))
    opening = check("o1", plumb=wall(0.001), level=base(0.0))
    panel = check(
        "o2",
        diagonals=(mm(round(first, 6)), mm(round(second, 6))),
        width=mm(900),
        height=mm(2000),
        diagonals_of="panel",
    )
    gaps = [round(gap, 3) for gap in corner_gaps(0.001, 0.0, skew)]
    without = given_by(opening, fastening(), handed_over(*gaps))
    assert without.answer is Explains.CANNOT_TELL
    assert "diagonals" in without.settle
    found = given_by(opening, panel, fastening(), handed_over(*gaps))
    assert found.is_change is False
    assert found.predicted is not None
    assert found.predicted.value_mm == pytest.approx(slope_of(gaps), abs=0.02)
    # A panel's own diagonals are never judged by the opening's tolerance.
    case = worked_out(opening, panel)
    assert one_result(case, Checked.SQUARE, 1).p_within is None


def test_a_change_is_free_of_the_panels_own_squareness() -> None:
    """A panel 3 mm/m out of square makes the taper at the dry fit, and no change of it."""
    dry = [round(gap, 1) for gap in corner_gaps(0.0, 0.0, 0.003)]
    now = [round(gap, 1) for gap in corner_gaps(0.002, 0.0, 0.003)]
    found = given_by(
        check(plumb=wall(0.002), level=base(0.0)), fitted(*dry), fastening(), handed_over(*now)
    )
    assert found.is_change
    assert found.observed is not None
    assert found.observed.value_mm == pytest.approx(-2.0, abs=0.1)
    assert found.answer is Explains.CONSISTENT


# The answers --------------------------------------------------------------------------------------


def held(observed, u_observed, predicted, u_predicted):
    shown = Seen(None, Measurement.of(observed, {"gap": u_observed}), True, "a and b", None, "", ())
    given_ = Turn(Measurement.of(predicted, {"opening": u_predicted}), "Told.")
    return explain(shown, given_, (Answer.YES, "before fastening"))


@pytest.mark.parametrize(
    "observed, predicted, u, answer",
    [
        # u of each 0.2: of the difference 0.283, and 1.645 · 0.283 = 0.465.
        (4.0, 4.0, 0.2, Explains.CONSISTENT),
        (4.0, 3.6, 0.2, Explains.CONSISTENT),  # 0.4 apart, under 0.465
        (4.0, 3.5, 0.2, Explains.PART),  # 0.5 apart
        (4.0, 0.4, 0.2, Explains.PART),  # 0.4 - 0.329 is over zero
        (4.0, 0.3, 0.2, Explains.NOT),  # 0.3 - 0.329 is not
        (4.0, 0.0, 0.2, Explains.NOT),
        (4.0, -3.0, 0.2, Explains.NOT),  # the other way round
        (4.0, 5.0, 0.2, Explains.CANNOT_TELL),  # more than was read: it was packed, or not followed
        (0.3, 4.0, 0.2, Explains.NOTHING),  # 0.3 is under 1.96 · 0.2
        (1.0, 1.0, 0.8, Explains.NOTHING),
    ],
)
def test_each_answer_at_its_bound(observed, predicted, u, answer) -> None:
    assert held(observed, u, predicted, u)[0] is answer
    # Mirrored, nothing changes.
    assert held(-observed, u, -predicted, u)[0] is answer


def test_a_survey_too_coarse_to_part_all_from_nothing() -> None:
    answer, told, settle = held(2.0, 0.1, 0.5, 2.0)
    assert answer is Explains.CANNOT_TELL
    assert "one that does not" in told
    # 2.0 / (2 · 1.645) = 0.61 mm/m parts 2.0 from 0 to both sides.
    assert "0.6 mm/m" in settle


def test_at_most_is_its_upper_end() -> None:
    # 1.0 + 1.645 · 0.2 = 1.33
    answer, told, _ = held(4.0, 0.2, 1.0, 0.2)
    assert answer is Explains.PART
    assert "at most 1.3 of 4.0 mm/m" in told


@given(st.floats(-8, 8), st.floats(0.05, 1.0), st.floats(-8, 8), st.floats(0.05, 1.0))
def test_consistent_is_never_said_of_an_opening_that_leans_the_other_way(a, ua, b, ub) -> None:
    answer, told, _ = held(a, ua, b, ub)
    if answer in (Explains.CONSISTENT, Explains.PART):
        assert a * b > 0
        assert abs(b) > 1.645 * ub
    if answer is Explains.CONSISTENT:
        assert abs(a - b) <= 1.645 * math.hypot(ua, ub) + 1e-9
    assert "caused" not in told
    assert "because of" not in told


def test_a_taper_alone_asks_for_the_survey() -> None:
    found = given_by(
        check(plumb=wall(0.004)), fitted(8, 8, 8), fastening(), handed_over(8, "4.4", "0.8")
    )
    assert found.answer is Explains.CANNOT_TELL
    assert "cannot separate plumb, level and square" in found.because
    assert "base's level" in found.settle
    assert "wall's plumb" not in found.settle


def test_a_check_after_fastening_explains_nothing() -> None:
    found = given_by(
        check(plumb=wall(0.004), level=base(0.0), taken=AFTER),
        fitted(8, 8, 8),
        fastening(),
        handed_over(8, "4.4", "0.8"),
    )
    assert found.answer is Explains.CANNOT_TELL
    assert "cannot show the state before" in found.because
    assert found.predicted is None


def test_pieces_that_were_not_set_level_may_have_followed_already() -> None:
    found = given_by(
        check(plumb=wall(0.004), level=base(0.0)),
        fitted(8, 8, 8, set_level=False),
        fastening(),
        handed_over(8, "4.4", "0.8", set_level=False),
    )
    assert found.answer is Explains.CANNOT_TELL
    assert "not set level" in found.because


def test_wall_and_base_in_records_of_their_own_are_taken_together() -> None:
    found = given_by(
        check("o1", plumb=wall(0.004)),
        check("o2", opening="base", level=base(0.0)),
        fitted(8, 8, 8),
        fastening(),
        handed_over(8, "4.4", "0.8"),
    )
    assert found.answer is Explains.CONSISTENT
    assert found.records == ("o1", "o2")


def test_a_corner_named_at_two_walls_is_asked_about() -> None:
    found = given_by(
        check("o1", plumb=wall(0.004), level=base(0.0)),
        check("o2", plumb=wall(0.0), opening="back wall"),
    )
    assert found.predicted is None
    assert "which wall turns it is not known" in found.because


def test_before_any_later_reading_it_says_what_would_show() -> None:
    found = given_by(check(plumb=wall(0.004), level=base(0.0)), fitted(8, 8, 8))
    assert (found.answer, found.observed) == (Explains.NOTHING, None)
    assert found.predicted is not None
    assert found.predicted.value_mm == pytest.approx(-4.0)


def test_a_butt_seam_without_its_place_takes_the_sharpest_bend() -> None:
    bent = given_by(check(level={0: 40, 900: 40, 1800: 44}), seam_=butt())
    assert bent.predicted is not None
    # Rise 0 before 900 mm and −4 mm in 900 after it: 0 − (−4.44) = 4.44 mm/m wider upwards.
    assert bent.predicted.value_mm == pytest.approx(4.444, abs=0.001)
    two = given_by(check(level={0: 40, 1800: 44}), seam_=butt())
    assert two.predicted is None
    assert "seam_at" in two.settle


def test_a_belly_widens_what_a_rigid_piece_would_show() -> None:
    straight = given_by(check(plumb={100: 50, 1000: 50, 1900: 50}, level=base(0.0)))
    bellied = given_by(check(plumb={100: 50, 1000: 45, 1900: 50}, level=base(0.0)))
    assert straight.predicted is not None
    assert bellied.predicted is not None
    # 5 mm over 900 mm to either side is ±5.56 mm/m; evenly likely between, / sqrt 3 = 3.208.
    more = math.sqrt(bellied.predicted.u_mm**2 - straight.predicted.u_mm**2)
    assert more == pytest.approx(5 / 0.9 / math.sqrt(3), rel=0.01)


def test_scatter_about_the_seams_line_stands_with_students_factor() -> None:
    """Three stations, one off the line: t for one degree of freedom is 6.31, not 1.645."""
    records = (check(plumb=wall(0.004), level=base(0.0)), fitted(8, 8, 8), fastening())
    even = given_by(*records, handed_over(8, "4.4", "0.8")).observed
    bent = given_by(*records, handed_over(8, "5.4", "0.8")).observed
    assert even is not None
    assert bent is not None
    assert bent.u_mm > 6.31 / 1.645 * even.u_mm


def test_taken_apart_and_fitted_again_a_check_before_the_second_fastening_counts() -> None:
    records = (
        milestone(Event.FASTENED, "2026-05-02 09:00", "m-first"),
        check(plumb=wall(0.004), level=base(0.0), taken="2026-05-04 08:00"),
        milestone(Event.DRY_FIT, "2026-05-04 09:00", "m-again"),
        fitted(8, 8, 8),
        milestone(Event.FASTENED, "2026-05-05 09:00", "m-second"),
        handed_over(8, "4.4", "0.8"),
    )
    assert given_by(*records).answer is Explains.CONSISTENT
    without = [r for r in records if r.id != "m-again"]
    assert given_by(*without).answer is not Explains.CONSISTENT


def test_a_seam_that_no_check_names_is_explained_by_none() -> None:
    assert worked_out(check(plumb=wall(0.004), seams=())).explanations == ()


def test_a_replacement_piece_is_held_against_a_check_before_its_own_fastening() -> None:
    second = {"piece": "second panel"}
    dry = fitted(8, 8, 8, taken="2026-05-07 10:00", **second)
    later = handed_over(8, "4.4", "0.8", **second)
    fixed = milestone(Event.FASTENED, "2026-05-07 12:00", "m-second", **second)
    found = given_by(
        fastening("2026-05-05 09:00"),
        check(plumb=wall(0.004), level=base(0.0), taken="2026-05-07 09:00"),
        dry,
        fixed,
        later,
    )
    assert found.piece == "second panel"
    assert found.answer is Explains.CONSISTENT


def test_an_oracle_for_the_line_through_a_wall() -> None:
    """numpy.polyfit on offsets that share no cause beyond the ones that cancel in a slope."""
    table = {100: 50, 600: "48.5", 1100: "46.5", 1500: 45, 1900: "43.5"}
    result = one_result(worked_out(check(plumb=table)), Checked.PLUMB)
    heights, read = list(table), [float(v) for v in table.values()]
    slope = float(np.polyfit(heights, read, 1)[0])
    assert result.over is not None
    assert result.over.value_mm == pytest.approx(-slope * 1800, rel=1e-3)
