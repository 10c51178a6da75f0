"""job.toml and the records of a job folder become values of the model, with every problem told.

Each file is read on its own first; then all are checked against each other and against the files
in the folder. A value that cannot be read hides nothing else: the rest of its file is checked in
the same run. Nothing here writes.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import islice
from typing import Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from claimkit.intake.entries.consistency import slips, written_too_early
from claimkit.intake.entries.corrections import Link, record_id, replaced_by
from claimkit.intake.entries.fields import fields_of
from claimkit.intake.entries.leaves import Place
from claimkit.intake.entries.moments import zone_name
from claimkit.intake.entries.problems import Unreadable, by_likeness, listed, nearest, quoted
from claimkit.intake.entries.references import Known, astray, known
from claimkit.intake.entries.tables import MOST, Table, read_table
from claimkit.intake.entries.toml_file import LARGEST_JOB, LARGEST_RECORD, TomlFile, read_toml
from claimkit.model.facts import Problem
from claimkit.model.job import Job
from claimkit.model.records import KINDS, Head, Record

JOB_FILE = "job.toml"
_NO_ZONE = (
    "its times are local, and the time zone of the site is not known.",
    "Write the zone in [site] of job.toml.",
)
_HEAD_KEYS = tuple(field.name for field in fields_of(Head))


@dataclass(frozen=True, slots=True)
class Written:
    """Everything that people wrote in one job folder.

    `job` is None where job.toml is absent or some value in it cannot be read; `records` are those
    that can be read, replaced ones marked. `problems` come by file, job.toml first.
    """

    job: Job | None
    records: tuple[Record, ...]
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class _Draft:
    """One file as far as it could be read. `head` and `kind` are None in job.toml."""

    path: str
    sha256: str
    body: Table | None
    head: Table | None
    kind: str | None
    whole: bool

    @property
    def link(self) -> Link:
        """What the record replaces."""
        replaces = self.head.get("replaces") if self.head else None
        return Link(record_id(self.path), self.path, self.kind, replaces)

    def record(self) -> Record:
        """Give the record. Only for a draft that is whole."""
        if self.head is None or self.body is None:
            raise ValueError(f"{self.path} is not whole")
        head = {n: v for n, v in self.head.values.items() if n != "kind"}
        return Record(
            id=record_id(self.path),
            path=self.path,
            sha256=self.sha256,
            kind=self.kind or "",
            body=self.body.build(),
            **head,
        )


def read_all(
    job: tuple[str, bytes] | None,
    records: Iterable[tuple[str, bytes]],
    known_paths: frozenset[str],
) -> Written:
    """Read job.toml and all records, each given as (path, bytes), and check them together.

    `known_paths` are the files of the job folder, relative to it, with forward slashes. Every
    problem of every file comes at once, also those of files that have others.
    """
    problems: list[Problem] = []
    job_draft = None
    if job is not None:
        job_draft, told = _job_draft(job[1], job[0])
        problems.extend(told)
    zone = _zone_of(job_draft)
    drafts: list[_Draft] = []
    for path, data in sorted(records):
        draft, told = _record_draft(data, path, zone)
        # Where job.toml does not give the zone, that is told there, once.
        problems.extend(p for p in told if job is None or (p.found, p.write) != _NO_ZONE)
        drafts.append(draft)
    read = [draft.record() for draft in drafts if draft.whole]
    again = told_again(read)
    replaced, told = _across(job_draft, drafts, known_paths, again)
    problems.extend(told)
    settled = _settled(drafts, replaced)
    problems = [problem for problem in problems if problem.file not in settled]
    whole_job = job_draft.body.build() if job_draft and job_draft.whole and job_draft.body else None
    return Written(whole_job, _marked(read, replaced, again), _by_file(problems))


def _settled(drafts: Iterable[_Draft], replaced: dict[str, str]) -> set[str]:
    """Give the paths of the records that one that can be used replaces: nothing is asked of them.

    A record is never rewritten, so a mistake in it is settled by its correction and by nothing
    else.
    """
    by_id = {draft.link.id: draft for draft in drafts}
    return {by_id[old].path for old, new in replaced.items() if old in by_id and by_id[new].whole}


def told_again(records: Iterable[Record]) -> dict[str, str]:
    """Give the path of each record that says word for word what another says, with the other's id.

    A telephone saves a file twice, a synced folder brings it from two sides, a mail program adds
    an ending: it is one statement. The first by id and path counts, the others stand beside it.
    """
    first: dict[Record, Record] = {}
    again: dict[str, str] = {}
    for record in sorted(records, key=lambda one: (one.id, one.path)):
        said = replace(record, id="", path="", sha256="", replaced_by=None)
        kept = first.setdefault(said, record)
        if kept is not record:
            again[record.path] = kept.id
    return again


def _marked(
    records: Iterable[Record], replaced: dict[str, str], again: dict[str, str]
) -> tuple[Record, ...]:
    return tuple(
        replace(record, replaced_by=again.get(record.path) or replaced.get(record.id))
        for record in records
    )


def read_job(data: bytes, path: str) -> tuple[Job | None, tuple[Problem, ...]]:
    """Read the bytes of job.toml. The job is None where any value of it cannot be read."""
    draft, problems = _job_draft(data, path)
    return (draft.body.build() if draft.whole and draft.body else None), problems


def read_record(
    data: bytes, path: str, zone: str | None
) -> tuple[Record | None, tuple[Problem, ...]]:
    """Read the bytes of one record; `zone` is the site's, None where job.toml does not tell it.

    The record is None where any value of it cannot be read.
    """
    draft, problems = _record_draft(data, path, _zone(zone))
    return (draft.record() if draft.whole else None), problems


def _job_draft(data: bytes, path: str) -> tuple[_Draft, tuple[Problem, ...]]:
    sha256 = hashlib.sha256(data).hexdigest()
    file = read_toml(data, path, LARGEST_JOB)
    if file.values is None:
        return _Draft(path, sha256, None, None, None, False), file.problems
    zone = _zone(_stated_zone(file.values))
    place = Place(path, zone, file.spelled, file.left_out)
    table, told, _ = read_table(Job, file.values, place)
    problems = (*file.problems, *told)
    return _Draft(path, sha256, table, None, None, table.whole and not problems), problems


def _stated_zone(values: dict[str, Any]) -> str | None:
    site = values.get("site")
    zone = site.get("zone") if isinstance(site, dict) else None
    try:
        return zone_name(zone) if isinstance(zone, str) else None
    except Unreadable:
        return None


def _zone(name: str | None) -> ZoneInfo | None:
    try:
        return ZoneInfo(name) if name else None
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return None


def _zone_of(job: _Draft | None) -> ZoneInfo | None:
    sites = job.body.tables("site") if job and job.body else ()
    return _zone(sites[0].get("zone")) if sites else None


def _record_draft(
    data: bytes, path: str, zone: ZoneInfo | None
) -> tuple[_Draft, tuple[Problem, ...]]:
    sha256 = hashlib.sha256(data).hexdigest()
    file = read_toml(data, path, LARGEST_RECORD)
    if file.values is None:
        return _Draft(path, sha256, None, None, None, False), file.problems
    head, body, kind, problems = _head_and_body(file, path, zone)
    whole = not problems and head.whole and body is not None and body.whole
    return _Draft(path, sha256, body, head, kind, whole), problems


def _head_and_body(
    file: TomlFile, path: str, zone: ZoneInfo | None
) -> tuple[Table, Table | None, str | None, tuple[Problem, ...]]:
    """Read what every record says, and beside it what its own kind says."""
    values = file.values or {}
    place = Place(path, zone, file.spelled, file.left_out)
    first = {key: value for key, value in values.items() if key in _HEAD_KEYS}
    rest = {key: value for key, value in values.items() if key not in _HEAD_KEYS}
    head, told, head_zone = read_table(Head, first, place)
    problems = [*file.problems, *told]
    kind, wrong_kind = _kind(head.get("kind"), path)
    problems.extend(wrong_kind)
    body, body_zone = None, False
    if kind is not None:
        body, told, body_zone = read_table(KINDS[kind], rest, place, beside=_HEAD_KEYS)
        problems.extend(told)
    if head_zone or body_zone:
        problems.append(Problem(path, "", *_NO_ZONE))
    return head, body, kind, tuple(problems)


def _kind(name: Any, path: str) -> tuple[str | None, tuple[Problem, ...]]:
    """Give the kind that a record is, or the likest one together with the problem."""
    if name is None:  # missing or no text: told already
        return None, ()
    if name in KINDS:
        return name, ()
    words = listed(f'"{word}"' for word, _ in by_likeness(name, KINDS))
    problem = Problem(path, "kind", f"{quoted(name)} is no kind of record.", f"Write {words}.")
    return nearest(name, KINDS), (problem,)


def _across(
    job: _Draft | None, drafts: Iterable[_Draft], paths: frozenset[str], again: dict[str, str]
) -> tuple[dict[str, str], tuple[Problem, ...]]:
    """Check drafts against each other; give which record replaces which, and the problems.

    `again` are the records that repeat another: they replace nothing and clash with nothing.
    """
    problems: list[Problem] = []
    there = known(job.body if job else None, paths)
    all_drafts = list(drafts)
    for draft in (*((job,) if job else ()), *all_drafts):
        problems.extend(Problem(draft.path, *one) for one in islice(_told(draft, there), MOST))
    replaced, wrong = replaced_by(draft.link for draft in all_drafts if draft.path not in again)
    return replaced, (*problems, *wrong)


def _told(draft: _Draft, there: Known) -> Iterator[tuple[str, str, str]]:
    for table in (draft.head, draft.body):
        if table:
            yield from slips(table)
            yield from astray(table, there)
    if draft.head and draft.body:
        yield from written_too_early(draft.head, draft.body)


def _by_file(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Give problems by file, job.toml first; within a file as they were found."""
    return tuple(sorted(problems, key=lambda p: (p.file.casefold() != JOB_FILE, p.file)))
