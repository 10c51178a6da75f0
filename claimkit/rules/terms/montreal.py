"""Time limits of the Montreal Convention of 1999: international carriage by air.

Damage is complained of forthwith on discovery and in any case within fourteen days; without a
complaint in time no action lies against the carrier. Two years to sue, counted from the arrival.
"""

# ruff: noqa: S106 - on_pass says what it means when a limit passes; it is no password.
from __future__ import annotations

from datetime import date

from claimkit.model.job import Terms
from claimkit.model.limit import Clause, Whose
from claimkit.model.quantities import Span
from claimkit.rules.terms.words import (
    DELAY,
    DELIVERY,
    LATE_NOTICED,
    LOSS_OR_DAMAGE,
    NON_DELIVERY,
    NOTHING_DELIVERED,
    NOTICED,
    PLAIN,
    REASONABLE_DATE,
    SUIT,
    TWO_YEARS,
)

MONTREAL = Terms.MONTREAL.value
IN_FORCE = date(2003, 11, 4)  # from memory; in force for a state when it joined
BAR = (
    "No action lies against the carrier, save in the case of fraud on its part (Article 31(4), "
    "from memory). What was dispatched in time may still serve (31(3), from memory): keep the "
    "proof of sending."
)

DISPATCHED = "Montreal Convention Article 31(3): given or dispatched, from memory"

ROWS: tuple[Clause, ...] = (
    Clause(
        id="montreal-notice",
        terms=MONTREAL,
        title="Written complaint of damage",
        whose=Whose.OURS,
        starts=DELIVERY,
        met_by=(NOTICED,),
        span=Span(14, "calendar days", written="14 days"),
        endpoint=PLAIN,
        cautious="",
        citation=(
            "Montreal Convention 1999 Article 31(2): forthwith after the discovery of the damage, "
            "and at the latest within fourteen days from receipt of the cargo"
        ),
        mark="P",
        on_pass=BAR,
        do="Complain to the carrier in writing, forthwith on discovery of the damage.",
        to="the carrier",
        effective_from=IN_FORCE,
        concerns=LOSS_OR_DAMAGE,
        sending_counts=DISPATCHED,
    ),
    Clause(
        id="montreal-delay",
        terms=MONTREAL,
        title="Written complaint of delay",
        whose=Whose.OURS,
        starts=DELIVERY,
        met_by=(LATE_NOTICED,),
        span=Span(21, "calendar days", written="21 days"),
        endpoint=PLAIN,
        cautious="",
        citation=(
            "Montreal Convention 1999 Article 31(2): delay, within twenty-one days from when the "
            "cargo was placed at the consignee's disposal"
        ),
        mark="P",
        on_pass=BAR,
        do="Complain to the carrier of the delay in writing: day promised, day of delivery.",
        to="the carrier",
        effective_from=IN_FORCE,
        concerns=DELAY,
        sending_counts=DISPATCHED,
    ),
    Clause(
        id="montreal-suit",
        terms=MONTREAL,
        title="Suit against the carrier",
        whose=Whose.OURS,
        starts=DELIVERY,
        met_by=(SUIT,),
        span=TWO_YEARS,
        endpoint=PLAIN,
        cautious="",
        citation="Montreal Convention 1999 Article 35: two years from the date of arrival",
        mark="P",
        on_pass="The right to damages is gone.",
        do=(
            "Ask a lawyer whether to sue, well before this day. It is counted from your delivery; "
            "the arrival at the airport of destination may be earlier, and then that day counts."
        ),
        to="a court, through a lawyer",
        effective_from=IN_FORCE,
        concerns=LOSS_OR_DAMAGE,
    ),
    Clause(
        id="montreal-suit-nondelivery",
        terms=MONTREAL,
        title="Suit against the carrier for goods never delivered",
        whose=Whose.OURS,
        starts=REASONABLE_DATE,
        met_by=(SUIT,),
        span=TWO_YEARS,
        endpoint=PLAIN,
        cautious="",
        citation=(
            "Montreal Convention 1999 Article 35: two years from the date on which the aircraft "
            "ought to have arrived (from memory)"
        ),
        mark="M",
        on_pass="The right to damages is gone.",
        do="Ask a lawyer whether to sue, well before this day; filing takes time.",
        to="a court, through a lawyer",
        effective_from=IN_FORCE,
        needs=(NOTHING_DELIVERED,),
        concerns=NON_DELIVERY,
    ),
)
