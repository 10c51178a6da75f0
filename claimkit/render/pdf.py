"""A document drawn as PDF/A-2b: the same document and pictures give the same bytes.

Pages are filled first and drawn then, so that every page knows how many there are. They are drawn
in parts on the disk, so that the memory needed does not grow with the pictures. Fonts are
embedded; text is never read as markup.
"""

from __future__ import annotations

import gc
import hashlib
import tempfile
import threading
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from claimkit import __version__
from claimkit.model.case import Reader
from claimkit.model.document import (
    Answers,
    Block,
    Document,
    GapPlot,
    Paragraphs,
    Plate,
    PlateRow,
    Section,
    Table,
    Timeline,
)
from claimkit.render import style
from claimkit.render.assembly import Archive, assembled
from claimkit.render.blocks import answers, paragraphs
from claimkit.render.boxes import Box, Placed, pages_of, paginate
from claimkit.render.ends import contents, source_list, title_block
from claimkit.render.gapplot import gap_plot
from claimkit.render.glyphs import REGULAR, font, shown
from claimkit.render.letter import letter_boxes
from claimkit.render.pen import Gathered, Pen
from claimkit.render.plates import Drawn, Picture, fetch, plate_row, wanted
from claimkit.render.setting import Room, draw_lines, heading
from claimkit.render.sources import numbered
from claimkit.render.style import HEADING, RUNNING, Paper
from claimkit.render.tables import table
from claimkit.render.text import Span, one_line
from claimkit.render.timeline import timeline

Progress = Callable[[int, int], None]

READERS = {
    Reader.CARRIER: "For the carrier",
    Reader.SELLER: "For the seller",
    Reader.INSURER: "For the insurer",
    Reader.CUSTOMER: "For the customer",
    Reader.OWN: "Own file, not for others",
}
_CODE_NOTE = (
    "A code such as U+0627 in angle brackets stands for a character that cannot be printed here. "
    "The file has it as typed."
)
_FOOT = 50.0
_PART = 8  # pages drawn at once; their pictures are held in memory until the part is written
_ONE_AT_A_TIME = threading.Lock()  # the PDF library keeps one of its settings in a module


@dataclass(frozen=True, slots=True)
class _Running:
    """What stands at the head and foot of each page."""

    title: str
    reader: str
    as_of: str
    id: str


def pictures_wanted(document: Document) -> tuple[tuple[Plate, int], ...]:
    """List (plate, long side in px) for every picture that `render` will ask for, in order."""
    return wanted(document)


def render(
    document: Document,
    picture: Picture,
    *,
    paper: Paper,
    progress: Progress | None = None,
) -> bytes:
    """Draw a document as PDF, as `render_file` does, and give its bytes."""
    with tempfile.TemporaryDirectory(prefix="claimkit-") as folder:
        out = Path(folder) / "whole.pdf"
        render_file(document, picture, out, paper=paper, progress=progress)
        return out.read_bytes()


def render_file(
    document: Document,
    picture: Picture,
    out: Path,
    *,
    paper: Paper,
    progress: Progress | None = None,
) -> Archive:
    """Draw a document as PDF/A-2b into the file `out`, and tell whether it passed as such.

    `picture(plate, long_side_px)` gives a JPEG, or a sentence why there is none, which is printed
    in the plate's place. `progress(done, total)` counts pictures and pages. The result depends on
    the document, the pictures, the paper and the versions of claimkit and its libraries, and on
    nothing else.
    """
    with tempfile.TemporaryDirectory(prefix="claimkit-") as folder:
        return _render(document, picture, (out, Path(folder)), paper, _Steps(progress))


