"""Findings about what the photos show of the delivery: at the curb, the receipt, the damage.

A photo counts as taken at the curb only where the whole of its time lies between the arrival and
the driver's leaving. What is missing is said while the driver may still be there, and what is
there is said as plainly.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from claimkit.findings.clocks import check_clocks
from claimkit.findings.delivery.refusal import ASK_FOR_PHOTOS, left_with_driver
from claimkit.findings.scope import shipment_of_record, shipments_of_photo
from claimkit.findings.timeline import check_custody, check_originals, photo_groups
from claimkit.findings.timeline.folder_stages import mismatches
from claimkit.findings.timeline.photos import CLOCK_AND_EVENTS, unclear
from claimkit.findings.wording import counted, job_source, listed, photo_sources, record_source
from claimkit.findings.written_time import site_zone, stretch_of
from claimkit.model.answers import Answer
from claimkit.model.case import Case, DatedPhoto, Episode, Finding, NotChecked, Standing
from claimkit.model.moment import Interval, before, inside
from claimkit.model.records import Damage, Delivery, FoundAt, ReceiptForm, Record
from claimkit.model.source import Source
from claimkit.model.stages import Stage

Results = tuple[Finding | NotChecked, ...]

METHOD = "claimkit method: photos against the delivery (docs/rules.md)"
PRACTICE = "common practice, no source"
RECEIPT = "delivery receipt"
# That a photo of the receipt is dated before the truck came is said as it is.
SAID_ALREADY = frozenset({CLOCK_AND_EVENTS})


def deliveries(case: Case) -> tuple[tuple[Record, Delivery], ...]:
    """Give the delivery records in force."""
    found = case.facts.in_force(Delivery)
    return tuple((r, r.body) for r in found if isinstance(r.body, Delivery))


def where(case: Case, record: Record) -> str:
    """Name the shipment of a record, or the record itself."""
    shipment = shipment_of_record(case, record)
    return f"shipment {shipment}" if shipment else f"record {record.id}"


def curb_of(case: Case, record: Record) -> Episode | None:
    """Give the episode at the curb that a delivery record states."""
    return next(
        (
            e
            for e in case.episodes
            if e.stage is Stage.CURB and any(s.path == record.path for s in e.sources)
        ),
        None,
    )


def photos_at_curb(case: Case, record: Record) -> list[DatedPhoto]:
    """Give the photos that are certainly from the curb of one delivery."""
    episode = curb_of(case, record)
    shipment = shipment_of_record(case, record)
    if episode is None:
        return []
    return [
        d
        for d in case.photos
        if _certainly(d, episode)
        and (not (named := shipments_of_photo(case, d.sha256)) or shipment in named)
    ]


def _certainly(dated: DatedPhoto, episode: Episode) -> bool:
    if dated.episode == episode.id:
        return True
    # Unpacking may begin while the driver waits: a photo of both is still one from the curb.
    return not unclear(dated) and inside(dated.stands, episode.interval) is Answer.YES


def still_there(case: Case, body: Delivery) -> bool:
    """Tell whether, by the records, the driver may still be at the curb on this day."""
    day: date | None = body.arrived.day if body.arrived else None
    return body.driver_left is None and day == case.as_of


def none_at_curb(case: Case) -> Results:
    """Tell of each delivery that no photo is certainly from the curb, and why."""
    rule = "photo-none-at-curb"
    found: list[Finding | NotChecked] = []
    for record, body in deliveries(case):
        if photos_at_curb(case, record):
            continue
        urgent = still_there(case, body)
        do_next = (
            "Photograph the goods on the truck and on the ground now: each side, every label, "
            "the wrap, before the driver leaves."
            if urgent
            else "Ask everyone who was there for originals from their phones. " + _mend(body)
        )
        message = f"No photo is certainly from the time at the curb. {_why_none(case, record)}"
        sources = (record_source(record, "arrived"),)
        found.append(
            Finding(
                rule,
                Standing.MISSING,
                where(case, record),
                message.strip(),
                do_next.strip(),
                sources,
                METHOD,
                urgent,
            )
        )
    if not found and not deliveries(case):
        reason = "No delivery record says when the truck was there. Write one."
        found.append(NotChecked(rule, "the whole job", reason))
    return tuple(found)


def _mend(body: Delivery) -> str:
    if body.arrived and body.driver_left:
        return ""
    return "Write when the truck arrived and when the driver left, as far as anybody knows."


def _why_none(case: Case, record: Record) -> str:
    episode = curb_of(case, record)
    if episode is None or not episode.interval.known:
        return "The record does not bound that time, so no photo can be placed in it."
    near = [d for d in case.photos if inside(d.stands, episode.interval) is Answer.CANNOT_TELL]
    dated = [d for d in near if d.taken.known]
    reasons = []
    if dated:
        names = photo_groups.names(case, dated)
        reasons.append(f"{counted(len(dated), 'photo')} cannot be told to lie inside it: {names}.")
    if len(near) > len(dated):
        undated = counted(len(near) - len(dated), "photo")
        reasons.append(f"{undated} without a usable time may be from then.")
    return " ".join(reasons)


def at_curb(case: Case) -> Results:
    """Tell of each delivery which photos are certainly from the curb."""
    found = []
    for record, _ in deliveries(case):
        photos = photos_at_curb(case, record)
        if not photos:
            continue
        names = photo_groups.names(case, photos)
        sources = (
            record_source(record, "arrived"),
            *photo_sources(case.facts, [d.sha256 for d in photos]),
        )
        found.append(
            Finding(
                "photo-at-curb",
                Standing.SUPPORTS,
                where(case, record),
                f"{counted(len(photos), 'photo')} dated between the arrival and the driver's "
                f"leaving: {names}.",
                "",
                sources,
                METHOD,
            )
        )
    return tuple(found)


def receipt_photos(case: Case, record: Record, body: Delivery) -> tuple[str, ...]:
    """Give the paths named as pictures of the receipt, in the record or as the job's papers."""
    job = case.facts.job
    shipment = shipment_of_record(case, record)
    papers = [
        paper.file
        for paper in (job.paper if job else ())
        if paper.what.strip().lower() == RECEIPT and paper.shipment in (None, shipment)
    ]
    return tuple(dict.fromkeys([*body.receipt_photos, *papers]))


