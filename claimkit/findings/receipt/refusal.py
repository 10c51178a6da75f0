"""How many units a delivery's words and record say were refused: these are not short.

What came and was sent back is no shortage: received and refused together are what was expected.
Only like units are added: a panel refused off a skid takes no skid away.
"""

from __future__ import annotations

import re

from claimkit.findings.receipt.counts import Count, Recorded
from claimkit.findings.receipt.parts import GOODS, kind_of_unit
from claimkit.findings.receipt.reach import sentence_end, sentence_start
from claimkit.findings.receipt.reading import Read, read

WHOLE = frozenset({"all", "both", "every", "everything", "entire", "whole", "each"})
# Roles that a number inside a statement of refusal may have: "2 ctns crushed, refused".
_ROLES = ("refused", "bad", "named", "total", "good")


def stated(words: str | None) -> bool:
    """Tell whether the words of a receipt say that goods were refused; "not refused" does not."""
    return bool(words) and bool(read(words or "", Recorded()).said.refusals)


def refused_units(
    words: str | None, refused: str | None, counts: Recorded, what: str
) -> int | None:
    """Give how many units were refused: 0 where no refusal is stated, None where not how many.

    `refused` is what the delivery record says of it, `what` is "handling" or "carton". The words
    of the receipt are read first, then the record's.
    """
    taken = read(words or "", counts)
    found = told(taken, counts, what) if taken.said.refusals else None
    if found is None and refused:
        found = told(read(f"Refused {refused}", counts), counts, what, every=True)
    return found if found is not None or refused or taken.said.refusals else 0


def told(taken: Read, counts: Recorded, what: str, *, every: bool = False) -> int | None:
    """Give how many units the words say were refused, None where they do not say.

    `every` where all of the words are about the refusal. An article refused off its skid or out
    of its carton leaves the units as they are: 0.
    """
    expected = counts.units_expected if what == "handling" else counts.cartons_expected
    inside = [c for c in taken.counts if c.role in _ROLES and (every or _of_refusal(taken, c))]
    strict = [c for c in inside if c.role == "refused"] or inside
    alike = [c for c in strict if _is(c, what, counts)]
    bare = [c for c in strict if not c.unit and not alike and _only(what, counts)]
    if alike or bare:
        number = sum(c.value for c in alike or bare[:1])
        return number if expected is None or number <= expected else None
    if _whole(taken, every=every) and not any(c.role == "received" for c in taken.counts):
        return expected
    return 0 if strict else None


def refused_articles(
    words: str | None, refused: str | None, counts: Recorded, article: str
) -> int | None:
    """Give how many pieces of an article were refused: 0 where no refusal names it, None how many.

    `article` is its description: "3 panels refused" is about a "Wall panel, 36 in".
    """
    named = {_single(word) for word in re.findall(r"[^\W\d_]{3,}", article.lower())}
    spoken = read(words or "", counts)
    texts = [(spoken, False)] * bool(spoken.said.refusals)
    if refused:
        texts.insert(0, (read(f"Refused {refused}", counts), True))
    for taken, every in texts:
        inside = [c for c in taken.counts if c.role in _ROLES and (every or _of_refusal(taken, c))]
        for count in inside:
            behind = taken.marked.tokens[count.last : count.last + 3]
            if count.unit == GOODS and any(_single(t.word) in named for t in behind):
                return count.value
    for taken, _ in texts:
        if any(_single(t.word) in named for t in taken.marked.tokens):
            return None
    return 0


def _single(word: str) -> str:
    return word[:-1] if word.endswith("s") and not word.endswith("ss") else word


def _is(count: Count, what: str, counts: Recorded) -> bool:
    own = what == "handling" and count.unit == kind_of_unit(counts.unit)
    return count.unit != "" and (own or count.unit == what)


def _only(what: str, counts: Recorded) -> bool:
    """Tell whether nothing else is counted, so that a bare number can mean nothing else."""
    other = counts.units_expected if what == "carton" else counts.cartons_expected
    return other is None


def _of_refusal(taken: Read, count: Count) -> bool:
    """Tell whether the count stands in a sentence that says what was refused."""
    if count.role == "refused":
        return True
    tokens = taken.marked.tokens
    span = range(sentence_start(tokens, count.first), sentence_end(tokens, count.first))
    return any(hit.head in span for hit in taken.said.refusals) and count.role != "good"


def _whole(taken: Read, *, every: bool) -> bool:
    tokens = taken.marked.tokens
    for hit in taken.said.refusals:
        span = tokens[sentence_start(tokens, hit.head) : sentence_end(tokens, hit.head)]
        if any(token.word in WHOLE for token in (tokens if every else span)):
            return True
    return False
