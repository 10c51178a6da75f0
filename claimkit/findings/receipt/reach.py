"""How far an aside of a receipt reaches: its own words, the clause, the sentence, the print.

"Received in good order except as noted:" ends where somebody began to write, "last load was wet"
where the words come back to these goods, "there isn't any" goes back to what was looked for.
"""

from __future__ import annotations

from claimkit.findings.receipt.text import HARD, LINK, NO_STOP, SOFT, Token
from claimkit.rules.wording import book as wording
from claimkit.rules.wording.row import WordingRule

CLAUSE_REACH = 9
SEEKING_REACH = 5
LONGEST_PRINT = 40
NAMING = frozenset({"handling", "carton", "piece", "goods", "places"})


def reach(
    effect: str, tokens: tuple[Token, ...], first: int, last: int, covered: dict[int, WordingRule]
) -> range:
    """Give the tokens that an aside at `first` to `last` covers beside those `covered` before."""
    if effect == "mask print":
        return _printed(tokens, first, last)
    if effect == "mask sentence":
        return range(sentence_start(tokens, first), _print_end(tokens, last, covered))
    if effect == "mask to stop":
        return range(first, pause_after(tokens, last, HARD))
    if effect == "mask to pause":
        return range(first, pause_after(tokens, last, SOFT))
    if effect == "mask clause":
        return range(_clause_start(tokens, first), _clause_end(tokens, last))
    return range(first, last)


def _printed(tokens: tuple[Token, ...], found: int, last: int) -> range:
    """Give the print around "except as noted": back over what it limits, or on where it leads.

    It begins at its "received"; what names goods or a number before that is written by hand.
    """
    start = max(sentence_start(tokens, found), found - LONGEST_PRINT)
    if found == start:
        ahead = range(last, pause_after(tokens, last, HARD))
        orders = (i + 1 for i in ahead if tokens[i].word in wording.READ_AS["order"])
        return range(found, max(orders, default=last))
    limits = []
    while found > start:
        at = max(i for i in range(start, found) if i == start or tokens[i].stop > NO_STOP)
        named = [i for i in range(at, found) if _names(tokens[i])]
        begun = range(named[-1] + 1 if named else at, found)
        took = next((i for i in begun if "took" in tokens[i].classes), None)
        if took is not None:
            return range(took, last)
        limits.append(next((i for i in begun if tokens[i].classes & {"be", "no"}), at))
        found = start if named else at
    return range(limits[0], last)


def _names(token: Token) -> bool:
    return token.value is not None or bool(token.classes & NAMING)


def _print_end(tokens: tuple[Token, ...], at: int, covered: dict[int, WordingRule]) -> int:
    """Give the end of a printed sentence: its stop, "as noted", or a label ("exceptions:")."""
    noted = {i for i in (at - 1, at) if i in covered and covered[i].effect == "mask print"}
    while at < len(tokens) and tokens[at].stop < HARD:
        label = tokens[at].stop == LINK and tokens[at - 1].word in wording.READ_AS["label"]
        if at in covered and covered[at].effect == "mask print":
            noted.add(at)
        elif label or at - 1 in noted:
            break
        at += 1
    return at


def names_a_piece(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether the words go on to a numbered piece, which nobody prints: "ctn 2"."""
    for number in range(at + 1, pause_after(tokens, at, SOFT)):
        piece = tokens[number - 1].classes & {"carton", "handling", "piece"}
        if tokens[number].sort == "number" and tokens[number].stop == NO_STOP and piece:
            return True
    return False


def pause_after(tokens: tuple[Token, ...], at: int, stop: int) -> int:
    """Give the first token from `at` on that a pause of that strength stands before."""
    while at < len(tokens) and tokens[at].stop < stop:
        at += 1
    return at


def denial_end(tokens: tuple[Token, ...], at: int) -> int:
    """Give the end of what a denial reaches: a pause, or "except"."""
    while at < len(tokens) and tokens[at].stop < SOFT and "exceptive" not in tokens[at].classes:
        at += 1
    return at


def sought(tokens: tuple[Token, ...], first: int) -> range:
    """Give what was looked for before "there isn't any": "checked for broken glass".

    A number, or a piece behind a pause, is no longer what was looked for.
    """
    start = sentence_start(tokens, first)
    if start == first and first:
        start = sentence_start(tokens, first - 1)
    start = max(start, first - LONGEST_PRINT)
    seeking = wording.READ_AS["seeking"]
    begun = (
        at + 1
        for at in range(start, first)
        if tokens[at].word == "any"
        or (
            tokens[at].word in ("for", "about")
            and any(t.word in seeking for t in tokens[max(start, at - SEEKING_REACH) : at])
        )
    )
    zone = range(next(begun, first), first)
    ends = (
        tokens[at].value is not None
        or tokens[at].word == "the"
        or (tokens[at].stop >= SOFT and tokens[at].classes & NAMING)
        for at in zone
    )
    return range(0) if any(ends) else zone


def sentence_start(tokens: tuple[Token, ...], at: int) -> int:
    """Give the first token of the sentence that token `at` stands in."""
    while at > 0 and tokens[at].stop < HARD:
        at -= 1
    return at


def sentence_end(tokens: tuple[Token, ...], at: int) -> int:
    """Give the token after the last of the sentence that token `at` stands in."""
    return pause_after(tokens, at + 1, HARD)


def _clause_start(tokens: tuple[Token, ...], first: int) -> int:
    """Reach back over a clause only where it leads here: "scratches are from last load"."""
    leads = ("from", "on", "in", "was", "were", "to", "with")
    before = first - 1
    if before >= 0 and "the" in tokens[before].classes:
        before -= 1
    if tokens[first].word not in leads and (before < 0 or tokens[before].word not in leads):
        return first
    while first > 0 and tokens[first].stop < SOFT:
        first -= 1
    return first


def _clause_end(tokens: tuple[Token, ...], last: int) -> int:
    """Reach forward until the sentence ends or the words come back to the new goods."""
    end = last
    while end < min(len(tokens), last + CLAUSE_REACH) and tokens[end].stop < HARD:
        token = tokens[end]
        numbered = end + 1 < len(tokens) and tokens[end + 1].sort in ("number", "pair")
        unit = token.classes & {"carton", "handling", "piece"}
        counted = token.stop >= SOFT and token.value is not None
        back = token.word in wording.READ_AS["back to the goods"] or counted
        if back or (unit and numbered):
            break
        end += 1
    return end
