"""What goes into a calendar: one entry for each open limit, on its day to act, with what to do."""

from __future__ import annotations

from datetime import date

from claimkit.compose.phrases import day
from claimkit.model.limit import LimitState, Whose
from claimkit.model.summary import CalendarEntry, JobBrief, LimitBrief

OPEN = (LimitState.RUNNING, LimitState.DUE_PASSED)


def entries(job: JobBrief, as_of: date) -> tuple[CalendarEntry, ...]:
    """Give the entries of a job: its open limits that matter and have a day to act."""
    found: list[CalendarEntry] = []
    seen: dict[str, int] = {}
    for limit in job.limits:
        name = f"{limit.shipment}/{limit.clause}"
        seen[name] = seen.get(name, 0) + 1
        if limit.act_by and limit.matters and limit.state_on(as_of) in OPEN:
            found.append(_entry(job, limit, f"{name}/{seen[name]}", limit.act_by))
    return tuple(sorted(found, key=lambda e: (e.day, e.key)))


def _entry(job: JobBrief, limit: LimitBrief, key: str, act_by: date) -> CalendarEntry:
    ours = limit.whose is Whose.OURS
    head = "Act by today" if ours else "Remind the carrier"
    lines = [
        f"{limit.do}",
        f"To: {limit.to}",
        f"Shipment {limit.shipment}, carrier {limit.carrier or 'not known'}",
        f"Last day by the plain count: {day(limit.nominal)}" if limit.nominal else "",
        f"Job: {job.title} {job.reference}".rstrip(),
        f"Folder: {job.folder}",
        "Counted by claimkit; the carrier's tariff or the signed bill can shorten a period.",
    ]
    summary = f"{head}: {limit.title} ({job.title})"
    return CalendarEntry(key, act_by, summary, "\n".join(line for line in lines if line))
