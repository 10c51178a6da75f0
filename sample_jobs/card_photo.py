"""A picture of a scale card taped across a seam, drawn with a known gap: invented, no photo.

The wall is drawn flat at many pixels a millimetre, seen by a camera that stands a little askew,
and made somewhat soft and grainy. Drawn with Pillow alone, so that every machine draws the same.
"""

from __future__ import annotations

import random
from dataclasses import dataclass

from draw import _font
from PIL import Image, ImageChops, ImageDraw, ImageFilter

from claimkit.pixels.four_points import perspective
from claimkit.rules import card_layout as layout

FLAT = 16  # pixels a millimetre of the flat drawing
WALL_MM = (288, 222)
EDGE = 12.0  # mm of the drawing beyond what the camera sees
SIZE = (2816, 2112)
CARD_AT = (98.0, 71.0)  # top left corner of the card on the wall, in mm


@dataclass(frozen=True)
class Wall:
    """Two panels with a gap of `gap_mm` between them; `askew` is how the camera stands, in mm."""

    gap_mm: float
    card: int
    label: str
    tone: tuple[int, int, int] = (214, 214, 208)
    askew: tuple[float, float] = (4.0, 2.0)
    grain: int = 1
    note: str = ""


def seam_photo(wall: Wall) -> Image.Image:
    """Draw the wall with its card as the camera sees it."""
    flat = _flat(wall)
    shift, drop = (value * FLAT for value in wall.askew)
    wide, high = flat.size
    far = EDGE * FLAT
    corners = (
        (far + shift, far + drop),
        (wide - far + shift, far - drop),
        (wide - far - shift, high - far + drop),
        (far - shift, high - far - drop),
    )
    frame = ((0, 0), (SIZE[0], 0), SIZE, (0, SIZE[1]))
    back = perspective(frame, corners)
    seen = flat.transform(SIZE, Image.Transform.PERSPECTIVE, back, Image.Resampling.BICUBIC)
    seen = seen.filter(ImageFilter.GaussianBlur(0.8))
    return ImageChops.add(seen, _grain(wall.grain), 1, -128)


def _flat(wall: Wall) -> Image.Image:
    picture = Image.new("RGB", tuple(side * FLAT for side in WALL_MM), wall.tone)
    draw = ImageDraw.Draw(picture)
    middle = (CARD_AT[0] + layout.SEAM_X) * FLAT
    half = wall.gap_mm / 2 * FLAT
    high = picture.height
    for step in range(4):  # the rounding of the edges: a little darker towards the gap
        out = half + (4 - step) * 0.05 * FLAT
        tone = tuple(round(part * (0.97 - 0.06 * step)) for part in wall.tone)
        draw.rectangle((middle - out, 0, middle + out - 1, high), fill=tone)
    draw.rectangle((middle - half, 0, middle + half - 1, high), fill=(14, 13, 12))
    if wall.note:
        draw.text((20 * FLAT, 20 * FLAT), wall.note, fill=(70, 80, 110), font=_font(12 * FLAT))
    card, shape = _card(wall)
    picture.paste(card, tuple(round(part * FLAT) for part in CARD_AT), shape)
    return picture


def _card(wall: Wall) -> tuple[Image.Image, Image.Image]:
    """Draw the card and its shape: the notches are cut out."""
    size = (round(layout.CARD_WIDE * FLAT), round(layout.CARD_HIGH * FLAT))
    card, shape = Image.new("RGB", size, (244, 243, 238)), Image.new("L", size, 255)
    draw, cut = ImageDraw.Draw(card), ImageDraw.Draw(shape)
    for notch in layout.NOTCHES:
        cut.rectangle(_box(notch), fill=0)
    for tag, (_, place) in zip(layout.tags_of(wall.card), layout.TAG_PLACES, strict=True):
        for y, cells in enumerate(layout.cells(tag)):
            for x, white in enumerate(cells):
                cell = layout.Box(
                    place.x + x * layout.CELL, place.y + y * layout.CELL, layout.CELL, layout.CELL
                )
                draw.rectangle(_box(cell), fill=(244, 243, 238) if white else (22, 22, 24))
    for x, top, foot in layout.TICKS:
        draw.line((x * FLAT, top * FLAT, x * FLAT, foot * FLAT), fill=(22, 22, 24), width=6)
    bar = layout.BAR
    for n, text in enumerate((f"{wall.card}", wall.label)):
        draw.text(
            ((bar.x + 13) * FLAT, (bar.y + 8 + 8 * n) * FLAT),
            text,
            fill=(22, 22, 24),
            font=_font((8, 5)[n] * FLAT),
            anchor="mm",
        )
    return card, shape


def _box(box: layout.Box) -> tuple[float, float, float, float]:
    return (
        box.x * FLAT,
        box.y * FLAT,
        (box.x + box.wide) * FLAT - 1,
        (box.y + box.high) * FLAT - 1,
    )


def _grain(seed: int) -> Image.Image:
    """Give grain around the middle grey, the same for the same seed."""
    chance = random.Random(seed)
    side = 512
    tile = Image.new("L", (side, side))
    tile.putdata([128 + round(chance.gauss(0, 1.4)) for _ in range(side * side)])
    whole = Image.new("L", SIZE)
    for x in range(0, SIZE[0], side):
        for y in range(0, SIZE[1], side):
            whole.paste(tile, (x, y))
    return Image.merge("RGB", (whole, whole, whole))
