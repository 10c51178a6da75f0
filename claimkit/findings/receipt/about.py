"""Whether words of damage speak of these goods now, or of the place, a question, or the future.

"Dock plate broken", "driver scratched the wall" and "broken window in lobby" say nothing of the
goods; "forklift hole in ctn 2" does.
"""

from __future__ import annotations

from claimkit.findings.receipt.match import Marked
from claimkit.findings.receipt.negation import LISTED, NOUNS, answered_yes, names_a_thing
from claimkit.findings.receipt.reach import sentence_end, sentence_start
from claimkit.findings.receipt.text import LINK, NO_STOP, SOFT, Token
from claimkit.rules.wording import book as wording

PASSED = frozenset({"light", "be", "the", "leftright", "stopwords", "describing"})
PLACED = frozenset({"carton", "handling", "piece", "goods", "generic"})


def asked(marked: Marked, last: int) -> bool:
    """Tell whether the clause, or the sentence of a question word, ends in a question mark.

    A question that "yes" answers is none: "damage? yes, ctn 2".
    """
    tokens = marked.tokens
    end = sentence_end(tokens, max(last - 1, 0))
    first = tokens[sentence_start(tokens, max(last - 1, 0))]
    if first.word not in wording.READ_AS["asking"]:
        while last < end and tokens[last].stop < SOFT and tokens[last].text != "?":
            last += 1
        end = min(end, last + 1)
    mark = next((at for at in range(last, end) if tokens[at].text == "?"), None)
    return mark is not None and not answered_yes(tokens, mark)


def will_be(marked: Marked, first: int) -> bool:
    """Tell whether the words speak of what may yet come: "will break", "would be ruined"."""
    tokens = marked.tokens
    at = first - 1
    while at >= 0 and tokens[at + 1].stop == NO_STOP and tokens[at].word in ("be", "get"):
        at -= 1
    future = wording.READ_AS["future"]
    return at >= 0 and tokens[at + 1].stop == NO_STOP and tokens[at].word in future


def of_the_site(marked: Marked, first: int, head: int, last: int) -> bool:
    """Tell whether damage is said of the place, the truck or a tool and not of the goods."""
    tokens = marked.tokens
    if first < head and tokens[first].word in wording.READ_AS["agent"]:
        return False
    others = {
        i for hit in marked.hits if hit.rule.effect in LISTED for i in range(hit.head, hit.last)
    }
    at = min(first, head) - 1
    while at >= 0 and tokens[at + 1].stop <= LINK:
        beside = at == min(first, head) - 1
        spot = _spot_before(tokens, at)
        if spot is not None or at in others:
            at = at - 1 if spot is None else spot
            continue
        answer = _subject(marked, at, (head, last), beside=beside)
        if answer is not None:
            return answer
        numbered = tokens[at].sort in ("number", "pair")
        if not numbered and not (tokens[at].classes & PASSED):
            break
        at -= 2 if numbered else 1
    return _site_follows(tokens, head, last)


def _spot_before(tokens: tuple[Token, ...], at: int) -> int | None:
    """Skip a noun that only says where the subject is: "wall behind fridge is stained"."""
    before = at - 1
    while before >= 0 and "the" in tokens[before].classes:
        before -= 1
    place = before > 0 and tokens[before].word in wording.READ_AS["locative"]
    return before - 1 if place and tokens[at].classes & PLACED else None


def _subject(marked: Marked, at: int, said: tuple[int, int], *, beside: bool) -> bool | None:
    """Tell whether the word is the site (True), the goods (False), or no subject (None)."""
    tokens = marked.tokens
    token, before = tokens[at], tokens[at - 1] if at else None
    of_vehicle = before is not None and bool(before.classes & {"site", "vehicle"})
    aside = marked.covered[at].id if at in marked.covered else ""
    if aside in ("site-name", "not-goods"):
        return True if aside == "site-name" or token.classes & {"site"} or of_vehicle else None
    if at in marked.named:
        return False
    if token.classes & PLACED:
        return token.stop == NO_STOP and (
            _after_the_site(marked, at) or (_of_numbered(tokens, at) and "places" in token.classes)
        )
    if token.sort in ("number", "pair"):
        of_site = at > 0 and (at - 1 in marked.covered or "site" in tokens[at - 1].classes)
        return _part_of_building(tokens, at - 1) or (None if of_site else False)
    leaks = tokens[said[0]].word.startswith(("leak", "smell", "stink"))
    if beside and not leaks and token.word in wording.READ_AS["agent"] and _done_by(tokens, said):
        return False
    return _place_or_paper(marked, at, said[0], of_vehicle=of_vehicle)