def _render(
    document: Document, picture: Picture, to: tuple[Path, Path], paper: Paper, step: _Steps
) -> Archive:
    """Draw into the file to[0], with the folder to[1] for what is made on the way."""
    out, folder = to
    pictures = _pictures(document, picture, step, folder)
    wide, high = style.PAPER[paper]
    room = Room(
        wide - 2 * style.MARGIN_SIDE,
        high - style.MARGIN_TOP - style.MARGIN_FOOT,
        numbered(document),
    )
    pages = paginate(_boxes(document, room, pictures), room.high)
    running = _Running(
        document.title,
        "Letter" if document.letter else READERS[document.reader],
        document.as_of or document.made,
        document.id or short_id(document),
    )
    step.total += len(pages)
    drawing = _Drawing(document, pages, running, (wide, high), Gathered())
    with _ONE_AT_A_TIME:
        parts = _draw(drawing, folder, step)
    titles = {section.id: section.title for section in document.sections}
    outline = [
        (shown(titles.get(opened, "Sources")).replace("\n", " "), f"section-{opened}")
        for opened in pages_of(pages)
    ]
    return assembled(parts, _PART, drawing.gathered, outline, out)


def short_id(document: Document) -> str:
    """Name a document by what is in it: the first 12 digits of the SHA-256 of its tree."""
    return hashlib.sha256(repr(document).encode("utf-8", "surrogatepass")).hexdigest()[:12]


@dataclass(slots=True)
class _Steps:
    """Counts what is done and tells it."""

    tell: Progress | None
    done: int = 0
    total: int = 0

    def one(self) -> None:
        self.done += 1
        if self.tell:
            self.tell(self.done, self.total)


def _pictures(
    document: Document, picture: Picture, step: _Steps, folder: Path
) -> dict[tuple[str, int], Drawn]:
    asked = {(plate.key, pixels): plate for plate, pixels in wanted(document)}
    step.total = len(asked)
    drawn = {}
    for number, ((key, pixels), plate) in enumerate(asked.items()):
        drawn[key, pixels] = fetch(plate, pixels, picture, folder / f"{number}.jpg")
        step.one()
    return drawn


def _boxes(document: Document, room: Room, pictures: dict[tuple[str, int], Drawn]) -> list[Box]:
    if document.letter:
        return letter_boxes(document, room, _block)
    boxes = title_block(document, room)
    for i, section in enumerate(document.sections):
        boxes += _section(section, room, pictures, first=i == 0)
        if i == 0:
            boxes += contents(document, room)
    return boxes + source_list(room)


def _section(
    section: Section, room: Room, pictures: dict[tuple[str, int], Drawn], *, first: bool
) -> list[Box]:
    place = f"section-{section.id}"
    head = heading(section.title, HEADING, room.wide, above=14.0 if first else 24.0)
    drawn = head[0].draw

    def draw(pen: Pen, x: float, top: float) -> None:
        pen.mark(place, top + 6)
        drawn(pen, x, top)

    new_page = section.new_page and not first
    opening = replace(head[0], draw=draw, opens=section.id, new_page=new_page)
    boxes = [opening, *head[1:]]
    for block, before in zip(section.blocks, (None, *section.blocks), strict=False):
        if isinstance(block, PlateRow):
            boxes += plate_row(block, before, room, pictures)
        else:
            boxes += _block(block, room)
    return boxes


def _block(block: Block, room: Room) -> list[Box]:
    match block:
        case Paragraphs():
            return paragraphs(block, room)
        case Answers():
            return answers(block, room)
        case Table():
            return table(block, room)
        case Timeline():
            return timeline(block, room)
        case GapPlot():
            return gap_plot(block, room)
    raise TypeError(f"a block of a kind that is not drawn: {type(block).__name__}")


@dataclass(frozen=True, slots=True)
class _Drawing:
    """A document whose pages are filled, ready to be drawn."""

    document: Document
    pages: tuple[tuple[Placed, ...], ...]
    running: _Running
    size: tuple[float, float]
    gathered: Gathered


