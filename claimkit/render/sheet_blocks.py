"""The blocks of a receiving sheet as boxes: black strokes that stay legible on wet paper.

Every block is set for a width and a scale, so that a page that must be one page can be set smaller
until it is. Lengths in points.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from claimkit.model.sheet import (
    Block,
    Boxed,
    Choices,
    Fields,
    Grid,
    Heading,
    Numbered,
    Paragraph,
    Rows,
    Ticks,
    Words,
)
from claimkit.render.boxes import Box, Draw
from claimkit.render.pen import Pen
from claimkit.render.setting import baseline, draw_lines
from claimkit.render.style import Ink, Look
from claimkit.render.text import Line, Span, lines, one_line

INK: Ink = (0.0, 0.0, 0.0)
PAPER: Ink = (1.0, 1.0, 1.0)
TEXT = Look(9.8, 12.2, ink=INK)
STRONG = Look(9.8, 12.2, strong=True, ink=INK)
STEP = Look(11.4, 14.4, strong=True, ink=PAPER)
LABEL = Look(8.2, 10.0, ink=INK)
SMALL = Look(8.4, 10.4, ink=INK)


@dataclass(frozen=True, slots=True)
class Setting:
    """How blocks are set: the width in points, the scale of type, and most lines of `Rows`.

    `more` is the sentence for lines that have no room, with {count} in it.
    """

    wide: float
    scale: float = 1.0
    rows: int | None = None
    more: str = ""

    def look(self, look: Look) -> Look:
        """Give a look at this scale."""
        return replace(look, size=look.size * self.scale, leading=look.leading * self.scale)

    def pt(self, length: float) -> float:
        """Give a length at this scale."""
        return length * self.scale


def boxes_of(blocks: tuple[Block, ...], setting: Setting) -> list[Box]:
    """Set blocks one below the other."""
    return [box for block in blocks for box in _block(block, setting)]


def stacked(blocks: tuple[Block, ...], setting: Setting) -> Box:
    """Set blocks as one box that is never split."""
    boxes = boxes_of(blocks, setting)

    def draw(pen: Pen, x: float, top: float) -> None:
        for i, box in enumerate(boxes):
            top -= box.above if i else 0.0
            box.draw(pen, x, top)
            top -= box.height

    return Box(sum(b.height + (b.above if i else 0.0) for i, b in enumerate(boxes)), draw)


def _block(block: Block, setting: Setting) -> list[Box]:  # noqa: PLR0911 - one line a block
    match block:
        case Heading():
            return [_heading(block, setting)]
        case Paragraph():
            return _paragraph(block, setting)
        case Boxed():
            return [_boxed(block, setting)]
        case Ticks():
            return [_tick(text, block.strong, setting) for text in block.texts]
        case Numbered():
            return [_numbered(block, setting)]
        case Rows():
            return _rows(block, setting)
        case Fields():
            rows = [_fields(row, setting) for row in block.rows]
            return [*(replace(row, stays=True) for row in rows[:-1]), rows[-1]]
        case Choices():
            return [_choices(block, setting)]
        case Words():
            return [_words(block, setting)]
        case Grid():
            return _grid(block, setting)


def _set(text: str, look: Look, wide: float) -> tuple[Line, ...]:
    return lines([Span(text, look)], wide)


def _heading(block: Heading, setting: Setting) -> Box:
    look = setting.look(STEP)
    high = look.leading + setting.pt(3)
    line = one_line([Span(block.text, look)], setting.wide - setting.pt(10))

    def draw(pen: Pen, x: float, top: float) -> None:
        pen.fill(x, top - high, setting.wide, high, INK)
        pen.line(line, x + setting.pt(5), top - setting.pt(1.5) - baseline(look))

    return Box(high, draw, above=setting.pt(7), stays=True)


def _paragraph(block: Paragraph, setting: Setting) -> list[Box]:
    look = setting.look(STRONG if block.strong else SMALL)
    text = _set(block.text, look, setting.wide)

    def draw(pen: Pen, x: float, top: float) -> None:
        draw_lines(pen, text, look, x, top)

    return [Box(len(text) * look.leading, draw, above=setting.pt(4))]


def _boxed(block: Boxed, setting: Setting) -> Box:
    """Set a frame: its title, then its texts in two columns, filled downwards."""
    pad = setting.pt(6)
    title_look, look = setting.look(STRONG), setting.look(STRONG if not block.texts else TEXT)
    columns = 2 if len(block.texts) > 1 else 1
    wide = (setting.wide - 2 * pad - (columns - 1) * setting.pt(14)) / columns
    title = _set(block.title, title_look, setting.wide - 2 * pad)
    items = [_set(text, look, wide - setting.pt(9)) for text in block.texts]
    deep = -(-len(items) // columns)
    parts = [items[i : i + deep] for i in range(0, len(items), deep)] if items else []
    gap = setting.pt(1.5)
    tall = max((sum(len(i) * look.leading + gap for i in part) for part in parts), default=0.0)
    high = len(title) * title_look.leading + tall + 2 * pad - setting.pt(2)

    def draw(pen: Pen, x: float, top: float) -> None:
        pen.frame(x, top - high, setting.wide, high, ink=INK, thick=1.6)
        draw_lines(pen, title, title_look, x + pad, top - pad + setting.pt(1))
        for number, part in enumerate(parts):
            left = x + pad + number * (wide + setting.pt(14))
            y = top - pad - len(title) * title_look.leading
            for item in part:
                pen.fill(left, y - look.leading * 0.62, setting.pt(3.6), setting.pt(3.6), INK)
                draw_lines(pen, item, look, left + setting.pt(9), y)
                y -= len(item) * look.leading + gap

    return Box(high, draw, above=setting.pt(6))


def _tick(text: str, strong: bool, setting: Setting) -> Box:
    look = setting.look(STRONG if strong else TEXT)
    side, indent = setting.pt(9.2), setting.pt(15)
    text_lines = _set(text, look, setting.wide - indent)

    def draw(pen: Pen, x: float, top: float) -> None:
        foot = top - look.leading * 0.5 - side * 0.5
        pen.frame(x + 0.6, foot, side, side, ink=INK, thick=1.0)
        draw_lines(pen, text_lines, look, x + indent, top)

    return Box(len(text_lines) * look.leading, draw, above=setting.pt(2.6))


def _numbered(block: Numbered, setting: Setting) -> Box:
    """Set a label, a box to tick for each piece with its number, and a place for the total."""
    look, small = setting.look(STRONG), setting.look(LABEL)
    side = setting.pt(19)
    total = one_line([Span(block.total, small)], setting.pt(60))
    blank = setting.pt(34)
    label = one_line([Span(block.label, look)], setting.wide - total.width - blank - 16)
    per_row = max(1, int((setting.wide + setting.pt(3)) // (side + setting.pt(3))))
    deep = -(-block.count // per_row)
    head = setting.pt(19)
    high = head + deep * (side + setting.pt(3))

    def draw(pen: Pen, x: float, top: float) -> None:
        draw_lines(pen, (label,), look, x, top - setting.pt(4))
        right = x + setting.wide
        draw_lines(pen, (total,), small, right - blank - total.width - 5, top - setting.pt(5))
        pen.rule(right - blank, top - setting.pt(15), right, top - setting.pt(15), ink=INK)
        for i in range(block.count):
            left = x + (i % per_row) * (side + setting.pt(3))
            foot = top - head - (i // per_row) * (side + setting.pt(3)) - side
            pen.frame(left, foot, side, side, ink=INK, thick=1.1)
            number = one_line([Span(str(i + 1), small)], side)
            draw_lines(pen, (number,), small, left + 2, foot + side - 0.5)

    return Box(high, draw, above=setting.pt(2))


def _rows(block: Rows, setting: Setting) -> list[Box]:
    """Set lines with a blank at the end; those beyond the setting's number are only counted."""
    kept = block.texts if setting.rows is None else block.texts[: setting.rows]
    left_out = len(block.texts) - len(kept)
    look, small = setting.look(TEXT), setting.look(LABEL)
    head = _ends(block.label, block.head, small, setting)
    boxes = [Box(small.leading, head, above=setting.pt(4), stays=True)]
    boxes += [_row(text, look, setting) for text in kept]
    if left_out:
        said = setting.more.format(count=left_out)
        boxes.append(Box(small.leading, _ends(said, "", small, setting), above=setting.pt(2)))
    return boxes


