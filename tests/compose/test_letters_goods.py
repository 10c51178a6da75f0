"""Letters to seller and maker: nobody is said to have made what no record says he made.

What is still asked for is what is damaged or missing less what was replaced: 2 damaged and 1 short
less 1 replaced are 2 (by hand).
"""

from __future__ import annotations

from typing import Any

import pytest

from claimkit.compose.letters.book import compose_letter
from claimkit.model.case import Case
from claimkit.model.letter import LetterKind
from claimkit.model.records import CostOf, CountedItem, FoundAt, Record, Unpacking
from tests.build import moment, record
from tests.compose.test_letters import made, words
from tests.findings.office_build import PANEL, TRAY, cost, damage, delivery, with_item

REPLACED = cost(
    "sent", what=CostOf.REPLACEMENT, item="panel", by="shop", on=moment("2026-05-12"), quantity=1
)


def to(kind: LetterKind, *more: Record, **job: Any) -> str:
    return words(compose_letter(made(*more, **job), kind))


def test_no_maker_is_told_that_he_made_what_no_record_says_he_made() -> None:
    text = to(LetterKind.MAKER)
    assert "Of your making" not in text
    assert "Ordered: 4 × Wall panel, 1 × Floor tray." in text


def test_the_maker_whom_the_item_names_is_told_what_he_made() -> None:
    items = (with_item(PANEL, maker="works"), TRAY)
    text = to(LetterKind.MAKER, item=items)
    assert "Of your making, ordered: 4 × Wall panel. Ordered: 1 × Floor tray." in text


def test_a_maker_reads_nothing_of_what_another_one_made() -> None:
    letter = compose_letter(made(item=(with_item(PANEL, maker="shop"), TRAY)), LetterKind.MAKER)
    assert "Wall panel" not in words(letter)
    assert not letter.ready


@pytest.mark.parametrize("kind", [LetterKind.SELLER, LetterKind.MAKER])
def test_what_was_replaced_is_named_and_taken_off(kind: LetterKind) -> None:
    before = to(kind)
    # crushed 1 + dented 1 + one of four missing
    assert "repair what is damaged or missing (3 × Wall panel)" in before
    after = to(kind, REPLACED)
    assert "repair what is damaged or missing and not replaced yet (2 × Wall panel)" in after
    by = "you" if kind is LetterKind.SELLER else "Tessel Supply"
    assert f"Replaced already, free of charge by {by} on Tue 2026-05-12: 1 × Wall panel." in after


def test_a_replacement_after_the_day_of_the_letter_is_not_yet_there() -> None:
    later = cost("sent", what=CostOf.REPLACEMENT, item="panel", on=moment("2026-06-01"))
    assert "Replaced already" not in to(LetterKind.SELLER, later)


def test_nothing_is_asked_for_when_all_was_replaced() -> None:
    every = cost("sent", what=CostOf.REPLACEMENT, item="panel", quantity=3)
    letter = compose_letter(made(every), LetterKind.SELLER)
    assert not letter.ready
    assert any("has been replaced" in why for why in letter.why_not)


def refused(*more: Record) -> Case:
    rows = (CountedItem(item="panel", quantity=3, condition="good"),)
    unpacking = record("unpacking", Unpacking(counted=rows, packing_kept="garage"))
    away = delivery(refused="1 of 4 panels, corner crushed")
    return made(records=(away, damage(), unpacking, *more))


def test_what_was_refused_is_said_to_be_and_is_one_piece() -> None:
    text = words(compose_letter(refused(), LetterKind.SELLER))
    assert "Refused at the delivery: “1 of 4 panels, corner crushed”." in text
    assert "what is damaged or missing (1 × Wall panel)" in text
    assert "came to light after" not in text


def test_a_report_of_concealed_damage_leaves_out_what_was_refused() -> None:
    dent = damage("dent", found_at=FoundAt.DRY_FIT, what="dented")
    text = words(compose_letter(refused(dent), LetterKind.CONCEALED))
    hidden = text[text.index("came to light after the delivery") :]
    assert "dented" in hidden
    assert "at the curb" not in hidden
    assert "Short" not in hidden
    assert "What was refused is no part of this report." in text


def test_cartons_that_were_counted_short_at_the_curb_are_not_concealed() -> None:
    lost = delivery(cartons_received=3)
    letter = compose_letter(made(records=(lost,)), LetterKind.CONCEALED)
    assert any("came to light after" in why for why in letter.why_not)
