"""A job folder becomes facts: every file once, its custody logged, every problem at once.

What the index knows is not opened again. The same bytes in two places are one photo. Whatever
cannot be read is named with what to do, and the rest is read all the same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from claimkit.intake.contents import Content, JobFile, RecordFile
from claimkit.intake.custody import pending, read_custody, take_in
from claimkit.intake.disk import Disk, RealDisk, Say
from claimkit.intake.index import Index
from claimkit.intake.load import JOB, Loaded, Loader, is_record
from claimkit.intake.paths import same_name, shown
from claimkit.intake.unlogged import Seen, Taken
from claimkit.intake.walk import Found, FoundFile, Unread, reason_of, walk
from claimkit.intake.writer import writer_name
from claimkit.model.facts import Custody, Facts, Problem
from claimkit.model.photo import OtherFile, Photo
from claimkit.model.records import Record
from claimkit.model.stop import CannotGoOn

Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class _Run:
    """What one run works on: the folder (resolved), the disk, and what it found there."""

    root: Path
    disk: Disk
    found: Found
    progress: Progress | None


@dataclass(frozen=True, slots=True)
class _Read:
    """All that one run has read: contents by path in order, and what could not be read."""

    loaded: tuple[Loaded, ...]
    unread: tuple[Unread, ...]


def read(  # noqa: PLR0913 - one way in, each with a default
    root: Path,
    *,
    now: datetime,
    index: Index | None = None,
    disk: Disk | None = None,
    writer: str | None = None,
    progress: Progress | None = None,
    log: bool = True,
    fresh: bool = False,
    say: Say | None = None,
) -> Facts:
    """Read a job folder.

    `now` (aware) is what custody writes. `index` saves opening unchanged files; None reads every
    file, and so does `fresh`, which writes the index all the same. `writer` names the custody log
    (default: this computer's). `progress` gets files done and files in all. `log=False` writes
    nothing into the folder; what the log then lacks is a problem. `say` is told when another run
    has to be waited for. Raises CannotGoOn where the folder itself cannot be read.
    """
    disk = disk or RealDisk()
    root = root.resolve()
    name = writer_name(writer, disk) if log else ""
    with disk.lock(root, say):
        try:
            found = walk(root, disk)
        except OSError as error:
            raise CannotGoOn(
                f"{shown(str(root))} cannot be read: {reason_of(error)}. Give the path of a job "
                "folder that you may read."
            ) from error
        run = _Run(root, disk, found, progress)
        got = _contents(run, index, fresh)
        custody, unlogged = _custody(run, got, name, now)
    return _facts(run, got, custody, unlogged)


def _contents(run: _Run, index: Index | None, fresh: bool) -> _Read:
    """Load every file, job.toml first: the records' times need the site's zone."""
    found = run.found
    key = shown(str(run.root))
    known = index.rows(key) if index else {}
    loader = Loader(run.disk, {} if fresh else known)
    loaded: list[Loaded] = []
    unread = list(found.unread)
    job = _job_file(found.files)
    for done, file in enumerate(sorted(found.files, key=lambda file: file is not job), 1):
        result = loader.load(file, is_job=file is job)
        if isinstance(result, Unread):
            unread.append(result)
        else:
            loaded.append(result)
        if run.progress:
            run.progress(done, len(found.files))
    if index:
        gone = sorted(known.keys() - {file.path for file in found.files})
        if loader.rows or gone:
            index.store(key, loader.rows, gone)
    return _Read(tuple(sorted(loaded, key=lambda one: one.file.path)), tuple(unread))


def _job_file(files: Iterable[FoundFile]) -> FoundFile | None:
    named = [file for file in files if file.path.casefold() == JOB]
    return next((file for file in named if file.path == JOB), named[0] if named else None)


def _custody(
    run: _Run, got: _Read, writer: str, now: datetime
) -> tuple[Custody, tuple[Problem, ...]]:
    """Log what is new, or say what the log lacks and why. No writer's name: write nothing."""
    seen = tuple(_seen(one) for one in got.loaded)
    root, disk = run.root, run.disk
    held = (*(unread.path for unread in got.unread), *(left.path for left in run.found.not_taken))
    taken = Taken(seen, held)
    if not writer:
        return read_custody(root, disk), _not_logged(
            pending(root, taken, disk),
            "and this run was told to write nothing.",
            "Run claimkit where it may write to the folder.",
        )
    try:
        return take_in(root, taken, writer, now, disk), ()
    except OSError as error:
        return read_custody(root, disk), _not_logged(
            pending(root, taken, disk),
            f"and it cannot be written: {reason_of(error)}.",
            "Give this user the right to write to custody/, or work on a copy of the folder.",
        )


def _seen(one: Loaded) -> Seen:
    record = is_record(one.file.path)
    keep = record or isinstance(one.content, JobFile)
    return Seen(one.file.path, one.sha256, one.size_bytes, one.file.where, record, keep, one.data)


def _not_logged(count: int, why: str, what_to_do: str) -> tuple[Problem, ...]:
    if not count:
        return ()
    lacks = "1 line is" if count == 1 else f"{count} lines are"
    return (Problem("custody", "", f"{lacks} missing from the custody log, {why}", what_to_do),)


def _facts(run: _Run, got: _Read, custody: Custody, unlogged: tuple[Problem, ...]) -> Facts:
    job_file = next((one for one in got.loaded if isinstance(one.content, JobFile)), None)
    job = job_file.content.job if job_file and isinstance(job_file.content, JobFile) else None
    records, problems = _records(got.loaded)
    known = frozenset(
        name for one in got.loaded for name in (one.file.path, same_name(one.file.path))
    )
    from claimkit.intake.records import cross_check

    linked, crossed = cross_check(job, records, known)
    problems += (*crossed, *unlogged, *_misplaced(got, job_file))
    problems += tuple(_unread_problem(unread) for unread in got.unread)
    contents = [one.content for one in got.loaded]
    return Facts(
        folder_name=shown(run.root.name),
        job=job,
        job_sha256=job_file.sha256 if job_file and job else None,
        records=tuple(sorted(linked, key=lambda record: (record.id, record.path))),
        photos=_merged(content for content in contents if isinstance(content, Photo)),
        papers=tuple(
            sorted(
                (content for content in contents if isinstance(content, OtherFile)),
                key=lambda paper: paper.path,
            )
        ),
        not_taken=run.found.not_taken,
        custody=custody,
        problems=tuple(sorted(set(problems), key=lambda p: (p.file, p.key_path, p.found, p.write))),
    )


def _records(loaded: Sequence[Loaded]) -> tuple[tuple[Record, ...], tuple[Problem, ...]]:
    records: list[Record] = []
    problems: list[Problem] = []
    for one in loaded:
        content: Content = one.content
        if isinstance(content, RecordFile | JobFile):
            problems += content.problems
        if isinstance(content, RecordFile) and content.record:
            records.append(content.record)
        if one.defect:
            problems.append(one.defect)
    return tuple(records), tuple(problems)


def _misplaced(got: _Read, job_file: Loaded | None) -> tuple[Problem, ...]:
    """Name a missing job.toml and TOML files that lie where nothing reads them as records."""
    problems = []
    paths = {one.file.path for one in got.loaded}
    if job_file is None and JOB not in {unread.path for unread in got.unread}:
        near = next((path for path in sorted(paths) if path.casefold() == f"{JOB}.txt"), None)
        write = f"Rename {near} to {JOB}." if near else "Start one with: claimkit new FOLDER"
        problems.append(Problem(JOB, "", "It is not there.", write))
    for one in got.loaded:
        path = one.file.path
        if isinstance(one.content, OtherFile) and path.lower().endswith((".toml", ".toml.txt")):
            if path.casefold() == f"{JOB}.txt":
                continue
            problems.append(
                Problem(
                    path,
                    "",
                    "It lies outside records/ and is not read as a record.",
                    "Move it into records/ if it is one.",
                )
            )
    return tuple(problems)


def _unread_problem(unread: Unread) -> Problem:
    return Problem(
        unread.path or ".",
        "",
        f"It could not be read: {unread.why}.",
        "Nothing is known of it in this run. Mend that and run claimkit again.",
    )


def _merged(photos: Iterable[Photo]) -> tuple[Photo, ...]:
    """Make the same bytes in several places one photo, in order of hashes."""
    same: dict[str, list[Photo]] = {}
    for photo in photos:
        same.setdefault(photo.sha256, []).append(photo)
    return tuple(_one(sorted(same[sha256], key=lambda p: p.places)) for sha256 in sorted(same))


def _one(copies: Sequence[Photo]) -> Photo:
    """Keep what is wrong with every copy; a flaw of one place alone names that place."""
    if len(copies) == 1:
        return copies[0]
    flaws: list[str] = []
    for copy in copies:
        for flaw in copy.flaws:
            everywhere = all(flaw in other.flaws for other in copies)
            flaws.append(flaw if everywhere else f"{copy.places[0]}: {flaw}")
    places = tuple(sorted(place for copy in copies for place in copy.places))
    return replace(copies[0], places=places, flaws=tuple(dict.fromkeys(flaws)))
