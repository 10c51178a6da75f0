"""Inside corners: what a gap is read with where two panels meet at an angle.

A scale card, and a rectangle marked in a photo, measure in one plane that both panels lie in; in
a corner there is none. There a rule, a feeler or a taper gauge reads the gap, and the photo is
its witness.
"""

from __future__ import annotations

from collections.abc import Callable

from claimkit.findings.seams.gaps import readings_records, seams_of
from claimkit.findings.seams.words import PRACTICE, STAGE_WORDS, listed, place
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.job import Joint
from claimkit.model.measuring import Instrument, MarkedPhoto
from claimkit.model.source import Source

Results = tuple[Finding | NotChecked, ...]

ALONG = "claimkit method: gaps along a seam (JCGM 100:2008)"
FOR_CORNERS = (
    Instrument.RULE_64TH,
    Instrument.RULE_HALF_MM,
    Instrument.RULE_MM,
    Instrument.TAPER_GAUGE,
    Instrument.FEELER,
    Instrument.OTHER,
)
"""What reaches between a face and an edge that meets it (common practice, no source)."""

READ_BY_HAND = (
    "Read it with a rule, a feeler or a taper gauge and photograph the instrument in the gap: the "
    "photo is the witness, not the measure."
)


def card_at_corner(case: Case) -> Results:
    """Name scale cards that job.toml puts at the stations of an inside corner."""
    found: list[Finding | NotChecked] = []
    for number, seam in enumerate(seams_of(case), start=1):
        cards = [(s.id, s.card) for s in seam.station if s.card is not None]
        if seam.joint is not Joint.CORNER or not cards:
            continue
        named = listed(f"card {card} at station {station}" for station, card in cards)
        found.append(
            Finding(
                "seam-card-at-corner",
                Standing.NOTE,
                place(seam.id),
                f"The seam is a corner, and job.toml names {named}. A card measures where it lies "
                "flat on both panels, which in a corner it cannot: no gap is read from it.",
                f"Take the card out of job.toml. {READ_BY_HAND}",
                (
                    Source(
                        path="job.toml",
                        sha256=case.facts.job_sha256,
                        key_path=f"seam[{number}].station",
                    ),
                ),
                ALONG,
            )
        )
    return tuple(found)


def marked_at_corner(case: Case) -> Results:
    """Name gaps of a corner that were marked by hand in a photo."""
    found: list[Finding | NotChecked] = []
    for record in case.facts.in_force(MarkedPhoto):
        body = record.body
        if isinstance(body, MarkedPhoto) and _is_corner(case, body.seam):
            found.append(
                Finding(
                    "seam-marked-at-corner",
                    Standing.AGAINST,
                    place(body.seam, body.station, body.piece),
                    f"{record.path} marks the gap of a corner in {body.photo}. A known rectangle "
                    "measures in its own plane, and the two panels of a corner do not share one: "
                    "it is not used.",
                    READ_BY_HAND,
                    (Source(path=record.path, sha256=record.sha256, key_path="seam"),),
                    ALONG,
                )
            )
    return tuple(found)


def corner_instrument(case: Case) -> Results:
    """Name readings of a corner made with what does not reach between its panels."""
    found: list[Finding | NotChecked] = []
    for record, body in readings_records(case):
        if body.instrument in FOR_CORNERS or not _is_corner(case, body.seam):
            continue
        if body.instrument is Instrument.LEVEL:
            continue  # told already as no measurement of a gap
        found.append(
            Finding(
                "seam-corner-instrument",
                Standing.NOTE,
                f"{record.path}, {place(body.seam, None, body.piece)}",
                f"The gap of a corner was read at {STAGE_WORDS[body.stage]} with a "
                f"{body.instrument.value}. Its ends do not reach square between the face of one "
                "panel and the edge of the other.",
                READ_BY_HAND,
                (Source(path=record.path, sha256=record.sha256, key_path="instrument"),),
                PRACTICE,
            )
        )
    return tuple(found)


def _is_corner(case: Case, seam_id: str) -> bool:
    return any(s.id == seam_id and s.joint is Joint.CORNER for s in seams_of(case))


CHECKS: tuple[tuple[str, str, Callable[[Case], Results]], ...] = (
    ("seam-card-at-corner", "A scale card is named at a corner", card_at_corner),
    ("seam-marked-at-corner", "A gap of a corner is marked in a photo", marked_at_corner),
    ("seam-corner-instrument", "A corner read with what does not reach it", corner_instrument),
)
