"""Each delivery record in force with its graded receipt, for the checks that walk them.

A receipt can be mended only while the driver is there: until a record says that he left. After
that the advice is another.
"""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.findings.wording import record_source
from claimkit.model.case import Case, Finding, NotChecked
from claimkit.model.receipt import Receipt
from claimkit.model.records import Delivery, Record
from claimkit.model.source import Source
from claimkit.rules.governing import PRACTICE, american

Results = tuple[Finding | NotChecked, ...]


@dataclass(frozen=True)
class Delivered:
    """One delivery record, its body and its receipt."""

    case: Case
    record: Record
    body: Delivery
    receipt: Receipt

    def governed(self, text: str) -> str:
        """Give an American text where it may bear on the delivery, else practice."""
        job = self.case.facts.job
        shipment = job.shipment_named(self.receipt.shipment) if job else None
        return text if american(job, shipment) else PRACTICE

    @property
    def where(self) -> str:
        """Name the shipment, or the record where none is named."""
        if self.receipt.shipment:
            return f"shipment {self.receipt.shipment}"
        return f"record {self.record.id}"

    @property
    def mendable(self) -> bool:
        """True while no record says that the driver left."""
        return self.body.driver_left is None

    @property
    def words_source(self) -> Source:
        """Name the recorded words as a source."""
        return self.receipt.record

    def source(self, key: str | None = None) -> Source:
        """Name the record, or one of its keys, as a source."""
        return record_source(self.record, key)

    def quoted(self, words: str | None) -> str:
        """Give words on one line."""
        return " ".join((words or "").split()) or "(nothing)"

    def now_or_later(self, later: str, now: str | None = None) -> str:
        """Say what to do: add the words while the driver is there, else what still helps."""
        if not self.mendable:
            return later
        if now is not None:
            return now
        reading = self.receipt.reading
        if not reading.write_long:
            return (
                f"If the driver is still there, look again at what was not opened. {later}".strip()
            )
        return (
            f"While the driver is still there, add on paper: “{reading.write_long}” On a handheld: "
            f"“{reading.write_short}” Fill each blank. Have the driver sign it too."
        )


def deliveries(case: Case) -> tuple[Delivered, ...]:
    """Give every delivery record in force with its receipt, by record id."""
    receipts = {receipt.record.path: receipt for receipt in case.receipts}
    return tuple(
        Delivered(case, record, record.body, receipts[record.path])
        for record in case.facts.in_force(Delivery)
        if isinstance(record.body, Delivery) and record.path in receipts
    )
