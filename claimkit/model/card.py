"""What a photo's scale cards say: a gap in a card's window, or the reason why none is given.

A reading knows the photo, the card and the window; which seam and episode that is, is worked out
later from the job. A photo shows the visible opening between the panels' edges; a feeler gauge
meets them face to face: two things that are compared only with that said.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from claimkit.model.measurement import Measurement

Point = tuple[float, float]


class Window(StrEnum):
    """Where on the card: a notch, or both together (their mean)."""

    TOP = "top"
    BOTTOM = "bottom"
    BOTH = "both"


class Why(StrEnum):
    """Each reason for which no gap is given, or one is given with a caution."""

    COPY = "downsized copy"
    FAR = "too far away"
    TILT = "tilted"
    ACROSS = "seen from the side"
    TAG_MISSING = "tag missing"
    NOT_OURS = "not a card of this job"
    TWICE = "card in view twice"
    CUT_OFF = "card cut off"
    NOT_A_CARD = "tags do not stand as on a card"
    NOT_FLAT = "card not flat"
    BLURRED = "blurred"
    BRIGHT = "overexposed"
    DARK = "too dark"
    NO_GAP = "no gap found"
    NARROW = "gap too narrow for the picture"
    WIDE = "gap too wide for the card"
    OFF_CENTRE = "seam not in the window"
    SLANTED = "card aslant"
    CONTRAST = "too little contrast"
    FILLED = "joint filled"
    UNCLEAR = "edges not clear"
    SECOND_LINE = "a second dark line"
    UNEVEN = "edges uneven"
    WINDOWS_DIFFER = "windows differ"
    OTHER_WINDOW = "other window not read"
    ROUNDED = "rounded edges"
    RECTANGLE = "corners are no rectangle"
    REACH = "edges far from the rectangle"
    SIDES = "edges not marked as two sides"


SENTENCES: dict[Why, tuple[str, str]] = {
    Why.COPY: (
        "The picture is {wide} × {high} pixels, the size of a copy from a messaging app.",
        "Ask for the original from the phone.",
    ),
    Why.FAR: (
        "The card is seen at {px_per_mm:.1f} pixels a millimetre; {least:g} are needed.",
        "Photograph again from nearer: the card across about a third of the picture.",
    ),
    Why.TILT: (
        "The camera looked at the card {tilt:.0f}° off square; {most:g}° is the most.",
        "Photograph again with the phone held flat to the panels.",
    ),
    Why.ACROSS: (
        "The camera looked across the seam from the side, {angle:.0f}° off; {most:.0f}° is the "
        "most.",
        "Photograph again from straight before the seam.",
    ),
    Why.TAG_MISSING: (
        "Of the card's four tags, the {places} cannot be read.",
        "Photograph again with the whole card in view, nothing over it and no glare on it.",
    ),
    Why.NOT_OURS: (
        "Card {card} stands in the picture and the job names no such card.",
        "Enter its number at its station in job.toml, or leave it out of the picture.",
    ),
    Why.TWICE: (
        "A tag of card {card} stands in the picture more than once.",
        "Photograph again with one card of each number in view; two prints are two cards.",
    ),
    Why.CUT_OFF: (
        "The card is cut off by the picture's edge.",
        "Photograph again with the whole card in view.",
    ),
    Why.NOT_A_CARD: (
        "Tags numbered as those of card {card} do not stand as on a card.",
        "Use a card printed by claimkit, uncut but for its notches.",
    ),
    Why.NOT_FLAT: (
        "The card's tags do not lie in one plane (off by {residual:.1f} pixels).",
        "Tape the card down flat at its four outer corners and photograph again.",
    ),
    Why.BLURRED: (
        "The picture is blurred over {blur:.2f} mm; {most:.2f} mm is the most for this gap.",
        "Hold the phone still, tap the card to focus, and photograph again.",
    ),
    Why.BRIGHT: (
        "The panels beside the gap are pure white in the picture, so its edges are lost.",
        "Tap the panel to darken the picture, or turn the lamp away, and photograph again.",
    ),
    Why.DARK: (
        "The panels beside the gap are hardly lit.",
        "Light the seam from the front and photograph again.",
    ),
    Why.NO_GAP: (
        "No dark gap between two bright edges is seen in the window.",
        "Read it by hand; a joint that is closed or filled cannot be read in a photo.",
    ),
    Why.NARROW: (
        "The gap is {px:.1f} pixels wide in the picture; {least:g} are needed.",
        "Photograph again from nearer, or read it with a feeler gauge.",
    ),
    Why.WIDE: (
        "The gap takes {gap:.0f} mm of the window; {most:.0f} mm is the most.",
        "Read it with a rule.",
    ),
    Why.OFF_CENTRE: (
        "The gap lies {off:.0f} mm beside the middle of the window, too near its border.",
        "Set the card's two ticks on the seam and photograph again.",
    ),
    Why.SLANTED: (
        "The seam runs {angle:.0f}° askew under the card; {most:.0f}° is the most.",
        "Set both ticks of the card on the seam and photograph again.",
    ),
    Why.CONTRAST: (
        "The gap is {contrast:.0f} % darker than the panels; {least:.0f} % is needed.",
        "Light the panels from the front, away from the gap, or read it by hand.",
    ),
    Why.FILLED: (
        "The joint looks filled: its floor shows {floor:.0f} % of the panels' light and no deep "
        "wall is seen.",
        "If it is open, photograph it again in even light, without flash, from 10° to one side; "
        "a filled joint cannot be read in a photo.",
    ),
    Why.UNCLEAR: (
        "The light across the seam is not that of two edges and a gap (signal to misfit "
        "{snr:.0f}; {least:g} is needed).",
        "Clean the edges, remove tape and dirt, take away side light, and photograph again.",
    ),
    Why.SECOND_LINE: (
        "Beside the gap there is a second dark line or edge, {share:.0f} % as strong.",
        "Turn off the flash, take away what casts a shadow or draws a line along the seam, and "
        "photograph again.",
    ),
    Why.UNEVEN: (
        "The edges wander by {scatter:.2f} mm within the window; {most:.2f} mm is the most.",
        "Clean the edges, or read it by hand where it matters.",
    ),
    Why.WINDOWS_DIFFER: (
        "The two windows differ by {by:.2f} mm; {most:g} mm is the most.",
        "Look for a chip, tape or shadow in one window, and photograph again.",
    ),
    Why.OTHER_WINDOW: (
        "Only one of the two windows could be read.",
        "See the reason at the other window, and photograph again.",
    ),
    Why.RECTANGLE: (
        "The four corners do not make the picture of a rectangle of {wide:g} × {high:g} mm.",
        "Mark them in this order: top left, top right, bottom right, bottom left.",
    ),
    Why.REACH: (
        "The marked edges lie {off:.0f} mm off the rectangle; {most:.0f} mm is the most.",
        "Use a photo in which the rectangle lies close beside the gap, in the panels' plane.",
    ),
    Why.SIDES: (
        "The points of the left and of the right edge are not on two sides of a gap.",
        "Mark at least one point on each edge, in line across the seam, or two and more on each.",
    ),
    Why.ROUNDED: (
        "The panels' edges look well rounded or worn, which makes the visible opening wider than "
        "the gap between their faces.",
        "Enter the edges' radius, or read the gap with a feeler gauge.",
    ),
}
"""What was found and what to do, for each reason. The numbers are filled in when it is told."""


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why no gap is given, or why one is given with care, in one sentence each."""

    why: Why
    found: str
    do_next: str

    @classmethod
    def of(cls, why: Why, **numbers: float | str) -> Refusal:
        """Fill a reason's sentences with what was found."""
        found, do_next = SENTENCES[why]
        return cls(why, found.format(**numbers), do_next)

    @property
    def sentence(self) -> str:
        """Both sentences together."""
        return f"{self.found} {self.do_next}"


