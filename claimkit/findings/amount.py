"""The amount: damaged and missing goods at the purchase invoice price, exact, line by line.

The claim is for the full actual loss; a carrier's limit is the carrier's to show and is never
taken off here. A settled damage, a missing price or mixed currencies give no silent number.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal

from claimkit.model.case import AmountLine, Case, NotChecked
from claimkit.model.job import Item, Job
from claimkit.model.quantities import Money
from claimkit.model.records import Damage, Record
from claimkit.model.source import Source

RULE = "amount"


def work_out(case: Case) -> Case:
    """Fill the goods worksheet, one line for each item that is damaged or short."""
    job = case.facts.job
    if job is None:
        return case
    lines: list[AmountLine] = []
    gaps: list[NotChecked] = []
    for item in job.item:
        for result in _item(case, job, item):
            if isinstance(result, AmountLine):
                lines.append(result)
            else:
                gaps.append(result)
    return replace(case, amount=tuple(lines), not_checked=case.not_checked + tuple(gaps))


def total(lines: Iterable[AmountLine]) -> Money | None:
    """Add the lines; None where there is none or where currencies are mixed."""
    amounts = [line.total for line in lines]
    if not amounts or len({amount.currency for amount in amounts}) != 1:
        return None
    return Money(sum((amount.amount for amount in amounts), Decimal(0)), amounts[0].currency)


def open_damages(case: Case, item: str) -> tuple[tuple[Record, Damage], ...]:
    """Give the damage records of an item that are in force and not settled, with their bodies."""
    return tuple(
        (r, r.body)
        for r in case.facts.in_force(Damage)
        if isinstance(r.body, Damage) and r.body.item == item and r.body.resolved is None
    )


def shipment_of(job: Job, item: Item) -> str | None:
    """Give the id of the shipment that carried an item, or None where it cannot be told."""
    shipment = job.shipment_named(item.shipment)
    return shipment.id if shipment else None


def _item(case: Case, job: Job, item: Item) -> Iterable[AmountLine | NotChecked]:
    shipment = shipment_of(job, item)
    if shipment is None:
        return
    damages = open_damages(case, item.id)
    for record, damage in damages:
        if damage.repair_cost:
            source = Source(path=record.path, sha256=record.sha256, key_path="repair_cost")
            cost = damage.repair_cost
            why = f"repair of {damage.quantity} piece{'s' if damage.quantity > 1 else ''}"
            yield AmountLine(item.id, shipment, 1, cost, cost, why, (source,))
    repaired = sum(d.quantity for _, d in damages if d.repair_cost)
    whole = [(r, d) for r, d in damages if not d.repair_cost]
    damaged = sum(d.quantity for _, d in whole)
    missing = [d for d in case.differences if d.item == item.id and d.short]
    short = sum(d.short for d in missing)
    count = min(damaged + short, item.quantity - repaired)
    if count <= 0:
        return
    key = f"item[{job.item.index(item) + 1}].invoice_price"
    if item.invoice_price is None:
        yield NotChecked(
            RULE,
            f"item {item.id}",
            f"The purchase invoice price of {item.description} is not entered. "
            f"Write {key} in job.toml from the invoice.",
        )
        return
    causes = [f"{damaged} damaged"] * bool(damaged) + [f"{short} short"] * bool(short)
    why = " and ".join(causes)
    if damaged + short > count:
        why += f", counted as {count} of {item.quantity} ordered"
    sources = (
        Source(path="job.toml", sha256=case.facts.job_sha256, key_path=key),
        *(Source(path=r.path, sha256=r.sha256, key_path="quantity") for r, _ in whole),
        *(source for d in missing for source in d.sources),
    )
    price = item.invoice_price
    yield AmountLine(
        item.id, shipment, count, price, Money(price.amount * count, price.currency), why, sources
    )
