"""The life of a claim: what was reported, inspected, claimed, answered and paid, in its order.

Each step is a notice between the parties of one shipment. What was sent and not shown received is
said as such; what was only spoken moves nothing. Letters to seller and insurer stand among the
steps and do not move the claim against the carrier.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum

from claimkit.findings.limits.calendar import written
from claimkit.findings.limits.conditions import anything_wrong
from claimkit.findings.limits.events import (
    acts_for_carrier,
    carriers_of,
    dated,
    is_spoken,
    name_of,
    notices,
    source_of,
    what_it_is,
    why_no_disallowance,
)
from claimkit.model.case import Case
from claimkit.model.job import Job, Shipment
from claimkit.model.quantities import Money
from claimkit.model.records import About, Notice, Record
from claimkit.model.source import Source


class Phase(StrEnum):
    """How far the claim against the carrier has come."""

    NOTHING_WRONG = "nothing wrong is on record"
    TO_REPORT = "damage or loss is on record, and not reported"
    SENT = "sent, and not shown received"
    REPORTED = "reported, no claim received yet"
    CLAIMED = "the carrier has the claim"
    ACKNOWLEDGED = "the carrier has acknowledged the claim"
    OFFERED = "the carrier has made an offer"
    ACCEPTED = "the offer is accepted, not paid"
    UNCLEAR = "a letter of the carrier is not shown to decline or to offer"
    REFUSED = "the carrier has refused, and is not shown to have disallowed"
    DISALLOWED = "the carrier has disallowed the claim or a part of it"
    PAID_PART = "paid in part"
    PAID = "paid"
    SUED = "suit is brought"


class Inspection(StrEnum):
    """How the inspection by the carrier stands."""

    NOT_ASKED = "not asked for"
    ASKED = "asked for, not answered"
    WAIVED = "waived by the carrier, our own report not on record"
    MADE = "made by the carrier"
    OWN = "our own report stands in"


SETTLED = (Phase.PAID,)
# About what a carrier's letter is, and the phase that it begins.
_THEIRS = {
    About.ACKNOWLEDGEMENT: Phase.ACKNOWLEDGED,
    About.OFFER: Phase.OFFERED,
    About.PAYMENT: Phase.PAID_PART,
}
_REPORTS = (About.CONCEALED_DAMAGE, About.DAMAGE_NOTICE, About.INSPECTION_REQUESTED)


@dataclass(frozen=True, slots=True)
class Step:
    """One notice in the life of a claim. `day` is None where the record has no date."""

    day: date | None
    text: str
    record: Record
    notice: Notice
    counts: bool

    @property
    def source(self) -> Source:
        """The record as a source."""
        return source_of(self.record)


@dataclass(frozen=True, slots=True)
class Life:
    """How the claim of one shipment stands on the legal day, and how it came there.

    `claim_number` is the carrier's. `claimed` is what the latest claim demands, `offered` what the
    latest offer names, `paid` the sum of the payments; None where none is on record, or where
    currencies are mixed.
    """

    shipment: str
    phase: Phase
    since: Step | None
    inspection: Inspection
    asked: Step | None
    steps: tuple[Step, ...]
    claim_number: str | None
    claimed: Money | None
    offered: Money | None
    paid: Money | None

    def last(self, *about: About) -> Step | None:
        """Give the latest step about one of these that counts."""
        return next((s for s in reversed(self.steps) if s.counts and s.notice.about in about), None)


def lives(case: Case) -> tuple[Life, ...]:
    """Tell the life of the claim of every shipment."""
    job = case.facts.job
    return tuple(life_of(case, shipment) for shipment in job.shipment) if job else ()


def life_of(case: Case, shipment: Shipment) -> Life:
    """Tell the life of the claim of one shipment, from its notices up to the legal day."""
    steps = tuple(sorted(_steps(case, shipment), key=_order))
    between = [step for step in steps if step.counts]
    phase, since = _phase(case, shipment, between)
    inspection, asked = _inspection(case, shipment, between)
    numbers = [
        s.notice.reference
        for s in between
        if s.notice.about in (About.ACKNOWLEDGEMENT, About.STATUS, About.OFFER, About.DISALLOWANCE)
        and s.notice.reference
    ]
    return Life(
        shipment=shipment.id,
        phase=phase,
        since=since,
        inspection=inspection,
        asked=asked,
        steps=steps,
        claim_number=numbers[0] if numbers else None,
        claimed=_amount(between, About.CLAIM),
        offered=_amount(between, About.OFFER),
        paid=_sum([s.notice.amount for s in between if s.notice.about is About.PAYMENT]),
    )


def _order(step: Step) -> tuple[bool, date, str]:
    return (step.day is None, step.day or date.max, step.record.id)


def _steps(case: Case, shipment: Shipment) -> Iterator[Step]:
    job = case.facts.job
    if job is None:
        return
    carriers = carriers_of(job, shipment)
    for record, notice in notices(case, shipment):
        theirs = acts_for_carrier(job, shipment, notice)
        when = dated(case, notice, on_receipt=False)
        received = dated(case, notice, on_receipt=True)
        if when and when[0] > case.as_of:
            continue
        ours_to_carrier = notice.to in carriers and not theirs
        alone = notice.about in (About.SUIT, About.ACCEPTANCE)
        counts = theirs or alone or (ours_to_carrier and received is not None)
        if received and received[0] > case.as_of:
            counts, received = theirs, None
        names = f"{name_of(job, notice.sender)} to {name_of(job, notice.to)}"
        yield Step(
            day=(when or (None,))[0],
            text=_told(names, notice, received, theirs=theirs),
            record=record,
            notice=notice,
            counts=counts and not is_spoken(notice) and when is not None,
        )


def _told(names: str, notice: Notice, received: tuple[date, str] | None, *, theirs: bool) -> str:
    parts = [f"{what_it_is(notice)}, {names}"]
    if notice.amount:
        parts.append(str(notice.amount))
    if notice.reference:
        parts.append(f"number {notice.reference}")
    if is_spoken(notice):
        parts.append("spoken")
    if received:
        parts.append(f"received {written(received[0])}")
    elif not theirs:
        parts.append("not shown received")
    return "; ".join(parts)


def _phase(case: Case, shipment: Shipment, steps: list[Step]) -> tuple[Phase, Step | None]:
    """Give the phase that the latest step began; a suit stays, a payment is weighed."""
    since: Step | None = None
    phase = Phase.TO_REPORT if anything_wrong(case, shipment) else Phase.NOTHING_WRONG
    for number, step in enumerate(steps, start=1):
        begun = _begun(case, shipment, step, phase)
        if begun is Phase.PAID_PART and _paid_in_full(steps[:number]):
            begun = Phase.PAID
        if begun and phase is not Phase.SUED:
            phase, since = begun, step
    if phase is Phase.TO_REPORT:
        sent = _sent_only(case, shipment)
        if sent:
            return Phase.SENT, sent
    return phase, since


def _begun(case: Case, shipment: Shipment, step: Step, phase: Phase) -> Phase | None:
    """Give the phase that one step begins, or None."""
    job, about, notice = case.facts.job, step.notice.about, step.notice
    if about is About.SUIT:
        return Phase.SUED
    if about is About.ACCEPTANCE:
        return Phase.ACCEPTED
    if job and acts_for_carrier(job, shipment, notice):
        return _refused(job, shipment, notice) or _THEIRS.get(about)
    if about is About.CLAIM:
        return Phase.CLAIMED
    return Phase.REPORTED if about in _REPORTS and phase is Phase.TO_REPORT else None


def _refused(job: Job, shipment: Shipment, notice: Notice) -> Phase | None:
    """Give the phase that a letter begins which refuses, or is recorded as one that does."""
    if notice.states_disallowance:
        unclear = why_no_disallowance(job, shipment, notice)
        return Phase.REFUSED if unclear else Phase.DISALLOWED
    return Phase.UNCLEAR if notice.about is About.DISALLOWANCE else None


def _sent_only(case: Case, shipment: Shipment) -> Step | None:
    job = case.facts.job
    if job is None:
        return None
    carriers = carriers_of(job, shipment)
    wanted = (*_REPORTS, About.CLAIM)
    found = [
        step
        for step in _steps(case, shipment)
        if step.notice.to in carriers and step.notice.about in wanted and not step.counts
    ]
    return max(found, key=_order, default=None)


def _paid_in_full(steps: list[Step]) -> bool:
    """Tell whether the payments reach the offer that was accepted, else the claim."""
    paid = _sum([s.notice.amount for s in steps if s.notice.about is About.PAYMENT])
    accepted = any(s.notice.about is About.ACCEPTANCE for s in steps)
    due = _amount(steps, About.OFFER if accepted else About.CLAIM)
    if paid is None or due is None or paid.currency != due.currency:
        return False
    return paid.amount >= due.amount


def _inspection(
    case: Case, shipment: Shipment, steps: list[Step]
) -> tuple[Inspection, Step | None]:
    job = case.facts.job
    asked: Step | None = None
    state = Inspection.NOT_ASKED
    own = False
    for step in steps:
        about, notice = step.notice.about, step.notice
        theirs = job is not None and acts_for_carrier(job, shipment, notice)
        asks = about is About.INSPECTION_REQUESTED or (
            about in _REPORTS and "inspect" in (notice.text or "").lower()
        )
        if asks and not theirs and asked is None:
            asked = step
            state = Inspection.ASKED if state is Inspection.NOT_ASKED else state
        elif about is About.INSPECTION_MADE:
            state = Inspection.MADE if theirs else state
            own = own or not theirs
        elif about is About.INSPECTION_WAIVED and theirs:
            state = Inspection.WAIVED
        elif about is About.OWN_INSPECTION:
            own = True
    if own and state is not Inspection.MADE:
        return Inspection.OWN, asked
    return state, asked


def _amount(steps: list[Step], about: About) -> Money | None:
    found = [s.notice.amount for s in steps if s.notice.about is about and s.notice.amount]
    return found[-1] if found else None


def _sum(amounts: list[Money | None]) -> Money | None:
    known = [amount for amount in amounts if amount]
    if not known or len({amount.currency for amount in known}) != 1:
        return None
    return Money(sum((a.amount for a in known), Decimal(0)), known[0].currency)
