"""One clause counted from one event: its period, its days, and how it stands on the legal day.

The period is the text's, or the shortest that the user's own papers set, which then counts even
where a statute has a floor: the floor is said beside it. Every step of the count is kept as a
sentence.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from claimkit.findings.limits.calendar import (
    WEEKDAYS_ONLY,
    CannotCount,
    WorkCalendar,
    count_days,
    counted,
    day_of_rest,
    described,
    ends_earlier,
    nominal_day,
    run_out,
    written,
)
from claimkit.findings.limits.conditions import lateness, situation
from claimkit.findings.limits.doubts import Doubt, acts, doubt_of
from claimkit.findings.limits.events import Deed, Happening, source_in_job
from claimkit.findings.limits.misses import misses
from claimkit.findings.limits.own_terms import Paper
from claimkit.findings.wording import offset_words
from claimkit.findings.written_time import site_zone
from claimkit.model.case import Case
from claimkit.model.job import Job, Shipment, TermOverride
from claimkit.model.limit import Clause, LimitState, TimeLimit, Whose
from claimkit.model.quantities import Span
from claimkit.model.source import Source
from claimkit.rules import carriage
from claimkit.rules.carriage import WOULD_START
from claimkit.rules.governing import us_motor


@dataclass(frozen=True, slots=True)
class Gap:
    """Something that could not be counted: the public id of its rule, where, and why."""

    rule: str
    where: str
    reason: str


ONE_COURT = " (one court allowed it: United Van Lines v. Anderson, 802 F. Supp. 1399, D.S.C. 1992)"


@dataclass(frozen=True, slots=True)
class Setting:
    """One shipment of one job, with the calendar of its site.

    `groups` gives for each clause id the limit that it prints, so that the user's own period holds
    for every text of it. `papers` are the periods that only the user's papers state, by their key.
    """

    case: Case
    job: Job
    shipment: Shipment
    calendar: WorkCalendar
    groups: dict[str, str]
    papers: dict[str, Paper]

    def gap(self, rule: str, reason: str) -> Gap:
        """Name something of this shipment that could not be counted."""
        return Gap(rule, f"shipment {self.shipment.id}", reason)


@dataclass(frozen=True, slots=True)
class Period:
    """A length, the paper that sets it where that is the user's own, and what to say of it."""

    span: Span
    paper: str | None = None
    sources: tuple[Source, ...] = ()
    said: tuple[str, ...] = ()


def overrides_of(setting: Setting, clause: Clause) -> list[tuple[int, TermOverride]]:
    """Give the user's own periods for a clause that can be counted, with their numbers."""
    limit = setting.groups[clause.id]
    found = enumerate(setting.shipment.override, start=1)
    return [
        (number, o)
        for number, o in found
        if setting.groups.get(o.clause) == limit and countable(o.length)
    ]


def countable(span: Span) -> bool:
    """Tell whether a period is one that can be counted."""
    try:
        nominal_day(span, date(2000, 1, 1), carriage.PLAIN, WEEKDAYS_ONLY)
    except CannotCount:
        return False
    return True


def period_of(setting: Setting, clause: Clause, start: date) -> Period | Gap:
    """Give the length that counts: the shortest that the user's papers set, else the clause's."""
    overrides = overrides_of(setting, clause)
    if overrides:
        number, chosen = min(
            overrides,
            key=lambda o: nominal_day(o[1].length, start, clause.endpoint, WEEKDAYS_ONLY),
        )
        said = [f"Your own paper sets {described(chosen.length)}: {chosen.source}."]
        if len(overrides) > 1:
            said.append("More than one is entered; the shortest counts.")
        said += _floor_sentence(clause, chosen.length, start)
        source = source_in_job(setting.case, setting.shipment, f"override[{number}].length")
        return Period(chosen.length, chosen.source, (source,), tuple(said))
    if clause.span.unit != carriage.PAPER_STATES:
        return Period(clause.span)
    paper = setting.papers.get(clause.span.written)
    if paper:
        source = Source("job.toml", setting.case.facts.job_sha256, clause.span.written)
        whose = "The seller's terms set" if clause.terms == carriage.SALE else "Your own paper sets"
        sentence = f"{whose} {described(paper.span)}: {paper.source}."
        return Period(paper.span, paper.source, (source,), (sentence,))
    why = f"{clause.title}: no paper of yours states the period. Enter it with its source."
    return setting.gap("limit-terms-not-known", why)


