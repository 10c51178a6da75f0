"""What people state, one small TOML file each: deliveries, unpackings, damages, notices, readings.

A record is never rewritten. A correction is a new record that names the one it replaces, and both
stay visible. Every record says who states it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from claimkit.model.measuring import BenchCheck, CardSheet, MarkedPhoto, OpeningCheck, Readings
from claimkit.model.moment import Moment
from claimkit.model.quantities import Hours, Length, Money, Share, Temperature
from claimkit.model.stages import Event
from claimkit.model.written import POSITIVE, Names, Text, written

_NOTHING = re.compile(
    r"(?:(?:nothing|none|no|nil|nada|n/?a|no (?:refusals?|goods|pieces?|items?|cartons?|units?))"
    r"(?: at all)?(?: (?:was|were|is|has been|have been))?(?: refused)?|not refused|[-–—]+|0)"
    r"(?:[,;:.] ?(?:all|everything)\b(?!.*\b(?:but|except|save|without)\b)"
    r".*\b(?:taken|accepted|kept|received))?[.! ]*",
    re.IGNORECASE,
)


def nothing_said(text: str) -> bool:
    """Tell whether words say that there is nothing: "nothing was refused", "none", "-"."""
    return _NOTHING.fullmatch(" ".join(text.split())) is not None


class Wrap(StrEnum):
    """State of the stretch wrap and its seal on arrival."""

    INTACT = "intact"
    BROKEN = "broken"
    NOT_RECORDED = "not recorded"


class ReceiptForm(StrEnum):
    """What the receipt was signed on."""

    PAPER = "paper"
    DEVICE = "driver's device"
    NONE = "none"


class FoundAt(StrEnum):
    """When damage came to light."""

    CURB = "at the curb"
    UNPACKING = "unpacking"
    DRY_FIT = "dry fit"
    LATER = "later"


class About(StrEnum):
    """What a notice to or from another party is about."""

    CONCEALED_DAMAGE = "concealed damage report"
    INSPECTION_REQUESTED = "inspection requested"
    INSPECTION_MADE = "inspection made"
    INSPECTION_WAIVED = "inspection waived"
    OWN_INSPECTION = "own inspection report"
    DAMAGE_NOTICE = "notice of loss or damage"
    DELAY_NOTICE = "notice of delay"
    CLAIM = "claim"
    ACKNOWLEDGEMENT = "acknowledgement"
    STATUS = "status"
    OFFER = "offer"
    DISALLOWANCE = "disallowance"
    ANSWER = "answer to an offer or a disallowance"
    ACCEPTANCE = "offer accepted"
    REMINDER = "reminder"
    PAYMENT = "payment"
    SUIT = "suit"
    OTHER = "other"


class CostOf(StrEnum):
    """What an amount beside the goods' own price is for, or what it takes off."""

    REPAIR = "repair"
    REPLACEMENT = "free replacement"
    CREDIT = "credit"
    ALLOWANCE = "allowance"
    DISCOUNT = "discount"
    SALVAGE = "salvage"
    FREIGHT = "freight"
    MITIGATION = "mitigation"
    SPECIAL = "special damages"


@written
class Delivery:
    """What happened at the curb."""

    shipment: Annotated[
        str | None, "Shipment id. May be left out where the job has only one.", Names.THE_SHIPMENT
    ] = None
    arrived: Annotated[Moment | None, "When the truck arrived, local time."] = None
    driver_left: Annotated[Moment | None, "When the driver left, local time."] = None
    receipt: Annotated[ReceiptForm | None, "What the receipt was signed on."] = None
    inspected: Annotated[bool | None, "True where the goods were inspected before signing."] = None
    not_inspected_because: Annotated[str | None, "Why the goods were not inspected."] = None
    wrap: Annotated[Wrap, "Stretch wrap and seal on arrival."] = Wrap.NOT_RECORDED
    units_expected: Annotated[int | None, "Handling units the receipt lists."] = None
    units_received: Annotated[int | None, "Handling units counted."] = None
    cartons_expected: Annotated[int | None, "Cartons the receipt lists."] = None
    cartons_received: Annotated[int | None, "Cartons counted."] = None
    words: Annotated[
        str | None,
        "The words written on the carrier's copy, exactly. Empty text: none written.",
        Text.MAY_BE_EMPTY,
    ] = None
    words_by: Annotated[str | None, "Who wrote them."] = None
    words_on_our_copy: Annotated[
        str | None,
        "The words on our own copy, where they differ from the carrier's.",
        Text.MAY_BE_EMPTY,
    ] = None
    driver: Annotated[str | None, "The driver's name."] = None
    signed: Annotated[bool | None, "True where our side signed; false where it declined."] = None
    driver_signed: Annotated[
        bool | None, "True where the driver signed the exception; false where he declined."
    ] = None
    signed_at: Annotated[Moment | None, "When the receipt was signed, local time."] = None
    refused: Annotated[
        str | None, "What was refused and why, where anything was; none where nothing was."
    ] = None
    receipt_photos: Annotated[
        tuple[str, ...], "Photos or scans of the receipt or the driver's screen.", Names.FILE
    ] = ()
    photos: Annotated[tuple[str, ...], "Other photos taken at the curb.", Names.FILE] = ()

    @property
    def refusal(self) -> str | None:
        """What was refused; None where nothing is stated, or that nothing was."""
        return None if self.refused is None or nothing_said(self.refused) else self.refused