def _draw(drawing: _Drawing, folder: Path, step: _Steps) -> list[Path]:
    """Draw all pages in parts, each a file of its own."""
    from reportlab import rl_config

    gc.freeze()  # what was there before drawing is not looked through after each part
    kept = rl_config.useA85
    rl_config.useA85 = 0  # pictures and pages as bytes, not as text a quarter longer
    pen = Pen(None, pages_of(drawing.pages), gathered=drawing.gathered)
    parts = []
    try:
        for first in range(0, len(drawing.pages), _PART):
            part = folder / f"part-{first}.pdf"
            pen.canvas = _canvas(part, drawing)
            for number in range(first, min(first + _PART, len(drawing.pages))):
                _draw_page(pen, drawing, number)
                step.one()
            pen.canvas.save()
            pen.canvas = None
            gc.collect()  # a canvas refers to itself, and its pictures would wait for chance
            parts.append(part)
    finally:
        rl_config.useA85 = kept
        gc.unfreeze()
    if pen.linked - pen.marked:
        raise RuntimeError(f"links lead nowhere: {sorted(pen.linked - pen.marked)}")
    return parts


def _draw_page(pen: Pen, drawing: _Drawing, number: int) -> None:
    """Draw a page, numbered from 0."""
    size, count = drawing.size, len(drawing.pages)
    pen.begin_page(number)
    with pen.decoration():
        _draw_head(pen, drawing.running, size, number + 1)
    for placed in drawing.pages[number]:
        box = placed.box
        with pen.tagged(box.role, joins=box.joins):
            box.draw(pen, style.MARGIN_SIDE, size[1] - style.MARGIN_TOP - placed.down)
    with pen.decoration():
        _draw_foot(pen, drawing.running, size, f"page {number + 1} of {count}")
    pen.canvas.showPage()
    pen.canvas._doc.Pages.pages[-1].Trans = None  # else an empty one, which PDF/A forbids


def _canvas(out: Path, drawing: _Drawing) -> Any:
    import reportlab
    from reportlab.pdfgen.canvas import Canvas

    document, running, size = drawing.document, drawing.running, drawing.size
    font(REGULAR)
    canvas = Canvas(
        str(out),
        pagesize=size,
        pageCompression=1,
        invariant=1,
        initialFontName=REGULAR,
        lang="en-US",
        pdfVersion=(1, 7),
    )
    canvas.setTitle(f"{shown(document.title)} ({running.reader})".replace("\n", " "))
    canvas.setAuthor(f"claimkit {__version__}")
    canvas.setSubject(shown(document.subtitle))
    canvas.setCreator(f"claimkit {__version__}")
    canvas.setProducer(f"reportlab {reportlab.__version__}")
    canvas.setKeywords(shown(document.anchors))
    canvas.setViewerPreference("DisplayDocTitle", "true")
    return canvas


def _draw_head(pen: Pen, running: _Running, size: tuple[float, float], number: int) -> None:
    """Write title and reader over each page; the first has its own title and rule."""
    left, right = style.MARGIN_SIDE, size[0] - style.MARGIN_SIDE
    title = running.title if number > 1 else ""
    _both(pen, title, running.reader, (left, right), size[1] - 34)
    if number > 1:
        pen.rule(left, size[1] - 47, right, size[1] - 47)


def _draw_foot(pen: Pen, running: _Running, size: tuple[float, float], page: str) -> None:
    """Write day, document and page under each page, and what the codes on it mean."""
    left, right = style.MARGIN_SIDE, size[0] - style.MARGIN_SIDE
    coded = pen.coded
    pen.rule(left, _FOOT, right, _FOOT)
    _both(pen, f"{running.as_of} · document {running.id}", page, (left, right), _FOOT - 4)
    if coded:
        note = one_line([Span(_CODE_NOTE, RUNNING)], right - left)
        draw_lines(pen, (note,), RUNNING, left, _FOOT - 15)


def _both(pen: Pen, left: str, right: str, ends: tuple[float, float], top: float) -> None:
    """Write one text at the left and one at the right; the left one gives way."""
    late = one_line([Span(right, RUNNING)], (ends[1] - ends[0]) / 2)
    early = one_line([Span(left, RUNNING)], ends[1] - ends[0] - late.width - 20)
    draw_lines(pen, (early,), RUNNING, ends[0], top)
    draw_lines(pen, (late,), RUNNING, ends[1] - late.width, top)
