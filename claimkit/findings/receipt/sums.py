"""Sums that a receipt states and that do not add up, and a tally beside another count received.

"22 big + 14 small = 38" and "40 bags, 22 on one skid 20 on the other" are wrong by themselves.
A list is added up only where its words close it: a total, "nothing else", "the other".
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from claimkit.findings.receipt.counts import Count
from claimkit.findings.receipt.match import Marked
from claimkit.findings.receipt.parts import is_count
from claimkit.findings.receipt.reach import sentence_start
from claimkit.findings.receipt.text import HARD, Token

PLUS = frozenset({"+", "&", "and", "plus", "n"})
TALLIED = frozenset({"tally", "tallied", "counted"})
CLOSING = frozenset({("nothing", "else"), ("the", "other"), ("the", "rest"), ("thats", "it")})


def wrong_sums(marked: Marked, counted: tuple[Count, ...]) -> tuple[str, ...]:
    """Say in sentences which stated sums are wrong; empty where none is."""
    return (
        *_equation(marked.tokens),
        *_tally(marked.tokens, counted),
        *_list(marked.tokens, counted),
        *_boxes_of(marked.tokens, counted),
    )


def _equation(tokens: tuple[Token, ...]) -> Iterator[str]:
    """Yield "22 big + 14 small = 38": numbers joined by a plus, then what they are said to be."""
    for at, token in enumerate(tokens):
        after = tokens[at + 1] if at + 1 < len(tokens) else None
        if token.text != "=" or after is None or not after.value:
            continue
        first = sentence_start(tokens, at)
        added = [i for i in range(first, at) if tokens[i].value and is_count(tokens, i)]
        gaps = [{t.word for t in tokens[a:b]} & PLUS for a, b in pairwise(added)]
        total = sum(tokens[i].value or 0 for i in added)
        if len(added) > 1 and all(gaps) and total != after.value:
            listed = " and ".join(tokens[i].text for i in added)
            yield f"{listed} do not make {after.text}"


def _tally(tokens: tuple[Token, ...], counted: tuple[Count, ...]) -> Iterator[str]:
    """Yield a count tallied beside another one received: "counted 22 rolls. 25 rolls received"."""
    received = [c for c in counted if c.role == "received" and c.of is None]
    mine = [c for c in received if _tallied(tokens, c)]
    for tally in mine:
        for other in received:
            alike = other.unit == tally.unit or "" in (other.unit, tally.unit)
            if other not in mine and alike and other.value != tally.value:
                yield f"{tally.value} counted and {other.value} received cannot both hold"


def _tallied(tokens: tuple[Token, ...], count: Count) -> bool:
    at = count.first - 1
    while at >= 0 and tokens[at + 1].stop < HARD and tokens[at].value is None:
        if tokens[at].word in TALLIED:
            return True
        at -= 1
    return False


def _list(tokens: tuple[Token, ...], counted: tuple[Count, ...]) -> Iterator[str]:
    """Yield a total received and a closed list after it that makes another number."""
    totals = [c for c in counted if c.role == "received" and c.of is None]
    others = {c.role for c in counted} - {"received", "named", "good", "total"}
    if len(totals) != 1 or others:
        return
    total = totals[0]
    ends = {(a.word, b.word) for a, b in pairwise(tokens[total.last :])}
    listed = [i for i in range(total.last, len(tokens)) if _listed(tokens, i)]
    added = sum(tokens[i].value or 0 for i in listed)
    if (ends & CLOSING or total.whole) and len(listed) > 1 and added != total.value:
        told = " and ".join(tokens[i].text for i in listed)
        yield f"{told} do not make the {total.value} received"


def _listed(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether a number counts goods in a list: "one" only names a place there."""
    return bool(tokens[at].value) and tokens[at].word != "one" and is_count(tokens, at)


def _boxes_of(tokens: tuple[Token, ...], counted: tuple[Count, ...]) -> Iterator[str]:
    """Yield "18 chairs (4 boxes, 4 chairs to a box)": so many boxes of so many make another."""
    totals = [c for c in counted if c.role == "received" and c.of is None]
    for boxes, each in pairwise(c for c in counted if c.role == "named"):
        joined = [t.word for t in tokens[each.last : each.last + 3]]
        named = [w for w in joined if w in ("to", "per", "in", "a", "each")]
        inside = bool(named) and ("per" in named or "each" in named or named[:2] == ["to", "a"])
        known = len(totals) == 1 and boxes.unit == "carton" and each.unit != "carton"
        if inside and known and boxes.value * each.value != totals[0].value:
            yield f"{boxes.value} of {each.value} do not make the {totals[0].value} received"
