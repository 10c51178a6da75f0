"""Whom to ask for each damage, shortage, wrong part and gap, with the facts that say so.

Each possible addressee gets an answer of its own: yes where the record names it, no where the
record speaks against it, else cannot tell with what would settle it. Several may be asked. This is
the owner's own view: who is at fault is for people to decide, and it stands in no other packet.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from claimkit.findings.claim.addressee_carriers import carriers
from claimkit.findings.claim.addressee_others import insurer, maker, seller
from claimkit.findings.claim.addressee_own import own_work
from claimkit.findings.claim.elements import FOUND
from claimkit.findings.delivery.received import OF_THE_PIECE
from claimkit.findings.limits.conditions import (
    CARTON,
    HANDLING,
    damages_of,
    overdue,
    short_beyond_refusal,
)
from claimkit.findings.limits.events import deliveries, nothing_received, source_in_job, source_of
from claimkit.findings.matters import DAMAGE, GAP, NOT_DELIVERED, SHORTAGE, WRONG_PART, Matter
from claimkit.findings.receipt.grade import refused_of
from claimkit.model.answers import Answer
from claimkit.model.case import Addressee, Candidate, Case
from claimkit.model.gap import Change, Comparison, Fit
from claimkit.model.job import Job, Shipment
from claimkit.model.records import Delivery
from claimkit.model.source import Source


@dataclass(frozen=True, slots=True)
class _At:
    """A case and its job, where there is one."""

    case: Case
    job: Job


def work_out(case: Case) -> Case:
    """Fill whom to ask, for everything that is wrong."""
    job = case.facts.job
    if job is None:
        return case
    found = [_of(case, job, matter) for matter in matters(case, job)]
    return replace(case, addressees=tuple(found))


def matters(case: Case, job: Job) -> tuple[Matter, ...]:
    """Give everything that is wrong: damages not settled, shortages, wrong parts, gaps."""
    at = _At(case, job)
    found: list[Matter] = []
    for shipment in job.shipment:
        found += _damages(at, shipment)
        found += _short(at, shipment)
    found += _wrong_parts(at)
    found += _gaps(at)
    return tuple(found)


def _of(case: Case, job: Job, matter: Matter) -> Addressee:
    candidates: list[Candidate] = [
        *carriers(case, job, matter),
        *seller(case, job, matter),
        *maker(case, job, matter),
        *insurer(case, job, matter),
        *own_work(case, job, matter),
    ]
    shipment = matter.shipment.id if matter.shipment else None
    return Addressee(
        matter.kind, matter.where, matter.about, shipment, tuple(candidates), matter.sources
    )


def _damages(at: _At, shipment: Shipment) -> Iterator[Matter]:
    for record, damage in damages_of(at.case, shipment):
        if damage.resolved is not None:
            continue
        item = at.job.item_named(damage.item)
        name = item.description if item else damage.item
        where = f", {damage.part}" if damage.part else ""
        about = f"{name}{where}: {damage.what}, {FOUND[damage.found_at]}"
        source = source_of(record, "what")
        yield Matter(DAMAGE, record.path, about, shipment, item, (source,), damage=damage)


def _short(at: _At, shipment: Shipment) -> Iterator[Matter]:
    came = deliveries(at.case, shipment)
    if overdue(at.case, shipment) and all(
        nothing_received(body) and not _sent_back(at, body) for _, body in came
    ):
        source = source_in_job(at.case, shipment, "id")
        about = f"shipment {shipment.id}: nothing was delivered"
        yield Matter(NOT_DELIVERED, f"shipment {shipment.id}", about, shipment, None, (source,))
        return
    curb = short_beyond_refusal(at.case, shipment)
    for text, source in curb:
        about = f"shipment {shipment.id}: {text}"
        yield Matter(SHORTAGE, f"shipment {shipment.id}", about, shipment, None, (source,))
    for d in at.case.differences:
        item = at.job.item_named(d.item)
        if d.short and item and d.shipment == shipment.id:
            about = f"{item.description}: {d.found} found, {d.ordered} ordered"
            yield Matter(SHORTAGE, f"item {item.id}", about, shipment, item, d.sources, short=d)


def _sent_back(at: _At, body: Delivery) -> bool:
    """Tell whether what is not there was refused at the curb: that is no loss on the way."""
    back = (refused_of(at.case.facts, body, unit) for unit in (HANDLING, CARTON))
    return any(number != 0 for number in back)


def _wrong_parts(at: _At) -> Iterator[Matter]:
    for d in at.case.differences:
        item = at.job.item_named(d.item)
        if item and d.what in OF_THE_PIECE and d.same is Answer.NO:
            shipment = at.job.shipment_named(d.shipment)
            about = f"{item.description}: {d.what} {d.found}, ordered {d.ordered}"
            yield Matter(WRONG_PART, f"item {item.id}", about, shipment, item, d.sources, short=d)


def _gaps(at: _At) -> Iterator[Matter]:
    """Give each station whose gap is outside design, or opened or closed since the dry fit."""
    for c in at.case.comparisons:
        if c.step:
            continue
        moved = c.change.change in (Change.OPENED, Change.CLOSED)
        if not moved and Fit.OUTSIDE not in (c.at_dry_fit.fit, c.now.fit):
            continue
        seam = at.job.seam_named(c.seam)
        item = at.job.item_named(seam.between[0]) if seam else None
        shipment = at.job.shipment_named(item.shipment) if item else None
        where = f"seam {c.seam}, station {c.station}"
        yield Matter(GAP, where, f"{where}: {_gap_words(c)}", shipment, item, _ends(c), gap=c)


def _gap_words(c: Comparison) -> str:
    words = [f"{c.at_dry_fit.fit.value} at the dry fit"]
    if c.after:
        words += [c.change.change.value, f"{c.now.fit.value} at the {c.after.stage.value}"]
    return ", ".join(words)


def _ends(c: Comparison) -> tuple[Source, ...]:
    return tuple(r.source for r in (c.before, c.after) if r)
