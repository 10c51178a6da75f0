"""Cases for the office's stages: one shipment delivered, one panel damaged, prices known."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

from claimkit.model.case import Case
from claimkit.model.job import Item, Job, Terms
from claimkit.model.quantities import Hours, Money, Share, Weight
from claimkit.model.records import Cost, Damage, Delivery, FoundAt, Record
from tests.build import case, facts, job, moment, record, shipment


def usd(text: str, currency: str = "USD") -> Money:
    """Give an amount."""
    return Money(Decimal(text), currency, f"{text} {currency}")


def hours(text: str) -> Hours:
    """Give a working time in decimal hours."""
    return Hours(Fraction(text), f"{text} h")


def percent(text: str) -> Share:
    """Give a per cent."""
    return Share(Fraction(text) / 100, f"{text} %")


def pounds(value: int) -> Weight:
    """Give a weight in lb."""
    return Weight(value * Fraction("0.45359237"), f"{value} lb")


PANEL = Item(id="panel", description="Wall panel", quantity=4, invoice_price=usd("412.50"))
TRAY = Item(id="tray", description="Floor tray", quantity=1, invoice_price=usd("388.00"))


def a_job(*items: Item, ship: dict[str, Any] | None = None, **more: Any) -> Job:
    """Give a job of interstate freight with panels and a tray; `ship` changes the shipment."""
    values = {
        "terms": Terms.US_INTERSTATE_MOTOR,
        "pro_number": "558-20931",
        "shipper": "shop",
        "consignee": "us",
    }
    ships = (shipment(**(values | (ship or {}))),)
    return job(**({"item": items or (PANEL, TRAY), "shipment": ships, "seam": ()} | more))


def damage(name: str = "crushed", **more: Any) -> Record:
    """Give a damage to one panel, seen at the curb."""
    values: dict[str, Any] = {"item": "panel", "found_at": FoundAt.CURB, "what": "crushed"}
    return record(name, Damage(**(values | more)))


def delivery(**more: Any) -> Record:
    """Give a delivery with a specific exception on the receipt."""
    values: dict[str, Any] = {
        "arrived": moment("2026-05-04 09:05"),
        "signed_at": moment("2026-05-04 09:30"),
        "signed": True,
        "inspected": True,
        "words": "1 of 4 cartons, lower left corner crushed 4 in",
        "units_received": 1,
        "cartons_received": 4,
    }
    return record("delivery", Delivery(**(values | more)))


def cost(name: str = "cost", **more: Any) -> Record:
    """Give a cost record."""
    return record(name, Cost(**more))


def worked(records: Iterable[Record] = (), job_: Job | None = None, **more: Any) -> Case:
    """Reason over a job with one crushed panel, or with the given records."""
    found = tuple(records) or (delivery(), damage())
    return case(facts(job_=job_ or a_job(), records=found, **more))


def with_item(item: Item, **more: Any) -> Item:
    """Change an item."""
    return replace(item, **more)
