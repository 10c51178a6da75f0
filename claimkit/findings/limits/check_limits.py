"""Findings about time limits: what passed, what runs out, what has not begun, what is not counted.

Only a limit whose passing would cost something is raised: nobody is warned of a claim period for
goods with which nothing is wrong. The other side's duties are a lever, never a bar.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from claimkit.findings.delivery.refusal import left_with_driver
from claimkit.findings.limits import check_notices
from claimkit.findings.limits.calendar import described, written
from claimkit.findings.limits.conditions import all_looked_at, matters
from claimkit.findings.limits.count import below_floor
from claimkit.findings.limits.events import source_in_job
from claimkit.findings.limits.next_move import addressee
from claimkit.findings.limits.stage import apply_terms
from claimkit.model.answers import Answer
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.job import BillText, Shipment
from claimkit.model.limit import Clause, LimitState, TimeLimit, Whose
from claimkit.model.source import Source, cited
from claimkit.rules import carriage

SOON_DAYS = 7
MARKS = carriage.MARKS
OPEN = (LimitState.RUNNING, LimitState.DUE_PASSED)


def limits_passed(case: Case) -> tuple[Finding, ...]:
    """Name our limits whose last day passed with nothing on record that met them."""
    return tuple(
        _finding(
            "limit-passed",
            Standing.MISSING if limit.provided else Standing.AGAINST,
            limit,
            f"{limit.clause.title}: the last day, {_written(limit)}, has passed and no record "
            f"shows that it was met. {limit.clause.on_pass}",
            "If it was met in time, add the record with its day of receipt. If not, do it now all "
            f"the same. {limit.clause.do}",
        )
        for limit in _ours(case, LimitState.PASSED)
    )


def act_by_days_passed(case: Case) -> tuple[Finding, ...]:
    """Name our limits whose careful day is past and whose last day is not."""
    return tuple(
        _urgent(
            _finding(
                "limit-act-by-passed",
                Standing.MISSING,
                limit,
                f"{limit.clause.title}: the day to act by has passed; by the plain count the "
                f"last day is {_written(limit)}.",
                f"Do it today, by e-mail and tracked post. To {_to(case, limit)}: "
                f"{limit.clause.do}",
            )
        )
        for limit in _ours(case, LimitState.DUE_PASSED)
    )


def limits_soon(case: Case) -> tuple[Finding, ...]:
    """Name our limits whose day to act by is at most a week away."""
    return tuple(
        _urgent(
            _finding(
                "limit-soon",
                Standing.MISSING,
                limit,
                f"{limit.clause.title}: act by {written(limit.act_by)}; the last day is "
                f"{_written(limit)}.",
                f"To {_to(case, limit)}: {limit.clause.do}",
            )
        )
        for limit in _ours(case, LimitState.RUNNING)
        if limit.act_by and (limit.act_by - case.as_of).days <= SOON_DAYS
    )


def not_started(case: Case) -> tuple[Finding, ...]:
    """Name per shipment the limits that do not run yet, and what would start them."""
    found = []
    for shipment in _shipments(case):
        waiting = [
            limit
            for limit in case.limits
            if limit.shipment == shipment.id and limit.state is LimitState.NOT_STARTED
        ]
        if waiting:
            starts = {limit.clause.starts: limit.clause for limit in waiting}
            texts = "; ".join(f"{t.clause.title} (from: {t.clause.starts})" for t in waiting)
            found.append(
                Finding(
                    rule="limit-not-started",
                    standing=Standing.NOTE,
                    where=f"shipment {shipment.id}",
                    message=f"Not running yet: {texts}.",
                    do_next=" ".join(carriage.WOULD_START[word] for word in starts),
                    evidence=(source_in_job(case, shipment, "terms"),),
                    citation="; ".join(dict.fromkeys(c.citation for c in starts.values())),
                )
            )
    return tuple(found)


def limits_met(case: Case) -> tuple[Finding, ...]:
    """Name our limits that were met in time, with the day."""
    return tuple(
        _finding(
            "limit-met",
            Standing.NOTE if limit.provided else Standing.SUPPORTS,
            limit,
            f"{limit.clause.title}: met on {written(limit.met_on)}, in time; the last day was "
            f"{_written(limit)}.",
            "",
        )
        for limit in _ours(case, LimitState.MET)
        if limit.met_on
    )


def limits_met_late(case: Case) -> tuple[Finding, ...]:
    """Name our limits that were met after their last day."""
    return tuple(
        _finding(
            "limit-met-late",
            Standing.NOTE if limit.provided else Standing.AGAINST,
            limit,
            f"{limit.clause.title}: met on {written(limit.met_on)}, after the last day, "
            f"{_written(limit)}. {limit.clause.on_pass}",
            "Look for anything that reached the other side earlier and add it as a record.",
        )
        for limit in _ours(case, LimitState.MET_LATE)
        if limit.met_on
    )


def limits_in_doubt(case: Case) -> tuple[Finding, ...]:
    """Name limits whose last day passed while something on record may or may not have met them."""
    return tuple(
        _finding(
            "limit-in-doubt",
            Standing.NOTE,
            limit,
            f"{limit.clause.title}: the last day was {_written(limit)}; {limit.doubt}.",
            "Keep the proof of each day: the post's or the server's. "
            + (
                "Put the day of sending into the record, from the letter or its envelope."
                if limit.clause.whose is Whose.CARRIERS
                else "If something else reached the other side in time, add it as a record."
            ),
        )
        for limit in case.limits
        if limit.state is LimitState.IN_DOUBT
    )


def carrier_late(case: Case) -> tuple[Finding, ...]:
    """Name the carrier's own duties that it did late or not at all."""
    return tuple(
        _finding(
            "limit-carrier-late",
            Standing.NOTE,
            limit,
            f"{limit.clause.title}: due on {_written(limit)}, "
            + (
                f"done on {written(limit.met_on)}."
                if limit.met_on
                else f"and not on record. {limit.clause.on_pass}"
            ),
            "" if limit.met_on else limit.clause.do,
        )
        for limit in case.limits
        if limit.clause.whose is Whose.CARRIERS
        and limit.state in (LimitState.PASSED, LimitState.MET_LATE)
    )


