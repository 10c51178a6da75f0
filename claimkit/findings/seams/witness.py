"""Whether a photo named as witness of a reading was taken where the reading says.

The photo must itself be dated: the whole of its interval in the episode of that stage, or beside
the reading on the same day with no other stage's work in between. A photo that certainly lies
elsewhere witnesses something else, and that is said.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

from claimkit.model.answers import Answer
from claimkit.model.case import Case, DatedPhoto, Episode
from claimkit.model.gap import GapReading
from claimkit.model.moment import Interval, before, inside
from claimkit.model.photo import Photo

BESIDE = timedelta(minutes=30)
"""A photo this near the reading's own time is beside it (common practice, no source)."""


def resolve(case: Case, paths: Iterable[str]) -> tuple[Photo | None, ...]:
    """Give the photo at each path, None where there is none."""
    return tuple(case.facts.photo_at(path) for path in paths)


def witness_holds(case: Case, reading: GapReading, paths: tuple[str, ...]) -> Answer:
    """Tell whether every photo named at these paths is dated in the reading's own episode.

    No where one certainly is not; cannot tell where one is missing or too loosely dated, or
    where none is named.
    """
    answers = [answer for _, answer in each_witness(case, reading, paths)]
    if Answer.NO in answers:
        return Answer.NO
    if answers and all(answer is Answer.YES for answer in answers):
        return Answer.YES
    return Answer.CANNOT_TELL


def each_witness(
    case: Case, reading: GapReading, paths: tuple[str, ...]
) -> tuple[tuple[str, Answer], ...]:
    """Give the answer for each named path."""
    return tuple((path, _one(case, reading, path)) for path in paths)


def _one(case: Case, reading: GapReading, path: str) -> Answer:
    photo = case.facts.photo_at(path)
    if photo is None:
        return Answer.CANNOT_TELL
    dated = next((d for d in case.photos if d.sha256 == photo.sha256), None)
    return dated_with(case, reading, dated) if dated else Answer.CANNOT_TELL


def dated_with(case: Case, reading: GapReading, photo: DatedPhoto) -> Answer:
    """Tell whether a dated photo lies in the episode of a reading, or beside it.

    Where a corrected time stands beside the camera's and does not hold, both must say the same.
    """
    answer = _lies_with(case, reading, photo.stands)
    if photo.corrected is None or photo.stands is photo.corrected:
        return answer
    other = _lies_with(case, reading, photo.corrected)
    return answer if other is answer else Answer.CANNOT_TELL


def _lies_with(case: Case, reading: GapReading, taken: Interval) -> Answer:
    """Tell whether a time lies in the episode of a reading, or beside it.

    Episodes of the right stage count only where they touch the reading's own days, so that the
    dry fit of a replacement piece is not witnessed by a photo of the first.
    """
    days = _local_days(case, reading.taken)
    right = [e for e in case.episodes if e.stage is reading.stage and not _apart(e.interval, days)]
    others = [e for e in case.episodes if e not in right]
    in_right = [inside(taken, e.interval) for e in right]
    if Answer.YES in in_right:
        return Answer.YES
    may_be_right = Answer.CANNOT_TELL in in_right
    if _certainly_in(taken, others):
        return Answer.CANNOT_TELL if may_be_right else Answer.NO
    if inside(taken, _beside(reading.taken)) is Answer.YES:
        clear = all(_clear_of(taken, e, reading, beside=True) for e in others)
        return Answer.YES if clear else Answer.CANNOT_TELL
    same_day = inside(taken, days)
    if same_day is Answer.YES:
        clear = all(_clear_of(taken, e, reading, beside=False) for e in others)
        return Answer.YES if clear else Answer.CANNOT_TELL
    return Answer.CANNOT_TELL if may_be_right else same_day


def _apart(a: Interval, b: Interval) -> bool:
    return Answer.YES in (before(a, b), before(b, a))


def _certainly_in(taken: Interval, episodes: list[Episode]) -> bool:
    return any(inside(taken, e.interval) is Answer.YES for e in episodes)


def _clear_of(taken: Interval, episode: Episode, reading: GapReading, *, beside: bool) -> bool:
    """Tell whether a photo lies outside another stage's episode.

    An earlier stage whose end nobody wrote had ended when the reading of the next was taken, so
    only what comes after the reading, or stands beside it, is clear of it.
    """
    if inside(taken, episode.interval) is Answer.NO:
        return True
    if episode.interval.latest is not None:
        return False
    began_before = before(episode.interval, _from(reading.taken)) is not Answer.NO
    return began_before and (beside or before(reading.taken, taken) is Answer.YES)


def _from(taken: Interval) -> Interval:
    return Interval(taken.earliest, taken.earliest, "the reading's first instant")


def _beside(taken: Interval) -> Interval:
    first = taken.earliest - BESIDE if taken.earliest else None
    last = taken.latest + BESIDE if taken.latest else None
    return Interval(first, last, "half an hour either side of the reading")


def _local_days(case: Case, taken: Interval) -> Interval:
    """Give the whole local days at the site that an interval touches."""
    zone = ZoneInfo(case.facts.job.site.zone if case.facts.job else "UTC")
    first = last = None
    if taken.earliest is not None:
        day = taken.earliest.astimezone(zone).date()
        first = datetime.combine(day, time.min, zone).astimezone(UTC)
    if taken.latest is not None:
        day = taken.latest.astimezone(zone).date()
        end = datetime.combine(day + timedelta(days=1), time.min, zone).astimezone(UTC)
        last = end - timedelta(microseconds=1)
    return Interval(first, last, "local days of the reading")
