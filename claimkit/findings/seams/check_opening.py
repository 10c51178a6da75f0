"""What is said of an opening before fastening: checked or not, out or in, what to mend first.

An opening that was out is said as plainly as one that was in tolerance. What was checked too late
shows nothing of the state before, and that is said too.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from claimkit.findings.seams import check_opening_taper
from claimkit.findings.seams.gaps import seam_sources
from claimkit.findings.seams.normal import K_TWO_SIDED
from claimkit.findings.seams.opening import checks
from claimkit.findings.seams.opening_judge import opening_named
from claimkit.findings.seams.opening_turn import rate
from claimkit.findings.seams.opening_when import LOOSE, fastenings, joints_that_gape
from claimkit.findings.seams.opening_words import (
    METHOD,
    bow_text,
    certainly,
    noun,
    result_text,
    where_off,
    worst,
)
from claimkit.findings.seams.states import FIXED_STAGES
from claimkit.findings.seams.words import PRACTICE, listed
from claimkit.model.answers import Answer
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.job import Material
from claimkit.model.opening import (
    Checked,
    OpeningResult,
    OpeningState,
    Tolerated,
)
from claimkit.rules.cautions import CAUTIONS

Results = tuple[Finding | NotChecked, ...]

JUDGING = f"{METHOD} (JCGM 106:2012)"


def not_checked(case: Case) -> Results:
    """Say which seams were fastened, or are about to be, in an opening that nobody checked."""
    named: set[str] = set()
    for _, body in checks(case):
        named |= set(body.seams or joints_that_gape(case))
    fixed, loose = [], []
    for seam in joints_that_gape(case):
        stages = {r.stage for r in case.readings if r.seam == seam}
        if seam in named:
            continue
        if stages & FIXED_STAGES or any(fastenings(case, (seam,))):
            fixed.append(seam)
        elif stages & LOOSE:
            loose.append(seam)
    found = []
    if loose:
        do = (
            "Before anything is fastened, read the wall's plumb at three heights, the base's level "
            "at three places and both diagonals, and record them (opening_check)."
        )
        told = "Nobody has recorded whether the opening is plumb, level and square."
        found.append(_missing(case, loose, told, do, urgent=True))
    if fixed:
        told = (
            "The pieces were fastened and no opening check is recorded: whether the opening was "
            "plumb, level and square before that cannot be told."
        )
        do = "Enter any reading of the opening from before the fastening, with its date."
        found.append(_missing(case, fixed, told, do, urgent=False))
    return tuple(found)


def reading_not_usable(case: Case) -> Results:
    """Name readings of an opening that are no measurement, and what to write."""
    return tuple(
        NotChecked("opening-reading-not-usable", f"{state.opening}, {what.value}", why)
        for state in case.openings
        for what, why in state.unusable
    )


def no_tolerance(case: Case) -> Results:
    """Say where no result can be judged, because the maker's tolerance is not entered."""
    found = []
    for state, result in _standing(case):
        if result.of_piece is None and result.tolerance_mm is None:
            unknown = opening_named(case.facts.job, state.opening) is None
            why = result.because
            if unknown:
                why += f' Its name there must be the record\'s: "{state.opening}".'
            found.append(NotChecked("opening-no-tolerance", noun(state, result), why))
    return tuple(found)


def out_of_tolerance(case: Case) -> Results:
    """Say that an opening was out of the maker's tolerance before fastening."""
    return tuple(
        _finding(
            "opening-out-of-tolerance",
            Standing.AGAINST,
            (state, result),
            f"{_sentence(result)} It {_is(state)} outside the tolerance. {result.because}",
            "Do not fasten before it is mended and checked again."
            if state.open_still
            else "Say so wherever the gaps are discussed: it was so before the pieces were fixed.",
        )
        for state, result in _standing(case)
        if result.tolerated is Tolerated.OUTSIDE
    )


def within(case: Case) -> Results:
    """Say that an opening was within the maker's tolerance before fastening."""
    return tuple(
        _finding(
            "opening-within",
            Standing.SUPPORTS,
            (state, result),
            f"{_sentence(result)} It {_is(state)} within the tolerance. {result.because}",
        )
        for state, result in _standing(case)
        if result.tolerated is Tolerated.WITHIN
    )


def cannot_tell(case: Case) -> Results:
    """Say which results cannot be judged within or outside, and what would settle it."""
    return tuple(
        _finding(
            "opening-cannot-tell",
            Standing.MISSING,
            (state, result),
            f"{_sentence(result)} Whether that is within the tolerance cannot be told. "
            f"{result.because}",
            result.settle,
        )
        for state, result in _standing(case)
        if result.tolerated is Tolerated.CANNOT_TELL and result.p_within is not None
    )


def mend_first(case: Case) -> Results:
    """Say how many millimetres are off where, while it can still be mended."""
    found = []
    for state, result in _standing(case):
        off = where_off(result)
        if state.open_still and off and result.tolerated is not Tolerated.WITHIN:
            told = f"Off now, before anything is fastened: {'; '.join(off)}."
            effect = _effect(case, state)
            do = (
                "Mend it before anything is fastened, then check it again. Packing and shims only "
                f"as the maker's instructions allow. {_cautions(case)}"
            )
            about = (state, result)
            told = f"{told}{effect}"
            finding = _finding("opening-mend-first", Standing.NOTE, about, told, do)
            # Of several openings only the places are listed: the millimetres stand in them.
            found.append(replace(finding, where=f"{finding.where}, {worst(result)}"))
    return tuple(found)


def not_straight(case: Case) -> Results:
    """Say where a wall or a base is hollow or bellied."""
    return tuple(
        _finding(
            "opening-not-straight",
            Standing.NOTE,
            (state, result),
            f"A straightedge from the first place to the last would show it {bow_text(result)}.",
            "Pieces rest on the high places: look there before they are fastened."
            if state.open_still
            else "",
        )
        for state, result in _standing(case)
        if result.bow and result.bow.straight is Answer.NO
    )


