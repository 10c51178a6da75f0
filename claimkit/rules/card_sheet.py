"""Where check lines and loose tags stand on paper, and which stations are worth a card.

The card itself and its places on the sheet are in the card's layout; this is what stands around
it. Lengths are millimetres from the paper's top left corner, x to the right and y down.
"""

from __future__ import annotations

from claimkit.model.job import Joint
from claimkit.rules.card_layout import (
    CHECK_LINES,
    LOOSE_TAGS,
    PAPERS,
    TAG_CELLS,
    Box,
)

CITATION = "docs/rules.md, scale card: claimkit's own layout, with AprilTag 36h11 tags"
PRACTICE = "common practice, no source"

MOST_A_SEAM = 3
"""Cards worth their work at one seam: both ends show a taper, the middle shows a bow."""

NO_CARD: dict[Joint, str] = {
    Joint.CORNER: (
        "a card cannot lie flat in a corner; read it with a rule, feeler or taper gauge, with a "
        "photo as witness"
    ),
    Joint.LAP: (
        "one piece lies over the other, so that a card cannot lie flat on both; read it with a "
        "rule or feeler gauge"
    ),
    Joint.INTERLOCKING: "an interlocking joint has no design gap to be read",
}
"""Joints at which no card is worth its work, and why."""

CHECK_AT: dict[str, tuple[float, float]] = {"letter": (9.0, 266.2), "a4": (8.2, 277.0)}
"""The x of the line along the sheet and the y of the line across it; each is centred."""

CHECK_TICK = 1.6
"""Half the length of the ticks at a check line's ends. A tape is read from tick to tick."""

LOOSE_CELL = 6.0
LOOSE_TAG = LOOSE_CELL * TAG_CELLS
"""Loose tags are twice as large as a card's, so that the overall picture shows them as well:
24 mm are found by a phone up to about 1.5 m away, 48 mm up to about 3 m."""
LABEL_WIDE, LABEL_HIGH = 60.0, 78.0
LABEL_TOP = 45.0


def paper_size(paper: str) -> tuple[float, float]:
    """Give a paper's width and height. Raises KeyError for an unknown one."""
    return {name: (wide, high) for name, wide, high in PAPERS}[paper]


def check_line_ends(paper: str) -> tuple[tuple[float, float, float, float], ...]:
    """Give where the check lines begin and end, as x, y, x, y: along the sheet, then across."""
    wide, high = paper_size(paper)
    along, across = (line.length for line in dict(CHECK_LINES)[paper])
    x, y = CHECK_AT[paper]
    return (
        (x, (high - along) / 2.0, x, (high + along) / 2.0),
        ((wide - across) / 2.0, y, (wide + across) / 2.0, y),
    )


def loose_places(paper: str) -> tuple[tuple[int, str, Box, Box], ...]:
    """Give for each loose tag its id, its words, the label to cut out and the tag on it."""
    wide, _ = paper_size(paper)
    left = (wide - len(LOOSE_TAGS) * LABEL_WIDE) / 2.0
    found = []
    for number, (tag, words) in enumerate(LOOSE_TAGS):
        label = Box(left + number * LABEL_WIDE, LABEL_TOP, LABEL_WIDE, LABEL_HIGH)
        inset = (LABEL_WIDE - LOOSE_TAG) / 2.0
        found.append(
            (tag, words, label, Box(label.x + inset, label.y + inset, LOOSE_TAG, LOOSE_TAG))
        )
    return tuple(found)
