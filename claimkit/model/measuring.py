"""What people measure at the seams and the opening, and how they check the means they use.

Each class is the body of a record, or a table in one; the records' own module names the kinds.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from claimkit.model.job import Material
from claimkit.model.moment import Moment
from claimkit.model.quantities import Length, Temperature
from claimkit.model.stages import Stage
from claimkit.model.written import GAP, POSITIVE, SIGNED, Entries, Limits, Names, OneOf, written

CARD_PAPERS = ("letter", "a4")
PIXELS = Limits(0, 100_000)


class Instrument(StrEnum):
    """What a gap was read with; resolutions are in the rules."""

    TAPE_16TH = "tape 1/16 in"
    TAPE_32ND = "tape 1/32 in"
    TAPE_MM = "tape 1 mm"
    RULE_64TH = "rule 1/64 in"
    RULE_HALF_MM = "rule 0.5 mm"
    RULE_MM = "rule 1 mm"
    TAPER_GAUGE = "taper gauge 0.1 mm"
    FEELER = "feeler gauge 0.05 mm"
    CALIPER = "caliper 0.01 mm"
    LEVEL = "level"
    OTHER = "other"


@written
class Reading:
    """One gap read by hand at one station."""

    station: Annotated[str, "Station id of the seam."]
    gap: Annotated[
        tuple[Length, ...], "The reading, or its repeats: ['3/16 in', '5 mm'].", Entries(1), GAP
    ]
    step: Annotated[
        Length | None,
        "How far the panel at a scale card's right stands proud of the left one there: '0.5 mm'. A "
        "minus sign where it stands back, 0 mm where they are flush. It sharpens photo readings.",
        SIGNED,
    ] = None
    witness: Annotated[
        tuple[str, ...], "Photos that show this reading being taken.", Names.FILE
    ] = ()


@written
class Readings:
    """Gaps of one seam read in one episode."""

    seam: Annotated[str, "Seam id from job.toml.", Names.SEAM]
    stage: Annotated[Stage, "In which stage of the work they were read."]
    taken: Annotated[Moment, "When, local time."]
    instrument: Annotated[Instrument, "What they were read with."]
    instrument_id: Annotated[
        str | None, "Which one, where the same rule or gauge serves every time."
    ] = None
    resolution: Annotated[
        Length | None, "Its smallest division, where the instrument is other.", POSITIVE
    ] = None
    temperature: Annotated[Temperature | None, "Temperature of the pieces, such as '18 C'."] = None
    place: Annotated[str | None, "on open floor, or in the opening."] = None
    set_level: Annotated[bool | None, "True where the pieces stood on a level base."] = None
    clamped: Annotated[bool | None, "True where the pieces were clamped or held together."] = None
    piece: Annotated[
        str | None, "Names a replacement piece, where the pieces are not the first."
    ] = None
    at: Annotated[tuple[Reading, ...], "One table for each station read.", Entries(1)]


class Line(StrEnum):
    """What offsets from plumb and level are measured from; how true each is, is in the rules."""

    LEVEL = "level"
    PLUMB_LINE = "plumb line"
    LASER = "laser line"


TAPE_CLASSES = ("I", "II", "III")


@written
class Offset:
    """A distance read at a place: from the plumb line at a height, from the level line at a spot.

    The line stands on the opening's side of the wall and above the base, so that a larger offset
    means a wall that stands further back and a base that lies lower.
    """

    at: Annotated[
        Length,
        "Height above the base; for level, distance along the base from the wall that is checked, "
        "or from the left where none is.",
    ]
    offset: Annotated[
        Length,
        "Distance from the line: from the plumb line back to the wall, from the level line down "
        "to the base. A minus sign where the wall stands past the line into the opening, or the "
        "base above it. The same place in a second table is a repeat.",
        SIGNED,
    ]


@written
class OpeningCheck:
    """What the opening looked like before fastening: plumb, level, square."""

    opening: Annotated[
        str, "Which opening or wall; its tolerances stand in job.toml under [[opening]]."
    ]
    taken: Annotated[Moment, "When, local time."]
    instrument: Annotated[Instrument, "What the offsets were read with."]
    plumb: Annotated[
        tuple[Offset, ...], "Offsets of the wall from plumb at heights, one table each."
    ] = ()
    level: Annotated[
        tuple[Offset, ...], "Offsets of the base from level along it, one table each."
    ] = ()
    diagonals: Annotated[
        tuple[Length, ...],
        "The two diagonals: from the foot of the wall that is checked (the left where none is) up "
        "to the opposite corner, then the other.",
        Entries(2, 2),
        POSITIVE,
    ] = ()
    width: Annotated[Length | None, "Width between the measured points.", POSITIVE] = None
    height: Annotated[Length | None, "Height between the measured points.", POSITIVE] = None
    seams: Annotated[
        tuple[str, ...],
        "Upright seams that stand on or against it, their stations counted from the base upwards. "
        "A corner is named at the wall behind the piece whose face it meets.",
        Names.SEAM,
    ] = ()
    instrument_id: Annotated[
        str | None, "Which level, rule or tape, where one serves every time."
    ] = None
    resolution: Annotated[
        Length | None,
        "The smallest division that the offsets were read to, where the instrument is a level or "
        "other.",
        POSITIVE,
    ] = None
    line: Annotated[
        Line | None,
        "What the offsets were measured from. Left out: a level, which is the least true.",
    ] = None
    line_accuracy: Annotated[
        Length | None,
        "How far that level or laser may be off in 1 m, from its maker's sheet: '0.5 mm'.",
        POSITIVE,
    ] = None
    level_turned: Annotated[
        bool | None,
        "True where the level was turned end for end at each place and the means are written.",
    ] = None
    tape: Annotated[
        Instrument | None,
        "What diagonals, width and height were measured with, where it is not the instrument.",
    ] = None
    tape_class: Annotated[
        str | None, "Accuracy class printed on that tape: I, II or III.", OneOf(TAPE_CLASSES)
    ] = None
    diagonals_of: Annotated[
        str | None,
        "Item id, where the diagonals are of a piece and not of the opening: the piece whose edge "
        "makes the seam. The first then rises from its foot at the seam.",
        Names.ITEM,
    ] = None
    seam_at: Annotated[
        Length | None,
        "For a butt seam: where it meets the base, counted as the level's places are.",
    ] = None
    photos: Annotated[tuple[str, ...], "Photos that show it being checked.", Names.FILE] = ()


@written
class Spacer:
    """A known spacer photographed with a card."""

    photo: Annotated[str, "Path of the photo.", Names.FILE]
    gap: Annotated[Length, "The spacer's known thickness.", POSITIVE]


@written
class BenchCheck:
    """Known spacers between two offcuts, photographed with the job's cards and phone."""

    taken: Annotated[Moment, "When, local time."]
    material: Annotated[Material | None, "What the offcuts are made of."] = None
    spacer: Annotated[tuple[Spacer, ...], "One table for each photo.", Entries(1)]


