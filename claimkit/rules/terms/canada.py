"""Time limits of the Uniform Conditions of Carriage, as Canadian bills of lading print them.

The law of the province of origin makes them part of an extra-provincial contract of carriage by
truck (SOR/2005-404, s. 1). A notice with an estimate comes first, the final statement later; the
second runs from the day of shipment, not of delivery.
"""

# ruff: noqa: S106 - on_pass says what it means when a limit passes; it is no password.
from __future__ import annotations

from datetime import date

from claimkit.model.job import Terms
from claimkit.model.limit import Clause, Whose
from claimkit.model.quantities import Span
from claimkit.rules.terms.words import (
    CLAIM,
    DELIVERY,
    LOSS_OR_DAMAGE,
    NINE_MONTHS,
    NON_DELIVERY,
    NOT_ALL_DELIVERED,
    NOTICED,
    PLAIN,
    SHIPMENT_DATE,
)

CANADA = Terms.CANADA.value
# O. Reg. 643/05 came into force on this day (from memory); other provinces have their own.
IN_FORCE = date(2006, 1, 1)
CONDITIONS = "Uniform Conditions of Carriage, as printed on bills of lading"
LAW = "SOR/2005-404 s. 1; O. Reg. 643/05 Sched. 1, from memory"

ROWS: tuple[Clause, ...] = (
    Clause(
        id="ca-notice",
        terms=CANADA,
        title="Written notice of loss or damage with the estimated amount",
        whose=Whose.OURS,
        starts=DELIVERY,
        met_by=(NOTICED,),
        span=Span(60, "calendar days", written="60 days"),
        endpoint=PLAIN,
        cautious="",
        citation=f"{CONDITIONS}: within 60 days after the delivery of the goods; {LAW}",
        mark="S",
        on_pass="The carrier may say that it is not liable, as no notice was given in time.",
        do=(
            "Give notice in writing: origin, destination, date of shipment and the estimated "
            "amount claimed."
        ),
        to="the originating or the delivering carrier",
        effective_from=IN_FORCE,
        concerns=LOSS_OR_DAMAGE,
        wants_amount=True,
    ),
    Clause(
        id="ca-notice-nondelivery",
        terms=CANADA,
        title="Written notice of goods not delivered",
        whose=Whose.OURS,
        starts=SHIPMENT_DATE,
        met_by=(NOTICED,),
        span=NINE_MONTHS,
        endpoint=PLAIN,
        cautious="",
        citation=(
            f"{CONDITIONS}: on failure to deliver, within 9 months from the date of shipment; {LAW}"
        ),
        mark="S",
        on_pass="The carrier may say that it is not liable, as no notice was given in time.",
        do=(
            "Give notice in writing: origin, destination, date of shipment and the estimated "
            "amount claimed for what was not delivered."
        ),
        to="the originating or the delivering carrier",
        effective_from=IN_FORCE,
        needs=(NOT_ALL_DELIVERED,),
        concerns=NON_DELIVERY,
        wants_amount=True,
    ),
    Clause(
        id="ca-final-statement",
        terms=CANADA,
        title="Final statement of the claim, with the paid freight bill",
        whose=Whose.OURS,
        starts=SHIPMENT_DATE,
        met_by=(CLAIM,),
        span=NINE_MONTHS,
        endpoint=PLAIN,
        cautious="",
        citation=(
            f"{CONDITIONS}: within 9 months from the date of shipment, together with a copy of the "
            f"paid freight bill; {LAW}"
        ),
        mark="S",
        on_pass="The carrier may refuse the claim as filed too late.",
        do=(
            "File the final statement of the claim with a copy of the paid freight bill, so that "
            "the carrier has both by then."
        ),
        to="the originating or the delivering carrier",
        effective_from=IN_FORCE,
        concerns=LOSS_OR_DAMAGE,
    ),
)
