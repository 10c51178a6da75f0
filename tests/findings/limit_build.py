"""Small builders for tests of time limits: one US interstate shipment and its records."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any

from claimkit.findings.limits.stage import Applied, apply_terms
from claimkit.model.case import Case
from claimkit.model.job import (
    BillText,
    Job,
    Shipment,
    Terms,
)
from claimkit.model.limit import Clause, TimeLimit
from claimkit.model.records import (
    About,
    Body,
    Delivery,
    Notice,
    Record,
)
from claimkit.rules.carriage import CLAUSES
from tests.build import facts, job, moment, record, shipment

REPORT, DAMAGE, SUIT = "us-motor-concealed-report", "us-motor-claim-damage", "us-motor-suit"
ACKNOWLEDGE, DISPOSE, STATUS = "us-motor-acknowledge", "us-motor-dispose", "us-motor-status"
AS_OF = date(2026, 3, 10)
NOW = datetime(2026, 1, 1, tzinfo=UTC)
DELIVERED = Delivery(signed_at=moment("2026-03-02 09:30"))  # a Monday


def us(**more: Any) -> Shipment:
    values = {
        "terms": Terms.US_INTERSTATE_MOTOR,
        "classification_applies": True,
        "bill_text": BillText.FROM_2016,
    }
    return shipment(**(values | more))


def apply(
    bodies: Iterable[Body | Record] = (),
    *,
    as_of: date = AS_OF,
    shipments: tuple[Shipment, ...] = (),
    clauses: tuple[Clause, ...] = CLAUSES,
    job_: Job | None = None,
    **terms: Any,
) -> Applied:
    records = [
        body if isinstance(body, Record) else record(f"r{number}", body)
        for number, body in enumerate(bodies)
    ]
    job_ = replace(job_ or job(), shipment=shipments or (us(**terms),))
    return apply_terms(Case(facts(job_=job_, records=records), as_of, NOW), clauses)


def all_of(applied: Applied, clause: str) -> list[TimeLimit]:
    return [limit for limit in applied.limits if limit.clause.id == clause]


def one(applied: Applied, clause: str) -> TimeLimit:
    (limit,) = all_of(applied, clause)
    return limit


def notice(about: About, to: str = "hauler", sender: str = "us", **more: Any) -> Notice:
    for key in ("sent", "received"):
        if isinstance(more.get(key), str):
            more[key] = moment(more[key])
    return Notice(about=about, sender=sender, to=to, **more)


def claim(received: str | None = None, **more: Any) -> Notice:
    return notice(About.CLAIM, received=received, **more)


def letter(sent: str = "2026-06-01", **more: Any) -> Notice:
    values = {"about": About.DISALLOWANCE, "to": "us", "sender": "hauler", "sent": sent}
    return notice(**(values | {"states_disallowance": True, "gives_reasons": True} | more))
