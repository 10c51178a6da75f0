"""Papers recognised by their words: each row's own examples, and papers that no row was made for.

What a paper of the trade is called and what stands on it is common practice, no source. The texts
of these files were written before the rows met them and are not changed for the rows.
"""

from __future__ import annotations

import time
import tomllib
from pathlib import Path
from typing import Any

import pytest

from claimkit.findings.claim.paper_kind import kinds_of
from claimkit.model.job import PAPERS
from claimkit.model.photo import Words
from claimkit.rules.paper_title import PaperWords
from claimkit.rules.paper_words import PAPER_WORDS

FRESH: list[dict[str, Any]] = [
    text
    for name in ("papers_fresh.toml", "papers_second.toml", "papers_third.toml")
    for text in tomllib.loads((Path(__file__).parent / name).read_text("utf-8"))["text"]
]


def told(text: str, *, mail: bool = False) -> str:
    """Give the kind that a text is recognised as, "" where it is none or cannot be told."""
    lines = tuple(line for line in text.splitlines() if line.strip())
    found = kinds_of(Words((lines,), mail=mail))
    return found[0].row.name if len(found) == 1 else ""


@pytest.mark.parametrize("row", PAPER_WORDS, ids=lambda row: row.name)
def test_each_row_keeps_its_examples(row: PaperWords) -> None:
    assert row.must
    assert row.must_not
    assert row.citation
    for text in row.must:
        assert told(text) == row.name, text
    for text in row.must_not:
        assert told(text) != row.name, text


def test_every_kind_of_job_toml_has_words() -> None:
    assert {row.paper for row in PAPER_WORDS} == set(PAPERS)


@pytest.mark.parametrize("text", FRESH, ids=lambda text: str(text["name"]))
def test_a_paper_that_no_row_was_made_for(text: dict[str, Any]) -> None:
    found = told(text["says"], mail=text.get("mail", False))
    asked = {row.name for row in PAPER_WORDS if not row.guard}
    assert (found if found in asked else "") == text["is"]


@pytest.mark.parametrize(
    "title,is_one",
    [
        # A report is headed by its own name and what it is about: common practice, no source.
        ("Own inspection report, PRO 774-1052", True),
        ("INSPECTION REPORT PRO # 774-1052", True),
        ("Damage report, claim C-4471", True),
        ("Inspection report, B/L 55120 of 5 May", True),
        ("Inspection report, shipment 3", True),
        # Talk about such a report, and a word that is no number.
        ("The inspection report, PRO 774-1052, is with Tom", False),
        ("Inspection report, PRO Freight will send it", False),
    ],
)
def test_a_title_may_state_the_number_of_its_shipment(title: str, is_one: bool) -> None:
    text = f"{title}\nInspected on 12 May\nDescription of damage: a corner is crushed"
    assert (told(text) == "inspection report") is is_one


PAGE_1 = ("INVOICE", "Qty  Unit price  Amount", "Subtotal 412.50")
PAGE_2 = ("PACKING LIST", "Carton 1 of 4", "Net weight 41 kg", "Qty shipped")


def test_a_second_paper_on_a_later_page_leaves_it_open() -> None:
    found = kinds_of(Words((PAGE_1, PAGE_2)))
    assert [(r.row.name, r.page) for r in found] == [("invoice", 1), ("packing list", 2)]
    (only,) = kinds_of(Words((PAGE_1, ("Page 2 of 2", "Subtotal 412.50"))))
    assert only.because() == "line 1 reads “INVOICE”, with “unit price”, “qty”, “subtotal”"


def test_nothing_follows_from_no_words() -> None:
    assert kinds_of(Words()) == ()
    assert kinds_of(Words((PAGE_1,), refused="it is locked with a password")) == ()


def test_a_heading_far_down_is_part_of_the_paper() -> None:
    filler = tuple(f"line {n}" for n in range(20))
    (only,) = kinds_of(Words(((*PAGE_1, *filler, *PAGE_2),)))
    assert only.row.name == "invoice"
    assert kinds_of(Words(((*filler, *PAGE_1),))) == ()


def test_no_line_takes_long() -> None:
    # marks between words that may stand beside a title: 12 ** 10 ways, if each could be split
    lines = tuple(
        ((word + mark * 12) * 40)[:159] + "!" for word in ("copy", "paid") for mark in "-,/"
    )
    began = time.process_time()
    assert kinds_of(Words((lines,))) == ()
    assert time.process_time() - began < 2
