"""Time limits towards the seller: what his terms state, and the reasonable time of the statute.

They stand beside any terms of carriage. A seller's terms often allow 24 to 72 hours (common
practice, no source): the user enters them. The statute's reasonable time has no number of days,
and none is invented.
"""

# ruff: noqa: S106 - on_pass says what it means when a limit passes; it is no password.
from __future__ import annotations

from claimkit.model.limit import Clause, Whose
from claimkit.model.quantities import Span
from claimkit.rules.terms.words import (
    ANY_BREACH,
    DISCOVERY,
    FIRST_DAY_COUNTS,
    NO_NUMBER,
    PAPER_STATES,
    PLAIN,
    SALE,
    SALE_LAW,
    SOMETHING_WRONG,
    STATED,
    TENDER,
    TOLD_SELLER,
    UNIFORM_CODE,
)

OWN_TERMS = "the seller's own terms of sale, as you entered them (job.toml: sale)"
RISK = (
    "The seller may refuse to replace, repair or credit the goods, and say so by its terms. Ask "
    "all the same."
)

ROWS: tuple[Clause, ...] = (
    Clause(
        id="sale-report",
        terms=SALE,
        title="Report to the seller",
        whose=Whose.OURS,
        starts=TENDER,
        met_by=(TOLD_SELLER,),
        span=Span(0, PAPER_STATES, written="sale.report_within"),
        endpoint=PLAIN,
        cautious=FIRST_DAY_COUNTS,
        citation=OWN_TERMS,
        mark="U",
        on_pass=RISK,
        do="Report the damage, shortage or wrong piece to the seller in writing, with photos.",
        to="the seller",
        needs=(STATED,),
        concerns=ANY_BREACH,
    ),
    Clause(
        id="sale-reject",
        terms=SALE,
        title="Rejection or return of the goods",
        whose=Whose.OURS,
        starts=TENDER,
        met_by=(TOLD_SELLER,),
        span=Span(0, PAPER_STATES, written="sale.reject_within"),
        endpoint=PLAIN,
        cautious=FIRST_DAY_COUNTS,
        citation=OWN_TERMS,
        mark="U",
        on_pass="The seller may say that the goods were accepted.",
        do="Tell the seller in writing which pieces you reject, why, and where they can be had.",
        to="the seller",
        needs=(STATED,),
        concerns=ANY_BREACH,
    ),
    Clause(
        id="sale-reasonable-time",
        terms=SALE_LAW,
        title="Notice of breach to the seller",
        whose=Whose.OURS,
        starts=DISCOVERY,
        met_by=(TOLD_SELLER,),
        span=Span(0, NO_NUMBER, written="a reasonable time"),
        endpoint=PLAIN,
        cautious="",
        citation=(
            "UCC 2-607(3)(a): within a reasonable time after the buyer discovers or should have "
            "discovered any breach (Louisiana has not enacted it, from memory)"
        ),
        mark="S",
        on_pass="The buyer is barred from any remedy against the seller.",
        do="Notify the seller in writing of what is wrong; the statute names no number of days.",
        to="the seller",
        needs=(UNIFORM_CODE, SOMETHING_WRONG),
        concerns=ANY_BREACH,
    ),
)
