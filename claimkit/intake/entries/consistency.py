"""What the values of one table say against each other: ends before beginnings, two gaps in one.

These are slips of the pen, seen without knowing anything else: a driver who leaves before he
arrives, a smallest gap above the largest, a design gap in a joint that has none.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from typing import Any

from claimkit.intake.entries.costs import cost_slips
from claimkit.intake.entries.leaves import subdivision_known
from claimkit.intake.entries.problems import listed, nearest, quoted
from claimkit.intake.entries.tables import UNREAD, Table
from claimkit.model.answers import Answer
from claimkit.model.contract import Duty, LiabilityLimit, LiabilityTerms, OwnTerm, Policy
from claimkit.model.job import Job, Joint, Seam, Shipment, Site
from claimkit.model.measuring import OpeningCheck, Readings
from claimkit.model.moment import Moment, before
from claimkit.model.records import Cost, Delivery, Milestone, Notice, Unpacking

Told = tuple[str, str, str]  # key path, what was found, what to write


def slips(table: Table) -> Iterator[Told]:
    """Give what does not fit together within a table and the tables in it."""
    for inner in table.walk():
        for check in _CHECKS.get(inner.of, ()):
            yield from check(inner)


def written_too_early(head: Table, body: Table) -> Iterator[Told]:
    """Give each time in a record that lies after the record was written down."""
    written = head.get("written")
    if not isinstance(written, Moment):
        return
    for table in body.walk():
        for _, path, value in table.leaves():
            if isinstance(value, Moment) and _certainly_before(written, value):
                yield (
                    path,
                    f"{value.written} lies after the record was written ({written.written}).",
                    "Look again at the two times.",
                )


def _certainly_before(a: Moment, b: Moment) -> bool:
    return before(a.interval(""), b.interval("")) is Answer.YES


def _in_order(*names: str) -> Callable[[Table], Iterator[Told]]:
    """Give a check that each time lies before none of those named ahead of it."""

    def check(table: Table) -> Iterator[Told]:
        times = [(n, v) for n in names if isinstance(v := table.get(n), Moment)]
        for number, (name, value) in enumerate(times):
            for earlier_name, earlier in times[:number]:
                if _certainly_before(value, earlier):
                    yield (
                        table.path(name),
                        f"{value.written} lies before {earlier_name} ({earlier.written}).",
                        "Look again at the two times; one of them is wrong.",
                    )
                    break

    return check


def _design_gap(seam: Table) -> Iterator[Told]:
    least, most = seam.get("design_gap_min"), seam.get("design_gap_max")
    if least is not None and most is not None and least.mm > most.mm:
        yield (
            seam.path("design_gap_min"),
            f"{quoted(least.written)} is larger than design_gap_max, {quoted(most.written)}.",
            "Look again, and write the smaller one here.",
        )
    if seam.get("joint") is Joint.INTERLOCKING:
        for name in ("design_gap_min", "design_gap_max"):
            if name in seam.there:
                yield (
                    seam.path(name),
                    "an interlocking joint has no design gap.",
                    "Take the line out, or write the joint that it is.",
                )


def _joins_itself(job: Table) -> Iterator[Told]:
    """Tell of a seam between an item and itself where only one of it was ordered."""
    quantity = {item.get("id"): item.get("quantity") for item in job.tables("item")}
    for seam in job.tables("seam"):
        ids: tuple[Any, ...] = seam.get("between") or ()
        if (
            len(ids) == 2
            and ids[0] == ids[1]
            and ids[0] is not UNREAD
            and quantity.get(ids[0]) == 1
        ):
            yield (
                seam.path("between"),
                f"a seam joins two pieces, and there is one {quoted(ids[0])}.",
                "Write the two items that meet, or mend the item's quantity.",
            )


def _unique(name: str, key: str) -> Callable[[Table], Iterator[Told]]:
    """Give a check that no two tables under `name` have the same `key`."""

    def check(table: Table) -> Iterator[Told]:
        yield from _repeated(table.tables(name), key)

    return check


def _repeated(tables: Iterable[Table], key: str) -> Iterator[Told]:
    seen: dict[Any, str] = {}
    for table in tables:
        value = table.values.get(key)
        if value is None:
            continue
        if value in seen:
            yield (
                table.path(key),
                f"{quoted(str(value))} stands already in {seen[value]}.",
                f"Give each its own {key}, or put the two together.",
            )
        else:
            seen[value] = table.at


def _cards(job: Table) -> Iterator[Told]:
    """Tell of a scale card that stands for two places."""
    yield from _repeated((s for seam in job.tables("seam") for s in seam.tables("station")), "card")


def _subdivision(site: Table) -> Iterator[Told]:
    country, subdivision = site.get("country"), site.get("subdivision")
    if country is None or subdivision is None:
        return
    known, others = subdivision_known(country, subdivision)
    if not known:
        like = nearest(subdivision, others)
        write = f'Write such as "{like}".' if like else f"Known are {listed(others)}."
        yield (
            site.path("subdivision"),
            f"{quoted(subdivision)} is no state or province of {country} with known holidays.",
            write if others else "Take the line out.",
        )


def _why_not_inspected(delivery: Table) -> Iterator[Told]:
    if delivery.get("inspected") is True and "not_inspected_because" in delivery.there:
        yield (
            delivery.path("not_inspected_because"),
            "inspected is true, and a reason stands here why it was not.",
            "Take the line out, or write inspected = false.",
        )


def _stations_once(readings: Table) -> Iterator[Told]:
    count = Counter(at.get("station") for at in readings.tables("at"))
    for at in readings.tables("at"):
        station = at.get("station")
        if station is not None and count[station] > 1:
            count[station] = 0
            yield (
                at.path("station"),
                f"{quoted(station)} stands in more than one [[at]].",
                'Put repeats of one reading in one list: gap = ["3/16 in", "5 mm"].',
            )


def _part_of_the_whole(shipment: Table) -> Iterator[Told]:
    """Tell of damaged packages that weigh more than the shipment."""
    whole = shipment.get("weight")
    for liability in shipment.tables("liability"):
        part = liability.get("affected_weight")
        if whole is not None and part is not None and part.kg > whole.kg:
            yield (
                liability.path("affected_weight"),
                f"{quoted(part.written)} is more than the shipment weighs, "
                f"{quoted(whole.written)}.",
                "Look again at the two weights.",
            )


def _special_drawing_right(liability: Table) -> Iterator[Told]:
    rate = liability.get("sdr_rate")
    if rate is not None and (rate.per != "SDR" or rate.currency == "XDR"):
        yield (
            liability.path("sdr_rate"),
            f"{quoted(rate.written)} does not say what one special drawing right is worth.",
            "Write such as '1.3142 USD per SDR'.",
        )


def _rate_of_liability(limit: Table) -> Iterator[Told]:
    rate = limit.get("rate")
    if rate is None:
        return
    if rate.per == "SDR":
        yield (
            limit.path("rate"),
            f"{quoted(rate.written)} is no limit for goods.",
            "Write such as '2.00 USD per lb' or '8.33 SDR per kg'.",
        )
    elif rate.per not in ("lb", "kg") and "basis" in limit.there:
        yield (
            limit.path("basis"),
            f"a rate per {rate.per} multiplies no weight.",
            "Take the line out, or look at the rate again.",
        )


_CARRIERS_DUTIES = (Duty.ACKNOWLEDGE, Duty.DECIDE)


def _whose_duty(term: Table) -> Iterator[Told]:
    if term.get("duty") in _CARRIERS_DUTIES and "to" in term.there:
        yield (
            term.path("to"),
            f"to {term.get('duty')} is the carrier's, and somebody stands here who must have it.",
            "Take the line out.",
        )


_CHECKS: dict[type[Any], tuple[Callable[[Table], Iterator[Told]], ...]] = {
    Job: (
        *(_unique(name, "id") for name in ("party", "person", "shipment", "item", "seam")),
        _unique("paper", "file"),
        _unique("opening", "name"),
        _cards,
        _joins_itself,
    ),
    Site: (_subdivision,),
    Shipment: (
        _in_order("shipped", "reasonable_delivery"),
        _in_order("bill_date", "reasonable_delivery"),
        _unique("override", "clause"),
        _unique("own_term", "id"),
        _part_of_the_whole,
    ),
    LiabilityTerms: (_special_drawing_right,),
    LiabilityLimit: (_rate_of_liability,),
    OwnTerm: (_whose_duty,),
    Policy: (_unique("term", "id"),),
    Seam: (_design_gap, _unique("station", "id")),
    Delivery: (_in_order("arrived", "signed_at", "driver_left"), _why_not_inspected),
    Unpacking: (_in_order("began", "ended"),),
    Notice: (_in_order("sent", "received"),),
    Readings: (_stations_once,),
    Milestone: (_in_order("began", "ended"),),
    OpeningCheck: (),
    Cost: (cost_slips,),
}
