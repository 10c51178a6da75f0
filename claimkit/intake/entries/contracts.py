"""Money and periods as bills, tariffs and contracts state them.

An amount has an ISO 4217 code and no more decimals than its currency; a symbol such as $ names
several currencies and is refused. A period says which days it counts, since five days and five
business days end on different dates.
"""

from __future__ import annotations

import re
from decimal import Decimal

from claimkit.intake.entries.numbers import plain_text
from claimkit.intake.entries.problems import Unreadable, listed, nearest, quoted
from claimkit.model.quantities import Money, Span
from claimkit.rules.currencies import CODES, SYMBOLS, decimals

_LARGEST = Decimal(10) ** 12
_AMOUNT = r"[+-]? ?\d[\d., ]*|[+-]? ?[.]\d+"
_MONEY = re.compile(rf"(?:([A-Z]{{3}}) ?({_AMOUNT})|({_AMOUNT}) ?([A-Z]{{3}}))", re.ASCII | re.I)
_WITH_SYMBOL = re.compile(rf"(?:([^\d\s.,+-]+) ?({_AMOUNT})|({_AMOUNT}) ?([^\d\s.,+-]+))", re.ASCII)
_DOT_DECIMALS = re.compile(r"(\d+|\d{1,3}(?:,\d{3})+|\d{1,3}(?: \d{3})+)?(?:[.](\d+))?", re.ASCII)
_COMMA_DECIMALS = re.compile(r"(\d+|\d{1,3}(?:[.]\d{3})+|\d{1,3}(?: \d{3})+),(\d+)", re.ASCII)


def money(text: str) -> Money:
    """Read an amount: '1,250.00 USD', 'USD 1250', '1.250,00 EUR', '1250 JPY'.

    Exact. A leading sign is kept (whether one makes sense is for the field to say). Raises
    Unreadable for a bare number, a symbol, an unknown code, or more decimals than the currency has.
    """
    plain = _without_sign(plain_text(text))
    found = _MONEY.fullmatch(plain)
    if not found:
        raise _no_money(text, plain)
    code, count = (found[1] or found[4]).upper(), (found[2] or found[3]).strip()
    if code not in CODES:
        like = nearest(code, CODES)
        raise Unreadable(
            f"{quoted(code)} is not a currency code of ISO 4217.",
            f"Write the code of the currency, such as {like or 'USD'}.",
        )
    amount = _amount(count, decimals(code), text, code)
    if abs(amount) > _LARGEST:
        raise Unreadable(f"{quoted(text)} is too large an amount.", "Look again.")
    return Money(amount, code, text)


def _without_sign(plain: str) -> str:
    """Drop a currency sign that stands beside a code it can belong to: '$1,250.00 USD'."""
    for sign, codes in SYMBOLS.items():
        if plain.count(sign) == 1 and any(code in plain for code in codes):
            return plain.replace(sign, "", 1).strip()
    return plain


def _amount(count: str, places: int, text: str, code: str) -> Decimal:
    sign = "-" if count.startswith("-") else ""
    digits = count.lstrip("+-").strip()
    readings = {
        value
        for value, there in (_dotted(digits), _comma(digits))
        if value is not None and there <= places
    }
    if len(readings) == 1:
        return Decimal(sign + readings.pop())
    if len(readings) > 1:
        raise Unreadable(
            f"{quoted(text)} can be read as {listed(sorted(readings, key=Decimal))}.",
            "Write the amount without grouping the thousands.",
        )
    raise Unreadable(
        f"{quoted(text)} is not an amount in {code}, which has {places or 'no'} decimals.",
        f"Write such as '{code} {'1250' + ('.' + '0' * places if places else '')}'.",
    )


def _dotted(digits: str) -> tuple[str | None, int]:
    """Read with a dot before the decimals; give the number and how many decimals it has."""
    found = _DOT_DECIMALS.fullmatch(digits)
    if not found or not (found[1] or found[2]):
        return None, 0
    whole = re.sub(r"[, ]", "", found[1] or "0")
    return (f"{whole}.{found[2]}" if found[2] else whole), len(found[2] or "")


def _comma(digits: str) -> tuple[str | None, int]:
    """Read with a comma before the decimals, or dots between the thousands.

    One dot alone marks decimals: "12.345 USD" is an amount with too many of them, not 12345.
    """
    if found := _COMMA_DECIMALS.fullmatch(digits):
        return f"{re.sub(r'[. ]', '', found[1])}.{found[2]}", len(found[2])
    if re.fullmatch(r"\d{1,3}(?:[.]\d{3}){2,}", digits, re.ASCII):
        return digits.replace(".", ""), 0
    return None, 0


