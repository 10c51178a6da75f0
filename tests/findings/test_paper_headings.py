"""Which line of a paper heads it: how far down, with how many words, and against which other.

Each paper is invented and headed as such papers are: common practice, no source. The numbers of
lines and words are claimkit's own, docs/methods.md; each is tried on both of its sides.
"""

from __future__ import annotations

import pytest

from claimkit.findings.claim.paper_kind import Reading, kinds_of
from claimkit.model.photo import Words
from claimkit.rules.paper_words import (
    HEADING_LINES,
    HEADING_TOGETHER,
    LATER_PAGE_LINES,
    MAIL_LINES,
    NUMBERED_LINES,
    PAPER_WORDS,
)

INVOICE = ("Qty  Unit price  Amount", "Subtotal 412.50")
PACKING = ("Carton 1 of 4", "Net weight 41 kg", "Ordered and shipped")
FILLER = tuple(f"line {n}" for n in range(1, 40))


def kinds(*lines: str, mail: bool = False) -> list[str]:
    return [r.row.name for r in kinds_of(Words((lines,), mail=mail))]


def lines_of(text: str) -> tuple[str, ...]:
    return tuple(line for line in text.splitlines() if line.strip())


@pytest.mark.parametrize(
    "text", [text for row in PAPER_WORDS if not row.guard for text in row.must]
)
def test_a_title_alone_proves_nothing(text: str) -> None:
    (found,) = kinds_of(Words((lines_of(text),)))
    assert kinds(found.heading) == []


def test_one_word_is_too_few_and_two_are_enough() -> None:
    assert kinds("INVOICE", "Subtotal 412.50") == []
    assert kinds("INVOICE", "Qty", "Subtotal 412.50") == ["invoice"]


def test_the_title_is_none_of_the_words() -> None:
    # The first "carrier" is the title's own; one that stands beside it counts.
    titled = "CARRIER'S INSPECTION REPORT"
    assert kinds(titled, "The carton") == []
    assert kinds(titled, "The carton of the carrier") == ["inspection report"]


def test_a_numbered_title_needs_a_word_more_below_the_first_line() -> None:
    assert kinds("Invoice no. 88120", "Qty", "Subtotal 9.00") == ["invoice"]
    assert kinds("Dorn Works", "Invoice no. 88120", "Qty", "Subtotal 9.00") == []
    assert kinds("Dorn Works", "Invoice no. 88120", *INVOICE) == ["invoice"]


def test_a_title_of_several_kinds_needs_more_words_of_one() -> None:
    # "Invoice" heads freight bills and repair bills too: three words where their own title
    # needs two.
    two = ("Fuel surcharge 9.00", "Linehaul 40.00")
    assert kinds("FREIGHT BILL", *two) == ["freight bill"]
    assert kinds("INVOICE", *two) == []
    assert kinds("INVOICE", *two, "Liftgate 75.00") == ["freight bill"]
    assert kinds("INVOICE 77", *two) == []
    assert kinds("INVOICE 77", *two, "Liftgate 75.00") == ["freight bill"]


def test_words_that_rule_a_kind_out() -> None:
    assert kinds("INVOICE", *INVOICE, "This is not an invoice for customs") == []
    assert kinds("INVOICE", *INVOICE, "This is a note for customs") == ["invoice"]


def test_how_many_lines_down_a_heading_counts() -> None:
    before = FILLER[: HEADING_LINES - 1]
    assert kinds(*before, "INVOICE", *INVOICE) == ["invoice"]
    assert kinds(*before, "one more", "INVOICE", *INVOICE) == []


def test_how_many_lines_down_a_numbered_title_counts() -> None:
    # Further down it is a reference to another paper.
    before = FILLER[: NUMBERED_LINES - 1]
    assert kinds(*before, "Invoice no. 88120", *INVOICE) == ["invoice"]
    assert kinds(*before, "one more", "Invoice no. 88120", *INVOICE) == []
    assert kinds(*before, "one more", "INVOICE", *INVOICE) == ["invoice"]


def test_a_numbered_title_below_refers_where_another_heads_the_paper() -> None:
    words = (*INVOICE, *PACKING)
    assert kinds("PACKING LIST", "Invoice no. 88120", *words) == ["packing list"]
    assert kinds("Invoice no. 88120", "PACKING LIST", *words) == ["invoice", "packing list"]


