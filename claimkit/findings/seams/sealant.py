"""Readings of a joint that was filled: what the sealant shows, and not the gap beneath it.

A filled joint hides the faces between which a gap is read. A photo of a scale card over one is
refused, and a reading by hand is kept and shown with those words and compared with nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from claimkit.findings.delivery.impossible_steps import impossible_steps
from claimkit.findings.seams.pairs import milestones
from claimkit.findings.seams.words import listed, named, place, with_u
from claimkit.model.answers import Answer
from claimkit.model.case import Case, NotChecked
from claimkit.model.gap import GapReading
from claimkit.model.moment import Interval, before
from claimkit.model.stages import Event, Stage

RULE = "gap-over-sealant"
TOLD = "read over the sealant: what lies beneath cannot be told"
AGAIN = "It can be read again only where the sealant is cut out."
LOOSE = (Stage.ARRIVAL, Stage.CURB, Stage.UNPACKING, Stage.DRY_FIT, Stage.BEFORE_FASTENING)


def marked_where_sealed(case: Case, readings: tuple[GapReading, ...]) -> tuple[GapReading, ...]:
    """Give the readings, those of a filled joint marked as such."""
    doubtful = impossible_steps(case)
    return tuple(
        replace(reading, over_sealant=True) if _filled(case, reading, doubtful) else reading
        for reading in readings
    )


def _filled(case: Case, reading: GapReading, doubtful: frozenset[str]) -> bool:
    """Tell whether the joint was filled when it was read, by its stage and the milestones.

    A reading called after fastening counts as made before the sealant unless its date is
    certainly later; handover and complaint come after the sealing unless theirs is earlier.
    Pieces set together or fastened anew stand open again.
    """
    if reading.stage in LOOSE:
        return False
    if reading.stage is Stage.SEALED:
        return True

    def dates(event: Event) -> list[Interval]:
        found = milestones(case, event, reading.seam, reading.piece)
        return [at for record, at in found if record.id not in doubtful]

    filled = [at for at in dates(Event.SEALED) if _by_then(at, reading)]
    again = [at for event in (Event.DRY_FIT, Event.FASTENED) for at in dates(event)]
    return any(
        not any(
            before(at, other) is Answer.YES and before(other, reading.taken) is Answer.YES
            for other in again
        )
        for at in filled
    )


def _by_then(sealed: Interval, reading: GapReading) -> bool:
    if reading.stage is Stage.FASTENED:
        return before(sealed, reading.taken) is Answer.YES
    return before(reading.taken, sealed) is not Answer.YES


def over_sealant(case: Case) -> tuple[NotChecked, ...]:
    """Name the readings over the sealant, seam by seam and stage by stage."""
    return tuple(_told(case))


def _told(case: Case) -> Iterator[NotChecked]:
    groups: dict[tuple[str, str | None, str], list[GapReading]] = {}
    for reading in case.readings:
        if reading.over_sealant:
            key = (reading.seam, reading.piece, named(reading))
            groups.setdefault(key, []).append(reading)
    for (seam, piece, when), members in groups.items():
        shown = [f"{r.station} {with_u(r.measurement)}" for r in members]
        yield NotChecked(
            RULE,
            place(seam, None, piece),
            f"Read over the sealant at {when}: {listed(shown)}. What lies beneath cannot be told, "
            f"so it is compared with nothing. {AGAIN}",
        )


CHECKS = ((RULE, "A reading over the sealant is compared with nothing", over_sealant),)
