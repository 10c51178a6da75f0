"""All jobs as lines, as rows for a spreadsheet and as JSON: time limits, or where each job stands.

What is open comes from the days of each limit and the legal day; nothing is read here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from claimkit.compose.phrases import day
from claimkit.compose.terminal.text import WIDTH
from claimkit.findings.wording import counted
from claimkit.model.limit import LimitState, Whose
from claimkit.model.summary import JobBrief, LimitBrief

SCHEMA = 1
FAR = date.max
PAST = (LimitState.DUE_PASSED, LimitState.PASSED)
OPEN = (LimitState.RUNNING, LimitState.NO_DATE, *PAST)


@dataclass(frozen=True, slots=True)
class Wanted:
    """Which limits and jobs are asked for; several filters hold together.

    `overdue`: the day to act by has passed and nothing met it. `within` days from the legal day
    on. `carrier`: a part of a carrier's name. `open_only`: what still asks for something.
    """

    overdue: bool = False
    within: int | None = None
    carrier: str | None = None
    open_only: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """One limit of one job on its legal day."""

    job: JobBrief
    limit: LimitBrief
    as_of: date
    state: LimitState

    @property
    def due(self) -> date:
        """Give the day that it is sorted by."""
        return self.limit.act_by or self.limit.nominal or FAR


@dataclass(frozen=True, slots=True)
class Listing:
    """What is printed of all jobs. `legal_day` gives each job's day."""

    jobs: tuple[JobBrief, ...]
    legal_day: Callable[[JobBrief], date]
    wanted: Wanted
    looked_at: datetime | None
    outlived: tuple[str, ...]


def rows(listing: Listing) -> list[Row]:
    """Give the limits that are asked for, by the day to act; those not started are left out."""
    found = [row for job in listing.jobs for row in _of_job(job, listing)]
    found.sort(key=lambda r: (r.due, r.job.path, r.limit.shipment, r.limit.clause))
    return found


def jobs(listing: Listing) -> list[JobBrief]:
    """Give the jobs that are asked for, by their next day; those that cannot be read come first."""
    narrowed = listing.wanted != Wanted()
    found = [
        job
        for job in listing.jobs
        if job.error or not narrowed or any(True for _ in _of_job(job, listing))
    ]
    found.sort(key=lambda job: (not job.error, job.next_day or FAR, job.path))
    return found


def _of_job(job: JobBrief, listing: Listing) -> Iterator[Row]:
    as_of = listing.legal_day(job)
    for limit in job.limits:
        row = Row(job, limit, as_of, limit.state_on(as_of))
        if _is_wanted(row, listing.wanted):
            yield row


def _is_wanted(row: Row, wanted: Wanted) -> bool:
    limit, state = row.limit, row.state
    if state is LimitState.NOT_STARTED:
        return False
    if wanted.carrier and wanted.carrier.casefold() not in limit.carrier.casefold():
        return False
    if (wanted.open_only or wanted.overdue) and not (limit.matters and state in OPEN):
        return False
    if wanted.overdue and state not in PAST:
        return False
    if wanted.within is not None:
        last = row.as_of + timedelta(days=wanted.within)
        return state in OPEN and row.as_of <= row.due <= last
    return True


def _cut(text: str, after: int) -> str:
    """Cut a text to what is left of a line after so many characters."""
    text = " ".join(text.split())
    return text if len(text) <= WIDTH - after else f"{text[: WIDTH - after - 1]}…"


def deadlines(listing: Listing) -> list[str]:
    """Print each limit in one line: the day to act by, how it stands, which job, what."""
    found = rows(listing)
    lines = [f"{'act by':<15}{'state':<18}job, shipment: limit", "─" * WIDTH]
    for row in found:
        act = "no date" if row.due is FAR else day(row.due)
        where = f"{row.job.folder}, {row.limit.shipment}: {row.limit.title}"
        lines.append(f"{act:<15}{row.state.value:<18}" + _cut(where, 33))
    if not found:
        narrowed = listing.wanted != Wanted()
        fits = "fits what was asked for" if narrowed else "has begun"
        lines.append(f"No time limit of these jobs {fits}.")
    return [*lines, "", *_foot(listing, len(found), "time limit")]


def status(listing: Listing) -> list[str]:
    """Print where each job stands: its next day and move, what is urgent, missing and against."""
    found = jobs(listing)
    lines = []
    for job in found:
        if job.error:
            continue
        title = f"{job.folder}: {job.title} {job.reference}"
        lines.append(f"{_when(job, listing):<15}{_cut(title, 15)}")
        lines.append(f"{'':15}{_cut(job.next_text or 'nothing to do', 15)}")
        lines.append(f"{'':15}{_counts(job)}")
    return [*lines, *([""] if lines else []), *_foot(listing, len(found), "job")]


def _when(job: JobBrief, listing: Listing) -> str:
    as_of = listing.legal_day(job)
    if job.next_day is None:
        return "no date"
    return "today" if job.next_passed or job.next_day <= as_of else day(job.next_day)


