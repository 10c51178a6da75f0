"""What one photo shows of scale cards and marked gaps: read from its pixels, joined to nothing yet.

Which seam and which episode a reading belongs to is worked out from the job; this is only what
stands in the picture.
"""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.model.card import CardReading, LooseTag, Refusal
from claimkit.model.measurement import Measurement


@dataclass(frozen=True, slots=True)
class PhotoCards:
    """Every card and loose tag found in one photo; both empty where there are none.

    `failed` says why the picture could not be looked at; empty where it was.
    """

    sha256: str
    readings: tuple[CardReading, ...] = ()
    loose: tuple[LooseTag, ...] = ()
    failed: str = ""


@dataclass(frozen=True, slots=True)
class MarkedGap:
    """The gap of one marked_photo record, or why there is none. `record` is the record's id."""

    record: str
    gap: Measurement | Refusal
