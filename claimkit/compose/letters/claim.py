"""The claim letter: the full actual loss in the fields of the traditional presentation form.

Where a claim was made before, the letter names it with the day on which it was received, takes
off what was paid and demands the balance: it is never a second first claim.
"""

from __future__ import annotations

from claimkit.compose.letters.carrier import (
    ACKNOWLEDGE,
    DISPOSE,
    SALVAGE,
    SUPPLY,
    needs_carrier,
    us_motor,
)
from claimkit.compose.letters.claimed import (
    Claimed,
    balance,
    claimed,
    paid_sources,
    payments,
    repeats,
)
from claimkit.compose.letters.parts import (
    Draft,
    curb_counts,
    damage_table,
    evidence,
    kept_packing,
    open_damages,
    papers,
    part,
    photos_of,
    refused,
    short_table,
    shortages,
    text,
    worksheet,
)
from claimkit.compose.terminal.desk import LETTERS, Desk, cited, plain
from claimkit.findings.claim.parts import claim_parts
from claimkit.findings.claim.worksheet import of_shipment, whole_total
from claimkit.findings.limits.life import life_of
from claimkit.model.case import Reader
from claimkit.model.document import Block, Statement
from claimkit.model.job import Party
from claimkit.model.quantities import Money
from claimkit.model.records import About, FoundAt
from claimkit.model.source import Source
from claimkit.rules.governing import law_of


def claim(desk: Desk) -> Draft:
    """Claim the full actual loss, in the fields of the traditional presentation form."""
    needs_carrier(desk)
    case, shipment = desk.case, desk.shipment
    desk.lacking += [p.enter for p in claim_parts(case, shipment) if not p.holds]
    damages = open_damages(desk)
    party = desk.carrier()
    lines = of_shipment(case, shipment.id)
    whole = whole_total(case, shipment.id)
    before = claimed(desk)
    _nothing_left(desk, before, whole)
    sources = tuple(dict.fromkeys(s for x in lines for s in x.sources))
    goods = [b for b in (damage_table(desk, damages), short_table(shortages(desk), desk)) if b]
    sheet = worksheet(desk, before)
    opening = text(
        *repeats(desk, before, whole),
        _demand(desk, party, before, whole, sources),
        *payments(desk, before),
        _delivery_statement(desk),
        *curb_counts(desk),
        *refused(desk),
    )
    return Draft(
        party,
        "carrier",
        plain(_subject(desk, before, whole), *sources),
        (
            part("claim", opening),
            part("goods", *goods, title="Articles, nature and extent"),
            part(
                "amount",
                *([sheet] if sheet else []),
                text(
                    plain(
                        "The basis is the purchase invoice. No limitation of liability is taken "
                        f"off: if you rely on one, {law_of(shipment).name_the_limit}.",
                        Source(citation=SUPPLY) if us_motor(desk) else LETTERS,
                    )
                ),
                title="How the amount is found",
            ),
            part(
                "evidence",
                *evidence(desk),
                title="Condition at origin and at delivery",
            ),
            part("papers", *_one(papers(desk)), title="Supporting papers"),
            part("asked", text(*_asks_of_a_claim(desk, before)), title="What we ask"),
        ),
        photos=photos_of(desk, damages),
        packet=Reader.CARRIER,
    )


def _subject(desk: Desk, before: Claimed, whole: Money | None) -> str:
    left = balance(before, whole)
    if before.latest is None:
        amount = str(left) if left else _blank_amount(desk)
        return f"Claim for {_kind(desk)}: {amount}"
    what = "balance" if before.payments else "amount"
    amount = str(left) if left else _blank_amount(desk)
    return f"Our claim for {_kind(desk)}, made before: {what} {amount}"


def _blank_amount(desk: Desk) -> str:
    return desk.blank("amount", "Enter the purchase invoice prices.")


def _nothing_left(desk: Desk, before: Claimed, whole: Money | None) -> None:
    """Keep back a claim of what is paid, agreed, or cannot be told after the payments."""
    life = life_of(desk.case, desk.shipment)
    accepted = life.last(About.ACCEPTANCE)
    if accepted:
        desk.lacking.append(
            f"An offer was accepted ({accepted.record.path}); the claim is settled by it."
        )
    if not before.payments or whole is None:
        return
    left = balance(before, whole)
    if left is None:
        desk.lacking.append(
            "The payments and the claim are in different currencies, so no balance follows. Enter "
            "them in one currency."
        )
    elif left.amount <= 0:
        desk.lacking.append(
            f"The carrier has paid {before.paid}, which reaches the amount of the claim, {whole}; "
            "nothing is left to claim."
        )


def _demand(
    desk: Desk,
    party: Party | None,
    before: Claimed,
    whole: Money | None,
    sources: tuple[Source, ...],
) -> Statement:
    name = party.name if party else desk.blank("carrier", "Enter the carrier in job.toml.")
    left = balance(before, whole)
    amount = str(left) if left else _blank_amount(desk)
    law = law_of(desk.shipment)
    of = law.loss
    if before.payments:
        of = f"the balance of {of}, {whole or _blank_amount(desk)}, after what you have paid"
    said = (
        f"We assert that {name} is liable for the {_kind(desk)} described here, and we demand "
        f"payment of {amount}, {of}."
    )
    every = (*sources, *paid_sources(before))
    texts = dict.fromkeys((law.claim, law.loss_text))
    return cited(said, "; ".join(texts), *every)


def _one(block: Block | None) -> list[Block]:
    return [block] if block else []


def _delivery_statement(desk: Desk) -> Statement | None:
    found = desk.delivered()
    return (
        Statement(f"The shipment was delivered on {found.text}.", found.sources) if found else None
    )


def _kind(desk: Desk) -> str:
    """Say what is claimed for, in the words of the form: loss, damage, concealed damage."""
    damages = [d for _, d in open_damages(desk)]
    words = []
    if any(d.found_at is FoundAt.CURB for d in damages):
        words.append("damage")
    if any(d.found_at is not FoundAt.CURB for d in damages):
        words.append("concealed damage")
    if shortages(desk) or (curb_counts(desk) and not refused(desk)):
        words.append("loss")
    return " and ".join(words) or "loss or damage"


def _asks_of_a_claim(desk: Desk, before: Claimed) -> list[Statement]:
    us = desk.us()
    payee = us.name if us else desk.blank("payee", "Enter the sender (role owner) in job.toml.")
    asks = [plain(f"Please pay to {payee}, at the address above."), kept_packing(desk)]
    if before.received:
        asks.append(_again(desk, before))
    elif us_motor(desk):
        asks += [
            cited(
                "Please acknowledge this claim in writing within 30 days of receiving it and give "
                "us its number.",
                ACKNOWLEDGE,
            ),
            cited(
                "Please pay, decline or make a firm offer in writing within 120 days of receiving "
                "it.",
                DISPOSE,
            ),
        ]
    else:
        asks.append(plain("Please confirm in writing that you have this claim, with its number."))
    if us_motor(desk):
        asks.append(
            cited(
                "The damaged goods are at your disposal for inspection. Please tell us in writing "
                "whether you want them as salvage.",
                SALVAGE,
            )
        )
    return asks


def _again(desk: Desk, before: Claimed) -> Statement:
    """Ask for the answer that is still owed: the days run from the claim that was received."""
    what = "balance" if before.payments else "claim"
    said = (
        f"Please pay the {what}, decline it in writing with your reasons, or make a firm offer. "
        "The day on which you received our claim stands; this letter begins no new period."
    )
    return plain(said, *((Source(citation=DISPOSE),) if us_motor(desk) else ()))