def in_time(case: Case, record: Record, body: Delivery, path: str) -> tuple[Answer, str]:
    """Tell whether a picture of the receipt was taken before the driver left, and why so."""
    photo = case.facts.photo_at(path)
    dated = next((d for d in case.photos if photo and d.sha256 == photo.sha256), None)
    if dated is None:
        return Answer.CANNOT_TELL, f"{path} is no photo in the folder that could be dated"
    if not dated.taken.known:
        return Answer.CANNOT_TELL, f"{path} has no usable time"
    episode = curb_of(case, record)
    if episode and _certainly(dated, episode):
        return Answer.YES, f"{path} is dated at the curb{_how(dated)}"
    if unclear(dated, SAID_ALREADY):
        return Answer.CANNOT_TELL, f"{path} has a time that is in doubt"
    answer, why = _by_the_truck(case, body, dated.stands)
    return answer, f"{path} {why}{_how(dated)}"


def _how(dated: DatedPhoto) -> str:
    return f" ({dated.rests_on.value})" if dated.stands is dated.corrected else ""


def _by_the_truck(case: Case, body: Delivery, taken: Interval) -> tuple[Answer, str]:
    zone = site_zone(case.facts)
    arrived = stretch_of(body.arrived, zone) if body.arrived else Interval(None, None, "")
    if before(taken, arrived) is Answer.YES:
        return Answer.NO, "is dated before the truck came"
    if body.driver_left is None:
        return Answer.CANNOT_TELL, "has a time, but no record says when the driver left"
    left = stretch_of(body.driver_left, zone)
    if before(left, taken) is Answer.YES:
        return Answer.NO, "is dated after the driver had left"
    if before(taken, left) is Answer.YES:
        return Answer.YES, "is dated before the driver left"
    return Answer.CANNOT_TELL, "is dated too near the driver's leaving to tell"


def none_of_receipt(case: Case) -> Results:
    """Tell of each delivery that no photo of the receipt is shown to be from before the leaving."""
    rule = "photo-none-of-receipt"
    found: list[Finding | NotChecked] = []
    for record, body in deliveries(case):
        if body.receipt is ReceiptForm.NONE:
            reason = f"Record {record.id} says that there was no receipt."
            found.append(NotChecked(rule, where(case, record), reason))
            continue
        paths = receipt_photos(case, record, body)
        verdicts = [in_time(case, record, body, path) for path in paths]
        if any(answer is Answer.YES for answer, _ in verdicts):
            continue
        what = "driver's screen" if body.receipt is ReceiptForm.DEVICE else "signed receipt"
        urgent = still_there(case, body)
        message = f"No photo of the {what} is named."
        if verdicts:
            reasons = listed([why for _, why in verdicts])
            message = (
                f"No photo of the {what} is shown to be from before the driver left: {reasons}."
            )
        found.append(
            Finding(
                rule,
                Standing.MISSING,
                where(case, record),
                message,
                f"Photograph the {what} now, with the words on it, before and after signing, and "
                "name the photo in the record (receipt_photos)."
                if urgent
                else "Ask the carrier in writing for its proof of delivery, and compare its words "
                "with ours. Ask whoever signed for a photo from that day.",
                (record_source(record, "receipt_photos"), *_sources(case, paths)),
                METHOD,
                urgent,
            )
        )
    if not deliveries(case):
        found.append(NotChecked(rule, "the whole job", "No delivery record stands in the folder."))
    return tuple(found)


