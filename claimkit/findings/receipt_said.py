"""What a receipt says once negation, scope and reference are settled: exceptions, good order,
reservations.

An exception is specific where its kind stands with a piece, a number or a place. A statement of
good order has a reach: everything, the rest, one piece, the wrapping, or only what could be seen.
"""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.findings.receipt_match import Hit, Marked, sentence_end, sentence_start
from claimkit.findings.receipt_parts import Part, is_count, named_beside
from claimkit.findings.receipt_scope import asked, denied, of_the_site
from claimkit.findings.receipt_text import HARD, LINK, SOFT

EXCEPTIONS = ("kind", "generic", "vague", "suspicion", "shortage", "overage")
PLACED = ("which piece", "how many", "where on it")


@dataclass(frozen=True, slots=True)
class Said:
    """An exception: its words, its category (an effect of the rules), and the parts it names."""

    hit: Hit
    category: str
    parts: tuple[Part, ...] = ()

    @property
    def specific(self) -> bool:
        """True where a kind stands with a piece, a number or a place."""
        wanted = PLACED if self.category in ("kind", "generic") else PLACED[:2]
        if self.category in ("vague", "suspicion"):
            return False
        return any(part.what in wanted for part in self.parts)


@dataclass(frozen=True, slots=True)
class Good:
    """A statement of good order or full count, or the denial of a damage.

    `reach` is all, received, rest, piece, inside, packing, visible, indicator, or the id of the
    one kind of damage that is denied. `about` are the words that name the piece.
    """

    hit: Hit
    reach: str
    counts: bool
    about: frozenset[str] = frozenset()
    denies: bool = False


@dataclass(frozen=True, slots=True)
class Reserved:
    """A reservation and whether it is denied."""

    hit: Hit
    full: bool
    denied: bool


@dataclass(frozen=True, slots=True)
class Statements:
    """Everything that the words state."""

    exceptions: tuple[Said, ...]
    good: tuple[Good, ...]
    reservations: tuple[Reserved, ...]
    refusal: Hit | None
    denials: tuple[Hit, ...]


def statements(marked: Marked, found: tuple[Part, ...]) -> Statements:
    """Settle what each hit says."""
    exceptions: list[Said] = []
    good: list[Good] = []
    reserved: list[Reserved] = []
    refusals: list[Hit] = []
    denials: list[Hit] = []
    said = {hit: _polarity(marked, hit) for hit in marked.hits}
    for hit in marked.hits:
        effect, polarity = hit.rule.effect, said[hit]
        if polarity == "about something else":
            continue
        if effect in EXCEPTIONS:
            if polarity == "denied":
                denials.append(hit)
                good.append(_denial(marked, hit, found))
            else:
                category = "suspicion" if hit.head in marked.unsure else effect
                exceptions.append(Said(hit, category))
        elif effect in ("good", "full count"):
            if polarity == "denied":
                exceptions.append(Said(hit, "vague" if effect == "good" else "shortage"))
            else:
                good.append(_good(marked, hit, found))
        elif effect in ("full reservation", "weak reservation"):
            reserved.append(Reserved(hit, effect == "full reservation", polarity == "denied"))
        elif effect == "no reservation":
            reserved.append(Reserved(hit, False, True))
        elif effect == "refusal" and polarity != "denied":
            refusals.append(hit)
    exceptions.extend(_tripped(marked, said))
    kept = tuple(g for g in good if g.reach != "indicator")
    bad = {at for e in exceptions for at in range(e.hit.head, e.hit.last)}
    fine = {at for g in good for at in range(g.hit.head, g.hit.last)}
    placed = tuple(_with_parts(marked, e, found, frozenset(bad), frozenset(fine)) for e in exceptions)
    return Statements(
        placed, kept, tuple(reserved), refusals[0] if refusals else None, tuple(denials)
    )


def _polarity(marked: Marked, hit: Hit) -> str:
    effect = hit.rule.effect
    if effect in ("kind", "generic", "vague") and of_the_site(marked, hit.first, hit.head, hit.last):
        return "about something else"
    if effect in ("indicator", "no reservation"):
        return "affirmed"
    if effect in ("good", "full count"):
        return "denied" if _good_denied(marked, hit) else "affirmed"
    if effect in EXCEPTIONS and _inner_no(marked, hit):
        return "affirmed"
    if denied(marked, hit.first, hit.head, hit.last):
        return "denied"
    if asked(marked, hit.last) and effect in EXCEPTIONS:
        return "about something else"
    return "affirmed"