def _counts(job: JobBrief) -> str:
    parts = [
        f"{job.urgent} urgent" if job.urgent else "",
        f"{job.missing} missing" if job.missing else "",
        f"{job.against} against" if job.against else "",
        f"{job.problems} file problems" if job.problems else "",
        job.amount,
    ]
    return ", ".join(part for part in parts if part) or "nothing open"


def _foot(listing: Listing, count: int, what: str) -> list[str]:
    """Say how many, when the folders were last looked at, and which jobs could not be read."""
    looked = (
        f"{listing.looked_at:%Y-%m-%d %H:%M} UTC" if listing.looked_at else "at a time not known"
    )
    whole = f"{counted(count, what)} of {counted(len(listing.jobs), 'job')}."
    lines = [f"{whole} Folders last looked at: {looked}."]
    if not listing.jobs:
        lines.append("Nothing is kept of this folder yet. Look at it with --scan.")
    if listing.outlived:
        lines.append(
            f"{len(listing.outlived)} of the jobs have a date that has gone by since; their next "
            "move may be another."
        )
        lines.append("Look at the folders again with --scan.")
    broken = [job for job in listing.jobs if job.error]
    if broken:
        lines += ["", f"Not read ({len(broken)}):"]
        lines += [f"  {job.folder}: {' '.join(job.error.split())}" for job in broken]
    return lines


DEADLINE_HEADS = (
    "act by",
    "last day",
    "state",
    "job",
    "our number",
    "shipment",
    "carrier",
    "whose",
    "limit",
    "do",
    "to",
    "met on",
    "folder",
)


def deadline_rows(listing: Listing) -> list[Sequence[str]]:
    """Give each limit as the cells of a row, days as ISO dates."""
    return [
        (
            _iso(r.limit.act_by),
            _iso(r.limit.nominal),
            r.state.value,
            r.job.title,
            r.job.reference,
            r.limit.shipment,
            r.limit.carrier,
            r.limit.whose.value,
            r.limit.title,
            r.limit.do,
            r.limit.to,
            _iso(r.limit.met_on),
            r.job.path,
        )
        for r in rows(listing)
    ]


STATUS_HEADS = (
    "next day",
    "next move",
    "to",
    "job",
    "our number",
    "urgent",
    "missing",
    "against",
    "file problems",
    "amount claimed",
    "not read because",
    "folder",
)


def status_rows(listing: Listing) -> list[Sequence[str]]:
    """Give each job as the cells of a row."""
    return [
        (
            _iso(job.next_day),
            job.next_text,
            job.next_to,
            job.title,
            job.reference,
            str(job.urgent),
            str(job.missing),
            str(job.against),
            str(job.problems),
            job.amount,
            job.error,
            job.path,
        )
        for job in jobs(listing)
    ]


def _iso(value: date | None) -> str:
    return value.isoformat() if value else ""


def as_json(listing: Listing, command: str) -> dict[str, Any]:
    """Give all jobs as JSON; see docs/json.md, "all jobs"."""
    whole: dict[str, Any] = {
        "schema": SCHEMA,
        "command": command,
        "looked_at": listing.looked_at.isoformat() if listing.looked_at else None,
        "jobs": [_job(job, listing) for job in jobs(listing) if not job.error],
        "not_read": [{"folder": j.path, "why": j.error} for j in listing.jobs if j.error],
        "outlived": list(listing.outlived),
    }
    if command == "deadlines":
        whole["time_limits"] = [_limit(row) for row in rows(listing)]
    return whole


def _job(job: JobBrief, listing: Listing) -> dict[str, Any]:
    return {
        "folder": job.path,
        "title": job.title,
        "reference": job.reference or None,
        "as_of": listing.legal_day(job).isoformat(),
        "worked_on": job.worked_on.isoformat(),
        "urgent": job.urgent,
        "missing": job.missing,
        "against": job.against,
        "problems": job.problems,
        "defects": job.defects,
        "amount": job.amount or None,
        "next": {"day": _iso(job.next_day) or None, "text": job.next_text, "to": job.next_to},
    }


def _limit(row: Row) -> dict[str, Any]:
    limit = row.limit
    return {
        "folder": row.job.path,
        "shipment": limit.shipment,
        "carrier": limit.carrier,
        "clause": limit.clause,
        "title": limit.title,
        "whose": limit.whose.value,
        "state": row.state.value,
        "started_on": _iso(limit.started_on) or None,
        "last_day": _iso(limit.nominal) or None,
        "act_by": _iso(limit.act_by) or None,
        "met_on": _iso(limit.met_on) or None,
        "matters": limit.matters,
        "do": limit.do,
        "to": limit.to,
    }


def any_overdue(listing: Listing) -> bool:
    """Tell whether a day to act of our own has passed unmet among what is listed."""
    return any(
        row.limit.whose is Whose.OURS and row.limit.matters and row.state in PAST
        for job in listing.jobs
        for row in _of_job(job, listing)
    )
