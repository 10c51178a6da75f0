"""The tables of a TOML file become tables of the model, as far as they can be read.

What is wrong in one value does not hide what is right or wrong in the others: every problem of a
file is told at once, and the good values go on to be checked against each other. Key paths count
from 1, as a person counts tables in a file: `shipment[2].cartons` is in the second [[shipment]].
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from claimkit.intake.entries.examples import example
from claimkit.intake.entries.fields import Field, fields_of, is_written
from claimkit.intake.entries.leaves import Place, read_leaf
from claimkit.intake.entries.problems import Unreadable, by_likeness, in_short, listed, quoted, said
from claimkit.intake.entries.tomltext import toml_key, toml_string
from claimkit.model.facts import Problem
from claimkit.model.written import Entries

MOST = 200  # problems of one file; more is another kind of file
_LIKE_A_KEY = 70


class _Unread:
    """Stands for an entry of a list that could not be read, so that the others keep their place."""


UNREAD = _Unread()


@dataclass(frozen=True, slots=True)
class Table:
    """One table as far as it could be read.

    `of` is its dataclass, `at` its key path (empty for the whole file). `values` holds what could
    be read: values of the model, further tables, or tuples of these with `UNREAD` among them.
    `there` are the keys that stand in the file, readable or not. `whole` is True where nothing in
    it was wrong.
    """

    of: type[Any]
    at: str
    values: Mapping[str, Any]
    there: frozenset[str]
    whole: bool

    def get(self, name: str) -> Any:
        """Give a value that was read, the default of a key left out, or None."""
        if name in self.values:
            return self.values[name]
        return next((f.default for f in fields_of(self.of) if f.name == name), None)

    def tables(self, name: str) -> tuple[Table, ...]:
        """Give the tables under that key that could be read at all."""
        found = self.values.get(name, ())
        entries = found if isinstance(found, tuple) else (found,)
        return tuple(entry for entry in entries if isinstance(entry, Table))

    def path(self, name: str, entry: int | None = None) -> str:
        """Give the key path of a key in this table, or of one entry (from 0) of its list."""
        whole = f"{self.at}.{toml_key(name)}" if self.at else toml_key(name)
        return whole if entry is None else f"{whole}[{entry + 1}]"

    def build(self) -> Any:
        """Give the dataclass. Only for a table that is whole."""
        return self.of(**{name: _built(value) for name, value in self.values.items()})

    def walk(self) -> Iterator[Table]:
        """Give this table and all tables in it, in the order of their keys."""
        yield self
        for name in self.values:
            for table in self.tables(name):
                yield from table.walk()

    def leaves(self) -> Iterator[tuple[Field, str, Any]]:
        """Give each plain value of this table itself with its field and key path."""
        for field in fields_of(self.of):
            value = self.values.get(field.name)
            if value is None or field.is_table:
                continue
            if not field.many:
                yield field, self.path(field.name), value
                continue
            for number, entry in enumerate(value):
                if entry is not UNREAD:
                    yield field, self.path(field.name, number), entry


def _built(value: Any) -> Any:
    if isinstance(value, tuple):
        return tuple(_built(entry) for entry in value)
    return value.build() if isinstance(value, Table) else value


def read_table(
    kind: type[Any], raw: Mapping[str, Any], place: Place, *, beside: tuple[str, ...] = ()
) -> tuple[Table, tuple[Problem, ...], bool]:
    """Read a whole file's values as that dataclass.

    `beside` are keys read elsewhere, named only in suggestions. The last value is True where some
    time could not be placed because the site's zone is not known.
    """
    reading = _Reading(kind, place, beside)
    table = reading.table(kind, raw, "", ())
    problems = reading.problems
    if len(problems) > MOST:
        more = Problem(place.file, "", "there are further problems.", "Mend these first.")
        problems = [*problems[:MOST], more]
    return table, tuple(problems), reading.needs_zone


class _Reading:
    """One file being read; gathers its problems."""

    def __init__(self, root: type[Any], place: Place, beside: tuple[str, ...]) -> None:
        self.root, self.place, self.beside = root, place, beside
        self.problems: list[Problem] = []
        self.needs_zone = False

    def tell(self, key_path: str, found: str, write: str) -> None:
        self.problems.append(Problem(self.place.file, key_path, found, in_short(write)))

    def table(
        self, kind: type[Any], raw: Mapping[str, Any], at: str, above: tuple[type[Any], ...]
    ) -> Table:
        """Read one table. `above` are the kinds of the tables that it stands in."""
        before = len(self.problems), self.needs_zone
        self.needs_zone = False
        empty = Table(kind, at, {}, frozenset(), False)
        values: dict[str, Any] = {}
        for field in fields_of(kind):
            path = empty.path(field.name)
            if field.name in raw:
                value = self.value(field, raw[field.name], path, (*above, kind))
                if value is not UNREAD:
                    values[field.name] = value
            elif field.required and field.name not in self.place.left_out:
                self.tell(path, "is missing.", _how_to_write(kind, field, path))
        known = {f.name for f in fields_of(kind)}
        for key in raw:
            if key not in known:
                self.tell(empty.path(key), *self.unknown(key, kind, above))
        whole = len(self.problems) == before[0] and not self.needs_zone
        self.needs_zone = self.needs_zone or before[1]
        return Table(kind, at, values, frozenset(raw), whole)

    def value(self, field: Field, raw: Any, path: str, above: tuple[type[Any], ...]) -> Any:
        """Read one key: a value, a table, or a list of either."""
        if not field.many:
            return self.one(field, raw, path, above)
        if not isinstance(raw, list):
            if field.is_table and isinstance(raw, Mapping):
                name = _dotted(path)
                self.tell(path, f"[{name}] stands in single brackets.", f"Write [[{name}]].")
                return (self.one(field, raw, f"{path}[1]", above),)
            shape = f"[[{field.name}]] tables" if field.is_table else "a list"
            write = f"Write {example(above[-1], field.name)}."
            if isinstance(raw, str) and not field.is_table:
                write = f"Write {field.name} = [{toml_string(raw)}]."
            self.tell(path, f"{said(raw)} stands where {shape} must be.", write)
            return UNREAD
        bounds = field.mark(Entries)
        if bounds and not bounds.least <= len(raw) <= (bounds.most or len(raw)):
            self.tell(path, *_wrong_number(field, len(raw), bounds, above[-1]))
        entries: list[Any] = []
        for number, entry in enumerate(raw, start=1):
            if len(self.problems) > MOST:
                break
            entries.append(self.one(field, entry, f"{path}[{number}]", above))
        return tuple(entries)

    def one(self, field: Field, raw: Any, path: str, above: tuple[type[Any], ...]) -> Any:
        """Read one value or table; `UNREAD` where it cannot be."""
        if field.is_table:
            if isinstance(raw, Mapping):
                return self.table(field.of, raw, path, above)
            if isinstance(raw, list) and not field.many:
                name = _dotted(path)
                self.tell(path, f"[[{name}]] stands in double brackets.", f"Write [{name}].")
            else:
                write = f"Write it as a table: {_header(field, path)} and its keys below."
                self.tell(path, f"{said(raw)} stands where a table must be.", write)
            return UNREAD
        try:
            return read_leaf(field, raw, self.place)
        except Unreadable as no:
            if no.needs_zone:
                self.needs_zone = True
            else:
                self.tell(path, no.found, no.write)
            return UNREAD

    def unknown(self, key: str, kind: type[Any], above: tuple[type[Any], ...]) -> tuple[str, str]:
        """Tell of a key that the table does not have: where it belongs, or what is like it."""
        found = f"{quoted(key)} is not a key that is known here."
        if len(self.problems) > MOST:
            return found, "Take the line out."
        if above and (key in self.beside or key in _names(self.root)):
            return found, "It belongs at the top of the file, above the first line with [ ]."
        here = [*_names(kind), *(() if above else self.beside)]
        ranked = by_likeness(key, here)
        if ranked and ranked[0][1] >= _LIKE_A_KEY:
            return found, f"Did you mean {ranked[0][0]}? Else take the line out."
        if elsewhere := _tables_with(self.root, key):
            return found, f"It belongs in {listed(elsewhere)}."
        return found, f"Take the line out. Known here are {', '.join(n for n, _ in ranked)}."


def _names(kind: type[Any]) -> tuple[str, ...]:
    return tuple(field.name for field in fields_of(kind))


def _tables_with(root: type[Any], key: str, at: str = "") -> tuple[str, ...]:
    """Give the headers of the tables below a kind that have that key."""
    headers: list[str] = []
    for field in fields_of(root):
        if is_written(field.of):
            name = f"{at}{field.name}"
            if key in _names(field.of):
                headers.append(f"[[{name}]]" if field.many else f"[{name}]")
            headers.extend(_tables_with(field.of, key, f"{name}."))
    return tuple(headers)


def _dotted(path: str) -> str:
    """Give the name of a table as its header has it: no numbers."""
    return re.sub(r"\[\d+\]", "", path)


def _header(field: Field, path: str) -> str:
    return f"[[{_dotted(path)}]]" if field.many else f"[{_dotted(path)}]"


def _how_to_write(kind: type[Any], field: Field, path: str) -> str:
    if field.is_table:
        keys = listed((f.name for f in fields_of(field.of) if f.required), "and")
        return f"Write a table {_header(field, path)} with {keys}."
    return f"Write such as {example(kind, field.name)}."


def _wrong_number(field: Field, there: int, bounds: Entries, kind: type[Any]) -> tuple[str, str]:
    needed = f"{bounds.least}" if bounds.most == bounds.least else f"at least {bounds.least}"
    leave_out = "" if field.required else ", or take it out"
    found = f"the list has {there} {'entry' if there == 1 else 'entries'}, and {needed} must be."
    return found, f"Write such as {example(kind, field.name)}{leave_out}."
