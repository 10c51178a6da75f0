"""Photo plates: the picture upright in a thin frame, its number, and the caption beneath.

A picture that cannot be drawn leaves an empty frame that says why.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from claimkit.model.document import Document, Plate, PlateRow
from claimkit.render.boxes import Box
from claimkit.render.pen import Pen
from claimkit.render.setting import Room, draw_lines, line_boxes, spans
from claimkit.render.style import CAPTION, FAINT, GREY, HAIR, NOTE, WHITE, strong
from claimkit.render.text import Line, Span, lines

Picture = Callable[[Plate, int], bytes | str]

_GUTTER = 16.0
_ABOVE, _BELOW = 12.0, 4.0
_MOST_SIDE_BY_SIDE = 3
_MOST_CAPTION = 14  # lines of a caption beside the picture; the rest follows the row
_REFUSED_HIGH, _REFUSED_LINES = 84.0, 7
_LARGEST_PIXEL = 0.9  # points; a thumbnail blown up shows what is not there
# Long side in pixels for 1, 2 or 3 plates side by side: about 230 dots an inch, enough to look
# closer at a dent on a screen. The same for every paper, so that scaled copies are shared.
_PIXELS = {1: 1600, 2: 1200, 3: 900}


@dataclass(frozen=True, slots=True)
class Drawn:
    """A picture ready to be placed, or the sentence why there is none.

    `jpeg` is a file of its bytes, so that many pictures do not fill the memory.
    """

    jpeg: Path | None
    wide_px: int
    high_px: int
    refused: str = ""


def wanted(document: Document) -> tuple[tuple[Plate, int], ...]:
    """List the plates of a document with the long side each needs, in px and in print order."""
    return tuple(
        (plate, _PIXELS[columns])
        for section in document.sections
        for block, before in zip(section.blocks, (None, *section.blocks), strict=False)
        if isinstance(block, PlateRow)
        for row, columns in _rows(block, before)
        for plate in row
    )


def fetch(plate: Plate, long_side_px: int, picture: Picture, aside: Path) -> Drawn:
    """Ask for a plate's picture, measure it and put it aside in the file `aside`."""
    from PIL import Image

    got = picture(plate, long_side_px)
    if isinstance(got, str):
        return Drawn(None, 0, 0, got)
    with Image.open(io.BytesIO(got)) as image:
        size = image.size
    aside.write_bytes(got)
    return Drawn(aside, *size)


def _rows(block: PlateRow, before: object) -> Iterator[tuple[tuple[Plate, ...], int]]:
    """Yield rows of plates and how many columns each is set in.

    A single plate that ends a series of pairs is as wide as they are.
    """
    count = len(block.plates)
    wide = count if count <= _MOST_SIDE_BY_SIDE else 2
    series = count > 1 or (isinstance(before, PlateRow) and len(before.plates) > 1)
    for i in range(0, count, wide or 1):
        row = block.plates[i : i + wide]
        yield row, 2 if len(row) == 1 and series and not block.large else len(row)


def plate_row(
    block: PlateRow, before: object, room: Room, pictures: Mapping[tuple[str, int], Drawn]
) -> list[Box]:
    """Set plates side by side. `pictures` holds each by its key and long side in px.

    `before` is the block before this one in its section.
    """
    boxes: list[Box] = []
    for row, columns in _rows(block, before):
        wide = (room.wide - _GUTTER * (columns - 1)) / columns
        drawn = [pictures[plate.key, _PIXELS[columns]] for plate in row]
        captions = [
            _caption(plate, room, wide, _too_long(picture, wide))
            for plate, picture in zip(row, drawn, strict=True)
        ]
        kept = max(min(len(c), _MOST_CAPTION) for c in captions)
        most = _most_high(block, room, kept)
        sizes = [_size(picture, wide, most) for picture in drawn]
        boxes.append(_row_box(row, drawn, sizes, captions, wide))
        for plate, caption in zip(row, captions, strict=True):
            boxes += _rest(plate, caption, room)
    return boxes


def _refusal(picture: Drawn, wide: float) -> tuple[Line, ...]:
    return lines([Span(f"Not drawn. {picture.refused}", NOTE)], wide - 20)


