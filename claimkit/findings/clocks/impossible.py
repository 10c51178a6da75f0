"""Where a correction cannot be right although the clock in the picture was read well.

No photo is younger than what first kept it, and a clock that was set says nothing of the time
before and after. Photos whose own times fit what is recorded keep them where the corrected ones
would not.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, time
from zoneinfo import ZoneInfo

from claimkit.findings.clocks.evidence import SIGHTS, Shot, zero_allowed
from claimkit.findings.wording import clock_words, record_source
from claimkit.findings.written_time import stretch_of
from claimkit.model.case import Case
from claimkit.model.clock import ClockEvidence, ClockLevel, ClockState, Shows
from claimkit.model.measuring import Readings
from claimkit.model.records import CameraClock, Damage, Delivery, Record, Unpacking
from claimkit.model.source import Source
from claimkit.rules.capture import CLOCK_AHEAD, CLOCK_REACH, LONG_BEFORE_JOB

Refuted = tuple[tuple[ClockLevel, ClockEvidence], ...]


def refuted(levels: Sequence[ClockLevel], bounds: Sequence[ClockEvidence]) -> Refuted:
    """Give each level with the bounds that it breaks and that the camera's own time keeps.

    What a record says of a photo counts only further than a day from the clock shown: nearer
    than that the record may as well be wrong, and both times stay open.
    """
    kept = [bound for bound in bounds if zero_allowed(bound)]
    found = []
    for level in levels:
        for bound in kept:
            low, high = level.bounds(bound.at)
            if low <= high and not bound.allows(low, high) and _counts(level, bound):
                found.append((level, bound))
    return tuple(found)


def _counts(level: ClockLevel, bound: ClockEvidence) -> bool:
    far = all(abs(bound.at - e.at) > CLOCK_REACH for e in level.evidence)
    return bound.kind is not Shows.EVENT or far


def ruled_out(
    level: ClockLevel, sha256: str, at: datetime, state: ClockState
) -> ClockEvidence | None:
    """Give what shows that a level does not hold for the photo taken at a camera time, or None.

    A bound of the photo itself, or of one that lies between it and the level's evidence: the
    clock was then set before that one.
    """
    first = min(e.at for e in level.evidence)
    last = max(e.at for e in level.evidence)
    for other, bound in state.refuted:
        if other != level:
            continue
        between = last <= bound.at <= at or at <= bound.at <= first
        if bound.sha256 == sha256 or between:
            return bound
    return None


def further_bounds(
    case: Case, rows: Sequence[Shot], begins: datetime | None, zone: ZoneInfo | None
) -> Iterator[ClockEvidence]:
    """Give bounds that rule a correction out and accuse no clock: the day, records, the beginning.

    A photo was taken before the end of the day of the packet, and before a record that names it
    was written.
    """
    day_ends = datetime.combine(case.as_of, time.max, tzinfo=zone) if zone else None
    written = _written(case, zone)
    for shot in rows:
        path = shot.photo.places[0]
        if day_ends is not None:
            said = f"{path} is looked at as of {case.as_of:%Y-%m-%d}."
            yield _bound(shot, Shows.NOW, said, high=day_ends)
        for place in shot.photo.places:
            for record, at in written.get(place, ()):
                said = f"Record {record.id} names {place} and was written by {clock_words(at)}."
                source = record_source(record, "written")
                yield _bound(shot, Shows.CUSTODY, said, high=at + CLOCK_AHEAD, more=(source,))
        if begins is not None:
            said = f"Nothing of this job is recorded before {clock_words(begins)}."
            yield _bound(shot, Shows.EVENT, said, low=begins - LONG_BEFORE_JOB)


def _bound(  # noqa: PLR0913 - one bound, its ends by name
    shot: Shot,
    kind: Shows,
    said: str,
    *,
    low: datetime | None = None,
    high: datetime | None = None,
    more: tuple[Source, ...] = (),
) -> ClockEvidence:
    return ClockEvidence(
        kind,
        shot.photo.sha256,
        shot.at,
        low - shot.latest if low else None,
        high - shot.earliest if high else None,
        said,
        (Source(path=shot.photo.places[0], sha256=shot.photo.sha256), *more),
    )


def _written(case: Case, zone: ZoneInfo | None) -> dict[str, list[tuple[Record, datetime]]]:
    """Give, by path, the records that name a photo, each with the instant by which it stood."""
    logged: dict[str, datetime] = {}
    for line in case.facts.custody.lines:
        if line.sha256 and line.event in SIGHTS:
            logged[line.sha256] = min(line.at, logged.get(line.sha256, line.at))
    found: dict[str, list[tuple[Record, datetime]]] = {}
    for record in case.facts.records:
        if not record.in_force:
            continue
        own = stretch_of(record.written, zone).latest if record.written else None
        times = [at for at in (own, logged.get(record.sha256)) if at]
        for path in _named(record) if times else ():
            found.setdefault(path, []).append((record, min(times)))
    return found


def _named(record: Record) -> tuple[str, ...]:
    """Give the photos that a record names."""
    body = record.body
    if isinstance(body, CameraClock):
        return (body.photo,)
    if isinstance(body, Delivery):
        return (*body.receipt_photos, *body.photos)
    if isinstance(body, Unpacking | Damage):
        return tuple(body.photos)
    if isinstance(body, Readings):
        return tuple(path for reading in body.at for path in reading.witness)
    return ()
