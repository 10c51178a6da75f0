"""Lengths, weights and temperatures as written on tapes, drawings and bills.

Every value is exact: an inch is 25.4 mm and a pound 0.45359237 kg by definition, and no value
passes through a binary float. What can be read in two ways is refused with both readings, never
guessed. The text as written is kept beside the value.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from claimkit.intake.entries.numbers import number, plain_text
from claimkit.intake.entries.problems import Unreadable, quoted
from claimkit.model.quantities import Length, Temperature, Weight

# NIST Special Publication 811 (2008), appendix B.8: exact by definition.
MM_PER_INCH = Fraction("25.4")
KG_PER_POUND = Fraction("0.45359237")

_LONGEST_MM = 100_000  # 100 m: no piece, gap or room of the trade is longer
_HEAVIEST_KG = 50_000  # no truck carries more
_COLDEST, _HOTTEST = -60, 80  # °C; pieces in a truck or a room


@dataclass(frozen=True, slots=True)
class _Scale:
    """The units of one quantity, those usual in print, and the two that are written together."""

    units: Mapping[str, Fraction]
    usual: str
    large: Fraction
    small: Fraction
    together: str


_LENGTH = _Scale(
    units={
        **dict.fromkeys(
            ("mm", "millimetre", "millimetres", "millimeter", "millimeters"), Fraction(1)
        ),
        **dict.fromkeys(
            ("cm", "centimetre", "centimetres", "centimeter", "centimeters"), Fraction(10)
        ),
        **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), Fraction(1000)),
        **dict.fromkeys(('"', "in", "inch", "inches"), MM_PER_INCH),
        **dict.fromkeys(("'", "ft", "foot", "feet"), 12 * MM_PER_INCH),
    },
    usual="mm, cm, m, in or ft",
    large=12 * MM_PER_INCH,
    small=MM_PER_INCH,
    together="feet and inches as in '6 ft 2 in'",
)
_WEIGHT = _Scale(
    units={
        **dict.fromkeys(("kg", "kgs", "kilogram", "kilograms", "kilogramme"), Fraction(1)),
        **dict.fromkeys(("g", "gram", "grams", "gramme", "grammes"), Fraction(1, 1000)),
        **dict.fromkeys(("lb", "lbs", "pound", "pounds", "#"), KG_PER_POUND),
        **dict.fromkeys(("oz", "ounce", "ounces"), KG_PER_POUND / 16),
        **dict.fromkeys(("short ton", "short tons"), 2000 * KG_PER_POUND),
        **dict.fromkeys(("long ton", "long tons"), 2240 * KG_PER_POUND),
        **dict.fromkeys(("tonne", "tonnes", "metric ton", "metric tons"), Fraction(1000)),
    },
    usual="lb, oz, kg or g",
    large=KG_PER_POUND,
    small=KG_PER_POUND / 16,
    together="pounds and ounces as in '8 lb 4 oz'",
)
_GROUPS_WITH_COMMA = ("lb", "lbs", "pound", "pounds", "#")  # units of the US alone

_NUMBER = r"\d[\d., /-]*|[.,]\d+"
_PART = re.compile(rf"({_NUMBER})\s*([^\d\s.,/-][^\d]*?)[.]?(?=$|[ ,-]*\d)", re.ASCII)


def length(text: str) -> Length:
    """Read a length: '3/16 in', '1 1/8"', '5 mm', '6 ft 2 in', '-2 mm'.

    Exact, in mm; a leading sign is kept (whether one makes sense is for the field to say).
    Raises Unreadable.
    """
    plain = plain_text(text)
    sign, body = _signed(plain)
    parts = _parts(body)
    if parts is None:
        raise _no_length(text, body)
    mm = _total(parts, _LENGTH, text)
    if mm > _LONGEST_MM:
        raise Unreadable(f"{quoted(text)} is longer than 100 m.", "Look again at the unit.")
    return Length(sign * mm, text)


def weight(text: str) -> Weight:
    """Read a weight: '412 lb', '1,412 lbs', '187 kg', '8 lb 4 oz', '2 short tons'.

    Exact, in kg. A ton is refused where it does not say which. Raises Unreadable.
    """
    plain = plain_text(text)
    sign, body = _signed(plain)
    parts = _parts(body)
    if parts is None:
        raise Unreadable(
            f"{quoted(text)} is not a weight with its unit.", "Write such as '412 lb' or '187 kg'."
        )
    kg = _total(parts, _WEIGHT, text)
    if kg > _HEAVIEST_KG:
        raise Unreadable(f"{quoted(text)} is heavier than 50 tonnes.", "Look again at the unit.")
    return Weight(sign * kg, text)


def temperature(text: str) -> Temperature:
    """Read a temperature: '18 C', '64 °F', '-5 C'. Exact, in degrees Celsius. Raises Unreadable."""
    plain = plain_text(text).replace("℃", "C").replace("℉", "F")
    found = re.fullmatch(
        r"([+-]?) ?([\d.,]+) ?(?:°|º|deg\.?|degrees)? ?(C|F|celsius|fahrenheit)[.]?",
        plain,
        re.ASCII | re.IGNORECASE,
    )
    if not found:
        raise Unreadable(
            f"{quoted(text)} is not a temperature with its scale.", "Write '18 C' or '64 F'."
        )
    degrees = number(found[2]) * (-1 if found[1] == "-" else 1)
    celsius = degrees if found[3][0] in "cC" else (degrees - 32) * Fraction(5, 9)
    if not _COLDEST <= celsius <= _HOTTEST:
        raise Unreadable(
            f"{quoted(text)} is outside -60 to 80 °C.",
            "Look again: Celsius ends in C, Fahrenheit in F.",
        )
    return Temperature(celsius, text)


def _signed(text: str) -> tuple[int, str]:
    if text[:1] in ("+", "-"):
        return (-1 if text[0] == "-" else 1), text[1:].strip()
    return 1, text


def _parts(text: str) -> list[tuple[str, str]] | None:
    """Split '6 ft 2 in' into numbers and units; None where the text is not made of such pairs."""
    parts: list[tuple[str, str]] = []
    at = 0
    while at < len(text):
        found = _PART.match(text, at)
        if not found:
            return None
        parts.append((found[1].strip(" -,"), found[2].strip().lower()))
        at = len(text) - len(text[found.end() :].lstrip(" ,-"))
    return parts or None


def _total(parts: list[tuple[str, str]], scale: _Scale, text: str) -> Fraction:
    """Add up one part, or a whole number of the large unit and less than one of it in the small."""
    values = [_in_unit(count, unit, scale, text) for count, unit in parts]
    (count, size), (rest, rest_size) = values[0], values[-1]
    if len(values) == 1:
        return count * size
    together = len(values) == 2 and (size, rest_size) == (scale.large, scale.small)
    if not together or count.denominator != 1 or rest * rest_size >= scale.large:
        raise Unreadable(
            f"{quoted(text)} has parts that do not go together.",
            f"Write one unit, or {scale.together}.",
        )
    return count * size + rest * rest_size


def _in_unit(count: str, unit: str, scale: _Scale, text: str) -> tuple[Fraction, Fraction]:
    """Give a count and the size of its unit."""
    if unit in ("t", "ton", "tons"):
        raise Unreadable(
            f"{quoted(text)} does not say which ton.",
            "Write 'short tons' (2,000 lb), 'long tons' (2,240 lb) or 'tonnes' (1,000 kg).",
        )
    if unit not in scale.units:
        raise Unreadable(
            f"{quoted(text)} has the unit {quoted(unit)}, which is not known here.",
            f"Write it in {scale.usual}.",
        )
    return number(count, thousands=unit in _GROUPS_WITH_COMMA), scale.units[unit]


def _no_length(text: str, body: str) -> Unreadable:
    if re.fullmatch(r"[\d.,/ -]+", body, re.ASCII):
        return Unreadable(
            f"{quoted(text)} has no unit.", f"Write '{body} in' or '{body} mm', whichever it is."
        )
    if re.match(r"[\d.,].*\d", body, re.ASCII):
        return Unreadable(
            f"{quoted(text)} ends in a number without its unit.",
            "Write a unit after each number, such as '6 ft 2 in' or '5 mm'.",
        )
    return Unreadable(
        f"{quoted(text)} is not a length that can be read.",
        "Write such as '3/16 in', '1 1/8 in', '5 mm' or '6 ft 2 in'.",
    )
