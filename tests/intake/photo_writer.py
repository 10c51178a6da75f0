"""Photo files written by hand for the tests: Exif blocks, and containers around them.

Written from the published layouts and sharing nothing with claimkit: TIFF 6.0 section 2 and CIPA
DC-008 for the block, ITU-T T.81 for JPEG, the PNG third edition, the WebP container
specification (RFC 9649), ISO/IEC 14496-12 and 23008-12 for HEIF. Pillow draws the pictures.
"""

from __future__ import annotations

import io
import struct
import zlib
from collections.abc import Sequence

from PIL import Image

Entry = tuple[int, int, int, bytes]  # tag, type, count, value in the block's byte order


def text(tag: int, words: str | bytes, kind: int = 2) -> Entry:
    """Give an ASCII entry (type 2) with its NUL at the end."""
    raw = (words.encode("ascii") if isinstance(words, str) else words) + b"\0"
    return tag, kind, len(raw), raw


def short(tag: int, value: int, order: str = "<") -> Entry:
    """Give a SHORT entry."""
    return tag, 3, 1, struct.pack(order + "H", value)


def ratios(tag: int, pairs: Sequence[tuple[int, int]], order: str = "<") -> Entry:
    """Give an entry of rationals."""
    return tag, 5, len(pairs), b"".join(struct.pack(order + "LL", *p) for p in pairs)


def _directory(entries: Sequence[Entry], at: int, order: str, after: int = 0) -> bytes:
    rows, values = [], b""
    values_at = at + 2 + 12 * len(entries) + 4
    for tag, kind, count, raw in entries:
        if len(raw) <= 4:
            cell = raw.ljust(4, b"\0")
        else:
            cell = struct.pack(order + "L", values_at + len(values))
            values += raw + b"\0" * (len(raw) % 2)
        rows.append(struct.pack(order + "HHL", tag, kind, count) + cell)
    head = struct.pack(order + "H", len(entries))
    return head + b"".join(rows) + struct.pack(order + "L", after) + values


def block(
    first: Sequence[Entry] = (),
    exif: Sequence[Entry] | None = None,
    gps: Sequence[Entry] | None = None,
    thumb: Sequence[Entry] | None = None,
    order: str = "<",
) -> bytes:
    """Give an Exif block: header, first directory, and Exif, GPS and thumbnail directories."""
    extra = [(0x8769, exif), (0x8825, gps)]
    pointers = [(tag, 4, 1, b"\0\0\0\0") for tag, part in extra if part is not None]
    bare = [*first, *pointers]
    at = 8 + len(_directory(bare, 8, order))
    bodies, places = b"", {}
    for tag, part in extra:
        if part is not None:
            places[tag] = at + len(bodies)
            bodies += _directory(part, places[tag], order)
    after = at + len(bodies) if thumb is not None else 0
    if thumb is not None:
        bodies += _directory(thumb, after, order)
    filled = [(t, k, n, struct.pack(order + "L", places[t])) for t, k, n, _ in pointers]
    head = (b"II*\0" if order == "<" else b"MM\0*") + struct.pack(order + "L", 8)
    return head + _directory([*first, *filled], 8, order, after) + bodies


def camera_block(taken: str = "2024:05:12 14:03:22", order: str = "<", **more: str) -> bytes:
    """Give the block of an invented camera; `more` may set offset, subsec, digitized, changed."""
    exif = [text(0x9003, taken), text(0x9004, more.get("digitized", taken))]
    if "offset" in more:
        exif.append(text(0x9011, more["offset"]))
    if "subsec" in more:
        exif.append(text(0x9291, more["subsec"]))
    first = [text(0x010F, "Fairlight"), text(0x0110, "F2"), short(0x0112, 6, order)]
    first += [text(0x0131, "1.0"), text(0x0132, more.get("changed", taken))]
    return block(first, exif, order=order)


def _drawn(kind: str, size: tuple[int, int] = (24, 16), **more: object) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", size, (90, 120, 30)).save(out, kind, **more)
    return out.getvalue()


def segment(marker: int, body: bytes) -> bytes:
    """Give a JPEG segment with its length."""
    return b"\xff" + bytes([marker]) + struct.pack(">H", len(body) + 2) + body


def jpeg(*parts: bytes, size: tuple[int, int] = (24, 16)) -> bytes:
    """Give a JPEG with these parts (whole segments, or any bytes) right after its start."""
    drawn = _drawn("JPEG", size)
    return drawn[:2] + b"".join(parts) + drawn[2:]


def exif_segment(exif_block: bytes) -> bytes:
    """Give the APP1 segment of an Exif block (DC-008 4.5.4)."""
    return segment(0xE1, b"Exif\0\0" + exif_block)


def chunk(name: bytes, body: bytes) -> bytes:
    """Give a PNG chunk with its check sum."""
    return struct.pack(">L", len(body)) + name + body + struct.pack(">L", zlib.crc32(name + body))


def png(*parts: bytes, before_data: bool = True, size: tuple[int, int] = (24, 16)) -> bytes:
    """Give a PNG with these chunks before its picture data, or after it."""
    drawn = _drawn("PNG", size)
    at = drawn.index(b"IDAT") - 4 if before_data else drawn.index(b"IEND") - 4
    return drawn[:at] + b"".join(parts) + drawn[at:]


