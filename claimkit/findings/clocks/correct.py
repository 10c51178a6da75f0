"""One photo's correction: which level of its camera's clock holds, how far, and whether it counts.

The camera's time stays as it is; the corrected time stands beside it. It may place the photo in
an episode only by a clock in a picture no more than a day away, or between two that agree, or by
GPS and the records together. Where several levels are possible, all of them are covered.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from zoneinfo import ZoneInfo

from claimkit.findings.clocks.evidence import Shot
from claimkit.findings.clocks.impossible import ruled_out
from claimkit.findings.clocks.names import named
from claimkit.findings.clocks.states import near_zero
from claimkit.findings.timeline.photo_beside import clock_start_of
from claimkit.findings.wording import in_words, stretch_words
from claimkit.model.case import ClockCorrection, TimeBasis
from claimkit.model.clock import ClockEvidence, ClockLevel, ClockState, Shows
from claimkit.model.moment import Interval
from claimkit.model.source import Source
from claimkit.rules.capture import CLOCK_REACH

ZERO = timedelta()
SAID = 3


@dataclass(frozen=True, slots=True)
class Chosen:
    """The levels that are possible for one photo; `left_out` are those of other stretches."""

    levels: tuple[ClockLevel, ...]
    low: timedelta
    high: timedelta


def correction(shot: Shot, state: ClockState, zone: ZoneInfo | None) -> ClockCorrection | None:
    """Give a photo's correction, or None where the camera's own time stands or nothing is known."""
    chosen = _choose(shot, state)
    if chosen is None or all(near_zero(level) for level in chosen.levels):
        return None
    low, high = chosen.low, chosen.high
    limits = [b for b in state.bounds if b.sha256 == shot.photo.sha256]
    supports = _supports(state, chosen) if len(chosen.levels) == 1 else ()
    basis = _basis(chosen, supports)
    why_not = _why_not(shot, state, chosen, limits, basis)
    local = shot.dated.local
    used = [e for level in chosen.levels for e in level.evidence]
    return ClockCorrection(
        low,
        high,
        basis,
        (*_told(chosen), *(f"{b.said} The camera's own time breaks this." for b in supports[:1])),
        _sources([*used, *supports]),
        why_not is None,
        named(low, high, local, shot.at, zone) if local else None,
        why_not,
    )


def corrected(shot: Shot, found: ClockCorrection) -> Interval:
    """Give the corrected interval of a photo."""
    return Interval(shot.earliest + found.low, shot.latest + found.high, found.basis.value)


def _choose(shot: Shot, state: ClockState) -> Chosen | None:
    """Choose the levels that may hold for a photo: by its stretch of counters, then by time.

    Before a level's own evidence begins the one before it may hold, up to where this photo would
    be later than the next level's first evidence. A time that no level explains leaves all open.
    A level that would make an impossible time of this photo does not hold for it.
    """
    own, at = shot.photo.sha256, shot.at
    rows = tuple(one for one in _in_part(shot, state) if not ruled_out(one, own, at, state))
    every = [(level, *level.bounds(shot.at)) for level in rows]
    found = []
    for number, (level, low, high) in enumerate(every):
        after = number == 0 or shot.latest + high > rows[number - 1].last()
        before = number == len(rows) - 1 or shot.earliest + low < rows[number + 1].first()
        if low <= high and after and before:
            found.append((level, low, high))
    found = found or [row for row in every if row[1] <= row[2]]
    if not found:
        return None
    return Chosen(
        tuple(level for level, _, _ in found),
        min(low for _, low, _ in found),
        max(high for _, _, high in found),
    )


def _in_part(shot: Shot, state: ClockState) -> tuple[ClockLevel, ...]:
    parts = dict(state.part_of)
    own = parts.get(shot.photo.sha256)
    if own is None:
        return state.levels
    return tuple(
        level
        for level in state.levels
        if any(parts.get(e.sha256, own) == own for e in level.evidence)
    )


def _supports(state: ClockState, chosen: Chosen) -> tuple[ClockEvidence, ...]:
    """Give the bounds that the camera's own time breaks and the corrected one keeps, if all are."""
    level = chosen.levels[0]
    if level.kind is not Shows.GPS:
        return ()
    events = [b for b in state.broken if b.kind in (Shows.EVENT, Shows.CUSTODY)]
    kept = [b for b in state.bounds if b.allows(*level.bounds(b.at))]
    return tuple(events) if events and len(kept) == len(state.bounds) else ()