@dataclass(frozen=True, slots=True)
class View:
    """How a card was seen.

    `px_per_mm` across the seam; `tilt_deg` off square; `tan_across` the signed tangent of the
    view angle across the seam, positive from the card's right; `residual_px` of its sixteen
    corners to one plane (RMS); `blur_mm` the SD of the blur across the seam.
    """

    px_per_mm: float
    tilt_deg: float
    tan_across: float
    residual_px: float
    blur_mm: float


@dataclass(frozen=True, slots=True)
class Marks:
    """Where things stand in the upright picture, in pixels from the middle of its first pixel.

    `card` are the card's corners, `window` those of the window (both from the top left,
    clockwise on the card); `left` and `right` are points on the two edges found.
    """

    card: tuple[Point, ...]
    window: tuple[Point, ...] = ()
    left: tuple[Point, ...] = ()
    right: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True)
class CardReading:
    """One window of one card in one photo: a measurement in mm, or why there is none.

    `cautions` are reasons for care that left the measurement standing. `view` and `marks` are
    None where the card's plane was not found.
    """

    photo_sha: str
    card: int
    window: Window
    measurement: Measurement | None
    refusal: Refusal | None
    cautions: tuple[Refusal, ...] = ()
    view: View | None = None
    marks: Marks | None = None

    @property
    def meaning(self) -> str:
        """What a photo meets: the opening that is seen between the edges, not their faces."""
        return "visible opening"

    def __post_init__(self) -> None:
        """Demand exactly one of measurement and refusal."""
        if (self.measurement is None) == (self.refusal is None):
            raise ValueError("a card reading has either a measurement or a refusal")


@dataclass(frozen=True, slots=True)
class LooseTag:
    """A loose tag in view: its id and the words printed beside it (DRY FIT, FASTENED, CHECK)."""

    photo_sha: str
    tag: int
    words: str
