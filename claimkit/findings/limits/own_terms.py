"""The user's own periods as clauses: of a contract or tariff, of the seller, of a policy.

Each entry of job.toml becomes a clause like a printed one, with the paper as its citation, so that
it is counted, met and shown in the same way. How long the packing must be kept is no limit to act
by and is told with the life of the claim.
"""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.model.contract import Duty, OwnTerm, Policy
from claimkit.model.job import Job, Shipment
from claimkit.model.limit import Clause
from claimkit.model.quantities import Span
from claimkit.rules import carriage
from claimkit.rules.terms.own import BY_CONTRACT, BY_POLICY, NOT_SAID


@dataclass(frozen=True, slots=True)
class Paper:
    """A period that a paper of the user's states, and which paper that is."""

    span: Span
    source: str


def own_clauses(job: Job, shipment: Shipment) -> tuple[Clause, ...]:
    """Give the clauses that the user entered for a shipment, and those of its policies."""
    number = job.shipment.index(shipment) + 1
    found = [
        _clause(term, f"shipment[{number}].own_term[{n}].length", carriage.OWN, f"own-{term.id}")
        for n, term in enumerate(shipment.own_term, start=1)
        if term.duty in BY_CONTRACT
    ]
    for place, policy in enumerate(job.policy, start=1):
        if policy.shipment in (None, shipment.id):
            for n, term in enumerate(policy.term, start=1):
                if term.duty in BY_POLICY:
                    key = f"policy[{place}].term[{n}].length"
                    name = f"insurer-{policy.number or place}-{term.id}".replace(" ", "-").lower()
                    found.append(_clause(term, key, carriage.INSURANCE, name, policy))
    return tuple(found)


def _clause(term: OwnTerm, key: str, body: str, name: str, policy: Policy | None = None) -> Clause:
    row = (BY_POLICY if policy else BY_CONTRACT)[term.duty]
    theirs = term.duty in (Duty.ACKNOWLEDGE, Duty.DECIDE)
    party = "" if theirs else term.to or (policy.insurer if policy else "")
    to = "the insurer" if policy else "the carrier"
    return Clause(
        id=name,
        terms=body,
        title=term.title,
        whose=row.whose,
        starts=term.runs_from.value,
        met_by=row.met_by,
        span=Span(0, carriage.PAPER_STATES, written=key),
        endpoint=carriage.PLAIN,
        cautious=carriage.FIRST_DAY_COUNTS,
        citation=term.source,
        mark="U",
        on_pass=_sentence(term.if_passed or NOT_SAID),
        do=row.do,
        to="a court, through a lawyer" if term.duty is Duty.SUIT else to,
        concerns=row.concerns,
        party="" if term.duty is Duty.SUIT else party,
    )


def papers(job: Job, shipment: Shipment) -> dict[str, Paper]:
    """Give every period that a paper of the user's states, by the key that holds it."""
    found: dict[str, Paper] = {}
    if job.sale:
        for name in ("report_within", "reject_within"):
            span: Span | None = getattr(job.sale, name)
            if span:
                found[f"sale.{name}"] = Paper(span, job.sale.source or "the terms of sale")
    number = job.shipment.index(shipment) + 1
    for n, term in enumerate(shipment.own_term, start=1):
        found[f"shipment[{number}].own_term[{n}].length"] = Paper(term.length, term.source)
    for place, policy in enumerate(job.policy, start=1):
        for n, term in enumerate(policy.term, start=1):
            found[f"policy[{place}].term[{n}].length"] = Paper(term.length, term.source)
    return found


def _sentence(text: str) -> str:
    return text if text.endswith((".", "!", "?")) else f"{text}."
