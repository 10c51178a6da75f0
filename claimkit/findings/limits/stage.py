"""Which time limits run: each shipment's clauses, counted from its events, met by its records.

A clause is a row of `rules.carriage`; the user's own paper may replace its length. The plain last
day, the working day to act by, the state on the legal day and every step of the count come out.
What these texts do not cover is named as a gap, never guessed.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from claimkit.findings.limits.calendar import (
    CannotCount,
    described,
    no_calendar,
    site_calendar,
    written,
)
from claimkit.findings.limits.conditions import NEEDS, unit_not_delivered
from claimkit.findings.limits.count import (
    Gap,
    Setting,
    count_from,
    countable,
    not_started,
    overrides_of,
)
from claimkit.findings.limits.events import Happening, deeds, local_day
from claimkit.findings.limits.own_terms import own_clauses, papers
from claimkit.findings.limits.starts import STARTS, may_disallow
from claimkit.model.case import Case
from claimkit.model.job import BillText, Job, Role, Terms
from claimkit.model.limit import Clause, TimeLimit
from claimkit.rules import carriage
from claimkit.rules.carriage import CLAUSES, NOT_COVERED

SHOWN_AHEAD, SHOWN_AT_MOST = 3, 6
NO_ROWS = "No clause of these terms is counted. Read the paper that they stand in."
ONLY_YOURS = " Only the periods that you entered are counted."


@dataclass(frozen=True, slots=True)
class Applied:
    """What the terms of a job amount to: the limits, and what could not be counted."""

    limits: tuple[TimeLimit, ...] = ()
    gaps: tuple[Gap, ...] = ()


def work_out(case: Case) -> Case:
    """Fill the time limits of every shipment."""
    return replace(case, limits=apply_terms(case).limits)


def apply_terms(case: Case, clauses: tuple[Clause, ...] = CLAUSES) -> Applied:
    """Count every clause that governs a shipment, and name what cannot be counted."""
    job = case.facts.job
    if job is None:
        why = "job.toml could not be read: no time limit is counted. Mend its problems first."
        return Applied(gaps=(Gap("limit-terms-not-known", "job.toml", why),))
    if not job.shipment:
        why = "No shipment is entered: no time limit is counted. Add [[shipment]] to job.toml."
        return Applied(gaps=(Gap("limit-terms-not-known", "job.toml", why),))
    try:
        calendar, gaps = site_calendar(case.facts), []
    except CannotCount as error:
        calendar = no_calendar("The public holidays of the site are not known.")
        why = f"{error} Without them no day to act by can be told."
        gaps = [Gap("limit-holidays-not-known", "job.toml, site", why)]
    limits: list[TimeLimit] = []
    for shipment in job.shipment:
        every = (*clauses, *own_clauses(job, shipment))
        groups = {clause.id: clause.variant_of or clause.id for clause in every}
        groups |= {clause.variant_of: clause.variant_of for clause in every if clause.variant_of}
        setting = Setting(case, job, shipment, calendar, groups, papers(job, shipment))
        found = _of_shipment(setting, every)
        limits += found.limits
        gaps += found.gaps
    return Applied(tuple(limits), tuple(gaps))


def _of_shipment(setting: Setting, clauses: tuple[Clause, ...]) -> Applied:
    shipment = setting.shipment
    bodies = {shipment.terms.value, carriage.OWN, carriage.INSURANCE} | _bodies_of_sale(setting.job)
    rows = [clause for clause in clauses if clause.terms in bodies]
    own = any(clause.terms == carriage.OWN for clause in rows)
    covered = any(clause.terms == shipment.terms.value for clause in rows)
    gaps: list[Gap] = []
    if not covered and not (own and shipment.terms is Terms.OWN_CONTRACT):
        why = f"terms = '{shipment.terms.value}': {NOT_COVERED.get(shipment.terms, NO_ROWS)}"
        gaps.append(setting.gap("limit-terms-not-known", why + (ONLY_YOURS if own else "")))
    gaps += _unusable_overrides(setting, rows)
    limits: list[TimeLimit] = []
    for variants in _grouped(rows):
        found = _of_variants(setting, variants, limits)
        limits += found.limits
        gaps += found.gaps
    return Applied(tuple(limits), tuple(gaps))


def _bodies_of_sale(job: Job) -> set[str]:
    """Name the terms of sale where they are entered, the law of sale where there is a seller."""
    sellers = any(Role.SELLER in party.roles for party in job.party)
    found = {carriage.SALE} if job.sale else set()
    return found | ({carriage.SALE_LAW} if job.sale or sellers else set())


def _grouped(rows: Iterable[Clause]) -> list[list[Clause]]:
    """Put the rows that print one limit differently together, in their order."""
    groups: dict[str, list[Clause]] = {}
    for clause in rows:
        groups.setdefault(clause.variant_of or clause.id, []).append(clause)
    return list(groups.values())


def _of_variants(setting: Setting, variants: list[Clause], done: list[TimeLimit]) -> Applied:
    """Apply the row that the bill prints; where its text is not known, the strictest one."""
    text = setting.shipment.bill_text
    if len(variants) == 1:
        return _of_clause(setting, variants[0], done)
    if text is not BillText.NOT_KNOWN:
        chosen = [clause for clause in variants if text.value in clause.texts]
        said = f"The bill prints the text '{text.value}' (job.toml: bill_text)."
        return _saying(said, [_of_clause(setting, c, done) for c in chosen])
    results = [_of_clause(setting, clause, done) for clause in variants]
    with_limits = [r for r in results if r.limits]
    if not with_limits:
        return results[0]
    far = date.max
    strictest = min(with_limits, key=lambda r: r.limits[0].nominal or far)
    others = [_other_text(r.limits[0]) for r in with_limits if r is not strictest]
    said = " ".join(
        [
            "Which text the bill prints is not known (job.toml: bill_text), so the strictest is "
            "counted.",
            *others,
        ]
    )
    return _saying(said, [strictest])


def _other_text(limit: TimeLimit) -> str:
    texts = " or ".join(f"'{text}'" for text in limit.clause.texts)
    if limit.nominal:
        return f"Under {texts} it would end on {written(limit.nominal)}."
    return f"Under {texts} it is {described(limit.span)} from: {limit.clause.starts}."


def _saying(sentence: str, results: list[Applied]) -> Applied:
    """Add a sentence on the choice of the text to each limit, after its first."""
    limits = tuple(
        replace(limit, because=(limit.because[0], sentence, *limit.because[1:]))
        for result in results
        for limit in result.limits
    )
    return Applied(limits, tuple(gap for result in results for gap in result.gaps))


def _of_clause(setting: Setting, clause: Clause, done: list[TimeLimit]) -> Applied:
    """Apply one row: the conditions, the events, then the count from each event."""
    overridden = bool(overrides_of(setting, clause))
    conditions = (NEEDS[word] for word in clause.needs if word in NEEDS)
    if not all(holds(setting.case, setting.shipment) for holds in conditions):
        return Applied()
    stated = overridden or clause.span.written in setting.papers
    if carriage.STATED in clause.needs and not stated:
        return Applied()
    if carriage.CLASSIFICATION_APPLIES in clause.needs and not overridden:
        why = _classification_gap(setting, clause)
        if why:
            return Applied(gaps=(setting.gap("limit-classification-not-known", why),))
    if clause.repeats:
        return _chain(setting, clause, done)
    provided = ""
    if carriage.NOT_ALL_DELIVERED in clause.needs:
        came = not unit_not_delivered(setting.case, setting.shipment)
        provided = "if treated as not delivered" if came else ""
    return _provided(_from_events(setting, clause, overridden), provided)


def _provided(found: Applied, provided: str) -> Applied:
    """Put limits under the condition that what is short inside a unit counts as not delivered."""
    if not provided:
        return found
    limits = []
    for limit in found.limits:
        row = replace(limit.clause, title=f"{limit.clause.title}, {provided}")
        limits.append(replace(limit, clause=row, provided=provided))
    return Applied(tuple(limits), found.gaps)


def _from_events(setting: Setting, clause: Clause, overridden: bool) -> Applied:
    """Count one row from each of its events, or say what would start it."""
    events = STARTS[clause.starts](setting.case, setting.shipment)
    provisional = _if_it_disallows(setting, clause)
    if not events:
        return _gathered([provisional or not_started(setting, clause)])
    results: list[TimeLimit | Gap] = []
    for event in events:
        why = None if overridden else _outside(setting, clause, event.day)
        if why:
            results.append(setting.gap("limit-outside-effective-dates", why))
        else:
            results.append(count_from(setting, clause, event))
    return _gathered([*results, *((provisional,) if provisional else ())])


def _if_it_disallows(setting: Setting, clause: Clause) -> TimeLimit | Gap | None:
    """Count a period that a disallowance starts from a letter that may be one, as a condition."""
    if clause.starts != carriage.DISALLOWANCE:
        return None
    event = may_disallow(setting.case, setting.shipment)
    if event is None:
        return None
    provided = f"if the letter of {written(event.day)} disallows"
    todo = (
        f"{clause.do} It is counted in case the letter of {written(event.day)} disallows the claim "
        "or a part of it: ask the carrier in writing whether it does."
    )
    row = replace(clause, title=f"{clause.title}, {provided}", do=todo)
    result = count_from(setting, row, event)
    return replace(result, provided=provided) if isinstance(result, TimeLimit) else result


def _gathered(results: list[TimeLimit | Gap]) -> Applied:
    return Applied(
        tuple(result for result in results if isinstance(result, TimeLimit)),
        tuple(result for result in results if isinstance(result, Gap)),
    )


def _classification_gap(setting: Setting, clause: Clause) -> str | None:
    """Say why a rule of the freight classification is not counted, with its day in case it is."""
    applies = setting.shipment.classification_applies
    if applies:
        return None
    text = f"{clause.title} ({clause.citation}): "
    if applies is False:
        return text + (
            "job.toml says that the freight classification does not apply. The carrier's tariff "
            "may set its own days: enter them as an override. Report in writing at once anyway."
        )
    text += (
        "nobody has said whether the bill or the tariff brings in the freight classification. "
        "Look for 'subject to the classification' on the bill or ask the carrier for its tariff, "
        "then enter classification_applies, or the tariff's own days as an override."
    )
    for event in STARTS[clause.starts](setting.case, setting.shipment):
        if _outside(setting, clause, event.day) is None:
            result = count_from(setting, clause, event)
            if isinstance(result, TimeLimit) and result.act_by:
                text += f" Until then act as if it applies: by {written(result.act_by)}."
    return text


def _outside(setting: Setting, clause: Clause, event: date) -> str | None:
    """Say that the goods moved when the clause's text was not in force, or give None.

    The date of the bill decides, else that of the shipment, else the event's.
    """
    given = setting.shipment.bill_date or setting.shipment.shipped
    moved = local_day(setting.case, given) if given else event
    early = clause.effective_from and moved < clause.effective_from
    late = clause.effective_to and moved > clause.effective_to
    if not early and not late:
        return None
    since = f"from {clause.effective_from}" if early else f"to {clause.effective_to}"
    return (
        f"{clause.title}: the text is in force {since}, the goods moved on {written(moved)} "
        f"({clause.citation}). Find the text that the bill or tariff of that day prints and enter "
        "its period as an override."
    )


def _unusable_overrides(setting: Setting, rows: list[Clause]) -> list[Gap]:
    """Name the user's own periods that fit no clause, or are no period."""
    known = [name for clause in rows for name in (clause.id, clause.variant_of) if name]
    gaps = []
    for number, override in enumerate(setting.shipment.override, start=1):
        what = f"shipment {setting.shipment.id}, override {number}"
        if override.clause not in known:
            names = (
                ", ".join(dict.fromkeys(known)) or "none, as no clause of these terms is counted"
            )
            why = f"'{override.clause}' is no clause of these terms. Known are: {names}."
            gaps.append(Gap("limit-override-not-applied", what, why))
        elif not countable(override.length):
            why = (
                f"'{described(override.length)}' is no period that can be counted. Write a number "
                "of hours, calendar days, business days, months or years."
            )
            gaps.append(Gap("limit-override-not-applied", what, why))
    return gaps


