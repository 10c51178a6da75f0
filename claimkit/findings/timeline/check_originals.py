"""Findings about what files say of themselves: original, edited, encoded again, alike, screenshots.

Each says what the file states and what that is consistent with, and asks for the original where
one would help. What cannot be told is said; nothing here says that a picture is false.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from claimkit.findings.timeline.file_told import (
    as_written,
    changed_later,
    dates_apart,
    editor_of,
    reencoded,
    screenshot_name,
    thumb_differs,
)
from claimkit.findings.timeline.look_groups import alike, bursts, poorer
from claimkit.findings.timeline.photo_groups import METHOD, Results, names
from claimkit.findings.timeline.photos import IN_DOUBT
from claimkit.findings.timeline.video_time import header_differs
from claimkit.findings.wording import NAMED, counted, in_words, listed, photo_sources
from claimkit.findings.written_time import site_zone
from claimkit.model.case import Case, DatedPhoto, Finding, NotChecked, Standing
from claimkit.model.photo import FileKind, OtherFile, Photo
from claimkit.model.source import Source

ASK = "Ask for the original from the phone or camera, and keep this file beside it."
KEEP = (
    "Keep the file as it is and find the original beside it. Whoever changed it can say what was "
    "changed and why."
)


def _finding(
    rule: str, standing: Standing, message: str, do_next: str, sources: tuple[Source, ...]
) -> Finding:
    return Finding(rule, standing, "photos", message, do_next, sources, METHOD)


def _of(case: Case, photos: Sequence[Photo]) -> tuple[Source, ...]:
    return photo_sources(case.facts, [photo.sha256 for photo in photos])


def _told(rows: Sequence[tuple[Photo, str]]) -> str:
    """Tell what is said of the first few photos, each after its path, and count the rest."""
    said = "; ".join(f"{photo.places[0]}: {words}" for photo, words in rows[:NAMED])
    rest = len(rows) - NAMED
    return said + (f"; and {rest} more" if rest > 0 else "")


def as_cameras_write(case: Case) -> Results:
    """Say of how many photos the file states camera and time and no later program."""
    left = {look.sha256 for look in case.facts.looks if thumb_differs(look)}
    photos = [p for p in case.facts.photos if as_written(p) and p.sha256 not in left]
    if not photos:
        return ()
    message = (
        f"{counted(len(photos), 'photo')} whose file states its camera and its time, and neither a "
        f"later change nor another program: {listed([p.places[0] for p in photos])}. That is "
        "consistent with files as cameras write them; it does not prove it."
    )
    return (_finding("photo-as-camera-wrote", Standing.SUPPORTS, message, "", _of(case, photos)),)


def encoded_again(case: Case) -> Results:
    """Name the photos that are consistent with copies that a messaging app encoded again."""
    rows = [(p, ", ".join(signs)) for p in case.facts.photos if (signs := reencoded(p))]
    if not rows:
        return ()
    message = (
        f"{counted(len(rows), 'photo')} consistent with re-encoding by a messaging app, which "
        f"leaves out camera and time. {_told(rows)}. That a file lacks them proves nothing by "
        "itself."
    )
    sources = _of(case, [p for p, _ in rows])
    return (_finding("photo-reencoded", Standing.MISSING, message, ASK, sources),)


def editor_named(case: Case) -> Results:
    """Name the photos whose file names a picture editor, developer or converter."""
    rows = [(p, f"{e[0]}, {e[1]}") for p in case.facts.photos if (e := editor_of(p))]
    if not rows:
        return ()
    message = (
        f"{counted(len(rows), 'photo')} whose file names another program than the camera's own. "
        f"{_told(rows)}. What it changed is not known."
    )
    sources = _of(case, [p for p, _ in rows])
    return (_finding("photo-editor-named", Standing.AGAINST, message, KEEP, sources),)


def changed(case: Case) -> Results:
    """Name the photos whose file states a change later than the picture was taken."""
    rows = [
        (p, f"{in_words(later)} later") for p in case.facts.photos if (later := changed_later(p))
    ]
    if not rows:
        return ()
    message = (
        f"{counted(len(rows), 'photo')} whose file states that it was changed after it was taken. "
        f"{_told(rows)}. Turning a picture is such a change, and so is drawing in it; the date "
        "does not tell which."
    )
    sources = _of(case, [p for p, _ in rows])
    return (_finding("photo-changed-later", Standing.AGAINST, message, KEEP, sources),)


def thumbnails(case: Case) -> Results:
    """Name the photos whose small picture inside the file is not that of the picture."""
    found = [
        photo
        for look in case.facts.looks
        if thumb_differs(look) and (photo := case.facts.photo_of(look.sha256))
    ]
    if not found:
        return ()
    message = (
        f"{counted(len(found), 'photo')} with a small picture inside the file that differs from "
        f"the picture: {listed([p.places[0] for p in found])}. That is consistent with a picture "
        "that was cropped, turned or changed later by a program that left the small one alone."
    )
    return (_finding("photo-thumbnail-differs", Standing.AGAINST, message, KEEP, _of(case, found)),)


def exif_twice(case: Case) -> Results:
    """Name the photos with more than one Exif block."""
    found = [photo for photo in case.facts.photos if photo.says.exif_blocks > 1]
    if not found:
        return ()
    message = (
        f"{counted(len(found), 'photo')} with more than one Exif block where a camera writes one: "
        f"{listed([p.places[0] for p in found])}. The first was read. A second one is consistent "
        "with a program that added its own."
    )
    return (_finding("photo-exif-twice", Standing.AGAINST, message, ASK, _of(case, found)),)


def dates_disagree(case: Case) -> Results:
    """Name the photos whose XMP or IPTC dates disagree with the camera's date of capture."""
    rows = [(p, " ".join(apart)) for p in case.facts.photos if (apart := dates_apart(p))]
    if not rows:
        return ()
    told = _told(rows).rstrip(".")
    message = (
        f"{counted(len(rows), 'photo')} whose file states dates that disagree. {told}. The "
        "camera's own tag is used; any program can write the others."
    )
    sources = _of(case, [p for p, _ in rows])
    return (_finding("photo-dates-disagree", Standing.AGAINST, message, ASK, sources),)