@written
class CountedItem:
    """One item as it came out of its packing, against the order."""

    item: Annotated[str, "Item id from job.toml.", Names.ITEM]
    quantity: Annotated[int | None, "How many were found."] = None
    size: Annotated[tuple[Length, ...], "Measured size, in the order's order.", POSITIVE] = ()
    hand: Annotated[str | None, "Hand as found."] = None
    drain_position: Annotated[str | None, "Drain position as found."] = None
    colour: Annotated[str | None, "Colour or finish as found."] = None
    condition: Annotated[str | None, "good, or what is wrong."] = None


@written
class Unpacking:
    """What was found when the goods were unpacked."""

    shipment: Annotated[
        str | None, "Shipment id. May be left out where the job has only one.", Names.THE_SHIPMENT
    ] = None
    began: Annotated[Moment | None, "When unpacking began, local time."] = None
    ended: Annotated[Moment | None, "When it ended, local time."] = None
    counted: Annotated[tuple[CountedItem, ...], "Each item and accessory as found."] = ()
    packing_kept: Annotated[str | None, "Where the packing is kept; 'no' where it is gone."] = None
    photos: Annotated[
        tuple[str, ...], "Photos of the unpacking and the inner packing.", Names.FILE
    ] = ()


@written
class Damage:
    """One damage to one item."""

    item: Annotated[str, "Item id from job.toml.", Names.ITEM]
    shipment: Annotated[
        str | None, "Shipment id, where it is not the item's own.", Names.SHIPMENT
    ] = None
    found_at: Annotated[FoundAt, "When it came to light."]
    found: Annotated[Moment | None, "When it was found, local time."] = None
    part: Annotated[str | None, "Where on the item."] = None
    what: Annotated[str, "Kind of damage: crushed, cracked, chipped, bowed, wet."]
    extent: Annotated[str | None, "How big: '4 in crack', '2 corners'."] = None
    quantity: Annotated[int, "How many pieces are damaged.", POSITIVE] = 1
    resolved: Annotated[
        str | None, "How it was settled: replaced, repaired, accepted by the customer in writing."
    ] = None
    repair_cost: Annotated[Money | None, "Repair cost, where it can be repaired."] = None
    photos: Annotated[tuple[str, ...], "Photos that show it.", Names.FILE] = ()


@written
class Notice:
    """A message, letter or call between the parties."""

    about: Annotated[About, "What it is about."]
    shipment: Annotated[
        str | None, "Shipment id. May be left out where the job has only one.", Names.THE_SHIPMENT
    ] = None
    sender: Annotated[str, "Party id of who sent it.", Names.PARTY]
    to: Annotated[str, "Party id of who it went to.", Names.PARTY]
    how: Annotated[str | None, "E-mail, tracked post, telephone, portal."] = None
    sent: Annotated[Moment | None, "When it was sent, local time."] = None
    received: Annotated[Moment | None, "When it was received: only this stops a limit."] = None
    reference: Annotated[str | None, "Their number: claim number, tracking number."] = None
    amount: Annotated[Money | None, "Amount claimed, offered or paid."] = None
    states_disallowance: Annotated[
        bool | None, "True where the letter says that it disallows the claim or part of it."
    ] = None
    gives_reasons: Annotated[bool | None, "True where it gives reasons."] = None
    acts_for_carrier: Annotated[
        bool | None, "For an insurer's letter: true where it says that it acts for the carrier."
    ] = None
    text: Annotated[str | None, "The words that matter."] = None
    file: Annotated[str | None, "Path of the letter in the job folder.", Names.FILE] = None


@written
class CameraClock:
    """A photo that shows a clock, and what that clock read."""

    photo: Annotated[str, "Path of the photo in the job folder.", Names.FILE]
    read: Annotated[Moment, "What the clock in the picture shows, local time."]
    clock: Annotated[str | None, "Which clock: a phone on network time, a receipt printer."] = None
    within_seconds: Annotated[int, "How far that clock itself may be off.", POSITIVE] = 60


