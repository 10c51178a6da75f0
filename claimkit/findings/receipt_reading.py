"""One reading of a receipt's words, before it is graded: tokens, statements, counts.

Kept apart from the grading so that the tests, and the words to write, can look at the steps.
"""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.findings.receipt_counts import Count, Recorded, clashes, counts, missing_by_count
from claimkit.findings.receipt_match import Marked, mark
from claimkit.findings.receipt_parts import UNITS, Part, parts
from claimkit.findings.receipt_said import Good, Said, Statements, statements
from claimkit.findings.receipt_text import HARD, NO_STOP, read_tokens
from claimkit.rules import wording

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
        first, tokens = good.hit.first, self.marked.tokens
        if good.denies:
            for at in range(first, max(-1, first - 5), -1):
                if tokens[at].classes & {"no", "not"} or tokens[at].word in ("free", "zero"):
                    return self.text(at, good.hit.last)
                if at and tokens[at].stop > NO_STOP:
                    break
        return self.text(first, good.hit.last)

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


def read(words: str, recorded: Recorded) -> Read:
    """Take the words apart."""
    marked = mark(read_tokens(words))
    found = parts(marked)
    said = statements(marked, found)
    bad = _tokens(e for e in said.exceptions if e.category not in ("shortage", "overage"))
    short = _tokens(e for e in said.exceptions if e.category == "shortage")
    fine = frozenset(at for g in said.good for at in range(g.hit.head, g.hit.last))
    counted = counts(marked, bad, fine, short, recorded)
    by_count = missing_by_count(counted)
    contains = any(t.word in CONTENTS_WORDS for t in marked.tokens)
    full = any(g.counts and g.reach in ("all", "received", "visible") for g in said.good)
    shortage = any(e.category == "shortage" for e in said.exceptions)
    clash = clashes(counted, full, shortage, recorded, contains)
    said_clash = _statements_clash(marked, said, by_count, counted)
    return Read(words, marked, found, said, counted, by_count, (*said_clash, *clash))


def _tokens(exceptions: object) -> frozenset[int]:
    return frozenset(
        at
        for e in exceptions  # type: ignore[attr-defined]
        for at in range(e.hit.first if e.category == "shortage" else e.hit.head, e.hit.last)
    )


def _statements_clash(
    marked: Marked, said: Statements, by_count: Count | None, counted: tuple[Count, ...]
) -> tuple[str, ...]:
    out: list[str] = []
    for good in said.good:
        for exception in said.exceptions:
            if _contradicts(marked, good, exception, counted):
                out.append(
                    f"{_quoted(marked, good.hit.first, good.hit.last)} and "
                    f"{_quoted(marked, exception.hit.head, exception.hit.last)} cannot both hold"
                )
        for reserved in said.reservations:
            if not reserved.denied and _against_reservation(good):
                out.append(
                    f"{_quoted(marked, good.hit.first, good.hit.last)} takes back the reservation "
                    f"{_quoted(marked, reserved.hit.first, reserved.hit.last)}"
                )
        short = by_count is not None and not good.denies and good.reach == "all"
        if short and not good.counts and not _apart(marked, good, by_count.first):
            if "all" in _classes(marked, good) or good.hit.rule.id == "good-order" and _no_exception(marked, good):
                out.append(
                    f"{_quoted(marked, good.hit.first, good.hit.last)} stands beside a short count"
                )
    return tuple(out)


def _classes(marked: Marked, good: Good) -> frozenset[str]:
    first = max(0, good.hit.first - 2)
    return frozenset().union(*(t.classes for t in marked.tokens[first : good.hit.last]))


def _no_exception(marked: Marked, good: Good) -> bool:
    return any("no" in t.classes for t in marked.tokens[good.hit.first : good.hit.last])


def _against_reservation(good: Good) -> bool:
    return good.reach == "all" and not good.counts and good.hit.rule.effect in ("good", "generic")


def _contradicts(
    marked: Marked, good: Good, exception: Said, counted: tuple[Count, ...]
) -> bool:
    if exception.hit is good.hit or _apart(marked, good, exception.hit.head):
        return False
    shortage = exception.category in ("shortage", "overage")
    if good.counts:
        return exception.category == "shortage" and _same_units(marked, good, exception)
    if good.reach.startswith("kind-"):
        return exception.hit.rule.id == good.reach and exception.category == "kind" and not good.about
    if good.reach == "piece":
        named = {
            marked.tokens[at].word
            for part in exception.parts
            if part.what == "which piece"
            for at in range(part.first, part.last)
        }
        units = {w for w in named if marked_unit(w)}
        return bool(good.about & (named - units)) and not good.denies and not shortage
    if good.reach == "visible":
        return exception.category in ("kind", "generic") and exception.hit.rule.id != "kind-rattling"
    if good.reach == "received":
        return not shortage and exception.category != "indicator"
    if good.reach == "all":
        if good.denies:
            return not shortage and exception.category != "indicator"
        return not (shortage and _part_received(counted))
    return False


def marked_unit(word: str) -> bool:
    """Tell whether the word is a unit or a sign, which names no piece by itself."""
    return word == "#" or any(word in wording.CLASSES[name] for name in UNITS)


def _part_received(counted: tuple[Count, ...]) -> bool:
    return False


def _same_units(marked: Marked, good: Good, exception: Said) -> bool:
    """Tell whether a full count and a shortage speak of the same units."""
    mine = _units(marked, range(good.hit.first, good.hit.last))
    near = range(max(0, exception.hit.first - 3), min(len(marked.tokens), exception.hit.last + 3))
    theirs = _units(marked, near)
    return not (mine == {"handling"} and theirs and "handling" not in theirs)


def _units(marked: Marked, span: range) -> frozenset[str]:
    return frozenset().union(*(marked.tokens[at].classes & UNITS for at in span)) if span else frozenset()


def _apart(marked: Marked, good: Good, at: int) -> bool:
    """Tell whether "except" or "but" stands between the good order and the exception."""
    tokens = marked.tokens
    first, last = sorted((good.hit.last, at)) if at >= good.hit.last else (at, good.hit.first)
    stops = 0
    for between in range(first, last + 1 if last < len(tokens) else last):
        token = tokens[between]
        stops += token.stop == HARD and between > first
        if "exceptive" in token.classes and between not in marked.covered and stops < 2:
            return True
    return False


def _quoted(marked: Marked, first: int, last: int) -> str:
    tokens = marked.tokens
    return "“" + " ".join(t.text for t in tokens[first:last]) + "”"
