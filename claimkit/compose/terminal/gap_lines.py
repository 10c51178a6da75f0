"""Lines on gaps: readings, the three answers of each station, and what photos show."""

from __future__ import annotations

from dataclasses import replace

from claimkit.compose.phrases import fit_told, gap, heat_out, percent, settling, site_zone, stretch
from claimkit.compose.terminal.along_lines import along
from claimkit.compose.terminal.last_chance_lines import last_chance, told_elsewhere
from claimkit.compose.terminal.lines import findings, head, not_checked
from claimkit.compose.terminal.opening_lines import openings
from claimkit.compose.terminal.photo_gap_lines import photo_gaps
from claimkit.compose.terminal.text import section, wrapped
from claimkit.findings.seams.check_gaps import left_open
from claimkit.findings.seams.rule_names import RULES
from claimkit.findings.seams.sealant import TOLD as OVER_SEALANT
from claimkit.findings.seams.words import moved_within
from claimkit.findings.unread import may_stand_in
from claimkit.model.case import Case, Finding
from claimkit.model.gap import Change, Comparison, GapReading


def gaps(case: Case) -> list[str]:
    """Print readings, the three answers of each station, and each step that moved."""
    lines = head(case, "gaps")
    overall = [c for c in case.comparisons if not c.step]
    shared = _settled_alike(overall)
    for compared in overall:
        piece = f", {compared.piece}" if compared.piece else ""
        how = "" if compared.how == "by hand" else f", {compared.how}"
        title = f"Seam {compared.seam}, station {compared.station}{piece}{how}"
        lines += section(title, _station(case, compared, shared))
    lines += section("To settle it at several stations", _several(shared))
    lines += along(case)
    if not case.readings:
        text = f"No gap readings are recorded. {may_stand_in(case.facts)}"
        lines += ["", *wrapped(text.rstrip())]
    lines += section("Photos with a scale card", photo_gaps(case))
    lines += openings(case)
    lines += section("Last chance to read a gap", last_chance(case))
    rest = replace(case, findings=_shortened(case))
    lines += section("Findings", findings(rest, *RULES))
    lines += section("Not checked", not_checked(case, *RULES))
    return lines


def _shortened(case: Case) -> tuple[Finding, ...]:
    """Give the findings without the reasoning that the sections of the stations have given."""
    told = "Cannot tell: {}. The numbers stand in its section above."
    short = {
        found: replace(found, message=told.format(", ".join(answers).lower()))
        for answers, found in left_open(case)
    }
    return tuple(short.get(found, found) for found in told_elsewhere(case))


Alike = dict[tuple[str, str], list[Comparison]]


def _settled_alike(overall: list[Comparison]) -> Alike:
    """Give the sentences on what would settle an answer that more than one station has."""
    found: Alike = {}
    for compared in overall:
        for answers, text in settling(compared):
            found.setdefault((answers, text), []).append(compared)
    return {key: members for key, members in found.items() if len(members) > 1}


def _several(shared: Alike) -> list[str]:
    lines: list[str] = []
    for (answers, text), members in shared.items():
        seams: dict[str, list[str]] = {}
        for c in members:
            seams.setdefault(c.seam, []).append(c.station)
        where = "; ".join(
            f"seam {seam}, {', '.join(dict.fromkeys(names))}" for seam, names in seams.items()
        )
        lines += wrapped(f"{answers} ({where}): {text}", " " * 6, "  ")
    return lines


def _station(case: Case, overall: Comparison, shared: Alike) -> list[str]:
    def same(other: Comparison | GapReading) -> bool:
        key = (overall.seam, overall.station, overall.piece)
        return (other.seam, other.station, other.piece) == key

    lines: list[str] = []
    zone = site_zone(case)
    shown = {r.meaning for r in (overall.before, overall.after) if r}
    for reading in (r for r in case.readings if same(r) and r.meaning in shown):
        fit = ""
        if reading == overall.before:
            fit = f", {fit_told(overall.at_before or overall.at_dry_fit)}"
        elif reading == overall.after:
            fit = f", {fit_told(overall.now)}"
        if reading.over_sealant:
            fit += f", {OVER_SEALANT}"
        when = f"{reading.stage.value}, {stretch(reading.taken, zone)}"
        lines += wrapped(f"{when}: {gap(reading.measurement)}{fit}", " " * 6)
    lines += _change(overall)
    moved = (Change.OPENED, Change.CLOSED)
    for step in filter(same, case.comparisons):
        if step.step and step.how == overall.how and step.change.change in moved:
            lines += _change(step)
    for answers, text in settling(overall):
        if (answers, text) in shared:
            lines += wrapped(f"To settle {answers}: see below.", " " * 6, "  ")
        else:
            lines += wrapped(f"To settle {answers}: {text}", " " * 6, "  ")
    return lines


def _change(compared: Comparison) -> list[str]:
    change = compared.change
    if change.difference is None:
        return wrapped(f"{change.change.value}: {change.because}", " " * 6, "  ")
    odds = (change.p_opened, change.p_closed, change.p_unchanged)
    names = ("opened", "closed", "unchanged")
    shown = ", ".join(f"{n} {percent(p)}" for n, p in zip(names, odds, strict=True))
    said = moved_within(change) or change.change.value.upper()
    text = f"{said[0].upper()}{said[1:]} between {compared.between}: "
    lines = wrapped(f"{text}{gap(change.difference)} ({shown})", " " * 6, "  ")
    heat = heat_out(compared)
    return lines + (wrapped(heat, " " * 6) if heat else [])
