"""A seam with stations at places along it, read in one or two episodes, for tests of its line."""

from __future__ import annotations

from claimkit.findings.seams import seam_lines
from claimkit.model.case import Case
from claimkit.model.job import Station
from claimkit.model.measuring import Instrument, Reading, Readings
from claimkit.model.stages import Stage
from tests.build import mm, moment, record
from tests.findings.gap_build import STOOD, known_facts, worked_out

DAYS = {
    Stage.DRY_FIT: "2026-05-04 10:00",
    Stage.FASTENED: "2026-05-05 10:00",
    Stage.HANDOVER: "2026-05-08 10:00",
}


def at_places(*places):
    """Stations a, b ... at places in mm; None for one whose place is not entered."""
    return tuple(
        Station(id="abcdefghij"[n], at=None if at is None else mm(at))
        for n, at in enumerate(places)
    )


def all_read(stage, *gaps, seam_id="s1", record_id=None, **more):
    """One record with stations a, b, c ... read; None leaves a station out. A feeler gauge."""
    state = STOOD if stage is Stage.DRY_FIT else {}
    values = {"instrument": Instrument.FEELER, "taken": moment(DAYS[stage])} | state | more
    rows = tuple(
        Reading(station="abcdefghij"[n], gap=(mm(gap),))
        for n, gap in enumerate(gaps)
        if gap is not None
    )
    body = Readings(seam=seam_id, stage=stage, at=rows, **values)
    return record(record_id or f"r-{stage.value.replace(' ', '-')}-{seam_id}", body)


def dry_fit(*gaps, **more):
    return all_read(Stage.DRY_FIT, *gaps, **more)


def handed_over(*gaps, **more):
    return all_read(Stage.HANDOVER, *gaps, **more)


def fixed(*gaps, **more):
    return all_read(Stage.FASTENED, *gaps, **more)


def lines_of(*records, **of_seam) -> Case:
    """The case with its gaps and lines worked out and nothing else."""
    return seam_lines.work_out(worked_out(*records, **of_seam))


def line_of(*records, **of_seam):
    """The one line from the dry fit to the latest readings."""
    found = [line for line in lines_of(*records, **of_seam).lines if not line.step]
    assert len(found) == 1, found
    return found[0]


__all__ = [
    "all_read", "at_places", "dry_fit", "fixed", "handed_over", "known_facts", "line_of",
    "lines_of",
]  # fmt: skip
