"""Counts that a receipt states: received, expected, short, good or damaged, and of what unit.

"Rec'd 3 of 4" is a shortage of one; "ctn 3 of 4" names a carton; "3 of 4 wet" says how many; "3/14"
is a date where nothing says otherwise.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import takewhile

from claimkit.findings.receipt.match import Marked
from claimkit.findings.receipt.pairs import pair_at, unit_before, unit_near
from claimkit.findings.receipt.parts import (
    GOODS,
    UNITS,
    all_that_came,
    coded,
    is_count,
    is_label,
    is_whole,
)
from claimkit.findings.receipt.reach import sentence_end, sentence_start
from claimkit.findings.receipt.text import LINK, NO_STOP, SOFT, Token
from claimkit.rules.wording import book as wording

# A fraction behind these words counts trucks, pages or days, not goods.
# What may stand between "received" and its count: "received all 4", "got only skids 2/3".
BETWEEN_TOOK = UNITS | {"light", "the", "all", "only", "be", "generic", "goods", "people"}
NOT_TAKEN = frozenset({"have", "get", "signed"})
SHIPPING_WORDS = frozenset({"have", "del", "delivered", "get"})
BILL_NUMBERS_FROM = 1000


@dataclass(frozen=True, slots=True)
class Recorded:
    """Counts as the delivery record has them; None where nobody recorded one.

    `unit` is what a handling unit is in the record: skid, crate, carton; "" where it is not known.
    """

    units_expected: int | None = None
    units_received: int | None = None
    cartons_expected: int | None = None
    cartons_received: int | None = None
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Count:
    """A count in the words. `role` is received, expected, short, refused, bad, good or total.

    `unit` is handling, carton, piece, goods where an article is counted ("2 panels"), or "" where
    nothing is named. `of` is the whole where the
    words say "N of M". Tokens `first` to `last` (exclusive) hold it. A number of units of which
    nothing is said has the role named; `whole` marks "total 14" and "3 skids, that is all".
    """

    role: str
    value: int
    of: int | None
    unit: str
    first: int
    last: int
    whole: bool = False


@dataclass(frozen=True)
class Spoken:
    """The tokens of affirmed statements: of damage, of good order, of shortage, of refusal."""

    bad: frozenset[int]
    good: frozenset[int]
    short: frozenset[int]
    refused: frozenset[int] = frozenset()

    def role_at(self, at: int) -> str:
        """Tell what the statement at a token makes of a count beside it; "" where there is none."""
        if at in self.short:
            return "short"
        if at in self.bad:
            return "bad"
        if at in self.refused:
            return "refused"
        return "good" if at in self.good else ""


@dataclass(frozen=True)
class _Page:
    marked: Marked
    spoken: Spoken
    recorded: Recorded

    @property
    def tokens(self) -> tuple[Token, ...]:
        return self.marked.tokens


def counts(marked: Marked, spoken: Spoken, recorded: Recorded) -> tuple[Count, ...]:
    """Read every count, in the order of the text."""
    page = _Page(marked, spoken, recorded)
    found: list[Count] = []
    skip = 0
    for at in range(len(page.tokens)):
        if at < skip or at in marked.covered:
            continue
        pair = pair_at(page.tokens, at)
        if pair is not None:
            count = _pair_count(page, at, pair)
            skip = pair[2]
        elif is_count(page.tokens, at) or _on_the_bill(page.tokens, at):
            count = _single(page, at)
        else:
            continue
        if count is not None:
            whole = pair is None and is_whole(page.tokens, count.first, count.last)
            unit = count.unit or _article(page, count, found)
            found.append(replace(count, whole=whole, unit=unit))
            if pair is None and count.of is not None:
                skip = 1 + next(i for i in range(at + 1, len(page.tokens)) if _is_value(page, i))
    return tuple(found)


def _is_value(page: _Page, at: int) -> bool:
    return page.tokens[at].value is not None


def _article(page: _Page, count: Count, before: list[Count]) -> str:
    """Give "goods" where an article is counted and no unit: "2 panels", "3 panels: 2 good".

    A bare number counts what the number before it did, where that was an article.
    """
    tokens = page.tokens
    for at in range(count.last, min(count.last + 3, len(tokens))):
        if tokens[at].stop > NO_STOP or tokens[at].value is not None or tokens[at].word == "per":
            break
        if tokens[at].classes & {"goods"} and not tokens[at].classes & {"generic"}:
            return GOODS
        if at in page.marked.named:
            return GOODS
    own = count.of is None and before and before[-1].unit == GOODS
    return GOODS if own and count.role in ("good", "bad", "refused", "received") else ""


def _pair_count(page: _Page, at: int, pair: tuple[int, int, int]) -> Count | None:
    tokens = page.tokens
    part, whole, last = pair
    if whole == 0 or _elsewhere(tokens, at, last):
        return None
    unit, beyond = unit_near(tokens, last)
    role = _role(page, at, beyond)
    if is_label(tokens, at) and not (role == "received" and _took_before(tokens, at, 3)):
        return None
    if role == "" and any("took" in t.classes for t in tokens[at:last]):
        role = "received"
    if role == "":
        role = _unsaid_role(page, at, pair, unit)
    elif role == "good" and part == whole:
        role = "received"
    stated = at - 1 in page.spoken.short or role not in ("bad", "short")
    if at and "only" in tokens[at - 1].classes and stated:
        role = "received"
    if role == "" or (role == "received" and _like_a_date(page, at, pair, unit)):
        return None
    return Count(role, part, whole, unit or unit_before(tokens, at), at, last)


def _unsaid_role(page: _Page, at: int, pair: tuple[int, int, int], unit: str) -> str:
    """Tell what a bare "N of M" counts: damaged goods where damage follows, else received."""
    part, whole, last = pair
    slashed = page.tokens[at].sort == "pair"
    as_recorded = _as_recorded(part, whole, page.recorded)
    if not unit and slashed and not as_recorded:
        return ""
    sentence = range(last, sentence_end(page.tokens, at))
    if unit and any(i in page.spoken.bad for i in sentence):
        return "bad"
    listed = whole in (page.recorded.units_expected, page.recorded.cartons_expected)
    if not unit and part < whole and not as_recorded and (slashed or not listed):
        return ""
    return "received"


def _like_a_date(page: _Page, at: int, pair: tuple[int, int, int], unit: str) -> bool:
    """Tell whether "3/14" has nothing near it that makes it a count."""
    part, whole, last = pair
    tokens = page.tokens
    if tokens[at].sort != "pair" or unit or _as_recorded(part, whole, page.recorded):
        return False
    if 1 <= part <= 12 < whole <= 31:
        return True
    if _took_before(tokens, at, 4):
        return False
    around = [tokens[i] for i in (at - 1, last) if 0 <= i < len(tokens)]
    return not any(
        t.classes & (UNITS | {"goods", "took", "all", "only"})
        or t.word in ("count", "total", "ok", "short")
        for t in around
    )


def _elsewhere(tokens: tuple[Token, ...], at: int, last: int) -> bool:
    """Tell whether trucks, pages or hours are counted."""
    before = tokens[at - 1] if at and tokens[at].stop == NO_STOP else None
    if before is not None and before.word in wording.READ_AS["no goods"]:
        return True
    if coded(tokens, at) and not unit_near(tokens, last)[0]:
        return True
    if last >= len(tokens) or tokens[last].stop > NO_STOP:
        return False
    return "measures" in tokens[last].classes and not tokens[last].classes & UNITS


def _as_recorded(part: int, whole: int, recorded: Recorded) -> bool:
    return (part, whole) in (
        (recorded.units_received, recorded.units_expected),
        (recorded.cartons_received, recorded.cartons_expected),
    )


def _took_before(tokens: tuple[Token, ...], at: int, reach: int) -> bool:
    for before in range(at - 1, max(-1, at - 1 - reach), -1):
        if tokens[before + 1].stop >= SOFT or tokens[before].value is not None:
            return False
        if "took" in tokens[before].classes:
            return True
        if not tokens[before].classes & BETWEEN_TOOK and tokens[before].text != "=":
            return False
    return False


def _took_after(tokens: tuple[Token, ...], last: int) -> bool:
    for after in range(last, min(last + 3, len(tokens))):
        if tokens[after].stop >= SOFT or tokens[after].value is not None:
            return False
        if "took" in tokens[after].classes or tokens[after].word in ("off", "total"):
            return True
    return False


def _role(page: _Page, at: int, last: int) -> str:
    """Tell what the words around a count make of it, those after it first."""
    return _role_after(page, at, last) or _role_before(page, at)


def _role_after(page: _Page, at: int, last: int) -> str:
    tokens, spoken = page.tokens, page.spoken
    taken = _took_before(tokens, at, 3)
    for after in range(last, min(last + 5, len(tokens))):
        token = tokens[after]
        if token.stop >= (LINK if taken else SOFT) or (after > last and token.value is not None):
            return ""
        said = spoken.role_at(after)
        if said == "short":
            own = after + 1 < len(tokens) and tokens[after + 1].value is not None
            return "received" if taken and own else "short"
        if said:
            return "received" if said == "good" and _took_before(tokens, at, 4) else said
        if "took" in token.classes and token.word not in NOT_TAKEN:
            return "received"
        if token.classes & {"no", "not"}:
            return ""
    return ""


def _role_before(page: _Page, at: int) -> str:
    tokens, spoken = page.tokens, page.spoken
    for before in range(at - 1, max(-1, at - 5), -1):
        if tokens[before + 1].stop >= SOFT:
            return ""
        said = spoken.role_at(before)
        if said in ("short", "bad", "refused"):
            return said
        if "took" in tokens[before].classes:
            return "received"
        if tokens[before].value is not None:
            return ""
    return ""


def _single(page: _Page, at: int) -> Count | None:
    tokens = page.tokens
    value = int(tokens[at].value or 0)
    unit, last = unit_near(tokens, at + 1)
    if _expected(page, at, last):
        return Count("expected", value, None, unit, at, last)
    role = _single_role(page, at, last)
    before = [token.word for token in tokens[max(0, at - 2) : at] if token.word != "of"]
    if role == "" and before and before[-1] in wording.READ_AS["total"]:
        role = "named"
    whole = _short_of(page, last) if role == "short" else None
    if whole is not None:
        return Count("short", value, whole, unit, at, last)
    alone = sentence_end(tokens, at) - sentence_start(tokens, at) <= 1 + (last - at)
    if role == "" and unit and alone:
        role = "total"
    goods = last < len(tokens) and tokens[last].stop == NO_STOP and "goods" in tokens[last].classes
    if role == "" and (unit or goods or unit_before(tokens, at)):
        role = "named"
    if role == "received" and not (unit or _took_before(tokens, at, 2)):
        ends = _took_after(tokens, last) or all_that_came(tokens, last)
        role = (
            "received" if ends or (tokens[last : last + 1] and tokens[last].word == "not") else ""
        )
    return Count(role, value, None, unit, at, last) if role else None


def _short_of(page: _Page, last: int) -> int | None:
    """Give the whole of "2 short of 9", "short 2 from 9"."""
    tokens = page.tokens
    last += last < len(tokens) and "goods" in tokens[last].classes
    while (
        last < len(tokens) and last in page.spoken.short and tokens[last].word not in ("of", "from")
    ):
        last += 1
    last += last < len(tokens) and tokens[last].word == "out"
    here = [t for t in tokens[last : last + 3] if t.stop == NO_STOP]
    here = [t for t in here if "the" not in t.classes][:2]
    return here[1].value if len(here) == 2 and here[0].word in ("of", "from") else None


def _single_role(page: _Page, at: int, last: int) -> str:
    tokens, spoken = page.tokens, page.spoken
    if at in spoken.short:
        around = [hit.first for hit in page.marked.hits if hit.first <= at < hit.last]
        begun = min(around, default=at)
        return "received" if "only" in tokens[begun].classes else "short"
    if at and tokens[at].stop <= LINK and at - 1 in spoken.short:
        return "short"
    role = _role(page, at, last)
    if role in ("", "good") and all_that_came(tokens, last):
        return "received"
    corrected = [t.word for t in tokens[last : last + 1]] == ["not"]
    if role == "" and corrected and [t for t in tokens[last + 1 : last + 2] if t.value]:
        return "received"
    return "received" if role == "" and _took_after(tokens, last) else role


def _on_the_bill(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether a number after "BOL" or "bill" is a count and not the paper's own number."""
    value = tokens[at].value
    if not at or value is None or value >= BILL_NUMBERS_FROM:
        return False
    return "expected" in tokens[at - 1].classes