def of_receipt(case: Case) -> Results:
    """Tell of each delivery which photo of the receipt is from before the driver left."""
    found = []
    for record, body in deliveries(case):
        paths = [
            path
            for path in receipt_photos(case, record, body)
            if in_time(case, record, body, path)[0] is Answer.YES
        ]
        if paths:
            found.append(
                Finding(
                    "photo-of-receipt",
                    Standing.SUPPORTS,
                    where(case, record),
                    f"The receipt was photographed before the driver left: {listed(paths)}.",
                    "",
                    (record_source(record, "driver_left"), *_sources(case, paths)),
                    METHOD,
                )
            )
    return tuple(found)


def _sources(case: Case, paths: tuple[str, ...] | list[str]) -> tuple[Source, ...]:
    found = (case.facts.photo_at(path) for path in paths)
    return tuple(Source(path=p.places[0], sha256=p.sha256) for p in found if p)


def none_of_damage(case: Case) -> Results:
    """Tell of each damage that no photo in the folder shows it."""
    found = []
    for record in case.facts.in_force(Damage):
        body = record.body
        if not isinstance(body, Damage) or any(case.facts.photo_at(p) for p in body.photos):
            continue
        gone = _left(case, record, body)
        named = f" The named {listed(list(body.photos))} is no photo here." if body.photos else ""
        part = f", {body.part}" if body.part else ""
        found.append(
            Finding(
                "photo-none-of-damage",
                Standing.MISSING,
                f"item {body.item}",
                f"No photo shows the damage “{body.what}{part}” of record {record.id}.{named}",
                _photograph(gone),
                (record_source(record, "photos"),),
                PRACTICE,
                urgent=not body.resolved and gone is not Answer.YES,
            )
        )
    return tuple(found)


def _left(case: Case, record: Record, damage: Damage) -> Answer:
    """Tell whether what is damaged left with the driver; what was found later is still here."""
    job = case.facts.job
    if job is None or damage.found_at is not FoundAt.CURB:
        return Answer.NO
    return left_with_driver(case, job.shipment_named(shipment_of_record(case, record)))


def _photograph(gone: Answer) -> str:
    if gone is Answer.YES:
        return ASK_FOR_PHOTOS
    now = (
        "Photograph it now: whole, close with a rule beside it, and with the packing. Name the "
        "photos in a record that replaces this one."
    )
    if gone is Answer.CANNOT_TELL:
        return f"Something was refused. If the piece is still there: {now} If not: {ASK_FOR_PHOTOS}"
    return now


def folder_date(case: Case) -> Results:
    """Tell of photos in a folder named for one stage that are dated in another or outside it."""
    found = []
    for folder, dated_in, photos, sources in mismatches(case):
        names = photo_groups.names(case, photos)
        found.append(
            Finding(
                "photo-folder-date",
                Standing.AGAINST,
                f"folder {folder}",
                f"{counted(len(photos), 'photo')} in {folder} dated {dated_in}: {names}.",
                "Look which is right. Copy the photo to the folder of its stage, or name the "
                "camera's error in a camera_clock record; leave the original where it is.",
                (*photo_sources(case.facts, [d.sha256 for d in photos]), *sources),
                METHOD,
            )
        )
    if not found and case.facts.job is None and case.photos:
        source = job_source(case.facts).path
        reason = f"Without a readable {source} no episodes can be dated in the site's zone."
        return (NotChecked("photo-folder-date", "photos", reason),)
    return tuple(found)


CHECKS: tuple[tuple[str, str, Callable[[Case], Results]], ...] = (
    ("photo-none-at-curb", "No photo is certainly from the curb", none_at_curb),
    ("photo-at-curb", "Photos are from the curb", at_curb),
    (
        "photo-none-of-receipt",
        "No photo of the receipt from before the driver left",
        none_of_receipt,
    ),
    ("photo-of-receipt", "The receipt was photographed before the driver left", of_receipt),
    ("photo-none-of-damage", "A damage that no photo shows", none_of_damage),
    ("photo-folder-date", "A photo's folder and its date name different stages", folder_date),
    *photo_groups.CHECKS,
    *check_clocks.CHECKS,
    *check_originals.CHECKS,
    *check_custody.CHECKS,
)
