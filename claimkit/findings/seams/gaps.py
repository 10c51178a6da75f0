"""Gaps from the dry fit to the latest reading: readings made measurements, then compared.

For each seam, station and piece the case holds the dry fit against the latest reading, and each
step between, so that a gap that opened between fastening and handover is told as exactly that.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from claimkit.findings.pieces import same_piece
from claimkit.findings.seams.answers import change_of, fit_of, no_dry_fit, no_later_reading
from claimkit.findings.seams.fastening_rest import rest_of_fastening
from claimkit.findings.seams.fit_warmth import Warmths, warmths_of
from claimkit.findings.seams.pairs import (
    ORDER,
    Pair,
    contradiction,
    milestones,
    pairs,
    unlike_in,
)
from claimkit.findings.seams.photo_readings import from_photos, marked
from claimkit.findings.seams.readings import has_station, read_all
from claimkit.findings.seams.sealant import caution, marked_where_sealed
from claimkit.findings.seams.states import FIXED_STAGES
from claimkit.findings.seams.words import between
from claimkit.model.answers import Answer
from claimkit.model.case import Case
from claimkit.model.gap import ChangeJudgement, Comparison, GapReading, Meaning
from claimkit.model.job import Seam
from claimkit.model.measuring import Readings
from claimkit.model.moment import before
from claimkit.model.records import Record
from claimkit.model.source import Source
from claimkit.model.stages import Event, Stage


def work_out(case: Case) -> Case:
    """Fill the case's readings and comparisons."""
    typed, _ = read_all(case)
    every = (*typed, *marked(case), *from_photos(case))
    readings = tuple(r for r in every if has_station(case, r.seam, r.station))
    readings = marked_where_sealed(case, readings)
    case = replace(case, readings=_sorted(case, readings))
    return replace(case, comparisons=tuple(_compared(case)))


def seams_of(case: Case) -> tuple[Seam, ...]:
    """Give the job's seams; none where job.toml could not be read."""
    return case.facts.job.seam if case.facts.job else ()


def seam_sources(case: Case, seam_id: str) -> tuple[Source, ...]:
    """Name the seam's own table in job.toml as a source."""
    return tuple(
        Source(path="job.toml", sha256=case.facts.job_sha256, key_path=f"seam[{number}]")
        for number, seam in enumerate(seams_of(case), start=1)
        if seam.id == seam_id
    )


def readings_records(case: Case) -> Iterator[tuple[Record, Readings]]:
    """Give every readings record in force with its body."""
    for record in case.facts.in_force(Readings):
        if isinstance(record.body, Readings):
            yield record, record.body


def overall(case: Case) -> list[Comparison]:
    """Give the comparisons of the dry fit with the latest reading, without the steps."""
    return [c for c in case.comparisons if not c.step]


def stations_of(case: Case, seam: Seam) -> tuple[tuple[str, str | None], ...]:
    """Give the stations read on a seam, each with its piece, in the seam's own order."""
    found = [(r.station, r.piece) for r in case.readings if r.seam == seam.id]
    distinct: list[tuple[str, str | None]] = []
    for station, piece in found:
        if not any(s == station and same_piece(p, piece) for s, p in distinct):
            distinct.append((station, piece))
    return tuple(distinct)


def of_station(case: Case, seam: str, station: str, piece: str | None) -> list[GapReading]:
    """Give the readings of one station and piece that do not contradict their own stage."""
    return [
        r
        for r in case.readings
        if r.seam == seam
        and r.station == station
        and same_piece(r.piece, piece)
        and not contradiction(case, r)
    ]


def is_past(case: Case, reading: GapReading) -> bool:
    """Tell whether a loose state can no longer be read, because the pieces are fastened."""
    if reading.stage in FIXED_STAGES:
        return False
    dates = [at for _, at in milestones(case, Event.FASTENED, reading.seam, reading.piece)]
    dates += [
        r.taken
        for r in case.readings
        if r.seam == reading.seam and same_piece(r.piece, reading.piece) and r.stage in FIXED_STAGES
    ]
    return any(before(at, reading.taken) is not Answer.YES for at in dates)


