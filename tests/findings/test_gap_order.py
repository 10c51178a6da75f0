"""How readings are ordered, when two are of one state, and what temperature leaves between them.

Times and states are invented; the order in time is that of the clock. How pieces stand in each
stage is common practice, no source. Acrylic moves 70e-6 per kelvin (published working value).
"""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations

import pytest

from claimkit.findings.seams.answers import _settle_change
from claimkit.findings.seams.pairs import contradiction, ordered
from claimkit.findings.seams.states import State
from claimkit.findings.seams.temperature import Thermal, Treatment, thermal
from claimkit.model.job import Material
from claimkit.model.measurement import Measurement
from claimkit.model.stages import Stage
from tests.build import celsius, job, mm, seam
from tests.findings.gap_build import (
    complaint,
    dry,
    fastened,
    fastening,
    handover,
    read,
    whole,
    worked_out,
)


@pytest.mark.parametrize(
    "first,second",
    [
        # By the clock, though the stages say otherwise.
        (handover(3, record_id="b"), dry(3, record_id="a", taken="2026-05-09 10:00")),
        # A whole day and an hour of it overlap: the stage decides.
        (
            dry(3, record_id="b", taken="2026-05-06"),
            handover(3, record_id="a", taken="2026-05-06 10:00"),
        ),
        # One stage: the first instant, not the name.
        (
            dry(3, record_id="b", taken="2026-05-06"),
            dry(3, record_id="a", taken="2026-05-06 10:00"),
        ),
        # One stage and instant: the name.
        (dry(3, record_id="a"), dry(3, record_id="b")),
    ],
)
def test_order_is_by_clock_then_stage_then_first_instant_then_name(first, second):
    readings = worked_out(first, second).readings
    assert len(readings) == 2
    for given in permutations(readings):
        assert [r.record for r in ordered(given)] == [first.id, second.id]


@pytest.mark.parametrize(
    "others,told",
    [
        ([dry(3)], "dated before the dry fit (r1-dry)"),
        ([dry(3, station="bottom")], ""),  # of another station
        ([dry(3, piece="second panel")], ""),  # of other pieces
        ([dry(3, seam_id="s2")], ""),
        ([dry(3), dry(3, record_id="r0-dry", taken="2026-05-02 10:00")], ""),  # one came first
        ([handover(3)], ""),  # no dry fit
        ([dry(3), fastening("2026-05-02 09:00")], ""),  # a milestone dates the fastening
        ([fastening("2026-05-04 09:00")], "dated before fastening began"),
    ],
)
def test_a_fastened_reading_before_every_dry_fit_of_its_station_is_a_contradiction(others, told):
    case = worked_out(fastened(3, taken="2026-05-03 10:00"), *others)
    (mine,) = [r for r in case.readings if r.stage is Stage.FASTENED]
    found = contradiction(case, mine)
    assert told in found
    assert bool(found) is bool(told)


def test_a_reading_of_loose_pieces_on_the_day_of_the_fastening_is_none_either():
    # The day as a whole does not lie after 09:00 of it.
    case = worked_out(fastening("2026-05-04 09:00"), dry(3, taken="2026-05-04"), handover(5))
    assert whole(case).before is not None


@pytest.mark.parametrize(
    "stage,more,words,lacking",
    [
        (Stage.DRY_FIT, {}, (), ("place", "set_level", "clamped")),
        (
            Stage.DRY_FIT,
            {"place": " On the floor ", "set_level": False, "clamped": False},
            ("On the floor", "not set level", "not clamped"),
            (),
        ),
        (
            Stage.DRY_FIT,
            {"place": "in the opening", "set_level": True, "clamped": True},
            ("in the opening", "set level", "clamped"),
            (),
        ),
        # The stage itself says where fastened pieces stand and that they are held.
        (Stage.FASTENED, {}, (), ("set_level",)),
        (Stage.HANDOVER, {"place": "alcove"}, ("alcove",), ("set_level",)),
        (Stage.BEFORE_FASTENING, {"set_level": True}, ("set level",), ("place", "clamped")),
    ],
)
def test_a_state_is_what_the_record_and_its_stage_say(stage, more, words, lacking):
    state = State.of(read("r", stage, "2026-05-04 10:00", 3, **more).body)
    assert state.words() == words
    told = state.not_recorded()
    assert [name for name in ("place", "set_level", "clamped") if f"({name})" in str(told)] == list(
        lacking
    )
    assert len(told) == len(lacking)


