"""What somebody states at a prompt becomes a new file of records/, or every problem at once.

What was typed is read as a person's own file would be, together with job.toml and the records that
are there: nothing is written that the next run would complain of. No file is ever overwritten.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from claimkit.intake.disk import Disk, RealDisk, put_new
from claimkit.intake.entries.corrections import record_id
from claimkit.intake.entries.new import short_name
from claimkit.intake.entries.problems import listed, nearest
from claimkit.intake.entries.record_text import record_text
from claimkit.intake.entries.records import Written, read_all
from claimkit.intake.entries.stated import JOB, is_record
from claimkit.intake.entries.tomltext import toml_document
from claimkit.intake.paths import on_disk, shown
from claimkit.intake.refused import next_step, reason_of
from claimkit.intake.say import Say
from claimkit.intake.walk import walk
from claimkit.model.facts import Problem
from claimkit.model.records import Record
from claimkit.model.stop import CannotGoOn

FOLDER = "records"
_MOST_NAMES = 1000
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}(?!\d)", re.ASCII)


@dataclass(frozen=True, slots=True)
class Kept:
    """What a job folder states before a record is added: its texts and the names of its files."""

    root: Path
    job: tuple[str, bytes]
    records: tuple[tuple[str, bytes], ...]
    paths: frozenset[str]


@dataclass(frozen=True, slots=True)
class Refused:
    """Why a record was not written: every problem of it, each with its key."""

    problems: tuple[Problem, ...]


def kept(root: Path, disk: Disk | None = None) -> Kept:
    """Read what a new record is checked against. Raises CannotGoOn where that cannot be read."""
    disk = disk or RealDisk()
    root = root.resolve()
    try:
        found = walk(root, disk).files
        texts = {
            file.path: disk.read(file.where).data
            for file in found
            if is_record(file.path) or file.path.casefold() == JOB
        }
    except OSError as error:
        raise CannotGoOn(
            f"{shown(str(root))} cannot be read: {error.strerror or error}. Nothing was written."
        ) from error
    job = next((path for path in texts if path.casefold() == JOB), None)
    if job is None:
        raise CannotGoOn(f"{shown(str(root))} has no job.toml, so nothing can be added to it.")
    records = tuple((path, data) for path, data in sorted(texts.items()) if path != job)
    return Kept(root, (job, texts[job]), records, frozenset(file.path for file in found))


def values_of(there: Kept, name: str) -> dict[str, object]:
    """Give the keys of the record of that id, as they would be typed again.

    Raises CannotGoOn where there is no such record, or it cannot be read.
    """
    ids = {record_id(path): path for path, _ in there.records}
    if name not in ids:
        like = nearest(name, ids)
        hint = f"Did you mean {like}?" if like else f"There are: {listed(sorted(ids), 'and')}."
        raise CannotGoOn(f"{shown(name)} is no record of this job. {hint}")
    written = read_all(there.job, there.records, there.paths)
    record = next((r for r in written.records if r.id == name), None)
    if record is None:
        raise CannotGoOn(f"{ids[name]} cannot be read; claimkit status names what is wrong in it.")
    text = record_text(record.kind, record.said_by, record.body)
    return tomllib.loads(text)


def checked(there: Kept, values: Mapping[str, object], name: str) -> tuple[Record, str] | Refused:
    """Read typed values as the record of that file name; give it with its text, or every problem.

    `values` are texts and yes or no by their keys, `kind` and `said_by` among them.
    """
    path = f"{FOLDER}/{name}.toml"
    halves = tuple(
        Problem(path, key, "the text holds half a character.", "Type it again.")
        for key, value in values.items()
        if isinstance(value, str) and not _writable(value)
    )
    if halves:
        return Refused(halves)
    before = _problems(read_all(there.job, there.records, there.paths))
    read = _with(there, path, toml_document(values))
    told = tuple(p for p in read.problems if p not in before)
    record = next((r for r in read.records if r.path == path), None)
    if told or record is None:
        return Refused(told)
    replaces = (record.replaces, record.reason) if record.replaces else None
    text = record_text(record.kind, record.said_by, record.body, record.written, replaces)
    again = next((r for r in _with(there, path, text).records if r.path == path), None)
    if again is None or again.body != record.body:
        raise AssertionError(f"{path} does not read back as it was typed")
    return again, text


def add(
    there: Kept, text: str, name: str, *, disk: Disk | None = None, say: Say | None = None
) -> str:
    """Write a checked record under that name, which must be free; give its path.

    Raises CannotGoOn where the name is taken meanwhile or the disk refuses.
    """
    disk = disk or RealDisk()
    path = there.root / FOLDER / f"{name}.toml"
    with disk.lock(there.root, say):
        try:
            path.parent.mkdir(exist_ok=True)  # not the job folder, where that was moved meanwhile
            put_new(disk, path, text.encode("utf-8"))
        except FileExistsError:
            raise CannotGoOn(
                f"{FOLDER}/{name}.toml was written by another run meanwhile and is left as it is. "
                "Run this again."
            ) from None
        except OSError as error:
            raise CannotGoOn(
                f"{shown(str(path))} cannot be written: {reason_of(error)}. Nothing was added. "
                + next_step(error, "Mend that and run this again.")
            ) from error
    return f"{FOLDER}/{name}.toml"


def free_name(there: Kept, values: Mapping[str, object], now: datetime) -> str:
    """Give a name that no record has: its day, what it is about, and a number where needed.

    The day is that of `sent` or `received` where it is written as one, else that of `now`.
    """
    stated = (str(values.get(key, "")) for key in ("sent", "received"))
    day = next((found[0] for text in stated if (found := _DAY.match(text))), f"{now:%Y-%m-%d}")
    return not_taken(there, f"{day}-{short_name(str(values.get('about', 'notice')))}")


def not_taken(there: Kept, stem: str) -> str:
    """Give that name for a record, with a number behind it where a record has it already."""
    taken = {record_id(path).casefold() for path in there.paths if is_record(path)}
    names = (stem, *(f"{stem}-{number}" for number in range(2, _MOST_NAMES)))
    return next(name for name in names if name.casefold() not in taken)


def in_folder(there: Kept, typed: str) -> str:
    """Give a file's path from the job folder on, however it was typed, where it lies in it."""
    if typed in there.paths:
        return typed
    try:
        full = Path(typed).resolve()
    except (OSError, ValueError, RuntimeError):
        return typed
    if not full.is_relative_to(there.root):
        return typed
    inside = full.relative_to(there.root).as_posix()
    found = {on_disk(there.root, path): path for path in there.paths}
    return found.get(there.root / inside, inside)


def _with(there: Kept, path: str, text: str) -> Written:
    added = (*there.records, (path, text.encode("utf-8")))
    return read_all(there.job, added, there.paths | {path})


def _problems(read: Written) -> frozenset[Problem]:
    return frozenset(read.problems)


def _writable(text: str) -> bool:
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        return False
    return True
