"""Whether what was found is what was ordered: sizes with a tolerance, words, condition.

A size without a tolerance is the same only where the figures are equal; a difference that the
tape itself could make cannot be told. Words are compared as words, because "white" and "matt
white" may or may not be one colour.
"""

from __future__ import annotations

import re
from fractions import Fraction

from claimkit.model.answers import Answer
from claimkit.model.quantities import Length
from claimkit.rules.capture import GOOD_CONDITION, NOT_LOOKED_AT, SAME_WORDS

Size = tuple[Length, ...]


def same_size(ordered: Size, found: Size, tolerance: Length | None) -> tuple[Answer, str]:
    """Compare a measured size with the ordered one, each dimension in the order's order.

    Exact fractions throughout. With a tolerance a difference up to and including it is the same.
    Without one only equal figures are, and a difference of up to one division of the measurement
    as written cannot be told. Returns the answer and the measured text with its remark.
    """
    if not found:
        return Answer.CANNOT_TELL, ""
    text = " × ".join(length.written for length in found)
    if len(found) != len(ordered):
        return Answer.CANNOT_TELL, f"{text} ({len(ordered)} dimensions ordered)"
    answers = [_same_length(o, f, tolerance) for o, f in zip(ordered, found, strict=True)]
    if all(a is Answer.YES for a in answers):
        return Answer.YES, text
    turned = zip(sorted(ordered, key=_mm), sorted(found, key=_mm), strict=True)
    if all(_same_length(o, f, tolerance) is Answer.YES for o, f in turned):
        return Answer.CANNOT_TELL, f"{text} (the same figures in another order)"
    remark = "" if tolerance else " (no size tolerance is given)"
    worst = Answer.NO if Answer.NO in answers else Answer.CANNOT_TELL
    return worst, text + remark


def _same_length(ordered: Length, found: Length, tolerance: Length | None) -> Answer:
    apart = abs(found.mm - ordered.mm)
    if tolerance is not None:
        return Answer.YES if apart <= tolerance.mm else Answer.NO
    if apart == 0:
        return Answer.YES
    return Answer.CANNOT_TELL if apart <= division_of(found) else Answer.NO


def _mm(length: Length) -> Fraction:
    return length.mm


def division_of(length: Length) -> Fraction:
    """Give one division of a length as written, in mm: 1/8 in for '35 7/8 in', 1 mm for '900 mm'.

    Zero where the text holds no number, so that nothing is excused.
    """
    found = re.match(
        r"\s*-?(?:(\d+)[\s-]+)?(?:(\d+)\s*/\s*(\d+)|(\d+)(?:[.,](\d+))?)", length.written
    )
    if not found:
        return Fraction(0)
    whole, over, under, integer, decimals = found.groups()
    if under:
        number = Fraction(int(whole or 0)) + Fraction(int(over), int(under) or 1)
        step = Fraction(1, int(under) or 1)
    else:
        number = Fraction(f"{integer}.{decimals or 0}")
        step = Fraction(1, 10 ** len(decimals or ""))
    return step * abs(length.mm) / number if number else Fraction(0)


def same_words(ordered: str, found: str | None) -> Answer:
    """Compare two descriptions; one that only says more or less than the other cannot be told."""
    if found is None or _plain(found) in NOT_LOOKED_AT:
        return Answer.CANNOT_TELL
    a, b = _meaning(ordered), _meaning(found)
    if sorted(a.split()) == sorted(b.split()):
        return Answer.YES
    words_a, words_b = set(a.split()), set(b.split())
    if words_a <= words_b or words_b <= words_a:
        return Answer.CANNOT_TELL
    return Answer.NO


def same_condition(found: str | None) -> Answer:
    """Tell whether a condition says that all is well; any other words say what is wrong."""
    if found is None or _plain(found) in NOT_LOOKED_AT:
        return Answer.CANNOT_TELL
    return Answer.YES if _plain(found) in GOOD_CONDITION else Answer.NO


def _plain(text: str) -> str:
    if text.strip() == "?":
        return "?"
    return " ".join(re.sub(r"[^\w]+", " ", text.casefold()).split())


def _meaning(text: str) -> str:
    plain = _plain(text)
    for group in SAME_WORDS:
        if plain in group:
            return group[0]
    single = {word: group[0] for group in SAME_WORDS for word in group if " " not in word}
    return " ".join(single.get(word, word) for word in plain.split())
