"""Statements of good order and how far each reaches: everything, the rest, one piece, the wrap.

"Rest fine" and "mirror crate no damage" leave room for an exception beside them; "all good" and
"no exceptions" do not.
"""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.findings.receipt.match import Hit, Marked
from claimkit.findings.receipt.parts import Part, is_count, is_label
from claimkit.findings.receipt.text import NO_STOP, SOFT
from claimkit.rules.wording import book as wording

LOOK_BACK = 8
LOOK_ON = 4
PASSED = frozenset({"light", "be", "the", "all", "took", "stopwords", "people"})


@dataclass(frozen=True, slots=True)
class Good:
    """A statement of good order or full count, or the denial of a damage.

    `reach` is all, received, rest, piece, inside, packing, visible, indicator, or the id of the
    one kind of damage, or of the overage, that is denied. `counts` marks a statement of count.
    `about` are the words that name the piece.
    """

    hit: Hit
    reach: str
    counts: bool
    about: frozenset[str] = frozenset()
    denies: bool = False


def denial(marked: Marked, hit: Hit, found: tuple[Part, ...]) -> Good:
    """Give the good order that a denied damage or shortage states."""
    if hit.rule.effect == "shortage":
        return Good(hit, "all", counts=True, denies=True)
    if hit.rule.effect in ("kind", "overage"):
        return Good(hit, hit.rule.id, counts=False, denies=True)
    settled = good_order(marked, hit, found)
    return Good(hit, settled.reach, counts=False, about=settled.about, denies=True)


def first_word(marked: Marked, good: Good) -> int:
    """Give the token that a statement of good order begins with, its denial included."""
    tokens, first = marked.tokens, good.hit.first
    for at in range(first, max(-1, first - 5), -1):
        if not good.denies or (at < first and tokens[at + 1].stop > NO_STOP):
            break
        if tokens[at].classes & {"no", "not"} or tokens[at].word in ("free", "zero"):
            return at
    return first


def good_denied(marked: Marked, hit: Hit) -> bool:
    """Tell whether the good order is denied: "not in good order", "not all here"."""
    tokens = marked.tokens
    if any(t.classes & {"no", "not"} for t in tokens[hit.first : hit.last]):
        return False
    for at in range(hit.first - 1, max(-1, hit.first - 5), -1):
        token = tokens[at]
        if tokens[at + 1].stop >= SOFT:
            return False
        beside = at == hit.first - 1
        hardly = token.word in ("hardly", "barely", "scarcely")
        if "not" in token.classes or hardly or (beside and token.word == "no"):
            return not (at and "none" in tokens[at - 1].classes and tokens[at].stop == NO_STOP)
        if "no" in token.classes or not token.classes & PASSED:
            return False
    return False


def good_order(marked: Marked, hit: Hit, found: tuple[Part, ...]) -> Good:
    """Give a statement of good order with its reach."""
    counts = hit.rule.effect == "full count"
    tokens = marked.tokens
    first, last = _clause_of(marked, hit)
    names = frozenset().union(*(tokens[at].classes for at in range(first, last)))
    about = frozenset(
        tokens[at].word
        for part in found
        if part.what == "which piece" and first <= part.first and part.last <= last
        for at in range(part.first, part.last)
    ) - {"#"}
    reach = "all" if _to_the_last(marked, hit) else _limited(marked, hit, (first, last), names)
    if reach is None and about and "all" not in names:
        reach = "piece"
    if reach is None and not counts and "all" not in names:
        reach = _counted(marked, hit, found, (first, last))
    return Good(hit, reach or "all", counts, about)


def _to_the_last(marked: Marked, hit: Hit) -> bool:
    """Tell whether the words leave nothing out: "no damage whatsoever", "fine every one of em"."""
    near = [t for t in marked.tokens[hit.last : hit.last + LOOK_ON] if t.stop < SOFT]
    words = [t.word for t in near]
    whole = words[:1] == ["whatsoever"] or words[1:2] == ["whatsoever"]
    return whole or any(words[at : at + 3] == ["every", "one", "of"] for at in range(2))


def _limited(
    marked: Marked, hit: Hit, clause: tuple[int, int], names: frozenset[str]
) -> str | None:
    """Give the reach that a word of the clause sets: the rest, the wrap, what could be seen."""
    first, last = clause
    words = {token.word for token in marked.tokens[first:last]}
    if any(h.rule.effect == "indicator" and first <= h.head < hit.last for h in marked.hits):
        return "indicator"
    if words & wording.READ_AS["some"]:
        return "piece"
    if "rest" in names:
        return "rest"
    if "outside" in names:
        return "visible" if words & wording.READ_AS["visible"] else "packing"
    return "inside" if "inside" in names and "all" not in names else None


def _counted(
    marked: Marked, hit: Hit, found: tuple[Part, ...], clause: tuple[int, int]
) -> str | None:
    """Give the reach that a number sets: "5 ctns ok" is part, "rec'd 5 ctns ok" all received."""
    tokens = marked.tokens
    first, last = clause
    before = tokens[hit.first - 1] if hit.first > first else None
    bare = before is not None and bool(before.value) and is_count(tokens, hit.first - 1)
    numbered = any(p.what == "how many" and first <= p.first < hit.first for p in found)
    pair = any(
        tokens[at].sort == "pair"
        or (tokens[at].word == "of" and at > first and tokens[at - 1].value is not None)
        for at in range(first, hit.first)
    )
    if not (bare or numbered or pair):
        return None
    number = next((at for at in range(first, last) if tokens[at].value is not None), first)
    took = any("took" in tokens[at].classes for at in range(first, number))
    anywhere = any("took" in tokens[at].classes for at in range(first, last))
    return "received" if took or (anywhere and not bare) else "piece"


def _named_piece_follows(marked: Marked, at: int) -> bool:
    """Tell whether a numbered piece and then a pause follow: "no dmg ctn 1-3, ..."."""
    tokens = marked.tokens
    named = at + 1 < len(tokens) and tokens[at].stop == NO_STOP and is_label(tokens, at + 1)
    if not named:
        return False
    after = at + 2
    while after < len(tokens) and tokens[after].sort == "number" and after - at < LOOK_ON:
        after += 1
    return after >= len(tokens) or tokens[after].stop > NO_STOP


def _clause_of(marked: Marked, hit: Hit) -> tuple[int, int]:
    """Give the words around a good statement that can limit it."""
    tokens = marked.tokens
    others = [
        other.last
        for other in marked.hits
        if other.rule.effect not in ("indicator", "tripped") and other.last <= hit.first
    ]
    floor = max(others, default=0)
    first = hit.first
    while first > floor and tokens[first].stop < SOFT and hit.first - first < LOOK_BACK:
        first -= 1
    last = hit.last
    if last < len(tokens) and tokens[last].word in wording.READ_AS["reach"]:
        while last < len(tokens) and tokens[last].stop < SOFT and last - hit.last < LOOK_ON:
            last += 1
    elif _named_piece_follows(marked, last):
        while last < len(tokens) and (last == hit.last or tokens[last].stop == NO_STOP):
            last += 1
    elif hit.rule.effect not in ("good", "full count") and last < len(tokens):
        after = tokens[last]
        last += after.stop < SOFT and bool(after.classes & {"outside", "light"})
    return first, last
