"""What a receipt says once negation, reach and reference are settled.

Exceptions, good order, reservations, refusals: an exception is specific where its kind stands with
a piece, a number or a place.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from claimkit.findings.receipt.about import asked, of_the_site, will_be
from claimkit.findings.receipt.beside import PLACED, parts_of
from claimkit.findings.receipt.good import Good, denial, good_denied, good_order
from claimkit.findings.receipt.match import Hit, Marked
from claimkit.findings.receipt.negation import LISTED, denied
from claimkit.findings.receipt.parts import UNITS, Part
from claimkit.findings.receipt.reach import sentence_start
from claimkit.findings.receipt.text import HARD, LINK, NO_STOP, Token

NOT_THESE_GOODS = "about something else"
DAMAGE_OR_LOSS = ("kind", "generic", "vague", "shortage")
MISSING = frozenset({"missing", "short", "lacking"})
HAVING = frozenset({"have", "has", "had", "with", "w/", "of"})


@dataclass(frozen=True, slots=True)
class Said:
    """An exception: its words, its category (an effect of the rules), and the parts it names."""

    hit: Hit
    category: str
    parts: tuple[Part, ...] = ()

    @property
    def specific(self) -> bool:
        """True where a kind stands with a piece, a number or a place."""
        if self.category in ("vague", "suspicion"):
            return False
        wanted = PLACED if self.category in ("kind", "generic") else PLACED[:2]
        return any(part.what in wanted for part in self.parts)


@dataclass(frozen=True, slots=True)
class Reserved:
    """A reservation and whether it is denied."""

    hit: Hit
    full: bool
    denied: bool


@dataclass(frozen=True, slots=True)
class Statements:
    """Everything that the words state. `denials` are the damages and shortages denied."""

    exceptions: tuple[Said, ...]
    good: tuple[Good, ...]
    reservations: tuple[Reserved, ...]
    refusals: tuple[Hit, ...]
    denials: tuple[Hit, ...]

    @property
    def refusal(self) -> Hit | None:
        """Give the first refusal, None where nothing was refused."""
        return self.refusals[0] if self.refusals else None


@dataclass
class _Sorted:
    exceptions: list[Said] = field(default_factory=list)
    good: list[Good] = field(default_factory=list)
    reserved: list[Reserved] = field(default_factory=list)
    refusals: list[Hit] = field(default_factory=list)
    denials: list[Hit] = field(default_factory=list)


def statements(marked: Marked, found: tuple[Part, ...]) -> Statements:
    """Settle what each hit says."""
    out = _Sorted()
    for hit in marked.hits:
        polarity = _polarity(marked, hit)
        if polarity != NOT_THESE_GOODS:
            _sort(marked, hit, found, out, no=polarity == "denied")
    fine = frozenset(
        at
        for good in out.good
        if good.reach != good.hit.rule.id
        for at in range(good.hit.head, good.hit.last)
    )
    return Statements(
        exceptions=tuple(
            Said(e.hit, e.category, parts_of(marked, e.hit, e.category, found, fine))
            for e in out.exceptions
        ),
        good=tuple(good for good in out.good if good.reach != "indicator"),
        reservations=tuple(out.reserved),
        refusals=tuple(out.refusals),
        denials=tuple(out.denials),
    )


def _sort(marked: Marked, hit: Hit, found: tuple[Part, ...], out: _Sorted, *, no: bool) -> None:
    effect = hit.rule.effect
    if effect in LISTED and no:
        out.denials.append(hit)
        out.good.append(denial(marked, hit, found))
    elif effect in LISTED:
        after = marked.tokens[hit.last : hit.last + 1]
        maybe = any(t.stop < HARD and t.word in ("maybe", "perhaps", "possibly") for t in after)
        wondered = asked(marked, hit.last) and _thought(marked, hit)
        unsure = hit.head in marked.unsure or maybe or wondered
        out.exceptions.append(Said(hit, "suspicion" if unsure else effect))
    elif effect in ("good", "full count") and no:
        out.exceptions.append(Said(hit, "vague" if effect == "good" else "shortage"))
    elif effect in ("good", "full count"):
        out.good.append(good_order(marked, hit, found))
    elif effect in ("full reservation", "weak reservation", "no reservation"):
        out.reserved.append(_reserved(marked, hit, no=no))
    elif effect == "refusal" and not no:
        out.refusals.append(hit)
    elif effect == "tripped" and not no:
        out.exceptions.append(Said(hit, "indicator"))


def _reserved(marked: Marked, hit: Hit, *, no: bool) -> Reserved:
    words = marked.tokens[max(0, hit.first - 1) : hit.last]
    effect = hit.rule.effect
    full = effect == "full reservation" or any(token.word == "further" for token in words)
    return Reserved(hit, full, no or effect == "no reservation")


def _polarity(marked: Marked, hit: Hit) -> str:
    """Tell whether the hit is affirmed, denied, or about something else."""
    effect = hit.rule.effect
    if _of_others(marked, hit) or _only_so_many_damaged(marked, hit):
        return NOT_THESE_GOODS
    if effect in ("indicator", "no reservation") or (effect in LISTED and _inner_no(marked, hit)):
        return "affirmed"
    if effect in ("good", "full count"):
        if any(t.text == "?" for t in marked.tokens[hit.last : hit.last + 1]):
            return NOT_THESE_GOODS
        return "denied" if good_denied(marked, hit) else "affirmed"
    if denied(marked, hit.first, hit.head, hit.last):
        return "denied"
    question = asked(marked, hit.last) and not _thought(marked, hit)
    unreal = (effect != "suspicion" and question) or will_be(marked, hit.first)
    return NOT_THESE_GOODS if effect in LISTED and unreal else "affirmed"


def _thought(marked: Marked, hit: Hit) -> bool:
    """Tell whether a question gives a suspicion: "I think it was tampered with??"."""
    words = marked.tokens[sentence_start(marked.tokens, hit.head) : hit.head]
    return any(token.word in ("think", "guess", "suspect", "believe") for token in words)


def _of_others(marked: Marked, hit: Hit) -> bool:
    """Tell whether a person, the place, or a refused service is meant."""
    if hit.rule.effect == "refusal":
        return hit.last in marked.covered
    if _a_surname(marked, hit):
        return True
    if hit.rule.effect not in ("kind", "generic", "vague"):
        return False
    return of_the_site(marked, hit.first, hit.head, hit.last)


def _only_so_many_damaged(marked: Marked, hit: Hit) -> bool:
    """Tell "only 2 boxes crushed", "only 3 of the 4 wet" from "only 2 boxes", "only 3 came"."""
    tokens, at = marked.tokens, hit.last
    if hit.rule.effect != "shortage" or "only" not in tokens[hit.first].classes:
        return False
    before = tokens[hit.first - 1 : hit.first] if tokens[hit.first].stop <= LINK else ()
    if any(token.word in MISSING for token in before):
        return True
    got = any("took" in token.classes for token in before)
    if got or not (tokens[hit.head].word == "of" or tokens[hit.head].classes & UNITS):
        return False
    while at < len(tokens) and tokens[at].stop == NO_STOP and _of_the_count(tokens[at]):
        at += 1
    if at >= len(tokens) or tokens[at].stop > NO_STOP:
        return False
    said = (h for h in marked.hits if h is not hit and h.rule.effect in DAMAGE_OR_LOSS)
    return any(other.first <= at < other.last for other in said)


def _of_the_count(token: Token) -> bool:
    """Tell whether the word may stand between a count and the damage that is said of it."""
    known = token.classes & (UNITS | {"goods", "the", "be", "light"})
    return token.value is not None or bool(known) or token.word in HAVING


def _a_surname(marked: Marked, hit: Hit) -> bool:
    """Tell whether the word is a name behind an initial: "received by M. Dent"."""
    tokens = marked.tokens
    at = hit.head - 1
    if hit.rule.effect not in ("kind", "generic", "vague", "shortage"):
        return False
    if at < 0 or hit.last != hit.head + 1 or len(tokens[at].text) != 1 or tokens[at].word == "a":
        return False
    if at > 0 and tokens[at - 1].text == "?":
        return False  # an answer: "damage? n shortage? y"
    unit = at > 0 and bool(tokens[at - 1].classes & (UNITS | {"goods", "places"}))
    return tokens[at].word.isalpha() and not unit


def _inner_no(marked: Marked, hit: Hit) -> bool:
    """Tell whether the phrase itself holds the "not": "not on truck", "wont close"."""
    words = marked.tokens[hit.first : hit.head]
    return any(token.classes & {"no", "not"} for token in words)
