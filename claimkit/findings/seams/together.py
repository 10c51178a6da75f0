"""The stations of one seam judged together, so that ten stations do not make one opened by chance.

Several statements share the risk of 5 %: each is made with the larger factor that their number
asks for (Bonferroni, which holds however the stations' errors are correlated).
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum

from claimkit.findings.seams.compare import change
from claimkit.findings.seams.normal import factor_together
from claimkit.findings.seams.words import between, listed
from claimkit.model.gap import Change, Comparison
from claimkit.model.seam_line import StationsTogether, WholeSeam


def judged_together(
    group: Iterable[Comparison], planned: Iterable[str] = ()
) -> StationsTogether | None:
    """Judge the changes of these stations at once; None where fewer than two can be judged.

    `planned` are all stations of the seam, so that those not compared can be named.
    """
    answers: list[tuple[str, Change]] = []
    stations = list(group)
    moved = [c for c in stations if c.change.difference and c.change.tolerance_mm is not None]
    if len(moved) < 2:
        return None
    k = factor_together(len(moved))
    for c in moved:
        if c.change.difference is not None and c.change.tolerance_mm is not None:
            judged = change(c.change.difference, c.change.tolerance_mm, k)
            answers.append((c.station, judged.change))
    stretches = "; ".join(dict.fromkeys(between(c.before, c.after) for c in moved))
    whole = _whole({answer for _, answer in answers})
    told = (
        f"{len(moved)} stations judged together (k = {k:.2f}) between {stretches}: "
        f"{grouped(answers)}. The seam as a whole: {whole.value}."
    )
    names = dict.fromkeys([*planned, *(c.station for c in stations)])
    left = tuple(name for name in names if name not in dict(answers))
    if left:
        told += f" Not compared: {listed(left)}."
    return StationsTogether(k, tuple(answers), whole, told, left)


def grouped(answers: Iterable[tuple[str, StrEnum]]) -> str:
    """Name the stations under each answer: opened at a and b; unchanged at c."""
    by_answer: dict[str, list[str]] = {}
    for station, answer in answers:
        by_answer.setdefault(answer.value, []).append(station)
    return "; ".join(f"{answer} at {listed(names)}" for answer, names in by_answer.items())


def _whole(kinds: set[Change]) -> WholeSeam:
    """Any station that moved decides; unchanged needs every one of them."""
    if {Change.OPENED, Change.CLOSED} <= kinds:
        return WholeSeam.BOTH
    if Change.OPENED in kinds:
        return WholeSeam.OPENED
    if Change.CLOSED in kinds:
        return WholeSeam.CLOSED
    return WholeSeam.UNCHANGED if kinds == {Change.UNCHANGED} else WholeSeam.CANNOT_TELL
