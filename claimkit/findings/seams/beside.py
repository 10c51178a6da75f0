"""The readings record that stands beside a photo: same seam, stage and local day.

It says how the pieces stood when the photo was taken, how warm they were, and whether one panel
stood proud of the other; on a day without readings the step of the work says the first two. The
last milestone before it says which pieces those were.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from zoneinfo import ZoneInfo

from claimkit.findings.pieces import plain_piece
from claimkit.model.answers import Answer
from claimkit.model.case import Case
from claimkit.model.measuring import Reading, Readings
from claimkit.model.moment import Interval, before
from claimkit.model.records import Milestone
from claimkit.model.stages import Event, Stage


def local_day(case: Case, taken: Interval) -> date | None:
    """Give the local day at the site on which a stretch begins; None where nothing dates it."""
    zone = ZoneInfo(case.facts.job.site.zone if case.facts.job else "UTC")
    return taken.earliest.astimezone(zone).date() if taken.earliest else None


def record_beside(
    case: Case, seam: str, stage: Stage, day: date | None
) -> tuple[str, Readings] | tuple[None, None]:
    """Give id and body of the last readings record of the same seam, stage and local day.

    None where there is none, or several that name different pieces.
    """
    found = list(_readings(case, seam, stage, day))
    pieces = {plain_piece(body.piece) for _, body in found}
    return found[-1] if len(pieces) == 1 else (None, None)


def _readings(
    case: Case, seam: str, stage: Stage, day: date | None
) -> Iterator[tuple[str, Readings]]:
    for record in case.facts.in_force(Readings):
        body = record.body
        if isinstance(body, Readings) and body.seam == seam and body.stage is stage:
            taken = body.taken.interval(f"written in {record.path}")
            if day is not None and local_day(case, taken) == day:
                yield record.id, body


def state_beside(
    case: Case, seam: str, stage: Stage, day: date | None
) -> tuple[str, Readings | Milestone] | tuple[None, None]:
    """Give id and body of the record that says how the pieces stood when a photo was taken.

    That is the readings record beside it; where nobody read that seam in that stage and day, the
    step of the work that began the stage on that day. None where several name different pieces.
    """
    if day is None or any(True for _ in _readings(case, seam, stage, day)):
        return record_beside(case, seam, stage, day)
    steps = [
        (record.id, record.body)
        for record in case.facts.in_force(Milestone)
        if isinstance(record.body, Milestone)
        and record.body.event.value == stage.value
        and (not record.body.seams or seam in record.body.seams)
        and local_day(case, record.body.began.interval(f"written in {record.path}")) == day
        and _says_how(record.body)
    ]
    pieces = {plain_piece(step.piece) for _, step in steps}
    return steps[-1] if len(pieces) == 1 else (None, None)


def _says_how(step: Milestone) -> bool:
    said = (step.temperature, step.place, step.set_level, step.clamped)
    return any(one is not None for one in said)


def begins_stage(step: Milestone) -> bool:
    """Tell whether a step of the work begins a stage: the two have one word."""
    return step.event.value in {stage.value for stage in Stage}


def last_step(case: Case, seam: str, taken: Interval) -> Milestone | None:
    """Give the last dry fit, fastening or sealing of a seam that is not certainly after a photo.

    It tells which set of pieces stood there, and whether the joint was filled.
    """
    steps = [
        record.body
        for record in case.facts.in_force(Milestone)
        if isinstance(record.body, Milestone)
        and record.body.event in (Event.DRY_FIT, Event.FASTENED, Event.SEALED)
        and (not record.body.seams or seam in record.body.seams)
        and before(taken, record.body.began.interval("as recorded")) is not Answer.YES
    ]
    return max(steps, key=lambda body: body.began.at, default=None)


def step_beside(case: Case, place: tuple[str, str], stage: Stage, day: date | None) -> float | None:
    """Give how far the panel at the card's right stands proud in mm, where a record says it.

    `place` is the seam and the station.
    """
    seam, station = place
    _, body = record_beside(case, seam, stage, day)
    at: tuple[Reading, ...] = body.at if body else ()
    steps = [r.step for r in at if r.station == station and r.step is not None]
    return float(steps[-1].mm) if steps else None
