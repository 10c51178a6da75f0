"""The wiring for calendars: one job's or all jobs' open limits to one iCalendar file."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from claimkit.intake.calendar_state import Kept, advance, keep, kept
from claimkit.intake.refused import next_step, reason_of
from claimkit.model.stop import CannotGoOn
from claimkit.model.summary import JobBrief
from claimkit.render.ics import CalendarEvent


@dataclass(frozen=True, slots=True)
class Diary:
    """A calendar on disk: where, how many entries, how many were cancelled, what was not read."""

    path: Path
    entries: int
    cancelled: int
    not_read: tuple[JobBrief, ...]
    begun_anew: tuple[str, ...]


def write_calendar(
    folder: Path, *, now: datetime, as_of: date | None = None, out: Path | None = None
) -> Diary:
    """Write the open limits of a job, or of every job below a folder, as iCalendar.

    Default: out/calendar.ics of the job, or claimkit-calendar.ics in the folder of jobs. The file
    is replaced: it is a feed, and what changed carries a higher SEQUENCE.
    """
    from claimkit.intake.disk import RealDisk, put
    from claimkit.render.ics import calendar_bytes
    from claimkit.wiring.alljobs import is_folder_of_jobs, legal_day
    from claimkit.wiring.written import not_written

    many = is_folder_of_jobs(folder)
    jobs = _jobs(folder, many, now, as_of)
    events: list[CalendarEvent] = []
    anew: list[str] = []
    for job in jobs:
        if not job.error:
            events += _events(job, legal_day(job, now, as_of), now, anew)
    path = out or (folder / "claimkit-calendar.ics" if many else folder / "out" / "calendar.ics")
    title = f"Time limits: {folder.resolve().name}"
    disk = RealDisk()
    try:
        disk.make_folder(path.parent)
        with disk.lock(folder.resolve(), None):
            put(disk, path, calendar_bytes(events, title))
    except OSError as error:
        raise not_written(path, error) from error
    gone = sum(event.cancelled for event in events)
    broken = tuple(job for job in jobs if job.error)
    return Diary(path, len(events) - gone, gone, broken, tuple(anew))


def _events(job: JobBrief, as_of: date, now: datetime, anew: list[str]) -> Iterator[CalendarEvent]:
    """Give one job's events, and keep what they say for the next time."""
    from claimkit.compose.dates import entries
    from claimkit.intake.disk import RealDisk

    place = Path(job.path)
    found = {entry.key: entry for entry in entries(job, as_of)}
    name = "\0".join((job.folder, job.title, job.reference))
    with RealDisk().lock(place.resolve(), None):  # two runs must not raise one number twice
        before = kept(place)
        if before is None:
            anew.append(job.folder)
        after = advance(before, tuple(found.values()), name, now)
        if after != before:
            _keep(place, after)
    for key, value in after.items():
        yield CalendarEvent(
            uid=value.uid,
            day=date.fromisoformat(value.day),
            summary=value.summary,
            text=found[key].text if key in found else "Nothing is to be done any more.",
            sequence=value.sequence,
            modified=datetime.fromisoformat(value.modified),
            cancelled=value.gone,
        )


def _jobs(folder: Path, many: bool, now: datetime, as_of: date | None) -> tuple[JobBrief, ...]:
    from claimkit.findings.summary import in_brief
    from claimkit.wiring.alljobs import all_jobs
    from claimkit.wiring.with_job import with_job
    from claimkit.wiring.workspace import work_out

    if many:
        return all_jobs(folder, now=now, as_of=as_of, scan=True).jobs
    case = with_job(work_out(folder, now=now, as_of=as_of))
    return (in_brief(case, str(folder.resolve()), now),)


def _keep(place: Path, after: dict[str, Kept]) -> None:
    try:
        keep(place, after)
    except OSError as error:
        raise CannotGoOn(
            f"{place / 'out'} cannot be written ({reason_of(error)}), and without it a change "
            "would not reach your calendar. "
            + next_step(error, "Give this user the right to write there.")
        ) from error
