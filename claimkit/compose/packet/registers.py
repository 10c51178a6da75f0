"""Tables for a spreadsheet: the worksheet, the time limits, the register of photos.

Days are ISO dates and amounts plain decimals beside their currency, so that a spreadsheet reads
them as such.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import UTC, date

from claimkit.compose.phrases import clock, site_zone
from claimkit.findings.claim.worksheet import not_whole, total
from claimkit.model.case import Case, DatedPhoto
from claimkit.rules.marks import marked

Rows = Callable[[Case], list[Sequence[str]]]


def amount_rows(case: Case) -> list[Sequence[str]]:
    """Give the worksheet line by line, each shipment's sum behind its lines."""
    job = case.facts.job
    found: list[Sequence[str]] = []
    for shipment in dict.fromkeys(line.shipment for line in case.amount):
        lines = [line for line in case.amount if line.shipment == shipment]
        for x in lines:
            item = job.item_named(x.item) if job else None
            found.append(
                (
                    shipment,
                    x.kind,
                    item.description if item else x.item,
                    (item.part_number if item else None) or "",
                    str(x.quantity),
                    str(x.price.amount),
                    str(x.total.amount),
                    x.total.currency,
                    "yes" if x.claimed else "no",
                    " ".join(x.steps) or x.why,
                    "; ".join(source.label() for source in x.sources),
                )
            )
        whole = total(lines)
        if whole:
            why = not_whole(case, shipment)
            label = "counted so far" if why else "total claimed"
            sum_ = (str(whole.amount), whole.currency)
            found.append((shipment, label, "", "", "", "", *sum_, "no" if why else "yes", why, ""))
    return found


def limit_rows(case: Case) -> list[Sequence[str]]:
    """Give every time limit."""
    return [
        (
            t.shipment,
            t.clause.title,
            t.clause.whose.value,
            t.span.written or f"{t.span.count} {t.span.unit}",
            _iso(t.started_on),
            _iso(t.nominal),
            _iso(t.act_by),
            t.state.value,
            _iso(t.met_on),
            t.clause.do,
            t.clause.to,
            " ".join(t.steps()),
            marked(t.clause.citation, t.clause.mark),
        )
        for t in case.limits
    ]


def photo_rows(case: Case) -> list[Sequence[str]]:
    """Give every photo: file, when taken and on what basis, stage, camera, photographer, hash."""
    zone, job = site_zone(case), case.facts.job
    found: list[Sequence[str]] = []
    for dated in sorted(case.photos, key=_when):
        photo = case.facts.photo_of(dated.sha256)
        if photo is None:
            continue
        person = job.person_named(dated.by) if job and dated.by else None
        ends = (dated.taken.earliest, dated.taken.latest)
        found.append(
            (
                photo.places[0],
                *(clock(end, zone) if end else "" for end in ends),
                dated.basis.value,
                dated.camera_text or "",
                dated.stage.value if dated.stage else "",
                photo.camera.name() or "",
                person.name if person else "",
                dated.sha256,
                "; ".join(photo.places[1:]),
                " ".join(photo.flaws),
            )
        )
    return found


def _when(dated: DatedPhoto) -> tuple[bool, str]:
    earliest = dated.taken.earliest
    return (earliest is None, earliest.astimezone(UTC).isoformat() if earliest else dated.sha256)


def _iso(value: date | None) -> str:
    return value.isoformat() if value else ""


AMOUNT_HEADS = (
    "shipment", "line", "item", "part number", "pieces", "price of one", "amount", "currency",
    "claimed", "how it follows", "sources",
)  # fmt: skip
LIMIT_HEADS = (
    "shipment", "limit", "whose", "how long", "runs from", "last day", "act by", "state", "met on",
    "do", "to", "how counted", "citation",
)  # fmt: skip
PHOTO_HEADS = (
    "file", "taken from", "taken to", "rests on", "the camera's own text", "stage", "camera",
    "photographer", "SHA-256", "the same bytes also at", "remarks",
)  # fmt: skip

TABLES: dict[str, tuple[Sequence[str], Rows]] = {
    "amount": (AMOUNT_HEADS, amount_rows),
    "limits": (LIMIT_HEADS, limit_rows),
    "photos": (PHOTO_HEADS, photo_rows),
}
