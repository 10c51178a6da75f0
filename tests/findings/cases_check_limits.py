"""For each rule about time limits: a case that fires, and one that differs by one fact.

The goods were delivered on Monday 2026-05-04; the legal day is Wednesday 2026-05-20 unless a case
says otherwise. Five business days end on 2026-05-11, nine months on 2027-02-04.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from typing import Any

from claimkit.model.case import Case
from claimkit.model.job import BillText, Party, Role, Site, TermOverride, Terms
from claimkit.model.quantities import Money, Span
from claimkit.model.records import (
    About,
    Body,
    CountedItem,
    Damage,
    Delivery,
    FoundAt,
    Notice,
    Unpacking,
)
from tests.build import ZONE, case, facts, job, moment, record, shipment

DELIVERED = Delivery(signed_at=moment("2026-05-04 09:30"))
CRACKED = Damage(item="panel", found_at=FoundAt.UNPACKING, what="cracked")
DOLLARS = Money(Decimal("1200.00"), "USD")
BROKER = Party(id="agent", name="Lanebridge Brokers", roles=(Role.BROKER,))


def told(about: About, to: str = "hauler", sender: str = "us", **more: Any) -> Notice:
    """Give a notice; `received` and `sent` may be plain texts."""
    for key in ("sent", "received"):
        if isinstance(more.get(key), str):
            more[key] = moment(more[key])
    return Notice(about=about, sender=sender, to=to, **more)


def claim(**more: Any) -> Notice:
    return told(About.CLAIM, **({"amount": DOLLARS} | more))


def report(**more: Any) -> Notice:
    return told(About.CONCEALED_DAMAGE, **({"text": "Please inspect."} | more))


def made(
    *bodies: Body,
    as_of: date = date(2026, 5, 20),
    delivered: Delivery | None = DELIVERED,
    site: Site | None = None,
    shipments: tuple[Any, ...] = (),
    **terms: Any,
) -> Case:
    """Give a case of one US interstate shipment with those records."""
    values = {
        "terms": Terms.US_INTERSTATE_MOTOR,
        "bill_text": BillText.FROM_2016,
        "classification_applies": True,
    }
    job_ = job(shipment=shipments or (shipment(**(values | terms)),))
    parties = {"party": (*job_.party, BROKER), "site": site or job_.site}
    first = [("delivery", delivered)] if delivered else []
    records = [*first, *((f"r{number}", body) for number, body in enumerate(bodies))]
    return case(
        facts(job_=job(shipment=job_.shipment, **parties), records=[record(*r) for r in records]),
        as_of,
    )


def override(clause: str, count: int, unit: str) -> tuple[TermOverride, ...]:
    return (TermOverride(clause=clause, length=Span(count, unit), source="Tariff 100, item 5"),)


LETTER = {"sender": "hauler", "to": "us", "sent": "2026-05-15", "how": "letter"}
COUNTED = Unpacking(
    counted=tuple(CountedItem(item=i, quantity=1, condition="good") for i in ("panel", "tray"))
)
DAMAGE_CLAUSE = "us-motor-claim-damage"

CALL = report(received="2026-05-11", how="telephone")
LATE_CALL = report(received="2026-05-12", how="telephone")

CASES: dict[str, tuple[Callable[[], Case], Callable[[], Case]]] = {
    "limit-passed": (
        lambda: made(CRACKED),
        lambda: made(CRACKED, report(received="2026-05-08")),
    ),
    "limit-act-by-passed": (
        lambda: made(CRACKED, as_of=date(2026, 5, 11)),
        lambda: made(CRACKED, as_of=date(2026, 5, 8)),
    ),
    "limit-soon": (
        lambda: made(CRACKED, as_of=date(2026, 5, 5)),
        lambda: made(CRACKED, report(received="2026-05-05"), as_of=date(2026, 5, 5)),
    ),
    "limit-not-started": (
        lambda: made(delivered=None, classification_applies=True),
        lambda: made(terms=Terms.PARCEL),
    ),
    "limit-met": (
        lambda: made(CRACKED, claim(received="2026-05-15")),
        lambda: made(CRACKED, claim(sent="2026-05-15")),
    ),
    "limit-met-late": (
        lambda: made(CRACKED, report(received="2026-05-12")),
        lambda: made(CRACKED, report(received="2026-05-11")),
    ),
    "limit-in-doubt": (  # the call was made within the five business days, or after them
        lambda: made(CRACKED, CALL, report(received="2026-05-12")),
        lambda: made(CRACKED, LATE_CALL, report(received="2026-05-12")),
    ),
    "limit-carrier-late": (
        lambda: made(CRACKED, claim(received="2026-05-15"), as_of=date(2026, 6, 15)),
        lambda: made(
            CRACKED,
            claim(received="2026-05-15"),
            told(About.ACKNOWLEDGEMENT, "us", "hauler", received="2026-06-14"),
            as_of=date(2026, 6, 15),
        ),
    ),
    "limit-look-for-hidden-damage": (
        lambda: made(as_of=date(2026, 5, 6)),
        lambda: made(COUNTED, as_of=date(2026, 5, 6)),
    ),
    "limit-override-below-floor": (
        lambda: made(override=override(DAMAGE_CLAUSE, 270, "calendar days")),
        lambda: made(override=override(DAMAGE_CLAUSE, 9, "months")),
    ),
    "limit-bill-text-not-known": (
        lambda: made(bill_text=BillText.NOT_KNOWN),
        lambda: made(bill_text=BillText.FROM_2016_DAY),
    ),
    "limit-terms-not-known": (
        lambda: made(terms=Terms.NOT_KNOWN),
        lambda: made(terms=Terms.US_INTERSTATE_MOTOR),
    ),
    "limit-classification-not-known": (
        lambda: made(classification_applies=None),
        lambda: made(classification_applies=True),
    ),
    "limit-outside-effective-dates": (
        lambda: made(delivered=Delivery(signed_at=moment("2015-04-17 09:00"))),
        lambda: made(delivered=Delivery(signed_at=moment("2015-04-18 09:00"))),
    ),
    "limit-override-not-applied": (
        lambda: made(override=override("us-motor-claim-dammage", 9, "months")),
        lambda: made(override=override(DAMAGE_CLAUSE, 9, "months")),
    ),
    "limit-holidays-not-known": (
        lambda: made(site=Site(address="9 Kiln Road", zone=ZONE, subdivision="QQ")),
        lambda: made(site=Site(address="9 Kiln Road", zone=ZONE, subdivision="IL")),
    ),
    "limit-sent-to-broker": (
        lambda: made(CRACKED, claim(to="agent", received="2026-05-15")),
        lambda: made(CRACKED, claim(to="hauler", received="2026-05-15")),
    ),
    "limit-sent-not-received": (
        lambda: made(CRACKED, claim(sent="2026-05-15")),
        lambda: made(CRACKED, claim(sent="2026-05-15", received="2026-05-16")),
    ),
    "limit-telephone-not-confirmed": (
        lambda: made(CRACKED, report(received="2026-05-05", how="telephone")),
        lambda: made(CRACKED, report(received="2026-05-05", how="e-mail")),
    ),
    "limit-inspection-not-requested": (
        lambda: made(CRACKED, report(received="2026-05-05", text="A panel is cracked.")),
        lambda: made(CRACKED, report(received="2026-05-05", text="Cracked; please inspect.")),
    ),
    "limit-claim-without-amount": (
        lambda: made(CRACKED, claim(received="2026-05-15", amount=None)),
        lambda: made(CRACKED, claim(received="2026-05-15", amount=DOLLARS)),
    ),
    "limit-offer-is-no-disallowance": (
        lambda: made(told(About.OFFER, **LETTER)),
        lambda: made(
            told(About.OFFER, **LETTER, states_disallowance=True, gives_reasons=True),
        ),
    ),
    "limit-disallowance-incomplete": (
        lambda: made(told(About.DISALLOWANCE, **LETTER, states_disallowance=True)),
        lambda: made(
            told(About.DISALLOWANCE, **LETTER, states_disallowance=True, gives_reasons=True)
        ),
    ),
    "limit-record-not-placed": (
        lambda: made(shipments=(shipment(), shipment(id="second"))),
        lambda: made(shipments=(shipment(),)),
    ),
    "limit-delivery-not-dated": (
        lambda: made(delivered=Delivery(driver="R. Oake")),
        lambda: made(delivered=Delivery(driver="R. Oake", arrived=moment("2026-05-04 09:00"))),
    ),
}
