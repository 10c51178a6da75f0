"""One value of a file becomes one value of the model, or a sentence about what stands there.

Nothing is converted silently: a number in quotes is not a number, a yes is not a count, and an
empty text is not a statement. Counts and sizes that no delivery has are refused here too.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, tzinfo
from decimal import Decimal
from fractions import Fraction
from typing import Any

from claimkit.intake.entries.contracts import money, span
from claimkit.intake.entries.fields import Field, words_of
from claimkit.intake.entries.moments import moment, zone_name
from claimkit.intake.entries.problems import Unreadable, by_likeness, listed, nearest, quoted, said
from claimkit.intake.entries.quantities import length, temperature, weight
from claimkit.intake.entries.rates import rate
from claimkit.intake.entries.shares import share, working_time
from claimkit.model.moment import Moment
from claimkit.model.quantities import (
    Hours,
    Length,
    Money,
    Rate,
    Share,
    Span,
    Temperature,
    Weight,
)
from claimkit.model.written import Limits, Names, Text

MOST = 1_000_000  # no delivery, order or reading counts more of anything
LONGEST_WORDS = 3_000  # characters on a receipt; grading takes 0.3 s then, its time grows as n²
LONGEST_TEXT = 6_000  # characters, some three pages; some readings of words grow as n² too
MOST_LINES = 300
_ID = re.compile(r"[^\W_][\w.-]{0,59}")
# A backslash between folders; not one that begins a visible code (see `paths.shown`).
_SEPARATOR = re.compile(r"\\(?!x[0-9a-f]{2}|u[0-9a-f]{4})")


@dataclass(frozen=True, slots=True)
class Place:
    """What reading needs to know of a file.

    `file` is its path, `zone` the site's, `spelled` how dates stand in it. `left_out` are keys of
    lines that could not be parsed: their absence is no second problem.
    """

    file: str
    zone: tzinfo | None
    spelled: Mapping[tuple[type, str], str]
    left_out: frozenset[str] = frozenset()


def read_leaf(field: Field, value: object, place: Place) -> object:
    """Give the model's value for what a file holds under that field. Raises Unreadable."""
    if words_of(field):
        return field.of(_word(field, value))
    return _READERS[field.of](field, value, place)


def _word(field: Field, value: object) -> str:
    """Read one of a closed set of words."""
    words = words_of(field)
    if not isinstance(value, str):
        raise Unreadable(f"{said(value)} stands here.", f"Write one of {_choices(words)}.")
    if value not in words:
        ranked = [word for word, _ in by_likeness(value, words)]
        write = f"Write {_choices(ranked)}."
        raise Unreadable(f"{quoted(value)} is not one of the words here.", write)
    return value


def _choices(words: Any) -> str:
    return listed(f'"{word}"' for word in words)


def _text(field: Field, value: object, place: Place) -> str:
    del place
    if not isinstance(value, str):
        plain = isinstance(value, int | Decimal | date) and not isinstance(value, bool)
        short = plain and not (isinstance(value, int) and abs(value) > MOST)
        write = f'Put it in quotes: "{value}".' if short else "Write a text in quotes."
        raise Unreadable(f"{said(value)} stands where a text is needed.", write)
    kind = field.mark(Text)
    if not value.strip() and kind is not Text.MAY_BE_EMPTY:
        leave_out = "" if field.required else ", or take the line out"
        raise Unreadable("the text is empty.", f"Write it{leave_out}.")
    _check_length(value, kind)
    if kind is Text.ID and not _ID.fullmatch(value):
        raise Unreadable(
            f"{quoted(value)} is not a short name.",
            "Write letters, digits, hyphens and dots without spaces, such as "
            f'"{_short_name(value)}".',
        )
    if kind is Text.ZONE:
        return zone_name(value)
    if kind is Text.COUNTRY:
        return _country(value)
    if field.mark(Names) is Names.FILE:
        return _path(value)
    return value


def _check_length(value: str, kind: Text | None) -> None:
    receipt = kind is Text.MAY_BE_EMPTY
    most = LONGEST_WORDS if receipt else LONGEST_TEXT
    lines = value.count("\n") + 1
    if len(value) <= most and lines <= MOST_LINES:
        return
    size = f"{len(value):,} characters" if len(value) > most else f"{lines:,} lines"
    may = f"{most:,}" if len(value) > most else f"{MOST_LINES:,}"
    raise Unreadable(
        f"the text has {size}; such a text may have {may}.",
        "Write what stands on the receipt and no more."
        if receipt
        else "Put the long text into a file in documents/, and write here what matters.",
    )


def _short_name(value: str) -> str:
    return re.sub(r"[^\w.]+", "-", value).strip("-_.").lower()[:40] or "north"


def _country(value: str) -> str:
    known = {"US": []} if value == "US" else _countries()
    if value in known:
        return value
    like = nearest(value, (c for c in known if len(c) == len(value))) or "US"
    raise Unreadable(
        f"{quoted(value)} is not a country whose holidays are known.",
        f'Write its two-letter code of ISO 3166, such as "{like}".',
    )


def _countries() -> dict[str, list[str]]:
    """Give the countries whose public holidays are known, with their subdivisions."""
    import holidays  # slow to import, and needed only away from the default

    return holidays.list_supported_countries()


