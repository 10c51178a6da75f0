"""What cost records add to the goods of a worksheet or take off from it, line by line.

A repair is hours × rate and parts; a free replacement takes its pieces off at their own price;
freight is claimed where it was paid beside the price, by weight where a part was damaged. Special
damages stand on a line of their own, claimed only with the notice that the carrier had.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from decimal import Decimal
from fractions import Fraction

from claimkit.findings.claim import worksheet as kinds
from claimkit.findings.claim.worksheet import rounded, shipment_of
from claimkit.model.case import AmountLine, Case
from claimkit.model.job import FREIGHT, Job, Shipment
from claimkit.model.quantities import Money
from claimkit.model.records import Cost, CostOf, Record
from claimkit.model.source import Source

ZERO = Decimal(0)


def costs(case: Case, *what: CostOf) -> tuple[tuple[Record, Cost], ...]:
    """Give the cost records in force of these kinds, ordered by id."""
    return tuple(
        (r, r.body)
        for r in case.facts.in_force(Cost)
        if isinstance(r.body, Cost) and r.body.what in what
    )


def repairs(case: Case, item: str) -> tuple[tuple[Record, Cost], ...]:
    """Give the repair records of an item."""
    return tuple((r, c) for r, c in costs(case, CostOf.REPAIR) if c.item == item)


def pieces_repaired(case: Case, item: str) -> int:
    """Count the pieces of an item that the repair records say were repaired."""
    return sum(c.quantity for _, c in repairs(case, item))


def beside_goods(case: Case, job: Job, goods: tuple[AmountLine, ...]) -> list[AmountLine]:
    """Give every line beside the goods' own, in the order of their records."""
    replaced = list(_replacements(case, job, goods))
    net = (*goods, *replaced)
    lines = list(replaced)
    for record in case.facts.in_force(Cost):
        cost = record.body
        if not isinstance(cost, Cost) or cost.what is CostOf.REPLACEMENT:
            continue
        shipment = _shipment(job, cost)
        if shipment is not None:
            lines += _LINES[cost.what](job, shipment, record, cost, net)
    for shipment_ in job.shipment:
        lines += _freight_share(case, job, shipment_, (*net, *lines))
    return lines


def _shipment(job: Job, cost: Cost) -> str | None:
    item = job.item_named(cost.item)
    if cost.shipment is None and item:
        return shipment_of(job, item)
    named = job.shipment_named(cost.shipment)
    return named.id if named else None


def _source(record: Record, key: str) -> Source:
    return Source(path=record.path, sha256=record.sha256, key_path=key)


def _name(job: Job, cost: Cost) -> str:
    item = job.item_named(cost.item)
    return item.description if item else "the shipment"


def _said(job: Job, cost: Cost) -> str:
    """Say what a cost was and who gave or did it."""
    party = job.party_named(cost.by)
    words = [cost.description] if cost.description else []
    words += [f"by {party.name}"] if party else []
    words += [cost.on.day.isoformat()] if cost.on else []
    return f" ({', '.join(words)})" if words else ""


def _replacements(case: Case, job: Job, goods: tuple[AmountLine, ...]) -> Iterator[AmountLine]:
    left = {line.item: line.quantity for line in goods if line.kind == kinds.GOODS}
    for record, cost in costs(case, CostOf.REPLACEMENT):
        line = next((g for g in goods if g.kind == kinds.GOODS and g.item == cost.item), None)
        if line is None:
            continue  # nothing of it stands in the worksheet, so there is nothing to take off
        count = min(cost.quantity, left[line.item])
        left[line.item] -= count
        off = Money(-line.price.amount * count, line.price.currency)
        why = f"{cost.quantity} replaced free of charge"
        step = f"{_name(job, cost)}: {count} × {line.price} taken off, {why}{_said(job, cost)}."
        sources = (_source(record, "quantity"), *line.sources[:1])
        yield AmountLine(
            line.item, line.shipment, count, line.price, off, why, sources, kinds.REPLACED, (step,)
        )


