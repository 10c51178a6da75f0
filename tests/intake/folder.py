"""A small invented job folder: real JPEGs with Exif made on the spot, a job and a record."""

from __future__ import annotations

import io
from functools import cache
from pathlib import Path

from PIL import Image

JOB = """\
title = "Kiln Road 9"

[site]
address = "9 Kiln Road, Ashby"
zone = "America/Chicago"

[[party]]
id = "hauler"
name = "Northway Freight"
roles = ["delivering carrier"]

[[person]]
id = "dana"
name = "Dana Voss"

[[shipment]]
id = "main"
carrier = "hauler"
handling_units = 1
cartons = 4

[[item]]
id = "panel"
description = "Wall panel"
size = ["35 7/8 in", "96 in"]
invoice_price = "412.50 USD"
"""

DELIVERY = """\
kind = "delivery"
said_by = "dana"
arrived = 2026-05-04T09:05:00
words = "2 ctn crushed"
photos = ["photos/1.jpg"]
"""


@cache
def jpeg(number: int) -> bytes:
    """Give a small JPEG whose DateTimeOriginal and colour follow from a number."""
    exif = Image.Exif()
    exif[0x010F] = "Fairlight"
    exif.get_ifd(0x8769)[0x9003] = f"2026:05:04 09:{number % 60:02d}:00"
    buffer = io.BytesIO()
    Image.new("RGB", (16, 12), (number * 37 % 256, 80, 120)).save(buffer, "JPEG", exif=exif)
    return buffer.getvalue()


def put(root: Path, path: str, data: bytes | str) -> Path:
    """Write one file of the folder."""
    file = root / path
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(data.encode() if isinstance(data, str) else data)
    return file


def make_job(root: Path) -> Path:
    """Make the folder and give it resolved."""
    put(root, "job.toml", JOB)
    put(root, "records/delivery.toml", DELIVERY)
    put(root, "photos/1.jpg", jpeg(1))
    put(root, "photos/2.jpg", jpeg(2))
    put(root, "documents/bill.pdf", b"%PDF-1.4\n%%EOF\n")
    return root.resolve()
