"""Findings about many photos at once: undated, in doubt, nobody named, flawed, long unseen.

Each rule gives one finding that names the first few photos and counts the rest; its evidence
names them all.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import timedelta

from claimkit.findings.timeline.photo_time import CHANGE_TAG
from claimkit.findings.timeline.photos import (
    AFTER_INTAKE,
    AMBIGUOUS,
    BEFORE_JOB,
    CLOCK_AND_GPS,
    CLOCK_OFF,
    DEFAULT_CLOCK,
    FUTURE,
    IN_DOUBT,
)
from claimkit.findings.wording import NAMED, counted, in_words, listed, photo_sources
from claimkit.model.case import Case, DatedPhoto, Finding, NotChecked, Standing
from claimkit.model.photo import ExifState, Photo
from claimkit.rules.capture import LONG_BEFORE_INTAKE

Results = tuple[Finding | NotChecked, ...]

METHOD = "claimkit method: times of photos (docs/rules.md)"
TELL_WHEN = (
    "Set that camera's clock. A photo of a clock taken with it, named in a camera_clock record, "
    "tells how far it is off; whoever took the picture can say when it was taken."
)


def photo_of(case: Case, dated: DatedPhoto) -> Photo:
    """Give the photo that was dated."""
    photo = case.facts.photo_of(dated.sha256)
    if photo is None:
        raise LookupError(f"no photo {dated.sha256[:12]} among the facts")
    return photo


def names(case: Case, photos: Iterable[DatedPhoto]) -> str:
    """Name the first few photos by their first place and count the rest."""
    return listed([photo_of(case, d).places[0] for d in photos])


@dataclass(frozen=True, slots=True)
class Saying:
    """What one rule says of a group of photos.

    `what` follows the count and stands before the names: '3 photos' + 'dated in the future'.
    """

    rule: str
    standing: Standing
    what: str
    do_next: str
    citation: str = METHOD


def grouped(case: Case, photos: list[DatedPhoto], say: Saying) -> Results:
    """Make one finding about all of these photos, none where there are none."""
    if not photos:
        return ()
    message = f"{counted(len(photos), 'photo')} {say.what}: {names(case, photos)}."
    sources = photo_sources(case.facts, [d.sha256 for d in photos])
    return (Finding(say.rule, say.standing, "photos", message, say.do_next, sources, say.citation),)


def flaws_told(flaws: list[tuple[str, tuple[str, ...]]]) -> str:
    """Tell the flaws of the first few files, each after its path, and count the rest."""
    first = [
        " ".join(said) if said[0].startswith(path) else f"{path}: {' '.join(said)}"
        for path, said in flaws[:NAMED]
    ]
    rest = len(flaws) - NAMED
    return " ".join(first) + (f" And {rest} more." if rest > 0 else "")


def _suspected(case: Case, rule: str) -> list[DatedPhoto]:
    return [d for d in case.photos if rule in d.suspicions]


def undated(case: Case) -> Results:
    """Name the photos that nothing dates, with the reasons counted."""
    photos = [d for d in case.photos if not d.taken.known]
    reasons: dict[str, int] = {}
    for dated in photos:
        reason = _short_reason(photo_of(case, dated), dated)
        reasons[reason] = reasons.get(reason, 0) + 1
    why = "; ".join(f"{count} {reason}" for reason, count in reasons.items())
    return grouped(
        case,
        photos,
        Saying(
            "photo-undated",
            Standing.MISSING,
            f"without a usable time ({why})",
            "Ask for the originals from the phones that took them; copies sent by a messaging app "
            "lose their time. Until then these photos show what they show, not when.",
        ),
    )


_STATES = {
    ExifState.NONE: "with no Exif",
    ExifState.UNREADABLE: "with Exif that cannot be read",
    ExifState.DISAGREES: "with two readings that disagree",
}


def _short_reason(photo: Photo, dated: DatedPhoto) -> str:
    if photo.exif_state in _STATES:
        return _STATES[photo.exif_state]
    tag = photo.date(dated.tag) if dated.tag else None
    if tag is None:
        return "with no date in their Exif"
    if tag.tag == CHANGE_TAG:
        return "with the date of the last change only"
    return "with no offset and no site zone" if tag.local else "with a date that is none"


def exif_disagrees(case: Case) -> Results:
    """Name the photos of whose Exif two readings disagree."""
    photos = [d for d in case.photos if photo_of(case, d).exif_state is ExifState.DISAGREES]
    return grouped(
        case,
        photos,
        Saying(
            "photo-exif-disagrees",
            Standing.NOTE,
            "whose Exif two independent readers read differently, so neither reading is claimed",
            "Ask for the original file from the phone; this one was damaged or rewritten.",
        ),
    )


def future(case: Case) -> Results:
    """Name the photos dated later than now."""
    return grouped(
        case,
        _suspected(case, FUTURE),
        Saying(
            FUTURE,
            Standing.AGAINST,
            "dated in the future: the camera's clock or its zone is wrong",
            TELL_WHEN,
        ),
    )


def after_intake(case: Case) -> Results:
    """Name the photos dated after the custody log had already seen them."""
    return grouped(
        case,
        _suspected(case, AFTER_INTAKE),
        Saying(
            AFTER_INTAKE,
            Standing.AGAINST,
            "dated after this folder's custody log had already seen the file: one of the two "
            "clocks is wrong",
            TELL_WHEN,
        ),
    )


def default_clock(case: Case) -> Results:
    """Name the photos dated where an unset clock starts."""
    return grouped(
        case,
        _suspected(case, DEFAULT_CLOCK),
        Saying(
            DEFAULT_CLOCK,
            Standing.AGAINST,
            "dated where a camera's clock starts when nobody has set it",
            TELL_WHEN,
            "claimkit.rules.capture, default dates of clocks (from memory)",
        ),
    )


def before_job(case: Case) -> Results:
    """Name the photos dated long before anything that the job records."""
    return grouped(
        case,
        _suspected(case, BEFORE_JOB),
        Saying(
            BEFORE_JOB,
            Standing.AGAINST,
            "dated more than 30 days before anything that this job records: a wrong clock, or "
            "pictures of something else",
            "Move what is not of this job out of the folder. " + TELL_WHEN,
        ),
    )


def clock_and_gps(case: Case) -> Results:
    """Name the photos whose camera clock and GPS clock contradict each other."""
    photos = _suspected(case, CLOCK_AND_GPS)
    first = next((s for d in photos for s in d.beside if s.startswith("The file's GPS clock")), "")
    found = grouped(
        case,
        photos,
        Saying(
            CLOCK_AND_GPS,
            Standing.AGAINST,
            "whose camera clock and GPS clock differ by more than is usual",
            TELL_WHEN,
        ),
    )
    return tuple(
        Finding(
            f.rule,
            f.standing,
            f.where,
            f"{f.message} The first: {first}",
            f.do_next,
            f.evidence,
            METHOD,
        )
        for f in found
        if isinstance(f, Finding)
    )


def clock_off(case: Case) -> Results:
    """Name the photos of cameras that a photo of a clock shows to be off."""
    return grouped(
        case,
        _suspected(case, CLOCK_OFF),
        Saying(
            CLOCK_OFF,
            Standing.AGAINST,
            "taken with a camera that a photo of a clock shows to be fast or slow; the camera's "
            "times stay as they are, and the corrected ones stand beside them",
            "Read the difference and its basis beside each photo. Where the corrected time is not "
            "firm enough, a photo counts in an episode only where both times lie in it.",
        ),
    )


def ambiguous(case: Case) -> Results:
    """Name the photos of an hour that the site's zone repeats or skips."""
    return grouped(
        case,
        _suspected(case, AMBIGUOUS),
        Saying(
            AMBIGUOUS,
            Standing.NOTE,
            "dated in an hour that the site's zone has twice or not at all, with no offset of "
            "their own: both possible times are covered",
            "Nothing needs to be done unless the hour matters; a camera that writes its offset, "
            "or a second camera, would tell.",
            "IANA time zone database; " + METHOD,
        ),
    )


