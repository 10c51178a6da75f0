"""What a found phrase is really said to be: denied, asked, supposed, or about something else.

Negation is exact. "No damage", "damage: none", "not crushed or wet" and "free of damage" deny;
"not only crushed", "nothing but dents" and "no help, box crushed" do not; "not undamaged" denies
a denial.
"""

from __future__ import annotations

from claimkit.findings.receipt_match import Marked, sentence_end
from claimkit.findings.receipt_text import HARD, LINK, NO_STOP, SOFT, Token

NEGATED_SIGHT = frozenset(
    "seen visible found observed present evident apparent detected there noticed".split()
)
# Forms that describe rather than name: "no dents, scratched on the side" denies dents only.
DESCRIBING = frozenset(
    "torn bent wet open short loose rusty damp cut burst burnt broke off apart busted bad rough "
    "moldy soggy dirty greasy leaky crooked dead up in gone warm hot missing frozen twisted".split()
)
LISTED = ("kind", "generic", "vague", "suspicion", "shortage", "overage")
# "Forklift hole" is said of the goods, "forklift broke" of the forklift.
AGENTS = frozenset({"forklift", "fork", "forks", "jack", "hilo", "truck"})
BUILDING = frozenset("lobby hallway stairwell elevator foyer vestibule building stairs".split())
NOUNS = ("handling", "carton", "piece", "goods", "generic", "places")
# "I don't see no dents" denies once; "not without dents" twice.
DIALECT = frozenset(
    "didnt dont doesnt aint isnt wasnt arent werent havent hasnt never cant couldnt".split()
)


def denied(marked: Marked, first: int, head: int, last: int) -> bool:
    """Tell whether the words at `head` to `last` are denied by what stands around them."""
    if head in marked.denied_zone:
        return True
    return _denied_before(marked, min(first, head), head, last) or _denied_after(marked, last)


def _denied_before(marked: Marked, first: int, head: int, last: int) -> bool:
    tokens = marked.tokens
    if any(tokens[at].value == 0 for at in range(head, last)):
        return True
    spans = _list_spans(marked, head)
    at, through_list, comma, either = first - 1, False, False, False
    naming = names_a_thing(tokens, head, last)
    while at >= 0 and tokens[at + 1].stop < HARD:
        token = tokens[at]
        stopped = tokens[at + 1].stop
        if stopped >= SOFT and not (at in spans or "joins" in token.classes):
            return False
        if stopped == LINK and not (at in spans or _negator(marked, at)):
            return False
        comma = comma or stopped >= SOFT
        if _negator(marked, at):
            return _carries(marked, at, through_list, comma, either, naming)
        if "either" in token.classes:
            either = True
        elif "joins" in token.classes or token.classes & {"light", "the"}:
            pass
        elif at in spans:
            through_list = True
            at = spans[at]
        elif token.value == 1 and at and tokens[at - 1].word in ("not", "nary"):
            pass
        elif _none_of(tokens, at):
            at -= 1
        elif token.value is not None and _one_or_of_the(tokens, at):
            pass
        elif not _noun_of_denial(marked, at, naming):
            return False
        at -= 1
    return False


