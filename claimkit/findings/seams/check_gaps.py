"""What is said of the gaps: out or in at the dry fit, opened or not since, out or in now.

A gap that opened after the dry fit is said as plainly as one that was there before the work. What
cannot be told comes with what would settle it, and what was not compared with the reason.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from claimkit.findings.pieces import same_piece
from claimkit.findings.seams import check_missing as check_gap_missing
from claimkit.findings.seams import check_readings as check_gap_readings
from claimkit.findings.seams import sealant, stage_times
from claimkit.findings.seams.answers import design_of
from claimkit.findings.seams.compare import fit
from claimkit.findings.seams.gaps import is_past, overall, seam_sources, seams_of
from claimkit.findings.seams.normal import RISK
from claimkit.findings.seams.together import grouped, judged_together
from claimkit.findings.seams.words import BUDGET, METHOD, moved_within, place
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.gap import Change, Comparison, Fit
from claimkit.model.job import Seam
from claimkit.model.seam_line import WholeSeam
from claimkit.model.source import Source

Results = tuple[Finding | NotChecked, ...]


@dataclass(frozen=True, slots=True)
class _Said:
    """What a finding says, apart from where and on what evidence."""

    rule: str
    standing: Standing
    message: str
    do_next: str = ""
    urgent: bool = False


def out_at_dry_fit(case: Case) -> Results:
    """Say that a gap was outside its design before anything was fastened."""
    found = []
    for c in overall(case):
        if c.before is None or c.at_dry_fit.fit is not Fit.OUTSIDE:
            continue
        still_loose = not is_past(case, c.before)
        do = (
            "Do not fasten. Photograph the seam with a scale, tell the seller and the maker in "
            "writing, and wait for their answer."
            if still_loose
            else "Keep this reading and its photos with what goes to the seller and the maker."
        )
        told = f"The gap was outside its design at the dry fit. {c.at_dry_fit.because}"
        found.append(
            _finding(case, c, _Said("gap-out-at-dry-fit", Standing.SUPPORTS, told, do, still_loose))
        )
    return tuple(found)


def in_at_dry_fit(case: Case) -> Results:
    """Say that a gap was within its design at the dry fit, whoever that serves."""
    found = []
    for c in overall(case):
        if c.before is None or c.at_dry_fit.fit is not Fit.WITHIN:
            continue
        standing = {
            Fit.OUTSIDE: Standing.AGAINST,
            Fit.WITHIN: Standing.SUPPORTS,
            Fit.CANNOT_TELL: Standing.NOTE,
        }[c.now.fit]
        told = f"The gap was within its design at the dry fit. {c.at_dry_fit.because}"
        found.append(_finding(case, c, _Said("gap-in-at-dry-fit", standing, told)))
    return tuple(found)


def opened(case: Case) -> Results:
    """Say that a gap opened after the dry fit, and in which step."""
    do = (
        "Find what moved: look at supports, fixings and sealant, and read the seam again at the "
        "same stations. Tell the customer what was read."
    )
    return tuple(_moved(case, "gap-opened", Change.OPENED, Standing.AGAINST, do))


def closed(case: Case) -> Results:
    """Say that a gap closed after the dry fit, and in which step."""
    do = "Look for pieces pressed together or edges that bear on each other."
    return tuple(_moved(case, "gap-closed", Change.CLOSED, Standing.NOTE, do))


def unchanged(case: Case) -> Results:
    """Say that a gap is as it was at the dry fit, within the change that matters."""
    return tuple(
        _finding(case, c, _Said("gap-unchanged", Standing.SUPPORTS, c.change.because))
        for c in overall(case)
        if c.change.change is Change.UNCHANGED
    )


def out_now(case: Case) -> Results:
    """Say that a gap is outside its design at the latest reading."""
    found = []
    for c in overall(case):
        if c.after is None or c.now.fit is not Fit.OUTSIDE:
            continue
        was_out = c.at_dry_fit.fit is Fit.OUTSIDE
        told = f"The gap is outside its design at the latest reading. {c.now.because}"
        if was_out:
            told += " It was so at the dry fit too."
        do = "Follow the maker's instructions for a gap of this size before it is sealed or used."
        standing = Standing.NOTE if was_out else Standing.AGAINST
        found.append(_finding(case, c, _Said("gap-out-now", standing, told, do)))
    return tuple(found)


def in_now(case: Case) -> Results:
    """Say that a gap is within its design at the latest reading."""
    text = "The gap is within its design at the latest reading."
    return tuple(
        _finding(case, c, _Said("gap-in-now", Standing.SUPPORTS, f"{text} {c.now.because}"))
        for c in overall(case)
        if c.after is not None and c.now.fit is Fit.WITHIN
    )


def cannot_tell(case: Case) -> Results:
    """Say which of the three answers the readings cannot give, and what would settle it."""
    return tuple(found for _, found in left_open(case))


def left_open(case: Case) -> Iterator[tuple[tuple[str, ...], Finding]]:
    """Give each finding on what readings cannot tell, with the names of those answers."""
    for c in overall(case):
        open_: list[tuple[str, str, str]] = []
        for what, judged in (("Fit at the dry fit", c.at_dry_fit), ("Fit now", c.now)):
            if judged.fit is Fit.CANNOT_TELL and judged.p_within is not None:
                open_.append((what, judged.because, judged.settle))
        if c.change.change is Change.CANNOT_TELL and c.change.p_unchanged is not None:
            open_.append(("Change", c.change.because, c.change.settle))
        if open_:
            told = " ".join(f"{what}: cannot tell. {because}" for what, because, _ in open_)
            do = " ".join(dict.fromkeys(f"{what}: {settle}" for what, _, settle in open_ if settle))
            said = _Said("gap-cannot-tell", Standing.MISSING, told, do)
            yield tuple(what for what, _, _ in open_), _finding(case, c, said)


def together(case: Case) -> Results:
    """Judge the stations of a seam together, with the factor that their number asks for."""
    found: list[Finding | NotChecked] = []
    for seam in seams_of(case):
        groups: dict[tuple[str, str], list[Comparison]] = {}
        for c in overall(case):
            if c.seam == seam.id:
                groups.setdefault(((c.piece or "").casefold(), c.how), []).append(c)
        for (_, how), group in groups.items():
            standing, moved = _changes_together(seam, group)
            told = " ".join(text for text in (moved, _fits_together(seam, group)) if text)
            if told:
                where = place(seam.id, None, group[0].piece)
                where += "" if how == "by hand" else f", {how}"
                sources = tuple(dict.fromkeys(s for c in group for s in _sources(case, c)))
                cited = f"{METHOD}; several statements share the risk of 5 % (Bonferroni)"
                found.append(
                    Finding("gap-seam-together", standing, where, told, "", sources, cited)
                )
    return tuple(found)


def _changes_together(seam: Seam, group: list[Comparison]) -> tuple[Standing, str]:
    planned = () if group[0].piece else tuple(station.id for station in seam.station)
    judged = judged_together(group, planned)
    if judged is None:
        return Standing.NOTE, ""
    standing = {
        WholeSeam.OPENED: Standing.AGAINST,
        WholeSeam.BOTH: Standing.AGAINST,
        WholeSeam.UNCHANGED: Standing.SUPPORTS,
    }
    return standing.get(judged.answer, Standing.NOTE), judged.because


def _fits_together(seam: Seam, group: list[Comparison]) -> str:
    limits = design_of(seam)
    readings = [c.before for c in group if c.before is not None]
    if len(readings) < 2 or isinstance(limits, str):
        return ""
    risk = RISK / len(readings)
    turned = {c.station for c in group if c.at_dry_fit.by_temperature}
    answers = [
        (r.station, Fit.CANNOT_TELL if r.station in turned else fit(r.measurement, limits, risk)[0])
        for r in readings
    ]
    return f"At the dry fit, {len(readings)} stations together: {grouped(answers)}."


def _moved(case: Case, rule: str, which: Change, standing: Standing, do: str) -> Iterator[Finding]:
    """Tell a change of one kind once for each station and piece, with the steps that hold it."""
    for whole in overall(case):
        steps = [c for c in case.comparisons if c.step and _same_place(c, whole)]
        hits = [c for c in steps if c.change.change is which]
        if whole.change.change is not which and not hits:
            continue
        word = which.value
        told = []
        if hits:
            told.append(f"The gap {word} between {'; and '.join(c.between for c in hits)}.")
            still: dict[str, list[str]] = {}
            for c in steps:
                if c.change.change is Change.UNCHANGED:
                    said = moved_within(c.change) or "was unchanged"
                    still.setdefault(said, []).append(c.between)
            for said, between in still.items():
                told.append(f"It {said} between {'; and between '.join(between)}.")
        elif steps:
            told.append(f"The gap {word}, and no single step can be shown to hold it.")
        told += [c.change.because for c in hits or [whole]]
        sources = tuple(dict.fromkeys(s for c in [*hits, whole] for s in _sources(case, c)))
        where = place(whole.seam, whole.station, whole.piece)
        yield Finding(rule, standing, where, " ".join(told), do, sources, f"{METHOD}; {BUDGET}")


def _same_place(a: Comparison, b: Comparison) -> bool:
    return (a.seam, a.station) == (b.seam, b.station) and same_piece(a.piece, b.piece)


def _finding(case: Case, c: Comparison, said: _Said) -> Finding:
    return Finding(
        said.rule,
        said.standing,
        place(c.seam, c.station, c.piece),
        said.message,
        said.do_next,
        _sources(case, c),
        f"{METHOD}; {BUDGET}",
        said.urgent,
    )


def _sources(case: Case, c: Comparison) -> tuple[Source, ...]:
    readings = tuple(r.source for r in (c.before, c.after) if r)
    return (*readings, *seam_sources(case, c.seam))


CHECKS: tuple[tuple[str, str, Callable[[Case], Results]], ...] = (
    ("gap-out-at-dry-fit", "A gap was outside its design at the dry fit", out_at_dry_fit),
    ("gap-in-at-dry-fit", "A gap was within its design at the dry fit", in_at_dry_fit),
    ("gap-opened", "A gap opened after the dry fit", opened),
    ("gap-closed", "A gap closed after the dry fit", closed),
    ("gap-unchanged", "A gap did not change by more than matters since the dry fit", unchanged),
    ("gap-out-now", "A gap is outside its design at the latest reading", out_now),
    ("gap-in-now", "A gap is within its design at the latest reading", in_now),
    ("gap-cannot-tell", "Readings cannot decide whether a gap is in design or moved", cannot_tell),
    ("gap-seam-together", "The stations of a seam are judged together", together),
    *check_gap_missing.CHECKS,
    *check_gap_readings.CHECKS,
    *sealant.CHECKS,
    *stage_times.CHECKS,
)
