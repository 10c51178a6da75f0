"""A measured photo as a person can check it: the card straightened, the edges found, the number.

Every picture has the same scale and the card upright, so that a dry fit and a later photo of the
same card can be laid side by side and compared by eye. Lines are black within white, so that they
hold in a grey print.
"""

from __future__ import annotations

import io
import math
from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from claimkit.model.card import CardReading, Point, Window
from claimkit.model.measurement import Measurement
from claimkit.pixels.four_points import NoPerspective, moved, perspective
from claimkit.pixels.scale import MOST_PIXELS, PictureNotDrawn, _opened, _plain, _turned, _why
from claimkit.rules.card_layout import CARD

if TYPE_CHECKING:
    from PIL.Image import Image
    from PIL.ImageDraw import ImageDraw
    from PIL.ImageFont import FreeTypeFont

_MARGIN_MM = 8.0
_TEXT_MM, _LINE_MM = 3.4, 4.6
_WHOLE_LONG_SIDE_PX = 1400
WHITE, BLACK = (255, 255, 255), (0, 0, 0)


def say_mm(measurement: Measurement) -> str:
    """Print a measurement as value ± U in mm (k = 2), U rounded up to two digits."""
    expanded = 2.0 * measurement.u_mm
    return f"{measurement.value_mm:.2f} ± {math.ceil(expanded * 100.0 - 1e-9) / 100.0:.2f} mm"


def annotated(  # noqa: PLR0913 - how a picture is drawn, by name
    data: bytes,
    readings: Sequence[CardReading],
    *,
    orientation: int | None = None,
    upright_when_decoded: bool = False,
    px_per_mm: float = 10.0,
    long_side_px: int | None = None,
    title: str = "",
    told: bool = True,
    say: Callable[[Measurement], str] = say_mm,
) -> bytes:
    """Draw one card's readings of a photo into it, as JPEG bytes.

    The card is laid square at `px_per_mm`, or so that it is `long_side_px` wide, whatever the
    photo's angle and distance; where its plane was not found, the whole photo is shown. `title` and
    what was read stand below the picture where `told`; without, all cards come out alike. Raises
    PictureNotDrawn for a damaged photo, ValueError for readings of several cards or of none.
    """
    if len({(reading.photo_sha, reading.card) for reading in readings}) != 1:
        raise ValueError("an annotated picture shows one card of one photo")
    if long_side_px is not None:
        px_per_mm = long_side_px / (CARD.wide + 2.0 * _MARGIN_MM)
    photo = _decoded(data, None if upright_when_decoded else orientation)
    outline = next((r.marks.card for r in readings if r.marks), None)
    if outline is None:
        picture = photo
        picture.thumbnail((_WHOLE_LONG_SIDE_PX, _WHOLE_LONG_SIDE_PX))
        text_px = round(picture.width / 40.0)
    else:
        picture = _straight(photo, outline, px_per_mm)
        text_px = round(_TEXT_MM * px_per_mm)
        _draw(picture, readings, outline, px_per_mm)
    if not told:
        return _encoded(picture)
    lines = [title] if title else []
    return _encoded(_with_text(picture, [*lines, *_told(readings, say)], text_px))


def _decoded(data: bytes, turn: int | None) -> Image:
    try:
        image = _opened(data)
        wide, high = image.size
        if wide * high > MOST_PIXELS:
            raise PictureNotDrawn(
                f"The picture is {wide} × {high} pixels, more than is drawn here "
                f"({MOST_PIXELS // 1_000_000} million)."
            )
        image.load()
        return _turned(_plain(image).convert("RGB"), turn)
    except PictureNotDrawn:
        raise
    except Exception as error:  # decoders fail on damaged data in more ways than can be listed
        raise PictureNotDrawn(_why(error)) from error


def _straight(photo: Image, outline: Sequence[Point], px_per_mm: float) -> Image:
    """Lay the card square: sample the photo where each pixel of the new picture came from."""
    from PIL.Image import Resampling, Transform

    wide = round((CARD.wide + 2.0 * _MARGIN_MM) * px_per_mm)
    high = round((CARD.high + 2.0 * _MARGIN_MM) * px_per_mm)
    # Pillow counts from the corner of a pixel, the marks from its middle.
    places = [_flat(c, px_per_mm) for c in CARD.corners]
    source = [(x + 0.5, y + 0.5) for x, y in outline]
    try:
        back = perspective(places, source)
    except NoPerspective as error:
        raise PictureNotDrawn("The card's corners make no picture of it.") from error
    return photo.transform((wide, high), Transform.PERSPECTIVE, back, Resampling.BICUBIC)


