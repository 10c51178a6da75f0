"""A job folder becomes facts: every file once, its custody logged, every problem at once.

What the index knows is not opened again. The same bytes in two places are one photo. Whatever
cannot be read is named with what to do, and the rest is read all the same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from claimkit.intake.contents import Stated
from claimkit.intake.custody import pending, read_custody, take_in
from claimkit.intake.custody_log import clock_behind
from claimkit.intake.disk import Disk, RealDisk, Say
from claimkit.intake.entries.stated import JOB, is_record, misplaced, state
from claimkit.intake.index import Index
from claimkit.intake.load import Loaded, Loader
from claimkit.intake.lock import tell
from claimkit.intake.paths import shown
from claimkit.intake.refused import next_step, reason_of
from claimkit.intake.unlogged import Seen, Taken
from claimkit.intake.walk import Found, FoundFile, Unread, walk
from claimkit.intake.writer import writer_name
from claimkit.model.facts import Custody, Facts, Problem
from claimkit.model.photo import OtherFile, Photo
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
    """All that one run has read, and what could not be read.

    `files` come in order of paths; `job` is the path of job.toml among them.
    """

    files: tuple[Loaded, ...]
    unread: tuple[Unread, ...]
    stated: Stated
    job: str | None


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
    has to be waited for, and where the clock is behind the log. Raises CannotGoOn where the folder
    itself cannot be read, or is gone when it has been.
    """
    disk = disk or RealDisk()
    root = _resolved(root)
    name = writer_name(writer, disk) if log else ""
    with disk.lock(root, say):
        try:
            found = walk(root, disk)
        except OSError as error:
            raise _no_folder(root, error) from error
        run = _Run(root, disk, found, progress)
        got = _contents(run, index, fresh)
        if disk.look(root) is None:
            raise moved(root)
        custody, unlogged = _custody(run, got, name, now)
    if behind := clock_behind(custody.lines, now):
        tell(say, f"{shown(root.name)}: {behind} Look at this computer's clock.")
    return _facts(run, got, custody, unlogged)


def _resolved(root: Path) -> Path:
    try:
        return root.resolve()
    except (OSError, RuntimeError) as error:  # Python before 3.13 reports a ring of links so
        raise _no_folder(root, OSError(str(error))) from error


def _no_folder(root: Path, error: OSError) -> CannotGoOn:
    return CannotGoOn(
        f"{shown(str(root))} cannot be read: {reason_of(error)}. Give the path of a job folder "
        "that you may read."
    )


def moved(root: Path) -> CannotGoOn:
    """Give the sentence on a job folder that went away while claimkit was at work on it."""
    return CannotGoOn(
        f"{shown(str(root))} was moved or renamed while claimkit was at work on it. Nothing more "
        "was written. Run this again with the path that the folder has now."
    )


def _contents(run: _Run, index: Index | None, fresh: bool) -> _Read:
    """Load every file, then read job.toml and the records together."""
    key = shown(str(run.root))
    known = index.rows(key) if index else {}
    loader = Loader(run.disk, {} if fresh else known)
    job = _job_path(run.found.files)
    loaded: list[Loaded] = []
    unread = list(run.found.unread)
    for done, file in enumerate(run.found.files, 1):
        statement = file.path == job or is_record(file.path)
        result = loader.load(file, statement=statement)
        if isinstance(result, Unread):
            unread.append(result)
        else:
            loaded.append(result)
        if run.progress:
            run.progress(done, len(run.found.files))
    statements = [one for one in loaded if one.content is None]
    others = {file.path for file in run.found.files} - {one.file.path for one in statements}
    stated, read_now, gone_now = state(loader, statements, job, others)
    if index:
        gone = sorted(known.keys() - {file.path for file in run.found.files} - {""})
        if loader.rows or gone:
            index.store(key, loader.rows, gone)
    files = [one for one in loaded if one.content is not None] + list(read_now)
    ordered = tuple(sorted(files, key=lambda one: one.file.path))
    return _Read(ordered, (*unread, *gone_now), stated, job)


def _job_path(files: Iterable[FoundFile]) -> str | None:
    named = [file.path for file in files if file.path.casefold() == JOB]
    return JOB if JOB in named else next(iter(named), None)


def _custody(
    run: _Run, got: _Read, writer: str, now: datetime
) -> tuple[Custody, tuple[Problem, ...]]:
    """Log what is new, or say what the log lacks and why. No writer's name: write nothing."""
    seen = tuple(_seen(one) for one in got.files)
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
            next_step(
                error,
                "Give this user the right to write to custody/, or work on a copy of the folder.",
            ),
        )


def _seen(one: Loaded) -> Seen:
    file = one.file
    statement = one.content is None
    record = statement and is_record(file.path)
    return Seen(file.path, one.sha256, one.size_bytes, file.where, record, statement, one.data)


def _not_logged(count: int, why: str, what_to_do: str) -> tuple[Problem, ...]:
    if not count:
        return ()
    lacks = "1 line is" if count == 1 else f"{count} lines are"
    return (Problem("custody", "", f"{lacks} missing from the custody log, {why}", what_to_do),)


def _facts(run: _Run, got: _Read, custody: Custody, unlogged: tuple[Problem, ...]) -> Facts:
    stated = got.stated
    contents = [one.content for one in got.files]
    papers = (content for content in contents if isinstance(content, OtherFile))
    job_sha256 = next((one.sha256 for one in got.files if one.file.path == got.job), None)
    return Facts(
        folder_name=shown(run.root.name),
        job=stated.job,
        job_sha256=job_sha256 if stated.job else None,
        records=tuple(sorted(stated.records, key=lambda record: (record.id, record.path))),
        photos=_merged(content for content in contents if isinstance(content, Photo)),
        papers=tuple(sorted(papers, key=lambda paper: paper.path)),
        not_taken=run.found.not_taken,
        custody=custody,
        problems=_problems(got, unlogged),
    )


def _problems(got: _Read, unlogged: tuple[Problem, ...]) -> tuple[Problem, ...]:
    """Give every problem once: job.toml first, then by file, each file's in the order told."""
    problems = [*got.stated.problems, *unlogged]
    problems += [one.defect for one in got.files if one.defect]
    problems += misplaced(
        [one.file.path for one in got.files],
        [one.file.path for one in got.files if one.content is None],
        got.job,
        [unread.path for unread in got.unread],
    )
    problems += [
        Problem(
            unread.path,
            "",
            f"could not be read: {unread.why}.",
            "Nothing is known of it in this run. Mend that and run claimkit again.",
        )
        for unread in got.unread
    ]
    return tuple(sorted(dict.fromkeys(problems), key=lambda p: (p.file != JOB, p.file)))


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
