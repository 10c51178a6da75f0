"""The next move of a job: what to do, by which day, and who must have it, in one line.

Every open limit, unproved letter, unanswered letter and late duty gives a candidate; the earliest
day comes first. Moves without a day stand behind those of the coming week and say so.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from claimkit.findings.limits.calendar import CannotCount, count_days, site_calendar, written
from claimkit.findings.limits.conditions import all_looked_at, matters, overdue
from claimkit.findings.limits.events import carriers_of, dated, deeds, is_spoken, local_day
from claimkit.findings.limits.life import Inspection, Life, Phase, life_of
from claimkit.findings.limits.misses import Why, misses_of
from claimkit.findings.seams.last_chance import last_chances
from claimkit.model.case import Case, Standing
from claimkit.model.job import Job, Party, Role, Shipment
from claimkit.model.limit import LimitState, TimeLimit, Whose
from claimkit.model.records import About
from claimkit.model.source import Source
from claimkit.rules import carriage
from claimkit.rules.claim_life import INSPECT_WITHIN, OWN_REPORT, PRACTICE, WHAT_IT_HOLDS
from claimkit.rules.governing import only_us
from claimkit.rules.marks import marked

WEEK = timedelta(days=7)
OPEN = (LimitState.RUNNING, LimitState.DUE_PASSED)
UNREAD = "Mend job.toml: until it can be read, nothing is worked out."
NOTHING = "Nothing runs and nothing is missing that claimkit checks."
# In which order moves of one day come.
LIMIT, PROOF, PASSED, INSPECT, LOOK, READ, ANSWER, REMIND, NO_DAY = range(9)


@dataclass(frozen=True, slots=True)
class NextMove:
    """One thing to do: its day (None where no day is set), what, to whom, and what says so.

    `to` names the addressee with the e-mail address that job.toml has; empty where the move is
    one's own. `passed` is True where its day is past, so that it is to be done today; `lapsed` is
    the last day that has passed: of two, the later one comes first.
    """

    day: date | None
    text: str
    to: str
    sources: tuple[Source, ...]
    shipment: str | None = None
    passed: bool = False
    rank: int = NO_DAY
    lapsed: date = date.min

    def line(self, as_of: date) -> str:
        """Write it as one line: by when, what, to whom."""
        when = ""
        if self.day:
            today = self.day <= as_of
            when = f"Today, {written(as_of)}: " if today else f"By {written(self.day)}: "
        to = f" To: {self.to}." if self.to else ""
        return " ".join(f"{when}{self.text}{to}".split())


def next_move(case: Case) -> NextMove:
    """Give the next move of a job; one that says that nothing runs, where nothing does."""
    return moves(case)[0]


def moves(case: Case) -> tuple[NextMove, ...]:
    """Give every move of a job, the next one first; at least one."""
    job = case.facts.job
    if job is None:
        source = Source(path="job.toml")
        return (NextMove(None, UNREAD, "", (source,)),)
    found: list[NextMove] = []
    for shipment in job.shipment:
        found += _of_shipment(case, job, shipment)
    found += _last_chances(case, job)
    found.sort(key=lambda move: _key(case, move))
    if not found:
        found = list(_from_findings(case, job))[:1]
    return tuple(dict.fromkeys(found)) or (NextMove(None, NOTHING, "", ()),)


def _key(case: Case, move: NextMove) -> tuple[date, int, int, str, str]:
    day = move.day or case.as_of + WEEK
    if min(day, move.lapsed if move.lapsed > date.min else day) < case.as_of - WEEK:
        day = case.as_of + WEEK  # what lapsed long ago waits for what falls due within the week
    lapsed = -move.lapsed.toordinal()
    return (max(day, case.as_of), move.rank, lapsed, move.shipment or "", move.text)


def _of_shipment(case: Case, job: Job, shipment: Shipment) -> Iterator[NextMove]:
    life = life_of(case, shipment)
    if life.phase is not Phase.PAID:
        yield from _limits(case, job, shipment, life)
        yield from _proof(case, job, shipment)
        yield from _inspection(case, job, shipment, life)
        yield from _answers(case, job, shipment, life)
        yield from _reminders(case, job, shipment, life)
    yield from _receive(case, job, shipment)
    yield from _look(case, job, shipment)


def carrier_in_words(job: Job, shipment: Shipment) -> str:
    """Name the carrier of a shipment with its e-mail address."""
    return party_in_words(job, shipment.carrier)


def party_in_words(job: Job, party_id: str) -> str:
    """Name a party with its e-mail address, or say that none is entered."""
    party = job.party_named(party_id)
    return _in_words(party) if party else f"{party_id} (not in job.toml)"


def _in_words(party: Party) -> str:
    return f"{party.name}, {party.email}" if party.email else f"{party.name} (no e-mail entered)"


def _with_role(job: Job, role: Role, otherwise: str) -> str:
    found = [_in_words(party) for party in job.party if role in party.roles]
    return " and ".join(found) or otherwise


def addressee(job: Job, shipment: Shipment, limit: TimeLimit) -> str:
    """Name who must have what a limit asks for: the party with its e-mail address, or the court."""
    clause = limit.clause
    if clause.party:
        return party_in_words(job, clause.party)
    groups = {carriage.ACTS[word].to for word in clause.met_by}
    if clause.whose is Whose.CARRIERS or carriage.CARRIER in groups:
        return carrier_in_words(job, shipment)
    if carriage.SELLER in groups:
        return _with_role(job, Role.SELLER, "the seller (not in job.toml)")
    if carriage.INSURER in groups:
        return _with_role(job, Role.INSURER, "the insurer (not in job.toml)")
    return clause.to


def _limits(case: Case, job: Job, shipment: Shipment, life: Life) -> Iterator[NextMove]:
    """Give what our own limits ask for: open ones, passed ones, and those without a date."""
    claimed = life.phase not in (Phase.NOTHING_WRONG, Phase.TO_REPORT, Phase.SENT, Phase.REPORTED)
    for limit in case.limits:
        clause = limit.clause
        ours = limit.shipment == shipment.id and clause.whose is Whose.OURS
        if not ours or not matters(case, shipment, clause.concerns):
            continue
        to = addressee(job, shipment, limit)
        sources = (*limit.sources, Source(citation=marked(clause.citation, clause.mark)))
        if limit.state is LimitState.NO_DATE:
            text = f"Without delay: {clause.do}"
            yield NextMove(None, text, to, sources, shipment.id)
        elif limit.state in OPEN:
            day = limit.act_by or limit.nominal
            gone = limit.state is LimitState.DUE_PASSED
            last = f" The last day is {written(limit.nominal)}." if gone and limit.nominal else ""
            yield NextMove(day, f"{clause.do}{last}", to, sources, shipment.id, gone, LIMIT)
        elif limit.state is LimitState.PASSED and limit.nominal and _still_worth(limit, claimed):
            text = (
                f"{clause.title}: the last day, {written(limit.nominal)}, has passed; do it all "
                f"the same. {clause.do}"
            )
            gone_by = limit.nominal
            yield NextMove(case.as_of, text, to, sources, shipment.id, True, PASSED, gone_by)


def _still_worth(limit: TimeLimit, claimed: bool) -> bool:
    """Tell whether a passed limit is still to be met: no report once the claim is made."""
    later = (carriage.CLAIM, carriage.SUIT, carriage.TOLD_SELLER, carriage.TOLD_INSURER)
    asks_later = any(word in limit.clause.met_by for word in later) or bool(limit.clause.party)
    at_the_door = limit.clause.span.unit == carriage.AT_THE_EVENT
    return not at_the_door and (asks_later or not claimed)


def _proof(case: Case, job: Job, shipment: Shipment) -> Iterator[NextMove]:
    """Ask for proof of what was sent and is not shown received; a letter may serve several acts."""
    acts = [
        (word, limit.clause.party)
        for limit in case.limits
        if limit.shipment == shipment.id and limit.clause.whose is Whose.OURS
        for word in limit.clause.met_by
    ]
    for word, party in dict.fromkeys(acts):
        if deeds(case, shipment, word, party):
            continue
        for miss in misses_of(case, shipment, word, party):
            if miss.why is Why.NOT_RECEIVED:
                about = miss.notice.about.value
                text = (
                    f"Get proof that the {about} ({miss.record.path}) was received, and record "
                    "the day of receipt."
                )
                to = party_in_words(job, miss.notice.to)
                yield NextMove(
                    case.as_of, text, to, (miss.source,), shipment.id, rank=PROOF, passed=True
                )


def _inspection(case: Case, job: Job, shipment: Shipment, life: Life) -> Iterator[NextMove]:
    """Say by when one's own inspection report should stand in."""
    rule = only_us(shipment, OWN_REPORT)
    cited = Source(citation=f"{rule}; {INSPECT_WITHIN.written}: {PRACTICE}")
    to = carrier_in_words(job, shipment)
    report = f"your own inspection report ({WHAT_IT_HOLDS}), send it, and keep the packing"
    if life.inspection is Inspection.WAIVED:
        text = f"The carrier does not inspect: write {report}."
        yield NextMove(case.as_of, text, to, (cited,), shipment.id, True, INSPECT)
    elif life.inspection is Inspection.ASKED and life.asked:
        day = inspection_due(case, life)
        if day is None:
            return
        late = day < case.as_of
        begin = (
            f"The carrier has not inspected since it was asked on {written(life.asked.day or day)}"
            if late
            else "If the carrier has not inspected by then"
        )
        sources = (life.asked.source, cited)
        text = f"{begin}: write {report}." if late else f"{begin}, write {report}."
        yield NextMove(day, text, to, sources, shipment.id, late, INSPECT)


