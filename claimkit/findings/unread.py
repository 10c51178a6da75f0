"""Files that could not be used: what is said to be nowhere may stand in one of them.

A record with a typing error states nothing that claimkit knows. Every sentence that says that
something is recorded nowhere then names these files beside it.
"""

from __future__ import annotations

import re
from dataclasses import replace

from claimkit.findings.wording import counted, listed
from claimkit.model.case import Case
from claimkit.model.facts import Facts

ABSENCE = re.compile(
    r"\b(?:no|not|nothing|nobody|none|never|without)\b[^.]*"
    r"\b(?:record|records|recorded|reading|readings|read|checked|named|names|states|stated|says|"
    r"said|entered|shown|told|there|photo|record of)\b",
    re.IGNORECASE,
)
"""A sentence that says that something is nowhere on record (our own wording)."""


def with_unread(case: Case) -> Case:
    """Give the case with each statement of absence naming the files that could not be used."""
    told = may_stand_in(case.facts)
    if not told:
        return case
    return replace(
        case,
        findings=tuple(
            replace(f, message=f"{f.message} {told}") if ABSENCE.search(f.message) else f
            for f in case.findings
        ),
        not_checked=tuple(
            replace(n, reason=f"{n.reason} {told}")
            if not n.crashed and ABSENCE.search(n.reason)
            else n
            for n in case.not_checked
        ),
    )


def may_stand_in(facts: Facts) -> str:
    """Say which files could not be used and may state what is missing; empty where all could."""
    paths = facts.unused()
    if not paths:
        return ""
    return f"It may stand in what could not be used: {listed(paths)}."


def unused_told(facts: Facts) -> str:
    """Say how many files could not be used, and name them all; empty where all could."""
    paths = facts.unused()
    if not paths:
        return ""
    return (
        f"{counted(len(paths), 'file')} could not be used, and what stands in "
        f"{'it' if len(paths) == 1 else 'them'} is missing from all that follows: "
        f"{', '.join(paths)}."
    )
