"""The drawings beside the steps for scale cards: plain strokes that survive a black printer.

Each drawing is a box of known height for a width in points, with an alternate description for
those who hear the page. They show how, not how large: nothing in them is to scale.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from claimkit.render.boxes import Box
from claimkit.render.pen import Pen
from claimkit.render.style import Ink, Look
from claimkit.render.text import Span, one_line
from claimkit.rules import card_layout as layout

INK: Ink = (0.0, 0.0, 0.0)
WHITE: Ink = (1.0, 1.0, 1.0)
PANEL: Ink = (0.88, 0.88, 0.88)
TAPE: Ink = (0.62, 0.62, 0.62)
NOTE = Look(8.0, 9.8, ink=INK)
STRONG = Look(8.6, 10.4, strong=True, ink=INK)


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing: what it shows in words, its width and height in points, and how it is drawn.

    It is drawn from its upper left corner, y upwards.
    """

    shows: str
    wide: float
    high: float
    draw: Callable[[Pen, float, float], None]

    def box(self) -> Box:
        """Give it as a box; a screen reader is told what it shows."""

        def draw(pen: Pen, x: float, top: float) -> None:
            with pen.described(self.shows):
                self.draw(pen, x, top)

        return Box(self.high, draw)


def note(
    pen: Pen, text: str, at: tuple[float, float], look: Look = NOTE, *, part: float = 0.0
) -> None:
    """Write a short text on a baseline; `part` of its width lies to the left of the place."""
    line = one_line([Span(text, look)], 1e6)
    pen.line(line, at[0] - line.width * part, at[1])


def _stroke(pen: Pen, *points: tuple[float, float], thick: float = 0.8) -> None:
    for (x0, y0), (x1, y1) in pairwise(points):
        pen.rule(x0, y0, x1, y1, ink=INK, thick=thick)


