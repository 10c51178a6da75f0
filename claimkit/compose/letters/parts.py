"""The parts that letters share: what is damaged or short, the worksheet, evidence, papers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from claimkit.compose.blocks import row, say, table
from claimkit.compose.letters.claimed import Claimed, balance, paid_sources
from claimkit.compose.phrases import method, site_zone, stretch
from claimkit.compose.terminal.desk import Desk
from claimkit.findings.claim.documents import DESCRIBED, supporting
from claimkit.findings.claim.elements import DELIVERY, FOUND, ORIGIN
from claimkit.findings.claim.same_piece import missing_beside, refusals
from claimkit.findings.claim.worksheet import (
    not_whole,
    of_shipment,
    total,
    whole_total,
)
from claimkit.findings.delivery.received import COUNTS, OF_THE_PIECE
from claimkit.findings.limits.conditions import damages_of, short_at_curb, unpackings_of
from claimkit.findings.limits.events import deliveries, local_day, nothing_received, source_of
from claimkit.model.answers import Answer
from claimkit.model.case import Case, Difference, Reader
from claimkit.model.document import Block, Paragraphs, Section, Statement, Table
from claimkit.model.job import Party
from claimkit.model.quantities import Money
from claimkit.model.receipt import Receipt
from claimkit.model.records import Damage, FoundAt, Record
from claimkit.model.source import Source
from claimkit.rules.governing import law_of

AMOUNT = method("the amount")


@dataclass(frozen=True, slots=True)
class Draft:
    """The text of one letter before its head is put to it."""

    to: Party | None
    who: str
    subject: Statement
    sections: tuple[Section, ...]
    photos: tuple[str, ...] = ()
    packet: Reader | None = None
    sign: tuple[str, ...] = ("Signature", "Name and position", "Date")
    enclosures: tuple[Statement, ...] = ()
    greeting: str = ""
    claim_number: bool = True


def text(*statements: Statement | None) -> Paragraphs:
    """Give paragraphs of the statements that are there."""
    return Paragraphs(tuple(s for s in statements if s), bulleted=False)


def listed(statements: Iterable[Statement]) -> Paragraphs:
    """Give a list with marks."""
    return Paragraphs(tuple(statements))


def part(name: str, *blocks: Block, title: str = "") -> Section:
    """Give one part of a letter; its title is printed where it has one."""
    return Section(name, title, tuple(b for b in blocks if not _empty(b)))


def _empty(block: Block) -> bool:
    return isinstance(block, Paragraphs) and not block.statements


def open_damages(desk: Desk, *, hidden_only: bool = False) -> list[tuple[Record, Damage]]:
    """Give the damages of the shipment that are not settled."""
    return [
        (r, d)
        for r, d in damages_of(desk.case, desk.shipment)
        if d.resolved is None and not (hidden_only and d.found_at is FoundAt.CURB)
    ]


def shortages(desk: Desk, *, hidden_only: bool = False) -> list[Difference]:
    """Give what is missing beside what was refused: items, else the packages that held them.

    With `hidden_only`, only what came to light after the delivery: no packages that were counted
    at the curb, and no item that a refusal names.
    """
    if not hidden_only:
        return list(missing_beside(desk.case, desk.shipment))
    there = missing_beside(desk.case, desk.shipment, perhaps=True)
    return [d for d in there if d.what not in COUNTS]


def wrong_parts(desk: Desk) -> list[Difference]:
    """Give the properties in which a piece is not the one ordered."""
    return [
        d
        for d in desk.case.differences
        if d.what in OF_THE_PIECE and d.same is Answer.NO and d.shipment == desk.shipment.id
    ]


def damage_table(desk: Desk, damages: list[tuple[Record, Damage]]) -> Table | None:
    """List damages: article, nature and extent, when found, photos by their file names."""
    rows = []
    for record, d in damages:
        item = desk.job.item_named(d.item)
        number = f", part no. {item.part_number}" if item and item.part_number else ""
        name = f"{item.description if item else d.item}{number}"
        nature = ", ".join(w for w in (d.what, d.part, d.extent) if w)
        when = f", {local_day(desk.case, d.found)}" if d.found else ""
        photos = ", ".join(path.rsplit("/", 1)[-1] for path in d.photos) or "none"
        cells = (
            name,
            str(d.quantity),
            nature,
            f"{FOUND[d.found_at].removeprefix('found ')}{when}",
            photos,
        )
        rows.append(row(*cells, sources=(source_of(record, "what"),)))
    heads = ("Article", "Pieces", "Nature and extent of the damage", "Found", "Photos")
    return table(heads, rows, (2.4, 0.8, 3, 1.5, 1.7)) if rows else None


def short_table(found: list[Difference], desk: Desk) -> Table | None:
    """List what is missing: ordered, found, short."""
    rows = []
    for d in found:
        item = desk.job.item_named(d.item)
        name = item.description if item else d.item
        rows.append(row(name, d.ordered, d.found, str(d.short), sources=d.sources))
    heads = ("Article", "Ordered", "Received", "Short")
    return table(heads, rows, (3, 1, 1, 1)) if rows else None


def curb_counts(desk: Desk) -> list[Statement]:
    """State what was counted short at the curb."""
    return [
        say(f"At delivery: {counted}.", source)
        for counted, source in short_at_curb(desk.case, desk.shipment)
    ]


def refused(desk: Desk) -> list[Statement]:
    """State what was refused at the delivery, in the words of the record."""
    return [
        say(f"Refused at the delivery: “{words}”.", source)
        for words, source in refusals(desk.case, desk.shipment)
    ]


def wrong_table(found: list[Difference], desk: Desk) -> Table | None:
    """List pieces that are not those ordered."""
    rows = []
    for d in found:
        item = desk.job.item_named(d.item)
        name = item.description if item else d.item
        rows.append(row(name, d.what, d.ordered, d.found, sources=d.sources))
    heads = ("Article", "Property", "Ordered", "Received")
    return table(heads, rows, (2.4, 1.4, 2, 2)) if rows else None


def worksheet(desk: Desk, before: Claimed) -> Table | None:
    """Give the claimed lines of the worksheet with their steps, the total, and what is open."""
    lines = [x for x in of_shipment(desk.case, desk.shipment.id) if x.claimed]
    if not lines:
        return None
    rows = []
    for x in lines:
        item = desk.job.item_named(x.item)
        number = f" ({item.part_number})" if item and item.part_number else ""
        name = f"{x.kind.capitalize()}{number}"
        rows.append(row(name, " ".join(x.steps), str(x.total), sources=x.sources))
    why = not_whole(desk.case, desk.shipment.id)
    sum_, whole = total(lines), whole_total(desk.case, desk.shipment.id)
    every = tuple(dict.fromkeys(s for x in lines for s in x.sources))
    law = law_of(desk.shipment)
    amount = str(sum_) if sum_ else desk.blank("total", "No sum follows: see claimkit status.")
    label, how = ("Counted so far", why) if why else ("Total claimed", f"{law.the_loss}.")
    rows.append(row(label, how, amount, sources=(*every, AMOUNT)))
    for step in before.payments:
        words = step.text[0].upper() + step.text[1:]
        paid = step.notice.amount
        ask = "Enter what was paid in the record of the payment (amount)."
        off = str(Money(-paid.amount, paid.currency)) if paid else desk.blank("paid", ask)
        rows.append(row("Paid", f"{words}.", off, sources=(step.source,)))
    left = balance(before, whole)
    if before.payments and left:
        how = "Total claimed less what is paid."
        rows.append(row("Balance", how, str(left), sources=(*every, *paid_sources(before))))
    return table(("Line", "How the amount is found", "Amount"), rows, (1.5, 4.6, 1.5))


def evidence(desk: Desk) -> list[Block]:
    """State what supports good order at origin and damage at delivery, each with its sources."""
    blocks: list[Block] = []
    for element in desk.case.elements:
        if element.shipment != desk.shipment.id or element.name not in (ORIGIN, DELIVERY):
            continue
        lines = [say(f"{element.name.capitalize()}: {said}", *s) for said, s in element.supports]
        if lines:
            blocks.append(listed(lines))
    return blocks


def receipt_words(desk: Desk) -> list[Statement]:
    """Quote what the carrier's copy of the receipt states."""
    return [
        say(f"The delivery receipt states: “{' '.join(r.words.split())}”", r.record)
        for r in _receipts(desk.case, desk.shipment.id)
        if r.words and r.words.strip()
    ]


