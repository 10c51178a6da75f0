"""Findings about the amount: what keeps it from being one sum, and what a carrier would ask.

Mixed currencies and retail prices are named with what to enter; salvage, freight and special
damages are named where the worksheet is silent or leaves something out; a claim without one of
its three parts is no claim.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from claimkit.findings.claim import worksheet as kinds
from claimkit.findings.claim.costs import costs, freight_open, repairs
from claimkit.findings.claim.parts import claim_parts, same_amount, wrong_with
from claimkit.findings.claim.worksheet import damages_of_item, not_whole, of_shipment, total
from claimkit.findings.limits.conditions import damages_of
from claimkit.findings.limits.events import carriers_of, notices, source_in_job, source_of
from claimkit.model.answers import Answer
from claimkit.model.case import AmountLine, Case, Finding, NotChecked, Standing
from claimkit.model.job import PRICES, Job, Shipment
from claimkit.model.records import About, CostOf, Notice, Record
from claimkit.model.source import Source
from claimkit.rules.governing import law_named, law_of

WORKSHEET = "claimkit method: the amount"
SPECIAL_RULE = "special damages need notice before the carriage (from memory)"
LESSER = (
    "repair or replacement cost, Camar v. Preston Trucking, 221 F.3d 271, 277 (1st Cir. 2000) "
    "(quotation read); that a carrier pays the lesser is common practice, no source"
)


def mixed_currencies(case: Case) -> tuple[Finding, ...]:
    """Refuse a sum across currencies."""
    found = []
    for shipment in _shipments(case):
        lines = [line for line in of_shipment(case, shipment.id) if line.claimed]
        codes = sorted({line.total.currency for line in lines})
        if len(codes) > 1:
            message = f"The worksheet holds amounts in {' and '.join(codes)}; no sum is made."
            todo = "Claim each currency in a claim of its own, or enter what was paid in one."
            found.append(
                _missing("amount-mixed-currencies", shipment, message, todo, _of(lines), WORKSHEET)
            )
    return tuple(found)


def retail_price(case: Case) -> tuple[Finding, ...]:
    """Refuse a price that is not the purchase invoice's, for an item that would be claimed."""
    job = case.facts.job
    found = []
    for number, item in enumerate(job.item if job else (), 1):
        wrong = any(d.resolved is None for _, d in damages_of_item(case, item.id)) or any(
            d.short for d in case.differences if d.item == item.id
        )
        if wrong and item.invoice_price and item.price_from != PRICES[0]:
            path = f"item[{number}].price_from"
            found.append(
                Finding(
                    "amount-retail-price",
                    Standing.MISSING,
                    f"item {item.id}",
                    f"{item.description}: {item.invoice_price} is a {item.price_from}, and a "
                    "claim is counted at the purchase invoice price.",
                    f'Write the invoice\'s price, and price_from = "{PRICES[0]}", in job.toml.',
                    (Source(path="job.toml", sha256=case.facts.job_sha256, key_path=path),),
                    law_named(job, item.shipment).loss_text,
                )
            )
    return tuple(found)


def freight_not_decided(case: Case) -> tuple[Finding, ...]:
    """Name freight that may be claimed, and what would decide it."""
    job = case.facts.job
    found = []
    for shipment in _shipments(case):
        why = freight_open(case, job, shipment) if job else None
        if why:
            todo = (
                "Enter freight_paid in job.toml, and the weights (weight, "
                "liability.affected_weight), or a cost record with what = 'freight'."
            )
            source = source_in_job(case, shipment, "freight_charges")
            citation = "freight not already in the destination value is recoverable (from memory)"
            found.append(
                _note("amount-freight-not-decided", shipment, why, todo, (source,), citation)
            )
    return tuple(found)


def salvage_not_stated(case: Case) -> tuple[Finding, ...]:
    """Ask for the salvage value of damaged goods that are claimed whole."""
    found = []
    for shipment in _shipments(case):
        lines = of_shipment(case, shipment.id)
        goods = [x for x in lines if x.kind == kinds.GOODS and "damaged" in x.why]
        if goods and not any(x.kind == kinds.SALVAGE for x in lines):
            names = ", ".join(dict.fromkeys(x.item for x in goods))
            message = f"Damaged goods are claimed whole ({names}), and no salvage is stated."
            todo = (
                "Write a cost record with what = 'salvage': what the damaged goods still bring, "
                "or 0.00 where nothing. Keep them for the carrier until it has answered."
            )
            citation = "value as it arrived is taken off; less salvage (law of damages, P)"
            found.append(
                _note("amount-salvage-not-stated", shipment, message, todo, _of(goods), citation)
            )
    return tuple(found)


