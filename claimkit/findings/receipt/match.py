"""Finding the rules' phrases among the tokens of a receipt.

Asides are found first and cover their words: print, labels, cases that may come, other goods.
What is left is searched for statements, reservations and exceptions, the longest phrase first.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache

from claimkit.findings.receipt.reach import denial_end, names_a_piece, pause_after, reach, sought
from claimkit.findings.receipt.text import HARD, LINK, NO_STOP, SOFT, Token
from claimkit.rules.wording import book as wording
from claimkit.rules.wording.row import WordingRule

MASKING = (
    *("mask", "mask here", "mask clause", "mask sentence", "mask to stop", "mask to pause"),
    "mask print",
)
ASIDE = (*MASKING, "names goods", "unsure", "not a negation", "denies on", "denies back")
# How strong a pause a phrase may run across.
ACROSS = {
    "mask": SOFT,
    "mask sentence": SOFT,
    "mask print": SOFT,
    "full reservation": SOFT,
    "weak reservation": SOFT,
    "mask here": NO_STOP,
    "names goods": NO_STOP,
    "reason": SOFT,
}
AT_A_PAUSE = frozenset({"$"})
INDICATOR_REACH = 7


@dataclass(frozen=True, slots=True)
class _Item:
    words: frozenset[str]
    classes: tuple[str, ...]
    optional: bool
    head: bool
    gap: int


@dataclass(frozen=True, slots=True)
class Hit:
    """A phrase of a rule at tokens `first` to `last` (exclusive); `head` is what it is about."""

    rule: WordingRule
    first: int
    last: int
    head: int


@dataclass
class Marked:
    """Tokens with what was found in them. `covered` maps a token to the aside that covers it."""

    tokens: tuple[Token, ...]
    covered: dict[int, WordingRule] = field(default_factory=dict)
    asides: list[Hit] = field(default_factory=list)
    named: set[int] = field(default_factory=set)
    unsure: set[int] = field(default_factory=set)
    no_denial: set[int] = field(default_factory=set)
    denied_zone: set[int] = field(default_factory=set)
    hits: list[Hit] = field(default_factory=list)
    reasons: list[Hit] = field(default_factory=list)


def mark(tokens: tuple[Token, ...]) -> Marked:
    """Find every rule's phrases in the tokens."""
    marked = Marked(tokens)
    begun = frozenset().union(*(_begun_by(token.word, token.sort) for token in tokens))
    for rule in wording.RULES:
        if rule.effect in ASIDE and rule.id in begun:
            _mark_aside(marked, rule)
    blocked = set(marked.covered) | marked.named
    # The reason of a refusal may be what is an aside to all other rules: goods of somebody else.
    printed = {at for at, rule in marked.covered.items() if rule.what == "small print"}
    found = [
        hit
        for rule in wording.RULES
        if rule.effect not in ASIDE and rule.id in begun
        for hit in _occurrences(rule, tokens, printed if rule.effect == "reason" else blocked)
    ]
    found = [
        hit for hit in found if hit.rule.effect != "tripped" or _of_indicator(hit, found, tokens)
    ]
    marked.reasons = [hit for hit in found if hit.rule.effect == "reason"]
    found = [hit for hit in found if hit.rule.effect != "reason"]
    found.sort(key=lambda hit: (-(hit.last - hit.head), -(hit.last - hit.first), hit.head))
    taken: set[int] = set()
    for hit in found:
        span = set(range(hit.head, hit.last))
        if not span & taken:
            taken |= span
            marked.hits.append(hit)
    marked.hits.sort(key=lambda hit: hit.head)
    marked.hits = [hit for hit in marked.hits if not _filler(marked, hit)]
    return marked


