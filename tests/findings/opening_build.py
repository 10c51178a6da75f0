"""Short builders for opening checks, used by the tests of this part only."""

from __future__ import annotations

from fractions import Fraction

from claimkit.findings.seams import gaps, opening, seam_lines
from claimkit.model.case import Case
from claimkit.model.job import Joint, Opening, Station
from claimkit.model.measuring import Instrument, Line, Offset, OpeningCheck, Reading, Readings
from claimkit.model.quantities import Length
from claimkit.model.stages import Stage
from tests.build import AS_OF, NOW, facts, job, mm, moment, record, seam
from tests.findings.gap_build import STOOD

BEFORE, AFTER = "2026-05-04 09:00", "2026-05-07 09:00"
STATIONS = {"foot": 100, "middle": 1000, "top": 1900}
MAKER = "maker's instructions, step 2"


def offsets(table):
    """Offsets from {place in mm: offset in mm, or a list of repeats}."""
    return tuple(
        Offset(at=mm(at), offset=Length(Fraction(str(value)), f"{value} mm"))
        for at, read in table.items()
        for value in (read if isinstance(read, list) else [read])
    )


def check(record_id="o1", taken=BEFORE, *, plumb=None, level=None, **more):
    """A check with a rule to 0.5 mm from a plumb line, of the left wall and seam s1."""
    values = {
        "opening": "left wall",
        "taken": moment(taken),
        "instrument": Instrument.RULE_HALF_MM,
        "line": Line.PLUMB_LINE,
        "tape": Instrument.TAPE_MM,
        "seams": ("s1",),
        "plumb": offsets(plumb or {}),
        "level": offsets(level or {}),
    }
    return record(record_id, OpeningCheck(**(values | more)))


def opening_entry(**more):
    """3 mm over 2 m, in plumb and level; diagonals within 3 mm."""
    values = {
        "name": "left wall",
        "plumb_tolerance": mm(3),
        "plumb_over": mm(2000),
        "level_tolerance": mm(3),
        "level_over": mm(2000),
        "square_tolerance": mm(3),
        "tolerance_source": MAKER,
    }
    return Opening(**(values | more))


def corner(**more):
    """An upright corner seam read at foot, middle and top."""
    stations = tuple(Station(id=name, at=mm(at)) for name, at in STATIONS.items())
    return seam(**({"joint": Joint.CORNER, "station": stations} | more))


def butt(**more):
    return corner(joint=Joint.BUTT, **more)


def read_all(record_id, stage, taken, gaps_mm, **more):
    """Readings of all three stations with a taper gauge: [foot, middle, top]."""
    more = {"instrument": Instrument.TAPER_GAUGE, "instrument_id": "gauge 7"} | more
    at = tuple(
        Reading(station=name, gap=(mm(gap),)) for name, gap in zip(STATIONS, gaps_mm, strict=True)
    )
    return record(record_id, Readings(seam="s1", stage=stage, taken=moment(taken), at=at, **more))


def fitted(*gaps_mm, taken="2026-05-04 10:00", **more):
    return read_all("r1-dry", Stage.DRY_FIT, taken, gaps_mm, **(STOOD | more))


def handed_over(*gaps_mm, **more):
    return read_all("r3-handover", Stage.HANDOVER, "2026-05-08 10:00", gaps_mm, **more)


def opening_facts(*records, seam_=None, openings=None, **of_job):
    entries = (opening_entry(),) if openings is None else openings
    return facts(job_=job(seam=(seam_ or corner(),), opening=entries, **of_job), records=records)


def worked_out(*records, **more):
    """The case with gaps, lines and openings worked out and nothing else."""
    case = Case(opening_facts(*records, **more), AS_OF, NOW)
    return opening.work_out(seam_lines.work_out(gaps.work_out(case)))


def one_result(case, what, number=-1):
    """The result of that kind of one check."""
    found = [r for r in case.openings[number].results if r.what is what]
    assert len(found) == 1, found
    return found[0]
