"""A new job: its folders, and a job.toml that is valid as it stands and explains itself.

Every key of every table stands in it, with what to write; those that were not answered are
commented out with an example. Nothing that exists is ever overwritten.
"""

from __future__ import annotations

import re
import textwrap
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from claimkit.intake.disk import RealDisk, put_new
from claimkit.intake.entries.examples import EXAMPLES
from claimkit.intake.entries.fields import Field, fields_of, limits_of, words_of
from claimkit.intake.entries.records import JOB_FILE, read_all
from claimkit.intake.entries.tomltext import toml_string, toml_value
from claimkit.intake.refused import next_step, reason_of
from claimkit.model.job import Item, Job, Party, Role
from claimkit.model.stages import Stage
from claimkit.model.stop import CannotGoOn
from claimkit.model.written import Names

# Photos may lie anywhere below photos/. These folders are named for the stages in which photos are
# most often missed; a photo that is dated in another stage than its folder says is told of.
FOLDERS = (
    *(
        f"photos/{stage}"
        for stage in Stage
        if stage not in (Stage.ARRIVAL, Stage.COMPLAINT)  # at the curb, and not yet
    ),
    "documents",
    "records",
    "out",
)
OUR_ROLES = (Role.OWNER, Role.INSTALLER, Role.CONSIGNEE)
"""What the user's own firm can be to a job; it is asked, and nothing of it is taken for granted."""
_WIDTH = 96
_Given = dict[str, list[dict[str, Any]]]  # tables by name, each with the keys that were answered
_HEAD = """\
# What is known of one job before and around its deliveries. Every key is explained here and in
# docs/job-folder.md. A line that begins with # and a letter or bracket is an example: take the #
# away and write your own value. A line that begins with # and a space is a note.
#
# Lengths, weights, money and periods stand in quotes with their unit: "3/16 in", "412 lb",
# "386.40 USD", "9 months". Times are local: "2026-05-04 09:10", or "2026-05-04" for a whole day.

"""


@dataclass(frozen=True, slots=True)
class Answers:
    """What `claimkit new` asks or takes as options; None is not known yet.

    `us` is the name of the user's own firm, `our_roles` what it is to the job, `person` who
    receives and photographs, `camera` that person's telephone or camera as its photos name it.
    """

    title: str
    address: str
    zone: str
    country: str = "US"
    subdivision: str | None = None
    reference: str | None = None
    us: str | None = None
    person: str | None = None
    camera: str | None = None
    carrier: str | None = None
    seller: str | None = None
    handling_units: int | None = None
    handling_unit: str | None = None
    cartons: int | None = None
    bill_number: str | None = None
    pro_number: str | None = None
    our_roles: tuple[Role, ...] = (Role.INSTALLER,)


def job_text(answers: Answers) -> str:
    """Write a commented job.toml from what is known.

    It validates as it stands, and as well with every example's # taken away. Raises CannotGoOn
    with every problem where an answer cannot be used.
    """
    tables = _tables(answers)
    text = _HEAD + _table(Job, "", tables[""][0], tables)
    if problems := read_all((JOB_FILE, text.encode()), [], frozenset()).problems:
        raise CannotGoOn(" ".join(f"{p.key_path}: {p.found} {p.write}" for p in problems))
    return text


def make_job_folder(root: Path, text: str) -> tuple[Path, ...]:
    """Make the folders of a job and its job.toml; give what was made.

    The folder may exist and hold photos already. Raises CannotGoOn, having made nothing, where a
    job.toml is there or a file stands in the way of a folder.
    """
    folders = (root, *(root / name for name in FOLDERS))
    for path in (*folders, *(root / name.split("/")[0] for name in FOLDERS)):
        if path.exists() and not path.is_dir():
            raise CannotGoOn(f"{path} is a file, and a folder must be there. Move the file first.")
    job = root / JOB_FILE
    if job.exists() or job.is_symlink():
        raise CannotGoOn(
            f"{job} exists already and is left as it is. Edit it, or name another folder."
        )
    made = [path for path in folders if not path.exists()]
    disk = RealDisk()
    try:
        for path in folders:
            disk.make_folder(path)
        with disk.lock(root.resolve(), None):
            put_new(disk, job, text.encode("utf-8"))
    except FileExistsError:
        raise CannotGoOn(
            f"{job} was written by another run meanwhile and is left as it is."
        ) from None
    except OSError as error:
        what_next = next_step(error, "Choose another place.")
        raise CannotGoOn(f"{root} could not be made: {reason_of(error)}. {what_next}") from error
    return (*made, job)