def inspection_due(case: Case, life: Life) -> date | None:
    """Give the day from which one's own report should stand in, five working days after asking."""
    if life.asked is None:
        return None
    received = dated(case, life.asked.notice, on_receipt=True)
    if received is None:
        return None
    try:
        return count_days(INSPECT_WITHIN, received[0], site_calendar(case.facts)).nominal
    except CannotCount:
        return None


ASK_WHETHER = "Ask in writing whether the claim or a part of it is disallowed, and for the reasons."
# What a letter of the carrier asks for, by the phase that it begins.
ANSWERS = {
    Phase.OFFERED: (
        "Answer the offer{offered} in writing: accept it, or say why not. It starts no suit period."
    ),
    Phase.ACCEPTED: "Watch for the payment{offered}, and record it.",
    Phase.UNCLEAR: ASK_WHETHER,
    Phase.REFUSED: ASK_WHETHER,
    Phase.DISALLOWED: "Answer the disallowance point by point, with the evidence for each.",
    Phase.PAID_PART: (
        "Paid so far: {paid}{claimed}. Claim the rest, or record that the payment settles it."
    ),
    Phase.ACKNOWLEDGED: "Ask for the carrier's claim number, and record it.",
}


def _answers(case: Case, job: Job, shipment: Shipment, life: Life) -> Iterator[NextMove]:
    """Give what the latest letter of the carrier asks for, unless it was answered since."""
    since = life.since
    if since is None or life.phase not in ANSWERS:
        return
    numbered = life.phase is Phase.ACKNOWLEDGED and life.claim_number is not None
    waits = life.phase is Phase.ACCEPTED
    later = life.steps[life.steps.index(since) + 1 :]
    answered = any(s.counts and s.notice.about in (About.ANSWER, About.REMINDER) for s in later)
    if numbered or (answered and not waits):
        return
    text = ANSWERS[life.phase].format(
        offered=f" of {life.offered}" if life.offered else "",
        paid=life.paid or "not known",
        claimed=f" of {life.claimed}" if life.claimed else "",
    )
    to = carrier_in_words(job, shipment)
    day = None if waits else case.as_of
    rank = NO_DAY if waits else ANSWER
    yield NextMove(day, text, to, (since.source,), shipment.id, not waits, rank)


