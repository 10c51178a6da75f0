"""Readings taken while the pieces were still being fastened.

A stage is named by its record, and its end by the milestone. Where a reading precedes that end,
what the rest of the fastening did lies in the stretch after it, not in the one before.
"""

from __future__ import annotations

from claimkit.findings.seams.pairs import Pair, milestones
from claimkit.findings.seams.states import FIXED_STAGES
from claimkit.findings.seams.words import named
from claimkit.model.answers import Answer
from claimkit.model.case import Case
from claimkit.model.gap import GapReading
from claimkit.model.moment import before
from claimkit.model.records import Milestone
from claimkit.model.stages import Event


def rest_of_fastening(case: Case, pair: Pair) -> str:
    """Say into which stretch the rest of a fastening falls, where a reading precedes its end."""
    told = [
        f"The reading at {named(reading)} was taken before the fastening ended: the rest of it "
        f"falls into {stretch} stretch."
        for reading, stretch in ((pair.before, "this"), (pair.after, "the next"))
        if reading is not None and _amid_fastening(case, reading)
    ]
    return " ".join(told)


def _amid_fastening(case: Case, reading: GapReading) -> bool:
    if reading.stage not in FIXED_STAGES:
        return False
    for record, began in milestones(case, Event.FASTENED, reading.seam, reading.piece):
        ended = record.body.ended if isinstance(record.body, Milestone) else None
        if ended is None or before(began, reading.taken) is Answer.NO:
            continue
        if before(reading.taken, ended.interval(f"written in {record.path}")) is Answer.YES:
            return True
    return False
