"""When a phone's video was recorded, as far as its own boxes tell; graded below a photo's Exif.

A creation date with its own offset marks the beginning. The movie header has no zone and may mark
the beginning or the end: the interval covers every reading of it. A name never dates a video.
"""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta, timezone
from pathlib import PurePosixPath
from zoneinfo import ZoneInfo

from claimkit.findings.timeline.photo_beside import clock_start_of
from claimkit.findings.timeline.photo_time import passes
from claimkit.findings.wording import in_words, offset_words
from claimkit.model.case import DatedPhoto, TimeBasis
from claimkit.model.moment import Interval
from claimkit.model.photo import OtherFile, StatedDate
from claimkit.rules.capture import GPS_AGREES, NAME_AGREES, NAME_PATTERNS

SECOND = timedelta(seconds=1)
MOVIE_HEADER = "movie header"


def video_dated(video: OtherFile, zone: ZoneInfo | None) -> DatedPhoto:
    """Date one video by its best usable date; every reading of that date is covered."""
    length = timedelta(seconds=min(video.duration_s or 0.0, 86_400.0))
    usable = [d for d in video.dates if d.local is not None and 2 <= d.local.year <= 9998]
    whole = next((d for d in usable if d.offset_minutes is not None and not d.day_only), None)
    header = next((d for d in usable if d.where == MOVIE_HEADER), None)
    beside = tuple(_beside(video, whole, header, length, zone))
    if whole is not None and whole.local is not None:
        return _by_offset(video, whole, whole.local, length, beside)
    if header is not None and header.local is not None and zone is not None:
        return _by_header(video, header, header.local, length, zone, beside)
    why = _undated(video, header)
    none = Interval(None, None, why)
    return DatedPhoto(video.sha256, none, TimeBasis.NONE, None, None, why, beside)


def _by_offset(
    video: OtherFile,
    date: StatedDate,
    local: datetime,
    length: timedelta,
    beside: tuple[str, ...],
) -> DatedPhoto:
    offset = timedelta(minutes=date.offset_minutes or 0)
    at = local.replace(tzinfo=timezone(offset))
    why = (
        f"The video's {date.where} with its own offset {offset_words(offset)} marks the beginning; "
        f"it runs for {in_words(length)}."
    )
    basis = TimeBasis.VIDEO_DATE
    taken = Interval(at - SECOND, at + length + SECOND, basis.value)
    return DatedPhoto(
        video.sha256, taken, basis, date.text, date.where, why, beside, suspicions=_doubts(local)
    )


def _by_header(  # noqa: PLR0913, PLR0917 - one fact each
    video: OtherFile,
    date: StatedDate,
    local: datetime,
    length: timedelta,
    zone: ZoneInfo,
    beside: tuple[str, ...],
) -> DatedPhoto:
    utc = local.replace(tzinfo=UTC)
    _, first, last = passes(local, zone)
    why = (
        f"The video's movie header counts to {local:%Y-%m-%d %H:%M:%S} without a zone, and may "
        f"mark the beginning or the end of {in_words(length)}: read as UTC and as local time "
        f"({zone.key}), either way, all of it is covered."
    )
    basis = TimeBasis.VIDEO_CLOCK
    taken = Interval(
        min(utc, first) - length - SECOND, max(utc, last) + length + SECOND, basis.value
    )
    return DatedPhoto(
        video.sha256, taken, basis, date.text, date.where, why, beside, suspicions=_doubts(local)
    )


def _doubts(local: datetime) -> tuple[str, ...]:
    return ("photo-default-clock",) if clock_start_of(local) else ()


def _undated(video: OtherFile, header: StatedDate | None) -> str:
    if header is not None:
        return "The movie header has no zone, and no site zone is known to read it in."
    if any(d.where == MOVIE_HEADER for d in video.dates):
        return "The movie header's time is unset."
    return "The video states no date in a place that is read here."


def header_differs(video: OtherFile, zone: ZoneInfo | None) -> str | None:
    """Say how a video's movie header disagrees with its own creation date, or None.

    It agrees where it lies, read as UTC or as local time, within the recording.
    """
    whole = next(
        (d for d in video.dates if d.local and d.offset_minutes is not None and not d.day_only),
        None,
    )
    header = next((d for d in video.dates if d.where == MOVIE_HEADER and d.local), None)
    if whole is None or header is None or whole.local is None or header.local is None:
        return None
    begin = whole.local - timedelta(minutes=whole.offset_minutes or 0)
    end = begin + timedelta(seconds=video.duration_s or 0.0)
    readings = [header.local, header.local - timedelta(minutes=whole.offset_minutes or 0)]
    if zone is not None and 2 <= header.local.year <= 9998:
        readings.append(passes(header.local, zone)[1].astimezone(UTC).replace(tzinfo=None))
    apart = min(max(begin - at, at - end, timedelta()) for at in readings)
    if apart <= GPS_AGREES:
        return None
    return (
        f"its {whole.where} reads “{whole.text}”, its movie header {header.local:%Y-%m-%d %H:%M:%S}"
        f": {in_words(apart)} apart, as when the file was stored again later"
    )


def _beside(
    video: OtherFile,
    whole: StatedDate | None,
    header: StatedDate | None,
    length: timedelta,
    zone: ZoneInfo | None,
) -> list[str]:
    found = []
    if (differs := header_differs(video, zone)) is not None:
        found.append(f"The video's dates disagree: {differs}.")
    stem = PurePosixPath(video.path).stem
    for row in NAME_PATTERNS:
        match = re.match(row.pattern, stem)
        date = whole or header
        if match is None or "hour" not in match.groupdict() or date is None or date.local is None:
            continue
        try:
            named = datetime(*(int(part) for part in match.groups()))  # type: ignore[arg-type]  # noqa: DTZ001
        except ValueError:
            break
        found.append(_by_name(named, row.clock, date, length, zone))
        break
    return found


def _by_name(
    named: datetime, clock: str, date: StatedDate, length: timedelta, zone: ZoneInfo | None
) -> str:
    """Hold the clock face in a name against the video's date; for a header, against each reading.

    A name that follows local time tells by agreeing which reading of the header fits.
    """
    which = "in UTC" if clock == "utc" else "in local time"
    said = f"The name states {named:%Y-%m-%d %H:%M:%S} {which}"
    if date.local is None:
        return f"{said}; a name does not date a video."
    slack = length + NAME_AGREES
    if date.offset_minutes is not None:
        face = date.local
        if clock == "utc":
            face -= timedelta(minutes=date.offset_minutes)
        fits = abs(named - face) <= slack
        return f"{said}: it {'agrees' if fits else 'does not agree'} with the video's date."
    as_utc = date.local.replace(tzinfo=UTC)
    local_of_utc = as_utc.astimezone(zone).replace(tzinfo=None) if zone else None
    readings = {
        "UTC": date.local if clock == "utc" else local_of_utc,
        "local time": None if clock == "utc" else date.local,
    }
    fitting = [name for name, face in readings.items() if face and abs(named - face) <= slack]
    if fitting:
        return f"{said}: it agrees with the movie header read as {' and as '.join(fitting)}."
    return f"{said}: it does not agree with the movie header."
