"""What is said of a taper, against the numbers it rests on, worked by hand.

Stations 1 m apart and a tolerance of 0.8 mm: the limit is 0.80 mm/m. With u = 0.1 mm/m a side is
shown from 1.645 u = 0.16 mm/m on (JCGM 106:2012, one-sided 95 %).
"""

from __future__ import annotations

import pytest

from claimkit.findings.seams.normal import student_factor
from claimkit.findings.seams.taper import (
    caveats,
    change_text,
    coverage_text,
    judged,
    meaning_of,
    notes,
    numbers_text,
    state_text,
    u_to_decide,
)
from claimkit.findings.seams.together import judged_together
from claimkit.model.gap import Change
from claimkit.model.job import Joint, Station
from claimkit.model.measurement import Measurement
from claimkit.model.seam_line import LineFit, Taper, WholeSeam
from tests.findings.gap_build import dry, handover, worked_out


def line(slope: float, u: float = 0.1, **more) -> LineFit:
    values = {
        "stations": ("top", "bottom"),
        "at_mm": (200.0, 1200.0),
        "middle_mm": 700.0,
        "offset": Measurement.of(3.0, {"reading": 0.05}),
        "slope": Measurement.of(slope, {"reading": u}),
        "correlation": 0.0,
        "chi_squared": 0.0,
        "degrees_of_freedom": 0,
        "widened_by": 1.0,
        "places": 2,
    }
    return LineFit(**(values | more))


@pytest.mark.parametrize(
    "slope,u,taper,state,changed",
    [
        (
            2.0,
            0.1,
            Taper.TOWARD_LAST,
            "wider toward bottom by more than 0.80 mm/m",
            "taper changed, wider toward bottom by more than 0.80 mm/m",
        ),
        (
            -2.0,
            0.1,
            Taper.TOWARD_FIRST,
            "wider toward top by more than 0.80 mm/m",
            "taper changed, wider toward top by more than 0.80 mm/m",
        ),
        (0.0, 0.1, Taper.EVEN, "even within 0.80 mm/m", "taper unchanged within 0.80 mm/m"),
        (
            0.18,  # above 0.16: a side is shown
            0.1,
            Taper.EVEN,
            "a little wider toward bottom, within 0.80 mm/m",
            "taper changed by less than 0.80 mm/m, wider toward bottom",
        ),
        (
            -0.18,
            0.1,
            Taper.EVEN,
            "a little wider toward top, within 0.80 mm/m",
            "taper changed by less than 0.80 mm/m, wider toward top",
        ),
        (
            -0.16,  # below it
            0.1,
            Taper.EVEN,
            "even within 0.80 mm/m",
            "taper unchanged within 0.80 mm/m",
        ),
        (
            0.8,
            0.1,
            Taper.CANNOT_TELL,
            "wider toward bottom; whether by more than 0.80 mm/m cannot be told",
            "taper changed, wider toward bottom; whether by more than 0.80 mm/m cannot be told",
        ),
        (
            0.0,
            0.6,
            Taper.CANNOT_TELL,
            "whether it tapers by more than 0.80 mm/m cannot be told",
            "whether the taper changed by more than 0.80 mm/m cannot be told",
        ),
    ],
)
def test_a_taper_in_words(slope, u, taper, state, changed):
    answer = judged(line(slope, u), 0.8)
    assert answer.taper is taper
    assert state_text(answer).startswith(f"{state} (over that toward top ")
    assert change_text(answer).startswith(f"{changed} (over that toward top ")


def test_the_odds_stand_under_their_own_station():
    assert state_text(judged(line(2.0), 0.8)).endswith(
        "(over that toward top under 1 %, toward bottom over 99 %, within under 1 %)"
    )


def test_the_odds_are_of_the_outermost_stations():
    three = {"stations": ("a", "b", "c"), "at_mm": (0.0, 500.0, 1000.0), "places": 3}
    told = state_text(judged(line(2.0, **three), 0.8))
    assert told.startswith("wider toward c by more than")
    assert "over that toward a under 1 %, toward c over 99 %" in told


def test_what_is_not_judged_says_why():
    for text in (state_text, change_text):
        assert text(judged("one station shows no taper", 0.8)) == (
            "No line: One station shows no taper."
        )
        assert text(judged(line(2.0), "The tolerance is not entered.")) == (
            "The tolerance is not entered."
        )


