"""When one photo was taken, as far as its own date tags can tell, with the reason in words.

A camera writes a clock face, not an instant: only an offset tag of its own ties it to one. Without
it the site's zone is assumed and said, and an hour that the zone repeats or skips widens the
interval. Nothing is repaired and no tag's offset is lent to another (Exif 2.32, 4.6.5).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta, timezone
from enum import StrEnum
from zoneinfo import ZoneInfo

from claimkit.findings.wording import offset_words
from claimkit.findings.written_time import fixed
from claimkit.model.case import TimeBasis
from claimkit.model.moment import Interval
from claimkit.model.photo import DateTag, ExifState, Photo
from claimkit.rules.capture import OFFSET_MINUTES

# DateTime is the date of the last change to the file: an edited or forwarded copy carries the
# time of the edit there. It never dates a photo.
DATING_TAGS = ("DateTimeOriginal", "DateTimeDigitized")
CHANGE_TAG = "DateTime"
SECOND = timedelta(seconds=1)


class Pass(StrEnum):
    """How a clock face stands in a zone whose clocks change."""

    ONCE = "once"
    TWICE = "twice"
    NEVER = "never"


@dataclass(frozen=True, slots=True)
class Dating:
    """What one photo's tags say of its time.

    `local` is the clock face used, `offset` the offset tag's value where it has one; `ambiguous`
    is True where the site's zone has that clock face twice or never. `notes` are sentences for
    beside the time.
    """

    taken: Interval
    basis: TimeBasis
    camera_text: str | None
    tag: str | None
    why: str
    local: datetime | None = None
    offset: timedelta | None = None
    ambiguous: bool = False
    notes: tuple[str, ...] = ()


def dating(photo: Photo, zone: ZoneInfo | None) -> Dating:
    """Date one photo from its tags: by its own offset, else by the site's zone, else not at all.

    DateTimeOriginal is preferred, then DateTimeDigitized; DateTime is shown and never used. The
    interval is the instant give or take the resolution of the text: 1 s, or the last digit of the
    sub-seconds. Never raises for what a file states.
    """
    if photo.exif_state is not ExifState.READ:
        return _undated(_state_words(photo))
    tag = next((t for name in DATING_TAGS if (t := photo.date(name)) and _usable(t)), None)
    if tag is None or tag.local is None:
        return _without_date(photo)
    offset = offset_of(tag)
    if offset is not None:
        dated = _by_offset(tag, tag.local, offset, zone)
    elif zone is not None:
        dated = _by_zone(tag, tag.local, zone)
    else:
        why = f"{tag.tag} is a clock face with no offset, and no site zone is known to read it in."
        return _undated(why, tag)
    return _with_notes(photo, tag, dated)


def offset_of(tag: DateTag) -> timedelta | None:
    """Give a tag's own offset, where it states one that is in use somewhere on earth."""
    low, high = OFFSET_MINUTES
    if tag.offset_minutes is None or not low <= tag.offset_minutes <= high:
        return None
    return timedelta(minutes=tag.offset_minutes)


def resolution_of(tag: DateTag) -> timedelta:
    """Give how finely a tag's text counts: 1 s, or its last sub-second digit ("050" is ms)."""
    digits = (tag.subsec_text or "").strip("\0 ")
    if not (digits.isascii() and digits.isdigit()):
        return SECOND
    return timedelta(microseconds=max(1, 10 ** max(0, 6 - len(digits))))


def passes(local: datetime, zone: ZoneInfo) -> tuple[Pass, datetime, datetime]:
    """Give how often a zone has a clock face, and its first and last possible instant.

    A clock face that the zone skips is read with the offset before the change and with the one
    after it: the camera's clock had been put forward or had not.
    """
    first, second = (fixed(local.replace(tzinfo=zone, fold=fold)) for fold in (0, 1))
    if first == second:
        return Pass.ONCE, first, second
    shown = first.astimezone(UTC).astimezone(zone).replace(tzinfo=None)
    how = Pass.TWICE if shown == local else Pass.NEVER
    return how, min(first, second), max(first, second)


