"""A case in brief, for the list of all jobs: its time limits, its counts and its next move."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from claimkit.findings.claim.worksheet import gaps, total
from claimkit.findings.limits.conditions import expected_by, matters
from claimkit.findings.limits.events import carriers_of, name_of
from claimkit.findings.limits.next_move import next_move
from claimkit.model.case import Case, Standing
from claimkit.model.job import Job
from claimkit.model.limit import LimitState, TimeLimit
from claimkit.model.records import Notice
from claimkit.model.summary import JobBrief, LimitBrief

ONE_DAY = timedelta(days=1)


def in_brief(case: Case, path: str, seen_at: datetime) -> JobBrief:
    """Give a case in brief; `path` is the job folder's own."""
    job = case.facts.job
    limits = tuple(_limit(case, job, t) for t in case.limits) if job else ()
    whole = total(case.amount)
    move = next_move(case)
    count = {s: sum(f.standing is s for f in case.findings) for s in Standing}
    return JobBrief(
        path=path,
        folder=case.facts.folder_name,
        title=job.title if job else case.facts.folder_name,
        reference=(job.reference if job else None) or "",
        zone=job.site.zone if job else "UTC",
        worked_on=case.as_of,
        holds_until=_holds_until(case),
        seen_at=seen_at,
        problems=len(case.facts.problems),
        defects=sum(n.crashed for n in case.not_checked),
        urgent=sum(f.urgent for f in case.findings),
        missing=count[Standing.MISSING],
        against=count[Standing.AGAINST],
        amount=f"{whole}{' (not whole)' * bool(gaps(case, None))}" if whole else "",
        next_day=move.day,
        next_text=move.text,
        next_to=move.to,
        next_passed=move.passed,
        error="",
        limits=limits,
    )


def not_read(path: str, folder: str, why: str, as_of: date, seen_at: datetime) -> JobBrief:
    """Give a job folder that could not be read at all, with the sentence that says why."""
    return JobBrief(
        path=path,
        folder=folder,
        title=folder,
        reference="",
        zone="UTC",
        worked_on=as_of,
        holds_until=as_of,
        seen_at=seen_at,
        problems=1,
        defects=0,
        urgent=0,
        missing=0,
        against=0,
        amount="",
        next_day=None,
        next_text="",
        next_to="",
        next_passed=False,
        error=why,
        limits=(),
    )


def _limit(case: Case, job: Job, limit: TimeLimit) -> LimitBrief:
    shipment = job.shipment_named(limit.shipment)
    carriers = sorted(carriers_of(job, shipment)) if shipment else []
    return LimitBrief(
        clause=limit.clause.id,
        title=limit.clause.title,
        shipment=limit.shipment,
        carrier=", ".join(name_of(job, party) for party in carriers),
        whose=limit.clause.whose,
        started_on=limit.started_on,
        nominal=limit.nominal,
        act_by=limit.act_by,
        met_on=limit.met_on,
        matters=bool(shipment) and (limit.met_on is not None or _matters(case, limit)),
        undated=limit.state is LimitState.NO_DATE,
        repeats=limit.clause.repeats,
        do=limit.clause.do,
        to=limit.clause.to,
        doubt_on=limit.doubt_on,
    )


def _matters(case: Case, limit: TimeLimit) -> bool:
    job = case.facts.job
    shipment = job.shipment_named(limit.shipment) if job else None
    return shipment is not None and matters(case, shipment, limit.clause.concerns)


def _holds_until(case: Case) -> date | None:
    """Give the last day on which nothing in the brief changes by the calendar alone.

    A day to act by or a last day that goes by, and a dated record that is still to come, change
    what is open. The week of `limit-soon` and of the next move counts too, and the day up to which
    goods are expected.
    """
    days = [d for t in case.limits for d in (t.act_by, t.nominal) if d]
    days += [d - timedelta(days=8) for d in days]
    shipments = case.facts.job.shipment if case.facts.job else ()
    days += [d for shipment in shipments if (d := expected_by(case, shipment))]
    for record in case.facts.in_force(Notice):
        body = record.body
        if isinstance(body, Notice):
            days += [m.day - ONE_DAY for m in (body.sent, body.received) if m]
    return min((d for d in days if d >= case.as_of), default=None)
