"""Every photo gets its time, what stands beside it, its episode and its photographer.

A photo is dated as its camera says; where the evidence corrects that clock, the corrected time
stands beside it. A photo is placed in an episode only when the whole of every open reading of its
time lies inside exactly one, and when nothing casts doubt on the date itself.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from claimkit.findings.clocks import correct as clock_correct
from claimkit.findings.clocks.evidence import Shot
from claimkit.findings.clocks.photo_clocks import (
    ClockShown,
    clocks_shown,
    job_begins,
    photographer_of,
)
from claimkit.findings.clocks.states import clock_states, near_zero
from claimkit.findings.timeline.photo_beside import Beside, beside_gps, beside_names, clock_start_of
from claimkit.findings.timeline.photo_time import Dating, dating
from claimkit.findings.timeline.video_time import video_dated
from claimkit.findings.wording import in_words, stretch_words
from claimkit.findings.written_time import site_zone
from claimkit.model.answers import Answer
from claimkit.model.case import Case, ClockCorrection, DatedPhoto, Episode, TimeBasis
from claimkit.model.clock import ClockState, Shows
from claimkit.model.facts import Facts
from claimkit.model.moment import Interval, inside
from claimkit.model.photo import FileKind, OtherFile, Photo
from claimkit.model.stages import Stage
from claimkit.rules.capture import CLOCK_AHEAD, GPS_AGREES, GPS_MAY_BE_OLD, LONG_BEFORE_JOB

DEFAULT_CLOCK = "photo-default-clock"
FUTURE = "photo-future"
AFTER_INTAKE = "photo-after-intake"
BEFORE_JOB = "photo-before-job"
CLOCK_AND_GPS = "photo-clock-and-gps"
CLOCK_OFF = "photo-clock-off"
AMBIGUOUS = "photo-time-ambiguous"
GPS_EARLIER = "photo-gps-earlier"
CLOCK_AND_COUNTER = "photo-clock-and-counter"
CLOCK_AND_EVENTS = "photo-clock-and-events"

# With these the date itself is in doubt: no episode is claimed. The others leave another reading
# open or widen the interval, and membership is tested with that.
IN_DOUBT = frozenset(
    {DEFAULT_CLOCK, FUTURE, AFTER_INTAKE, BEFORE_JOB, CLOCK_AND_COUNTER, CLOCK_AND_EVENTS}
)
# With these another reading is open, and a stage is claimed only where both lie in it.
OPEN = frozenset({CLOCK_AND_GPS, CLOCK_OFF, GPS_EARLIER})


@dataclass(frozen=True, slots=True)
class Around:
    """What bounds and surrounds the photos of one case."""

    facts: Facts
    zone: ZoneInfo | None
    now: datetime
    begins: datetime | None
    clocks: tuple[ClockShown, ...]
    states: dict[str, ClockState]
    episodes: tuple[Episode, ...]


def work_out(case: Case) -> Case:
    """Fill the dated photos, in order of their instants, the undated ones last."""
    facts, zone = case.facts, site_zone(case.facts)
    dated = {photo.sha256: dating(photo, zone) for photo in facts.photos}
    taken = {sha256: d.taken for sha256, d in dated.items()}
    begins, clocks = job_begins(facts, zone), clocks_shown(facts, taken, zone)
    states = clock_states(case, dated, clocks, begins, zone)
    by_photo = {sha256: state for state in states for sha256 in state.photos}
    around = Around(facts, zone, case.now, begins, clocks, by_photo, case.episodes)
    photos = [_photo(photo, dated[photo.sha256], around) for photo in facts.photos]
    places = {photo.sha256: photo.places for photo in facts.photos}
    photos.sort(key=lambda d: (*_order(d.stands), places[d.sha256], d.sha256))
    videos = [_video(paper, around) for paper in _videos(facts)]
    videos.sort(key=lambda d: (*_order(d.taken), d.sha256))
    return replace(case, photos=tuple(photos), clocks=states, videos=tuple(videos))


def _videos(facts: Facts) -> list[OtherFile]:
    """Give each video once, whatever copies of it there are."""
    found = {paper.sha256: paper for paper in facts.papers if paper.kind is FileKind.VIDEO}
    return list(found.values())


def _video(paper: OtherFile, around: Around) -> DatedPhoto:
    dated = video_dated(paper, around.zone)
    unset = DEFAULT_CLOCK in dated.suspicions
    found, said = _against_the_job(dated.taken, paper.sha256, around, unset=unset)
    doubts = (*dated.suspicions, *found)
    dated = replace(dated, suspicions=doubts, beside=(*dated.beside, *said))
    if IN_DOUBT & set(doubts):
        return dated
    stage, episode, words = place(dated.taken, [], around.episodes)
    beside = (*dated.beside, words) if words else dated.beside
    return replace(dated, stage=stage, episode=episode, beside=beside)


def unclear(dated: DatedPhoto, apart_from: frozenset[str] = frozenset()) -> bool:
    """Tell whether the time that decides is open or in doubt, but for some of the reasons."""
    if dated.correction is not None and dated.correction.holds:
        return False
    doubts = (IN_DOUBT | OPEN) - apart_from
    return bool(doubts & set(dated.suspicions))


def _order(taken: Interval) -> tuple[bool, datetime, datetime]:
    # Instants only: clock faces of two zones, or of a repeated hour, sort wrongly.
    last = datetime.max.replace(tzinfo=UTC)
    return (not taken.known, taken.earliest or last, taken.latest or last)


def _photo(photo: Photo, dated: Dating, around: Around) -> DatedPhoto:
    state = around.states.get(photo.sha256)
    shot = _shot(photo, dated)
    found = clock_correct.correction(shot, state, around.zone) if shot and state else None
    corrected = clock_correct.corrected(shot, found) if shot and found else None
    holds = found is not None and found.holds
    stands = corrected if corrected and holds else dated.taken
    suspicions, doubts = _suspicions(photo, dated, state, around)
    alone = beside_gps(photo.gps, dated, around.zone)
    gps = _gps(alone, state is not None and photo.sha256 in state.stale, corrected, holds)
    if gps.other:
        suspicions.append(_gps_doubt(gps.other, dated, state))
    if found and found.basis is TimeBasis.CLOCK_SHOWN:
        suspicions.append(CLOCK_OFF)
    open_readings = [gps.other] if gps.other and not holds else []
    open_readings += [corrected] if corrected and not holds else []
    stage, episode, said = (None, None, "")
    if holds or not IN_DOUBT & set(suspicions):
        stage, episode, said = place(stands, open_readings, around.episodes)
    return DatedPhoto(
        sha256=photo.sha256,
        taken=dated.taken,
        basis=dated.basis,
        camera_text=dated.camera_text,
        tag=dated.tag,
        why=dated.why,
        beside=(
            *dated.notes,
            *gps.sentences,
            *beside_names(photo, dated),
            *_clock_sentences(photo, found, around),
            *doubts,
            *((said,) if said else ()),
        ),
        stage=stage,
        episode=episode,
        suspicions=tuple(suspicions),
        by=photographer_of(photo.camera, around.facts.job),
        correction=found,
        corrected=corrected,
    )


def _shot(photo: Photo, dated: Dating) -> Shot | None:
    first, last = dated.taken.earliest, dated.taken.latest
    return Shot(photo, dated, first, last) if first and last else None


def _gps(alone: Beside, stale: bool, corrected: Interval | None, holds: bool) -> Beside:
    """Take what a fix says alone, unless the camera's other fixes or a correction explain it."""
    if alone.other is None:
        return alone
    if stale:
        said = (
            "The other GPS fixes of this camera agree with each other and are newer: this one is "
            "taken to be older than the picture."
        )
        return Beside((*alone.sentences, said))
    if holds and corrected and _near(alone.other, corrected):
        return Beside((*alone.sentences, "The corrected time agrees with it."))
    return alone


