"""Advice names what is wanting and nothing that is there already; no sentence stands twice."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from claimkit.compose.terminal.gap_lines import gaps
from claimkit.compose.terminal.lines import grouped
from claimkit.findings.seams.answers import read_again
from claimkit.model.case import Case, Finding, Standing
from claimkit.model.job import Station
from claimkit.model.measuring import Instrument
from claimkit.model.stages import Event
from tests.build import case, facts
from tests.findings.cases_check_work import goods, panel, tray
from tests.findings.gap_build import dry, fastening, handover, known_facts, worked_out
from tests.findings.line_build import at_places, dry_fit, handed_over
from tests.findings.work_build import damage, delivery, step, unpacking

GAUGE = {"instrument": Instrument.TAPER_GAUGE, "instrument_id": "gauge 2"}


def only(whole: Case, rule: str) -> Finding:
    (found,) = [f for f in whole.findings if f.rule == rule]
    return found


def plain(lines: list[str]) -> str:
    return " ".join(" ".join(lines).split())


@pytest.mark.parametrize(
    "kept, told",
    [
        ("the garage", "It is recorded as kept: the garage. Leave it there."),
        (None, "Record where it is kept (unpacking record, packing_kept)."),
        ("no", "Record where it is kept (unpacking record, packing_kept)."),
    ],
)
def test_where_the_packing_is_kept_is_asked_for_once(kept: str | None, told: str) -> None:
    whole = case(facts(records=[delivery(), unpacking(packing_kept=kept), damage()]))
    assert only(whole, "claim-keep-packing").do_next == told


@pytest.mark.parametrize(
    "stations, told",
    [
        (at_places(0, 1000), "Enter a third station between them in job.toml"),
        (at_places(0, 1000, 2000), "Read station c with the others: job.toml has it"),
        ((*at_places(0, 1000), Station(id="c")), "Enter the distance (at) of station c"),
    ],
)
def test_a_third_station_that_is_there_is_only_read(
    stations: tuple[Station, ...], told: str
) -> None:
    whole = case(known_facts(dry_fit(3, 3), handed_over(3, 3), station=stations))
    assert only(whole, "seam-line-two-points").do_next.startswith(told)


def test_a_slip_among_the_repeats_asks_for_no_coarser_instrument() -> None:
    """2.2, 9.9 and 2.1 mm with a gauge of 0.1 mm: a tape of 1.6 mm would mend nothing."""
    whole = worked_out(dry("2.2", "9.9", "2.1", **GAUGE))
    (compared,) = whole.comparisons
    settle = compared.at_dry_fit.settle
    assert "tape 1/16" not in settle
    assert "Read it again with the taper gauge 0.1 mm (gauge 2), three times" in settle
    assert "2.2 mm, 9.9 mm, 2.1 mm lie too far apart" in settle
    # With a coarse tape a finer instrument is what helps.
    tape = worked_out(dry(3, instrument=Instrument.TAPE_16TH)).readings[0]
    assert read_again(0.3, tape) == read_again(0.3)


@pytest.mark.parametrize("other", [GAUGE, {"instrument": Instrument.FEELER}])
def test_one_gauge_is_not_set_beside_itself(other: dict[str, object]) -> None:
    first, second = dry(3, **GAUGE), dry("4.5", record_id="r-again", **other)
    do = only(case(known_facts(first, second)), "gap-readings-disagree").do_next
    assert ("side by side" in do) is (other is not GAUGE)
    assert ("Both were made with a taper gauge 0.1 mm (gauge 2)" in do) is (other is GAUGE)


def test_what_a_dry_fit_leaves_out_is_named_where_several_are_told_together() -> None:
    records = [dry(3, place=None), dry(3, place=None, clamped=None, record_id="r-2")]
    told = plain(grouped([
        f for f in case(known_facts(*records)).findings if f.rule == "gap-state-not-recorded"
    ]))  # fmt: skip
    assert "r1-dry.toml, seam s1: place." in told
    assert "r-2.toml, seam s1: place and clamped" in told
    assert "level" not in told


def test_after_the_fastening_nothing_is_asked_for_before_it() -> None:
    loose = only(goods(panel(None), tray()), "received-not-checked")
    assert "before the pieces are fastened" in loose.do_next
    unchecked = goods(panel(None), tray()).facts
    fixed = case(
        replace(unchecked, records=(*unchecked.records, step(Event.FASTENED, "2026-05-08")))
    )
    done = only(fixed, "received-not-checked")
    assert "before the pieces are fastened" not in done.do_next
    assert "what can still be reached" in done.do_next


def finding(where: str, message: str, do_next: str) -> Finding:
    return Finding("r", Standing.MISSING, where, message, do_next, (), "c")


def test_no_sentence_and_no_opening_stands_twice() -> None:
    told = plain(grouped([
        finding("a", "x", "What would settle it: Ask one. Who the maker is."),
        finding("b", "y", "What would settle it: Ask two. Who the maker is."),
    ]))  # fmt: skip
    assert "What would settle it: Ask one. Who the maker is. Ask two." in told


def test_papers_that_are_missing_are_told_with_one_advice() -> None:
    whole = case(facts(records=[delivery(), unpacking(), damage()]))
    missing = [f for f in whole.findings if f.rule == "paper-missing"]
    assert len(missing) > 2
    told = plain(grouped(missing))
    assert told.count("Put it into documents/") == 1
    for found in missing:
        assert re.search("“(.+)” is named", found.message)[1] in told  # type: ignore[index]


def test_what_settles_several_stations_is_told_once() -> None:
    tape = {"instrument": Instrument.TAPE_16TH}
    records = [fastening()]
    for name in ("a", "b", "c"):
        records += [
            dry(3, record_id=f"d-{name}", station=name),
            handover(3, record_id=f"h-{name}", station=name, **tape),
        ]
    told = plain(gaps(case(known_facts(*records, station=at_places(0, 900, 1800)))))
    assert told.count("rule 1 mm or finer: a standard uncertainty of at most 0.47 mm") == 2
    assert "(seam s1, a, b, c): Read it with a rule 1 mm or finer" in told
