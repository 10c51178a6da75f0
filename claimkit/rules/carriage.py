"""Terms of carriage as data: each time limit, what starts it, what meets it, what passing means.

The rows cover interstate carriage by a motor carrier for hire in the United States. Every name in
them (an event, an act, a condition, a way of counting) is a word that `claimkit.findings` maps to
a function, so that other terms are further rows. Marks: S the provision's own wording was read,
P a summary of it was read, M from memory.
"""

# ruff: noqa: S106 - on_pass says what it means when a limit passes; it is no password.
from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from claimkit.model.case import Clause, Whose
from claimkit.model.job import BillText, Terms
from claimkit.model.quantities import Span
from claimkit.model.records import About

# Bodies of terms that are no choice of the shipment: they stand beside its terms of carriage.
SALE = "terms of sale"

# Events that a period runs from.
DELIVERY = "delivery"
BILL_DATE = "date of the bill of lading"
REASONABLE_DATE = "reasonable delivery date"
SHIPMENT_DATE = "date of shipment"
CLAIM_RECEIVED = "claim received by the carrier"
DISPOSITION_DUE = "the carrier's 120 days"
DISALLOWANCE = "written disallowance"

# Ways of counting to the last day.
PLAIN = "day of the event not counted; months clipped; no roll"
SUNDAYS_EXCEPTED = "Sundays and public holidays not counted"

# Careful counts. Empty: only the working day strictly before the last day.
FIRST_DAY_COUNTS = "day of the event counts as the first"

# Conditions under which a clause binds.
CLASSIFICATION_APPLIES = "the freight classification applies"
NOT_ALL_DELIVERED = "something was not delivered"
CLAIM_OPEN = "the claim is still open"

# What must be wrong for a passed limit to matter.
HIDDEN_DAMAGE = "hidden damage or loss"
LOSS_OR_DAMAGE = "loss or damage"
NON_DELIVERY = "goods not delivered"

# A period that only the user's paper states. Its `written` names the key of job.toml that holds
# it; with an empty one an override is asked for.
PAPER_STATES = "as the paper states"

NINE_MONTHS = Span(9, "months", written="9 months")
TWO_YEARS = Span(2, "years", written="2 years")
STATUTE = "49 USC 14706(e)(1)"

WOULD_START: dict[str, str] = {
    DELIVERY: "It starts on the day of delivery. A delivery record with signed_at would start it.",
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
}


@dataclass(frozen=True, slots=True)
class Act:
    """Which notices do what a clause asks for.

    `by` and `to` name groups of parties (`anyone`, `carrier`, `carrier or who acts for it`,
    `seller`). `oral_counts` is True where a telephone report serves once confirmed in writing.
    `on_receipt` is True where the day of receipt decides; else the sender has acted on the day
    that he sent it.
    """

    about: tuple[About, ...]
    by: str
    to: str
    on_receipt: bool = True
    oral_counts: bool = False


ANYONE = "anyone"
CARRIER = "carrier"
FOR_CARRIER = "carrier or who acts for it"
SELLER = "seller"

REPORT = "report of concealed damage"
CLAIM = "claim"
ACKNOWLEDGEMENT = "acknowledgement"
PAYMENT = "payment"
OFFER = "offer"
DECLINED = "disallowance"
STATUS = "status"
SUIT = "suit"
TOLD_SELLER = "report to the seller"

