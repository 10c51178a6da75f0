"""What offsets from plumb and level are measured from, how true it is, and a tape's class.

A level or a laser that is a little off leans every reading the same way and the more the longer
the stretch; a plumb line is true by itself. A tape's class bounds its error over its length.
"""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.model.measuring import Line


@dataclass(frozen=True, slots=True)
class LineRow:
    """One kind of line: half width of the tilt it may have, in mm per m, source and mark."""

    line: Line
    tilt_limit_mm_per_m: float
    citation: str
    mark: str


ROWS: tuple[LineRow, ...] = (
    LineRow(
        Line.LEVEL,
        1.0,
        "makers' sheets, summary read: spirit levels are sold as true to 0.5 or 1.0 mm in 1 m "
        "(0.029° or 0.057°); the wider one until the record states which",
        "P",
    ),
    LineRow(Line.PLUMB_LINE, 0.0, "common practice, no source: a still line hangs true", "M"),
    LineRow(
        Line.LASER,
        0.5,
        "common practice, no source: cross-line lasers are sold as true to 0.2 to 0.5 mm in 1 m",
        "M",
    ),
)

BY_LINE: dict[Line, LineRow] = {row.line: row for row in ROWS}


@dataclass(frozen=True, slots=True)
class TapeClass:
    """A tape's accuracy class: error at most ± (a + b L) mm, L the length in m rounded up."""

    name: str
    a_mm: float
    b_mm_per_m: float


# Directive 2014/32/EU, Annex X (MI-008), chapter I (M).
TAPES: dict[str, TapeClass] = {
    row.name: row
    for row in (TapeClass("I", 0.1, 0.1), TapeClass("II", 0.3, 0.2), TapeClass("III", 0.6, 0.4))
}

USUAL_TAPE = "II"
"""Where the record does not state the class (common practice, no source)."""
