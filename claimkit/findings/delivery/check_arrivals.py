"""Findings about statements that came in more than once: repeated, or of one truck from two people.

What is stated twice counts once. Where two people state one delivery each in their own way, the
counts would be added, and a person has to say which record stands.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations

from claimkit.findings.delivery.received import deliveries_of
from claimkit.findings.wording import record_source
from claimkit.model.answers import Answer
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.moment import Interval, before
from claimkit.model.records import Delivery, Record

Results = tuple[Finding | NotChecked, ...]

PRACTICE = "common practice, no source"
INTAKE = "claimkit method: intake (docs/receiving.md, late and messy arrival)"


def record_told_twice(case: Case) -> Results:
    """Name each record that says word for word what another one says."""
    found = []
    for record in case.facts.records:
        other = _same(case, record)
        if other is None:
            continue
        found.append(
            Finding(
                "record-told-twice",
                Standing.NOTE,
                record.path,
                f"It says word for word what {other.path} says, and counts once.",
                "Nothing where it is the same thing. If it is about a second one, write in what "
                "the two differ.",
                (record_source(record), record_source(other)),
                INTAKE,
            )
        )
    return tuple(found)


def _same(case: Case, record: Record) -> Record | None:
    """Give the record that counts in place of this one because it says the same."""
    if record.replaced_by is None:
        return None
    return next(
        (
            other
            for other in case.facts.records
            if other.id == record.replaced_by
            and other.path != record.path
            and other.body == record.body
            and other.replaces == record.replaces
            and other.said_by == record.said_by
        ),
        None,
    )


def delivery_told_twice(case: Case) -> Results:
    """Name two records in force that state the same truck of one shipment."""
    job = case.facts.job
    found = []
    for shipment in job.shipment if job else ():
        deliveries = deliveries_of(case.facts, job, shipment) if job else ()
        for (one, first), (two, second) in combinations(deliveries, 2):
            if not _one_truck(first, second):
                continue
            differ = _differences(first, second)
            found.append(
                Finding(
                    "delivery-told-twice",
                    Standing.AGAINST if differ else Standing.NOTE,
                    f"shipment {shipment.id}",
                    f"{one.path} and {two.path} are both about the truck of "
                    f"{first.arrived.said if first.arrived else 'that day'}, and their counts "
                    "would be added." + (f" They differ in {', '.join(differ)}." if differ else ""),
                    "Write one record that says what is right, with replaces = "
                    f'"{one.id}", and let the other be replaced by it in turn.',
                    (record_source(one, "arrived"), record_source(two, "arrived")),
                    PRACTICE,
                )
            )
    return tuple(found)


def _one_truck(first: Delivery, second: Delivery) -> bool:
    """Tell whether two stretches at the curb overlap: two trucks of one shipment do not."""
    one, two = _at_the_curb(first), _at_the_curb(second)
    if one is None or two is None:
        return False
    return before(one, two) is not Answer.YES and before(two, one) is not Answer.YES


def _at_the_curb(delivery: Delivery) -> Interval | None:
    """Give the time between arrival and leaving, as far as it is stated to the minute."""
    stated = [m for m in (delivery.arrived, delivery.signed_at, delivery.driver_left) if m]
    clocked = [moment.interval("stated") for moment in stated if moment.precision != "day"]
    if delivery.arrived is None or delivery.arrived.precision == "day" or not clocked:
        return None
    ends = [i.latest for i in clocked if i.latest]
    return Interval(clocked[0].earliest, max(ends), "stated")


def _differences(first: Delivery, second: Delivery) -> list[str]:
    keys = {
        "units_received": "units counted",
        "cartons_received": "cartons counted",
        "words": "the words on the carrier's copy",
        "signed": "who signed",
        "wrap": "the wrap",
    }
    return [said for key, said in keys.items() if getattr(first, key) != getattr(second, key)]


CHECKS: tuple[tuple[str, str, Callable[[Case], Results]], ...] = (
    ("record-told-twice", "A record that repeats another", record_told_twice),
    ("delivery-told-twice", "Two records of one truck", delivery_told_twice),
)
