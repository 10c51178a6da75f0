"""What a carrier may show as the limit of its liability, in exact decimals, with every step.

Rate times the stated weight, or packages, or a declared value. The claim stays the full actual
loss: the limit is computed and shown beside it, and nothing is taken off. Where a weight, its
basis or the text of that day is missing, that is named and no figure is given.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

from claimkit.findings.claim.worksheet import not_whole, rounded, total
from claimkit.findings.limits.calendar import written
from claimkit.findings.limits.conditions import nothing_delivered
from claimkit.findings.limits.events import deliveries, local_day, source_in_job, stated_times
from claimkit.model.answers import Answer
from claimkit.model.case import Case, Liability
from claimkit.model.contract import LiabilityLimit, LiabilityTerms, WeightBasis
from claimkit.model.job import Shipment
from claimkit.model.quantities import Money, Rate, Weight
from claimkit.model.source import Source
from claimkit.rules.governing import law_of
from claimkit.rules.liability import BY_CONTRACT, DECLARED, ROWS, SDR, LiabilityRow

# NIST Special Publication 811 (2008), appendix B.8: exact by definition.
KG_PER_POUND = Fraction("0.45359237")


@dataclass(frozen=True, slots=True)
class Missing:
    """A limit that could not be worked out: the rule under which it is told, where, and why."""

    rule: str
    where: str
    reason: str


@dataclass(frozen=True, slots=True)
class _On:
    """What a rate multiplies: the quantity, its unit and words, and where that comes from."""

    quantity: Fraction
    words: str
    sources: tuple[Source, ...]


@dataclass(frozen=True, slots=True)
class _Head:
    """Which limit it is: its row, its text with the mark, and what is said before the count."""

    rule: str
    title: str
    citation: str
    mark: str
    steps: tuple[str, ...]
    source: Source


def work_out(case: Case) -> Case:
    """Fill the limits of liability of every shipment."""
    found = (x for x in _every(case) if isinstance(x, Liability))
    return replace(case, liabilities=tuple(found))


def missing(case: Case) -> tuple[Missing, ...]:
    """Name the limits that could not be worked out, and why."""
    return tuple(x for x in _every(case) if isinstance(x, Missing))


def loss_of(case: Case, shipment: str) -> Money | None:
    """Give the full actual loss of a shipment as far as it has a price, None without one."""
    return total([line for line in case.amount if line.shipment == shipment])


def in_words(money: Money) -> str:
    """Write an amount; special drawing rights under their own name."""
    return f"{money.amount:,} SDR" if money.currency == SDR else str(money)


def _every(case: Case) -> Iterator[Liability | Missing]:
    for shipment in case.facts.job.shipment if case.facts.job else ():
        terms = shipment.liability or LiabilityTerms()
        if terms.declared_value:
            yield _declared(case, shipment, terms, terms.declared_value)
        yield from _by_text(case, shipment, terms)
        for number, limit in enumerate(terms.limit, start=1):
            yield _by_paper(case, shipment, number, limit)
        yield from _rate_not_dated(shipment, terms)


def _by_text(
    case: Case, shipment: Shipment, terms: LiabilityTerms
) -> Iterator[Liability | Missing]:
    """Apply the row of the shipment's terms that was in force when the goods moved."""
    rows = [row for row in ROWS if row.terms == shipment.terms.value]
    moved = _moved(case, shipment)
    if not rows or moved is None:
        return
    for row in rows:
        if _in_force(row, moved[0]):
            yield _of_row(case, shipment, terms, row, moved)
            return
    dates = ", ".join(_from_to(row) for row in rows)
    yield Missing(
        "liability-outside-effective-dates",
        f"shipment {shipment.id}",
        f"The goods moved on {written(moved[0])}, and the limits known here are in force {dates}. "
        "Find the limit of that day and enter it as [[shipment.liability.limit]].",
    )


def _of_row(
    case: Case,
    shipment: Shipment,
    terms: LiabilityTerms,
    row: LiabilityRow,
    moved: tuple[date, str, Source],
) -> Liability | Missing:
    on = _on(case, shipment, row.per, row.basis)
    if isinstance(on, str):
        return Missing("liability-not-computed", f"shipment {shipment.id}", f"{row.title}: {on}")
    _, said, source = moved
    steps = [said, *_straddles(case, shipment, row), *row.beside]
    if terms.declared_value:
        steps.append(
            f"A declared value of {terms.declared_value} stands beside it: "
            f"{DECLARED[shipment.terms]}."
        )
    head = _Head(row.id, row.title, row.citation, row.mark, tuple(steps), source)
    return _times(case, shipment, Rate(row.rate, row.currency, row.per), on, head)


