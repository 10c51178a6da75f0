"""Findings about notices that do not do what they seem to do for a time limit.

Sent is not received, a broker is not the carrier, a telephone call wants a confirmation, an offer
is no disallowance, and a claim demands an amount. Records that cannot be placed are named.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from claimkit.findings.limits.calendar import written
from claimkit.findings.limits.events import (
    deeds,
    deliveries,
    matching,
    nothing_received,
    notices,
    source_of,
    spoken,
)
from claimkit.findings.limits.misses import Miss, Why, letters_that_start_nothing, misses_of
from claimkit.findings.scope import shipment_of_record
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.job import Shipment, Terms
from claimkit.model.limit import TimeLimit, Whose
from claimkit.model.records import About, Delivery, Notice
from claimkit.rules import carriage

CLAIM_RULE = "49 CFR 370.3(b) (wording read)"
REPORT_RULE = "NMFC item 300135-A, effective 2015-04-18 (wording read)"
DISALLOWANCE_RULE = "49 USC 14706(e)(2) (wording read)"
SENT_RULE = "claimkit method: sent stops no limit, received does (docs/rules.md)"
OURS = (carriage.REPORT, carriage.CLAIM, carriage.SUIT)


def sent_to_broker(case: Case) -> tuple[Finding, ...]:
    """Name claims and reports that went to a broker and to no carrier."""
    return tuple(
        Finding(
            rule="limit-sent-to-broker",
            standing=Standing.MISSING,
            where=f"shipment {shipment.id}",
            message=miss.said,
            do_next=(
                "Send it to the carrier itself, in writing and with proof of receipt; ask the "
                "broker whether it passed yours on, and when."
            ),
            evidence=(miss.source,),
            citation=CLAIM_RULE,
        )
        for shipment, miss in _without_effect(case, Why.BROKER)
    )


def sent_not_received(case: Case) -> tuple[Finding, ...]:
    """Name what went to the carrier and is not shown to have been received."""
    return tuple(
        Finding(
            rule="limit-sent-not-received",
            standing=Standing.MISSING,
            where=f"shipment {shipment.id}",
            message=miss.said,
            do_next=(
                "Get proof: the tracking, the answer to the e-mail, the portal's confirmation. "
                "Then write a record that replaces this one, with received."
            ),
            evidence=(source_of(miss.record, "sent"),),
            citation=SENT_RULE,
        )
        for shipment, miss in _without_effect(case, Why.NOT_RECEIVED)
    )


def telephone_not_confirmed(case: Case) -> tuple[Finding, ...]:
    """Name telephone reports of concealed damage with no written confirmation received."""
    return tuple(
        Finding(
            rule="limit-telephone-not-confirmed",
            standing=Standing.MISSING,
            where=f"shipment {shipment.id}",
            message=(
                f"{record.path}: concealed damage was reported by word of mouth ('{notice.how}'), "
                "and no written report is shown to have been received."
            ),
            do_next=(
                "Confirm it today by e-mail: who was told what and when, the damage, the request "
                "for an inspection. Record it with received."
            ),
            evidence=(source_of(record, "how"),),
            citation=REPORT_RULE,
            urgent=True,
        )
        for shipment in _by_motor(case)
        if not deeds(case, shipment, carriage.REPORT)
        for record, notice in spoken(case, shipment, carriage.REPORT)
    )


def inspection_not_requested(case: Case) -> tuple[Finding, ...]:
    """Name reports of concealed damage with which no inspection was asked for."""
    found = []
    for shipment in _by_motor(case):
        asked = (About.INSPECTION_REQUESTED, About.INSPECTION_MADE, About.INSPECTION_WAIVED)
        if any(notice.about in asked for _, notice in notices(case, shipment)):
            continue
        for record, notice in matching(case, shipment, carriage.REPORT):
            if "inspect" in (notice.text or "").lower():
                continue
            found.append(
                Finding(
                    rule="limit-inspection-not-requested",
                    standing=Standing.MISSING,
                    where=f"shipment {shipment.id}",
                    message=f"{record.path} reports damage, with no request to inspect on record.",
                    do_next=(
                        "Ask the carrier in writing to inspect, and keep the packing and the goods "
                        "as they were found. If the report did ask, put its words into the record."
                    ),
                    evidence=(source_of(record, "text"),),
                    citation=REPORT_RULE,
                )
            )
    return tuple(found)


def claim_without_amount(case: Case) -> tuple[Finding, ...]:
    """Name claims to the carrier whose record states no amount."""
    return tuple(
        Finding(
            rule="limit-claim-without-amount",
            standing=Standing.MISSING,
            where=f"shipment {shipment.id}",
            message=(
                f"{record.path}: the record of the claim states no amount. A claim demands a "
                "specified or determinable amount of money."
            ),
            do_next="Put the amount into the record, or file the claim again with an amount.",
            evidence=(source_of(record, "amount"),),
            citation=CLAIM_RULE,
        )
        for shipment in _by_motor(case)
        for record, notice in matching(case, shipment, carriage.CLAIM)
        if notice.amount is None
    )


def offer_is_no_disallowance(case: Case) -> tuple[Finding, ...]:
    """Name offers that start no suit period."""
    return tuple(
        _letter("limit-offer-is-no-disallowance", Standing.NOTE, case, shipment, miss)
        for shipment, miss in _letters(case)
        if miss.notice.about is About.OFFER and miss.notice.states_disallowance is not True
    )


def disallowance_incomplete(case: Case) -> tuple[Finding, ...]:
    """Name refusals that are not shown to disallow in the way that starts the suit period."""
    return tuple(
        _letter("limit-disallowance-incomplete", Standing.MISSING, case, shipment, miss)
        for shipment, miss in _letters(case)
        if miss.notice.about is not About.OFFER or miss.notice.states_disallowance is True
    )


def _letter(rule: str, standing: Standing, case: Case, shipment: Shipment, miss: Miss) -> Finding:
    todo = (
        "Read the letter once more: does it say that it disallows the claim or a part of it, does "
        "it give reasons, for whom does it speak? Put that into the record, or ask in writing."
    )
    limit = _if_it_disallows(case, shipment, miss)
    if limit and limit.nominal and case.as_of > limit.nominal:
        todo += (
            f" If this letter disallows, the last day to sue, {written(limit.nominal)}, has "
            "passed: ask a lawyer now."
        )
    elif limit and limit.nominal and limit.act_by:
        todo += (
            f" Until that is clear act by {written(limit.act_by)}: the last day to sue is "
            f"{written(limit.nominal)}, if this letter disallows."
        )
    return Finding(
        rule=rule,
        standing=standing,
        where=f"shipment {shipment.id}",
        message=miss.said,
        do_next=todo,
        evidence=(source_of(miss.record, "states_disallowance"),),
        citation=DISALLOWANCE_RULE,
    )


def _if_it_disallows(case: Case, shipment: Shipment, miss: Miss) -> TimeLimit | None:
    """Give the period to sue that is counted in case this letter disallows."""
    return next(
        (
            limit
            for limit in case.limits
            if limit.shipment == shipment.id
            and limit.provided
            and limit.clause.starts == carriage.DISALLOWANCE
            and any(source.path == miss.record.path for source in limit.sources)
        ),
        None,
    )


def records_not_placed(case: Case) -> tuple[NotChecked, ...]:
    """Name deliveries and notices that belong to no shipment of the job."""
    job = case.facts.job
    if job is None:
        return ()
    names = ", ".join(s.id for s in job.shipment)
    return tuple(
        NotChecked(
            "limit-record-not-placed",
            record.path,
            "It belongs to no shipment that can be told, so it starts and meets no limit. Write "
            f"shipment = one of: {names}.",
        )
        for record in (*case.facts.in_force(Delivery), *case.facts.in_force(Notice))
        if job.shipment and job.shipment_named(shipment_of_record(case, record)) is None
    )


def deliveries_not_dated(case: Case) -> tuple[NotChecked, ...]:
    """Name deliveries without any time, from which nothing can be counted."""
    return tuple(
        NotChecked(
            "limit-delivery-not-dated",
            record.path,
            "The record says neither when the receipt was signed nor when the truck came or left: "
            "no limit can be counted from it. Write a record that replaces it, with signed_at.",
        )
        for shipment in _shipments(case)
        for record, delivery in deliveries(case, shipment)
        if not nothing_received(delivery)
        and not (delivery.signed_at or delivery.arrived or delivery.driver_left)
    )


def _shipments(case: Case) -> tuple[Shipment, ...]:
    return case.facts.job.shipment if case.facts.job else ()


def _by_motor(case: Case) -> tuple[Shipment, ...]:
    """Give the shipments under the terms whose rules these checks cite."""
    return tuple(s for s in _shipments(case) if s.terms is Terms.US_INTERSTATE_MOTOR)


def _without_effect(case: Case, why: Why) -> Iterator[tuple[Shipment, Miss]]:
    """Give the notices of ours that miss in that way, where no other one does the same act."""
    for shipment in _shipments(case):
        told: set[str] = set()
        for word, party in _acts_of_ours(case, shipment):
            if deeds(case, shipment, word, party):
                continue
            for miss in misses_of(case, shipment, word, party):
                if miss.why is why and miss.record.path not in told:
                    told.add(miss.record.path)
                    yield shipment, miss


def _acts_of_ours(case: Case, shipment: Shipment) -> list[tuple[str, str]]:
    """Give the acts that our limits of a shipment ask for, each with the party that must know."""
    asked = [
        (word, limit.clause.party)
        for limit in case.limits
        if limit.shipment == shipment.id and limit.clause.whose is Whose.OURS
        for word in limit.clause.met_by
    ]
    return list(dict.fromkeys([*((word, "") for word in OURS), *asked]))


def _letters(case: Case) -> Iterator[tuple[Shipment, Miss]]:
    for shipment in _by_motor(case):
        for miss in letters_that_start_nothing(case, shipment):
            yield shipment, miss


CHECKS: tuple[tuple[str, str, Callable[[Case], tuple[Finding | NotChecked, ...]]], ...] = (
    ("limit-sent-to-broker", "A claim or report that went to a broker only", sent_to_broker),
    ("limit-sent-not-received", "Sent, and not shown received", sent_not_received),
    (
        "limit-telephone-not-confirmed",
        "A telephone report with no written confirmation",
        telephone_not_confirmed,
    ),
    (
        "limit-inspection-not-requested",
        "A report of damage with no request for inspection",
        inspection_not_requested,
    ),
    ("limit-claim-without-amount", "A claim that states no amount", claim_without_amount),
    (
        "limit-offer-is-no-disallowance",
        "An offer that starts no suit period",
        offer_is_no_disallowance,
    ),
    (
        "limit-disallowance-incomplete",
        "A refusal not shown to start the suit period",
        disallowance_incomplete,
    ),
    ("limit-record-not-placed", "A record that belongs to no shipment", records_not_placed),
    ("limit-delivery-not-dated", "A delivery with no time", deliveries_not_dated),
)
