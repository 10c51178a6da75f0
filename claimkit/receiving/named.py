"""Which pieces are meant by what is typed at the curb: carton 2, skids 1 and 3, an item.

What names no unit, no carton and no item is asked again: a wrong piece on a receipt is worse than
none.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from claimkit.compose.sheets.receiving_words import CARTONS, UNIT, Names
from claimkit.intake.entries.problems import Unreadable, quoted
from claimkit.rules.receiving import SHORT_UNITS, plural

_UNITS = ("unit", "handling unit", *SHORT_UNITS, *(code.lower() for code in SHORT_UNITS.values()))
_CARTONS = ("carton", "ctn", "box", "package", "pkg", "case")


def whole(typed: str) -> int:
    """Read a whole number. Raises Unreadable."""
    if typed.isascii() and typed.isdigit():
        return int(typed[:9])
    raise Unreadable(f"{quoted(typed)} is no whole number.", "Write a whole number, or nothing.")


def pieces(
    typed: str, names: Names, most: Mapping[str, int] | None = None
) -> tuple[str, tuple[int, ...]]:
    """Read which pieces are meant: "carton 2", "skids 1 and 3", an item by id or its words.

    A number alone is a carton's. `most` says how many there are of each. Raises Unreadable.
    """
    alone = re.sub(r"\bof \d+", " ", typed.lower())
    numbers = tuple(int(digits[:6]) for digits in re.findall(r"\d+", alone))
    plain = " ".join(re.sub(r"\d+|\band\b|[,;#&.]", " ", alone).split())
    for item, (name, _) in names.items.items():
        named = (item.lower(), name.one.lower())
        if typed.strip().lower() in named or plain in named:
            return item, ()
    on = _kind(plain, names) if plain or numbers else None
    if on is None:
        there = (names.unit.one, names.carton.one, *names.items)
        raise Unreadable(
            f"{quoted(typed)} names no piece of this delivery.",
            f"Write one of these with its number: {', '.join(there)}.",
        )
    there_are = (most or {}).get(on)
    wrong = [n for n in numbers if n == 0 or (there_are is not None and n > there_are)]
    if wrong:
        raise Unreadable(
            f"There is no {names.of(on).one} {wrong[0]}"
            + (f" of {there_are}." if there_are else "."),
            "Write its number as you counted them.",
        )
    return on, numbers


def _kind(plain: str, names: Names) -> str | None:
    """Tell units from cartons; the words of this job come before the general ones."""
    for on, name in ((UNIT, names.unit), (CARTONS, names.carton)):
        own = (name.one, name.many, name.short_one, name.short_many)
        if plain in tuple(word.lower() for word in own):
            return on
    if not plain or plain in (*_CARTONS, *map(plural, _CARTONS)):
        return CARTONS
    return UNIT if plain in (*_UNITS, *map(plural, _UNITS)) else None
