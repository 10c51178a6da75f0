"""What starts a time limit, taken from job.toml and the records of one shipment.

The words of `rules.carriage` for an event are mapped to functions here. Where an event could have
been on an earlier day than the one that is stated, the careful count starts there.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date, timedelta

from claimkit.findings.delivery.refusal import refused_whole
from claimkit.findings.limits.calendar import written
from claimkit.findings.limits.conditions import (
    damages_of,
    hidden_damage,
    short_at_curb,
    unpackings_of,
    wrong_pieces,
)
from claimkit.findings.limits.events import (
    Happening,
    acts_for_carrier,
    dated,
    deeds,
    deliveries,
    instant_of,
    is_spoken,
    local_day,
    nothing_received,
    notices,
    source_in_job,
    source_of,
    stated_times,
    why_no_disallowance,
)
from claimkit.findings.limits.misses import letters_that_start_nothing
from claimkit.model.case import Case
from claimkit.model.job import Role, Shipment, Terms
from claimkit.model.moment import Moment
from claimkit.model.records import About, FoundAt, Notice
from claimkit.model.source import Source
from claimkit.rules import carriage


def _delivered(case: Case, shipment: Shipment) -> tuple[Happening, ...]:
    """Give each day on which goods of the shipment were delivered; one day is one event."""
    by_day: dict[date, Happening] = {}
    for record, delivery in deliveries(case, shipment):
        if nothing_received(delivery):
            continue
        stated = stated_times(case, delivery)
        if not stated:
            continue
        key, day = stated[0]
        careful = min(day for _, day in stated)
        said = f"Delivered on {written(day)}, local date at the site ({record.path}: {key})."
        if careful < day:
            said += f" The truck was there on {written(careful)}; the careful count starts there."
        if delivery.refusal:
            said += " Something was refused."
            if delivery.units_received is None and delivery.cartons_received is None:
                said += " If nothing was left there, record units_received = 0."
        earlier, at = by_day.get(day), instant_of(delivery, key)
        if earlier:
            at = min((moment for moment in (at, earlier.at) if moment), default=None)
            said = f"{earlier.said} {said}"
            careful = min(careful, earlier.careful)
        sources = (*(earlier.sources if earlier else ()), source_of(record, key))
        by_day[day] = Happening(day, careful, said, sources, at)
    ordered = [by_day[day] for day in sorted(by_day)]
    if len(ordered) < 2:
        return tuple(ordered)
    count = f" This is delivery {{}} of {len(ordered)} of this shipment; each has its own count."
    return tuple(
        replace(h, said=h.said + count.format(number)) for number, h in enumerate(ordered, start=1)
    )


def _delivered_or_tendered(case: Case, shipment: Shipment) -> tuple[Happening, ...]:
    """Give each delivery, and each day on which goods were tendered and refused whole.

    Whether a seller's period runs from a refused tender is not settled by his terms; it is counted
    so as not to be missed. UCC 2-602(1), from memory: rejection within a reasonable time after
    delivery or tender.
    """
    tenders: dict[date, Happening] = {}
    for record, delivery in deliveries(case, shipment):
        stated = stated_times(case, delivery) if refused_whole(delivery) else []
        if stated:
            day, key = min((day, key) for key, day in stated)
            said = (
                f"Tendered on {written(day)} and refused ({record.path}: {key}); counted from the "
                "tender so as not to be late (UCC 2-602(1), from memory: rejection within a "
                "reasonable time after delivery or tender)."
            )
            at = instant_of(delivery, key)
            tenders.setdefault(day, Happening(day, day, said, (source_of(record, key),), at))
    return tuple(sorted((*_delivered(case, shipment), *tenders.values()), key=lambda h: h.day))


def _date_in_job(key: str, words: str) -> Callable[[Case, Shipment], tuple[Happening, ...]]:
    def happened(case: Case, shipment: Shipment) -> tuple[Happening, ...]:
        moment: Moment | None = getattr(shipment, key)
        if moment is None:
            return ()
        day = local_day(case, moment)
        said = f"{words} {written(day)} (job.toml: {key})."
        return (Happening(day, day, said, (source_in_job(case, shipment, key),)),)

    return happened


def _claim_received(case: Case, shipment: Shipment) -> tuple[Happening, ...]:
    """Give the first written claim that a carrier of the shipment received."""
    found = deeds(case, shipment, carriage.CLAIM)
    if not found:
        return ()
    first = found[0]
    said = f"{first.said}: the carrier has a written claim."
    if len(found) > 1:
        said += f" {len(found) - 1} later; the first one counts here."
    return (Happening(first.day, first.day, said, (first.source,)),)


def _disallowed(case: Case, shipment: Shipment) -> tuple[Happening, ...]:
    """Give the first letter that disallows the claim in the way of 49 USC 14706(e)."""
    job = case.facts.job
    letters = []
    for record, notice in notices(case, shipment):
        if job is None or why_no_disallowance(job, shipment, notice):
            continue
        when = dated(case, notice, on_receipt=False)
        if when:
            letters.append((*when, record))
    if not letters:
        return ()
    day, key, record = min(letters, key=lambda letter: (letter[0], letter[2].id))
    said = (
        f"Written notice of {written(day)} disallows the claim or a part of it and gives reasons "
        f"({record.path}: {key})."
    )
    if key == "sent":
        statute = " of 49 USC 14706(e)(1)" if shipment.terms is Terms.US_INTERSTATE_MOTOR else ""
        said += f" Counted from the day it was sent, the stricter reading{statute}."
    return (Happening(day, day, said, (source_of(record, key),)),)


def may_disallow(case: Case, shipment: Shipment) -> Happening | None:
    """Give the first letter of the carrier's side that may be a disallowance and is not shown one.

    A written letter that is recorded as a disallowance, or said to disallow, and falls short of
    49 USC 14706(e)(2). An offer that does not say so is none (that section), nor is what the
    record says does not disallow. None where a letter that is shown to disallow came first.
    """
    found = [
        (*when, miss)
        for miss in letters_that_start_nothing(case, shipment)
        if _is_unclear(miss.notice)
        and _may_speak_for_carrier(case, shipment, miss.notice)
        and (when := dated(case, miss.notice, on_receipt=False))
    ]
    if not found:
        return None
    day, key, miss = min(found, key=lambda letter: (letter[0], letter[2].record.id))
    if any(shown.day <= day for shown in _disallowed(case, shipment)):
        return None
    said = (
        f"Counted in case the letter of {written(day)} ({miss.record.path}: {key}) disallows the "
        f"claim or a part of it, which is not shown. {miss.said}"
    )
    return Happening(day, day, said, (source_of(miss.record, key),))


def _is_unclear(notice: Notice) -> bool:
    told = notice.states_disallowance
    return (told or (notice.about is About.DISALLOWANCE and told is None)) and not is_spoken(notice)


def _may_speak_for_carrier(case: Case, shipment: Shipment, notice: Notice) -> bool:
    """Tell whether a letter is a carrier's, or of one who may act for it: insurer or broker."""
    job = case.facts.job
    if job is None or acts_for_carrier(job, shipment, notice):
        return job is not None
    sender = job.party_named(notice.sender)
    able = {Role.INSURER, Role.BROKER} & set(sender.roles if sender else ())
    return bool(able) and notice.acts_for_carrier is None


