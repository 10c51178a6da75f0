"""Findings about times that contradict each other: a delivery, an unpacking, the steps of the work.

Records are never sorted into an order that they do not state. Where a driver leaves before he
arrives, or a joint is sealed before it is fastened, that is said, and no episode rests on it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from claimkit.findings.delivery.impossible_steps import before_arrival
from claimkit.findings.scope import shipment_of_record
from claimkit.findings.timeline.chains import chains, out_of_order
from claimkit.findings.timeline.stretches import contradicts
from claimkit.findings.wording import record_source
from claimkit.findings.written_time import site_zone, stretch_of
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.records import Delivery, Milestone, Record, Unpacking
from claimkit.model.source import Source

Results = tuple[Finding | NotChecked, ...]

METHOD = "claimkit method: episodes (docs/rules.md)"
CORRECT = (
    "Look which time is right, and write it in a new record that names the one it replaces. Until "
    "then no photo is placed by these times, and nothing is called gone because of them."
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
    for record, what, key, written, delivery in before_arrival(case):
        message = (
            f"{what[0].upper()}{what[1:]} {written} (record {record.id}) is before the goods "
            f"arrived (record {delivery.id})."
        )
        sources = (record_source(record, key), record_source(delivery, "arrived"))
        yield _contradiction("work-order", _where(case, record), message, sources)


def _contradiction(rule: str, where: str, message: str, sources: tuple[Source, ...]) -> Finding:
    # A slip of the pen speaks against nobody: what is missing is the right time.
    standing = Standing.MISSING if rule == "work-order" else Standing.AGAINST
    return Finding(rule, standing, where, message, CORRECT, sources, METHOD)


def _where(case: Case, record: Record) -> str:
    shipment = shipment_of_record(case, record)
    return f"shipment {shipment}" if shipment else f"record {record.id}"


def _key(key: str) -> str:
    return {"arrived": "arrived", "signed_at": "signed", "driver_left": "the driver left"}[key]


CHECKS: tuple[tuple[str, str, Callable[[Case], Results]], ...] = (
    ("delivery-times-contradict", "The times of a delivery contradict each other", delivery_times),
    ("work-order", "The steps of the work contradict each other in time", order),
)
