"""Lines on gaps read in photos: each photo with its card, its gap or why there is none."""

from __future__ import annotations

from claimkit.compose.phrases import gap, site_zone, stretch
from claimkit.compose.terminal.text import wrapped
from claimkit.findings.seams.words import place
from claimkit.model.case import Case
from claimkit.model.gap import PhotoGap


def photo_gaps(case: Case) -> list[str]:
    """Print each measured photo in order of time, with whether it decides."""
    measured = [g for g in case.photo_gaps if g.gap is not None and not g.refused]
    lines: list[str] = []
    for one in measured:
        lines += wrapped(f"{_head(case, one)}: {_told(one)}", "    ", "  ")
    if any(not g.decides for g in measured):
        lines += wrapped("A reading that witnesses stands beside the others and decides nothing.")
    return lines


def _head(case: Case, one: PhotoGap) -> str:
    photo = case.facts.photo_of(one.sha256)
    where = place(one.seam, one.station) if one.seam else "no station"
    path = photo.places[0] if photo else one.sha256[:12]
    return f"{path}, card {one.card}, {where}, {stretch(one.taken, site_zone(case))}"


def _told(one: PhotoGap) -> str:
    if one.gap is None:
        return one.refused
    stage = one.stage.value if one.stage else "no stage claimed"
    care = "".join(f" With care: {care.found}" for care in one.reading.cautions)
    return f"{gap(one.gap)}, {stage}, {'decides' if one.decides else 'witnesses'}.{care}"