def _filler(marked: Marked, hit: Hit) -> bool:
    """Tell whether "ok" only rounds off: "subject to inspection ok", "torn up pretty good"."""
    tokens, at = marked.tokens, hit.head
    if (
        hit.rule.effect not in ("good", "no reservation")
        or tokens[at].word not in (wording.READ_AS["filler"])
    ):
        return False
    ends = hit.last >= len(tokens) or tokens[hit.last].stop > NO_STOP
    while at and tokens[at].stop == NO_STOP and tokens[at - 1].word in wording.READ_AS["quite"]:
        at -= 1
    if not ends or not at or tokens[at].stop > NO_STOP:
        return False
    wanted = {"full reservation", "weak reservation"}
    if at < hit.head:
        wanted = {"kind", "vague", "generic"}
    return any(
        other.last == at and other.rule.effect in wanted and other is not hit
        for other in marked.hits
    )


def _of_indicator(hit: Hit, found: list[Hit], tokens: tuple[Token, ...]) -> bool:
    """Tell whether a state such as "red" is said of a tilt or shock indicator."""
    for other in found:
        if other.rule.effect != "indicator":
            continue
        first, last = min(other.last, hit.last), max(other.first, hit.head)
        between = tokens[first : last + 1]
        near = last - first <= INDICATOR_REACH and all(t.stop < HARD for t in between)
        sure = tokens[hit.head].word in wording.READ_AS["tripped"]
        if near and (sure or all(t.stop < SOFT for t in between)):
            return True
    return False


def _mark_aside(marked: Marked, rule: WordingRule) -> None:
    blocked = set(marked.covered) | marked.named
    for hit in _occurrences(rule, marked.tokens, blocked):
        if any(at in marked.covered or at in marked.named for at in range(hit.first, hit.last)):
            continue
        if rule.effect == "names goods":
            marked.named |= set(range(hit.first, hit.last))
        elif _means_it(marked, hit):
            continue
        elif rule.effect == "not a negation":
            marked.no_denial.add(hit.first)
        elif rule.effect == "denies on":
            marked.denied_zone |= set(range(hit.last, denial_end(marked.tokens, hit.last)))
        elif rule.effect == "denies back":
            zone = sought(marked.tokens, hit.first)
            marked.denied_zone |= set(zone)
            if zone and hit.last - hit.first > 1:
                marked.covered |= dict.fromkeys(range(hit.first, hit.last), rule)
        else:
            covers = reach(rule.effect, marked.tokens, hit.first, hit.last, marked.covered)
            marked.asides.append(hit)
            if rule.effect == "unsure":
                marked.unsure |= set(range(hit.last, pause_after(marked.tokens, hit.last, SOFT)))
                covers = range(hit.first, hit.last)
            for at in covers:
                marked.covered.setdefault(at, rule)


def _means_it(marked: Marked, hit: Hit) -> bool:
    """Tell whether words that look like an aside are none.

    "Subject to inspection per policy" reserves, "customer agrees ctn 2 is crushed" is no print,
    and what was looked for and not found was no case that may come.
    """
    words = {token.word for token in marked.tokens[hit.first : hit.last]}
    if hit.rule.id == "small-print":
        return bool(words & {"subject", "subj"} and words & wording.READ_AS["reserving"])
    if hit.rule.effect == "mask sentence":
        return names_a_piece(marked.tokens, hit.last)
    return hit.rule.effect == "mask to stop" and hit.last - 1 in marked.denied_zone


def _occurrences(rule: WordingRule, tokens: tuple[Token, ...], blocked: set[int]) -> Iterator[Hit]:
    across = ACROSS.get(rule.effect, LINK)
    for at in range(len(tokens)):
        best: Hit | None = None
        for items in _starting(rule.id, tokens[at].word, tokens[at].sort):
            for last, head in _ends(items, tokens, at, across, blocked):
                hit = Hit(rule, at, last, at if head is None else head)
                if best is None or hit.last - hit.first > best.last - best.first:
                    best = hit
        if best is not None:
            yield best


