"""Photos for the benches: 12 megapixels, each of its own bytes, with a camera's Exif block.

A few pictures are drawn and encoded once; each file is one of them with its own date and a comment
of its own, so that a thousand take seconds to make and no two have the same hash.
"""

from __future__ import annotations

import io
import random
from datetime import datetime, timedelta, timezone
from pathlib import Path

from PIL import ExifTags, Image, ImageChops, ImageDraw, ImageFilter

SIZE = (4000, 3000)
PICTURES = 8
BEGAN = datetime(2026, 5, 4, 9, 0, tzinfo=timezone(timedelta(hours=-5)))

JOB = """title = "Bench"
[site]
address = "1 Bench Street"
zone = "America/Chicago"
[[party]]
id = "us"
name = "Marl & Sons"
roles = ["owner", "consignee"]
[[person]]
id = "dana"
name = "Dana Voss"
cameras = ["Fairlight F2"]
"""


def drawn(seed: int) -> Image.Image:
    """Draw a busy picture with a photo's grain, so that it encodes to a photo's size."""
    chance = random.Random(seed)
    picture = Image.linear_gradient("L").resize(SIZE).convert("RGB")
    draw = ImageDraw.Draw(picture)
    for _ in range(120):
        x, y = chance.randrange(SIZE[0]), chance.randrange(SIZE[1])
        wide, high = chance.randrange(40, 900), chance.randrange(40, 700)
        tone = tuple(chance.randrange(256) for _ in range(3))
        draw.rectangle((x, y, x + wide, y + high), fill=tone)
    picture = picture.filter(ImageFilter.GaussianBlur(1.2))
    tile = Image.frombytes("L", (512, 512), chance.randbytes(512 * 512))
    grain = Image.new("L", SIZE)
    for x in range(0, SIZE[0], 512):
        for y in range(0, SIZE[1], 512):
            grain.paste(tile, (x, y))
    soft = grain.filter(ImageFilter.GaussianBlur(0.6)).point([104 + v // 5 for v in range(256)])
    return ImageChops.add(picture, Image.merge("RGB", (soft, soft, soft)), 1, -128)


def make_job(folder: Path, count: int, *, small: bool = False) -> list[Path]:
    """Make a job folder with `count` photos; what is there already stays.

    `small` photos are of a few pixels, for what does not look at the pictures.
    """
    photos = folder / "photos"
    photos.mkdir(parents=True, exist_ok=True)
    (folder / "job.toml").write_text(JOB, encoding="utf-8")
    paths = [photos / f"IMG_{n:04d}.jpg" for n in range(count)]
    if all(path.exists() for path in paths):
        return paths
    if small:
        pictures = [Image.new("RGB", (16, 12))]
    else:
        pictures = [drawn(seed) for seed in range(min(PICTURES, count))]
    encoded: list[bytes] = []
    for picture in pictures:
        out = io.BytesIO()
        picture.save(out, "JPEG", quality=88, subsampling=2)
        encoded.append(out.getvalue())
    for n, path in enumerate(paths):
        path.write_bytes(with_exif(encoded[n % len(encoded)], n, BEGAN + timedelta(seconds=20 * n)))
    return paths


def with_exif(jpeg: bytes, number: int, taken: datetime) -> bytes:
    """Put an Exif block behind the first marker; the picture's own bytes stay as they are.

    `number` makes the bytes the file's own; `taken` (aware) gives its local time and its offset.
    """
    exif = Image.Exif()
    exif[ExifTags.Base.Make], exif[ExifTags.Base.Model] = "Fairlight", "F2"
    exif[ExifTags.Base.Orientation] = 1
    exif[ExifTags.Base.ImageDescription] = f"picture {number}"
    moment, offset = f"{taken:%Y:%m:%d %H:%M:%S}", f"{taken:%z}"
    inner = exif.get_ifd(ExifTags.IFD.Exif)
    inner[ExifTags.Base.DateTimeOriginal] = moment
    inner[ExifTags.Base.DateTimeDigitized] = moment
    inner[ExifTags.Base.OffsetTimeOriginal] = f"{offset[:3]}:{offset[3:]}"
    block = exif.tobytes()
    size = (len(block) + 2).to_bytes(2, "big")
    return jpeg[:2] + b"\xff\xe1" + size + block + jpeg[2:]
