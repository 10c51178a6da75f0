"""The print of scale cards drawn as PDF/A-2b: steps with drawings, what to write, cards to size.

A viewer is asked to print at full size (ISO 32000-1, 12.2); the check lines tell whether it did.
The same cards and paper give the same bytes.
"""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, cast

from claimkit import __version__
from claimkit.compose.sheets.cards import WHERE_HEADS, CardBook, PrintedCard, Snippet
from claimkit.model.sheet import Boxed, Heading, Paragraph
from claimkit.render import style
from claimkit.render.assembly import Archive, assembled
from claimkit.render.boxes import Box, Placed, paginate
from claimkit.render.card_drawings import DRAWINGS, Drawing
from claimkit.render.card_pen import (
    INK,
    POINT,
    Paper,
    draw_card,
    draw_check_lines,
    draw_loose,
    on_paper,
)
from claimkit.render.glyphs import REGULAR, font, shown
from claimkit.render.pen import Gathered, Pen
from claimkit.render.setting import baseline, draw_lines
from claimkit.render.sheet_blocks import SMALL, STRONG, TEXT, Setting, boxes_of
from claimkit.render.style import Look
from claimkit.render.text import Line, Span, lines, one_line
from claimkit.rules.card_layout import card_places
from claimkit.rules.card_steps import LENGTHS, CardStep

SIDE, TOP, FOOT = 42.0, 34.0, 36.0
_TITLE = Look(20, 23, strong=True, ink=INK)
_JOB = Look(11.5, 15, strong=True, ink=INK)
_ITEM = Look(10.8, 13.8, ink=INK)
_CODE = Look(9.2, 12.0, ink=INK)
_RUNNING = Look(8.0, 10.0, ink=INK)
_BESIDE = 14.0
_SPLIT = 230.0
"""A drawing wider than this stands over its lines, a smaller one beside them."""
_PART = 8
_SECOND_PAGE = "photograph"  # what is done at the seam each time stands on one page

Draw = Callable[[Pen], None]


@dataclass(slots=True)
class _Book:
    """A print in work: what is drawn on each page, and where its outline leads."""

    book: CardBook
    size: tuple[float, float]
    pages: list[Draw] = field(default_factory=list)
    outline: list[tuple[str, str]] = field(default_factory=list)

    @property
    def wide(self) -> float:
        return self.size[0] - 2 * SIDE


def render_cards(book: CardBook, out: Path) -> Archive:
    """Draw a print of scale cards into a file; tell whether it passed as PDF/A-2b."""
    font(REGULAR)
    work = _Book(book, style.PAPER[cast(style.Paper, book.paper)])
    _steps(work)
    for number, cards in enumerate(book.sheets, start=1):
        _card_sheet(work, number, cards)
    _loose(work)
    gathered = Gathered()
    with tempfile.TemporaryDirectory(prefix="claimkit-") as folder:
        parts = _draw(work, gathered, Path(folder))
        return assembled(parts, _PART, gathered, work.outline, out)


def _draw(work: _Book, gathered: Gathered, folder: Path) -> list[Path]:
    pen = Pen(None, gathered=gathered)
    parts = []
    for first in range(0, len(work.pages), _PART):
        part = folder / f"part-{first}.pdf"
        pen.canvas = _canvas(part, work)
        for number in range(first, min(first + _PART, len(work.pages))):
            pen.begin_page(number)
            work.pages[number](pen)
            with pen.decoration():
                _foot(pen, work, number + 1)
            pen.canvas.showPage()
            pen.canvas._doc.Pages.pages[-1].Trans = None  # else an empty one, which PDF/A forbids
        pen.canvas.save()
        parts.append(part)
    return parts


def _canvas(out: Path, work: _Book) -> Any:
    import reportlab
    from reportlab.pdfgen.canvas import Canvas

    canvas = Canvas(
        str(out),
        pagesize=work.size,
        pageCompression=1,
        invariant=1,
        initialFontName=REGULAR,
        lang="en-US",
        pdfVersion=(1, 7),
    )
    canvas.setTitle(f"Scale cards: {shown(work.book.title)}".replace("\n", " "))
    canvas.setAuthor(f"claimkit {__version__}")
    canvas.setCreator(f"claimkit {__version__}")
    canvas.setProducer(f"reportlab {reportlab.__version__}")
    canvas.setViewerPreference("DisplayDocTitle", "true")
    canvas.setViewerPreference("PrintScaling", "None")
    return canvas


def _foot(pen: Pen, work: _Book, number: int) -> None:
    said = f"page {number} of {len(work.pages)}"
    late = one_line([Span(said, _RUNNING)], work.wide / 2)
    early = one_line(
        [Span(f"Scale cards: {work.book.title}", _RUNNING)], work.wide - late.width - 20
    )
    low = 22.0
    pen.line(early, SIDE, low)
    pen.line(late, work.size[0] - SIDE - late.width, low)


