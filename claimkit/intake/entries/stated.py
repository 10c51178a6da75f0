"""job.toml and the records, read together: what they state, and every problem in and between them.

What the index holds of them counts while all of them, their places and the names of the other
files are the same; else all are read again, so that each problem is told beside the others.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import replace

from claimkit.intake.contents import Stated
from claimkit.intake.load import Loaded, Loader, defect
from claimkit.intake.walk import Unread
from claimkit.model.facts import Problem
from claimkit.rules.public_holidays import table

JOB = "job.toml"


def is_record(path: str) -> bool:
    """Tell whether a path is that of a record: a TOML file below records/, .txt added or not."""
    top, _, rest = path.partition("/")
    return top.casefold() == "records" and rest.lower().endswith((".toml", ".toml.txt"))


def state(
    loader: Loader, statements: Sequence[Loaded], job: str | None, others: Iterable[str], year: int
) -> tuple[Stated, tuple[Loaded, ...], tuple[Unread, ...]]:
    """Give what the files state, the files as this run read them, and those it could not read.

    `job` is the path of job.toml among `statements`, None where there is none. `others` are the
    paths of all other files of the folder, whether they could be read or not. The holidays of the
    site are looked up around `year`.
    """
    known = frozenset((*others, *(one.file.path for one in statements)))
    kept = loader.stated(_context(statements, known))
    if kept:
        return kept, tuple(statements), ()
    opened = [
        one if one.data is not None else loader.open(one.file, statement=True) for one in statements
    ]
    read = tuple(one for one in opened if isinstance(one, Loaded))
    unread = tuple(one for one in opened if isinstance(one, Unread))
    stated, whole = _stated(read, job, known)
    if stated.job:
        site = stated.job.site
        stated = replace(stated, holidays=table(site.country, site.subdivision, year))
    if whole:
        loader.keep_stated(stated, _context(read, known))
    return stated, read, unread


def _context(statements: Sequence[Loaded], known: frozenset[str]) -> str:
    parts = [f"{one.file.path}\0{one.sha256}" for one in statements]
    return hashlib.sha256("\n".join([*sorted(parts), "", *sorted(known)]).encode()).hexdigest()


def _stated(read: Sequence[Loaded], job: str | None, known: frozenset[str]) -> tuple[Stated, bool]:
    """Read all together; where claimkit fails on one of them, read the others without it."""
    try:
        return _read_all(read, job, known), True
    except Exception as error:  # a defect of ours must not hide the other records
        whole_failure = error
    sound, problems = [], []
    for one in read:
        try:
            _read_all([one], job, known)
            sound.append(one)
        except Exception as error:
            problems.append(defect(one.file.path, error))
    try:
        stated = _read_all(sound, job, known) if problems else None
    except Exception as error:
        whole_failure, stated = error, None
    if stated is None:  # they fail only together
        paths = sorted(one.file.path for one in read)
        return Stated(None, (), (*problems, defect(", ".join(paths), whole_failure))), False
    return Stated(stated.job, stated.records, (*problems, *stated.problems)), False


def _read_all(read: Sequence[Loaded], job: str | None, known: frozenset[str]) -> Stated:
    from claimkit.intake.entries.records import read_all

    pairs = [(one.file.path, one.data) for one in read if one.data is not None]
    first = next((pair for pair in pairs if pair[0] == job), None)
    written = read_all(first, [pair for pair in pairs if pair[0] != job], known)
    return Stated(written.job, written.records, written.problems)


def misplaced(
    paths: Iterable[str], statements: Iterable[str], job: str | None, unread: Iterable[str]
) -> tuple[Problem, ...]:
    """Name a missing job.toml, and TOML files that lie where nothing reads them as records."""
    problems = []
    others = sorted(set(paths) - set(statements))
    if job is None and JOB not in set(unread):
        near = next((path for path in others if path.casefold() == f"{JOB}.txt"), None)
        write = f"Rename {near} to {JOB}." if near else "Make one with: claimkit new"
        problems.append(Problem(JOB, "", "is not there.", write))
    for path in others:
        ending = path.lower().endswith((".toml", ".toml.txt"))
        if ending and not is_record(path) and path.casefold() != f"{JOB}.txt":
            found = "lies outside records/ and is not read as a record."
            problems.append(Problem(path, "", found, "Move it into records/ if it is one."))
    return tuple(problems)
