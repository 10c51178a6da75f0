"""Findings about whom to ask: matters that nobody is named for, and evidence of the origin.

Concealed damage without evidence of packing and condition at origin is the point at which such
claims fail: the seller is asked for it while it still has its photos.
"""

from __future__ import annotations

from collections.abc import Callable

from claimkit.findings.limits.conditions import damages_of
from claimkit.findings.limits.events import source_in_job, source_of
from claimkit.model.case import Addressee, Case, Finding, NotChecked, Standing
from claimkit.model.job import Shipment, Terms
from claimkit.model.records import FoundAt
from claimkit.rules.addressees import MAKING
from claimkit.rules.governing import CLEAN_BILL, law_of, us_motor


def nobody_named(case: Case) -> tuple[Finding, ...]:
    """Name each matter for which the record names nobody, and what would settle it."""
    found = []
    for addressee in case.addressees:
        if addressee.asked:
            continue
        wanted = list(dict.fromkeys(t for c in addressee.candidates for t in c.settle))
        found.append(
            Finding(
                "ask-cannot-tell",
                Standing.NOTE,
                addressee.where,
                f"{_about(addressee)}: whom to ask cannot be told from this record.",
                " ".join(["What would settle it:", *wanted]) if wanted else "",
                addressee.sources,
                MAKING,
            )
        )
    return tuple(found)


def _about(addressee: Addressee) -> str:
    """Say what it is about, without the place: a finding names its place in front."""
    return addressee.about.removeprefix(f"{addressee.where}: ")


def several_named(case: Case) -> tuple[Finding, ...]:
    """Say where several are to be asked, each within its own time."""
    found = []
    for addressee in case.addressees:
        named = list(dict.fromkeys(c.who.value for c in addressee.asked))
        if len(named) > 1:
            found.append(
                Finding(
                    "ask-several",
                    Standing.NOTE,
                    addressee.where,
                    f"{_about(addressee)}: the record names {' and '.join(named)}.",
                    "Give notice to each within its own time; none of them waits for another.",
                    addressee.sources,
                    MAKING,
                )
            )
    return tuple(found)


def no_evidence_of_origin(case: Case) -> tuple[Finding, ...]:
    """Name concealed damage whose packing and condition at origin nothing shows."""
    job = case.facts.job
    found = []
    for shipment in job.shipment if job else ():
        if shipment.packing_evidence or shipment.terms is Terms.SELLERS_TRUCK:
            continue
        hidden = [
            record
            for record, d in damages_of(case, shipment)
            if d.found_at is not FoundAt.CURB and d.resolved is None
        ]
        if hidden:
            found.append(
                Finding(
                    "ask-origin-evidence",
                    Standing.MISSING,
                    f"shipment {shipment.id}",
                    "Concealed damage is on record, and nothing shows how the goods were packed "
                    "and in which condition they left. A clean bill shows only what could be seen.",
                    "Ask the seller now, while it still has its photos: claimkit letter JOB "
                    "--about packing-evidence. Then enter packing_evidence in job.toml.",
                    (
                        *(source_of(record, "found_at") for record in hidden),
                        source_in_job(case, shipment, "packing_evidence"),
                    ),
                    _origin_text(shipment),
                )
            )
    return tuple(found)


def _origin_text(shipment: Shipment) -> str:
    clean = f"; {CLEAN_BILL}" if us_motor(shipment) else ""
    return f"{law_of(shipment).elements}{clean}"


CHECKS: tuple[tuple[str, str, Callable[[Case], tuple[Finding | NotChecked, ...]]], ...] = (
    ("ask-cannot-tell", "Something wrong for which nobody is named", nobody_named),
    ("ask-several", "Something wrong for which several are named", several_named),
    ("ask-origin-evidence", "Concealed damage, no evidence of the origin", no_evidence_of_origin),
)