def screenshots(case: Case) -> Results:
    """Name the photos whose name says that they are screenshots."""
    found = [photo for photo in case.facts.photos if screenshot_name(photo)]
    if not found:
        return ()
    message = (
        f"{counted(len(found), 'photo')} named as a screenshot: "
        f"{listed([p.places[0] for p in found])}. A screenshot shows what a screen showed, at the "
        "time it was made."
    )
    do_next = (
        "Ask for what the screen showed: the photo itself, the message with its date, the "
        "carrier's own document."
    )
    return (_finding("photo-screenshot", Standing.NOTE, message, do_next, _of(case, found)),)


def look_alike(case: Case) -> Results:
    """Name the photos that look alike and lack what the best of them has."""
    rule = "photo-look-alike"
    seen = {look.sha256 for look in case.facts.looks}
    missing = [photo for photo in case.facts.photos if photo.sha256 not in seen]
    found: list[Finding | NotChecked] = []
    for group in alike(case.facts):
        copies = poorer(group)
        if not copies:
            continue
        message = (
            f"{listed([p.places[0] for p in copies])} and {group[0].places[0]} look alike. "
            f"{group[0].places[0]} is the better original: it states when it was taken"
            f"{_pixels(group[0])}. That the other is a copy is for a person to see."
        )
        found.append(
            _finding(
                rule,
                Standing.NOTE,
                message,
                "Name the better original in records and letters.",
                _of(case, [group[0], *copies]),
            )
        )
    if missing and len(case.facts.photos) > 1:
        reason = (
            f"{counted(len(missing), 'photo')} not yet compared with the others or with the small "
            "picture inside the file. Making a packet compares them."
        )
        found.append(NotChecked(rule, "photos", reason))
    return tuple(found)


def _pixels(photo: Photo) -> str:
    if not photo.width_px or not photo.height_px:
        return ""
    return f" and has {photo.width_px} × {photo.height_px} pixels"


