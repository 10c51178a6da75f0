"""Whether a gap, or its change, tapers along a seam, in words that carry no more than the numbers.

A taper matters where, over the length that was read, it comes to more than the change that
matters at one station. A taper that was there at the dry fit was there; only its change shows
that something moved, and what moved it is said as consistent with, never as a cause.
"""

from __future__ import annotations

from collections.abc import Iterable

from claimkit.findings.seams.line import MM_PER_M, degrees, factors, not_straight, taper_below
from claimkit.findings.seams.words import listed, percent, plain_mm, plus_minus
from claimkit.model.job import Joint
from claimkit.model.seam_line import LineFit, Taper, TaperAnswer

PICOMETRES = 9
"""Decimals of a mm/m that count: a limit met exactly is met, whatever a float rounds to."""

STRAIGHT = "Taken as rigid panels with straight edges: "
CONSISTENT = {
    Joint.BUTT: (
        "a changed taper is consistent with one panel turned against the other in their common "
        "plane, by {angle}. A base with one uniform slope turns both alike and gives no taper. "
        "Which panel turned, and why, the readings do not tell."
    ),
    Joint.LAP: (
        "a changed taper is consistent with one piece turned against the other in the plane of "
        "the lap, by {angle}. Which of them turned, and why, the readings do not tell."
    ),
    Joint.CORNER: (
        "a changed taper in an inside corner is consistent with a change in the lean of the panel "
        "whose face is met, or in the slope on which the panel stands whose edge meets it, or in "
        "both, by {angle} taken together. The readings cannot part the two: plumb and level of "
        "the opening can."
    ),
}
THERE_ALREADY = {
    Joint.BUTT: (
        "a taper of the fit is consistent with panels turned against each other in their plane, "
        "or with an edge that is not square. A base with one uniform slope gives none."
    ),
    Joint.LAP: (
        "a taper of the fit is consistent with pieces turned against each other in the plane of "
        "the lap, or with an edge that is not square."
    ),
    Joint.CORNER: (
        "a taper of the fit in an inside corner is consistent with the lean of the panel whose "
        "face is met, less the slope under the panel whose edge meets it and that panel's own "
        "squareness. The readings cannot part these: plumb, level and diagonals can."
    ),
}
"""dg/dy of a seam between rigid panels, small angles; claimkit method: gaps along a seam."""


def judged(line: LineFit | str, tolerance_mm: float | str) -> TaperAnswer:
    """Judge a line's taper against the tolerance over its length; three answers.

    Toward one end where b - k u > T/L or b + k u < -T/L, even where |b| + k u <= T/L, with L the
    distance between the outermost stations. `line` or `tolerance_mm` as words say why not.
    """
    if isinstance(line, str):
        why = f"{line[:1].upper()}{line[1:]}."
        return TaperAnswer(None, Taper.CANNOT_TELL, None, None, None, None, f"No line: {why}")
    if isinstance(tolerance_mm, str):
        return TaperAnswer(line, Taper.CANNOT_TELL, None, None, None, None, tolerance_mm)
    limit = tolerance_mm / line.length_mm * MM_PER_M
    k, _ = factors(line)
    reach = k * line.u_slope
    b = line.slope.value_mm
    if round(b - reach - limit, PICOMETRES) > 0:
        taper = Taper.TOWARD_LAST
    elif round(b + reach + limit, PICOMETRES) < 0:
        taper = Taper.TOWARD_FIRST
    elif round(abs(b) + reach - limit, PICOMETRES) <= 0:
        taper = Taper.EVEN
    else:
        taper = Taper.CANNOT_TELL
    p_up_to, p_first = taper_below(line, limit), taper_below(line, -limit)
    even = max(p_up_to - p_first, 0.0)
    return TaperAnswer(line, taper, 1.0 - p_up_to, p_first, even, limit, caveats(line))


def u_to_decide(answer: TaperAnswer) -> float | None:
    """Give the largest standard uncertainty in mm/m that would decide this taper, by its own k.

    None where it is decided or not judged.
    """
    if answer.line is None or answer.limit_mm_per_m is None:
        return None
    if answer.taper is not Taper.CANNOT_TELL:
        return None
    beyond = abs(abs(answer.line.slope.value_mm) - answer.limit_mm_per_m)
    return beyond / factors(answer.line)[0]


def notes(named_answers: Iterable[tuple[str, TaperAnswer]]) -> tuple[str, ...]:
    """Give what the lines of a seam leave unchecked; what is not alike for all, with its line."""
    with_line = [(name, a.because) for name, a in named_answers if a.line is not None]
    distinct = {text for _, text in with_line}
    if len(distinct) == 1:
        return tuple(text for text in distinct if text)
    return tuple(f"{name[:1].upper()}{name[1:]}: {text}" for name, text in with_line if text)


def caveats(line: LineFit) -> str:
    """Say what the line leaves unchecked, or why it is widened; empty where neither is so."""
    if line.places < 3:
        many = "two-point" if len(line.stations) == 2 else "two places only"
        return f"{many[:1].upper()}{many[1:]}, straightness unchecked."
    if line.widened_by <= 1.0:
        return ""
    freedom = line.degrees_of_freedom
    plural = "s" if freedom > 1 else ""
    told = (
        f"The stations scatter about the line by {line.widened_by:.1f} times what their "
        f"uncertainty gives (chi squared {line.chi_squared:.1f}, {freedom} degree{plural} of "
        "freedom): it is widened by that, with Student's t."
    )
    return f"{told} They do not lie on one straight line." if not_straight(line) else told


