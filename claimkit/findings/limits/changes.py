"""What one more record changes in the time limits: which it starts, meets or stops, and what not.

The limits before and after are compared; a notice that looks as if it did something, and does not,
is told with the reason.
"""

from __future__ import annotations

from claimkit.findings.limits.calendar import written
from claimkit.findings.limits.events import matching
from claimkit.findings.limits.misses import Why, letters_that_start_nothing, misses_of
from claimkit.model.case import Case
from claimkit.model.limit import LimitState, TimeLimit
from claimkit.rules import carriage

_OPEN = (LimitState.RUNNING, LimitState.DUE_PASSED, LimitState.PASSED, LimitState.NO_DATE)
_MET = (LimitState.MET, LimitState.MET_LATE)

Change = tuple[str, str]  # what happened, in one word; which limit, and its day


def limit_changes(before: Case, after: Case, path: str) -> tuple[Change, ...]:
    """Tell what the record at `path`, which only `after` has, does to the limits."""
    old = {_key(limit): limit for limit in before.limits}
    new = {_key(limit): limit for limit in after.limits}
    found: list[Change] = []
    for key, limit in new.items():
        was = old.get(key)
        met = limit.state in _MET and (was is None or was.state not in _MET)
        begun = limit.started_on is not None and was is None and not _later_in_chain(limit)
        if begun and not met:
            found.append(("starts", _running(limit)))
        if limit.doubt and (was is None or was.doubt != limit.doubt):
            found.append(("not", f"{limit.clause.title}: {limit.doubt} ({limit.shipment})"))
        if met and limit.met_on:
            late = "" if limit.state is LimitState.MET else ", too late"
            found.append(
                (
                    "meets",
                    f"{limit.clause.title}, on {written(limit.met_on)}{late} ({limit.shipment})",
                )
            )
    found += [
        ("stops", f"{limit.clause.title} ({limit.shipment})")
        for key, limit in old.items()
        if key not in new and limit.state in _OPEN and not _later_in_chain(limit)
    ]
    found += [("not", text) for text in _not(after, path)]
    return tuple(dict.fromkeys(found))


def _key(limit: TimeLimit) -> tuple[str, str, str, object]:
    return (limit.clause.id, limit.clause.title, limit.shipment, limit.started_on)


def _later_in_chain(limit: TimeLimit) -> bool:
    """Tell whether it is one of a chain of periods after the first; the first stands for all."""
    return limit.clause.repeats and not limit.clause.title.endswith(" 1")


def _running(limit: TimeLimit) -> str:
    last = f", last day {written(limit.nominal)}" if limit.nominal else ", with no date"
    return f"{limit.clause.title}{last} ({limit.shipment})"


def _not(case: Case, path: str) -> list[str]:
    """Say why a new notice does not do what it seems to do."""
    job = case.facts.job
    found: list[str] = []
    for shipment in job.shipment if job else ():
        pairs = [
            (word, limit.clause.party)
            for limit in case.limits
            if limit.shipment == shipment.id
            for word in limit.clause.met_by
            if word in carriage.ACTS and carriage.ACTS[word].on_receipt
        ]
        acts = tuple(dict.fromkeys(pairs))
        told = [miss for act in acts for miss in misses_of(case, shipment, *act)]
        if any(record.path == path for act in acts for record, _ in matching(case, shipment, *act)):
            # It is the right letter to somebody else, such as the seller: it did not miss anyone.
            told = [miss for miss in told if miss.why is not Why.ELSEWHERE]
        told += letters_that_start_nothing(case, shipment)
        found += [miss.said for miss in told if miss.record.path == path]
    return list(dict.fromkeys(found))
