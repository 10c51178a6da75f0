"""Pictures for the sample jobs: drawn here, with real Exif blocks in them."""

from __future__ import annotations

import io
import random
from dataclasses import dataclass
from datetime import datetime

from PIL import ExifTags, Image, ImageDraw, ImageFilter, ImageFont

SIZE = (960, 720)
CARD = (196, 158, 112)
DARK = (60, 50, 40)


@dataclass(frozen=True)
class Shot:
    """How and when a picture was taken: local camera time, its UTC offset, the camera."""

    taken: str | None
    offset: str | None = "-05:00"
    make: str | None = "Fairlight"
    model: str | None = "F2"
    orientation: int = 1
    gps: tuple[float, float, str] | None = None


def jpeg(picture: Image.Image, shot: Shot) -> bytes:
    """Encode a picture with the Exif block that the shot describes."""
    exif = Image.Exif()
    if shot.make:
        exif[ExifTags.Base.Make] = shot.make
        exif[ExifTags.Base.Model] = shot.model
        exif[ExifTags.Base.Orientation] = shot.orientation
    if shot.taken:
        text = datetime.fromisoformat(shot.taken).strftime("%Y:%m:%d %H:%M:%S")
        inner = exif.get_ifd(ExifTags.IFD.Exif)
        inner[ExifTags.Base.DateTimeOriginal] = text
        inner[ExifTags.Base.DateTimeDigitized] = text
        exif[ExifTags.Base.DateTime] = text
        if shot.offset:
            inner[ExifTags.Base.OffsetTimeOriginal] = shot.offset
            inner[ExifTags.Base.OffsetTimeDigitized] = shot.offset
    if shot.gps:
        exif.get_ifd(ExifTags.IFD.GPSInfo).update(_gps(*shot.gps))
    if shot.orientation == 6:
        picture = picture.transpose(Image.Transpose.ROTATE_90)
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=72, **({"exif": exif} if len(exif) else {}))
    return out.getvalue()


def _gps(latitude: float, longitude: float, utc: str) -> dict[int, object]:
    def degrees(value: float) -> tuple[float, float, float]:
        value = abs(value)
        whole = int(value)
        minutes = int((value - whole) * 60)
        return (float(whole), float(minutes), round((value - whole - minutes / 60) * 3600, 2))

    at = datetime.fromisoformat(utc)
    return {
        ExifTags.GPS.GPSLatitudeRef: "N" if latitude >= 0 else "S",
        ExifTags.GPS.GPSLatitude: degrees(latitude),
        ExifTags.GPS.GPSLongitudeRef: "E" if longitude >= 0 else "W",
        ExifTags.GPS.GPSLongitude: degrees(longitude),
        ExifTags.GPS.GPSTimeStamp: (float(at.hour), float(at.minute), float(at.second)),
        ExifTags.GPS.GPSDateStamp: at.strftime("%Y:%m:%d"),
    }


def _font(size: int) -> ImageFont.FreeTypeFont | ImageFont.ImageFont:
    return ImageFont.load_default(size)


def _ground(sky: tuple[int, int, int], floor: tuple[int, int, int]) -> Image.Image:
    picture = Image.new("RGB", SIZE, sky)
    draw = ImageDraw.Draw(picture)
    draw.rectangle((0, 430, *SIZE), fill=floor)
    for step in range(6):
        shade = tuple(max(c - 6 * step, 0) for c in floor)
        draw.rectangle((0, 430 + 48 * step, SIZE[0], 478 + 48 * step), fill=shade)
    return picture


def truck() -> Image.Image:
    """A trailer at the curb with its tail lift down and two skids on it."""
    picture = _ground((186, 205, 222), (128, 128, 126))
    draw = ImageDraw.Draw(picture)
    draw.rectangle((120, 120, 620, 470), fill=(232, 232, 228), outline=DARK, width=4)
    draw.rectangle((150, 150, 590, 440), fill=(74, 72, 70))
    for x in (200, 400):
        _skid(draw, x, 270, 150, 150)
    draw.rectangle((120, 470, 620, 490), fill=(90, 90, 90))
    for x in (200, 520):
        draw.ellipse((x, 480, x + 90, 570), fill=(30, 30, 30), outline=(90, 90, 90), width=8)
    draw.rectangle((640, 300, 860, 480), fill=(158, 64, 48), outline=DARK, width=4)
    return picture.filter(ImageFilter.GaussianBlur(0.8))


