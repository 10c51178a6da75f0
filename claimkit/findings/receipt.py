"""Grading what was written on a delivery receipt, and what to add while the driver is there.

The grades are claimkit's own convention (docs/rules.md): contradictory, specific, reservation
only, too vague, clear, not stated, the first that fits. The words are tolerant of spelling and
strict on negation and digits. A general reservation alone is weak, and the reading says so.
"""

from __future__ import annotations

from claimkit.findings.receipt_counts import Recorded
from claimkit.findings.receipt_reading import Read, read
from claimkit.model.case import Grade, ReceiptReading, Reservation


def grade(
    words: str | None,
    *,
    units_expected: int | None = None,
    units_received: int | None = None,
    cartons_expected: int | None = None,
    cartons_received: int | None = None,
) -> ReceiptReading:
    """Grade the words of one receipt."""
    recorded = Recorded(units_expected, units_received, cartons_expected, cartons_received)
    taken = read(words or "", recorded)
    return ReceiptReading(_grade(taken), _reservation(taken), (), (), "", "")


def _grade(taken: Read) -> Grade:
    said = taken.said
    if taken.clash:
        return Grade.CONTRADICTORY
    if any(e.specific for e in said.exceptions) or taken.short_by_count or _refused(taken):
        return Grade.SPECIFIC
    if _reservation(taken) is not Reservation.NONE:
        return Grade.RESERVATION_ONLY
    if said.exceptions or said.refusal:
        return Grade.TOO_VAGUE
    positive = said.good or any(c.role == "received" for c in taken.counts)
    return Grade.CLEAR if positive else Grade.NOT_STATED


def _refused(taken: Read) -> bool:
    """Tell whether a refusal says what was refused and why."""
    if taken.said.refusal is None or not (taken.marked.reasons or _kinds(taken)):
        return False
    return any(part.what in ("which piece", "how many") for part in taken.parts)


def _kinds(taken: Read) -> bool:
    return any(e.category in ("kind", "generic", "shortage") for e in taken.said.exceptions)


def _reservation(taken: Read) -> Reservation:
    held = [r for r in taken.said.reservations if not r.denied]
    if any(r.full for r in held):
        return Reservation.FULL
    return Reservation.WEAK if held else Reservation.NONE