def test_the_uncertainty_that_would_decide():
    # 0.8 - 0.7 = 0.1 mm/m between the taper and the limit, over 1.645.
    assert u_to_decide(judged(line(0.7), 0.8)) == pytest.approx(0.1 / 1.645)
    assert u_to_decide(judged(line(-0.9), 0.8)) == pytest.approx(0.1 / 1.645)
    assert u_to_decide(judged(line(2.0), 0.8)) is None
    assert u_to_decide(judged("no line", 0.8)) is None


def test_what_a_line_leaves_unchecked():
    three = {"stations": ("a", "b", "c"), "at_mm": (0.0, 500.0, 1000.0), "places": 3}
    assert caveats(line(0.0)) == "Two-point, straightness unchecked."
    two_places = line(0.0, **three | {"at_mm": (0.0, 0.0, 1000.0), "places": 2})
    assert caveats(two_places) == "Two places only, straightness unchecked."
    fits = line(0.0, **three, degrees_of_freedom=1, chi_squared=0.5)
    assert caveats(fits) == ""
    assert coverage_text(fits) == "k = 2"
    # chi squared 9 with 1 degree of freedom: p = 0.0027; with 2, 5 has p = 0.082 (tables).
    off = line(0.0, **three, degrees_of_freedom=1, chi_squared=9.0, widened_by=3.0)
    assert "by 3.0 times" in caveats(off)
    assert "1 degree of freedom" in caveats(off)
    assert "not lie on one straight line" in caveats(off)
    four = three | {"stations": ("a", "b", "c", "d"), "at_mm": (0.0, 300.0, 600.0, 1000.0)}
    some = line(0.0, **four, degrees_of_freedom=2, chi_squared=5.0, widened_by=1.58)
    assert "2 degrees of freedom" in caveats(some)
    assert "not lie on one straight line" not in caveats(some)
    # JCGM 100:2008, table G.2: 95.45 %, 2 degrees of freedom, 4.53.
    assert coverage_text(some) == "Student's t = 4.53, 95.45 %"


def test_notes_name_their_line_only_where_they_differ():
    two, none = judged(line(0.0), 0.8), judged("no line", 0.8)
    three = {"stations": ("a", "b", "c"), "at_mm": (0.0, 500.0, 1000.0), "places": 3}
    fits = judged(line(0.0, **three, degrees_of_freedom=1, chi_squared=0.5), 0.8)
    said = "Two-point, straightness unchecked."
    assert notes([("the dry fit", two), ("the change", two)]) == (said,)
    assert notes([("the dry fit", none), ("the change", two)]) == (said,)
    assert notes([("the dry fit", two), ("the change", fits)]) == (f"The dry fit: {said}",)
    assert notes([("the dry fit", fits)]) == ()


def test_a_gap_has_no_sign_and_a_change_has():
    assert numbers_text(line(0.5)).startswith("3.00 ± 0.10 mm at the middle, taper +0.50 ± 0.20")
    assert numbers_text(line(0.5), sign=True).startswith("+3.00 ± 0.10 mm at the middle")
    assert "stations top and bottom, 1000 mm apart; U with k = 2" in numbers_text(line(0.5))


def test_what_a_taper_is_consistent_with_has_an_angle_without_a_sign():
    answer = judged(line(-17.453), 0.8)  # one degree is 17.453 mm/m for small angles
    told = meaning_of(Joint.BUTT, answer, change=True)
    assert "by 1.000 ± 0.012°" in told
    assert meaning_of(Joint.BUTT, judged(line(0.0), 0.8), change=True) == ""


@pytest.mark.parametrize("level", [0.5, 1.0, 0.0, 1.5])
def test_students_factor_has_a_level_between_a_half_and_one(level):
    with pytest.raises(ValueError, match="between"):
        student_factor(level, 3)


def test_only_compared_stations_share_the_risk():
    """Two statements at 5 % together: 2.5 % each, so k = 1.96 (Bonferroni; normal table)."""
    stations = tuple(Station(id=name) for name in ("a", "b", "c"))
    records = [dry(3, station=s.id, record_id=f"d-{s.id}") for s in stations]
    records += [handover(5, station=s, record_id=f"h-{s}") for s in ("a", "b")]
    found = worked_out(*records, station=stations)
    overall = [c for c in found.comparisons if not c.step]
    assert len(overall) == 3
    together = judged_together(overall)
    assert together
    assert together.factor == pytest.approx(1.95996, abs=1e-5)
    assert together.stations == (("a", Change.OPENED), ("b", Change.OPENED))
    assert together.answer is WholeSeam.OPENED
    assert together.not_compared == ("c",)
    assert judged_together([c for c in overall if c.station != "b"]) is None
