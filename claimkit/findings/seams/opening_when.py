"""Whether an opening check shows the state before fastening, and whether anything is fastened yet.

A milestone dates the fastening; where none does, readings of the pieces show on which side of it
they lie. A check made after fastening shows how things stand since, never how they stood before.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from claimkit.findings.pieces import same_piece
from claimkit.findings.seams.pairs import milestones
from claimkit.findings.seams.states import FIXED_STAGES
from claimkit.findings.seams.words import named, place
from claimkit.findings.wording import listed
from claimkit.model.answers import Answer
from claimkit.model.case import Case
from claimkit.model.gap import GapReading
from claimkit.model.job import Joint
from claimkit.model.moment import Interval, before
from claimkit.model.stages import Event, Stage

LOOSE = frozenset({Stage.DRY_FIT, Stage.BEFORE_FASTENING})


@dataclass(frozen=True, slots=True)
class Standing:
    """Before fastening or not, the words for it, and whether all is loose still."""

    before: Answer
    words: str
    loose: bool


def joints_that_gape(case: Case) -> tuple[str, ...]:
    """Give the seams that have a gap: all but interlocking joints."""
    job = case.facts.job
    return tuple(s.id for s in (job.seam if job else ()) if s.joint is not Joint.INTERLOCKING)


def standing(case: Case, seams: tuple[str, ...], taken: Interval) -> Standing:
    """Place an opening check against the fastening of what stands in it; none named is all."""
    about = seams or joints_that_gape(case)
    rows = list(fastenings(case, about))
    if rows:
        return _by_milestones(rows, taken)
    readings = [r for r in case.readings if r.seam in about]
    fixed = [r for r in readings if r.stage in FIXED_STAGES]
    if not fixed:
        return Standing(Answer.YES, "nothing that stands in it is recorded as fastened", True)
    return _by_readings(readings, fixed, taken)


def before_piece(case: Case, seam: str, piece: str | None, taken: Interval) -> Answer:
    """Tell whether a check came before these pieces were fastened at this seam."""
    at = _fastened(case, seam, piece)
    if at is not None:
        if before(taken, at) is Answer.YES:
            return Answer.YES
        return Answer.NO if before(at, taken) is Answer.YES else Answer.CANNOT_TELL
    mine = [r for r in case.readings if r.seam == seam and same_piece(r.piece, piece)]
    fixed = [r for r in mine if r.stage in FIXED_STAGES]
    return _by_readings(mine, fixed, taken).before if fixed else Answer.YES


def fastenings(case: Case, seams: tuple[str, ...]) -> Iterator[tuple[str, str, Interval]]:
    """Give the fastening of each seam and set of pieces in order of time: what, when, stretch."""
    pieces: list[str | None] = [None]
    for reading in case.readings:
        if not any(same_piece(reading.piece, known) for known in pieces):
            pieces.append(reading.piece)
    found = []
    for seam in seams:
        for piece in pieces:
            at = _fastened(case, seam, piece)
            if at is not None:
                begins = f"{at.earliest:%Y-%m-%d %H:%M}" if at.earliest else "day not known"
                found.append((place(seam, None, piece), begins, at))
    yield from sorted(found, key=lambda row: (row[1], row[0]))


def _fastened(case: Case, seam: str, piece: str | None) -> Interval | None:
    """Give the first fastening that no later dry fit of the same pieces undid."""
    again = [at for _, at in milestones(case, Event.DRY_FIT, seam, piece)]
    for _, at in milestones(case, Event.FASTENED, seam, piece):
        if not any(before(at, fitted) is Answer.YES for fitted in again):
            return at
    return None


def _by_milestones(rows: list[tuple[str, str, Interval]], taken: Interval) -> Standing:
    later = [row for row in rows if before(taken, row[2]) is Answer.YES]
    earlier = [row for row in rows if before(row[2], taken) is Answer.YES]
    if len(later) == len(rows):
        return Standing(Answer.YES, f"before fastening began ({rows[0][1]})", False)
    if later and earlier:
        return Standing(
            Answer.YES,
            f"after {earlier[-1][0]} was fastened ({earlier[-1][1]}) and before {later[0][0]} was "
            f"({later[0][1]})",
            False,
        )
    if len(earlier) == len(rows):
        return Standing(
            Answer.NO,
            f"after fastening began ({rows[0][1]}): it cannot show the state before",
            False,
        )
    days = listed(list(dict.fromkeys(row[1] for row in rows)))
    told = f"whether before or after fastening ({days}) cannot be told from the times written"
    return Standing(Answer.CANNOT_TELL, told, False)


def _by_readings(readings: list[GapReading], fixed: list[GapReading], taken: Interval) -> Standing:
    """Use the stages of readings: before a loose one is before fastening, after a fixed one not."""
    loose = [r for r in readings if r.stage in LOOSE and before(taken, r.taken) is Answer.YES]
    if loose:
        return Standing(Answer.YES, f"before {named(loose[0])}", False)
    past = [r for r in fixed if before(r.taken, taken) is Answer.YES]
    if past:
        told = f"after the reading at {named(past[0])}: it cannot show the state before"
        return Standing(Answer.NO, told, False)
    told = "whether before or after fastening cannot be told, as no record dates the fastening"
    return Standing(Answer.CANNOT_TELL, told, False)
