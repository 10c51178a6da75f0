"""Whether a carrier is to be asked, and which: origin, delivering or last-mile; a broker is none.

For what could be seen, a clean bill at origin and a receipt or a photo at the curb serve. For what
the packing hid, evidence of packing and origin and a report in time are wanted besides: a clean
bill shows only what could be seen (264 So.2d 646). A piece that the unpacking record calls good
was good when the carrier had gone.
"""

from __future__ import annotations

from claimkit.findings.claim.elements import dated_photos, signed_clean
from claimkit.findings.limits.conditions import SOUND, noted_on_receipt, unpackings_of
from claimkit.findings.limits.events import (
    carriers_of,
    deliveries,
    name_of,
    source_in_job,
    source_of,
)
from claimkit.findings.matters import (
    DAMAGE,
    GAP,
    NOT_DELIVERED,
    SHORTAGE,
    WRONG_PART,
    Matter,
    Weighing,
)
from claimkit.findings.receipt.grade import found_of, states, states_short
from claimkit.model.case import Asked, Candidate, Case
from claimkit.model.job import Item, Job, Role, Shipment, Terms
from claimkit.model.limit import LimitState
from claimkit.model.receipt import Grade
from claimkit.model.records import Damage, FoundAt
from claimkit.model.source import Source
from claimkit.rules import carriage

CLEAN = "Enter clean_at_origin: was the bill signed at origin with no exception?"
PACKING = "Ask the seller how the goods were packed and for their condition at origin."
CURB = "A photo that is dated at the curb, or specific words on the carrier's copy of the receipt."
IN_TIME = (
    "A report of the concealed damage that the carrier had in time, or specific words on its "
    "copy of the receipt."
)
WAS_REFUSED = "Whether the piece was in what was refused at the curb: what lay in it."
UNPACKED = "An unpacking record that states this item's condition when it came out."


def carriers(case: Case, job: Job, matter: Matter) -> tuple[Candidate, ...]:
    """Give one candidate for each carrier of the shipment; none where no carriage was for hire."""
    shipment = matter.shipment
    if shipment is None or shipment.terms is Terms.SELLERS_TRUCK:
        return ()
    named = _named(job, shipment)
    weighed = in_the_carriage(case, shipment, matter)
    if not named:
        weighed.wanted.append(
            "No carrier is named, only a broker or a party without a carrier's role. Ask the "
            "broker whose truck came, and enter it as the shipment's carrier."
        )
        return (_candidate(Asked.DELIVERING_CARRIER, None, weighed),)
    return tuple(
        _candidate(who, party, _which(case, job, shipment, who, party, weighed))
        for who, party in named
    )


def _candidate(who: Asked, party: str | None, weighed: Weighing) -> Candidate:
    return Candidate(who, party, weighed.answer(), weighed.because(), weighed.settle())


def _named(job: Job, shipment: Shipment) -> list[tuple[Asked, str]]:
    """Give the carriers of a shipment, each with its part; the shipment's own carrier first."""
    there = carriers_of(job, shipment)
    found: list[tuple[Asked, str]] = []
    if shipment.carrier in there:
        party = job.party_named(shipment.carrier)
        roles = party.roles if party else ()
        last_mile = Role.LAST_MILE_CARRIER in roles and Role.DELIVERING_CARRIER not in roles
        who = Asked.LAST_MILE_CARRIER if last_mile else Asked.DELIVERING_CARRIER
        found.append((who, shipment.carrier))
    if shipment.origin_carrier in there and shipment.origin_carrier != shipment.carrier:
        found.append((Asked.ORIGIN_CARRIER, shipment.origin_carrier or ""))
    rest = sorted(there - {party for _, party in found})
    return found + [(Asked.LAST_MILE_CARRIER, party) for party in rest]


def _which(  # noqa: PLR0913, PLR0917 - one carrier of one shipment
    case: Case, job: Job, shipment: Shipment, who: Asked, party: str, weighed: Weighing
) -> Weighing:
    """Add what is asked of a carrier that is not the one whose truck came."""
    found = Weighing(list(weighed.says_so), list(weighed.wanted), list(weighed.against))
    if party == shipment.carrier:
        return found
    name = name_of(job, party)
    if who is Asked.ORIGIN_CARRIER:
        if shipment.terms is Terms.US_INTERSTATE_MOTOR:
            text = f"{name} received the goods for interstate carriage."
            found.says_so.append((text, (source_in_job(case, shipment, "origin_carrier"),)))
        else:
            found.wanted.append(
                f"Which terms govern, and whether {name} answers for the whole carriage or for "
                "its own part: the receipt between the two carriers."
            )
    else:
        found.wanted.append(
            f"Whether {name} had these goods, and in which condition it took them over: the "
            "receipt between the two carriers."
        )
    return found


def in_the_carriage(case: Case, shipment: Shipment, matter: Matter) -> Weighing:
    """Weigh whether it happened between the origin and the delivery."""
    if matter.kind == DAMAGE:
        return _damage(case, shipment, matter)
    if matter.kind == SHORTAGE:
        return _shortage(case, shipment, matter)
    if matter.kind == NOT_DELIVERED:
        return _not_delivered(case, shipment)
    found = Weighing.begun()
    if matter.kind == WRONG_PART:
        found.against.append(("A carrier delivers what it was given.", matter.sources))
    elif matter.kind == GAP:
        found.wanted.append(
            "Whether a piece was bent or damaged on delivery: its condition at the unpacking."
        )
    return found


