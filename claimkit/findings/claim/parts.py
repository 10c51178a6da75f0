"""The three things that make a communication a claim: 49 CFR 370.3(b), checked one by one.

It identifies the shipment, asserts that the carrier is liable, and demands a specified or
determinable amount of money. A letter without one of them is a notice and no claim, and is never
called ready.
"""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.findings.claim.worksheet import gaps, not_whole, of_shipment, total
from claimkit.findings.limits.conditions import damages_of, short_at_curb
from claimkit.findings.limits.events import carriers_of, name_of, source_in_job, source_of
from claimkit.model.answers import Answer
from claimkit.model.case import Case
from claimkit.model.job import Job, Shipment
from claimkit.model.source import Source

CITATION = "49 CFR 370.3(b) (wording read)"
IDENTIFIES = "identifies the shipment"
ASSERTS = "asserts that the carrier is liable"
DEMANDS = "demands a specified amount"


@dataclass(frozen=True, slots=True)
class ClaimPart:
    """One of the three things: whether the record gives it, and what to enter where not."""

    name: str
    holds: bool
    text: str
    enter: str
    sources: tuple[Source, ...]


def claim_parts(case: Case, shipment: Shipment) -> tuple[ClaimPart, ...]:
    """Give the three things in the order of the rule."""
    job = case.facts.job
    if job is None:
        raise ValueError("a shipment stands in a job")
    return (
        _identifies(case, shipment),
        _asserts(case, job, shipment),
        _demands(case, shipment),
    )


def ready(case: Case, shipment: Shipment) -> bool:
    """Tell whether all three are there."""
    return all(part.holds for part in claim_parts(case, shipment))


def wrong_with(case: Case, shipment: Shipment) -> tuple[Source, ...]:
    """Give the sources that say that something is damaged, short or not delivered."""
    found = [source_of(r, "what") for r, d in damages_of(case, shipment) if d.resolved is None]
    found += [
        s for d in case.differences if d.shipment == shipment.id and d.short for s in d.sources
    ]
    found += [source for _, source in short_at_curb(case, shipment)]
    return tuple(dict.fromkeys(found))


def _identifies(case: Case, shipment: Shipment) -> ClaimPart:
    numbers = (("pro_number", "PRO"), ("bill_number", "bill of lading"))
    named = [(key, f"{word} {getattr(shipment, key)}") for key, word in numbers]
    there = [(key, text) for key, text in named if getattr(shipment, key)]
    sources = tuple(source_in_job(case, shipment, key) for key, _ in there)
    if there:
        return ClaimPart(IDENTIFIES, True, ", ".join(text for _, text in there), "", sources)
    return ClaimPart(
        IDENTIFIES,
        False,
        "neither the freight-bill (PRO) number nor the bill of lading's number is entered",
        f"Enter pro_number or bill_number of shipment {shipment.id} in job.toml.",
        (source_in_job(case, shipment, "pro_number"),),
    )


def _asserts(case: Case, job: Job, shipment: Shipment) -> ClaimPart:
    carriers = sorted(carriers_of(job, shipment))
    wrong = wrong_with(case, shipment)
    if not carriers:
        return ClaimPart(
            ASSERTS,
            False,
            "no carrier of this shipment is known; a broker is none",
            "Enter the carrier whose truck came as the shipment's carrier in job.toml.",
            (source_in_job(case, shipment, "carrier"),),
        )
    if not wrong:
        return ClaimPart(
            ASSERTS,
            False,
            "nothing is recorded as damaged, short or not delivered",
            "Write a damage record or an unpacking record with the counts.",
            (source_in_job(case, shipment, "carrier"),),
        )
    names = " and ".join(name_of(job, party) for party in carriers)
    return ClaimPart(ASSERTS, True, f"{names} is held liable", "", wrong)


def _demands(case: Case, shipment: Shipment) -> ClaimPart:
    lines = of_shipment(case, shipment.id)
    whole = total(lines)
    lacking = gaps(case, shipment.id)
    sources = tuple(dict.fromkeys(source for line in lines for source in line.sources))
    if lacking:
        why = not_whole(case, shipment.id)
        text = f"the amount is n{why[1:].removesuffix('.')}"
        sources = sources or (source_in_job(case, shipment, "id"),)
        return ClaimPart(DEMANDS, False, text, " ".join(g.reason for g in lacking), sources)
    if whole is None or whole.amount <= 0:
        return ClaimPart(
            DEMANDS,
            False,
            "no amount above zero follows from the record",
            "Enter the purchase invoice prices of what is damaged or short.",
            sources or (source_in_job(case, shipment, "id"),),
        )
    return ClaimPart(DEMANDS, True, str(whole), "", sources)


def same_amount(case: Case, shipment: Shipment, currency: str, amount: object) -> Answer:
    """Tell whether an amount is the worksheet's."""
    whole = total(of_shipment(case, shipment.id))
    if whole is None or whole.currency != currency:
        return Answer.CANNOT_TELL
    return Answer.YES if whole.amount == amount else Answer.NO
