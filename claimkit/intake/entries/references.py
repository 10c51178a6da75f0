"""What records and job.toml name in each other: parties, persons, items, seams, shipments, files.

A short name that leads nowhere is told with the name that is like it. A broker is no carrier, and
with several shipments each statement says which it is about, so that two never mix.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from claimkit.intake.entries.fields import Field, fields_of
from claimkit.intake.entries.problems import likest, listed, nearest, quoted
from claimkit.intake.entries.tables import UNREAD, Table
from claimkit.intake.paths import same_name
from claimkit.model.job import Role, Terms
from claimkit.model.measuring import Readings
from claimkit.model.records import Delivery
from claimkit.model.written import Names

Told = tuple[str, str, str]  # key path, what was found, what to write

CARRIER_ROLES = (Role.ORIGIN_CARRIER, Role.DELIVERING_CARRIER, Role.LAST_MILE_CARRIER)
_OWN_TRUCK_ROLES = (Role.SELLER, Role.MAKER, Role.SHIPPER)
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
    """What can be named: the job's tables and the files of the folder.

    `job` is None where job.toml cannot be read; then only files are followed. `tables` are its
    tables by name and id. `files` are paths in the form under which two spellings of one name are
    the same, `named` the same by their last part in small letters.
    """

    job: Table | None
    tables: Mapping[str, Mapping[str, Table]]
    files: frozenset[str]
    named: Mapping[str, tuple[str, ...]]


def known(job: Table | None, paths: frozenset[str]) -> Known:
    """Gather what can be named."""
    tables = {name: _by_id(job, name) for name in set(_TABLE_OF.values())}
    files = frozenset(same_name(path) for path in paths)
    named: dict[str, tuple[str, ...]] = {}
    for path in sorted(files):
        name = _last_part(path)
        named[name] = (*named.get(name, ()), path)
    return Known(job, tables, files, named)


def _by_id(job: Table | None, name: str) -> dict[str, Table]:
    tables = job.tables(name) if job else ()
    return {table.get("id"): table for table in tables if table.get("id") is not None}


def _last_part(path: str) -> str:
    return path.rsplit("/", 1)[-1].casefold()


def astray(table: Table, there: Known) -> Iterator[Told]:
    """Give every name in a table and the tables in it that leads nowhere or to the wrong thing."""
    for inner in table.walk():
        for field, path, value in inner.leaves():
            names = field.mark(Names)
            if names is Names.FILE:
                yield from _file(path, value, there)
            elif names in _TABLE_OF and there.job:
                yield from _named(inner, names, path, value, there)
        if there.job:
            yield from _which_shipment(inner, there)
        if inner.of is Readings:
            yield from _stations(inner, there)


def _named(table: Table, names: Names, path: str, value: str, there: Known) -> Iterator[Told]:
    kind = _TABLE_OF[names]
    ids = there.tables[kind]
    if value not in ids:
        yield path, f"{quoted(value)} is no {kind} of job.toml.", _which(value, kind, ids)
    elif check := _ROLES.get(names):
        yield from check(table, path, value, ids[value])


def _which(value: str, kind: str, ids: Mapping[str, Table]) -> str:
    """Say which id is meant, by its likeness to the ids and to the full names."""
    if not ids:
        return f"Add [[{kind}]] with id = {quoted(value)} to job.toml."
    by_name = {str(table.get("name") or table.get("description")): i for i, table in ids.items()}
    like = nearest(value, ids) or by_name.get(nearest(value, by_name) or "")
    if like:
        return f'Did you mean "{like}"? Else add a [[{kind}]] of that id to job.toml.'
    choices = listed(f'"{i}"' for i in sorted(ids))
    return f"Write {choices}, or add a [[{kind}]] of that id to job.toml."


def _carrier(table: Table, path: str, value: str, party: Table) -> Iterator[Told]:
    roles = party.values.get("roles")
    if not roles or UNREAD in roles or any(role in CARRIER_ROLES for role in roles):
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
    if roles and UNREAD not in roles and Role.BROKER not in roles:
        yield (
            path,
            f"{quoted(value)} is {listed(roles, 'and')}, no broker.",
            f'Take the line out, or add "{Role.BROKER}" to the roles of {party.at}.',
        )


_ROLES: dict[Names, Callable[[Table, str, str, Table], Iterator[Told]]] = {
    Names.CARRIER: _carrier,
    Names.BROKER: _broker,
}


def _which_shipment(table: Table, there: Known) -> Iterator[Told]:
    """Tell where the shipment is left out and the job has several, or a delivery has none."""
    field = _shipment_field(table.of)
    if field is None or field.name in table.there:
        return
    shipments = there.tables["shipment"]
    if len(shipments) > 1:
        which = listed(f'"{i}"' for i in shipments)
        found = f"is missing, and the job has {len(shipments)} shipments."
        yield table.path(field.name), found, f"Write which it is: {field.name} = {which}."
    elif not shipments and table.of is Delivery and "shipment" not in (there.job or table).there:
        yield (
            table.path(field.name),
            "a delivery is recorded, and job.toml has no shipment.",
            "Add [[shipment]] with id and carrier to job.toml.",
        )


def _shipment_field(kind: type[Any]) -> Field | None:
    return next((f for f in fields_of(kind) if f.mark(Names) is Names.THE_SHIPMENT), None)


def _stations(readings: Table, there: Known) -> Iterator[Told]:
    seam = there.tables["seam"].get(readings.get("seam"))
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


def _file(path: str, value: str, there: Known) -> Iterator[Told]:
    if same_name(value) in there.files:
        return
    found = f"{quoted(value)} is not in the job folder."
    if like := _like_file(same_name(value), there):
        yield path, found, f'Did you mean "{like}"?'
    else:
        yield path, found, "Put the file there, or write the path that it has in the job folder."


def _like_file(value: str, there: Known) -> str | None:
    """Give the file that is meant: of the same name elsewhere, else of a like name."""
    name = likest(_last_part(value), there.named)
    return likest(value, there.named[name], at_least=0) if name else None
