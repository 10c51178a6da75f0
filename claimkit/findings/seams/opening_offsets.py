"""Offsets from plumb and level as measurements, and the straight line through them.

A wall is read at heights from a plumb line, a base at places from a level line. Every reading has
its instrument's resolution and its hand; the line's own tilt is one cause that all readings of it
share and that grows with the stretch, so that no number of heights makes a bad level good.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import fmean

from claimkit.findings.seams.line import MM_PER_M, Point, line_through
from claimkit.findings.seams.normal import factor_together
from claimkit.findings.seams.readings import hand_part
from claimkit.model.answers import Answer
from claimkit.model.measurement import Measurement
from claimkit.model.measuring import Instrument, Line, Offset, OpeningCheck
from claimkit.model.opening import Bow, Checked, Place
from claimkit.model.records import Record
from claimkit.rules.instruments import BY_INSTRUMENT
from claimkit.rules.opening_lines import BY_LINE

PLACE_MM = 2.0
"""How well a height or a place is found again (standard uncertainty; common practice)."""

WORDS = {Checked.PLUMB: ("wall", "height"), Checked.LEVEL: ("base", "place")}


@dataclass(frozen=True, slots=True)
class Run:
    """Places in ascending order, how far they lean over their stretch, and how far one bows.

    `over` is in mm: into the opening from the lowest place to the highest, or rising from the
    first place to the last.
    """

    places: tuple[Place, ...]
    over: Measurement
    bow: Bow | None

    @property
    def span_mm(self) -> float:
        """Give the stretch between the outermost places in mm."""
        return self.places[-1].at_mm - self.places[0].at_mm


def run(record: Record, body: OpeningCheck, what: Checked) -> Run | str:
    """Fit the offsets of a check's wall or base, or say why there is no measurement."""
    table = body.plumb if what is Checked.PLUMB else body.level
    resolution = _resolution(body)
    if resolution is None:
        return (
            f"The smallest division of the {body.instrument.value} is not stated, so the "
            "uncertainty of its offsets is not known. Add a record that replaces this one, with "
            'resolution = "1/32 in" or what it is.'
        )
    places = _places(record, body, what, table, resolution)
    if len(places) < 2:
        noun, place = WORDS[what]
        return (
            f"The {noun} was read at one {place} only, which shows no lean. Read it at two "
            f"{place}s at least, far apart; three show whether it is straight."
        )
    return through(places)


def part(whole: Run, low_mm: float | None, high_mm: float | None) -> Run | None:
    """Fit only the places between two ends, both included; None where fewer than two lie there."""
    kept = tuple(
        place
        for place in whole.places
        if (low_mm is None or place.at_mm >= low_mm) and (high_mm is None or place.at_mm <= high_mm)
    )
    return through(kept) if len(kept) > 1 else None


def through(places: tuple[Place, ...]) -> Run:
    """Fit two or more distinct places; raise ValueError without them.

    Where they lie on a straight line as far as read, all of them tell the lean. Where one certainly
    does not, the lean is from the first place to the last, as a straightedge shows it, and how far
    the others stand off is told as the bow, which is no uncertainty of the lean.
    """
    line = line_through(tuple(Point(p.written_at, p.at_mm, p.offset.scaled(-1.0)) for p in places))
    if isinstance(line, str):
        raise ValueError(line)
    bow = _bow(places)
    if bow is not None and bow.straight is Answer.NO:
        return Run(places, places[-1].off.minus(places[0].off), bow)
    span = places[-1].at_mm - places[0].at_mm
    return Run(places, line.slope.scaled(span / MM_PER_M), bow)


def line_of(body: OpeningCheck) -> tuple[Line, str]:
    """Give what the offsets were measured from, and the remark where it had to be assumed."""
    if body.line is not None:
        return body.line, ""
    if body.instrument is Instrument.LEVEL:
        return Line.LEVEL, ""
    return Line.LEVEL, (
        "The record does not say what the offsets were measured from (line): a level is assumed, "
        "which is the least true."
    )


