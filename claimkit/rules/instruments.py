"""What a gap can be read with: smallest division, what the hand adds, how far a scale may be off.

One row for each instrument that a record can name. The resolution is exact and in millimetres;
its standard uncertainty is the division over the root of 12, every value within one division
being equally likely. What a row does not know is None or zero, and its source says so.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from claimkit.model.measuring import Instrument

INCH = Fraction("25.4")

RESOLUTION = "JCGM 100:2008, F.2.2.1; NIST TN 1297 (1994), 4.6"
TAPE_CLASS = (
    "Directive 2014/32/EU, Annex X (MI-008), class II: ±(0.3 + 0.2 L) mm, L in m rounded up, that "
    "is 0.9 mm in 3 m"
)
PRACTICE = "common practice, no source"

OPERATOR_MM = 0.1
BOTH_ENDS_MM = 0.14


@dataclass(frozen=True, slots=True)
class InstrumentRow:
    """One instrument.

    `resolution_mm` is its smallest division, exact, None where the record must state it.
    `reads_gaps` is False where it cannot read a gap at all. `operator_mm` is the standard
    uncertainty of one placing of it by hand. `scale_limit` is the largest relative error of its
    scale and `zero_limit_mm` that of its zero, both as half widths of an equal distribution
    (JCGM 100:2008, 4.3.7). `mark` is S (read), P (summary read) or M (from memory); it is that of
    the weakest figure in the row.
    """

    instrument: Instrument
    resolution_mm: Fraction | None
    reads: str
    reads_gaps: bool
    operator_mm: float
    scale_limit: float
    zero_limit_mm: float
    citation: str
    mark: str


def _tape(instrument: Instrument, resolution: Fraction) -> InstrumentRow:
    return InstrumentRow(
        instrument,
        resolution,
        "a gap between two edges; both ends are set by eye",
        True,
        BOTH_ENDS_MM,
        0.0003,
        0.0,
        f"{RESOLUTION}; {TAPE_CLASS}; 0.1 mm for each end set by eye: {PRACTICE}",
        "M",
    )


def _rule(instrument: Instrument, resolution: Fraction) -> InstrumentRow:
    return InstrumentRow(
        instrument,
        resolution,
        "a gap between two edges, the rule's mark held on one of them",
        True,
        OPERATOR_MM,
        0.0003,
        0.0,
        f"{RESOLUTION}; {TAPE_CLASS}, taken for rules too; operator 0.1 mm: {PRACTICE}",
        "M",
    )


def _gauge(
    instrument: Instrument, resolution: Fraction, reads: str, zero_limit_mm: float, zero: str
) -> InstrumentRow:
    return InstrumentRow(
        instrument,
        resolution,
        reads,
        True,
        OPERATOR_MM,
        0.0,
        zero_limit_mm,
        f"{RESOLUTION}; {zero}; operator 0.1 mm: {PRACTICE}",
        "M",
    )


ROWS: tuple[InstrumentRow, ...] = (
    _tape(Instrument.TAPE_16TH, INCH / 16),
    _tape(Instrument.TAPE_32ND, INCH / 32),
    _tape(Instrument.TAPE_MM, Fraction(1)),
    _rule(Instrument.RULE_64TH, INCH / 64),
    _rule(Instrument.RULE_HALF_MM, Fraction(1, 2)),
    _rule(Instrument.RULE_MM, Fraction(1)),
    _gauge(
        Instrument.TAPER_GAUGE,
        Fraction(1, 10),
        "the smallest face-to-face gap where it is pushed in",
        0.05,
        f"taper within 0.05 mm: {PRACTICE}",
    ),
    _gauge(
        Instrument.FEELER,
        Fraction(1, 20),
        "the smallest face-to-face gap over the leaf's width",
        0.01,
        f"leaf thickness within 0.01 mm: {PRACTICE} (DIN 2275 gives limits; not read)",
    ),
    _gauge(
        Instrument.CALIPER,
        Fraction(1, 100),
        "a gap with its inside jaws, where they reach",
        0.03,
        f"error within 0.03 mm: {PRACTICE} (ISO 13385-1 gives limits; not read)",
    ),
    InstrumentRow(
        Instrument.LEVEL,
        None,
        "plumb and level, not a gap",
        False,
        OPERATOR_MM,
        0.0,
        0.0,
        PRACTICE,
        "M",
    ),
    InstrumentRow(
        Instrument.OTHER,
        None,
        "what the record says; its smallest division must be stated there",
        True,
        OPERATOR_MM,
        0.0,
        0.0,
        f"{RESOLUTION}; operator 0.1 mm: {PRACTICE}; scale not known",
        "M",
    ),
)

BY_INSTRUMENT: dict[Instrument, InstrumentRow] = {row.instrument: row for row in ROWS}
