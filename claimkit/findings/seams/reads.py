"""Which seams were sealed, or are about to be, with a station that was not read after fastening.

A reading after fastening is one that its record calls so, taken before the sealing began. An
interlocking joint shows no gap and is not asked for.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from claimkit.findings.delivery.impossible_steps import impossible_steps
from claimkit.findings.delivery.readiness import Step, steps
from claimkit.findings.pieces import plain_piece, same_piece
from claimkit.findings.seams.readings import has_station
from claimkit.findings.seams.states import FIXED_STAGES
from claimkit.findings.wording import record_source
from claimkit.findings.written_time import site_zone, stretch_of
from claimkit.model.answers import Answer
from claimkit.model.case import Case
from claimkit.model.gap import Meaning
from claimkit.model.job import Joint
from claimkit.model.measuring import Readings
from claimkit.model.moment import Interval, before
from claimkit.model.source import Source
from claimkit.model.stages import Event, Stage


@dataclass(frozen=True, slots=True)
class Unread:
    """A seam of one set of pieces with stations unread; `stations` is empty where it has none."""

    seam: str
    piece: str | None
    step: Step
    stations: tuple[str, ...]
    sources: tuple[Source, ...]


def sealed_unread(case: Case) -> tuple[Unread, ...]:
    """Give the seams that were sealed with a station unread since it was fastened."""
    return tuple(_unread(case, Event.SEALED))


def still_unread(case: Case) -> tuple[Unread, ...]:
    """Give the seams that are fastened, not sealed, and have a station unread since then."""
    sealed = {(seam, plain_piece(s.body.piece)): s for seam, s in _steps_of(case, Event.SEALED)}
    doubtful = impossible_steps(case)
    unsure = {
        (seam, plain_piece(s.body.piece))
        for s in steps(case, Event.SEALED)
        if s.record.id in doubtful
        for seam in _seams(case, s)
    }
    return tuple(
        unread
        for unread in _unread(case, Event.FASTENED)
        # Whether it is sealed is not known where the only record of it has an impossible time.
        if (unread.seam, plain_piece(unread.piece)) not in unsure - sealed.keys()
        and (
            (done := sealed.get((unread.seam, plain_piece(unread.piece)))) is None
            # Sealed, taken apart and fastened again: it is open once more.
            or before(done.began, unread.step.began) is Answer.YES
        )
    )


def read_in_time(case: Case) -> tuple[Unread, ...]:
    """Give the sealed seams whose every station was read after fastening, none left unread."""
    lacking = {(u.seam, plain_piece(u.piece)) for u in sealed_unread(case)}
    return tuple(
        Unread(seam, step.body.piece, step, (), _read(case, seam, step, Event.SEALED)[1])
        for seam, step in _steps_of(case, Event.SEALED)
        if (seam, plain_piece(step.body.piece)) not in lacking
    )


def _steps_of(case: Case, event: Event) -> Iterator[tuple[str, Step]]:
    """Give each seam with its last milestone of this event, for each set of pieces.

    A milestone with an impossible time is none of them.
    """
    last: dict[tuple[str, str], Step] = {}
    doubtful = impossible_steps(case)
    for step in (one for one in steps(case, event) if one.record.id not in doubtful):
        for seam in _seams(case, step):
            last[seam, plain_piece(step.body.piece)] = step
    for (seam, _), step in last.items():
        yield seam, step


def _seams(case: Case, step: Step) -> tuple[str, ...]:
    job = case.facts.job
    if job is None:
        return step.body.seams
    named = step.body.seams or tuple(seam.id for seam in job.seam)
    joints = {seam.id: seam.joint for seam in job.seam}
    return tuple(s for s in named if joints.get(s) is not Joint.INTERLOCKING)


def _unread(case: Case, event: Event) -> Iterator[Unread]:
    job = case.facts.job
    for seam, step in _steps_of(case, event):
        known = job.seam_named(seam) if job else None
        planned = tuple(station.id for station in known.station) if known else ()
        read, sources = _read(case, seam, step, event)
        missing = tuple(name for name in planned if name not in read)
        if missing or not read:
            yield Unread(seam, step.body.piece, step, missing, sources)


def _read(case: Case, seam: str, step: Step, event: Event) -> tuple[set[str], tuple[Source, ...]]:
    found: set[str] = set()
    sources: list[Source] = []
    for record in case.facts.in_force(Readings):
        body = record.body
        if not isinstance(body, Readings) or body.seam != seam:
            continue
        if not same_piece(body.piece, step.body.piece):
            continue
        taken = stretch_of(body.taken, site_zone(case.facts))
        if _is_since(body.stage, taken, step, event):
            found |= {r.station for r in body.at if has_station(case, seam, r.station)}
            sources.append(record_source(record, "taken"))
    for photo in case.readings:
        # What a photo shows is no readings record; those that decide are readings all the same.
        mine = photo.seam == seam and same_piece(photo.piece, step.body.piece)
        shown = photo.meaning is Meaning.OPENING
        if mine and shown and _is_since(photo.stage, photo.taken, step, event):
            found.add(photo.station)
            sources.append(photo.source)
    return found, tuple(sources)


def _is_since(stage: Stage, taken: Interval, step: Step, event: Event) -> bool:
    """Tell whether a reading was taken after the fastening and, where it is sealed, before that.

    One called so counts where its date does not contradict it; one of a later stage, such as the
    handover, where its date shows it.
    """
    if stage not in FIXED_STAGES:
        return False
    sealed = event is Event.SEALED
    right = before(taken, step.began) if sealed else before(step.began, taken)
    wrong = before(step.began, taken) if sealed else before(taken, step.began)
    return wrong is not Answer.YES if stage is Stage.FASTENED else right is Answer.YES
