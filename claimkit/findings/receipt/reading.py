"""One reading of a receipt's words, before it is graded: tokens, statements, counts.

Kept apart from the grading so that the tests, and the words to write, can look at the steps.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from claimkit.findings.receipt.clash import clashes, missing_by_count
from claimkit.findings.receipt.contradict import contradictions
from claimkit.findings.receipt.counts import Count, Recorded, Spoken, counts
from claimkit.findings.receipt.good import Good, first_word
from claimkit.findings.receipt.match import Marked, mark
from claimkit.findings.receipt.parts import Part, parts
from claimkit.findings.receipt.said import Said, Statements, statements
from claimkit.findings.receipt.sums import wrong_sums
from claimkit.findings.receipt.text import read_tokens

NEAR = 6
CONTENTS_WORDS = frozenset({"stc", "slc"})


@dataclass(frozen=True)
class Read:
    """The words taken apart. `clash` are sentences on counts and statements that contradict."""

    words: str
    marked: Marked
    parts: tuple[Part, ...]
    said: Statements
    counts: tuple[Count, ...]
    short_by_count: Count | None
    clash: tuple[str, ...]

    def span(self, first: int, last: int) -> tuple[int, int]:
        """Give the place in the text of tokens `first` to `last` (exclusive)."""
        tokens = self.marked.tokens
        return tokens[first].start, tokens[last - 1].end

    def text(self, first: int, last: int) -> str:
        """Give those tokens as they were written, line ends as spaces."""
        start, end = self.span(first, last)
        return " ".join(self.words[start:end].split())

    def good_text(self, good: Good) -> str:
        """Give the words of a statement of good order, the denial before them included."""
        return self.text(first_word(self.marked, good), good.hit.last)

    def exception_text(self, said: Said) -> str:
        """Give the words of an exception with the parts that stand near it."""
        near = [
            part
            for part in said.parts
            if abs(part.first - said.hit.head) <= NEAR and part.what != "extent"
        ]
        first = min([said.hit.first, *(part.first for part in near)])
        last = max([said.hit.last, *(part.last for part in near)])
        return self.text(first, last)

    def states_short(self, number: int) -> bool:
        """Tell whether the words state a shortage of that number."""
        if any(c.role == "short" and c.value == number for c in self.counts):
            return True
        count = self.short_by_count
        if count is not None and (count.of is None or count.of - count.value == number):
            return True
        pieces = [
            part
            for e in self.said.exceptions
            if e.category == "shortage"
            for part in e.parts
            if part.what == "which piece"
        ]
        return number == 1 and bool(pieces)


@lru_cache(maxsize=64)  # one receipt is asked about by its grade, the counts and what was refused
def read(words: str, recorded: Recorded) -> Read:
    """Take the words apart."""
    marked = mark(read_tokens(words))
    found = parts(marked)
    said = statements(marked, found)
    counted = counts(marked, _spoken(said), recorded)
    by_count = missing_by_count(counted)
    contains = any(t.word in CONTENTS_WORDS for t in marked.tokens)
    full = any(g.counts and g.reach in ("all", "received", "visible") for g in said.good)
    clash = (
        *contradictions(marked, said, by_count, counted),
        *clashes(counted, full, recorded, said_to_contain=contains),
        *wrong_sums(marked, counted),
    )
    return Read(words, marked, found, said, counted, by_count, clash)


def _spoken(said: Statements) -> Spoken:
    bad: set[int] = set()
    short: set[int] = set()
    for e in said.exceptions:
        if e.category == "shortage":
            short.update(range(e.hit.first, e.hit.last))
        elif e.category != "overage":
            bad.update(range(e.hit.head, e.hit.last))
    good = {at for g in said.good for at in range(g.hit.head, g.hit.last)}
    refused = {at for hit in said.refusals for at in range(hit.head, hit.last)}
    return Spoken(frozenset(bad), frozenset(good), frozenset(short), frozenset(refused))
