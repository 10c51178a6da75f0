"""Gaps seen in photos, and marked in them by hand, made readings like those of a rule or gauge.

Photos of one station, stage and local day make one reading, their mean; what they share stays
shared. A photo shows the visible opening between the edges, a gauge meets the faces: the reading
says which, and its uncertainty carries what is not known of the edges.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from datetime import date
from itertools import groupby
from statistics import fmean

from claimkit.findings.seams.beside import last_step, local_day, state_beside
from claimkit.findings.seams.normal import K_TWO_SIDED
from claimkit.findings.seams.photo_gaps import usable
from claimkit.findings.seams.states import State
from claimkit.findings.seams.words import with_u
from claimkit.model.answers import Answer
from claimkit.model.case import Case
from claimkit.model.gap import GapReading, Meaning, PhotoGap
from claimkit.model.job import Joint
from claimkit.model.measurement import Measurement
from claimkit.model.measuring import MarkedPhoto, Readings
from claimkit.model.moment import Interval
from claimkit.model.records import Milestone
from claimkit.model.source import Source
from claimkit.model.stages import Stage

Key = tuple[str, str, Stage, date | None]


def from_photos(case: Case, *, deciding: bool = True) -> tuple[GapReading, ...]:
    """Give one reading for each station, stage and local day that photos show.

    Only those photos that may decide; with `deciding` False only those that may not.
    """
    chosen = [g for g in _once(case) if g.decides is deciding]
    keyed = sorted(((_key(case, g), g) for g in chosen), key=lambda pair: _order(pair[0]))
    groups = groupby(keyed, key=lambda pair: pair[0])
    return tuple(_reading(case, [gap for _, gap in group]) for _, group in groups)


def marked(case: Case) -> tuple[GapReading, ...]:
    """Give the readings of the marked_photo records that could be worked out."""
    return tuple(_marked(case))


def disagree(case: Case) -> Iterator[tuple[PhotoGap, PhotoGap]]:
    """Give photos of one station, stage and day that differ by more than their uncertainty."""
    chosen = _once(case)
    keyed = sorted(((_key(case, g), g) for g in chosen), key=lambda pair: _order(pair[0]))
    for _, group in groupby(keyed, key=lambda pair: pair[0]):
        gaps = sorted((g for _, g in group), key=lambda g: g.gap.value_mm if g.gap else 0.0)
        first, last = gaps[0], gaps[-1]
        if first.gap is None or last.gap is None or first is last:
            continue
        apart = last.gap.minus(first.gap)
        if apart.value_mm > K_TWO_SIDED * apart.u_mm:
            yield first, last


def _key(case: Case, gap: PhotoGap) -> Key:
    if gap.seam is None or gap.station is None or gap.stage is None:
        raise ValueError("only a gap with a station and a stage is a reading")
    return gap.seam, gap.station, gap.stage, local_day(case, gap.taken)


def _order(key: Key) -> tuple[str, str, str, date]:
    seam, station, stage, day = key
    return seam, station, stage.value, day or date.min


def _reading(case: Case, gaps: list[PhotoGap]) -> GapReading:
    first = gaps[0]
    measured = [gap.gap for gap in gaps if gap.gap is not None]
    if first.seam is None or first.station is None or first.stage is None or not measured:
        raise ValueError("only a gap with a station and a stage is a reading")
    state_of, body = state_beside(case, first.seam, first.stage, local_day(case, first.taken))
    step = last_step(case, first.seam, first.taken)
    photo = case.facts.photo_of(first.sha256)
    place = photo.places[0] if photo else first.sha256[:12]
    remarks = [
        f"photo {gap.sha256[:12]}: {with_u(m)}" for gap, m in zip(gaps, measured, strict=True)
    ]
    number = f"{len(gaps)} photos" if len(gaps) > 1 else "a photo"
    return GapReading(
        seam=first.seam,
        station=first.station,
        stage=first.stage,
        taken=_around(gap.taken for gap in gaps),
        measurement=_mean(measured, f"{first.seam}, {first.station}, {place}"),
        repeats_mm=tuple(m.value_mm for m in measured),
        written=tuple(f"{m.value_mm:.2f} mm" for m in measured),
        instrument=f"scale card {first.card} in {number}",
        state=State.of(body).words() if body else (),
        celsius=_celsius(body),
        source=Source(path=place, sha256=first.sha256),
        record=place,
        witness=tuple(gap.sha256 for gap in gaps),
        witness_holds=Answer.YES,
        piece=body.piece if body else step.piece if step else None,
        remarks=tuple(remarks),
        meaning=Meaning.OPENING,
        state_of=state_of,
        card=first.card,
    )


def _mean(measured: list[Measurement], occasion: str) -> Measurement:
    """Give the mean; where photos scatter more than they say, the scatter is a part of its own."""
    total = measured[0]
    for other in measured[1:]:
        total = total.plus(other)
    mean = total.scaled(1.0 / len(measured))
    if len(measured) < 2:
        return mean
    value = fmean(m.value_mm for m in measured)
    scatter = math.sqrt(
        math.fsum((m.value_mm - value) ** 2 for m in measured)
        / (len(measured) * (len(measured) - 1))
    )
    own = [m.minus(mean).u_mm for m in measured]
    expected = math.sqrt(math.fsum(u * u for u in own) / (len(own) * (len(own) - 1)))
    more = math.sqrt(max(scatter**2 - expected**2, 0.0))
    return mean.plus(Measurement.of(0.0, {f"between photos: {occasion}": more})) if more else mean


def _around(stretches: Iterable[Interval]) -> Interval:
    found = list(stretches)
    first = [t.earliest for t in found]
    last = [t.latest for t in found]
    return Interval(
        None if None in first else min(t for t in first if t),
        None if None in last else max(t for t in last if t),
        "the photos' own times",
    )


def _once(case: Case) -> Iterator[PhotoGap]:
    """Give the usable gaps; of one shot saved more than once, the largest file alone.

    Copies of one shot share its camera and its time to the second; they would count as so many
    readings.
    """
    best: dict[tuple[object, ...], tuple[int, PhotoGap]] = {}
    for number, gap in enumerate(case.photo_gaps):
        if usable(gap) is None:
            continue
        photo = case.facts.photo_of(gap.sha256)
        taken = (gap.taken.earliest, gap.taken.latest)
        camera = photo.camera.name() if photo else None
        key = (gap.card, camera, *taken) if camera and None not in taken else (number,)
        size = photo.size_bytes if photo else 0
        if key not in best or size > best[key][0]:
            best[key] = (size, gap)
    for _, gap in best.values():
        yield gap


def _celsius(body: Readings | Milestone | None) -> float | None:
    return float(body.temperature.celsius) if body and body.temperature else None


def _marked(case: Case) -> Iterator[GapReading]:
    worked_out = {one.record: one.gap for one in case.facts.marked}
    for record in case.facts.in_force(MarkedPhoto):
        body, gap = record.body, worked_out.get(record.id)
        if not isinstance(body, MarkedPhoto) or not isinstance(gap, Measurement):
            continue
        photo = case.facts.photo_at(body.photo)
        seam = case.facts.job.seam_named(body.seam) if case.facts.job else None
        if photo is None or (seam is not None and seam.joint is Joint.CORNER):
            continue  # the two panels of a corner share no plane: said by seam-marked-at-corner
        dated = next((d for d in case.photos if d.sha256 == photo.sha256), None)
        taken = dated.stands if dated else Interval(None, None, "nothing dates the photo")
        state_of, typed = state_beside(case, body.seam, body.stage, local_day(case, taken))
        yield GapReading(
            seam=body.seam,
            station=body.station,
            stage=body.stage,
            taken=taken,
            measurement=gap,
            repeats_mm=(gap.value_mm,),
            written=(f"{gap.value_mm:.1f} mm",),
            instrument="marked by hand in a photo",
            state=State.of(typed).words() if typed else (),
            celsius=_celsius(typed),
            source=Source(path=record.path, sha256=record.sha256),
            record=record.id,
            witness=(photo.sha256,),
            witness_holds=Answer.YES if dated and dated.stage is body.stage else Answer.CANNOT_TELL,
            piece=body.piece,
            remarks=("edges and rectangle marked by hand: ± 1 mm at best",),
            meaning=Meaning.OPENING,
            state_of=state_of,
        )
