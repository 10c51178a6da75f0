"""Findings about supporting documents: those that a claim needs and nobody explains."""

from __future__ import annotations

from collections.abc import Callable

from claimkit.findings.claim.check_recognised import CHECKS as RECOGNISED
from claimkit.findings.claim.documents import supporting
from claimkit.findings.claim.parts import wrong_with
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.source import Source

MARKS = {"S": "wording read", "P": "summary read", "M": "from memory"}


def paper_missing(case: Case) -> tuple[Finding, ...]:
    """Name each document that the terms ask for and that is neither there nor explained."""
    job = case.facts.job
    found = []
    for shipment in job.shipment if job else ():
        if not wrong_with(case, shipment):
            continue
        for one in supporting(case, shipment):
            if one.open:
                wanted = one.wanted
                found.append(
                    Finding(
                        "paper-missing",
                        Standing.MISSING,
                        f"shipment {shipment.id}",
                        f"No “{wanted.paper}” is named in job.toml: it {wanted.why}.",
                        "Put it into documents/ and name it in job.toml ([[paper]], what = the "
                        "word above), or say in no_paper why it cannot be had.",
                        one.sources,
                        f"{wanted.citation} ({MARKS[wanted.mark]})",
                    )
                )
    return tuple(found)


def paper_not_there(case: Case) -> tuple[Finding, ...]:
    """Name documents that are said to be there and cannot be had at once."""
    job = case.facts.job
    return tuple(
        Finding(
            "paper-there-and-missing",
            Standing.NOTE,
            "job.toml",
            f"A {missing.what} is named as a paper and explained as missing.",
            f"Take out no_paper[{number}] of job.toml, or the paper that is not it.",
            (Source("job.toml", case.facts.job_sha256, f"no_paper[{number}]"),),
            "claimkit method: supporting documents",
        )
        for number, missing in enumerate(job.no_paper if job else (), 1)
        if any(
            p.what == missing.what and missing.shipment in (None, p.shipment)
            for p in (job.paper if job else ())
        )
    )


CHECKS: tuple[tuple[str, str, Callable[[Case], tuple[Finding | NotChecked, ...]]], ...] = (
    ("paper-missing", "A document that the terms ask for is not named", paper_missing),
    ("paper-there-and-missing", "A document both there and explained", paper_not_there),
    *RECOGNISED,
)
