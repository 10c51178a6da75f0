"""Short builders for readings of gaps, used by the tests of this part only."""

from __future__ import annotations

from claimkit.findings.seams import gaps
from claimkit.model.case import Case
from claimkit.model.measuring import Instrument, Reading, Readings
from claimkit.model.records import Milestone
from claimkit.model.stages import Event, Stage
from tests.build import AS_OF, NOW, facts, job, mm, moment, record, seam

STOOD = {"place": "in the opening", "set_level": True, "clamped": True}


def read(record_id, stage, taken, *gap, station="top", witness=(), seam_id="s1", **more):
    """A readings record of one station; gaps in mm or as lengths, a feeler gauge by default."""
    lengths = tuple(g if hasattr(g, "mm") else mm(g) for g in gap)
    more.setdefault("instrument", Instrument.FEELER)
    body = Readings(
        seam=seam_id,
        stage=stage,
        taken=moment(taken),
        at=(Reading(station=station, gap=lengths, witness=tuple(witness)),),
        **more,
    )
    return record(record_id, body)


def dry(*gap, record_id="r1-dry", taken="2026-05-04 10:00", **more):
    return read(record_id, Stage.DRY_FIT, taken, *gap, **(STOOD | more))


def fastened(*gap, record_id="r2-fastened", taken="2026-05-05 10:00", **more):
    return read(record_id, Stage.FASTENED, taken, *gap, **more)


def handover(*gap, record_id="r3-handover", taken="2026-05-08 10:00", **more):
    return read(record_id, Stage.HANDOVER, taken, *gap, **more)


def complaint(*gap, record_id="r4-complaint", taken="2026-05-18 10:00", **more):
    return read(record_id, Stage.COMPLAINT, taken, *gap, **more)


def milestone(event, began, record_id="m-1", **more):
    return record(record_id, Milestone(event=event, began=moment(began), **more))


def fastening(began="2026-05-05 09:00", **more):
    return milestone(Event.FASTENED, began, "m-fastened", **more)


def known_facts(*records, photos=(), **of_seam):
    """Facts with these records and one seam, changed as given."""
    return facts(job_=job(seam=(seam(**of_seam),)), records=records, photos=photos)


def worked_out(*records, **of_seam):
    """The case with its gaps worked out and nothing else."""
    return gaps.work_out(Case(known_facts(*records, **of_seam), AS_OF, NOW))


def whole(case, station="top"):
    """The comparison of the dry fit with the latest reading of one station."""
    found = [c for c in case.comparisons if not c.step and c.station == station]
    assert len(found) == 1, found
    return found[0]


def steps(case):
    """Steps as (from stage, to stage, answer)."""
    return [
        (c.before.stage.value, c.after.stage.value, c.change.change.value)
        for c in case.comparisons
        if c.step
    ]