def _chain(setting: Setting, clause: Clause, done: list[TimeLimit]) -> Applied:
    """Count one period after the other while the claim is open, the first from a limit's end.

    All up to the next one are shown, three at least; of a long chain the last six.
    """
    first = next((t for t in done if t.clause.id == carriage.CHAINED[clause.starts]), None)
    if first is None or first.nominal is None:
        return _gathered([not_started(setting, clause)])
    settled = [
        deed.day
        for word in carriage.SETTLES
        for deed in deeds(setting.case, setting.shipment, word)
        if (first.started_on or date.min) <= deed.day <= setting.case.as_of
    ]
    limits: list[TimeLimit] = []
    start = first.nominal
    while not (settled and min(settled) <= start):
        number = len(limits) + 1
        said = (
            f"Period {number} of an open claim, from {written(start)}. It falls due only while "
            "the claim is neither paid, declined nor answered by a firm offer."
        )
        result = count_from(setting, clause, Happening(start, start, said, first.sources))
        if isinstance(result, Gap) or result.nominal is None:
            return Applied(tuple(limits), (result,) if isinstance(result, Gap) else ())
        title = f"{clause.title}, period {number}"
        limits.append(replace(result, clause=replace(clause, title=title)))
        start = result.nominal
        if start >= setting.case.as_of and number >= SHOWN_AHEAD:
            break
    return Applied(tuple(limits[-SHOWN_AT_MOST:]))
