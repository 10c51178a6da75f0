"""Grading what was written on a delivery receipt, and what to add while the driver is there.

The grades are claimkit's own convention (docs/methods.md): contradictory, specific, reservation
only, too vague, clear, not stated, the first that fits. The words are tolerant of spelling and
strict on negation and digits. A general reservation alone is weak, and the reading says so.
"""

from __future__ import annotations

import re
from dataclasses import replace

from claimkit.findings.receipt.because import because, matches
from claimkit.findings.receipt.counts import Recorded
from claimkit.findings.receipt.reading import Read, read
from claimkit.findings.receipt.refusal import refused_articles, refused_units
from claimkit.findings.receipt.text import plain
from claimkit.findings.receipt.write import AtTheCurb, Found, to_write
from claimkit.findings.wording import record_source
from claimkit.model.answers import Answer
from claimkit.model.case import Case
from claimkit.model.facts import Facts
from claimkit.model.receipt import Grade, Receipt, ReceiptReading, Reservation
from claimkit.model.records import Damage, Delivery, FoundAt, Record

NOT_RECORDED = "The words of the receipt are not recorded."


def grade(
    words: str | None,
    *,
    units_expected: int | None = None,
    units_received: int | None = None,
    cartons_expected: int | None = None,
    cartons_received: int | None = None,
) -> ReceiptReading:
    """Grade the words of one receipt.

    `words` are those on the receipt, None where nobody recorded them. The counts are those of the
    delivery record. Spans of matches are in the text as given.
    """
    counts = Recorded(units_expected, units_received, cartons_expected, cartons_received)
    return grade_at(words, AtTheCurb(counts=counts))


def grade_at(words: str | None, curb: AtTheCurb) -> ReceiptReading:
    """Grade the words of one receipt beside all that is recorded of the delivery.

    The grade rests on the words and the counts; the rest goes into the words to write.
    """
    taken = read(words or "", curb.counts)
    found, reservation = _grade(taken), _reservation(taken)
    known = replace(curb, found=tuple(_marked_stated(taken, one) for one in curb.found))
    long, short = to_write(taken, found, reservation, known)
    return ReceiptReading(
        grade=found,
        reservation=reservation,
        matches=matches(taken),
        because=because(taken, found, reservation) if words is not None else (NOT_RECORDED,),
        write_long=long,
        write_short=short,
    )


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
    kinds = any(e.category in ("kind", "generic", "shortage") for e in taken.said.exceptions)
    if taken.said.refusal is None or not (taken.marked.reasons or kinds):
        return False
    return any(part.what in ("which piece", "how many") for part in taken.parts)


def _reservation(taken: Read) -> Reservation:
    held = [r for r in taken.said.reservations if not r.denied]
    if any(r.full for r in held):
        return Reservation.FULL
    return Reservation.WEAK if held else Reservation.NONE


def states(words: str | None, damage: Found) -> bool:
    """Tell whether the words state this damage: its kind, and the piece or place where named."""
    return _marked_stated(read(words or "", Recorded()), damage).stated


def _marked_stated(taken: Read, damage: Found) -> Found:
    theirs = read(damage.what, Recorded())
    kinds = {e.hit.rule.id for e in theirs.said.exceptions if e.category == "kind"}
    spoken = [e for e in taken.said.exceptions if e.category in ("kind", "generic")]
    same = [e for e in spoken if e.hit.rule.id in kinds]
    if not kinds:
        named = _words(damage.what)
        same = [e for e in spoken if named & _words(taken.text(e.hit.first, e.hit.last))]
    return replace(damage, stated=any(e.specific for e in same))


def _words(text: str) -> frozenset[str]:
    return frozenset(plain(word) for word in re.findall(r"\w{3,}", text))


def work_out(case: Case) -> Case:
    """Grade the receipt of every delivery record in force, our own copy beside the carrier's."""
    return replace(
        case, receipts=tuple(_receipt(case.facts, r) for r in case.facts.in_force(Delivery))
    )


def _receipt(facts: Facts, record: Record) -> Receipt:
    body = record.body
    assert isinstance(body, Delivery)  # noqa: S101  in_force gives that kind only
    ours = body.words_on_our_copy
    return Receipt(
        record=record_source(record, "words"),
        shipment=shipment_of(facts, body),
        words=body.words,
        reading=reading(facts, record, body.words),
        our_words=ours,
        our_reading=None if ours is None else reading(facts, record, ours),
        copies_differ=_differ(body.words, ours),
    )


def reading(facts: Facts, record: Record, words: str | None) -> ReceiptReading:
    """Grade words against the counts and facts of one delivery record."""
    body = record.body
    assert isinstance(body, Delivery)  # noqa: S101  callers pass deliveries only
    return grade_at(words, curb_of(facts, body))


