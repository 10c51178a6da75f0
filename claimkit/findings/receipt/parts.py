"""Which piece, how many, where on it, how big: what makes an exception specific.

A box alone is no piece that can be found again, "box 3" and "vanity top" are. Dates, times, seal
and gate numbers are no counts.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from claimkit.findings.receipt.match import Marked
from claimkit.findings.receipt.negation import names_a_thing
from claimkit.findings.receipt.reach import sentence_end
from claimkit.findings.receipt.text import LINK, NO_STOP, SOFT, Token
from claimkit.rules.wording import book as wording

UNITS = frozenset({"handling", "carton", "piece"})
LONGEST_COUNT = 9999
GOODS = "goods"


@dataclass(frozen=True, slots=True)
class Part:
    """Words that tell which piece, how many, where or how big: tokens `first` to `last`."""

    what: str
    first: int
    last: int
    value: int | None = None


def parts(marked: Marked) -> tuple[Part, ...]:
    """Find every such part among the tokens that no aside covers."""
    found: list[Part] = []
    for at, token in enumerate(marked.tokens):
        if at in marked.covered:
            continue
        readings = (_label, _quantity, _place, _goods, _described, _sized)
        found += [part for part in (read(marked, at) for read in readings) if part is not None]
        if token.sort == "size":
            found.append(Part("extent", at, at + 1))
    return tuple(found)


def is_count(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether the number at `at` counts goods: no code, measure, label or time of day."""
    token = tokens[at]
    if token.value is None or token.sort not in ("number", "word") or token.value > LONGEST_COUNT:
        return False
    if _this_one(tokens, at):
        return False
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    if after is not None and after.stop <= LINK and after.classes & {"measures"}:
        return bool(after.classes & UNITS)
    return not coded(tokens, at) and not is_label(tokens, at)


