"""What one reader sees of a case: which shipment, which photos under which numbers.

Carrier and seller see one shipment's photos and those common to all. The customer sees the photos
from the dry fit on and those that witness a reading or the opening's check, and no receipt.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from claimkit.compose.for_others import without_instructions, without_own_files
from claimkit.compose.phrases import site_zone
from claimkit.findings.claim.worksheet import shipment_of
from claimkit.findings.scope import shipment_of_record, shipments_of_photo
from claimkit.model.case import Case, DatedPhoto, Finding, NotChecked, Reader
from claimkit.model.facts import Facts
from claimkit.model.job import Job, Paper, Shipment
from claimkit.model.photo import OtherFile, Photo
from claimkit.model.records import Delivery, Record
from claimkit.model.source import Source
from claimkit.model.stages import Stage
from claimkit.model.stop import CannotGoOn

CUSTOMER_STAGES = frozenset(
    {
        Stage.DRY_FIT,
        Stage.BEFORE_FASTENING,
        Stage.FASTENED,
        Stage.SEALED,
        Stage.HANDOVER,
        Stage.COMPLAINT,
    }
)
# What was not checked of these is nobody's but the owner's: seller's terms, the carrier's limit.
OWNERS_RULES = ("liability-", "limit-seller-terms-not-known")
FAR_FUTURE = datetime(9999, 1, 1, tzinfo=UTC)


class ChooseShipment(CannotGoOn):
    """A packet for a carrier or seller is about one shipment; the message lists them."""


@dataclass(frozen=True)
class View:
    """A case as one reader sees it. `photos` are in print order; numbers start at 1."""

    case: Case
    reader: Reader
    shipment: str | None
    zone: ZoneInfo
    photos: tuple[DatedPhoto, ...]
    versions: tuple[tuple[str, str], ...]

    @property
    def facts(self) -> Facts:
        """Give the facts."""
        return self.case.facts

    @property
    def job(self) -> Job | None:
        """Give the job, None where job.toml could not be used."""
        return self.facts.job

    @property
    def own(self) -> bool:
        """True for the owner's packet: advice, findings and everything else."""
        return self.reader is Reader.OWN

    @property
    def numbers(self) -> dict[str, int]:
        """Map photo hashes to plate numbers."""
        return {photo.sha256: number for number, photo in enumerate(self.photos, start=1)}

    def photo(self, dated: DatedPhoto) -> Photo:
        """Give the photo of a dated photo."""
        photo = self.facts.photo_of(dated.sha256)
        if photo is None:
            raise LookupError(f"no photo with hash {dated.sha256}")
        return photo

    def photo_source(self, photo: Photo) -> Source:
        """Name a photo as a source."""
        return Source(path=photo.places[0], sha256=photo.sha256)

    def shipments(self) -> tuple[tuple[int, Shipment], ...]:
        """Give the shipments in view with their numbers in job.toml, from 1."""
        if self.job is None:
            return ()
        every = enumerate(self.job.shipment, start=1)
        return tuple((n, s) for n, s in every if self.shipment in (None, s.id))

    def sees(self, record: Record) -> bool:
        """Tell whether a record belongs in this reader's packet."""
        if self.reader is Reader.CUSTOMER:
            return record.kind in ("readings", "milestone", "opening_check")
        belongs = shipment_of_record(self.case, record)
        return self.shipment is None or belongs in (None, self.shipment)

    def records(self) -> tuple[Record, ...]:
        """Give the records in view, replaced ones too."""
        return tuple(r for r in self.facts.records if self.sees(r))

    def record_source(self, record: Record, key_path: str | None = None) -> Source:
        """Name a record, or one key of it, as a source."""
        return Source(path=record.path, sha256=record.sha256, key_path=key_path)

    def findings(self, *prefixes: str) -> tuple[Finding, ...]:
        """Give the findings whose rule begins with one of the prefixes, about what is in view."""
        return tuple(
            f
            for f in self.case.findings
            if f.rule.startswith(prefixes or ("",)) and self.concerns(f.where, f.evidence)
        )

    def not_checked(self, *prefixes: str) -> tuple[NotChecked, ...]:
        """Give what was not checked under rules with these prefixes, about what is in view."""
        return tuple(
            n
            for n in self.case.not_checked
            if n.rule.startswith(prefixes or ("",))
            and self.concerns(n.where, ())
            and (self.own or not n.rule.startswith(OWNERS_RULES))
        )

    def concerns(self, where: str, evidence: tuple[Source, ...]) -> bool:
        """Tell whether a place and its evidence are not only about another shipment."""
        if self.shipment is None or self.job is None:
            return True
        others = [s.id for s in self.job.shipment if s.id != self.shipment]
        names = {f"shipment {name}" for name in others} | set(others)
        names |= {
            f"item {item.id}"
            for item in self.job.item
            if shipment_of(self.job, item) not in (None, self.shipment)
        }
        if where.partition(",")[0] in names:
            return False
        hidden = {r.path for r in self.facts.records if not self.sees(r)}
        if any(path in where for path in hidden):
            return False
        paths = {source.path for source in evidence if source.path}
        return not paths or not paths <= hidden

    def told(self, text: str) -> str:
        """Give a reason as this reader is told it: what to do in our own files is for us alone."""
        return text if self.own else without_instructions(text)

    def next_step(self, text: str) -> str:
        """Give what would settle something, without entries in our own files for others."""
        return text if self.own else without_own_files(text)

    def papers(self) -> tuple[tuple[OtherFile, Paper | None], ...]:
        """Give the papers in view with what job.toml says of each; none for the customer."""
        if self.reader is Reader.CUSTOMER:
            return ()
        named = {p.file: p for p in (self.job.paper if self.job else ())}
        pairs = ((paper, named.get(paper.path)) for paper in self.facts.papers)
        return tuple(
            (paper, entry)
            for paper, entry in pairs
            if not (entry and self.shipment and entry.shipment not in (None, self.shipment))
        )