def _inner_no(marked: Marked, hit: Hit) -> bool:
    """Tell whether the phrase itself holds the "not": "not on truck", "wont close"."""
    words = marked.tokens[hit.first : hit.head]
    return any(token.classes & {"no", "not"} for token in words)


def _good_denied(marked: Marked, hit: Hit) -> bool:
    tokens = marked.tokens
    if any(t.classes & {"no", "not"} for t in tokens[hit.first : hit.last]):
        return False
    seen = 0
    at = hit.first - 1
    while at >= 0 and seen < 4 and tokens[at + 1].stop < SOFT:
        token = tokens[at]
        if "not" in token.classes or (token.word in ("no", "hardly", "barely") and seen == 0):
            return True
        if "no" in token.classes or not token.classes & {"light", "be", "the", "all", "took", "stopwords", "people"}:
            return False
        at -= 1
        seen += 1
    return False


def _denial(marked: Marked, hit: Hit, found: tuple[Part, ...]) -> Good:
    if hit.rule.effect in ("shortage", "overage"):
        return Good(hit, "all", True, denies=True)
    if hit.rule.effect == "kind":
        return Good(hit, hit.rule.id, False, denies=True)
    settled = _good(marked, hit, found)
    return Good(hit, settled.reach, False, settled.about, denies=True)


def _good(marked: Marked, hit: Hit, found: tuple[Part, ...]) -> Good:
    counts = hit.rule.effect == "full count"
    tokens = marked.tokens
    first, last = _clause_of(marked, hit)
    words = [tokens[at] for at in range(first, last)]
    names = set().union(*(t.classes for t in words)) if words else set()
    about = frozenset(
        tokens[at].word
        for part in found
        if part.what == "which piece" and first <= part.first and part.last <= last
        for at in range(part.first, part.last)
    ) - {"#"}
    if any(h.rule.effect == "indicator" and first <= h.head < hit.last for h in marked.hits):
        return Good(hit, "indicator", counts)
    every = "all" in names
    if "rest" in names:
        return Good(hit, "rest", counts)
    if "outside" in names:
        visible = any(t.word in VISIBLE for t in words)
        return Good(hit, "visible" if visible else "packing", counts)
    if "inside" in names and not every:
        return Good(hit, "inside", counts)
    if about and not every:
        return Good(hit, "piece", counts, about)
    numbered = any(part.what == "how many" and first <= part.first < hit.first for part in found)
    pair = any(
        t.sort == "pair" or (t.word == "of" and at and words[at - 1].value is not None)
        for at, t in enumerate(words[: hit.first - first])
    )
    if (numbered or pair) and not every and not counts:
        took = "took" in names
        return Good(hit, "received" if took else "piece", counts)
    return Good(hit, "all", counts, about)


VISIBLE = frozenset(
    "visible visual visable vis apparent apparently obvious visibly external exterior externally "
    "outwardly outward surface".split()
)


def _clause_of(marked: Marked, hit: Hit) -> tuple[int, int]:
    """Give the words around a good statement that can limit it."""
    tokens = marked.tokens
    others = [
        other
        for other in marked.hits
        if other is not hit and other.rule.effect != "indicator" and other.rule.effect not in ("tripped",)
    ]
    first = hit.first
    floor = max((o.last for o in others if o.last <= hit.first), default=0)
    while first > floor and tokens[first].stop < SOFT and hit.first - first < 8:
        first -= 1
    last = hit.last
    if last < len(tokens) and tokens[last].word in ("to", "on", "in", "with", "w/", "of"):
        while last < len(tokens) and tokens[last].stop < SOFT and last - hit.last < 4:
            last += 1
    elif hit.rule.effect not in ("good", "full count") and last < len(tokens):
        after = tokens[last]
        if after.stop < SOFT and after.classes & {"outside", "light"}:
            last += 1
    return first, last


def _tripped(marked: Marked, said: dict[Hit, str]) -> list[Said]:
    """Give the indicators that went off, at the words of their state."""
    return [
        Said(hit, "indicator")
        for hit in marked.hits
        if hit.rule.effect == "tripped" and said[hit] == "affirmed"
    ]


