"""Which GPS fixes of one camera agree with each other, and how far its clock is off by them.

A fix may be hours old, never newer than the picture; such stale fixes stand out from the rest and
are found by the median and the median absolute deviation, scaled by 1.4826 so that it equals the
standard deviation of a normal spread.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from statistics import median

from claimkit.model.clock import ClockEvidence, ClockLevel, Shows
from claimkit.rules.capture import (
    CLOCK_DRIFT_PER_DAY,
    GPS_AGREES,
    GPS_FEWEST,
    GPS_LEAST,
    MAD_FACTOR,
    MAD_LIMIT,
)

ROUNDS = 5


@dataclass(frozen=True, slots=True)
class Fixes:
    """GPS fixes of one camera: those that agree, the stale ones, and the levels that follow.

    `levels` are one or two; none where fewer than three fixes agree.
    """

    levels: tuple[ClockLevel, ...] = ()
    stale: tuple[ClockEvidence, ...] = ()


def judge(fixes: Sequence[ClockEvidence]) -> Fixes:
    """Judge one camera's fixes; a clock set in between gives two levels, told apart in time."""
    distinct = _distinct(fixes)
    whole = _agreeing(distinct)
    if whole is not None and len(distinct) - len(whole) < GPS_FEWEST:
        return Fixes((level(whole),), _stale(fixes, (whole,)))
    split = _split(distinct)
    if split is not None:
        return Fixes(tuple(level(side) for side in split), _stale(fixes, split))
    if whole is not None and 2 * len(whole) > len(distinct):
        return Fixes((level(whole),), _stale(fixes, (whole,)))
    return Fixes()


def _apart(fix: ClockEvidence) -> timedelta:
    return fix.low or timedelta()


def _fixed_at(fix: ClockEvidence) -> datetime:
    return fix.at + _apart(fix)


def _distinct(fixes: Sequence[ClockEvidence]) -> list[ClockEvidence]:
    """Keep of several photos with one and the same fix the first: there it was freshest."""
    found: dict[datetime, ClockEvidence] = {}
    for fix in sorted(fixes, key=lambda f: (f.at, f.sha256)):
        found.setdefault(_fixed_at(fix).replace(microsecond=0), fix)
    return list(found.values())


def middle(values: Sequence[float]) -> tuple[float, float]:
    """Give the median and the scaled median absolute deviation from it."""
    center = median(values)
    return center, MAD_FACTOR * median(abs(v - center) for v in values)


def _agreeing(fixes: Sequence[ClockEvidence]) -> list[ClockEvidence] | None:
    """Give the fixes that agree, or None where too few do or they are too spread out."""
    kept = list(fixes)
    for _ in range(ROUNDS):
        if len(kept) < GPS_FEWEST:
            return None
        center, spread = middle([_apart(f).total_seconds() for f in kept])
        limit = max(MAD_LIMIT * spread, GPS_LEAST.total_seconds())
        inner = [f for f in kept if abs(_apart(f).total_seconds() - center) <= limit]
        if len(inner) == len(kept):
            break
        kept = inner
    return kept if spread <= GPS_AGREES.total_seconds() else None


def _split(fixes: Sequence[ClockEvidence]) -> tuple[list[ClockEvidence], ...] | None:
    """Find the one moment that divides the fixes, in order of GPS time, into two that agree."""
    ordered = sorted(fixes, key=_fixed_at)
    best: tuple[int, tuple[list[ClockEvidence], ...]] | None = None
    for cut in range(GPS_FEWEST, len(ordered) - GPS_FEWEST + 1):
        sides = [_agreeing(ordered[:cut]), _agreeing(ordered[cut:])]
        if sides[0] is None or sides[1] is None:
            continue
        centers = [middle([_apart(f).total_seconds() for f in s])[0] for s in (sides[0], sides[1])]
        kept = len(sides[0]) + len(sides[1])
        far = abs(centers[0] - centers[1]) > 2 * GPS_AGREES.total_seconds()
        if far and (best is None or kept > best[0]):
            best = (kept, (sides[0], sides[1]))
    if best is None or len(fixes) - best[0] >= GPS_FEWEST:
        return None
    return best[1]


def level(fixes: Sequence[ClockEvidence]) -> ClockLevel:
    """Give the level of fixes that agree: their median, give or take twice their spread.

    At least GPS_LEAST either side, because a phone takes its fix some time before the picture.
    """
    center, spread = middle([_apart(f).total_seconds() for f in fixes])
    half = max(GPS_LEAST.total_seconds(), 2 * spread)
    low, high = timedelta(seconds=center - half), timedelta(seconds=center + half)
    ordered = sorted(fixes, key=_fixed_at)
    kept = tuple(replace(f, low=low, high=high) for f in ordered)
    return ClockLevel(Shows.GPS, kept, CLOCK_DRIFT_PER_DAY)


def _stale(
    fixes: Sequence[ClockEvidence], sides: tuple[list[ClockEvidence], ...]
) -> tuple[ClockEvidence, ...]:
    """Give the fixes that are older than the rest; one that is newer is no stale fix."""
    known = {f.sha256 for side in sides for f in side}
    lows = [low for side in sides for e in level(side).evidence[:1] if (low := e.low)]
    found = []
    for fix in fixes:
        early = all(_apart(fix) < low for low in lows) if lows else False
        if fix.sha256 not in known and early:
            found.append(fix)
    return tuple(found)