def riff_chunk(name: bytes, body: bytes) -> bytes:
    """Give a RIFF chunk, padded to even length."""
    return name + struct.pack("<L", len(body)) + body + b"\0" * (len(body) % 2)


def webp(*parts: bytes, size: tuple[int, int] = (24, 16)) -> bytes:
    """Give an extended WebP: VP8X, the picture, then these chunks."""
    picture = _drawn("WEBP", size, quality=50)[12:]
    wide, high = (struct.pack("<L", n - 1)[:3] for n in size)
    head = riff_chunk(b"VP8X", b"\x08\0\0\0" + wide + high)
    body = b"WEBP" + head + picture + b"".join(parts)
    return b"RIFF" + struct.pack("<L", len(body)) + body


def avif(exif_block: bytes | None = None, **more: object) -> bytes:
    """Give an AVIF drawn and written by Pillow (libavif)."""
    return _drawn("AVIF", exif=exif_block or b"", **more)


def box(name: bytes, body: bytes) -> bytes:
    """Give a box of ISO/IEC 14496-12."""
    return struct.pack(">L", len(body) + 8) + name + body


def heif(
    exif_block: bytes | None,
    *,
    brand: bytes = b"heic",
    in_idat: bool = False,
    wide_numbers: bool = False,
    prefix: bytes = b"Exif\0\0",
    describes: int | None = 1,
    size: tuple[int, int] = (24, 16),
    turn: int | None = None,
    again: bytes | None = None,
) -> bytes:
    """Give a HEIF's boxes around an Exif item, with 40 bytes in place of a coded picture.

    The picture is item 1, the Exif items 2 and 3. `wide_numbers` takes the versions with 32-bit
    item numbers and 64-bit places. `describes` is the item that the Exif is tied to.
    """
    payloads = {1: b"\xaa" * 40}
    for number, one in ((2, exif_block), (3, again)):
        if one is not None:
            payloads[number] = struct.pack(">L", len(prefix)) + prefix + one
    number_form = ">L" if wide_numbers else ">H"
    kinds = {1: b"hvc1", 2: b"Exif", 3: b"Exif"}
    entries = b"".join(
        box(
            b"infe",
            (b"\3\0\0\0" if wide_numbers else b"\2\0\0\0")
            + struct.pack(number_form, n)
            + b"\0\0"
            + kinds[n]
            + b"\0",
        )
        for n in payloads
    )
    iinf = box(b"iinf", b"\0\0\0\0" + struct.pack(">H", len(payloads)) + entries)
    iref = b""
    if describes is not None:
        ties = b"".join(
            box(
                b"cdsc", struct.pack(number_form, n) + b"\0\1" + struct.pack(number_form, describes)
            )
            for n in payloads
            if n != 1
        )
        iref = box(b"iref", (b"\1\0\0\0" if wide_numbers else b"\0\0\0\0") + ties)
    ispe = box(b"ispe", b"\0\0\0\0" + struct.pack(">LL", *size))
    properties = ispe + (box(b"irot", bytes([turn])) if turn is not None else b"")
    marks = b"\1\2" if turn is not None else b"\1"
    ipma = box(b"ipma", b"\0\0\0\0" + b"\0\0\0\1" + b"\0\1" + bytes([len(marks)]) + marks)
    iprp = box(b"iprp", box(b"ipco", properties) + ipma)
    pitm = box(b"pitm", b"\1\0\0\0\0\0\0\1" if wide_numbers else b"\0\0\0\0\0\1")
    hdlr = box(b"hdlr", b"\0" * 8 + b"pict" + b"\0" * 13)
    kept = {n: raw for n, raw in payloads.items() if in_idat and n != 1}
    idat = box(b"idat", b"".join(kept.values())) if kept else b""
    ftyp = box(b"ftyp", brand + b"\0\0\0\0mif1" + brand)

    def assembled(data_at: int) -> bytes:
        version = 2 if wide_numbers else (1 if in_idat else 0)
        sizes = b"\x88\x00" if wide_numbers else b"\x44\x00"
        place_form = ">Q" if wide_numbers else ">L"
        rows, at_file, at_idat = b"", data_at, 0
        for n, raw in payloads.items():
            at = at_idat if n in kept else at_file
            rows += struct.pack(">L" if version == 2 else ">H", n)
            rows += struct.pack(">H", 1 if n in kept else 0) if version else b""
            rows += b"\0\0\0\1" + struct.pack(place_form, at) + struct.pack(place_form, len(raw))
            at_file, at_idat = (
                (at_file, at_idat + len(raw)) if n in kept else (at_file + len(raw), at_idat)
            )
        count = struct.pack(">L" if version == 2 else ">H", len(payloads))
        iloc = box(b"iloc", bytes([version, 0, 0, 0]) + sizes + count + rows)
        meta = box(b"meta", b"\0\0\0\0" + hdlr + pitm + iloc + iinf + iref + iprp + idat)
        return ftyp + meta

    head = assembled(0)
    body = b"".join(raw for n, raw in payloads.items() if n not in kept)
    return assembled(len(head) + 8) + box(b"mdat", body)
