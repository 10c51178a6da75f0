"""What ought to be done before an old fixture is taken out or new work begins, and whether it was.

Goods are unpacked, counted, sized and dry-assembled first, because a wrong or broken piece found
later leaves the customer without a working room. Order of work is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from claimkit.findings.claim.worksheet import shipment_of
from claimkit.findings.delivery.received import Counted, counted
from claimkit.findings.wording import listed, record_source
from claimkit.findings.written_time import site_zone, stretch_of
from claimkit.model.answers import Answer
from claimkit.model.case import Case
from claimkit.model.job import Item, Job
from claimkit.model.measuring import Readings
from claimkit.model.moment import Interval, before
from claimkit.model.records import Milestone, Record, Unpacking
from claimkit.model.source import Source
from claimkit.model.stages import Event, Stage


@dataclass(frozen=True, slots=True)
class Step:
    """A milestone in force and the stretch in which it began."""

    record: Record
    body: Milestone
    began: Interval

    def named(self) -> str:
        """Name the step with its date as written: 'fastened 2026-05-06 (record 04)'."""
        return f"{self.body.event.value} {self.body.began.said} (record {self.record.id})"

    def source(self) -> Source:
        """Name the record as a source."""
        return record_source(self.record, "began")


@dataclass(frozen=True, slots=True)
class Want:
    """One thing that ought to be done first. `answer` is YES where it was, in time.

    `why` says what is missing: 'sized (tray)'.
    """

    what: str
    answer: Answer
    why: str
    sources: tuple[Source, ...]


def steps(case: Case, *events: Event) -> tuple[Step, ...]:
    """Give the milestones in force of these events, in order of their first instants."""
    zone = site_zone(case.facts)
    found = [
        Step(record, record.body, stretch_of(record.body.began, zone))
        for record in case.facts.in_force(Milestone)
        if isinstance(record.body, Milestone) and record.body.event in events
    ]
    return tuple(sorted(found, key=lambda s: (s.body.began.at, s.record.id)))


def starts(case: Case) -> tuple[Step, ...]:
    """Give the steps with which the installation starts: started, or the first fastening."""
    return steps(case, Event.INSTALLATION_STARTED, Event.FASTENED)


def in_time(when: Interval | None, limit: Interval | None) -> Answer:
    """Tell whether something was done before a limit; without a limit, whether it was done."""
    if limit is None:
        return Answer.YES
    if when is None:
        return Answer.CANNOT_TELL
    if before(when, limit) is Answer.YES:
        return Answer.YES
    return Answer.NO if before(limit, when) is Answer.YES else Answer.CANNOT_TELL


def wants(case: Case, limit: Interval | None) -> tuple[Want, ...]:
    """Give what ought to be done before `limit`: unpacked, counted, sized, dry-assembled.

    `limit` None asks whether it was done at all. Accessories are counted, not sized. A single
    piece without seams needs no dry assembly. Nothing is wanted where no goods are ordered.
    """
    job = case.facts.job
    if job is None or not job.item:
        return ()
    return tuple(_wants(case, job, limit))


def _wants(case: Case, job: Job, limit: Interval | None) -> Iterator[Want]:
    yield _unpacked(case, job, limit)
    yield _counted(case, job.item, limit)
    sized = tuple(item for item in job.item if item.size and not item.accessory)
    if sized:
        yield _sized(case, sized, limit)
    pieces = [item for item in job.item if not item.accessory]
    if job.seam or len(pieces) > 1 or any(item.quantity > 1 for item in pieces):
        yield _dry_assembled(case, limit)


def _ended(case: Case, record: Record) -> Interval | None:
    body = record.body
    if not isinstance(body, Unpacking):
        return None
    moment = body.ended or body.began
    return stretch_of(moment, site_zone(case.facts)) if moment else None


def _unpacked(case: Case, job: Job, limit: Interval | None) -> Want:
    wanted = dict.fromkeys(shipment_of(job, item) for item in job.item)
    answers: dict[str, Answer] = {}
    sources: list[Source] = []
    for shipment in wanted:
        best: Answer | None = None
        for record in case.facts.in_force(Unpacking):
            body = record.body
            if not isinstance(body, Unpacking):
                continue
            named = job.shipment_named(body.shipment)
            if named is None or shipment is None or named.id == shipment:
                best = _better(best, in_time(_ended(case, record), limit))
                sources.append(record_source(record, "ended"))
        answers[f"shipment {shipment}" if shipment else "the goods"] = best or Answer.NO
    return _want("unpacked", answers, sources)


def _counted(case: Case, items: tuple[Item, ...], limit: Interval | None) -> Want:
    rows = tuple(row for row in counted(case.facts) if row.row.quantity is not None)
    return _by_item(case, "counted", items, rows, limit)


def _sized(case: Case, items: tuple[Item, ...], limit: Interval | None) -> Want:
    rows = tuple(row for row in counted(case.facts) if row.row.size)
    return _by_item(case, "sized", items, rows, limit)


def _by_item(
    case: Case,
    what: str,
    items: tuple[Item, ...],
    rows: tuple[Counted, ...],
    limit: Interval | None,
) -> Want:
    answers: dict[str, Answer] = {}
    sources: list[Source] = []
    for item in items:
        best: Answer | None = None
        for row in rows:
            if row.row.item == item.id:
                best = _better(best, in_time(_ended(case, row.record), limit))
                sources.append(row.source("item"))
        answers[item.id] = best or Answer.NO
    return _want(what, answers, sources)


def _better(a: Answer | None, b: Answer) -> Answer:
    order = (Answer.YES, Answer.CANNOT_TELL, Answer.NO)
    return b if a is None else min(a, b, key=order.index)


def _want(what: str, answers: dict[str, Answer], sources: list[Source]) -> Want:
    open_ones = {name: a for name, a in answers.items() if a is not Answer.YES}
    if not open_ones:
        return Want(what, Answer.YES, "", tuple(sources))
    sure = Answer.NO in open_ones.values()
    words = [
        name if a is Answer.NO else f"{name}: cannot tell from the times written"
        for name, a in open_ones.items()
    ]
    answer = Answer.NO if sure else Answer.CANNOT_TELL
    return Want(what, answer, f"{what} ({listed(words)})", tuple(dict.fromkeys(sources)))


def _dry_assembled(case: Case, limit: Interval | None) -> Want:
    zone = site_zone(case.facts)
    best: Answer | None = None
    sources: list[Source] = []
    for step in steps(case, Event.DRY_FIT):
        ended = step.body.ended or step.body.began
        best = _better(best, in_time(stretch_of(ended, zone), limit))
        sources.append(step.source())
    for record in case.facts.in_force(Readings):
        body = record.body
        if isinstance(body, Readings) and body.stage is Stage.DRY_FIT:
            best = _better(best, in_time(stretch_of(body.taken, zone), limit))
            sources.append(record_source(record, "taken"))
    return _want("dry-assembled", {"the pieces": best or Answer.NO}, sources)
