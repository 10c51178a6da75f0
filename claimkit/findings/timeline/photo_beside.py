"""What stands beside a photo's time: GPS, file names, a clock in the picture, the camera's reset.

None of these replaces the camera's time. They agree with it, contradict it, or cast doubt on it;
where they leave another reading of the time open, that reading is kept as an alternative, and a
photo belongs to an episode only when every open reading does.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import PurePosixPath
from zoneinfo import ZoneInfo

from claimkit.findings.timeline.photo_time import Dating
from claimkit.findings.wording import clock_words, in_words
from claimkit.model.case import TimeBasis
from claimkit.model.moment import Interval
from claimkit.model.photo import Gps, Photo
from claimkit.rules.capture import (
    CLOCK_STARTS,
    FURTHEST_ZONES_APART,
    GPS_AGREES,
    GPS_MAY_BE_OLD,
    NAME_AGREES,
    NAME_PATTERNS,
    ZONE_STEP,
    ClockStart,
)

DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Beside:
    """Sentences beside a time, and the other reading of it that they leave open, if any."""

    sentences: tuple[str, ...] = ()
    other: Interval | None = None


def beside_gps(gps: Gps | None, dated: Dating, zone: ZoneInfo | None) -> Beside:
    """Hold the file's GPS clock against the camera's time.

    A position may be older than the picture but never newer, its date may be the local one, and
    its clock may hold local time: these explain a difference. What they do not explain leaves the
    GPS time open as another reading.
    """
    if gps is None:
        return Beside()
    utc = gps_instant(gps)
    if utc is None:
        return Beside(_gps_part(gps, dated))
    said = f"The file's GPS clock states {clock_words(utc.astimezone(UTC))}"
    first, last = dated.taken.earliest, dated.taken.latest
    if first is None or last is None:
        return Beside((f"{said}; it does not date the photo by itself.",))
    if first - GPS_AGREES <= utc <= last + GPS_AGREES:
        apart = max(first - utc, utc - last, timedelta())
        near = f", {in_words(apart)} away" if apart else ""
        return Beside((f"{said}{near}: it agrees with the camera.",))
    apart = utc - last if utc > last else utc - first
    way = "later" if apart > timedelta() else "earlier"
    verdict, explained = _gps_verdict(apart, gps, dated, zone)
    sentence = f"{said}, {in_words(apart)} {way} than the camera: {verdict}."
    if explained:
        return Beside((sentence,))
    return Beside((sentence,), Interval(utc - GPS_AGREES, utc + GPS_AGREES, "GPS in the file"))


def _gps_verdict(
    apart: timedelta, gps: Gps, dated: Dating, zone: ZoneInfo | None
) -> tuple[str, bool]:
    """Say what a difference means, and whether it is explained with the camera's time right."""
    explained = fields_explain(apart, gps, dated)
    if explained:
        return explained, True
    if is_zone_step(apart):
        here = f" than {zone.key}" if zone and dated.basis is TimeBasis.SITE_ZONE else ""
        hint = "whole or half hours hint that the camera stood on another zone"
        return f"{hint}{here}; neither time is claimed", False
    if timedelta() > apart >= -GPS_MAY_BE_OLD:
        return "the position may be older than the picture", True
    return "they contradict each other, and neither is claimed", False


def fields_explain(apart: timedelta, gps: Gps, dated: Dating) -> str | None:
    """Say how the GPS fields themselves explain a difference from the camera's time, or None."""
    if dated.offset and abs(apart - dated.offset) <= GPS_AGREES:
        return "as when the GPS fields hold local time"
    if abs(abs(apart) - DAY) <= GPS_AGREES and _gps_date(gps) == _local_day(dated):
        return "as when the GPS date is the local one"
    return None


def is_zone_step(apart: timedelta) -> bool:
    """Tell whether a difference is a whole number of half hours, as between two zones."""
    steps = round(apart / ZONE_STEP)
    return (
        steps != 0
        and abs(apart - steps * ZONE_STEP) <= GPS_AGREES
        and abs(apart) <= FURTHEST_ZONES_APART
    )


