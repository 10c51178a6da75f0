"""Where photos say that they were taken: for the owner's copy alone, and left out on request.

A position helps the owner to tell photos apart. It is no other reader's business, and the address
can be kept out of any packet; originals keep what they state of themselves.
"""

from __future__ import annotations

from dataclasses import replace

from msgspec import structs

from claimkit.compose.blocks import row, say, table
from claimkit.compose.packet.view import View
from claimkit.compose.phrases import method
from claimkit.model.case import Case
from claimkit.model.document import Paragraphs, Section
from claimkit.model.job import Job
from claimkit.model.photo import Photo

LEFT_OUT = "left out"


def section(view: View) -> Section | None:
    """List the positions that photos state; in the owner's packet only."""
    if not view.own:
        return None
    rows = []
    for dated in view.photos:
        photo = view.photo(dated)
        gps = photo.gps
        if gps is None or gps.latitude is None or gps.longitude is None:
            continue
        cells = (
            f"P{view.numbers[dated.sha256]}",
            f"{gps.latitude:.5f}".replace("-", "−"),
            f"{gps.longitude:.5f}".replace("-", "−"),
        )
        rows.append(row(*cells, sources=(view.photo_source(photo),)))
    if not rows:
        return None
    text = (
        "These photos state where they were taken. No other reader's packet prints that, and "
        "--without-location leaves it out here; the originals keep it."
    )
    body = table(("Photo", "Latitude, degrees", "Longitude, degrees"), rows, (1, 2, 2), small=True)
    told = Paragraphs((say(text, method("pictures")),))
    return Section("positions", "Positions that photos state", (told, body))


def without_location(case: Case) -> Case:
    """Give the case as if no photo stated a position, and with no address of the site.

    What people wrote into records and file names is left as they wrote it.
    """
    photos = tuple(_without_position(photo) for photo in case.facts.photos)
    job = case.facts.job
    facts = replace(case.facts, photos=photos, job=_without_address(job) if job else None)
    return replace(case, facts=facts)


def _without_position(photo: Photo) -> Photo:
    if photo.gps is None:
        return photo
    hidden = structs.replace(photo.gps, latitude=None, longitude=None)
    return structs.replace(photo, gps=hidden)


def _without_address(job: Job) -> Job:
    shipments = tuple(
        replace(one, destination=LEFT_OUT if one.destination else None) for one in job.shipment
    )
    return replace(job, site=replace(job.site, address=LEFT_OUT), shipment=shipments)
