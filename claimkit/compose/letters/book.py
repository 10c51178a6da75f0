"""A letter of the office composed whole: head, numbers, text, what to sign, what keeps it back.

Everything in it comes from the record or is a request of the writer's own; the day on it is the
legal day. The same words are given as plain text for a mail.
"""

from __future__ import annotations

from collections.abc import Callable

from claimkit.compose.blocks import say
from claimkit.compose.letters import answer as letters_answer
from claimkit.compose.letters import carrier as letters_carrier
from claimkit.compose.letters import claim as letters_claim
from claimkit.compose.letters import not_as_ordered as letters_goods
from claimkit.compose.letters import others as letters_others
from claimkit.compose.letters.parts import Draft, enclosed_papers, to_confirm
from claimkit.compose.packet.view import ChooseShipment
from claimkit.compose.phrases import day, job_source
from claimkit.compose.terminal.desk import LETTERS, Desk, plain
from claimkit.findings.limits.events import source_of
from claimkit.findings.limits.life import life_of
from claimkit.model.case import Case, Reader
from claimkit.model.document import Document, LetterHead, Paragraphs, Statement, Table
from claimkit.model.job import Role, Shipment, Terms
from claimkit.model.letter import Letter, LetterKind
from claimkit.model.source import Source
from claimkit.model.stop import CannotGoOn

COMPOSERS: dict[LetterKind, Callable[[Desk], Draft]] = {
    LetterKind.CONCEALED: letters_carrier.concealed,
    LetterKind.CLAIM: letters_claim.claim,
    LetterKind.ACKNOWLEDGEMENT: letters_carrier.acknowledgement,
    LetterKind.FOLLOW_UP: letters_carrier.follow_up,
    LetterKind.ANSWER: letters_answer.answer,
    LetterKind.TERMS: letters_carrier.tariff,
    LetterKind.PACKING: letters_others.packing_evidence,
    LetterKind.SELLER: letters_goods.seller,
    LetterKind.MAKER: letters_goods.maker,
    LetterKind.INSURER: letters_others.insurer,
    LetterKind.NON_RECEIPT: letters_others.non_receipt,
    LetterKind.CUSTOMER: letters_others.customer,
}
_WITH_PAPERS = (LetterKind.CLAIM, LetterKind.ANSWER)


def compose_letter(case: Case, kind: LetterKind, shipment: str | None = None) -> Letter:
    """Compose one letter about one shipment.

    Raises ChooseShipment where the job has several and none is chosen, CannotGoOn without a job.
    """
    job = case.facts.job
    if job is None:
        raise CannotGoOn("job.toml cannot be used, so no letter can be written. Mend it first.")
    desk = Desk(case, job, _chosen(case, shipment))
    draft = COMPOSERS[kind](desk)
    us = desk.us()
    references = _references(desk, draft)
    sender = desk.block(us, "sender (role owner)")
    to = desk.block(draft.to, draft.who)
    papers = enclosed_papers(desk) if kind in _WITH_PAPERS else ()
    look_at = to_confirm(desk) if kind in _WITH_PAPERS else ()
    why_not = tuple(dict.fromkeys(desk.lacking))
    head = LetterHead(
        sender=sender,
        to=to,
        day=plain(day(case.as_of)),
        how=_how(desk, draft),
        subject=draft.subject,
        references=references,
        greeting=None,
        sign=draft.sign,
        enclosures=_enclosures(desk, draft, papers),
        warning=_warning(why_not),
    )
    document = Document(
        reader=draft.packet or Reader.CARRIER,
        title=draft.subject.text,
        subtitle=f"{us.name if us else 'Letter'}, {job.title}",
        made=f"as of {day(case.as_of)}",
        sections=tuple(s for s in draft.sections if s.blocks),
        photo_numbers=(),
        versions=(),
        letter=head,
    )
    number = f" – {_number(desk)}" if _number(desk) else ""
    return Letter(
        kind=kind,
        shipment=desk.shipment.id,
        document=document,
        subject=f"{draft.subject.text}{number}",
        to_email=draft.to.email if draft.to else None,
        from_email=us.email if us else None,
        why_not=why_not,
        photos=draft.photos,
        packet=draft.packet,
        papers=papers,
        text=_as_text(document),
        look_at=look_at,
    )


def _chosen(case: Case, shipment: str | None) -> Shipment:
    job = case.facts.job
    ids = [s.id for s in job.shipment] if job else []
    found = job.shipment_named(shipment) if job else None
    if found:
        return found
    known = ", ".join(ids) or "none"
    if shipment is not None:
        raise ChooseShipment(f"There is no shipment “{shipment}” in job.toml. It has: {known}.")
    if not ids:
        raise ChooseShipment("No shipment is entered in job.toml, and a letter is about one.")
    raise ChooseShipment(
        f"This job has {len(ids)} shipments ({known}), and a letter is about one. Say which with "
        "--shipment."
    )


def _number(desk: Desk) -> str:
    if desk.shipment.pro_number:
        return f"PRO {desk.shipment.pro_number}"
    return f"bill {desk.shipment.bill_number}" if desk.shipment.bill_number else ""


