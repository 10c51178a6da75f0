"""Whether words of damage, shortage or reservation are denied by what stands around them.

Negation is exact. "No damage", "damage: none", "not crushed or wet" and "free of damage" deny;
"not only crushed", "nothing but dents" and "no help, box crushed" do not; "not undamaged" denies
a denial.
"""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.findings.receipt.match import Marked
from claimkit.findings.receipt.text import HARD, LINK, NO_STOP, SOFT, Token
from claimkit.rules.wording import book as wording

LISTED = ("kind", "generic", "vague", "suspicion", "shortage", "overage")
NOUNS = frozenset({"handling", "carton", "piece", "goods", "generic", "places"})
STRONG = frozenset({"free", "clear", "unable", "failed", "fail"})
REACH = 5


def denied(marked: Marked, first: int, head: int, last: int) -> bool:
    """Tell whether the words at `head` to `last` are denied by what stands around them."""
    if head in marked.denied_zone:
        return True
    inside = marked.tokens[head + 1 : last]
    if any(t.value == 0 for t in marked.tokens[min(first, head) : head + 1]) or any(
        t.value == 0 or "none" in t.classes for t in inside
    ):
        return True
    # What is answered by itself is in no list: "no shortage, damage: yes".
    spans = {} if answered_yes(marked.tokens, last) else _list_spans(marked, head)
    walk = _Walk(marked, spans, names_a_thing(marked.tokens, head, last))
    return walk.back_from(min(first, head)) or _denied_after(marked, last)


