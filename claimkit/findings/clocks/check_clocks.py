"""Findings about cameras' clocks: corrected, sound, set in between, contradicted, stale fixes.

One finding a camera. A clock that the evidence supports is said to be so as plainly as one that
is off; what kind of error a difference looks like is named and nothing is mended because of it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise

from claimkit.findings.clocks.correct import amount
from claimkit.findings.clocks.impossible import ruled_out
from claimkit.findings.clocks.states import near_zero
from claimkit.findings.timeline.photo_groups import (
    METHOD,
    TELL_WHEN,
    Results,
    Saying,
    grouped,
    names,
)
from claimkit.findings.timeline.photos import CLOCK_AND_COUNTER, CLOCK_AND_EVENTS, GPS_EARLIER
from claimkit.findings.wording import counted, in_words, listed, photo_sources
from claimkit.model.case import Case, ClockCorrection, DatedPhoto, Finding, Standing, TimeBasis
from claimkit.model.clock import ClockEvidence, ClockState, Shows
from claimkit.model.source import Source

DOES_NOT_HOLD = "photo-clock-does-not-hold"
TOLD = 2  # so many reasons are named; the sources name all


def who(case: Case, state: ClockState) -> str:
    """Name a camera, or the photo of one that states none."""
    if state.camera:
        return f"camera {state.camera}"
    photo = case.facts.photo_of(state.photos[0])
    return f"photo {photo.places[0]}" if photo else "a photo"


def _dated(case: Case, state: ClockState) -> list[DatedPhoto]:
    own = set(state.photos)
    return [d for d in case.photos if d.sha256 in own]


def corrected(case: Case) -> Results:
    """Print each camera's correction with its evidence, and what it looks like."""
    return tuple(
        _corrected(case, state, mine)
        for state in case.clocks
        if (mine := [d for d in _dated(case, state) if d.correction])
    )


def _corrected(case: Case, state: ClockState, mine: list[DatedPhoto]) -> Finding:
    found = {d.sha256: d.correction for d in mine if d.correction}
    first = next(iter(found.values()))
    placed = [d for d in mine if d.correction and d.correction.holds]
    open_ = [d for d in mine if d not in placed]
    message = f"The clock of {who(case, state)} was {amount(first)}. {' '.join(first.evidence)}"
    kinds = dict.fromkeys(c.named for c in found.values() if c.named)
    if kinds:
        message += f" A difference like that comes with {' or '.join(kinds)}."
    if placed:
        message += (
            f" {counted(len(placed), 'photo')} counted by the corrected time "
            f"({first.basis.value}): {names(case, placed)}."
        )
    if open_:
        reasons = dict.fromkeys(c.why_not for d in open_ if (c := d.correction) and c.why_not)
        message += (
            f" For {counted(len(open_), 'photo')} both times are kept open: "
            f"{names(case, open_)}. {' '.join(reasons)}"
        )
    message += " The cameras' own times stay as they are."
    sources = tuple(dict.fromkeys(s for c in found.values() for s in c.sources))
    return Finding(
        "photo-clock-corrected",
        Standing.NOTE,
        who(case, state),
        message,
        _settle(first, open_),
        sources,
        METHOD,
    )


def _settle(first: ClockCorrection, open_: list[DatedPhoto]) -> str:
    if not open_:
        return "Keep the phone or camera as it is until the claim is settled, and set its clock."
    if first.basis is TimeBasis.GPS_ALONE:
        return TELL_WHEN
    return (
        "Photograph a clock with that camera on each day of the work, and name the photo in a "
        "camera_clock record."
    )


def does_not_hold(case: Case) -> Results:
    """Name the photos for which a clock in a picture cannot hold, and say why."""
    found = []
    for state in case.clocks:
        out = [(d, bound) for d in _dated(case, state) if (bound := _ruled_out(d, state))]
        if not out:
            continue
        kept = [d for d, _ in out]
        said = tuple(dict.fromkeys(bound.said for _, bound in out))[:TOLD]
        found.append(
            Finding(
                DOES_NOT_HOLD,
                Standing.NOTE,
                who(case, state),
                f"What corrects the clock of {who(case, state)} elsewhere does not hold for "
                f"{counted(len(kept), 'photo')}: {names(case, kept)}. Corrected, they would "
                f"contradict this: {' '.join(said)} By the camera's own time they do not, so it "
                "stays: the clock was set in between, or the clock in the picture was misread.",
                "Read the clock in the picture again. Ask whoever used the camera whether and when "
                "its clock was set.",
                _sources([bound for _, bound in out]),
                METHOD,
            )
        )
    return tuple(found)


