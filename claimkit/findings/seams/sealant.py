"""Readings of a joint that was filled: the visible joint, and not the faces behind the sealant.

A photo of a scale card over a filled joint is refused, since sealant can pass for a gap. A reading
by hand counts, because nothing else can be read any more, and says everywhere what it is.
"""

from __future__ import annotations

from dataclasses import replace

from claimkit.findings.delivery.impossible_steps import impossible_steps
from claimkit.findings.seams.pairs import milestones
from claimkit.findings.seams.words import listed, named, place, with_u
from claimkit.model.answers import Answer
from claimkit.model.case import Case, Finding, Standing
from claimkit.model.gap import GapReading
from claimkit.model.measuring import Instrument
from claimkit.model.moment import Interval, before
from claimkit.model.stages import Event, Stage

RULE = "gap-over-sealant"
TOLD = "read over the sealant"
VISIBLE = "It shows the joint as it is seen, and not the faces behind the sealant."
INSERTED = (
    "A gauge that has to go in cannot read a filled joint: where it went in, the sealant was not "
    "there or had come off, which belongs into the record."
)
_GO_IN = (Instrument.FEELER.value, Instrument.TAPER_GAUGE.value)
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


def caution(*readings: GapReading | None) -> str:
    """Say what a comparison with a reading over the sealant rests on; "" where none is one."""
    filled = [r for r in readings if r is not None and r.over_sealant]
    if not filled:
        return ""
    last = filled[-1]
    entered = f" {INSERTED}" if last.instrument.startswith(_GO_IN) else ""
    return f"The reading at {named(last)} was taken over the sealant. {VISIBLE}{entered}"


def over_sealant(case: Case) -> tuple[Finding, ...]:
    """Name the readings over the sealant, seam by seam and stage by stage."""
    groups: dict[tuple[str, str | None, str], list[GapReading]] = {}
    for reading in case.readings:
        if reading.over_sealant:
            key = (reading.seam, reading.piece, named(reading))
            groups.setdefault(key, []).append(reading)
    return tuple(
        Finding(
            RULE,
            Standing.NOTE,
            place(seam, None, piece),
            f"Read over the sealant at {when}: "
            f"{listed([f'{r.station} {with_u(r.measurement)}' for r in members])}. {VISIBLE}"
            + (f" {INSERTED}" if any(r.instrument.startswith(_GO_IN) for r in members) else ""),
            "",
            tuple(r.source for r in members),
            "common practice, no source",
        )
        for (seam, piece, when), members in groups.items()
    )


CHECKS = ((RULE, "A gap was read over the sealant", over_sealant),)
