"""What is known of one camera's clock: each piece of evidence, and the levels that follow from it.

A clock is off by some amount until somebody sets it; each such stretch is a level. Evidence is a
clock in a picture, GPS, what the records say of a photo, the custody log, and file counters.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from claimkit.model.source import Source


class Shows(StrEnum):
    """What a piece of evidence about a clock is."""

    RECORD = "a clock in a picture"
    GPS = "GPS"
    EVENT = "what a record says of the photo"
    CUSTODY = "the custody log"
    NOW = "the day of this run"


@dataclass(frozen=True, slots=True)
class ClockEvidence:
    """One piece of evidence about a camera's clock, tied to one photo.

    `at` is the camera's time of that photo, read as an instant. `low` and `high` bound what must
    be added to it; None leaves that side open. `said` is a sentence.
    """

    kind: Shows
    sha256: str
    at: datetime
    low: timedelta | None
    high: timedelta | None
    said: str
    sources: tuple[Source, ...]

    def allows(self, low: timedelta, high: timedelta) -> bool:
        """Tell whether a correction between `low` and `high` can be right by this evidence."""
        return (self.low is None or high >= self.low) and (self.high is None or low <= self.high)


@dataclass(frozen=True, slots=True)
class ClockLevel:
    """A stretch in which the evidence agrees on one correction, oldest evidence first."""

    kind: Shows
    evidence: tuple[ClockEvidence, ...]
    drift_per_day: timedelta

    def bounds(self, at: datetime) -> tuple[timedelta, timedelta]:
        """Give the correction's two ends at a camera time, wider the further from the evidence.

        Where the evidence leaves nothing in common, the first end exceeds the second.
        """
        lows, highs = [], []
        for one in self.evidence:
            if one.low is not None and one.high is not None:
                away = self.drift_per_day * (abs(at - one.at) / timedelta(days=1))
                lows.append(one.low - away)
                highs.append(one.high + away)
        return max(lows), min(highs)

    def first(self) -> datetime:
        """Give the latest instant at which the first evidence can have been taken."""
        return min(e.at + e.high for e in self.evidence if e.high is not None)

    def last(self) -> datetime:
        """Give the earliest instant at which the last evidence can have been taken."""
        return max(e.at + e.low for e in self.evidence if e.low is not None)


@dataclass(frozen=True, slots=True)
class Reversal:
    """Two photos whose file counters rise while the camera's time falls back."""

    earlier: str
    later: str
    said: str


@dataclass(frozen=True, slots=True)
class ClockState:
    """What the evidence says of one camera's clock over the whole job.

    `camera` is its name, None where the photo states none. `bounds` are one- and two-sided bounds
    from records and custody; `broken` those that the camera's own time breaks. `stale` are photos
    whose GPS fix is out of line with the others. `conflicts` say why evidence is not used.
    `part_of` maps each photo to its stretch between reversals, -1 where its counter says nothing.
    `fits` are named errors that would explain what is broken; none of them is claimed. `refuted`
    are levels with what they break and the camera's own time keeps.
    """

    camera: str | None
    photos: tuple[str, ...]
    levels: tuple[ClockLevel, ...] = ()
    bounds: tuple[ClockEvidence, ...] = ()
    broken: tuple[ClockEvidence, ...] = ()
    stale: tuple[str, ...] = ()
    conflicts: tuple[str, ...] = ()
    reversals: tuple[Reversal, ...] = ()
    part_of: tuple[tuple[str, int], ...] = ()
    fits: tuple[str, ...] = ()
    gps_agrees: bool = False
    refuted: tuple[tuple[ClockLevel, ClockEvidence], ...] = ()
