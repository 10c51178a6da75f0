"""What each reader may and may not see, on the sample jobs and on two shipments in one job."""

from __future__ import annotations

import re

import pytest

from claimkit.compose.packet.order import compose
from claimkit.compose.packet.view import ChooseShipment
from claimkit.model.case import Case, Reader
from claimkit.model.document import PlateRow, statements
from claimkit.model.job import Item, Party, Role
from claimkit.model.quantities import Money
from claimkit.model.records import Damage, Delivery, FoundAt
from tests.build import case, facts, job, moment, photo, record, shipment
from tests.compose.jobs import JOBS, sample_case


def text_of(found: Case, reader: Reader, chosen: str | None = None) -> str:
    """Give all statements of a packet as one text."""
    document = compose(found, reader, shipment=chosen)
    return "\n".join(statement.text for _, statement in statements(document))


@pytest.mark.parametrize("name", JOBS)
def test_the_customer_sees_no_price_phone_place_or_blame(name: str) -> None:
    found = sample_case(name)
    text = text_of(found, Reader.CUSTOMER)
    assert found.facts.job
    phones = [p.phone for p in (*found.facts.job.party, *found.facts.job.person) if p.phone]
    prices = [str(i.invoice_price.amount) for i in found.facts.job.item if i.invoice_price]
    assert prices, "the sample has prices to leak"
    for secret in (*phones, *prices, "USD"):
        assert secret not in text
    for photo_ in found.facts.photos:
        if photo_.gps and photo_.gps.latitude:
            assert f"{photo_.gps.latitude:.2f}" not in text
    assert not re.search(r"\b(fault|blame|liab|negligen|claim against|GPS)", text, re.I)


@pytest.mark.parametrize("reader", [Reader.CARRIER, Reader.SELLER, Reader.CUSTOMER])
@pytest.mark.parametrize("name", JOBS)
def test_advice_stands_in_the_owners_copy_only(name: str, reader: Reader) -> None:
    found = sample_case(name)
    text = text_of(found, reader)
    advice = {f.do_next for f in found.findings if len(f.do_next) > 30}
    assert advice
    assert not [a for a in advice if a in text]
    own = text_of(found, Reader.OWN)
    assert [a for a in advice if a in own]


def two_shipments() -> Case:
    """One job, two carriers, each with its own delivery, damage and photo."""
    both = job(
        party=(
            Party(id="us", name="Marl & Sons", roles=(Role.OWNER, Role.CONSIGNEE)),
            Party(id="north", name="Northway Freight", roles=(Role.DELIVERING_CARRIER,)),
            Party(id="south", name="Southline Haulage", roles=(Role.DELIVERING_CARRIER,)),
        ),
        shipment=(
            shipment(id="first", carrier="north", pro_number="N-1"),
            shipment(id="second", carrier="south", pro_number="S-2"),
        ),
        item=(
            Item(id="panel", description="Oak panel", shipment="first", invoice_price=_usd("100")),
            Item(id="tray", description="Slate tray", shipment="second", invoice_price=_usd("70")),
        ),
        seam=(),
    )
    days = {"first": "2026-05-04", "second": "2026-05-11"}
    records, photos = [], []
    for name, item in (("first", "panel"), ("second", "tray")):
        day = days[name]
        picture = f"photos/{name}.jpg"
        photos.append(photo(picture, f"{day} 09:15:00"))
        records += [
            record(
                f"{name}-delivery",
                Delivery(
                    shipment=name,
                    arrived=moment(f"{day} 09:00"),
                    driver_left=moment(f"{day} 09:40"),
                    signed_at=moment(f"{day} 09:35"),
                    words=f"1 {item} cracked at corner",
                ),
            ),
            record(
                f"{name}-damage",
                Damage(item=item, found_at=FoundAt.CURB, what="cracked", photos=(picture,)),
            ),
        ]
    return case(facts(job_=both, records=records, photos=photos))


def _usd(amount: str) -> Money:
    from decimal import Decimal

    return Money(Decimal(amount), "USD")


@pytest.mark.parametrize(
    "chosen, own, others",
    [
        ("first", ("Northway", "Oak panel", "photos/first.jpg"), ("South", "Slate", "second")),
        ("second", ("Southline", "Slate tray", "photos/second.jpg"), ("North", "Oak", "first.jpg")),
    ],
)
def test_two_carriers_never_mix(chosen: str, own: tuple[str, ...], others: tuple[str, ...]) -> None:
    text = text_of(two_shipments(), Reader.CARRIER, chosen)
    for word in own:
        assert word in text
    for word in others:
        assert word not in text


def test_the_shipment_must_be_named_where_there_are_two() -> None:
    with pytest.raises(ChooseShipment, match="first, second"):
        compose(two_shipments(), Reader.CARRIER)
    with pytest.raises(ChooseShipment, match="third"):
        compose(two_shipments(), Reader.CARRIER, shipment="third")


def test_the_customer_gets_no_picture_of_a_receipt() -> None:
    for name in JOBS:
        found = sample_case(name)
        receipts = {
            path
            for r in found.facts.records
            if isinstance(r.body, Delivery)
            for path in r.body.receipt_photos
        }
        document = compose(found, Reader.CUSTOMER)
        shown = {
            plate.path
            for section in document.sections
            for block in section.blocks
            if isinstance(block, PlateRow)
            for plate in block.plates
        }
        assert not receipts & shown
