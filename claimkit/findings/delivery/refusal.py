"""Goods that were tendered and refused: they left with the driver, whole or in part.

What left cannot be unpacked, counted or photographed any more, but the seller's periods may run
from the tender. A refusal is what a delivery record states in `refused`, or in the words on the
receipt where nothing was left at the site.
"""

from __future__ import annotations

from claimkit.findings.limits.events import deliveries, nothing_received
from claimkit.findings.receipt.refusal import stated
from claimkit.model.answers import Answer
from claimkit.model.case import Case
from claimkit.model.job import Shipment
from claimkit.model.records import Delivery

ASK_FOR_PHOTOS = (
    "The goods left with the driver. Ask the driver, the carrier and the seller for their photos, "
    "where the goods are held, and that they be kept for inspection. Record what they send."
)


def refused_whole(delivery: Delivery) -> bool:
    """Tell whether a delivery record says that the goods were refused and nothing was left."""
    return nothing_received(delivery) and bool(delivery.refusal or stated(delivery.words))


def left_with_driver(case: Case, shipment: Shipment | None) -> Answer:
    """Tell whether the goods of a shipment are gone: refused whole, refused in part, or not."""
    found = [body for _, body in deliveries(case, shipment)] if shipment else []
    if found and all(nothing_received(body) for body in found):
        return Answer.YES if any(refused_whole(body) for body in found) else Answer.NO
    return Answer.CANNOT_TELL if any(body.refusal for body in found) else Answer.NO