def no_photographer(case: Case) -> Results:
    """Name the photos of cameras that no one person is named for."""
    if case.facts.job is None:
        if not case.photos:
            return ()
        reason = "Without a readable job.toml nobody's cameras are known."
        return (NotChecked("photo-no-photographer", "photos", reason),)
    photos = [d for d in case.photos if d.by is None]
    cameras = dict.fromkeys(photo_of(case, d).camera.name() or "no camera stated" for d in photos)
    return grouped(
        case,
        photos,
        Saying(
            "photo-no-photographer",
            Standing.MISSING,
            f"with nobody named as photographer ({listed(list(cameras))})",
            "Name the camera under the one person who uses it (job.toml, person, cameras). "
            "Somebody has to say that the picture shows the thing fairly.",
            "Federal Rules of Evidence 901(b)(1), from memory",
        ),
    )


def flawed(case: Case) -> Results:
    """Name the photos that are cut short, are not what their name says, or are otherwise flawed."""
    photos = [d for d in case.photos if photo_of(case, d).flaws]
    if not photos:
        return ()
    told = [photo_of(case, d) for d in photos]
    head = counted(len(photos), "photo")
    message = (
        f"{head} with a flaw in the file. {flaws_told([(p.places[0], p.flaws) for p in told])}"
    )
    return (
        Finding(
            "photo-flawed",
            Standing.NOTE,
            "photos",
            message,
            "Keep the file as it is, and ask for the original from the phone beside it.",
            photo_sources(case.facts, [d.sha256 for d in photos]),
            "claimkit method: intake (docs/job-folder.md)",
        ),
    )


