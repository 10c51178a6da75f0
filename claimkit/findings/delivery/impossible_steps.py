"""Steps of the work whose written time cannot be: before the goods came, or out of their order.

A date mistyped by a week or a month is a date like any other. What rests on such a step alone,
such as a gap that is gone for good, is not said until its record is mended.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from claimkit.findings.delivery.readiness import steps
from claimkit.findings.pieces import same_piece
from claimkit.findings.scope import shipment_of_record
from claimkit.findings.timeline.chains import chains, out_of_order
from claimkit.findings.written_time import site_zone, stretch_of
from claimkit.model.answers import Answer
from claimkit.model.case import Case
from claimkit.model.measuring import Readings
from claimkit.model.moment import Interval, before
from claimkit.model.records import Delivery, Record, Unpacking
from claimkit.model.stages import Event

WITH_THE_GOODS = (Event.DRY_FIT, Event.FASTENED, Event.SEALED, Event.HANDOVER)


def before_arrival(case: Case) -> Iterator[tuple[Record, str, str, str, Record]]:
    """Give work with goods that had not come: record, what, its key, as written, the delivery.

    As far as the goods can be told apart: of several shipments the first that can be meant.
    """
    arrivals = _arrivals(case)
    for record, what, key, start, written in _with_the_goods(case):
        shipment = shipment_of_record(case, record)
        mine = [a for a in arrivals if shipment in (None, a[0])]
        if mine and all(before(start, arrived) is Answer.YES for _, arrived, _ in mine):
            yield record, what, key, written, mine[0][2]


def _with_the_goods(case: Case) -> Iterator[tuple[Record, str, str, Interval, str]]:
    """Give steps, unpackings and gap readings of the first pieces, each with when it began."""
    zone = site_zone(case.facts)
    for step in steps(case, *WITH_THE_GOODS):
        if same_piece(step.body.piece, None):
            yield step.record, step.body.event.value, "began", step.began, step.body.began.said
    for record in case.facts.in_force(Unpacking):
        if isinstance(record.body, Unpacking) and record.body.began:
            began = record.body.began
            yield record, "unpacking", "began", stretch_of(began, zone), began.said
    for record in case.facts.in_force(Readings):
        body = record.body
        if isinstance(body, Readings) and same_piece(body.piece, None):
            what = f"gaps of seam {body.seam} read"
            yield record, what, "taken", stretch_of(body.taken, zone), body.taken.said


def impossible_steps(case: Case) -> frozenset[str]:
    """Give the ids of the milestones whose time cannot be.

    Of two that contradict each other in their order both, where neither is before the arrival.
    """
    early = {record.id for record, *_ in before_arrival(case)}
    found = set(early)
    zone = site_zone(case.facts)
    for chain in chains(case.facts):
        rest = replace(chain, steps=tuple(s for s in chain.steps if s[0].id not in early))
        for (first, _), (second, _) in out_of_order(rest, zone):
            found |= {first.id, second.id}
    return frozenset(found)


def _arrivals(case: Case) -> list[tuple[str | None, Interval, Record]]:
    zone = site_zone(case.facts)
    return [
        (shipment_of_record(case, record), stretch_of(record.body.arrived, zone), record)
        for record in case.facts.in_force(Delivery)
        if isinstance(record.body, Delivery) and record.body.arrived
    ]
