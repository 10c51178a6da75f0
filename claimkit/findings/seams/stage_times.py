"""Which stage the recorded steps of the work had reached at a time, and what lies far from its own.

A reading belongs to the last step that is not after it. One of an earlier day than its step, of a
later day than the step after it, or long after the handover is told: it was made at another time
than its stage says, or its date is wrong.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import timedelta

from claimkit.findings.pieces import same_piece
from claimkit.findings.seams.beside import local_day
from claimkit.findings.seams.gaps import readings_records
from claimkit.findings.seams.pairs import ORDER, contradiction, milestones
from claimkit.findings.seams.words import STAGE_WORDS, WITNESS, place
from claimkit.findings.wording import counted
from claimkit.model.answers import Answer
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.moment import Interval, before
from claimkit.model.records import Milestone, Record
from claimkit.model.source import Source
from claimkit.model.stages import Event, Stage

Results = tuple[Finding | NotChecked, ...]

STEP_OF = {stage: event for stage in Stage for event in Event if stage.value == event.value}
"""The step of the work that begins each stage; the two have one word."""
LONG_AFTER = timedelta(days=7)
"""How long after the handover a reading may still be called one of the handover (our own)."""


def stage_at(case: Case, seams: Iterable[str], taken: Interval) -> Stage | None:
    """Give the stage that the steps of any of these seams had reached; None where none had.

    Long after the handover it is the complaint: whoever reads then has been called back.
    """
    found = [
        (_first(began), ORDER[stage], stage, began)
        for stage, event in STEP_OF.items()
        for record in case.facts.in_force(Milestone)
        if isinstance(body := record.body, Milestone)
        and body.event is event
        and (not body.seams or set(body.seams) & set(seams))
        and before(taken, began := body.began.interval(record.path)) is not Answer.YES
    ]
    if not found:
        return None
    _, _, stage, began = max(found, key=lambda row: row[:2])
    return Stage.COMPLAINT if stage is Stage.HANDOVER and _long_after(began, taken) else stage


def far_from_step(
    case: Case, place_: tuple[str, str | None], stage: Stage, taken: Interval
) -> tuple[str, Record] | None:
    """Say how far a time lies from its stage, and by which step; None where it fits or none says.

    `place_` is the seam and its replacement piece.
    """
    seam, piece = place_
    own = milestones(case, STEP_OF[stage], seam, piece) if stage in STEP_OF else ()
    if own and all(_days(taken, at, case) > 0 for _, at in own):
        return _said(own[0][0], _days(taken, own[0][1], case), "before", stage), own[0][0]
    reached = [
        (_first(at), ORDER[other], other, record, at)
        for other, event in STEP_OF.items()
        for record, at in milestones(case, event, seam, piece)
        if before(taken, at) is not Answer.YES
    ]
    if not reached:
        return None
    _, order, other, record, at = max(reached, key=lambda row: row[:2])
    days = _days(at, taken, case)
    later = order > ORDER[stage] and days > 0
    if later or (other is stage is Stage.HANDOVER and _long_after(at, taken)):
        return _said(record, days, "after", other), record
    return None


def far_from_its_step(case: Case) -> Results:
    """Name readings that lie far from the recorded step of their stage."""
    found = []
    for record, body in readings_records(case):
        mine = [
            r for r in case.readings if r.record == record.id and same_piece(r.piece, body.piece)
        ]
        if not mine or any(contradiction(case, r) for r in mine):
            continue  # what contradicts itself is told as that
        told = far_from_step(case, (body.seam, body.piece), body.stage, mine[0].taken)
        if told is None:
            continue
        said, step = told
        found.append(
            Finding(
                "gap-stage-far-from-step",
                Standing.MISSING,
                f"{record.path}, {place(body.seam, None, body.piece)}",
                f"It says {body.stage.value} and lies {said}.",
                "Correct the stage or the date in a record that replaces it; or record the step "
                "of the work that it belongs to, such as the complaint.",
                (
                    Source(path=record.path, sha256=record.sha256, key_path="taken"),
                    Source(path=step.path, sha256=step.sha256, key_path="began"),
                ),
                WITNESS,
            )
        )
    return tuple(found)


def _said(step: Record, days: int, side: str, stage: Stage) -> str:
    return f"{counted(days, 'day')} {side} {STAGE_WORDS[stage]} as recorded ({step.path})"


def _days(earlier: Interval, later: Interval, case: Case) -> int:
    """Give the local days from one time to another; 0 where they may be of one day."""
    a, b = local_day(case, earlier), local_day(case, later)
    return (b - a).days if a and b else 0


def _first(at: Interval) -> float:
    return at.earliest.timestamp() if at.earliest else 0.0


def _long_after(began: Interval, taken: Interval) -> bool:
    return (
        began.latest is not None
        and taken.earliest is not None
        and taken.earliest - began.latest > LONG_AFTER
    )


CHECKS: tuple[tuple[str, str, Callable[[Case], Results]], ...] = (
    (
        "gap-stage-far-from-step",
        "A reading lies far from the recorded step of its stage",
        far_from_its_step,
    ),
)
