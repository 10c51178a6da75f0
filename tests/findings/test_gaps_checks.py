"""What the findings on gaps say: plainly in both directions, with evidence and a next step."""

from __future__ import annotations

import pytest

from claimkit.findings.delivery import check_work
from claimkit.findings.seams.check_gaps import CHECKS
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.job import Station
from claimkit.model.stages import Event
from tests.build import AS_OF, NOW, mm
from tests.findings.cases_check_gaps import CASES
from tests.findings.gap_build import (
    complaint,
    dry,
    fastened,
    fastening,
    handover,
    known_facts,
    milestone,
    worked_out,
)

RUN = {rule: run for rule, _, run in CHECKS}
ONE = {"station": (Station(id="top"),)}


def said(rule: str, case: Case) -> Finding:
    found = RUN[rule](case)
    assert len(found) == 1, found
    assert isinstance(found[0], Finding)
    return found[0]


def reason_of(rule: str, case: Case) -> str:
    found = RUN[rule](case)
    assert len(found) == 1, found
    assert isinstance(found[0], NotChecked)
    return found[0].reason


@pytest.mark.parametrize("rule", sorted(RUN))
def test_every_rule_fires_on_its_case_and_is_silent_on_the_other(rule):
    fires, silent = CASES[rule]
    found = RUN[rule](fires())
    assert found
    assert {result.rule for result in found} == {rule}
    assert RUN[rule](silent()) == ()
    for result in found:
        if isinstance(result, Finding):
            assert result.evidence
            assert result.citation
            assert result.message.endswith(".")
            assert not result.do_next or result.do_next.endswith(".")
        else:
            assert not result.crashed
            assert result.reason.endswith(".")


def test_a_gap_that_opened_is_said_as_plainly_as_one_that_was_there():
    was_there = said("gap-out-at-dry-fit", worked_out(dry(5), handover(5), **ONE))
    came = said("gap-opened", worked_out(dry(3), fastened(3), handover(5), **ONE))
    assert was_there.standing is Standing.SUPPORTS
    assert came.standing is Standing.AGAINST
    assert came.message.startswith(
        "The gap opened between fastening (2026-05-05) and handover (2026-05-08)."
    )
    assert "unchanged between the dry fit (2026-05-04) and fastening" in came.message
    assert {s.path for s in came.evidence} == {
        "records/r1-dry.toml",
        "records/r2-fastened.toml",
        "records/r3-handover.toml",
        "job.toml",
    }


def test_an_opening_that_no_single_step_shows_is_said_so():
    # Three steps of 0.6 mm: none passes 0.8 mm, all of them together do.
    case = worked_out(
        dry("2.0"), fastened("2.6"), handover("3.2"), complaint("3.8"), tolerance=mm("0.8")
    )
    assert "no single step" in said("gap-opened", case).message


def test_an_opening_that_closed_again_is_still_told():
    case = worked_out(dry(3), fastened(5), handover(3))
    assert "and fastening" in said("gap-opened", case).message
    assert "handover" in said("gap-closed", case).message
    assert said("gap-unchanged", case)


def test_out_at_dry_fit_is_urgent_only_while_it_can_be_mended():
    loose = said("gap-out-at-dry-fit", worked_out(dry(5)))
    assert loose.urgent
    assert loose.do_next.startswith("Do not fasten.")
    fixed = said("gap-out-at-dry-fit", worked_out(dry(5), fastening()))
    assert not fixed.urgent
    assert "fasten." not in fixed.do_next


def test_within_at_the_dry_fit_counts_against_where_it_is_out_now():
    assert said("gap-in-at-dry-fit", worked_out(dry(3), handover(5))).standing is Standing.AGAINST
    assert said("gap-in-at-dry-fit", worked_out(dry(3), handover(3))).standing is Standing.SUPPORTS
    assert said("gap-in-at-dry-fit", worked_out(dry(3))).standing is Standing.NOTE


def test_out_now_as_at_the_dry_fit_is_not_held_against():
    assert said("gap-out-now", worked_out(dry(5), handover(5))).standing is Standing.NOTE
    assert said("gap-out-now", worked_out(dry(3), handover(5))).standing is Standing.AGAINST


