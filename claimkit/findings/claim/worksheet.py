"""The lines of a worksheet: their kinds and order, sums, rounding, and whose damage they count."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from claimkit.model.case import AmountLine, Case, NotChecked
from claimkit.model.job import PRICES, Item, Job
from claimkit.model.quantities import Money
from claimkit.model.records import Damage, Record
from claimkit.rules.currencies import decimals

RULE = "amount"

# Kinds of lines, in the order of the worksheet.
GOODS = "goods"
REPLACED = "free replacement"
DISCOUNT = "discount"
ALLOWANCE = "allowance"
CREDIT = "credit"
REPAIR = "repair"
FREIGHT = "freight"
MITIGATION = "mitigation"
SALVAGE = "salvage"
SPECIAL = "special damages"
ORDER = (
    GOODS,
    REPLACED,
    DISCOUNT,
    ALLOWANCE,
    CREDIT,
    REPAIR,
    FREIGHT,
    MITIGATION,
    SALVAGE,
    SPECIAL,
)


def total(lines: Iterable[AmountLine]) -> Money | None:
    """Add what is claimed; None where there is none or where currencies are mixed."""
    amounts = [line.total for line in lines if line.claimed]
    if not amounts or len({amount.currency for amount in amounts}) != 1:
        return None
    return Money(sum((amount.amount for amount in amounts), Decimal(0)), amounts[0].currency)


def gaps(case: Case, shipment: str | None) -> tuple[NotChecked, ...]:
    """Give what keeps the amount of a shipment from being whole; of all shipments where None."""
    job = case.facts.job
    if job is None:
        return ()
    where = {f"item {i.id}" for i in job.item if shipment in (None, shipment_of(job, i))}
    where |= {f"shipment {s.id}" for s in job.shipment if shipment in (None, s.id)}
    return tuple(gap for gap in case.not_checked if gap.rule == RULE and gap.where in where)


def not_whole(case: Case, shipment: str | None) -> str:
    """Say in one sentence why an amount is not whole; empty where it is.

    A worksheet that lacks an item is never called the full loss: what stands in it is only what
    is counted so far.
    """
    job = case.facts.job
    named = {f"item {i.id}": i for i in job.item} if job else {}
    reasons = []
    for gap in gaps(case, shipment):
        item = named.get(gap.where)
        if item is None:
            reasons.append("its amounts are in several currencies")
        elif item.invoice_price is None or item.price_from != PRICES[0]:
            reasons.append(f"{item.description} has no invoice price")
        else:
            reasons.append(f"how many of {item.description} are damaged or missing is not told")
    return f"Not whole: {'; '.join(dict.fromkeys(reasons))}." if reasons else ""


def whole_total(case: Case, shipment: str | None) -> Money | None:
    """Add what is claimed of a shipment; None where the amount is not whole."""
    return None if gaps(case, shipment) else total(of_shipment(case, shipment))


def of_shipment(case: Case, shipment: str | None) -> tuple[AmountLine, ...]:
    """Give the lines of one shipment; of all where None."""
    return tuple(line for line in case.amount if shipment in (None, line.shipment))


def rounded(value: Fraction, currency: str) -> tuple[Money, str]:
    """Round to the currency's smallest unit, halves up, and say so where anything was rounded."""
    places = decimals(currency)
    unit = Decimal(1).scaleb(-places)
    with_more = Decimal(value.numerator) / Decimal(value.denominator)
    money = Money(with_more.quantize(unit, ROUND_HALF_UP), currency)
    if Fraction(money.amount) == value:
        return money, ""
    shown = f"{with_more:.{places + 4}f}"
    return money, f"{currency} {shown} rounded to {money}, halves up."


def open_damages(case: Case, item: str) -> tuple[tuple[Record, Damage], ...]:
    """Give the damage records of an item that are in force and not settled, with their bodies."""
    return tuple((r, d) for r, d in damages_of_item(case, item) if d.resolved is None)


def damages_of_item(case: Case, item: str) -> tuple[tuple[Record, Damage], ...]:
    """Give the damage records of an item that are in force, settled ones too."""
    return tuple(
        (r, r.body)
        for r in case.facts.in_force(Damage)
        if isinstance(r.body, Damage) and r.body.item == item
    )


def shipment_of(job: Job, item: Item) -> str | None:
    """Give the id of the shipment that carried an item, or None where it cannot be told."""
    shipment = job.shipment_named(item.shipment)
    return shipment.id if shipment else None
