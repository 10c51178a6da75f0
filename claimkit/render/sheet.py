"""A receiving sheet drawn as PDF: black on white, one page for the curb whatever it must hold.

The page for the curb is set as large as it fits and no smaller than can be read in the rain; items
that then have no room are counted and stand on the page for unpacking. The same document and paper
give the same bytes.
"""

from __future__ import annotations

import io
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

from claimkit import __version__
from claimkit.model.sheet import Block, Rows, SheetDocument, SheetPage
from claimkit.render import style
from claimkit.render.boxes import Box, Placed, paginate
from claimkit.render.glyphs import REGULAR, font, shown
from claimkit.render.pen import Pen
from claimkit.render.setting import baseline, draw_lines
from claimkit.render.sheet_blocks import INK, Setting, boxes_of, stacked
from claimkit.render.style import Look, Paper
from claimkit.render.text import Line, Span, lines, one_line
from claimkit.rules.sheet_texts import TEXTS

SIDE, TOP, FOOT = 34.0, 30.0, 30.0
_GUTTER = 16.0
# From comfortable to the smallest that is legible on wet paper at arm's length: 7.5 pt.
_SCALES = (1.14, 1.08, 1.03, 1.0, 0.97, 0.94, 0.91, 0.88, 0.85, 0.82, 0.79, 0.76)
_KEEP_ITEMS_DOWN_TO = 0.88
_LARGE = (1.3, 1.22, 1.15, 1.1, 1.06, 1.03, 1.0, 0.97, 0.94, 0.91, 0.88)
_TITLE = Look(20, 23, strong=True, ink=INK)
_JOB = Look(11.5, 14, strong=True, ink=INK)
_LABEL = Look(7.8, 9.6, ink=INK)
_VALUE = Look(10.4, 13, strong=True, ink=INK)
_CALL = Look(11.5, 14.4, strong=True, ink=INK)
_RUNNING = Look(8, 10, ink=INK)


@dataclass(frozen=True, slots=True)
class _Ready:
    """One paper filled: the sheet page it belongs to, and its boxes by their distance from top."""

    page: SheetPage
    placed: tuple[Placed, ...]


def render_sheet(document: SheetDocument, paper: Paper) -> bytes:
    """Draw a sheet as PDF. The result depends on document, paper and library versions only."""
    size = style.PAPER[paper]
    room = (size[0] - 2 * SIDE, size[1] - TOP - FOOT - 12)
    font(REGULAR)
    ready = [one for page in document.pages for one in _filled(page, room)]
    out = io.BytesIO()
    canvas = _canvas(out, document, size)
    pen = Pen(canvas)
    begun: set[str] = set()
    for number, one in enumerate(ready, 1):
        for placed in one.placed:
            placed.box.draw(pen, SIDE, size[1] - TOP - placed.down)
        _foot(pen, document, size, (number, len(ready)))
        if one.page.id not in begun:
            begun.add(one.page.id)
            pen.mark(one.page.id, size[1])
            title = f"{one.page.title}: {one.page.job}" if len(begun) == 1 else one.page.title
            canvas.addOutlineEntry(shown(title).replace("\n", " "), one.page.id, 0)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def _filled(page: SheetPage, room: tuple[float, float]) -> list[_Ready]:
    head = _head(page, room[0])
    if page.one_page:
        boxes = _one_page(page, room[0], room[1] - head.height)
    else:
        boxes = _flowing(page, room[0], room[1] - head.height)
    again = _head(replace(page, facts=(), call=None), room[0])
    pages = paginate([head, *boxes], room[1])
    return [
        _Ready(page, placed if i == 0 else _under(again, placed)) for i, placed in enumerate(pages)
    ]


def _under(head: Box, placed: tuple[Placed, ...]) -> tuple[Placed, ...]:
    """Put the page's title over a paper on which its table goes on."""
    return (Placed(head, 0.0), *(replace(p, down=p.down + head.height + 6) for p in placed))