def _with_parts(
    marked: Marked,
    said: Said,
    found: tuple[Part, ...],
    bad: frozenset[int],
    fine: frozenset[int],
) -> Said:
    """Join the parts that belong to an exception: its own clause, then what stands beside it."""
    tokens = marked.tokens
    own = _own_region(marked, said.hit, fine)
    parts = [part for part in found if part.first in own]
    if said.category in ("shortage", "overage"):
        parts = [
            part
            for part in parts
            if part.what != "where on it" and tokens[part.first].word not in ("everything", "all")
        ]
        parts += _bare_number(marked, said.hit)
    else:
        parts += _bare_number(marked, said.hit)
    beside = named_beside(marked, said.hit.first, said.hit.head, said.hit.last)
    if said.category == "indicator":
        beside = _after_indicator(marked, said.hit)
    if beside is not None:
        parts.append(beside)
    if not any(part.what in PLACED for part in parts):
        parts += _next_sentence(marked, said.hit, found, bad, fine)
    return Said(said.hit, said.category, tuple(dict.fromkeys(parts)))


def _after_indicator(marked: Marked, hit: Hit) -> Part | None:
    """Give an unlisted noun that the indicator is on: "tip n tell on xfmr tripped"."""
    for other in marked.hits:
        if other.rule.effect == "indicator" and abs(other.head - hit.head) < 8:
            last = max(other.last, hit.last) if other.last >= hit.last else other.last
            return named_beside(marked, len(marked.tokens), other.head, last)
    return None


def _own_region(marked: Marked, hit: Hit, fine: frozenset[int]) -> frozenset[int]:
    """Give the tokens of the sentence, less the clauses that say something good."""
    tokens = marked.tokens
    first, end = sentence_start(tokens, hit.head), sentence_end(tokens, hit.last - 1)
    region: set[int] = set()
    clause: list[int] = []
    for at in range(first, end + 1):
        if at == end or (tokens[at].stop >= SOFT and at > first):
            own = any(hit.head <= i < hit.last for i in clause)
            if own or not any(i in fine for i in clause):
                region.update(clause)
            clause = []
        if at < end:
            clause.append(at)
    return frozenset(region)


def _bare_number(marked: Marked, hit: Hit) -> list[Part]:
    """Give a number that stands directly beside the word: "short 1", "2 crushed"."""
    tokens = marked.tokens
    for at in range(hit.first, hit.last):
        if tokens[at].value and tokens[at].sort in ("number", "word"):
            return [Part("how many", at, at + 1, tokens[at].value)]
    before = hit.first - 1
    while before >= 0 and tokens[before + 1].stop < LINK and tokens[before].classes & {"be"}:
        before -= 1
    if before >= 0 and tokens[before + 1].stop < LINK and _counts(marked, before):
        return [Part("how many", before, before + 1, tokens[before].value)]
    after = hit.last
    shortage = hit.rule.effect in ("shortage", "overage")
    while after < len(tokens) and tokens[after].classes & {"the"} and tokens[after].stop < SOFT:
        after += 1
    if shortage and after < len(tokens) and tokens[after].stop < HARD and _counts(marked, after):
        return [Part("how many", after, after + 1, tokens[after].value)]
    return []


def _counts(marked: Marked, at: int) -> bool:
    token = marked.tokens[at]
    return at not in marked.covered and bool(token.value) and is_count(marked.tokens, at)


def _next_sentence(
    marked: Marked,
    hit: Hit,
    found: tuple[Part, ...],
    bad: frozenset[int],
    fine: frozenset[int],
) -> list[Part]:
    """Give pieces and places of a neighbouring sentence that says nothing else."""
    tokens = marked.tokens
    here = (sentence_start(tokens, hit.head), sentence_end(tokens, hit.last - 1))
    spans = []
    if here[0] > 0:
        spans.append((sentence_start(tokens, here[0] - 1), here[0]))
    if here[1] < len(tokens):
        spans.append((here[1], sentence_end(tokens, here[1])))
    spoken = {at for h in marked.hits if h.rule.effect != "refusal" for at in range(h.head, h.last)}
    out: list[Part] = []
    for first, last in spans:
        if any(at in spoken or at in marked.covered for at in range(first, last)):
            continue
        out += [p for p in found if first <= p.first < last and p.what in ("which piece", "where on it")]
    return out

