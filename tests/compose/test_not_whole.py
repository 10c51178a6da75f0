"""An amount that lacks an item is nowhere called the full loss, and corrects no claim.

49 CFR 370.3(b) asks for a specified or determinable amount: what lacks a price is neither. Two
items are damaged; the tray costs USD 388.00 (office_build), the panel has no invoice price.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from claimkit.compose.letters.book import compose_letter
from claimkit.compose.packet import goods
from claimkit.compose.packet.registers import amount_rows
from claimkit.compose.packet.view import View
from claimkit.findings.claim.parts import ready
from claimkit.findings.claim.worksheet import not_whole
from claimkit.model.answers import Answer
from claimkit.model.case import Case, Liability, Reader, Standing
from claimkit.model.document import Table
from claimkit.model.letter import LetterKind
from claimkit.model.quantities import Money
from claimkit.model.records import About
from tests.compose.test_letters import made, said, words
from tests.findings.office_build import PANEL, TRAY, damage, delivery, usd, with_item

NO_PRICE = with_item(PANEL, invoice_price=None)
RETAIL = with_item(PANEL, price_from="retail price")
WHY = "Not whole: Wall panel has no invoice price."
CLAIMED = said(About.CLAIM, "2026-05-06", amount=usd("800.50"))


def lacking(*more: Any, panel: Any = NO_PRICE) -> Case:
    records = (delivery(), damage(), damage("tray", item="tray"))
    return made(*more, records=records, item=(panel, TRAY))


@pytest.mark.parametrize("panel", [NO_PRICE, RETAIL])
def test_the_item_without_a_usable_price_is_named(panel: Any) -> None:
    found = lacking(panel=panel)
    assert not_whole(found, "main") == WHY
    assert not_whole(found, None) == WHY
    assert not_whole(made(), "main") == ""
    assert found.facts.job
    assert not ready(found, found.facts.job.shipment[0])


@pytest.mark.parametrize("reader", [Reader.CARRIER, Reader.OWN])
def test_the_packet_calls_no_part_the_full_loss(reader: Reader) -> None:
    view = View(lacking(), reader, "main", ZoneInfo("America/Chicago"), (), ())
    section = goods.amount(view)
    assert section
    (table,) = (b for b in section.blocks if isinstance(b, Table))
    assert [cell.text for cell in table.rows[-1]] == ["Counted so far", WHY, "USD 388.00"]


def test_letters_call_no_part_the_full_loss() -> None:
    found = lacking(CLAIMED)
    text = words(compose_letter(found, LetterKind.CLAIM))
    assert "Total claimed" not in text
    assert WHY in text
    assert "payment of USD 388.00" not in text
    assert "amends" not in text
    assert WHY in words(compose_letter(found, LetterKind.INSURER))


def test_the_table_says_that_it_is_not_whole() -> None:
    last = amount_rows(lacking())[-1]
    assert last[1] == "counted so far"
    assert WHY in last
    assert amount_rows(made())[-1][1] == "total claimed"


def test_no_corrected_claim_is_advised_while_a_price_is_missing() -> None:
    (finding,) = (f for f in lacking(CLAIMED).findings if f.rule == "claim-amount-differs")
    assert finding.standing is Standing.NOTE
    assert "send no corrected claim" in finding.do_next
    assert WHY in finding.message
    (whole,) = (f for f in made(CLAIMED).findings if f.rule == "claim-amount-differs")
    assert whole.do_next.startswith("Send a corrected claim")


def test_a_limit_above_a_loss_that_is_not_whole_tells_nothing() -> None:
    limit = Liability(
        rule="x", shipment="main", title="x", amount=usd("400.00"), converted=None,
        loss=usd("388.00"), steps=(), citation="x", mark="U", sources=(),
    )  # fmt: skip
    assert limit.below_loss is Answer.NO
    assert replace(limit, whole=False).below_loss is Answer.CANNOT_TELL
    less = Money(usd("300.00").amount, "USD")
    assert replace(limit, whole=False, amount=less).below_loss is Answer.YES
