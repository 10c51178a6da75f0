"""Gathering what bears on a camera's clock: pictures of clocks, GPS fixes, records, custody.

Each piece bounds what would have to be added to the time of one photo. A record that names a
photo as one of the receipt, the curb, the unpacking or a damage says that the goods had come.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from claimkit.findings.clocks.photo_clocks import ClockShown
from claimkit.findings.scope import shipment_of_record
from claimkit.findings.timeline.photo_beside import fields_explain, gps_instant
from claimkit.findings.timeline.photo_time import Dating
from claimkit.findings.wording import clock_words, record_source
from claimkit.findings.written_time import stretch_of
from claimkit.model.case import Case
from claimkit.model.clock import ClockEvidence, Shows
from claimkit.model.facts import CustodyEvent, CustodyLine, Facts
from claimkit.model.photo import Photo
from claimkit.model.records import CameraClock, Damage, Delivery, Record, Unpacking
from claimkit.model.source import Source
from claimkit.rules.capture import CLOCK_AHEAD, EVENT_SLACK, GPS_AGREES

SIGHTS = (CustodyEvent.FIRST_SEEN, CustodyEvent.RECORD_ADDED, CustodyEvent.CHANGED)


@dataclass(frozen=True, slots=True)
class Shot:
    """A photo with its own dating. `at` is the middle of the interval that its tags give."""

    photo: Photo
    dated: Dating
    earliest: datetime
    latest: datetime

    @property
    def at(self) -> datetime:
        """Give the middle of the camera's time."""
        return self.earliest + (self.latest - self.earliest) / 2


def shots(facts: Facts, dated: dict[str, Dating]) -> Iterator[Shot]:
    """Give the photos whose tags give a time, in order of their hashes."""
    for photo in facts.photos:
        taken = dated[photo.sha256].taken
        if taken.earliest is not None and taken.latest is not None:
            yield Shot(photo, dated[photo.sha256], taken.earliest, taken.latest)


def from_clocks(clocks: tuple[ClockShown, ...], by_hash: dict[str, Shot]) -> list[ClockEvidence]:
    """Give what the clocks shown in pictures say of the photos that show them."""
    found = []
    for clock in clocks:
        shot = by_hash.get(clock.sha256)
        if shot is not None:
            said = f"{shot.photo.places[0]} shows a clock{_read(clock.record)}."
            sources = (record_source(clock.record, "read"), _photo_source(shot.photo))
            found.append(
                ClockEvidence(
                    Shows.RECORD, clock.sha256, shot.at, clock.low, clock.high, said, sources
                )
            )
    return found


def _read(record: Record) -> str:
    body = record.body
    if not isinstance(body, CameraClock):
        return ""
    within = f"right within {body.within_seconds} s by record {record.id}"
    return f" that read {body.read.said}, {within}"


def from_gps(shot: Shot) -> ClockEvidence | None:
    """Give what a photo's GPS clock says of its camera's, as one difference without a margin.

    Fields that hold local time, or the local date, say nothing of the clock.
    """
    utc = gps_instant(shot.photo.gps) if shot.photo.gps else None
    if utc is None or shot.photo.gps is None:
        return None
    apart = utc - shot.at
    if fields_explain(apart, shot.photo.gps, shot.dated):
        return None
    said = f"{shot.photo.places[0]} has a GPS fix of {clock_words(utc.astimezone(UTC))}."
    sources = (_photo_source(shot.photo),)
    return ClockEvidence(Shows.GPS, shot.photo.sha256, shot.at, apart, apart, said, sources)


def bounds(case: Case, by_hash: dict[str, Shot], zone: ZoneInfo | None) -> list[ClockEvidence]:
    """Give what records, custody and the run itself say of the photos, as bounds."""
    return [
        *_from_records(case, by_hash, zone),
        *_from_custody(case.facts, by_hash, zone),
        *(_not_after_now(shot, case.now, zone) for shot in by_hash.values()),
        *(_not_before_fix(fix) for s in by_hash.values() if (fix := from_gps(s)) is not None),
    ]