def _damage(case: Case, shipment: Shipment, matter: Matter) -> Weighing:
    found = Weighing.begun()
    damage = matter.damage
    if damage is None:
        return found
    _origin(case, shipment, found)
    if damage.found_at is FoundAt.CURB:
        photos = dated_photos(case, damage)
        if photos:
            found.says_so.append(("A photo that shows it is dated at the curb.", photos))
        receipt = stating(case, shipment, damage)
        if receipt:
            found.says_so.append(("The carrier's copy of the receipt states it.", receipt))
        if not photos and not receipt:
            found.wanted.append(CURB)
        return found
    sound = called_sound(case, shipment, matter.item)
    if damage.found_at is not FoundAt.UNPACKING and sound:
        found.against.append(("It was good when it was unpacked.", sound))
        return found
    if damage.found_at is not FoundAt.UNPACKING and not sound:
        found.wanted.append(UNPACKED)
    _packing(case, shipment, found)
    in_time = _reported_in_time(case, shipment)
    if in_time:
        found.says_so.append(("It was reported to the carrier in time.", in_time))
    elif noted_on_receipt(case, shipment):
        text = "The carrier's copy of the receipt states damage to the packing or the goods."
        found.says_so.append((text, specific(case, shipment)))
    else:
        found.wanted.append(IN_TIME)
    return found


def _origin(case: Case, shipment: Shipment, found: Weighing) -> None:
    source = (source_in_job(case, shipment, "clean_at_origin"),)
    if shipment.clean_at_origin:
        text, paper = signed_clean(case, shipment)
        found.says_so.append((f"{text}.", (*source, *paper)))
    elif shipment.clean_at_origin is False:
        found.wanted.append("What the exception on the bill at origin says of these pieces.")
    else:
        found.wanted.append(CLEAN)


def _packing(case: Case, shipment: Shipment, found: Weighing) -> None:
    if shipment.packing_evidence:
        text = f"Packing and condition at origin: {shipment.packing_evidence}."
        source = source_in_job(case, shipment, "packing_evidence")
        found.says_so.append((text, (source,)))
    else:
        found.wanted.append(PACKING)


def specific(case: Case, shipment: Shipment) -> tuple[Source, ...]:
    """Give the receipts of a shipment that state something specific."""
    return tuple(
        r.record
        for r in case.receipts
        if r.shipment == shipment.id and r.reading.grade is Grade.SPECIFIC
    )


def stating(case: Case, shipment: Shipment, damage: Damage) -> tuple[Source, ...]:
    """Give the receipts of a shipment of which the carrier's copy states this damage."""
    found = found_of(case.facts, damage)
    return tuple(
        r.record
        for r in case.receipts
        if r.shipment == shipment.id
        and r.reading.grade is Grade.SPECIFIC
        and states(r.words, found)
    )


def anything_refused(case: Case, shipment: Shipment) -> bool:
    """Tell whether a record or the words of a receipt say that something was refused."""
    told = (m.what for r in case.receipts if r.shipment == shipment.id for m in r.reading.matches)
    return "refusal" in told or any(body.refusal for _, body in deliveries(case, shipment))


def called_sound(case: Case, shipment: Shipment, item: Item | None) -> tuple[Source, ...]:
    """Give where an unpacking record calls an item good."""
    return tuple(
        source_of(record, f"counted[{number}].condition")
        for record, body in unpackings_of(case, shipment)
        for number, counted in enumerate(body.counted, 1)
        if item
        and counted.item == item.id
        and (counted.condition or "").strip().lower().rstrip(".") in SOUND
    )


def _reported_in_time(case: Case, shipment: Shipment) -> tuple[Source, ...]:
    return tuple(
        source
        for limit in case.limits
        if limit.shipment == shipment.id
        and limit.clause.concerns == carriage.HIDDEN_DAMAGE
        and limit.state is LimitState.MET
        for source in limit.sources
    )


def _shortage(case: Case, shipment: Shipment, matter: Matter) -> Weighing:
    found = Weighing.begun()
    source = source_in_job(case, shipment, "clean_at_origin")
    if matter.item is None:  # counted short at the curb
        if shipment.clean_at_origin:
            text, paper = signed_clean(case, shipment)
            found.says_so.append((f"{text}.", (source, *paper)))
        else:
            found.wanted.append(CLEAN)
        receipt = tuple(
            source_of(record, "words")
            for record, body in deliveries(case, shipment)
            if states_short(case.facts, body)
        )
        if receipt:
            text = "Counted short at the curb, and the carrier's copy of the receipt states it."
            found.says_so.append((text, receipt))
        else:
            found.wanted.append("The short count on the carrier's copy of the receipt.")
        return found
    if anything_refused(case, shipment):
        found.wanted.append(WAS_REFUSED)
    found.wanted.append(
        "Where the piece was lost: the seller's packing list, the weights at origin and on the "
        "way, the state of wrap and seal at delivery, and a report to the carrier in time."
    )
    return found


def _not_delivered(case: Case, shipment: Shipment) -> Weighing:
    found = Weighing.begun()
    bill = source_in_job(case, shipment, "bill_number")
    if shipment.bill_number and shipment.clean_at_origin is not None:
        found.says_so.append(
            (f"A carrier signed for the goods on bill {shipment.bill_number}.", (bill,))
        )
    else:
        found.wanted.append(
            "A bill of lading that a carrier signed at origin: bill_number and clean_at_origin."
        )
    if shipment.reasonable_delivery:
        text = f"Delivery could be expected by {shipment.reasonable_delivery.day}."
        found.says_so.append((text, (source_in_job(case, shipment, "reasonable_delivery"),)))
    else:
        found.wanted.append("The day by which delivery could be expected: reasonable_delivery.")
    return found
