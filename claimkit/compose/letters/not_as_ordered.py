"""Notices to seller and maker of goods that are not as they should be, less what was replaced.

That something was made by somebody is stated only where job.toml says so of the item. What was
replaced free of charge is named and taken off what is still asked for; pieces that were refused
are said to be refused.
"""

from __future__ import annotations

from claimkit.compose.blocks import say
from claimkit.compose.letters.parts import (
    Draft,
    damage_table,
    kept_packing,
    listed,
    open_damages,
    part,
    photos_of,
    refused,
    short_table,
    shortages,
    text,
    wrong_parts,
    wrong_table,
)
from claimkit.compose.phrases import day
from claimkit.compose.terminal.desk import Desk, cited, plain
from claimkit.findings.claim.costs import costs
from claimkit.findings.claim.worksheet import shipment_of
from claimkit.findings.limits.events import local_day, source_of
from claimkit.findings.limits.life import life_of
from claimkit.findings.matters import GAP
from claimkit.model.case import Asked, Difference, Reader
from claimkit.model.document import Block, Statement
from claimkit.model.job import Item, Party, Role
from claimkit.model.records import About, Cost, CostOf, Damage, Record
from claimkit.model.source import Source

BREACH = "UCC 2-607(3)(a) (wording read): notice of breach within a reasonable time"


def ordered(desk: Desk, party: Party | None = None) -> Statement:
    """State what was ordered and when the shipment came; what came of it stands in the tables.

    `party` is who is written to: the seller is told what was ordered of him, a maker what he made
    where job.toml names the maker of an item.
    """
    items = _items(desk, party)
    made = [i for i in items if party and i.maker == party.id]
    bought = "Ordered of you" if party and Role.SELLER in party.roles else "Ordered"
    parts = []
    if made and bought == "Ordered":
        parts.append(f"Of your making, ordered: {_listed(made)}.")
        items = [i for i in items if i not in made]
    if items or not parts:
        parts.append(f"{bought}: {_listed(items) or 'goods'}.")
    key = Source("job.toml", desk.case.facts.job_sha256, "item")
    found = desk.delivered()
    if found:
        return Statement(
            f"{' '.join(parts)} The shipment came on {found.text}.", (key, *found.sources)
        )
    return say(" ".join(parts), key)


def _listed(items: list[Item]) -> str:
    return ", ".join(f"{i.quantity} × {i.description}" for i in items)


def _items(desk: Desk, party: Party | None) -> list[Item]:
    """Give the items of the shipment; for a maker not those that another one made."""
    return [
        i
        for i in desk.job.item
        if shipment_of(desk.job, i) == desk.shipment.id and _concerns(i, party)
    ]


def _concerns(item: Item | None, party: Party | None) -> bool:
    """Tell whether an item concerns a party: a maker who is no seller has only his own."""
    if party is None or item is None or item.maker is None:
        return True
    only_maker = Role.MAKER in party.roles and Role.SELLER not in party.roles
    return not only_maker or item.maker == party.id


def seller(desk: Desk) -> Draft:
    """Give the seller notice of what is damaged, missing or not as ordered."""
    return _not_as_ordered(desk, Role.SELLER, Asked.SELLER, "seller")


def maker(desk: Desk) -> Draft:
    """Give the maker notice of the same, for the items that no other one is said to have made."""
    return _not_as_ordered(desk, Role.MAKER, Asked.MAKER, "maker")


def _not_as_ordered(desk: Desk, role: Role, asked: Asked, who: str) -> Draft:
    party = desk.with_role(role)
    damages = [(r, d) for r, d in open_damages(desk) if _of_item(desk, d.item, party)]
    short = [d for d in shortages(desk) if _of_item(desk, d.item, party)]
    wrong = [d for d in wrong_parts(desk) if _of_item(desk, d.item, party)]
    gaps = _gaps(desk, asked)
    if not (damages or short or wrong or gaps):
        desk.lacking.append("Nothing is on record as damaged, short, wrong or outside design.")
    found: list[Block] = [
        b
        for b in (
            damage_table(desk, damages),
            short_table(short, desk),
            wrong_table(wrong, desk),
            listed(gaps) if gaps else None,
        )
        if b
    ]
    law = role is Role.SELLER and desk.job.site.country == "US"
    under = " under our order" if role is Role.SELLER else ""
    notice = f"This is our notice that the goods are not as they should be{under}."
    asks = [
        cited(notice, BREACH) if law else plain(notice),
        plain(
            "We keep all our rights. Nothing is accepted by our having received, unpacked or "
            "dry-fitted the goods."
        ),
        *_replaced(desk, party),
        _asked(desk, damages, short, other=bool(wrong or gaps)),
        kept_packing(desk),
        *carrier_told(desk),
    ]
    return Draft(
        party,
        who,
        plain(f"Notice of {_named(bool(damages), bool(short), bool(wrong or gaps))}"),
        (
            part("found", text(ordered(desk, party), *refused(desk)), *found),
            part("asked", text(*asks)),
        ),
        photos=photos_of(desk, damages),
        packet=Reader.SELLER,
        sign=("Signature",),
        claim_number=False,
    )


