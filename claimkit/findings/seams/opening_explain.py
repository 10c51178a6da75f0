"""For each seam, what the checks of its wall, its base and its pieces say together of its taper.

A wall and a base are often checked in records of their own. Of each kind the last check before
the pieces were fastened counts. A corner is named at the wall behind the piece whose face it
meets; where two walls name it, which one turns it is not known.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from claimkit.findings.seams.opening_offsets import Run
from claimkit.findings.seams.opening_taper import Seen, explain, seen
from claimkit.findings.seams.opening_turn import Turn, turn
from claimkit.findings.seams.opening_when import before_piece, joints_that_gape
from claimkit.model.answers import Answer
from claimkit.model.case import Case
from claimkit.model.job import Joint, Seam
from claimkit.model.opening import Checked, Explains, Explanation, OpeningResult, OpeningState


@dataclass(frozen=True, slots=True)
class Working:
    """A check worked out, with the line of its base and where a butt seam meets it, in mm."""

    state: OpeningState
    level: Run | None
    seam_at: float | None


@dataclass(frozen=True, slots=True)
class _Chosen:
    """Of each kind the result that counts for one seam and piece, and the checks they are from."""

    results: tuple[OpeningResult, ...]
    level: Run | None
    seam_at: float | None
    states: tuple[OpeningState, ...]
    walls: tuple[str, ...]


def explanations(case: Case, work: list[Working]) -> Iterator[Explanation]:
    """Give what the checks say of every seam that they name and that has a gap."""
    job = case.facts.job
    gaping = set(joints_that_gape(case))
    for seam in job.seam if job else ():
        mine = [one for one in work if seam.id in one.state.seams]
        if seam.id not in gaping or not mine:
            continue
        shown = list(seen(case, seam))
        if not shown:
            yield _not_read(seam, _chosen(mine))
        for one in shown:
            yield _explained(case, seam, one, mine)


def _explained(case: Case, seam: Seam, shown: Seen, mine: list[Working]) -> Explanation:
    when = [
        (before_piece(case, seam.id, shown.piece, one.state.taken), one.state.when) for one in mine
    ]
    before = [one for one, (answer, _) in zip(mine, when, strict=True) if answer is Answer.YES]
    chosen = _chosen(before or mine)
    known = (Answer.YES, "before fastening") if before else when[-1]
    given = _turn(seam, chosen, is_change=shown.is_change)
    answer, because, settle = explain(shown, given, known)
    return Explanation(
        seam.id,
        shown.piece,
        answer,
        shown.taper,
        given.taper if before else None,
        shown.is_change,
        shown.between,
        because,
        settle,
        tuple(state.record for state in chosen.states),
        tuple(dict.fromkeys((*(s.sources[0] for s in chosen.states), *shown.sources))),
        given.because,
    )


def _not_read(seam: Seam, chosen: _Chosen) -> Explanation:
    given = _turn(seam, chosen, is_change=True)
    return Explanation(
        seam.id,
        None,
        Explains.NOTHING,
        None,
        given.taper,
        True,
        "",
        f"No change of the taper has been read yet. {given.because}",
        given.settle,
        tuple(state.record for state in chosen.states),
        tuple(state.sources[0] for state in chosen.states),
        given.because,
    )


def _chosen(work: list[Working]) -> _Chosen:
    """Take of each kind the last one; plumb is that of the last wall checked."""
    last: dict[tuple[Checked, bool], tuple[OpeningResult, Working]] = {}
    walls: dict[str, None] = {}
    for one in work:
        for result in one.state.results:
            last[result.what, result.of_piece is not None] = (result, one)
            if result.what is Checked.PLUMB:
                walls[one.state.opening.casefold()] = None
    base = last.get((Checked.LEVEL, False))
    states = {one.state.record: one.state for _, one in last.values()}
    return _Chosen(
        tuple(result for result, _ in last.values()),
        base[1].level if base else None,
        base[1].seam_at if base else None,
        tuple(states.values()) or (work[-1].state,),
        tuple(walls),
    )


def _turn(seam: Seam, chosen: _Chosen, *, is_change: bool) -> Turn:
    if seam.joint is Joint.CORNER and len(chosen.walls) > 1:
        names = " and ".join(chosen.walls)
        return Turn(
            None,
            f"Checks of {names} both name this corner, and which wall turns it is not known.",
            "Name the seam only at the wall behind the piece whose face it meets (seams), in a "
            "record that replaces the other.",
        )
    return turn(seam, chosen.results, chosen.level, chosen.seam_at, is_change=is_change)
