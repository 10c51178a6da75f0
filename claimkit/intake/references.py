"""What records and job.toml name in each other: parties, persons, items, seams, shipments, files.

A short name that leads nowhere is told with the name that is like it. A broker is no carrier, and
with several shipments each statement says which it is about, so that two never mix.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from claimkit.intake.fields import Field, fields_of
from claimkit.intake.paths import same_name
from claimkit.intake.problems import by_likeness, listed, nearest, quoted
from claimkit.intake.tables import UNREAD, Table
from claimkit.model.job import Role, Terms
from claimkit.model.records import Delivery, Readings
from claimkit.model.written import Names

Told = tuple[str, str, str]  # key path, what was found, what to write

CARRIER_ROLES = (Role.ORIGIN_CARRIER, Role.DELIVERING_CARRIER, Role.LAST_MILE_CARRIER)
_OWN_TRUCK_ROLES = (Role.SELLER, Role.MAKER, Role.SHIPPER)
_LIKE_A_FILE = 80
_TABLE_OF = {
    Names.PARTY: "party",
    Names.CARRIER: "party",
    Names.BROKER: "party",
    Names.PERSON: "person",
    Names.SHIPMENT: "shipment",
    Names.THE_SHIPMENT: "shipment",
    Names.ITEM: "item",
    Names.SEAM: "seam",
}


@dataclass(frozen=True, slots=True)
class Known:
    """What can be named: the job's tables, and the files of the folder by their shown names.

    `job` is None where job.toml cannot be read; then only files are followed.
    """

    job: Table | None
    files: Mapping[str, str]

    def tables(self, name: str) -> dict[str, Table]:
        """Give the tables of that name by their ids."""
        tables = self.job.tables(name) if self.job else ()
        return {t.get("id"): t for t in tables if t.get("id") is not None}


def known_files(paths: frozenset[str]) -> dict[str, str]:
    """Give the files by the form under which two spellings of one name are the same."""
    return {same_name(path): path for path in sorted(paths)}


def astray(table: Table, known: Known) -> Iterator[Told]:
    """Give every name in a table and the tables in it that leads nowhere or to the wrong thing."""
    for inner in table.walk():
        for field, path, value in inner.leaves():
            names = field.mark(Names)
            if names is Names.FILE:
                yield from _file(path, value, known)
            elif names in _TABLE_OF and known.job:
                yield from _named(inner, names, path, value, known)
        if known.job:
            yield from _which_shipment(inner, known)
        if inner.of is Readings:
            yield from _stations(inner, known)


def _named(table: Table, names: Names, path: str, value: str, known: Known) -> Iterator[Told]:
    kind = _TABLE_OF[names]
    there = known.tables(kind)
    if value not in there:
        yield path, f"{quoted(value)} is no {kind} of job.toml.", _which(value, kind, there)
    elif check := _ROLES.get(names):
        yield from check(table, path, value, there[value])


def _which(value: str, kind: str, there: dict[str, Table]) -> str:
    """Say which id is meant, by its likeness to the ids and to the full names."""
    if not there:
        return f'Add [[{kind}]] with id = "{value}" to job.toml.'
    by_name = {str(table.get("name") or table.get("description")): i for i, table in there.items()}
    like = nearest(value, there) or by_name.get(nearest(value, by_name) or "")
    if like:
        return f'Did you mean "{like}"? Else add a [[{kind}]] of that id to job.toml.'
    ids = listed(f'"{i}"' for i in sorted(there))
    return f"Write {ids}, or add a [[{kind}]] of that id to job.toml."


def _carrier(table: Table, path: str, value: str, party: Table) -> Iterator[Told]:
    roles = party.values.get("roles")
    if roles is None or UNREAD in roles or any(role in CARRIER_ROLES for role in roles):
        return
    own_truck = table.values.get("terms") is Terms.SELLERS_TRUCK
    if own_truck and any(role in _OWN_TRUCK_ROLES for role in roles):
        return
    if Role.BROKER in roles:
        yield (
            path,
            f"{quoted(value)} is a broker, and a broker is no carrier.",
            f"Write the carrier whose truck came, and broker = {quoted(value)}.",
        )
        return
    yield (
        path,
        f"{quoted(value)} is {listed(roles, 'and')}, no carrier.",
        f'Write the carrier\'s id, or add "{Role.DELIVERING_CARRIER}" to the roles of {party.at}.',
    )


def _broker(table: Table, path: str, value: str, party: Table) -> Iterator[Told]:
    del table
    roles = party.values.get("roles")
    if roles is not None and UNREAD not in roles and Role.BROKER not in roles:
        yield (
            path,
            f"{quoted(value)} is {listed(roles, 'and')}, no broker.",
            f'Take the line out, or add "{Role.BROKER}" to the roles of {party.at}.',
        )


_ROLES: dict[Names, Callable[[Table, str, str, Table], Iterator[Told]]] = {
    Names.CARRIER: _carrier,
    Names.BROKER: _broker,
}


def _which_shipment(table: Table, known: Known) -> Iterator[Told]:
    """Tell where the shipment is left out and the job has several, or a delivery has none."""
    field = _shipment_field(table.of)
    if field is None or field.name in table.there:
        return
    shipments = known.tables("shipment")
    if len(shipments) > 1:
        which = listed(f'"{i}"' for i in shipments)
        found = f"is missing, and the job has {len(shipments)} shipments."
        yield table.path(field.name), found, f"Write which it is: {field.name} = {which}."
    elif not shipments and table.of is Delivery and "shipment" not in (known.job or table).there:
        yield (
            table.path(field.name),
            "a delivery is recorded, and job.toml has no shipment.",
            "Add [[shipment]] with id and carrier to job.toml.",
        )


def _shipment_field(kind: type[Any]) -> Field | None:
    return next((f for f in fields_of(kind) if f.mark(Names) is Names.THE_SHIPMENT), None)


def _stations(readings: Table, known: Known) -> Iterator[Told]:
    seam = known.tables("seam").get(readings.get("seam"))
    if seam is None or len(seam.tables("station")) != len(seam.values.get("station", ())):
        return  # the seam is told of already, or one of its stations is
    stations = {station.get("id") for station in seam.tables("station")} - {None}
    for at in readings.tables("at"):
        name = at.get("station")
        if name is None or name in stations:
            continue
        like = nearest(name, stations)
        write = f'Did you mean "{like}"? Else add' if like else "Add"
        yield (
            at.path("station"),
            f"{quoted(name)} is no station of the seam {quoted(str(seam.get('id')))}.",
            f"{write} a [[seam.station]] of that id to {seam.at} of job.toml.",
        )


def _file(path: str, value: str, known: Known) -> Iterator[Told]:
    if same_name(value) in known.files:
        return
    found = f"{quoted(value)} is not in the job folder."
    if like := _like_file(value, tuple(known.files.values())):
        yield path, found, f'Did you mean "{like}"?'
    else:
        yield path, found, "Put the file there, or write the path that it has in the job folder."


def _like_file(value: str, files: tuple[str, ...]) -> str | None:
    """Give the file that is meant: the same name elsewhere or in other letters, else a like one."""
    wanted = same_name(value).rsplit("/", 1)[-1].casefold()
    same = [f for f in files if same_name(f).rsplit("/", 1)[-1].casefold() == wanted]
    if same:
        return by_likeness(value, same)[0][0]
    names = {same_name(f).rsplit("/", 1)[-1].casefold(): f for f in files}
    ranked = by_likeness(wanted, names)
    return names[ranked[0][0]] if ranked and ranked[0][1] >= _LIKE_A_FILE else None
