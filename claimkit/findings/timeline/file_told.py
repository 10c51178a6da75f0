"""What one picture file says about itself, in neutral words: stated, consistent, not known.

Nothing here says that a picture is true or false. A file that names an editor was opened by one;
a file that lost its camera's data is consistent with one that a messaging app encoded again; and
a file with nothing of the kind is consistent with one that the camera wrote.
"""

from __future__ import annotations

import re
from datetime import timedelta
from pathlib import PurePosixPath

from claimkit.findings.timeline.photo_time import CHANGE_TAG, DATING_TAGS
from claimkit.findings.wording import in_words
from claimkit.model.photo import DateTag, ExifState, FileKind, Look, Photo, StatedDate
from claimkit.rules.capture import NAME_PATTERNS
from claimkit.rules.file_marks import (
    MESSAGING_PX,
    PROGRAMS,
    SAME_MOMENT,
    SCREENSHOT_NAMES,
    THUMB_BITS,
)

HALF_HOUR = timedelta(minutes=30)
# XMP's ModifyDate is the date of a change, as DateTime is.
_CHANGE = "ModifyDate"


def editor_of(photo: Photo) -> tuple[str, str] | None:
    """Give the editor that the file names, as written there, and what such a program does."""
    for text in (photo.camera.software, photo.says.tool):
        for row in PROGRAMS if text else ():
            if text and re.search(row.pattern, text, re.IGNORECASE):
                return text, row.what
    return None


def taken_tag(photo: Photo) -> DateTag | None:
    """Give the valid tag that dates the photo."""
    tags = (photo.date(name) for name in DATING_TAGS)
    return next((tag for tag in tags if tag is not None and tag.local is not None), None)


def changed_later(photo: Photo) -> timedelta | None:
    """Give by how much the file's date of change lies after its date of capture, if it does.

    Both are read by the same clock, or by their own offsets where both have one.
    """
    taken, change = taken_tag(photo), photo.date(CHANGE_TAG)
    if taken is None or taken.local is None or change is None or change.local is None:
        return None
    later = change.local - taken.local
    if taken.offset_minutes is not None and change.offset_minutes is not None:
        later -= timedelta(minutes=change.offset_minutes - taken.offset_minutes)
    return later if later > SAME_MOMENT else None


def sent_name(photo: Photo) -> str | None:
    """Give a name of the file that a messaging app would give, or None."""
    patterns = [row.pattern for row in NAME_PATTERNS if row.clock == "sending"]
    names = [PurePosixPath(place).name for place in photo.places]
    return next(
        (n for n in names if any(re.match(p, PurePosixPath(n).stem) for p in patterns)), None
    )


def screenshot_name(photo: Photo) -> str | None:
    """Give a name of the file that says that it is a screenshot, or None."""
    names = [PurePosixPath(place).name for place in photo.places]
    return next(
        (n for n in names if re.match(SCREENSHOT_NAMES, PurePosixPath(n).stem, re.IGNORECASE)),
        None,
    )


def reencoded(photo: Photo) -> tuple[str, ...]:
    """Give what makes a file consistent with a copy that a messaging app encoded again.

    No camera, no date and no other program named, a JFIF header or WebP, and a long side or a name
    such as those apps give. Empty where it is not consistent with that. Absence alone is nothing.
    """
    bare = photo.exif_state in (ExifState.NONE, ExifState.READ) and photo.camera.name() is None
    bare = bare and not photo.dates and not photo.says.dates
    plain = photo.kind is FileKind.WEBP or photo.says.jfif is not None
    if not (bare and plain) or editor_of(photo) or photo.says.tool or screenshot_name(photo):
        return ()
    long_side = max(photo.width_px or 0, photo.height_px or 0)
    low, high = MESSAGING_PX
    signs = []
    if low <= long_side <= high:
        signs.append(f"a long side of {long_side} px")
    if (name := sent_name(photo)) is not None:
        signs.append(f"a name such as those apps give ({name})")
    return ("no camera and no date in the file", *signs) if signs else ()


def dates_apart(photo: Photo) -> tuple[str, ...]:
    """Say which dates in XMP or IPTC disagree with the Exif date of capture."""
    taken = taken_tag(photo)
    if taken is None or taken.local is None:
        return ()
    return tuple(
        sentence
        for date in photo.says.dates
        if _CHANGE not in date.where and (sentence := _apart(date, taken))
    )


def _apart(date: StatedDate, taken: DateTag) -> str | None:
    if date.local is None or taken.local is None:
        return None
    said = f"{date.where} reads “{date.text}”, {taken.tag} “{taken.text}”"
    if date.day_only:
        return None if date.local.date() == taken.local.date() else f"{said}: another day."
    by_face = abs(date.local - taken.local)
    apart = by_face
    if date.offset_minutes is not None and taken.offset_minutes is not None:
        moved = timedelta(minutes=date.offset_minutes - taken.offset_minutes)
        apart = min(by_face, abs(date.local - taken.local - moved))
    if apart <= SAME_MOMENT:
        return None
    steps = round(apart / HALF_HOUR)
    zone = abs(apart - steps * HALF_HOUR) <= timedelta(seconds=2) and apart <= timedelta(hours=26)
    hint = ", whole or half hours, as between two zones" if zone else ""
    return f"{said}: {in_words(apart)} apart{hint}."


def as_written(photo: Photo) -> bool:
    """Tell whether a file states camera and time and holds no sign of a later program."""
    return (
        photo.exif_state is ExifState.READ
        and photo.camera.name() is not None
        and taken_tag(photo) is not None
        and changed_later(photo) is None
        and editor_of(photo) is None
        and photo.says.exif_blocks <= 1
        and not dates_apart(photo)
        and not photo.flaws
    )


def thumb_differs(look: Look | None) -> bool:
    """Tell whether the small picture inside a file was found to differ from the picture."""
    return look is not None and look.thumb_apart is not None and look.thumb_apart > THUMB_BITS


def short_words(photo: Photo, look: Look | None = None) -> str:
    """Say in one line, for beside the picture, what the file says about itself.

    `look` is what the picture looks like, None where that has not been worked out.
    """
    said = []
    if thumb_differs(look):
        said.append("holds a small picture that differs from the picture")
    if photo.says.exif_blocks > 1:
        said.append(f"holds {photo.says.exif_blocks} Exif blocks")
    if (editor := editor_of(photo)) is not None:
        said.append(f"names {editor[0]}, {editor[1]}")
    if (later := changed_later(photo)) is not None:
        said.append(f"states a change {in_words(later)} after it was taken")
    if dates_apart(photo):
        said.append("states dates that disagree")
    if screenshot_name(photo):
        said.append("is named as a screenshot")
    if reencoded(photo):
        said.append("is consistent with a copy that a messaging app encoded again")
    if said:
        return f"The file {', '.join(said)}."
    if as_written(photo):
        return "The file states camera and time and names no later program."
    return "Whether this is the camera's own file is not known."
