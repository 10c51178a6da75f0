"""For each rule about statements told twice: a case that fires, and one that stays silent."""

from __future__ import annotations

from collections.abc import Callable

from claimkit.model.case import Case
from claimkit.model.records import Delivery
from tests.build import case, facts, moment, record


def _delivery(arrived: str, left: str, units: int = 1) -> Delivery:
    return Delivery(
        shipment="main",
        arrived=moment(arrived),
        driver_left=moment(left),
        units_received=units,
        words="Carton 2 of 4: top crushed, 4 in.",
    )


def _twice(second: Delivery) -> Case:
    first = _delivery("2026-05-04 09:10", "2026-05-04 09:40")
    return case(facts(records=(record("a", first), record("b", second))))


def _again(body: Delivery) -> Case:
    """Give two records of which the second stands back: for a repetition, or a correction."""
    first = _delivery("2026-05-04 09:10", "2026-05-04 09:40")
    return case(facts(records=(record("a", first), record("a (1)", body, replaced_by="a"))))


CASES: dict[str, tuple[Callable[[], Case], Callable[[], Case]]] = {
    # The same words, and others: the second is then a correction and no repetition.
    "record-told-twice": (
        lambda: _again(_delivery("2026-05-04 09:10", "2026-05-04 09:40")),
        lambda: _again(_delivery("2026-05-04 09:10", "2026-05-04 09:41")),
    ),
    # A second person at the same truck, and a second truck after the first had left.
    "delivery-told-twice": (
        lambda: _twice(_delivery("2026-05-04 09:12", "2026-05-04 09:38", units=2)),
        lambda: _twice(_delivery("2026-05-04 13:12", "2026-05-04 13:38", units=2)),
    ),
}
