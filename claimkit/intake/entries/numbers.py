"""Numbers as people type them on a phone or copy them from a paper, read exactly.

Fractions, mixed numbers and decimals become `Fraction` or `Decimal`; a comma is taken for what it
must be and refused where it could be two things. The typographic forms that phones and word
processors put in place of what was typed are undone first.
"""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction

from claimkit.intake.entries.problems import Unreadable, quoted

LONGEST = 60  # characters; no quantity of the trade is longer, and a huge number is no quantity

_SPACES = dict.fromkeys(map(ord, "\u00a0\u2002\u2003\u2007\u2009\u200a\u202f\t"), " ")
_DASHES = dict.fromkeys(map(ord, "\u2010\u2011\u2012\u2013\u2014\u2212\ufe63\uff0d"), "-")
_FEET = dict.fromkeys(map(ord, "\u2032\u2019\u2018\u02b9\u02bc\u00b4\u0060\uff07"), "'")
_INCHES = dict.fromkeys(map(ord, "\u2033\u201d\u201c\u02ba\u201f\u3003\uff02"), '"')
_SLASHES = dict.fromkeys(map(ord, "\u2044\u2215"), "/")
_RAISED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉", "01234567890123456789")
_SET_FRACTION = re.compile("([⁰¹²³⁴⁵⁶⁷⁸⁹]+)[/\u2044\u2215]([₀₁₂₃₄₅₆₇₈₉]+)")

_PLAIN = re.compile(r"(\d+)|(\d*)[.](\d+)", re.ASCII)
_COMMA = re.compile(r"(\d*),(\d+)", re.ASCII)
_GROUPED = re.compile(r"\d{1,3}(?:,\d{3})+(?:[.]\d+)?", re.ASCII)
_FRACTION = re.compile(r"(\d+) ?/ ?(\d+)", re.ASCII)
_MIXED = re.compile(r"(\d+)(?:-| - | )(\d+) ?/ ?(\d+)", re.ASCII)


def plain_text(text: str) -> str:
    """Undo typographic forms: curly quotes, primes, long dashes, ½, ³⁄₁₆, hard spaces.

    Give the text with single spaces, `'` for feet and `"` for inches.
    """
    if len(text) > LONGEST:
        raise Unreadable(f"{quoted(text)} is too long.", "Write one quantity with its unit.")
    text = _SET_FRACTION.sub(lambda m: f" {m[1]}/{m[2]}".translate(_RAISED), text)
    text = "".join(_vulgar(c) for c in text)
    for table in (_SPACES, _DASHES, _FEET, _INCHES, _SLASHES):
        text = text.translate(table)
    return " ".join(text.replace("''", '"').split())


def _vulgar(character: str) -> str:
    """Give a one-character fraction such as ½ as ' 1/2', any other character unchanged."""
    if not unicodedata.decomposition(character).startswith("<fraction>"):
        return character
    return " " + unicodedata.normalize("NFKC", character).replace("\u2044", "/")


def number(text: str, *, thousands: bool = False) -> Fraction:
    """Read a whole number, decimal, fraction or mixed number, without a sign.

    A comma before three digits may group thousands or mark decimals: it is refused, except where
    `thousands` says that the unit's users group with it, or nothing else fits ("0,125",
    "1,250.5"). Raises Unreadable.
    """
    text = text.strip()
    if found := _PLAIN.fullmatch(text):
        return Fraction(text)
    if found := _MIXED.fullmatch(text):
        return int(found[1]) + _proper(found[2], found[3], text)
    if found := _FRACTION.fullmatch(text):
        return _ratio(found[1], found[2], text)
    if _GROUPED.fullmatch(text) and (thousands or "." in text or text.count(",") > 1):
        return Fraction(text.replace(",", ""))
    if found := _COMMA.fullmatch(text):
        return _comma(found[1], found[2], text)
    raise Unreadable(
        f"{quoted(text)} is not a number that can be read.",
        "Write a whole number, a decimal such as 4.8, or a fraction such as 1 1/8.",
    )


def _comma(whole: str, decimals: str, text: str) -> Fraction:
    grouping_possible = len(decimals) == 3 and whole[:1] not in ("", "0") and len(whole) <= 3
    if grouping_possible:
        raise Unreadable(
            f"{quoted(text)} can be read as {whole}{decimals} or as {whole}.{decimals}.",
            f"Write {whole}{decimals} or {whole}.{decimals}.",
        )
    return Fraction(f"{whole or 0}.{decimals}")


def _proper(top: str, bottom: str, text: str) -> Fraction:
    part = _ratio(top, bottom, text)
    if part >= 1:
        raise Unreadable(
            f"{quoted(text)} has a fraction of one or more after a whole number.",
            "Look again, and write the fraction below one, such as 1 1/8.",
        )
    return part


def _ratio(top: str, bottom: str, text: str) -> Fraction:
    if int(bottom) == 0:
        raise Unreadable(f"{quoted(text)} divides by zero.", "Look again, and write such as 3/16.")
    return Fraction(int(top), int(bottom))