def _expected(page: _Page, at: int, last: int) -> bool:
    """Tell whether the count is what should have come: "BOL says 10", "s/b 6", "4 on bol".

    The order of "4 good order 1 ctn crushed" is none that goods are due by.
    """
    tokens = page.tokens
    start = at
    while start > max(0, at - 3) and tokens[start].stop < SOFT and tokens[start - 1].value is None:
        start -= 1
    if start and tokens[start - 1].value is not None:
        start = at if _due_after(page, unit_near(tokens, start)[1]) else start
    before = tokens[start:at]
    words = [t.word for t in before]
    apart = page.spoken.good | page.spoken.short
    due = [
        i
        for i, t in enumerate(before)
        if ("expected" in t.classes or t.word == "shipped") and start + i not in apart
    ]
    took = [i for i, t in enumerate(before) if "took" in t.classes and t.word not in SHIPPING_WORDS]
    if due and max(due) > max(took, default=-1):
        return not ({"says", "driver"} <= set(words) or "freight" in words)
    if words[-1:] == ["not"] and start > 0 and tokens[start - 1].value is not None:
        return True
    return "instead" in words or words[-2:] == ["should", "be"] or _due_after(page, last)


def _due_after(page: _Page, last: int) -> bool:
    tokens = page.tokens
    after = list(takewhile(lambda t: t.stop <= NO_STOP, tokens[last : last + 4]))
    after = after[:1] + [t for t in after[1:] if "the" not in t.classes]
    if not after:
        return False
    if after[0].word in wording.READ_AS["due"] and last not in page.spoken.short:
        return True
    if len(after) < 2:
        return False
    on_paper = bool(after[1].classes & {"expected"}) or after[1].word in ("for", "paper")
    return after[0].word in ("on", "per", "called") and on_paper