def _of_item(desk: Desk, item: str, party: Party | None) -> bool:
    return _concerns(desk.job.item_named(item), party)


def _replacements(desk: Desk) -> list[tuple[Record, Cost]]:
    """Give the free replacements of the shipment's items up to the day of the letter."""
    ours = {i.id for i in desk.job.item if shipment_of(desk.job, i) == desk.shipment.id}
    return [
        (r, c)
        for r, c in costs(desk.case, CostOf.REPLACEMENT)
        if c.item in ours and (c.on is None or local_day(desk.case, c.on) <= desk.case.as_of)
    ]


def _replaced(desk: Desk, party: Party | None) -> list[Statement]:
    """State what was replaced free of charge already, by whom and when."""
    found = []
    for record, cost in _replacements(desk):
        item = desk.job.item_named(cost.item)
        if item is None or not _concerns(item, party):
            continue
        giver = desk.job.party_named(cost.by)
        by = f" by {'you' if giver == party else giver.name}" if giver else ""
        on = f" on {day(local_day(desk.case, cost.on))}" if cost.on else ""
        text_ = f"Replaced already, free of charge{by}{on}: {cost.quantity} × {item.description}."
        found.append(say(text_, source_of(record, "quantity")))
    return found


def _asked(
    desk: Desk, damages: list[tuple[Record, Damage]], short: list[Difference], *, other: bool
) -> Statement:
    """Ask by when what is left will be mended: what is damaged or short less what was replaced."""
    left: dict[str, int] = {}
    for _, damage in damages:
        left[damage.item] = left.get(damage.item, 0) + damage.quantity
    for found in short:
        left[found.item] = left.get(found.item, 0) + found.short
    for _, cost in _replacements(desk):
        if cost.item in left:
            left[cost.item] -= cost.quantity
    names = []
    for item_id, count in left.items():
        item = desk.job.item_named(item_id)
        most = min(count, item.quantity) if item else count
        if most > 0:
            names.append(f"{most} × {item.description if item else item_id}")
    if left and not names and not other:
        desk.lacking.append("All that is on record as damaged or short has been replaced.")
    yet = " and not replaced yet" if _replacements(desk) else ""
    what = f"what is damaged or missing{yet} ({', '.join(names)})" if names else "the goods"
    return plain(
        f"Please tell us in writing by when you will replace, complete or repair {what}, or take "
        "them back, and what you want done with the pieces here."
    )


def _named(damaged: bool, short: bool, wrong: bool) -> str:
    words = ["damage"] * damaged + ["shortage"] * short + ["goods not as ordered"] * wrong
    return " and ".join(words) or "goods not as ordered"


def _gaps(desk: Desk, asked: Asked) -> list[Statement]:
    """State the gaps that bear on seller or maker: outside design at the dry fit."""
    return [
        say(f"{a.about[0].upper()}{a.about[1:]}.", *a.sources)
        for a in desk.case.addressees
        if a.kind == GAP
        and a.shipment in (None, desk.shipment.id)
        and any(c.who is asked for c in a.asked)
    ]


def carrier_told(desk: Desk) -> list[Statement]:
    """State what the carrier had from us, and when."""
    life = life_of(desk.case, desk.shipment)
    step = life.last(About.CLAIM, About.CONCEALED_DAMAGE, About.DAMAGE_NOTICE)
    if step is None or step.notice.received is None:
        return []
    had = day(local_day(desk.case, step.notice.received))
    text_ = f"The carrier had our {step.notice.about.value} on {had}."
    return [plain(text_, source_of(step.record, "received"))]
