"""Periods that only the user's own contract, tariff or policy has: what each kind of duty asks for.

The user enters the length, what it runs from and the paper; here stands what meets it, what must
be wrong for it to matter, and what to do. A policy's periods are met by telling the insurer.
"""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.model.contract import Duty
from claimkit.model.limit import Whose
from claimkit.rules.terms.words import (
    ACKNOWLEDGEMENT,
    ANY_BREACH,
    CLAIM,
    CLAIMED_ON_INSURER,
    DECLINED,
    LOSS_OR_DAMAGE,
    NON_DELIVERY,
    NOTICED,
    OFFER,
    PAID,
    PAYMENT,
    SUIT,
    TOLD_INSURER,
)

NOT_SAID = "Your entry does not say what passing it means: read the paper."


@dataclass(frozen=True, slots=True)
class OwnRow:
    """What a duty of the user's own paper asks for, in words of `rules.terms_words`."""

    whose: Whose
    met_by: tuple[str, ...]
    concerns: str
    do: str


BY_CONTRACT: dict[Duty, OwnRow] = {
    Duty.REPORT: OwnRow(
        Whose.OURS, (NOTICED,), LOSS_OR_DAMAGE, "Report the loss or damage in writing."
    ),
    Duty.CLAIM: OwnRow(
        Whose.OURS, (CLAIM,), LOSS_OR_DAMAGE, "File a written claim that demands an amount."
    ),
    Duty.CLAIM_UNDELIVERED: OwnRow(
        Whose.OURS, (CLAIM,), NON_DELIVERY, "File a written claim for what was not delivered."
    ),
    Duty.SUIT: OwnRow(
        Whose.OURS, (SUIT,), LOSS_OR_DAMAGE, "Ask a lawyer whether to sue, well before this day."
    ),
    Duty.ACKNOWLEDGE: OwnRow(
        Whose.CARRIERS,
        (ACKNOWLEDGEMENT, PAYMENT, DECLINED),
        "",
        "Remind the carrier in writing that an acknowledgement is due.",
    ),
    Duty.DECIDE: OwnRow(
        Whose.CARRIERS,
        (PAID, DECLINED, OFFER),
        "",
        "Ask the carrier in writing for its decision.",
    ),
}

BY_POLICY: dict[Duty, OwnRow] = {
    Duty.REPORT: OwnRow(
        Whose.OURS, (TOLD_INSURER,), ANY_BREACH, "Notify the insurer in writing of the loss."
    ),
    Duty.CLAIM: OwnRow(
        Whose.OURS,
        (CLAIMED_ON_INSURER,),
        ANY_BREACH,
        "File claim and proof with the insurer.",
    ),
    Duty.CLAIM_UNDELIVERED: OwnRow(
        Whose.OURS,
        (CLAIMED_ON_INSURER,),
        NON_DELIVERY,
        "File the claim for what was not delivered with the insurer.",
    ),
    Duty.SUIT: OwnRow(
        Whose.OURS, (SUIT,), ANY_BREACH, "Ask a lawyer whether to sue, well before this day."
    ),
}
