"""On which side of the fastening an opening check lies, and what else its result rests on.

Times are invented; a check written as a day is that whole day. Lengths are worked by hand.
"""

from __future__ import annotations

import math
from types import SimpleNamespace

import pytest

from claimkit.findings.seams.normal import student_factor
from claimkit.findings.seams.opening_judge import Allowed, judge
from claimkit.findings.seams.opening_taper import seen
from claimkit.findings.seams.opening_turn import rate, turn
from claimkit.findings.seams.opening_when import before_piece, standing
from claimkit.model.answers import Answer
from claimkit.model.case import Case
from claimkit.model.job import Joint
from claimkit.model.measurement import Measurement
from claimkit.model.measuring import Instrument, Line
from claimkit.model.opening import Checked, Tolerated
from claimkit.model.stages import Event, Stage
from tests.build import AS_OF, NOW, facts, job, mm, moment, seam
from tests.findings.gap_build import dry, fastened, milestone, read, worked_out
from tests.findings.opening_build import butt, check, corner, fitted, handed_over, one_result
from tests.findings.opening_build import worked_out as surveyed

FIRST = milestone(Event.FASTENED, "2026-05-05 09:00", "m-1", seams=("s1",))
SECOND = milestone(Event.FASTENED, "2026-05-07 09:00", "m-2", seams=("s2",))
LOOSE = "nothing that stands in it is recorded as fastened"


def at(text):
    return moment(text).interval("test")


def placed(taken, *records, seams=("s1",)):
    found = standing(worked_out(*records), seams, at(taken))
    return found.before, found.words, found.loose


@pytest.mark.parametrize(
    "taken,records,before,words",
    [
        ("2026-05-04 09:00", [], Answer.YES, LOOSE),
        ("2026-05-04 09:00", [SECOND], Answer.YES, LOOSE),  # of another seam
        ("2026-05-04 09:00", [dry(3, taken="2026-05-03 10:00")], Answer.YES, LOOSE),
        ("2026-05-04", [FIRST], Answer.YES, "before fastening began (2026-05-05 09:00)"),
        (
            "2026-05-05 09:01",
            [FIRST],
            Answer.NO,
            "after fastening began (2026-05-05 09:00): it cannot show the state before",
        ),
        (
            "2026-05-05",
            [FIRST],
            Answer.CANNOT_TELL,
            "whether before or after fastening (2026-05-05 09:00) cannot be told from the times "
            "written",
        ),
        # No milestone: a loose reading later, a fixed one earlier, or neither.
        (
            "2026-05-04 09:00",
            [dry(3), fastened(3)],
            Answer.YES,
            "before the dry fit (2026-05-04)",
        ),
        (
            "2026-05-06 09:00",
            [dry(3), fastened(3)],
            Answer.NO,
            "after the reading at fastening (2026-05-05): it cannot show the state before",
        ),
        (
            "2026-05-04 12:00",
            [dry(3), fastened(3)],
            Answer.CANNOT_TELL,
            "whether before or after fastening cannot be told, as no record dates the fastening",
        ),
    ],
)
def test_a_check_is_placed_against_the_fastening(taken, records, before, words):
    assert placed(taken, *records) == (before, words, words == LOOSE)


def two_seams(*records):
    seams = (seam(), seam(id="s2"), seam(id="s3", joint=Joint.INTERLOCKING))
    return Case(facts(job_=job(seam=seams), records=records), AS_OF, NOW)


@pytest.mark.parametrize(
    "taken,seams,before,words",
    [
        ("2026-05-06 09:00", ("s1",), Answer.NO, "after fastening began (2026-05-05"),
        ("2026-05-06 09:00", ("s2",), Answer.YES, "before fastening began (2026-05-07"),
        # None named is every seam with a gap: between the two it still shows the second.
        (
            "2026-05-06 09:00",
            (),
            Answer.YES,
            "after seam s1 was fastened (2026-05-05 09:00) and before seam s2 was "
            "(2026-05-07 09:00)",
        ),
        ("2026-05-04 09:00", (), Answer.YES, "before fastening began (2026-05-05"),
        ("2026-05-08 09:00", (), Answer.NO, "after fastening began (2026-05-05"),
        ("2026-05-06 09:00", ("s3",), Answer.YES, LOOSE),
    ],
)
def test_a_check_between_two_fastenings_shows_the_second(taken, seams, before, words):
    found = standing(two_seams(SECOND, FIRST), seams, at(taken))
    assert found.before is before
    assert found.words.startswith(words)


