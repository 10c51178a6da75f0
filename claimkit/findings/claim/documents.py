"""Which supporting documents a claim of each shipment needs, which are there, which are explained.

What the terms ask for stands in `rules.documents`; what a document is, job.toml says. Nothing is
recognised by its name: a file that job.toml does not name supports nothing.
"""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.findings.claim import amount as kinds
from claimkit.findings.claim.amount import of_shipment
from claimkit.findings.limits.calendar import written
from claimkit.findings.limits.conditions import hidden_damage
from claimkit.findings.limits.events import deliveries, source_in_job
from claimkit.findings.limits.life import life_of
from claimkit.model.case import Case
from claimkit.model.job import Shipment
from claimkit.model.source import Source
from claimkit.rules.documents import (
    ALWAYS,
    CONCEALED,
    DOCUMENTS,
    FREIGHT_CLAIMED,
    REPAIRED,
    Wanted,
)

DESCRIBED = "described: "


@dataclass(frozen=True, slots=True)
class Supporting:
    """One document that is asked for: the files that are it, or why it cannot be had.

    `files` are paths in the job folder. Where there are none, `because` is the explanation, None
    where nobody gave one; `sources` are what says so.
    """

    wanted: Wanted
    files: tuple[str, ...]
    because: str | None
    sources: tuple[Source, ...]

    @property
    def open(self) -> bool:
        """True where it is neither there nor explained."""
        return not self.files and self.because is None


def supporting(case: Case, shipment: Shipment) -> tuple[Supporting, ...]:
    """Give every document that the shipment's terms ask for, in the order of the rules."""
    holds = {
        ALWAYS: True,
        CONCEALED: bool(hidden_damage(case, shipment)),
        REPAIRED: _claims(case, shipment, kinds.REPAIR),
        FREIGHT_CLAIMED: _claims(case, shipment, kinds.FREIGHT),
    }
    return tuple(
        _one(case, shipment, wanted)
        for wanted in DOCUMENTS
        if shipment.terms in wanted.terms and holds[wanted.when]
    )


def _claims(case: Case, shipment: Shipment, kind: str) -> bool:
    return any(line.kind == kind and line.claimed for line in of_shipment(case, shipment.id))


def _one(case: Case, shipment: Shipment, wanted: Wanted) -> Supporting:
    job = case.facts.job
    if job is None:
        raise ValueError("a shipment stands in a job")
    hashes = {p.path: p.sha256 for p in case.facts.papers}
    hashes |= {place: p.sha256 for p in case.facts.photos for place in p.places}
    there = [
        p.file
        for p in job.paper
        if p.what == wanted.paper and p.shipment in (None, shipment.id) and p.file in hashes
    ]
    if there:
        sources = tuple(Source(path=file, sha256=hashes[file]) for file in there)
        return Supporting(wanted, tuple(there), None, sources)
    for number, missing in enumerate(job.no_paper, 1):
        if missing.what == wanted.paper and missing.shipment in (None, shipment.id):
            source = Source("job.toml", case.facts.job_sha256, f"no_paper[{number}].because")
            return Supporting(wanted, (), missing.because, (source,))
    known = _from_records(case, shipment, wanted, hashes)
    if known:
        return known
    source = Source("job.toml", case.facts.job_sha256, "paper")
    return Supporting(wanted, (), None, (source,))


def _from_records(
    case: Case, shipment: Shipment, wanted: Wanted, hashes: dict[str, str]
) -> Supporting | None:
    """Give what records say of a document: photos of the receipt, packing, the inspection asked."""
    if wanted.paper == "delivery receipt":
        paths = [p for _, body in deliveries(case, shipment) for p in body.receipt_photos]
        there = tuple(dict.fromkeys(path for path in paths if path in hashes))
        sources = tuple(Source(path=path, sha256=hashes[path]) for path in there)
        return Supporting(wanted, there, None, sources) if there else None
    if wanted.paper == "packing evidence" and shipment.packing_evidence:
        source = source_in_job(case, shipment, "packing_evidence")
        return Supporting(wanted, (), f"{DESCRIBED}{shipment.packing_evidence}", (source,))
    asked = life_of(case, shipment).asked
    if wanted.paper == "inspection report" and asked and asked.day:
        text = f"the carrier was asked to inspect on {written(asked.day)}; no report has come"
        return Supporting(wanted, (), text, (asked.source,))
    return None
