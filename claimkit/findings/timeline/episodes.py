"""The episodes of a job, from the curb to a complaint, as its records date them.

Each episode holds the stretch that certainly belongs to it and the widest that may. At the curb
counts from the arrival to the driver's leaving, minutes at either end left out; the records bound
the arrival itself no further, so it is part of the curb. Replacement pieces have their own.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from claimkit.findings.timeline.chains import Chain, chains, stretches_of
from claimkit.findings.timeline.stretches import Stretch, contradicts, trimmed, written_stretch
from claimkit.findings.wording import record_source
from claimkit.findings.written_time import site_zone, stretch_of
from claimkit.model.case import Case, Episode
from claimkit.model.facts import Facts
from claimkit.model.job import Job
from claimkit.model.moment import Interval
from claimkit.model.records import Delivery, Record, Unpacking
from claimkit.model.stages import Stage
from claimkit.rules.capture import CURB_AT_MOST

ORDER = tuple(Stage)
BASE = frozenset({Stage.ARRIVAL, Stage.CURB, Stage.UNPACKING})


@dataclass(frozen=True, slots=True)
class Placed:
    """A stretch and what it is about. None: not told apart."""

    stretch: Stretch
    shipment: str | None
    piece: str | None = None
    seam: str | None = None


def work_out(case: Case) -> Case:
    """Fill the episodes from the records in force, in order of their beginnings."""
    facts, zone = case.facts, site_zone(case.facts)
    curb = _at_curb(facts, zone)
    unpacking = [replace(p, stretch=_trim(p, curb)) for p in _unpackings(facts, zone)]
    base = [*curb, *unpacking]
    work = [
        replace(placed, stretch=_trim(placed, base))
        for chain in chains(facts)
        for placed in _of_chain(chain, base, zone)
    ]
    unpacking = [replace(p, stretch=_trim(p, work)) for p in unpacking]
    return replace(case, episodes=_named(facts.job, [*curb, *unpacking, *work]))


def at_curb(record: Record, zone: ZoneInfo | None) -> Stretch:
    """Give the stretch in which the truck was certainly at the curb, by one delivery record.

    The signature on the receipt lies between arrival and leaving, and stands in for either where
    it is written more finely. Times that contradict each other bound nothing.
    """
    body = record.body
    if not isinstance(body, Delivery):
        raise TypeError("only a delivery record has a stretch at the curb")
    times = {"arrived": body.arrived, "signed_at": body.signed_at, "driver_left": body.driver_left}
    spans = {key: stretch_of(m, zone) for key, m in times.items() if m}
    arrived, signed, left = (spans.get(key) for key in times)
    sources = tuple(record_source(record, key) for key in spans) or (record_source(record),)
    if any(contradicts(a, b) for a, b in ((arrived, left), (arrived, signed), (signed, left))):
        why = "the times of the delivery contradict each other"
        return Stretch(Stage.CURB, None, None, None, None, why, sources)
    lows = [s.latest for s in (arrived, signed) if s and s.latest]
    highs = [s.earliest for s in (left, signed) if s and s.earliest]
    first, last = _widest_at_curb(arrived, signed, left)
    words = [f"{key.replace('_', ' ')} {m.said}" for key, m in times.items() if m]
    return Stretch(
        Stage.CURB,
        min(lows, default=None),
        max(highs, default=None),
        first,
        last,
        ", ".join(words) or "the delivery record states no times",
        sources,
        begun=arrived.latest if arrived else None,
        open_end=left is None,
    )


def _widest_at_curb(
    arrived: Interval | None, signed: Interval | None, left: Interval | None
) -> tuple[datetime | None, datetime | None]:
    """Give the first and last instant that may belong to a delivery, a day at most where unsaid."""
    late = [s.earliest for s in (signed, left) if s and s.earliest]
    early = [s.latest for s in (signed, arrived) if s and s.latest]
    first = arrived.earliest if arrived else min((at - CURB_AT_MOST for at in late), default=None)
    last = left.latest if left else max((at + CURB_AT_MOST for at in early), default=None)
    return first, last


def _at_curb(facts: Facts, zone: ZoneInfo | None) -> list[Placed]:
    return [
        Placed(at_curb(record, zone), _shipment(facts.job, record))
        for record in facts.in_force(Delivery)
    ]


def _unpackings(facts: Facts, zone: ZoneInfo | None) -> list[Placed]:
    found = []
    for record in facts.in_force(Unpacking):
        body = record.body
        if not isinstance(body, Unpacking) or not (body.began or body.ended):
            continue
        times = (("began", body.began), ("ended", body.ended))
        sources = tuple(record_source(record, key) for key, moment in times if moment)
        stretch = written_stretch(Stage.UNPACKING, body.began, body.ended, zone, sources)
        found.append(Placed(stretch, _shipment(facts.job, record)))
    return found


def _shipment(job: Job | None, record: Record) -> str | None:
    body = record.body
    if not isinstance(body, Delivery | Unpacking):
        return None
    named = job.shipment_named(body.shipment) if job else None
    return named.id if named else body.shipment


def _of_chain(chain: Chain, base: list[Placed], zone: ZoneInfo | None) -> list[Placed]:
    stated = {p.stretch.stage for p in base}
    return [
        Placed(stretch, chain.shipment, chain.piece, chain.seam)
        for stretch in stretches_of(chain, zone)
        # What a reading says of the curb or the unpacking gives way to their own records.
        if not (stretch.stage in BASE and stretch.stage in stated)
    ]


def _trim(placed: Placed, others: list[Placed]) -> Stretch:
    near = tuple(
        other.stretch
        for other in others
        if other.piece == placed.piece
        and (other.shipment == placed.shipment or None in (other.shipment, placed.shipment))
    )
    return trimmed((placed.stretch,), near)[0]


def _named(job: Job | None, found: list[Placed]) -> tuple[Episode, ...]:
    groups: dict[tuple[object, ...], list[Placed]] = {}
    for placed in found:
        s = placed.stretch
        key = (s.stage, s.lo, s.hi, s.sources, placed.shipment, placed.piece)
        groups.setdefault(key, []).append(placed)
    end = datetime.max.replace(tzinfo=UTC)
    rows = [(group[0].stretch, _about(job, group)) for group in groups.values()]
    rows.sort(
        key=lambda row: (
            row[0].lo or row[0].first or row[0].hi or end,
            ORDER.index(row[0].stage),
            row[1],
        )
    )
    numbers: dict[Stage, int] = {}
    episodes = []
    for stretch, about in rows:
        numbers[stretch.stage] = number = numbers.get(stretch.stage, 0) + 1
        episodes.append(
            Episode(
                id=f"{stretch.stage.value.replace(' ', '-')}-{number}",
                stage=stretch.stage,
                interval=stretch.interval(),
                about=about,
                sources=stretch.sources,
                widest=stretch.widest(),
            )
        )
    return tuple(episodes)


def _about(job: Job | None, group: list[Placed]) -> str:
    first = group[0]
    words = []
    of_goods = first.stretch.stage in BASE and first.seam is None
    if first.shipment and (of_goods or (job and len(job.shipment) > 1)):
        words.append(f"shipment {first.shipment}")
    if first.piece:
        words.append(f"piece {first.piece}")
    seams = [p.seam for p in group if p.seam]
    if seams and job and len(seams) > 1 and set(seams) == {s.id for s in job.seam}:
        words.append("all seams")
    elif seams:
        words.append(f"seam {seams[0]}" if len(seams) == 1 else f"seams {', '.join(seams)}")
    return "; ".join(words) or "the whole job"