def _by_paper(
    case: Case, shipment: Shipment, number: int, limit: LiabilityLimit
) -> Liability | Missing:
    """Apply one limit that the user entered from the bill, the tariff or a contract."""
    where = f"shipment {shipment.id}"
    title = f"{limit.rate.written or _rate_in_words(limit.rate)}, by {limit.source}"
    by_weight = limit.rate.per in ("lb", "kg")
    if by_weight and limit.basis is None:
        why = (
            f"{title}: whether it multiplies the damaged packages or the whole shipment is not "
            "entered. Read it in the paper and write basis."
        )
        return Missing("liability-not-computed", where, why)
    on = _on(case, shipment, limit.rate.per, limit.basis)
    if isinstance(on, str):
        return Missing("liability-not-computed", where, f"{title}: {on}")
    source = source_in_job(case, shipment, f"liability.limit[{number}].rate")
    citation = f"{limit.source} ({BY_CONTRACT})"
    head = _Head(f"own-liability-{number}", title, citation, "U", (), source)
    return _times(case, shipment, limit.rate, on, head)


def _declared(case: Case, shipment: Shipment, terms: LiabilityTerms, value: Money) -> Liability:
    where = terms.declared_source or "the bill of lading, as you entered it"
    rule = DECLARED.get(shipment.terms, BY_CONTRACT)
    return Liability(
        rule="declared-value",
        shipment=shipment.id,
        title="Value declared or agreed",
        amount=value,
        converted=None,
        loss=loss_of(case, shipment.id),
        whole=not not_whole(case, shipment.id),
        steps=(f"{value} was declared or agreed: {where}.", f"{rule}."),
        citation=f"{where}; {rule}",
        mark="U",
        sources=(source_in_job(case, shipment, "liability.declared_value"),),
    )


def _on(case: Case, shipment: Shipment, per: str, basis: WeightBasis | None) -> _On | str:
    """Give what a rate multiplies, or say what is missing."""
    terms = shipment.liability or LiabilityTerms()
    if per == "shipment":
        return _On(Fraction(1), "1 shipment", ())
    if per == "package":
        if terms.affected_packages is None:
            return (
                "how many packages, or customary freight units, are damaged or missing is not "
                "entered. Count them as the bill does and write liability.affected_packages."
            )
        source = source_in_job(case, shipment, "liability.affected_packages")
        word = "package" if terms.affected_packages == 1 else "packages"
        return _On(
            Fraction(terms.affected_packages), f"{terms.affected_packages} {word}", (source,)
        )
    whole = basis is WeightBasis.WHOLE
    lost = not whole and terms.affected_weight is None and _never_came(case, shipment)
    weight = shipment.weight if whole or lost else terms.affected_weight
    key = "weight" if whole or lost else "liability.affected_weight"
    if weight is None:
        if whole or lost:
            return (
                "the weight of the shipment is not entered. Read it on the bill and write weight."
            )
        return (
            "the gross weight of the damaged or missing packages is not entered. Read it on the "
            "label or the packing list, or weigh them, and write liability.affected_weight."
        )
    of = "the whole shipment" if whole else "the damaged or missing packages"
    if lost:
        of = "the whole shipment, as nothing was delivered"
    elif not whole and terms.affected_source:
        of += f" ({terms.affected_source})"
    source = source_in_job(case, shipment, key)
    return _On(weight.kg, f"{_weight(weight)}, {of}", (source,))


def _never_came(case: Case, shipment: Shipment) -> bool:
    """Tell whether a record says that nothing was left, or the day to expect it is past."""
    expected = shipment.reasonable_delivery
    overdue = expected is not None and case.as_of > local_day(case, expected)
    return nothing_delivered(case, shipment) and (bool(deliveries(case, shipment)) or overdue)


def _times(case: Case, shipment: Shipment, rate: Rate, on: _On, head: _Head) -> Liability:
    """Multiply, round to the smallest unit, convert where a rate and its day are given."""
    quantity = on.quantity / KG_PER_POUND if rate.per == "lb" else on.quantity
    value = Fraction(rate.amount) * quantity
    amount, rounding = rounded(value, rate.currency)
    unit = {"lb": " lb", "kg": " kg"}.get(rate.per, "")
    count = f"{_decimal(quantity)}{unit}"
    steps = [
        *head.steps,
        f"It multiplies: {on.words}.",
        f"{_rate_in_words(rate)} × {count} = {in_words(amount)}.",
        *([rounding.replace(SDR, "SDR")] if rounding else []),
    ]
    converted, more, from_rate = _converted(case, shipment, amount)
    loss = loss_of(case, shipment.id)
    steps += more
    steps.append(_beside(shipment, loss, not_whole(case, shipment.id)))
    return Liability(
        rule=head.rule,
        shipment=shipment.id,
        title=head.title,
        amount=amount,
        converted=converted,
        loss=loss,
        whole=not not_whole(case, shipment.id),
        steps=tuple(steps),
        citation=head.citation,
        mark=head.mark,
        sources=(head.source, *on.sources, *from_rate),
    )