def _ruled_out(dated: DatedPhoto, state: ClockState) -> ClockEvidence | None:
    """Give what rules out every level for a photo that is corrected by none."""
    first, last = dated.taken.earliest, dated.taken.latest
    if first is None or last is None or dated.correction is not None:
        return None
    at = first + (last - first) / 2
    off = [level for level in state.levels if not near_zero(level)]
    out = [ruled_out(level, dated.sha256, at, state) for level in off]
    return next((bound for bound in out if bound), None)


def sound(case: Case) -> Results:
    """Say of each camera whose clock the evidence supports that it does."""
    found = []
    for state in case.clocks:
        record = [one for one in state.levels if one.kind is Shows.RECORD]
        agrees = state.levels and all(near_zero(one) for one in state.levels)
        if not agrees or state.conflicts or state.reversals:
            continue
        said = []
        if record:
            photos = [e for one in record for e in one.evidence]
            said.append(f"with {counted(len(photos), 'clock')} shown in a picture")
        if state.gps_agrees:
            said.append("with GPS fixes that agree with each other")
        evidence = [e for one in state.levels for e in one.evidence]
        found.append(
            Finding(
                "photo-clock-sound",
                Standing.SUPPORTS,
                who(case, state),
                f"The clock of {who(case, state)} agrees {' and '.join(said)}, as far as these "
                "can tell.",
                "",
                _sources(evidence),
                METHOD,
            )
        )
    return tuple(found)


def set_between(case: Case) -> Results:
    """Name the cameras whose clock was set, or misread, between two pieces of evidence."""
    found = []
    for state in case.clocks:
        for before, after in pairwise(state.levels):
            (low, high), (first, last) = (one.bounds(one.evidence[0].at) for one in (before, after))
            step = (first + last) / 2 - (low + high) / 2
            a, b = before.evidence[-1], after.evidence[0]
            way = "back" if step.total_seconds() > 0 else "forward"
            found.append(
                Finding(
                    "photo-clock-set-between",
                    Standing.AGAINST,
                    who(case, state),
                    f"The clock of {who(case, state)} was put {way} by about {in_words(step)} "
                    f"between two pieces of evidence, or one of them was misread. {a.said} "
                    f"{b.said}",
                    "Ask whoever used it whether and when the clock was set. Read both pictures "
                    "again; a record that replaces the wrong one settles it.",
                    _sources([a, b]),
                    METHOD,
                )
            )
    return tuple(found)


def conflicts(case: Case) -> Results:
    """Name the cameras whose pieces of evidence contradict each other."""
    return tuple(
        Finding(
            "photo-clock-evidence-differs",
            Standing.AGAINST,
            who(case, state),
            f"Evidence about the clock of {who(case, state)} differs, so its times are not "
            f"corrected. {' '.join(state.conflicts)}",
            "Read the clock in the picture again, and check the day in the camera_clock record.",
            _sources([e for one in state.levels for e in one.evidence]),
            METHOD,
        )
        for state in case.clocks
        if state.conflicts
    )


def counters(case: Case) -> Results:
    """Name the photos whose file counters rise while the camera's time falls back."""
    found = []
    for state in case.clocks:
        if not state.reversals:
            continue
        hashes = [h for r in state.reversals for h in (r.earlier, r.later)]
        found.append(
            Finding(
                CLOCK_AND_COUNTER,
                Standing.AGAINST,
                who(case, state),
                f"The clock of {who(case, state)} was set back in between, or the files were "
                f"given other names: {' '.join(r.said for r in state.reversals)} Which side is "
                "right the counters do not tell.",
                TELL_WHEN,
                photo_sources(case.facts, hashes),
                METHOD,
            )
        )
    return tuple(found)