def _basis(chosen: Chosen, supports: tuple[ClockEvidence, ...]) -> TimeBasis:
    if any(level.kind is Shows.RECORD for level in chosen.levels):
        return TimeBasis.CLOCK_SHOWN
    return TimeBasis.CLOCKS_AGREE if supports else TimeBasis.GPS_ALONE


def _why_not(
    shot: Shot,
    state: ClockState,
    chosen: Chosen,
    limits: list[ClockEvidence],
    basis: TimeBasis,
) -> str | None:
    """Say why a corrected time places nothing, None where it may."""
    level = chosen.levels[0]
    reasons = (
        (bool(state.conflicts), " ".join(state.conflicts)),
        (
            len(chosen.levels) > 1,
            "The clock was set at some time in between, and this photo may lie on either side.",
        ),
        (
            basis is TimeBasis.GPS_ALONE,
            "GPS alone corroborates; it does not replace the camera's time.",
        ),
        (
            _runs_from_default(shot, level),
            "A clock that runs from its default date may have started there more than once.",
        ),
        (
            not all(b.allows(chosen.low, chosen.high) for b in limits),
            "The corrected time contradicts what is recorded of this photo.",
        ),
        (
            not _within_reach(shot, level),
            f"It is more than {in_words(CLOCK_REACH)} from the evidence, and the clock may have "
            "been set since.",
        ),
    )
    return next((why for holds, why in reasons if holds), None)


def _runs_from_default(shot: Shot, level: ClockLevel) -> bool:
    local = shot.dated.local
    own = any(e.sha256 == shot.photo.sha256 for e in level.evidence)
    return local is not None and clock_start_of(local) is not None and not own


def _within_reach(shot: Shot, level: ClockLevel) -> bool:
    times = [e.at for e in level.evidence]
    between = min(times) <= shot.at <= max(times)
    return between or any(abs(shot.at - at) <= CLOCK_REACH for at in times)


def _told(chosen: Chosen) -> tuple[str, ...]:
    said = []
    for level in chosen.levels:
        if level.kind is Shows.GPS:
            said.append(f"{len(level.evidence)} GPS fixes of this camera agree with each other.")
        else:
            said += [e.said for e in level.evidence[:SAID]]
            rest = len(level.evidence) - SAID
            said += [f"And {rest} more."] if rest > 0 else []
    return tuple(said)


def _sources(evidence: list[ClockEvidence]) -> tuple[Source, ...]:
    return tuple(dict.fromkeys(s for e in evidence for s in e.sources))


def amount(found: ClockCorrection) -> str:
    """Say a correction: '11 min 58 s to 13 min slow', or how far either way."""
    if found.low <= ZERO <= found.high:
        return f"at most {in_words(found.low)} fast or {in_words(found.high)} slow"
    way = "slow" if found.high > ZERO else "fast"
    return f"{stretch_words(found.low, found.high)} {way}"


def sentence(found: ClockCorrection) -> str:
    """Say a correction in one sentence for beside the photo."""
    text = f"By {_by(found)} the camera was {amount(found)}"
    if found.named:
        text += f", as with {found.named}"
    text += "; the camera's time stays as it is"
    if found.why_not is None:
        return text + ", and the corrected time decides where the photo belongs."
    return f"{text}. {found.why_not} Both times are kept open."


def _by(found: ClockCorrection) -> str:
    return {
        TimeBasis.CLOCK_SHOWN: "a clock shown in a picture",
        TimeBasis.CLOCKS_AGREE: "GPS and the records together",
    }.get(found.basis, "GPS")