def _skid(draw: ImageDraw.ImageDraw, x: int, y: int, width: int, height: int) -> None:
    draw.rectangle((x, y, x + width, y + height), fill=CARD, outline=DARK, width=3)
    for part in range(1, 3):
        line = y + part * height // 3
        draw.line((x, line, x + width, line), fill=DARK, width=2)
    draw.rectangle((x - 6, y + height, x + width + 6, y + height + 12), fill=(150, 116, 70))
    draw.line((x + width // 2, y, x + width // 2, y + height), fill=(36, 60, 120), width=4)


def skid(label: str, *, crushed: bool = False, torn: bool = False) -> Image.Image:
    """One wrapped skid on the ground; crushed at its lower left corner, or with a torn carton."""
    picture = _ground((206, 206, 200), (150, 146, 138))
    draw = ImageDraw.Draw(picture)
    _skid(draw, 260, 150, 440, 390)
    if crushed:
        draw.polygon((258, 542, 258, 430, 300, 470, 330, 500, 372, 542), fill=(96, 74, 50))
        for n in range(5):
            draw.line((258 + 22 * n, 542, 290 + 12 * n, 450 + 18 * n), fill=DARK, width=3)
    if torn:
        draw.polygon((560, 200, 650, 190, 672, 262, 610, 280, 570, 250), fill=(222, 222, 216))
        draw.line((560, 200, 610, 280, 672, 262), fill=DARK, width=4)
    draw.text((300, 60), label, fill=DARK, font=_font(40))
    return picture.filter(ImageFilter.GaussianBlur(0.7))


def paper(title: str, lines: list[str]) -> Image.Image:
    """A delivery receipt on a clipboard with handwriting-like words."""
    picture = Image.new("RGB", SIZE, (92, 70, 52))
    draw = ImageDraw.Draw(picture)
    draw.polygon((180, 40, 800, 60, 780, 700, 160, 680), fill=(248, 246, 236))
    draw.text((230, 80), title, fill=(20, 20, 20), font=_font(34))
    for n in range(6):
        draw.line((220, 180 + 30 * n, 740, 190 + 30 * n), fill=(170, 170, 160), width=2)
    for n, text in enumerate(lines):
        draw.text((230, 380 + 46 * n), text, fill=(24, 40, 130), font=_font(30))
    return picture.rotate(1.2, fillcolor=(92, 70, 52))


def panel(label: str, damage: str) -> Image.Image:
    """A finished panel out of its carton; damage is dent, crack, chip or none."""
    picture = _ground((220, 218, 212), (170, 160, 148))
    draw = ImageDraw.Draw(picture)
    draw.rectangle((220, 90, 740, 620), fill=(236, 238, 240), outline=(120, 124, 128), width=5)
    if damage == "dent":
        for n in range(9):
            shade = 232 - 12 * n
            draw.ellipse((420 + 7 * n, 300 + 6 * n, 560 - 7 * n, 400 - 5 * n), fill=(shade,) * 3)
    elif damage == "crack":
        points = [(260, 610), (330, 520), (352, 500), (430, 380), (452, 372), (520, 250)]
        draw.line(points, fill=(60, 60, 60), width=5)
    elif damage == "chip":
        draw.polygon((220, 90, 300, 90, 262, 120, 240, 168, 220, 170), fill=(150, 140, 128))
    draw.text((240, 640), label, fill=DARK, font=_font(32))
    return picture.filter(ImageFilter.GaussianBlur(0.7))


def gap(width_mm: float, label: str) -> Image.Image:
    """Two panel edges with a gap of that width and a millimetre rule laid across, 40 px to 1 mm."""
    scale = 40
    rng = random.Random(label)
    picture = Image.new("RGB", SIZE, (214, 206, 190))
    draw = ImageDraw.Draw(picture)
    left, width = 400, round(width_mm * scale)
    draw.rectangle((0, 0, left, SIZE[1]), fill=(206, 190, 160))
    draw.rectangle((left + width, 0, *SIZE), fill=(208, 193, 164))
    draw.rectangle((left, 0, left + width, SIZE[1]), fill=(34, 30, 28))
    for _ in range(500):
        x, y = rng.randrange(SIZE[0]), rng.randrange(SIZE[1])
        if not left <= x <= left + width:
            draw.point((x, y), fill=(180, 164, 130))
    draw.rectangle((0, 470, SIZE[0], 640), fill=(200, 204, 208), outline=(90, 90, 90), width=3)
    for tick in range(-10, 15):
        x = left + tick * scale
        long = tick % 5 == 0
        draw.line((x, 470, x, 540 if long else 510), fill=(20, 20, 20), width=3)
        if long:
            draw.text((x - 10, 548), str(tick), fill=(20, 20, 20), font=_font(28))
    draw.text((30, 30), label, fill=(20, 20, 20), font=_font(34))
    return picture.filter(ImageFilter.GaussianBlur(0.6))


def room(label: str, wall: tuple[int, int, int]) -> Image.Image:
    """A room before or after a step of the work."""
    picture = _ground(wall, (156, 140, 120))
    draw = ImageDraw.Draw(picture)
    draw.rectangle((120, 140, 420, 430), fill=(226, 232, 238), outline=DARK, width=3)
    draw.rectangle((520, 240, 840, 520), fill=(176, 160, 136), outline=DARK, width=3)
    draw.text((140, 60), label, fill=DARK, font=_font(36))
    return picture.filter(ImageFilter.GaussianBlur(0.8))


def plumb_line(label: str, offset_mm: float) -> Image.Image:
    """A plumb line before a wall seen edge on, and a rule held from the line to it; 8 px to 1 mm."""
    scale = 8
    picture = Image.new("RGB", SIZE, (226, 222, 212))
    draw = ImageDraw.Draw(picture)
    line = 560
    face = line - round(offset_mm * scale)
    draw.rectangle((0, 0, face, SIZE[1]), fill=(190, 180, 164))
    draw.line((face, 0, face, SIZE[1]), fill=DARK, width=3)
    draw.line((line, 0, line, SIZE[1]), fill=(30, 30, 30), width=2)
    draw.rectangle((face, 340, line + 120, 410), fill=(204, 206, 208), outline=(90, 90, 90))
    for tick in range(0, round(offset_mm) + 14):
        x = face + tick * scale
        draw.line((x, 340, x, 372 if tick % 10 == 0 else 356), fill=(20, 20, 20), width=2)
        if tick % 10 == 0:
            draw.text((x - 10, 376), str(tick), fill=(20, 20, 20), font=_font(24))
    draw.text((600, 60), label, fill=DARK, font=_font(34))
    return picture.filter(ImageFilter.GaussianBlur(0.6))
