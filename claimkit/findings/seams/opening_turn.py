"""How pieces turn that follow a wall and a base: the taper that an opening would give a seam.

Rigid pieces with straight edges and small angles. In a corner the piece that makes the seam
stands on the base and the other against the wall, so that the gap widens upwards by the wall's
lean back less the base's rise. Two pieces in one plane turn with the base beneath each: one
uniform slope turns both alike and gives no taper.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from claimkit.findings.seams.line import MM_PER_M
from claimkit.findings.seams.opening_offsets import Run, part
from claimkit.findings.seams.words import with_u
from claimkit.model.answers import Answer
from claimkit.model.job import Joint, Seam
from claimkit.model.measurement import Measurement
from claimkit.model.opening import Bow, Checked, OpeningResult, Place


@dataclass(frozen=True, slots=True)
class Turn:
    """The taper in mm per m, plus wider upwards; or None with what would have to be read."""

    taper: Measurement | None
    because: str
    settle: str = ""


def rate(measurement: Measurement) -> str:
    """Print a taper or a slope ± U in mm/m with k = 2."""
    positive = Measurement(measurement.value_mm + 0.0, measurement.parts)  # no minus zero
    return with_u(positive, sign=True).removesuffix(" mm") + " mm/m"


def turn(
    seam: Seam,
    results: tuple[OpeningResult, ...],
    level: Run | None,
    seam_at: float | None,
    *,
    is_change: bool,
) -> Turn:
    """Give the taper that pieces following this opening would show at this seam.

    A change between two episodes is free of the pieces' own squareness, which turns no piece; a
    taper as it stands is not, and asks for the diagonals of the piece whose edge makes the seam.
    """
    if seam.joint is Joint.CORNER:
        found = _corner(results)
        if is_change or found.taper is None:
            return found
        return _with_piece(found, results)
    if not is_change:
        return Turn(
            None,
            "A taper that nobody read at a dry fit also holds how square both pieces are.",
            "Measure the diagonals of both pieces, or find a reading of the dry fit: only a "
            "change of the taper shows movement.",
        )
    return _coplanar(level, seam_at)


def _corner(results: tuple[OpeningResult, ...]) -> Turn:
    wall, base = _opening(results, Checked.PLUMB), _opening(results, Checked.LEVEL)
    if wall is not None and base is not None:
        lean, rise = _followed(wall), _followed(base)
        if lean is not None and rise is not None:
            taper = lean.plus(rise).scaled(-1.0)
            return Turn(
                taper,
                f"The wall leans {rate(lean)} (plus into the opening) and the base rises "
                f"{rate(rise)} away from it: pieces that follow both show {rate(taper)}.",
            )
    square = _opening(results, Checked.SQUARE)
    angle = square.mm_per_m if square is not None else None
    if angle is not None:
        taper = angle.scaled(-1.0)
        return Turn(
            taper,
            f"By its diagonals the wall leans {rate(angle)} into the opening against the base "
            f"(as far as the opposite sides are parallel): pieces that follow both show "
            f"{rate(taper)}.",
        )
    lacks = [
        words
        for words, there in (
            ("the wall's plumb at three heights", wall),
            ("the base's level under the piece that makes the seam", base),
        )
        if there is None
    ]
    return Turn(
        None,
        "A taper alone cannot separate plumb, level and square.",
        f"Survey the opening: read {' and '.join(lacks)}, or both diagonals with width and height.",
    )


def _with_piece(found: Turn, results: tuple[OpeningResult, ...]) -> Turn:
    piece = next((r for r in results if r.of_piece is not None), None)
    angle = piece.mm_per_m if piece is not None else None
    if found.taper is None or angle is None:
        return Turn(
            None,
            f"{found.because} A taper that nobody read at a dry fit also holds how square the "
            "piece itself is.",
            "Measure the diagonals, width and height of the piece whose edge makes the seam "
            "(diagonals_of).",
        )
    taper = found.taper.plus(angle)
    return Turn(
        taper,
        f"{found.because} The piece's own edge leans {rate(angle)} away from the seam: together "
        f"{rate(taper)}.",
    )


def _coplanar(level: Run | None, seam_at: float | None) -> Turn:
    ask = (
        "Read the base's level at two places under each of the two pieces, and write where the "
        "seam meets the base (seam_at)."
    )
    if level is None:
        return Turn(None, "A taper alone cannot separate plumb, level and square.", ask)
    told = ""
    if seam_at is None:
        if level.bow is None:
            return Turn(
                None,
                "The base was read at two places: one uniform slope turns both pieces alike and "
                "gives no taper, and whether it bends under the seam was not read.",
                ask,
            )
        seam_at = level.bow.at_mm
        told = (
            "Where the seam meets the base is not entered, so the place where the base bends most "
            "is taken. "
        )
    near, far = part(level, None, seam_at), part(level, seam_at, None)
    if near is None or far is None:
        return Turn(None, "The base was not read at two places on each side of the seam.", ask)
    first, second = (
        _rests(run.over.scaled(MM_PER_M / run.span_mm), run.bow, run.places, name)
        for run, name in ((near, "before the seam"), (far, "after the seam"))
    )
    taper = first.minus(second)
    return Turn(
        taper,
        f"{told}The base rises {rate(first)} before the seam and {rate(second)} after it; a "
        f"uniform slope would turn both pieces alike. Pieces that follow it show {rate(taper)}.",
    )


def _followed(result: OpeningResult) -> Measurement | None:
    """Give the slope in mm per m that a rigid piece would take which follows it."""
    slope = result.mm_per_m
    return slope and _rests(slope, result.bow, result.places, result.what.value)


def _rests(
    slope: Measurement, bow: Bow | None, places: tuple[Place, ...], name: str
) -> Measurement:
    """Widen a slope where it is not straight: a rigid piece may rest on any two of the places.

    Resting on the bow and one end turns it by the bow over the shorter reach, to either side.
    """
    if bow is None or bow.straight is not Answer.NO:
        return slope
    reach = min(bow.at_mm - places[0].at_mm, places[-1].at_mm - bow.at_mm)
    half = abs(bow.off.value_mm) / reach * MM_PER_M
    more = {f"rests where: {name} of {places[0].written_at}": half / math.sqrt(3.0)}
    return slope.plus(Measurement.of(0.0, more))


def _opening(results: tuple[OpeningResult, ...], what: Checked) -> OpeningResult | None:
    return next((r for r in results if r.what is what and r.of_piece is None), None)