def _ends(
    items: tuple[_Item, ...], tokens: tuple[Token, ...], first: int, across: int, blocked: set[int]
) -> Iterator[tuple[int, int | None]]:
    """Yield every end of the phrase from here, with the token of its head."""

    def step(
        item: int, at: int, head: int | None, gap: int, skipped: bool = False
    ) -> Iterator[tuple[int, int | None]]:
        if item == len(items):
            if not skipped:
                yield at, head
            return
        now = items[item]
        if now.words == AT_A_PAUSE:
            if at >= len(tokens) or tokens[at].stop > NO_STOP or tokens[at].text == "?":
                yield from step(item + 1, at, head, 0)
            return
        if now.gap:
            yield from step(item + 1, at, head, now.gap)
            return
        reachable = at < len(tokens) and (at == first or tokens[at].stop <= across)
        if reachable and at not in blocked and _fits(now, tokens[at]):
            yield from step(item + 1, at + 1, at if now.head else head, 0)
        passable = reachable and gap > 0 and at not in blocked
        if passable and not tokens[at].classes & {"no", "not"}:
            yield from step(item, at + 1, head, gap - 1, True)
        if now.optional:
            yield from step(item + 1, at, head, gap, skipped)

    return step(0, first, None, 0)


def _fits(item: _Item, token: Token) -> bool:
    if token.word in item.words:
        return True
    return any(_is(token, name) for name in item.classes)


def _is(token: Token, name: str) -> bool:
    if name == "number":
        return token.value is not None and token.sort in ("number", "word", "pair")
    if name == "unknown":
        return token.sort == "word" and not token.classes
    if name == "zip":
        return token.sort == "number" and re.fullmatch(r"\d{5}", token.text) is not None
    if name == "time":
        return token.sort == "time"
    return (name == "any" and token.sort == "word") or name in token.classes


@cache
def _parsed(phrase: str) -> tuple[_Item, ...]:
    return tuple(_item(part) for part in phrase.split())


def _item(part: str) -> _Item:
    if part.startswith("~"):
        return _Item(frozenset(), (), True, False, int(part[1:]))
    head, optional = part.startswith("^"), part.endswith("?")
    names = part.lstrip("^").removesuffix("?").split("|")
    classes = tuple(name[1:-1] for name in names if name.startswith("<"))
    words = frozenset(name for name in names if not name.startswith("<"))
    return _Item(words, classes, optional, head, 0)


@cache
def _phrases(rule_id: str) -> tuple[tuple[_Item, ...], ...]:
    rule = next(rule for rule in wording.RULES if rule.id == rule_id)
    return tuple(_parsed(phrase) for phrase in rule.phrases)


@cache
def _starting(rule_id: str, word: str, sort: str) -> tuple[tuple[_Item, ...], ...]:
    """Give the phrases of a rule that can begin with this word."""
    token = _alone(word, sort)
    return tuple(items for items in _phrases(rule_id) if _can_begin(items, token))


@cache
def _begun_by(word: str, sort: str) -> frozenset[str]:
    """Give the rules of which a phrase can begin with this word."""
    words, classes = _openings()
    token = _alone(word, sort)
    of_its_classes = (rules for name, rules in classes.items() if _is(token, name))
    return frozenset().union(words.get(word, ()), *of_its_classes)


@cache
def _openings() -> tuple[dict[str, set[str]], dict[str, set[str]]]:
    """Give the rules of which a phrase can begin with a word, and those with one of a class."""
    words: dict[str, set[str]] = {}
    classes: dict[str, set[str]] = {}
    for rule in wording.RULES:
        for phrase in rule.phrases:  # not parsed whole: most rules begin with none of the words
            for item in map(_item, phrase.split()):
                for word in item.words:
                    words.setdefault(word, set()).add(rule.id)
                for name in item.classes:
                    classes.setdefault(name, set()).add(rule.id)
                if not item.optional:
                    break
    return words, classes


def _alone(word: str, sort: str) -> Token:
    """Give a word as a token of its own; a number in digits stands for any."""
    value = wording.NUMBER_WORDS.get(word, 0 if sort == "number" else None)
    return Token(word, 0, 0, word, NO_STOP, sort, value)


def _can_begin(items: tuple[_Item, ...], token: Token) -> bool:
    for item in items:
        if _fits(item, token):
            return True
        if not item.optional:
            return False
    return False