def _none_of(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether the number ends "0 of 6"."""
    if at < 2 or tokens[at].value is None or tokens[at - 1].word != "of":
        return False
    return tokens[at - 2].value == 0 and tokens[at].stop == NO_STOP


def _list_spans(marked: Marked, head: int) -> dict[int, int]:
    """Give the words of damage that may stand in one list with the words at `head`."""
    kinds = [hit for hit in marked.hits if hit.rule.effect in LISTED]
    if not any(hit.head == head for hit in kinds):
        return {}
    spans = {at: hit.head for hit in kinds for at in range(hit.head, hit.last)}
    for hit in marked.hits:
        if hit.rule.effect == "good" and _negator(marked, hit.first):
            spans.update({at: hit.first + 1 for at in range(hit.first + 1, hit.last)})
    return spans


def _carries(
    marked: Marked, at: int, through_list: bool, comma: bool, either: bool, naming: bool
) -> bool:
    """Tell whether the negator at `at` still governs what it was reached from."""
    token = marked.tokens[at]
    strong = "no" in token.classes or token.word in ("free", "clear", "unable", "failed", "fail")
    if through_list and not either and not (strong and naming):
        return False
    if comma and not through_list:
        return False
    return not _denied_again(marked, at)


def _denied_again(marked: Marked, at: int) -> bool:
    """Tell whether the negator is itself denied ("not without dents")."""
    tokens = marked.tokens
    before = at - 1
    while before >= 0 and tokens[before + 1].stop == NO_STOP and "light" in tokens[before].classes:
        before -= 1
    if before < 0 or tokens[before + 1].stop > NO_STOP or not _negator(marked, before):
        return False
    plain_no = tokens[at].word in ("no", "none", "nothing", "nobody", "neither", "nor", "zero")
    return not (plain_no and tokens[before].word in DIALECT) and not (
        plain_no and tokens[before].word in ("no", "none", "nope", "nothing", "neither")
    )


def _negator(marked: Marked, at: int) -> bool:
    token = marked.tokens[at]
    if at in marked.no_denial:
        return False
    if token.word == "zero" and at and marked.tokens[at - 1].word in ("sub", "below"):
        return False
    if token.classes & {"no", "not"}:
        return not _numbers_a_piece(marked.tokens, at)
    if token.sort == "number" and token.value == 0:
        return True
    after = marked.tokens[at + 1].word if at + 1 < len(marked.tokens) else ""
    if token.word in ("free", "clear", "void", "devoid"):
        return after in ("of", "from")
    if token.word in ("unable", "failed", "fail"):
        later = {t.word for t in marked.tokens[at + 1 : at + 4]}
        return bool(later & {"find", "see", "locate", "detect", "spot", "observe", "identify"})
    return False


def _numbers_a_piece(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether "no" is "number": "ctn no 3", "No. 2 crate"."""
    if tokens[at].word != "no" or at + 1 >= len(tokens):
        return False
    after, before = tokens[at + 1], tokens[at - 1] if at else None
    numbered = after.sort in ("number", "code", "pair") and after.value != 0
    unit = before is not None and bool(before.classes & {"handling", "carton", "piece", "goods"})
    return numbered and (unit or after.stop > NO_STOP or before is None)


def _noun_of_denial(marked: Marked, at: int, naming: bool) -> bool:
    """Tell whether the word belongs to what is denied: "no boxes crushed", "no cosmetic damage"."""
    tokens = marked.tokens
    token = tokens[at]
    if token.stop > NO_STOP or token.sort != "word" or "people" in token.classes:
        return False
    noun = bool(token.classes & set(NOUNS)) or at in marked.named
    said = any(hit.head <= at < hit.last for hit in marked.hits)
    unknown = not token.classes and token.word.isalpha() and naming and not said
    if not (noun or unknown):
        return False
    before = at - 1
    steps = 0
    while before >= 0 and steps < 5:
        if _negator(marked, before):
            word = tokens[before].word
            return "no" in tokens[before].classes or word in ("neither", "free") or noun
        passing = tokens[before].classes & {"light", "the", "joins", *NOUNS} or (
            tokens[before].value is not None and _one_or_of_the(tokens, before)
        )
        if tokens[before + 1].stop > NO_STOP or not passing:
            return False
        before -= 1
        steps += 1
    return False


def _one_or_of_the(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether the number stands in "not one box" or "none of the 8 boxes"."""
    before = tokens[at - 1].word if at else ""
    return before in ("of", "the") or (tokens[at].value == 1 and before in ("not", "no"))


def names_a_thing(tokens: tuple[Token, ...], head: int, last: int) -> bool:
    word = tokens[head].word
    describing = word.endswith(("ed", "en", "ing")) or word in DESCRIBING
    return not describing and not tokens[last - 1].word.endswith(("ed", "en"))


def _denied_after(marked: Marked, last: int) -> bool:
    tokens = marked.tokens
    at = last
    asked = False
    if at < len(tokens) and tokens[at].text == "?":
        asked, at = True, at + 1
    if at < len(tokens) and tokens[at].word == "y/n":
        at += 1
    if at >= len(tokens):
        return False
    token = tokens[at]
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    if token.classes & set(NOUNS) and token.stop == NO_STOP and after is not None:
        if after.value == 0 or after.word in ("none", "nil"):
            return True
    if token.word in ("free",):
        return token.stop <= LINK and not (at + 1 < len(tokens) and tokens[at + 1].word == "of")
    linked = asked or token.stop in (LINK, HARD) or tokens[at - 1].word == "="
    ends = at + 1 >= len(tokens) or tokens[at + 1].stop > NO_STOP
    if token.stop < HARD or asked:
        if "none" in token.classes and token.stop != SOFT and (token.word != "nothing" or linked):
            return True
        if token.word in ("no", "n") and (linked or token.stop == NO_STOP) and ends:
            return token.stop < SOFT or asked
        if token.sort == "number" and token.value == 0:
            return True
    return _not_seen(marked, at)


def _not_seen(marked: Marked, at: int) -> bool:
    """Tell whether "was not seen", "not found" follows."""
    tokens = marked.tokens
    while at < len(tokens) and tokens[at].stop == NO_STOP and "be" in tokens[at].classes:
        if tokens[at].classes & {"not", "no"}:
            break
        at += 1
    if at + 1 >= len(tokens) or tokens[at].stop > NO_STOP or "not" not in tokens[at].classes:
        return False
    return any(t.word in NEGATED_SIGHT for t in tokens[at + 1 : at + 3])


def asked(marked: Marked, last: int) -> bool:
    """Tell whether the sentence goes on to a question mark."""
    end = sentence_end(marked.tokens, max(last - 1, 0))
    return any(token.text == "?" for token in marked.tokens[last:end])


def of_the_site(marked: Marked, first: int, head: int, last: int) -> bool:
    """Tell whether damage is said of the place, the truck or a tool and not of the goods."""
    tokens = marked.tokens
    at = min(first, head) - 1
    passing = {"light", "be", "the", "leftright", "stopwords"}
    while at >= 0 and tokens[at + 1].stop <= LINK:
        token = tokens[at]
        if at in marked.covered and marked.covered[at].id == "not-goods":
            if token.classes & {"site"} or tokens[at - 1].classes & {"site", "vehicle"}:
                return True
            break
        if token.classes & {"carton", "handling", "piece", "goods", "generic"}:
            before = tokens[at - 1] if at else token
            return "vehicle" in before.classes and token.stop == NO_STOP
        numbered = token.sort in ("number", "pair") and at > 0
        if numbered and (at - 1 in marked.covered or "site" in tokens[at - 1].classes):
            at -= 1
            continue
        if token.sort in ("number", "pair"):
            return False
        if at == min(first, head) - 1 and token.word in AGENTS and names_a_thing(tokens, head, last):
            return False
        if "site" in token.classes:
            return not _only_the_spot(tokens, at)
        if not token.classes & passing:
            break
        at -= 1
    return _site_follows(tokens, head, last)


def _only_the_spot(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether the place only says where the goods were: "on dock broken"."""
    before = at - 1
    while before >= 0 and tokens[before].classes & {"the", "site"}:
        before -= 1
    return before >= 0 and tokens[before].word in ("on", "in", "at", "by", "off", "from", "inside", "to")


def _at_the_building(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether a part of the building follows: "broken window in lobby"."""
    near = tokens[at : at + 4]
    if any(t.stop > NO_STOP for t in near[1:3]) or len(near) < 3:
        return False
    words = [t.word for t in near]
    return words[1] in ("in", "of", "at") and bool(set(words[2:]) & BUILDING)


def _site_follows(tokens: tuple[Token, ...], head: int, last: int) -> bool:
    after = last
    if after < len(tokens) and tokens[after].word in ("to", "on", "in") and not (
        names_a_thing(tokens, head, last)
    ):
        return False
    if after < len(tokens) and tokens[after].word in ("to", "on", "in"):
        after += 1
        if any(t.classes & {"site"} and t.word in ("truck", "trk", "trailer", "trlr", "dock", "docks") for t in tokens[after : after + 2]):
            return False
    while after < len(tokens) and tokens[after].stop == NO_STOP and "the" in tokens[after].classes:
        after += 1
    if _at_the_building(tokens, after):
        return True
    if after >= len(tokens) or tokens[after].stop > NO_STOP or "site" not in tokens[after].classes:
        return False
    beyond = tokens[after + 1] if after + 1 < len(tokens) else None
    compound = beyond is not None and beyond.stop == NO_STOP and bool(beyond.classes & set(NOUNS))
    return not compound
