"""Results of an opening check against the tolerance that the maker's instructions state.

The user enters the tolerance with its paper; nothing published stands in for it. Three answers:
within or outside where the probability is at least 95 %, anything else cannot be told.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from claimkit.findings.seams.compare import Limits, probability_within
from claimkit.findings.seams.normal import K_ONE_SIDED, RISK, probability_below
from claimkit.findings.seams.words import down_mm, percent, plain_mm, with_u
from claimkit.model.job import Job, Opening
from claimkit.model.measurement import Measurement
from claimkit.model.opening import Checked, Tolerated
from claimkit.model.quantities import Length

KEYS = {
    Checked.PLUMB: "plumb_tolerance",
    Checked.LEVEL: "level_tolerance",
    Checked.SQUARE: "square_tolerance",
}


@dataclass(frozen=True, slots=True)
class Allowed:
    """A tolerance in mm for the stretch that was checked, and how it is printed."""

    mm: float
    text: str


@dataclass(frozen=True, slots=True)
class Judgement:
    """within / outside / cannot tell, with the probability of conformance (JCGM 106:2012)."""

    tolerance_mm: float | None
    tolerated: Tolerated
    p_within: float | None
    because: str
    settle: str = ""


def opening_named(job: Job | None, name: str) -> tuple[int, Opening] | None:
    """Give the opening of that name in job.toml with its number from 1, or None."""
    wanted = name.strip().casefold()
    for number, opening in enumerate(job.opening if job else (), start=1):
        if opening.name.strip().casefold() == wanted:
            return number, opening
    return None


def allowed(opening: Opening | None, what: Checked, span_mm: float | None) -> Allowed | str:
    """Give what is allowed over the checked stretch, or what to enter where nothing is."""
    limit, over = _entered(opening, what)
    if opening is None or limit is None:
        return (
            f"What the maker allows is not entered. Write {KEYS[what]} and tolerance_source under "
            "[[opening]] in job.toml, from the maker's instructions."
        )
    source = opening.tolerance_source or "source not entered"
    if over is None or span_mm is None:
        return Allowed(float(limit.mm), f"{limit.written} ({source})")
    mm = float(limit.mm) * span_mm / float(over.mm)
    return Allowed(
        mm, f"{limit.written} over {over.written}, {plain_mm(mm)} over the stretch ({source})"
    )


def _entered(opening: Opening | None, what: Checked) -> tuple[Length | None, Length | None]:
    """Give the tolerance and the stretch that it is entered for."""
    if opening is None:
        return None, None
    return {
        Checked.PLUMB: (opening.plumb_tolerance, opening.plumb_over),
        Checked.LEVEL: (opening.level_tolerance, opening.level_over),
        Checked.SQUARE: (opening.square_tolerance, None),
    }[what]


def judge(judged: Measurement, limit: Allowed | str, *, past: bool) -> Judgement:
    """Judge how far something is off, to either side, against what is allowed.

    `past` where that state can no longer be read again.
    """
    if isinstance(limit, str):
        return Judgement(None, Tolerated.CANNOT_TELL, None, limit, limit)
    value, u = judged.value_mm, judged.u_mm
    p = probability_within(judged, Limits(-limit.mm, limit.mm))
    above = 1.0 - probability_below(limit.mm, value, u)
    below = probability_below(-limit.mm, value, u)
    tolerated = Tolerated.CANNOT_TELL
    if p >= 1.0 - RISK:
        tolerated = Tolerated.WITHIN
    elif max(above, below) >= 1.0 - RISK:
        tolerated = Tolerated.OUTSIDE
    because = (
        f"{with_u(judged, sign=True)} against {limit.text}: probability of lying within it "
        f"{percent(p)}."
    )
    settle = ""
    if tolerated is Tolerated.CANNOT_TELL:
        settle = _settle(abs(value), limit.mm, past=past)
    return Judgement(limit.mm, tolerated, p, because, settle)


def _settle(value: float, limit: float, *, past: bool) -> str:
    need = abs(limit - value) / K_ONE_SIDED
    if past:
        return (
            "That state is past and cannot be read again: only another reading or a photo with a "
            "scale from before the fastening could settle it."
        )
    if math.floor(need * 100) < 1:
        return "It lies so near the limit that no reading decides: mend it as if it were outside."
    return (
        "Read it again before fastening: turn the level end for end, or use a plumb line, with a "
        f"rule to 0.5 mm, and repeat. A standard uncertainty of at most {down_mm(need)} is needed."
    )