def _flat(mm: Point, px_per_mm: float) -> Point:
    return (mm[0] + _MARGIN_MM) * px_per_mm, (mm[1] + _MARGIN_MM) * px_per_mm


def _draw(
    picture: Image, readings: Sequence[CardReading], outline: Sequence[Point], px_per_mm: float
) -> None:
    from PIL import ImageDraw

    pen = ImageDraw.Draw(picture)
    to_flat = perspective(outline, [_flat(c, px_per_mm) for c in CARD.corners])
    thick = max(1, round(0.22 * px_per_mm))
    _line(pen, [*(moved(to_flat, c) for c in outline), moved(to_flat, outline[0])], thick)
    for reading in readings:
        marks = reading.marks
        if marks is None or reading.window is Window.BOTH or not marks.window:
            continue
        frame = [moved(to_flat, c) for c in marks.window]
        _line(pen, [*frame, frame[0]], max(1, thick // 2))
        if reading.measurement is None:
            _line(pen, [frame[0], frame[2]], thick)
            _line(pen, [frame[1], frame[3]], thick)
            continue
        edges = [[moved(to_flat, c) for c in edge] for edge in (marks.left, marks.right)]
        for edge in edges:
            _dashes(pen, edge, px_per_mm)
        _arrows(pen, edges, px_per_mm, thick)


def _line(pen: ImageDraw, points: list[Point], thick: int) -> None:
    pen.line(points, fill=WHITE, width=3 * thick, joint="curve")
    pen.line(points, fill=BLACK, width=thick)


def _dashes(pen: ImageDraw, points: list[Point], px_per_mm: float) -> None:
    """Draw a thin line in black and white by turns, a millimetre each: what is below stays seen."""
    thick = max(1, round(0.12 * px_per_mm))
    for k, (a, b) in enumerate(pairwise(points)):
        pen.line([a, b], fill=BLACK if k % 2 else WHITE, width=thick)


def _arrows(pen: ImageDraw, edges: list[list[Point]], px_per_mm: float, thick: int) -> None:
    """Point at both edges from outside, half way along them."""
    for edge, side in zip(edges, (-1.0, 1.0), strict=True):
        x, y = edge[len(edge) // 2]
        reach, head = side * 6.0 * px_per_mm, side * 1.6 * px_per_mm
        _line(pen, [(x + reach, y), (x, y)], thick)
        _line(pen, [(x + head, y - abs(head) / 2), (x, y), (x + head, y + abs(head) / 2)], thick)


def _told(readings: Sequence[CardReading], say: Callable[[Measurement], str]) -> list[str]:
    """Put the readings into lines: one line where all are refused for one reason."""
    card = f"Card {readings[0].card}"
    reasons = {r.refusal.sentence for r in readings if r.refusal}
    if len(reasons) == 1 and all(r.refusal for r in readings):
        return [f"{card}: not measured. {reasons.pop()}"]
    lines = []
    for reading in sorted(readings, key=lambda r: r.window is not Window.BOTH):
        window = "both windows" if reading.window is Window.BOTH else f"{reading.window} window"
        if reading.measurement is not None:
            lines.append(f"{card}, {window}: {say(reading.measurement)} (k = 2)")
        elif reading.refusal is not None:
            lines.append(f"{card}, {window}: not measured. {reading.refusal.sentence}")
    cautions = dict.fromkeys(care.sentence for r in readings for care in r.cautions)
    return [*lines, *(f"With care: {sentence}" for sentence in cautions)]


def _with_text(picture: Image, lines: Sequence[str], text_px: int) -> Image:
    """Put lines of text below a picture, broken to its width."""
    from PIL import Image as module
    from PIL import ImageDraw

    font = _font(text_px)
    pad = text_px // 2
    broken = [part for line in lines for part in _broken(line, font, picture.width - 2 * pad)]
    step = round(text_px * _LINE_MM / _TEXT_MM)
    out = module.new("RGB", (picture.width, picture.height + step * len(broken) + 2 * pad), WHITE)
    out.paste(picture, (0, 0))
    pen = ImageDraw.Draw(out)
    for n, part in enumerate(broken):
        pen.text((pad, picture.height + pad + n * step), part, fill=BLACK, font=font)
    return out


def _font(size: int) -> FreeTypeFont:
    import font_source_sans_pro
    from PIL import ImageFont

    return ImageFont.truetype(font_source_sans_pro.font_files_ttf["SourceSansProSemibold"], size)


def _broken(text: str, font: FreeTypeFont, wide: int) -> list[str]:
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and font.getlength(longer) <= wide:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def _encoded(picture: Image) -> bytes:
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=88, optimize=True)
    return out.getvalue()
