"""A job folder becomes facts: every file once, its custody logged, every problem at once.

What the index knows is not opened again, and a folder in which nothing changed is not gone
through again. The same bytes in two places are one photo. Whatever cannot be read is named with
what to do, and the rest is read all the same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from msgspec import structs

from claimkit.intake.contents import Stated
from claimkit.intake.custody import Shelf, custody_of, pending, read_custody, take_in
from claimkit.intake.custody_log import clock_behind
from claimkit.intake.disk import Disk, RealDisk
from claimkit.intake.entries.corrections import record_id
from claimkit.intake.entries.stated import JOB, is_record, misplaced, state
from claimkit.intake.index import Index, Row
from claimkit.intake.load import Loaded, Loader
from claimkit.intake.paths import shown
from claimkit.intake.refused import next_step, reason_of
from claimkit.intake.say import Say, tell
from claimkit.intake.settled import settled_facts, to_settle
from claimkit.intake.unlogged import Seen, Taken
from claimkit.intake.walk import Found, FoundFile, Unread, walk
from claimkit.intake.writer import writer_name
from claimkit.model.facts import Custody, Facts, Problem
from claimkit.model.photo import OtherFile, Photo
from claimkit.model.stop import CannotGoOn

Progress = Callable[[int, int], None]
CORRECT = (
    'Write it in a new record that replaces this one (replaces = "{}"): the custody log has kept '
    "this text, and an edit of the file is told as one."
)


@dataclass(frozen=True, slots=True)
class _Run:
    """What one run works on and how: the folder (resolved), the disk, the index.

    `writer` names the custody log, empty where nothing is to be written; `now` is what it writes.
    """

    root: Path
    disk: Disk
    writer: str
    now: datetime
    index: Index | None
    fresh: bool
    progress: Progress | None

    @property
    def job(self) -> str:
        """The folder's name in the index."""
        return shown(str(self.root))


@dataclass(frozen=True, slots=True)
class _Read:
    """All that one run has read, and what could not be read.

    `found` is what the folder holds, `files` what was read of it in order of paths, `job` the path
    of job.toml among them. `rows` and `gone` are news for the index. `whole` is False where
    something could not be read or claimkit failed on it.
    """

    found: Found
    files: tuple[Loaded, ...]
    unread: tuple[Unread, ...]
    stated: Stated
    job: str | None
    rows: tuple[Row, ...]
    gone: tuple[str, ...]
    whole: bool


