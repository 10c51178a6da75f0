"""Findings about the life of a claim: inspections, the packing, numbers, offers, payments.

They say what a letter or its absence means for the claimant, and what to do next; the time limits
themselves are told by `check_limits`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from claimkit.findings.delivery.check_received import packing_is_kept
from claimkit.findings.delivery.refusal import left_with_driver
from claimkit.findings.limits.calendar import written
from claimkit.findings.limits.life import SETTLED, Inspection, Life, Phase, lives
from claimkit.findings.limits.next_move import inspection_due
from claimkit.findings.limits.packing import keep_until
from claimkit.findings.scope import shipment_of_record
from claimkit.model.answers import Answer
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.job import Shipment
from claimkit.model.records import About, Unpacking
from claimkit.rules.claim_life import (
    ACKNOWLEDGED,
    INSPECT_WITHIN,
    OFFER_RULE,
    OWN_REPORT,
    PRACTICE,
    WHAT_IT_HOLDS,
)
from claimkit.rules.governing import law_of, only_us


def _each(case: Case) -> Iterator[tuple[Shipment, Life]]:
    """Give the life of each shipment's claim that is not settled."""
    job = case.facts.job
    for life in lives(case):
        shipment = job.shipment_named(life.shipment) if job else None
        if shipment and life.phase not in SETTLED:
            yield shipment, life


def inspection_unanswered(case: Case) -> tuple[Finding, ...]:
    """Name requests for an inspection that the carrier has not answered in the usual time."""
    found = []
    for shipment, life in _each(case):
        due = inspection_due(case, life)
        if life.inspection is Inspection.ASKED and life.asked and due and due < case.as_of:
            found.append(
                Finding(
                    rule="claim-inspection-unanswered",
                    standing=Standing.MISSING,
                    where=f"shipment {life.shipment}",
                    message=(
                        f"An inspection was asked for ({life.asked.record.path}) and "
                        f"{INSPECT_WITHIN.written} have passed without one or a waiver on record."
                    ),
                    do_next=f"Write your own inspection report: {WHAT_IT_HOLDS}. Send it.",
                    evidence=(life.asked.source,),
                    citation=(
                        f"{only_us(shipment, OWN_REPORT)}; {INSPECT_WITHIN.written}: {PRACTICE}"
                    ),
                )
            )
    return tuple(found)


def own_report_missing(case: Case) -> tuple[Finding, ...]:
    """Name inspections that the carrier waived, with no report of one's own on record."""
    found = []
    for shipment, life in _each(case):
        waived = life.last(About.INSPECTION_WAIVED)
        if life.inspection is Inspection.WAIVED and waived:
            found.append(
                Finding(
                    rule="claim-own-inspection-missing",
                    standing=Standing.MISSING,
                    where=f"shipment {life.shipment}",
                    message=(
                        f"The carrier waived its inspection ({waived.record.path}), and no "
                        "inspection report of your own is on record."
                    ),
                    do_next=(
                        f"Write it: {WHAT_IT_HOLDS}. Send it, and record a notice about 'own "
                        "inspection report'."
                    ),
                    evidence=(waived.source,),
                    citation=only_us(shipment, OWN_REPORT),
                )
            )
    return tuple(found)


def keep_packing(case: Case) -> tuple[Finding, ...]:
    """Say until when the packing must be kept, while the carrier can still ask to see it."""
    found = []
    for shipment, life in _each(case):
        waiting = life.inspection in (Inspection.NOT_ASKED, Inspection.ASKED, Inspection.WAIVED)
        gone = left_with_driver(case, shipment) is Answer.YES
        if not waiting or gone or life.phase is Phase.NOTHING_WRONG:
            continue
        points = keep_until(case, shipment, life)
        since = (life.since.source,) if life.since else ()
        found.append(
            Finding(
                rule="claim-keep-packing",
                standing=Standing.NOTE,
                where=f"shipment {life.shipment}",
                message=points[0][0],
                do_next=" ".join(text for text, _ in points[1:]) or _where_kept(case, shipment),
                evidence=(*since, *(source for _, source in points)),
                citation="; ".join(dict.fromkeys(s.citation or "" for _, s in points)),
            )
        )
    return tuple(found)


def _where_kept(case: Case, shipment: Shipment) -> str:
    """Say where the packing is kept by the record, or ask for it where none says."""
    for record in case.facts.in_force(Unpacking):
        body = record.body
        mine = isinstance(body, Unpacking) and shipment_of_record(case, record) == shipment.id
        if isinstance(body, Unpacking) and mine and packing_is_kept(body):
            return f"It is recorded as kept: {(body.packing_kept or '').strip()}. Leave it there."
    return "Record where it is kept (unpacking record, packing_kept)."


