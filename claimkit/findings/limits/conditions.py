"""When a clause binds at all, and whether passing it would matter, from the facts of a shipment.

The words of `rules.carriage` for conditions and concerns are mapped to functions here. Each
answers from what was recorded: damage found later than the curb, counts that fall short, receipts
that state nothing, whether the packing was opened.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

from claimkit.findings.claim.worksheet import shipment_of
from claimkit.findings.limits.calendar import written
from claimkit.findings.limits.events import (
    deliveries,
    local_day,
    nothing_received,
    notices,
    source_of,
    stated_times,
)
from claimkit.findings.receipt.grade import refused_of
from claimkit.findings.scope import shipment_of_record
from claimkit.model.answers import Answer
from claimkit.model.case import Case
from claimkit.model.job import Shipment
from claimkit.model.receipt import Grade
from claimkit.model.records import About, Damage, Delivery, FoundAt, Record, Unpacking
from claimkit.model.source import Source
from claimkit.rules import carriage

Point = tuple[str, Source]

# CMR Article 20(1): with no time agreed, goods not there 60 days after the carrier took them over
# may be treated as lost.
ON_THE_ROAD = timedelta(days=60)
HANDLING, CARTON = "handling", "carton"
# How a counted item's condition says that nothing is wrong. Common practice, no source.
SOUND = {"good", "fine", "ok", "okay", "sound", "intact", "undamaged", "no damage", "as ordered"}


def damages_of(case: Case, shipment: Shipment) -> tuple[tuple[Record, Damage], ...]:
    """Give the damage records in force of a shipment, settled ones too."""
    return tuple(
        (record, record.body)
        for record in case.facts.in_force(Damage)
        if isinstance(record.body, Damage) and shipment_of_record(case, record) == shipment.id
    )


def unpackings_of(case: Case, shipment: Shipment) -> tuple[tuple[Record, Unpacking], ...]:
    """Give the unpacking records in force of a shipment."""
    return tuple(
        (record, record.body)
        for record in case.facts.in_force(Unpacking)
        if isinstance(record.body, Unpacking) and shipment_of_record(case, record) == shipment.id
    )


def hidden_damage(case: Case, shipment: Shipment) -> tuple[Point, ...]:
    """Say what came to light after the curb: damage, bad condition, pieces that are missing."""
    points: list[Point] = [
        (f"{d.item}: {d.what}, found {d.found_at.value}", source_of(record, "found_at"))
        for record, d in damages_of(case, shipment)
        if d.found_at is not FoundAt.CURB
    ]
    for record, unpacking in unpackings_of(case, shipment):
        for number, counted in enumerate(unpacking.counted, start=1):
            state = (counted.condition or "").strip().lower().rstrip(".")
            if state and state not in SOUND:
                key = f"counted[{number}].condition"
                text = f"{counted.item}: condition not good at the unpacking"
                points.append((text, source_of(record, key)))
    return (*points, *_missing_inside(case, shipment))


def _missing_inside(case: Case, shipment: Shipment) -> tuple[Point, ...]:
    """Name the items of which fewer were counted, in all unpackings together, than ordered."""
    job = case.facts.job
    points: list[Point] = []
    for item in job.item if job else ():
        if job is None or shipment_of(job, item) != shipment.id:
            continue
        counts = [
            (counted.quantity, record, number)
            for record, unpacking in unpackings_of(case, shipment)
            for number, counted in enumerate(unpacking.counted, start=1)
            if counted.item == item.id
        ]
        known = [quantity for quantity, _, _ in counts if quantity is not None]
        if known and len(known) == len(counts) and sum(known) < item.quantity:
            _, record, number = counts[-1]
            text = f"{item.id}: {sum(known)} of {item.quantity} found at the unpacking"
            points.append((text, source_of(record, f"counted[{number}].quantity")))
    return tuple(points)


def curb_damage(case: Case, shipment: Shipment) -> tuple[Point, ...]:
    """Say what damage was seen at the curb."""
    return tuple(
        (f"{d.item}: {d.what}", source_of(record, "found_at"))
        for record, d in damages_of(case, shipment)
        if d.found_at is FoundAt.CURB
    )


def noted_on_receipt(case: Case, shipment: Shipment) -> bool:
    """Tell whether a receipt of the shipment states something specific."""
    return any(
        receipt.shipment == shipment.id and receipt.reading.grade is Grade.SPECIFIC
        for receipt in case.receipts
    )


def short_at_curb(case: Case, shipment: Shipment) -> tuple[Point, ...]:
    """Say which counts at the curb fall short of the bill's, all deliveries together.

    What was refused was not received either, and the sentence says how much of it was refused.
    """
    return tuple(point for _, point, _ in _short_counts(case, shipment))


def short_beyond_refusal(case: Case, shipment: Shipment) -> tuple[Point, ...]:
    """Give the counts at the curb of which more is missing than was refused.

    Where it is not known how many were refused, nothing is known to be short.
    """
    return tuple(point for _, point, short in _short_counts(case, shipment) if short)


def _short_counts(case: Case, shipment: Shipment) -> list[tuple[str, Point, bool]]:
    """Give each count that falls short: of what, and whether more is missing than was refused."""
    found = deliveries(case, shipment)
    points: list[tuple[str, Point, bool]] = []
    for what, unit, expected_of, received_of, on_bill in (
        ("handling units", HANDLING, _units_expected, _units_received, shipment.handling_units),
        ("cartons", CARTON, _cartons_expected, _cartons_received, shipment.cartons),
    ):
        expected = [expected_of(body) for _, body in found]
        received = [received_of(body) for _, body in found]
        known = [count for count in received if count is not None]
        promised = [count for count in expected if count is not None]
        total = on_bill if on_bill is not None else sum(promised) if promised else None
        if total is not None and known and len(known) == len(received) and sum(known) < total:
            key = "units_received" if what == "handling units" else "cartons_received"
            text = f"{sum(known)} of {total} {what} received"
            back = [refused_of(case.facts, body, unit) for _, body in found]
            refused = None if None in back else sum(b for b in back if b)
            if refused is None:
                text += ", and of the rest some refused"
            elif refused:
                text += f", {refused} refused"
            short = refused is not None and sum(known) + refused < total
            points.append((what, (text, source_of(found[-1][0], key)), short))
    return points


def unit_not_delivered(case: Case, shipment: Shipment) -> bool:
    """Tell whether a whole handling unit, or all of the shipment, did not come.

    Cartons are the units where nobody has counted handling units. A piece short inside a unit that
    came is loss from what was delivered.
    """
    found = deliveries(case, shipment)
    if not found:
        return not (unpackings_of(case, shipment) or damages_of(case, shipment))
    if all(nothing_received(body) for _, body in found):
        return True
    short = [what for what, _, _ in _short_counts(case, shipment)]
    units = all(body.units_received is not None for _, body in found)
    return "handling units" in short or ("cartons" in short and not units)


def _units_expected(body: Delivery) -> int | None:
    return body.units_expected


def _units_received(body: Delivery) -> int | None:
    return body.units_received


def _cartons_expected(body: Delivery) -> int | None:
    return body.cartons_expected


def _cartons_received(body: Delivery) -> int | None:
    return body.cartons_received


def wrong_pieces(case: Case, shipment: Shipment) -> tuple[Point, ...]:
    """Say what was found otherwise than ordered."""
    return tuple(
        (f"{d.item}: {d.what} {d.found}, ordered {d.ordered}", source)
        for d in case.differences
        if d.same is Answer.NO and d.shipment == shipment.id
        for source in d.sources
        if source.path and source.path.startswith("records/")
    )


def all_looked_at(case: Case, shipment: Shipment) -> bool:
    """Tell whether every item of the shipment was counted and its condition written down.

    Where no items are listed, any unpacking record will do.
    """
    job = case.facts.job
    items = {i.id for i in job.item if shipment_of(job, i) == shipment.id} if job else set()
    unpackings = unpackings_of(case, shipment)
    seen = {c.item for _, body in unpackings for c in body.counted if c.condition}
    return items <= seen if items else bool(unpackings)


def situation(case: Case, shipment: Shipment) -> str:
    """Say what the window for concealed damage is for, as things stand.

    Damage noted on the receipt is not concealed. The window is shown beside it all the same:
    what the packing still hides falls under it, and nobody knows that it hides nothing until
    everything was looked at.
    """
    hidden = hidden_damage(case, shipment)
    if hidden:
        texts = "; ".join(text for text, _ in hidden)
        return f"Found after the delivery: {texts}. The window is for this."
    seen = curb_damage(case, shipment)
    if seen and not noted_on_receipt(case, shipment):
        return (
            "Damage was seen at the curb, but no receipt states it specifically; the carrier may "
            "treat it as concealed, so report it within this window."
        )
    until = "Until this day hidden damage should be reported."
    if seen:
        return (
            f"Damage noted on the receipt needs no report here; what is still hidden does. {until}"
        )
    if all_looked_at(case, shipment):
        return "Everything was unpacked and nothing hidden was found."
    return f"Nothing hidden has been found yet. {until}"


def must_report(case: Case, shipment: Shipment) -> bool:
    """Tell whether there is something that belongs into a report of concealed damage."""
    if hidden_damage(case, shipment):
        return True
    return bool(curb_damage(case, shipment)) and not noted_on_receipt(case, shipment)


def anything_wrong(case: Case, shipment: Shipment) -> bool:
    """Tell whether loss or damage of any kind is on record for the shipment."""
    return bool(
        damages_of(case, shipment)
        or hidden_damage(case, shipment)
        or short_at_curb(case, shipment)
        or noted_on_receipt(case, shipment)
        or any(notice.about is About.CLAIM for _, notice in notices(case, shipment))
    )


def any_breach(case: Case, shipment: Shipment) -> bool:
    """Tell whether anything is on record that a seller could be told of."""
    return anything_wrong(case, shipment) or bool(wrong_pieces(case, shipment))


def apparent_damage(case: Case, shipment: Shipment) -> bool:
    """Tell whether damage or a shortage that could be seen at delivery is on record."""
    return bool(curb_damage(case, shipment) or short_at_curb(case, shipment))


def nothing_delivered(case: Case, shipment: Shipment) -> bool:
    """Tell whether no delivery record says that something was left at the site."""
    return all(nothing_received(body) for _, body in deliveries(case, shipment))


def lateness(case: Case, shipment: Shipment) -> tuple[bool, str]:
    """Tell whether the goods came later than could be expected, with the sentence that says so."""
    expected = shipment.reasonable_delivery
    days = [day for _, body in deliveries(case, shipment) for _, day in stated_times(case, body)]
    if expected is None or not days:
        return False, "Whether it was late is not known: enter reasonable_delivery in job.toml."
    promised, came = local_day(case, expected), max(days)
    late = came > promised
    word = "late" if late else "not late"
    return late, f"Delivered on {written(came)}, to be expected by {written(promised)}: {word}."


def under_uniform_code(case: Case) -> bool:
    """Tell whether a sale at this place is under the Uniform Commercial Code, article 2."""
    job = case.facts.job
    if job is None or job.site.country != "US":
        return False
    return (job.site.subdivision or "").removeprefix("US-").upper() != "LA"


def not_all_delivered(case: Case, shipment: Shipment) -> bool:
    """Tell whether nothing was delivered, or less than the bill or the order says."""
    arrived = any(not nothing_received(body) for _, body in deliveries(case, shipment))
    return (
        not arrived or bool(short_at_curb(case, shipment)) or bool(_missing_inside(case, shipment))
    )


def expected_by(case: Case, shipment: Shipment) -> date | None:
    """Give the day up to which goods that have not come may still be on their way.

    The day that job.toml states; else 60 days from the day on which they were taken over (CMR
    Article 20(1), from memory; where the CMR does not bind, claimkit's own convention). None
    where no day is known at all.
    """
    if shipment.reasonable_delivery:
        return local_day(case, shipment.reasonable_delivery)
    taken_over = shipment.shipped or shipment.bill_date
    return local_day(case, taken_over) + ON_THE_ROAD if taken_over else None


def overdue(case: Case, shipment: Shipment) -> bool:
    """Tell whether goods are missing from a delivery, or the day to expect them is past.

    Goods that were unpacked or found damaged came, whether or not their delivery is recorded.
    """
    if deliveries(case, shipment):
        return not_all_delivered(case, shipment)
    if unpackings_of(case, shipment) or damages_of(case, shipment):
        return bool(_missing_inside(case, shipment))
    expected = expected_by(case, shipment)
    return expected is not None and case.as_of > expected


CONCERNS: dict[str, Callable[[Case, Shipment], bool]] = {
    "": lambda _case, _shipment: True,
    carriage.HIDDEN_DAMAGE: must_report,
    carriage.LOSS_OR_DAMAGE: anything_wrong,
    carriage.NON_DELIVERY: overdue,
    carriage.APPARENT_DAMAGE: apparent_damage,
    carriage.DELAY: lambda case, shipment: lateness(case, shipment)[0],
    carriage.ANY_BREACH: any_breach,
}


# Conditions without which a clause is not counted and not shown. The others are met in limits.py.
def seen_at_delivery(case: Case, shipment: Shipment) -> bool:
    """Tell whether some of what is wrong could be seen at delivery, or nothing is known wrong."""
    seen = apparent_damage(case, shipment) or noted_on_receipt(case, shipment)
    return seen or not anything_wrong(case, shipment)


NEEDS: dict[str, Callable[[Case, Shipment], bool]] = {
    carriage.NOT_ALL_DELIVERED: not_all_delivered,
    carriage.SEEN_AT_DELIVERY: seen_at_delivery,
    carriage.NOTHING_DELIVERED: nothing_delivered,
    carriage.SOMETHING_WRONG: any_breach,
    carriage.UNIFORM_CODE: lambda case, _shipment: under_uniform_code(case),
}


def matters(case: Case, shipment: Shipment, concerns: str) -> bool:
    """Tell whether passing a clause with that concern would cost anything, as things stand."""
    return CONCERNS[concerns](case, shipment)
