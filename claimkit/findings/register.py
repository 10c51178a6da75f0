"""The register: every stage in the order it runs, every check with its public rule id.

A literal list: what is not named here does not run. Rule ids are public and never reused.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from claimkit.findings.claim import addressee, amount, check_office, elements, liability
from claimkit.findings.delivery import check_arrivals, check_work, received
from claimkit.findings.limits import check_limits, check_terms
from claimkit.findings.limits import stage as limits
from claimkit.findings.receipt import check_receipt
from claimkit.findings.receipt import grade as receipt
from claimkit.findings.seams import (
    check_cards,
    check_gaps,
    check_lines,
    check_opening,
    check_photo_gaps,
    gaps,
    opening,
    photo_gaps,
    seam_lines,
)
from claimkit.findings.timeline import check_photos, episodes, photos
from claimkit.model.case import Case, Finding, NotChecked


@dataclass(frozen=True, slots=True)
class Stage:
    """A derivation that fills one part of the case."""

    id: str
    run: Callable[[Case], Case]


@dataclass(frozen=True, slots=True)
class Check:
    """A rule with its public id, its title for docs/rules.md, and its function."""

    id: str
    title: str
    run: Callable[[Case], tuple[Finding | NotChecked, ...]]


STAGES: tuple[Stage, ...] = (
    Stage("stage-episodes", episodes.work_out),
    Stage("stage-photos", photos.work_out),
    Stage("stage-receipts", receipt.work_out),
    Stage("stage-received", received.work_out),
    Stage("stage-limits", limits.work_out),
    Stage("stage-photo-gaps", photo_gaps.work_out),
    Stage("stage-gaps", gaps.work_out),
    Stage("stage-seam-lines", seam_lines.work_out),
    Stage("stage-openings", opening.work_out),
    Stage("stage-amount", amount.work_out),
    Stage("stage-liability", liability.work_out),
    Stage("stage-elements", elements.work_out),
    Stage("stage-addressees", addressee.work_out),
)

CHECKS: tuple[Check, ...] = tuple(
    Check(rule, title, run)
    for module in (
        check_photos,
        check_work,
        check_receipt,
        check_limits,
        check_gaps,
        check_lines,
        check_photo_gaps,
        check_cards,
        check_opening,
        check_office,
        check_terms,
        check_arrivals,
    )
    for rule, title, run in module.CHECKS
)