@written
class CardSheet:
    """A printed sheet of scale cards, and what its two check lines measure by a tape or rule."""

    paper: Annotated[str, "Paper it was printed on: letter or a4.", OneOf(CARD_PAPERS)]
    along: Annotated[
        Length, "The check line along the sheet, as measured: 10 in or 250 mm.", POSITIVE
    ]
    across: Annotated[
        Length, "The check line across the sheet, as measured: 7 in or 170 mm.", POSITIVE
    ]
    instrument: Annotated[Instrument, "What they were measured with."]
    measured: Annotated[Moment | None, "When, local time."] = None
    cards: Annotated[
        tuple[int, ...], "Numbers of the cards cut from it; none named means all.", Limits(0, 145)
    ] = ()


@written
class MarkedPhoto:
    """A gap marked by hand in a photo without a card: a known rectangle and both edges."""

    photo: Annotated[str, "Path of the photo.", Names.FILE]
    seam: Annotated[str, "Seam id from job.toml.", Names.SEAM]
    station: Annotated[str, "Station id of the seam."]
    stage: Annotated[Stage, "In which stage of the work it was taken."]
    rectangle: Annotated[
        tuple[Length, ...],
        "Width and height of the known rectangle: a bank card is 85.6 mm by 53.98 mm.",
        Entries(2, 2),
        POSITIVE,
    ]
    corners: Annotated[
        tuple[int, ...],
        "Its corners in pixels of the upright photo, x and y each: top left, top right, bottom "
        "right, bottom left.",
        Entries(8, 8),
        PIXELS,
    ]
    left: Annotated[
        tuple[int, ...], "Points on the gap's one edge, x and y each.", Entries(2), PIXELS
    ]
    right: Annotated[tuple[int, ...], "Points on its other edge, facing them.", Entries(2), PIXELS]
    piece: Annotated[
        str | None, "Names a replacement piece, where the pieces are not the first."
    ] = None
