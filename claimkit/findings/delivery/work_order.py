"""Findings about times that contradict each other: a delivery, an unpacking, the steps of the work.

Records are never sorted into an order that they do not state. Where a driver leaves before he
arrives, or a joint is sealed before it is fastened, that is said, and no episode rests on it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from claimkit.findings.delivery.readiness import steps
from claimkit.findings.pieces import same_piece
from claimkit.findings.scope import shipment_of_record
from claimkit.findings.timeline.chains import chains, out_of_order
from claimkit.findings.timeline.stretches import contradicts
from claimkit.findings.wording import record_source
from claimkit.findings.written_time import site_zone, stretch_of
from claimkit.model.answers import Answer
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.moment import Interval, before
from claimkit.model.records import Delivery, Milestone, Record, Unpacking
from claimkit.model.source import Source
from claimkit.model.stages import Event

Results = tuple[Finding | NotChecked, ...]

METHOD = "claimkit method: episodes (docs/rules.md)"
WITH_THE_GOODS = (Event.DRY_FIT, Event.FASTENED, Event.SEALED, Event.HANDOVER)
CORRECT = (
    "Look which time is right, and write it in a new record that names the one it replaces. Until "
    "then no photo is placed by these times."
)


def delivery_times(case: Case) -> Results:
    """Tell where the times of one delivery contradict each other."""
    zone = site_zone(case.facts)
    found = []
    for record in case.facts.in_force(Delivery):
        body = record.body
        if not isinstance(body, Delivery):
            continue
        times = [("arrived", body.arrived), ("signed_at", body.signed_at)]
        times.append(("driver_left", body.driver_left))
        spans = [(key, m, stretch_of(m, zone)) for key, m in times if m]
        wrong = [
            (first, second)
            for n, first in enumerate(spans)
            for second in spans[n + 1 :]
            if contradicts(first[2], second[2])
        ]
        for (a, a_time, _), (b, b_time, _) in wrong:
            message = (
                f"Record {record.id}: {_key(b)} {b_time.said} is before {_key(a)} {a_time.said}."
            )
            found.append(
                _contradiction(
                    "delivery-times-contradict",
                    _where(case, record),
                    message,
                    (record_source(record, a), record_source(record, b)),
                )
            )
    return tuple(found)


def order(case: Case) -> Results:
    """Tell where the steps of the work, or the ends of one of them, contradict each other."""
    told: dict[str, Finding] = {}
    for finding in (*_backwards(case), *_out_of_order(case), *_before_arrival(case)):
        told.setdefault(finding.message, finding)
    return tuple(told.values())


def _backwards(case: Case) -> Iterator[Finding]:
    zone = site_zone(case.facts)
    for record in (*case.facts.in_force(Unpacking), *case.facts.in_force(Milestone)):
        body = record.body
        if not isinstance(body, Unpacking | Milestone) or not (body.began and body.ended):
            continue
        if contradicts(stretch_of(body.began, zone), stretch_of(body.ended, zone)):
            what = body.event.value if isinstance(body, Milestone) else "unpacking"
            message = (
                f"Record {record.id}: {what} ended {body.ended.said}, before it began "
                f"{body.began.said}."
            )
            sources = (record_source(record, "began"), record_source(record, "ended"))
            yield _contradiction("work-order", _where(case, record), message, sources)


def _out_of_order(case: Case) -> Iterator[Finding]:
    zone = site_zone(case.facts)
    for chain in chains(case.facts):
        for (first, a), (second, b) in out_of_order(chain, zone):
            message = (
                f"{b.event.value.capitalize()} {b.began.said} (record {second.id}) is before "
                f"{a.event.value} {a.began.said} (record {first.id}), which has to come first."
            )
            sources = (record_source(first, "began"), record_source(second, "began"))
            yield _contradiction("work-order", _where(case, second), message, sources)


def _before_arrival(case: Case) -> Iterator[Finding]:
    """Tell of work with goods that had not come yet, as far as the goods can be told apart."""
    arrivals = _arrivals(case)
    zone = site_zone(case.facts)
    done: list[tuple[Record, str, Interval, str]] = [
        (s.record, s.body.event.value, s.began, s.body.began.said)
        for s in steps(case, *WITH_THE_GOODS)
        if same_piece(s.body.piece, None)
    ]
    for record in case.facts.in_force(Unpacking):
        if isinstance(record.body, Unpacking) and record.body.began:
            began = record.body.began
            done.append((record, "unpacking", stretch_of(began, zone), began.said))
    for record, what, start, written in done:
        shipment = shipment_of_record(case, record)
        mine = [a for a in arrivals if shipment in (None, a[0])]
        if mine and all(before(start, arrived) is Answer.YES for _, arrived, _ in mine):
            source = mine[0][2]
            message = (
                f"{what.capitalize()} {written} (record {record.id}) is before the goods arrived "
                f"(record {source.id})."
            )
            sources = (record_source(record, "began"), record_source(source, "arrived"))
            yield _contradiction("work-order", _where(case, record), message, sources)


def _arrivals(case: Case) -> list[tuple[str | None, Interval, Record]]:
    zone = site_zone(case.facts)
    return [
        (shipment_of_record(case, record), stretch_of(record.body.arrived, zone), record)
        for record in case.facts.in_force(Delivery)
        if isinstance(record.body, Delivery) and record.body.arrived
    ]


def _contradiction(rule: str, where: str, message: str, sources: tuple[Source, ...]) -> Finding:
    return Finding(rule, Standing.AGAINST, where, message, CORRECT, sources, METHOD)


def _where(case: Case, record: Record) -> str:
    shipment = shipment_of_record(case, record)
    return f"shipment {shipment}" if shipment else f"record {record.id}"


def _key(key: str) -> str:
    return {"arrived": "arrived", "signed_at": "signed", "driver_left": "the driver left"}[key]


CHECKS: tuple[tuple[str, str, Callable[[Case], Results]], ...] = (
    ("delivery-times-contradict", "The times of a delivery contradict each other", delivery_times),
    ("work-order", "The steps of the work contradict each other in time", order),
)