def _reminders(case: Case, job: Job, shipment: Shipment, life: Life) -> Iterator[NextMove]:
    """Remind the carrier of its own duties: before the day, and once after it."""
    if life.phase in (Phase.SUED, Phase.ACCEPTED):
        return
    to = carrier_in_words(job, shipment)
    theirs = [
        t for t in case.limits if t.shipment == shipment.id and t.clause.whose is Whose.CARRIERS
    ]
    late = [t for t in theirs if t.state is LimitState.PASSED and t.nominal]
    reminded = [
        when[0]
        for step in life.steps
        if step.notice.about is About.REMINDER
        and step.notice.sender not in carriers_of(job, shipment)
        and not is_spoken(step.notice)
        and (when := dated(case, step.notice, on_receipt=False))
    ]
    for limit in late[-1:]:
        due = limit.nominal
        if due and not any(day > due for day in reminded):
            clause = limit.clause
            text = f"{clause.title} was due on {written(due)}. {clause.do}"
            sources = (*limit.sources, Source(citation=marked(clause.citation, clause.mark)))
            yield NextMove(case.as_of, text, to, sources, shipment.id, True, REMIND)
    for limit in [t for t in theirs if t.state is LimitState.RUNNING and t.nominal][:1]:
        clause = limit.clause
        day = limit.act_by if limit.act_by and limit.act_by >= case.as_of else limit.nominal
        text = f"{clause.title} by {written(limit.nominal or case.as_of)}: {clause.do}"
        sources = (*limit.sources, Source(citation=marked(clause.citation, clause.mark)))
        yield NextMove(day, text, to, sources, shipment.id, rank=REMIND)