def special_not_claimed(case: Case) -> tuple[Finding, ...]:
    """Say that special damages stand beside the sum, because no notice is on record."""
    return tuple(
        Finding(
            "amount-special-not-claimed",
            Standing.NOTE,
            f"shipment {line.shipment}",
            line.steps[0],
            "Where the carrier was told before the carriage that such a loss would follow, write "
            "notice_given: who told whom, how and when.",
            line.sources,
            SPECIAL_RULE,
        )
        for line in case.amount
        if line.kind == kinds.SPECIAL and not line.claimed
    )


def repair_above_price(case: Case) -> tuple[Finding, ...]:
    """Name a repair that costs more than the pieces themselves."""
    job = case.facts.job
    found = []
    for item in job.item if job else ():
        price = item.invoice_price
        for record, cost in repairs(case, item.id):
            lines = [
                x
                for x in case.amount
                if x.kind == kinds.REPAIR and any(s.path == record.path for s in x.sources)
            ]
            whole = total(lines)
            if whole and price and whole.currency == price.currency:
                pieces = price.amount * cost.quantity
                if whole.amount > pieces:
                    found.append(
                        Finding(
                            "amount-repair-above-price",
                            Standing.AGAINST,
                            f"item {item.id}",
                            f"The repair costs {whole}, and {cost.quantity} × {price} buys the "
                            "pieces anew. A carrier would pay the lesser.",
                            "Claim the pieces at their invoice price instead, or say why the "
                            "repair was needed: no replacement in time, pieces built in.",
                            _of(lines),
                            LESSER,
                        )
                    )
    return tuple(found)


def repair_twice(case: Case) -> tuple[Finding, ...]:
    """Name a damage whose repair is stated twice: in it and in a cost record."""
    return tuple(
        Finding(
            "amount-repair-twice",
            Standing.NOTE,
            record.path,
            f"The repair of {damage.item} is stated here ({damage.repair_cost}) and itemised in "
            "a cost record. The itemised one counts.",
            "Correct the damage record by one without repair_cost, or the cost record.",
            (source_of(record, "repair_cost"),),
            WORKSHEET,
        )
        for shipment in _shipments(case)
        for record, damage in damages_of(case, shipment)
        if damage.repair_cost and damage.resolved is None and repairs(case, damage.item)
    )


def below_zero(case: Case) -> tuple[Finding, ...]:
    """Name a worksheet whose deductions take more off than was lost."""
    found = []
    for shipment in _shipments(case):
        lines = of_shipment(case, shipment.id)
        whole = total(lines)
        if whole and whole.amount < 0:
            message = f"What is taken off is more than the loss: the worksheet ends at {whole}."
            todo = "Look at credits, allowances and salvage again: do they belong to these pieces?"
            taken = [line for line in lines if line.total.amount < 0]
            found.append(
                _missing("amount-below-zero", shipment, message, todo, _of(taken), WORKSHEET)
            )
    return tuple(found)


def credit_without_loss(case: Case) -> tuple[Finding, ...]:
    """Name a free replacement of an item of which nothing is claimed."""
    there = {line.item for line in case.amount if line.kind == kinds.REPLACED}
    return tuple(
        Finding(
            "amount-replacement-without-loss",
            Standing.NOTE,
            record.path,
            f"{cost.quantity} of {cost.item} were replaced free of charge, and nothing of it is "
            "in the worksheet, so nothing is taken off.",
            "Where the damage is marked resolved, nothing is to do. Else record what was damaged "
            "or short.",
            (source_of(record, "quantity"),),
            WORKSHEET,
        )
        for record, cost in costs(case, CostOf.REPLACEMENT)
        if cost.item not in there
    )


