"""The wiring for all jobs at once: which folders hold jobs, which have changed, each in brief.

Few jobs are looked at in every run; of very many the kept briefs answer, and the time at which
they were last looked at is said. One broken job never hides the others.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from claimkit.intake.briefs import Briefs, code_version, holds_jobs, job_folders
from claimkit.intake.mark import mark_of
from claimkit.model.facts import Problem
from claimkit.model.stop import CannotGoOn
from claimkit.model.summary import JobBrief

FEW = 500  # so many folders are looked at in well under a second
BATCH = 100
Progress = Callable[[str, int, int], None]


@dataclass(frozen=True, slots=True)
class AllJobs:
    """The jobs below a folder in brief, in order of paths.

    `looked_at` is when every folder was last looked at, None where that is not known. `outlived`
    are those whose counts and next move are older than a day that changes them.
    """

    root: Path
    jobs: tuple[JobBrief, ...]
    looked_at: datetime | None
    outlived: tuple[str, ...]
    scanned: bool


def is_folder_of_jobs(folder: Path) -> bool:
    """Tell whether a folder is none of a job itself and holds folders that are."""
    if not folder.is_dir() or (folder / "job.toml").exists():
        return False
    try:
        return holds_jobs(folder)
    except OSError:
        return False


def all_jobs(
    root: Path,
    *,
    now: datetime,
    as_of: date | None = None,
    scan: bool | None = None,
    progress: Progress | None = None,
) -> AllJobs:
    """Give all jobs below a folder in brief.

    `scan` True looks at every folder, False at none, None at all where there are few or where
    nothing is kept yet. `as_of` defaults to today at each job's site.
    """
    root = root.resolve()
    briefs = Briefs()
    kept = briefs.below(root)
    if scan is None:
        scan = len(kept) <= FEW
    if scan:
        kept = _scanned(root, kept, briefs, now, as_of, progress)
    jobs = tuple(kept[path][2] for path in sorted(kept))
    looked_at = briefs.looked_at(root) if not scan else now
    outlived = tuple(job.path for job in jobs if not _holds(job, legal_day(job, now, as_of)))
    return AllJobs(root, jobs, looked_at, outlived, scan)


def legal_day(job: JobBrief, now: datetime, as_of: date | None) -> date:
    """Give the day to reason on: the one asked for, else today at the job's site."""
    return as_of or now.astimezone(ZoneInfo(job.zone)).date()


def _holds(job: JobBrief, day: date) -> bool:
    """Tell whether a brief's counts and next move are those of that day."""
    if job.worked_on == day:
        return True
    return job.worked_on < day and (job.holds_until is None or day <= job.holds_until)


def _scanned(  # noqa: PLR0913, PLR0917 - one pass over all folders
    root: Path,
    kept: dict[str, tuple[str, str, JobBrief]],
    briefs: Briefs,
    now: datetime,
    as_of: date | None,
    progress: Progress | None,
) -> dict[str, tuple[str, str, JobBrief]]:
    """Look at every folder, work out those that changed or that time has changed."""
    try:
        folders = job_folders(root)
    except OSError as error:
        why = error.strerror or str(error)
        raise CannotGoOn(f"{root} cannot be listed: {why}. Give a folder of jobs.") from error
    found: dict[str, tuple[str, str, JobBrief]] = {}
    waiting: list[tuple[str, JobBrief]] = []
    code = code_version()
    for done, folder in enumerate(folders, 1):
        path = str(folder)
        mark, brief = _one(folder, kept.get(path), now, as_of)
        found[path] = (mark, code, brief)
        if path not in kept or kept[path] != found[path]:
            waiting.append((mark, brief))
        if len(waiting) >= BATCH:
            briefs.store(waiting)
            waiting.clear()
        if progress:
            progress("jobs", done, len(folders))
    briefs.store(waiting, sorted(kept.keys() - found.keys()), (root, now))
    return found


def _unusable(problems: Sequence[Problem]) -> str:
    """Say that job.toml cannot be used, with the first of its problems."""
    more = f" and {len(problems) - 1} more; see: claimkit status" if len(problems) > 1 else ""
    first = problems[0].sentence() if problems else ""
    return f"job.toml cannot be read. {first}{more}".strip()


def _one(
    folder: Path, kept: tuple[str, str, JobBrief] | None, now: datetime, as_of: date | None
) -> tuple[str, JobBrief]:
    """Give one job's mark and brief: the kept one where nothing changed, else worked out."""
    from claimkit.findings.summary import in_brief, not_read
    from claimkit.wiring.workspace import work_out

    try:
        mark = mark_of(folder)
        if kept and kept[:2] == (mark, code_version()):
            day = legal_day(kept[2], now, as_of)
            if _holds(kept[2], day) and not kept[2].error:
                return mark, kept[2]
        case = work_out(folder, now=now, as_of=as_of)
        if case.facts.job is not None:
            return mark, in_brief(case, str(folder), now)
        why = _unusable(case.facts.problems)
    except CannotGoOn as error:
        why = str(error)
    except OSError as error:
        why = f"It cannot be read: {error.strerror or error}."
    except Exception as error:  # a defect in one job must not hide the others
        why = f"claimkit failed on it ({type(error).__name__}: {error}). Please report this."
    return "", not_read(str(folder), folder.name, why, as_of or now.date(), now)
