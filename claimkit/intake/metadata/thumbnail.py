"""The small picture that a camera puts into a JPEG's Exif block, as bytes.

It stands in the second directory of the block (CIPA DC-008, 4.5.5 and 4.6.9: tags 0201 and 0202).
An editor that forgets to renew it leaves the picture as it was before.
"""

from __future__ import annotations

import struct

from claimkit.intake.metadata.exifblock import lift
from claimkit.model.photo import FileKind

_OFFSET, _LENGTH = 0x0201, 0x0202
MOST_ENTRIES = 500


def thumbnail_of(kind: FileKind, data: bytes) -> bytes | None:
    """Give the JPEG inside a JPEG's Exif block, or None. Never raises for any bytes."""
    if kind is not FileKind.JPEG:
        return None
    block = lift(kind, data).block
    if block is None:
        return None
    try:
        return _of_block(block)
    except struct.error:
        return None


def _of_block(block: bytes) -> bytes | None:
    order = "<" if block[:2] == b"II" else ">"
    (first,) = struct.unpack_from(f"{order}L", block, 4)
    (count,) = struct.unpack_from(f"{order}H", block, first)
    (second,) = struct.unpack_from(f"{order}L", block, first + 2 + 12 * count)
    if not second or count > MOST_ENTRIES:
        return None
    (rows,) = struct.unpack_from(f"{order}H", block, second)
    found: dict[int, int] = {}
    for number in range(min(rows, MOST_ENTRIES)):
        tag, kind, size, value = struct.unpack_from(f"{order}HHLL", block, second + 2 + 12 * number)
        if tag in (_OFFSET, _LENGTH) and kind == 4 and size == 1:
            found[tag] = value
    at, length = found.get(_OFFSET, 0), found.get(_LENGTH, 0)
    small = block[at : at + length]
    return small if at and len(small) == length and small[:3] == b"\xff\xd8\xff" else None
