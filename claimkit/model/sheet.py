"""What a receiving sheet is made of: ticks, boxes to count, blanks to fill and words to copy.

Every block holds plain text only. A page for the curb is drawn smaller until it fits on one paper.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Heading:
    """The head of one step."""

    text: str


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text."""

    text: str
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Boxed:
    """Texts in a frame with a title: what must not be overlooked."""

    title: str
    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Ticks:
    """Lines with a box to tick in front of each."""

    texts: tuple[str, ...]
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Numbered:
    """A label and numbered boxes, one for each piece; no boxes where `count` is 0."""

    label: str
    count: int
    total: str


@dataclass(frozen=True, slots=True)
class Rows:
    """Lines with a place for a number at the end of each. Lines that do not fit are counted."""

    label: str
    head: str
    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Fields:
    """Blanks to write in: rows of labels, each with its line."""

    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Choices:
    """A label and boxes of which one is ticked."""

    label: str
    options: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Words:
    """Words for one situation: on paper, and for a handheld."""

    title: str
    long: str
    short: str


@dataclass(frozen=True, slots=True)
class Grid:
    """A table to fill: each cell holds what was ordered, with room to write what was found.

    `shares` are the widths of the columns in parts of the whole.
    """

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    shares: tuple[float, ...]


Block = Heading | Paragraph | Boxed | Ticks | Numbered | Rows | Fields | Choices | Words | Grid


@dataclass(frozen=True, slots=True)
class SheetPage:
    """One page, or where it is not `one_page` as many as its table needs.

    `facts` are (label, value) in the head, `call` a label and (name, telephone). `top` spans the
    page, then `columns` stand side by side, then `below` spans the page again. `more` says how
    many lines of `Rows` had no room.
    """

    id: str
    title: str
    job: str
    facts: tuple[tuple[str, str], ...] = ()
    call: tuple[str, tuple[tuple[str, str], ...]] | None = None
    top: tuple[Block, ...] = ()
    columns: tuple[tuple[Block, ...], ...] = ()
    below: tuple[Block, ...] = ()
    one_page: bool = False
    more: str = ""


@dataclass(frozen=True, slots=True)
class SheetDocument:
    """All pages of one print, in order."""

    title: str
    language: str
    pages: tuple[SheetPage, ...]
