"""Each camera's clock over the whole job: levels, the steps between them, and what contradicts.

Clocks shown in pictures come first; where there are none, GPS fixes that agree. Records, custody
and counters do not measure a clock, but they can show that it is wrong or that it was set.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from claimkit.findings.clocks import gps as clock_gps
from claimkit.findings.clocks import order as clock_order
from claimkit.findings.clocks.evidence import (
    Shot,
    bounds,
    from_clocks,
    from_gps,
    shots,
    zero_allowed,
)
from claimkit.findings.clocks.impossible import further_bounds, refuted
from claimkit.findings.clocks.names import HALF_DAY, in_year
from claimkit.findings.clocks.photo_clocks import ClockShown
from claimkit.findings.timeline.photo_time import Dating
from claimkit.model.case import Case, TimeBasis
from claimkit.model.clock import ClockEvidence, ClockLevel, ClockState, Shows
from claimkit.rules.capture import CLOCK_DRIFT_PER_DAY, CLOCK_SOUND, GPS_AGREES, LONG_BEFORE_JOB

MOST_LEVELS = 3
ZERO = timedelta()


@dataclass(frozen=True, slots=True)
class Evidence:
    """All evidence of one case, by photo."""

    shots: dict[str, Shot]
    records: tuple[ClockEvidence, ...]
    bounds: tuple[ClockEvidence, ...]
    begins: datetime | None
    zone: ZoneInfo | None


def clock_states(
    case: Case,
    dated: dict[str, Dating],
    clocks: tuple[ClockShown, ...],
    begins: datetime | None,
    zone: ZoneInfo | None,
) -> tuple[ClockState, ...]:
    """Judge every camera's clock. `begins` is the first instant that the job's records name.

    Photos that state no camera stand each alone. Those whose zone is assumed are judged apart
    from those that state their offset: a wrong zone is an error of the first alone.
    """
    by_hash = {shot.photo.sha256: shot for shot in shots(case.facts, dated)}
    known = Evidence(
        by_hash,
        tuple(from_clocks(clocks, by_hash)),
        tuple(bounds(case, by_hash, zone)),
        begins,
        zone,
    )
    cameras: dict[tuple[str, TimeBasis | None], list[Shot]] = {}
    for shot in by_hash.values():
        name = shot.photo.camera.name()
        key = (name, shot.dated.basis) if name else (shot.photo.sha256, None)
        cameras.setdefault(key, []).append(shot)
    states = []
    for _, rows in sorted(cameras.items(), key=_first):
        state = _state(rows, known)
        if state.levels:
            every = (*state.bounds, *further_bounds(case, rows, begins, zone))
            state = replace(state, refuted=refuted(state.levels, every))
        states.append(state)
    return tuple(states)


def _first(item: tuple[tuple[str, TimeBasis | None], list[Shot]]) -> tuple[str, str]:
    return item[0][0], item[0][1] or ""


def _state(rows: Sequence[Shot], known: Evidence) -> ClockState:
    hashes = {shot.photo.sha256 for shot in rows}
    order = clock_order.order_of(rows)
    limits = tuple(b for b in known.bounds if b.sha256 in hashes)
    fixes = [fix for shot in rows if (fix := from_gps(shot)) is not None]
    gps = clock_gps.judge(fixes)
    shown = record_levels([e for e in known.records if e.sha256 in hashes])
    conflicts = []
    if len(shown) > MOST_LEVELS:
        conflicts.append(
            f"The clocks shown fall into {len(shown)} groups that contradict each other."
        )
    elif shown and gps.levels and not _agree(shown, gps.levels):
        conflicts.append(
            "The clock shown in a picture and the GPS fixes of this camera contradict each other."
        )
    broken = tuple(b for b in limits if not zero_allowed(b))
    levels = shown or gps.levels
    camera = rows[0].photo.camera.name()
    return ClockState(
        camera,
        tuple(sorted(hashes)),
        levels=levels,
        bounds=limits,
        broken=broken,
        stale=tuple(fix.sha256 for fix in gps.stale),
        conflicts=tuple(conflicts),
        reversals=order.reversals,
        part_of=order.parts if order.reversals else (),
        fits=_fits(rows, limits, known) if not levels else (),
        gps_agrees=bool(gps.levels) and all(near_zero(one) for one in gps.levels),
    )


def near_zero(level: ClockLevel) -> bool:
    """Tell whether a level agrees with the camera's own time."""
    low, high = level.bounds(level.evidence[0].at)
    if level.kind is Shows.GPS:
        return abs(low + (high - low) / 2) <= GPS_AGREES
    return low <= CLOCK_SOUND and high >= -CLOCK_SOUND


