"""From facts to a case: first the stages that derive, then every check of the register.

A stage or check that fails is a defect of claimkit: it becomes a NotChecked marked as crashed,
the rest goes on, and the run does not exit 0.
"""

from __future__ import annotations

import traceback
from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime
from functools import partial

from claimkit.findings.register import CHECKS, STAGES, Check, Stage
from claimkit.findings.unread import with_unread
from claimkit.model.case import Case, Finding, NotChecked
from claimkit.model.facts import Facts

JOB = "stage-job"


def reason(
    facts: Facts,
    as_of: date,
    now: datetime,
    *,
    stages: tuple[Stage, ...] = STAGES,
    checks: tuple[Check, ...] = CHECKS,
) -> Case:
    """Work out everything that follows from the facts.

    `as_of` is the legal day at the site, `now` an aware instant that only bounds what can already
    have happened (a photo from the future).
    """
    case = Case(facts=facts, as_of=as_of, now=now)
    for stage in stages:
        case = _guarded(stage.id, case, stage.run)
    for check in checks:
        case = _guarded(check.id, case, partial(_checked, check))
    return with_unread(case)


def nothing_worked_out(facts: Facts, as_of: date, now: datetime) -> Case:
    """Give the case of a job whose job.toml cannot be used: no stage and no check has run.

    Zone, seams, shipments and terms are not known then, and whatever were said without them
    would be untrue: times in another zone, seams without design, nothing fastened.
    """
    why = "job.toml cannot be read, and everything else rests on it: nothing was worked out."
    return Case(facts=facts, as_of=as_of, now=now, not_checked=(NotChecked(JOB, "job.toml", why),))


def _checked(check: Check, case: Case) -> Case:
    return _with(case, check.run(case))


def _with(case: Case, results: tuple[Finding | NotChecked, ...]) -> Case:
    return replace(
        case,
        findings=case.findings + tuple(r for r in results if isinstance(r, Finding)),
        not_checked=case.not_checked + tuple(r for r in results if isinstance(r, NotChecked)),
    )


def _guarded(rule: str, case: Case, step: Callable[[Case], Case]) -> Case:
    try:
        return step(case)
    except Exception as error:  # one broken rule must not hide the others
        last = traceback.extract_tb(error.__traceback__)[-1]
        why = f"claimkit failed here ({type(error).__name__}: {error}; {last.name}:{last.lineno})."
        return _with(case, (NotChecked(rule, "the whole job", why, crashed=True),))
