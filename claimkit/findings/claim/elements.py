"""The three elements of a claim against a carrier, and what in the record bears on each.

Good order at origin, damaged at delivery, amount: the text of `rules.governing` for the terms of
the shipment. Each is yes, no or cannot tell, with what supports it, what
speaks against it and what is missing; both directions are always given.
"""

from __future__ import annotations

from dataclasses import replace

from claimkit.findings.claim.documents import BILL_OF_LADING, papers_of
from claimkit.findings.claim.same_piece import missing_beside, refusals
from claimkit.findings.claim.worksheet import gaps, open_damages, shipment_of, total
from claimkit.findings.delivery.received import COUNTS
from claimkit.model.answers import Answer
from claimkit.model.case import Case, Difference, Element
from claimkit.model.job import Job, Shipment
from claimkit.model.receipt import Grade, Receipt
from claimkit.model.records import Damage, FoundAt, Record, Unpacking
from claimkit.model.source import Source
from claimkit.model.stages import Stage
from claimkit.rules.governing import law_of

ORIGIN = "good order at origin"
DELIVERY = "damaged at delivery"
AMOUNT = "amount"

Point = tuple[str, tuple[Source, ...]]
FOUND = {
    FoundAt.CURB: "found at the curb",
    FoundAt.UNPACKING: "found at the unpacking",
    FoundAt.DRY_FIT: "found at the dry fit",
    FoundAt.LATER: "found after the dry fit",
}


def work_out(case: Case) -> Case:
    """Fill the three elements for every shipment."""
    job = case.facts.job
    if job is None:
        return case
    found: list[Element] = []
    for number, shipment in enumerate(job.shipment, start=1):
        damages = damages_of(case, job, shipment.id)
        found += [
            _origin(case, shipment, number, damages),
            _delivery(case, job, shipment, damages),
            _amount(case, job, shipment, damages),
        ]
    return replace(case, elements=tuple(found))


def damages_of(case: Case, job: Job, shipment: str) -> tuple[tuple[Record, Damage], ...]:
    """Give the open damage records of the items that came with a shipment."""
    return tuple(
        pair
        for item in job.item
        for pair in open_damages(case, item.id)
        if (pair[1].shipment or shipment_of(job, item)) == shipment
    )


def _origin(
    case: Case, shipment: Shipment, number: int, damages: tuple[tuple[Record, Damage], ...]
) -> Element:
    def key(name: str) -> tuple[Source, ...]:
        path = f"shipment[{number}].{name}"
        return (Source(path="job.toml", sha256=case.facts.job_sha256, key_path=path),)

    supports: list[Point] = []
    against: list[Point] = []
    missing: list[str] = []
    concealed = [d for _, d in damages if d.found_at is not FoundAt.CURB]
    if shipment.clean_at_origin:
        text, paper = signed_clean(case, shipment)
        supports.append((f"{text}.", (*key("clean_at_origin"), *paper)))
    elif shipment.clean_at_origin is False:
        against.append(("The bill notes an exception at origin.", key("clean_at_origin")))
    else:
        missing.append("Enter clean_at_origin: was the bill signed at origin with no exception?")
    if shipment.packing_evidence:
        text = f"Packing and condition at origin: {shipment.packing_evidence}"
        supports.append((text, key("packing_evidence")))
    elif concealed or not damages:
        missing.append(
            "Ask the seller how the goods were packed and for their condition at origin. "
            "A clean bill shows only what could be seen."
        )
    shown = Answer.CANNOT_TELL
    if against:
        shown = Answer.NO
    elif shipment.clean_at_origin and (shipment.packing_evidence or (damages and not concealed)):
        shown = Answer.YES
    return Element(ORIGIN, shipment.id, shown, tuple(supports), tuple(against), tuple(missing))


def signed_clean(case: Case, shipment: Shipment) -> tuple[str, tuple[Source, ...]]:
    """Say that the bill was signed clean, and on what that rests: the bill itself, or an entry."""
    there = papers_of(case, shipment, BILL_OF_LADING)
    said = "he bill was signed at origin with no exception"
    if there:
        return f"T{said}", there
    return (
        f"By what was entered t{said}; the bill of lading itself is not in the folder",
        (),
    )