def answered_yes(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether "yes" stands there, or behind question marks; "yes / no" are a form's boxes."""
    first = at
    while at < len(tokens) and tokens[at].text == "?":
        at += 1
    words = [token.word for token in tokens[at : at + 2]]
    if words[:1] not in (["yes"], ["y"]) or words[1:] in (["no"], ["n"], ["/"], ["or"]):
        return False
    return at > first or tokens[at].stop <= LINK


def names_a_thing(tokens: tuple[Token, ...], head: int, last: int) -> bool:
    """Tell a noun of damage ("dents", "damage") from a word that describes ("dented", "wet")."""
    word = tokens[head].word
    describing = word.endswith(("ed", "en", "ing")) or word in wording.READ_AS["describing form"]
    return not describing and not tokens[last - 1].word.endswith(("ed", "en"))


@dataclass
class _Walk:
    """The way back from a word of damage to the negation that may govern it.

    `spans` are the other words of damage that may stand in one list with it, `naming` tells that
    it is a noun.
    """

    marked: Marked
    spans: dict[int, int]
    naming: bool
    through_list: bool = False
    comma: bool = False
    either: bool = False

    def back_from(self, first: int) -> bool:
        """Walk from before token `first`; True where a negation is reached that governs."""
        tokens = self.marked.tokens
        at = first - 1
        while at >= 0 and tokens[at + 1].stop < HARD:
            if not self._may_cross(tokens[at + 1].stop, at):
                return False
            if negator(self.marked, at):
                return self._carries(at)
            step = self._pass(at)
            if step is None:
                return False
            at = step
        return False

    def _may_cross(self, stop: int, at: int) -> bool:
        """Cross a comma only within a list, a dash also after the negation itself."""
        token = self.marked.tokens[at]
        if stop >= SOFT:
            self.comma = True
            return at in self.spans or "joins" in token.classes
        return stop != LINK or at in self.spans or negator(self.marked, at)

    def _pass(self, at: int) -> int | None:
        """Give the next token to look at, None where the walk ends."""
        tokens = self.marked.tokens
        token = tokens[at]
        if token.word == "so" and at and "none" in tokens[at - 1].classes:
            return None
        if "either" in token.classes:
            self.either = True
        elif token.classes & {"joins", "light", "the"}:
            pass
        elif at in self.spans:
            self.through_list = True
            return self.spans[at] - 1
        elif _none_of(tokens, at):
            return at - 2
        elif not (
            (token.value is not None and _one_or_of_the(tokens, at))
            or _noun_of_denial(self.marked, at, naming=self.naming)
        ):
            return None
        return at - 1

    def _carries(self, at: int) -> bool:
        """Tell whether the negator still governs what it was reached from."""
        token = self.marked.tokens[at]
        strong = "no" in token.classes or token.word in STRONG
        if self.through_list and not self.either and not (strong and self.naming):
            return False
        if self.comma and not self.through_list:
            return False
        return not _denied_again(self.marked, at)


def _list_spans(marked: Marked, head: int) -> dict[int, int]:
    kinds = [hit for hit in marked.hits if hit.rule.effect in LISTED]
    own = next((hit for hit in kinds if hit.head == head), None)
    if own is None:
        return {}
    # A list names nothing twice: "no dents, dent on side" is none.
    word = marked.tokens[head].word.rstrip("s")
    kinds = [h for h in kinds if h is own or marked.tokens[h.head].word.rstrip("s") != word]
    spans = {at: hit.head for hit in kinds for at in range(hit.head, hit.last)}
    for hit in marked.hits:
        if hit.rule.effect == "good" and negator(marked, hit.first):
            spans.update(dict.fromkeys(range(hit.first + 1, hit.last), hit.first + 1))
    return spans


def negator(marked: Marked, at: int) -> bool:
    """Tell whether the token denies: no, not, without, zero, free of, unable to find."""
    tokens = marked.tokens
    token = tokens[at]
    if at in marked.no_denial:
        return False
    if token.word == "zero" and at and tokens[at - 1].word in ("sub", "below"):
        return False
    if token.classes & {"no", "not"}:
        return not _numbers_a_piece(tokens, at)
    return (token.sort == "number" and token.value == 0) or _phrase_negator(tokens, at)


def _phrase_negator(tokens: tuple[Token, ...], at: int) -> bool:
    word = tokens[at].word
    after = tokens[at + 1].word if at + 1 < len(tokens) else ""
    if word in ("free", "clear", "void", "devoid"):
        return after in ("of", "from")
    later = {token.word for token in tokens[at + 1 : at + 4]}
    return word in ("unable", "failed", "fail") and bool(later & wording.READ_AS["looking"])


def _denied_again(marked: Marked, at: int) -> bool:
    """Tell whether the negator is itself denied ("not without dents").

    "I don't see no dents" denies once.
    """
    tokens = marked.tokens
    before = at - 1
    while before >= 0 and tokens[before + 1].stop == NO_STOP and "light" in tokens[before].classes:
        before -= 1
    if before < 0 or tokens[before + 1].stop > NO_STOP or not negator(marked, before):
        return False
    plain = wording.READ_AS["plain no"]
    emphatic = tokens[before].word in plain | wording.READ_AS["dialect not"]
    return not (tokens[at].word in plain and emphatic)


def _numbers_a_piece(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether "no" is "number": "ctn no 3", "No. 2 crate"."""
    if tokens[at].word != "no" or at + 1 >= len(tokens):
        return False
    after, before = tokens[at + 1], tokens[at - 1] if at else None
    numbered = after.sort in ("number", "code", "pair") and after.value != 0
    unit = before is not None and bool(before.classes & {"handling", "carton", "piece", "goods"})
    return numbered and (unit or after.stop > NO_STOP or before is None)


def _none_of(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether the number ends "0 of 6"."""
    if at < 2 or tokens[at].value is None or tokens[at - 1].word != "of":
        return False
    return tokens[at - 2].value == 0 and tokens[at].stop == NO_STOP


def _one_or_of_the(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether the number stands in "not one box" or "none of the 8 boxes"."""
    before = tokens[at - 1].word if at else ""
    return before in ("of", "the") or (tokens[at].value == 1 and before in ("not", "no"))


def _noun_of_denial(marked: Marked, at: int, *, naming: bool) -> bool:
    """Tell whether the word belongs to what is denied: "no boxes crushed", "no cosmetic damage"."""
    tokens = marked.tokens
    token = tokens[at]
    if token.stop > NO_STOP or token.sort != "word" or "people" in token.classes:
        return False
    noun = bool(token.classes & NOUNS) or at in marked.named
    said = any(hit.head <= at < hit.last for hit in marked.hits)
    unknown = not token.classes and token.word.isalpha() and naming and not said
    if not (noun or unknown):
        return False
    for before in range(at - 1, max(-1, at - 1 - REACH), -1):
        if negator(marked, before):
            word = tokens[before].word
            return "no" in tokens[before].classes or word in ("neither", "free") or noun
        if tokens[before + 1].stop > NO_STOP or not _passing(tokens, before):
            return False
    return False


def _passing(tokens: tuple[Token, ...], at: int) -> bool:
    if tokens[at].classes & ({"light", "the", "joins"} | NOUNS):
        return True
    return tokens[at].value is not None and _one_or_of_the(tokens, at)


def _denied_after(marked: Marked, last: int) -> bool:
    """Tell whether "none", "no", "0", "free" or "not seen" follows."""
    tokens = marked.tokens
    at = last
    asked = at < len(tokens) and tokens[at].text == "?"
    at += asked
    at += at < len(tokens) and tokens[at].word in ("y/n", "=")
    if at >= len(tokens):
        return False
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    if tokens[at].classes & NOUNS and tokens[at].stop == NO_STOP and after is not None:
        return after.value == 0 or after.word in ("none", "nil")
    if tokens[at].word == "free":
        return tokens[at].stop <= LINK and (after is None or after.word != "of")
    if _are_none(tokens, at):
        return True
    sought = tokens[at].word in wording.READ_AS["sight"] and tokens[at].stop < HARD
    if sought and after is not None and "none" in after.classes and after.stop <= LINK:
        return True
    return _answered_no(tokens, at, asked=asked) or _not_seen(tokens, at) or _but_not(tokens, at)


def _are_none(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether "there are none", "there isn't any", "I see none" follows and ends."""
    words = [t.word for t in tokens[at : at + 3]]
    if words[:1] == ["theres"]:
        words, at = ["there", "is", *words[1:2]], at - 1
    if len(words) < 3 or not (words[0] == "there" or words[1] in ("see", "saw", "found")):
        return False
    ends = at + 3 >= len(tokens) or tokens[at + 3].stop > NO_STOP
    none = "none" in tokens[at + 2].classes
    denied = (
        words[0] == "there"
        and tokens[at].stop < SOFT
        and "not" in tokens[at + 1].classes
        and words[2] == "any"
    )
    return words[0] in ("there", "i", "we") and ends and (none or denied)


def _but_not(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether "but it is not" follows: "thought it was broken but its not"."""
    if tokens[at].word not in ("but", "however"):
        return False
    at += 1
    while at < len(tokens) and tokens[at].classes & {"the", "be", "generic"}:
        if "not" in tokens[at].classes:
            break
        at += 1
    ends = at + 1 >= len(tokens) or tokens[at + 1].stop > NO_STOP
    return at < len(tokens) and "not" in tokens[at].classes and ends


def _answered_no(tokens: tuple[Token, ...], at: int, *, asked: bool) -> bool:
    token = tokens[at]
    if token.stop >= HARD and not asked:
        return False
    linked = asked or token.stop in (LINK, HARD) or tokens[at - 1].word == "="
    if "none" in token.classes and token.stop != SOFT and (token.word != "nothing" or linked):
        return True
    ends = at + 1 >= len(tokens) or tokens[at + 1].stop > NO_STOP
    next_asked = (
        linked
        and at + 2 < len(tokens)
        and (tokens[at + 2].stop == LINK or tokens[at + 2].text == "?")
    )
    if token.word in ("no", "n") and (linked or token.stop == NO_STOP) and (ends or next_asked):
        return token.stop < SOFT or asked
    return token.sort == "number" and token.value == 0


def _not_seen(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether "was not seen", "not found" follows."""
    while (
        at < len(tokens)
        and tokens[at].stop == NO_STOP
        and "be" in tokens[at].classes
        and not tokens[at].classes & {"not", "no"}
    ):
        at += 1
    if at + 1 >= len(tokens) or tokens[at].stop > NO_STOP or "not" not in tokens[at].classes:
        return False
    return any(token.word in wording.READ_AS["sight"] for token in tokens[at + 1 : at + 3])