def _receive(case: Case, job: Job, shipment: Shipment) -> Iterator[NextMove]:
    """Ask for the receiving to be made ready while the goods may still be on their way."""
    for found in case.findings:
        coming = found.rule == "delivery-none" and found.standing is Standing.NOTE
        if coming and found.where == f"shipment {shipment.id}" and not overdue(case, shipment):
            expected = shipment.reasonable_delivery
            day = local_day(case, expected) if expected else None
            yield NextMove(day, found.do_next, _own_people(job), found.evidence, shipment.id)


def _look(case: Case, job: Job, shipment: Shipment) -> Iterator[NextMove]:
    """Ask for the goods to be looked at while hidden damage can still be reported."""
    if all_looked_at(case, shipment):
        return
    for found in case.findings:
        if (
            found.rule == "limit-look-for-hidden-damage"
            and found.where == f"shipment {shipment.id}"
        ):
            days = [
                t.act_by
                for t in case.limits
                if t.shipment == shipment.id
                and t.state in OPEN
                and t.act_by
                and t.clause.starts in (carriage.DELIVERY, carriage.TENDER)
            ]
            if days:
                to = _own_people(job)
                text = found.do_next
                day = min(days)
                gone = day < case.as_of
                yield NextMove(day, text, to, found.evidence, shipment.id, gone, LOOK)
                return


def _last_chances(case: Case, job: Job) -> Iterator[NextMove]:
    """Ask today for what can be read only until a milestone that may come any day."""
    chances = [chance for chance in last_chances(case) if chance.open_now]
    for milestone in dict.fromkeys(chance.before for chance in chances):
        chosen = [chance for chance in chances if chance.before == milestone]
        where = "; ".join(chance.where() for chance in chosen)
        sources = tuple(dict.fromkeys(s for chance in chosen for s in chance.sources))
        text = f"Read before {milestone}: {where}."
        yield NextMove(case.as_of, text, _own_people(job), sources, rank=READ)


def _own_people(job: Job) -> str:
    own = [p.name for p in job.party if Role.OWNER in p.roles]
    return f"{own[0]} (your own people)" if own else "your own people"


def _from_findings(case: Case, job: Job) -> Iterator[NextMove]:
    """Fall back on what some finding asks for, the urgent ones first."""
    asked = [
        f for f in case.findings if f.do_next and f.standing in (Standing.MISSING, Standing.AGAINST)
    ]
    to = _own_people(job)
    for found in sorted(asked, key=lambda f: not f.urgent):
        yield NextMove(None, found.do_next, to, found.evidence)