def _arrow(pen: Pen, tail: tuple[float, float], tip: tuple[float, float]) -> None:
    """Draw an arrow with a filled head."""
    (x0, y0), (x1, y1) = tail, tip
    length = max(((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5, 1e-6)
    dx, dy = (x1 - x0) / length, (y1 - y0) / length
    _stroke(pen, tail, (x1 - 4 * dx, y1 - 4 * dy), thick=0.7)
    base = (x1 - 5.5 * dx, y1 - 5.5 * dy)
    pen.shape(
        [tip, (base[0] - 2 * dy, base[1] + 2 * dx), (base[0] + 2 * dy, base[1] - 2 * dx)], INK
    )


def _card(pen: Pen, x: float, top: float, scale: float) -> None:
    """Draw a card over a seam in simple strokes; what lies in its notches stays in view."""

    def px(mm: float) -> float:
        return x + mm * scale

    def py(mm: float) -> float:
        return top - mm * scale

    left = layout.NOTCHES[0].x
    right, deep = left + layout.NOTCH_WIDE, layout.NOTCH_DEEP
    wide, high, low = layout.CARD_WIDE, layout.CARD_HIGH, layout.CARD_HIGH - deep
    outline = [
        (0, 0), (left, 0), (left, deep), (right, deep), (right, 0), (wide, 0),
        (wide, high), (right, high), (right, low), (left, low), (left, high), (0, high),
    ]  # fmt: skip
    points = [(px(a), py(b)) for a, b in outline]
    pen.shape(points, WHITE)
    _stroke(pen, *points, points[0], thick=0.7)
    for _, box in layout.TAG_PLACES:
        pen.fill(px(box.x), py(box.y + box.high), box.wide * scale, box.high * scale, INK)
        for a, b in ((6, 6), (12, 9), (9, 15)):  # a hint of a tag, none of any number
            side = 3 * scale
            pen.fill(px(box.x + a), py(box.y + b + 3), side, side, WHITE)
    for tick, start, end in layout.TICKS:
        _stroke(pen, (px(tick), py(start)), (px(tick), py(end)), thick=1.1)


def _seam(pen: Pen, x: float, top: float, size: tuple[float, float], gap: float) -> None:
    """Draw two panels with a dark gap between them."""
    wide, high = size
    pen.fill(x, top - high, wide, high, PANEL)
    pen.fill(x + wide / 2 - gap / 2, top - high, gap, high, INK)


def _sheet(pen: Pen, x: float, top: float) -> None:
    wide, high = 84.0, 108.0
    left = x + 46
    pen.fill(left, top - high, wide, high, WHITE)
    pen.frame(left, top - high, wide, high, ink=INK, thick=0.8)
    for column in range(layout.SHEET_COLUMNS):
        for row in range(layout.SHEET_ROWS):
            pen.frame(left + 12 + column * 33, top - 38 - row * 28, 33, 28, ink=TAPE, thick=0.5)
    _line(pen, (left + 6, top - 5), (left + 6, top - high + 5))
    _line(pen, (left + 14, top - high + 5), (left + wide - 6, top - high + 5))
    note(pen, "along", (x + 26, top - 52), STRONG, part=1.0)
    _arrow(pen, (x + 28, top - 49), (left + 3, top - 49))
    note(pen, "across", (left + wide + 22, top - 92), STRONG)
    _arrow(pen, (left + wide + 20, top - 90), (left + wide - 14, top - high + 8))


def _line(pen: Pen, start: tuple[float, float], end: tuple[float, float]) -> None:
    """Draw a check line with its ticks."""
    _stroke(pen, start, end, thick=1.3)
    across = 3.0 if start[0] == end[0] else 0.0
    for x, y in (start, end):
        _stroke(pen, (x - across, y - 3.0 + across), (x + across, y + 3.0 - across), thick=1.3)


def _taped(pen: Pen, x: float, top: float) -> None:
    scale, left = 1.02, x + 4
    wide, high = layout.CARD_WIDE * scale, layout.CARD_HIGH * scale
    _seam(pen, left, top, (wide + 24, high + 24), 5)
    at_x, at_y = left + 12, top - 12
    _card(pen, at_x, at_y, scale)
    for cx, cy in ((0, 0), (wide, 0), (wide, -high), (0, -high)):
        pen.fill(at_x + cx - 7, at_y + cy - 2.2, 14, 4.4, TAPE)
        pen.frame(at_x + cx - 7, at_y + cy - 2.2, 14, 4.4, ink=INK, thick=0.4)
    note_x = left + wide + 44
    lines = (
        ("tape at the four outer corners", (at_x + wide + 7, at_y), top - 14),
        ("the seam shows in both notches", (at_x + wide / 2 + 3, at_y - 12), top - 36),
        ("both ticks on the seam", (at_x + wide / 2 + 1, at_y - high * 0.37), top - 58),
        ("nothing over a black square", (at_x + wide - 10, at_y - high * 0.75), top - 80),
    )
    for text, to, y in lines:
        note(pen, text, (note_x, y - 2.5))
        pen.rule(note_x - 3, y, to[0], to[1], ink=TAPE, thick=0.9)
        pen.disc(to[0], to[1], 1.6, INK)


def _phone(pen: Pen, x: float, y: float) -> None:
    """Draw a phone seen from above, flat to the panels."""
    pen.fill(x - 14, y - 2.5, 28, 5, INK)
    pen.fill(x - 3, y + 2.5, 6, 2, INK)


def _stand(pen: Pen, x: float, top: float) -> None:
    for number, (words, draw) in enumerate(_FRAMES, start=1):
        left = x + (number - 1) * 84
        draw(pen, left, top)
        pen.frame(left, top - 56, 74, 56, ink=INK, thick=0.9)
        note(pen, str(number), (left, top - 67), STRONG)
        note(pen, words, (left + 8, top - 67))
    _from_above(pen, x + 4 * 84 + 6, top)


def _overall(pen: Pen, x: float, top: float) -> None:
    pen.fill(x, top - 56, 74, 56, WHITE)
    for left in (15, 37.6):
        pen.fill(x + left, top - 50, 21.4, 46, PANEL)
        pen.frame(x + left, top - 50, 21.4, 46, ink=TAPE, thick=0.5)
    pen.fill(x + 36.4, top - 50, 1.2, 46, INK)
    _stroke(pen, (x, top - 50), (x + 74, top - 50), thick=0.6)
    _label(pen, x + 61, top - 38)


def _label(pen: Pen, x: float, top: float) -> None:
    """Draw a loose tag's label."""
    pen.fill(x, top - 14, 10, 14, WHITE)
    pen.frame(x, top - 14, 10, 14, ink=INK, thick=0.4)
    pen.fill(x + 1.5, top - 8.5, 7, 7, INK)
    pen.fill(x + 3.5, top - 5.5, 2, 2, WHITE)
    _stroke(pen, (x + 1.5, top - 11.3), (x + 8.5, top - 11.3), thick=1.2)


def _close(pen: Pen, x: float, top: float) -> None:
    _seam(pen, x, top, (74, 56), 3.2)


def _with_card(pen: Pen, x: float, top: float, off: float) -> None:
    """Draw card and label in a picture in which the seam stands that far beside the middle."""
    pen.fill(x, top - 56, 74, 56, PANEL)
    pen.fill(x + 37 + off - 1.6, top - 56, 3.2, 56, INK)
    _card(pen, x + 37 + off - 46 * 0.27, top - 17, 0.27)
    _label(pen, x + 37 + off + 15, top - 21)


def _from_left(pen: Pen, x: float, top: float) -> None:
    _with_card(pen, x, top, 7.0)


def _from_right(pen: Pen, x: float, top: float) -> None:
    _with_card(pen, x, top, -7.0)


_FRAMES: tuple[tuple[str, Callable[[Pen, float, float], None]], ...] = (
    ("whole seam", _overall),
    ("close, no card", _close),
    ("from the left", _from_left),
    ("from the right", _from_right),
)


def _from_above(pen: Pen, x: float, top: float) -> None:
    """Draw both places of the phone from above: panels, card, and the distance kept."""
    wide, middle, wall = 150.0, x + 75.0, top - 12.0
    note(pen, "from above", (x, top - 6))
    pen.fill(x, wall - 9, wide / 2 - 2, 6, PANEL)
    pen.fill(middle + 2, wall - 9, wide / 2 - 2, 6, PANEL)
    _stroke(pen, (middle - 16, wall - 10.5), (middle + 16, wall - 10.5), thick=1.6)
    note(pen, "card", (middle + 20, wall - 17))
    for side, number in ((-1, "3"), (1, "4")):
        at = middle + side * 19
        for edge in (-16, 16):
            pen.rule(at, top - 50, middle + edge, wall - 12, ink=TAPE, thick=0.6)
        _phone(pen, at, top - 54)
        note(pen, number, (at, top - 67), STRONG, part=0.5)
    for level in (wall - 10.5, top - 50):
        pen.rule(x + 30, level, middle - 34, level, ink=INK, thick=0.4)
    _arrow(pen, (x + 34, wall - 28), (x + 34, wall - 10.5))
    _arrow(pen, (x + 34, wall - 28), (x + 34, top - 50))
    note(pen, "20 to", (x + 30, top - 32), part=1.0)
    note(pen, "30 cm", (x + 30, top - 41), part=1.0)
    note(pen, "phone flat", (middle + 37, top - 47))
    note(pen, "to the panels", (middle + 37, top - 56))


def _bench(pen: Pen, x: float, top: float) -> None:
    left, foot = x + 4, top - 40.0
    pen.fill(left, foot, 66, 16, PANEL)
    pen.fill(left + 78, foot, 66, 16, PANEL)
    pen.fill(left + 66, foot, 12, 13, INK)
    for at in (left, left + 78):
        pen.frame(at, foot, 66, 16, ink=INK, thick=0.6)
    _stroke(pen, (left + 34, foot + 17.6), (left + 110, foot + 17.6), thick=1.8)
    _stroke(pen, (left - 4, foot - 1), (left + 148, foot - 1), thick=0.6)
    note(pen, "offcut", (left + 22, foot + 5), part=0.5)
    note(pen, "offcut", (left + 122, foot + 5), part=0.5)
    note(pen, "card", (left + 114, top - 20))
    note(pen, "spacer of known thickness", (left + 72, foot - 17), part=0.5)
    _arrow(pen, (left + 72, foot - 9), (left + 72, foot))
    _phone(pen, left + 54, top - 6)
    note(pen, "phone, flat to the offcuts", (left + 74, top - 8.5))


DRAWINGS: dict[str, Drawing] = {
    "sheet": Drawing(
        "A sheet of six cards with a check line along it and one across it.", 180, 112, _sheet
    ),
    "card": Drawing(
        "A card taped over a seam: the seam shows in both notches, both ticks stand on it, tape "
        "holds the four outer corners.",
        268,
        108,
        _taped,
    ),
    "stand": Drawing(
        "Four pictures: the whole seam with the loose tag; close without the card; close with card "
        "and tag from the left; the same from the right. From above: the phone flat to the panels, "
        "first a little left of the seam, then a little right of it.",
        500,
        72,
        _stand,
    ),
    "bench": Drawing(
        "Two offcuts with a spacer of known thickness between them, a card over the joint, and a "
        "phone above, flat to them.",
        180,
        62,
        _bench,
    ),
}
