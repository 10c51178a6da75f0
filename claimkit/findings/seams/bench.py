"""The bench check worked out: known spacers against what the cards and this camera made of them.

It is a gate. The figures behind photo readings come from rendered pictures, so a reading decides
only where somebody showed, with these cards and this camera, that it meets a known gap.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from statistics import fmean, stdev

from claimkit.findings.seams.known import with_scale
from claimkit.findings.seams.print_scale import print_scale, sheets_of
from claimkit.findings.seams.words import listed, plain_mm
from claimkit.model.card import CardReading, Window
from claimkit.model.case import Case
from claimkit.model.gap import Bench, BenchRow
from claimkit.model.measurement import Measurement
from claimkit.model.measuring import BenchCheck, Spacer
from claimkit.model.records import Record
from claimkit.model.source import Source

METHOD = "claimkit method: bench check of photo readings"

LEAST_PHOTOS = 5
MOST_BIAS_MM = 0.3
"""What a photo reading may claim once the check has passed (own studies, docs/methods.md)."""
OUTSIDE_SHARE = 0.05
"""Of a fair U (k = 2) about this share of errors lies outside."""
RARE = 0.05
"""A count of errors outside that chance alone would give more rarely than this fails the check."""


def benches(case: Case) -> tuple[Bench, ...]:
    """Work out every bench check in force, each camera by itself, in order of time."""
    records = sorted(case.facts.in_force(BenchCheck), key=_taken)
    return tuple(bench for record in records for bench in _of_record(case, record))


def _taken(record: Record) -> tuple[float, str]:
    body = record.body
    at = body.taken.at.timestamp() if isinstance(body, BenchCheck) else 0.0
    return at, record.id


def bench_for(case: Case, camera: str | None, card: int) -> Bench | None:
    """Give the last bench check of this camera with this card, or one cut from the same sheet."""
    sheets = {record.id for record in sheets_of(case, card)}
    fits = [
        bench
        for bench in case.benches
        if camera is not None
        and bench.camera == camera
        and any(
            card == other or sheets & {record.id for record in sheets_of(case, other)}
            for other in bench.cards
        )
    ]
    return fits[-1] if fits else None


def with_bench(gap: Measurement, bench: Bench) -> Measurement:
    """Add what the check showed of this camera, shared by all its photos."""
    if bench.bias_mm is None or bench.u_bias_mm is None:
        return gap
    part = {f"bench check: {bench.record}": math.hypot(bench.bias_mm, bench.u_bias_mm)}
    return gap.plus(Measurement.of(0.0, part))


def whole(readings: Iterable[CardReading]) -> dict[int, CardReading]:
    """Give the reading of both windows for each card, by its number."""
    return {r.card: r for r in readings if r.window is Window.BOTH}


def _of_record(case: Case, record: Record) -> Iterator[Bench]:
    body = record.body
    if not isinstance(body, BenchCheck):
        return
    by_camera: dict[str | None, list[BenchRow]] = {}
    photos = [case.facts.photo_at(spacer.photo) for spacer in body.spacer]
    cameras = {photo.camera.name() for photo in photos if photo}
    only = next(iter(cameras)) if len(cameras) == 1 else None
    seen: set[str] = set()
    for spacer, photo in zip(body.spacer, photos, strict=True):
        row = _row(case, spacer)
        if photo is not None and photo.sha256 in seen:
            row = replace(row, measured=None, refused="The same photo stands here already.")
        seen |= {photo.sha256} if photo else set()
        by_camera.setdefault(photo.camera.name() if photo else only, []).append(row)
    source = Source(path=record.path, sha256=record.sha256)
    for camera, rows in by_camera.items():
        yield _worked_out(record.id, camera, tuple(rows), source)


def _row(case: Case, spacer: Spacer) -> BenchRow:
    known = float(spacer.gap.mm)
    photo = case.facts.photo_at(spacer.photo)
    if photo is None:
        return BenchRow(spacer.photo, None, None, known, None, "There is no photo at that path.")
    seen = case.facts.cards_in(photo.sha256)
    if seen is None:
        why = case.facts.no_cards or "Nobody has looked for cards in it yet: run claimkit gaps."
        return BenchRow(spacer.photo, photo.sha256, None, known, None, why)
    found = whole(seen.readings)
    measured = {n: r for n, r in found.items() if r.measurement is not None}
    if len(measured) > 1:
        why = f"It shows {len(measured)} cards that can be read; a spacer takes one."
        return BenchRow(spacer.photo, photo.sha256, None, known, None, why)
    if not measured:
        told = [r.refusal.sentence for r in found.values() if r.refusal]
        why = seen.failed or " ".join(told) or "No scale card is seen in it."
        return BenchRow(spacer.photo, photo.sha256, next(iter(found), None), known, None, why)
    ((card, reading),) = measured.items()
    scale = print_scale(case, card)
    if scale.refused:
        return BenchRow(spacer.photo, photo.sha256, card, known, None, scale.refused)
    scaled = with_scale(reading, scale.factor, scale.u_relative).measurement
    return BenchRow(spacer.photo, photo.sha256, card, known, scaled)


def _worked_out(
    record: str, camera: str | None, rows: tuple[BenchRow, ...], source: Source
) -> Bench:
    errors = [row.error_mm for row in rows if row.error_mm is not None]
    count = len(errors)
    cards = tuple(sorted({row.card for row in rows if row.card is not None}))
    outside = sum(1 for row in rows if _is_outside(row))
    if count < 2:
        bias = spread = u_bias = None
    else:
        bias, spread = fmean(errors), stdev(errors)
        u_bias = spread / math.sqrt(count)
    why = _why_not(camera, count, bias, u_bias, outside)
    figures = ""
    if bias is not None and spread is not None and u_bias is not None:
        figures = (
            f"{count} photos of known spacers: mean error {bias:+.2f} mm (standard uncertainty "
            f"{u_bias:.2f} mm), spread {spread:.2f} mm, {count - outside} of {count} within their "
            "own U. "
        )
    because = f"{figures}{why or 'It passes.'}"
    return Bench(
        record, camera, cards, rows, bias, u_bias, spread, outside, not why, because, source
    )


def _is_outside(row: BenchRow) -> bool:
    error = row.error_mm
    return error is not None and row.measured is not None and abs(error) > 2.0 * row.measured.u_mm


def _why_not(
    camera: str | None, count: int, bias: float | None, u_bias: float | None, outside: int
) -> str:
    """Say why a check does not pass; empty where it does."""
    faults = []
    if camera is None:
        faults.append("its photos do not say which camera took them")
    if count < LEAST_PHOTOS:
        faults.append(f"{count} of its photos could be measured and {LEAST_PHOTOS} are needed")
    if bias is not None and u_bias is not None and abs(bias) + 2.0 * u_bias > MOST_BIAS_MM:
        faults.append(
            f"the mean error with its U may be {abs(bias) + 2.0 * u_bias:.2f} mm, more than "
            f"{plain_mm(MOST_BIAS_MM)}"
        )
    if outside and _tail(count, outside) < RARE:
        faults.append(f"{outside} of {count} errors lie outside their U")
    return f"It does not pass: {listed(faults)}." if faults else ""


def _tail(count: int, at_least: int) -> float:
    """Give the chance of at least so many errors outside a fair U among `count`."""
    p = OUTSIDE_SHARE
    below = (math.comb(count, k) * p**k * (1.0 - p) ** (count - k) for k in range(at_least))
    return 1.0 - math.fsum(below)