def tilt_limit(body: OpeningCheck) -> float:
    """Give how far the plumb or level line may lean, half width in mm per m.

    A level turned end for end leans as much one way as the other: the mean is free of it.
    """
    line, _ = line_of(body)
    if line is Line.PLUMB_LINE or (line is Line.LEVEL and body.level_turned):
        return 0.0
    if body.line_accuracy is not None:
        return float(body.line_accuracy.mm)
    return BY_LINE[line].tilt_limit_mm_per_m


def which(instrument: Instrument, name: str | None, record: Record) -> str:
    """Name an instrument so that the same one in two records is one cause."""
    if name and name.strip():
        return f"{instrument.value} {name.strip().casefold()}"
    return f"{instrument.value} of {record.id}"


def _resolution(body: OpeningCheck) -> float | None:
    row = BY_INSTRUMENT[body.instrument]
    stated = body.resolution.mm if body.resolution else None
    known = [value for value in (row.resolution_mm, stated) if value is not None]
    return float(max(known)) if known else None


def _places(
    record: Record,
    body: OpeningCheck,
    what: Checked,
    table: tuple[Offset, ...],
    resolution: float,
) -> tuple[Place, ...]:
    """Give each place once, its repeats in a mean, in ascending order."""
    found = sorted({offset.at.mm for offset in table})
    rough = _rough_slope(table)
    grouped = [[offset for offset in table if offset.at.mm == at] for at in found]
    read = [_read(record, body, what, offsets, (resolution, rough)) for offsets in grouped]
    if not read:
        return ()
    first = read[0][0]
    return tuple(
        Place(
            float(at),
            offsets[0].at.written,
            tuple(o.offset.written for o in offsets),
            measured,
            first.minus(measured),
            remark,
        )
        for at, offsets, (measured, remark) in zip(found, grouped, read, strict=True)
    )


def _read(
    record: Record,
    body: OpeningCheck,
    what: Checked,
    offsets: list[Offset],
    known: tuple[float, float],
) -> tuple[Measurement, str]:
    """Measure one place from its repeats; `known` are the division and the rough slope."""
    resolution, rough = known
    repeats = tuple(float(offset.offset.mm) for offset in offsets)
    row = BY_INSTRUMENT[body.instrument]
    occasion = f"{record.id}, {what.value} at {offsets[0].at.written}"
    kind, hand, remark = hand_part(repeats, resolution, row.operator_mm)
    instrument = which(body.instrument, body.instrument_id, record)
    line, _ = line_of(body)
    line_name = instrument if line is Line.LEVEL else f"{line.value} of {record.id}"
    value = fmean(repeats)
    root, metres = math.sqrt(3.0), float(offsets[0].at.mm) / MM_PER_M
    parts = {
        f"resolution: {body.instrument.value}, {occasion}": resolution / math.sqrt(12.0),
        f"{kind}: {occasion}": hand,
        f"place: {occasion}": PLACE_MM * rough,
        f"scale: {instrument}": value * row.scale_limit / root,
        f"zero: {instrument}": row.zero_limit_mm / root,
        # Plumb and level are told by two vials: what leans the one says nothing of the other.
        f"tilt: {what.value}, {line_name}": metres * tilt_limit(body) / root,
    }
    return Measurement.of(value, {c: u for c, u in parts.items() if u}), remark


def _rough_slope(table: tuple[Offset, ...]) -> float:
    """Give the slope from the lowest to the highest place, for the effect of a misplaced one."""
    ordered = sorted(table, key=lambda offset: offset.at.mm)
    if not ordered or ordered[0].at.mm == ordered[-1].at.mm:
        return 0.0
    first, last = ordered[0], ordered[-1]
    return float((last.offset.mm - first.offset.mm) / (last.at.mm - first.at.mm))


def _bow(places: tuple[Place, ...]) -> Bow | None:
    """Give the place furthest off a straightedge from the first place to the last."""
    if len(places) < 3:
        return None
    first, last = places[0], places[-1]
    off = []
    for place in places[1:-1]:
        share = (place.at_mm - first.at_mm) / (last.at_mm - first.at_mm)
        off.append((place.at_mm, place.off.minus(last.off.scaled(share))))
    at_mm, most = max(off, key=lambda row: abs(row[1].value_mm))
    k = factor_together(2 * len(off))
    crooked = round(abs(most.value_mm) - k * most.u_mm, 6) > 0
    return Bow(at_mm, most, Answer.NO if crooked else Answer.YES)
