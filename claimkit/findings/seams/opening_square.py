"""Diagonals: how far an opening, or a piece, is from square.

For a parallelogram of sides w and h the law of cosines gives d1² − d2² = 4 w h sin γ, so that
sin γ = Δ D / (2 w h) with Δ the difference and D the mean of the diagonals. One tape reads both,
and what its scale is off cancels in the difference.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from claimkit.findings.seams.opening_offsets import which
from claimkit.model.measurement import Measurement
from claimkit.model.measuring import Instrument, OpeningCheck
from claimkit.model.quantities import Length
from claimkit.model.records import Record
from claimkit.rules.instruments import BY_INSTRUMENT
from claimkit.rules.opening_lines import TAPES, USUAL_TAPE

CORNER_MM = 0.5
"""How well a corner is found with a tape's end (standard uncertainty; common practice)."""

MISFIT = 0.01
"""Part of the diagonal by which width, height and diagonals may miss each other; a slip above."""


@dataclass(frozen=True, slots=True)
class Square:
    """The first diagonal less the second, and the sides' lean over the height, both in mm.

    `over` is None where width or height lacks. Plus leans away from the foot of the first.
    """

    difference: Measurement
    over: Measurement | None
    height_mm: float | None


def square(record: Record, body: OpeningCheck) -> Square | str:
    """Work out the diagonals of a check, or say why they are no measurement."""
    tape = body.tape or body.instrument
    row = BY_INSTRUMENT[tape]
    stated = float(body.resolution.mm) if body.resolution and tape is body.instrument else None
    resolution = float(row.resolution_mm) if row.resolution_mm is not None else stated
    if not row.reads_gaps or resolution is None:
        return (
            f"What the diagonals were measured with is not stated, and a {tape.value} does not "
            "measure them. Add a record that replaces this one, with "
            'tape = "tape 1/16 in" or what it was.'
        )
    first, second = (
        _length(record, body, tape, length, f"diagonal {number}")
        for number, length in enumerate(body.diagonals, start=1)
    )
    difference = first.minus(second)
    if body.width is None or body.height is None:
        return Square(difference, None, None)
    width = _length(record, body, tape, body.width, "width")
    height = float(body.height.mm)
    slip = _slip(first.value_mm, second.value_mm, width.value_mm, height)
    if slip:
        return slip
    mean = first.plus(second).scaled(0.5)
    # Δ D / 2w to first order: each length's parts times its sensitivity (JCGM 100:2008, 5.1.3).
    value = difference.value_mm * mean.value_mm / (2.0 * width.value_mm)
    over = (
        difference.scaled(mean.value_mm / (2.0 * width.value_mm))
        .plus(mean.scaled(difference.value_mm / (2.0 * width.value_mm)))
        .plus(width.scaled(-value / width.value_mm))
    )
    return Square(difference, Measurement(value, over.parts), height)


def _length(
    record: Record, body: OpeningCheck, tape: Instrument, length: Length, name: str
) -> Measurement:
    row = BY_INSTRUMENT[tape]
    resolution = float(row.resolution_mm or (body.resolution.mm if body.resolution else 0))
    value = float(length.mm)
    limits = TAPES[body.tape_class or USUAL_TAPE]
    limit = limits.a_mm + limits.b_mm_per_m * math.ceil(value / 1000.0)
    known = body.instrument_id if body.tape is None else None
    occasion = f"{record.id}, {name}"
    return Measurement.of(
        value,
        {
            f"resolution: {tape.value}, {occasion}": resolution / math.sqrt(12.0),
            f"operator: {occasion}": row.operator_mm,
            f"corner: {occasion}": CORNER_MM,
            f"scale: {which(tape, known, record)}": limit / math.sqrt(3.0),
        },
    )


def _slip(first: float, second: float, width: float, height: float) -> str:
    """Say that the four lengths cannot belong together (d1² + d2² = 2 w² + 2 h²); empty if so."""
    from_sides = math.hypot(width, height)
    from_diagonals = math.hypot(first, second) / math.sqrt(2.0)
    if abs(from_sides - from_diagonals) <= MISFIT * from_sides:
        return ""
    return (
        f"Width and height ask for diagonals of about {from_sides:.0f} mm, and those written come "
        f"to {from_diagonals:.0f} mm: one of the four lengths is a slip. Measure them again, or "
        "correct it in a record that replaces this one."
    )