def _too_long(picture: Drawn, wide: float) -> str:
    """Give a refusal that does not fit the empty frame, so that the caption prints it."""
    long = picture.jpeg is None and len(_refusal(picture, wide)) > _REFUSED_LINES
    return picture.refused if long else ""


def _caption(plate: Plate, room: Room, wide: float, refused: str) -> tuple[Line, ...]:
    """Set a caption: its number in front, the plate's own tag left out."""
    number = f"P{plate.photo_no}"
    own = frozenset({number})
    set_lines: list[Line] = []
    for i, statement in enumerate(plate.caption or ()):
        told = spans(statement, CAPTION, room.numbers, own)
        if i == 0:
            heavy = strong(CAPTION)
            told = [Span(f"{number}\u2002", heavy), Span(statement.text, heavy), *told[1:]]
        if statement.emphasis:
            told = [Span(f"{statement.emphasis}: ", strong(CAPTION)), *told]
        set_lines += lines(told, wide)
    if refused:
        set_lines += lines([Span(refused, CAPTION)], wide)
    return tuple(set_lines) or lines([Span(number, strong(CAPTION))], wide)


def _most_high(block: PlateRow, room: Room, caption_lines: int) -> float:
    """Tell how high a picture may be: two rows to a page, or most of a page for a large one."""
    text = caption_lines * CAPTION.leading + _BELOW
    if block.large:
        return max(room.high * 0.86 - text, 120.0)
    return max((room.high - _ABOVE) / 2 - text - _ABOVE, 120.0)


def _size(picture: Drawn, wide: float, most: float) -> tuple[float, float]:
    if picture.jpeg is None:
        return wide, _REFUSED_HIGH
    scale = min(wide / picture.wide_px, most / picture.high_px, _LARGEST_PIXEL)
    return picture.wide_px * scale, picture.high_px * scale


def _row_box(
    row: tuple[Plate, ...],
    drawn: list[Drawn],
    sizes: list[tuple[float, float]],
    captions: list[tuple[Line, ...]],
    wide: float,
) -> Box:
    texts = [min(len(caption), _MOST_CAPTION) * CAPTION.leading for caption in captions]
    tallest = max(size[1] + text for size, text in zip(sizes, texts, strict=True))

    def draw(pen: Pen, x: float, top: float) -> None:
        for i, plate in enumerate(row):
            left = x + i * (wide + _GUTTER)
            if not plate.again:
                pen.mark(f"plate-P{plate.photo_no}", top + 4)
            size = sizes[i]
            foot = top - size[1]
            with pen.described(plate.alt):
                _draw_picture(pen, drawn[i], (left, foot), size, wide)
            draw_lines(pen, captions[i][:_MOST_CAPTION], CAPTION, left, foot - _BELOW)

    return Box(tallest + _BELOW, draw, above=_ABOVE)


def _draw_picture(
    pen: Pen, picture: Drawn, at: tuple[float, float], size: tuple[float, float], wide: float
) -> None:
    left, foot = at
    if picture.jpeg is not None:
        pen.picture(picture.jpeg.read_bytes(), left, foot, *size)
        pen.frame(left, foot, *size, ink=GREY, thick=0.4)
        return
    pen.frame(left, foot, *size, ink=HAIR)
    pen.rule(left, foot, left + size[0], foot + size[1], ink=FAINT)
    told = _refusal(picture, wide)
    if len(told) > _REFUSED_LINES:
        told = lines([Span("Not drawn. The reason is given below.", NOTE)], wide - 20)
    high = len(told) * NOTE.leading
    pen.fill(left + 8, foot + (size[1] - high) / 2 - 2, wide - 16, high + 4, WHITE)
    draw_lines(pen, told, NOTE, left + 10, foot + (size[1] + high) / 2)


def _rest(plate: Plate, caption: tuple[Line, ...], room: Room) -> list[Box]:
    """Set what did not fit under the picture, named by its plate."""
    rest = caption[_MOST_CAPTION:]
    if not rest:
        return []
    named = lines([Span(f"P{plate.photo_no}, caption continued", strong(CAPTION))], room.wide)
    first = line_boxes(named, CAPTION, above=4.0)
    return [
        *(replace(box, stays=True) for box in first),
        *line_boxes(rest, CAPTION),
    ]
