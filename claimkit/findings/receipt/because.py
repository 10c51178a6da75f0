"""Why a receipt got its grade: the words that decided and what each of them says, in few words.

Every sentence quotes the words it rests on, and no word is quoted as two things. The labels of the
matches are those of the model.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from claimkit.findings.receipt.counts import Count
from claimkit.findings.receipt.match import Hit
from claimkit.findings.receipt.negation import LISTED
from claimkit.findings.receipt.parts import Part
from claimkit.findings.receipt.reading import Read
from claimkit.findings.receipt.said import Said
from claimkit.findings.receipt.text import NO_STOP
from claimkit.model.receipt import Grade, Match, Reservation

MOST_SENTENCES = 3
# What one word and what several words state.
CATEGORY = {
    "kind": ("a kind of damage", "kinds of damage"),
    "indicator": ("a tripped indicator", "tripped indicators"),
    "shortage": ("a shortage", "shortages"),
    "overage": ("more than listed", "more than listed"),
    "generic": ("damage, its kind not said", "damage, its kind not said"),
    "suspicion": ("a suspicion of damage", "a suspicion of damage"),
    "vague": ("that something is wrong, not what", "that something is wrong, not what"),
}
# In the order in which words that could be two things are settled.
TELLS = {
    "which piece": "which piece",
    "how many": "how many",
    "where on it": "where",
    "extent": "how far",
    "count": "",
}
WEAK_ALONE = (
    "Alone it preserves little: several carriers treat it as a clear receipt, and a transport "
    "guideline of the produce trade (9.7) says that a generic notation usually preserves no claim."
)
EXPLAINED = ("small-print", "small-print-sentence", "handling-label", "other-inspection")
JOINED = (*TELLS, "kind of damage")
_ONE_PHRASE = re.compile(r"[\s-]*")


def matches(taken: Read) -> tuple[Match, ...]:
    """Give every match with its span in the text as given, in the order of the text.

    Neighbours that say the same are one match ("lower left corner"), and no word of a part is
    given twice.
    """
    out = [
        *(_match(taken, h.rule.what, h.first, h.last, h.rule.id) for h in taken.marked.asides),
        *_joined(taken, [_hit_match(taken, hit) for hit in taken.marked.hits]),
        *_parts(taken, taken.said.exceptions, taken.counts),
    ]
    return tuple(sorted(dict.fromkeys(out), key=lambda m: (m.start, m.end, m.what, m.rule)))


def _parts(taken: Read, exceptions: Iterable[Said], counts: tuple[Count, ...] = ()) -> list[Match]:
    """Give the parts of the exceptions, sizes and counts, each word as one thing only."""
    own = {part for e in exceptions for part in e.parts}
    found = [p for p in dict.fromkeys((*taken.parts, *own)) if p in own or p.what == "extent"]
    told = ("received", "expected", "short")
    found += [Part("count", c.first, c.last) for c in counts if c.role in told]
    order = list(TELLS)
    found.sort(key=lambda p: (p.first - p.last, order.index(p.what)))
    taken_up: set[int] = set()
    kept = []
    for part in found:
        span = set(range(part.first, part.last))
        if not span & taken_up:
            taken_up |= span
            kept.append(part)
    kept.sort(key=lambda p: p.first)
    rules = {"count": "receipt-counts"}
    return _joined(
        taken,
        [_match(taken, p.what, p.first, p.last, rules.get(p.what, "receipt-parts")) for p in kept],
    )


def _joined(taken: Read, found: list[Match]) -> list[Match]:
    """Join neighbours that say the same; a number ends the name of a piece."""
    out: list[Match] = []
    for match in found:
        last = out[-1] if out else None
        gap = taken.words[last.end : match.start] if last else "."
        alike = last is not None and last.what == match.what and match.what in JOINED
        alike = alike and last is not None and not last.text[-1].isdigit()
        if last is not None and alike and _ONE_PHRASE.fullmatch(gap):
            text = taken.words[last.start : match.end]
            out[-1] = Match(last.what, text, last.start, match.end, last.rule)
        else:
            out.append(match)
    return out


def _hit_match(taken: Read, hit: Hit) -> Match:
    denied = hit in taken.said.denials or any(
        r.hit is hit and r.denied for r in taken.said.reservations
    )
    listed = hit.rule.effect in LISTED
    if listed and not denied and not any(e.hit is hit for e in taken.said.exceptions):
        return _match(taken, "something else", hit.head, hit.last, hit.rule.id)
    kinds = hit.rule.effect in ("kind", "vague", "generic")
    first = _begins(taken, hit) if kinds else hit.first
    return _match(taken, "negated" if denied else hit.rule.what, first, hit.last, hit.rule.id)


def _begins(taken: Read, hit: Hit) -> int:
    """Give the token that says it, with the "never" or "not" of the phrase: "never came"."""
    before = taken.marked.tokens[hit.first : hit.head]
    return hit.first if any(t.classes & {"no", "not"} for t in before) else hit.head


def _match(taken: Read, what: str, first: int, last: int, rule: str) -> Match:
    start, end = taken.span(first, last)
    return Match(what, taken.words[start:end], start, end, rule)


def because(taken: Read, grade: Grade, reservation: Reservation) -> tuple[str, ...]:
    """Say in at most three short sentences which words decided, the deciding ones first."""
    out: list[str] = []
    if grade is Grade.CONTRADICTORY:
        out = [_sentence(clash) for clash in taken.clash]
    elif grade is Grade.SPECIFIC:
        out = _specific(taken, reservation)
    elif grade is Grade.RESERVATION_ONLY:
        out = _reserved(taken, reservation)
    elif grade is Grade.TOO_VAGUE:
        out = _vague(taken)
    elif grade is Grade.CLEAR:
        out = _clear(taken)
    elif taken.words.strip():
        out = ["Nothing in the words speaks of the condition or the count of these goods."]
    else:
        out = ["Nothing is written."]
    out += _asides(taken, grade)
    return tuple(dict.fromkeys(out))[:MOST_SENTENCES]


def _sentence(text: str) -> str:
    return text[0].upper() + text[1:] + "."


def _quoted(words: Iterable[str]) -> str:
    return ", ".join(f"“{word}”" for word in dict.fromkeys(" ".join(w.split()) for w in words))


def _stated(taken: Read, exceptions: Iterable[Said]) -> str:
    """Say what the exceptions state: "“crushed”, “bent” state kinds of damage"."""
    said = tuple(exceptions)
    out = []
    for category, (one, several) in CATEGORY.items():
        words = _quoted(_phrases(taken, [e for e in said if e.category == category]))
        if words:
            many = words.count("“") > 1
            out.append(f"{words} {'state' if many else 'states'} {several if many else one}")
    return "; ".join(out)


def _phrases(taken: Read, exceptions: list[Said]) -> list[str]:
    """Give the words of each exception, neighbours as one: "torn open"."""
    hits = [(_begins(taken, e.hit), e.hit.last) for e in exceptions]
    spans: list[tuple[int, int]] = []
    for head, last in sorted(hits):
        if spans and head == spans[-1][1] and taken.marked.tokens[head].stop == NO_STOP:
            spans[-1] = (spans[-1][0], last)
        else:
            spans.append((head, last))
    return [taken.text(*span) for span in spans]


def _specific(taken: Read, reservation: Reservation) -> list[str]:
    counted = [e for e in taken.said.exceptions if e.specific]
    refused, count = taken.said.refusal, taken.short_by_count
    out: list[str] = []
    if counted:
        out += [f"{_stated(taken, counted)}.", _told(taken, counted)]
    beside = []
    if count is not None:
        beside.append(
            f"“{taken.text(count.first, count.last)}” counts fewer received than listed: a "
            "shortage with its number"
        )
    if refused is not None:
        words = taken.text(refused.first, refused.last)
        beside.append(f"“{words}” is a refusal that says what and why")
    if reservation is not Reservation.NONE:
        beside.append(f"{_reservation_words(taken)} stands beside it as a reservation")
    return [*out, *([f"{'; '.join(beside)}."] if beside else [])]


def _told(taken: Read, exceptions: list[Said]) -> str:
    """Say what the words beside them tell: "“Skid 2” says which piece, “lower corner” where"."""
    found = _parts(taken, exceptions)
    out: list[str] = []
    for what, tells in TELLS.items():
        words = _quoted(m.text for m in found if m.what == what)
        if words:
            verb = "" if out else ("say " if words.count("“") > 1 else "says ")
            out.append(f"{words} {verb}{tells}")
    return ", ".join(out) + "."


def _reserved(taken: Read, reservation: Reservation) -> list[str]:
    further = (
        "it says “further”, the stronger form, and is weak all the same"
        if reservation is Reservation.FULL
        else "it does not say “further”, which makes it weaker still"
    )
    out = [f"{_reservation_words(taken)} reserves a later inspection; {further}.", WEAK_ALONE]
    if taken.said.exceptions:
        out.append(f"{_stated(taken, taken.said.exceptions)}, with no piece, number or place.")
    return out


def _reservation_words(taken: Read) -> str:
    held = [r.hit for r in taken.said.reservations if not r.denied]
    return _quoted(taken.text(hit.first, hit.last) for hit in held)


def _vague(taken: Read) -> list[str]:
    if taken.said.exceptions:
        return [f"{_stated(taken, taken.said.exceptions)}, with no piece, number or place."]
    hit = taken.said.refusal
    if hit is None:
        return []
    return [f"“{taken.text(hit.first, hit.last)}” does not say what was refused and why."]


def _clear(taken: Read) -> list[str]:
    good = [taken.good_text(g) for g in taken.said.good] or [
        taken.text(c.first, c.last) for c in taken.counts if c.role == "received"
    ]
    verb = "state" if len(set(good)) > 1 else "states"
    return [f"{_quoted(good)} {verb} that all was well, with no exception."]


def _asides(taken: Read, grade: Grade) -> list[str]:
    """Say of print, labels and other inspections that they do not count."""
    out = [
        f"“{taken.text(hit.first, hit.last)}” does not count. {hit.rule.why}"
        for hit in taken.marked.asides
        if hit.rule.id in EXPLAINED
    ]
    denied = [r.hit for r in taken.said.reservations if r.denied]
    out += [f"“{taken.text(hit.first, hit.last)}” reserves nothing." for hit in denied]
    seen = any(hit.rule.effect == "indicator" for hit in taken.marked.hits)
    if seen and grade in (Grade.CLEAR, Grade.NOT_STATED):
        out.append("An indicator that did not trip says nothing about the goods.")
    return out
