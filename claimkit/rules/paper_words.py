"""By which words a paper of the trade is recognised: how a row is made, and all rows together.

A title alone proves nothing, since papers name each other; it counts as a heading, and only with
words that such a paper carries beside it. All rows are common practice, no source; each has texts
that must be recognised and texts that must not.
"""

from __future__ import annotations

from claimkit.rules.paper_guards import GUARDS
from claimkit.rules.paper_rows import TRADE_PAPERS
from claimkit.rules.paper_title import PaperWords

HEADING_LINES = 15
"""Within how many lines of the first page a heading is looked for."""
NUMBERED_LINES = 6
"""Within how many lines a title with a number is looked for; further down it is a reference."""
HEADING_TOGETHER = 8
"""Headings at most so many lines apart compete; a later one is a part of the paper."""
LATER_PAGE_LINES = 6
"""Within how many lines of a later page a heading says that another paper begins."""
MAIL_LINES = 2
"""An e-mail is a paper only by its subject or its first line; what it mentions later is talk."""
LEAD = 2
"""By how many words one kind must lead where one heading serves two (invoice, freight bill)."""

PAPER_WORDS: tuple[PaperWords, ...] = (*TRADE_PAPERS, *GUARDS)

# What one and the same paper may be called by right: a signed bill serves as the receipt.
SAME_PAPER = frozenset(
    {
        frozenset({"delivery receipt", "bill of lading"}),
        frozenset({"delivery receipt", "packing list"}),
        frozenset({"packing evidence", "packing list"}),
        frozenset({"packing evidence", "inspection report"}),
        frozenset({"invoice", "repair invoice"}),
        frozenset({"invoice", "order"}),
    }
)