def _one_page(page: SheetPage, wide: float, high: float) -> list[Box]:
    """Set a page as large as it fits; where it does not, leave the last items to the next page."""
    longest = max((len(b.texts) for b in _all(page) if isinstance(b, Rows)), default=0)
    for scale in _SCALES:
        setting = Setting(wide, scale, None, page.more)
        fits = _tall(_columns(page, setting)) <= high
        if fits and (scale >= _KEEP_ITEMS_DOWN_TO or not longest):
            return _columns(page, setting, high)
    for scale in _SCALES[_SCALES.index(_KEEP_ITEMS_DOWN_TO) :]:
        setting = Setting(wide, scale, 0, page.more)
        if _tall(_columns(page, setting)) <= high:
            rows = _most_rows(page, setting, longest, high)
            return _columns(page, replace(setting, rows=rows), high)
    return _columns(page, Setting(wide, _SCALES[-1], 0, page.more))


def _most_rows(page: SheetPage, setting: Setting, longest: int, high: float) -> int:
    """Find how many items have room, where none at all has; halving, as height grows with them."""
    fits, too_many = 0, longest
    while too_many - fits > 1:
        rows = (fits + too_many) // 2
        if _tall(_columns(page, replace(setting, rows=rows))) <= high:
            fits = rows
        else:
            too_many = rows
    return fits


def _all(page: SheetPage) -> Iterable[Block]:
    yield from page.top
    for column in page.columns:
        yield from column
    yield from page.below


def _tall(boxes: list[Box]) -> float:
    return sum(box.height + box.above for box in boxes)


def _columns(page: SheetPage, setting: Setting, high: float = 0.0) -> list[Box]:
    """Set a page; a column that is shorter than the page is set larger, where `high` allows."""
    boxes = boxes_of(page.top, setting)
    if page.columns:
        count = len(page.columns)
        wide = (setting.wide - _GUTTER * (count - 1)) / count
        narrow = replace(setting, wide=wide)
        left = high - _tall(boxes) - setting.pt(8)
        parts = [_column(column, narrow, left) for column in page.columns]

        def draw(pen: Pen, x: float, top: float) -> None:
            for i, part in enumerate(parts):
                part.draw(pen, x + i * (wide + _GUTTER), top)

        boxes.append(Box(max(part.height for part in parts), draw, above=setting.pt(8)))
    return boxes + boxes_of(page.below, setting)


def _column(blocks: tuple[Block, ...], setting: Setting, high: float) -> Box:
    """Set a column as large as `high` allows, at least at the page's scale."""
    plain = stacked(blocks, setting)
    for scale in _SCALES if plain.height < high else ():
        if scale <= setting.scale:
            break
        larger = stacked(blocks, replace(setting, scale=scale))
        if larger.height <= high:
            return larger
    return plain


def _flowing(page: SheetPage, wide: float, high: float) -> list[Box]:
    """Set a page large where it then fits on one paper; else at the ordinary size on several."""
    for scale in _LARGE:
        boxes = _columns(page, Setting(wide, scale, None, page.more))
        if _tall(boxes) <= high:
            return boxes
    return _columns(page, Setting(wide, 1.0, None, page.more))


def _head(page: SheetPage, wide: float) -> Box:
    """Set title and job at the left, whom to call in a frame at the right, then the facts."""
    call_wide = wide * 0.42 if page.call else 0.0
    title = one_line([Span(page.title, _TITLE)], wide - call_wide - 12)
    job = _two_lines(page.job, wide - call_wide - 12)
    left_high = _TITLE.leading + len(job) * _JOB.leading
    call_high = _call_height(page)
    upper = max(left_high, call_high) + 4
    facts = _fact_rows(page.facts, wide)
    high = upper + len(facts) * (_VALUE.leading + _LABEL.leading + 3)

    def draw(pen: Pen, x: float, top: float) -> None:
        draw_lines(pen, (title,), _TITLE, x, top)
        draw_lines(pen, job, _JOB, x, top - _TITLE.leading)
        if page.call:
            _call(pen, page, (x + wide - call_wide, top), (call_wide, call_high))
        y = top - upper
        for row in facts:
            for left, label, value in row:
                draw_lines(pen, (label,), _LABEL, x + left, y)
                draw_lines(pen, (value,), _VALUE, x + left, y - _LABEL.leading)
            y -= _VALUE.leading + _LABEL.leading + 3

    return Box(high, draw)