def is_superseded(case: Case, reading: GapReading) -> bool:
    """Tell whether the same station was certainly read again later."""
    return any(
        before(reading.taken, r.taken) is Answer.YES
        for r in of_station(case, reading.seam, reading.station, reading.piece)
    )


def _compared(case: Case) -> Iterator[Comparison]:
    differ = unlike_in(case)
    for seam in seams_of(case):
        for station, piece in stations_of(case, seam):
            for readings in _alike(of_station(case, seam.id, station, piece)):
                for pair in pairs(readings, differ):
                    yield _comparison(case, seam, pair)


def _alike(readings: list[GapReading]) -> list[list[GapReading]]:
    """Part readings by what they meet, where each part can be compared with itself.

    Faces met by a gauge and an opening seen in a photo are two things. Where only one of the two
    goes from the dry fit to later, it is the one compared; where neither does, they are compared
    with each other, and what is not known of the edges is in their uncertainty.
    """
    parts = [[r for r in readings if r.meaning is meaning] for meaning in Meaning]
    whole = [part for part in parts if _from_dry_fit(part)]
    return whole or [readings]


def _from_dry_fit(readings: list[GapReading]) -> bool:
    stages = {r.stage for r in readings}
    return Stage.DRY_FIT in stages and any(ORDER[s] > ORDER[Stage.DRY_FIT] for s in stages)


def _comparison(case: Case, seam: Seam, pair: Pair) -> Comparison:
    first, second, dry = pair.before, pair.after, pair.dry_fit
    named = second or first
    if named is None:
        raise ValueError("a comparison has at least one reading")

    def warm(reading: GapReading) -> Warmths:
        return warmths_of(case.facts.job, seam, reading, case.readings)

    at_dry_fit = no_dry_fit()
    if dry is not None:
        at_dry_fit = fit_of(
            seam, dry, past=is_past(case, dry), dry_fits=pair.dry_fits, warmths=warm(dry)
        )
    at_before = at_dry_fit if first is dry else None
    if first is not None and at_before is None:
        at_before = fit_of(seam, first, past=True, warmths=warm(first))
    return Comparison(
        seam=seam.id,
        station=named.station,
        before=first,
        after=second,
        at_dry_fit=at_dry_fit,
        change=_change(case, seam, pair),
        now=fit_of(seam, second, past=is_superseded(case, second), warmths=warm(second))
        if second
        else no_later_reading(),
        at_before=at_before,
        step=pair.step,
        between=between(first, second),
        piece=named.piece,
        not_comparable=pair.reasons,
    )


def _change(case: Case, seam: Seam, pair: Pair) -> ChangeJudgement:
    judged = change_of(case.facts.job, seam, pair)
    if judged.difference is None:
        return judged
    rest = (rest_of_fastening(case, pair), caution(pair.before, pair.after))
    return replace(judged, because=" ".join(text for text in (judged.because, *rest) if text))


def _sorted(case: Case, readings: tuple[GapReading, ...]) -> tuple[GapReading, ...]:
    """Order by seam and station as in job.toml, then by time."""
    seams = seams_of(case)
    at_seam = {seam.id: number for number, seam in enumerate(seams)}
    at_station = {
        (seam.id, station.id): number
        for seam in seams
        for number, station in enumerate(seam.station)
    }

    def key(r: GapReading) -> tuple[int, str, int, str, str, float, str]:
        return (
            at_seam.get(r.seam, len(seams)),
            r.seam,
            at_station.get((r.seam, r.station), len(at_station)),
            r.station,
            (r.piece or "").casefold(),
            r.taken.earliest.timestamp() if r.taken.earliest else 0.0,
            r.record,
        )

    return tuple(sorted(readings, key=key))
