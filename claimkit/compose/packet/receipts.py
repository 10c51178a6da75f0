"""The delivery receipt: its exact words, their grade, and the photo of it beside them."""

from __future__ import annotations

from claimkit.compose.blocks import row, say, table
from claimkit.compose.packet.plates import plate
from claimkit.compose.packet.view import View
from claimkit.model.answers import Answer
from claimkit.model.document import Block, Paragraphs, PlateRow, Section, Statement
from claimkit.model.receipt import Grade, Receipt
from claimkit.model.records import Delivery
from claimkit.model.source import Source

GRADING = Source(citation="claimkit method: grades of a receipt")


def section(view: View) -> Section | None:
    """Compose one part for each receipt in view."""
    blocks: list[Block] = []
    for receipt in view.case.receipts:
        if view.shipment in (None, receipt.shipment):
            blocks += _receipt(view, receipt)
    return Section("receipt", "Delivery receipt", tuple(blocks)) if blocks else None


def _receipt(view: View, receipt: Receipt) -> list[Block]:
    reading = receipt.reading
    source = receipt.record
    supports = reading.grade is Grade.SPECIFIC
    rows = [
        row("Words on the carrier's copy", _quoted(receipt.words), sources=(source,)),
        (
            say("Grade", source, GRADING),
            say(
                reading.grade.value,
                source,
                GRADING,
                emphasis="supports" if supports else "does not support",
            ),
        ),
        row("Reservation", reading.reservation.value, sources=(source, GRADING)),
    ]
    if reading.matches:
        shown = "; ".join(f"“{m.text}” ({m.what})" for m in reading.matches)
        rows.append(row("Words that count", shown, sources=(source, GRADING)))
    if receipt.our_words is not None:
        rows.append(row("Words on our copy", _quoted(receipt.our_words), sources=(source,)))
        differ = receipt.copies_differ is Answer.YES
        text = "differ" if differ else "say the same"
        emphasis = "does not support" if differ else ""
        rows.append(row("The two copies", text, sources=(source,), emphasis=emphasis))
    blocks: list[Block] = [table(("Receipt", receipt.shipment or ""), rows, (1, 2.8))]
    reasons = [say(text, source, GRADING) for text in reading.because]
    if view.own and reading.write_long:
        reasons.append(_to_write(reading.write_long, "On paper", source))
        reasons.append(_to_write(reading.write_short, "On a handheld", source))
    if reasons:
        blocks.append(Paragraphs(tuple(reasons)))
    plates = tuple(plate(view, d) for d in view.photos if d.sha256 in _receipt_photos(view, source))
    if plates:
        blocks.append(PlateRow(plates[:2]))
    else:
        text = "No photo of the receipt or of the driver's screen is in the folder."
        blocks.append(Paragraphs((say(text, source, emphasis="missing"),)))
    return blocks


def _to_write(words: str, where: str, source: Source) -> Statement:
    text = f"{where}, while the driver is there, write: {words}"
    return say(text, source, GRADING, emphasis="missing")


def _quoted(words: str | None) -> str:
    if words is None:
        return "not recorded"
    return f"“{words}”" if words.strip() else "none written"


def _receipt_photos(view: View, source: Source) -> frozenset[str]:
    """Give the hashes of the photos that the delivery record names as the receipt's."""
    record = next((r for r in view.facts.records if r.path == source.path), None)
    if record is None or not isinstance(record.body, Delivery):
        return frozenset()
    photos = (view.facts.photo_at(path) for path in record.body.receipt_photos)
    return frozenset(photo.sha256 for photo in photos if photo)
