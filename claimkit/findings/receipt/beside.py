"""Which pieces, numbers and places belong to which exception.

Those of its own clause, then of its sentence, then of a neighbouring sentence that says nothing
else; a number directly beside it; a noun that no list knows directly beside it.
"""

from __future__ import annotations

from claimkit.findings.receipt.match import Hit, Marked
from claimkit.findings.receipt.parts import UNITS, Part, is_count, named_beside
from claimkit.findings.receipt.reach import sentence_end, sentence_start
from claimkit.findings.receipt.text import HARD, LINK, NO_STOP, SOFT, Token

PLACED = ("which piece", "how many", "where on it")
INDICATOR_NEAR = 8


def parts_of(
    marked: Marked, hit: Hit, category: str, found: tuple[Part, ...], fine: frozenset[int]
) -> tuple[Part, ...]:
    """Give the parts of one exception. `fine` are the tokens of statements of good order."""
    own = _own_region(marked, hit, fine)
    parts = [part for part in found if part.first in own]
    if category in ("shortage", "overage"):
        parts = [part for part in parts if _tells_a_shortage(marked, part)]
    parts += _bare_number(marked, hit)
    if category == "indicator":
        parts += _of_the_indicator(marked, hit)
    else:
        beside = named_beside(marked, hit.first, hit.head, hit.last)
        parts += [beside] if beside is not None else []
    if not any(part.what in PLACED for part in parts):
        parts += _next_sentence(marked, hit, found)
    return tuple(dict.fromkeys(parts))


def _tells_a_shortage(marked: Marked, part: Part) -> bool:
    everything = marked.tokens[part.first].word in ("everything", "all")
    return part.what != "where on it" and not everything


def _own_region(marked: Marked, hit: Hit, fine: frozenset[int]) -> frozenset[int]:
    """Give the tokens of the sentence, less the clauses that say something good."""
    tokens = marked.tokens
    first, end = sentence_start(tokens, hit.head), sentence_end(tokens, hit.last - 1)
    region: set[int] = set()
    clause: list[int] = []
    for at in range(first, end + 1):
        parted = at < end and (tokens[at].stop >= SOFT or "exceptive" in tokens[at].classes)
        parted |= at < end and at - 1 in fine and tokens[at].stop > NO_STOP
        if at == end or (parted and at > first):
            own = any(hit.head <= i < hit.last for i in clause)
            if own or not any(i in fine for i in clause):
                region.update(clause)
            clause = []
        clause.append(at)
    return frozenset(region)


def _bare_number(marked: Marked, hit: Hit) -> list[Part]:
    """Give a number that stands in or directly beside the words: "short 1", "2 crushed"."""
    tokens = marked.tokens
    for at in range(hit.first, hit.last):
        if tokens[at].value and tokens[at].sort in ("number", "word", "pair"):
            return [_number(marked, at)]
    before = hit.first - 1
    while before >= 0 and tokens[before + 1].stop < LINK and "be" in tokens[before].classes:
        before -= 1
    if before >= 0 and tokens[before + 1].stop < LINK and counts_goods(marked, before):
        return [_number(marked, before)]
    after = hit.last
    if after + 1 < len(tokens) and tokens[after].word == "x" and tokens[after + 1].value:
        return [_number(marked, after + 1)]
    if hit.rule.effect not in ("shortage", "overage"):
        return []
    while after < len(tokens) and tokens[after].stop < SOFT and _leads(tokens[after]):
        one = tokens[after].word in ("a", "an") and tokens[after + 1 : after + 2]
        if one and one[0].stop == NO_STOP and one[0].classes & (UNITS | {"goods"}):
            return [Part("how many", after, after + 2, 1)]
        after += 1
    beside = after < len(tokens) and tokens[after].stop < HARD and counts_goods(marked, after)
    return [_number(marked, after)] if beside else []


def _leads(token: Token) -> bool:
    return "the" in token.classes or token.word in ("us", "me")


def _number(marked: Marked, at: int) -> Part:
    return Part("how many", at, at + 1, marked.tokens[at].value)


def counts_goods(marked: Marked, at: int) -> bool:
    """Tell whether the token is a number other than none that counts goods."""
    token = marked.tokens[at]
    if at in marked.covered or not token.value:
        return False
    return token.sort == "pair" or is_count(marked.tokens, at)


def _of_the_indicator(marked: Marked, hit: Hit) -> list[Part]:
    """Give what the indicator is on, and how many there are: "2 tilt watches tripped"."""
    out: list[Part] = []
    for other in marked.hits:
        near = abs(other.head - hit.head) < INDICATOR_NEAR
        if other.rule.effect != "indicator" or not near:
            continue
        last = max(other.last, hit.last)
        beside = named_beside(marked, len(marked.tokens), other.head, last)
        out += [beside] if beside is not None else []
        if other.first and counts_goods(marked, other.first - 1):
            out.append(_number(marked, other.first - 1))
    return out


def _next_sentence(marked: Marked, hit: Hit, found: tuple[Part, ...]) -> list[Part]:
    """Give pieces and places of a neighbouring sentence that says nothing else."""
    tokens = marked.tokens
    start, end = sentence_start(tokens, hit.head), sentence_end(tokens, hit.last - 1)
    spans = []
    if start > 0:
        spans.append(range(sentence_start(tokens, start - 1), start))
    if end < len(tokens):
        spans.append(range(end, sentence_end(tokens, end)))
    spoken = {at for h in marked.hits if h.rule.effect != "refusal" for at in range(h.head, h.last)}
    silent = [
        span for span in spans if not any(at in spoken or at in marked.covered for at in span)
    ]
    wanted = ("which piece", "where on it")
    return [p for span in silent for p in found if p.first in span and p.what in wanted]