def _receipts(case: Case, shipment: str) -> Iterator[Receipt]:
    return (r for r in case.receipts if r.shipment == shipment)


def papers(desk: Desk) -> Table | None:
    """List the supporting papers: enclosed, explained, or a blank that keeps the letter back."""
    rows = []
    for one in supporting(desk.case, desk.shipment):
        if one.files:
            names = ", ".join(f.rsplit("/", 1)[-1] for f in one.files)
            state = f"enclosed: {names}" + (f"; {one.note}" if one.note else "")
        elif one.because:
            described = one.because.startswith(DESCRIBED)
            state = one.because if described else f"not enclosed: {one.because}"
        else:
            enter = f"Name the {one.wanted.paper} in job.toml (paper), or explain it (no_paper)."
            state = desk.blank("enclosed, or why not", enter)
        name = one.wanted.paper.capitalize()
        source = Source(citation=one.wanted.citation)
        rows.append(row(name, state, sources=(*one.sources, source)))
    return table(("Supporting paper", "State"), rows, (1, 2.6)) if rows else None


def enclosed_papers(desk: Desk) -> tuple[str, ...]:
    """Give the paths of the supporting papers that are there."""
    found = supporting(desk.case, desk.shipment)
    return tuple(dict.fromkeys(file for one in found for file in one.files))


