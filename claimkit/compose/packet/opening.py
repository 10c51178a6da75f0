"""The opening before fastening: readings, results with their intervals, tolerance and answer.

The owner sees also what to mend, what is published for information, and what a taper has in common
with the opening. The customer sees readings, intervals and answers, and nothing that blames.
"""

from __future__ import annotations

from claimkit.compose.blocks import row, say, table
from claimkit.compose.packet.view import View
from claimkit.compose.phrases import gap, method, millimetres, percent, stretch
from claimkit.findings.seams.opening_words import (
    angle,
    bow_text,
    certainly,
    direction,
    where_off,
)
from claimkit.model.answers import Answer
from claimkit.model.document import Block, Paragraphs, Section, Statement
from claimkit.model.measurement import Measurement
from claimkit.model.opening import (
    Checked,
    Explains,
    Explanation,
    OpeningResult,
    OpeningState,
    Tolerated,
)
from claimkit.model.source import Source
from claimkit.rules.marks import marked
from claimkit.rules.opening_tolerances import INFORMATION, informing

METHOD = method("checking an opening")
SIGNS = (
    "Of slopes, plus is a wall that leans into the opening, a base that rises away from its first "
    "place, sides that lean away from the foot of the first diagonal. U is expanded with k = 2."
)
EMPHASIS = {
    Explains.CONSISTENT: "",
    Explains.PART: "",
    Explains.NOT: "",
    Explains.NOTHING: "",
    Explains.CANNOT_TELL: "missing",
}


def section(view: View) -> Section | None:
    """Compose every opening check; for the owner with what follows, for the customer without."""
    blocks: list[Block] = []
    for state in view.case.openings:
        blocks += _state(view, state)
    if not blocks:
        return None
    blocks.append(Paragraphs((say(SIGNS, METHOD),), bulleted=False))
    if view.own:
        blocks += _explanations(view)
        blocks += _published(view)
    return Section("opening", "Opening before fastening", tuple(blocks), new_page=True)


def _state(view: View, state: OpeningState) -> list[Block]:
    sources = _sources(view, state)
    head = [
        say(
            f"Opening “{state.opening}”, checked {stretch(state.taken, view.zone)}, {state.when}. "
            f"Read with: {state.instrument}.",
            *sources,
            emphasis="" if state.before_fastening is Answer.YES else "missing",
        )
    ]
    blocks: list[Block] = [Paragraphs(tuple(head), bulleted=False, heads=bool(state.results))]
    if state.results:
        blocks.append(_results(state, sources))
    readings = [cells for result in state.results for cells in _readings(result, sources)]
    if readings:
        heads = ("Read", "Place", "Offset as read", "Offset ± U (k = 2)", "Off ± U, from the first")
        blocks.append(table(heads, readings, (0.8, 1, 2, 1.8, 3), small=True))
    told = [say(text, *sources, METHOD) for text in _told(view, state)]
    lacking = [f"{what.value}: {why}" for what, why in state.unusable] if view.own else []
    told += [say(text, *sources, emphasis="missing") for text in lacking]
    if told:
        blocks.append(Paragraphs(tuple(told)))
    return blocks


def _sources(view: View, state: OpeningState) -> tuple[Source, ...]:
    found = list(state.sources)
    for sha in state.photos:
        photo = view.facts.photo_of(sha)
        if photo and sha in view.numbers:
            found.append(view.photo_source(photo))
    return tuple(found)


def _results(state: OpeningState, sources: tuple[Source, ...]) -> Block:
    rows = [
        row(
            f"{result.what.value}, {result.of_piece}" if result.of_piece else result.what.value,
            _off(result),
            millimetres(round(result.span_mm)) if result.span_mm is not None else "–",
            angle(result),
            f"± {result.tolerance_mm:.3g} mm" if result.tolerance_mm is not None else "not entered",
            _answer(result),
            sources=(result.source, *sources, METHOD),
        )
        for result in state.results
    ]
    heads = ("What", "Off ± U (k = 2)", "Over", "Slope ± U, angle", "Allowed", "Answer")
    return table(heads, rows, (0.9, 2.4, 0.9, 2.2, 1.1, 2))


def _off(result: OpeningResult) -> str:
    if result.what is Checked.SQUARE:
        return f"diagonals differ by {gap(result.judged)}"
    return _to_a_side(result.what, result.judged)


def _to_a_side(what: Checked, off: Measurement) -> str:
    """Print how far something is off: to which side where that is certain, else with its sign."""
    if not certainly(off):
        return gap(off)
    return f"{gap(Measurement(abs(off.value_mm), off.parts))} {direction(what, off)}"


def _answer(result: OpeningResult) -> str:
    if result.of_piece:
        return "not judged"
    if result.p_within is None:
        return Tolerated.CANNOT_TELL.value
    return f"{result.tolerated.value} (within: {percent(result.p_within)})"


def _readings(result: OpeningResult, sources: tuple[Source, ...]) -> list[tuple[Statement, ...]]:
    return [
        row(
            result.what.value,
            place.written_at,
            ", ".join(place.written),
            gap(place.offset),
            "–" if number == 0 else _to_a_side(result.what, place.off),
            sources=(result.source, *sources),
        )
        for number, place in enumerate(result.places)
    ]


def _told(view: View, state: OpeningState) -> list[str]:
    """Say how straight it is and why the answer; for the owner also what is off while loose."""
    found = []
    for result in state.results:
        bow = bow_text(result)
        if bow:
            found.append(f"{result.what.value}: {bow}.")
        if result.p_within is not None:
            found.append(f"{result.what.value}: {result.because}")
        if result.settle and result.p_within is not None and view.own:
            found.append(f"{result.what.value}, to settle it: {result.settle}")
        off = where_off(result)
        if view.own and state.open_still and off and result.tolerated is not Tolerated.WITHIN:
            found.append(f"Off now, before anything is fastened: {'; '.join(off)}.")
    return [text[0].upper() + text[1:] for text in (*found, *state.remarks)]


def _explanations(view: View) -> list[Block]:
    lines = []
    for one in view.case.explanations:
        sources = (*one.sources, METHOD)
        lines.append(say(_explained(one), *sources, emphasis=EMPHASIS[one.answer]))
        if one.settle:
            lines.append(say(f"To settle it: {one.settle}", *sources, emphasis="missing"))
    return [Paragraphs(tuple(lines))] if lines else []


def _explained(one: Explanation) -> str:
    name = f"Seam {one.seam}, {one.piece}" if one.piece else f"Seam {one.seam}"
    return f"{name}: {one.answer.value}. {one.because}"


def _published(view: View) -> list[Block]:
    """List published values beside what was read: information, never a judgement."""
    kinds = dict.fromkeys(r.what for state in view.case.openings for r in state.results)
    rows = [
        row(
            value.about.value if value.about else "–",
            value.text,
            f"{value.mm_per_m:.2f} mm/m" if value.mm_per_m is not None else "–",
            marked(value.citation, value.mark),
            sources=(Source(citation=marked(value.citation, value.mark)),),
        )
        for kind in kinds
        for value in informing(kind)
    ]
    if not rows:
        return []
    note = say(INFORMATION, METHOD, emphasis="caution")
    heads = ("About", "Published value", "As a slope", "Source (mark)")
    return [
        Paragraphs((note,), bulleted=False, heads=True),
        table(heads, rows, (0.8, 3.4, 1, 3.6), small=True),
    ]
