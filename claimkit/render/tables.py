"""Tables set as boxes: one row a box, the heads repeated on each page, rows too high cut by lines.

Sources that all cells of a row share stand once, in a narrow column at the right, so that tags do
not bury the figures.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from claimkit.model.document import Statement, Table
from claimkit.model.source import Source
from claimkit.render.blocks import sign
from claimkit.render.boxes import Box
from claimkit.render.pen import Pen
from claimkit.render.setting import Room, draw_lines, spans, tag_spans
from claimkit.render.sources import Numbers
from claimkit.render.style import BLACK, CELL, CELL_SMALL, GREY, HAIR, Look, strong
from claimkit.render.text import Line, Span, lines, shortened

PAD = 5.0
_SIGN = 9.0  # room for the sign in front of an emphasis
_ROUNDING = 0.5  # so that what just fits is not broken by the last digit
_ABOVE_TEXT, _BELOW_TEXT = 2.6, 3.0
_TAG_COLUMN, _NUMBER_COLUMN = 54.0, 26.0
_HEAD = 80  # characters of a column head, which is repeated on each page
_SHORT = 16  # characters that are not broken where there is room
_NUMBER = re.compile(r"(?:[A-Z]{3} ?|[$€£] ?)?[-−+]?\d[\d,]*(?:\.\d+)?(?: ?(?:%|mm|in|lb|kg))?|–|")


@dataclass(frozen=True, slots=True)
class _Cell:
    """Set lines of a cell; `emphasis` is printed in lines of its own above them, its `mark`."""

    lines: tuple[Line, ...]
    emphasis: str = ""
    right: bool = False
    mark: tuple[Line, ...] = ()

    @property
    def rows(self) -> int:
        return len(self.lines) + len(self.mark)


@dataclass(frozen=True, slots=True)
class _Grid:
    """Where the columns begin and how wide they are; the last may hold source tags."""

    lefts: tuple[float, ...]
    wides: tuple[float, ...]
    look: Look
    wide: float
    right: tuple[bool, ...]
    numbers: Numbers
    lists_files: bool


def table(block: Table, room: Room) -> list[Box]:
    """Set a table. Its first row stays with the heads, and heads are repeated on each page."""
    shared = [_shared(row) for row in block.rows]
    grid = _grid(block, room, tagged=block.lists_files or any(shared))
    head = _row_box(_heads(block, grid), grid, (True, True), thick=0.9)
    boxes = [Box(head.height, head.draw, above=8.0, stays=True)]
    count = len(block.rows)
    for i, (row, common) in enumerate(zip(block.rows, shared, strict=True), 1):
        slices = _slices(_cells(row, common, grid), grid, room)
        # The last row does not stand alone on a page.
        stays = 1 < i == count - 1
        boxes += [Box(box.height, box.draw, head=head, stays=stays) for box in slices]
    return boxes


def _shared(row: Sequence[Statement]) -> frozenset[Source]:
    """Give the sources that every cell of a row has, where there are at least two cells."""
    sets = [frozenset[Source](statement.sources) for statement in row if statement.text]
    return frozenset.intersection(*sets) if len(sets) > 1 else frozenset()


def _is_numbers(column: Sequence[str]) -> bool:
    return any(any(c.isdigit() for c in text) for text in column) and all(
        _NUMBER.fullmatch(text.strip()) for text in column
    )


def _heads(block: Table, grid: _Grid) -> list[_Cell]:
    look = strong(grid.look)
    texts, sides = [*block.heads], [*grid.right]
    if block.lists_files:
        texts, sides = ["No.", *texts], [False, *sides]
    elif len(grid.wides) > len(texts):
        texts, sides = [*texts, "Source"], [*sides, False]
    return [
        _Cell(lines([Span(shortened(text, _HEAD), look)], wide), right=side)
        for text, wide, side in zip(texts, grid.wides, sides, strict=True)
    ]


def _cells(row: Sequence[Statement], common: frozenset[Source], grid: _Grid) -> list[_Cell]:
    """Set a row's cells; an emphasis that all share is printed once, in the last."""
    numbers, look = grid.numbers, grid.look
    every = common if not grid.lists_files else {s for cell in row for s in cell.sources}
    hidden = frozenset(numbers.of(source).number for source in every)
    wides = grid.wides[1:] if grid.lists_files else grid.wides
    same = len({statement.emphasis for statement in row}) == 1
    made = []
    for i, statement in enumerate(row):
        emphasis = statement.emphasis if not same or i == len(row) - 1 else ""
        text = lines(spans(statement, look, numbers, own=hidden), wides[i])
        mark: tuple[Line, ...] = ()
        if emphasis:
            mark = lines([Span(emphasis, _word_look(look))], max(wides[i] - _SIGN, 1.0))
        made.append(_Cell(text, emphasis, grid.right[i], mark))
    if grid.lists_files:
        cited = [s for s in row[0].sources[:1] if numbers.of(s) in numbers.entries]
        tag = [Span(t, look.to(numbers.place(n))) for t, n in numbers.tags(cited)]
        return [_Cell(lines(tag, grid.wides[0])), *made]
    if len(grid.wides) > len(row):
        ordered = [source for source in row[0].sources if source in common]
        tags = tag_spans(numbers, numbers.tags(ordered), look)
        made.append(_Cell(lines(tags, grid.wides[-1])))
    return made


