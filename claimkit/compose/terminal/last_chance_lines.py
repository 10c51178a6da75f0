"""Lines on the last chance to read each gap, told once and in the order of the milestones."""

from __future__ import annotations

from claimkit.compose.terminal.text import wrapped
from claimkit.findings.seams.last_chance import LastChance, last_chances
from claimkit.findings.seams.words import place
from claimkit.findings.unread import may_stand_in
from claimkit.model.case import Case, Finding

GONE = "gone for good"


def last_chance(case: Case) -> list[str]:
    """Print what to read before fastening, what before the sealant, and what is gone for good."""
    groups: dict[tuple[str, str, str], list[LastChance]] = {}
    for chance in last_chances(case):
        when = GONE if chance.gone else f"before {chance.before}"
        groups.setdefault((when, chance.text, chance.rule), []).append(chance)
    lines: list[str] = []
    for (when, text, rule), members in groups.items():
        where = "; ".join(chance.where() for chance in members)
        lines += wrapped(f"{when.upper()}: {where}: {text} [{rule}]", " " * 6, "  ")
    unused = may_stand_in(case.facts)
    if lines and unused:
        lines += wrapped(f"A reading or a step that is missing here: {unused}", " " * 6, "  ")
    return lines


def told_elsewhere(case: Case) -> tuple[Finding, ...]:
    """Give the findings that the lines above do not tell already."""
    told = {(chance.rule, where) for chance in last_chances(case) for where in _places(chance)}
    return tuple(f for f in case.findings if (f.rule, f.where) not in told)


def _places(chance: LastChance) -> list[str]:
    whole = place(chance.seam, None, chance.piece)
    return [whole, *(place(chance.seam, station, chance.piece) for station in chance.stations)]