def look_for_hidden_damage(case: Case) -> tuple[Finding, ...]:
    """Ask for the goods to be unpacked and looked at while the window for hidden damage is open."""
    found = []
    for limit in case.limits:
        shipment = _shipment(case, limit)
        if (
            _waits_for_a_look(limit)
            and shipment
            and limit.act_by
            and left_with_driver(case, shipment) is not Answer.YES
            and not matters(case, shipment, limit.clause.concerns)
            and not all_looked_at(case, shipment)
        ):
            message = (
                "Not every item of this shipment was unpacked, counted and looked at, and hidden "
                f"damage should be reported by {written(limit.act_by)}."
            )
            todo = "Unpack, photograph the inner packing, and write an unpacking record by then."
            where = ("limit-look-for-hidden-damage", Standing.MISSING, limit, message, todo)
            found.append(_urgent(_finding(*where)))
    return tuple(found)


def _waits_for_a_look(limit: TimeLimit) -> bool:
    """Tell whether an open limit is for what is still in the packing: to carrier or seller."""
    words = (carriage.REPORT, carriage.NOTICED, carriage.TOLD_SELLER)
    clause = limit.clause
    at_the_door = clause.span.unit == carriage.AT_THE_EVENT
    asks = clause.starts in (carriage.DELIVERY, carriage.TENDER) and any(
        word in clause.met_by for word in words
    )
    return asks and limit.state in OPEN and not at_the_door


def override_below_floor(case: Case) -> tuple[Finding, ...]:
    """Name a period of the user's paper that is shorter than a statute lets a carrier set."""
    return tuple(
        Finding(
            rule="limit-override-below-floor",
            standing=Standing.NOTE,
            where=f"shipment {limit.shipment}",
            message=(
                f"{limit.clause.title}: your paper ({limit.span_source}) sets "
                f"{described(limit.span)}, and it is counted so. {limit.clause.floor_citation} "
                f"sets {described(limit.clause.floor)} as the shortest period that a carrier may "
                "set, unless that was given up expressly in writing (49 USC 14101(b))."
            ),
            do_next="Keep to your paper's day, and ask a lawyer what the statute means here.",
            evidence=limit.sources or (cited(limit.clause.citation),),
            citation=f"{limit.clause.floor_citation} ({MARKS['S']})",
        )
        for limit in case.limits
        if limit.span_source
        and limit.clause.floor
        and below_floor(limit.clause, limit.span, limit.started_on or case.as_of)
    )