def _steps(work: _Book) -> None:
    """Fill the pages of instructions: steps, then what is written where."""
    work.outline.append(("How to use the cards", "steps"))
    setting = Setting(work.wide)
    boxes = [*_head(work), *_tagged(boxes_of((Boxed("Take care", work.book.cautions),), setting))]
    for number, step in enumerate(work.book.steps, start=1):
        boxes += _step(number, step, setting)
    boxes += _snippets((work.book.bench,), work.wide)
    _fill(work, boxes, "steps")
    work.outline.append(("Which card goes where", "where"))
    boxes = _tagged(boxes_of((Heading("Which card goes where"),), setting), "H2")
    boxes += _table(work)
    for text in work.book.remarks:
        boxes += _tagged(boxes_of((Paragraph(text),), setting))
    boxes += _tagged(boxes_of((Heading("To write down"),), setting), "H2")
    boxes += _tagged(boxes_of((Paragraph(_COPY),), setting))
    boxes += _snippets(work.book.snippets, work.wide)
    _fill(work, boxes, "where")


_COPY = (
    "These are the lines to copy; the command prints them on the screen too. Put what you measured "
    "in place of each blank. A record is a file of its own in records/."
)


def _fill(work: _Book, boxes: list[Box], place: str) -> None:
    room = work.size[1] - TOP - FOOT
    for number, placed in enumerate(paginate(boxes, room)):
        work.pages.append(_page(work, placed, place if number == 0 else None))


def _page(work: _Book, placed: tuple[Placed, ...], place: str | None) -> Draw:
    def draw(pen: Pen) -> None:
        if place:
            pen.mark(place, work.size[1])
        for one in placed:
            with pen.tagged(one.box.role, joins=one.box.joins):
                one.box.draw(pen, SIDE, work.size[1] - TOP - one.down)

    return draw


def _head(work: _Book) -> list[Box]:
    title = one_line([Span("Scale cards", _TITLE)], work.wide)
    job = one_line([Span(work.book.title, _JOB)], work.wide)

    def draw_title(pen: Pen, x: float, top: float) -> None:
        draw_lines(pen, (title,), _TITLE, x, top)

    def draw_job(pen: Pen, x: float, top: float) -> None:
        draw_lines(pen, (job,), _JOB, x, top)

    return [Box(_TITLE.leading, draw_title, role="H1", stays=True), Box(_JOB.leading, draw_job)]


def _tagged(boxes: list[Box], role: str = "P") -> list[Box]:
    return [replace(box, role=role) for box in boxes]


def _step(number: int, step: CardStep, setting: Setting) -> list[Box]:
    """Set a step: its head, and its lines beside or under its drawing."""
    head = _tagged(boxes_of((Heading(f"{number}  {step.title}"),), setting), "H2")
    head[0] = replace(head[0], above=11.0, new_page=step.id == _SECOND_PAGE)
    drawing = DRAWINGS[step.drawing] if step.drawing else None
    beside = drawing is not None and drawing.wide <= _SPLIT + 50
    wide = setting.wide
    if drawing and beside:
        wide -= drawing.wide + _BESIDE
    items = [_item(line, wide) for line in step.lines]
    if drawing is None:
        return [*head, *(replace(box, stays=box is not items[-1]) for box in items)]
    if not beside:
        figure = replace(drawing.box(), above=6.0, stays=True)
        return [*head, figure, *items]
    return [*head, _beside(items, drawing, wide)]


def _beside(items: list[Box], drawing: Drawing, wide: float) -> Box:
    tall = sum(item.height + item.above for item in items)
    high = max(tall, drawing.high + 4.0)
    figure = drawing.box()

    def draw(pen: Pen, x: float, top: float) -> None:
        y = top
        for item in items:
            y -= item.above
            item.draw(pen, x, y)
            y -= item.height
        figure.draw(pen, x + wide + _BESIDE, top - 4.0)

    return Box(high, draw, above=2.0)


def _item(text: str, wide: float) -> Box:
    """Set a line of a step: behind a mark, or behind the number that it begins with."""
    number, _, rest = text.partition("  ")
    label = number if rest and number.isdigit() else ""
    indent = 13.0
    body = lines([Span(rest if label else text, _ITEM)], wide - indent)

    def draw(pen: Pen, x: float, top: float) -> None:
        if label:
            draw_lines(pen, (one_line([Span(label, STRONG)], indent),), _ITEM, x + 1, top)
        else:
            pen.fill(x + 1.5, top - _ITEM.leading * 0.64, 3.6, 3.6, INK)
        draw_lines(pen, body, _ITEM, x + indent, top)

    return Box(len(body) * _ITEM.leading, draw, above=2.2)


def _table(work: _Book) -> list[Box]:
    """Set the table of cards, its head again on each page."""
    shares = (0.13, 0.27, 0.25, 0.15, 0.20)
    widths = [work.wide * share for share in shares]
    head = replace(_row(WHERE_HEADS, widths, STRONG), stays=True)
    return [head, *(replace(_row(r, widths, TEXT), head=head) for r in work.book.where)]