def _references(desk: Desk, draft: Draft) -> tuple[tuple[str, Statement], ...]:
    """Give the numbers that identify the shipment; those of the carrier where it is written to."""
    to_carrier = draft.who == "carrier"
    rows: list[tuple[str, Statement | None]] = []
    if draft.who == "customer":
        rows.append(("Our number", _ours(desk)))
        return tuple((label, s) for label, s in rows if s)
    carrier = desk.carrier()
    if carrier and not to_carrier:
        rows.append(("Carrier", say(carrier.name, desk.party_source(carrier, "name"))))
    if to_carrier and not (desk.shipment.pro_number or desk.shipment.bill_number):
        rows.append(
            ("Freight bill (PRO) no.", desk.fact("pro_number", "the freight bill's number"))
        )
    else:
        rows.append(("Freight bill (PRO) no.", desk.known("pro_number")))
    rows.append(("Bill of lading no.", desk.known("bill_number")))
    bill = desk.shipment.bill_date
    if bill:
        rows.append(("Bill of lading dated", say(day(bill.day), desk.key("bill_date"))))
    if desk.shipment.shipped:
        rows.append(("Shipped", say(day(desk.shipment.shipped.day), desk.key("shipped"))))
    life = life_of(desk.case, desk.shipment)
    if draft.claim_number and life.claim_number:
        rows.append(("Your claim no.", plain(life.claim_number, *_numbered(desk))))
    rows += [
        ("Our number", _ours(desk)),
        ("Shipper, origin", _place(desk, desk.shipment.shipper, Role.SHIPPER, "origin")),
        (
            "Consignee, destination",
            _place(desk, desk.shipment.consignee, Role.CONSIGNEE, "destination"),
        ),
        ("Delivered", desk.delivered()),
    ]
    return tuple((label, statement) for label, statement in rows if statement)


def _numbered(desk: Desk) -> tuple[Source, ...]:
    """Name the record whose reference is the carrier's claim number."""
    life = life_of(desk.case, desk.shipment)
    return tuple(
        source_of(s.record, "reference")
        for s in life.steps
        if s.notice.reference == life.claim_number
    )[:1]


def _ours(desk: Desk) -> Statement | None:
    reference = desk.job.reference
    return say(reference, job_source(desk.case, "reference")) if reference else None


def _place(desk: Desk, party_id: str | None, role: Role, key: str) -> Statement | None:
    party = desk.job.party_named(party_id) or desk.with_role(role)
    place = getattr(desk.shipment, key) or (desk.job.site.address if key == "destination" else None)
    if not party and not place:
        return None
    words = ", ".join(w for w in (party.name if party else "", place or "") if w)
    return say(words, desk.key(key))


def _how(desk: Desk, draft: Draft) -> Statement:
    """Say how it goes: e-mail and tracked post, so that the day of receipt can be shown."""
    if draft.who == "customer":
        return plain("By hand or e-mail")
    us = desk.shipment.terms is Terms.US_INTERSTATE_MOTOR
    rule = "83 FR 16210 (summary read): electronic records; " if us else ""
    cite = Source(citation=f"{rule}tracked post beside e-mail: common practice, no source")
    if draft.to and draft.to.email:
        return plain(f"By e-mail to {draft.to.email}, and by tracked post", cite)
    return plain("By tracked post", cite)


def _enclosures(desk: Desk, draft: Draft, papers: tuple[str, ...]) -> tuple[Statement, ...]:
    found = list(draft.enclosures)
    if draft.packet:
        found.append(plain("Evidence packet (PDF), each statement with its source"))
    for sha256 in draft.photos:
        photo = desk.case.facts.photo_of(sha256)
        if photo:
            name = photo.places[0].rsplit("/", 1)[-1]
            source = Source(path=photo.places[0], sha256=sha256)
            found.append(say(f"Photo {name}, scaled; the original is kept", source))
    hashes = {p.path: p.sha256 for p in desk.case.facts.papers}
    for path in papers:
        name = path.rsplit("/", 1)[-1]
        found.append(say(f"Document {name}", Source(path=path, sha256=hashes.get(path))))
    return tuple(found)


def _warning(why_not: tuple[str, ...]) -> Statement | None:
    if not why_not:
        return None
    text = "DRAFT, not ready to send. " + " ".join(why_not)
    return Statement(text, (LETTERS,), "missing")


def _as_text(document: Document) -> str:
    """Give the letter's words as plain text, tables line by line."""
    head = document.letter
    if head is None:
        raise ValueError("a letter has a head")
    lines = [*(s.text for s in head.sender), "", head.day.text, ""]
    lines += [*(s.text for s in head.to), "", head.subject.text, ""]
    lines += [f"{label}: {statement.text}" for label, statement in head.references]
    for section in document.sections:
        lines += ["", section.title] if section.title else [""]
        for block in section.blocks:
            lines += _block_text(block)
    lines += ["", *(s.text for s in head.sender[:1])]
    if head.enclosures:
        lines += ["", "Enclosed:", *(f"- {s.text}" for s in head.enclosures)]
    return "\n".join(lines) + "\n"


def _block_text(block: object) -> list[str]:
    if isinstance(block, Paragraphs):
        mark = "- " if block.bulleted else ""
        return [f"{mark}{s.text}" for s in block.statements]
    if isinstance(block, Table):
        return [
            "- "
            + "; ".join(
                f"{head}: {cell.text}"
                for head, cell in zip(block.heads, row, strict=True)
                if cell.text
            )
            for row in block.rows
        ]
    return []
