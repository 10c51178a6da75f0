"""What meets a time limit, taken from the records of one shipment.

The words of `rules.carriage` for an act and a group of parties are mapped to functions here. A
day is always the local calendar date at the site. What was sent stops nothing; what was received
does; what was only spoken counts where its text says so and once it is confirmed.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from claimkit.findings.limits.calendar import written
from claimkit.findings.scope import shipment_of_record
from claimkit.findings.written_time import site_zone
from claimkit.model.case import Case
from claimkit.model.job import Job, Role, Shipment
from claimkit.model.moment import Moment, Precision
from claimkit.model.quantities import Money
from claimkit.model.receipt import Grade
from claimkit.model.records import About, Delivery, Notice, Record
from claimkit.model.source import Source
from claimkit.rules import carriage
from claimkit.rules.carriage import ACTS

UNCLEAR_LETTER = "letter, not shown to decline or to offer"
ROLE_OF = {carriage.SELLER: Role.SELLER, carriage.INSURER: Role.INSURER}
CARRIER_ROLES = {Role.ORIGIN_CARRIER, Role.DELIVERING_CARRIER, Role.LAST_MILE_CARRIER}


@dataclass(frozen=True, slots=True)
class Happening:
    """An event that a period runs from: its day, the earliest day it could mean, and its words.

    `at` is its instant where one is stated; periods in hours need it.
    """

    day: date
    careful: date
    said: str
    sources: tuple[Source, ...]
    at: datetime | None = None


@dataclass(frozen=True, slots=True)
class Deed:
    """A notice that does what a clause asks for, on a day; `said` names the record."""

    day: date
    said: str
    source: Source
    notice: Notice | None = None


def local_day(case: Case, moment: Moment) -> date:
    """Give the calendar date at the site, whatever offset the moment carries."""
    zone = site_zone(case.facts)
    if moment.precision is Precision.DAY or zone is None:
        return moment.day
    return moment.at.astimezone(zone).date()


def source_of(record: Record, key_path: str | None = None) -> Source:
    """Name a record, or one key of it, as a source."""
    return Source(path=record.path, sha256=record.sha256, key_path=key_path)


def source_in_job(case: Case, shipment: Shipment, key: str) -> Source:
    """Name a key of a shipment's table in job.toml as a source; tables are counted from 1."""
    job = case.facts.job
    number = job.shipment.index(shipment) + 1 if job else 1
    path = f"shipment[{number}].{key}"
    return Source(path="job.toml", sha256=case.facts.job_sha256, key_path=path)


def carriers_of(job: Job, shipment: Shipment) -> set[str]:
    """Give the ids of the carriers of a shipment.

    Those that it names, and a last-mile carrier that no other shipment names. A broker is none,
    unless it carries too; the parties of another shipment are none either.
    """
    named = {shipment.carrier, shipment.origin_carrier} - {None}
    elsewhere = {
        party
        for other in job.shipment
        if other.id != shipment.id
        for party in (other.carrier, other.origin_carrier)
    }
    found = set()
    for party in job.party:
        roles = set(party.roles)
        only_broker = Role.BROKER in roles and not roles & CARRIER_ROLES
        last_mile = Role.LAST_MILE_CARRIER in roles and party.id not in elsewhere
        if (party.id in named and not only_broker) or last_mile:
            found.add(party.id)
    return found


def brokers_of(job: Job, shipment: Shipment) -> set[str]:
    """Give the ids of the brokers that are no carrier of this shipment."""
    brokers = {p.id for p in job.party if Role.BROKER in p.roles}
    if shipment.broker:
        brokers.add(shipment.broker)
    return brokers - carriers_of(job, shipment)


def notices(case: Case, shipment: Shipment) -> tuple[tuple[Record, Notice], ...]:
    """Give the notice records in force that belong to a shipment, ordered by id."""
    return tuple(
        (record, record.body)
        for record in case.facts.in_force(Notice)
        if isinstance(record.body, Notice) and shipment_of_record(case, record) == shipment.id
    )


