"""What the keys of a cost record say against each other: hours without a rate, two ways at once.

Each kind of cost takes some of the keys and needs some; what does not belong to it would be
dropped in silence, so it is told.
"""

from __future__ import annotations

from collections.abc import Iterator

from claimkit.intake.entries.problems import listed, quoted
from claimkit.intake.entries.tables import Table
from claimkit.model.records import CostOf

Told = tuple[str, str, str]  # key path, what was found, what to write

_ONLY_FOR: dict[str, tuple[CostOf, ...]] = {
    "percent": (CostOf.DISCOUNT, CostOf.ALLOWANCE),
    "hours": (CostOf.REPAIR,),
    "rate": (CostOf.REPAIR,),
    "part": (CostOf.REPAIR,),
    "quantity": (CostOf.REPAIR, CostOf.REPLACEMENT),
    "notice_given": (CostOf.SPECIAL,),
}
_OF_AN_ITEM = (CostOf.REPAIR, CostOf.REPLACEMENT)


def cost_slips(cost: Table) -> Iterator[Told]:
    """Give what does not fit together in a cost record. Nothing where its `what` is not known."""
    what = cost.values.get("what")
    if not isinstance(what, CostOf):
        return
    yield from _belongs(cost, what)
    if what in _OF_AN_ITEM and "item" not in cost.there:
        yield cost.path("item"), f"is missing: a {what} concerns one item.", 'Write item = "…".'
    if what is CostOf.REPLACEMENT:
        if "amount" in cost.there:
            yield (
                cost.path("amount"),
                "a free replacement has no amount: the pieces are taken off at their own price.",
                'Take the line out, or write what = "credit".',
            )
        return
    yield from (_repair(cost) if what is CostOf.REPAIR else _one_amount(cost, what))
    yield from _currencies(cost)


def _belongs(cost: Table, what: CostOf) -> Iterator[Told]:
    for name, kinds in _ONLY_FOR.items():
        if name in cost.there and what not in kinds:
            words = listed((f'"{kind}"' for kind in kinds), "and")
            yield (
                cost.path(name),
                f"{name} stands here, and it belongs to {words} alone.",
                "Take the line out, or look at what again.",
            )


def _repair(cost: Table) -> Iterator[Told]:
    """Hours go with a rate; itemised and lump sum exclude each other; one of them is needed."""
    if ("hours" in cost.there) != ("rate" in cost.there):
        there, lacks = ("hours", "rate") if "hours" in cost.there else ("rate", "hours")
        yield cost.path(there), f"stands here without {lacks}.", f"Write {lacks} beside it."
    itemised = cost.there & {"hours", "rate", "part"}
    if "amount" in cost.there and itemised:
        yield (
            cost.path("amount"),
            f"a lump sum stands beside {listed(sorted(itemised), 'and')}, and it would count "
            "twice.",
            "Write the lump sum, or hours, rate and parts.",
        )
    if "amount" not in cost.there and not itemised:
        yield cost.path("hours"), "nothing says what the repair cost.", "Write hours and rate."


def _one_amount(cost: Table, what: CostOf) -> Iterator[Told]:
    both = cost.there >= {"amount", "percent"}
    if both:
        yield (
            cost.path("percent"),
            "an amount and a per cent both stand here.",
            "Write the one that the paper states.",
        )
    may_be_percent = what in _ONLY_FOR["percent"]
    if not cost.there & ({"amount", "percent"} if may_be_percent else {"amount"}):
        yield cost.path("amount"), f"is missing: a {what} is an amount.", 'Write amount = "…".'


def _currencies(cost: Table) -> Iterator[Told]:
    found = [(cost.path(n), v) for n in ("amount", "rate") if (v := cost.values.get(n))]
    found += [(p.path("price"), v) for p in cost.tables("part") if (v := p.values.get("price"))]
    for path, value in found[1:]:
        if value.currency != found[0][1].currency:
            yield (
                path,
                f"{quoted(value.written)} is in another currency than "
                f"{quoted(found[0][1].written)}.",
                "Write one record for each currency as it was paid.",
            )