def _grid(block: Table, room: Room, tagged: bool) -> _Grid:
    look = CELL_SMALL if block.small else CELL
    cells = [[statement.text for statement in row] for row in block.rows]
    outer = (_NUMBER_COLUMN if block.lists_files else _TAG_COLUMN) if tagged else 0.0
    count = len(block.heads)
    free = room.wide - outer - 2 * PAD * (count + bool(outer) - 1)
    asked = [free * part / sum(block.widths) for part in block.widths]
    columns = [[row[i] for row in cells] for i in range(count)]
    marks = [
        max((_mark_wide(row[i].emphasis, look) for row in block.rows), default=0.0)
        for i in range(count)
    ]
    least = [
        min(
            free * 0.3,
            max(mark, _least(head, strong(look)), *(_least(text, look) for text in column)),
        )
        if column
        else _least(head, strong(look))
        for head, column, mark in zip(block.heads, columns, marks, strict=True)
    ]
    wides = _eased(asked, least)
    if outer:
        wides = [outer, *wides] if block.lists_files else [*wides, outer]
    lefts = [sum(wides[:i]) + 2 * PAD * i for i in range(len(wides))]
    right = tuple(_is_numbers(column) for column in columns)
    return _Grid(
        tuple(lefts), tuple(wides), look, room.wide, right, room.numbers, block.lists_files
    )


def _word_look(look: Look) -> Look:
    """Give how an emphasis is printed: strong, and a little smaller than the cell's text."""
    return Look(look.size * 0.9, look.leading, strong=True)


def _mark_wide(emphasis: str, look: Look) -> float:
    """Tell how wide an emphasis is in one line, with the sign in front of it."""
    if not emphasis:
        return 0.0
    return _SIGN + _ROUNDING + lines([Span(emphasis, _word_look(look))], 1e9)[0].width


def _least(text: str, look: Look) -> float:
    """Tell how wide a text needs to be: a short one, such as a date, whole; else a word of it."""
    parts = [text] if len(text) <= _SHORT else re.split(r"[\s/]+", text)
    return max(lines([Span(part, look)], 1e9)[0].width for part in parts)


def _eased(asked: list[float], least: list[float]) -> list[float]:
    """Widen columns whose longest word would not fit, at the expense of those with room."""
    lacking = [max(0.0, need - have) for have, need in zip(asked, least, strict=True)]
    spare = [max(0.0, have - need) for have, need in zip(asked, least, strict=True)]
    if not sum(lacking) or not sum(spare):
        return asked
    part = min(1.0, sum(spare) / sum(lacking))
    taken = part * sum(lacking) / sum(spare)
    return [
        have + part * lack - taken * room
        for have, lack, room in zip(asked, lacking, spare, strict=True)
    ]


def _slices(cells: list[_Cell], grid: _Grid, room: Room) -> list[Box]:
    """Give one box for a row, or several where it is higher than half a page."""
    most = max(4, int(room.high / 2 / grid.look.leading))
    rows = max(cell.rows for cell in cells)
    if rows <= most:
        return [_row_box(cells, grid, (True, True))]
    boxes = []
    for start in range(0, rows, most):
        part = [_cut(cell, start, start + most) for cell in cells]
        ends = (start == 0, start + most >= rows)
        boxes.append(_row_box(part, grid, ends))
    return boxes


def _cut(cell: _Cell, start: int, stop: int) -> _Cell:
    extra = len(cell.mark)
    kept = cell.lines[max(0, start - extra) : max(0, stop - extra)]
    return _Cell(kept, cell.emphasis if start == 0 else "", cell.right, cell.mark[start:stop])


def _row_box(cells: list[_Cell], grid: _Grid, ends: tuple[bool, bool], thick: float = 0.4) -> Box:
    """Give a box for one row, with its rule below where it ends."""
    above, below = _ABOVE_TEXT * ends[0], _BELOW_TEXT * ends[1]
    high = max(cell.rows for cell in cells) * grid.look.leading + above + below
    word_look = _word_look(grid.look)

    def draw(pen: Pen, x: float, top: float) -> None:
        for cell, left, wide in zip(cells, grid.lefts, grid.wides, strict=True):
            y = top - above
            if cell.emphasis:
                sign(pen, cell.emphasis, x + left + 3, y - grid.look.leading * 0.5)
            for line in cell.mark:
                draw_lines(pen, (line,), word_look, x + left + _SIGN, y)
                y -= grid.look.leading
            for line in cell.lines:
                shift = wide - line.width if cell.right else 0.0
                draw_lines(pen, (line,), grid.look, x + left + shift, y)
                y -= grid.look.leading
        if ends[1]:
            ink = HAIR if thick < 0.5 else GREY if thick < 0.8 else BLACK
            pen.rule(x, top - high, x + grid.wide, top - high, ink=ink, thick=thick)

    return Box(high, draw)