def is_spoken(notice: Notice) -> bool:
    """Tell whether the record says that it was only spoken. Unknown counts as written."""
    how = (notice.how or "").lower()
    spoken = any(re.search(pattern, how) for pattern in carriage.SPOKEN)
    if not spoken:
        return False
    rest = re.sub(r"\bvoice ?mail\b", "", how)
    in_writing = any(re.search(pattern, rest) for pattern in carriage.IN_WRITING)
    return not in_writing or re.search(r"\b(not|no|never|without)\b", rest) is not None


def name_of(job: Job, party_id: str) -> str:
    """Give a party's name, or its id where job.toml does not list it."""
    party = job.party_named(party_id)
    return party.name if party else party_id


def acts_for_carrier(job: Job, shipment: Shipment, notice: Notice) -> bool:
    """Tell whether a notice comes from a carrier, or from one who says that he acts for it.

    49 USC 14706(e)(2)(B): an insurer's letter must also say that it acts for the carrier.
    """
    return notice.sender in carriers_of(job, shipment) or notice.acts_for_carrier is True


def _in_group(group: str, job: Job, shipment: Shipment, notice: Notice, party: str) -> bool:
    if group == carriage.CARRIER:
        return party in carriers_of(job, shipment)
    if group == carriage.FOR_CARRIER:
        return acts_for_carrier(job, shipment, notice)
    role = ROLE_OF.get(group)
    if role:
        found = job.party_named(party)
        return found is not None and role in found.roles
    return group == carriage.ANYONE


def matching(
    case: Case, shipment: Shipment, word: str, party: str = ""
) -> tuple[tuple[Record, Notice], ...]:
    """Give the notices between the right parties about the right thing, dated or not.

    `party` is the id of the one party that must have it, where a clause names one.
    """
    act, job = ACTS[word], case.facts.job
    if job is None:
        return ()
    return tuple(
        (record, notice)
        for record, notice in notices(case, shipment)
        if (notice.states_disallowance is True if act.says_so else notice.about in act.about)
        and _in_group(act.by, job, shipment, notice, notice.sender)
        and (notice.to == party if party else _in_group(act.to, job, shipment, notice, notice.to))
    )


def deeds(case: Case, shipment: Shipment, word: str, party: str = "") -> tuple[Deed, ...]:
    """Give what was done of an act of `rules.carriage.ACTS`, earliest first.

    Our own acts are dated by receipt alone. The other side has acted on the day that it sent its
    letter, or on the day that we have it where that is all we know. A spoken report counts from
    the day that its written confirmation was received; a spoken act of any other kind not at all.
    A reservation is what the receipt states, on the day of its delivery.
    """
    if word == carriage.RESERVATION:
        return _reservations(case, shipment)
    found = []
    for record, notice in matching(case, shipment, word, party):
        when = dated(case, notice, on_receipt=ACTS[word].on_receipt)
        if when is None or is_spoken(notice):
            continue
        if ACTS[word].in_full and part_paid(case, shipment, notice):
            continue
        day, key = when
        said = f"{_titled(notice)} {key} on {written(day)} ({record.path})"
        found.append(Deed(day, said, source_of(record, key), notice))
    return tuple(sorted(found, key=lambda deed: (deed.day, deed.source.path or "")))


def _reservations(case: Case, shipment: Shipment) -> tuple[Deed, ...]:
    """Give the days on which the carrier's copy of the receipt stated something specific."""
    graded = {r.record.path: r for r in case.receipts if r.reading.grade is Grade.SPECIFIC}
    found = []
    for record, delivery in deliveries(case, shipment):
        stated = stated_times(case, delivery)
        if record.path in graded and stated:
            day = stated[0][1]
            said = f"The receipt of {written(day)} states it ({record.path}: words)"
            found.append(Deed(day, said, source_of(record, "words")))
    return tuple(sorted(found, key=lambda deed: (deed.day, deed.source.path or "")))


def stated_times(case: Case, delivery: Delivery) -> list[tuple[str, date]]:
    """Give the local days that a delivery record states with their keys, the signature first."""
    keys = ("signed_at", "arrived", "driver_left")
    moments = [(key, getattr(delivery, key)) for key in keys]
    return [(key, local_day(case, moment)) for key, moment in moments if moment]


