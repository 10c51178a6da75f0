"""Squareness, plumb and published tolerances against geometry worked by hand and by coordinates."""

from __future__ import annotations

import math

import pytest

from claimkit.findings.seams.opening_square import Square, square
from claimkit.model.measuring import Instrument, OpeningCheck
from claimkit.model.opening import Checked
from claimkit.rules.opening_tolerances import ROWS, informing
from tests.build import mm, moment, record
from tests.findings.opening_build import check, one_result, worked_out


def measured(first, second, width=None, height=None, **more) -> Square:
    """The diagonals of an opening, read with a tape to 1 mm unless said otherwise."""
    values = {
        "opening": "left wall",
        "taken": moment("2026-05-04 09:00"),
        "instrument": Instrument.TAPE_MM,
        "diagonals": (mm(first), mm(second)),
        "width": mm(width) if width is not None else None,
        "height": mm(height) if height is not None else None,
    }
    body = OpeningCheck(**(values | more))
    found = square(record("o1", body), body)
    assert isinstance(found, Square), found
    return found


def per_m(found: Square) -> float:
    assert found.over is not None
    assert found.height_mm is not None
    return found.over.value_mm / found.height_mm * 1000


def test_three_millimetres_of_diagonal_on_900_by_2100_are_1_8_mm_per_m() -> None:
    # Worked by hand: D = sqrt(900² + 2100²) = sqrt(5 220 000) = 2284.73;
    # sin γ = 3 · 2284.73 / (2 · 900 · 2100) = 6854.2 / 3 780 000 = 0.0018133.
    found = measured("2286.23", "2283.23", 900, 2100)
    assert found.difference.value_mm == pytest.approx(3.0)
    assert per_m(found) == pytest.approx(1.8133, abs=0.0002)
    assert round(per_m(found), 1) == 1.8


def test_sides_of_3_and_4_with_diagonals_of_5_are_square() -> None:
    # Euclid, Elements I.47 and I.48.
    found = measured(5000, 5000, 3000, 4000)
    assert found.difference.value_mm == 0.0
    assert per_m(found) == 0.0


def corners(width: float, side: float, degrees: float) -> tuple[float, float]:
    """Both diagonals of a parallelogram from its corners: its sides lean by so many degrees."""
    x, y = side * math.sin(math.radians(degrees)), side * math.cos(math.radians(degrees))
    first = math.dist((0.0, 0.0), (width + x, y))
    second = math.dist((width, 0.0), (x, y))
    return first, second


@pytest.mark.parametrize(
    "width, side, degrees",
    [
        (900, 2100, 0.5),
        (900, 2100, -0.5),  # leaning to the other side
        (2400, 600, 1.0),  # wider than high
        (1000, 1000, 0.057296),  # 1 mm in 1 m
        (900, 2100, 3.0),  # no small angle any more: the formula is exact in sin γ
    ],
)
def test_a_real_parallelogram_gives_its_angle_back(width, side, degrees) -> None:
    """Oracle: the corners' coordinates, without the law of cosines."""
    first, second = corners(width, side, degrees)
    found = measured(f"{first:.6f}", f"{second:.6f}", width, side)
    # The angle's sine to a part in a million: lengths are given to 1 nm.
    assert per_m(found) == pytest.approx(1000 * math.sin(math.radians(degrees)), rel=1e-4)


def test_where_only_one_side_leans_the_diagonals_give_the_mean_of_both() -> None:
    """Corners by hand: left side leans 10 mm in 2000, right side stands plumb."""
    first = math.dist((0, 0), (1000, 2000))
    second = math.dist((1000, 0), (10, 2000))
    found = measured(f"{first:.6f}", f"{second:.6f}", 1000, 2000)
    assert per_m(found) == pytest.approx(2.5, rel=0.01)


def test_uncertainty_of_the_diagonals_by_hand() -> None:
    # One length: 1 mm / sqrt 12 = 0.2887; both ends 0.14; corner 0.5: together 0.5941.
    # Their difference: 0.5941 · sqrt 2 = 0.8401. The tape's class, ± 0.9 mm at 3 m, is the same
    # cause in both and cancels.
    found = measured("2286.23", "2283.23", 900, 2100)
    assert found.difference.u_mm == pytest.approx(0.8401, abs=0.0005)
    # Over the height: · D / 2w = 2284.73 / 1800 = 1.2693; the width's own part is far smaller.
    assert found.over is not None
    assert found.over.u_mm == pytest.approx(0.8401 * 1.2693, rel=0.001)


@pytest.mark.parametrize("name, limit", [("I", 0.4), ("II", 0.9), ("III", 1.8)])
def test_tape_classes_at_three_metres(name: str, limit: float) -> None:
    # ±0.4, ±0.9, ±1.8 mm at 3 m for class I, II, III (Directive 2014/32/EU, MI-008; from memory).
    body = OpeningCheck(
        opening="w",
        taken=moment("2026-05-04 09:00"),
        instrument=Instrument.TAPE_MM,
        diagonals=(mm(2999), mm(1500)),
        tape_class=name,
    )
    result = square(record("o1", body), body)
    assert isinstance(result, Square)
    # 3 m against 2 m of the same tape: what is left of the class is its part per metre.
    scale = dict(result.difference.parts)["scale: tape 1 mm of o1"] * math.sqrt(3)
    per_metre = {"I": 0.1, "II": 0.2, "III": 0.4}[name]
    assert scale == pytest.approx(per_metre)
    assert limit == pytest.approx(per_metre * 3 + {"I": 0.1, "II": 0.3, "III": 0.6}[name])


def test_published_values_as_slopes_and_thresholds_kept_back() -> None:
    # By hand: 1/4 in in 10 ft = 6.35 / 3.048 m = 2.083; 3/8 in in 32 in = 0.375 / 32 = 11.72;
    # 1/8 in in 8 ft = 3.175 / 2.4384 m = 1.302; 1/4 and 1/2 in in 1 ft = 20.83 and 41.67 mm/m.
    slopes = {row.id: row.mm_per_m for row in ROWS if row.mm_per_m is not None}
    assert {name: round(value, 2) for name, value in slopes.items()} == {
        "framing-under-board": 2.08,
        "wall-defect": 11.72,
        "studs-under-thin-set": 1.30,
        "floor-fall-least": 20.83,
        "floor-fall-most": 41.67,
    }
    shown = {row.id for kind in Checked for row in informing(kind)}
    assert "wall-defect" not in shown
    assert not {"floor-fall-least", "floor-fall-most"} & shown, "a floor's fall is no base's level"
    assert all(row.citation and row.mark in "SPM" for row in ROWS)


def test_a_wall_that_leans_by_a_known_angle() -> None:
    # 0.2° over 1800 mm: 1800 · tan 0.2° = 1800 · 0.0034907 = 6.2832 mm into the opening.
    off = 1800 * math.tan(math.radians(0.2))
    case = worked_out(check(plumb={100: 50, 1900: f"{50 - off:.6f}"}))
    wall = one_result(case, Checked.PLUMB)
    assert wall.over is not None
    assert wall.over.value_mm == pytest.approx(6.2832, abs=0.0001)
    assert wall.degrees == pytest.approx(0.2, abs=1e-6)
    # 1 mm/m is 0.0573 degrees.
    assert wall.mm_per_m is not None
    assert wall.degrees / wall.mm_per_m.value_mm == pytest.approx(0.0573, abs=0.0001)