def _repair(
    job: Job, shipment: str, record: Record, cost: Cost, _goods: tuple[AmountLine, ...]
) -> Iterator[AmountLine]:
    pieces = f"repair of {cost.quantity} piece{'s' if cost.quantity > 1 else ''}"
    steps: list[str] = []
    sources: list[Source] = []
    sum_, currency = ZERO, ""
    if cost.hours and cost.rate:
        currency = cost.rate.currency
        labour, told = rounded(cost.hours.hours * Fraction(cost.rate.amount), currency)
        steps.append(
            f"{_name(job, cost)}, labour: {cost.hours.written} × {cost.rate} an hour = {labour}."
            + (f" {told}" if told else "")
        )
        sum_ += labour.amount
        sources += [_source(record, "hours"), _source(record, "rate")]
    for number, part in enumerate(cost.part, 1):
        price = Money(part.price.amount * part.quantity, part.price.currency)
        currency = price.currency
        steps.append(f"{part.description}: {part.quantity} × {part.price} = {price}.")
        sum_ += price.amount
        sources.append(_source(record, f"part[{number}].price"))
    if cost.amount and not steps:
        currency, sum_ = cost.amount.currency, cost.amount.amount
        steps.append(f"{_name(job, cost)}: {pieces}, lump sum {cost.amount}; not itemised.")
        sources.append(_source(record, "amount"))
    if not currency:
        return
    whole = Money(sum_, currency)
    if len(steps) > 1:
        steps.append(f"{pieces.capitalize()}{_said(job, cost)}: {whole}.")
    yield AmountLine(
        cost.item or "",
        shipment,
        1,
        whole,
        whole,
        pieces,
        tuple(sources),
        kinds.REPAIR,
        tuple(steps),
    )


def _less(kind: str) -> Callable[..., Iterator[AmountLine]]:
    """Give the lines for what takes off: an amount, or a share of the goods' price."""

    def lines(
        job: Job, shipment: str, record: Record, cost: Cost, goods: tuple[AmountLine, ...]
    ) -> Iterator[AmountLine]:
        if cost.amount:
            off = Money(-cost.amount.amount, cost.amount.currency)
            step = f"Less {kind}, {_name(job, cost)}{_said(job, cost)}: {cost.amount}."
            yield _one(cost, shipment, off, kind, (_source(record, "amount"),), step=step)
        elif cost.percent:
            on = [g for g in goods if g.shipment == shipment and cost.item in (None, g.item)]
            base = kinds.total(on)
            if base is None:
                return
            off, told = rounded(cost.percent.of_one * Fraction(base.amount), base.currency)
            step = (
                f"Less {kind}, {cost.percent.written} of {base} for {_name(job, cost)}"
                f"{_said(job, cost)}: {off}." + (f" {told}" if told else "")
            )
            less = Money(-off.amount, off.currency)
            sources = (_source(record, "percent"), *(s for g in on for s in g.sources))
            yield _one(cost, shipment, less, kind, sources, step=step)

    return lines


def _more(kind: str) -> Callable[..., Iterator[AmountLine]]:
    """Give the line for an amount that is added as it was paid."""

    def lines(
        job: Job, shipment: str, record: Record, cost: Cost, _goods: tuple[AmountLine, ...]
    ) -> Iterator[AmountLine]:
        if cost.amount:
            step = f"{kind.capitalize()}, {_name(job, cost)}{_said(job, cost)}: {cost.amount}."
            sources = (_source(record, "amount"),)
            yield _one(cost, shipment, cost.amount, kind, sources, step=step)

    return lines


def _special(
    job: Job, shipment: str, record: Record, cost: Cost, _goods: tuple[AmountLine, ...]
) -> Iterator[AmountLine]:
    if cost.amount is None:
        return
    if cost.notice_given:
        step = (
            f"Special damages{_said(job, cost)}: {cost.amount}. The carrier was told before the "
            f"carriage: {cost.notice_given}."
        )
    else:
        step = (
            f"Special damages{_said(job, cost)}: {cost.amount}, not claimed: no notice to the "
            "carrier before the carriage is on record."
        )
    sources = (_source(record, "amount"), _source(record, "notice_given"))
    claimed = cost.notice_given is not None
    yield _one(
        cost,
        shipment,
        cost.amount,
        kinds.SPECIAL,
        sources[: 1 + claimed],
        step=step,
        claimed=claimed,
    )


