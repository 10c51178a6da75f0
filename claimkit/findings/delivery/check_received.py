"""Findings about ordered against received, as it came out of the packing.

What differs and what nobody checked stand side by side, and a shipment that agrees in everything
is said to agree. The packing itself is evidence while anything is damaged or short.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import UTC, datetime, time

from claimkit.findings.claim.worksheet import shipment_of
from claimkit.findings.delivery.readiness import steps
from claimkit.findings.delivery.received import CONDITION, COUNTS, NOT_FOUND, deliveries_of
from claimkit.findings.limits.events import nothing_received
from claimkit.findings.pieces import same_piece
from claimkit.findings.wording import counted, record_source
from claimkit.findings.written_time import site_zone
from claimkit.model.answers import Answer
from claimkit.model.case import Case, Difference, Finding, NotChecked, Standing
from claimkit.model.job import Job
from claimkit.model.records import Damage, FoundAt, Record, Unpacking
from claimkit.model.source import Source
from claimkit.model.stages import Event
from claimkit.rules.governing import PRACTICE, only_us

Results = tuple[Finding | NotChecked, ...]

BEFORE_FASTENING = (
    "Count, measure and look, and write what was found in an unpacking record before the pieces "
    "are fastened."
)
FASTENED_NOW = (
    "The pieces are fastened: look and measure what can still be reached, and write in an "
    "unpacking record what was found and on which day. Papers and photos from before may show "
    "the rest."
)
HIDDEN = "NMFC item 300135-A: damage to or loss of contents is reported alike (wording read)"
KEEP = "NMFC item 300135-A: hold the container and its contents as found (wording read)"
# "No. 3 Mill Lane" is a place where packing is kept.
GONE = re.compile(
    r"(no|none|gone|not kept|thrown away|discarded|recycled)\b(?!\.?\s*\d)", re.IGNORECASE
)


def differs(case: Case) -> Results:
    """Tell of each item in what it differs from the order; its condition is another matter."""
    found = []
    for item, all_rows in _by_item(case, Answer.NO).items():
        rows = [row for row in all_rows if row.what != CONDITION]
        if not rows:
            continue
        texts = [f"{row.what} {row.found}, ordered {row.ordered}" for row in rows]
        short = sum(row.short for row in rows)
        found.append(
            Finding(
                "received-differs",
                Standing.SUPPORTS,
                _item(rows[0]),
                f"{item} is not as ordered: {'; '.join(texts)}.",
                "Tell the seller in writing, with the measured figures and photos; keep the piece "
                "and its packing."
                + (
                    " A short count inside an intact unit is reported to the carrier, too."
                    * (short > 0)
                ),
                _sources(rows),
                _law(case, rows[0].shipment, HIDDEN) if short else PRACTICE,
            )
        )
    return tuple(found)


def condition_unrecorded(case: Case) -> Results:
    """Tell of each item that was found in bad condition and has no damage record."""
    damaged = {r.body.item for r in case.facts.in_force(Damage) if isinstance(r.body, Damage)}
    return tuple(
        Finding(
            "received-condition-unrecorded",
            Standing.MISSING,
            _item(row),
            f"{row.item} was found “{row.found}”, and no damage record stands for it.",
            "Write a damage record: where on the piece, what kind, how big, with photos. Nothing "
            "is claimed for a damage that only the unpacking record mentions.",
            row.sources,
            PRACTICE,
        )
        for row in case.differences
        if row.what == CONDITION and row.same is Answer.NO and row.item not in damaged
    )


def not_checked(case: Case) -> Results:
    """Tell of each item what nobody checked against the order, though it was unpacked."""
    unpacked = {i.item for i in case.differences if i.found != NOT_FOUND}
    found = []
    for item, rows in _by_item(case, Answer.CANNOT_TELL).items():
        if not _has_unpacking(case, rows[0].shipment) and item not in unpacked:
            continue
        texts = [row.what + (f" ({row.found})" if row.found != NOT_FOUND else "") for row in rows]
        found.append(
            Finding(
                "received-not-checked",
                Standing.MISSING,
                _item(rows[0]),
                f"{item}: not shown to be as ordered: {', '.join(texts)}.",
                FASTENED_NOW if _is_fastened(case, item) else BEFORE_FASTENING,
                _sources(rows),
                PRACTICE,
            )
        )
    return tuple(found)


def _is_fastened(case: Case, item: str) -> bool:
    """Tell whether a step that is past says that the piece stands fastened."""
    job = case.facts.job
    mine = {seam.id for seam in job.seam if item in seam.between} if job else set()
    last = datetime.combine(case.as_of, time.max, tzinfo=site_zone(case.facts) or UTC)
    return any(
        same_piece(step.body.piece, None)
        and (not step.body.seams or bool(mine & set(step.body.seams)))
        and step.began.earliest is not None
        and step.began.earliest <= last
        for step in steps(case, Event.FASTENED, Event.SEALED, Event.HANDOVER)
    )


def not_unpacked(case: Case) -> Results:
    """Tell of each delivered shipment that no record says what came out of its packing."""
    job = case.facts.job
    if job is None:
        return ()
    found = []
    for shipment in job.shipment:
        deliveries = deliveries_of(case.facts, job, shipment)
        if not deliveries or _has_unpacking(case, shipment.id):
            continue
        if all(nothing_received(body) for _, body in deliveries):
            continue  # refused, or never unloaded: there is nothing here to unpack
        found.append(
            Finding(
                "received-not-unpacked",
                Standing.MISSING,
                f"shipment {shipment.id}",
                "The shipment is delivered, and no record says what was in the packing.",
                "Unpack at once, count and measure every piece and photograph the inner packing: "
                "hidden damage and hidden shortage have to be reported within days.",
                tuple(record_source(record, "arrived") for record, _ in deliveries),
                only_us(shipment, HIDDEN),
                urgent=True,
            )
        )
    return tuple(found)


def as_ordered(case: Case) -> Results:
    """Tell of each shipment whose every item was checked and agrees with the order."""
    job = case.facts.job
    if job is None:
        return ()
    found = []
    for shipment in job.shipment:
        items = {i.id for i in job.item if shipment_of(job, i) == shipment.id}
        rows = [d for d in case.differences if d.item in items]
        if items and rows and all(row.same is Answer.YES for row in rows):
            found.append(
                Finding(
                    "received-as-ordered",
                    Standing.SUPPORTS,
                    f"shipment {shipment.id}",
                    f"All {counted(len(rows), 'property', 'properties')} compared agree with the "
                    "order.",
                    "",
                    _sources(rows),
                    PRACTICE,
                )
            )
    return tuple(found)


def packing_is_kept(body: Unpacking) -> bool:
    """Tell whether an unpacking record says where the packing is, and not that it is gone."""
    kept = (body.packing_kept or "").strip()
    return bool(kept) and not GONE.match(kept)


def packing_gone(case: Case) -> Results:
    """Tell of damage or shortage found out of the packing where the packing is not kept."""
    found = []
    for record in case.facts.in_force(Unpacking):
        body = record.body
        if not isinstance(body, Unpacking):
            continue
        trouble = _trouble(case, record, body)
        if not trouble or packing_is_kept(body):
            continue
        gone = bool((body.packing_kept or "").strip())
        found.append(
            Finding(
                "packing-not-kept",
                Standing.AGAINST if gone else Standing.MISSING,
                _where(case, body.shipment, record),
                f"Record {record.id} says that the packing is gone, and goods are damaged or short."
                if gone
                else f"Record {record.id} does not say where the packing is, and goods are damaged "
                "or short.",
                "Say which photos show the packing as it was."
                if gone
                else "Keep the packing as it is until the carrier has inspected or waived it in "
                "writing, and record where it is.",
                (record_source(record, "packing_kept"), *trouble),
                _law(case, body.shipment, KEEP),
                urgent=not gone,
            )
        )
    return tuple(found)


def _trouble(case: Case, record: Record, body: Unpacking) -> tuple[Source, ...]:
    job = case.facts.job
    items = {row.item for row in body.counted}
    damages = [
        record_source(r, "what")
        for r in case.facts.in_force(Damage)
        if isinstance(r.body, Damage)
        and r.body.found_at is not FoundAt.LATER
        and r.body.resolved is None
        and (r.body.item in items or _same_shipment(job, r.body, body))
    ]
    short = [
        source
        for d in case.differences
        if d.short and d.what not in COUNTS
        for source in d.sources
        if source.path == record.path
    ]
    return tuple(dict.fromkeys([*damages, *short]))


def _same_shipment(job: Job | None, damage: Damage, body: Unpacking) -> bool:
    if job is None:
        return damage.shipment == body.shipment
    item = job.item_named(damage.item)
    home = damage.shipment or (shipment_of(job, item) if item else None)
    named = job.shipment_named(body.shipment)
    return named is not None and home == named.id


def _by_item(case: Case, answer: Answer) -> dict[str, list[Difference]]:
    found: dict[str, list[Difference]] = {}
    for row in case.differences:
        if row.same is answer and row.what not in COUNTS:
            found.setdefault(row.item, []).append(row)
    return found


def _has_unpacking(case: Case, shipment: str | None) -> bool:
    job = case.facts.job
    for record in case.facts.in_force(Unpacking):
        if isinstance(record.body, Unpacking):
            named = job.shipment_named(record.body.shipment) if job else None
            if shipment is None or named is None or named.id == shipment:
                return True
    return False


def _law(case: Case, shipment: str | None, text: str) -> str:
    """Give a text of American carriage by truck where it governs the shipment, else practice."""
    job = case.facts.job
    return only_us(job.shipment_named(shipment) if job else None, text)


def _item(row: Difference) -> str:
    return f"item {row.item}"


def _where(case: Case, shipment: str | None, record: Record) -> str:
    named = case.facts.job.shipment_named(shipment) if case.facts.job else None
    return f"shipment {named.id}" if named else f"record {record.id}"


def _sources(rows: list[Difference]) -> tuple[Source, ...]:
    return tuple(dict.fromkeys(s for row in rows for s in row.sources))


CHECKS: tuple[tuple[str, str, Callable[[Case], Results]], ...] = (
    ("received-not-unpacked", "Delivered, and no record of the unpacking", not_unpacked),
    ("received-differs", "Received is not as ordered", differs),
    (
        "received-condition-unrecorded",
        "Found in bad condition, and no damage record",
        condition_unrecorded,
    ),
    ("received-not-checked", "Never checked against the order", not_checked),
    ("received-as-ordered", "Received is as ordered", as_ordered),
    ("packing-not-kept", "Damage or shortage, and the packing is not kept", packing_gone),
)