def number_missing(case: Case) -> tuple[Finding, ...]:
    """Name acknowledgements that carry no claim number of the carrier's."""
    found = []
    for shipment, life in _each(case):
        letter = life.last(About.ACKNOWLEDGEMENT)
        if letter and life.claim_number is None:
            found.append(
                Finding(
                    rule="claim-number-missing",
                    standing=Standing.MISSING,
                    where=f"shipment {life.shipment}",
                    message=(
                        f"{letter.record.path}: the carrier acknowledged the claim, and no claim "
                        "number of the carrier's is on record."
                    ),
                    do_next="Ask for the number and put it into the record (reference).",
                    evidence=(letter.source,),
                    citation=only_us(shipment, ACKNOWLEDGED),
                )
            )
    return tuple(found)


def offer_open(case: Case) -> tuple[Finding, ...]:
    """Name offers that were neither accepted nor answered."""
    found = []
    for shipment, life in _each(case):
        offer = life.since
        if life.phase is not Phase.OFFERED or offer is None or _answered(life):
            continue
        amount = f" of {life.offered}" if life.offered else ""
        against = f" The claim is for {life.claimed}." if life.claimed else ""
        found.append(
            Finding(
                rule="claim-offer-open",
                standing=Standing.NOTE,
                where=f"shipment {life.shipment}",
                message=(
                    f"The carrier's offer{amount} ({offer.record.path}) is not answered.{against}"
                ),
                do_next=(
                    "Before you accept, read what you would sign: a release usually settles all of "
                    "it. An offer alone starts no period to sue and stops none."
                ),
                evidence=(offer.source,),
                citation=f"{only_us(shipment, OFFER_RULE)}; releases: {PRACTICE}",
            )
        )
    return tuple(found)


def disallowance_unanswered(case: Case) -> tuple[Finding, ...]:
    """Name disallowances that were not answered."""
    return tuple(
        Finding(
            rule="claim-disallowance-unanswered",
            standing=Standing.AGAINST,
            where=f"shipment {life.shipment}",
            message=f"The carrier disallowed the claim or a part of it ({life.since.record.path}).",
            do_next=(
                "Answer point by point with the evidence for each, ask for what the carrier rests "
                "on, and note the day until which suit can be brought."
            ),
            evidence=(life.since.source,),
            citation=f"49 USC 14706(e)(1) (wording read); the answer: {PRACTICE}",
        )
        for _, life in _each(case)
        if life.phase is Phase.DISALLOWED and life.since and not _answered(life)
    )


def paid_less(case: Case) -> tuple[Finding, ...]:
    """Name claims of which a part is paid, and nothing says that this settles them."""
    return tuple(
        Finding(
            rule="claim-paid-less",
            standing=Standing.MISSING,
            where=f"shipment {life.shipment}",
            message=(
                f"Paid: {life.paid or 'an amount that is not recorded'}; claimed: "
                f"{life.claimed or 'an amount that is not recorded'}."
            ),
            do_next=(
                "Claim the rest in writing, or record the accepted offer that the payment settles. "
                "Read the cheque and its letter for words of full settlement first."
            ),
            evidence=(life.since.source,),
            citation=f"{law_of(shipment).loss_text}; full settlement: {PRACTICE}",
        )
        for shipment, life in _each(case)
        if life.phase is Phase.PAID_PART and life.since
    )


def paid(case: Case) -> tuple[Finding, ...]:
    """Name claims that are paid."""
    return tuple(
        Finding(
            rule="claim-paid",
            standing=Standing.SUPPORTS,
            where=f"shipment {life.shipment}",
            message=f"The claim is paid: {life.paid}, {_day(life)}.",
            do_next="",
            evidence=(life.since.source,),
            citation=f"claimkit method: payments against claim or accepted offer; {PRACTICE}",
        )
        for life in lives(case)
        if life.phase is Phase.PAID and life.since
    )


def _day(life: Life) -> str:
    return written(life.since.day) if life.since and life.since.day else "not dated"


def _answered(life: Life) -> bool:
    """Tell whether we answered after the letter that the claim stands at."""
    if life.since is None:
        return False
    later = life.steps[life.steps.index(life.since) + 1 :]
    return any(s.counts and s.notice.about is About.ANSWER for s in later)


CHECKS: tuple[tuple[str, str, Callable[[Case], tuple[Finding | NotChecked, ...]]], ...] = (
    ("claim-inspection-unanswered", "An inspection asked for and not made", inspection_unanswered),
    ("claim-own-inspection-missing", "A waived inspection with no own report", own_report_missing),
    ("claim-keep-packing", "Packing and goods are to be kept as they were found", keep_packing),
    ("claim-number-missing", "An acknowledgement without a claim number", number_missing),
    ("claim-offer-open", "An offer that is not answered", offer_open),
    ("claim-disallowance-unanswered", "A disallowance not answered", disallowance_unanswered),
    ("claim-paid-less", "A payment of less than the claim", paid_less),
    ("claim-paid", "A claim that is paid", paid),
)
