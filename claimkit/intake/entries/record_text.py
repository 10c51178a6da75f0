"""A record written as the file that a person could have written: for prompts and the phone's page.

What is written reads back equal. Whoever writes it to disk gives it a name that is not taken: a
record is never rewritten, and a correction is a new record that names the old.
"""

from __future__ import annotations

import re
from enum import Enum

from claimkit.intake.entries.fields import fields_of
from claimkit.intake.entries.tomltext import Bare, toml_document
from claimkit.model.moment import Moment, Precision
from claimkit.model.quantities import Hours, Length, Money, Share, Span, Temperature, Weight
from claimkit.model.records import KINDS, Body, Head

_ISO = re.compile(r"\d{4}-\d{2}-\d{2}(?:[T ]\d{2}:\d{2}(:\d{2})?.*)?", re.ASCII | re.IGNORECASE)


def record_text(
    kind: str,
    said_by: str,
    body: Body,
    written: Moment | None = None,
    replaces: tuple[str, str | None] | None = None,
) -> str:
    """Write a record that reads back equal; keys at their default are left out.

    `replaces` is the id of the record that this one corrects, and why. Raises ValueError where
    `body` is not of that kind.
    """
    if KINDS.get(kind) is not type(body):
        raise ValueError(f"{type(body).__name__} is not the body of a record of kind {kind}")
    corrected, reason = replaces or (None, None)
    head = Head(kind=kind, said_by=said_by, written=written, replaces=corrected, reason=reason)
    return toml_document(_plain(head) | _plain(body))


def _plain(table: object) -> dict[str, object]:
    """Give a table of the model as texts, numbers and mappings, without keys at their default."""
    values = ((field, getattr(table, field.name)) for field in fields_of(type(table)))
    return {f.name: _toml(v) for f, v in values if f.required or v != f.default}


def _toml(value: object) -> object:
    if isinstance(value, tuple):
        return [_toml(entry) for entry in value]
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, Moment):
        return _moment(value)
    if isinstance(value, Length | Weight | Temperature | Money | Span | Hours | Share):
        return value.written or _anew(value)
    return value if isinstance(value, str | bool | int) else _plain(value)


def _moment(moment: Moment) -> str:
    """Give a time as it was written: as text, or bare where TOML made the writer add seconds."""
    found = _ISO.fullmatch(moment.written.strip())
    if found:
        bare = moment.precision is Precision.MINUTE and found[1]
        return Bare(moment.written) if bare else moment.written
    if moment.precision is Precision.DAY:
        return moment.day.isoformat()
    return moment.at.isoformat(" ", f"{moment.precision}s")


def _anew(value: object) -> str:
    """Write a quantity that was worked out and has no text of its own."""
    if isinstance(value, Money):
        return f"{value.amount} {value.currency}"
    if isinstance(value, Span):
        return f"{value.count} {value.unit}" + (" and 1 day" if value.extra_days else "")
    raise ValueError(f"{value} has no text to write")
