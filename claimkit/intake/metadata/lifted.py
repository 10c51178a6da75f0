"""What a picture's container yields without touching a pixel: the Exif block, size, turn, flaws.

Each container (JPEG, PNG, WebP, HEIF, TIFF) is walked by its own module; this is what they all
return. A block that is there and cannot be taken out is another fact than no block at all.
"""

from __future__ import annotations

from dataclasses import dataclass

MAX_BLOCK_BYTES = 8_000_000
"""An Exif block beyond this is not read: a JPEG's cannot exceed 64 KB, cameras write less."""

AGAIN = "Copy the file again from the phone or the card that it came from."


@dataclass(frozen=True, slots=True)
class Lifted:
    """The Exif block of one picture and what its container says.

    `block` begins with the TIFF header, or is None; then `trouble` says why it could not be taken
    out, and None there means that the container holds none. `width_px` and `height_px` are as
    stored. `turn` is the container's own turn as an Exif orientation, 1 to 8, where the container
    has such a thing (HEIF, AVIF). `no_picture` is True where the file ends before any picture
    data. `changed` is True where a check sum proves that the block is not as it was written.
    `flaws` are sentences.
    """

    block: bytes | None = None
    trouble: str | None = None
    width_px: int | None = None
    height_px: int | None = None
    turn: int | None = None
    no_picture: bool = False
    changed: bool = False
    flaws: tuple[str, ...] = ()


def tiff_part(raw: bytes) -> bytes | None:
    """Give the bytes from the TIFF header on, without `Exif` prefixes, or None without a header.

    CIPA DC-008 4.5.2: byte order II or MM, then 42.
    """
    while raw[:5] == b"Exif\0":
        raw = raw[6:]
    return raw if raw[:4] in (b"II*\0", b"MM\0*") else None


def cut_short(what: str) -> str:
    """Give the sentence for a file that ends too early. `what` says where it ends."""
    return f"The file is cut short: {what}. {AGAIN}"


def pair(width: int, height: int) -> tuple[int | None, int | None]:
    """Give width and height, or two unknowns where either is zero."""
    return (width, height) if width > 0 and height > 0 else (None, None)
