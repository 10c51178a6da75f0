"""Whether a gap as it was typed is far from all that is known of its place: a slip of the keys.

A missing decimal point or another unit makes it ten or twenty-five times too large or too small.
Neither the design nor the earlier reading is named, for whoever knows the number reads it again.
"""

from __future__ import annotations

from claimkit.findings.pieces import same_piece
from claimkit.findings.seams.answers import design_of
from claimkit.intake.entries.quantities import length
from claimkit.model.case import Case
from claimkit.model.job import Seam
from claimkit.model.stages import Stage

TIMES = 3
"""How many times the largest gap known, or what part of the smallest, is far (our own)."""
NEAR_MM = 2
"""What differs by less is never far (our own)."""


def far_off(case: Case, seam: Seam, place: tuple[str, str | None], typed: tuple[str, ...]) -> str:
    """Say that a gap is far from the design and from the dry fit; empty where it is near one.

    `place` is the station and the replacement piece, `typed` the repeats, each with its unit.
    """
    station, piece = place
    design = design_of(seam)
    known = [
        (r.measurement.value_mm, r.measurement.value_mm)
        for r in case.readings
        if (r.seam, r.station, r.stage) == (seam.id, station, Stage.DRY_FIT)
        and same_piece(r.piece, piece)
    ]
    told = ["what was read here at the dry fit"] if known else []
    if not isinstance(design, str):
        low = design.low if design.low is not None else design.high
        high = design.high if design.high is not None else design.low
        known.append((float(low or 0), float(high or 0)))
        told.insert(0, "the design gap")
    gaps = [float(length(text).mm) for text in typed]
    slips = [gap for gap in gaps if known and all(_far(gap, *one) for one in known)]
    if not slips:
        return ""
    return f"{' and '.join(typed)} is far from {' and from '.join(told)}."


def _far(gap: float, low: float, high: float) -> bool:
    above = gap > TIMES * high and gap - high > NEAR_MM
    return above or (0 < gap < low / TIMES and low - gap > NEAR_MM)