ACTS: dict[str, Act] = {
    REPORT: Act(
        (About.CONCEALED_DAMAGE, About.INSPECTION_REQUESTED), ANYONE, CARRIER, oral_counts=True
    ),
    CLAIM: Act((About.CLAIM,), ANYONE, CARRIER),
    ACKNOWLEDGEMENT: Act((About.ACKNOWLEDGEMENT,), FOR_CARRIER, ANYONE, on_receipt=False),
    PAYMENT: Act((About.PAYMENT,), FOR_CARRIER, ANYONE, on_receipt=False),
    OFFER: Act((About.OFFER,), FOR_CARRIER, ANYONE, on_receipt=False),
    DECLINED: Act((About.DISALLOWANCE,), FOR_CARRIER, ANYONE, on_receipt=False),
    STATUS: Act((About.STATUS,), FOR_CARRIER, ANYONE, on_receipt=False),
    SUIT: Act((About.SUIT,), ANYONE, ANYONE),
    TOLD_SELLER: Act((About.CONCEALED_DAMAGE, About.CLAIM), ANYONE, SELLER),
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
SETTLES = (PAYMENT, DECLINED, OFFER)

# Acts that do not meet a clause and are worth naming beside it.
BESIDE = {"us-motor-concealed-report": (CLAIM,), "us-motor-dispose": (STATUS,)}

US = Terms.US_INTERSTATE_MOTOR.value

CLAUSES: tuple[Clause, ...] = (
    Clause(
        id="us-motor-concealed-report",
        terms=US,
        title="Report of concealed damage or loss, with a request for inspection",
        whose=Whose.OURS,
        starts=DELIVERY,
        met_by=(REPORT,),
        span=Span(5, "business days", written="5 business days"),
        endpoint=PLAIN,
        cautious=FIRST_DAY_COUNTS,
        citation="NMFC item 300135-A, effective 2015-04-18",
        mark="S",
        on_pass=(
            "The claim is not barred, but you then have to offer reasonable evidence that the "
            "damage did not happen after delivery: photos of the unpacking, the inner packing, "
            "who had the goods and where."
        ),
        do=(
            "Report the damage to the carrier in writing, ask for an inspection, and keep the "
            "packing and the goods as they are."
        ),
        to="the delivering carrier",
        effective_from=date(2015, 4, 18),
        needs=(CLASSIFICATION_APPLIES,),
        concerns=HIDDEN_DAMAGE,
    ),
    Clause(
        id="us-motor-claim-damage",
        terms=US,
        title="Claim for loss or damage",
        whose=Whose.OURS,
        starts=DELIVERY,
        met_by=(CLAIM,),
        span=NINE_MONTHS,
        endpoint=PLAIN,
        cautious="",
        citation=(
            "Uniform Straight Bill of Lading, contract terms (9 months from delivery in each text "
            f"in use); {STATUTE} lets a carrier set no less than 9 months"
        ),
        mark="S",
        on_pass="The carrier may refuse the claim as filed too late.",
        do=(
            "File a written claim that names the shipment, holds the carrier liable and demands "
            "an amount (49 CFR 370.3(b)), so that the carrier has it by then."
        ),
        to="the carrier",
        concerns=LOSS_OR_DAMAGE,
        floor=NINE_MONTHS,
        floor_citation=STATUTE,
    ),
    Clause(
        id="us-motor-claim-nondelivery-from-2016",
        terms=US,
        title="Claim for goods not delivered",
        whose=Whose.OURS,
        starts=BILL_DATE,
        met_by=(CLAIM,),
        span=NINE_MONTHS,
        endpoint=PLAIN,
        cautious="",
        citation=(
            "Uniform Straight Bill of Lading, text from 2016-08-13 (NMF 100-AP Supplement 2) and "
            "carrier-posted texts like it: 9 months from the date of the bill of lading"
        ),
        mark="P",
        on_pass="The carrier may refuse the claim for what was not delivered as filed too late.",
        do="File a written claim for what was not delivered, so that the carrier has it by then.",
        to="the carrier",
        effective_from=date(2016, 8, 13),
        texts=(BillText.FROM_2016.value, BillText.FROM_2016_DAY.value),
        variant_of="us-motor-claim-nondelivery",
        needs=(NOT_ALL_DELIVERED,),
        concerns=NON_DELIVERY,
        floor=NINE_MONTHS,
        floor_citation=STATUTE,
    ),
    Clause(
        id="us-motor-claim-nondelivery-before-2016",
        terms=US,
        title="Claim for goods not delivered",
        whose=Whose.OURS,
        starts=REASONABLE_DATE,
        met_by=(CLAIM,),
        span=NINE_MONTHS,
        endpoint=PLAIN,
        cautious="",
        citation=(
            "Uniform Straight Bill of Lading, text before 2016: 9 months after a reasonable time "
            "for delivery has elapsed"
        ),
        mark="S",
        on_pass="The carrier may refuse the claim for what was not delivered as filed too late.",
        do="File a written claim for what was not delivered, so that the carrier has it by then.",
        to="the carrier",
        texts=(BillText.BEFORE_2016.value,),
        variant_of="us-motor-claim-nondelivery",
        needs=(NOT_ALL_DELIVERED,),
        concerns=NON_DELIVERY,
        floor=NINE_MONTHS,
        floor_citation=STATUTE,
    ),
    Clause(
        id="us-motor-acknowledge",
        terms=US,
        title="The carrier acknowledges the claim",
        whose=Whose.CARRIERS,
        starts=CLAIM_RECEIVED,
        met_by=(ACKNOWLEDGEMENT, PAYMENT, DECLINED),
        span=Span(30, "calendar days", written="30 calendar days"),
        endpoint=PLAIN,
        cautious="",
        citation=(
            "49 CFR 370.5 (that paying or declining within the 30 days serves too is from memory)"
        ),
        mark="P",
        on_pass="A lever, not a bar: the claim stands, and the carrier is late with its own duty.",
        do="Remind the carrier in writing that an acknowledgement is due.",
        to="the carrier",
    ),
    Clause(
        id="us-motor-dispose",
        terms=US,
        title="The carrier pays, declines or makes a firm offer",
        whose=Whose.CARRIERS,
        starts=CLAIM_RECEIVED,
        met_by=(PAYMENT, DECLINED, OFFER),
        span=Span(120, "calendar days", written="120 calendar days"),
        endpoint=PLAIN,
        cautious="",
        citation="49 CFR 370.9",
        mark="P",
        on_pass=(
            "A lever, not a bar: the carrier then owes a written status with the reason for the "
            "delay, at that time and again every 60 days."
        ),
        do="Ask the carrier in writing for its decision or its written status.",
        to="the carrier",
    ),
    Clause(
        id="us-motor-status",
        terms=US,
        title="The carrier's written status of an open claim",
        whose=Whose.CARRIERS,
        starts=DISPOSITION_DUE,
        met_by=(STATUS, PAYMENT, DECLINED, OFFER),
        span=Span(60, "calendar days", written="60 calendar days"),
        endpoint=PLAIN,
        cautious="",
        citation="49 CFR 370.9",
        mark="P",
        on_pass="A lever, not a bar: the carrier owes a written status every 60 days.",
        do="Ask the carrier in writing for the status and the reason for the delay.",
        to="the carrier",
        needs=(CLAIM_OPEN,),
        repeats=True,
    ),
    Clause(
        id="us-motor-suit",
        terms=US,
        title="Suit against the carrier",
        whose=Whose.OURS,
        starts=DISALLOWANCE,
        met_by=(SUIT,),
        span=TWO_YEARS,
        endpoint=PLAIN,
        cautious="",
        citation=(
            "Uniform Straight Bill of Lading, text from 2016-08-13 (exactly 2 years, summary "
            f"read); {STATUTE} and (2): no less than 2 years from written notice of disallowance"
        ),
        mark="P",
        on_pass="A court may dismiss a suit as brought too late. Ask a lawyer well before.",
        do="Ask a lawyer whether to sue, well before this day; filing itself takes time.",
        to="a court, through a lawyer",
        texts=(BillText.FROM_2016.value,),
        variant_of="us-motor-suit",
        concerns=LOSS_OR_DAMAGE,
        floor=TWO_YEARS,
        floor_citation=STATUTE,
    ),
    Clause(
        id="us-motor-suit-and-day",
        terms=US,
        title="Suit against the carrier",
        whose=Whose.OURS,
        starts=DISALLOWANCE,
        met_by=(SUIT,),
        span=Span(2, "years", extra_days=1, written="2 years and 1 day"),
        endpoint=PLAIN,
        cautious="",
        citation=(
            "Uniform Straight Bill of Lading, text before 2016 and carrier-posted texts that say "
            f"2 years and one day; {STATUTE} and (2)"
        ),
        mark="S",
        on_pass="A court may dismiss a suit as brought too late. Ask a lawyer well before.",
        do="Ask a lawyer whether to sue, well before this day; filing itself takes time.",
        to="a court, through a lawyer",
        texts=(BillText.BEFORE_2016.value, BillText.FROM_2016_DAY.value),
        variant_of="us-motor-suit",
        concerns=LOSS_OR_DAMAGE,
        floor=TWO_YEARS,
        floor_citation=STATUTE,
    ),
)

# Terms without rows here: why they are not counted, and what to do meanwhile.
NOT_COVERED: dict[Terms, str] = {
    Terms.US_INTRASTATE: (
        "A move within one state is governed by that state's law and the carrier's own terms. "
        "Ask the carrier for its rules and keep their shortest period."
    ),
    Terms.CANADA: (
        "The Uniform Conditions of Carriage are not counted yet. Read the notice and claim "
        "periods on the back of the bill of lading."
    ),
    Terms.CMR: (
        "The CMR's periods are not counted yet. Damage that could not be seen must be reported "
        "within days: read Articles 30 and 32, and write to the carrier now."
    ),
    Terms.MONTREAL: (
        "The Montreal Convention's periods are not counted yet. Damage must be reported within "
        "days: read Articles 31 and 35, and write to the carrier now."
    ),
    Terms.COGSA: (
        "COGSA's periods are not counted yet. Damage must be reported within days: read section "
        "3(6), and write to the carrier now."
    ),
    Terms.SELLERS_TRUCK: (
        "With the seller's own truck the seller's terms of sale decide. Read them for the days "
        "to report damage, and report it in writing now."
    ),
    Terms.PARCEL: (
        "A parcel carrier's own conditions decide, and their periods are short. Read them on the "
        "carrier's site and report in writing now."
    ),
    Terms.OWN_CONTRACT: (
        "Your own contract decides and its periods are not counted yet. Read its notice, claim "
        "and suit periods."
    ),
    Terms.NOT_KNOWN: (
        "Nobody has said which terms govern the carriage. Look at the bill of lading and the "
        "route: for a motor carrier for hire across a state line enter terms = "
        '"us interstate motor" in job.toml.'
    ),
}