def view(
    case: Case, reader: Reader, shipment: str | None, versions: tuple[tuple[str, str], ...]
) -> View:
    """Choose the shipment and the photos that a reader sees.

    Raises ChooseShipment where a carrier's or seller's packet could be about several shipments.
    """
    job = case.facts.job
    ids = [s.id for s in job.shipment] if job else []
    if shipment is not None and shipment not in ids:
        known = ", ".join(ids) or "none"
        raise ChooseShipment(f"There is no shipment “{shipment}” in job.toml. It has: {known}.")
    if reader in (Reader.CARRIER, Reader.SELLER, Reader.INSURER) and shipment is None:
        if len(ids) > 1:
            raise ChooseShipment(
                f"This job has {len(ids)} shipments ({', '.join(ids)}), and their papers must not "
                "mix. Say which with --shipment."
            )
        shipment = ids[0] if ids else None
    if reader is Reader.CUSTOMER:
        shipment = None
    chosen = [d for d in case.photos if _seen(case, reader, shipment, d)]
    chosen.sort(key=lambda d: (d.stands.earliest or FAR_FUTURE, d.sha256))
    return View(case, reader, shipment, site_zone(case), tuple(chosen), versions)


def _seen(case: Case, reader: Reader, shipment: str | None, dated: DatedPhoto) -> bool:
    if reader is Reader.CUSTOMER:
        receipts = {
            path
            for record in case.facts.records
            if isinstance(record.body, Delivery)
            for path in record.body.receipt_photos
        }
        photo = case.facts.photo_of(dated.sha256)
        if photo is None or receipts & set(photo.places):
            return False
        witnesses = {sha for reading in case.readings for sha in reading.witness}
        witnesses |= {sha for opening in case.openings for sha in opening.photos}
        return dated.stage in CUSTOMER_STAGES or dated.sha256 in witnesses
    belongs = shipments_of_photo(case, dated.sha256)
    return shipment is None or not belongs or shipment in belongs
