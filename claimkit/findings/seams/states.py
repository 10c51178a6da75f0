"""How the pieces stood when a gap was read, and whether two readings are of the same thing.

A gap on the open floor says little of the gap in the opening, and a joint that nobody held
together little of one that was clamped. Such readings are not compared, and the reason is given.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from claimkit.model.measuring import Readings
from claimkit.model.records import Milestone
from claimkit.model.stages import Stage

FIXED_STAGES = frozenset({Stage.FASTENED, Stage.SEALED, Stage.HANDOVER, Stage.COMPLAINT})
"""Stages in which the pieces stand in the opening and are held by their fastening."""

OPENING = "in the opening"
FLOOR = "on open floor"


@dataclass(frozen=True, slots=True)
class State:
    """Where the pieces stood and how; None where the record does not say.

    `place_words` is the place as typed, `place` its plain form for comparing.
    """

    stage: Stage
    place: str | None
    place_words: str | None
    set_level: bool | None
    clamped: bool | None

    @classmethod
    def of(cls, body: Readings | Milestone) -> State:
        """Take the state from a readings record, or from a step of the work that begins a stage."""
        stage = body.stage if isinstance(body, Readings) else Stage(body.event.value)
        typed = body.place.strip() if body.place and body.place.strip() else None
        return cls(stage, _plain(typed), typed, body.set_level, body.clamped)

    def words(self) -> tuple[str, ...]:
        """Say how the pieces stood, leaving out what is not recorded."""
        found = [self.place_words] if self.place_words else []
        if self.set_level is not None:
            found.append("set level" if self.set_level else "not set level")
        if self.clamped is not None:
            found.append("clamped" if self.clamped else "not clamped")
        return tuple(found)

    def implied(self) -> State:
        """Fill in what the stage itself says: fastened pieces stand in the opening, held."""
        if self.stage not in FIXED_STAGES:
            return self
        return State(
            self.stage,
            self.place or OPENING,
            self.place_words or OPENING,
            self.set_level,
            True if self.clamped is None else self.clamped,
        )

    def not_recorded(self) -> tuple[str, ...]:
        """Name what the record leaves open about how the pieces stood."""
        full = self.implied()
        found = []
        if full.place is None:
            found.append("where they stood (place)")
        if full.set_level is None:
            found.append("whether they stood level (set_level)")
        if full.clamped is None:
            found.append("whether they were held together (clamped)")
        return tuple(found)


def unlike(before: State, after: State) -> tuple[str, ...]:
    """Say why two readings are not of the same state; empty where nothing recorded says so.

    A state known to be loose or out of level at one reading only is another state. What neither
    record says counts as alike: the missing entry is a finding of its own.
    """
    a, b = before.implied(), after.implied()
    first, second = before.stage.value, after.stage.value
    reasons = []
    if a.place and b.place and a.place != b.place:
        reasons.append(f"at {first} the pieces stood {a.place_words}, at {second} {b.place_words}")
    if _differ(a.set_level, b.set_level):
        reasons.append(_said("set level", first, a.set_level, second, b.set_level))
    if _differ(a.clamped, b.clamped):
        reasons.append(_said("held together", first, a.clamped, second, b.clamped))
    return tuple(reasons)


def _differ(a: bool | None, b: bool | None) -> bool:
    """Tell whether one is known as false and the other is not (a true one may be unsaid)."""
    return (a is False) != (b is False)


def _said(what: str, first: str, a: bool | None, second: str, b: bool | None) -> str:
    words = {True: what, False: f"not {what}", None: f"not recorded as {what} or not"}
    return f"the pieces were {words[a]} at {first} and {words[b]} at {second}"


def _plain(text: str | None) -> str | None:
    if text is None:
        return None
    bare = " ".join(re.findall(r"\w+", text.casefold()))
    words = bare.split()
    if "opening" in words or "alcove" in words or "place" in words:
        return OPENING
    if "floor" in words or "ground" in words:
        return FLOOR
    return bare or None