@pytest.mark.parametrize(
    "one,other,alike",
    [
        ("in the opening", "Alcove", True),
        ("in place", "the opening", True),
        ("on the ground", "open floor", True),
        ("on the floor", "in the opening", False),
        ("on trestles", "on Trestles.", True),
        ("on trestles", "open floor", False),
        ("...", "in the opening", True),  # says nothing
    ],
)
def test_places_are_compared_by_their_plain_form(one, other, alike):
    c = whole(worked_out(dry(3, place=one), handover(5, place=other)))
    assert (c.not_comparable == ()) is alike
    if not alike:
        assert one in c.change.because
        assert other in c.change.because


# ---- temperature

WIDE = {"material": Material.ACRYLIC, "panel_width": mm(900)}


def treated(before, after, **of_seam):
    """What temperature does between a dry fit and a handover at these temperatures."""
    records = [
        made(3, **({} if value is None else {"temperature": celsius(value)}))
        for made, value in ((dry, before), (handover, after))
    ]
    c = whole(worked_out(*records, **of_seam))
    return thermal(job(), seam(**of_seam), c.before, c.after)


@pytest.mark.parametrize(
    "before,after,of_seam,treatment,says",
    [
        (20, 22, WIDE, Treatment.CORRECTED, "change this gap by -0.13 mm"),  # 0.063 mm/K × 2 K
        (20, 30, WIDE, Treatment.CORRECTED, "taking one panel of 900 mm as free to move into this"),
        (None, 20, WIDE, Treatment.WIDENED, "not recorded in r1-dry:"),
        (20, None, WIDE, Treatment.WIDENED, "not recorded in r3-handover:"),
        (None, None, WIDE, Treatment.WIDENED, "in r1-dry and r3-handover:"),
        (20, 21, {}, Treatment.NOT_NEEDED, "20 °C and 21 °C, no correction"),
        (20, 30, {}, Treatment.LEFT_OUT, "the seam's material is not entered and the panel width"),
        (20, None, {}, Treatment.LEFT_OUT, "the seam's material is not entered"),
        (None, 20, {}, Treatment.LEFT_OUT, "the seam's material is not entered"),
        (20, 30, {"panel_width": mm(900)}, Treatment.LEFT_OUT, "out: the seam's material is not"),
        (20, 30, {"material": Material.ACRYLIC}, Treatment.LEFT_OUT, "out: the panel width is not"),
    ],
)
def test_temperature_is_taken_out_widened_or_left_out(before, after, of_seam, treatment, says):
    found = treated(before, after, **of_seam)
    assert found.treatment is treatment
    assert says in found.because


@pytest.mark.parametrize("of_seam", [WIDE, {}])
def test_equal_temperatures_need_no_sentence(of_seam):
    found = treated(20, 20, **of_seam)
    assert found.because == ""
    assert found.correction.value_mm == 0
    c = whole(
        worked_out(dry(3, temperature=celsius(20)), handover(3, temperature=celsius(20)), **of_seam)
    )
    assert "Temperature" not in c.change.because
    assert "  " not in c.change.because


@pytest.mark.parametrize("after,share", [(30, 0.1575), (10, -0.1575), (20, 0.0)])
def test_how_the_panels_are_held_is_a_quarter_of_the_correction(after, share):
    # 900 mm × 70e-6/K × 10 K is 0.63 mm; a quarter of it 0.1575 mm, with the correction's sign.
    parts = dict(treated(20, after, **WIDE).correction.parts)
    held = [u for cause, u in parts.items() if cause.startswith("how the panels are held: s1, ")]
    assert held == pytest.approx([share])


def test_what_temperature_did_is_kept_with_the_change():
    cold, warm = {"temperature": celsius(4)}, {"temperature": celsius(21)}
    c = whole(worked_out(dry("4.58", **cold), handover("3.52", **warm), **WIDE))
    assert c.change.heat_mm == pytest.approx(-0.063 * 17)
    assert c.change.difference.value_mm == pytest.approx(3.52 - 4.58 + 0.063 * 17)
    assert whole(worked_out(dry(3), handover(3), **WIDE)).change.heat_mm is None