def below_floor(clause: Clause, span: Span, start: date) -> bool:
    """Tell whether a period, counted from a day, is shorter than the statute's floor."""
    if clause.floor is None:
        return False
    shortest = nominal_day(clause.floor, start, carriage.PLAIN, WEEKDAYS_ONLY)
    return nominal_day(span, start, clause.endpoint, WEEKDAYS_ONLY) < shortest


def _floor_sentence(clause: Clause, span: Span, start: date) -> tuple[str, ...]:
    if clause.floor is None or not below_floor(clause, span, start):
        return ()
    return (
        f"It is counted as your paper says. {clause.floor_citation} sets {described(clause.floor)} "
        "as the shortest period that a carrier may set, unless the shipper gave that up expressly "
        "in writing (49 USC 14101(b)): ask a lawyer what that means here.",
    )


def not_started(setting: Setting, clause: Clause) -> TimeLimit | Gap:
    """Give a clause whose event has not happened: what would start it, and what is on record."""
    period = period_of(setting, clause, setting.case.as_of)
    if isinstance(period, Gap):
        return period
    because = (f"Not started. {WOULD_START[clause.starts]}", *period.said)
    return TimeLimit(
        clause=clause,
        shipment=setting.shipment.id,
        state=LimitState.NOT_STARTED,
        started_on=None,
        nominal=None,
        act_by=None,
        met_on=None,
        because=(*because, *misses(setting.case, setting.shipment, clause)),
        sources=period.sources,
        span=period.span,
        span_source=period.paper,
    )


def count_from(setting: Setting, clause: Clause, event: Happening) -> TimeLimit | Gap:
    """Count one clause from one event and see how it stands on the legal day."""
    calendar = setting.calendar
    try:
        period = period_of(setting, clause, event.day)
        if isinstance(period, Gap):
            return period
        span = period.span
        if span.unit == carriage.NO_NUMBER:
            return _without_number(setting, clause, event, period)
        nominal = nominal_day(span, event.day, clause.endpoint, calendar)
        steps = [counted(span, event.day, nominal, clause.endpoint, calendar)]
        zone = site_zone(setting.case.facts)
        if span.unit == "hours" and event.at and zone:
            ends = run_out(span, event.at, zone)
            plain, nominal = nominal, min(nominal, ends.date())
            span = ends_earlier(span, (plain - nominal).days) if nominal < plain else span
            steps = [_to_the_hour(period.span, event.at.astimezone(zone), ends, nominal)]
    except CannotCount as error:
        return setting.gap("limit-holidays-not-known", f"{clause.title}: {error}")
    act_by, act_steps = _act_by(setting, clause, span, event)
    met = _first_valid(setting, clause, event)
    doubt = None
    if met is None or met.day > nominal:
        doubt = doubt_of(setting.case, setting.shipment, clause, (event.careful, nominal), met)
    met = None if doubt else met
    state = _state(setting, clause, nominal, act_by, doubt or met)
    because = [event.said, *period.said, *steps]
    if event.day > setting.case.as_of and not clause.repeats:
        because.append(f"{written(event.day)} lies after the legal day, {setting.case.as_of}.")
    if clause.concerns == carriage.HIDDEN_DAMAGE:
        because.append(situation(setting.case, setting.shipment))
    elif clause.concerns == carriage.DELAY:
        because.append(lateness(setting.case, setting.shipment)[1])
    if met:
        late = f", after the last day, {written(nominal)}" if met.day > nominal else ""
        because.append(f"Met by: {met.said}{late}.")
    else:
        told = (doubt.source.path or "") if doubt else ""
        because += misses(setting.case, setting.shipment, clause, told)
    if doubt:
        because.append(f"Not certain to meet it: {doubt.said} ({doubt.source.path}).")
    return TimeLimit(
        clause=clause,
        shipment=setting.shipment.id,
        state=state,
        started_on=event.day,
        nominal=nominal,
        act_by=act_by,
        met_on=met.day if met else None,
        because=tuple(because),
        sources=(*event.sources, *period.sources, *(x.source for x in (met, doubt) if x)),
        span=period.span,
        span_source=period.paper,
        act_because=act_steps,
        doubt=doubt.said if doubt else "",
        doubt_on=doubt.day if doubt else None,
    )