def _tables(answers: Answers) -> _Given:
    """Give the tables that the answers fill, by name; the file's own keys under ''."""
    taken: set[str] = set()
    us = _party(answers.us, answers.our_roles, taken, "us")
    seller_carries = answers.seller is not None and answers.seller == answers.carrier
    carrier_roles = (
        Role.DELIVERING_CARRIER,
        *((Role.SELLER, Role.SHIPPER) if seller_carries else ()),
    )
    carrier = _party(answers.carrier, carrier_roles, taken)
    seller = _party(None if seller_carries else answers.seller, (Role.SELLER, Role.SHIPPER), taken)
    tables: _Given = {
        "": [{"title": answers.title, "reference": answers.reference}],
        "site": [
            {
                "address": answers.address,
                "zone": answers.zone,
                "country": answers.country,
                "subdivision": answers.subdivision,
            }
        ],
        "party": [party for party in (us, carrier, seller) if party],
    }
    if answers.person:
        person = {"id": short_name(answers.person.split()[0]), "name": answers.person}
        cameras = [answers.camera] if answers.camera else None
        tables["person"] = [person | {"cameras": cameras}]
    if carrier:
        tables["shipment"] = [
            {
                "id": "main",
                "carrier": carrier["id"],
                "consignee": us["id"] if us and Role.CONSIGNEE in answers.our_roles else None,
                "bill_number": answers.bill_number,
                "pro_number": answers.pro_number,
                "handling_units": answers.handling_units,
                "handling_unit": answers.handling_unit,
                "cartons": answers.cartons,
            }
        ]
    return tables


def _party(
    name: str | None, roles: tuple[Role, ...], taken: set[str], wanted: str | None = None
) -> dict[str, Any] | None:
    if name is None:
        return None
    base = wanted or short_name(name)
    party_id, number = base, 2
    while party_id in taken:
        party_id, number = f"{base}-{number}", number + 1
    taken.add(party_id)
    return {"id": party_id, "name": name, "roles": [str(role) for role in roles]}


def short_name(name: str) -> str:
    """Give a short name for an id: lower-case letters, without accents where that leaves any."""
    plain = unicodedata.normalize("NFKD", name)
    latin = plain.encode("ascii", "ignore").decode()
    for text in (latin, unicodedata.normalize("NFC", name)):
        if short := re.sub(r"[\W_]+", "-", text.lower()).strip("-")[:30].strip("-"):
            return short
    return "x"


# Further tables shown as examples, so that every id in the examples leads somewhere.
_MORE_PARTIES: tuple[dict[str, str], ...] = (
    {"id": '"us"', "name": '"Marsh & Daughter"', "roles": '["owner", "installer", "consignee"]'},
    {"id": '"northway"'},
    {"id": '"ridge-lines"', "name": '"Ridge Lines"', "roles": '["origin carrier"]'},
    {"id": '"harbor-desk"', "name": '"Harbor Desk Logistics"', "roles": '["broker"]'},
    {
        "id": '"tarn-works"',
        "name": '"Tarn Works"',
        "roles": '["maker", "seller", "shipper"]',
    },
    {"id": '"beacon-mutual"', "name": '"Beacon Mutual"', "roles": '["insurer"]'},
)


