"""The words in which terms of carriage are written down: events, acts, conditions, counts.

Each is a name that `claimkit.findings` maps to a function; the rows of `rules.terms_*` are made of
them. Further terms are further rows.
"""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.model.contract import Start
from claimkit.model.quantities import Span
from claimkit.model.records import About

# Bodies of terms that are no choice of the shipment: they stand beside its terms of carriage.
SALE = "terms of sale"
SALE_LAW = "law of sale"
INSURANCE = "insurance"
OWN = "own paper"
NOT_CARRIAGE = (SALE, SALE_LAW, INSURANCE)

# Events that a period runs from. The user's own periods run from the first seven.
DELIVERY = Start.DELIVERY.value
DISCOVERY = Start.DISCOVERY.value
BILL_DATE = Start.BILL_DATE.value
SHIPMENT_DATE = Start.SHIPMENT_DATE.value
REASONABLE_DATE = Start.REASONABLE_DATE.value
CLAIM_RECEIVED = Start.CLAIM_RECEIVED.value
DISALLOWANCE = Start.DISALLOWANCE.value
DISPOSITION_DUE = "the carrier's 120 days"
TENDER = "delivery or tender"
TOTAL_LOSS = "the day from which goods count as lost"

# Ways of counting to the last day.
PLAIN = "day of the event not counted; months clipped; no roll"
SUNDAYS_EXCEPTED = "Sundays and public holidays not counted"

# Careful counts. Empty: only the working day strictly before the last day.
FIRST_DAY_COUNTS = "day of the event counts as the first"

# Conditions under which a clause binds.
CLASSIFICATION_APPLIES = "the freight classification applies"
NOT_ALL_DELIVERED = "something was not delivered"
NOTHING_DELIVERED = "nothing was delivered"
CLAIM_OPEN = "the claim is still open"
SEEN_AT_DELIVERY = "what is wrong could be seen at delivery, or nothing is known wrong"
STATED = "the paper states a period"
SOMETHING_WRONG = "something is wrong with the goods"
UNIFORM_CODE = "the sale is under the Uniform Commercial Code"

# What must be wrong for a passed limit to matter.
HIDDEN_DAMAGE = "hidden damage or loss"
APPARENT_DAMAGE = "damage or loss that could be seen at delivery"
LOSS_OR_DAMAGE = "loss or damage"
NON_DELIVERY = "goods not delivered"
DELAY = "delivery later than could be expected"
ANY_BREACH = "loss, damage, or goods not as ordered"

# A period that only the user's paper states. Its `written` names the key of job.toml that holds
# it; with an empty one an override is asked for.
PAPER_STATES = "as the paper states"
# An act that has to be done at the event itself, and a period that no number of days states.
AT_THE_EVENT = "at the event"
NO_NUMBER = "no number of days"

NINE_MONTHS = Span(9, "months", written="9 months")
ONE_YEAR = Span(1, "years", written="1 year")
TWO_YEARS = Span(2, "years", written="2 years")
STATUTE = "49 USC 14706(e)(1)"

WOULD_START: dict[str, str] = {
    DELIVERY: "It starts on the day of delivery. A delivery record with signed_at would start it.",
    TENDER: (
        "It starts on the day of delivery, or on the day on which refused goods were tendered. A "
        "delivery record with signed_at or arrived would start it."
    ),
    DISCOVERY: (
        "It starts when loss or damage is found. A damage record with found, or an unpacking "
        "record, would start it."
    ),
    BILL_DATE: "It starts on the date of the bill of lading: enter bill_date in job.toml.",
    REASONABLE_DATE: (
        "It starts when a reasonable time for delivery has elapsed: enter reasonable_delivery in "
        "job.toml."
    ),
    SHIPMENT_DATE: "It starts on the date of shipment: enter shipped in job.toml.",
    CLAIM_RECEIVED: (
        "It starts on the day the carrier receives a written claim. A notice record about the "
        "claim, to the carrier, with received would start it."
    ),
    DISPOSITION_DUE: "It starts when the carrier's 120 days for the claim have run out.",
    DISALLOWANCE: (
        "It starts when the carrier gives written notice that it disallows the claim or a part "
        "of it, with its reasons."
    ),
    TOTAL_LOSS: (
        "It starts on the 30th day after the agreed day of delivery, or on the 60th after the "
        "goods were taken over: enter shipped or reasonable_delivery in job.toml."
    ),
}