def _to_the_hour(span: Span, begins: datetime, ends: datetime, nominal: date) -> str:
    return (
        f"{described(span)} from {written(begins.date())}, {begins:%H:%M} "
        f"{offset_words(begins.utcoffset() or timedelta())}: they run out on "
        f"{written(ends.date())} at {ends:%H:%M} {offset_words(ends.utcoffset() or timedelta())}. "
        f"Last day: {written(nominal)}."
    )


def _without_number(
    setting: Setting, clause: Clause, event: Happening, period: Period
) -> TimeLimit:
    """Give a clause whose period no number of days states: met, or running without a date."""
    met = _first_valid(setting, clause, event)
    steps = (
        event.said,
        f"The text says {described(period.span)} and names no number of days; none is invented.",
    )
    done = (f"Met by: {met.said}.",) if met else misses(setting.case, setting.shipment, clause)
    return TimeLimit(
        clause=clause,
        shipment=setting.shipment.id,
        state=LimitState.MET if met else LimitState.NO_DATE,
        started_on=event.day,
        nominal=None,
        act_by=None,
        met_on=met.day if met else None,
        because=(*steps, *done),
        sources=(*event.sources, *((met.source,) if met else ())),
        span=period.span,
    )


def _act_by(
    setting: Setting, clause: Clause, span: Span, event: Happening
) -> tuple[date | None, tuple[str, ...]]:
    """Give the working day to act by, from the earliest day that the event could mean."""
    calendar = setting.calendar
    try:
        days = count_days(span, event.careful, calendar, clause.endpoint, clause.cautious)
    except CannotCount as error:
        return None, (f"The day to act by cannot be told. {error}",)
    last, careful = days.nominal, days.careful
    rest = day_of_rest(last, calendar)
    steps = []
    if rest and clause.whose is Whose.OURS:
        case_ = ONE_COURT if us_motor(setting.shipment) else ""
        steps.append(
            f"{written(last)} is {rest}. Do not count on its moving to the next working day{case_}."
        )
    if careful:
        steps.append(
            "Careful count, as no text says what a business day is: the day itself is day 1 if it "
            f"is Monday to Friday, holidays not skipped, or {span.count} calendar days after it, "
            f"whichever is earlier: {written(careful)}."
        )
    what = "Remind the carrier by" if clause.whose is Whose.CARRIERS else "Act by"
    why = f"the last working day before {written(last)}"
    if careful and careful < last:
        why = f"the last working day by {written(careful)}"
    if days.at_once:
        why = f"at once, as no later working day lies before {written(last)}"
    steps.append(f"{what} {written(days.act_by)}: {why}. {calendar.basis}")
    return days.act_by, tuple(steps)


def _first_valid(setting: Setting, clause: Clause, event: Happening) -> Deed | None:
    """Give the first act that meets the clause: within its time or late, not after today."""
    found = [
        deed
        for deed in acts(setting.case, setting.shipment, clause)
        if event.careful <= deed.day <= setting.case.as_of
        and not (clause.repeats and deed.day == event.day)
    ]
    return min(found, key=lambda deed: deed.day, default=None)


def _state(
    setting: Setting,
    clause: Clause,
    nominal: date,
    act_by: date | None,
    done: Deed | Doubt | None,
) -> LimitState:
    """Say how a limit stands. The other side's duty has no day to act by that could be missed.

    What may or may not have met it ends nothing while there is time to do it beyond doubt.
    """
    if isinstance(done, Deed):
        return LimitState.MET if done.day <= nominal else LimitState.MET_LATE
    if done and setting.case.as_of > nominal:
        return LimitState.IN_DOUBT
    if setting.case.as_of > nominal:
        return LimitState.PASSED
    if clause.whose is Whose.OURS and act_by and setting.case.as_of > act_by:
        return LimitState.DUE_PASSED
    return LimitState.RUNNING
