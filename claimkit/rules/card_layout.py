"""The printed scale card and its sheet: every length once, for printing it and for reading it.

The card lies across a seam, flat on both panels; the seam shows in its two notches, with tags on
both sides of each. Lengths are millimetres from the card's top left corner, x to the right and y
down. The card is claimkit's own layout; its tags are AprilTag 36h11, an open standard.
"""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.rules.tag_codes import CELLS, WORDS

CITATION = "docs/methods.md, gaps read in photos: claimkit's own layout, with AprilTag 36h11 tags"

CARD_WIDE, CARD_HIGH = 92.0, 80.0
CELL = 3.0
TAG_CELLS = CELLS + 2
"""Cells along one side of a tag, its black border included."""
TAG = CELL * TAG_CELLS
INSET = 3.0
"""Tags stand this far in from the card's edges, as white around the black."""
NOTCH_WIDE, NOTCH_DEEP = 26.0, 28.0
SEAM_X = CARD_WIDE / 2.0
TICK = 3.0
"""Length of the two ticks that are set on the seam, from the notches towards the middle."""

CARDS = 146
TAGS_A_CARD = 4


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle in mm: left, top, width and height."""

    x: float
    y: float
    wide: float
    high: float

    @property
    def corners(self) -> tuple[tuple[float, float], ...]:
        """Top left, top right, bottom right, bottom left."""
        right, bottom = self.x + self.wide, self.y + self.high
        return ((self.x, self.y), (right, self.y), (right, bottom), (self.x, bottom))

    @property
    def centre(self) -> tuple[float, float]:
        """The middle of the rectangle."""
        return self.x + self.wide / 2.0, self.y + self.high / 2.0


CARD = Box(0.0, 0.0, CARD_WIDE, CARD_HIGH)

_RIGHT, _LOW = CARD_WIDE - INSET - TAG, CARD_HIGH - INSET - TAG

TAG_PLACES: tuple[tuple[str, Box], ...] = (
    ("top left", Box(INSET, INSET, TAG, TAG)),
    ("top right", Box(_RIGHT, INSET, TAG, TAG)),
    ("bottom left", Box(INSET, _LOW, TAG, TAG)),
    ("bottom right", Box(_RIGHT, _LOW, TAG, TAG)),
)
"""Where the tags 4c, 4c + 1, 4c + 2 and 4c + 3 of card c stand."""

_NOTCH_X = (CARD_WIDE - NOTCH_WIDE) / 2.0

NOTCHES: tuple[Box, Box] = (
    Box(_NOTCH_X, 0.0, NOTCH_WIDE, NOTCH_DEEP),
    Box(_NOTCH_X, CARD_HIGH - NOTCH_DEEP, NOTCH_WIDE, NOTCH_DEEP),
)
"""The windows cut out at the top and at the bottom centre."""

BAR = Box(_NOTCH_X, NOTCH_DEEP, NOTCH_WIDE, CARD_HIGH - 2.0 * NOTCH_DEEP)
"""What is left between the notches: room for the ticks, the card's number and the station."""

TICKS: tuple[tuple[float, float, float], ...] = (
    (SEAM_X, NOTCH_DEEP, NOTCH_DEEP + TICK),
    (SEAM_X, CARD_HIGH - NOTCH_DEEP - TICK, CARD_HIGH - NOTCH_DEEP),
)
"""Each tick: x, and y from and to."""

LOOSE_TAGS: tuple[tuple[int, str], ...] = (
    (584, "DRY FIT"),
    (585, "FASTENED"),
    (586, "CHECK"),
)
"""The tags left over, printed alone: one in view states what the photo shows."""


def tags_of(card: int) -> tuple[int, ...]:
    """Give the four tag ids of a card, 0 to 145, in the order of TAG_PLACES."""
    if not 0 <= card < CARDS:
        raise ValueError(f"there is no card {card}: cards are numbered 0 to {CARDS - 1}")
    return tuple(range(TAGS_A_CARD * card, TAGS_A_CARD * (card + 1)))


def card_of(tag: int) -> int | None:
    """Give the number of the card that carries a tag, or None for a loose or unknown tag."""
    return tag // TAGS_A_CARD if 0 <= tag < CARDS * TAGS_A_CARD else None


def cells(tag: int) -> tuple[tuple[bool, ...], ...]:
    """Give a tag's cells, True is white: rows from the top, its black border included.

    Turned by half a turn against the published words, so that a print shows each tag as OpenCV
    draws it and any reader of that library finds its first corner at the top left.
    """
    bits = [bool(WORDS[tag] >> place & 1) for place in range(CELLS * CELLS)]
    inner = [tuple(bits[row * CELLS : (row + 1) * CELLS]) for row in range(CELLS)]
    black = (False,) * TAG_CELLS
    return (black, *((False, *row, False) for row in inner), black)


SHEET_COLUMNS, SHEET_ROWS = 2, 3

PAPERS: tuple[tuple[str, float, float], ...] = (("letter", 215.9, 279.4), ("a4", 210.0, 297.0))
"""Name, width and height (ANSI/ASME Y14.1; ISO 216)."""


@dataclass(frozen=True, slots=True)
class CheckLine:
    """A line on the sheet that a tape measures: which way it runs, its length, and as written."""

    way: str
    length: float
    written: str


CHECK_LINES: tuple[tuple[str, tuple[CheckLine, CheckLine]], ...] = (
    ("letter", (CheckLine("along", 254.0, "10 in"), CheckLine("across", 177.8, "7 in"))),
    ("a4", (CheckLine("along", 250.0, "250 mm"), CheckLine("across", 170.0, "170 mm"))),
)
CHECK_WITHIN = 25.4 / 32.0
"""A check line within 1/32 in passes; one further off scales the cards or the sheet is refused."""


def card_places(paper: str) -> tuple[tuple[float, float], ...]:
    """Give the top left corners of a sheet's six cards in mm, by rows, centred on the paper.

    Neighbours share their cutting lines. Raises KeyError for an unknown paper.
    """
    wide, high = {name: (w, h) for name, w, h in PAPERS}[paper]
    left = (wide - SHEET_COLUMNS * CARD_WIDE) / 2.0
    top = (high - SHEET_ROWS * CARD_HIGH) / 2.0
    return tuple(
        (left + column * CARD_WIDE, top + row * CARD_HIGH)
        for row in range(SHEET_ROWS)
        for column in range(SHEET_COLUMNS)
    )