@dataclass(frozen=True, slots=True)
class Act:
    """Which notices do what a clause asks for.

    `by` and `to` name groups of parties (`anyone`, `carrier`, `carrier or who acts for it`,
    `seller`, `insurer`). `oral_counts` is True where a telephone report serves once confirmed in
    writing. `on_receipt` is True where the day of receipt decides; else the sender has acted on
    the day that he sent it. `says_so` is True where a letter about anything does it that says that
    it disallows the claim or a part of it, and no other. `in_full` is True where a payment known
    to be less than what is claimed does not do it.
    """

    about: tuple[About, ...]
    by: str
    to: str
    on_receipt: bool = True
    oral_counts: bool = False
    says_so: bool = False
    in_full: bool = False


ANYONE = "anyone"
CARRIER = "carrier"
FOR_CARRIER = "carrier or who acts for it"
SELLER = "seller"
INSURER = "insurer"

REPORT = "report of concealed damage"
CLAIM = "claim"
ACKNOWLEDGEMENT = "acknowledgement"
PAYMENT = "payment"
PAID = "payment of what is claimed"
OFFER = "offer"
DECLINED = "disallowance"
STATUS = "status"
SUIT = "suit"
TOLD_SELLER = "report to the seller"
TOLD_INSURER = "report to the insurer"
CLAIMED_ON_INSURER = "claim on the insurer"
NOTICED = "written notice of loss or damage"
LATE_NOTICED = "written notice of delay"
RESERVATION = "reservation on the receipt"

_OF_DAMAGE = (About.DAMAGE_NOTICE, About.CONCEALED_DAMAGE, About.CLAIM)

ACTS: dict[str, Act] = {
    REPORT: Act(
        (About.CONCEALED_DAMAGE, About.DAMAGE_NOTICE, About.INSPECTION_REQUESTED),
        ANYONE,
        CARRIER,
        oral_counts=True,
    ),
    CLAIM: Act((About.CLAIM,), ANYONE, CARRIER),
    ACKNOWLEDGEMENT: Act((About.ACKNOWLEDGEMENT,), FOR_CARRIER, ANYONE, on_receipt=False),
    PAYMENT: Act((About.PAYMENT,), FOR_CARRIER, ANYONE, on_receipt=False),
    PAID: Act((About.PAYMENT,), FOR_CARRIER, ANYONE, on_receipt=False, in_full=True),
    OFFER: Act((About.OFFER,), FOR_CARRIER, ANYONE, on_receipt=False),
    DECLINED: Act((About.DISALLOWANCE,), FOR_CARRIER, ANYONE, on_receipt=False, says_so=True),
    STATUS: Act((About.STATUS,), FOR_CARRIER, ANYONE, on_receipt=False),
    SUIT: Act((About.SUIT,), ANYONE, ANYONE),
    TOLD_SELLER: Act(_OF_DAMAGE, ANYONE, SELLER),
    TOLD_INSURER: Act(_OF_DAMAGE, ANYONE, INSURER),
    CLAIMED_ON_INSURER: Act((About.CLAIM,), ANYONE, INSURER),
    NOTICED: Act(_OF_DAMAGE, ANYONE, CARRIER),
    LATE_NOTICED: Act((About.DELAY_NOTICE,), ANYONE, CARRIER),
    # No notice does it: the receipt that the carrier takes away states the damage.
    RESERVATION: Act((), ANYONE, CARRIER),
}

# How a notice record says that something was only spoken. Common practice, no source.
SPOKEN = (
    r"\b(tele)?phon(e|ed)\b",
    r"\bcall(ed)?\b",
    r"\bvoice ?mail\b",
    r"\b(verbal|oral)(ly)?\b",
    r"\bin person\b",
    r"\bspoke(n)?\b",
    r"\btold\b",
)
IN_WRITING = (
    r"\be-?mail(ed)?\b",
    r"\b(letter|post|posted|mail|mailed|courier|fax|faxed|text|sms|message|portal|form|edi)\b",
    r"\b(web ?site|web ?form|online)\b",
    r"\b(in writing|written|confirmed)\b",
)

# Periods that begin where another clause's ends, and what ends the chain of them.
CHAINED = {DISPOSITION_DUE: "us-motor-dispose"}
SETTLES = (PAID, DECLINED, OFFER)

# Acts that do not meet a clause and are worth naming beside it.
BESIDE = {"us-motor-concealed-report": (CLAIM,), "us-motor-dispose": (STATUS,)}
