"""What every block needs to be set: the room, the source numbers and a few common boxes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from claimkit.model.document import Statement
from claimkit.render.boxes import Box
from claimkit.render.pen import Pen
from claimkit.render.sources import Numbers
from claimkit.render.style import HEADING, Look, tag_of
from claimkit.render.text import Line, Span, lines

EMPHASIS = ("supports", "does not support", "missing", "caution")


@dataclass(frozen=True, slots=True)
class Room:
    """The printable area in points and the numbers of the document's sources."""

    wide: float
    high: float
    numbers: Numbers


def spans(
    statement: Statement, look: Look, numbers: Numbers, own: frozenset[str] = frozenset()
) -> list[Span]:
    """Give a statement's text followed by its source tags, without those in `own`."""
    tags = tag_spans(numbers, numbers.tags(statement.sources, own), look)
    gap = [Span(" ", look)] if statement.text and tags else []
    return [Span(statement.text, look), *gap, *tags]


def tag_spans(numbers: Numbers, tags: Iterable[tuple[str, str]], look: Look) -> list[Span]:
    """Give source tags in brackets, each leading to its plate or its line in the list."""
    tags = tuple(tags)
    if not tags:
        return []
    plain = tag_of(look)
    result = [Span("[", plain)]
    for i, (text, number) in enumerate(tags):
        if i and not tags[i - 1][0].endswith("–"):
            result.append(Span(", ", plain))
        result.append(Span(text.replace(" ", "\u00a0"), plain.to(numbers.place(number))))
    return [*result, Span("]", plain)]


def baseline(look: Look) -> float:
    """Tell how far the baseline lies under the upper edge of a line of that look."""
    return look.leading * 0.5 + look.size * 0.34


def draw_lines(pen: Pen, set_lines: Iterable[Line], look: Look, x: float, top: float) -> None:
    """Write set lines one below the other."""
    for i, line in enumerate(set_lines):
        pen.line(line, x, top - i * look.leading - baseline(look))


def line_boxes(
    set_lines: tuple[Line, ...], look: Look, *, indent: float = 0.0, above: float = 0.0
) -> list[Box]:
    """Give a box for each line; the first two and the last two lines stay together."""
    count = len(set_lines)

    def box(i: int, line: Line) -> Box:
        def draw(pen: Pen, x: float, top: float) -> None:
            pen.line(line, x + indent, top - baseline(look))

        stays = count > 1 and i in (0, count - 2)
        over = above if i == 0 else 0.0
        return Box(look.leading, draw, above=over, stays=stays, joins=i > 0)

    return [box(i, line) for i, line in enumerate(set_lines)]


def heading(title: str, look: Look, wide: float, above: float) -> list[Box]:
    """Give boxes for a heading, which stays with what follows."""
    boxes = line_boxes(lines([Span(title, look)], wide), look, above=above)
    role = "H2" if look is HEADING else "H3"
    return [replace(box, stays=True, role=role) for box in boxes]
