"""The steps of the work on one set of pieces in one seam: dry fit, fastened, sealed, handed over.

A stage lasts until the next recorded step begins, and "before fastening" lies between the end of
the dry fit and the first fastener. Where the records contradict each other in their order, no
stage is drawn out and each step keeps only the times that its own record names.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from itertools import pairwise
from zoneinfo import ZoneInfo

from claimkit.findings.pieces import plain_piece, same_piece
from claimkit.findings.timeline.stretches import Stretch, hull, trimmed, written_stretch
from claimkit.findings.wording import record_source
from claimkit.findings.written_time import stretch_of
from claimkit.model.answers import Answer
from claimkit.model.facts import Facts
from claimkit.model.job import Job
from claimkit.model.measuring import Readings
from claimkit.model.moment import Interval, Precision, before
from claimkit.model.records import Milestone, Record
from claimkit.model.stages import Event, Stage

STAGE_OF: dict[Event, Stage] = {
    Event.DRY_FIT: Stage.DRY_FIT,
    Event.FASTENED: Stage.FASTENED,
    Event.SEALED: Stage.SEALED,
    Event.HANDOVER: Stage.HANDOVER,
    Event.COMPLAINT: Stage.COMPLAINT,
}
# A state that holds until the next step, not only while the step is being done.
LASTING = frozenset({Stage.FASTENED, Stage.SEALED})
STEPS: tuple[Event, ...] = (
    Event.INSTALLATION_STARTED,
    Event.DRY_FIT,
    Event.FASTENED,
    Event.SEALED,
    Event.HANDOVER,
)
# Pairs whose order cannot be otherwise. A dry fit may come before or after "installation started";
# a complaint may come at any time.
MUST_PRECEDE: tuple[tuple[Event, Event], ...] = (
    (Event.INSTALLATION_STARTED, Event.FASTENED),
    (Event.DRY_FIT, Event.FASTENED),
    (Event.DRY_FIT, Event.SEALED),
    (Event.DRY_FIT, Event.HANDOVER),
    (Event.FASTENED, Event.SEALED),
    (Event.FASTENED, Event.HANDOVER),
    (Event.SEALED, Event.HANDOVER),
)

Step = tuple[Record, Milestone]


@dataclass(frozen=True, slots=True)
class Chain:
    """The steps and readings of one seam of one set of pieces. None: not told apart."""

    shipment: str | None
    piece: str | None
    seam: str | None
    steps: tuple[Step, ...]
    readings: tuple[tuple[Record, Readings], ...]


def chains(facts: Facts) -> tuple[Chain, ...]:
    """Give every chain that at least one milestone or reading in force belongs to."""
    steps = _steps(facts)
    readings = tuple((r, r.body) for r in facts.in_force(Readings) if isinstance(r.body, Readings))
    found = []
    named = [m.piece for _, m in steps] + [b.piece for _, b in readings]
    pieces: dict[str, str | None] = {}
    for name in named:
        pieces.setdefault(plain_piece(name), name if plain_piece(name) else None)
    for piece in pieces.values():
        of_piece = tuple(s for s in steps if same_piece(s[1].piece, piece))
        for shipment in _shipments(facts.job, of_piece):
            mine = tuple(s for s in of_piece if _shipment(facts.job, s[1]) in (None, shipment))
            for seam in _seams(facts.job, shipment, mine, readings):
                chain = Chain(
                    shipment,
                    piece,
                    seam,
                    tuple(s for s in mine if not s[1].seams or seam in s[1].seams),
                    tuple(
                        r for r in readings if same_piece(r[1].piece, piece) and r[1].seam == seam
                    ),
                )
                if chain.steps or chain.readings:
                    found.append(chain)
    return tuple(found)


def _steps(facts: Facts) -> tuple[Step, ...]:
    return tuple((r, r.body) for r in facts.in_force(Milestone) if isinstance(r.body, Milestone))


def _shipment(job: Job | None, milestone: Milestone) -> str | None:
    named = job.shipment_named(milestone.shipment) if job else None
    return named.id if named else milestone.shipment


def _shipments(job: Job | None, steps: tuple[Step, ...]) -> list[str | None]:
    named = dict.fromkeys(s for _, m in steps if (s := _shipment(job, m)))
    return list(named) or [None]


def _seams(
    job: Job | None,
    shipment: str | None,
    steps: tuple[Step, ...],
    readings: tuple[tuple[Record, Readings], ...],
) -> list[str | None]:
    known = [s.id for s in job.seam] if job else []
    mentioned = [name for _, m in steps for name in m.seams] + [b.seam for _, b in readings]
    names = dict.fromkeys([*known, *mentioned])
    kept = [n for n in names if not (other := _home(job, n)) or shipment in (None, *other)]
    return [*kept] or [None]


def _home(job: Job | None, seam_id: str) -> set[str]:
    """Give the shipments whose goods meet in a seam; empty where that is not known."""
    seam = job.seam_named(seam_id) if job else None
    if job is None or seam is None:
        return set()
    items = [item for name in seam.between if (item := job.item_named(name))]
    homes = [job.shipment_named(item.shipment) for item in items]
    return {home.id for home in homes if home}


def out_of_order(chain: Chain, zone: ZoneInfo | None) -> tuple[tuple[Step, Step], ...]:
    """Give the pairs of steps that contradict the order of the work, earlier step first.

    A step may be repeated: it contradicts only where every one of its dates lies certainly after
    the first date of the step that must follow it.
    """
    found = []
    for first, second in MUST_PRECEDE:
        firsts = [s for s in chain.steps if s[1].event is first]
        seconds = [s for s in chain.steps if s[1].event is second]
        if not firsts or not seconds:
            continue
        early = min(seconds, key=lambda s: s[1].began.at)
        limit = stretch_of(early[1].began, zone)
        if all(before(limit, stretch_of(s[1].began, zone)) is Answer.YES for s in firsts):
            found.append((min(firsts, key=lambda s: s[1].began.at), early))
    return tuple(found)


def stretches_of(chain: Chain, zone: ZoneInfo | None) -> tuple[Stretch, ...]:
    """Give the stretches of one chain: its steps, what lies between them, and its readings."""
    steps = _sorted(tuple(s for s in chain.steps if s[1].event in STAGE_OF))
    own = [_own(step, zone) for step in steps]
    sound = not out_of_order(chain, zone)
    found = list(own)
    if sound:
        found = [
            _lasting(stretch, own[n] if n < len(own) else None)
            for n, stretch in enumerate(own, start=1)
        ]
        found += [
            between
            for (a, first), (b, second) in pairwise(zip(steps, own, strict=True))
            if a[1].event is Event.DRY_FIT
            and b[1].event is Event.FASTENED
            and (between := _before_fastening(a, first, second, zone))
        ]
    found = list(trimmed(tuple(found), tuple(own)))
    return tuple(_with_readings(chain, found, zone))


def _sorted(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """Order the steps by day, and within a day by time, or by the work where times are missing."""
    coarse = {s[1].began.day for s in steps if s[1].began.precision is Precision.DAY}
    order = list(STAGE_OF)

    def key(step: Step) -> tuple[object, ...]:
        began = step[1].began
        rank = order.index(step[1].event) if began.day in coarse else 0
        return (began.day, rank, began.at, step[0].id)

    return tuple(sorted(steps, key=key))


def _own(step: Step, zone: ZoneInfo | None) -> Stretch:
    record, milestone = step
    keys = ("began", "ended") if milestone.ended else ("began",)
    sources = tuple(record_source(record, key) for key in keys)
    stage = STAGE_OF[milestone.event]
    return written_stretch(stage, milestone.began, milestone.ended, zone, sources)


def _lasting(stretch: Stretch, after: Stretch | None) -> Stretch:
    """Bound a step by the one after it; a state that lasts is drawn out to there."""
    if after is None or after.first is None:
        return stretch
    if stretch.open_end:
        stretch = replace(stretch, last=after.begun)
    until = after.first
    if stretch.stage not in LASTING or (stretch.hi is not None and until <= stretch.hi):
        return stretch
    return replace(
        stretch,
        hi=until,
        last=after.begun,
        hi_soft=False,
        open_end=False,
        why=f"{stretch.why}; lasts until the next step began",
        sources=(*stretch.sources, *after.sources[:1]),
    )


def _before_fastening(
    dry_fit: Step, first: Stretch, second: Stretch, zone: ZoneInfo | None
) -> Stretch | None:
    ended = dry_fit[1].ended
    began = dry_fit[1].began
    if ended is None and began.precision is not Precision.DAY:
        since, lo = "the end of the dry fit is not stated", None
    else:
        since, lo = "from the end of the dry fit", stretch_of(ended or began, zone).latest
    if lo and second.first and second.first <= lo:
        return None
    return Stretch(
        Stage.BEFORE_FASTENING,
        lo,
        second.first,
        first.hi if not first.hi_soft else first.lo,
        second.begun,
        f"{since} until fastening began",
        (*first.sources[-1:], *second.sources[:1]),
    )


def _with_readings(chain: Chain, found: list[Stretch], zone: ZoneInfo | None) -> Iterator[Stretch]:
    taken: dict[Stage, list[tuple[Record, Interval]]] = {}
    for record, body in chain.readings:
        taken.setdefault(body.stage, []).append((record, stretch_of(body.taken, zone)))
    stated = {stretch.stage for stretch in found}
    for stretch in found:
        yield _extended(stretch, taken.get(stretch.stage, []), found)
    for stage, read in taken.items():
        if stage not in stated:
            yield from _by_readings(stage, read)


def _extended(
    stretch: Stretch, read: list[tuple[Record, Interval]], found: list[Stretch]
) -> Stretch:
    """Draw a stretch with an unstated end out to the readings that belong to it alone."""
    alike = sum(other.stage is stretch.stage for other in found)
    fitting = [(r, i) for r, i in read if _may_hold(stretch, i)]
    if alike != 1 or not fitting or not stretch.open_end:
        return stretch
    _, last = hull(tuple(i for _, i in fitting))
    if last is None or (stretch.hi and last <= stretch.hi):
        return stretch
    return replace(
        stretch,
        hi=last,
        hi_soft=False,
        why=f"{stretch.why}; readings of this stage belong to it",
        sources=(*stretch.sources, *(record_source(r, "taken") for r, _ in fitting)),
    )


def _may_hold(stretch: Stretch, read: Interval) -> bool:
    widest = stretch.widest()
    return before(read, widest) is not Answer.YES and before(widest, read) is not Answer.YES


def _by_readings(stage: Stage, read: list[tuple[Record, Interval]]) -> Iterator[Stretch]:
    """Make a stretch for each day on which a stage was read that no milestone dates."""
    days: dict[date, list[tuple[Record, Interval]]] = {}
    for record, interval in read:
        if interval.earliest is not None:
            days.setdefault(interval.earliest.date(), []).append((record, interval))
    for _, of_day in sorted(days.items()):
        first, last = hull(tuple(i for _, i in of_day))
        sources = tuple(record_source(r, "taken") for r, _ in of_day)
        yield Stretch(
            stage, first, last, None, None, "readings of this stage; no step is recorded", sources
        )