def _expected(facts: Facts, body: Delivery, what: str) -> int | None:
    """Give the count that the receipt lists, else the bill's."""
    listed = body.units_expected if what == "units" else body.cartons_expected
    shipment = facts.job.shipment_named(body.shipment) if facts.job else None
    if listed is not None or shipment is None:
        return listed
    return shipment.handling_units if what == "units" else shipment.cartons


def shipment_of(facts: Facts, body: Delivery) -> str | None:
    """Give the id of the delivery's shipment, where it can be told."""
    shipment = facts.job.shipment_named(body.shipment) if facts.job else None
    return shipment.id if shipment else body.shipment


def curb_of(facts: Facts, body: Delivery) -> AtTheCurb:
    """Gather what the records know of the delivery at the curb."""
    shipment = facts.job.shipment_named(body.shipment) if facts.job else None
    return AtTheCurb(
        counts=Recorded(
            _expected(facts, body, "units"),
            body.units_received,
            _expected(facts, body, "cartons"),
            body.cartons_received,
            shipment.handling_unit if shipment else "",
        ),
        unit=shipment.handling_unit if shipment else "handling unit",
        inspected=body.inspected,
        why_not=body.not_inspected_because,
        found=tuple(_found(facts, d) for _, d in damages_at_curb(facts, body)),
        refused=body.refusal,
    )


def refused_of(facts: Facts, body: Delivery, what: str) -> int | None:
    """Give how many units ("handling" or "carton") of a delivery were refused.

    0 where no refusal is on record, None where one is and not of how many.
    """
    return refused_units(body.words, body.refusal, curb_of(facts, body).counts, what)


def short_of(facts: Facts, body: Delivery, what: str) -> int:
    """Give how many units were neither received nor refused, by the receipt's count or the bill's.

    0 where it is not known how many were refused.
    """
    counts = curb_of(facts, body).counts
    expected, received = counts.units_expected, counts.units_received
    if what == "carton":
        expected, received = counts.cartons_expected, counts.cartons_received
    back = refused_of(facts, body, what)
    if expected is None or received is None or back is None:
        return 0
    return max(0, expected - received - back)


def states_short(facts: Facts, body: Delivery) -> bool:
    """Tell whether the words of a delivery's receipt state the shortage that was counted."""
    taken = read(body.words or "", curb_of(facts, body).counts)
    missing = [short_of(facts, body, what) for what in ("handling", "carton")]
    return any(number and taken.states_short(number) for number in missing)


def refused_pieces(facts: Facts, bodies: list[Delivery], article: str) -> int | None:
    """Give how many pieces of an article deliveries say were refused: 0 where none names it.

    None where it is named and not how many.
    """
    found: list[int | None] = []
    for body in bodies:
        counts = curb_of(facts, body).counts
        found.append(refused_articles(body.words, body.refusal, counts, article))
    known = [number for number in found if number is not None]
    return None if len(known) < len(found) else sum(known)


def damages_at_curb(facts: Facts, body: Delivery) -> tuple[tuple[Record, Damage], ...]:
    """Give the damages recorded as found at the curb to goods of the delivery's shipment."""
    mine = shipment_of(facts, body)
    found = []
    for record in facts.in_force(Damage):
        damage = record.body
        if isinstance(damage, Damage) and damage.found_at is FoundAt.CURB:
            item = facts.job.item_named(damage.item) if facts.job else None
            theirs = damage.shipment or (item.shipment if item else None)
            only = facts.job.shipment_named(None) if facts.job and theirs is None else None
            if (theirs or (only.id if only else None)) == mine:
                found.append((record, damage))
    return tuple(found)


def found_of(facts: Facts, damage: Damage) -> Found:
    """Give a recorded damage in the form that the words to write are made from."""
    return _found(facts, damage)


def _found(facts: Facts, damage: Damage) -> Found:
    item = facts.job.item_named(damage.item) if facts.job else None
    name = item.description if item else damage.item
    return Found(name, damage.what, damage.part, damage.extent, damage.quantity)


def _differ(carriers: str | None, ours: str | None) -> Answer:
    """Compare two copies by their words alone: case, spacing and punctuation say nothing."""
    if carriers is None or ours is None:
        return Answer.CANNOT_TELL
    same = _normal(carriers) == _normal(ours)
    return Answer.NO if same else Answer.YES


def _normal(words: str) -> list[str]:
    return re.findall(r"\w+", plain_words(words))


def plain_words(words: str) -> str:
    """Give words without case and apostrophes, spaces kept."""
    return " ".join(plain(part) if "." not in part else part.lower() for part in words.split())