def offset_text(line: LineFit, *, sign: bool = False) -> str:
    """Print the gap or its change at the middle of the line ± U."""
    return plus_minus(line.offset.value_mm, factors(line)[1] * line.u_offset, "mm", sign=sign)


def slope_text(line: LineFit) -> str:
    """Print the taper ± U in mm/m; positive where it is wider toward the last station."""
    return plus_minus(line.slope.value_mm, factors(line)[1] * line.u_slope, "mm/m", sign=True)


def angle_text(line: LineFit, *, sign: bool = True) -> str:
    """Print the taper ± U as an angle in degrees."""
    value = degrees(line.slope.value_mm)
    expanded = degrees(factors(line)[1] * line.u_slope)
    return plus_minus(value if sign else abs(value), expanded, "°", sign=sign).replace(" °", "°")


def coverage_text(line: LineFit) -> str:
    """Name the factor of the intervals: k = 2, or Student's where the residuals make them."""
    k = factors(line)[1]
    return f"k = {k:.0f}" if line.widened_by <= 1.0 else f"Student's t = {k:.2f}, 95.45 %"


def short_text(line: LineFit, *, sign: bool = False) -> str:
    """Print a line as its gap at the middle and its taper in mm/m and degrees."""
    return (
        f"{offset_text(line, sign=sign)} at the middle, taper {slope_text(line)} "
        f"({angle_text(line)})"
    )


def rests_on(line: LineFit) -> str:
    """Name the stations of a line, how far apart they stand, and the factor of its intervals."""
    return (
        f"stations {listed(line.stations)}, {plain_mm(line.length_mm)} apart; "
        f"U with {coverage_text(line)}"
    )


def numbers_text(line: LineFit, *, sign: bool = False) -> str:
    """Print a line in one sentence part: at its middle, its taper, from which stations."""
    return f"{short_text(line, sign=sign)}, from {rests_on(line)}"


def state_text(answer: TaperAnswer) -> str:
    """Say in words how a gap itself tapers in one episode."""
    toward, limit = _toward(answer), _limit(answer)
    if answer.line is None or answer.limit_mm_per_m is None:
        return answer.because
    if answer.taper is Taper.EVEN:
        told = (
            f"a little wider toward {toward}, within {limit}" if toward else f"even within {limit}"
        )
    elif answer.taper is Taper.CANNOT_TELL:
        told = f"wider toward {toward}; whether" if toward else "whether it tapers"
        told += f" by more than {limit} cannot be told"
    else:
        told = f"wider toward {toward} by more than {limit}"
    return f"{told} ({_odds(answer)})"


def change_text(answer: TaperAnswer) -> str:
    """Say in words whether the taper changed between two episodes."""
    toward, limit = _toward(answer), _limit(answer)
    if answer.line is None or answer.limit_mm_per_m is None:
        return answer.because
    if answer.taper is Taper.EVEN and not toward:
        told = f"taper unchanged within {limit}"
    elif answer.taper is Taper.EVEN:
        told = f"taper changed by less than {limit}, wider toward {toward}"
    elif answer.taper is Taper.CANNOT_TELL:
        told = (
            f"taper changed, wider toward {toward}; whether"
            if toward
            else "whether the taper changed"
        )
        told += f" by more than {limit} cannot be told"
    else:
        told = f"taper changed, wider toward {toward} by more than {limit}"
    return f"{told} ({_odds(answer)})"


def _toward(answer: TaperAnswer) -> str:
    """Name the station that the seam widens toward, where that much is shown at 95 %."""
    line = answer.line
    if line is None:
        return ""
    reach = factors(line)[0] * line.u_slope
    if line.slope.value_mm > reach:
        return line.stations[-1]
    return line.stations[0] if line.slope.value_mm < -reach else ""


def meaning_of(joint: Joint, answer: TaperAnswer, *, change: bool) -> str:
    """Say what a taper, or its change, is consistent with by the joint's geometry, else nothing."""
    words = (CONSISTENT if change else THERE_ALREADY).get(joint)
    if answer.line is None or words is None:
        return ""
    if answer.taper not in (Taper.TOWARD_LAST, Taper.TOWARD_FIRST):
        return ""
    return STRAIGHT + words.format(angle=angle_text(answer.line, sign=False))


def _limit(answer: TaperAnswer) -> str:
    return f"{answer.limit_mm_per_m or 0.0:.2f} mm/m"


def _odds(answer: TaperAnswer) -> str:
    line = answer.line
    if line is None or answer.p_even is None:
        return ""
    rows = (
        (f"over that toward {line.stations[0]}", answer.p_toward_first),
        (f"toward {line.stations[-1]}", answer.p_toward_last),
        ("within", answer.p_even),
    )
    return ", ".join(f"{name} {percent(p)}" for name, p in rows if p is not None)
