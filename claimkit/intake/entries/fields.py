"""What each table of job.toml and of a record may hold, taken from the dataclasses of the model.

The dataclass says the type, its `Annotated` text what to write, its marks what the value names or
which numbers make sense. Reading, the documentation and the commented job.toml all ask here.
"""

from __future__ import annotations

import dataclasses
import types
from collections.abc import Hashable
from dataclasses import MISSING, dataclass
from enum import Enum
from functools import cache
from typing import Annotated, Any, TypeVar, Union, cast, get_args, get_origin, get_type_hints

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
from claimkit.model.written import Entries, Limits, Names, OneOf

M = TypeVar("M")


@dataclass(frozen=True, slots=True)
class Field:
    """One key of a table.

    `of` is the type of the value, or of each entry where `many` is True. `default` holds where
    the key is left out and it is not `required`.
    """

    name: str
    about: str
    of: type[Any]
    many: bool
    required: bool
    default: object
    marks: tuple[object, ...]

    def mark(self, kind: type[M]) -> M | None:
        """Give the field's mark of that kind, or None."""
        return next((m for m in self.marks if isinstance(m, kind)), None)

    @property
    def is_table(self) -> bool:
        """True where the value, or each entry, is a table of its own."""
        return is_written(self.of)


def is_written(kind: type[Any]) -> bool:
    """Tell whether a type is one of the model's tables: a dataclass of explained fields."""
    if not dataclasses.is_dataclass(kind):
        return False
    return any(
        get_origin(h) is Annotated for h in get_type_hints(kind, include_extras=True).values()
    )


def fields_of(table: type[Any]) -> tuple[Field, ...]:
    """Give the keys of a table in the order of its dataclass."""
    return _fields(cast(Hashable, table))


@cache
def _fields(table: Any) -> tuple[Field, ...]:
    hints = get_type_hints(table, include_extras=True)
    return tuple(_field(hints[f.name], f) for f in dataclasses.fields(table))


def _field(hint: Any, field: dataclasses.Field[Any]) -> Field:
    bare, about, *marks = get_args(hint)
    bare = _without_none(bare)
    many = get_origin(bare) is tuple
    if many:
        entries = get_args(bare)
        if Ellipsis not in entries:  # tuple[str, str] says how many there are
            marks.append(Entries(len(entries), len(entries)))
        bare = entries[0]
    required = field.default is MISSING
    default = None if required else field.default
    return Field(field.name, about, bare, many, required, default, tuple(marks))


def _without_none(hint: Any) -> Any:
    """Give X of 'X | None'. TOML has no null: a key that is left out is None."""
    if get_origin(hint) not in (Union, types.UnionType):
        return hint
    (only,) = (arg for arg in get_args(hint) if arg is not type(None))
    return only


_SHAPES: dict[type[Any], str] = {
    str: "text",
    bool: "true or false",
    int: "whole number",
    Moment: "time",
    Length: "length",
    Weight: "weight",
    Temperature: "temperature",
    Money: "money",
    Rate: "rate",
    Span: "period",
    Hours: "working time",
    Share: "per cent",
}
_NAMED = {
    Names.PARTY: "party id",
    Names.CARRIER: "party id",
    Names.BROKER: "party id",
    Names.PERSON: "person id",
    Names.SHIPMENT: "shipment id",
    Names.THE_SHIPMENT: "shipment id",
    Names.ITEM: "item id",
    Names.SEAM: "seam id",
    Names.FILE: "path in the job folder",
    Names.RECORD: "record id",
}


def shape(field: Field) -> str:
    """Say in a few words what kind of value a key takes: 'length', 'list of item ids'."""
    if field.is_table:
        return "one table each" if field.many else "table"
    names = field.mark(Names)
    word = _NAMED[names] if names else _SHAPES.get(field.of, "one of the words")
    if words_of(field):
        word = "one of the words"
    if not field.many:
        return word
    plural = {"path in the job folder": "paths in the job folder", "one of the words": "words"}
    return f"list of {plural.get(word, word + 's')}"


def words_of(field: Field) -> tuple[str, ...]:
    """Give the words that a key takes where it takes a closed set of them, else none."""
    if issubclass(field.of, Enum):
        return tuple(str(member.value) for member in field.of)
    closed = field.mark(OneOf)
    return closed.words if closed else ()


def limits_of(field: Field) -> str:
    """Say which numbers a key takes where that is not plain: 'more than zero', 'at most 145'."""
    limits = field.mark(Limits)
    if limits is None:
        return ""
    unit = {Length: " mm", Weight: " kg"}.get(field.of, "")
    parts = []
    if limits.above_low:
        parts.append("more than zero")
    if limits.low is None:
        parts.append("a minus sign is allowed")
    if limits.high is not None:
        parts.append(f"at most {limits.high}{unit}")
    return ", ".join(parts)
