"""From a case to a packet: which sections each reader gets, in which order."""

from __future__ import annotations

from collections.abc import Callable

from claimkit.compose.packet import (
    asking,
    back,
    claim,
    events,
    front,
    goods,
    opening,
    places,
    plates,
    receipts,
    seam_photos,
    seams,
    supporting,
    time_limits,
)
from claimkit.compose.packet.view import View, view
from claimkit.compose.phrases import day
from claimkit.model.case import Case, Reader
from claimkit.model.document import Document, Section

Composer = Callable[[View], Section | None]

# What stands at the end of a packet.
_BACK: tuple[Composer, ...] = (
    supporting.section,
    back.papers,
    back.records,
    back.not_checked,
    back.custody,
    front.cautions,
    back.methods,
)
# Whoever is to pay, carrier or insurer, sees the same evidence.
_TO_PAY: tuple[Composer, ...] = (
    front.section,
    front.weights,
    goods.damages,
    goods.amount,
    receipts.section,
    time_limits.section,
    events.section,
    seams.section,
    seam_photos.section,
    plates.section,
    *_BACK,
)
ORDER: dict[Reader, tuple[Composer, ...]] = {
    Reader.CARRIER: _TO_PAY,
    Reader.INSURER: _TO_PAY,
    Reader.SELLER: (
        front.section,
        goods.damages,
        goods.amount,
        receipts.section,
        events.section,
        seams.section,
        seam_photos.section,
        plates.section,
        back.papers,
        back.records,
        back.not_checked,
        back.custody,
        front.cautions,
        back.methods,
    ),
    Reader.CUSTOMER: (
        front.section,
        seams.section,
        seam_photos.section,
        opening.section,
        events.section,
        plates.section,
        back.records,
        back.not_checked,
        back.custody,
        front.cautions,
        back.methods,
    ),
    Reader.OWN: (
        front.section,
        front.weights,
        back.findings,
        goods.damages,
        goods.amount,
        claim.liability,
        asking.section,
        claim.section,
        receipts.section,
        time_limits.section,
        events.section,
        seams.section,
        seam_photos.section,
        opening.section,
        plates.section,
        places.section,
        *_BACK,
    ),
}

TITLES = {
    Reader.CARRIER: "Claim evidence for the carrier",
    Reader.SELLER: "Delivery evidence for the seller",
    Reader.INSURER: "Evidence of the loss for the insurer",
    Reader.CUSTOMER: "What was measured",
    Reader.OWN: "Own file: everything",
}


def compose(
    case: Case,
    reader: Reader,
    *,
    shipment: str | None = None,
    versions: tuple[tuple[str, str], ...] = (),
) -> Document:
    """Compose the packet of a case for one reader.

    `shipment` chooses one where the job has several; `versions` are printed with the methods.
    Raises ChooseShipment where it must be chosen.
    """
    seen = view(case, reader, shipment, versions)
    sections = [section for compose_one in ORDER[reader] if (section := compose_one(seen))]
    job = case.facts.job
    title = job.title if job else case.facts.folder_name
    return Document(
        reader=reader,
        title=title,
        subtitle=TITLES[reader],
        made=f"as of {day(case.as_of)}",
        sections=tuple(sections),
        photo_numbers=tuple(seen.numbers.items()),
        versions=versions,
        anchors=back.anchors(seen).words(),
    )
