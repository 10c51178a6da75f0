"""Openings as the case holds them: plumb, level and square with uncertainties, and what follows.

An opening check is one record about one opening or wall. Its results stand beside what the
maker's instructions allow; how much of a seam's taper they could account for is told as
"consistent with", because other things turn a panel too.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from claimkit.model.answers import Answer
from claimkit.model.measurement import Measurement
from claimkit.model.moment import Interval
from claimkit.model.source import Source


class Checked(StrEnum):
    """What of an opening is checked."""

    PLUMB = "plumb"
    LEVEL = "level"
    SQUARE = "square"


class Tolerated(StrEnum):
    """A result against the tolerance of the maker's instructions."""

    WITHIN = "within tolerance"
    OUTSIDE = "outside tolerance"
    CANNOT_TELL = "cannot tell"


class Explains(StrEnum):
    """What an opening check says of the taper of a seam that stands in it."""

    CONSISTENT = "consistent with"
    PART = "explains at most a part"
    NOT = "does not explain"
    NOTHING = "nothing to explain"
    CANNOT_TELL = "cannot tell"


@dataclass(frozen=True, slots=True)
class Place:
    """One place where an offset was read: the mean of its repeats with its parts, in mm.

    `off` is the offset less that at the first place (the lowest, or the nearest), turned so that
    plus means into the opening for a wall and higher for a base.
    """

    at_mm: float
    written_at: str
    written: tuple[str, ...]
    offset: Measurement
    off: Measurement
    remark: str


@dataclass(frozen=True, slots=True)
class Bow:
    """How far the place furthest off lies from the straight line through all, in mm.

    `straight` is no where it certainly does not lie on it, yes where nothing speaks against it.
    """

    at_mm: float
    off: Measurement
    straight: Answer


@dataclass(frozen=True, slots=True)
class OpeningResult:
    """One result of one opening check.

    `over` is how far it is off in mm over `span_mm`: a wall leaning into the opening from the
    lowest place to the highest, a base rising away from the first place, sides leaning away from
    the wall that is checked. `judged` is what the tolerance is about, in mm: `over` itself, or
    the first diagonal less the second. `span_mm` and `over` are None for diagonals without
    width and height. `tolerance_mm` is for the same stretch; None where none is entered.
    `of_piece` is the item whose diagonals these are, None for the opening's own. `stands` is True
    for the last of its kind that shows the state before fastening.
    """

    what: Checked
    judged: Measurement
    over: Measurement | None
    span_mm: float | None
    places: tuple[Place, ...]
    bow: Bow | None
    tolerance_mm: float | None
    tolerated: Tolerated
    p_within: float | None
    because: str
    settle: str
    source: Source
    of_piece: str | None = None
    stands: bool = False

    @property
    def mm_per_m(self) -> Measurement | None:
        """Give it in mm per metre, parts too; None where the span is not known."""
        if self.over is None or self.span_mm is None:
            return None
        return self.over.scaled(1000.0 / self.span_mm)

    @property
    def degrees(self) -> float | None:
        """Give it as an angle in degrees."""
        if self.over is None or self.span_mm is None:
            return None
        return math.degrees(math.atan2(self.over.value_mm, self.span_mm))


@dataclass(frozen=True, slots=True)
class Explanation:
    """What the opening checks say of the taper of one seam, in mm per metre of height.

    `observed` is the change of the taper between two episodes, or the taper itself where no dry
    fit was read (`is_change` False); None before it is read. `predicted` is what pieces would
    show that follow the wall and the base as they were read; None where a reading lacks. Plus is
    a gap that widens upwards. `records` are the checks that it rests on, `given`
    says how `predicted` follows.
    """

    seam: str
    piece: str | None
    answer: Explains
    observed: Measurement | None
    predicted: Measurement | None
    is_change: bool
    between: str
    because: str
    settle: str
    records: tuple[str, ...]
    sources: tuple[Source, ...]
    given: str = ""


@dataclass(frozen=True, slots=True)
class OpeningState:
    """One opening check worked out.

    `before_fastening` tells whether it shows the state before the pieces were fastened, `when` in
    words why. `open_still` is True while nothing that stands in it is fastened. `unusable` says
    which readings are no measurement and what to write. `photos` are hashes.
    """

    record: str
    opening: str
    taken: Interval
    instrument: str
    before_fastening: Answer
    when: str
    open_still: bool
    seams: tuple[str, ...]
    results: tuple[OpeningResult, ...]
    unusable: tuple[tuple[Checked, str], ...]
    remarks: tuple[str, ...]
    photos: tuple[str, ...]
    sources: tuple[Source, ...]