def _from_records(
    case: Case, by_hash: dict[str, Shot], zone: ZoneInfo | None
) -> Iterator[ClockEvidence]:
    arrivals = _arrivals(case, zone)
    for record in case.facts.records:
        if not record.in_force or not isinstance(record.body, Delivery | Unpacking | Damage):
            continue
        came = arrivals.get(shipment_of_record(case, record))
        if came is None:
            continue
        last = _left(record.body, zone)
        for path, at_curb in _named(record.body):
            photo = case.facts.photo_at(path)
            shot = by_hash.get(photo.sha256) if photo else None
            if shot is not None:
                yield _event(shot, path, record, came, last if at_curb else None)


def _event(
    shot: Shot,
    path: str,
    record: Record,
    came: tuple[datetime, Record],
    last: datetime | None,
) -> ClockEvidence:
    first, arrival = came
    high = last + EVENT_SLACK - shot.earliest if last else None
    said = f"Record {record.id} names {path}, and the goods came at {clock_words(first)}"
    said += f"; the driver left by {clock_words(last)}." if last else "."
    records = (record_source(record), record_source(arrival, "arrived"))
    sources = tuple(dict.fromkeys((*records, _photo_source(shot.photo))))
    return ClockEvidence(
        Shows.EVENT, shot.photo.sha256, shot.at, first - EVENT_SLACK - shot.latest, high, said,
        sources,
    )  # fmt: skip


def _arrivals(case: Case, zone: ZoneInfo | None) -> dict[str | None, tuple[datetime, Record]]:
    """Give each shipment's first arrival; none where one of its deliveries states no time."""
    found: dict[str | None, tuple[datetime, Record]] = {}
    unknown = set()
    for record in case.facts.in_force(Delivery):
        body = record.body
        if not isinstance(body, Delivery):
            continue
        name = shipment_of_record(case, record)
        first = stretch_of(body.arrived, zone).earliest if body.arrived else None
        if first is None:
            unknown.add(name)
        elif name not in found or first < found[name][0]:
            found[name] = (first, record)
    return {name: came for name, came in found.items() if name not in unknown}


def _left(body: Delivery | Unpacking | Damage, zone: ZoneInfo | None) -> datetime | None:
    if isinstance(body, Delivery) and body.driver_left:
        return stretch_of(body.driver_left, zone).latest
    return None


def _named(body: Delivery | Unpacking | Damage) -> Iterator[tuple[str, bool]]:
    """Give the photos a record names, and whether it says that they were taken at the curb."""
    if isinstance(body, Delivery):
        # A receipt may be photographed again at the office.
        yield from ((path, False) for path in body.receipt_photos)
    at_curb = isinstance(body, Delivery)
    yield from ((path, at_curb) for path in body.photos)


def _from_custody(
    facts: Facts, by_hash: dict[str, Shot], zone: ZoneInfo | None
) -> Iterator[ClockEvidence]:
    seen: dict[str, CustodyLine] = {}
    for line in facts.custody.lines:
        if line.sha256 in by_hash and line.event in SIGHTS and line.sha256:
            before = seen.get(line.sha256)
            if before is None or line.at < before.at:
                seen[line.sha256] = line
    for sha256, line in seen.items():
        shot = by_hash[sha256]
        yield ClockEvidence(
            Shows.CUSTODY,
            sha256,
            shot.at,
            None,
            line.at + CLOCK_AHEAD - shot.earliest,
            f"A custody log saw {shot.photo.places[0]} at {clock_words(line.at, zone)}.",
            (_photo_source(shot.photo),),
        )


def _not_after_now(shot: Shot, now: datetime, zone: ZoneInfo | None) -> ClockEvidence:
    high = now + CLOCK_AHEAD - shot.earliest
    said = f"{shot.photo.places[0]} was there on {clock_words(now, zone)}."
    return ClockEvidence(
        Shows.NOW, shot.photo.sha256, shot.at, None, high, said, (_photo_source(shot.photo),)
    )


def _not_before_fix(fix: ClockEvidence) -> ClockEvidence:
    """Bound a photo by its own fix: that may be old, but no picture was taken before it."""
    low = (fix.low or timedelta()) - GPS_AGREES
    return replace(fix, low=low, high=None)


def _photo_source(photo: Photo) -> Source:
    return Source(path=photo.places[0], sha256=photo.sha256)


def zero_allowed(evidence: ClockEvidence) -> bool:
    """Tell whether the camera's own time can be right by this evidence."""
    return evidence.allows(timedelta(), timedelta())