def record_levels(shown: Sequence[ClockEvidence]) -> tuple[ClockLevel, ...]:
    """Put clocks shown, in order of what they read, into levels that have something in common."""
    levels: list[list[ClockEvidence]] = []
    for one in sorted(shown, key=lambda e: (e.at + (e.low or ZERO), e.sha256)):
        if levels and _has_common([*levels[-1], one]):
            levels[-1].append(one)
        else:
            levels.append([one])
    return tuple(ClockLevel(Shows.RECORD, tuple(row), CLOCK_DRIFT_PER_DAY) for row in levels)


def _has_common(row: list[ClockEvidence]) -> bool:
    level = ClockLevel(Shows.RECORD, tuple(row), CLOCK_DRIFT_PER_DAY)
    return all(low <= high for low, high in (level.bounds(one.at) for one in row))


def _agree(shown: tuple[ClockLevel, ...], gps: tuple[ClockLevel, ...]) -> bool:
    """Tell whether each level by GPS has something in common with one by a clock shown."""
    return all(any(_meet(one, other) for other in shown) for one in gps)


def _meet(one: ClockLevel, other: ClockLevel) -> bool:
    at = one.evidence[0].at
    (low, high), (first, last) = one.bounds(at), other.bounds(at)
    return low - GPS_AGREES <= last and first <= high + GPS_AGREES


def _fits(
    rows: Sequence[Shot], limits: tuple[ClockEvidence, ...], known: Evidence
) -> tuple[str, ...]:
    """Name the known errors that would bring every photo within what is recorded.

    Tried only where the camera's own time breaks something: a bound, or the job's beginning.
    Half a day is tried only where a record bounds a photo on both sides.
    """
    early = known.begins - LONG_BEFORE_JOB if known.begins else None
    too_early = early is not None and all(shot.latest < early for shot in rows)
    broken = [b for b in limits if not zero_allowed(b)]
    if not broken and not too_early:
        return ()
    years = {shot.at.year for shot in rows}
    near = {y + step for y in years for step in (-1, 1)}
    near |= {known.begins.year, known.begins.year + 1} if known.begins else set()
    found = [
        f"the year {year} for {min(years)}"
        for year in near - years
        if len(years) == 1 and _all_fit(rows, limits, early, year=year)
    ]
    if any(b.low is not None and b.high is not None for b in broken):
        found += [
            f"12 hours {'more' if move > ZERO else 'less'}, as when AM and PM were exchanged"
            for move in (HALF_DAY, -HALF_DAY)
            if _all_fit(rows, limits, early, move=move)
        ]
    return tuple(sorted(found))


def _all_fit(
    rows: Sequence[Shot],
    limits: tuple[ClockEvidence, ...],
    early: datetime | None,
    *,
    year: int | None = None,
    move: timedelta = ZERO,
) -> bool:
    moves: dict[str, timedelta] = {}
    for shot in rows:
        local = shot.dated.local
        shifted = in_year(local, year) if local and year else local
        if local is None or shifted is None:
            return False
        moves[shot.photo.sha256] = shifted - local + move
    late_enough = early is None or all(
        shot.earliest + moves[shot.photo.sha256] >= early for shot in rows
    )
    return late_enough and all(b.allows(moves[b.sha256], moves[b.sha256]) for b in limits)
