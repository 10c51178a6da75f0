"""How an opening's results are put into words: how many millimetres are off, and where.

A wall is told from its lowest place, a base from its first. Directions are words, never only a
sign.
"""

from __future__ import annotations

from claimkit.findings.seams.normal import K_ONE_SIDED
from claimkit.findings.seams.opening_turn import rate
from claimkit.findings.seams.words import plain_mm, with_u
from claimkit.model.answers import Answer
from claimkit.model.measurement import Measurement
from claimkit.model.opening import Checked, OpeningResult, OpeningState

METHOD = "claimkit method: checking an opening"

DIRECTIONS = {
    Checked.PLUMB: ("into the opening", "back from the opening"),
    Checked.LEVEL: ("higher", "lower"),
}


def noun(state: OpeningState, result: OpeningResult) -> str:
    """Name what a result is about: 'left wall, plumb', or the piece whose diagonals these are."""
    if result.of_piece:
        return f"{result.of_piece}, {result.what.value}"
    return f"{state.opening}, {result.what.value}"


def certainly(measurement: Measurement) -> bool:
    """Tell whether something is off at all, to the side that its value says, at 95 %."""
    return abs(measurement.value_mm) - K_ONE_SIDED * measurement.u_mm > 0.0


def where_off(result: OpeningResult) -> list[str]:
    """Say how many mm are off at which places; empty where nothing certainly is."""
    if result.what is Checked.SQUARE:
        return [_square(result)] if certainly(result.judged) else []
    first = result.places[0]
    return [
        f"{plain(place.off)} {direction(result.what, place.off)} at {place.written_at}, against "
        f"{first.written_at}"
        for place in result.places[1:]
        if certainly(place.off)
    ]


def worst(result: OpeningResult) -> str:
    """Say how much is off where it is off the most; empty where nothing certainly is."""
    if result.what is Checked.SQUARE:
        return f"{plain(result.judged)} between the diagonals" if certainly(result.judged) else ""
    off = [place for place in result.places[1:] if certainly(place.off)]
    if not off:
        return ""
    place = max(off, key=lambda place: abs(place.off.value_mm))
    return f"{plain(place.off)} {direction(result.what, place.off)} at {place.written_at}"


def direction(what: Checked, off: Measurement) -> str:
    """Say to which side a wall or a base is off."""
    plus, minus = DIRECTIONS[what]
    return plus if off.value_mm > 0 else minus


def plain(off: Measurement) -> str:
    """Print how far something is off, without its sign."""
    return with_u(Measurement(abs(off.value_mm), off.parts))


def angle(result: OpeningResult) -> str:
    """Print a result in mm/m and degrees; a dash where the span is not known."""
    slope, degrees = result.mm_per_m, result.degrees
    if slope is None or degrees is None:
        return "–"
    return f"{rate(slope)}, {degrees:+.2f}°"


def result_text(result: OpeningResult) -> str:
    """Print a result as one phrase: how much over which stretch, and as a slope."""
    if result.over is None or result.span_mm is None:
        return f"diagonals differ by {with_u(result.judged, sign=True)} (first less second)"
    over = f"{with_u(result.over, sign=True)} over {plain_mm(round(result.span_mm))}"
    meaning = {
        Checked.PLUMB: "plus into the opening",
        Checked.LEVEL: "plus rises away from the first place",
        Checked.SQUARE: "plus leans away from the foot of the first diagonal",
    }[result.what]
    text = f"{over} ({angle(result)}; {meaning})"
    if result.what is Checked.SQUARE:
        return f"diagonals differ by {with_u(result.judged, sign=True)}: {text}"
    return text


def bow_text(result: OpeningResult) -> str:
    """Say how far the middle stands off a straightedge; empty where it was not read."""
    bow = result.bow
    if bow is None:
        return ""
    side = direction(result.what, bow.off)
    if bow.straight is Answer.NO:
        return f"not straight: {plain(bow.off)} {side} at {plain_mm(bow.at_mm)}"
    return f"straight as far as read ({plain(bow.off)} at {plain_mm(bow.at_mm)})"


def _square(result: OpeningResult) -> str:
    longer = "first" if result.judged.value_mm > 0 else "second"
    text = f"the {longer} diagonal is {plain(result.judged)} longer"
    if result.over is None or result.span_mm is None:
        return text
    side = "away from" if result.over.value_mm > 0 else "toward"
    return (
        f"{text}: the sides lean {plain(result.over)} {side} the foot of the first over "
        f"{plain_mm(round(result.span_mm))}"
    )
