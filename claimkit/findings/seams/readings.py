"""Readings of gaps as measurements: the mean of the repeats and what each cause may be off.

A gap is read to one division of its instrument, by a hand that places it a little differently
each time, on a scale that is a little off in the same way every time. The causes keep their
names, so that the same rule used twice cancels in a difference and two rules do not.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from statistics import fmean, stdev

from claimkit.findings.seams.normal import K_ONE_SIDED, student_95
from claimkit.findings.seams.states import State
from claimkit.findings.seams.witness import resolve, witness_holds
from claimkit.findings.seams.words import place
from claimkit.model.case import Case
from claimkit.model.gap import GapReading
from claimkit.model.measurement import Measurement
from claimkit.model.measuring import Instrument, Readings
from claimkit.model.records import Record
from claimkit.model.source import Source
from claimkit.rules.instruments import BY_INSTRUMENT, InstrumentRow

SAME_DIVISION = 1e-6
MOST_MM = {Instrument.FEELER: 100.0, Instrument.TAPER_GAUGE: 100.0, Instrument.CALIPER: 150.0}
"""No leaves or taper are thicker, nor are inside jaws wider (common practice, no source)."""
ONE_SIDED = (
    "0 mm with a feeler gauge says that its thinnest leaf did not go in; the gap is less than that "
    "leaf, and not shown to be closed"
)
APART_FROM_SPREAD, APART_FROM_HAND = 10.0, 5.0
"""How often the others' spread, and the division or the hand, a repeat that stands apart is off.

