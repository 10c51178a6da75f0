"""Findings about a delivery as a whole: no record of it, counts short, over, clashing or missing.

Counts of handling units are not counts of cartons, and neither tells what lies inside. A unit
whose wrap came intact is one unit received, whatever it is said to contain.
"""

from __future__ import annotations

from collections.abc import Callable

from claimkit.findings.claim.worksheet import shipment_of
from claimkit.findings.delivery.impossible_steps import WITH_THE_GOODS
from claimkit.findings.delivery.received import CARTONS, COUNTS, NOT_FOUND, UNITS, deliveries_of
from claimkit.findings.wording import job_source, record_source
from claimkit.model.answers import Answer
from claimkit.model.case import Case, Difference, Finding, NotChecked, Standing
from claimkit.model.job import Job, Shipment
from claimkit.model.records import Damage, Delivery, Milestone, Record, Unpacking, Wrap
from claimkit.model.source import Source

Results = tuple[Finding | NotChecked, ...]

PRACTICE = "common practice, no source"


def delivery_none(case: Case) -> Results:
    """Tell of each shipment that no delivery record says what happened at the curb."""
    job = case.facts.job
    if job is None:
        if case.facts.in_force(Delivery):
            return ()
        return (
            NotChecked("delivery-none", "the whole job", "No readable job.toml lists shipments."),
        )
    found = []
    for number, shipment in enumerate(job.shipment, 1):
        if deliveries_of(case.facts, job, shipment):
            continue
        came = _signs_of_arrival(case, job, shipment)
        found.append(
            Finding(
                "delivery-none",
                Standing.MISSING if came else Standing.NOTE,
                f"shipment {shipment.id}",
                "Goods of this shipment are recorded, and no record says how they were delivered."
                if came
                else "No delivery is recorded yet.",
                "Write a delivery record from what is still known: arrived, driver left, counts, "
                "the words on the carrier's copy, who signed."
                if came
                else "Before the truck comes, print the receiving sheet or put the page on the "
                "telephone (claimkit receiving-sheet, receiving-page). At the curb count, look, "
                "photograph and write on the receipt before the driver leaves.",
                (job_source(case.facts, f"shipment[{number}]"), *came),
                PRACTICE,
            )
        )
    return tuple(found)


def _signs_of_arrival(case: Case, job: Job, shipment: Shipment) -> tuple[Source, ...]:
    found = [
        record_source(record, "began")
        for record in (*case.facts.in_force(Unpacking), *case.facts.in_force(Milestone))
        if _is_of(job, record, shipment)
    ]
    for record in case.facts.in_force(Damage):
        body = record.body
        if not isinstance(body, Damage):
            continue
        item = job.item_named(body.item)
        if (body.shipment or (shipment_of(job, item) if item else None)) == shipment.id:
            found.append(record_source(record, "item"))
    return tuple(found)


def _is_of(job: Job, record: Record, shipment: Shipment) -> bool:
    """Tell whether an unpacking, or work with the goods, is of this shipment."""
    body = record.body
    if isinstance(body, Milestone) and body.event not in WITH_THE_GOODS:
        return False
    return isinstance(body, Unpacking | Milestone) and job.shipment_named(body.shipment) == shipment


def delivery_short(case: Case) -> Results:
    """Tell of each shipment whose counts at the curb fall short of the bill or the receipt."""
    return tuple(
        Finding(
            "delivery-short",
            Standing.SUPPORTS,
            f"shipment {row.shipment}",
            f"Short at the curb: {row.found} of {row.ordered} {row.item} received.",
            "See that the carrier's copy says so in figures, and claim what was short. Ask the "
            "carrier to trace the rest.",
            row.sources,
            PRACTICE,
        )
        for row in case.differences
        if row.what in COUNTS and row.short
    )


def delivery_over(case: Case) -> Results:
    """Tell of each shipment whose counts at the curb exceed the bill."""
    return tuple(
        Finding(
            "delivery-over",
            Standing.NOTE,
            f"shipment {row.shipment}",
            f"More than expected at the curb: {row.found} of {row.ordered} {row.item}.",
            "Count again and read every label: something may be another consignee's. Tell the "
            "carrier.",
            row.sources,
            PRACTICE,
        )
        for row in case.differences
        if row.what in COUNTS and row.same is Answer.NO and not (row.short or row.refused)
    )


def delivery_not_counted(case: Case) -> Results:
    """Tell of each delivered shipment whose counts were not recorded.

    Cartons on a unit whose wrap came intact cannot be counted at the curb and are not asked for.
    """
    job = case.facts.job
    wrapped = {
        shipment.id
        for shipment in (job.shipment if job else ())
        if job and all(b.wrap is Wrap.INTACT for _, b in deliveries_of(case.facts, job, shipment))
    }
    return tuple(
        Finding(
            "delivery-not-counted",
            Standing.MISSING,
            f"shipment {row.shipment}",
            *_uncounted(row),
            row.sources,
            PRACTICE,
        )
        for row in case.differences
        if row.what in COUNTS
        and row.same is Answer.CANNOT_TELL
        and not (row.what == CARTONS and row.shipment in wrapped)
    )


def _uncounted(row: Difference) -> tuple[str, str]:
    """Say what was not counted and what to do: all of it, or how many were refused."""
    if row.found != NOT_FOUND:
        return (
            f"Counted {row.found} of {row.ordered} {row.item}: how many were refused, and whether "
            "any is short, is not recorded.",
            "Write how many were refused (“1 of 2 crates: …”) in a record that replaces the "
            "delivery record.",
        )
    return (
        f"No record says how many {row.item} were received; {row.ordered} expected.",
        "Ask who was there, count what lies there, and write it in a record that replaces the "
        "delivery record.",
    )


def counts_clash(case: Case) -> Results:
    """Tell where the receipt lists another number than the bill."""
    job = case.facts.job
    found: list[Finding] = []
    for number, shipment in enumerate(job.shipment if job else (), 1):
        deliveries = deliveries_of(case.facts, job, shipment) if job else ()
        pairs = (
            (UNITS, "handling_units", shipment.handling_units, "units_expected"),
            (CARTONS, "cartons", shipment.cartons, "cartons_expected"),
        )
        for what, key, on_bill, stem in pairs:
            on_receipt = [getattr(body, stem) for _, body in deliveries]
            if (
                on_bill is None
                or not on_receipt
                or None in on_receipt
                or sum(on_receipt) == on_bill
            ):
                continue
            found.append(
                Finding(
                    "delivery-counts-clash",
                    Standing.AGAINST,
                    f"shipment {shipment.id}",
                    f"The bill lists {on_bill} {what}, the receipt {sum(on_receipt)}.",
                    "Ask the carrier which is right and for its own copies of both papers.",
                    (
                        job_source(case.facts, f"shipment[{number}].{key}"),
                        *(record_source(record, stem) for record, _ in deliveries),
                    ),
                    PRACTICE,
                )
            )
    return tuple(found)


CHECKS: tuple[tuple[str, str, Callable[[Case], Results]], ...] = (
    ("delivery-none", "A shipment with no delivery record", delivery_none),
    ("delivery-short", "Short at the curb", delivery_short),
    ("delivery-over", "Over at the curb", delivery_over),
    ("delivery-not-counted", "Counts at the curb not recorded", delivery_not_counted),
    ("delivery-counts-clash", "Bill and receipt list different counts", counts_clash),
)
