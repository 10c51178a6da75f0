"""Which reading is compared with which: the dry fit with what came after it, one step at a time.

Readings of one station are ordered by time, and by the stage of the work where times overlap. The
last dry fit in the state of the later reading is the one it is compared with. A reading whose
stage and date contradict each other is claimed as neither.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cmp_to_key
from itertools import pairwise

from claimkit.findings.pieces import same_piece
from claimkit.findings.seams.beside import begins_stage
from claimkit.findings.seams.states import FIXED_STAGES, State, unlike
from claimkit.model.answers import Answer
from claimkit.model.case import Case
from claimkit.model.gap import GapReading
from claimkit.model.measuring import Readings
from claimkit.model.moment import Interval, before
from claimkit.model.records import Milestone, Record
from claimkit.model.stages import Event, Stage

ORDER = {stage: number for number, stage in enumerate(Stage)}

Unlike = Callable[[GapReading, GapReading], tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Pair:
    """Two readings to compare, either of which may be absent.

    `step` marks two consecutive readings; `dry_fit` is the dry fit they follow; `dry_fits` counts
    the dry fits it was chosen from; `reasons` say why the two cannot be compared, and `skipped`
    counts the readings that lie between them.
    """

    before: GapReading | None
    after: GapReading | None
    step: bool
    dry_fit: GapReading | None
    dry_fits: int = 0
    reasons: tuple[str, ...] = ()
    skipped: int = 0


def pairs(readings: Iterable[GapReading], differ: Unlike) -> Iterator[Pair]:
    """Give the dry fit against the latest reading, then each step, for one station and piece.

    `differ` says why two readings are not of the same state. A dry fit made anew begins a new
    chain; the steps of the chain before it are still given.
    """
    chains = list(_chains(_one_each_episode(ordered(readings))))
    if not chains:
        return
    dry, later = chains[-1]
    last = later[-1] if later else None
    chosen = _dry_fit_for(dry, last, differ)
    if chosen is not None or last is not None:
        reasons = _unlike(differ, chosen, last)
        skipped = max(len(later) - 1, 0)
        yield Pair(chosen, last, False, chosen, len(dry), reasons, skipped)
    for number, (fits, after) in enumerate(chains):
        start = _dry_fit_for(fits, after[0] if after else None, differ)
        line = ([start] if start else []) + after
        if number == len(chains) - 1 and start is not None and len(line) == 2:
            continue  # the only step is the comparison just given
        for earlier, following in pairwise(line):
            reasons = differ(earlier, following)
            yield Pair(earlier, following, True, start, len(fits), reasons)


def _unlike(differ: Unlike, a: GapReading | None, b: GapReading | None) -> tuple[str, ...]:
    return differ(a, b) if a is not None and b is not None else ()


def ordered(readings: Iterable[GapReading]) -> list[GapReading]:
    """Order readings by time; where times overlap, by stage, then by first instant and record."""
    return sorted(readings, key=cmp_to_key(_compare))


def contradiction(case: Case, reading: GapReading) -> str:
    """Say how a reading's stage and its date contradict each other; empty where they do not.

    A reading of loose pieces dated after they were fastened, with nothing that says they were
    taken apart again; a reading of fastened pieces dated before any fastening or, where no
    milestone dates the fastening, before every dry fit of the same station.
    """
    dates = milestones(case, Event.FASTENED, reading.seam, reading.piece)
    if reading.stage in FIXED_STAGES:
        if dates and all(before(reading.taken, at) is Answer.YES for _, at in dates):
            record, _ = dates[0]
            return f"{_says(reading)}, but it is dated before fastening began ({record.path})."
        dry = [] if dates else _dry_fits(case, reading)
        if dry and all(before(reading.taken, r.taken) is Answer.YES for r in dry):
            return f"{_says(reading)}, but it is dated before the dry fit ({dry[0].record})."
        return ""
    past = [(record, at) for record, at in dates if before(at, reading.taken) is Answer.YES]
    if not past or len(past) < len(dates):
        return ""
    record, at = past[-1]
    again = milestones(case, Event.DRY_FIT, reading.seam, reading.piece)
    if any(before(at, fitted) is Answer.YES for _, fitted in again):
        return ""
    return f"{_says(reading)}, but it is dated after fastening began ({record.path})."


def milestones(
    case: Case, event: Event, seam: str, piece: str | None
) -> tuple[tuple[Record, Interval], ...]:
    """Give the milestones of a seam and piece with when they began, in order of time."""
    found = []
    for record in case.facts.in_force(Milestone):
        body = record.body
        if (
            isinstance(body, Milestone)
            and body.event is event
            and same_piece(body.piece, piece)
            and (not body.seams or seam in body.seams)
        ):
            found.append((record, body.began.interval(f"written in {record.path}")))
    return tuple(sorted(found, key=lambda row: (_instant(row[1]), row[0].id)))


def unlike_in(case: Case) -> Unlike:
    """Give the comparison of states for readings of this case."""
    states = {
        r.id: State.of(r.body)
        for r in case.facts.records
        if isinstance(r.body, Readings) or (isinstance(r.body, Milestone) and begins_stage(r.body))
    }

    def state(reading: GapReading) -> State:
        none_says = State(reading.stage, None, None, None, None)
        return states.get(reading.state_of or reading.record, none_says)

    def differ(a: GapReading, b: GapReading) -> tuple[str, ...]:
        return unlike(state(a), state(b))

    return differ


def _says(reading: GapReading) -> str:
    return f"{reading.record} says {reading.stage.value}"


def _dry_fits(case: Case, reading: GapReading) -> list[GapReading]:
    return [
        r
        for r in case.readings
        if r.stage is Stage.DRY_FIT
        and (r.seam, r.station) == (reading.seam, reading.station)
        and same_piece(r.piece, reading.piece)
    ]


def _compare(a: GapReading, b: GapReading) -> int:
    if before(a.taken, b.taken) is Answer.YES:
        return -1
    if before(b.taken, a.taken) is Answer.YES:
        return 1
    first, second = _key(a), _key(b)
    return (first > second) - (first < second)


def _key(reading: GapReading) -> tuple[int, float, str]:
    return (ORDER[reading.stage], _instant(reading.taken), reading.record)


def _instant(taken: Interval) -> float:
    return taken.earliest.timestamp() if taken.earliest else 0.0


def _one_each_episode(readings: list[GapReading]) -> list[GapReading]:
    """Keep the last of consecutive readings of one stage, local day and state."""
    kept: list[GapReading] = []
    for reading in readings:
        if kept and _episode(kept[-1]) == _episode(reading):
            kept.pop()
        kept.append(reading)
    return kept


def _episode(reading: GapReading) -> tuple[object, ...]:
    day = reading.taken.earliest.date() if reading.taken.earliest else None
    return (reading.stage, day, reading.state)


def same_episode(a: GapReading, b: GapReading) -> bool:
    """Tell whether two readings are of one stage, local day and state."""
    return _episode(a) == _episode(b)


def _chains(readings: list[GapReading]) -> Iterator[tuple[list[GapReading], list[GapReading]]]:
    """Split into runs of dry fits with the later readings that follow each run."""
    dry: list[GapReading] = []
    later: list[GapReading] = []
    for reading in readings:
        if reading.stage is Stage.DRY_FIT:
            if later:
                yield dry, later
                dry, later = [], []
            dry.append(reading)
        elif ORDER[reading.stage] > ORDER[Stage.DRY_FIT]:
            later.append(reading)
    if dry or later:
        yield dry, later


def _dry_fit_for(
    dry: list[GapReading], later: GapReading | None, differ: Unlike
) -> GapReading | None:
    """Give the last dry fit in the state of the later reading, else the last there is."""
    if later is not None:
        alike = [reading for reading in dry if not differ(reading, later)]
        if alike:
            return alike[-1]
    return dry[-1] if dry else None