def _two_lines(text: str, wide: float) -> tuple[Line, ...]:
    """Set a title in at most two lines; what is longer ends in an ellipsis."""
    printed = shown(text)
    whole = lines([Span(printed, _JOB)], wide)
    if len(whole) <= 2:
        return whole
    first = "".join(piece.text for piece in whole[0].pieces)
    return whole[0], one_line([Span(printed[len(first) :].lstrip(), _JOB)], wide)


def _call_height(page: SheetPage) -> float:
    if not page.call:
        return 0.0
    return _LABEL.leading + max(1, len(page.call[1])) * _CALL.leading + 9


def _call(pen: Pen, page: SheetPage, at: tuple[float, float], size: tuple[float, float]) -> None:
    if page.call is None:
        return
    (x, top), (wide, high) = at, size
    label, numbers = page.call
    pen.frame(x, top - high, wide, high, ink=INK, thick=1.2)
    draw_lines(pen, lines([Span(label, _LABEL)], wide - 12)[:1], _LABEL, x + 6, top - 3)
    for i, (name, number) in enumerate(numbers):
        # The name gives way, never the number.
        late = one_line([Span(number, _CALL)], wide - 12)
        early = one_line([Span(name, _CALL)], wide - late.width - 20)
        y = top - 3 - _LABEL.leading - i * _CALL.leading
        draw_lines(pen, (early,), _CALL, x + 6, y)
        draw_lines(pen, (late,), _CALL, x + wide - 6 - late.width, y)
    if not numbers:
        y = top - high + 6
        pen.rule(x + 6, y, x + wide - 6, y, ink=INK, thick=0.8)


def _fact_rows(
    facts: tuple[tuple[str, str], ...], wide: float
) -> list[list[tuple[float, Line, Line]]]:
    """Place facts side by side, and begin a new row where the next has no room."""
    rows: list[list[tuple[float, Line, Line]]] = []
    x = wide + 1
    for label, value in facts:
        named = one_line([Span(label, _LABEL)], wide)
        said = one_line([Span(value or "____________", _VALUE)], wide)
        room = max(named.width, said.width, 54.0) + 18
        if x + room - 18 > wide:
            rows.append([])
            x = 0.0
        rows[-1].append((x, named, said))
        x += room
    return rows


def _canvas(out: io.BytesIO, document: SheetDocument, size: tuple[float, float]) -> Any:
    import reportlab
    from reportlab.pdfgen.canvas import Canvas

    canvas = Canvas(
        out,
        pagesize=size,
        pageCompression=1,
        invariant=1,
        initialFontName=REGULAR,
        lang="en-US" if document.language == "en" else "es-US",
        pdfVersion=(1, 7),
    )
    canvas.setTitle(shown(document.title).replace("\n", " "))
    canvas.setAuthor(f"claimkit {__version__}")
    canvas.setCreator(f"claimkit {__version__}")
    canvas.setProducer(f"reportlab {reportlab.__version__}")
    canvas.setViewerPreference("DisplayDocTitle", "true")
    return canvas


def _foot(
    pen: Pen, document: SheetDocument, size: tuple[float, float], number: tuple[int, int]
) -> None:
    said = str(getattr(TEXTS["page"], document.language)).format(page=number[0], pages=number[1])
    late = one_line([Span(said, _RUNNING)], size[0] / 2)
    early = one_line([Span(document.title, _RUNNING)], size[0] - 2 * SIDE - late.width - 20)
    top = FOOT
    pen.rule(SIDE, top + 1, size[0] - SIDE, top + 1, ink=INK, thick=0.5)
    pen.line(early, SIDE, top - baseline(_RUNNING))
    pen.line(late, size[0] - SIDE - late.width, top - baseline(_RUNNING))