def _gps_doubt(other: Interval, dated: Dating, state: ClockState | None) -> str:
    """Tell whether a GPS time speaks against the clock or may only be older than the picture."""
    agreed = state is not None and any(one.kind is Shows.GPS for one in state.levels)
    first, fix = dated.taken.earliest, other.latest
    recent = first is not None and fix is not None and first - GPS_MAY_BE_OLD <= fix < first
    return GPS_EARLIER if recent and not agreed else CLOCK_AND_GPS


def _near(gps: Interval, corrected: Interval) -> bool:
    if not (gps.earliest and gps.latest and corrected.earliest and corrected.latest):
        return False
    return (
        gps.earliest - GPS_AGREES <= corrected.latest
        and corrected.earliest <= gps.latest + GPS_AGREES
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


def _suspicions(
    photo: Photo, dated: Dating, state: ClockState | None, around: Around
) -> tuple[list[str], list[str]]:
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
    doubts = _against_the_job(dated.taken, photo.sha256, around, unset=start is not None)
    found, said = found + doubts[0], said + doubts[1]
    more = _by_evidence(photo, state) if state else ([], [])
    return found + more[0], said + more[1]


def _against_the_job(
    taken: Interval, sha256: str, around: Around, *, unset: bool
) -> tuple[list[str], list[str]]:
    """Give the doubts that now, the custody log and the job's beginning cast on a time.

    That an unset clock lies before the job is not told twice.
    """
    first, last = taken.earliest, taken.latest
    if first is None or last is None:
        return [], []
    found, said = [], []
    seen = around.facts.custody.first_seen(sha256)
    if first > around.now + CLOCK_AHEAD:
        found.append(FUTURE)
        said.append(f"The camera's time is {in_words(first - around.now)} in the future.")
    elif seen is not None and first > seen.at + CLOCK_AHEAD:
        found.append(AFTER_INTAKE)
        ahead = in_words(first - seen.at)
        said.append(f"The camera's time is {ahead} after this file was first seen.")
    if not unset and around.begins and last < around.begins - LONG_BEFORE_JOB:
        found.append(BEFORE_JOB)
        ago = in_words(around.begins - last)
        said.append(f"The camera's time is {ago} before anything that this job records.")
    return found, said


def _by_evidence(photo: Photo, state: ClockState) -> tuple[list[str], list[str]]:
    """Give the doubts that a camera's counters and the records cast on a photo's time."""
    if state.levels and all(near_zero(level) for level in state.levels):
        return [], []
    found, said = [], []
    parts = dict(state.part_of)
    known = {parts.get(e.sha256) for level in state.levels for e in level.evidence}
    if state.reversals and parts.get(photo.sha256) not in known:
        found.append(CLOCK_AND_COUNTER)
        said += [r.said for r in state.reversals]
    broken = [b for b in state.broken if b.sha256 == photo.sha256 and b.kind is Shows.EVENT]
    if broken:
        found.append(CLOCK_AND_EVENTS)
        said += [f"{b.said} The camera's time does not fit that." for b in broken]
    return found, said


def _clock_sentences(
    photo: Photo, found: ClockCorrection | None, around: Around
) -> tuple[str, ...]:
    said = [_shown(clock, photo) for clock in around.clocks if clock.speaks_for(photo)]
    if found is not None:
        said.append(clock_correct.sentence(found))
    return tuple(said)


def _shown(clock: ClockShown, photo: Photo) -> str:
    record = clock.record.id
    own = "It" if photo.sha256 == clock.sha256 else "Another photo of the same camera"
    own += " shows a clock"
    if clock.agrees:
        return f"{own} that agrees with the camera's time (record {record})."
    way = "slow" if clock.high > -clock.low else "fast"
    off = stretch_words(clock.low, clock.high)
    return f"{own} by which the camera was {off} {way} (record {record})."
