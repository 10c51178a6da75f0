"""What is said of a seam's taper beside its opening: consistent with it, a part, not, cannot tell.

A taper is told to be consistent with the opening, never caused by it: other things turn a panel
too. An opening that does not account for a taper is said as plainly as one that does.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from claimkit.findings.seams.gaps import seam_sources
from claimkit.findings.seams.opening_words import METHOD
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.opening import Explains, Explanation, Tolerated

Results = tuple[Finding | NotChecked, ...]


def consistent(case: Case) -> Results:
    """Say that a seam's taper is consistent with the opening as it was before fastening.

    Where the opening was within what the maker allows, that speaks against nobody.
    """
    do = (
        "Find out how the pieces were packed and fixed before anybody is asked to answer for the "
        "gap."
    )
    found = []
    for finding, one in _explained(case, "opening-consistent", Explains.CONSISTENT, do):
        judged = [
            result.tolerated
            for state in case.openings
            for result in state.results
            if result.stands and state.record in one.records and result.of_piece is None
        ]
        if judged and all(answer is Tolerated.WITHIN for answer in judged):
            told = f"{finding.message} The opening was within the maker's tolerance."
            found.append(replace(finding, standing=Standing.NOTE, message=told))
        else:
            found.append(replace(finding, standing=Standing.AGAINST))
    return tuple(found)


def explains_part(case: Case) -> Results:
    """Say how much of a seam's taper the opening could account for at most."""
    do = "Look for what turned the pieces besides: supports, fixings, the pieces themselves."
    return _with(case, "opening-explains-part", Explains.PART, Standing.NOTE, do)


def does_not_explain(case: Case) -> Results:
    """Say that the opening does not account for a seam's taper."""
    do = "Look for what turned the pieces instead: supports, fixings, the pieces themselves."
    return _with(case, "opening-does-not-explain", Explains.NOT, Standing.SUPPORTS, do)


def taper_cannot_tell(case: Case) -> Results:
    """Say where a taper cannot be held against the opening, and which reading would settle it."""
    return _with(case, "opening-taper-cannot-tell", Explains.CANNOT_TELL, Standing.MISSING, "")


def _with(case: Case, rule: str, answer: Explains, standing: Standing, do: str) -> Results:
    return tuple(
        replace(finding, standing=standing) for finding, _ in _explained(case, rule, answer, do)
    )


def _explained(
    case: Case, rule: str, answer: Explains, do: str
) -> Iterator[tuple[Finding, Explanation]]:
    for one in case.explanations:
        if one.answer is answer:
            sources = tuple(dict.fromkeys((*one.sources, *seam_sources(case, one.seam))))
            told, settle = one.because, do or one.settle
            yield (
                Finding(rule, Standing.NOTE, _place(one), told, settle, sources, METHOD),
                one,
            )


def _place(one: Explanation) -> str:
    return f"seam {one.seam}, piece {one.piece}" if one.piece else f"seam {one.seam}"


CHECKS: tuple[tuple[str, str, Callable[[Case], Results]], ...] = (
    ("opening-consistent", "A seam's taper is consistent with the opening", consistent),
    ("opening-explains-part", "The opening explains at most a part of a taper", explains_part),
    ("opening-does-not-explain", "The opening does not explain a seam's taper", does_not_explain),
    (
        "opening-taper-cannot-tell",
        "A taper cannot be held against the opening",
        taper_cannot_tell,
    ),
)