def in_bursts(case: Case) -> Results:
    """Name the bursts, so that one picture of each can stand for the others."""
    found = bursts(case.photos, case.facts)
    if not found:
        return ()
    told = "; ".join(f"{len(run)} photos ({names(case, run)})" for run in found[:NAMED])
    rest = len(found) - NAMED
    more = f"; and {rest} more" if rest > 0 else ""
    photos = [d.sha256 for run in found for d in run]
    message = (
        f"{counted(len(found), 'burst')} of photos within seconds of each other by one camera: "
        f"{told}{more}."
    )
    return (
        _finding(
            "photo-burst",
            Standing.NOTE,
            message,
            "Keep them all; name the clearest one of each in the records.",
            photo_sources(case.facts, photos),
        ),
    )


# Videos


def _videos(case: Case) -> list[tuple[OtherFile, DatedPhoto]]:
    by_hash = {dated.sha256: dated for dated in case.videos}
    return [
        (paper, by_hash[paper.sha256])
        for paper in case.facts.papers
        if paper.kind is FileKind.VIDEO and paper.sha256 in by_hash
    ]


def _video(
    rule: str, standing: Standing, message: str, do_next: str, videos: Sequence[OtherFile]
) -> Results:
    sources = tuple(Source(path=v.path, sha256=v.sha256) for v in videos)
    return (Finding(rule, standing, "videos", message, do_next, sources, METHOD),)


def video_dated(case: Case) -> Results:
    """Say of the dated videos what their times rest on."""
    rows = [(video, dated) for video, dated in _videos(case) if dated.taken.known]
    if not rows:
        return ()
    told = "; ".join(f"{v.path}: {d.basis.value}{_where(d)}" for v, d in rows[:NAMED])
    rest = len(rows) - NAMED
    more = f"; and {rest} more" if rest > 0 else ""
    message = (
        f"{counted(len(rows), 'video')} with a time of its own, graded below a photo's: "
        f"{told}{more}."
    )
    do_next = "Beside a video that matters take a photo, whose time is firmer."
    return _video("video-dated", Standing.NOTE, message, do_next, [v for v, _ in rows])


def _where(dated: DatedPhoto) -> str:
    """Say in which stage a video lies, or what casts doubt on its date."""
    if IN_DOUBT & set(dated.suspicions):
        return f", in doubt ({' '.join(dated.beside[-len(dated.suspicions) :]).rstrip('.')})"
    return f", {dated.stage.value}" if dated.stage else ""


def video_undated(case: Case) -> Results:
    """Name the videos that nothing dates."""
    rows = [(video, dated) for video, dated in _videos(case) if not dated.taken.known]
    if not rows:
        return ()
    told = "; ".join(f"{v.path}: {d.why.rstrip('.')}" for v, d in rows[:NAMED])
    message = f"{counted(len(rows), 'video')} without a usable time. {told}."
    return _video("video-undated", Standing.MISSING, message, ASK, [v for v, _ in rows])


def video_dates_differ(case: Case) -> Results:
    """Name the videos whose movie header and creation date disagree."""
    zone = site_zone(case.facts)
    rows = [(v, said) for v, _ in _videos(case) if (said := header_differs(v, zone))]
    if not rows:
        return ()
    told = "; ".join(f"{v.path}: {said}" for v, said in rows[:NAMED])
    message = f"{counted(len(rows), 'video')} whose own dates disagree. {told}."
    return _video("video-dates-differ", Standing.AGAINST, message, ASK, [v for v, _ in rows])


CHECKS: tuple[tuple[str, str, Callable[[Case], Results]], ...] = (
    ("photo-as-camera-wrote", "Files as cameras write them", as_cameras_write),
    ("photo-reencoded", "Copies that a messaging app may have encoded again", encoded_again),
    ("photo-editor-named", "A file that names an editor", editor_named),
    ("photo-changed-later", "A file changed after it was taken", changed),
    ("photo-thumbnail-differs", "A small picture inside that differs", thumbnails),
    ("photo-exif-twice", "More than one Exif block in a file", exif_twice),
    ("photo-dates-disagree", "XMP or IPTC dates disagree with the camera's", dates_disagree),
    ("photo-screenshot", "Files named as screenshots", screenshots),
    ("photo-look-alike", "Photos that look alike", look_alike),
    ("photo-burst", "Bursts of photos", in_bursts),
    ("video-dated", "Videos with a time of their own", video_dated),
    ("video-undated", "Videos that nothing dates", video_undated),
    ("video-dates-differ", "A video's own dates disagree", video_dates_differ),
)