def _place_or_paper(marked: Marked, at: int, said: int, *, of_vehicle: bool) -> bool | None:
    """Tell whether the word is a place, a part of one ("dock 4 light") or a paper."""
    tokens = marked.tokens
    token = tokens[at]
    if "site" in token.classes:
        return not _only_the_spot(tokens, at)
    if token.word in wording.READ_AS["paper"]:
        return True if all("be" in t.classes for t in tokens[at + 1 : said]) else None
    if "places" in token.classes and (_after_the_site(marked, at) or _of_numbered(tokens, at)):
        return token.stop == NO_STOP
    known = token.classes & PASSED if _of_numbered(tokens, at) else token.classes
    of_site = of_vehicle or _of_numbered(tokens, at)
    return True if of_site and not known and token.stop == NO_STOP else None


def _of_numbered(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether the word stands behind a numbered place: "dock 4 light", "gate 3 hinge"."""
    return at > 1 and tokens[at - 1].sort == "number" and "site" in tokens[at - 2].classes


def _after_the_site(marked: Marked, at: int) -> bool:
    """Tell whether the noun belongs to the site: "truck door", "shutoff valve"."""
    tokens = marked.tokens
    named = marked.covered.get(at - 1)
    if _part_of_building(tokens, at):
        return True
    return _vehicle(tokens, at) or (named is not None and named.id == "site-name")


def _part_of_building(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether it is a part of a building: "office window", "our pallet rack"."""
    if at < 1 or tokens[at].word not in wording.READ_AS["part of a building"]:
        return False
    at -= at > 1 and tokens[at - 1].word == "pallet"
    return tokens[at - 1].word in wording.READ_AS["of a building"]


def _vehicle(tokens: tuple[Token, ...], at: int) -> bool:
    return at > 0 and "vehicle" in tokens[at - 1].classes


def _done_by(tokens: tuple[Token, ...], said: tuple[int, int]) -> bool:
    """Tell "forklift hole", "forklift stabbed 1 roll" from "forklift broke"."""
    head, last = said
    object_follows = (
        last < len(tokens)
        and tokens[last].stop == NO_STOP
        and (tokens[last].value is not None or bool(tokens[last].classes & ({"the"} | NOUNS)))
    )
    return object_follows or names_a_thing(tokens, head, last)


def _only_the_spot(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether the place only says where the goods were: "on dock broken"."""
    before = at - 1
    while before >= 0 and tokens[before].classes & {"the", "site"}:
        before -= 1
    return before >= 0 and tokens[before].word in wording.READ_AS["spot"]


def _site_follows(tokens: tuple[Token, ...], head: int, last: int) -> bool:
    """Tell whether the site is what was damaged: "cracked driveway", "scratch on wall"."""
    after = last
    if after < len(tokens) and tokens[after].word in ("to", "on", "in"):
        near = {t.word for t in tokens[after + 1 : after + 3]}
        if near & {"bldg", "building"}:
            return True
        if near & wording.READ_AS["truck"] or not names_a_thing(tokens, head, last):
            return False
        after += 1
    while after < len(tokens) and tokens[after].stop == NO_STOP and "the" in tokens[after].classes:
        after += 1
    if _at_the_building(tokens, after):
        return True
    here = tokens[after] if after < len(tokens) and tokens[after].stop == NO_STOP else None
    beyond = tokens[after + 1] if after + 1 < len(tokens) else None
    if here is None or here.word in wording.READ_AS["paper"]:
        return here is not None and (beyond is None or beyond.value is None)
    units = NOUNS - {"goods", "places"} if "vehicle" in here.classes else NOUNS
    compound = beyond is not None and beyond.stop == NO_STOP and bool(beyond.classes & units)
    return "site" in here.classes and not compound


def _at_the_building(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether a part of the building follows: "broken window in lobby"."""
    near = tokens[at : at + 4]
    if len(near) < 3 or any(token.stop > NO_STOP for token in near[1:3]):
        return False
    words = {token.word for token in near[2:]}
    return near[1].word in ("in", "of", "at") and bool(words & wording.READ_AS["building"])
