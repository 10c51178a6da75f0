"""What reading everything again has shown: point by point, with what could not be seen.

A point is about one file, one line of a log or one anchor. Nothing here says that a file is true,
only whether it is the one that was seen before.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Outcome(StrEnum):
    """What one look has shown. `OPEN` is what cannot be seen from here, `NOTE` a harmless fact."""

    HOLDS = "holds"
    BROKEN = "broken"
    NOT_LOGGED = "not logged"
    UNREAD = "could not be read"
    OPEN = "cannot be seen"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Point:
    """One outcome: where, and a sentence that says what and what to do."""

    outcome: Outcome
    where: str
    sentence: str


@dataclass(frozen=True, slots=True)
class Verified:
    """All points of one verification, in the order in which they were looked at.

    `subject` names what was verified; `counts` are what was looked at, as (what, how many).
    """

    subject: str
    points: tuple[Point, ...]
    counts: tuple[tuple[str, int], ...] = ()

    def of(self, *outcomes: Outcome) -> tuple[Point, ...]:
        """Give the points with one of these outcomes."""
        return tuple(point for point in self.points if point.outcome in outcomes)
