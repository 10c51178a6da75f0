"""What was claimed, what was paid on it and what is open: for letters after the first claim.

A claim that the carrier has is named with the day on which it was received, so that a later
letter is not read as a first and late one. What was paid is taken off what is demanded, never
off the loss itself.
"""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.compose.phrases import day
from claimkit.compose.terminal.desk import LETTERS, Desk, plain
from claimkit.findings.limits.events import carriers_of, is_spoken, local_day, source_of
from claimkit.findings.limits.life import Life, Step, life_of
from claimkit.model.document import Statement
from claimkit.model.quantities import Money
from claimkit.model.records import About
from claimkit.model.source import Source


@dataclass(frozen=True, slots=True)
class Claimed:
    """The claims that went to a carrier of the shipment, oldest first, and what it paid.

    `received` are those shown received, `sent` those that are not. `paid` is the sum of
    `payments`, None without any or across currencies.
    """

    received: tuple[Step, ...]
    sent: tuple[Step, ...]
    payments: tuple[Step, ...]
    paid: Money | None

    @property
    def latest(self) -> Step | None:
        """Give the latest claim that the carrier has, else the latest that was sent."""
        return (self.received or self.sent or (None,))[-1]


def claimed(desk: Desk, life: Life | None = None) -> Claimed:
    """Gather the claims to the carriers of the shipment and their payments; a broker is none."""
    life = life or life_of(desk.case, desk.shipment)
    carriers = carriers_of(desk.job, desk.shipment)
    claims = [
        s
        for s in life.steps
        if s.notice.about is About.CLAIM
        and s.notice.to in carriers
        and s.notice.sender not in carriers
        and not is_spoken(s.notice)
    ]
    payments = [
        s for s in life.steps if s.counts and s.notice.about is About.PAYMENT and s.notice.amount
    ]
    return Claimed(
        tuple(s for s in claims if s.counts),
        tuple(s for s in claims if not s.counts),
        tuple(payments),
        life.paid,
    )


def say_notice(words: str, step: Step, key: str) -> Statement:
    """State something of a notice, with its record."""
    return Statement(words, (source_of(step.record, key), LETTERS))


def claim_had(desk: Desk, life: Life) -> list[Statement]:
    """State the claim that the carrier has, or that was sent, or that none is on record."""
    step = claimed(desk, life).latest
    if step is None:
        desk.lacking.append("No claim to the carrier is on record: add it with claimkit notice.")
        return []
    notice = step.notice
    amount = f" for {notice.amount}" if notice.amount else ""
    if notice.received and step.counts:
        received = day(local_day(desk.case, notice.received))
        return [say_notice(f"You received our claim{amount} on {received}.", step, "received")]
    if notice.sent:
        sent = day(local_day(desk.case, notice.sent))
        return [
            say_notice(f"We sent you our claim{amount} on {sent}.", step, "sent"),
            plain("Please confirm in writing the day on which you received it."),
        ]
    return []


def repeats(desk: Desk, before: Claimed, whole: Money | None) -> list[Statement]:
    """Say of a claim letter which claim it repeats or amends, where one was made before."""
    step = before.latest
    if step is None:
        return []
    notice = step.notice
    same = notice.amount is not None and whole is not None and _equal(notice.amount, whole)
    verb = "repeats" if same or notice.amount is None else "amends" if whole else "is about"
    of = f" of {day(local_day(desk.case, notice.sent))}" if notice.sent else ""
    for_ = f" for {notice.amount}" if notice.amount else ""
    if not before.received:
        unknown = f"This letter {verb} our claim{of}{for_}. Please confirm the day on which you"
        return [say_notice(f"{unknown} received it.", step, "sent")]
    had = _received(desk, step)
    said = [
        say_notice(
            f"This letter {verb} our claim{of}{for_} that you received on {had}. It is no new "
            "claim.",
            step,
            "received",
        )
    ]
    first = before.received[0]
    if first is not step:
        text = f"You received our first claim on {_received(desk, first)}."
        said.append(say_notice(text, first, "received"))
    return said


def _received(desk: Desk, step: Step) -> str:
    moment = step.notice.received
    return day(local_day(desk.case, moment)) if moment else "a day that is not on record"


def _equal(one: Money, other: Money) -> bool:
    return (one.currency, one.amount) == (other.currency, other.amount)


def payments(desk: Desk, before: Claimed, who: str = "You have") -> list[Statement]:
    """State what was paid on the claim, payment by payment."""
    found = []
    for step in before.payments:
        moment = step.notice.received or step.notice.sent
        when = f", received on {day(local_day(desk.case, moment))}" if moment else ""
        found.append(say_notice(f"{who} paid {step.notice.amount}{when}.", step, "amount"))
    return found


def balance(before: Claimed, whole: Money | None) -> Money | None:
    """Give what is left of an amount after the payments; None where it cannot be told."""
    if whole is None or not before.payments:
        return whole
    paid = before.paid
    if paid is None or paid.currency != whole.currency:
        return None
    return Money(whole.amount - paid.amount, whole.currency)


def open_on(desk: Desk, life: Life) -> list[Statement]:
    """State what was paid on the claim that the carrier has, and what of it is open."""
    before = claimed(desk, life)
    found = payments(desk, before)
    left = balance(before, life.claimed)
    if found and left and life.claimed and left.amount > 0:
        sources = paid_sources(before)
        found.append(plain(f"Of our claim for {life.claimed}, {left} is open.", *sources))
    return found


def paid_sources(before: Claimed) -> tuple[Source, ...]:
    """Name the records of the payments."""
    return tuple(source_of(step.record, "amount") for step in before.payments)
