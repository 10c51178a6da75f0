"""Letters about goods that were refused: one loss, and no oath that they never came.

What may be sworn is what the signer knows (28 USC 1746, from memory: "true and correct"); that a
crate and what it held are one loss follows from 49 USC 14706(a)(1), the actual loss.
"""

from __future__ import annotations

from typing import Any

import pytest

from claimkit.compose.letters.book import compose_letter
from claimkit.findings.claim.same_piece import missing_beside
from claimkit.model.case import Case
from claimkit.model.document import Table, statements
from claimkit.model.letter import Letter, LetterKind
from claimkit.model.records import CountedItem, Record, Unpacking
from tests.build import record
from tests.compose.test_letters import made, words
from tests.findings.office_build import damage, delivery


def counted(quantity: int, condition: str | None = "good") -> Record:
    rows = (CountedItem(item="panel", quantity=quantity, condition=condition),)
    return record("unpacking", Unpacking(counted=rows, packing_kept="garage"))


def case_of(*records: Record, **ship: Any) -> Case:
    return made(records=records, ship=ship)


def short_rows(letter: Letter) -> list[list[str]]:
    """Give the rows of the table of what is missing."""
    return [
        [cell.text for cell in row]
        for section in letter.document.sections
        for block in section.blocks
        if isinstance(block, Table) and block.heads[-1] == "Short"
        for row in block.rows
    ]


REFUSED = delivery(refused="1 of 4 panels, corner crushed")


def test_no_certificate_for_what_came_and_was_refused() -> None:
    letter = compose_letter(case_of(REFUSED, damage(), counted(3)), LetterKind.NON_RECEIPT)
    assert not letter.ready
    assert any("came and was sent back" in why for why in letter.why_not)
    assert not short_rows(letter)


@pytest.mark.parametrize(
    "records, short",
    [
        # four ordered, three came: one is missing
        ((delivery(), counted(3)), "1"),
        # one refused, two came: the other one of four is missing
        ((REFUSED, damage(), counted(2)), "1"),
    ],
)
def test_the_certificate_names_what_is_missing_beside_the_refused(
    records: tuple[Record, ...], short: str
) -> None:
    letter = compose_letter(case_of(*records), LetterKind.NON_RECEIPT)
    ((article, *_, number),) = short_rows(letter)
    assert (article, number) == ("Wall panel", short)


def test_a_refusal_without_a_damage_record_is_no_shortage_to_swear_to() -> None:
    letter = compose_letter(case_of(REFUSED, counted(3)), LetterKind.NON_RECEIPT)
    assert not short_rows(letter)


def test_the_search_is_the_signers_own() -> None:
    letter = compose_letter(case_of(delivery(), counted(3)), LetterKind.NON_RECEIPT)
    assert "I have looked" not in words(letter)
    assert "were not received" not in words(letter)
    assert "Where I looked for these goods, and on which days: ____" in words(letter)
    assert not letter.ready
    assert any("Fill in by hand who looked" in why for why in letter.why_not)


def test_a_crate_and_its_contents_are_one_shortage() -> None:
    """One of two crates did not come; the panel in it is what is missing."""
    lost = delivery(units_received=1, cartons_received=3)
    found = case_of(lost, counted(3), handling_units=2, cartons=4)
    job = found.facts.job
    assert job
    assert [(d.item, d.short) for d in missing_beside(found, job.shipment[0])] == [("panel", 1)]
    letter = compose_letter(found, LetterKind.NON_RECEIPT)
    assert len(short_rows(letter)) == 1
    assert "handling units received" not in words(letter)
    # Nothing was unpacked: the smallest that was counted stands for what it held.
    before = case_of(lost, handling_units=2, cartons=4)
    assert [(d.what, d.short) for d in missing_beside(before, job.shipment[0])] == [("cartons", 1)]


def test_a_claim_says_what_was_refused_and_lists_it_once() -> None:
    letter = compose_letter(case_of(REFUSED, damage(), counted(3)), LetterKind.CLAIM)
    assert "Refused at the delivery: “1 of 4 panels, corner crushed”." in words(letter)
    assert not short_rows(letter)
    # 1 x 412.50
    assert "demand payment of USD 412.50" in words(letter)
    assert [s for _, s in statements(letter.document) if "Claim for damage: " in s.text]


def test_what_was_refused_did_not_come_to_light_after_the_delivery() -> None:
    letter = compose_letter(case_of(REFUSED, damage(), counted(3)), LetterKind.CONCEALED)
    assert not letter.ready
    assert any("came to light after" in why for why in letter.why_not)


def test_the_evidence_names_each_loss_once() -> None:
    """One crate of two with its panel was refused: one damage, and nothing short beside it."""
    away = delivery(refused="1 of 2 crates, the panel in it crushed", units_received=1)
    found = case_of(away, damage(), counted(3), handling_units=2)
    (delivered,) = (e for e in found.elements if e.name == "damaged at delivery")
    texts = [text for text, _ in delivered.supports]
    assert not [text for text in texts if "fewer than ordered" in text]
    assert "Refused at the delivery: “1 of 2 crates, the panel in it crushed”." in texts


def test_where_everything_was_refused_no_packing_is_kept_here() -> None:
    away = delivery(refused="all, wet through", units_received=0, cartons_received=0)
    letter = compose_letter(case_of(away, damage(quantity=4)), LetterKind.SELLER)
    assert "were refused at the delivery and are not here" in words(letter)
    assert not any("packing_kept" in why for why in letter.why_not)