@written
class Milestone:
    """A dated step of the work."""

    event: Annotated[Event, "Which step."]
    began: Annotated[Moment, "When it happened or began, local time."]
    ended: Annotated[Moment | None, "When it ended, local time."] = None
    seams: Annotated[tuple[str, ...], "Which seams; none named means all.", Names.SEAM] = ()
    shipment: Annotated[str | None, "Shipment id, where it belongs to one.", Names.SHIPMENT] = None
    piece: Annotated[str | None, "Names a replacement piece."] = None
    temperature: Annotated[
        Temperature | None,
        "Temperature of the pieces then, such as '18 C'; counts for photos of that day's scale "
        "cards where no readings were written.",
    ] = None
    place: Annotated[str | None, "on open floor, or in the opening."] = None
    set_level: Annotated[bool | None, "True where the pieces stood on a level base."] = None
    clamped: Annotated[bool | None, "True where the pieces were clamped or held together."] = None
    note: Annotated[str | None, "What else matters."] = None


@written
class CostPart:
    """One kind of part or material of a repair."""

    description: Annotated[str, "What it is, as on the supplier's invoice."]
    quantity: Annotated[int, "How many.", POSITIVE] = 1
    price: Annotated[Money, "Price of one, from the supplier's invoice."]


@written
class Cost:
    """One amount that makes the loss larger or smaller, beside the goods' invoice price."""

    what: Annotated[CostOf, "What it is."]
    shipment: Annotated[
        str | None, "Shipment id. May be left out where the job has only one.", Names.THE_SHIPMENT
    ] = None
    item: Annotated[str | None, "Item id, where it concerns one item.", Names.ITEM] = None
    quantity: Annotated[int, "For a repair or a free replacement: how many pieces.", POSITIVE] = 1
    amount: Annotated[
        Money | None,
        "The amount, without a minus sign. For a discount, what falls on the claimed pieces.",
    ] = None
    percent: Annotated[
        Share | None, "For a discount or allowance, in place of an amount: '2 %' of the goods."
    ] = None
    hours: Annotated[Hours | None, "For a repair: working time, such as '2.5 h'.", POSITIVE] = None
    rate: Annotated[Money | None, "For a repair: price of one hour.", POSITIVE] = None
    part: Annotated[tuple[CostPart, ...], "For a repair: one table for each kind of part."] = ()
    description: Annotated[str | None, "What it was, in words."] = None
    by: Annotated[str | None, "Party id of who gave, did or paid it.", Names.PARTY] = None
    on: Annotated[Moment | None, "When, local date."] = None
    notice_given: Annotated[
        str | None,
        "For special damages: how and when the carrier was told before the carriage that such a "
        "loss would follow.",
    ] = None
    file: Annotated[str | None, "Path of the paper that shows it.", Names.FILE] = None


Body = (
    Delivery
    | Unpacking
    | Damage
    | Notice
    | CameraClock
    | Readings
    | OpeningCheck
    | Milestone
    | BenchCheck
    | CardSheet
    | MarkedPhoto
    | Cost
)

KINDS: dict[str, type[Body]] = {
    "delivery": Delivery,
    "unpacking": Unpacking,
    "damage": Damage,
    "notice": Notice,
    "camera_clock": CameraClock,
    "readings": Readings,
    "opening_check": OpeningCheck,
    "milestone": Milestone,
    "bench_check": BenchCheck,
    "card_sheet": CardSheet,
    "marked_photo": MarkedPhoto,
    "cost": Cost,
}


@written
class Head:
    """What every record says beside its own kind's keys."""

    kind: Annotated[str, "Which kind of record this is."]
    said_by: Annotated[str, "Person id of who states it.", Names.PERSON]
    written: Annotated[Moment | None, "When it was written down, local time."] = None
    replaces: Annotated[
        str | None,
        "Id of the record that this one corrects: its path below records/ without the ending.",
        Names.RECORD,
    ] = None
    reason: Annotated[str | None, "Why it was corrected."] = None


@dataclass(frozen=True)
class Record:
    """One record as it stands in its file.

    `id` is its path below records/ without the ending. `path` is relative to the job folder.
    `replaces` is the id of the record that this one corrects. `replaced_by` is filled when all
    records are known; a replaced record stays visible and decides nothing.
    """

    id: str
    path: str
    sha256: str
    kind: str
    said_by: str
    body: Body
    written: Moment | None = None
    replaces: str | None = None
    reason: str | None = None
    replaced_by: str | None = None

    @property
    def in_force(self) -> bool:
        """True where no later record replaces this one."""
        return self.replaced_by is None