@dataclass(frozen=True, slots=True)
class _Logged:
    """The custody of a folder; `shelf` is None where a line that is due was not written."""

    custody: Custody
    problems: tuple[Problem, ...] = ()
    shelf: Shelf | None = None


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
    (default: this computer's). `progress` gets files done and files in all, and nothing where none
    had to be looked into. `log=False` writes nothing into the folder; what the log then lacks is a
    problem. `say` is told when another run has to be waited for, and where the clock is behind the
    log. Raises CannotGoOn where the folder itself cannot be read, or is gone when it has been.
    """
    disk = disk or RealDisk()
    root = _resolved(root)
    name = writer_name(writer, disk) if log else ""
    run = _Run(root, disk, name, now, index, fresh, progress)
    with disk.lock(root, say):
        mark = _mark(run)
        facts = None
        if index and mark and not fresh:
            facts = settled_facts(index, run.job, root, mark, disk)
        facts = facts or _read_folder(run, mark)
    if behind := clock_behind(facts.custody.lines, now):
        tell(say, f"{shown(root.name)}: {behind} Look at this computer's clock.")
    return facts


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


def _mark(run: _Run) -> str:
    """Name the state of the files before any is read; empty where nothing is to be kept by it."""
    try:
        return run.disk.mark(run.root) if run.index else ""
    except OSError:
        return ""  # what cannot be listed is named by the walk


def _read_folder(run: _Run, mark: str) -> Facts:
    """Read what the folder holds, log what is new, and let the index keep it."""
    try:
        found = walk(run.root, run.disk)
    except OSError as error:
        raise _no_folder(run.root, error) from error
    known = run.index.rows(run.job) if run.index else {}
    got = _contents(run, found, known)
    if run.disk.look(run.root) is None:
        raise moved(run.root)
    logged = _custody(run, got)
    facts = _facts(run, got, logged)
    if run.index:
        shelf = logged.shelf if mark and got.whole else None
        settled = to_settle(facts, mark, shelf) if shelf else None
        if got.rows or got.gone or settled:
            run.index.store(run.job, got.rows, got.gone, settled)
    return facts


def _contents(run: _Run, found: Found, known: dict[str, Row]) -> _Read:
    """Load every file, then read job.toml and the records together."""
    loader = Loader(run.disk, {} if run.fresh else known)
    job = _job_path(found.files)
    loaded: list[Loaded] = []
    unread = list(found.unread)
    for done, file in enumerate(found.files, 1):
        statement = file.path == job or is_record(file.path)
        result = loader.load(file, statement=statement)
        if isinstance(result, Unread):
            unread.append(result)
        else:
            loaded.append(result)
        if run.progress:
            run.progress(done, len(found.files))
    statements = [one for one in loaded if one.content is None]
    paths = {file.path for file in found.files}
    others = paths - {one.file.path for one in statements}
    stated, read_now, gone_now = state(loader, statements, job, others, run.now.year)
    files = [one for one in loaded if one.content is not None] + list(read_now)
    files.sort(key=lambda one: one.file.path)
    unread += gone_now
    gone = tuple(sorted(known.keys() - paths - {""}))
    whole = loader.holds_stated and not unread and not any(one.defect for one in files)
    return _Read(found, tuple(files), tuple(unread), stated, job, tuple(loader.rows), gone, whole)


def _job_path(files: Iterable[FoundFile]) -> str | None:
    named = [file.path for file in files if file.path.casefold() == JOB]
    return JOB if JOB in named else next(iter(named), None)


def _custody(run: _Run, got: _Read) -> _Logged:
    """Log what is new, or say what the log lacks and why. No writer's name: write nothing."""
    seen = tuple(_seen(one) for one in got.files)
    root, disk = run.root, run.disk
    held = (*(unread.path for unread in got.unread), *(left.path for left in got.found.not_taken))
    taken = Taken(seen, held)
    try:
        if run.writer:
            shelf = take_in(root, taken, run.writer, run.now, disk)
            return _Logged(custody_of(shelf), shelf=shelf)
        why = "and this run was told to write nothing."
        what_to_do = "Run claimkit where it may write to the folder."
    except OSError as error:
        why = f"and it cannot be written: {reason_of(error)}."
        what_to_do = next_step(
            error, "Give this user the right to write to custody/, or work on a copy of the folder."
        )
    lacks = _not_logged(pending(root, taken, disk), why, what_to_do)
    return _Logged(read_custody(root, disk), lacks)


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


def _facts(run: _Run, got: _Read, logged: _Logged) -> Facts:
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
        not_taken=got.found.not_taken,
        custody=logged.custody,
        problems=_by_new_records(_problems(got, logged.problems), logged.custody),
        holidays=stated.holidays,
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


def _by_new_records(problems: tuple[Problem, ...], custody: Custody) -> tuple[Problem, ...]:
    """Say, where a log has kept a record's text, that a new record corrects it and no edit does."""
    kept = {line.path for line in custody.lines if line.path}
    last = {problem.file: problem for problem in problems}
    return tuple(
        replace(problem, write=f"{problem.write} {CORRECT.format(record_id(problem.file))}")
        if is_record(problem.file) and problem.file in kept and last[problem.file] is problem
        else problem
        for problem in problems
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
    return structs.replace(copies[0], places=places, flaws=tuple(dict.fromkeys(flaws)))
