"""Texts and simple tables written as TOML 1.0, whatever a person typed into them.

What is written here reads back equal with any TOML reader. Records and the first job.toml are
made with it; no file that exists is ever rewritten.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date, datetime
from decimal import Decimal

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+", re.ASCII)
_SHORT_ESCAPES = {
    "\b": "\\b",
    "\t": "\\t",
    "\n": "\\n",
    "\f": "\\f",
    "\r": "\\r",
    '"': '\\"',
    "\\": "\\\\",
}
_LONGEST_LIST = 80  # characters; a longer list has each entry on its own line
_LINE_ENDS = "\u0085\u2028\u2029"  # some editors show these as line ends, which TOML does not


def toml_string(text: str) -> str:
    """Write a text as a TOML string on one line.

    Inch marks and backslashes are left legible in single quotes where nothing else needs an
    escape. Raises ValueError for a lone surrogate, which no TOML file can hold.
    """
    literal = ('"' in text or "\\" in text) and "'" not in text
    if literal and not any(_needs_escape(c) for c in text):
        return f"'{text}'"
    return f'"{_escapes(text)}"'


def toml_text(text: str) -> str:
    """Write a text as a TOML string, over several lines where it has them."""
    if "\n" not in text:
        return toml_string(text)
    lines = (_escapes(line) for line in text.split("\n"))
    return '"""\n' + "\n".join(lines) + '"""'


def _needs_escape(character: str) -> bool:
    code = ord(character)
    if 0xD800 <= code <= 0xDFFF:
        raise ValueError("the text holds half a character (a lone surrogate)")
    return code < 0x20 or 0x7F <= code < 0xA0 or character in _LINE_ENDS


def _escapes(text: str) -> str:
    return "".join(_escaped(character) for character in text)


def _escaped(character: str) -> str:
    if character in _SHORT_ESCAPES:
        return _SHORT_ESCAPES[character]
    return f"\\u{ord(character):04x}" if _needs_escape(character) else character


def toml_key(key: str) -> str:
    """Write a key, in quotes where it needs them."""
    return key if _BARE_KEY.fullmatch(key) else f'"{_escapes(key)}"'


class Bare(str):
    """A TOML date-time as it stands in a file, written without quotes."""

    __slots__ = ()


def toml_value(value: object) -> str:
    """Write a text, yes or no, number, date, date-time or list of these. Raises TypeError else."""
    if isinstance(value, list | tuple):
        return _list(value)
    if isinstance(value, str) and not isinstance(value, Bare):
        return toml_text(value)
    if isinstance(value, Decimal) and value.is_finite():
        plain = f"{value:f}"
        return plain if "." in plain else f"{plain}.0"
    if isinstance(value, datetime | date):
        return value.isoformat()
    if isinstance(value, bool | int | Bare):
        return str(value).lower() if isinstance(value, bool) else str(value)
    raise TypeError(f"{type(value).__name__} has no form in TOML here")


def _list(values: Sequence[object]) -> str:
    entries = [toml_string(v) if isinstance(v, str) else toml_value(v) for v in values]
    line = f"[{', '.join(entries)}]"
    return (
        line
        if len(line) <= _LONGEST_LIST
        else "[\n" + "".join(f"    {e},\n" for e in entries) + "]"
    )


def toml_document(values: Mapping[str, object], at: str = "") -> str:
    """Write keys, then tables, then lists of tables.

    A mapping becomes [table], a list of mappings [[table]], to any depth. `at` is the dotted name
    of the table that `values` stand in.
    """
    plain = {k: v for k, v in values.items() if not _is_tables(v) and not isinstance(v, Mapping)}
    parts = ["".join(f"{toml_key(k)} = {toml_value(v)}\n" for k, v in plain.items())]
    for key, value in values.items():
        name = f"{at}.{toml_key(key)}" if at else toml_key(key)
        if isinstance(value, Mapping):
            parts.append(f"[{name}]\n{toml_document(value, name)}")
        elif isinstance(value, list | tuple) and _is_tables(value):
            parts.extend(f"[[{name}]]\n{toml_document(entry, name)}" for entry in value)
    return "\n".join(part for part in parts if part)


def _is_tables(value: object) -> bool:
    return (
        isinstance(value, list | tuple)
        and len(value) > 0
        and all(isinstance(entry, Mapping) for entry in value)
    )
