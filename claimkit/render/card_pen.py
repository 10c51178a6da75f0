"""Scale cards and their sheet drawn to size: tags, notches, ticks, cutting lines, check lines.

Lengths are the layout's millimetres from the paper's top left corner; the PDF's own are points
from its lower left corner, and are reached by one factor and nowhere else.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace

from claimkit.compose.sheets.cards import PrintedCard
from claimkit.render.pen import Pen
from claimkit.render.setting import baseline
from claimkit.render.style import Ink, Look
from claimkit.render.text import Span, one_line
from claimkit.rules import card_layout as layout
from claimkit.rules.card_layout import Box
from claimkit.rules.card_sheet import CHECK_TICK, check_line_ends, loose_places, paper_size

POINT = 72.0 / 25.4
"""Points in a millimetre (ISO 32000-1, 8.3.2.3)."""
INK: Ink = (0.0, 0.0, 0.0)
WHITE: Ink = (1.0, 1.0, 1.0)
NUMBER = Look(12.5, 14.5, strong=True, ink=INK)
NAME = Look(8.6, 10.2, strong=True, ink=INK)
SMALL = Look(7.0, 8.4, ink=INK)
HINT = Look(7.4, 9.0, ink=INK)
LINE_LABEL = Look(7.6, 9.4, ink=INK)
WORDS = Look(23.0, 27.0, strong=True, ink=INK)
_CUT = 0.45
_LEAST_SIZE = 5.6


@dataclass(frozen=True, slots=True)
class Paper:
    """A pen on a paper of that width and height in mm."""

    pen: Pen
    wide: float
    high: float

    def x(self, mm: float) -> float:
        """Give a distance from the left in points."""
        return mm * POINT

    def y(self, mm: float) -> float:
        """Give a distance from the top as points from the foot."""
        return (self.high - mm) * POINT

    def line(self, ends: tuple[float, float, float, float], thick: float) -> None:
        """Draw a black line between two points in mm."""
        x0, y0, x1, y1 = ends
        self.pen.rule(self.x(x0), self.y(y0), self.x(x1), self.y(y1), ink=INK, thick=thick)

    def text(self, text: str, look: Look, centre: float, top: float, wide: float) -> None:
        """Write one line about a centre, set smaller and then cut where it is wider than `wide`."""
        whole = one_line([Span(text, look)], 1e6).width
        size = max(_LEAST_SIZE, min(look.size, 0.99 * look.size * wide * POINT / max(whole, 1.0)))
        fitted = replace(look, size=size)
        line = one_line([Span(text, fitted)], wide * POINT)
        self.pen.line(line, self.x(centre) - line.width / 2.0, self.y(top) - baseline(fitted))


def draw_tag(paper: Paper, tag: int, box: Box) -> None:
    """Draw a tag: a black square, and all its white cells as one shape, so that none shows seams.

    Neighbouring shapes would leave hairlines between them in many viewers.
    """
    cell = box.wide / layout.TAG_CELLS
    canvas = paper.pen.canvas
    paper.pen.fill(
        paper.x(box.x), paper.y(box.y + box.high), box.wide * POINT, box.high * POINT, INK
    )
    canvas.setFillColorRGB(*WHITE)
    path = canvas.beginPath()
    for row, cells in enumerate(layout.cells(tag)):
        for first, count in _runs(cells):
            x, y = box.x + first * cell, box.y + (row + 1) * cell
            path.rect(paper.x(x), paper.y(y), count * cell * POINT, cell * POINT)
    canvas.drawPath(path, stroke=0, fill=1)


def _runs(cells: tuple[bool, ...]) -> Iterator[tuple[int, int]]:
    """Give each run of white cells in a row: the first, and how many."""
    start = None
    for i, white in enumerate((*cells, False)):
        if white and start is None:
            start = i
        elif not white and start is not None:
            yield start, i - start
            start = None


def draw_card(paper: Paper, card: PrintedCard, at: tuple[float, float]) -> None:
    """Draw one card with its top left corner at a place on the paper."""
    x, y = at
    tags = layout.tags_of(card.card)
    for tag, (_, box) in zip(tags, layout.TAG_PLACES, strict=True):
        draw_tag(paper, tag, replace(box, x=x + box.x, y=y + box.y))
    for tick_x, top, low in layout.TICKS:
        paper.line((x + tick_x, y + top, x + tick_x, y + low), 0.8)
    _cut_lines(paper, at)
    for number, notch in enumerate(layout.NOTCHES):
        middle = y + notch.y + notch.high / 2.0
        paper.text("cut out", HINT, x + layout.SEAM_X, middle - 1.5, notch.wide)
        edge = notch.y + (notch.high if number == 0 else 0.0)
        scissors(paper, (x + notch.x + 6.0, y + edge))
    _bar(paper, card, at)
    _arrow(paper, (x + layout.INSET + layout.TAG / 2.0, y + layout.CARD_HIGH / 2.0))


def _bar(paper: Paper, card: PrintedCard, at: tuple[float, float]) -> None:
    """Write the card's number, seam and station between the ticks."""
    x, y = at[0] + layout.SEAM_X, at[1] + layout.NOTCH_DEEP + layout.TICK
    wide = layout.BAR.wide - 1.0
    paper.text(f"card {card.card}", NUMBER, x, y + 0.4, wide)
    if card.seam is None or card.station is None:
        paper.text("spare", SMALL, x, y + 5.4, wide)
        paper.text("seam ____________", SMALL, x, y + 9.0, wide)
        paper.text("station __________", SMALL, x, y + 13.2, wide)
        return
    paper.text(f"seam {card.seam}", NAME, x, y + 5.6, wide)
    paper.text(f"station {card.station}", NAME, x, y + 9.4, wide)
    if card.at:
        paper.text(f"{card.at} from start", SMALL, x, y + 13.4, wide)