def _delivery(
    case: Case, job: Job, shipment: Shipment, damages: tuple[tuple[Record, Damage], ...]
) -> Element:
    supports: list[Point] = []
    against: list[Point] = []
    missing: list[str] = []
    receipts = [r for r in case.receipts if r.shipment == shipment.id]
    for receipt in receipts:
        _weigh_receipt(receipt, supports, against)
    if not receipts:
        missing.append("Write a delivery record: when, who, the words on the carrier's copy.")
    noted = any(r.reading.grade is Grade.SPECIFIC for r in receipts)
    seen_at_curb = False
    for record, damage in sorted(damages, key=lambda pair: pair[1].found_at is not FoundAt.CURB):
        item = job.item_named(damage.item)
        name = item.description if item else damage.item
        where = f", {damage.part}" if damage.part else ""
        text = f"{name}{where}: {damage.what}, {FOUND[damage.found_at]}."
        source = Source(path=record.path, sha256=record.sha256, key_path="what")
        shown = dated_photos(case, damage)
        seen_at_curb |= damage.found_at is FoundAt.CURB and bool(shown)
        supports.append((text, (source, *shown)))
        if damage.found_at is not FoundAt.CURB and not noted:
            against.append(
                (
                    f"{name}: {FOUND[damage.found_at]}, after the goods had been "
                    "received; the carrier may say that it happened later.",
                    (source,),
                )
            )
    short = [d for d in case.differences if d.shipment == shipment.id and d.not_here]
    supports += [
        (f"Refused at the delivery: “{words}”.", (source,))
        for words, source in refusals(case, shipment)
    ]
    supports += [
        (f"{_named(job, d.item)}: {d.short} fewer than {_due(d)}.", d.sources)
        for d in missing_beside(case, shipment)
    ]
    if any(d.found_at is not FoundAt.CURB for _, d in damages) and not _packing_kept(
        case, shipment
    ):
        missing.append("Keep the packing and record where it is (unpacking record, packing_kept).")
    if not damages and not short:
        missing.append("Nothing is recorded as damaged or short in this shipment.")
    answer = Answer.YES if (damages or short) and (noted or seen_at_curb) else Answer.CANNOT_TELL
    return Element(DELIVERY, shipment.id, answer, tuple(supports), tuple(against), tuple(missing))


def _due(d: Difference) -> str:
    """Say by what a count falls short: articles are ordered, units expected by bill or receipt."""
    if d.what not in COUNTS:
        return "ordered"
    by_bill = any(source.path == "job.toml" for source in d.sources)
    return f"expected by the {'bill' if by_bill else 'receipt'}"


def _named(job: Job, item_id: str) -> str:
    item = job.item_named(item_id)
    return item.description if item else item_id


def _weigh_receipt(receipt: Receipt, supports: list[Point], against: list[Point]) -> None:
    reading = receipt.reading
    sources = (receipt.record,)
    words = f"“{' '.join(receipt.words.split())}”" if receipt.words else "nothing"
    if reading.grade is Grade.SPECIFIC:
        supports.append((f"The carrier's copy of the receipt states {words}", sources))
    else:
        text = f"The carrier's copy of the receipt reads {words}: {reading.grade.value}."
        against.append((text, sources))


def dated_photos(case: Case, damage: Damage) -> tuple[Source, ...]:
    """Give the damage's photos that are certainly from the arrival or the curb."""
    found = []
    for path in damage.photos:
        photo = case.facts.photo_at(path)
        dated = next((d for d in case.photos if photo and d.sha256 == photo.sha256), None)
        if dated and dated.stage in (Stage.ARRIVAL, Stage.CURB):
            found.append(Source(path=path, sha256=dated.sha256))
    return tuple(found)


def _packing_kept(case: Case, shipment: Shipment) -> bool:
    for record in case.facts.in_force(Unpacking):
        body = record.body
        if isinstance(body, Unpacking) and body.shipment in (None, shipment.id):
            kept = (body.packing_kept or "no").strip().lower()
            if kept not in ("no", "none", "gone"):
                return True
    return False


def _paper_source(case: Case, path: str) -> Source:
    paper = next((p for p in case.facts.papers if p.path == path), None)
    return Source(path=path, sha256=paper.sha256 if paper else None)


def _amount(
    case: Case, job: Job, shipment: Shipment, damages: tuple[tuple[Record, Damage], ...]
) -> Element:
    lines = [line for line in case.amount if line.shipment == shipment.id]
    lacking = gaps(case, shipment.id)
    missing = [gap.reason for gap in lacking if gap.where.startswith("item ")]
    whole = total(lines)
    supports: list[Point] = []
    if whole:
        sources = tuple(source for line in lines for source in line.sources)
        loss = law_of(shipment).the_loss
        words = "Counted so far" if lacking else f"{loss}, by the worksheet"
        supports.append((f"{words}: {whole}.", sources))
    elif lines:
        missing.append("The prices are in different currencies: claim each in its own, or convert.")
    for paper in job.paper:
        if paper.what == "invoice" and paper.shipment in (None, shipment.id):
            supports.append(("The invoice is in the folder.", (_paper_source(case, paper.file),)))
            break
    else:
        missing.append("Put the purchase invoice into documents/ and name it in job.toml (paper).")
    if not damages and not lines:
        missing.append("Nothing is recorded that an amount could be worked out for.")
    shown = Answer.YES if whole and not missing else Answer.CANNOT_TELL
    return Element(AMOUNT, shipment.id, shown, tuple(supports), (), tuple(missing))
