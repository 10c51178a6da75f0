"""Readings made measurements, and the three answers between two named episodes."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from claimkit.findings.seams.answers import read_again
from claimkit.findings.seams.readings import hand_part, read_all
from claimkit.findings.seams.words import between, down_mm, percent, with_u
from claimkit.model.gap import Change, Fit
from claimkit.model.job import Item, Joint, Material, Station
from claimkit.model.measurement import Measurement
from claimkit.model.measuring import Instrument, Reading, Readings
from claimkit.model.quantities import Length
from claimkit.model.stages import Event, Stage
from claimkit.rules.instruments import BY_INSTRUMENT, ROWS
from claimkit.rules.materials import BY_MATERIAL
from claimkit.rules.materials import ROWS as MATERIALS
from tests.build import celsius, facts, inches, job, mm, moment, record, seam
from tests.findings.gap_build import (
    complaint,
    dry,
    fastened,
    fastening,
    handover,
    milestone,
    read,
    steps,
    whole,
    worked_out,
)

RULE_A = {"instrument": Instrument.RULE_HALF_MM, "instrument_id": "rule A"}


# ---- readings


def test_one_reading_has_resolution_and_operator():
    reading = worked_out(dry(inches("3/16"), instrument=Instrument.TAPE_16TH)).readings[0]
    assert reading.measurement.value_mm == pytest.approx(4.7625)  # 3/16 × 25.4, exact
    parts = {cause.split(":")[0]: u for cause, u in reading.measurement.parts}
    assert parts["resolution"] == pytest.approx(25.4 / 16 / math.sqrt(12))
    # 0.1 mm for each end of a tape that is set by eye: common practice, no source.
    assert parts["operator"] == pytest.approx(0.1 * math.sqrt(2), abs=0.002)
    assert reading.measurement.u_mm == pytest.approx(0.479, abs=0.002)
    assert reading.written == ("3/16 in",)


@pytest.mark.parametrize(
    "repeats, resolution, kind, u",
    [
        ((3.0,), 0.05, "operator", 0.1),  # no repeats: the usual hand
        ((3.0, 3.0), 1.0, "operator", 0.1),  # coarse rule: equal readings show nothing finer
        ((3.0, 4.0), 1.0, "operator", 0.1),  # one division apart: what resolution implies
        ((3.0, 3.5), 0.5, "operator", 0.1),  # the same, exactly one division
        # Five equal readings with a fine gauge: 0.05/sqrt(12)/sqrt(5) × 2.132/1.645, by hand.
        ((3.0,) * 5, 0.05, "repeats", 0.00837),
        # Two readings two divisions apart: s/sqrt(2) = 0.05; × 6.314/1.645, by hand.
        ((3.00, 3.10), 0.05, "repeats", 0.19191),
        # Three readings: s = 0.2, /sqrt(3) = 0.11547; × 2.920/1.645, by hand.
        ((3.0, 3.2, 3.4), 0.1, "repeats", 0.20497),
        # Repeats that show less than the floor, and more than a division.
        ((3.00, 3.02, 3.01, 3.03), 0.01, "repeats", 0.00923),
    ],
)
def test_what_the_hand_adds(repeats, resolution, kind, u):
    found, value, why = hand_part(repeats, resolution, 0.1)
    assert found == kind
    assert value == pytest.approx(u, abs=2e-5)
    assert why


def test_repeats_never_undercut_the_resolution():
    # Ten equal readings of a 1 mm rule: a gap of 3.4 mm would read so as well.
    reading = worked_out(dry(*[3] * 10, instrument=Instrument.RULE_MM)).readings[0]
    assert round(reading.measurement.u_mm - 1 / math.sqrt(12), 9) >= 0


def test_a_station_named_twice_in_one_record_is_one_reading_with_repeats():
    body = Readings(
        seam="s1",
        stage=Stage.DRY_FIT,
        taken=moment("2026-05-04 10:00"),
        instrument=Instrument.FEELER,
        at=(Reading(station="top", gap=(mm(3),)), Reading(station="top", gap=(mm("3.1"),))),
    )
    found = worked_out(record("r1", body)).readings
    assert [r.written for r in found] == [("3 mm", "3.1 mm")]


def test_mixed_units_in_one_reading():
    reading = worked_out(dry(inches("1/8"), mm("3.2"))).readings[0]
    assert reading.measurement.value_mm == pytest.approx((3.175 + 3.2) / 2)


def test_the_same_rule_cancels_and_two_rules_do_not():
    tape = {"instrument": Instrument.TAPE_MM}
    same = worked_out(
        dry(300, instrument_id="T1", **tape), handover(302, instrument_id="t1 ", **tape)
    )
    two = worked_out(
        dry(300, instrument_id="T1", **tape), handover(302, instrument_id="T2", **tape)
    )

    def scale(case):
        parts = whole(case).change.difference.parts
        return math.hypot(*(u for cause, u in parts if cause.startswith("scale")))

    # Class II: 0.0003 of the length, u = that / sqrt(3); |d| u_s against sqrt(g0² + g1²) u_s.
    relative = 0.0003 / math.sqrt(3)
    assert scale(same) == pytest.approx(2 * relative)
    assert scale(two) == pytest.approx(math.hypot(300, 302) * relative)


def test_without_an_instrument_id_nothing_is_taken_as_shared():
    gauge = {"instrument": Instrument.TAPER_GAUGE}
    parts = whole(worked_out(dry(3, **gauge), handover(3, **gauge))).change.difference.parts
    zero = [u for cause, u in parts if cause.startswith("zero")]
    assert math.hypot(*zero) == pytest.approx(math.sqrt(2) * 0.05 / math.sqrt(3))


def test_stations_of_one_record_share_their_instrument():
    case = worked_out(
        dry(3, instrument=Instrument.TAPER_GAUGE),
        read("r1-dry", Stage.DRY_FIT, "2026-05-04 10:00", 3, station="bottom",
             instrument=Instrument.TAPER_GAUGE),
    )  # fmt: skip
    a, b = (r.measurement for r in case.readings)
    zero = [u for cause, u in a.minus(b).parts if cause.startswith("zero")]
    assert zero == [pytest.approx(0.0)]


@pytest.mark.parametrize(
    "more, word",
    [
        ({"instrument": Instrument.OTHER}, "smallest division"),
        ({"instrument": Instrument.LEVEL}, "plumb and level"),
        ({"instrument": Instrument.LEVEL, "resolution": mm(1)}, "plumb and level"),
        ({"instrument": Instrument.OTHER, "resolution": mm(0)}, "smallest division"),
    ],
)
def test_what_is_no_measurement_is_named_and_not_guessed(more, word):
    readings, unusable = read_all(worked_out(dry(3, **more)))
    assert readings == ()
    assert [word in u.reason for u in unusable] == [True]


def test_other_instruments_state_their_resolution():
    reading = worked_out(dry(3, instrument=Instrument.OTHER, resolution=mm("0.2"))).readings[0]
    assert reading.measurement.u_mm == pytest.approx(math.hypot(0.2 / math.sqrt(12), 0.1))


def test_a_coarser_resolution_than_the_instruments_counts_and_a_finer_does_not():
    coarse = worked_out(dry(3, instrument=Instrument.RULE_HALF_MM, resolution=mm(1))).readings[0]
    fine = worked_out(dry(3, instrument=Instrument.RULE_MM, resolution=mm("0.1"))).readings[0]
    assert coarse.measurement.u_mm == pytest.approx(fine.measurement.u_mm, abs=1e-6)


def test_empty_and_negative_gaps_and_unknown_names_never_crash():
    empty = record(
        "r5",
        Readings(
            seam="s1",
            stage=Stage.FASTENED,
            taken=moment("2026-05-05"),
            instrument=Instrument.FEELER,
            at=(Reading(station="top", gap=()),),
        ),
    )
    below = fastened(Length(Fraction(-1), "-1 mm"), record_id="r6")
    elsewhere = handover(3, record_id="r7", seam_id="no-such-seam", station="nowhere")
    case = worked_out(dry(3), empty, below, elsewhere)
    assert len(read_all(case)[1]) == 2
    assert [r.record for r in case.readings] == ["r1-dry", "r7"]
    assert [c.seam for c in case.comparisons] == ["s1"]


def test_without_a_job_readings_stand_and_nothing_is_compared():
    from dataclasses import replace

    from claimkit.findings.seams import gaps
    from claimkit.model.case import Case
    from tests.build import AS_OF, NOW

    bare = replace(facts(records=[dry(3), handover(3)]), job=None)
    case = gaps.work_out(Case(bare, AS_OF, NOW))
    assert len(case.readings) == 2
    assert case.comparisons == ()


def test_replaced_records_decide_nothing():
    from dataclasses import replace

    wrong = replace(dry(9), replaced_by="r1-dry-b")
    case = worked_out(wrong, dry(3, record_id="r1-dry-b"), handover(3))
    assert whole(case).before.record == "r1-dry-b"


# ---- the three answers


def test_a_gap_that_was_there_at_the_dry_fit_and_did_not_move():
    c = whole(worked_out(dry(5), handover("5.1")))
    assert (c.at_dry_fit.fit, c.change.change, c.now.fit) == (
        Fit.OUTSIDE,
        Change.UNCHANGED,
        Fit.OUTSIDE,
    )


def test_a_gap_that_opened_between_fastening_and_handover_is_told_as_that():
    case = worked_out(dry(3), fastened("3.1"), handover("4.6"))
    c = whole(case)
    assert (c.at_dry_fit.fit, c.change.change, c.now.fit) == (
        Fit.WITHIN,
        Change.OPENED,
        Fit.OUTSIDE,
    )
    assert steps(case) == [
        ("dry fit", "fastened", "unchanged"),
        ("fastened", "handover", "opened"),
    ]
    opened = [s for s in case.comparisons if s.step and s.change.change is Change.OPENED]
    assert opened[0].between == "fastening (2026-05-05) and handover (2026-05-08)"
    # A step's dry-fit answer stays that of the dry fit; its own first reading is judged apart.
    assert opened[0].at_dry_fit == c.at_dry_fit
    assert "fastening" in opened[0].at_before.because


def test_a_gap_that_closed():
    c = whole(worked_out(dry(4), handover(2)))
    assert c.change.change is Change.CLOSED
    assert c.change.difference.value_mm == pytest.approx(-2)


def test_coarse_readings_cannot_tell_and_say_what_would_settle_it():
    tape = {"instrument": Instrument.TAPE_16TH}
    eighth = inches("1/8")
    c = whole(worked_out(dry(eighth, **tape), handover(eighth, **tape), tolerance=mm("0.7")))
    assert c.change.change is Change.CANNOT_TELL
    assert "would have shown it with a chance of" in c.change.because
    assert c.change.chance_shown == pytest.approx(0.0)
    assert "the same difference cannot settle it" in c.change.settle


def test_a_fine_dry_fit_and_a_coarse_later_reading_name_the_instrument_that_settles():
    c = whole(worked_out(dry(3), handover(inches("1/8"), instrument=Instrument.TAPE_16TH)))
    assert c.change.change is Change.CANNOT_TELL
    assert c.change.settle.startswith("Read it with a ")


def test_no_design_no_fit_but_the_change_is_judged():
    c = whole(worked_out(dry(3), handover(5), design_gap_min=None, design_gap_max=None))
    assert (c.at_dry_fit.fit, c.at_dry_fit.p_within) == (Fit.CANNOT_TELL, None)
    assert c.change.change is Change.OPENED


def test_an_interlocking_joint_has_no_design_gap_even_where_one_is_entered():
    c = whole(worked_out(dry(5), handover(5), joint=Joint.INTERLOCKING))
    assert c.now.p_within is None
    assert "interlocking" in c.now.because.lower()
    assert c.change.change is Change.UNCHANGED


@pytest.mark.parametrize(
    "low, high, answer",
    [(None, mm(4), Fit.WITHIN), (mm(2), None, Fit.WITHIN), (mm(4), None, Fit.OUTSIDE)],
)
def test_one_sided_designs(low, high, answer):
    c = whole(worked_out(dry(3), handover(3), design_gap_min=low, design_gap_max=high))
    assert c.now.fit is answer


def test_a_design_whose_limits_are_crossed_is_not_used():
    c = whole(worked_out(dry(3), handover(3), design_gap_min=mm(4), design_gap_max=mm(2)))
    assert c.now.p_within is None
    assert "Correct" in c.now.because


@pytest.mark.parametrize("tolerance", [None, Length(Fraction(-1), "-1 mm")])
def test_without_a_tolerance_the_difference_stands_and_no_answer(tolerance):
    c = whole(worked_out(dry(3), handover(5), tolerance=tolerance))
    assert c.change.change is Change.CANNOT_TELL
    assert c.change.p_opened is None
    assert c.change.difference.value_mm == pytest.approx(2)
    assert "tolerance" in c.change.settle


def test_missing_readings_are_cannot_tell():
    only_dry, only_later = whole(worked_out(dry(3))), whole(worked_out(handover(3)))
    assert (only_dry.now.fit, only_dry.change.change) == (Fit.CANNOT_TELL, Change.CANNOT_TELL)
    assert only_later.at_dry_fit.fit is Fit.CANNOT_TELL
    assert only_later.now.fit is Fit.WITHIN
    assert worked_out().comparisons == ()


def test_later_readings_without_a_dry_fit_still_show_their_steps():
    assert steps(worked_out(fastened(3), handover(5))) == [("fastened", "handover", "opened")]


def test_each_station_is_judged_for_itself():
    case = worked_out(
        dry(3), handover(3),
        dry(3, station="bottom", record_id="r1b"), handover(6, station="bottom", record_id="r3b"),
    )  # fmt: skip
    assert whole(case).change.change is Change.UNCHANGED
    assert whole(case, "bottom").change.change is Change.OPENED


# ---- which reading with which


def test_the_last_dry_fit_in_the_later_readings_state_counts():
    case = worked_out(
        dry("2.0", record_id="d1", taken="2026-05-03 12:00"),
        dry("3.4", record_id="d2", taken="2026-05-04 12:00"),
        dry("5.0", record_id="d3", taken="2026-05-04 14:00", place="on open floor"),
        handover("3.4"),
    )
    c = whole(case)
    assert c.before.record == "d2"
    assert c.change.change is Change.UNCHANGED


def test_two_readings_of_one_episode_are_no_step():
    case = worked_out(
        dry(3), fastened(3), fastened("3.1", record_id="r2-again", taken="2026-05-05 10:20")
    )
    assert steps(case) == []
    assert whole(case).after.record == "r2-again"


def test_a_dry_fit_that_can_still_be_read_again_says_with_what():
    loose = whole(worked_out(dry(4, instrument=Instrument.TAPE_16TH))).at_dry_fit
    assert loose.fit is Fit.CANNOT_TELL
    assert "so near the limit" in loose.settle
    past = whole(worked_out(dry(4), fastening())).at_dry_fit
    assert "is past and cannot be read again" in past.settle


def test_order_is_by_time_and_by_stage_where_times_overlap():
    # The day-only reading of the fastened seam is of the same day as the dry fit.
    case = worked_out(dry(3), fastened(5, taken="2026-05-04"))
    assert whole(case).change.change is Change.OPENED


def test_a_dry_fit_made_anew_begins_a_new_chain():
    case = worked_out(
        dry(3), fastened(5),
        dry(3, record_id="d2", taken="2026-05-06 10:00"),
        fastened(3, record_id="f2", taken="2026-05-07 10:00"),
    )  # fmt: skip
    c = whole(case)
    assert (c.before.record, c.after.record) == ("d2", "f2")
    assert c.change.change is Change.UNCHANGED
    assert steps(case) == [("dry fit", "fastened", "opened")]


def test_pieces_are_never_mixed():
    case = worked_out(dry(3), handover(5, piece="replacement panel"))
    found = {c.piece: (c.before is None, c.after is None) for c in case.comparisons}
    assert found == {None: (False, True), "replacement panel": (True, False)}


@pytest.mark.parametrize(
    "before, after, words",
    [
        ({"place": "on open floor"}, {}, "on open floor"),
        ({"clamped": False}, {}, "not held together"),
        ({"set_level": False}, {}, "not set level"),
        ({}, {"clamped": False}, "not held together"),
        ({}, {"set_level": False}, "not set level"),
        ({"place": "On the open floor."}, {"place": "in the opening"}, "floor"),
    ],
)
def test_other_states_are_not_compared(before, after, words):
    c = whole(worked_out(dry(3, **before), handover(5, **after)))
    assert c.change.change is Change.CANNOT_TELL
    assert c.change.difference is None
    assert words in c.change.because
    assert c.not_comparable
    assert c.now.fit is Fit.OUTSIDE  # the fit of each reading is still told


@pytest.mark.parametrize(
    "before, after",
    [
        ({}, {}),  # fastened pieces stand in the opening and are held
        ({"place": "In the opening"}, {"place": "the opening"}),
        ({"place": None, "set_level": None, "clamped": None}, {}),  # not recorded: another finding
        ({"set_level": False}, {"set_level": False}),
        ({}, {"place": "in the opening", "set_level": True, "clamped": True}),
    ],
)
def test_like_states_are_compared(before, after):
    c = whole(worked_out(dry(3, **before), handover(5, **after)))
    assert c.not_comparable == ()
    assert c.change.change is Change.OPENED


def test_a_dry_fit_dated_after_fastening_is_claimed_as_neither():
    case = worked_out(fastening(), dry(3, taken="2026-05-06 10:00"), handover(5))
    assert whole(case).before is None


def test_a_dry_fit_after_the_pieces_were_taken_apart_counts():
    again = milestone(Event.DRY_FIT, "2026-05-06 09:00")
    case = worked_out(fastening(), again, dry(3, taken="2026-05-06 10:00"), handover(5))
    assert whole(case).before is not None


def test_a_fastened_reading_dated_before_fastening_is_claimed_as_neither():
    case = worked_out(fastening("2026-05-06 09:00"), dry(3), fastened(5), handover(3))
    assert steps(case) == []
    assert whole(case).change.change is Change.UNCHANGED


# ---- temperature

WIDE = {"material": Material.ACRYLIC, "panel_width": mm(900)}


def test_a_cold_panel_opens_its_gap_by_itself():
    # 900 mm of acrylic at 70e-6/K move 0.63 mm in 10 K (published working value).
    case = worked_out(
        dry(3, temperature=celsius(22)), handover("3.63", temperature=celsius(12)), **WIDE
    )
    c = whole(case)
    assert c.change.difference.value_mm == pytest.approx(0.0, abs=0.005)
    assert c.change.change is Change.UNCHANGED
    parts = {cause.split(":")[0]: abs(u) for cause, u in c.change.difference.parts}
    # Range 65 to 75e-6: half 5e-6 × 900 × 10 / sqrt(3); thermometers 1 K: 0.063 / sqrt(3) each.
    assert parts["expansion"] == pytest.approx(0.045 / math.sqrt(3))
    assert parts["temperature"] == pytest.approx(0.063 / math.sqrt(3))


def test_a_warm_panel_hides_a_gap_that_opened():
    c = whole(
        worked_out(
            dry(3, temperature=celsius(12)), handover("3.7", temperature=celsius(27)), **WIDE
        )
    )
    assert c.change.difference.value_mm == pytest.approx(0.7 + 0.945)
    assert c.change.change is Change.OPENED


def test_unrecorded_temperatures_widen_and_are_shown_as_a_part():
    c = whole(worked_out(dry(3), handover("3.4", temperature=celsius(20)), **WIDE))
    parts = {cause.split(":")[0]: u for cause, u in c.change.difference.parts}
    assert parts["temperature not recorded"] == pytest.approx(0.63 / math.sqrt(3))
    assert c.change.change is Change.CANNOT_TELL
    assert "Enter the temperatures" in c.change.settle


def test_temperature_is_left_out_and_said_where_width_or_material_are_unknown():
    c = whole(worked_out(dry(3), handover(3), material=Material.ACRYLIC))
    assert "left out: the panel width is not entered" in c.change.because
    c = whole(worked_out(dry(3), handover(3), material=Material.WOOD, panel_width=mm(900)))
    assert "moisture" in c.change.because


def test_the_material_of_the_two_pieces_serves_where_they_agree():
    from claimkit.findings.seams.temperature import material_of

    pieces = (
        Item(id="panel", description="Panel", material=Material.GLASS),
        Item(id="tray", description="Tray", material=Material.GLASS),
    )
    assert material_of(job(item=pieces), seam()) is Material.GLASS
    other = (pieces[0], Item(id="tray", description="Tray", material=Material.STONE))
    assert material_of(job(item=other), seam()) is None


@pytest.mark.parametrize("row", MATERIALS, ids=lambda row: row.material.value)
def test_every_material_has_a_range_or_a_reason(row):
    assert row.citation
    assert row.mark in {"S", "P", "M"}
    if row.why_none:
        assert (row.low_per_k, row.high_per_k) == (None, None)
    else:
        assert 0 < round(row.low_per_k * 1e9) < round(row.high_per_k * 1e9) < 100_000
    assert set(BY_MATERIAL) == set(Material)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.instrument.value)
def test_every_instrument_has_a_row_with_a_citation(row):
    assert row.citation
    assert row.mark in {"S", "P", "M"}
    assert set(BY_INSTRUMENT) == set(Instrument)
    # The name of an instrument states its division; the row must hold that one.
    words = row.instrument.value.split()
    if words[-1] in {"in", "mm"} and row.resolution_mm is not None:
        unit = Fraction("25.4") if words[-1] == "in" else Fraction(1)
        assert row.resolution_mm == Fraction(words[-2]) * unit


# ---- words


def test_a_complaint_is_never_laid_to_the_work():
    c = whole(worked_out(dry(3), complaint(6)))
    told = c.change.because
    assert "curing, settling, use and temperature" in told
    assert "the dry fit (2026-05-04) and the complaint (2026-05-18)" in told
    assert "No reading parts the fastening" in told
    assert "installation" not in told.lower()


def test_between_handover_and_complaint():
    case = worked_out(dry(3), handover(3), complaint(6))
    last = [c for c in case.comparisons if c.step][-1]
    assert last.change.change is Change.OPENED
    assert last.between == "handover (2026-05-08) and the complaint (2026-05-18)"
    assert "No reading parts" not in whole(case).change.because


def test_names_of_episodes_where_one_is_missing():
    case = worked_out(dry(3))
    assert between(case.readings[0], None) == "the dry fit (2026-05-04) and no later reading"
    assert between(None, case.readings[0]) == "no dry fit and the dry fit (2026-05-04)"


@pytest.mark.parametrize(
    "p, text",
    [(1.0, "over 99 %"), (0.95, "95 %"), (0.5, "50 %"), (0.001, "under 1 %"), (0.0, "under 1 %")],
)
def test_no_probability_is_printed_as_certain(p, text):
    assert percent(p) == text


@pytest.mark.parametrize(
    "value, u, text",
    # GUM 7.2.6: uncertainty to two significant digits, here rounded up; value to the same place.
    [(3.0, 0.1054, "3.00 ± 0.22 mm"), (10.0, 0.5, "10.0 ± 1.0 mm"), (3.0, 0.0, "3.00 ± 0.00 mm")],
)
def test_rounding_for_print(value, u, text):
    assert with_u(Measurement.of(value, {"all": u})) == text


def test_a_bound_is_rounded_down():
    assert down_mm(0.4599) == "0.45 mm"
    assert down_mm(0.46) == "0.46 mm"


@pytest.mark.parametrize(
    "need, words",
    [
        # Single readings by hand: hypot(division / sqrt(12), hand): 0.479, 0.306 ... 0.106.
        (0.5, "tape 1/16 in"),
        (0.31, "rule 1 mm"),
        (0.11, "taper gauge 0.1 mm"),
        (0.05, "five times"),
        (0.01, "no reading by hand"),
    ],
)
def test_what_to_read_it_with(need, words):
    assert words in read_again(need)


def test_readings_come_in_the_seams_order():
    stations = (Station(id="low"), Station(id="high"))
    case = worked_out(
        dry(3, station="high", record_id="a"), dry(3, station="low", record_id="b"),
        handover(3, station="low", record_id="c"), station=stations,
    )  # fmt: skip
    assert [r.record for r in case.readings] == ["b", "c", "a"]


def test_evidence_points_to_the_key_in_the_record():
    reading = worked_out(dry(3)).readings[0]
    assert (reading.source.path, reading.source.key_path) == ("records/r1-dry.toml", "at[1].gap")