def _arrow(paper: Paper, centre: tuple[float, float]) -> None:
    """Draw the arrow that keeps a card the same way up each time."""
    x, y = centre
    tip = ((x, y - 4.0), (x + 2.4, y + 0.2), (x - 2.4, y + 0.2))
    paper.pen.shape([(paper.x(a), paper.y(b)) for a, b in tip], INK)
    paper.text("up", HINT, x, y + 0.6, 10.0)


def _cut_lines(paper: Paper, at: tuple[float, float]) -> None:
    """Dash a card's outline and its notches; no line crosses the mouth of a notch."""
    x, y = at
    wide, high = layout.CARD_WIDE, layout.CARD_HIGH
    left = layout.NOTCHES[0].x
    right, deep = left + layout.NOTCH_WIDE, layout.NOTCH_DEEP
    low = high - deep
    ends = [(0.0, 0.0, 0.0, high), (wide, 0.0, wide, high)]
    for edge, to in ((0.0, deep), (high, low)):
        ends += [(0.0, edge, left, edge), (right, edge, wide, edge)]
        ends += [(left, edge, left, to), (right, edge, right, to), (left, to, right, to)]
    with dashed(paper):
        for x0, y0, x1, y1 in ends:
            paper.line((x + x0, y + y0, x + x1, y + y1), _CUT)


@contextmanager
def dashed(paper: Paper) -> Iterator[None]:
    """Dash the lines drawn inside: they are cut along."""
    paper.pen.canvas.setDash(3.0, 2.0)
    try:
        yield
    finally:
        paper.pen.canvas.setDash()


def scissors(paper: Paper, at: tuple[float, float], size: float = 4.6) -> None:
    """Draw scissors that cut to the right, their blades meeting on a line at that height."""
    x, y = at
    canvas = paper.pen.canvas
    part = size / 4.6
    paper.pen.fill(
        paper.x(x - 2.6 * part),
        paper.y(y + 1.7 * part),
        5.2 * part * POINT,
        3.4 * part * POINT,
        WHITE,
    )
    canvas.setStrokeColorRGB(*INK)
    canvas.setLineWidth(0.7)
    for side in (-1.0, 1.0):
        ring = y + side * 1.0 * part
        canvas.circle(paper.x(x - 1.7 * part), paper.y(ring), 0.72 * part * POINT, stroke=1, fill=0)
        paper.line(
            (x - 1.1 * part, ring - side * 0.35 * part, x + 2.3 * part, y - side * 0.7 * part), 0.8
        )


def draw_check_lines(paper: Paper, name: str) -> None:
    """Draw both check lines of a sheet with their ticks, lengths and places to write."""
    for ends, line in zip(check_line_ends(name), dict(layout.CHECK_LINES)[name], strict=True):
        x0, y0, x1, y1 = ends
        paper.line(ends, 0.6)
        for x, y in ((x0, y0), (x1, y1)):
            if line.way == "along":
                paper.line((x - CHECK_TICK, y, x + CHECK_TICK, y), 0.6)
            else:
                paper.line((x, y - CHECK_TICK, x, y + CHECK_TICK), 0.6)
        length = f"{line.written} ({line.length:g} mm)" if "in" in line.written else line.written
        said = f"check line {line.way} the sheet: {length} from tick to tick. Measured: __________"
        if line.way == "along":
            _upright(paper, said, (x0, (y0 + y1) / 2.0))
        else:
            paper.text(said, LINE_LABEL, (x0 + x1) / 2.0, y0 - 4.0, x1 - x0 - 8.0)


def _upright(paper: Paper, said: str, at: tuple[float, float]) -> None:
    """Write a line of text upwards, to the right of a line along the sheet."""
    canvas = paper.pen.canvas
    line = one_line([Span(said, LINE_LABEL)], 1e6)
    canvas.saveState()
    canvas.translate(paper.x(at[0]) + LINE_LABEL.size + 1.6, paper.y(at[1]))
    canvas.rotate(90)
    paper.pen.line(line, -line.width / 2.0, 0.0)
    canvas.restoreState()


def draw_loose(paper: Paper, name: str) -> None:
    """Draw the labels of the loose tags with their words and cutting lines."""
    places = loose_places(name)
    for tag, words, label, box in places:
        draw_tag(paper, tag, box)
        below = box.y + box.high
        paper.text(words, WORDS, label.x + label.wide / 2.0, below + 8.0, label.wide - 6.0)
    first, last = places[0][2], places[-1][2]
    low, end = first.y + first.high, last.x + last.wide
    with dashed(paper):  # neighbours share a line, and dashes drawn twice would close it
        for y in (first.y, low):
            paper.line((first.x, y, end, y), _CUT)
        for x in (*(label.x for _, _, label, _ in places), end):
            paper.line((x, first.y, x, low), _CUT)
    scissors(paper, (first.x + 10.0, first.y))


def on_paper(pen: Pen, name: str) -> Paper:
    """Give a paper of that name to draw on in mm."""
    return Paper(pen, *paper_size(name))