def events(case: Case) -> Results:
    """Name the cameras whose times do not fit what records say of their photos."""
    found = []
    for state in case.clocks:
        broken = [b for b in state.broken if b.kind is Shows.EVENT]
        if not broken:
            continue
        told = dict.fromkeys(_how(b) for b in broken)
        others = len(state.photos) - len({b.sha256 for b in broken})
        message = f"The times of {who(case, state)} do not fit the records. {listed(list(told))}"
        if state.levels and all(near_zero(one) for one in state.levels):
            message += " Other evidence supports that clock, so look at the records first."
        elif others:
            message += f" Its other {counted(others, 'photo')} may be off by as much."
        found.append(
            Finding(
                CLOCK_AND_EVENTS,
                Standing.AGAINST,
                who(case, state),
                message,
                f"Check the times in the records and the photos that they name. {TELL_WHEN}",
                _sources(broken),
                METHOD,
            )
        )
    return tuple(found)


def _how(bound: ClockEvidence) -> str:
    if bound.low is not None and bound.low.total_seconds() > 0:
        return f"{bound.said} The camera dates it at least {in_words(bound.low)} too early."
    if bound.high is None:
        return bound.said
    return f"{bound.said} The camera dates it at least {in_words(bound.high)} too late."


def would_fit(case: Case) -> Results:
    """Name the known kinds of error that would explain a camera's times, and claim none."""
    return tuple(
        Finding(
            "photo-clock-would-fit",
            Standing.NOTE,
            who(case, state),
            f"The times of {who(case, state)} would fit everything recorded with "
            f"{' or with '.join(state.fits)}. This is not claimed, and nothing is corrected.",
            TELL_WHEN,
            _sources(list(state.broken)) or photo_sources(case.facts, state.photos[:1]),
            METHOD,
        )
        for state in case.clocks
        if state.fits
    )


def stale(case: Case) -> Results:
    """Name the photos whose GPS fix is older than the camera's other fixes allow."""
    return tuple(
        Finding(
            "photo-gps-stale",
            Standing.NOTE,
            who(case, state),
            f"{counted(len(state.stale), 'photo')} of {who(case, state)} with a GPS fix that is "
            "out of line with the others and older than the picture: "
            f"{names(case, [d for d in _dated(case, state) if d.sha256 in state.stale])}. It is "
            "left out; the position in it may be of another place as well.",
            "",
            photo_sources(case.facts, state.stale),
            METHOD,
        )
        for state in case.clocks
        if state.stale
    )


def earlier(case: Case) -> Results:
    """Name the photos with a lone GPS fix earlier by whole or half hours: stale, or a zone."""
    return grouped(
        case,
        [d for d in case.photos if GPS_EARLIER in d.suspicions],
        Saying(
            GPS_EARLIER,
            Standing.NOTE,
            "with a GPS fix that is earlier than the camera's time by whole or half hours: it may "
            "be an old fix, or the camera stood on another zone; both times are kept open",
            TELL_WHEN,
        ),
    )


def _sources(evidence: list[ClockEvidence]) -> tuple[Source, ...]:
    return tuple(dict.fromkeys(_each(evidence)))


def _each(evidence: list[ClockEvidence]) -> Iterator[Source]:
    for one in evidence:
        yield from one.sources


CHECKS: tuple[tuple[str, str, Callable[[Case], Results]], ...] = (
    ("photo-clock-corrected", "A camera's times are corrected by evidence", corrected),
    (DOES_NOT_HOLD, "A clock in a picture does not hold for all photos", does_not_hold),
    ("photo-clock-sound", "Evidence supports a camera's clock", sound),
    ("photo-clock-set-between", "A camera's clock was set during the job", set_between),
    ("photo-clock-evidence-differs", "Evidence about a clock contradicts itself", conflicts),
    (CLOCK_AND_COUNTER, "File counters contradict a camera's times", counters),
    (CLOCK_AND_EVENTS, "Records contradict a camera's times", events),
    ("photo-clock-would-fit", "A known kind of error would explain a camera's times", would_fit),
    ("photo-gps-stale", "A GPS fix older than the picture", stale),
    (GPS_EARLIER, "A GPS fix earlier by whole or half hours", earlier),
)