def test_a_replacement_has_a_fastening_of_its_own():
    new = {"piece": "new panel"}
    records = (
        FIRST,
        milestone(Event.FASTENED, "2026-05-09 09:00", "m-new", **new),
        read("r-new", Stage.DRY_FIT, "2026-05-08 10:00", 3, **new),
        read("r-more", Stage.DRY_FIT, "2026-05-08 11:00", 3, **new),
    )
    before, words, _ = placed("2026-05-07 09:00", *records)
    assert before is Answer.YES
    assert words == (
        "after seam s1 was fastened (2026-05-05 09:00) and before seam s1, piece new panel was "
        "(2026-05-09 09:00)"
    )


@pytest.mark.parametrize(
    "piece,taken,records,answer",
    [
        (None, "2026-05-04 09:00", [FIRST], Answer.YES),
        (None, "2026-05-06 09:00", [FIRST], Answer.NO),
        (None, "2026-05-05", [FIRST], Answer.CANNOT_TELL),
        (None, "2026-05-06 09:00", [], Answer.YES),  # nothing says fastened
        (None, "2026-05-06 09:00", [fastened(3)], Answer.NO),
        ("new", "2026-05-06 09:00", [FIRST, fastened(3)], Answer.YES),  # other pieces' readings
        (None, "2026-05-06 09:00", [fastened(3, seam_id="s2")], Answer.YES),
    ],
)
def test_a_check_is_placed_against_each_set_of_pieces(piece, taken, records, answer):
    assert before_piece(worked_out(*records), "s1", piece, at(taken)) is answer


def test_a_bow_stands_off_a_straightedge_that_leans():
    # From 50 at 100 mm to 46 at 1900 mm the straightedge is 2 mm in at 1000 mm; the wall is not.
    wall = one_result(surveyed(check(plumb={100: 50, 1000: 50, 1900: 46})), Checked.PLUMB)
    assert wall.bow
    assert wall.bow.off.value_mm == pytest.approx(-2.0)
    assert wall.bow.at_mm == 1000


def test_diagonals_with_a_height_alone_give_no_angle():
    for sides in ({"height": mm(2100)}, {"width": mm(900)}, {}):
        given = check(diagonals=(mm(2285), mm(2282)), **sides)
        square = one_result(surveyed(given), Checked.SQUARE)
        assert square.over is None
        assert square.judged.value_mm == pytest.approx(3.0)


@pytest.mark.parametrize(
    "value,u,past,says",
    [
        # Limit 3: 2.9 lies 0.1 below it, 0.1/1.645 = 0.06; 2.97 gives 0.018, 2.99 gives 0.006.
        (2.9, 0.5, False, "A standard uncertainty of at most 0.06 mm is needed"),
        (2.97, 0.5, False, "A standard uncertainty of at most 0.01 mm is needed"),
        (-2.97, 0.5, False, "A standard uncertainty of at most 0.01 mm is needed"),
        (2.99, 0.5, False, "so near the limit that no reading decides"),
        (2.9, 0.5, True, "That state is past and cannot be read again"),
        (2.99, 0.5, True, "That state is past and cannot be read again"),
    ],
)
def test_what_would_settle_an_opening(value, u, past, says):
    judged = judge(Measurement.of(value, {"a": u}), Allowed(3.0, "3 mm (maker)"), past=past)
    assert judged.tolerated is Tolerated.CANNOT_TELL
    assert says in judged.settle
    assert f"{value:+.1f}" in judged.because
    firm = judge(Measurement.of(0.0, {"a": 0.1}), Allowed(3.0, "3 mm (maker)"), past=past)
    assert (firm.tolerated, firm.settle) == (Tolerated.WITHIN, "")


def test_pieces_in_one_plane_ask_for_the_base_and_not_for_a_wall():
    found = turn(butt(), (), None, None, is_change=True)
    assert found.taper is None
    assert "cannot separate plumb, level and square" in found.because
    assert "seam_at" in found.settle
    read_twice = (fitted(8, 8, 8), handed_over(8, 8, 8))
    wall = check(plumb={100: 50, 1000: 46, 1900: 42}, seam_at=mm(1000))
    (explained,) = surveyed(wall, *read_twice, seam_=butt()).explanations
    assert explained.predicted is None
    base = check(level={100: 50, 1000: 46, 1900: 42}, seam_at=mm(1000))
    (explained,) = surveyed(base, *read_twice, seam_=butt()).explanations
    assert explained.predicted is not None


def test_a_straight_wall_widens_nothing_by_where_a_piece_may_rest():
    level = {0: 40, 900: 40, 1800: 40}
    straight = surveyed(check(plumb={100: 50, 1000: "48.05", 1900: 46}, level=level))
    (explained,) = straight.explanations
    assert explained.predicted
    assert not [c for c, _ in explained.predicted.parts if c.startswith("rests where")]
    # 4 mm into the opening over 1.8 m: the seam narrows upwards by 2.22 mm in each metre.
    assert explained.predicted.value_mm == pytest.approx(-4 / 1.8, abs=0.02)


