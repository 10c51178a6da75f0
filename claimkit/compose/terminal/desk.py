"""What every letter is composed from: the parties, the shipment and its numbers, blanks, sources.

A fact that is missing leaves a marked blank, and the letter then says that it is not ready. No
sentence here knows a fact that no record states.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from claimkit.compose.blocks import say
from claimkit.compose.phrases import job_source, method
from claimkit.findings.limits.events import (
    CARRIER_ROLES,
    carriers_of,
    deliveries,
    local_day,
    nothing_received,
    source_of,
)
from claimkit.model.case import Case
from claimkit.model.document import Statement
from claimkit.model.job import Job, Party, Role, Shipment
from claimkit.model.source import Source

LETTERS = method("letters")
BLANK = "______________"


@dataclass(slots=True)
class Desk:
    """One letter being composed. `lacking` gathers what keeps it from being sent as it is."""

    case: Case
    job: Job
    shipment: Shipment
    lacking: list[str] = field(default_factory=list)

    def key(self, name: str) -> Source:
        """Name a key of the shipment's table in job.toml."""
        number = self.job.shipment.index(self.shipment) + 1
        return job_source(self.case, f"shipment[{number}].{name}")

    def blank(self, what: str, enter: str) -> str:
        """Leave a marked blank and note what fills it."""
        self.lacking.append(enter)
        return f"{BLANK} ({what}, to be filled in)"

    def fact(self, name: str, what: str) -> Statement:
        """State a text of the shipment's table, or leave a blank that keeps the letter back."""
        value = getattr(self.shipment, name)
        text = str(value) if value else self.blank(what, f"Enter {name} in job.toml: {what}.")
        return say(text, self.key(name))

    def known(self, name: str) -> Statement | None:
        """State a text of the shipment's table where it is entered."""
        value = getattr(self.shipment, name)
        return say(str(value), self.key(name)) if value else None

    def with_role(self, *roles: Role) -> Party | None:
        """Give the first party of these roles, in the order of the roles."""
        return next((p for role in roles for p in self.job.party if role in p.roles), None)

    def us(self) -> Party | None:
        """Give who writes: the owner, else the consignee or installer."""
        return self.with_role(Role.OWNER, Role.CONSIGNEE, Role.INSTALLER)

    def carrier(self) -> Party | None:
        """Give the carrier to write to: the one whose truck came, if it is a carrier."""
        there = carriers_of(self.job, self.shipment)
        party = self.job.party_named(self.shipment.carrier)
        if party and party.id in there and set(party.roles) & CARRIER_ROLES:
            return party
        others = sorted(there)
        return self.job.party_named(others[0]) if others else party if party else None

    def is_carrier(self, party: Party | None) -> bool:
        """Tell whether a party is a carrier of this shipment; a broker is none."""
        return party is not None and party.id in carriers_of(self.job, self.shipment)

    def party_source(self, party: Party, key: str) -> Source:
        """Name a key of a party in job.toml."""
        return job_source(self.case, f"party[{self.job.party.index(party) + 1}].{key}")

    def block(self, party: Party | None, who: str) -> tuple[Statement, ...]:
        """Give name and address of a party, blanks where nobody entered them."""
        if party is None:
            text = self.blank(who, f"Enter the {who} as a party in job.toml.")
            return (say(text, job_source(self.case, "party")),)
        lines = [say(party.name, self.party_source(party, "name"))]
        for key in ("address", "email"):
            value = getattr(party, key)
            if value:
                lines += [say(part, self.party_source(party, key)) for part in _parts(value)]
        return tuple(lines)

    def delivered(self) -> Statement | None:
        """State the day of the first delivery that left goods, with what says so."""
        for record, body in deliveries(self.case, self.shipment):
            moment = body.signed_at or body.arrived or body.driver_left
            if moment and not nothing_received(body):
                name = "signed_at" if body.signed_at else "arrived" if body.arrived else ""
                day = local_day(self.case, moment)
                return say(f"{day:%a %Y-%m-%d}", source_of(record, name or "driver_left"))
        return None


def _parts(address: str) -> list[str]:
    return [part.strip() for part in address.replace("\n", ", ").split(", ", 1)]


def cited(text: str, citation: str, *more: Source) -> Statement:
    """Say what a published text says, naming it."""
    return say(text, *more, Source(citation=citation))


def plain(text: str, *sources: Source) -> Statement:
    """Say what the writer asks for or offers; the letter itself is its source."""
    return say(text, *sources, LETTERS)
