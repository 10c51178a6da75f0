"""A card reading made better by what is known later: the print's scale, a step, the edges' radius.

The photo is not measured again. Each function replaces one part of the uncertainty, which stood
for not knowing, by what was read with a tape or a gauge, and moves the value accordingly.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from claimkit.model.card import CardReading
from claimkit.model.measurement import Measurement
from claimkit.rules.card_limits import (
    EDGE_RADIUS_MM,
    LIP_SLOPE,
    ROUNDED_LEFT,
    U_LIP_KNOWN_MM,
    step_part,
)

SCALE, LIP, STEP, ROUNDED = "card scale", "card lip", "step", "rounded edges"


def with_scale(reading: CardReading, scale: float, u_scale: float) -> CardReading:
    """Put in the print's own scale: 1.003 where 250 mm on the sheet measure 250.75 mm.

    `u_scale` is the standard uncertainty of that ratio, shared by all cards of the sheet; the
    caller may rename the part. A refused reading comes back as it is.
    """
    m = reading.measurement
    if m is None:
        return reading
    parts = {cause: part * scale for cause, part in m.parts}
    parts.update(dict.fromkeys(_of(m, SCALE), u_scale * m.value_mm * scale))
    return _refilled(reading, Measurement.of(m.value_mm * scale, parts), radius_known=False)


def with_step(reading: CardReading, right_proud_mm: float, u_step_mm: float) -> CardReading:
    """Put in how far the panel at the card's right stands proud of the left one, in mm.

    Less than 0 where it stands back. A panel that stands proud towards the camera hides part of
    the gap, or shows more of it. A refused reading, or one without a view, comes back as it is.
    """
    m, view = reading.measurement, reading.view
    if m is None or view is None:
        return reading
    parts = dict(m.parts)
    parts.update(dict.fromkeys(_of(m, STEP), u_step_mm * view.tan_across))
    moved = m.value_mm + right_proud_mm * view.tan_across
    return replace(reading, measurement=Measurement.of(moved, parts))


def with_radius(reading: CardReading, radius_mm: float, u_radius_mm: float) -> CardReading:
    """Put in the radius to which the panels' edges are rounded, the same on both.

    Of an edge rounded much more than the usual, the photo should be measured again with the
    radius; this moves the value by the rule that edges of usual radius follow.
    """
    m = reading.measurement
    if m is None:
        return reading
    parts = dict(m.parts)
    u_lip = (U_LIP_KNOWN_MM**2 + (LIP_SLOPE * u_radius_mm) ** 2) ** 0.5
    parts.update(dict.fromkeys(_of(m, LIP), u_lip))
    parts.update({cause: parts[cause] * ROUNDED_LEFT for cause in _of(m, ROUNDED)})
    moved = m.value_mm - LIP_SLOPE * (radius_mm - EDGE_RADIUS_MM)
    return _refilled(reading, Measurement.of(moved, parts), radius_known=True)


def _refilled(reading: CardReading, m: Measurement, *, radius_known: bool) -> CardReading:
    """Work the part of an unknown step out anew, for it fills up what the others leave."""
    view = reading.view
    parts = dict(m.parts)
    step = tuple(_of(m, STEP))
    if view is not None and step:
        others = math.hypot(*(part for cause, part in parts.items() if cause not in step))
        parts.update(dict.fromkeys(step, step_part(view.tan_across, others, known=radius_known)))
    return replace(reading, measurement=Measurement.of(m.value_mm, parts))


def _of(m: Measurement, kind: str) -> Iterator[str]:
    """Give the causes of a kind, which stands before the colon."""
    yield from (cause for cause, _ in m.parts if cause.startswith(f"{kind}: "))