def _by_offset(tag: DateTag, local: datetime, offset: timedelta, zone: ZoneInfo | None) -> Dating:
    at = local.replace(tzinfo=timezone(offset))
    step = resolution_of(tag)
    why = f"{tag.tag} with its own offset {offset_words(offset)}."
    notes: tuple[str, ...] = ()
    if zone is not None:
        here = at.astimezone(zone).utcoffset() or timedelta()
        if here != offset:
            notes = (
                f"The camera stood at {offset_words(offset)}, the site at {offset_words(here)} "
                "at that time; the camera's own offset is kept.",
            )
    taken = Interval(at - step, at + step, TimeBasis.OFFSET_TAG.value)
    return Dating(
        taken, TimeBasis.OFFSET_TAG, camera_text(tag), tag.tag, why, local, offset, notes=notes
    )


def _by_zone(tag: DateTag, local: datetime, zone: ZoneInfo) -> Dating:
    how, first, last = passes(local, zone)
    step = resolution_of(tag)
    why = f"{tag.tag} has no offset; the site's zone {zone.key} is assumed"
    if tag.offset_minutes is not None:
        why = (
            f"{tag.tag} states an offset that is used nowhere; the site's zone {zone.key} is "
            "assumed"
        )
    if how is Pass.TWICE:
        why += ", where this clock face came twice: both are covered"
    elif how is Pass.NEVER:
        why += ", where this clock face was skipped: both readings of it are covered"
    taken = Interval(first - step, last + step, f"{TimeBasis.SITE_ZONE.value} ({zone.key})")
    return Dating(
        taken,
        TimeBasis.SITE_ZONE,
        camera_text(tag),
        tag.tag,
        why + ".",
        local,
        ambiguous=how is not Pass.ONCE,
    )


def camera_text(tag: DateTag) -> str:
    """Give a tag's text as the camera wrote it, with its own offset where it states one."""
    offset = (tag.offset_text or "").strip("\0 :")
    return f"{tag.text} {(tag.offset_text or '').strip()}" if offset else tag.text


def _usable(tag: DateTag) -> bool:
    # Years at the ends of the calendar cannot be moved to another zone.
    return tag.local is not None and 2 <= tag.local.year <= 9998


def _undated(why: str, tag: DateTag | None = None) -> Dating:
    text = camera_text(tag) if tag else None
    return Dating(Interval(None, None, why), TimeBasis.NONE, text, tag.tag if tag else None, why)


def _state_words(photo: Photo) -> str:
    reason = f": {photo.exif_reason.rstrip('.')}" if photo.exif_reason else ""
    match photo.exif_state:
        case ExifState.NONE:
            return f"The file holds no Exif, so no camera time{reason}."
        case ExifState.UNREADABLE:
            return f"The file's Exif cannot be read{reason}."
        case _:
            return f"Two readings of the file's Exif disagree; neither is claimed{reason}."


def _without_date(photo: Photo) -> Dating:
    for name in DATING_TAGS:
        tag = photo.date(name)
        if tag is not None:
            fault = tag.fault or "That is no date and time to reckon with."
            return _undated(f"{name} reads “{tag.text}”. {fault.rstrip('.')}.", tag)
    change = photo.date(CHANGE_TAG)
    if change is not None:
        why = (
            f"The file states only {CHANGE_TAG}, “{change.text}”: the date of its last change, "
            "which does not tell when the picture was taken."
        )
        return _undated(why, change)
    return _undated("The file's Exif holds no date.")


def _apart(a: DateTag, b: DateTag) -> bool:
    return a.local is not None and b.local is not None and abs(a.local - b.local) > SECOND


def _with_notes(photo: Photo, used: DateTag, dated: Dating) -> Dating:
    why, notes = dated.why, list(dated.notes)
    original, digitized = (photo.date(name) for name in DATING_TAGS)
    if used is digitized:
        lead = "DateTimeOriginal is absent"
        if original is not None:
            lead = f"DateTimeOriginal reads “{original.text}”, which is no date and time"
        why = f"{lead}; DateTimeDigitized, when it was made digital, is used instead. {why}"
    elif digitized and _apart(digitized, used):
        notes.append(f"DateTimeDigitized differs: “{digitized.text}”.")
    change = photo.date(CHANGE_TAG)
    if change and _apart(change, used):
        notes.append(f"The file was changed later or by another clock: DateTime “{change.text}”.")
    return replace(dated, why=why, notes=tuple(notes))
