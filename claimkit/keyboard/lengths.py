"""Lengths as they are typed beside an instrument: 4.5, 5,5, 7/32, several of them on one line.

A number alone is in the unit of the instrument's own marks: a decimal or whole number on a scale
in millimetres, a fraction on one in inches. Where a number does not look like that scale, its unit
has to be typed: nothing is guessed.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from claimkit.intake.entries.numbers import plain_text
from claimkit.intake.entries.problems import Unreadable, quoted
from claimkit.intake.entries.quantities import length

_COUNT = r"\d+(?: |-| - )\d+ ?/ ?\d+|\d+ ?/ ?\d+|\d*[.,]\d+|\d+"
_UNIT = r"[^\d\s.,;/+-][^\d\s,;/+-]*"
_ONE = re.compile(rf"(?P<count>[+-]? ?(?:{_COUNT}))(?:\s*(?P<unit>{_UNIT}))?", re.ASCII)
_BETWEEN = re.compile(r"\s*;\s*|,\s+|\s+")
_WHOLE = re.compile(r"\d+", re.ASCII)
_INCH = re.compile(r"\bin\b|inch|\"", re.ASCII)


def unit_of(marks: str) -> str:
    """Give the unit of an instrument's marks, from its name or its division: mm or in."""
    return "in" if _INCH.search(marks) else "mm"


def is_fraction(count: str) -> bool:
    """Tell whether a number is written as a fraction."""
    return "/" in count


def several(typed: str, unit: str, units_before: Iterable[str] = ()) -> tuple[str, ...]:
    """Give the lengths on a line, each as text with its unit, each one readable.

    `unit` is that of the instrument's marks; `units_before` are texts with units that were typed
    before in the same way, whose last one with the same form of number decides where no unit is
    typed now. Raises Unreadable.
    """
    found = _split(plain_text(typed))
    if found is None:
        return (length(typed).written,)  # which says what is wrong with it
    last = found[-1][1]
    texts = []
    for count, own in found:
        said = own or last or _unit_for(count, unit, units_before)
        texts.append(length(_with(count, said)).written)
    return tuple(texts)


def one(typed: str, unit: str, *, large: bool = False) -> str:
    """Give one length as text with its unit: '1800', '6 ft 2 in', '-1/8'.

    `large` lengths, such as a height, have no other unit than the tape's: any number alone is in
    it. Without a `unit` it has to be typed. Raises Unreadable.
    """
    plain = plain_text(typed)
    found = _ONE.fullmatch(plain)
    if found and not found["unit"] and unit:
        return length(_with(plain, unit if large else _unit_for(found["count"], unit, ()))).written
    return length(plain).written


def _with(count: str, unit: str) -> str:
    return f"{count}{unit}" if unit == '"' else f"{count} {unit}".strip()


def _split(plain: str) -> list[tuple[str, str]] | None:
    """Part a line into numbers with their units; None where it is not made of them."""
    parts: list[tuple[str, str]] = []
    at = 0
    while at < len(plain):
        found = _ONE.match(plain, at)
        if not found:
            return None
        parts.append((found["count"].strip(), (found["unit"] or "").rstrip(".")))
        at = found.end()
        gap = _BETWEEN.match(plain, at)
        if at < len(plain) and not gap:
            return None
        if gap and gap[0].startswith(",") and _commas_mislead(plain):
            raise Unreadable(
                f"{quoted(plain)} can be read as one number or as several.",
                "Put a space alone between repeats: 5 5 6; and no space in a decimal: 5,5.",
            )
        at = gap.end() if gap else at
    return parts or None


def _commas_mislead(plain: str) -> bool:
    """Tell whether commas may be those of decimals with a space that slipped in: '5, 5'."""
    return all(_WHOLE.fullmatch(part.strip()) for part in plain.split(","))


def _unit_for(count: str, unit: str, units_before: Iterable[str]) -> str:
    """Give the unit of a bare number; empty where it has to be typed."""
    for text in reversed(tuple(units_before)):
        found = _ONE.fullmatch(text)
        if found and is_fraction(found["count"]) == is_fraction(count) and found["unit"]:
            return found["unit"]
    if re.fullmatch(r"[+-]? ?0+", count):
        return unit
    return unit if is_fraction(count) == (unit == "in") else ""
