"""The shipment, what was ordered and found, the damages, and the amount, as tables."""

from __future__ import annotations

from claimkit.compose.blocks import row, say, table
from claimkit.compose.packet.view import View
from claimkit.compose.phrases import day, job_source, stretch
from claimkit.findings.claim.worksheet import not_whole, total
from claimkit.findings.wording import counted
from claimkit.model.answers import Answer
from claimkit.model.case import AmountLine
from claimkit.model.document import Block, Paragraphs, Section, Statement, Table
from claimkit.model.job import Role, Shipment
from claimkit.model.photo import Photo
from claimkit.model.records import Damage, Delivery
from claimkit.model.source import Source
from claimkit.rules.governing import law_named


def shipment_table(view: View, number: int, shipment: Shipment) -> Table:
    """List the identifying facts of one shipment, blanks marked as such."""
    job = view.job
    if job is None:
        raise ValueError("a shipment stands in a job")

    def party(party_id: str | None, role: Role | None = None) -> str:
        named = job.party_named(party_id) if party_id else None
        if named is None and role is not None:
            named = next((p for p in job.party if role in p.roles), None)
        return named.name if named else "not entered"

    key = f"shipment[{number}]"
    cells = [
        ("Carrier", party(shipment.carrier), "carrier"),
        ("Freight bill (PRO)", shipment.pro_number or "not entered", "pro_number"),
        ("Bill of lading", _bill(shipment), "bill_number"),
        ("Shipper", party(shipment.shipper, Role.SHIPPER), "shipper"),
        ("Origin", shipment.origin or "not entered", "origin"),
        ("Consignee", party(shipment.consignee, Role.CONSIGNEE), "consignee"),
        ("Destination", shipment.destination or job.site.address, "destination"),
        ("Handling units", _units(shipment), "handling_units"),
        ("Weight", shipment.weight.written if shipment.weight else "not entered", "weight"),
        ("Our number", job.reference or "not entered", ""),
    ]
    rows = []
    for name, value, field in cells:
        source = job_source(view.case, f"{key}.{field}" if field else "reference")
        rows.append(row(name, value, sources=(source,)))
    for record in view.records():
        body = record.body
        if record.in_force and isinstance(body, Delivery) and body.signed_at:
            when = stretch(body.signed_at.interval(""), view.zone)
            source = view.record_source(record, "signed_at")
            rows.append(row("Receipt signed", when, sources=(source,)))
    return table(("Shipment", shipment.id), rows, (1, 2.6))


def _bill(shipment: Shipment) -> str:
    words = [shipment.bill_number or "number not entered"]
    if shipment.bill_date:
        words.append(f"dated {day(shipment.bill_date.day)}")
    return ", ".join(words)


def _units(shipment: Shipment) -> str:
    if shipment.handling_units is None:
        return "not entered"
    words = f"{shipment.handling_units} × {shipment.handling_unit}"
    return words + (f", said to contain {shipment.cartons} cartons" if shipment.cartons else "")


def damages(view: View) -> Section | None:
    """List damages and differences against the order."""
    rows: list[tuple[Statement, ...]] = []
    for record in view.records():
        body = record.body
        if not isinstance(body, Damage):
            continue
        item = view.job.item_named(body.item) if view.job else None
        numbers = [view.numbers.get(p.sha256) for p in _photos(view, body)]
        photos = ", ".join(str(n) for n in numbers if n) or "none"
        sources = (view.record_source(record), *(view.photo_source(p) for p in _photos(view, body)))
        state = "replaced by a later record" if not record.in_force else (body.resolved or "open")
        rows.append(
            row(
                f"{item.description if item else body.item} × {body.quantity}",
                ", ".join(w for w in (body.what, body.part, body.extent) if w),
                body.found_at.value,
                photos,
                state,
                sources=sources,
            )
        )
    blocks: list[Block] = []
    if rows:
        heads = ("Item", "Damage", "Found", "Photos", "State")
        blocks.append(table(heads, rows, (2.2, 3, 1.1, 0.9, 1.4)))
    compared = [d for d in view.case.differences if view.shipment in (None, d.shipment)]
    different = [d for d in compared if d.same is not Answer.YES]
    if different:
        rows = [
            row(d.item, d.what, d.ordered, d.found, _same(d.same), sources=d.sources)
            for d in different
        ]
        heads = ("Item", "Property", "Ordered", "Found", "Same")
        blocks.append(table(heads, rows, (1.6, 1.4, 2, 2, 1)))
    if compared and not different:
        sources = tuple(s for d in compared for s in d.sources)
        number = counted(len(compared), "property", "properties")
        text = f"Compared with the order: {number}; all agree."
        blocks.append(Paragraphs((say(text, *sources, emphasis="supports"),)))
    if not blocks:
        return None
    return Section("goods", "Damage, and ordered against received", tuple(blocks))


def _photos(view: View, body: Damage) -> list[Photo]:
    found = (view.facts.photo_at(path) for path in body.photos)
    return [photo for photo in found if photo and photo.sha256 in view.numbers]


def _same(answer: Answer) -> str:
    return {"yes": "yes", "no": "differs"}.get(answer.value, "cannot tell")


def amount(view: View) -> Section | None:
    """Print the worksheet with its total, in exact decimals; what is not claimed for us alone."""
    lines = [a for a in view.case.amount if view.shipment in (None, a.shipment)]
    if not view.own:
        lines = [a for a in lines if a.claimed]
    if not lines:
        return None
    laws = list(dict.fromkeys(law_named(view.job, a.shipment) for a in lines))
    loss = laws[0].loss if len(laws) == 1 else "the full loss"
    rows = [
        row(_line_name(view, a), " ".join(a.steps) or a.why, _line_sum(a), sources=a.sources)
        for a in lines
    ]
    whole = total(lines)
    why = not_whole(view.case, view.shipment)
    every = tuple(source for a in lines for source in a.sources)
    if whole:
        label = "Counted so far" if why else "Total claimed"
        how = why or f"{loss[0].upper()}{loss[1:]}."
        rows.append(row(label, how, str(whole), sources=every))
    note = say(
        f"The claim is for {loss}, shown by the purchase invoice price. Credits, allowances "
        "and free replacements reduce it. A carrier's limit of liability is the carrier's to show.",
        *(Source(citation=law.loss_text) for law in laws),
        Source(citation="claimkit method: the amount"),
    )
    heads = ("Line", "How it follows", "Amount")
    body = table(heads, rows, (1.6, 4.6, 1.5))
    return Section("amount", "Amount", (body, Paragraphs((note,), bulleted=False)))


def _line_name(view: View, line: AmountLine) -> str:
    item = view.job.item_named(line.item) if view.job else None
    name = item.description if item else line.item
    return f"{line.kind.capitalize()}: {name}" if name else line.kind.capitalize()


def _line_sum(line: AmountLine) -> str:
    return str(line.total) if line.claimed else f"{line.total}, not claimed"
