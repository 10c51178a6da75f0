"""The three elements of a claim against a carrier: when each is shown, and what is asked for.

Good order at origin, damaged at delivery, amount: Missouri Pacific R.R. v. Elmore & Stahl, 377
U.S. 134 (1964), from memory. A clean bill proves good order only of what could be seen, 264 So.2d
646, from memory. Sums are worked by hand from the prices in the builders.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from claimkit.findings.claim.elements import AMOUNT, DELIVERY, ORIGIN, damages_of
from claimkit.model.answers import Answer
from claimkit.model.case import Case, Element
from claimkit.model.job import Paper
from claimkit.model.records import CountedItem, Damage, FoundAt, Record, Unpacking
from tests.build import photo, record
from tests.findings.office_build import (
    PANEL,
    TRAY,
    a_job,
    damage,
    delivery,
    usd,
    with_item,
    worked,
)

VAGUE = {"words": "subject to inspection"}
LATER = {"found_at": FoundAt.UNPACKING}
SHORT = Unpacking(counted=(CountedItem(item="panel", quantity=3),))


def element(found: Case, what: str) -> Element:
    (one,) = [e for e in found.elements if e.name == what and e.shipment == "main"]
    return one


def told(found: Element) -> tuple[str, str, str]:
    """What supports it, what speaks against it, what is missing."""
    return (
        " | ".join(text for text, _ in found.supports),
        " | ".join(text for text, _ in found.against),
        " | ".join(found.missing),
    )


@pytest.mark.parametrize(
    "ship,records,shown,missing",
    [
        ({}, [damage()], Answer.CANNOT_TELL, ["Enter clean_at_origin"]),
        # Seen at the curb: it could have been seen at origin too, and was not there.
        ({"clean_at_origin": True}, [damage()], Answer.YES, []),
        # Concealed: the clean bill says nothing of it.
        ({"clean_at_origin": True}, [damage(**LATER)], Answer.CANNOT_TELL, ["Ask the seller"]),
        (
            {"clean_at_origin": True},
            [damage(), damage("other", **LATER)],
            Answer.CANNOT_TELL,
            ["Ask the seller"],
        ),
        (
            {"clean_at_origin": True, "packing_evidence": "photos of the packer"},
            [damage(**LATER)],
            Answer.YES,
            [],
        ),
        ({"clean_at_origin": True}, [], Answer.CANNOT_TELL, ["Ask the seller"]),
        ({"clean_at_origin": False}, [damage()], Answer.NO, []),
        (
            {"clean_at_origin": False, "packing_evidence": "photos of the packer"},
            [damage()],
            Answer.NO,
            [],
        ),
        (
            {"packing_evidence": "photos of the packer"},
            [damage()],
            Answer.CANNOT_TELL,
            ["Enter clean_at_origin"],
        ),
    ],
)
def test_good_order_at_origin(
    ship: dict[str, Any], records: list[Record], shown: Answer, missing: list[str]
) -> None:
    found = element(worked([delivery(), *records], a_job(ship=ship)), ORIGIN)
    supports, against, lacks = told(found)
    assert found.shown is shown
    assert len(found.missing) == len(missing)
    assert all(text in lacks for text in missing)
    assert ("signed at origin with no exception" in supports) is (
        ship.get("clean_at_origin") is True
    )
    assert ("notes an exception" in against) is (ship.get("clean_at_origin") is False)
    assert ("photos of the packer" in supports) is ("packing_evidence" in ship)
    keys = {s.key_path for _, sources in (*found.supports, *found.against) for s in sources}
    assert keys == {f"shipment[1].{name}" for name in ship}


AT_CURB = photo("photos/curb.jpg", "2026-05-04 09:15:00")
AT_NIGHT = photo("photos/curb.jpg", "2026-05-04 22:15:00")
SHOWN = {"photos": ("photos/curb.jpg",)}


@pytest.mark.parametrize(
    "records,photos,shown",
    [
        ([delivery(), damage()], [], Answer.YES),  # the receipt states it
        ([delivery(**VAGUE), damage()], [], Answer.CANNOT_TELL),
        ([delivery(**VAGUE), damage(**SHOWN)], [AT_CURB], Answer.YES),  # a photo of that time
        ([delivery(**VAGUE), damage(**SHOWN)], [AT_NIGHT], Answer.CANNOT_TELL),
        ([delivery(**VAGUE), damage(**SHOWN)], [], Answer.CANNOT_TELL),
        ([delivery(**VAGUE), damage(**SHOWN, **LATER)], [AT_CURB], Answer.CANNOT_TELL),
        ([delivery(), damage(**LATER)], [], Answer.YES),
        ([delivery(**VAGUE), damage(**LATER)], [], Answer.CANNOT_TELL),
        ([delivery()], [], Answer.CANNOT_TELL),  # nothing is recorded
        ([delivery(), record("u", SHORT)], [], Answer.YES),
        ([damage()], [], Answer.CANNOT_TELL),  # no receipt
        ([delivery(), damage(resolved="replaced")], [], Answer.CANNOT_TELL),
    ],
)
def test_damaged_at_delivery(records: list[Record], photos: list[Any], shown: Answer) -> None:
    assert element(worked(records, photos=photos), DELIVERY).shown is shown


def test_what_speaks_for_and_against_damage_at_delivery() -> None:
    found = element(worked([delivery(), damage(part="top rail")]), DELIVERY)
    supports, against, lacks = told(found)
    assert "Wall panel, top rail: crushed, found at the curb." in supports
    assert "receipt states “1 of 4 cartons, lower left corner crushed 4 in”" in supports
    assert (against, lacks) == ("", "")

    found = element(worked([delivery(**VAGUE), damage(**LATER)]), DELIVERY)
    supports, against, lacks = told(found)
    assert "found at the unpacking, after the goods had been received" in against
    assert "receipt reads “subject to inspection”" in against
    assert "Keep the packing" in lacks
    # Noted on the receipt, nobody can say that it came later.
    supports, against, lacks = told(element(worked([delivery(), damage(**LATER)]), DELIVERY))
    assert "had been received" not in against

    supports, _, lacks = told(element(worked([delivery(), record("u", SHORT)]), DELIVERY))
    assert "Wall panel: 1 fewer than ordered." in supports
    assert "Nothing is recorded" not in lacks
    assert "Nothing is recorded" in told(element(worked([delivery()]), DELIVERY))[2]
    assert "Write a delivery record" in told(element(worked([damage()]), DELIVERY))[2]


@pytest.mark.parametrize(
    "kept,asked",
    [("in the garage", False), ("yes", False), (None, True), ("No", True), (" gone ", True)],
)
def test_the_packing_is_asked_for_where_damage_was_concealed(kept: str | None, asked: bool) -> None:
    unpacked = record("u", Unpacking(packing_kept=kept))
    _, _, lacks = told(element(worked([delivery(), damage(**LATER), unpacked]), DELIVERY))
    assert ("Keep the packing" in lacks) is asked
    _, _, lacks = told(element(worked([delivery(), damage(), unpacked]), DELIVERY))
    assert "Keep the packing" not in lacks


INVOICE = Paper(what="invoice", file="documents/invoice.pdf")


@pytest.mark.parametrize(
    "items,papers,shown,missing",
    [
        ((PANEL, TRAY), (INVOICE,), Answer.YES, []),
        ((PANEL, TRAY), (replace(INVOICE, shipment="main"),), Answer.YES, []),
        ((PANEL, TRAY), (), Answer.CANNOT_TELL, ["Put the purchase invoice"]),
        (
            (PANEL, TRAY),
            (replace(INVOICE, shipment="other"),),
            Answer.CANNOT_TELL,
            ["Put the purchase invoice"],
        ),
        (
            (PANEL, TRAY),
            (replace(INVOICE, what="packing list"),),
            Answer.CANNOT_TELL,
            ["Put the purchase invoice"],
        ),
        (
            (with_item(PANEL, invoice_price=None), TRAY),
            (INVOICE,),
            Answer.CANNOT_TELL,
            ["invoice price of Wall panel is not entered"],
        ),
        (
            (PANEL, with_item(TRAY, invoice_price=usd("300.00", "CAD"))),
            (INVOICE,),
            Answer.CANNOT_TELL,
            ["different currencies"],
        ),
    ],
)
def test_the_amount(items: Any, papers: Any, shown: Answer, missing: list[str]) -> None:
    records = [delivery(), damage(), damage("tray", item="tray")]
    found = element(worked(records, a_job(*items, paper=papers)), AMOUNT)
    supports, _, lacks = told(found)
    assert found.shown is shown
    assert all(text in lacks for text in missing)
    assert len(found.missing) == len(missing)
    # One panel and one tray: 412.50 + 388.00.
    assert ("USD 800.50" in supports) is (items == (PANEL, TRAY))
    assert ("The invoice is in the folder." in supports) is (
        "Put the purchase invoice" not in " ".join(missing)
    )


def test_without_damage_there_is_no_amount() -> None:
    found = element(worked([delivery()], a_job(paper=(INVOICE,))), AMOUNT)
    assert found.shown is Answer.CANNOT_TELL
    assert found.missing == ("Nothing is recorded that an amount could be worked out for.",)


def test_damage_is_of_the_shipment_that_it_names() -> None:
    found = worked([delivery(), damage(shipment="other")])
    assert found.facts.job
    assert damages_of(found, found.facts.job, "main") == ()
    (pair,) = damages_of(found, found.facts.job, "other")
    assert isinstance(pair[1], Damage)


def test_a_receipt_is_of_its_own_shipment() -> None:
    job_ = a_job(replace(PANEL, shipment="main"), replace(TRAY, shipment="second"))
    both = replace(job_, shipment=(*job_.shipment, replace(job_.shipment[0], id="second")))
    found = worked([replace(delivery(), body=replace(delivery().body, shipment="second"))], both)
    lacks = {e.shipment: e.missing for e in found.elements if e.name == DELIVERY}
    assert any("Write a delivery record" in text for text in lacks["main"])
    assert not any("Write a delivery record" in text for text in lacks["second"])
