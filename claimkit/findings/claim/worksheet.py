"""The lines of a worksheet: their kinds and order, sums, rounding, and whose damage they count."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from claimkit.model.case import AmountLine, Case
from claimkit.model.job import Item, Job
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
