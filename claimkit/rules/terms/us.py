"""Time limits of interstate carriage by a motor carrier for hire in the United States.

The Uniform Straight Bill of Lading is in use in three texts, which differ in their periods. The
statute sets the shortest that a carrier may set; the carrier's own duties come from 49 CFR 370.
"""

# ruff: noqa: S106 - on_pass says what it means when a limit passes; it is no password.
from __future__ import annotations

from datetime import date

from claimkit.model.job import BillText, Terms
from claimkit.model.limit import Clause, Whose
from claimkit.model.quantities import Span
from claimkit.rules.terms.words import (
    ACKNOWLEDGEMENT,
    BILL_DATE,
    CLAIM,
    CLAIM_OPEN,
    CLAIM_RECEIVED,
    CLASSIFICATION_APPLIES,
    DECLINED,
    DELIVERY,
    DISALLOWANCE,
    DISPOSITION_DUE,
    FIRST_DAY_COUNTS,
    HIDDEN_DAMAGE,
    LOSS_OR_DAMAGE,
    NINE_MONTHS,
    NON_DELIVERY,
    NOT_ALL_DELIVERED,
    OFFER,
    PAID,
    PAYMENT,
    PLAIN,
    REASONABLE_DATE,
    REPORT,
    STATUS,
    STATUTE,
    SUIT,
    TWO_YEARS,
)

US = Terms.US_INTERSTATE_MOTOR.value

ROWS: tuple[Clause, ...] = (
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
        met_by=(PAID, DECLINED, OFFER),
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
        met_by=(STATUS, PAID, DECLINED, OFFER),
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