Our own convention: wide enough that hands that differ do not bring it about.
"""


@dataclass(frozen=True, slots=True)
class NotUsable:
    """A typed reading that is no measurement yet, why, and what to write."""

    where: str
    reason: str
    source: Source


@dataclass(frozen=True, slots=True)
class _Typed:
    """All that one record says of one station: repeats in mm, texts, witness paths, its key."""

    station: str
    repeats: tuple[float, ...]
    written: tuple[str, ...]
    witness: tuple[str, ...]
    key: str


def has_station(case: Case, seam_id: str, name: str) -> bool:
    """Tell whether a station is one of its seam in job.toml; a name that is none is used nowhere.

    A seam that names no stations is read where the records say.
    """
    job = case.facts.job
    seam = job.seam_named(seam_id) if job else None
    if seam is None or not seam.station:
        return True
    return any(station.id == name for station in seam.station)


def read_all(case: Case) -> tuple[tuple[GapReading, ...], tuple[NotUsable, ...]]:
    """Turn every readings record in force into gap readings; name those that cannot be used."""
    found: list[GapReading] = []
    unusable: list[NotUsable] = []
    for record in case.facts.in_force(Readings):
        for result in of_record(case, record):
            if isinstance(result, GapReading):
                found.append(result)
            else:
                unusable.append(result)
    return tuple(found), tuple(unusable)


def of_record(case: Case, record: Record) -> Iterator[GapReading | NotUsable]:
    """Give one reading, or the reason why not, for each station of a readings record."""
    body = record.body
    if not isinstance(body, Readings):
        return
    row = BY_INSTRUMENT[body.instrument]
    for typed in _by_station(body):
        if not has_station(case, body.seam, typed.station):
            continue  # told as a problem of its file, and used nowhere
        source = Source(path=record.path, sha256=record.sha256, key_path=typed.key)
        fault = _fault(row, body, typed)
        resolution = resolution_mm(body)
        if fault or resolution is None:
            yield NotUsable(place(body.seam, typed.station, body.piece), fault, source)
            continue
        yield _reading(case, record, body, typed, measured(row, record, body, typed, resolution))


def resolution_mm(body: Readings) -> float | None:
    """Give the division that the readings were made to, in mm, or None where none is stated.

    A record may state a coarser one than its instrument's; a finer one is estimating between the
    marks, which the instrument does not vouch for.
    """
    row = BY_INSTRUMENT[body.instrument]
    stated = body.resolution.mm if body.resolution and body.resolution.mm > 0 else None
    known = [value for value in (row.resolution_mm, stated) if value is not None]
    return float(max(known)) if known else None


def measured(
    row: InstrumentRow, record: Record, body: Readings, typed: _Typed, resolution: float
) -> tuple[Measurement, str]:
    """Give the mean with its parts, in mm, and the sentence on how the repeats were treated."""
    value = fmean(typed.repeats)
    occasion = f"{record.id}, {typed.station}"
    kind, u_hand, why = hand_part(typed.repeats, resolution, row.operator_mm)
    which = _which_instrument(record, body)
    parts = {
        f"resolution: {body.instrument.value}, {occasion}": resolution / math.sqrt(12.0),
        f"{kind}: {occasion}": u_hand,
    }
    if row.scale_limit:
        parts[f"scale: {which}"] = value * row.scale_limit / math.sqrt(3.0)
    if row.zero_limit_mm:
        parts[f"zero: {which}"] = row.zero_limit_mm / math.sqrt(3.0)
    return Measurement.of(value, parts), why


def hand_part(
    repeats_mm: tuple[float, ...], resolution: float, floor_mm: float
) -> tuple[str, float, str]:
    """Give what the hand adds: kind of cause, standard uncertainty in mm, and why.

    One reading: the operator's usual `floor_mm`. Repeats within one division show only that the
    hand scatters by no more than a division can hide: s is taken as at least resolution over the
    root of 12, and the floor is the most that is asked. Repeats further apart show their own
    scatter. Few repeats know their scatter badly, so s over the root of n is widened by Student's
    t over 1.645, which keeps one-sided 95 % statements right (JCGM 100:2008, 4.2.3 and G.3).
    """
    count = len(repeats_mm)
    if count < 2:
        return "operator", floor_mm, f"one reading: operator {floor_mm:g} mm"
    widened = student_95(count - 1) / K_ONE_SIDED
    scatter = stdev(repeats_mm)
    spread = max(repeats_mm) - min(repeats_mm)
    if spread > resolution * (1.0 + SAME_DIVISION):
        u = widened * scatter / math.sqrt(count)
        told = f"mean of {count} repeats, {u:.3f} mm from their scatter (Student's t)"
        if count == 2:
            told += "; a third repeat would narrow it much"
        return "repeats", u, told
    least = widened * max(scatter, resolution / math.sqrt(12.0)) / math.sqrt(count)
    if least >= floor_mm:
        told = f"mean of {count} repeats within one division: operator {floor_mm:g} mm kept"
        return "operator", floor_mm, told
    told = f"mean of {count} repeats within one division: {least:.3f} mm instead of {floor_mm:g} mm"
    return "repeats", least, told


def stands_apart(body: Readings, repeats_mm: tuple[float, ...]) -> float | None:
    """Give the one repeat in mm that stands far apart from all others, or None.

    Of two that stand far apart the larger is given: which of them is the slip cannot be told.
    """
    division = resolution_mm(body)
    if len(repeats_mm) < 2 or division is None:
        return None
    least = APART_FROM_HAND * max(division, BY_INSTRUMENT[body.instrument].operator_mm)
    line = sorted(repeats_mm)
    for one, near, others in ((line[-1], line[-2], line[:-1]), (line[0], line[1], line[1:])):
        spread = others[-1] - others[0]
        if round(abs(one - near) - max(least, APART_FROM_SPREAD * spread), 6) > 0:
            return one
    return None


def _by_station(body: Readings) -> Iterator[_Typed]:
    names = dict.fromkeys(reading.station for reading in body.at)
    for name in names:
        tables = [(n, r) for n, r in enumerate(body.at, start=1) if r.station == name]
        gaps = [gap for _, r in tables for gap in r.gap]
        yield _Typed(
            name,
            tuple(float(gap.mm) for gap in gaps),
            tuple(gap.written for gap in gaps),
            tuple(dict.fromkeys(path for _, r in tables for path in r.witness)),
            f"at[{tables[0][0]}].gap",
        )


def _fault(row: InstrumentRow, body: Readings, typed: _Typed) -> str:
    """Say why a typed reading is no measurement, and what to write; empty where it is one."""
    correct = "Add a record that replaces this one"
    if not row.reads_gaps:
        return (
            f"A {row.instrument.value} reads {row.reads}. {correct} and names what the gap was "
            "read with, or the instrument other with its resolution."
        )
    if row.resolution_mm is None and resolution_mm(body) is None:
        return (
            "The instrument is other and its smallest division is not stated, so that the "
            f'uncertainty is not known. {correct} with resolution = "0.5 mm" or what it is.'
        )
    if not typed.repeats:
        return f"No gap is written for this station. {correct} with the gap that was read."
    if any(value < 0 for value in typed.repeats):
        return f"A gap below zero ({', '.join(typed.written)}) cannot be. {correct}."
    most = MOST_MM.get(row.instrument)
    if most is not None and max(typed.repeats) > most:
        return (
            f"A {row.instrument.value} does not read {max(typed.repeats):g} mm; the most is taken "
            f"as {most:g} mm. {correct} with the gap that was read, or with what it was read with."
        )
    return ""


def _which_instrument(record: Record, body: Readings) -> str:
    if body.instrument_id and body.instrument_id.strip():
        return f"{body.instrument.value} {body.instrument_id.strip().casefold()}"
    return f"{body.instrument.value} of {record.id}"


def _reading(
    case: Case, record: Record, body: Readings, typed: _Typed, result: tuple[Measurement, str]
) -> GapReading:
    measurement, why = result
    photos = resolve(case, typed.witness)
    no_leaf = body.instrument is Instrument.FEELER and 0.0 in typed.repeats
    reading = GapReading(
        seam=body.seam,
        station=typed.station,
        stage=body.stage,
        taken=body.taken.interval(f"written in {record.path}: {body.taken.said}"),
        measurement=measurement,
        repeats_mm=typed.repeats,
        written=typed.written,
        instrument=_shown(body),
        state=State.of(body).words(),
        celsius=float(body.temperature.celsius) if body.temperature else None,
        source=Source(path=record.path, sha256=record.sha256, key_path=typed.key),
        record=record.id,
        witness=tuple(photo.sha256 for photo in photos if photo is not None),
        piece=body.piece.strip() if body.piece and body.piece.strip() else None,
        remarks=(why, ONE_SIDED) if no_leaf else (why,),
    )
    return replace(reading, witness_holds=witness_holds(case, reading, typed.witness))


def _shown(body: Readings) -> str:
    if body.instrument is Instrument.OTHER and body.resolution:
        name = f"other, to {body.resolution.written}"
    else:
        name = body.instrument.value
    return f"{name} ({body.instrument_id})" if body.instrument_id else name
