"""The timeline: what is dated, to scale and as a table, with the delivery window shaded."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from claimkit.compose.blocks import row, say, table
from claimkit.compose.packet.view import View
from claimkit.compose.phrases import stretch
from claimkit.findings.limits.events import brokers_of, carriers_of, name_of, what_it_is
from claimkit.findings.scope import shipment_of_record
from claimkit.findings.timeline.photos import IN_DOUBT
from claimkit.findings.wording import counted
from claimkit.model.case import DatedPhoto, Reader
from claimkit.model.document import (
    Block,
    Paragraphs,
    Section,
    Statement,
    Timeline,
    TimelineBand,
    TimelineMark,
)
from claimkit.model.job import Role
from claimkit.model.measuring import OpeningCheck, Readings
from claimkit.model.moment import Interval, Moment
from claimkit.model.photo import OtherFile
from claimkit.model.records import Damage, Delivery, Milestone, Notice, Record, Unpacking
from claimkit.model.source import Source


@dataclass(frozen=True, slots=True)
class Dated:
    """One dated event of a record, for mark and table."""

    interval: Interval
    label: str
    source: Source


def section(view: View) -> Section:
    """Compose the timeline: drawing, table, and what has no time."""
    events = sorted(_events(view), key=lambda e: (e.interval.earliest, e.label))
    timed = [d for d in view.photos if d.taken.known]
    undated = [d for d in view.photos if not d.taken.known]
    blocks: list[Block] = []
    sure = [d for d in timed if d.stands is not d.taken or not IN_DOUBT & set(d.suspicions)]
    marks = [_mark(view, e) for e in events] + [_photo_mark(view, d) for d in sure]
    if marks:
        marks.sort(key=lambda m: (m.earliest, m.label))
        blocks.append(
            Timeline(
                "Dated events and photos",
                str(view.zone),
                tuple(_bands(view)),
                tuple(marks),
                f"Timeline of {counted(len(events), 'recorded event')} and "
                f"{counted(len(sure), 'photo')} in local time.",
            )
        )
        blocks.append(Paragraphs(tuple(_notes(view, timed, sure)), bulleted=False))
    rows = [(e.interval.earliest, _event_row(view, e)) for e in events]
    rows += [(d.stands.earliest, _photo_row(view, d)) for d in timed]
    rows += [(d.taken.earliest, _video_row(view, v, d)) for v, d in _videos(view)]
    rows.sort(key=lambda pair: (pair[0], pair[1][1].text))
    if rows:
        blocks.append(
            table(("When", "What", "Rests on"), [r for _, r in rows], (2.6, 3.4, 3), small=True)
        )
    if undated:
        blocks.append(Paragraphs(tuple(_undated(view, d) for d in undated)))
    if not blocks:
        nothing = say("Nothing in the folder is dated.", Source(citation="claimkit: intake"))
        blocks.append(Paragraphs((nothing,)))
    return Section("timeline", "Timeline", tuple(blocks), new_page=True)


def _notes(view: View, timed: list[DatedPhoto], sure: list[DatedPhoto]) -> Iterator[Statement]:
    yield say(
        "Times are local at the site. A bar shows how far a time is uncertain. What a camera "
        "states is printed as it stands in the file; it is what the file states, not proof of "
        "when the picture was taken.",
        Source(citation="claimkit method: times of photos"),
    )
    doubted = [d for d in timed if d not in sure]
    if doubted:
        numbers = ", ".join(str(view.numbers[d.sha256]) for d in doubted)
        sources = tuple(view.photo_source(view.photo(d)) for d in doubted)
        text = f"Not drawn, as the camera's clock is in doubt: photo {numbers}. See the table."
        yield say(text, *sources)


def _events(view: View) -> Iterator[Dated]:
    for record in view.records():
        if record.in_force:
            yield from _of_record(view, record)


def _of_record(view: View, record: Record) -> Iterator[Dated]:
    def at(moment: Moment | None, key: str, label: str) -> Iterator[Dated]:
        if moment is not None:
            interval = moment.interval("as recorded")
            yield Dated(interval, label, view.record_source(record, key))

    match record.body:
        case Delivery() as body:
            yield from at(body.arrived, "arrived", "Truck arrived")
            yield from at(body.signed_at, "signed_at", "Receipt signed")
            yield from at(body.driver_left, "driver_left", "Driver left")
        case Unpacking() as body:
            yield from at(body.began, "began", "Unpacking began")
            yield from at(body.ended, "ended", "Unpacking ended")
        case Damage() as body:
            yield from at(body.found, "found", f"Damage found: {body.item}, {body.what}")
        case Notice() as body:
            what = what_it_is(body) + _astray(view, record, body)
            yield from at(body.sent, "sent", f"Sent: {what}")
            yield from at(body.received, "received", f"Received: {what}")
        case Readings() as body:
            label = f"Gap of seam {body.seam} read ({body.stage.value})"
            yield from at(body.taken, "taken", label)
        case OpeningCheck() as body:
            yield from at(body.taken, "taken", f"Opening {body.opening} checked")
        case Milestone() as body:
            event = body.event.value.capitalize()
            ends = f"{event} ended"
            yield from at(body.began, "began", event)
            yield from at(body.ended, "ended", ends)


def _astray(view: View, record: Record, body: Notice) -> str:
    """Name whom a notice went to, where that is neither a carrier of its shipment nor ourselves.

    On a carrier's timeline a claim that a broker had would else read as one that it had itself.
    """
    job = view.job
    shipment = job.shipment_named(shipment_of_record(view.case, record)) if job else None
    if job is None or shipment is None or body.to in carriers_of(job, shipment):
        return ""
    party = job.party_named(body.to)
    if party and Role.OWNER in party.roles:
        return ""
    broker = ", a broker" if body.to in brokers_of(job, shipment) else ""
    return f", to {name_of(job, body.to)}{broker}"


def _bands(view: View) -> Iterator[TimelineBand]:
    if view.reader is Reader.CUSTOMER:
        return
    for record in view.records():
        body = record.body
        if not (record.in_force and isinstance(body, Delivery)):
            continue
        begins, ends = body.arrived or body.signed_at, body.driver_left or body.signed_at
        if begins and ends and begins.at < ends.at:
            text = f"At the curb: {stretch(Interval(begins.at, ends.at, ''), view.zone)}."
            yield TimelineBand(
                begins.at.astimezone(view.zone),
                ends.interval("").latest or ends.at,
                "delivery",
                say(text, view.record_source(record, "arrived")),
            )


def _mark(view: View, event: Dated) -> TimelineMark:
    first, last = _ends(view, event.interval)
    text = f"{event.label}: {stretch(event.interval, view.zone)}"
    return TimelineMark(first, last, event.label, "record", say(text, event.source))


def _photo_mark(view: View, dated: DatedPhoto) -> TimelineMark:
    first, last = _ends(view, dated.stands)
    number = view.numbers[dated.sha256]
    statement = say(
        f"Photo {number}: {stretch(dated.stands, view.zone)}", view.photo_source(view.photo(dated))
    )
    return TimelineMark(first, last, f"photo {number}", "photo", statement, number)


def _ends(view: View, interval: Interval) -> tuple[datetime, datetime]:
    if interval.earliest is None or interval.latest is None:
        raise ValueError("only what is dated stands on the timeline")
    return interval.earliest.astimezone(view.zone), interval.latest.astimezone(view.zone)


def _event_row(view: View, event: Dated) -> tuple[Statement, ...]:
    return row(
        stretch(event.interval, view.zone), event.label, "as recorded", sources=(event.source,)
    )


def _photo_row(view: View, dated: DatedPhoto) -> tuple[Statement, ...]:
    number = view.numbers[dated.sha256]
    photo = view.photo(dated)
    what = f"Photo {number}" + (f", {dated.stage.value}" if dated.stage else "")
    basis = f"{dated.basis.value}: {dated.camera_text}" if dated.camera_text else dated.basis.value
    if dated.correction is not None:
        where = "" if dated.correction.holds else " beside it, both kept open"
        basis += f"; {dated.correction.basis.value}{where}"
    return row(stretch(dated.stands, view.zone), what, basis, sources=(view.photo_source(photo),))


def _videos(view: View) -> list[tuple[OtherFile, DatedPhoto]]:
    """Give the dated videos in view."""
    by_hash = {dated.sha256: dated for dated in view.case.videos if dated.taken.known}
    papers = [paper for paper, _ in view.papers()]
    return [(paper, by_hash[paper.sha256]) for paper in papers if paper.sha256 in by_hash]


def _video_row(view: View, video: OtherFile, dated: DatedPhoto) -> tuple[Statement, ...]:
    what = f"Video {video.path}" + (f", {dated.stage.value}" if dated.stage else "")
    source = Source(path=video.path, sha256=video.sha256)
    return row(stretch(dated.taken, view.zone), what, dated.basis.value, sources=(source,))


def _undated(view: View, dated: DatedPhoto) -> Statement:
    photo = view.photo(dated)
    text = f"Photo {view.numbers[dated.sha256]} ({photo.places[0]}) has no usable time. {dated.why}"
    return say(text, view.photo_source(photo), emphasis="missing")