def _beside(shipment: Shipment, loss: Money | None, why: str) -> str:
    stays = f"The claim stays {law_of(shipment).loss}"
    if loss is None:
        return f"{stays}; it has no single amount yet."
    if why:
        return f"{stays}, of which {loss} is counted so far. {why}"
    return f"{stays}, {loss}; the limit is the carrier's to show."


def _converted(
    case: Case, shipment: Shipment, amount: Money
) -> tuple[Money | None, list[str], tuple[Source, ...]]:
    """Turn special drawing rights into money where the rate, its day and its source are given."""
    terms = shipment.liability
    if amount.currency != SDR:
        return None, [], ()
    if terms is None or terms.sdr_rate is None or not (terms.sdr_date and terms.sdr_source):
        return None, ["It stays in special drawing rights: no rate with its day is entered."], ()
    rate = terms.sdr_rate
    money, rounding = rounded(Fraction(amount.amount) * Fraction(rate.amount), rate.currency)
    day = local_day(case, terms.sdr_date)
    steps = [
        f"1 SDR = {rate.amount} {rate.currency} on {written(day)} ({terms.sdr_source}): "
        f"{amount.amount} × {rate.amount} = {money}.",
        *([rounding] if rounding else []),
    ]
    return money, steps, (source_in_job(case, shipment, "liability.sdr_rate"),)


def _rate_not_dated(shipment: Shipment, terms: LiabilityTerms) -> Iterator[Missing]:
    lacks = [
        name
        for name, value in (("sdr_date", terms.sdr_date), ("sdr_source", terms.sdr_source))
        if value is None
    ]
    if terms.sdr_rate and lacks:
        yield Missing(
            "liability-sdr-not-converted",
            f"shipment {shipment.id}",
            "A rate for special drawing rights is entered without its day or its source, so "
            f"nothing is converted. Write {' and '.join(lacks)} in [shipment.liability].",
        )


def _moved(case: Case, shipment: Shipment) -> tuple[date, str, Source] | None:
    """Give the day that decides which text is in force: of the bill, the shipment, the delivery."""
    for key in ("bill_date", "shipped"):
        moment = getattr(shipment, key)
        if moment:
            day = local_day(case, moment)
            source = source_in_job(case, shipment, key)
            return day, f"The text of {written(day)} counts (job.toml: {key}).", source
    days = _delivered(case, shipment)
    if not days:
        return None
    day, path = min(days)
    source = Source(path=path)
    return day, f"The text of {written(day)}, the day of delivery, counts ({path}).", source


def _delivered(case: Case, shipment: Shipment) -> list[tuple[date, str]]:
    return [
        (day, record.path)
        for record, body in deliveries(case, shipment)
        for _, day in stated_times(case, body)
    ]


def _straddles(case: Case, shipment: Shipment, row: LiabilityRow) -> list[str]:
    """Say that another figure was in force when the goods arrived."""
    later = [day for day, _ in _delivered(case, shipment) if not _in_force(row, day)]
    other = next(
        (
            r
            for r in ROWS
            if r.terms == row.terms and r is not row and later and _in_force(r, max(later))
        ),
        None,
    )
    if other is None:
        return []
    return [
        f"When the goods were delivered, {written(max(later))}, {_rate_in_words(other)} was in "
        "force. Which of the two counts is not settled here; the one of the day they moved is "
        "shown."
    ]


def _rate_in_words(row: LiabilityRow | Rate) -> str:
    amount = row.rate if isinstance(row, LiabilityRow) else row.amount
    return f"{in_words(Money(amount, row.currency))} per {row.per}"


def _in_force(row: LiabilityRow, day: date) -> bool:
    early = row.effective_from is not None and day < row.effective_from
    late = row.effective_to is not None and day > row.effective_to
    return not early and not late


def _from_to(row: LiabilityRow) -> str:
    until = f" to {row.effective_to}" if row.effective_to else ""
    return f"from {row.effective_from}{until}"


def _weight(weight: Weight) -> str:
    kg = f"{_decimal(weight.kg)} kg"
    return kg if weight.written == kg else f"{weight.written} = {kg}"


def _decimal(value: Fraction) -> str:
    """Write a quantity in decimals: whole and exact where it ends, else marked as cut."""
    exact = Decimal(value.numerator) / Decimal(value.denominator)
    if Fraction(exact) == value:
        text = f"{exact.normalize():f}"
        return text if len(text) <= _LONGEST else f"{exact:.6f}…"
    return f"{exact:.6f}…"


_LONGEST = 14


def below_loss(case: Case) -> tuple[Liability, ...]:
    """Give the limits that are certainly less than the loss."""
    return tuple(x for x in case.liabilities if x.below_loss is Answer.YES)
