"""How gaps, their uncertainty and the episodes between them are put into words in findings.

Rounding happens here and not before: the expanded uncertainty (k = 2) to two significant digits,
upwards, and the value to the same place (JCGM 100:2008, 7.2.6). A probability is never printed
as certain.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from claimkit.model.gap import Change, ChangeJudgement, GapReading
from claimkit.model.measurement import Measurement
from claimkit.model.stages import Stage

METHOD = "claimkit method: comparing gaps (JCGM 106:2012)"
BUDGET = "claimkit method: gap readings and their uncertainty (JCGM 100:2008)"
WITNESS = "claimkit method: episodes and witnesses of readings"
PRACTICE = "common practice, no source"

STAGE_WORDS = {
    Stage.ARRIVAL: "arrival",
    Stage.CURB: "the curb",
    Stage.UNPACKING: "unpacking",
    Stage.DRY_FIT: "the dry fit",
    Stage.BEFORE_FASTENING: "the check before fastening",
    Stage.FASTENED: "fastening",
    Stage.SEALED: "sealing",
    Stage.HANDOVER: "handover",
    Stage.COMPLAINT: "the complaint",
}


def plain_mm(value: float) -> str:
    """Print a given length to 0.01 mm without trailing zeros."""
    return f"{round(value, 2) + 0.0:g} mm"


def with_u(measurement: Measurement, *, sign: bool = False) -> str:
    """Print a value ± U in mm with k = 2."""
    return plus_minus(measurement.value_mm, 2.0 * measurement.u_mm, "mm", sign=sign)


def plus_minus(value: float, expanded: float, unit: str, *, sign: bool = False) -> str:
    """Print a value ± its expanded uncertainty, both in `unit`."""
    places = 2 if expanded <= 0 else min(max(1 - math.floor(math.log10(expanded)), 0), 4)
    step = 10.0**-places
    up = math.ceil(expanded / step - 1e-9) * step
    form = "+" if sign else ""
    shown = round(value, places) + 0.0  # no minus before a rounded zero
    return f"{shown:{form}.{places}f} ± {up:.{places}f} {unit}"


def percent(probability: float) -> str:
    """Print a probability without claiming certainty."""
    if probability > 0.995:
        return "over 99 %"
    if probability < 0.005:
        return "under 1 %"
    return f"{probability * 100:.0f} %"


def down_mm(value: float) -> str:
    """Print a bound that must not be exceeded, rounded downwards to 0.01 mm."""
    return f"{math.floor(value * 100 + 1e-9) / 100:.2f} mm"


def moved_within(change: ChangeJudgement) -> str:
    """Say of an unchanged gap whose difference is more than its U what is meant; else nothing.

    A difference that is shown, and yet within the tolerance, is no gap that stood still.
    """
    if change.change is not Change.UNCHANGED or change.difference is None:
        return ""
    if abs(change.difference.value_mm) <= 2.0 * change.difference.u_mm:
        return ""
    return f"changed by less than the {plain_mm(change.tolerance_mm or 0.0)} that matters (entered)"


def named(reading: GapReading) -> str:
    """Name the episode of a reading with its local day."""
    begins = reading.taken.earliest
    when = f" ({begins:%Y-%m-%d})" if begins else ""
    return STAGE_WORDS[reading.stage] + when


def between(before: GapReading | None, after: GapReading | None) -> str:
    """Name the two episodes that a comparison lies between."""
    if before is not None and after is not None:
        return f"{named(before)} and {named(after)}"
    if before is not None:
        return f"{named(before)} and no later reading"
    return f"no dry fit and {named(after)}" if after else ""


def place(seam: str, station: str | None = None, piece: str | None = None) -> str:
    """Name seam, station and replacement piece."""
    words = [f"seam {seam}"]
    if station:
        words.append(f"station {station}")
    if piece:
        words.append(f"piece {piece}")
    return ", ".join(words)


def listed(names: Iterable[str]) -> str:
    """Join names: a, b and c."""
    found = list(names)
    if len(found) < 2:
        return "".join(found)
    return f"{', '.join(found[:-1])} and {found[-1]}"


def budget(measurement: Measurement) -> str:
    """Print the contributions by kind of cause, in mm, largest first: resolution 0.14, ..."""
    kinds: dict[str, float] = {}
    for cause, part in measurement.parts:
        kind = cause.split(":")[0]
        kinds[kind] = math.hypot(kinds.get(kind, 0.0), part)
    shown = sorted(kinds.items(), key=lambda item: (-item[1], item[0]))
    return ", ".join(f"{kind} {u:.3f}" for kind, u in shown if u)
