"""Statements of one receipt that cannot both hold: "all in good order" beside "ctn 4 crushed".

"Rest fine", "good order except …", a wrap that is intact and a piece that is well contradict no
exception to another. A full count contradicts a shortage of the same units only.
"""

from __future__ import annotations

from collections.abc import Iterator

from claimkit.findings.receipt.counts import Count
from claimkit.findings.receipt.good import Good, first_word
from claimkit.findings.receipt.match import Marked
from claimkit.findings.receipt.parts import UNITS
from claimkit.findings.receipt.said import Said, Statements
from claimkit.findings.receipt.text import HARD
from claimkit.rules.wording import book as wording

NEAR = 3


def contradictions(
    marked: Marked, said: Statements, by_count: Count | None, counted: tuple[Count, ...]
) -> tuple[str, ...]:
    """Say in sentences which statements contradict each other; empty where none do.

    `by_count` is the count that shows a shortage, where one does.
    """
    return (
        *_full_yet_short(marked, said, counted),
        *_good_yet_excepted(marked, said),
        *_good_yet_reserved(marked, said),
        *_good_yet_short(marked, said, by_count),
    )


def _full_yet_short(marked: Marked, said: Statements, counted: tuple[Count, ...]) -> Iterator[str]:
    """Yield the clash of "5 of 5 received" with a shortage of the same units."""
    for count in counted:
        if count.role != "received" or count.of != count.value:
            continue
        for e in said.exceptions:
            within = e.hit.first <= count.first < e.hit.last
            same = _same_units(frozenset({count.unit} - {""}), _units_near(marked, e))
            if e.category == "shortage" and same and not within:
                yield f"{count.value} of {count.of} received leaves nothing short"


def _good_yet_excepted(marked: Marked, said: Statements) -> Iterator[str]:
    for good in said.good:
        against = [
            _quoted(marked, e.hit.head, e.hit.last)
            for e in said.exceptions
            if not (e.hit is good.hit or _apart(marked, good, e.hit.head))
            and _contradicts(marked, good, e)
        ]
        if against:
            listed = ", ".join(dict.fromkeys(against))
            yield f"{_good_words(marked, good)} and {listed} cannot both hold"


def _good_yet_reserved(marked: Marked, said: Statements) -> Iterator[str]:
    for good in said.good:
        whole = good.reach == "all" and not good.counts
        if not whole or good.hit.rule.effect not in ("good", "generic"):
            continue
        for reserved in said.reservations:
            if not reserved.denied:
                yield (
                    f"{_good_words(marked, good)} takes back the reservation "
                    f"{_quoted(marked, reserved.hit.first, reserved.hit.last)}"
                )


def _good_yet_short(marked: Marked, said: Statements, by_count: Count | None) -> Iterator[str]:
    """Yield "all good" or "no exceptions" beside "rec'd 3 of 4"."""
    if by_count is None:
        return
    for good in said.good:
        if good.denies or good.counts or good.reach != "all":
            continue
        first = max(0, good.hit.first - 2)
        every = any("all" in token.classes for token in marked.tokens[first : good.hit.last])
        nothing = any("no" in t.classes for t in marked.tokens[good.hit.first : good.hit.last])
        if (every or nothing) and not _apart(marked, good, by_count.first):
            yield f"{_good_words(marked, good)} stands beside a short count"


def _contradicts(marked: Marked, good: Good, exception: Said) -> bool:
    """Tell whether a statement of good order leaves no room for the exception."""
    category = exception.category
    shortage = category in ("shortage", "overage")
    if good.counts:
        mine = _units(marked, range(good.hit.first, good.hit.last))
        return category == "shortage" and _same_units(mine, _units_near(marked, exception))
    if good.reach == good.hit.rule.id:
        return exception.hit.rule.id == good.reach and category == good.hit.rule.effect
    if good.reach == "piece":
        return not good.denies and not shortage and bool(good.about & _named(marked, exception))
    if good.reach == "visible":
        return category in ("kind", "generic") and exception.hit.rule.id != "kind-rattling"
    if good.reach == "received" or (good.reach == "all" and good.denies):
        return not shortage and category != "indicator"
    return good.reach == "all"


def _named(marked: Marked, exception: Said) -> frozenset[str]:
    """Give the words that name the exception's piece, less units, which name none."""
    words = {
        marked.tokens[at].word
        for part in exception.parts
        if part.what == "which piece"
        for at in range(part.first, part.last)
    }
    units = {word for word in words if any(word in wording.CLASSES[name] for name in UNITS)}
    return frozenset(words - units - {"#"})


def _same_units(mine: frozenset[str], theirs: frozenset[str]) -> bool:
    """Tell whether a full count and a shortage may speak of the same units.

    A carton can be short inside a skid that arrived.
    """
    return not (mine == {"handling"} and theirs and "handling" not in theirs)


def _units_near(marked: Marked, exception: Said) -> frozenset[str]:
    """Give the unit that is short: in the words, behind them, else before them."""
    hit, tokens = exception.hit, marked.tokens
    last = min(len(tokens), hit.last + NEAR)
    for at in range(hit.head, last):
        if tokens[at].classes & UNITS:
            return tokens[at].classes & UNITS
    return _units(marked, range(max(0, hit.first - NEAR), hit.last))


def _units(marked: Marked, span: range) -> frozenset[str]:
    return frozenset().union(*(marked.tokens[at].classes & UNITS for at in span))


def _apart(marked: Marked, good: Good, at: int) -> bool:
    """Tell whether "except" or "but" stands between the good order and the exception."""
    tokens = marked.tokens
    first, last = (good.hit.last, at) if at >= good.hit.last else (at, good.hit.first)
    stops = 0
    for between in range(first, min(last + 1, len(tokens))):
        stops += tokens[between].stop == HARD and between > first
        if stops < 2 and between not in marked.covered and _excepts(marked, between):
            return True
    return False


def _excepts(marked: Marked, at: int) -> bool:
    """Tell whether the word excepts: except, but, "other than", "with the exception of"."""
    tokens = marked.tokens
    if "exceptive" in tokens[at].classes:
        return True
    before = tokens[at - 1].word if at else ""
    after = tokens[at + 1].word if at + 1 < len(tokens) else ""
    than = tokens[at].word == "than" and before == "other"
    return than or (tokens[at].word == "exception" and after in ("of", "to"))


def _good_words(marked: Marked, good: Good) -> str:
    return _quoted(marked, first_word(marked, good), good.hit.last)


def _quoted(marked: Marked, first: int, last: int) -> str:
    return "“" + " ".join(token.text for token in marked.tokens[first:last]) + "”"