def to_confirm(desk: Desk) -> tuple[str, ...]:
    """Name the enclosed papers that only their words tell, for the one who sends the letter."""
    return tuple(
        f"{one.guess.path} is enclosed as {one.wanted.paper}: {one.guess.because()}. Look at it "
        "before you send it, and name it in job.toml."
        for one in supporting(desk.case, desk.shipment)
        if one.guess
    )


def photos_of(desk: Desk, damages: list[tuple[Record, Damage]]) -> tuple[str, ...]:
    """Give the hashes of the photos that the damages name, and the receipt's."""
    paths = [path for _, d in damages for path in d.photos]
    found = (desk.case.facts.photo_at(path) for path in paths)
    return tuple(dict.fromkeys(photo.sha256 for photo in found if photo))


def kept_packing(desk: Desk) -> Statement:
    """State where goods and packing are kept, or leave a blank."""
    for record, body in unpackings_of(desk.case, desk.shipment):
        kept = (body.packing_kept or "").strip()
        if kept and kept.lower() not in ("no", "none", "gone"):
            return say(f"Goods and packing are kept: {kept}.", source_of(record, "packing_kept"))
    came = deliveries(desk.case, desk.shipment)
    gone = refusals(desk.case, desk.shipment)
    if gone and all(nothing_received(body) for _, body in came):
        words = "The goods and their packing were refused at the delivery and are not here."
        return say(words, gone[0][1])
    enter = "Record where the packing is kept (unpacking record, packing_kept)."
    where = desk.blank("where goods and packing are kept", enter)
    return say(f"Goods and packing are kept: {where}.", desk.key("id"))


def unpacked(desk: Desk) -> list[Statement]:
    """State when the goods were unpacked and which photos are dated then."""
    found = []
    for record, body in unpackings_of(desk.case, desk.shipment):
        if body.began:
            when = stretch(body.began.interval(""), site_zone(desk.case))
            text_ = f"The goods were unpacked from {when} on."
            found.append(say(text_, source_of(record, "began")))
    return found