def test_headings_close_together_compete_and_a_later_one_is_a_part() -> None:
    between = FILLER[: HEADING_TOGETHER - 2]
    words = (*INVOICE, *PACKING)
    assert kinds("INVOICE", *between, "PACKING LIST", *words) == ["invoice", "packing list"]
    assert kinds("INVOICE", *between, "one more", "PACKING LIST", *words) == ["invoice"]


def test_how_many_lines_down_a_later_page_begins_a_paper() -> None:
    first, before = ("INVOICE", *INVOICE), FILLER[: LATER_PAGE_LINES - 1]
    found = kinds_of(Words((first, (*before, "PACKING LIST", *PACKING))))
    assert [r.row.name for r in found] == ["invoice", "packing list"]
    found = kinds_of(Words((first, (*before, "one more", "PACKING LIST", *PACKING))))
    assert [r.row.name for r in found] == ["invoice"]


def test_two_kinds_of_one_title_are_told_apart_by_two_words() -> None:
    # "Invoice": three words of freight, and of goods four (no lead) or five (a lead of two).
    freight = ("Fuel surcharge 9.00", "Linehaul 40.00", "Liftgate 75.00")
    goods = ("Qty  Unit price", "Subtotal 9.00", "VAT 1.00")
    assert sorted(kinds("INVOICE", *freight, *goods)) == ["freight bill", "invoice"]
    assert kinds("INVOICE", *freight, *goods, "Bill to: A") == ["invoice"]


def test_a_guard_comes_first_or_not_at_all() -> None:
    assert kinds("QUOTATION", "INVOICE", *INVOICE) == ["quotation, estimate or pro forma"]
    assert kinds("INVOICE", "QUOTATION", *INVOICE) == ["invoice"]
    # In one line both say what it is, and the guard is right to stop it.
    assert kinds("INVOICE  QUOTATION", *INVOICE) == ["quotation, estimate or pro forma"]


ORDER = ("Thank you for your order", "Order number: 4471", "Ship to: B")


def test_an_email_is_a_paper_only_by_its_first_lines() -> None:
    """Of the papers only an order comes as the text of an e-mail."""
    assert kinds("Order confirmation 4471", *ORDER, mail=True) == ["order"]
    first = FILLER[: MAIL_LINES - 1]
    assert kinds(*first, "Order confirmation", *ORDER, mail=True) == ["order"]
    assert kinds(*first, "one more", "Order confirmation", *ORDER, mail=True) == []
    assert kinds(*first, "one more", "Order confirmation", *ORDER) == ["order"]
    assert kinds("INVOICE", *INVOICE, mail=True) == []


@pytest.mark.parametrize(
    "header, is_mail",
    [
        # The names of header fields are those of RFC 5322, section 3.6; "Sent" is what mail
        # programs print for the date.
        (("From: A", "To: B", "Subject: Invoice"), True),
        (("From: A", "Sent: Monday", "Subject: re: our: order"), True),
        (("Date: 5 May", "From: A", "Cc: C"), True),
        (("From: A", "To: B"), False),  # a paper has a sender and a receiver too
        (("From A", "To B", "Subject"), False),  # no header
    ],
)
def test_a_printed_email_is_one_too(header: tuple[str, ...], is_mail: bool) -> None:
    assert (kinds(*header, "INVOICE", *INVOICE) == []) is is_mail
    assert kinds("INVOICE", *INVOICE) == ["invoice"]


def test_header_lines_far_down_are_of_a_quoted_message() -> None:
    quoted = ("From: A", "To: B", "Subject: C")
    assert kinds("INVOICE", *INVOICE, *FILLER[:2], *quoted) == []
    assert kinds("INVOICE", *INVOICE, *FILLER[:3], *quoted) == ["invoice"]


def said(*pages: tuple[str, ...]) -> list[str]:
    return [reading.because() for reading in kinds_of(Words(pages))]


def test_what_it_rests_on_is_said() -> None:
    first = ("INVOICE", "Qty  Unit price  VAT", "Subtotal 412.50")
    second = ("Page 2", "PACKING LIST", *PACKING)
    assert said(first, second) == [
        "line 1 reads “INVOICE”, with “unit price”, “qty”, “subtotal”",
        "line 2 of page 2 reads “PACKING LIST”, with “ordered”, “carton”, “net weight”",
    ]
    # A guard has no words beside its title.
    assert said(("QUOTATION",)) == ["line 1 reads “QUOTATION”"]
    (only,) = kinds_of(Words((("INVOICE  " + "x" * 100, *INVOICE),)))
    assert isinstance(only, Reading)
    assert len(only.heading) == 80