def long_before_intake(case: Case) -> Results:
    """State the gap between capture and the first time that a custody log saw the file."""
    rule = "photo-long-before-intake"
    dated = [d for d in case.photos if d.taken.known and not IN_DOUBT & set(d.suspicions)]
    if dated and not case.facts.custody.lines:
        reason = "No custody log has seen these photos yet, so no gap can be stated."
        return (NotChecked(rule, "photos", reason),)
    late = [(d, gap) for d in dated if (gap := _gap(case, d)) and gap > LONG_BEFORE_INTAKE]
    if not late:
        return ()
    shortest, longest = min(gap for _, gap in late), max(gap for _, gap in late)
    between = in_words(longest)
    if in_words(shortest) != between:
        between = f"between {in_words(shortest)} and {between}"
    return grouped(
        case,
        [d for d, _ in late],
        Saying(
            rule,
            Standing.NOTE,
            f"first seen by a custody log {between} after the time that their cameras state",
            "Put photos into the job folder on the day; until then nothing here shows that they "
            "stayed unchanged. The person who kept the phone can say where they were.",
        ),
    )


def _gap(case: Case, dated: DatedPhoto) -> timedelta | None:
    seen = case.facts.custody.first_seen(dated.sha256)
    if seen is None or dated.taken.latest is None:
        return None
    return seen.at - dated.taken.latest


CHECKS: tuple[tuple[str, str, Callable[[Case], Results]], ...] = (
    ("photo-undated", "Photos that nothing dates", undated),
    ("photo-exif-disagrees", "Two readings of a photo's Exif disagree", exif_disagrees),
    (FUTURE, "Photos dated in the future", future),
    (AFTER_INTAKE, "Photos dated after the custody log first saw them", after_intake),
    (DEFAULT_CLOCK, "Photos dated where an unset clock starts", default_clock),
    (BEFORE_JOB, "Photos dated long before the job", before_job),
    (CLOCK_AND_GPS, "A photo's camera clock and GPS clock contradict each other", clock_and_gps),
    (CLOCK_OFF, "A photo of a clock shows a camera to be fast or slow", clock_off),
    (AMBIGUOUS, "Photos of an hour that the zone repeats or skips", ambiguous),
    ("photo-no-photographer", "Nobody is named as photographer", no_photographer),
    ("photo-flawed", "A photo's file has a flaw", flawed),
    (
        "photo-long-before-intake",
        "Photos that a custody log saw long after they were taken",
        long_before_intake,
    ),
)
