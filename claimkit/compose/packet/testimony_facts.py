"""What one record says, in the first person of the one who wrote it, for a draft statement.

Only what stands in the record is said; what it leaves open is left out, and no doubt of the
record becomes a certainty of the witness.
"""

from __future__ import annotations

from collections.abc import Iterator

from claimkit.compose.packet.view import View
from claimkit.compose.phrases import stretch
from claimkit.findings.limits.events import what_it_is
from claimkit.model.measuring import Readings
from claimkit.model.moment import Moment
from claimkit.model.records import Body, Damage, Delivery, Milestone, Notice, Record, Unpacking


def facts_of(view: View, record: Record) -> tuple[str, ...]:
    """Give the sentences for one record."""
    sentences = _sentences(view, record.body)
    if sentences is None:
        return (f"I wrote the record {record.id} ({record.kind.replace('_', ' ')}).",)
    return tuple(sentences)


def _sentences(view: View, body: Body) -> Iterator[str] | None:
    found: Iterator[str] | None = None
    match body:
        case Delivery():
            found = _delivery(view, body)
        case Damage():
            found = _damage(view, body)
        case Unpacking():
            found = _unpacking(view, body)
        case Readings():
            found = _readings(view, body)
        case Milestone():
            found = _milestone(view, body)
        case Notice():
            found = _notice(view, body)
    return found


def _at(view: View, moment: Moment) -> str:
    return stretch(moment.interval(""), view.zone)


def _delivery(view: View, body: Delivery) -> Iterator[str]:
    if body.arrived:
        yield f"The truck arrived: {_at(view, body.arrived)}."
    if body.driver_left:
        yield f"The driver left: {_at(view, body.driver_left)}."
    counted = [
        f"{got} {what}" + (f" of {due} on the receipt" if due is not None else "")
        for got, due, what in (
            (body.units_received, body.units_expected, "handling units"),
            (body.cartons_received, body.cartons_expected, "cartons"),
        )
        if got is not None
    ]
    if counted:
        yield f"I counted {' and '.join(counted)}."
    if body.inspected is not None:
        reason = f" because {body.not_inspected_because}" if body.not_inspected_because else ""
        yield (
            "The goods were inspected before signing."
            if body.inspected
            else f"The goods were not inspected before signing{reason}."
        )
    if body.words is not None:
        by = f" by {body.words_by}" if body.words_by else ""
        yield (
            f"On the carrier's copy of the receipt these words were written{by}: “{body.words}”"
            if body.words
            else "No words were written on the carrier's copy of the receipt."
        )
    if body.words_on_our_copy is not None:
        yield f"Our own copy has these words: “{body.words_on_our_copy}”"
    if body.signed is not None:
        when = f": {_at(view, body.signed_at)}" if body.signed_at else ""
        yield f"Our side {'signed' if body.signed else 'declined to sign'} the receipt{when}."
    if body.driver_signed is not None:
        who = f"The driver, {body.driver}," if body.driver else "The driver"
        yield f"{who} {'signed' if body.driver_signed else 'declined to sign'} the exception."
    if body.refused:
        yield f"Refused: {body.refusal or 'nothing'}"


def _damage(view: View, body: Damage) -> Iterator[str]:
    item = view.job.item_named(body.item) if view.job else None
    when = f", {_at(view, body.found)}" if body.found else ""
    where = ", ".join(word for word in (body.part, body.extent) if word)
    yield (
        f"I found damage ({body.found_at.value}{when}): {body.quantity} × "
        f"{item.description if item else body.item}, {body.what}{f', {where}' if where else ''}."
    )


def _unpacking(view: View, body: Unpacking) -> Iterator[str]:
    if body.began:
        until = f" and ended {_at(view, body.ended)}" if body.ended else ""
        yield f"Unpacking began {_at(view, body.began)}{until}."
    for one in body.counted:
        item = view.job.item_named(one.item) if view.job else None
        name = item.description if item else one.item
        number = f"{one.quantity} × " if one.quantity is not None else ""
        found = f": {one.condition}" if one.condition else ""
        yield f"Unpacked: {number}{name}{found}."
    if body.packing_kept:
        yield f"Where the packing is kept: {body.packing_kept}."


def _readings(view: View, body: Readings) -> Iterator[str]:
    read = "; ".join(
        f"{reading.station}: {', '.join(gap.written for gap in reading.gap)}" for reading in body.at
    )
    yield (
        f"I read the gaps of seam {body.seam}, {body.stage.value}, {_at(view, body.taken)}, with "
        f"{body.instrument.value}. {read}."
    )


def _milestone(view: View, body: Milestone) -> Iterator[str]:
    until = f" until {_at(view, body.ended)}" if body.ended else ""
    yield f"{body.event.value.capitalize()}: {_at(view, body.began)}{until}."


def _notice(view: View, body: Notice) -> Iterator[str]:
    parts = [what_it_is(body)]
    if body.how:
        parts.append(f"by {body.how}")
    if body.sent:
        parts.append(f"sent {_at(view, body.sent)}")
    if body.received:
        parts.append(f"received {_at(view, body.received)}")
    yield f"A notice: {', '.join(parts)}."
