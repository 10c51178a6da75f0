"""Time limits of the US Carriage of Goods by Sea Act: carriage by sea to or from the United States.

A missed notice is no bar: the removal of the goods then counts as evidence that they were
delivered as the bill of lading describes. The year to sue is one.
"""

# ruff: noqa: S106 - on_pass says what it means when a limit passes; it is no password.
from __future__ import annotations

from datetime import date

from claimkit.model.job import Terms
from claimkit.model.limit import Clause, Whose
from claimkit.model.quantities import Span
from claimkit.rules.terms.words import (
    APPARENT_DAMAGE,
    AT_THE_EVENT,
    DELIVERY,
    HIDDEN_DAMAGE,
    LOSS_OR_DAMAGE,
    NON_DELIVERY,
    NOTHING_DELIVERED,
    NOTICED,
    ONE_YEAR,
    PLAIN,
    REASONABLE_DATE,
    RESERVATION,
    SEEN_AT_DELIVERY,
    SUIT,
)

COGSA = Terms.COGSA.value
IN_FORCE = date(1936, 7, 15)  # ninety days after its approval, from memory
SECTION = "COGSA s. 3(6), 46 USC 30701 note"
PRESUMPTION = (
    "A presumption, no bar: the goods then count as delivered as the bill of lading describes, "
    "until you prove the contrary. The right to sue stays."
)

ROWS: tuple[Clause, ...] = (
    Clause(
        id="cogsa-notice-apparent",
        terms=COGSA,
        title="Notice of loss or damage that can be seen, at the removal of the goods",
        whose=Whose.OURS,
        starts=DELIVERY,
        met_by=(RESERVATION, NOTICED),
        span=Span(0, AT_THE_EVENT, written="at delivery"),
        endpoint=PLAIN,
        cautious="",
        citation=f"{SECTION}: before or at the time of the removal of the goods; a receipt will do",
        mark="P",
        on_pass=PRESUMPTION,
        do="State the damage or loss on the receipt, or give notice in writing on the spot.",
        to="the carrier or its agent at the port of discharge",
        effective_from=IN_FORCE,
        needs=(SEEN_AT_DELIVERY,),
        concerns=APPARENT_DAMAGE,
    ),
    Clause(
        id="cogsa-notice",
        terms=COGSA,
        title="Written notice of loss or damage that could not be seen",
        whose=Whose.OURS,
        starts=DELIVERY,
        met_by=(NOTICED,),
        span=Span(3, "calendar days", written="3 days"),
        endpoint=PLAIN,
        cautious="",
        citation=f"{SECTION}: not apparent, within three days of the delivery",
        mark="S",
        on_pass=PRESUMPTION,
        do="Give notice in writing of the loss or damage and its general nature.",
        to="the carrier or its agent at the port of discharge",
        effective_from=IN_FORCE,
        concerns=HIDDEN_DAMAGE,
    ),
    Clause(
        id="cogsa-suit",
        terms=COGSA,
        title="Suit against the carrier",
        whose=Whose.OURS,
        starts=DELIVERY,
        met_by=(SUIT,),
        span=ONE_YEAR,
        endpoint=PLAIN,
        cautious="",
        citation=f"{SECTION}: suit within one year after delivery of the goods",
        mark="S",
        on_pass="The carrier and the ship are discharged from liability.",
        do=(
            "Ask a lawyer whether to sue, well before this day. It is counted from your delivery; "
            "a delivery out of the port before that may count instead."
        ),
        to="a court, through a lawyer",
        effective_from=IN_FORCE,
        concerns=LOSS_OR_DAMAGE,
    ),
    Clause(
        id="cogsa-suit-nondelivery",
        terms=COGSA,
        title="Suit against the carrier for goods never delivered",
        whose=Whose.OURS,
        starts=REASONABLE_DATE,
        met_by=(SUIT,),
        span=ONE_YEAR,
        endpoint=PLAIN,
        cautious="",
        citation=f"{SECTION}: or the date when the goods should have been delivered (from memory)",
        mark="M",
        on_pass="The carrier and the ship are discharged from liability.",
        do="Ask a lawyer whether to sue, well before this day; filing takes time.",
        to="a court, through a lawyer",
        effective_from=IN_FORCE,
        needs=(NOTHING_DELIVERED,),
        concerns=NON_DELIVERY,
    ),
)