def not_a_claim(case: Case) -> tuple[Finding, ...]:
    """Name what a claim of this shipment would lack of the three things that make it one."""
    found = []
    for shipment in _shipments(case):
        if not wrong_with(case, shipment):
            continue
        lacking = [part for part in claim_parts(case, shipment) if not part.holds]
        if lacking:
            message = (
                "A claim written from this record would be no claim. A claim "
                "identifies the shipment, asserts liability and demands an amount; here "
                + "; ".join(part.text for part in lacking)
                + "."
            )
            todo = " ".join(part.enter for part in lacking)
            sources = tuple(dict.fromkeys(s for part in lacking for s in part.sources))
            law = law_of(shipment).claim
            found.append(_missing("claim-not-ready", shipment, message, todo, sources, law))
    return tuple(found)


def claimed_other_amount(case: Case) -> tuple[Finding, ...]:
    """Name a claim on record whose amount is not the worksheet's."""
    job = case.facts.job
    return tuple(
        _differs(case, shipment, record, notice)
        for shipment in _shipments(case)
        for record, notice in notices(case, shipment)
        if job
        and notice.about is About.CLAIM
        and notice.amount
        and notice.to in carriers_of(job, shipment)
        and same_amount(case, shipment, notice.amount.currency, notice.amount.amount) is Answer.NO
    )


def _differs(case: Case, shipment: Shipment, record: Record, notice: Notice) -> Finding:
    """Compare a claim with the worksheet; one that is not whole corrects no claim."""
    lines = of_shipment(case, shipment.id)
    why = not_whole(case, shipment.id)
    standing, comes = (
        Standing.AGAINST,
        f"comes to {total(lines)}. The carrier may ask which one holds.",
    )
    todo = "Send a corrected claim, or correct the prices and costs on record."
    if why:
        standing, comes = Standing.NOTE, f"has {total(lines)} so far. {why}"
        todo = "Enter what is missing first; until then send no corrected claim."
    return Finding(
        "claim-amount-differs",
        standing,
        f"shipment {shipment.id}",
        f"The claim of {record.path} demands {notice.amount}, and the worksheet {comes}",
        todo,
        (source_of(record, "amount"), *_of(list(lines))),
        law_of(shipment).claim,
    )


def _shipments(case: Case) -> Iterator[Shipment]:
    job: Job | None = case.facts.job
    yield from job.shipment if job else ()


def _of(lines: list[AmountLine]) -> tuple[Source, ...]:
    return tuple(dict.fromkeys(source for line in lines for source in line.sources))


def _missing(  # noqa: PLR0913, PLR0917 - the parts of a finding
    rule: str, shipment: Shipment, message: str, todo: str, sources: tuple[Source, ...], cite: str
) -> Finding:
    where = f"shipment {shipment.id}"
    return Finding(rule, Standing.MISSING, where, message, todo, sources, cite)


def _note(  # noqa: PLR0913, PLR0917 - the parts of a finding
    rule: str, shipment: Shipment, message: str, todo: str, sources: tuple[Source, ...], cite: str
) -> Finding:
    where = f"shipment {shipment.id}"
    return Finding(rule, Standing.NOTE, where, message, todo, sources, cite)


CHECKS: tuple[tuple[str, str, Callable[[Case], tuple[Finding | NotChecked, ...]]], ...] = (
    ("amount-mixed-currencies", "Amounts in several currencies", mixed_currencies),
    ("amount-retail-price", "A price that is not the purchase invoice's", retail_price),
    (
        "amount-freight-not-decided",
        "Freight not decided on",
        freight_not_decided,
    ),
    ("amount-salvage-not-stated", "Damaged goods claimed whole, no salvage", salvage_not_stated),
    ("amount-special-not-claimed", "Special damages that are not in the sum", special_not_claimed),
    ("amount-repair-above-price", "A repair that costs more than the goods", repair_above_price),
    ("amount-repair-twice", "A repair stated twice", repair_twice),
    ("amount-below-zero", "More taken off than lost", below_zero),
    (
        "amount-replacement-without-loss",
        "A free replacement of what is not claimed",
        credit_without_loss,
    ),
    ("claim-not-ready", "A claim written from this record would be no claim", not_a_claim),
    ("claim-amount-differs", "A claim on record with another amount", claimed_other_amount),
)