def instant_of(delivery: Delivery, key: str) -> datetime | None:
    """Give the instant that a delivery record states under a key; None where it states a day."""
    moment: Moment = getattr(delivery, key)
    return None if moment.precision is Precision.DAY else moment.at


def dated(case: Case, notice: Notice, *, on_receipt: bool) -> tuple[date, str] | None:
    """Give the day that decides and its key: receipt alone, or the earlier of the two."""
    moments = [("received", notice.received)]
    if not on_receipt:
        moments.append(("sent", notice.sent))
    return min(((local_day(case, m), key) for key, m in moments if m), default=None)


def what_it_is(notice: Notice) -> str:
    """Say what a notice is about; of a refusal that is not shown to be one, that it is a letter."""
    if notice.about is About.DISALLOWANCE and notice.states_disallowance is not True:
        return UNCLEAR_LETTER
    return notice.about.value


def _titled(notice: Notice) -> str:
    about = what_it_is(notice)
    return about[0].upper() + about[1:]


def part_paid(case: Case, shipment: Shipment, payment: Notice) -> tuple[Money, Money] | None:
    """Give what is paid with one payment and what is due, where the first is known to be less.

    All payments of the carrier's side up to that day count together. Due is what the latest claim
    to a carrier by then demands, or the latest offer once an offer is accepted. None where either
    amount is not known or the currencies differ.
    """
    job, until = case.facts.job, dated(case, payment, on_receipt=False)
    if job is None or until is None:
        return None
    earlier = sorted(
        (
            (when[0], record.id, notice)
            for record, notice in notices(case, shipment)
            if (when := dated(case, notice, on_receipt=False)) and when[0] <= until[0]
        ),
        key=lambda found: found[:2],
    )
    accepted = any(notice.about is About.ACCEPTANCE for _, _, notice in earlier)
    asked = carriage.OFFER if accepted else carriage.CLAIM
    wanted = [record.id for record, _ in matching(case, shipment, asked)]
    theirs = [record.id for record, _ in matching(case, shipment, carriage.PAYMENT)]
    due = [notice.amount for _, name, notice in earlier if name in wanted and notice.amount]
    paid = [notice.amount for _, name, notice in earlier if name in theirs]
    known = [amount for amount in paid if amount]
    if not due or not known or len(known) < len(paid):
        return None
    if {amount.currency for amount in known} != {due[-1].currency}:
        return None
    whole = Money(sum((amount.amount for amount in known), Decimal(0)), due[-1].currency)
    return (whole, due[-1]) if whole.amount < due[-1].amount else None


def spoken(
    case: Case, shipment: Shipment, word: str, party: str = ""
) -> tuple[tuple[Record, Notice], ...]:
    """Give the notices of that act that were only spoken."""
    found = matching(case, shipment, word, party)
    return tuple((record, notice) for record, notice in found if is_spoken(notice))


def nothing_received(delivery: Delivery) -> bool:
    """Tell whether a delivery record says that nothing was left at the site."""
    counts = [c for c in (delivery.units_received, delivery.cartons_received) if c is not None]
    return bool(counts) and not any(counts)


def deliveries(case: Case, shipment: Shipment) -> tuple[tuple[Record, Delivery], ...]:
    """Give the delivery records in force of a shipment, ordered by id."""
    return tuple(
        (record, record.body)
        for record in case.facts.in_force(Delivery)
        if isinstance(record.body, Delivery) and shipment_of_record(case, record) == shipment.id
    )


def why_no_disallowance(job: Job, shipment: Shipment, notice: Notice) -> str | None:
    """Say why a notice does not start the suit clock, or give None where it does.

    49 USC 14706(e)(2): an offer is no disallowance unless it says so in writing and gives
    reasons; an insurer's letter must also say that it acts for the carrier.
    """
    if notice.states_disallowance is not True:
        return "the record does not say that the letter disallows the claim or a part of it"
    if not acts_for_carrier(job, shipment, notice):
        return (
            "it is not from a carrier of this shipment and the record does not say that it acts "
            "for the carrier"
        )
    if is_spoken(notice):
        return "it was spoken, not written"
    if notice.gives_reasons is not True:
        return "the record does not say that it gives reasons"
    if not (notice.sent or notice.received):
        return "the record has no date"
    return None
