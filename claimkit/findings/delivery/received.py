"""Ordered against received: each item's count, size, hand, drain, colour and condition.

The order stands in job.toml, what was found in the unpacking and delivery records. Each property
is the same, differs, or cannot be told, and what nobody looked at cannot be told: it is listed,
never passed over.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from claimkit.findings.claim.worksheet import shipment_of
from claimkit.findings.receipt.grade import refused_of, refused_pieces
from claimkit.findings.receipt.grade import shipment_of as shipment_of_delivery
from claimkit.findings.timeline.likeness import same_condition, same_size, same_words
from claimkit.findings.wording import job_source, record_source
from claimkit.model.answers import Answer
from claimkit.model.case import Case, Difference
from claimkit.model.facts import Facts
from claimkit.model.job import Item, Job, Shipment
from claimkit.model.quantities import Length
from claimkit.model.records import CountedItem, Damage, Delivery, FoundAt, Record, Unpacking
from claimkit.model.source import Source

QUANTITY = "quantity"
SIZE = "size"
HAND = "hand"
DRAIN = "drain position"
COLOUR = "colour"
CONDITION = "condition"
UNITS = "handling units"
CARTONS = "cartons"
NOT_FOUND = "not recorded"

# Counts at the curb, which say nothing of a single item.
COUNTS = frozenset({UNITS, CARTONS})
# Properties in which a piece itself can be the wrong one.
OF_THE_PIECE = (SIZE, HAND, DRAIN, COLOUR)


@dataclass(frozen=True, slots=True)
class Counted:
    """One row of an unpacking record: which, as `counted[number]`, and of which shipment."""

    record: Record
    row: CountedItem
    number: int
    shipment: str | None

    def source(self, key: str) -> Source:
        """Name one key of the row as a source."""
        return record_source(self.record, f"counted[{self.number}].{key}")


def work_out(case: Case) -> Case:
    """Fill the differences: first the counts at the curb, then every item and property."""
    job = case.facts.job
    if job is None:
        return case
    rows = counted(case.facts)
    found: list[Difference] = []
    for shipment in job.shipment:
        found += _at_the_curb(case.facts, job, shipment)
    for item in job.item:
        found += _item(case.facts, job, item, tuple(r for r in rows if r.row.item == item.id))
    known = {item.id for item in job.item}
    found += [_not_ordered(row) for row in rows if row.row.item not in known]
    return replace(case, differences=tuple(found))


def counted(facts: Facts) -> tuple[Counted, ...]:
    """Give every row of the unpacking records in force."""
    found = []
    for record in facts.in_force(Unpacking):
        body = record.body
        if isinstance(body, Unpacking):
            named = facts.job.shipment_named(body.shipment) if facts.job else None
            shipment = named.id if named else body.shipment
            found += [Counted(record, row, n, shipment) for n, row in enumerate(body.counted, 1)]
    return tuple(found)


def _item(facts: Facts, job: Job, item: Item, rows: tuple[Counted, ...]) -> Iterator[Difference]:
    home = shipment_of(job, item)
    own = tuple(r for r in rows if home is None or r.shipment in (None, home))
    number = job.item.index(item) + 1
    yield _quantity(
        job_source(facts, f"item[{number}].quantity"), item, own, home, _refused(facts, item, home)
    )
    for row in rows:
        if row not in own:
            yield _elsewhere(item, home, row)
        yield from _properties(facts, number, item, row)
    if rows:
        return
    for what, key in _wanted(item):
        source = job_source(facts, f"item[{number}].{key}")
        ordered = _ordered(item, key)
        yield Difference(item.id, home, what, ordered, NOT_FOUND, Answer.CANNOT_TELL, (source,))


def _wanted(item: Item) -> list[tuple[str, str]]:
    """Give the properties that the order states, with their keys."""
    keys = ((SIZE, "size"), (HAND, "hand"), (DRAIN, "drain_position"), (COLOUR, "colour"))
    return [(what, key) for what, key in keys if getattr(item, key)]


def _ordered(item: Item, key: str) -> str:
    return _sizes(item.size) if key == "size" else str(getattr(item, key))


def _properties(facts: Facts, number: int, item: Item, row: Counted) -> Iterator[Difference]:
    for what, key in _wanted(item):
        if key == "size":
            same, found = same_size(item.size, row.row.size, item.size_tolerance)
        else:
            found = getattr(row.row, key) or ""
            same = same_words(getattr(item, key), found)
        sources = job_source(facts, f"item[{number}].{key}"), row.source(key)
        ordered = _ordered(item, key)
        yield Difference(item.id, row.shipment, what, ordered, found or NOT_FOUND, same, sources)
    seen = row.row.condition
    if item.accessory and seen is None:
        return
    same = same_condition(seen)
    yield Difference(
        item.id,
        row.shipment,
        CONDITION,
        "good",
        seen or NOT_FOUND,
        same,
        (row.source("condition"),),
    )


def _quantity(
    ordered: Source,
    item: Item,
    rows: tuple[Counted, ...],
    shipment: str | None,
    refused: int,
) -> Difference:
    """Compare the count; several records in force add up, because none of them replaces another.

    `refused` pieces of the item went back at the curb and are not short.
    """
    sources = (ordered, *(row.source("quantity") for row in rows))
    found = [row.row.quantity for row in rows]
    known = [q for q in found if q is not None]
    if not rows or len(known) != len(found):
        text = " + ".join(NOT_FOUND if q is None else str(q) for q in found) or NOT_FOUND
        same, short, back = Answer.CANNOT_TELL, 0, 0
    else:
        total = sum(known)
        text = str(total) if len(known) == 1 else f"{total} ({' + '.join(map(str, known))})"
        same = Answer.YES if total == item.quantity else Answer.NO
        short = max(0, item.quantity - total)
        back = min(short, refused)
        if back:
            text, short = f"{text} ({back} refused)", short - back
    return Difference(
        item.id, shipment, QUANTITY, str(item.quantity), text, same, sources, short, back
    )


def _refused(facts: Facts, item: Item, shipment: str | None) -> int:
    """Give how many pieces of an item are recorded as damaged at the curb and as refused."""
    bodies = [
        r.body
        for r in facts.in_force(Delivery)
        if isinstance(r.body, Delivery) and shipment_of_delivery(facts, r.body) == shipment
    ]
    named = refused_pieces(facts, bodies, f"{item.description} {item.id}")
    damaged = sum(
        r.body.quantity
        for r in facts.in_force(Damage)
        if isinstance(r.body, Damage)
        and r.body.item == item.id
        and r.body.found_at is FoundAt.CURB
        and r.body.resolved is None
        and r.body.shipment in (None, shipment)
    )
    return 0 if named == 0 else min(damaged, named or damaged)


def _elsewhere(item: Item, home: str | None, row: Counted) -> Difference:
    """Say that an item came with another shipment: a replacement, or an error in a record."""
    ordered = f"ordered with shipment {home}"
    text = f"{_number(row)} with shipment {row.shipment}"
    sources = (row.source("item"),)
    return Difference(item.id, row.shipment, QUANTITY, ordered, text, Answer.CANNOT_TELL, sources)


def _not_ordered(row: Counted) -> Difference:
    sources = (row.source("item"),)
    return Difference(
        row.row.item, row.shipment, QUANTITY, "not on the order", _number(row), Answer.NO, sources
    )


def _number(row: Counted) -> str:
    return NOT_FOUND if row.row.quantity is None else str(row.row.quantity)


def deliveries_of(
    facts: Facts, job: Job, shipment: Shipment
) -> tuple[tuple[Record, Delivery], ...]:
    """Give the delivery records in force of one shipment."""
    found = []
    for record in facts.in_force(Delivery):
        body = record.body
        if isinstance(body, Delivery) and job.shipment_named(body.shipment) == shipment:
            found.append((record, body))
    return tuple(found)


def _at_the_curb(facts: Facts, job: Job, shipment: Shipment) -> Iterator[Difference]:
    deliveries = deliveries_of(facts, job, shipment)
    number = job.shipment.index(shipment) + 1
    counts = (
        (UNITS, f"{UNITS} ({shipment.handling_unit})", shipment.handling_units, "units"),
        (CARTONS, CARTONS, shipment.cartons, "cartons"),
    )
    for what, name, on_bill, stem in counts:
        expected = on_bill if on_bill is not None else _sum(deliveries, f"{stem}_expected")
        if not deliveries or expected is None:
            continue
        sources = [record_source(r, f"{stem}_received") for r, _ in deliveries]
        if on_bill is not None:
            key = f"shipment[{number}].{'handling_units' if what == UNITS else 'cartons'}"
            sources.insert(0, job_source(facts, key))
        received = _sum(deliveries, f"{stem}_received")
        unit = "handling" if what == UNITS else "carton"
        back = [refused_of(facts, body, unit) for _, body in deliveries]
        found, same, short, refused = _counted_at_curb(expected, received, back)
        yield Difference(
            name,
            shipment.id,
            what,
            str(expected),
            found,
            same,
            tuple(sources),
            short,
            refused,
        )


def _counted_at_curb(
    expected: int, received: int | None, back: list[int | None]
) -> tuple[str, Answer, int, int]:
    """Give what was counted, whether that is all, how many are short, and how many were refused.

    What was refused is not short, and it is not there either.
    """
    if received is None:
        return NOT_FOUND, Answer.CANNOT_TELL, 0, 0
    if received >= expected:
        return str(received), Answer.YES if received == expected else Answer.NO, 0, 0
    if None in back:
        return f"{received} (of the rest some refused)", Answer.CANNOT_TELL, 0, 0
    refused = min(sum(number for number in back if number), expected - received)
    found = f"{received} ({refused} refused)" if refused else str(received)
    return found, Answer.NO, expected - received - refused, refused


def _sum(deliveries: tuple[tuple[Record, Delivery], ...], key: str) -> int | None:
    """Add a count over the trucks of one shipment; unknown where one of them has none."""
    numbers = [getattr(body, key) for _, body in deliveries]
    return None if not numbers or None in numbers else sum(numbers)


def _sizes(size: tuple[Length, ...]) -> str:
    return " × ".join(length.written for length in size)
