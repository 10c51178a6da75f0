"""How a claim and the carrier's limit stand, in plain lines for packet and terminal."""

from __future__ import annotations

from claimkit.compose.phrases import day
from claimkit.findings.claim.liability import in_words
from claimkit.findings.limits.life import Life, Phase, lives
from claimkit.model.case import Case
from claimkit.rules.marks import marked


def standing(life: Life) -> str:
    """Say how a shipment's claim stands: since when, under which number, the money so far."""
    parts = [f"Shipment {life.shipment}: {life.phase.value}"]
    if life.since and life.since.day:
        parts[0] += f", {day(life.since.day)}"
    if life.claim_number:
        parts.append(f"the carrier's claim number is {life.claim_number}")
    for word, amount in (
        ("claimed", life.claimed),
        ("offered", life.offered),
        ("paid", life.paid),
    ):
        if amount:
            parts.append(f"{word} {amount}")
    return "; ".join(parts) + "."


def life_lines(case: Case) -> list[str]:
    """Give one line for each shipment's claim: how it stands."""
    found = []
    for life in lives(case):
        text = standing(life)
        if life.phase is not Phase.NOTHING_WRONG:
            text += f" Inspection: {life.inspection.value}."
        found.append(text)
    return found


def liability_lines(case: Case) -> list[str]:
    """Give each limit that the carrier may show, its steps after it."""
    found = []
    for limit in case.liabilities:
        converted = f" ({limit.converted})" if limit.converted else ""
        head = f"shipment {limit.shipment}: the carrier may show a limit of "
        head += f"{in_words(limit.amount)}{converted}. {' '.join(limit.steps)}"
        found.append(f"{head} [{marked(limit.citation, limit.mark)}]")
    return found