def _ends(left: str, right: str, look: Look, setting: Setting) -> Draw:
    late = one_line([Span(right, look)], setting.wide / 2)
    early = one_line([Span(left, look)], setting.wide - late.width - 8)

    def draw(pen: Pen, x: float, top: float) -> None:
        draw_lines(pen, (early,), look, x, top)
        draw_lines(pen, (late,), look, x + setting.wide - late.width, top)

    return draw


def _row(text: str, look: Look, setting: Setting) -> Box:
    blank = setting.pt(34)
    line = one_line([Span(text, look)], setting.wide - blank - 8)
    high = look.leading + setting.pt(2.5)

    def draw(pen: Pen, x: float, top: float) -> None:
        draw_lines(pen, (line,), look, x, top - setting.pt(2))
        right = x + setting.wide
        pen.rule(right - blank, top - high + 1.5, right, top - high + 1.5, ink=INK)

    return Box(high, draw)


def _fields(labels: tuple[str, ...], setting: Setting) -> Box:
    """Set labels on one line, each followed by a rule to write on."""
    look = setting.look(LABEL)
    gap = setting.pt(10)
    each = (setting.wide - gap * (len(labels) - 1)) / len(labels)
    set_labels = [one_line([Span(label, look)], each * 0.72) for label in labels]
    high = setting.pt(21)

    def draw(pen: Pen, x: float, top: float) -> None:
        foot = top - high + setting.pt(3)
        for number, label in enumerate(set_labels):
            left = x + number * (each + gap)
            pen.line(label, left, foot + setting.pt(1.5))
            begins = left + label.width + (4 if label.width else 0)
            pen.rule(begins, foot, left + each, foot, ink=INK, thick=0.8)

    return Box(high, draw, above=setting.pt(1))