def test_two_readings_of_one_day_and_stage_have_a_thermometer_each():
    first = complaint(3, temperature=celsius(20))
    second = complaint(
        3, record_id="r5", taken="2026-05-18 15:00", clamped=False, temperature=celsius(22)
    )
    readings = worked_out(first, second, **WIDE).readings
    found = thermal(job(), seam(**WIDE), *readings)
    # 0.063 mm/K × 1 K over the root of 3, twice: they are two readings of a thermometer.
    causes = [u for cause, u in found.correction.parts if cause.startswith("temperature")]
    assert sorted(causes) == pytest.approx([-0.063 / 3**0.5, 0.063 / 3**0.5])


# ---- what is said of an answer, and what would settle it


@pytest.mark.parametrize(
    "later,tolerance,says",
    [
        (3, "0.8", "It is unchanged within 0.8 mm between"),
        (5, "0.8", "It opened between"),
        (1, "0.8", "It closed between"),
        ("3.8", "0.8", "Whether it changed between"),
    ],
)
def test_a_change_in_words(later, tolerance, says):
    c = whole(worked_out(dry(3), handover(later), tolerance=mm(tolerance)))
    assert says in c.change.because
    assert (c.change.settle != "") is says.startswith("Whether")
    assert c.at_dry_fit.settle == "", "3 mm lies within 2 to 4 mm"


@pytest.mark.parametrize(
    "treatment,u_heat,says",
    [
        # 0.9 against 0.8 mm: need 0.1/1.645 = 0.0608; the dry fit has 0.03, so that the later
        # reading may have sqrt(0.0608² - 0.03²) = 0.0529 mm, rounded down.
        (Treatment.NOT_NEEDED, 0.0, "a standard uncertainty of at most 0.05 mm is needed"),
        # The temperatures alone hold 0.2 mm: entered, they would not.
        (Treatment.WIDENED, 0.2, "Enter the temperatures of both readings. Without them no later"),
        (Treatment.CORRECTED, 0.2, "A later reading that gives the same difference cannot settle"),
    ],
)
def test_what_would_settle_a_change(treatment, u_heat, says):
    (before,) = worked_out(dry(3)).readings
    before = replace(before, measurement=Measurement.of(3.0, {"hand": 0.03}))
    enter = "the temperatures of both readings" if treatment is Treatment.WIDENED else ""
    heat = Thermal(treatment, Measurement.of(0.0, {"heat": u_heat}), "", enter)
    told = _settle_change(before, Measurement.of(0.9, {"all": 0.3}), 0.8, heat)
    assert says in told
    assert ("Enter the temperatures" in told) is (treatment is Treatment.WIDENED)


@pytest.mark.parametrize(
    "treatment,enter",
    [
        (Treatment.WIDENED, "the temperatures of both readings"),
        (Treatment.LEFT_OUT, "its panel width and the temperatures of both readings"),
    ],
)
def test_nothing_is_past_settling_before_what_is_missing_is_entered(treatment, enter):
    # The dry fit alone has more than the 0.0608 mm that 0.9 against 0.8 mm needs.
    (before,) = worked_out(dry(3)).readings
    before = replace(before, measurement=Measurement.of(3.0, {"hand": 0.1}))
    heat = Thermal(treatment, Measurement.of(0.0, {"heat": 0.2}), "", enter)
    told = _settle_change(before, Measurement.of(0.9, {"all": 0.3}), 0.8, heat)
    assert told.startswith(f"Enter {enter} first: ")
    assert "cannot settle it" in told


def test_what_may_be_entered_is_named_and_nothing_where_no_entry_helps():
    assert treated(None, 20, **WIDE).enter == "the temperatures of both readings"
    named_too = treated(None, 20, panel_width=mm(900)).enter
    assert named_too == "the seam's material and the temperatures of both readings"
    assert treated(20, 30, material=Material.ACRYLIC).enter == "its panel width"
    assert treated(20, 30, material=Material.WOOD, panel_width=mm(900)).enter == ""
    assert treated(20, 30, **WIDE).enter == ""
