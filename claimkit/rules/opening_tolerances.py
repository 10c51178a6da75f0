"""Published values for walls, bases and frames: for information only.

What an opening must be for these goods is in their maker's instructions, which decide; nothing
here judges a reading. Above a threshold of a defect list a wall counts as defective: such a value
is no target, and no packet prints it.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from claimkit.model.opening import Checked

INCH = Fraction("25.4")
FOOT = 12 * INCH
INFORMATION = "For information only: the maker's instructions decide."
SUMMARY = "as given by WoodWorks, Construction tolerances for light wood-frame projects"


@dataclass(frozen=True, slots=True)
class PublishedValue:
    """One published value, exact in mm: so far off over such a stretch.

    `about` is what of an opening it concerns, None where it concerns something else (a finished
    floor's fall, two tiles). `defect` marks a threshold that is no target. `mark` is S, P or M.
    """

    id: str
    about: Checked | None
    text: str
    off_mm: Fraction
    over_mm: Fraction | None
    defect: bool
    citation: str
    mark: str

    @property
    def mm_per_m(self) -> float | None:
        """Give it in mm per m, None where it has no stretch."""
        return None if self.over_mm is None else float(self.off_mm / self.over_mm * 1000)


ROWS: tuple[PublishedValue, ...] = (
    PublishedValue(
        "framing-under-board",
        Checked.PLUMB,
        "wall framing under wallboard or plaster: 1/4 in in 10 ft",
        INCH / 4,
        10 * FOOT,
        False,
        f"Handbook of Construction Tolerances, {SUMMARY}",
        "P",
    ),
    PublishedValue(
        "studs-under-thin-set",
        Checked.PLUMB,
        "studs under tile in thin-set mortar: 1/8 in in 8 ft",
        INCH / 8,
        8 * FOOT,
        False,
        f"Unified Facilities Guide Specifications, {SUMMARY}",
        "P",
    ),
    PublishedValue(
        "wall-defect",
        Checked.PLUMB,
        "a framed wall counts as defective beyond 3/8 in in 32 in; no target",
        3 * INCH / 8,
        32 * INCH,
        True,
        f"NAHB, Residential Construction Performance Guidelines, {SUMMARY}",
        "P",
    ),
    PublishedValue(
        "factory-tray",
        Checked.LEVEL,
        "the rim of a factory-made tray sits level; the fall is moulded into its floor",
        Fraction(0),
        None,
        False,
        "common practice, no source",
        "M",
    ),
    PublishedValue(
        "equal-diagonals",
        Checked.SQUARE,
        "equal diagonals, or sides of 3 and 4 with a diagonal of 5, are square",
        Fraction(0),
        None,
        False,
        "Euclid, Elements I.47 and I.48",
        "M",
    ),
    PublishedValue(
        "floor-fall-least",
        None,
        "a shower floor built on site falls at least 1/4 in in 1 ft; not the rim of a tray",
        INCH / 4,
        FOOT,
        False,
        "International Residential Code, P2709.1",
        "P",
    ),
    PublishedValue(
        "floor-fall-most",
        None,
        "a shower floor built on site falls at most 1/2 in in 1 ft; not the rim of a tray",
        INCH / 2,
        FOOT,
        False,
        "International Residential Code, P2709.1",
        "P",
    ),
    PublishedValue(
        "lippage-narrow",
        None,
        "tiles beside a joint under 1/4 in stand proud of each other by at most 1/32 in",
        INCH / 32,
        None,
        False,
        "ANSI A108.02, 4.3.7",
        "P",
    ),
    PublishedValue(
        "lippage-wide",
        None,
        "tiles beside a joint of 1/4 in or more stand proud of each other by at most 1/16 in",
        INCH / 16,
        None,
        False,
        "ANSI A108.02, 4.3.7",
        "P",
    ),
)


def informing(about: Checked) -> tuple[PublishedValue, ...]:
    """Give the published values about one kind of result, without thresholds of defect."""
    return tuple(row for row in ROWS if row.about is about and not row.defect)
