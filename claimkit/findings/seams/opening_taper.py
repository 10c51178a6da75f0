"""How much of a seam's taper an opening check could account for, and how that is said.

The check says what pieces would show that follow the opening; the readings say what the seam
shows. Where both agree the taper is consistent with the opening, which is no proof of a cause.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from claimkit.findings.seams.line import factors
from claimkit.findings.seams.normal import K_ONE_SIDED, K_TWO_SIDED
from claimkit.findings.seams.opening_turn import Turn, rate
from claimkit.findings.seams.words import between, named
from claimkit.model.answers import Answer
from claimkit.model.case import Case
from claimkit.model.gap import GapReading, Meaning
from claimkit.model.job import Seam
from claimkit.model.measurement import Measurement
from claimkit.model.opening import Explains
from claimkit.model.seam_line import LineFit
from claimkit.model.source import Source


@dataclass(frozen=True, slots=True)
class Seen:
    """The taper of one seam's pieces as read: its change, or as it stands without a dry fit.

    `taper` is None where no line could be drawn, and `why` says why.
    """

    piece: str | None
    taper: Measurement | None
    is_change: bool
    between: str
    before: GapReading | None
    why: str
    sources: tuple[Source, ...]


def seen(case: Case, seam: Seam) -> Iterator[Seen]:
    """Give the taper of each set of pieces between its dry fit and the latest reading."""
    for line in case.lines:
        if line.step or line.seam != seam.id or line.after is None:
            continue
        if line.before is None:
            judged, is_change, when = line.now, False, named(line.after)
        else:
            judged, is_change, when = line.change, True, between(line.before, line.after)
        if line.after.meaning is Meaning.OPENING:
            when += ", read in photos"
        taper = _widened(judged.line, seam) if judged.line else None
        yield Seen(line.piece, taper, is_change, when, line.before, judged.because, line.sources)


def explain(shown: Seen, turn: Turn, known: tuple[Answer, str]) -> tuple[Explains, str, str]:
    """Hold the taper that the opening would give against the one read: answer, why, what settles.

    `known` is whether the checks show the state before these pieces were fastened, and in words.
    """
    taper = shown.taper
    if taper is None:
        return (
            Explains.CANNOT_TELL,
            f"No taper to explain: {shown.why}",
            ("Read the seam at two heights or more, with their distances from the base."),
        )
    what = "The taper changed by" if shown.is_change else "The taper stands at"
    when = f"between {shown.between}" if shown.is_change else f"at {shown.between}"
    read = f"{what} {rate(taper)} {when} (plus is wider upwards)."
    if abs(taper.value_mm) <= K_TWO_SIDED * taper.u_mm:
        return Explains.NOTHING, f"{read} That is no more than its uncertainty.", ""
    if known[0] is not Answer.YES:
        told = f"{read} The opening was checked {known[1]}."
        return Explains.CANNOT_TELL, told, "Only a survey from before the fastening could tell."
    if shown.before is not None and "not set level" in shown.before.state:
        told = f"{read} At {named(shown.before)} the pieces were not set level: they may already "
        told += "have followed the opening then."
        return Explains.CANNOT_TELL, told, ""
    if turn.taper is None:
        return Explains.CANNOT_TELL, f"{read} {turn.because}", turn.settle
    return _held(f"{read} {turn.because}", taper, turn.taper)


def _held(told: str, taper: Measurement, given: Measurement) -> tuple[Explains, str, str]:
    """Compare what was read with what the opening would give, along the direction read."""
    way = math.copysign(1.0, taper.value_mm)
    ours, theirs = given.scaled(way), taper.scaled(way)
    left = theirs.minus(ours)
    most = max(ours.value_mm + K_ONE_SIDED * ours.u_mm, 0.0)
    shown = ours.value_mm - K_ONE_SIDED * ours.u_mm > 0.0
    of = f"{most:.1f} of {theirs.value_mm:.1f} mm/m"
    if left.value_mm - K_ONE_SIDED * left.u_mm > 0.0:
        if shown:
            told += f" The opening explains at most {of}; the rest has another origin."
            return Explains.PART, told, ""
        return Explains.NOT, f"{told} The opening does not explain it (at most {of}).", ""
    if left.value_mm + K_ONE_SIDED * left.u_mm < 0.0:
        told += " The opening would give more than was read, and the pieces did not follow it."
        return Explains.CANNOT_TELL, told, "Record what was packed or shimmed, and where."
    if shown:
        told += (
            " The taper is consistent with the opening as it was read before fastening. Other "
            "things turn a panel too: this names no cause."
        )
        return Explains.CONSISTENT, told, ""
    told += (
        " The readings agree with an opening that explains all of it and with one that does not."
    )
    need = abs(theirs.value_mm) / (2.0 * K_ONE_SIDED)
    return (
        Explains.CANNOT_TELL,
        told,
        "A survey of the opening that is finer would settle it: a standard uncertainty of at most "
        f"{math.floor(need * 10) / 10:.1f} mm/m is needed.",
    )


def _widened(line: LineFit, seam: Seam) -> Measurement:
    """Give the line's taper with its own scatter as one more part.

    Where that scatter decides its uncertainty, Student's factor stands in it, over the usual one.
    """
    decides, _ = factors(line)
    factor = line.widened_by * decides / K_ONE_SIDED
    if factor <= 1.0:
        return line.slope
    more = line.slope.u_mm * math.sqrt(factor**2 - 1.0)
    return line.slope.plus(Measurement.of(0.0, {f"off the line: {seam.id}": more}))
