"""Opening checks worked out: plumb, level and square, judged, and held against the seams' taper.

Each record in force is one check. The last one before fastening stands for the state before; an
earlier one was checked again, and a later one shows how things stand since. Nothing here says why
a gap moved.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from claimkit.findings.seams import opening_judge
from claimkit.findings.seams.opening_explain import Working, explanations
from claimkit.findings.seams.opening_offsets import Run, line_of, run, tilt_limit
from claimkit.findings.seams.opening_square import Square, square
from claimkit.findings.seams.opening_when import Standing, standing
from claimkit.findings.written_time import site_zone, stretch_of
from claimkit.model.answers import Answer
from claimkit.model.case import Case
from claimkit.model.measurement import Measurement
from claimkit.model.measuring import Line, OpeningCheck
from claimkit.model.opening import Checked, OpeningResult, OpeningState, Place
from claimkit.model.records import Record
from claimkit.model.source import Source
from claimkit.rules.opening_lines import BY_LINE

Unusable = tuple[Checked, str]


def work_out(case: Case) -> Case:
    """Fill the case's openings: each check judged and held against its seams' taper."""
    work = list(_last_before([_working(case, record, body) for record, body in checks(case)]))
    return replace(
        case,
        openings=tuple(one.state for one in work),
        explanations=tuple(explanations(case, work)),
    )


def checks(case: Case) -> Iterator[tuple[Record, OpeningCheck]]:
    """Give every opening check in force with its body, in order of time."""
    found = [
        (record, record.body)
        for record in case.facts.in_force(OpeningCheck)
        if isinstance(record.body, OpeningCheck)
    ]
    yield from sorted(found, key=lambda row: (row[1].taken.at, row[0].id))


def tolerance_sources(case: Case, name: str) -> tuple[Source, ...]:
    """Name the opening's own table in job.toml as a source, where it has one."""
    found = opening_judge.opening_named(case.facts.job, name)
    if found is None:
        return ()
    return (Source(path="job.toml", sha256=case.facts.job_sha256, key_path=f"opening[{found[0]}]"),)


@dataclass(frozen=True, slots=True)
class _Found:
    """One measured thing before it is judged."""

    what: Checked
    judged: Measurement
    over: Measurement | None
    span_mm: float | None
    key: str
    run: Run | None = None


def _working(case: Case, record: Record, body: OpeningCheck) -> Working:
    taken = stretch_of(body.taken, site_zone(case.facts), f"written in {record.path}")
    when = standing(case, body.seams, taken)
    measured, unusable = _measured(record, body)
    results = tuple(_result(case, record, body, found, when) for found in measured)
    level = next((found.run for found in measured if found.what is Checked.LEVEL), None)
    state = OpeningState(
        record=record.id,
        opening=body.opening.strip(),
        taken=taken,
        instrument=_shown(body),
        before_fastening=when.before,
        when=when.words,
        open_still=when.loose,
        seams=body.seams,
        results=results,
        unusable=unusable,
        remarks=_remarks(body, results),
        photos=_photos(case, body),
        sources=(_source(record, "opening"), *tolerance_sources(case, body.opening)),
    )
    return Working(state, level, float(body.seam_at.mm) if body.seam_at else None)


def _measured(record: Record, body: OpeningCheck) -> tuple[list[_Found], tuple[Unusable, ...]]:
    found: list[_Found] = []
    unusable: list[Unusable] = []
    for what, table in ((Checked.PLUMB, body.plumb), (Checked.LEVEL, body.level)):
        if not table:
            continue
        line = run(record, body, what)
        if isinstance(line, str):
            unusable.append((what, line))
        else:
            found.append(_Found(what, line.over, line.over, line.span_mm, what.value, line))
    if body.diagonals:
        sides = square(record, body)
        if isinstance(sides, Square):
            span = sides.height_mm
            found.append(_Found(Checked.SQUARE, sides.difference, sides.over, span, "diagonals"))
        else:
            unusable.append((Checked.SQUARE, sides))
    return found, tuple(unusable)


def _result(
    case: Case, record: Record, body: OpeningCheck, found: _Found, when: Standing
) -> OpeningResult:
    entry = opening_judge.opening_named(case.facts.job, body.opening)
    piece = body.diagonals_of if found.what is Checked.SQUARE else None
    limit = opening_judge.allowed(entry[1] if entry else None, found.what, found.span_mm)
    if piece:
        limit = "These are the diagonals of a piece, which the opening's tolerance does not judge."
    judgement = opening_judge.judge(found.judged, limit, past=not when.loose)
    places: tuple[Place, ...] = found.run.places if found.run else ()
    return OpeningResult(
        what=found.what,
        judged=found.judged,
        over=found.over,
        span_mm=found.span_mm,
        places=places,
        bow=found.run.bow if found.run else None,
        tolerance_mm=judgement.tolerance_mm,
        tolerated=judgement.tolerated,
        p_within=judgement.p_within,
        because=judgement.because,
        settle=judgement.settle,
        source=_source(record, found.key),
        of_piece=piece,
    )


def _remarks(body: OpeningCheck, results: tuple[OpeningResult, ...]) -> tuple[str, ...]:
    """Say what was assumed and what was not checked."""
    found = []
    line, assumed = line_of(body)
    if any(r.places for r in results):
        if assumed:
            found.append(assumed)
        limit = tilt_limit(body)
        if limit and body.line_accuracy is None:
            found.append(
                f"A {line.value} counts as true to {limit:g} mm in 1 m ({BY_LINE[line].citation})."
            )
    for result in results:
        if len(result.places) == 2:
            found.append(f"Two places only for {result.what.value}: straightness unchecked.")
        if result.what is Checked.SQUARE and result.over is None:
            found.append("Without width and height the diagonals give no angle.")
    if any(r.bow and r.bow.straight is Answer.NO for r in results) and line is Line.LEVEL:
        found.append("A hollow or a belly also shows where the level was not carried straight.")
    return tuple(found)


def _shown(body: OpeningCheck) -> str:
    name = body.instrument.value
    if body.instrument_id and body.instrument_id.strip():
        name += f" ({body.instrument_id.strip()})"
    line, assumed = line_of(body)
    if line.value != body.instrument.value and not assumed:
        name += f" from a {line.value}"
    if body.level_turned and line is Line.LEVEL:
        name += ", turned end for end"
    return f"{name}; {body.tape.value}" if body.tape else name


def _photos(case: Case, body: OpeningCheck) -> tuple[str, ...]:
    found = (case.facts.photo_at(path) for path in body.photos)
    return tuple(photo.sha256 for photo in found if photo is not None)


def _source(record: Record, key: str) -> Source:
    return Source(path=record.path, sha256=record.sha256, key_path=key)


def _last_before(work: list[Working]) -> Iterator[Working]:
    """Mark for each opening the last result of each kind that shows the state before fastening."""
    last: dict[tuple[str, Checked, str | None], str] = {}
    for one in work:
        if one.state.before_fastening is Answer.YES:
            for result in one.state.results:
                last[_kind(one.state, result)] = one.state.record
    for one in work:
        results = tuple(
            replace(r, stands=last.get(_kind(one.state, r)) == one.state.record)
            for r in one.state.results
        )
        yield replace(one, state=replace(one.state, results=results))


def _kind(state: OpeningState, result: OpeningResult) -> tuple[str, Checked, str | None]:
    return (state.opening.casefold(), result.what, result.of_piece)