def _discovered(case: Case, shipment: Shipment) -> tuple[Happening, ...]:
    """Give the first day on which something wrong with the goods is on record."""
    found = sorted(_first_signs(case, shipment), key=lambda sign: (sign[0], sign[1]))
    if not found:
        return ()
    day, what, source = found[0]
    said = f"First on record as found on {written(day)}: {what} ({source.path})."
    return (Happening(day, day, said, (source,)),)


def _first_signs(case: Case, shipment: Shipment) -> Iterator[tuple[date, str, Source]]:
    """Give each sign of damage, loss or a wrong piece that can be dated, with its day."""
    at_curb = {
        record.path: min(day for _, day in stated)
        for record, delivery in deliveries(case, shipment)
        if (stated := stated_times(case, delivery))
    }
    unpacked = {
        record.path: min(local_day(case, moment) for moment in moments)
        for record, body in unpackings_of(case, shipment)
        if (moments := [m for m in (body.began, body.ended) if m])
    }
    otherwise = {FoundAt.CURB: at_curb, FoundAt.UNPACKING: unpacked}
    for record, damage in damages_of(case, shipment):
        what = f"{damage.item}: {damage.what}"
        if damage.found:
            yield local_day(case, damage.found), what, source_of(record, "found")
        elif days := otherwise.get(damage.found_at, {}):
            yield min(days.values()), what, source_of(record, "found_at")
    points = (*hidden_damage(case, shipment), *short_at_curb(case, shipment))
    points += wrong_pieces(case, shipment)
    for what, source in points:
        day = (at_curb | unpacked).get(source.path or "")
        if day:
            yield day, what, source
    for deed in deeds(case, shipment, carriage.RESERVATION):
        yield deed.day, "the words on the receipt", deed.source


def _counted_as_lost(case: Case, shipment: Shipment) -> tuple[Happening, ...]:
    """Give the day from which goods never delivered count as lost: CMR Article 32(1)(b).

    The earlier of the two ways, since whether a day was agreed is not known.
    """
    ways = (
        ("reasonable_delivery", 30, "after the day by which delivery could be expected"),
        ("shipped", 60, "after the goods were taken over"),
    )
    found = []
    for key, days, words in ways:
        moment: Moment | None = getattr(shipment, key)
        if moment:
            start = local_day(case, moment)
            day = start + timedelta(days=days)
            said = (
                f"{written(day)} is the {days}th day {words}, {written(start)} (job.toml: {key}); "
                "from it the goods count as lost (CMR Article 32(1)(b))."
            )
            source = source_in_job(case, shipment, key)
            found.append(Happening(day, day, said, (source,)))
    return tuple(sorted(found, key=lambda happening: happening.day)[:1])


STARTS: dict[str, Callable[[Case, Shipment], tuple[Happening, ...]]] = {
    carriage.DELIVERY: _delivered,
    carriage.TENDER: _delivered_or_tendered,
    carriage.BILL_DATE: _date_in_job("bill_date", "The bill of lading is dated"),
    carriage.REASONABLE_DATE: _date_in_job(
        "reasonable_delivery", "Delivery could reasonably be expected by"
    ),
    carriage.SHIPMENT_DATE: _date_in_job("shipped", "Shipped on"),
    carriage.CLAIM_RECEIVED: _claim_received,
    carriage.DISALLOWANCE: _disallowed,
    carriage.DISCOVERY: _discovered,
    carriage.TOTAL_LOSS: _counted_as_lost,
    # The chain of status periods is made in limits.py; its first link is the claim.
    carriage.DISPOSITION_DUE: _claim_received,
}
