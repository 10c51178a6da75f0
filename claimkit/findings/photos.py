"""Every photo gets its time, what stands beside it, its episode and its photographer.

A photo is dated as its camera says. It is placed in an episode only when the whole of every open
reading of its time lies inside exactly one, and when nothing casts doubt on the date itself.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from claimkit.findings.photo_beside import beside_gps, beside_names, clock_start_of
from claimkit.findings.photo_clocks import ClockShown, clocks_shown, job_begins, photographer_of
from claimkit.findings.photo_time import Dating, dating
from claimkit.findings.wording import in_words
from claimkit.findings.written_time import site_zone
from claimkit.model.answers import Answer
from claimkit.model.case import Case, DatedPhoto, Episode
from claimkit.model.facts import Facts
from claimkit.model.moment import Interval, inside
from claimkit.model.photo import Photo
from claimkit.model.records import Stage
from claimkit.rules.capture import CLOCK_AHEAD, LONG_BEFORE_JOB

DEFAULT_CLOCK = "photo-default-clock"
FUTURE = "photo-future"
AFTER_INTAKE = "photo-after-intake"
BEFORE_JOB = "photo-before-job"
CLOCK_AND_GPS = "photo-clock-and-gps"
CLOCK_OFF = "photo-clock-off"
AMBIGUOUS = "photo-time-ambiguous"

# With these the date itself is in doubt: no episode is claimed. The others leave another reading
# open or widen the interval, and membership is tested with that.
IN_DOUBT = frozenset({DEFAULT_CLOCK, FUTURE, AFTER_INTAKE, BEFORE_JOB})


@dataclass(frozen=True, slots=True)
class Around:
    """What bounds and surrounds the photos of one case."""

    facts: Facts
    zone: ZoneInfo | None
    now: datetime
    begins: datetime | None
    clocks: tuple[ClockShown, ...]
    episodes: tuple[Episode, ...]


def work_out(case: Case) -> Case:
    """Fill the dated photos, in order of their instants, the undated ones last."""
    facts, zone = case.facts, site_zone(case.facts)
    dated = {photo.sha256: dating(photo, zone) for photo in facts.photos}
    taken = {sha256: d.taken for sha256, d in dated.items()}
    around = Around(
        facts,
        zone,
        case.now,
        job_begins(facts, zone),
        clocks_shown(facts, taken, zone),
        case.episodes,
    )
    photos = [_photo(photo, dated[photo.sha256], around) for photo in facts.photos]
    places = {photo.sha256: photo.places for photo in facts.photos}
    photos.sort(key=lambda d: (*_order(d.taken), places[d.sha256], d.sha256))
    return replace(case, photos=tuple(photos))


def _order(taken: Interval) -> tuple[bool, datetime, datetime]:
    # Instants only: clock faces of two zones, or of a repeated hour, sort wrongly.
    last = datetime.max.replace(tzinfo=UTC)
    return (not taken.known, taken.earliest or last, taken.latest or last)


def _photo(photo: Photo, dated: Dating, around: Around) -> DatedPhoto:
    suspicions, doubts = _suspicions(photo, dated, around)
    gps = beside_gps(photo.gps, dated, around.zone)
    shown = [clock for clock in around.clocks if clock.speaks_for(photo)]
    off = [clock for clock in shown if not clock.agrees]
    open_readings = [gps.other] if gps.other else []
    open_readings += [other for clock in off if (other := clock.other(dated.taken))]
    if gps.other:
        suspicions.append(CLOCK_AND_GPS)
    if off and dated.taken.known:
        suspicions.append(CLOCK_OFF)
    stage, episode, said = (None, None, "")
    if not IN_DOUBT & set(suspicions):
        stage, episode, said = place(dated.taken, open_readings, around.episodes)
    beside = (
        *dated.notes,
        *gps.sentences,
        *beside_names(photo, dated),
        *(_clock_sentence(clock, photo) for clock in shown),
        *doubts,
        *((said,) if said else ()),
    )
    return DatedPhoto(
        sha256=photo.sha256,
        taken=dated.taken,
        basis=dated.basis,
        camera_text=dated.camera_text,
        tag=dated.tag,
        why=dated.why,
        beside=beside,
        stage=stage,
        episode=episode,
        suspicions=tuple(suspicions),
        by=photographer_of(photo.camera, around.facts.job),
    )


def place(
    taken: Interval, open_readings: list[Interval], episodes: tuple[Episode, ...]
) -> tuple[Stage | None, str | None, str]:
    """Give the stage and episode that certainly hold a photo, and a sentence where none can.

    Where it lies in several stretches of one stage (two seams dry-fitted at once) the stage is
    certain and the episode is not; in stretches of different stages neither is claimed.
    """
    by_camera = [e for e in episodes if inside(taken, e.interval) is Answer.YES]
    holding = [
        e for e in by_camera if all(inside(t, e.interval) is Answer.YES for t in open_readings)
    ]
    if not holding:
        said = "By the camera's time alone it would lie in: {}. Another reading is open, so it is "
        said += "placed in none."
        return None, None, said.format(_names(by_camera)) if by_camera else ""
    if len(holding) == 1:
        return holding[0].stage, holding[0].id, ""
    stages = {e.stage for e in holding}
    if len(stages) == 1:
        return holding[0].stage, None, f"It lies in each of: {_names(holding)}."
    return None, None, f"It lies in each of: {_names(holding)}. It is placed in none."


def _names(episodes: list[Episode]) -> str:
    return "; ".join(f"{e.stage.value} ({e.about})" for e in episodes)


def _suspicions(photo: Photo, dated: Dating, around: Around) -> tuple[list[str], list[str]]:
    first, last = dated.taken.earliest, dated.taken.latest
    if first is None or last is None or dated.local is None:
        return [], []
    found, said = [], []
    if dated.ambiguous:
        found.append(AMBIGUOUS)
    start = clock_start_of(dated.local)
    if start is not None:
        found.append(DEFAULT_CLOCK)
        said.append(f"Unset clocks start at this date ({start.citation}).")
    seen = around.facts.custody.first_seen(photo.sha256)
    if first > around.now + CLOCK_AHEAD:
        found.append(FUTURE)
        said.append(f"The camera's time is {in_words(first - around.now)} in the future.")
    elif seen is not None and first > seen.at + CLOCK_AHEAD:
        found.append(AFTER_INTAKE)
        ahead = in_words(first - seen.at)
        said.append(f"The camera's time is {ahead} after this file was first seen.")
    if start is None and around.begins and last < around.begins - LONG_BEFORE_JOB:
        found.append(BEFORE_JOB)
        ago = in_words(around.begins - last)
        said.append(f"The camera's time is {ago} before anything that this job records.")
    return found, said


def _clock_sentence(clock: ClockShown, photo: Photo) -> str:
    record = clock.record.id
    own = "It" if photo.sha256 == clock.sha256 else "Another photo of the same camera"
    own += " shows a clock"
    if clock.agrees:
        return f"{own} that agrees with the camera's time (record {record})."
    low, high = sorted((abs(clock.low), abs(clock.high)))
    way = "slow" if clock.high > -clock.low else "fast"
    return (
        f"{own} by which the camera was {in_words(low)} to {in_words(high)} {way} "
        f"(record {record}); the camera's time is not corrected."
    )