def _no_money(text: str, plain: str) -> Unreadable:
    if re.fullmatch(_AMOUNT, plain, re.ASCII):
        return Unreadable(
            f"{quoted(text)} has no currency.", f"Write the code too, such as '{plain} USD'."
        )
    found = _WITH_SYMBOL.fullmatch(plain)
    if found:
        symbol, count = (found[1] or found[4]).upper(), (found[2] or found[3]).strip()
        if codes := SYMBOLS.get(symbol):
            which = "does not say which currency" if len(codes) > 1 else "has a sign, not a code"
            choices = listed(f"'{count} {code}'" for code in codes)
            return Unreadable(f"{quoted(text)} {which}.", f"Write {choices}.")
    return Unreadable(
        f"{quoted(text)} is not an amount with its currency.", "Write such as '1,250.00 USD'."
    )


_UP_TO_FIFTEEN = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen"
)
_WORD_VALUES = {word: value for value, word in enumerate(_UP_TO_FIFTEEN.split())} | {
    "a": 1,
    "an": 1,
    "twenty": 20,
    "thirty": 30,
    "forty-five": 45,
    "sixty": 60,
    "ninety": 90,
}
# What each unit is called in texts, the span's own unit, how many of it, and the most that is
# plausible in a claim.
_UNITS: dict[str, tuple[str, int, int]] = {
    "hour": ("hours", 1, 2000),
    "calendar day": ("calendar days", 1, 3700),
    "business day": ("business days", 1, 2600),
    "working day": ("business days", 1, 2600),
    "week": ("calendar days", 7, 520),
    "month": ("months", 1, 240),
    "calendar month": ("months", 1, 240),
    "year": ("years", 1, 20),
}
_SHORT = {"hr": "hour", "wk": "week", "mo": "month", "yr": "year", "bus day": "business day"}
_SPAN = re.compile(
    r"(?:([a-z][a-z-]*) ?)?[(]?(\d{1,6})?[)]? ([a-z]+(?: [a-z]+)?)"
    r"(?:,? (?:and|plus) (?:(one|a)|([a-z]+ )?[(]?(1)[)]?)(?: [(]1[)])? (?:calendar )?day)?",
    re.ASCII | re.IGNORECASE,
)


def span(text: str) -> Span:
    """Read a period: '5 business days', '9 months', '2 years and 1 day', '48 hours'.

    'nine (9) months' is read where word and figure agree; weeks are seven calendar days each.
    Days must say which they are. Raises Unreadable.
    """
    plain = plain_text(text).lower().removesuffix(".")
    found = _SPAN.fullmatch(plain)
    count = _count(found[1], found[2], text) if found else None
    if not found or count is None:
        raise _no_span(text)
    named = _SHORT.get(found[3].removesuffix("s"), found[3].removesuffix("s"))
    if named == "day":
        raise Unreadable(
            f"{quoted(text)} does not say which days.",
            f"Write '{count} calendar days' or '{count} business days', as your paper says.",
        )
    if named not in _UNITS:
        raise _no_span(text)
    unit, times, most = _UNITS[named]
    if not 1 <= count <= most:
        raise Unreadable(f"{quoted(text)} is not a plausible period.", f"Write 1 to {most} {unit}.")
    extra = 1 if found[4] or found[6] else 0
    if extra and unit not in ("months", "years"):
        raise _no_span(text)
    return Span(count * times, unit, extra, text)


def _count(word: str | None, figure: str | None, text: str) -> int | None:
    """Give the count of a period stated as a word, a figure, or both; None where neither is."""
    by_word = _WORD_VALUES.get(word) if word else None
    if word and by_word is None:
        return None
    if figure is None:
        return by_word
    if by_word is not None and by_word != int(figure):
        raise Unreadable(
            f"{quoted(text)} says {by_word} in words and {figure} in figures.",
            "Look at the paper again and write the figure alone.",
        )
    return int(figure)


def _no_span(text: str) -> Unreadable:
    return Unreadable(
        f"{quoted(text)} is not a period that can be read.",
        "Write such as '5 business days', '15 calendar days', '9 months', '2 years', "
        "'2 years and 1 day' or '48 hours'.",
    )