def _choices(block: Choices, setting: Setting) -> Box:
    """Set a label and its options on one line, each behind a box; on more lines where too long."""
    look, side = setting.look(TEXT), setting.pt(9.2)
    label = one_line([Span(block.label, setting.look(STRONG))], setting.wide)
    gap, x, row = setting.pt(10), label.width + setting.pt(10), 0
    placed: list[tuple[float, int, Line]] = []
    for option in block.options:
        line = one_line([Span(option, look)], setting.wide - side - setting.pt(5))
        room = side + setting.pt(5) + line.width
        if x + room > setting.wide and x > 0:
            x, row = 0.0, row + 1
        placed.append((x, row, line))
        x += room + gap
    step = look.leading + setting.pt(2.6)

    def draw(pen: Pen, left: float, top: float) -> None:
        draw_lines(pen, (label,), look, left, top)
        for at, down, line in placed:
            y = top - down * step
            foot = y - look.leading * 0.5 - side * 0.5
            pen.frame(left + at + 0.6, foot, side, side, ink=INK, thick=1.0)
            draw_lines(pen, (line,), look, left + at + side + setting.pt(5), y)

    return Box(row * step + look.leading, draw, above=setting.pt(4))


def _words(block: Words, setting: Setting) -> Box:
    """Set words to copy: what they are for, the paper form, the handheld form behind a bar."""
    small, long_look = setting.look(LABEL), setting.look(STRONG)
    short_look = setting.look(replace(SMALL, strong=False))
    indent = setting.pt(7)
    title = _set(block.title, small, setting.wide)
    long_lines = _set(block.long, long_look, setting.wide - indent)
    short_lines = _set(block.short, short_look, setting.wide - indent)
    titles = len(title) * small.leading
    body = len(long_lines) * long_look.leading + len(short_lines) * short_look.leading

    def draw(pen: Pen, x: float, top: float) -> None:
        draw_lines(pen, title, small, x, top)
        y = top - titles
        pen.fill(x, y - body, setting.pt(2.2), body, INK)
        draw_lines(pen, long_lines, long_look, x + indent, y)
        y -= len(long_lines) * long_look.leading
        draw_lines(pen, short_lines, short_look, x + indent, y)

    return Box(titles + body, draw, above=setting.pt(4))


def _grid(block: Grid, setting: Setting) -> list[Box]:
    """Set a table to fill by hand: in each cell the order in small print over room to write."""
    whole = sum(block.shares)
    widths = [setting.wide * share / whole for share in block.shares]
    look, head_look = setting.look(SMALL), setting.look(replace(SMALL, strong=True))
    head = _grid_row(block.heads, widths, head_look, setting, write=False)
    rows = [_grid_row(row, widths, look, setting, write=True) for row in block.rows]
    boxes = [replace(head, above=setting.pt(4), stays=True)]
    return boxes + [replace(row, head=head) for row in rows]


def _grid_row(
    cells: tuple[str, ...], widths: list[float], look: Look, setting: Setting, *, write: bool
) -> Box:
    pad = setting.pt(3)
    set_cells = [_set(cell, look, wide - 2 * pad) for cell, wide in zip(cells, widths, strict=True)]
    first = len(set_cells[0])
    others = max(len(cell) for cell in set_cells[1:])
    # The first column says what it is; all others have room to write under their text.
    high = max(first, others) * look.leading + 2 * pad
    if write:
        high = max(high, others * look.leading + setting.pt(22))

    def draw(pen: Pen, x: float, top: float) -> None:
        left = x
        for cell, wide in zip(set_cells, widths, strict=True):
            pen.frame(left, top - high, wide, high, ink=INK, thick=0.7)
            draw_lines(pen, cell, look, left + pad, top - pad + setting.pt(1))
            left += wide

    return Box(high, draw)