def gps_instant(gps: Gps) -> datetime | None:
    """Give the GPS clock's time as an instant, where it is one to reckon with."""
    if gps.utc is None or not 2 <= gps.utc.year <= 9998:
        return None
    return gps.utc if gps.utc.tzinfo else gps.utc.replace(tzinfo=UTC)


def _gps_date(gps: Gps) -> date | None:
    found = re.fullmatch(r"(\d{4})\D(\d\d)\D(\d\d)", (gps.date_text or "").strip("\0 "))
    return _day(*map(int, found.groups())) if found else None


def _local_day(dated: Dating) -> date | None:
    return dated.local.date() if dated.local else None


def _gps_part(gps: Gps, dated: Dating) -> tuple[str, ...]:
    day = _gps_date(gps)
    if day is None:
        if gps.time_text and gps.time_text.strip("\0 "):
            text = "The file's GPS clock gives a time of day without a usable date"
            return (f"{text}; it is not compared.",)
        return ()
    said = f"The file's GPS gives the date {day} without a time"
    ends = [end for end in (dated.taken.earliest, dated.taken.latest) if end]
    if not ends:
        return (f"{said}; it does not date the photo by itself.",)
    days = {end.astimezone(UTC).date() for end in ends} | {_local_day(dated)}
    verdict = "it agrees with the camera" if day in days else "it contradicts the camera's date"
    return (f"{said}: {verdict}.",)


def beside_names(photo: Photo, dated: Dating) -> tuple[str, ...]:
    """Hold dates in the file's names against the camera's time; a name never dates a photo."""
    found: list[str] = []
    for place in photo.places:
        name = PurePosixPath(place).name
        sentence = _beside_name(photo, name, dated)
        if sentence and sentence not in found:
            found.append(sentence)
    return tuple(found)


def _beside_name(photo: Photo, name: str, dated: Dating) -> str | None:
    stem = PurePosixPath(name).stem
    for row in NAME_PATTERNS:
        match = re.match(row.pattern, stem)
        if match is None:
            continue
        parts = {k: int(v) for k, v in match.groupdict().items()}
        day = _day(parts["year"], parts["month"], parts["day"])
        if day is None:
            return None
        if row.clock == "sending":
            return _sent(photo, name, day, dated)
        clock = _time(day, parts)
        return _named(name, clock, row.clock, dated) if clock else None
    return None


def _named(name: str, clock: datetime, which: str, dated: Dating) -> str:
    kind = "in UTC" if which == "utc" else "in local time"
    said = f"The name {name} states {clock:%Y-%m-%d %H:%M:%S} {kind}"
    first, last = dated.taken.earliest, dated.taken.latest
    if first is None or last is None or dated.local is None:
        return f"{said}; a name does not date a photo."
    if which == "utc":
        at = clock.replace(tzinfo=UTC)
        apart = max(first - at, at - last, timedelta())
    else:
        apart = abs(clock - dated.local)
    if apart <= NAME_AGREES:
        return f"{said}: it agrees with the camera."
    return f"{said}, {in_words(apart)} from the camera's time: they do not agree."


def _sent(photo: Photo, name: str, day: date, dated: Dating) -> str:
    said = f"The name {name} holds {day}, in such names the date of sending"
    if dated.local is not None:
        if day < dated.local.date():
            return f"{said}: that is before the camera's date, and they do not agree."
        return f"{said}: not before the camera's date."
    long_side = max(photo.width_px or 0, photo.height_px or 0)
    if photo.camera.name() is None and 960 <= long_side <= 2048:
        return (
            f"{said}; no camera, no camera date and {long_side} px are consistent with a copy "
            "re-encoded by a messaging app. The original is on the phone that took it."
        )
    return f"{said}; a name does not date a photo."


def clock_start_of(local: datetime) -> ClockStart | None:
    """Give the default date that a camera's clock face lies at, or None."""
    for row in CLOCK_STARTS:
        first = datetime(row.year or local.year, row.month, row.day)  # noqa: DTZ001  a clock face
        if first <= local < first + row.run:
            return row
    return None


def _day(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _time(day: date, parts: dict[str, int]) -> datetime | None:
    try:
        return datetime(  # noqa: DTZ001  the clock face in a name
            day.year, day.month, day.day, parts["hour"], parts["minute"], parts["second"]
        )
    except ValueError:
        return None