def _this_one(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell "this one damaged" from "one damaged" and "the one box"."""
    if (
        tokens[at].word != "one"
        or not at
        or tokens[at - 1].word not in wording.READ_AS["which one"]
    ):
        return False
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    return after is None or after.stop > NO_STOP or not after.classes & (UNITS | {"goods"})


def coded(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether the number is that of a paper, a vehicle or a place: "PO 4", "job no 3"."""
    before = at - 1
    while before >= 0 and tokens[before].word in ("#", "no", "number", "num"):
        before -= 1
    if before < 0 or tokens[before + 1].stop > LINK:
        return False
    word = tokens[before]
    near_took = "took" in word.classes
    return ("codes" in word.classes and not near_took) or word.word in (
        "at",
        "call",
        "til",
        "till",
        "until",
        "age",
    )


def is_label(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether the number names a piece: "ctn 4", "box #3", "crate no 2"."""
    return _next_name(tokens, at) or _names(tokens, at)


def _names(tokens: tuple[Token, ...], at: int) -> bool:
    before = at - 1
    marked_number = False
    while before >= 0 and tokens[before].word in wording.READ_AS["numbering"]:
        marked_number = True
        before -= 1
    if before < 0 or tokens[before + 1].stop > LINK:
        return marked_number and before < at - 1
    word = tokens[before]
    if word.value is not None and word.sort == "number":
        return False
    if _listed_label(tokens, before, at):
        return True
    singular = bool(word.classes & (UNITS | {"goods"})) and _singular(word.word)
    unit_after = (
        at + 1 < len(tokens)
        and tokens[at + 1].stop == NO_STOP
        and bool(tokens[at + 1].classes & UNITS)
    )
    if tokens[before + 1].stop > NO_STOP and not marked_number:
        return False
    if before and tokens[before - 1].word in wording.READ_AS["ordinal"] | {"one"}:
        return False
    return marked_number or (singular and not unit_after)


def _next_name(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether the number goes on with names of pieces: the 5 of "boxes 2, 5 wet"."""
    if at < 2 or tokens[at].stop != SOFT or tokens[at - 1].sort != "number":
        return False
    if (tokens[at].value or 0) <= (tokens[at - 1].value or 0):
        return False  # "boxes 10, 8 ok 2 wet": names go up, these are counts
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    if after is not None and after.stop == NO_STOP and after.classes & (UNITS | {"goods"}):
        return False
    if _next_name(tokens, at - 1):
        return True
    head = tokens[at - 2]
    return bool(head.classes & UNITS) and not _singular(head.word) and tokens[at - 1].stop <= LINK


def _listed_label(tokens: tuple[Token, ...], before: int, at: int) -> bool:
    """Tell whether the number stands in a list of names: "skids 1 & 2", "boxes 2, 5, 7"."""
    after = tokens[at + 1 : at + 3]
    listed = len(after) == 2 and (
        (after[0].word in wording.READ_AS["listing"] and after[1].sort == "number")
        or (after[0].sort == "number" and after[0].stop == SOFT)
    )
    if tokens[before].classes & UNITS and listed:
        return True
    earlier = before - 1
    if tokens[before].word in wording.READ_AS["listing"] and earlier >= 0:
        return tokens[earlier].sort == "number" and is_label(tokens, earlier)
    return False


def _singular(word: str) -> bool:
    return not word.endswith("s") or word in ("glass", "plts", "cs")


def _label(marked: Marked, at: int) -> Part | None:
    tokens = marked.tokens
    token = tokens[at]
    if token.sort in ("number", "pair", "code") or (token.sort == "word" and token.value):
        short = token.sort in ("code", "pair") or (token.value or 0) <= LONGEST_COUNT
        if short and is_label(tokens, at) and not coded(tokens, at):
            listed = at > 0 and tokens[at - 1].word in wording.READ_AS["listing"]
            first = at if not at or listed or tokens[at - 1].sort == "number" else at - 1
            while first > 0 and tokens[first].word in ("#", "no", "number", "num"):
                first -= 1
            return Part("which piece", first, at + 1)
        if token.sort == "code" and at and tokens[at - 1].classes & UNITS:
            return Part("which piece", at - 1, at + 1)
        return None
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    if token.sort == "ordinal" and after is not None and after.classes & (UNITS | {"goods"}):
        return Part("which piece", at, at + 2)
    single = (
        token.sort == "word"
        and len(token.text) == 1
        and token.word not in wording.READ_AS["no label"]
    )
    if token.word == "a" and (
        after is None or after.word in wording.READ_AS["a bit"] or after.stop > NO_STOP
    ):
        single = False
    if single and at and token.stop == NO_STOP and tokens[at - 1].classes & UNITS:
        return Part("which piece", at - 1, at + 1)
    return None


def _quantity(marked: Marked, at: int) -> Part | None:
    tokens = marked.tokens
    token = tokens[at]
    if token.word == "all" or token.word in (
        "both",
        "every",
        "entire",
        "whole",
        "each",
        "everything",
    ):
        near = tokens[at + 1 : at + 4]
        if token.word in ("both", "everything") or any(
            t.stop == NO_STOP and t.classes & (UNITS | {"goods", "generic"}) for t in near
        ):
            return Part("how many", at, at + 1, token.value)
        return None
    counts = token.sort == "pair" and not is_label(tokens, at)
    if not (counts or is_count(tokens, at)) or token.value == 0:
        return None
    last = _noun_after(marked, at)
    if last is None and at and tokens[at].stop <= LINK:
        last = at + 1 if tokens[at - 1].word in wording.READ_AS["how many"] else None
    if last is None:
        return None
    return Part("how many", at, last, token.value)


def _noun_after(marked: Marked, at: int) -> int | None:
    """Give the end of the unit or goods noun that the number counts, or None."""
    tokens = marked.tokens
    for step in range(1, 5):
        here = at + step
        if here >= len(tokens) or tokens[here].stop > NO_STOP or here in marked.covered:
            return None
        token = tokens[here]
        if token.classes & (UNITS | {"goods"}) or here in marked.named:
            return here + 1
        if token.sort not in ("word", "size") or token.classes & {
            "people",
            "took",
            "not",
            "no",
            "measures",
        }:
            return None
    return None


def _place(marked: Marked, at: int) -> Part | None:
    tokens = marked.tokens
    token = tokens[at]
    vague = (h for h in marked.hits if h.rule.effect == "vague")
    if "places" not in token.classes or any(h.head <= at < h.last for h in vague):
        return None
    if token.word in ("thru", "through", "left", "right", "lt", "rt", "lft", "rgt"):
        if "leftright" not in token.classes:
            return None
        around = [tokens[i] for i in (at - 1, at + 1) if 0 <= i < len(tokens)]
        if not any("beside_leftright" in t.classes for t in around):
            return None
    return Part("where on it", at, at + 1)


def _goods(marked: Marked, at: int) -> Part | None:
    token = marked.tokens[at]
    if ("goods" not in token.classes and at not in marked.named) or _says_no_piece(marked, at):
        return None
    if at in marked.named:
        return Part("which piece", at, at + 1)
    if "generic" in token.classes:
        return None
    inside = [hit for hit in marked.hits if hit.head <= at < hit.last]
    if any(
        hit.rule.effect not in ("shortage", "overage") and hit.rule.id != "wrong-goods"
        for hit in inside
    ):
        return None
    return Part("which piece", at, at + 1)


def _says_no_piece(marked: Marked, at: int) -> bool:
    """Tell whether the noun names a load, a purpose or a deed: "tile order", "for kitchen"."""
    tokens = marked.tokens
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    if after is not None and after.stop == NO_STOP:
        whole = next((i for i in range(at, len(tokens)) if i not in marked.named), at + 1)
        here = tokens[whole] if whole < len(tokens) else after
        if here.word in wording.READ_AS["whole load"] and here.stop == NO_STOP:
            return True
        if tokens[at].word == "saw" and after.word in ("it", "the", "this", "that", "damage", "us"):
            return True
    return bool(at and tokens[at].stop == NO_STOP and tokens[at - 1].word in ("for", "w/out"))


def _described(marked: Marked, at: int) -> Part | None:
    tokens = marked.tokens
    if "describing" not in tokens[at].classes or at + 1 >= len(tokens):
        return None
    after = tokens[at + 1]
    if after.stop == NO_STOP and after.classes & UNITS:
        return Part("which piece", at, at + 2)
    return None


def _sized(marked: Marked, at: int) -> Part | None:
    """Give a piece named by its size: "the 28 x 76 panel", "4x8 sheet"."""
    tokens = marked.tokens
    if tokens[at].sort != "size" or at + 1 >= len(tokens) or "x" not in tokens[at].word:
        return None
    after = tokens[at + 1]
    if after.stop == NO_STOP and after.classes & (UNITS | {"goods", "generic"}):
        return Part("which piece", at, at + 2)
    return None


def named_beside(marked: Marked, first: int, head: int, last: int) -> Part | None:
    """Give an unlisted noun that the damage is said of: "credenza cracked", "dent in bezel"."""
    tokens = marked.tokens
    at = first - 1
    while (
        0 <= at < len(tokens) - 1
        and tokens[at + 1].stop == NO_STOP
        and (tokens[at].classes & {"be", "light"})
    ):
        at -= 1
    describes = not names_a_thing(tokens, head, last)
    if (
        describes
        and 0 <= at < len(tokens) - 1
        and tokens[at + 1].stop <= LINK
        and _could_be_goods(marked, at)
    ):
        named_by_other = (
            at > 0 and tokens[at].stop == NO_STOP and tokens[at - 1].classes & {"people"}
        )
        if not named_by_other:
            return Part("which piece", at, at + 1)
    after = last
    if after < len(tokens) and tokens[after].word in (
        "in",
        "on",
        "to",
        "of",
        "along",
        "across",
        "near",
    ):
        after += 1
        while after < len(tokens) and tokens[after].classes & {"the", "leftright"}:
            after += 1
        if after < len(tokens) and tokens[after].stop < SOFT and _could_be_goods(marked, after):
            return Part("which piece", after, after + 1)
    return None


def _could_be_goods(marked: Marked, at: int) -> bool:
    token = marked.tokens[at]
    if token.sort != "word" or at in marked.covered or not token.word.isalpha():
        return False
    if any(hit.first <= at < hit.last for hit in marked.hits):
        return False
    if at and marked.tokens[at - 1].word in ("mr", "mrs", "ms", "per", "by"):
        return False
    if at and marked.tokens[at - 1].word in wording.READ_AS["whereto"]:
        return False
    if token.word.endswith(("ly", "ing", "ed", "ful", "ish")):
        return False
    return len(token.word) >= 4 and not token.classes and token.value is None


def all_that_came(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether the sentence ends a count: "six is all we got", "that's what we received"."""
    words = [t.word for t in tokens[at : sentence_end(tokens, at)]]
    return any(
        first in ("all", "what") and who in ("we", "i") and took in wording.CLASSES["took"]
        for first, who, took in zip(words, words[1:], words[2:], strict=False)
    )


def is_whole(tokens: tuple[Token, ...], first: int, last: int) -> bool:
    """Tell whether a count is the whole: "total 14", "6 total", "3 skids, that is all"."""
    if any(tokens[i].word in wording.READ_AS["total"] for i in _beside(tokens, first, last)):
        return True
    words = [t.word for t in tokens[last : sentence_end(tokens, first)]]
    return any(
        word in ("thats", "is", "was") and after in ("all", "every", "it", "everything", "what")
        for word, after in pairwise(words)
    )


def _beside(tokens: tuple[Token, ...], first: int, last: int) -> list[int]:
    """Give where a "total" of this count may stand: in "9 ctns, total 14" it is the other's."""
    after = []
    for at in range(first + 1, min(last + 2, len(tokens))):
        if tokens[at].stop >= SOFT and any(t.value for t in tokens[at + 1 : at + 2]):
            break
        after.append(at)
    paused = tokens[first].stop > NO_STOP
    first -= first > 1 and tokens[first - 1].word == "of"
    of_another = (first > 1 and tokens[first - 2].value is not None) or (
        first > 2 and tokens[first - 3].value is not None and paused
    )
    return after if of_another or not first else [*after, first - 1]


def kind_of_unit(word: str) -> str:
    """Give the class of a unit's name: handling, carton, piece, goods, or "" where none is known.

    "wood crate" and "crates" are handling units; "box" is a carton, "door" an article.
    """
    parts = word.lower().split()
    for name in ("handling", "carton", "piece", GOODS):
        if parts and {parts[-1], parts[-1].rstrip("s")} & set(wording.CLASSES[name]):
            return name
    return ""
