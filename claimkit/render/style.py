"""How a packet looks: paper, margins, sizes of type and the few inks.

Black on white with one dark blue that stays dark when printed grey. All lengths are in points
(1/72 inch).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

Paper = Literal["letter", "a4"]
Ink = tuple[float, float, float]

# ANSI/ASME Y14.1 A (8.5 x 11 in) and ISO 216 A4 (210 x 297 mm), in points.
PAPER: dict[Paper, tuple[float, float]] = {"letter": (612.0, 792.0), "a4": (595.276, 841.89)}

MARGIN_SIDE = 54.0
MARGIN_TOP = 62.0
MARGIN_FOOT = 64.0

BLACK: Ink = (0.07, 0.07, 0.07)
GREY: Ink = (0.36, 0.36, 0.36)
HAIR: Ink = (0.74, 0.74, 0.74)
FAINT: Ink = (0.88, 0.88, 0.88)
BLUE: Ink = (0.10, 0.24, 0.42)
WASH: Ink = (0.89, 0.91, 0.94)
WHITE: Ink = (1.0, 1.0, 1.0)


@dataclass(frozen=True, slots=True)
class Look:
    """How a stretch of text is set. `link` names the place in the document it leads to."""

    size: float
    leading: float
    strong: bool = False
    ink: Ink = BLACK
    link: str | None = None

    def to(self, link: str | None) -> Look:
        """Give the same look leading to a place."""
        return replace(self, link=link)


TITLE = Look(21, 25, strong=True)
SUBTITLE = Look(10.5, 14, ink=GREY)
HEADING = Look(15, 19, strong=True)
MINOR = Look(10, 13, strong=True)
BODY = Look(9.6, 13.2)
ANSWER = Look(12.2, 16)
ANSWER_LABEL = Look(9, 16, strong=True, ink=GREY)
CELL = Look(8.6, 11.2)
CELL_SMALL = Look(7.4, 9.6)
CAPTION = Look(8.2, 10.6)
NOTE = Look(7.6, 10, ink=GREY)
CHART = Look(7.4, 9.2)
WORD = Look(7.4, 9.6, strong=True)
RUNNING = Look(7.8, 10, ink=GREY)


def strong(look: Look) -> Look:
    """Give the same look in semibold."""
    return replace(look, strong=True)


def tag_of(look: Look) -> Look:
    """Give the look of source tags that stand in text of that look."""
    return replace(look, size=min(7.2, look.size * 0.84), strong=False, ink=BLUE, link=None)