def after_fastening(case: Case) -> Results:
    """Name checks that do not show the state before fastening."""
    found = []
    shown = {state.opening.casefold() for state, _ in _standing(case)}
    for state in case.openings:
        if state.before_fastening is Answer.YES:
            continue
        lacks = state.opening.casefold() not in shown
        found.append(
            Finding(
                "opening-after-fastening",
                Standing.MISSING if lacks else Standing.NOTE,
                state.opening,
                f"This check was made {state.when}."
                if state.before_fastening is Answer.NO
                else f"It is open {state.when}: it is not taken as the state before.",
                "Enter any reading of the opening from before the fastening." if lacks else "",
                state.sources,
                METHOD,
            )
        )
    return tuple(found)


def readings_disagree(case: Case) -> Results:
    """Name openings whose plumb and level say another angle than their diagonals."""
    found = []
    for state, wall in _of_kind(case, Checked.PLUMB):
        bases = [row for row in _of_kind(case, Checked.LEVEL) if _belong(state, row[0])]
        squares = [row for row in _of_kind(case, Checked.SQUARE) if _belong(state, row[0])]
        if not bases or not squares:
            continue
        base, square = bases[-1][1], squares[-1][1]
        lean, rise, angle = wall.mm_per_m, base.mm_per_m, square.mm_per_m
        if lean is None or rise is None or angle is None:
            continue
        apart = lean.plus(rise).minus(angle)
        if abs(apart.value_mm) - K_TWO_SIDED * apart.u_mm <= 0:
            continue
        found.append(
            Finding(
                "opening-readings-disagree",
                Standing.NOTE,
                state.opening,
                f"Plumb and level say another angle between wall and base than the diagonals, by "
                f"{rate(apart)}: the opposite sides are not parallel, or one reading is a slip.",
                "Read plumb and level of the opposite side too, and the diagonals again.",
                (wall.source, base.source, square.source),
                f"{METHOD}; two-sided 95 %",
            )
        )
    return tuple(found)


def _of_kind(case: Case, what: Checked) -> list[tuple[OpeningState, OpeningResult]]:
    return [row for row in _standing(case) if row[1].what is what and row[1].of_piece is None]


def _belong(a: OpeningState, b: OpeningState) -> bool:
    """Tell whether two checks are of one opening: the same name, or a seam that both name."""
    return a.opening.casefold() == b.opening.casefold() or bool(set(a.seams) & set(b.seams))


def _standing(case: Case) -> Iterator[tuple[OpeningState, OpeningResult]]:
    for state in case.openings:
        for result in state.results:
            if result.stands:
                yield state, result


def _sentence(result: OpeningResult) -> str:
    text = result_text(result)
    bow = bow_text(result)
    return f"Read before fastening: {text}{f'; {bow}' if bow else ''}."


def _is(state: OpeningState) -> str:
    return "is" if state.open_still else "was"


def _effect(case: Case, state: OpeningState) -> str:
    """Say what pieces that follow the opening would show at a seam not yet read again."""
    told = [
        f" At seam {one.seam}: {one.given}"
        for one in case.explanations
        if one.predicted is not None
        and certainly(one.predicted)
        and one.observed is None
        and state.record in one.records
    ]
    return "".join(told)


def _cautions(case: Case) -> str:
    wanted = ["lifting", "power-tools"]
    items = case.facts.job.item if case.facts.job else ()
    if any(item.material is Material.GLASS for item in items):
        wanted.append("glass")
    return " ".join(caution.text for caution in CAUTIONS if caution.id in wanted)


def _missing(case: Case, seams: list[str], told: str, do: str, *, urgent: bool) -> Finding:
    sources = tuple(s for seam in seams for s in seam_sources(case, seam))
    return Finding(
        "opening-not-checked",
        Standing.MISSING,
        f"seam {listed(seams)}",
        told,
        do,
        sources,
        f"{PRACTICE}; {METHOD}",
        urgent,
    )


def _finding(
    rule: str,
    standing: Standing,
    about: tuple[OpeningState, OpeningResult],
    told: str,
    do: str = "",
) -> Finding:
    """Make a finding about one result; it is urgent while it can still be mended."""
    state, result = about
    urgent = state.open_still and standing is not Standing.SUPPORTS
    sources = (result.source, *(s for s in state.sources if s.path == "job.toml"))
    return Finding(rule, standing, noun(state, result), told, do, sources, JUDGING, urgent)


CHECKS: tuple[tuple[str, str, Callable[[Case], Results]], ...] = (
    ("opening-not-checked", "Nobody checked the opening before fastening", not_checked),
    (
        "opening-reading-not-usable",
        "A reading of an opening is no measurement",
        reading_not_usable,
    ),
    ("opening-no-tolerance", "The maker's tolerance for an opening is not entered", no_tolerance),
    (
        "opening-out-of-tolerance",
        "An opening was out of tolerance before fastening",
        out_of_tolerance,
    ),
    ("opening-within", "An opening was within tolerance before fastening", within),
    (
        "opening-cannot-tell",
        "Readings cannot decide an opening's tolerance",
        cannot_tell,
    ),
    ("opening-mend-first", "An opening is off and can be mended before fastening", mend_first),
    ("opening-not-straight", "A wall or a base is hollow or bellied", not_straight),
    (
        "opening-after-fastening",
        "A check of the opening does not show the state before fastening",
        after_fastening,
    ),
    *check_opening_taper.CHECKS,
    (
        "opening-readings-disagree",
        "Plumb and level say another angle than the diagonals",
        readings_disagree,
    ),
)
