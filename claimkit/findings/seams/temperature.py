"""What temperature does to a gap between two readings, taken out where it can be.

A panel of width W that cools by some kelvin shrinks by its coefficient times W for each, and a
gap beside it opens by as much with nothing moved. With material, width and both temperatures the
difference is corrected; without the temperatures it is widened; without the rest it is left out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from claimkit.findings.seams.words import listed, named
from claimkit.model.gap import GapReading
from claimkit.model.job import Job, Material, Seam
from claimkit.model.measurement import Measurement
from claimkit.rules.materials import (
    BY_MATERIAL,
    NEAR_ENOUGH_K,
    TEMPERATURE_LIMIT_K,
    UNRECORDED_LIMIT_K,
)

HELD_SHARE = 0.25
"""How far the movement that reaches a joint may differ from that of one free panel.

A standard uncertainty, as a share of the correction: our own convention, no source. Panels that
are held move less; where both neighbours are free up to twice as much comes into the joint.
"""


class Treatment(StrEnum):
    """How temperature was dealt with in one comparison."""

    CORRECTED = "corrected"
    WIDENED = "widened"
    NOT_NEEDED = "not needed"
    LEFT_OUT = "left out"


@dataclass(frozen=True, slots=True)
class Thermal:
    """What to add to a difference, later less earlier, so that temperature is out of it; in mm.

    `enter` names what is not recorded and would let the correction be made; empty where nothing.
    """

    treatment: Treatment
    correction: Measurement
    because: str
    enter: str = ""

    @property
    def taken_out_mm(self) -> float | None:
        """What temperature did to the gap and is taken out, in mm; None where nothing is."""
        return -self.correction.value_mm if self.treatment is Treatment.CORRECTED else None


def thermal(job: Job | None, seam: Seam, before: GapReading, after: GapReading) -> Thermal:
    """Give the correction for temperature between two readings of a seam, with its parts.

    Warmer closes, colder opens: a rise of dT changes the gap by -a W dT, and +a W dT takes it
    out. Parts: the coefficient's range, how the panels are held, each thermometer, or the
    temperatures not recorded.
    """
    material = material_of(job, seam)
    row = BY_MATERIAL.get(material) if material else None
    width = float(seam.panel_width.mm) if seam.panel_width else None
    if row is None or row.low_per_k is None or row.high_per_k is None or width is None:
        why_none = row.why_none if row else ""
        return _without(material, width, why_none, before, after)
    low, high = row.low_per_k * width, row.high_per_k * width
    centre, half = (high + low) / 2, (high - low) / 2
    name = row.material.value
    if before.celsius is None or after.celsius is None:
        return _widened(centre, name, before, after)
    rise = after.celsius - before.celsius
    each = centre * TEMPERATURE_LIMIT_K / math.sqrt(3.0)
    first, second = _occasions(before, after)
    parts = {
        f"expansion: {name}": half * rise / math.sqrt(3.0),
        f"how the panels are held: {seam.id}, {first} to {second}": HELD_SHARE * centre * rise,
        f"temperature: {first}": -each,
        f"temperature: {second}": each,
    }
    told = (
        f"Temperature: {before.celsius:g} °C then {after.celsius:g} °C; {width:g} mm of {name} "
        f"change this gap by {-centre * rise:+.2f} mm, which is taken out, taking one panel of "
        f"{width:g} mm as free to move into this joint; held panels move less, two free "
        "neighbours more."
    )
    told = told if rise else ""
    return Thermal(Treatment.CORRECTED, Measurement.of(centre * rise, parts), told)


def material_of(job: Job | None, seam: Seam) -> Material | None:
    """Give the seam's material, or the one that its two pieces agree on."""
    if seam.material is not None or job is None:
        return seam.material
    items = [job.item_named(name) for name in seam.between]
    found = {item.material if item else None for item in items}
    return found.pop() if len(found) == 1 else None


def _occasions(before: GapReading, after: GapReading) -> tuple[str, str]:
    """Name the two episodes: what temperature did is one cause for every station of a seam.

    Their records instead, where both lie in one stage and day.
    """
    first, second = named(before), named(after)
    return (first, second) if first != second else (before.record, after.record)


def _widened(centre: float, name: str, before: GapReading, after: GapReading) -> Thermal:
    missing = [r for r in (before, after) if r.celsius is None]
    u = centre * UNRECORDED_LIMIT_K / math.sqrt(3.0)
    which = " and ".join(r.record for r in missing)
    told = (
        f"Temperature is not recorded in {which}: the difference is widened by u {u:.2f} mm for "
        f"{name} within {UNRECORDED_LIMIT_K:g} K either way."
    )
    first, second = _occasions(before, after)
    cause = f"temperature not recorded: {first} to {second}"
    enter = "the temperatures of both readings"
    return Thermal(Treatment.WIDENED, Measurement.of(0.0, {cause: u}), told, enter)


def _without(
    material: Material | None,
    width: float | None,
    why_none: str,
    before: GapReading,
    after: GapReading,
) -> Thermal:
    nothing = Measurement.of(0.0, {})
    if before.celsius is not None and after.celsius is not None:
        rise = after.celsius - before.celsius
        if round(abs(rise) - NEAR_ENOUGH_K, 6) <= 0:
            told = f"Temperature: {before.celsius:g} °C and {after.celsius:g} °C, no correction."
            return Thermal(Treatment.NOT_NEEDED, nothing, told if rise else "")
    lacking = []
    if material is None:
        lacking.append("the seam's material is not entered")
    elif why_none:
        lacking.append(why_none)
    if width is None:
        lacking.append("the panel width is not entered")
    told = f"Temperature is left out: {' and '.join(lacking)}."
    wanted = [] if material else ["the seam's material"]
    wanted += [] if width is not None else ["its panel width"]
    if before.celsius is None or after.celsius is None:
        wanted.append("the temperatures of both readings")
    return Thermal(Treatment.LEFT_OUT, nothing, told, "" if why_none else listed(wanted))
