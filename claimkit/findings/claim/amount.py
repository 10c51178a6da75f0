"""The amount: the full actual loss as a worksheet in exact decimals, every step and rounding shown.

Goods at the purchase invoice price, less discounts, allowances, credits and free replacements;
repairs; freight where it was paid beside the price; mitigation; less salvage. A carrier's limit is
the carrier's to show and is never taken off here. A settled damage, a missing price, a retail
price or mixed currencies give no silent number.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from claimkit.findings.claim.costs import beside_goods, pieces_repaired
from claimkit.findings.claim.same_piece import claimed_whole, same_pieces
from claimkit.findings.claim.worksheet import (
    GOODS,
    ORDER,
    REPAIR,
    RULE,
    damages_of_item,
    open_damages,
    shipment_of,
)
from claimkit.model.case import AmountLine, Case, NotChecked
from claimkit.model.job import PRICES, Item, Job
from claimkit.model.quantities import Money
from claimkit.model.records import Damage, Record
from claimkit.model.source import Source


def work_out(case: Case) -> Case:
    """Fill the worksheet: goods item by item, then what each cost record adds or takes off."""
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
    lines += beside_goods(case, job, tuple(lines))
    gaps += _mixed(job, lines)
    lines.sort(key=lambda line: ORDER.index(line.kind))
    return replace(case, amount=tuple(lines), not_checked=case.not_checked + tuple(gaps))


def _item(case: Case, job: Job, item: Item) -> Iterator[AmountLine | NotChecked]:
    shipment = shipment_of(job, item)
    if shipment is None:
        return
    damages = open_damages(case, item.id)
    whole = claimed_whole(case, item.id)
    lump = [pair for pair in damages if pair not in whole]
    for record, damage in lump:
        yield _lump_repair(item, shipment, record, damage)
    damaged = sum(d.quantity for _, d in whole)
    settled = sum(d.quantity for _, d in damages_of_item(case, item.id) if d.resolved is not None)
    repaired = pieces_repaired(case, item.id)
    still_repaired = min(max(0, repaired - settled), damaged)
    missing = [d for d in case.differences if d.item == item.id and d.not_here]
    short = sum(d.not_here for d in missing)
    most = item.quantity - sum(d.quantity for _, d in lump) - still_repaired
    same = same_pieces(case, job, item, whole, short)
    once = min(same.once, damaged - still_repaired)
    count = min(damaged - still_repaired + short - once, most)
    if count <= 0:
        return
    if same.question:
        yield NotChecked(RULE, f"item {item.id}", same.question)
    number = job.item.index(item) + 1
    gap = _no_price(item, number)
    if gap:
        yield gap
        return
    causes = [f"{damaged} damaged"] * bool(damaged) + [f"{short} short"] * bool(short)
    causes += [f"{still_repaired} of them repaired"] * bool(still_repaired)
    why = " and ".join(causes[:2]) + "".join(f", {c}" for c in causes[2:])
    why += f", {once} of them one and the same" * bool(once)
    if damaged - still_repaired + short - once > count:
        why += f", counted as {count} of {item.quantity} ordered"
    sources = (
        _price_source(case, number),
        *(Source(path=r.path, sha256=r.sha256, key_path="quantity") for r, _ in whole),
        *(source for d in missing for source in d.sources),
        *(same.sources if once else ()),
    )
    yield _goods_line(item, shipment, count, why, sources)


def _goods_line(
    item: Item, shipment: str, count: int, why: str, sources: tuple[Source, ...]
) -> AmountLine:
    price = item.invoice_price
    if price is None:
        raise ValueError("a goods line has a price")
    sum_ = Money(price.amount * count, price.currency)
    step = f"{item.description}: {count} × {price} = {sum_}, purchase invoice price."
    return AmountLine(item.id, shipment, count, price, sum_, why, sources, GOODS, (step,))


def _lump_repair(item: Item, shipment: str, record: Record, damage: Damage) -> AmountLine:
    if damage.repair_cost is None:
        raise ValueError("a lump sum for a repair is an amount")
    cost = damage.repair_cost
    why = f"repair of {damage.quantity} piece{'s' if damage.quantity > 1 else ''}"
    source = Source(path=record.path, sha256=record.sha256, key_path="repair_cost")
    step = f"{item.description}: {why}, lump sum {cost}; not itemised."
    return AmountLine(item.id, shipment, 1, cost, cost, why, (source,), REPAIR, (step,))


def _price_source(case: Case, number: int) -> Source:
    key = f"item[{number}].invoice_price"
    return Source(path="job.toml", sha256=case.facts.job_sha256, key_path=key)


def _no_price(item: Item, number: int) -> NotChecked | None:
    """Say why an item has no price that a claim can be counted on, or give None."""
    where = f"item {item.id}"
    if item.invoice_price is None:
        return NotChecked(
            RULE,
            where,
            f"The purchase invoice price of {item.description} is not entered. "
            f"Write item[{number}].invoice_price in job.toml from the invoice.",
        )
    if item.price_from != PRICES[0]:
        return NotChecked(
            RULE,
            where,
            f"The price of {item.description} ({item.invoice_price}) is a {item.price_from}, and "
            "a claim is counted at the purchase invoice price. Write the invoice's price and "
            f'price_from = "{PRICES[0]}" in job.toml, item[{number}].',
        )
    return None


def _mixed(job: Job, lines: list[AmountLine]) -> Iterator[NotChecked]:
    for shipment in job.shipment:
        found = {x.total.currency for x in lines if x.shipment == shipment.id and x.claimed}
        if len(found) > 1:
            yield NotChecked(
                RULE,
                f"shipment {shipment.id}",
                f"The worksheet holds amounts in {' and '.join(sorted(found))}, and no sum is "
                "made across currencies. Claim each currency in a claim of its own, or enter the "
                "amounts in the currency that was paid.",
            )