def _table(
    kind: type[Any],
    name: str,
    given: Mapping[str, Any],
    tables: _Given,
) -> str:
    """Write the keys of a table, then the tables below it: answered ones, else as an example."""
    own = [field for field in fields_of(kind) if not field.is_table]
    text = "".join(_key(field, given, _example(kind, field, tables)) for field in own)
    for field in fields_of(kind):
        if field.is_table:
            text += _below(field, f"{name}.{field.name}" if name else field.name, tables)
    return text


def _below(field: Field, name: str, tables: _Given) -> str:
    """Write all tables of one name; where none is answered, one as an example."""
    header = f"[[{name}]]" if field.many else f"[{name}]"
    rule = f"# --- {header} "
    text = f"\n{rule}{'-' * (_WIDTH - len(rule))}\n{_note(field.about)}"
    answered = tables.get(name, [])
    for number, given in enumerate(answered):
        keys = _table(field.of, name, given, tables) if number == 0 else _answered(given)
        text += f"\n{header}\n{keys}" if number else f"{header}\n{keys}"
    if not answered and field.of is not Party:
        text += _commented(f"{header}\n{_table(field.of, name, {}, tables)}")
    if field.of is Party:
        text += _parties(header, answered)
    if field.of is Item:
        text += _example_of(Item, header, {"id": '"tray"', "description": '"Floor tray, white"'})
    return text


def _parties(header: str, answered: list[dict[str, Any]]) -> str:
    """Write the example parties; where none is answered, the first with all keys explained."""
    taken = {toml_string(party["id"]) for party in answered}
    has_carrier = any(Role.DELIVERING_CARRIER in party["roles"] for party in answered)
    shown = [
        values
        for values in _MORE_PARTIES
        if values["id"] not in taken and not (values["id"] == '"northway"' and has_carrier)
    ]
    if answered:
        return "".join(_example_of(Party, header, values) for values in shown)
    examples = EXAMPLES[Party] | shown[0]
    first = "".join(_key(field, {}, examples[field.name]) for field in fields_of(Party))
    rest = (_example_of(Party, header, values) for values in shown[1:])
    return f"#{header}\n{first}{''.join(rest)}"


def _answered(given: Mapping[str, Any]) -> str:
    return "".join(f"{k} = {toml_value(v)}\n" for k, v in given.items() if v is not None)


def _example_of(kind: type[Any], header: str, values: dict[str, str]) -> str:
    examples = EXAMPLES[kind] | values
    keys = [f for f in fields_of(kind) if f.name in values or (f.required and not f.is_table)]
    lines = "".join(f"{f.name} = {examples[f.name]}\n" for f in keys)
    return _commented(f"\n{header}\n{lines}")


def _example(kind: type[Any], field: Field, tables: _Given) -> str:
    """Give the example of a key; shipments are named as they are called in this job."""
    names_one = field.mark(Names) in (Names.SHIPMENT, Names.THE_SHIPMENT)
    if names_one and "shipment" in tables:
        return toml_value(tables["shipment"][0]["id"])
    return EXAMPLES[kind][field.name]


def _key(field: Field, given: Mapping[str, Any], example: str) -> str:
    """Write one key under its explanation: with its answer, or commented out with an example."""
    value = given.get(field.name)
    line = (
        f"#{field.name} = {example}\n" if value is None else f"{field.name} = {toml_value(value)}\n"
    )
    return _note(_explained(field)) + line


def _explained(field: Field) -> str:
    parts = [field.about]
    if words := words_of(field):
        choices = ", ".join(f'"{word}"' for word in words)
        parts.append(f"{'Words' if field.many else 'One'} of: {choices}.")
    if limits := limits_of(field):
        parts.append(f"{limits[0].upper()}{limits[1:]}.")
    if field.required:
        parts.append("Needed.")
    return " ".join(parts)


def _note(text: str) -> str:
    return "".join(
        f"# {line}\n" for line in textwrap.wrap(text, _WIDTH - 2, break_on_hyphens=False)
    )


def _commented(text: str) -> str:
    """Comment out the lines that are not notes already."""
    lines = text.split("\n")
    return "\n".join(line if not line or line.startswith("#") else f"#{line}" for line in lines)