def test_a_rate_keeps_its_sign():
    assert rate(Measurement.of(2.0, {"a": 0.1})) == "+2.00 ± 0.20 mm/m"
    assert rate(Measurement.of(-0.0, {"a": 0.1})) == "+0.00 ± 0.20 mm/m"


@pytest.mark.parametrize(
    "more,shown",
    [
        ({}, "rule 0.5 mm from a plumb line; tape 1 mm"),
        ({"tape": None}, "rule 0.5 mm from a plumb line"),
        ({"instrument_id": " 12 "}, "rule 0.5 mm (12) from a plumb line; tape 1 mm"),
        (
            {"instrument": Instrument.LEVEL, "resolution": mm("0.5"), "line": Line.LEVEL},
            "level; tape 1 mm",
        ),
        (
            {
                "instrument": Instrument.LEVEL,
                "resolution": mm("0.5"),
                "line": Line.LEVEL,
                "level_turned": True,
            },
            "level, turned end for end; tape 1 mm",
        ),
        ({"line": None}, "rule 0.5 mm; tape 1 mm"),  # assumed, and told as a remark
        ({"level_turned": True}, "rule 0.5 mm from a plumb line; tape 1 mm"),
    ],
)
def test_what_it_was_read_with(more, shown):
    (state,) = surveyed(check(plumb={100: 50, 1900: 50}, **more)).openings
    assert state.instrument == shown
    assumed = [told for told in state.remarks if "a level is assumed" in told]
    assert bool(assumed) is (more.get("line", Line.PLUMB_LINE) is None)


@pytest.mark.parametrize(
    "more,table,says,says_not",
    [
        ({}, {100: 50, 1900: 50}, ["Two places only for plumb"], ["counts as true"]),
        ({}, {100: 50, 1000: 50, 1900: 50}, [], ["Two places only", "counts as true"]),
        ({"line": Line.LEVEL}, {100: 50, 1000: 50, 1900: 50}, ["A level counts as true"], []),
        (
            {"line": Line.LEVEL, "line_accuracy": mm("0.5")},
            {100: 50, 1000: 50, 1900: 50},
            [],
            ["counts as true"],
        ),
        (
            {"diagonals": (mm(2285), mm(2282))},
            {100: 50, 1000: 50, 1900: 50},
            ["Without width and height the diagonals give no angle."],
            [],
        ),
        (
            {"diagonals": (mm(2285), mm(2282)), "width": mm(900), "height": mm(2100)},
            {100: 50, 1000: 50, 1900: 50},
            [],
            ["Without width and height"],
        ),
    ],
)
def test_what_was_assumed_and_not_checked_is_told(more, table, says, says_not):
    (state,) = surveyed(check(plumb=table, **more)).openings
    told = " ".join(state.remarks)
    assert all(text in told for text in says)
    assert not [text for text in says_not if text in told]


def test_a_lines_own_scatter_widens_its_taper():
    """u times widening times Student's t over 1.645, as one more part: t(0.95, 1) = 6.314."""
    from claimkit.findings.seams.opening_taper import _widened
    from claimkit.model.seam_line import LineFit

    def line(widened_by, freedom=1):
        return LineFit(
            stations=("a", "b", "c"),
            at_mm=(0.0, 500.0, 1000.0),
            middle_mm=500.0,
            offset=Measurement.of(3.0, {"reading": 0.05}),
            slope=Measurement.of(2.0, {"reading": 0.1}),
            correlation=0.0,
            chi_squared=widened_by**2,
            degrees_of_freedom=freedom,
            widened_by=widened_by,
            places=3,
        )

    assert _widened(line(1.0), corner()) == line(1.0).slope
    assert student_factor(0.95, 1) == pytest.approx(6.314, abs=0.001)
    found = _widened(line(1.2), corner())
    assert found.value_mm == 2.0
    assert found.u_mm == pytest.approx(0.1 * 1.2 * 6.314 / 1.645, rel=1e-3)
    assert math.isclose(dict(found.parts)["reading"], 0.1)
    # t(0.95, 20) = 1.725 (NIST TN 1297, table B.1: 1.72).
    assert _widened(line(1.2, 20), corner()).u_mm == pytest.approx(0.12 * 1.725 / 1.645, rel=1e-3)


def test_a_seam_is_shown_by_its_own_lines_only():
    reading = SimpleNamespace(meaning=None, stage=Stage.DRY_FIT)
    other = SimpleNamespace(step=False, seam="s2", after=reading, before=None)
    step = SimpleNamespace(step=True, seam="s1", after=reading, before=None)
    missing = SimpleNamespace(step=False, seam="s1", after=None, before=None)
    case = SimpleNamespace(lines=(other, step, missing))
    assert list(seen(case, corner())) == []
