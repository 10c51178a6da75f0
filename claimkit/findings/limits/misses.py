"""Notices that look as if they met or started a time limit, and why they do not.

Sent but not shown received; sent to a broker or to somebody else; spoken only; dated after the
legal day; an offer or a letter that is no disallowance in the sense of 49 USC 14706(e)(2).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from claimkit.findings.limits.calendar import written
from claimkit.findings.limits.events import (
    UNCLEAR_LETTER,
    acts_for_carrier,
    brokers_of,
    carriers_of,
    dated,
    deeds,
    is_spoken,
    local_day,
    matching,
    name_of,
    notices,
    part_paid,
    source_of,
    what_it_is,
    why_no_disallowance,
)
from claimkit.model.case import Case
from claimkit.model.job import Job, Role, Shipment, Terms
from claimkit.model.limit import Clause, Whose
from claimkit.model.records import About, Notice, Record
from claimkit.model.source import Source
from claimkit.rules import carriage
from claimkit.rules.carriage import ACTS

# CMR Article 30(1) and (3), Montreal Convention Article 31(3), from memory.
SENDING_MAY_SERVE = (Terms.CMR, Terms.MONTREAL)
OUR_ROLES = {Role.OWNER, Role.CUSTOMER, Role.CONSIGNEE, Role.INSTALLER}


class Why(StrEnum):
    """Why a notice does not do what it seems to do."""

    NOT_RECEIVED = "not shown received"
    SPOKEN = "spoken only"
    BROKER = "sent to a broker"
    ELSEWHERE = "sent to somebody else"
    LATER = "after the legal day"
    NO_DISALLOWANCE = "no disallowance"


@dataclass(frozen=True, slots=True)
class Miss:
    """One notice that falls short: its record, why, and the sentence that says so."""

    why: Why
    record: Record
    notice: Notice
    said: str

    @property
    def source(self) -> Source:
        """The record as a source, at the key that decides."""
        keys = {Why.BROKER: "to", Why.ELSEWHERE: "to", Why.SPOKEN: "how"}
        return source_of(self.record, keys.get(self.why, "received"))


def misses(case: Case, shipment: Shipment, clause: Clause, told: str = "") -> tuple[str, ...]:
    """Say what is on record beside a clause that was not met, or that has not started.

    `told` is the path of a record of which it is said elsewhere what its sending may do.
    """
    words = list(clause.met_by) if clause.whose is Whose.OURS else []
    if clause.starts == carriage.CLAIM_RECEIVED:
        words.append(carriage.CLAIM)
    found = [
        miss
        for word in words
        for miss in misses_of(case, shipment, word, clause.party)
        if not (miss.why is Why.NOT_RECEIVED and miss.record.path == told)
    ]
    if clause.starts == carriage.DISALLOWANCE:
        found += letters_that_start_nothing(case, shipment)
    theirs = clause.whose is Whose.CARRIERS
    other = _beside_their_duty(case, shipment, clause) if theirs else ()
    beside = [
        f"On record beside it: {deed.said}. That alone does not meet this limit."
        for word in carriage.BESIDE.get(clause.id, ())
        for deed in deeds(case, shipment, word)[:1]
        if deed.day <= case.as_of
    ]
    return (*dict.fromkeys(miss.said for miss in found), *other, *beside)


def _beside_their_duty(case: Case, shipment: Shipment, clause: Clause) -> tuple[str, ...]:
    """Name the carrier's letters and payments that are not shown to do what its duty asks for."""
    job = case.facts.job
    said = []
    for record, notice in notices(case, shipment):
        when = dated(case, notice, on_receipt=False)
        if job is None or when is None or when[0] > case.as_of:
            continue
        if not acts_for_carrier(job, shipment, notice) or is_spoken(notice):
            continue
        day = written(when[0])
        unclear = what_it_is(notice) == UNCLEAR_LETTER
        if unclear and carriage.DECLINED in clause.met_by:
            said.append(f"Letter of {day} ({record.path}); not shown to decline or to offer.")
        part = part_paid(case, shipment, notice) if notice.about is About.PAYMENT else None
        if part and carriage.PAID in clause.met_by:
            said.append(
                f"Payment of {day} ({record.path}): {part[0]} in all of {part[1]}; not shown to "
                "settle the rest."
            )
    return tuple(said)


