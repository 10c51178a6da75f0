"""Which records and photos belong to which shipment, so that two carriers' papers never mix.

A record belongs to the shipment that it names, that of its item, or the only one there is. A
photo belongs to the shipments whose records name it or whose episode holds it; a photo that
nothing ties to any shipment is common to all.
"""

from __future__ import annotations

from claimkit.findings.claim.worksheet import shipment_of
from claimkit.model.case import Case, Episode
from claimkit.model.measuring import Readings
from claimkit.model.records import (
    CameraClock,
    Cost,
    Damage,
    Delivery,
    Milestone,
    Notice,
    Record,
    Unpacking,
)


def shipment_of_record(case: Case, record: Record) -> str | None:
    """Give the shipment id that a record belongs to, or None where it belongs to none or all."""
    job = case.facts.job
    if job is None:
        return None
    body = record.body
    if isinstance(body, Damage | Cost):
        item = job.item_named(body.item)
        named = job.shipment_named(None) if isinstance(body, Cost) else None
        home = shipment_of(job, item) if item else None
        return body.shipment or home or (named.id if named else None)
    if isinstance(body, Delivery | Unpacking | Notice | Milestone):
        named = job.shipment_named(body.shipment)
        return named.id if named else body.shipment
    return None


def photos_named(record: Record) -> tuple[str, ...]:
    """Give the paths of the photos that a record names."""
    body = record.body
    match body:
        case Delivery():
            return body.receipt_photos + body.photos
        case Unpacking() | Damage():
            return body.photos
        case CameraClock():
            return (body.photo,)
        case Readings():
            return tuple(path for reading in body.at for path in reading.witness)
    return ()


def shipments_of_episode(case: Case, episode: Episode) -> frozenset[str]:
    """Give the shipments whose records state an episode's ends."""
    paths = {source.path for source in episode.sources}
    found = {shipment_of_record(case, r) for r in case.facts.records if r.path in paths}
    return frozenset(name for name in found if name)


def shipments_of_photo(case: Case, sha256: str) -> frozenset[str]:
    """Give the shipments that a photo belongs to; empty where nothing ties it to one."""
    photo = case.facts.photo_of(sha256)
    if photo is None:
        return frozenset()
    found: set[str] = set()
    for record in case.facts.records:
        if record.in_force and set(photos_named(record)) & set(photo.places):
            shipment = shipment_of_record(case, record)
            if shipment:
                found.add(shipment)
    if found:
        return frozenset(found)
    dated = next((d for d in case.photos if d.sha256 == sha256), None)
    for episode in case.episodes:
        if dated and dated.episode == episode.id:
            found |= shipments_of_episode(case, episode)
    return frozenset(found)
