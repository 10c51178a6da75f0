"""Lines on openings: plumb, level and square as read, what is allowed, what a taper has in common.

A few lines for each check; what to mend before fastening stands with the findings.
"""

from __future__ import annotations

from collections.abc import Iterator

from claimkit.compose.phrases import percent, site_zone, stretch
from claimkit.compose.terminal.text import section, wrapped
from claimkit.findings.seams.opening_words import bow_text, result_text
from claimkit.model.case import Case
from claimkit.model.opening import OpeningResult, OpeningState


def openings(case: Case) -> list[str]:
    """Print each opening check, and what the checks say of each seam's taper."""
    lines: list[str] = []
    for state in case.openings:
        lines += section(f"Opening: {state.opening}", _state(case, state))
    lines += section("Tapers beside the opening", _explanations(case))
    return lines


def summary(case: Case) -> list[str]:
    """Print one line for each opening check, for the status."""
    return [
        line
        for state in case.openings
        for line in wrapped(
            f"opening {state.opening} checked {stretch(state.taken, site_zone(case))}: "
            + ("; ".join(f"{r.what.value} {_answer(r)}" for r in state.results) or "not usable"),
            "    ",
            "  ",
        )
    ]


def _state(case: Case, state: OpeningState) -> Iterator[str]:
    when = stretch(state.taken, site_zone(case))
    yield from wrapped(f"{when}, {state.when}; {state.instrument}", " " * 6, "  ")
    for result in state.results:
        what = f"{result.what.value} of {result.of_piece}" if result.of_piece else result.what.value
        yield from wrapped(f"{what}: {result_text(result)}", " " * 8, " " * 6)
        bow = bow_text(result)
        if bow:
            yield from wrapped(bow, " " * 8)
        if result.p_within is not None:
            yield from wrapped(
                f"{_answer(result).upper()} (within: {percent(result.p_within)})", " " * 8
            )
        if result.settle and result.p_within is not None:
            yield from wrapped(f"To settle it: {result.settle}", " " * 8)
    for what, why in state.unusable:
        yield from wrapped(f"{what.value}: {why}", " " * 8, " " * 6)
    for remark in state.remarks:
        yield from wrapped(remark, " " * 6)


def _answer(result: OpeningResult) -> str:
    if result.p_within is None:
        return "not judged"
    return result.tolerated.value


def _explanations(case: Case) -> Iterator[str]:
    for one in case.explanations:
        name = f"{one.seam}, {one.piece}" if one.piece else one.seam
        yield from wrapped(f"{name}: {one.answer.value.upper()}. {one.because}", " " * 6, "  ")
        if one.settle:
            yield from wrapped(f"To settle it: {one.settle}", " " * 6)
