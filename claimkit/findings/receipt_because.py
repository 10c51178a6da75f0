"""Why a receipt got its grade: the words that decided, where they stand, and why they matter.

Every sentence quotes the words it rests on. The labels of the matches are those of the model.
"""

from __future__ import annotations

from claimkit.findings.receipt_match import Hit
from claimkit.findings.receipt_reading import Read
from claimkit.findings.receipt_said import Said
from claimkit.model.case import Grade, Match, Reservation

CATEGORY = {
    "shortage": "a shortage",
    "overage": "more than listed",
    "indicator": "a tripped indicator",
    "suspicion": "a suspicion of damage",
    "generic": "damage, its kind not said",
    "vague": "that something is wrong, not what",
    "kind": "a kind of damage",
}
WEAK_ALONE = (
    "A general reservation by itself is weak: several carriers treat it as a clear receipt, and a "
    "transport guideline of the produce trade (9.7) says that a generic notation usually preserves "
    "no claim. It is still worth writing where the goods cannot be inspected on the spot."
)


def matches(taken: Read) -> tuple[Match, ...]:
    """Give every match with its span in the text as given, in the order of the text."""
    own = {part for e in taken.said.exceptions for part in e.parts}
    parts = [p for p in dict.fromkeys((*taken.parts, *own)) if p in own or p.what == "extent"]
    counted = [c for c in taken.counts if c.role in ("received", "expected", "short")]
    out = [
        *(_match(taken, h.rule.what, h.first, h.last, h.rule.id) for h in taken.marked.asides),
        *(_hit_match(taken, hit) for hit in taken.marked.hits),
        *(_match(taken, p.what, p.first, p.last, "receipt-parts") for p in parts),
        *(_match(taken, "count", c.first, c.last, "receipt-counts") for c in counted),
    ]
    return tuple(sorted(dict.fromkeys(out), key=lambda m: (m.start, m.end, m.what, m.rule)))


def _hit_match(taken: Read, hit: Hit) -> Match:
    denied = hit in taken.said.denials or any(
        r.hit is hit and r.denied for r in taken.said.reservations
    )
    first = hit.head if hit.rule.effect in ("kind", "vague", "generic") else hit.first
    return _match(taken, "negated" if denied else hit.rule.what, first, hit.last, hit.rule.id)


def _match(taken: Read, what: str, first: int, last: int, rule: str) -> Match:
    start, end = taken.span(first, last)
    return Match(what, taken.words[start:end], start, end, rule)


def because(taken: Read, grade: Grade, reservation: Reservation) -> tuple[str, ...]:
    """Say which words decided and why it matters, the deciding ones first."""
    out: list[str] = []
    if grade is Grade.CONTRADICTORY:
        out += [
            f"{_sentence(clash)} Such a receipt can be read either way." for clash in taken.clash
        ]
    elif grade is Grade.SPECIFIC:
        out += _specific(taken)
    elif grade is Grade.RESERVATION_ONLY:
        out += _reserved(taken, reservation)
    elif grade is Grade.TOO_VAGUE:
        out += _vague(taken)
    elif grade is Grade.CLEAR:
        out += _clear(taken)
    else:
        out += _nothing(taken)
    if grade is Grade.SPECIFIC and reservation is not Reservation.NONE:
        out.append(f"A reservation stands beside it: {_reservation_words(taken)}.")
    out += _asides(taken, grade)
    return tuple(dict.fromkeys(out))


def _sentence(text: str) -> str:
    return text[0].upper() + text[1:] + "."


def _specific(taken: Read) -> list[str]:
    out = []
    for said in taken.said.exceptions:
        if not said.specific:
            continue
        named = [
            f"{p.what} “{taken.text(p.first, p.last)}”" for p in said.parts if p.what != "extent"
        ]
        extent = [taken.text(p.first, p.last) for p in said.parts if p.what == "extent"]
        size = f", extent “{extent[0]}”" if extent else ""
        out.append(
            f"“{_words(taken, said)}” states {CATEGORY[said.category]}, with "
            f"{'; '.join(dict.fromkeys(named))}{size}. {_why(said)}"
        )
    count = taken.short_by_count
    if count is not None:
        out.append(
            f"“{taken.text(count.first, count.last)}” counts fewer received than listed: a "
            "shortage with its number."
        )
    if taken.said.refusal is not None:
        refusal = taken.said.refusal
        out.append(
            f"“{taken.text(refusal.first, refusal.last)}”: a refusal that says what and why."
        )
    return out


def _why(said: Said) -> str:
    if said.category == "generic":
        return "The kind of damage is not said; adding it makes the words stronger."
    return said.hit.rule.why


def _words(taken: Read, said: Said) -> str:
    return taken.text(said.hit.head, said.hit.last)


def _reserved(taken: Read, reservation: Reservation) -> list[str]:
    further = (
        "It says “further”, the stronger form."
        if reservation is Reservation.FULL
        else "It does not say “further”, which makes it weaker still."
    )
    return [
        f"{_reservation_words(taken)} reserves a later inspection. {further}",
        WEAK_ALONE,
        *(
            f"“{_words(taken, said)}” states {CATEGORY[said.category]}, with no piece, number or "
            "place, so only the reservation counts."
            for said in taken.said.exceptions
        ),
    ]


def _reservation_words(taken: Read) -> str:
    held = [r.hit for r in taken.said.reservations if not r.denied]
    return ", ".join(f"“{taken.text(hit.first, hit.last)}”" for hit in held)


def _vague(taken: Read) -> list[str]:
    out = [
        f"“{_words(taken, said)}” states {CATEGORY[said.category]}, and no piece, number or place: "
        "too little for anyone to find it again."
        for said in taken.said.exceptions
    ]
    if taken.said.refusal is not None and not out:
        hit = taken.said.refusal
        out.append(f"“{taken.text(hit.first, hit.last)}” does not say what was refused and why.")
    return out


def _clear(taken: Read) -> list[str]:
    good = [f"“{taken.good_text(g)}”" for g in taken.said.good] or [
        f"“{taken.text(c.first, c.last)}”" for c in taken.counts if c.role == "received"
    ]
    return [
        f"{', '.join(dict.fromkeys(good))}: a statement that all was well, with no exception. It "
        "is evidence against a later claim and no bar to it."
    ]


def _nothing(taken: Read) -> list[str]:
    if not taken.words.strip():
        return ["Nothing is written. The carrier will read it as a clear receipt."]
    return [
        "Nothing in the words speaks of the condition or the count of these goods. The carrier "
        "will read it as a clear receipt."
    ]


EXPLAINED = ("small-print", "small-print-sentence", "handling-label", "other-inspection")


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