def _one(  # noqa: PLR0913 - the parts of one line
    cost: Cost,
    shipment: str,
    sum_: Money,
    kind: str,
    sources: tuple[Source, ...],
    *,
    step: str,
    claimed: bool = True,
) -> AmountLine:
    why = cost.description or kind
    item = cost.item or ""
    return AmountLine(item, shipment, 1, sum_, sum_, why, sources, kind, (step,), claimed)


_LINES: dict[CostOf, Callable[..., Iterator[AmountLine]]] = {
    CostOf.REPAIR: _repair,
    CostOf.CREDIT: _less(kinds.CREDIT),
    CostOf.ALLOWANCE: _less(kinds.ALLOWANCE),
    CostOf.DISCOUNT: _less(kinds.DISCOUNT),
    CostOf.SALVAGE: _less(kinds.SALVAGE),
    CostOf.FREIGHT: _more(kinds.FREIGHT),
    CostOf.MITIGATION: _more(kinds.MITIGATION),
    CostOf.SPECIAL: _special,
}


def freight_open(case: Case, job: Job, shipment: Shipment) -> str | None:
    """Say why freight on record is not claimed and what would decide it, or give None.

    None too where nothing is undecided: no charge entered, none of the goods claimed whole, or
    the freight stands in the price or was paid by others.
    """
    lines = [line for line in case.amount if line.shipment == shipment.id]
    if not _goods_claimed(lines) or shipment.freight_charges is None:
        return None
    if any(line.kind == kinds.FREIGHT for line in lines):
        return None
    if shipment.freight_paid is None:
        return (
            f"Freight charges of {shipment.freight_charges} are entered, and nobody has said "
            "whether they were paid beside the goods' price."
        )
    if shipment.freight_paid == FREIGHT[0]:
        return (
            f"Freight of {shipment.freight_charges} was paid beside the price, and the part that "
            "falls on the claimed pieces is not known."
        )
    del job
    return None


def _goods_claimed(lines: list[AmountLine]) -> bool:
    goods = [line.total.amount for line in lines if line.kind in (kinds.GOODS, kinds.REPLACED)]
    return sum(goods, ZERO) > 0


def _freight_share(
    case: Case, job: Job, shipment: Shipment, lines: tuple[AmountLine, ...]
) -> Iterator[AmountLine]:
    """Give the freight that falls on the goods claimed whole: by weight, or all where all is."""
    own = [line for line in lines if line.shipment == shipment.id]
    charges = shipment.freight_charges
    if charges is None or shipment.freight_paid != FREIGHT[0] or not _goods_claimed(own):
        return
    if any(line.kind == kinds.FREIGHT for line in own):
        return  # a cost record states it
    number = job.shipment.index(shipment) + 1

    def key(name: str) -> Source:
        path = f"shipment[{number}].{name}"
        return Source(path="job.toml", sha256=case.facts.job_sha256, key_path=path)

    sources: tuple[Source, ...] = (key("freight_charges"), key("freight_paid"))
    affected = shipment.liability.affected_weight if shipment.liability else None
    if _all_claimed(job, shipment, own):
        share, told = charges, ""
        step = f"Freight paid beside the price, all goods of the shipment claimed: {charges}."
    elif affected and shipment.weight:
        share, told = rounded(
            Fraction(charges.amount) * affected.kg / shipment.weight.kg, charges.currency
        )
        step = (
            f"Freight paid beside the price, by weight: {charges} × {affected.written} of "
            f"{shipment.weight.written} = {share}." + (f" {told}" if told else "")
        )
        sources = (*sources, key("liability.affected_weight"), key("weight"))
    else:
        return
    yield AmountLine("", shipment.id, 1, share, share, "freight", sources, kinds.FREIGHT, (step,))


def _all_claimed(job: Job, shipment: Shipment, lines: list[AmountLine]) -> bool:
    items = [i for i in job.item if shipment_of(job, i) == shipment.id and not i.accessory]
    claimed = {line.item: line.quantity for line in lines if line.kind == kinds.GOODS}
    replaced = any(line.kind == kinds.REPLACED for line in lines)
    return bool(items) and not replaced and all(claimed.get(i.id) == i.quantity for i in items)