def test_no_dry_fit_is_urgent_until_fastened():
    assert said("gap-no-dry-fit", worked_out(**ONE)).urgent
    late = said("gap-no-dry-fit", worked_out(fastening(), **ONE))
    assert not late.urgent
    assert "cannot be made good" in late.do_next


def test_no_dry_fit_names_the_stations_that_lack_it():
    case = worked_out(dry(3), station=(Station(id="top"), Station(id="low"), Station(id="mid")))
    assert said("gap-no-dry-fit", case).message.startswith("Stations low and mid have no")


def test_a_dry_fit_of_other_pieces_is_not_compared():
    case = worked_out(dry(3), handover(5, piece="replacement panel"), **ONE)
    assert "replacement piece replacement panel" in reason_of("gap-states-differ", case)


def test_stations_together_need_more_than_one_alone():
    # +1.07 mm at one of three: alone over 0.8 + 1.645 u, together short of 0.8 + 2.13 u.
    stations = ("a", "b", "c")
    later = {"a": "4.07", "b": "3.0", "c": "3.0"}
    records = [dry(3, station=s, record_id=f"d-{s}") for s in stations]
    records += [handover(later[s], station=s, record_id=f"h-{s}") for s in stations]
    case = worked_out(*records, design_gap_max=mm(6), station=())
    assert [f.where for f in RUN["gap-opened"](case)] == ["seam s1, station a"]
    together = said("gap-seam-together", case).message
    assert "3 stations judged together (k = 2.13)" in together
    assert "cannot tell at a; unchanged at b and c" in together


def test_fits_together_need_more_than_one_alone():
    # 0.19 mm inside the limit is 1.88 u: enough alone (1.645), not among three (2.13).
    records = [dry("3.81", station=s, record_id=f"d-{s}") for s in "abc"]
    case = worked_out(*records, station=())
    assert len(RUN["gap-in-at-dry-fit"](case)) == 3
    assert (
        "3 stations together: cannot tell at a, b and c." in said("gap-seam-together", case).message
    )


def test_a_later_reading_is_asked_for_once():
    """Between fastening and sealing, and where it was sealed unread, the work's rules tell it."""
    sealed = milestone(Event.SEALED, "2026-05-06 09:00", "m-sealed")
    rule = "gap-no-later-reading"
    assert not said(rule, worked_out(dry(3))).urgent
    assert "before the sealant" in said(rule, worked_out(dry(3))).do_next
    for records, other in (
        ((dry(3), fastening()), "work-read-before-sealing"),
        ((dry(3), fastening(), sealed), "work-sealed-unread"),
    ):
        for stations in ({}, {"station": ()}):
            whole = worked_out(*records, **stations)
            assert RUN[rule](whole) == ()
            told = [f for r, _, run in check_work.CHECKS if r == other for f in run(whole)]
            assert len(told) == 1
            assert told[0].urgent is (other == "work-read-before-sealing")


def test_readings_of_two_episodes_may_differ():
    assert RUN["gap-readings-disagree"](worked_out(dry(3), handover(6))) == ()


def test_stations_together_all_unchanged_support():
    records = [dry(3, station=s, record_id=f"d-{s}") for s in "ab"]
    records += [handover(3, station=s, record_id=f"h-{s}") for s in "ab"]
    together = said("gap-seam-together", worked_out(*records, station=()))
    assert together.standing is Standing.SUPPORTS


def test_unknown_seams_are_named_not_hidden():
    case = worked_out(dry(3, seam_id="s9"), **ONE)
    assert "s9" in RUN["gap-reading-not-usable"](case)[0].where


def test_nothing_is_said_of_an_empty_job():
    from dataclasses import replace

    bare = Case(replace(known_facts(), job=None), AS_OF, NOW)
    assert [result for run in RUN.values() for result in run(bare)] == []


def test_no_finding_lays_a_complaint_to_the_work():
    case = worked_out(dry(3), complaint(6), **ONE)
    told = [r for run in RUN.values() for r in run(case)]
    texts = [r.message if isinstance(r, Finding) else r.reason for r in told]
    assert any("the complaint (2026-05-18)" in text for text in texts)
    assert not [text for text in texts if "install" in text.lower()]
    assert not [text for text in texts if "fault" in text.lower()]
