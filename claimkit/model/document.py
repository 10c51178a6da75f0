"""A packet before it is drawn: sections of blocks whose every sentence carries its sources.

A block accepts statements only. Headings and column heads are labels and state nothing. The same
tree is drawn as PDF, printed as JSON and walked by the traceability test.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from claimkit.model.card import CardReading
from claimkit.model.case import Reader
from claimkit.model.source import Source


@dataclass(frozen=True, slots=True)
class Statement:
    """A sentence with its sources, and the readers it is for (empty: all).

    `emphasis` is one of "", "supports", "does not support", "missing", "caution".
    """

    text: str
    sources: tuple[Source, ...]
    emphasis: str = ""


@dataclass(frozen=True, slots=True)
class Paragraphs:
    """Statements one below the other, as a list with marks or as plain paragraphs.

    `heads` keeps them on the page of what follows.
    """

    statements: tuple[Statement, ...]
    bulleted: bool = True
    heads: bool = False


@dataclass(frozen=True, slots=True)
class Answers:
    """The first page's answer: a label and a statement each, in large type."""

    rows: tuple[tuple[str, Statement], ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A table. `widths` are relative; each cell is a statement.

    `lists_files`: each row is about the one file that its sources name. It is printed with that
    file's number in front and without source tags.
    """

    heads: tuple[str, ...]
    rows: tuple[tuple[Statement, ...], ...]
    widths: tuple[float, ...]
    small: bool = False
    lists_files: bool = False


@dataclass(frozen=True, slots=True)
class TimelineMark:
    """One mark on the timeline, with a short label; `kind` is photo, record or undated."""

    earliest: datetime
    latest: datetime
    label: str
    kind: str
    statement: Statement
    photo_no: int | None = None


@dataclass(frozen=True, slots=True)
class TimelineBand:
    """A shaded stretch, such as the delivery window. Ends as local datetimes."""

    begins: datetime
    ends: datetime
    label: str
    statement: Statement


@dataclass(frozen=True, slots=True)
class Timeline:
    """A timeline drawn to scale, in local time of the site."""

    title: str
    zone: str
    bands: tuple[TimelineBand, ...]
    marks: tuple[TimelineMark, ...]
    alt: str


@dataclass(frozen=True, slots=True)
class GapPoint:
    """One plotted reading: value with expanded uncertainty, both in mm."""

    label: str
    value_mm: float
    expanded_mm: float
    statement: Statement


@dataclass(frozen=True, slots=True)
class GapPlot:
    """Readings of one station with error bars against the design's limits, in mm."""

    title: str
    points: tuple[GapPoint, ...]
    design_min_mm: float | None
    design_max_mm: float | None
    alt: str


@dataclass(frozen=True, slots=True)
class Plate:
    """A photo with its number and caption. `sha256` finds the bytes; `path` names one place.

    With `card`, what is drawn is that scale card of the photo laid square, with the windows and
    the edges found in them. `again` is True where the same number has a plate of its own elsewhere.
    """

    photo_no: int
    sha256: str
    path: str
    orientation: int | None
    upright_when_decoded: bool
    caption: tuple[Statement, ...]
    alt: str
    card: tuple[CardReading, ...] = ()
    again: bool = False

    @property
    def key(self) -> str:
        """Name the picture to be drawn: the photo, or one card in it."""
        return f"{self.sha256}-card{self.card[0].card}" if self.card else self.sha256


@dataclass(frozen=True, slots=True)
class PlateRow:
    """Plates side by side. `large` gives a single plate most of a page."""

    plates: tuple[Plate, ...]
    large: bool = False


Block = Paragraphs | Answers | Table | Timeline | GapPlot | PlateRow


@dataclass(frozen=True, slots=True)
class Section:
    """One part of the packet. It starts a page where `new_page` is True."""

    id: str
    title: str
    blocks: tuple[Block, ...]
    new_page: bool = False


@dataclass(frozen=True, slots=True)
class LetterHead:
    """What stands around a letter's text: who writes, to whom, when, about what, and the ends.

    `warning` says why a draft may not be sent as it stands, None where nothing keeps it back.
    `sign` are the labels of lines to be filled in by hand.
    """

    sender: tuple[Statement, ...]
    to: tuple[Statement, ...]
    day: Statement
    how: Statement
    subject: Statement
    references: tuple[tuple[str, Statement], ...]
    greeting: Statement | None
    sign: tuple[str, ...]
    enclosures: tuple[Statement, ...]
    warning: Statement | None = None

    def statements(self) -> Iterator[Statement]:
        """Yield every statement of the head in print order."""
        if self.warning:
            yield self.warning
        yield from self.sender
        yield self.day
        yield from self.to
        yield self.how
        yield self.subject
        yield from (statement for _, statement in self.references)
        if self.greeting:
            yield self.greeting


@dataclass(frozen=True, slots=True)
class Document:
    """A whole packet for one reader. `photo_numbers` maps photo hashes to their plate numbers.

    `as_of` is the legal day in words, printed at the foot of each page beside `id`, a short name
    of what the packet was made from; where empty, it is taken from the document itself. A `letter`
    makes it one: its head stands in front, its enclosures and lines to sign behind the sections.
    `anchors` is what it prints of custody, in words for the file's own description.
    """

    reader: Reader
    title: str
    subtitle: str
    made: str
    sections: tuple[Section, ...]
    photo_numbers: tuple[tuple[str, int], ...]
    versions: tuple[tuple[str, str], ...]
    as_of: str = ""
    id: str = ""
    anchors: str = ""
    letter: LetterHead | None = None


def statements(document: Document) -> Iterator[tuple[str, Statement]]:
    """Yield every statement of a document with the id of its section, in print order."""
    if document.letter:
        yield from (("letter-head", statement) for statement in document.letter.statements())
    for section in document.sections:
        for block in section.blocks:
            for statement in _of_block(block):
                yield section.id, statement
    if document.letter:
        yield from (("enclosures", statement) for statement in document.letter.enclosures)


def _of_block(block: Block) -> Iterator[Statement]:
    match block:
        case Paragraphs():
            yield from block.statements
        case Answers():
            yield from (statement for _, statement in block.rows)
        case Table():
            for row in block.rows:
                yield from row
        case Timeline():
            yield from (band.statement for band in block.bands)
            yield from (mark.statement for mark in block.marks)
        case GapPlot():
            yield from (point.statement for point in block.points)
        case PlateRow():
            for plate in block.plates:
                yield from plate.caption
