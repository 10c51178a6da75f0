"""Which supporting documents a claim of each shipment needs, which are there, which are explained.

What the terms ask for stands in `rules.documents`; what a document is, job.toml says, or a record
that names its file. A file that nobody names counts where its words leave no doubt, and is shown as
recognised, not as stated; nothing is recognised by its file name.
"""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.findings.claim import worksheet as kinds
from claimkit.findings.claim.inspection_report import Inspected, inspected
from claimkit.findings.claim.recognised import Unnamed, recognised
from claimkit.findings.claim.worksheet import of_shipment
from claimkit.findings.limits.conditions import hidden_damage
from claimkit.findings.limits.events import deliveries, source_in_job
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

BILL_OF_LADING = "bill of lading"
DESCRIBED = "described: "
RECEIPT, PACKING, INSPECTION = "delivery receipt", "packing evidence", "inspection report"


@dataclass(frozen=True, slots=True)
class Supporting:
    """One document that is asked for: the files that are it, or why it cannot be had.

    `files` are paths in the job folder. Where there are none, `because` is the explanation, None
    where nobody gave one; `sources` are what says so. `note` is what is to be said beside the
    files. `guess` is the file where nobody named it and its words tell.
    """

    wanted: Wanted
    files: tuple[str, ...]
    because: str | None
    sources: tuple[Source, ...]
    note: str = ""
    guess: Unnamed | None = None

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


def papers_of(case: Case, shipment: Shipment, what: str) -> tuple[Source, ...]:
    """Give the files of one kind of document that job.toml names or whose words tell."""
    job = case.facts.job
    hashes = {p.path: p.sha256 for p in case.facts.papers}
    hashes |= {place: p.sha256 for p in case.facts.photos for place in p.places}
    named = [
        Source(path=p.file, sha256=hashes[p.file])
        for p in (job.paper if job else ())
        if p.what == what and p.shipment in (None, shipment.id) and p.file in hashes
    ]
    guess = None if named else recognised(case, shipment, what)
    return (guess.source,) if guess else tuple(named)


def _claims(case: Case, shipment: Shipment, kind: str) -> bool:
    return any(line.kind == kind and line.claimed for line in of_shipment(case, shipment.id))


def _one(case: Case, shipment: Shipment, wanted: Wanted) -> Supporting:
    job = case.facts.job
    if job is None:
        raise ValueError("a shipment stands in a job")
    hashes = {p.path: p.sha256 for p in case.facts.papers}
    hashes |= {place: p.sha256 for p in case.facts.photos for place in p.places}
    stated = _stated(case, shipment, wanted, hashes)
    if stated:
        return stated
    for number, missing in enumerate(job.no_paper, 1):
        if missing.what == wanted.paper and missing.shipment in (None, shipment.id):
            source = Source("job.toml", case.facts.job_sha256, f"no_paper[{number}].because")
            return Supporting(wanted, (), missing.because, (source,))
    guess = recognised(case, shipment, wanted.paper)
    if guess:
        sources = (guess.source, *_inspection_sources(case, shipment, wanted))
        note = _note(case, shipment, wanted, hashes)
        return Supporting(wanted, (guess.path,), None, sources, note, guess)
    return _without(case, shipment, wanted, hashes)


def _stated(
    case: Case, shipment: Shipment, wanted: Wanted, hashes: dict[str, str]
) -> Supporting | None:
    """Give the files that job.toml or a record names, or None."""
    job = case.facts.job
    named = [
        p.file
        for p in (job.paper if job else ())
        if p.what == wanted.paper and p.shipment in (None, shipment.id) and p.file in hashes
    ]
    if wanted.paper == RECEIPT and not named:
        paths = [p for _, body in deliveries(case, shipment) for p in body.receipt_photos]
        named = [path for path in paths if path in hashes]
    if wanted.paper == INSPECTION:
        named += inspected(case, shipment).files(hashes)
    if not named:
        return None
    there = tuple(dict.fromkeys(named))
    sources = tuple(Source(path=file, sha256=hashes[file]) for file in there)
    sources += _inspection_sources(case, shipment, wanted)
    return Supporting(wanted, there, None, sources, _note(case, shipment, wanted, hashes))


def _inspection_sources(case: Case, shipment: Shipment, wanted: Wanted) -> tuple[Source, ...]:
    return inspected(case, shipment).sources() if wanted.paper == INSPECTION else ()


def _note(case: Case, shipment: Shipment, wanted: Wanted, hashes: dict[str, str]) -> str:
    """Say beside an inspection report whose it is, where the carrier waived or made none."""
    if wanted.paper != INSPECTION:
        return ""
    found: Inspected = inspected(case, shipment)
    return found.told(hashes) if found.waived or found.own else ""


def _without(case: Case, shipment: Shipment, wanted: Wanted, hashes: dict[str, str]) -> Supporting:
    """Give what records say where there is no file: packing described, the inspection's course."""
    if wanted.paper == PACKING and shipment.packing_evidence:
        source = source_in_job(case, shipment, "packing_evidence")
        return Supporting(wanted, (), f"{DESCRIBED}{shipment.packing_evidence}", (source,))
    if wanted.paper == INSPECTION:
        found = inspected(case, shipment)
        told = found.told(hashes)
        if told:
            return Supporting(wanted, (), told, found.sources())
    source = Source("job.toml", case.facts.job_sha256, "paper")
    return Supporting(wanted, (), None, (source,))
