"""Time limits of the CMR: international carriage of goods by road, Geneva 1956.

What could be seen is reserved at delivery, what could not within seven days, delay within
twenty-one. Only the last is a bar; the others shift the burden of proof. One year to sue, and
three only where wilful misconduct is shown, which is not assumed here.
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
    DELAY,
    DELIVERY,
    HIDDEN_DAMAGE,
    LATE_NOTICED,
    LOSS_OR_DAMAGE,
    NON_DELIVERY,
    NOTHING_DELIVERED,
    NOTICED,
    ONE_YEAR,
    PLAIN,
    RESERVATION,
    SEEN_AT_DELIVERY,
    SUIT,
    SUNDAYS_EXCEPTED,
    TOTAL_LOSS,
)

CMR = Terms.CMR.value
IN_FORCE = date(1961, 7, 2)  # from memory
BURDEN = (
    "The claim is not barred, but the goods then count as received in the condition that the "
    "consignment note describes until you prove the contrary: photos, the receipt, who had the "
    "goods and where."
)
SUSPENDED = (
    "A written claim suspends the period until the carrier rejects it in writing and sends the "
    "documents back (Article 32(2)); the day shown does not count on that."
)

ROWS: tuple[Clause, ...] = (
    Clause(
        id="cmr-reserve-apparent",
        terms=CMR,
        title="Reservation at delivery for damage or loss that can be seen",
        whose=Whose.OURS,
        starts=DELIVERY,
        met_by=(RESERVATION, NOTICED),
        span=Span(0, AT_THE_EVENT, written="at delivery"),
        endpoint=PLAIN,
        cautious="",
        citation="CMR (Geneva, 19 May 1956) Article 30(1): apparent damage, at delivery",
        mark="P",
        on_pass=BURDEN,
        do="State the damage or loss on the consignment note before the driver leaves.",
        to="the carrier",
        effective_from=IN_FORCE,
        needs=(SEEN_AT_DELIVERY,),
        concerns=APPARENT_DAMAGE,
    ),
    Clause(
        id="cmr-reserve-hidden",
        terms=CMR,
        title="Written reservation for damage or loss that could not be seen",
        whose=Whose.OURS,
        starts=DELIVERY,
        met_by=(NOTICED,),
        span=Span(7, "calendar days", written="7 days, Sundays and public holidays excepted"),
        endpoint=SUNDAYS_EXCEPTED,
        cautious="",
        citation=(
            "CMR Article 30(1): in writing within seven days of delivery, Sundays and public "
            "holidays excepted; Article 30(4): the day of delivery is not counted (from memory)"
        ),
        mark="P",
        on_pass=BURDEN,
        do="Write to the carrier what was found, with a general description of the damage or loss.",
        to="the carrier",
        effective_from=IN_FORCE,
        concerns=HIDDEN_DAMAGE,
        sending_counts="CMR Article 30(1) speaks of sending reservations, from memory",
    ),
    Clause(
        id="cmr-delay",
        terms=CMR,
        title="Written reservation for delay",
        whose=Whose.OURS,
        starts=DELIVERY,
        met_by=(LATE_NOTICED,),
        span=Span(21, "calendar days", written="21 days"),
        endpoint=PLAIN,
        cautious="",
        citation=(
            "CMR Article 30(3): within twenty-one days from when the goods were placed at the "
            "consignee's disposal; 30(4): that day is not counted (from memory)"
        ),
        mark="P",
        on_pass="Nothing is payable for the delay. A claim for damage or loss is not touched.",
        do="Send the carrier a written reservation for the delay: agreed day, day of delivery.",
        to="the carrier",
        effective_from=IN_FORCE,
        concerns=DELAY,
        sending_counts="CMR Article 30(3) speaks of a reservation that was sent, from memory",
    ),
    Clause(
        id="cmr-suit",
        terms=CMR,
        title="Suit against the carrier for damage, partial loss or delay",
        whose=Whose.OURS,
        starts=DELIVERY,
        met_by=(SUIT,),
        span=ONE_YEAR,
        endpoint=PLAIN,
        cautious="",
        citation=(
            "CMR Article 32(1)(a): one year from the date of delivery, that day not included; "
            "three years in case of wilful misconduct, which is not assumed here"
        ),
        mark="S",
        on_pass=f"A court may dismiss a suit as brought too late. {SUSPENDED}",
        do=f"Ask a lawyer whether to sue, well before this day; filing takes time. {SUSPENDED}",
        to="a court, through a lawyer",
        effective_from=IN_FORCE,
        concerns=LOSS_OR_DAMAGE,
    ),
    Clause(
        id="cmr-suit-total-loss",
        terms=CMR,
        title="Suit against the carrier for goods never delivered",
        whose=Whose.OURS,
        starts=TOTAL_LOSS,
        met_by=(SUIT,),
        span=ONE_YEAR,
        endpoint=PLAIN,
        cautious="",
        citation=(
            "CMR Article 32(1)(b): one year from the thirtieth day after the agreed time limit, or "
            "without one from the sixtieth day after the goods were taken over"
        ),
        mark="S",
        on_pass=f"A court may dismiss a suit as brought too late. {SUSPENDED}",
        do=f"Ask a lawyer whether to sue, well before this day; filing takes time. {SUSPENDED}",
        to="a court, through a lawyer",
        effective_from=IN_FORCE,
        needs=(NOTHING_DELIVERED,),
        concerns=NON_DELIVERY,
    ),
)