def subdivision_known(country: str, subdivision: str) -> tuple[bool, tuple[str, ...]]:
    """Tell whether a state or province is one whose holidays are known, and which are."""
    known = tuple(_countries().get(country, ()))
    return subdivision in known, known


def _path(value: str) -> str:
    """Check a path in the job folder: relative, forward slashes, nothing that leads outside."""
    plain = _SEPARATOR.sub("/", value)
    if re.match(r"/|[A-Za-z]:|~", plain) or ".." in plain.split("/"):
        raise Unreadable(
            f"{quoted(value)} leads outside the job folder.",
            'Write the path from the job folder on, such as "photos/IMG_0001.jpg".',
        )
    if plain != value or plain.startswith("./") or "//" in plain or plain.endswith("/"):
        parts = [part for part in plain.split("/") if part not in ("", ".")]
        raise Unreadable(
            f"{quoted(value)} is not written as paths are here.", f'Write "{"/".join(parts)}".'
        )
    return value


def _yes_or_no(field: Field, value: object, place: Place) -> bool:
    del field, place
    if isinstance(value, bool):
        return value
    if isinstance(value, str) and value.strip().lower() in ("true", "yes", "y", "false", "no", "n"):
        meant = "true" if value.strip().lower()[0] in "ty" else "false"
        raise Unreadable(
            f"{said(value)} stands where a yes or no is needed.", f"Write {meant}, without quotes."
        )
    raise Unreadable(
        f"{said(value)} stands where a yes or no is needed.", "Write true or false, without quotes."
    )


def _count(field: Field, value: object, place: Place) -> int:
    del place
    if isinstance(value, bool) or not isinstance(value, int):
        write = "Write it in figures, without quotes."
        if isinstance(value, str) and value.strip().isascii() and value.strip().isdigit():
            write = f"Write {int(value.strip()[:9])}, without quotes."
        raise Unreadable(f"{said(value)} stands where a whole number is needed.", write)
    _within(field, Fraction(value), str(value) if abs(value) <= MOST else said(value))
    if value > MOST:
        raise Unreadable(f"{said(value)} is too large.", "Look again.")
    return value


def _quantity(
    parse: Callable[[str], Any], amount: str, lacks: str, example: str
) -> Callable[[Field, object, Place], Any]:
    """Give a reader for quantities that are written as text with their unit."""

    def read(field: Field, value: object, place: Place) -> Any:
        del place
        if isinstance(value, int | Decimal) and not isinstance(value, bool):
            raise Unreadable(f"{said(value)} has no {lacks}.", f"Write {example}, in quotes.")
        if not isinstance(value, str):
            raise Unreadable(f"{said(value)} stands here.", f"Write {example}, in quotes.")
        if not value.strip():
            leave_out = "" if field.required else ", or take the line out"
            raise Unreadable("the text is empty.", f"Write {example}{leave_out}.")
        quantity = parse(value)
        if amount:
            _within(field, Fraction(getattr(quantity, amount)), quoted(value))
        return quantity

    return read


def _within(field: Field, value: Fraction, shown: str) -> None:
    limits = field.mark(Limits) or Limits()
    if limits.low is not None and value < limits.low:
        raise Unreadable(
            f"{shown} is less than {limits.low or 'zero'}.",
            "Look again, and write it without a minus sign.",
        )
    if limits.above_low and value == limits.low:
        leave_out = "" if field.required else ", or take the line out"
        raise Unreadable(f"{shown} is not more than zero.", f"Look again{leave_out}.")
    if limits.high is not None and value > limits.high:
        unit = {Length: " mm", Weight: " kg"}.get(field.of, "")
        raise Unreadable(
            f"{shown} is more than {limits.high}{unit}.", "Look again at number and unit."
        )


def _moment(field: Field, value: object, place: Place) -> Moment:
    del field
    if isinstance(value, bool | int | Decimal | list | dict):
        raise Unreadable(
            f"{said(value)} stands where a time is needed.",
            'Write such as "2026-05-04 09:10", in quotes.',
        )
    spelled = None
    if isinstance(value, date):
        spelled = place.spelled.get((type(value), value.isoformat()))
    return moment(value, place.zone, spelled)


_READERS: dict[type[Any], Callable[[Field, Any, Place], Any]] = {
    str: _text,
    bool: _yes_or_no,
    int: _count,
    Moment: _moment,
    Length: _quantity(length, "mm", "unit", "'5 mm' or '1/8 in'"),
    Weight: _quantity(weight, "kg", "unit", "'412 lb' or '187 kg'"),
    Temperature: _quantity(temperature, "", "scale", "'18 C' or '64 F'"),
    Money: _quantity(money, "amount", "currency", "'1250.00 USD'"),
    Rate: _quantity(rate, "amount", "currency and unit", "'2.00 USD per lb'"),
    Span: _quantity(span, "", "unit", "'5 business days' or '9 months'"),
    Hours: _quantity(working_time, "hours", "unit", "'2.5 h' or '45 min'"),
    Share: _quantity(share, "of_one", "per cent sign", "'2 %'"),
}
