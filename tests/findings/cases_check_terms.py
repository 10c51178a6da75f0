"""For each rule about terms of sale, liability and the claim's life: one case that fires, one not.

The goods were delivered on Monday 2026-05-04 and a panel is cracked; the legal day is Wednesday
2026-05-20. Each silent case differs from the firing one by the one fact that matters.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any

from claimkit.model.case import Case
from claimkit.model.contract import LiabilityLimit, LiabilityTerms, WeightBasis
from claimkit.model.job import Job, Party, SaleTerms, Shipment, Terms
from claimkit.model.quantities import Money, Rate, Span, Weight
from claimkit.model.records import About, Body, Damage, Delivery, FoundAt, Milestone, Notice
from claimkit.model.stages import Event
from tests.build import case, facts, job, moment, record, shipment

DELIVERED = Delivery(signed_at=moment("2026-05-04 09:30"))
CRACKED = Damage(
    item="panel", found_at=FoundAt.UNPACKING, what="cracked", found=moment("2026-05-05 10:00")
)
PAPER = "Terms of sale, section 6, 2026-01-02"
SALE = SaleTerms(report_within=Span(3, "business days", written="3 business days"), source=PAPER)
POUNDS_96 = Weight(96 * Fraction("0.45359237"), "96 lb")
PER_POUND = Rate(Decimal("2.00"), "USD", "lb", "2.00 USD per lb")
TARIFF = "Tariff 100, item 780"
BY_WEIGHT = LiabilityLimit(rate=PER_POUND, basis=WeightBasis.DAMAGED, source=TARIFF)


def notice(about: About, to: str = "hauler", sender: str = "us", **more: Any) -> Notice:
    for key in ("sent", "received"):
        if isinstance(more.get(key), str):
            more[key] = moment(more[key])
    if isinstance(more.get("amount"), str):
        more["amount"] = Money(Decimal(more["amount"]), "USD")
    return Notice(about=about, sender=sender, to=to, **more)


def theirs(about: About, sent: str = "2026-05-18", **more: Any) -> Notice:
    return notice(about, to="us", sender="hauler", sent=sent, how="letter", **more)


def claim(**more: Any) -> Notice:
    return notice(About.CLAIM, **({"received": "2026-05-07", "amount": "418.00"} | more))


def report(**more: Any) -> Notice:
    values = {"received": "2026-05-06", "text": "Please inspect.", "how": "e-mail"}
    return notice(About.CONCEALED_DAMAGE, **(values | more))


def told_seller(received: str = "2026-05-06") -> Notice:
    return notice(About.DAMAGE_NOTICE, to="shop", received=received, how="e-mail")


def priced(job_: Job, amount: str = "418.00") -> Job:
    """Give the job with a price of the panel, so that there is a loss."""
    panel = replace(job_.item[0], invoice_price=Money(Decimal(amount), "USD"))
    return replace(job_, item=(panel, *job_.item[1:]))


def made(
    *bodies: Body,
    as_of: date = date(2026, 5, 20),
    delivered: Delivery = DELIVERED,
    price: str = "418.00",
    parties: tuple[Party, ...] = (),
    sale: SaleTerms | None = SALE,
    **terms: Any,
) -> Case:
    """Give a case of one US interstate shipment with a cracked panel and those records."""
    values: dict[str, Any] = {"terms": Terms.US_INTERSTATE_MOTOR, "classification_applies": True}
    one: Shipment = shipment(**(values | terms))
    job_ = priced(job(shipment=(one,), sale=sale), price)
    job_ = replace(job_, party=(*job_.party, *parties))
    records = [record("delivery", delivered)]
    records += [record(f"r{number}", body) for number, body in enumerate(bodies)]
    return case(facts(job_=job_, records=records), as_of)


def limited(**more: Any) -> LiabilityTerms:
    return LiabilityTerms(**({"affected_weight": POUNDS_96, "limit": (BY_WEIGHT,)} | more))


def by_air(bill_date: str) -> Case:
    liability = LiabilityTerms(affected_weight=POUNDS_96)
    day = moment(bill_date)
    return made(CRACKED, terms=Terms.MONTREAL, bill_date=day, liability=liability)


def by_road(**more: Any) -> Case:
    rate = Rate(Decimal("1.3142"), "USD", "SDR", "1.3142 USD per SDR")
    values = {"affected_weight": POUNDS_96, "sdr_rate": rate, "sdr_source": "IMF"}
    return made(CRACKED, terms=Terms.CMR, liability=LiabilityTerms(**(values | more)))


STARTED = Milestone(event=Event.INSTALLATION_STARTED, began=moment("2026-05-08 08:00"))
ACCEPTS = SaleTerms(installation_accepts=True, source=PAPER)
THE_SHOP = SaleTerms(claim_filed_by="shop", source=PAPER)
OFFER = theirs(About.OFFER, amount="200.00")

CASES: dict[str, tuple[Callable[[], Case], Callable[[], Case]]] = {
    "limit-without-a-date": (lambda: made(CRACKED), lambda: made(CRACKED, told_seller())),
    "limit-seller-terms-not-known": (
        lambda: made(CRACKED, sale=None),
        lambda: made(CRACKED, sale=SALE),
    ),
    "limit-sale-source-missing": (
        lambda: made(sale=replace(SALE, source=None)),
        lambda: made(sale=SALE),
    ),
    "limit-installation-accepts": (
        lambda: made(CRACKED, STARTED, told_seller("2026-05-09"), sale=ACCEPTS),
        lambda: made(CRACKED, STARTED, told_seller("2026-05-08"), sale=ACCEPTS),
    ),
    "limit-claim-filed-by-another": (
        lambda: made(CRACKED, claim(sender="us"), sale=THE_SHOP),
        lambda: made(CRACKED, claim(sender="shop"), sale=THE_SHOP),
    ),
    "limit-terms-of-sale": (
        lambda: made(sale=SaleTerms(risk_passes="on delivery at the curb", source=PAPER)),
        lambda: made(sale=SaleTerms(source=PAPER)),
    ),
    "limit-notice-without-estimate": (
        lambda: made(CRACKED, notice(About.DAMAGE_NOTICE, received="2026-05-08"), terms=CANADA),
        lambda: made(
            CRACKED,
            notice(About.DAMAGE_NOTICE, received="2026-05-08", amount="400.00"),
            terms=CANADA,
        ),
    ),
    "liability-limit-below-loss": (  # 96 lb at 2.00 are 192.00
        lambda: made(CRACKED, liability=limited(), price="192.01"),
        lambda: made(CRACKED, liability=limited(), price="192.00"),
    ),
    "liability-tariff-not-entered": (
        lambda: made(CRACKED),
        lambda: made(CRACKED, liability=limited()),
    ),
    "liability-not-computed": (
        lambda: made(CRACKED, liability=limited(affected_weight=None)),
        lambda: made(CRACKED, liability=limited()),
    ),
    "liability-outside-effective-dates": (
        lambda: by_air("2019-12-27"),
        lambda: by_air("2019-12-28"),
    ),
    "liability-sdr-not-converted": (
        lambda: by_road(sdr_date=None),
        lambda: by_road(sdr_date=moment("2026-05-04")),
    ),
    "claim-inspection-unanswered": (  # five working days after 05-06 end on 05-13
        lambda: made(CRACKED, report(), as_of=date(2026, 5, 14)),
        lambda: made(CRACKED, report(), as_of=date(2026, 5, 13)),
    ),
    "claim-own-inspection-missing": (
        lambda: made(CRACKED, report(), theirs(About.INSPECTION_WAIVED)),
        lambda: made(
            CRACKED,
            report(),
            theirs(About.INSPECTION_WAIVED),
            notice(About.OWN_INSPECTION, received="2026-05-19"),
        ),
    ),
    "claim-keep-packing": (
        lambda: made(CRACKED, report()),
        lambda: made(CRACKED, report(), theirs(About.INSPECTION_MADE)),
    ),
    "claim-number-missing": (
        lambda: made(CRACKED, claim(), theirs(About.ACKNOWLEDGEMENT)),
        lambda: made(CRACKED, claim(), theirs(About.ACKNOWLEDGEMENT, reference="C-4471")),
    ),
    "claim-offer-open": (
        lambda: made(CRACKED, claim(), OFFER),
        lambda: made(CRACKED, claim(), OFFER, notice(About.ACCEPTANCE, sent="2026-05-19")),
    ),
    "claim-disallowance-unanswered": (
        lambda: made(CRACKED, claim(), refusal()),
        lambda: made(CRACKED, claim(), refusal(), notice(About.ANSWER, received="2026-05-19")),
    ),
    "claim-paid-less": (
        lambda: made(CRACKED, claim(), theirs(About.PAYMENT, amount="417.99")),
        lambda: made(CRACKED, claim(), theirs(About.PAYMENT, amount="418.00")),
    ),
    "claim-paid": (
        lambda: made(CRACKED, claim(), theirs(About.PAYMENT, amount="418.00")),
        lambda: made(CRACKED, claim(), theirs(About.PAYMENT, amount="417.99")),
    ),
}
CANADA = Terms.CANADA


def refusal() -> Notice:
    return theirs(About.DISALLOWANCE, states_disallowance=True, gives_reasons=True)