def bill_text_not_known(case: Case) -> tuple[Finding, ...]:
    """Say per shipment that the strictest text is counted, because the bill's is not known."""
    found = []
    for shipment in _shipments(case):
        chosen = [t for t in case.limits if t.shipment == shipment.id and t.clause.variant_of]
        if chosen and shipment.bill_text is BillText.NOT_KNOWN:
            titles = "; ".join(dict.fromkeys(limit.clause.title for limit in chosen))
            found.append(
                Finding(
                    rule="limit-bill-text-not-known",
                    standing=Standing.NOTE,
                    where=f"shipment {shipment.id}",
                    message=(
                        "Which text the bill of lading prints is not known, so the strictest in "
                        f"use is counted: {titles}."
                    ),
                    do_next=(
                        "Read the back of the bill or the carrier's posted terms, and enter "
                        "bill_text in job.toml."
                    ),
                    evidence=(source_in_job(case, shipment, "bill_text"),),
                    citation="; ".join(dict.fromkeys(t.clause.citation for t in chosen)),
                )
            )
    return tuple(found)


def _not_counted(rule: str, case: Case) -> tuple[NotChecked, ...]:
    """Give what the terms left uncounted under that rule id."""
    gaps = dict.fromkeys(gap for gap in apply_terms(case).gaps if gap.rule == rule)
    return tuple(NotChecked(gap.rule, gap.where, gap.reason) for gap in gaps)


def _ours(case: Case, state: LimitState) -> list[TimeLimit]:
    """Give our limits in a state; where they are not met, only those that matter."""
    found = []
    for limit in case.limits:
        shipment = _shipment(case, limit)
        if limit.clause.whose is not Whose.OURS or limit.state is not state or not shipment:
            continue
        if limit.met_on or matters(case, shipment, limit.clause.concerns):
            found.append(limit)
    return found


def _to(case: Case, limit: TimeLimit) -> str:
    """Name who must have it, with the e-mail address that job.toml has."""
    job, shipment = case.facts.job, _shipment(case, limit)
    return addressee(job, shipment, limit) if job and shipment else limit.clause.to


def _shipments(case: Case) -> tuple[Shipment, ...]:
    return case.facts.job.shipment if case.facts.job else ()


def _shipment(case: Case, limit: TimeLimit) -> Shipment | None:
    return next((s for s in _shipments(case) if s.id == limit.shipment), None)


def _written(limit: TimeLimit) -> str:
    return written(limit.nominal) if limit.nominal else "not known"


def _cite(clause: Clause) -> str:
    return f"{clause.citation} ({MARKS[clause.mark]})"


def _evidence(limit: TimeLimit) -> tuple[Source, ...]:
    return limit.sources or (cited(limit.clause.citation),)


def _finding(
    rule: str, standing: Standing, limit: TimeLimit, message: str, do_next: str
) -> Finding:
    return Finding(
        rule=rule,
        standing=standing,
        where=f"shipment {limit.shipment}",
        message=message,
        do_next=do_next,
        evidence=_evidence(limit),
        citation=_cite(limit.clause),
    )


def _urgent(finding: Finding) -> Finding:
    return replace(finding, urgent=True)


NOT_COUNTED: tuple[tuple[str, str], ...] = (
    ("limit-terms-not-known", "Terms of carriage that are not counted"),
    ("limit-classification-not-known", "Whether the freight classification's rules bind"),
    ("limit-outside-effective-dates", "A text that was not in force when the goods moved"),
    ("limit-override-not-applied", "A period of the user's own that fits no clause"),
    ("limit-holidays-not-known", "A place whose public holidays are not known"),
)

CHECKS: tuple[tuple[str, str, Callable[[Case], tuple[Finding | NotChecked, ...]]], ...] = (
    ("limit-passed", "A time limit passed", limits_passed),
    ("limit-act-by-passed", "The day to act by passed, the last day not", act_by_days_passed),
    ("limit-soon", "A day to act by within a week", limits_soon),
    ("limit-not-started", "Time limits that do not run yet", not_started),
    ("limit-met", "A time limit met, by receipt", limits_met),
    ("limit-met-late", "A time limit met after its last day", limits_met_late),
    (
        "limit-in-doubt",
        "A time limit that may or may not be met",
        limits_in_doubt,
    ),
    ("limit-carrier-late", "The carrier is late with its own duty", carrier_late),
    (
        "limit-look-for-hidden-damage",
        "Goods not all looked at while hidden damage can be reported",
        look_for_hidden_damage,
    ),
    (
        "limit-override-below-floor",
        "A period shorter than a carrier may set",
        override_below_floor,
    ),
    ("limit-bill-text-not-known", "The strictest bill text counted", bill_text_not_known),
    *((rule, title, partial(_not_counted, rule)) for rule, title in NOT_COUNTED),
    *check_notices.CHECKS,
)
