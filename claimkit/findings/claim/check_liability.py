"""Findings about the limit of liability: one below the loss, one not known, one not computed.

The claim is for the full actual loss in every case. What the carrier may show against it is told,
so that nobody is surprised, and what is missing for the figure is asked for.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from claimkit.findings.claim.liability import below_loss, in_words, missing
from claimkit.findings.limits.conditions import anything_wrong
from claimkit.findings.limits.events import source_in_job
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.job import Terms
from claimkit.rules.carriage import MARKS
from claimkit.rules.governing import law_named
from claimkit.rules.liability import ACTUAL_LOSS, ASK_FOR_RULES


def limit_below_loss(case: Case) -> tuple[Finding, ...]:
    """Name the limits that are less than the loss."""
    return tuple(
        Finding(
            rule="liability-limit-below-loss",
            standing=Standing.NOTE,
            where=f"shipment {limit.shipment}",
            message=(
                f"The carrier may show a limit of {in_words(limit.amount)} ({limit.title}); the "
                f"loss is {limit.loss}{'' if limit.whole else ' so far'}."
            ),
            do_next=(
                f"Claim {_loss(case, limit.shipment)}: the limit is the carrier's to show. Ask "
                "insurer and seller about the rest, and look for a declared value on the bill."
            ),
            evidence=limit.sources,
            citation=f"{limit.citation} ({MARKS[limit.mark]})",
        )
        for limit in below_loss(case)
    )


def _loss(case: Case, shipment: str) -> str:
    return law_named(case.facts.job, shipment).loss


def tariff_not_entered(case: Case) -> tuple[Finding, ...]:
    """Say per shipment that no limit is entered, where something is wrong with the goods."""
    found = []
    for shipment in case.facts.job.shipment if case.facts.job else ():
        motor = shipment.terms is Terms.US_INTERSTATE_MOTOR
        entered = shipment.liability and (
            shipment.liability.limit or shipment.liability.declared_value
        )
        if motor and not entered and anything_wrong(case, shipment):
            found.append(
                Finding(
                    rule="liability-tariff-not-entered",
                    standing=Standing.NOTE,
                    where=f"shipment {shipment.id}",
                    message=(
                        "No limit of liability is entered. Without one the carrier is liable for "
                        "the actual loss; its tariff or the bill may set a limit."
                    ),
                    do_next=(
                        "Look for a declared or released value on the bill, ask the carrier for "
                        "its rules, and enter what they say in [shipment.liability]."
                    ),
                    evidence=(source_in_job(case, shipment, "liability"),),
                    citation=f"{ACTUAL_LOSS} (wording read); {ASK_FOR_RULES}",
                )
            )
    return tuple(found)


def _not_computed(rule: str, case: Case) -> tuple[NotChecked, ...]:
    """Give what was left uncomputed under that rule id."""
    return tuple(NotChecked(m.rule, m.where, m.reason) for m in missing(case) if m.rule == rule)


NOT_COMPUTED = (
    ("liability-not-computed", "A limit for which a weight or a count is missing"),
    ("liability-outside-effective-dates", "A limit that was not in force when the goods moved"),
    ("liability-sdr-not-converted", "A rate for special drawing rights without its day or source"),
)

CHECKS: tuple[tuple[str, str, Callable[[Case], tuple[Finding | NotChecked, ...]]], ...] = (
    ("liability-limit-below-loss", "The carrier may show a limit below the loss", limit_below_loss),
    ("liability-tariff-not-entered", "No limit of liability is entered", tariff_not_entered),
    *((rule, title, partial(_not_computed, rule)) for rule, title in NOT_COMPUTED),
)