def _row(cells: tuple[str, ...], widths: list[float], look: Look) -> Box:
    set_cells: list[tuple[Line, ...]] = [
        lines([Span(cell, look)], wide - 6) for cell, wide in zip(cells, widths, strict=True)
    ]
    high = max(len(cell) for cell in set_cells) * look.leading + 5.0

    def draw(pen: Pen, x: float, top: float) -> None:
        left = x
        for cell, wide in zip(set_cells, widths, strict=True):
            draw_lines(pen, cell, look, left + 3, top - 2.0)
            left += wide
        pen.rule(x, top - high, x + sum(widths), top - high, ink=INK, thick=0.5)

    return Box(high, draw)


def _snippets(snippets: tuple[Snippet, ...], wide: float) -> list[Box]:
    """Set the lines to copy in two columns of frames, side by side."""
    half = (wide - _BESIDE) / 2
    boxes = []
    for first in range(0, len(snippets), 2):
        pair = [_snippet(one, half) for one in snippets[first : first + 2]]
        boxes.append(_side_by_side(pair, half))
    return boxes


def _side_by_side(pair: list[Box], half: float) -> Box:
    def draw(pen: Pen, x: float, top: float) -> None:
        for i, box in enumerate(pair):
            box.draw(pen, x + i * (half + _BESIDE), top)

    return Box(max(box.height for box in pair), draw, above=9.0)


def _snippet(snippet: Snippet, wide: float) -> Box:
    pad = 6.0
    title = lines([Span(snippet.title, STRONG)], wide - 2 * pad)
    file = one_line([Span(f"in {snippet.file}", SMALL)], wide - 2 * pad)
    code = [
        line for text in snippet.lines for line in lines([Span(text, _CODE)], wide - 2 * pad - 6)
    ]
    upper = len(title) * STRONG.leading + SMALL.leading + pad
    high = upper + len(code) * _CODE.leading + pad + 2

    def draw(pen: Pen, x: float, top: float) -> None:
        pen.frame(x, top - high, wide, high, ink=INK, thick=0.8)
        draw_lines(pen, title, STRONG, x + pad, top - pad + 1)
        draw_lines(pen, (file,), SMALL, x + pad, top - pad + 1 - len(title) * STRONG.leading)
        draw_lines(pen, code, _CODE, x + pad + 6, top - upper)
        pen.fill(x + pad, top - high + pad, 1.6, high - upper - pad, INK)

    return Box(high, draw)


def _card_sheet(work: _Book, number: int, cards: tuple[PrintedCard, ...]) -> None:
    """Fill a sheet of cards, with its check lines around them."""
    book, place = work.book, f"sheet-{number}"
    count = len(book.sheets)
    which = f"sheet {number} of {count}"
    work.outline.append((f"Cards, {which}", place))

    def draw(pen: Pen) -> None:
        pen.mark(place, work.size[1])
        paper = on_paper(pen, book.paper)
        with pen.tagged("H2"):
            _over(paper, f"Scale cards, {which}: {book.title}", STRONG, 7.2)
        with pen.tagged("P"):
            _over(paper, _PRINT, SMALL, 11.6)
        with pen.tagged("P"):
            _over(paper, _FIRST.format(**LENGTHS[book.paper]), SMALL, 15.2)
        for card, at in zip(cards, card_places(book.paper), strict=False):
            with pen.tagged("P"), pen.described(_shows(card)):
                draw_card(paper, card, at)
        with pen.tagged("P"):
            draw_check_lines(paper, book.paper)

    work.pages.append(draw)


_PRINT = "Print at 100 % (actual size), never “fit to page”."
_FIRST = (
    "Before you cut: measure both check lines and write them down. {along} along, {across} across; "
    "within {within} passes."
)


def _shows(card: PrintedCard) -> str:
    if card.seam is None:
        return f"Scale card {card.card}, a spare."
    return f"Scale card {card.card} for seam {card.seam}, station {card.station}."


def _over(paper: Paper, text: str, look: Look, top: float) -> None:
    """Write a line centred over the cards."""
    pen, size = paper.pen, paper.wide * POINT
    line = one_line([Span(text, look)], size - 2 * SIDE)
    pen.line(line, (size - line.width) / 2, paper.y(top) - baseline(look))


def _loose(work: _Book) -> None:
    """Fill the sheet of loose tags."""
    book = work.book
    work.outline.append(("Loose tags", "loose"))
    text = lines([Span(book.loose, TEXT)], work.wide)

    def draw(pen: Pen) -> None:
        pen.mark("loose", work.size[1])
        paper = on_paper(pen, book.paper)
        with pen.tagged("H2"):
            draw_lines(
                pen,
                (one_line([Span("Loose tags: DRY FIT, FASTENED, CHECK", _TITLE)], work.wide),),
                _TITLE,
                SIDE,
                work.size[1] - TOP,
            )
        with pen.tagged("P"):
            draw_lines(pen, text, TEXT, SIDE, work.size[1] - TOP - _TITLE.leading - 6)
        with pen.tagged("P"), pen.described("Three labels to cut out, each with its tag."):
            draw_loose(paper, book.paper)

    work.pages.append(draw)