def misses_of(case: Case, shipment: Shipment, word: str, party: str = "") -> tuple[Miss, ...]:
    """Give the notices about an act of ours that do not do it, in the order of their ids.

    What went astray is named only where the carrier must have it: a letter to the carrier is none
    that missed the seller.
    """
    job = case.facts.job
    if job is None:
        return ()
    right = {record.id for record, _ in matching(case, shipment, word, party)}
    for_carrier = not party and ACTS[word].to == carriage.CARRIER
    found = []
    for record, notice in notices(case, shipment):
        if notice.about not in ACTS[word].about or notice.sender in carriers_of(job, shipment):
            continue
        if record.id not in right:
            if for_carrier:
                found.append(_astray(job, shipment, record, notice))
        elif is_spoken(notice):
            found.append(_spoken(shipment, record, notice, word))
        elif notice.received is None:
            found.append(_not_received(case, shipment, record, notice))
        elif local_day(case, notice.received) > case.as_of:
            said = (
                f"{record.path}: received on {written(local_day(case, notice.received))}, after "
                f"the legal day, {case.as_of}."
            )
            found.append(Miss(Why.LATER, record, notice, said))
    return tuple(found)


def _astray(job: Job, shipment: Shipment, record: Record, notice: Notice) -> Miss:
    name = name_of(job, notice.to)
    if notice.to in brokers_of(job, shipment):
        said = f"{record.path} went to {name}, a broker: it is not shown filed with a carrier."
        return Miss(Why.BROKER, record, notice, said)
    said = f"{record.path} went to {name}, who is not entered as a carrier of this shipment."
    return Miss(Why.ELSEWHERE, record, notice, said)


def _spoken(shipment: Shipment, record: Record, notice: Notice, word: str) -> Miss:
    motor = shipment.terms is Terms.US_INTERSTATE_MOTOR and ACTS[word].to == carriage.CARRIER
    if ACTS[word].oral_counts:
        rule = "it has to be confirmed in writing or electronically (NMFC item 300135-A)"
    elif motor:
        rule = "only a written communication counts (49 CFR 370.3(b))"
    else:
        rule = "only what is in writing is counted here, since what was said cannot be shown"
    return Miss(Why.SPOKEN, record, notice, f"{record.path} was spoken ('{notice.how}'): {rule}.")


def _not_received(case: Case, shipment: Shipment, record: Record, notice: Notice) -> Miss:
    sent = f"sent on {written(local_day(case, notice.sent))}" if notice.sent else "not dated"
    rule = "Sent stops no limit, received does."
    if shipment.terms in SENDING_MAY_SERVE:
        rule = (
            "It is counted by its receipt; keep the proof of sending, which may serve where the "
            "text speaks of sending (from memory)."
        )
    said = f"{record.path}: {sent}, and no record says that it was received. {rule}"
    return Miss(Why.NOT_RECEIVED, record, notice, said)


def letters_that_start_nothing(case: Case, shipment: Shipment) -> tuple[Miss, ...]:
    """Give the other side's offers and refusals that do not start the suit period, with why."""
    job = case.facts.job
    found = []
    for record, notice in notices(case, shipment):
        if job is None or not (
            notice.about in (About.OFFER, About.DISALLOWANCE) or notice.states_disallowance
        ):
            continue
        sender = job.party_named(notice.sender)
        if sender and set(sender.roles) & OUR_ROLES:
            continue
        why = why_no_disallowance(job, shipment, notice)
        if why:
            law = " (49 USC 14706(e)(2))" if shipment.terms is Terms.US_INTERSTATE_MOTOR else ""
            said = f"{record.path} ({what_it_is(notice)}) starts no suit period: {why}{law}."
            found.append(Miss(Why.NO_DISALLOWANCE, record, notice, said))
    return tuple(found)
