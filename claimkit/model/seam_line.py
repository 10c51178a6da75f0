"""A seam along its length: a line through its stations, how it tapers, and its stations together.

A station tells of one place. A line through several tells whether a gap, or its change, is wider
toward one end; only the change shows movement, a taper of the dry fit was there before the work.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from claimkit.model.gap import Change, GapReading
from claimkit.model.measurement import Measurement
from claimkit.model.source import Source


class Taper(StrEnum):
    """How a gap, or its change, runs along a seam: wider toward one end, or even."""

    TOWARD_LAST = "wider toward the last station"
    TOWARD_FIRST = "wider toward the first station"
    EVEN = "even"
    CANNOT_TELL = "cannot tell"


class WholeSeam(StrEnum):
    """What the stations of a seam, judged together, say of it."""

    OPENED = "opened somewhere"
    CLOSED = "closed somewhere"
    BOTH = "opened at some stations and closed at others"
    UNCHANGED = "unchanged at every station compared"
    CANNOT_TELL = "cannot tell"


@dataclass(frozen=True, slots=True)
class LineFit:
    """A straight line through what was measured at the stations of a seam.

    `at_mm` are the stations' distances from the seam's start, ascending; `offset` is the gap, or
    its change, at `middle_mm`; `slope` is the taper in mm per metre (its parts too). `places`
    counts the stations' distinct places. `widened_by` is the root of chi squared over its degrees
    of freedom where that is over 1, else 1; the parts of offset and slope are without it.
    """

    stations: tuple[str, ...]
    at_mm: tuple[float, ...]
    middle_mm: float
    offset: Measurement
    slope: Measurement
    correlation: float
    chi_squared: float
    degrees_of_freedom: int
    widened_by: float
    places: int

    @property
    def length_mm(self) -> float:
        """The distance between the outermost stations."""
        return self.at_mm[-1] - self.at_mm[0]

    @property
    def u_offset(self) -> float:
        """The standard uncertainty of the offset in mm, widened where the line is."""
        return self.offset.u_mm * self.widened_by

    @property
    def u_slope(self) -> float:
        """The standard uncertainty of the taper in mm per metre, widened where the line is."""
        return self.slope.u_mm * self.widened_by


@dataclass(frozen=True, slots=True)
class TaperAnswer:
    """A line and whether it tapers by more than the seam's tolerance over its length.

    `line` is None where there is none, and `because` says why. `limit_mm_per_m` is that tolerance
    over the distance between the outermost stations, None where no tolerance is entered; then
    nothing is judged. The probabilities are of a taper beyond the limit either way, and within.
    `meaning` says what such a taper is consistent with by the joint's geometry, empty where there
    is none.
    """

    line: LineFit | None
    taper: Taper
    p_toward_last: float | None
    p_toward_first: float | None
    p_even: float | None
    limit_mm_per_m: float | None
    because: str
    settle: str = ""
    meaning: str = ""


@dataclass(frozen=True, slots=True)
class StationsTogether:
    """The changes of a seam's stations judged together, so that many make none by chance.

    `factor` is the k that their number asks for; `stations` pairs each with its answer by it.
    `not_compared` names the seam's other stations, of which nothing is said.
    """

    factor: float
    stations: tuple[tuple[str, Change], ...]
    answer: WholeSeam
    because: str
    not_compared: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SeamLine:
    """One seam, of one set of pieces, along its length between two episodes.

    `at_first` is the line of the earlier episode (the dry fit, unless `step`), `now` of the later,
    `change` of the difference: only it shows movement. `left_out` names stations that are on no
    line, with the reason. `together` is None for fewer than two compared stations, and in a step.
    `how` says how it was read: by hand, in photos, or one of each.
    """

    seam: str
    piece: str | None
    before: GapReading | None
    after: GapReading | None
    between: str
    step: bool
    at_first: TaperAnswer
    now: TaperAnswer
    change: TaperAnswer
    sources: tuple[Source, ...]
    together: StationsTogether | None = None
    left_out: tuple[tuple[str, str], ...] = ()
    how: str = "by hand"

    @property
    def named(self) -> str:
        """Name the seam, a replacement piece, and how it was read unless by hand."""
        piece = f", piece {self.piece}" if self.piece else ""
        return f"{self.seam}{piece}" + ("" if self.how == "by hand" else f", {self.how}")
