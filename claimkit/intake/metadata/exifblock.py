"""Taking the Exif block out of a picture file, whatever its container, without decoding a pixel.

JPEG segments are walked up to the start of scan (ITU-T T.81, CIPA DC-008 4.5), PNG and WebP by
their chunks, HEIF and AVIF by their boxes in `isobmff`; a TIFF or DNG file is itself the block.
Every walk is bounded, and whatever does not hold together is said in a sentence.
"""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterator

from claimkit.intake.metadata import isobmff
from claimkit.intake.metadata.lifted import (
    AGAIN,
    MAX_BLOCK_BYTES,
    Lifted,
    cut_short,
    pair,
    tiff_part,
)
from claimkit.model.photo import FileKind

MAX_PARTS = 50_000
"""Segments or chunks that are walked before a file is called hostile."""

_ORIGINAL = "Ask for the original from the phone or camera."
_MARKER = re.compile(rb"\xff[\x01-\xfe]")
_SIZED_FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
_BARE_MARKERS = frozenset({0x01, *range(0xD0, 0xD9)})


def lift(kind: FileKind, data: bytes) -> Lifted:
    """Take the Exif block and the stored size out of a picture of that kind.

    `kind` is one of PICTURES. Width and height in pixels; for TIFF they stand in the block and
    are None here. Never raises for any bytes.
    """
    if kind is FileKind.JPEG:
        return _Jpeg(data).lift()
    if kind is FileKind.PNG:
        return _Png(data).lift()
    if kind is FileKind.WEBP:
        return _webp(data)
    if kind is FileKind.TIFF:
        return _tiff(data)
    return isobmff.lift(data)


class _Jpeg:
    """One walk over a JPEG's segments up to the start of scan."""

    def __init__(self, data: bytes) -> None:
        self.data = data
        self.exif: list[bytes] = []
        self.cut_exif = False
        self.exif_end: int | None = None
        self.strays: list[int] = []
        self.stopped = False
        self.size: tuple[int | None, int | None] = (None, None)
        self.flaws: list[str] = []

    def lift(self) -> Lifted:
        scan = self._walk()
        if scan is None and not self.stopped:
            self.flaws.append(cut_short("it ends before any picture data"))
        if scan is not None and self.data.rfind(b"\xff\xd9", scan) < 0:
            self.flaws.append(cut_short("the picture data has no end mark"))
        if self.strays:
            self.flaws.append(
                f"There are bytes that belong to no part of a JPEG at byte {self.strays[0]}. "
                f"{_ORIGINAL}"
            )
        if len(self.exif) > 1:
            self.flaws.append(
                f"The file holds {len(self.exif)} Exif blocks where there may be one; "
                f"the first was read. {_ORIGINAL}"
            )
        block, trouble = self._block(scan)
        return Lifted(block, trouble, *self.size, no_picture=scan is None, flaws=tuple(self.flaws))

    def _block(self, scan: int | None) -> tuple[bytes | None, str | None]:
        if self.exif:
            block = tiff_part(self.exif[0])
            if block is None:
                return None, "the Exif block does not begin as one"
            if self.exif_end in self.strays:
                # Bytes lost or gained inside it move its texts against its directory.
                return None, "the Exif block does not end where the file says that it ends"
            return block, None
        if self.cut_exif:
            return None, "the file ends in the middle of the Exif block"
        if scan is None:
            return None, "the file ends before its picture data, and an Exif block may be lost"
        return None, None

    def _walk(self) -> int | None:
        """Visit each segment; give the place of the start of scan, or None where there is none."""
        at = 2
        for _ in range(MAX_PARTS):
            found = _MARKER.search(self.data, at)
            if found is None:
                return None
            # Fill bytes of value 255 may stand before a marker (T.81 B.1.1.2).
            if self.data[at : found.start()].strip(b"\xff"):
                self.strays.append(at)
            marker, at = self.data[found.end() - 1], found.end()
            if marker == 0xD9:
                return None
            if marker in _BARE_MARKERS:
                continue
            length = int.from_bytes(self.data[at : at + 2], "big")
            if marker == 0xDA:
                return at
            body = self.data[at + 2 : at + length]
            if at + 2 > len(self.data) or at + length > len(self.data):
                self.cut_exif = marker == 0xE1 and body[:4] in (b"Exif", b"")
                self._stop(cut_short(f"the part at byte {at - 2} is not all there"))
                return None
            if length < 2:
                self._stop(
                    f"The file's inner structure is broken: the part at byte {at - 2} claims a "
                    f"size of {length} bytes. {AGAIN}"
                )
                return None
            at += length
            self._visit(marker, body, at)
        self._stop(f"The file has more than {MAX_PARTS} parts; it was not read further.")
        return None

    def _stop(self, sentence: str) -> None:
        self.stopped = True
        self.flaws.append(sentence)

    def _visit(self, marker: int, body: bytes, end: int) -> None:
        if marker == 0xE1 and body[:5] == b"Exif\0":
            self.exif.append(body)
            self.exif_end = self.exif_end or end
        elif marker in _SIZED_FRAMES and len(body) >= 5 and self.size == (None, None):
            high, wide = (int.from_bytes(body[n : n + 2], "big") for n in (1, 3))
            self.size = pair(wide, high)


class _Png:
    """One walk over a PNG's chunks (PNG third edition: 5.3 layout, 11.3.4.5 `eXIf`)."""

    def __init__(self, data: bytes) -> None:
        self.data = data
        self.exif: list[bytes] = []
        self.profiles: list[bytes] = []
        self.picture = False
        self.changed = False
        self.size: tuple[int | None, int | None] = (None, None)
        self.flaws: list[str] = []

    def lift(self) -> Lifted:
        whole = self._walk()
        if len(self.exif) > 1:
            self.flaws.append(
                f"The file holds {len(self.exif)} Exif blocks where there may be one; "
                f"the first was read. {_ORIGINAL}"
            )
        raw = next(iter(self.exif + self.profiles), None)
        block = None if raw is None else tiff_part(raw)
        trouble = None
        if raw is not None and block is None:
            trouble = "the Exif block does not begin as one"
        elif raw is None and not whole:
            trouble = "the file ends before its end mark, and an Exif block may be lost"
        return Lifted(
            block,
            trouble,
            *self.size,
            no_picture=not self.picture,
            changed=self.changed,
            flaws=tuple(self.flaws),
        )

    def _walk(self) -> bool:
        """Visit each chunk; tell whether the end mark was reached."""
        at = 8
        for _ in range(MAX_PARTS):
            length = int.from_bytes(self.data[at : at + 4], "big")
            name = self.data[at + 4 : at + 8]
            if at + 12 + length > len(self.data):
                self.picture |= name == b"IDAT" and length > 0
                self.flaws.append(cut_short(f"the part at byte {at} is not all there"))
                return False
            body = self.data[at + 8 : at + 8 + length] if self._wanted(name) else b""
            if name == b"IEND":
                return True
            if not (name.isalpha() and name.isascii()):
                self.flaws.append(
                    f"The part at byte {at} has a name that no PNG part has. {_ORIGINAL}"
                )
                return False
            at += 12 + length
            self._visit(name, body, int.from_bytes(self.data[at - 4 : at], "big"))
        self.flaws.append(f"The file has more than {MAX_PARTS} parts; it was not read further.")
        return False

    @staticmethod
    def _wanted(name: bytes) -> bool:
        return name in (b"IHDR", b"eXIf", b"tEXt", b"zTXt")

    def _visit(self, name: bytes, body: bytes, stated: int) -> None:
        if name == b"IDAT":
            self.picture = True
        elif name == b"IHDR" and len(body) >= 8:
            self.size = pair(int.from_bytes(body[:4], "big"), int.from_bytes(body[4:8], "big"))
        elif name == b"eXIf":
            self.exif.append(body)
            if len(self.exif) == 1 and zlib.crc32(body, zlib.crc32(name)) != stated:
                # Some writers leave every check sum zero (seen in a public file): that proves
                # nothing about the block.
                self.changed = stated != 0
                self.flaws.append(
                    "The Exif block does not fit its check sum: it was changed or damaged after "
                    f"it was written. {_ORIGINAL}"
                    if self.changed
                    else "The Exif block has no check sum: whether it is as it was written cannot "
                    f"be told. {_ORIGINAL}"
                )
        elif name in (b"tEXt", b"zTXt") and not self.profiles:  # one only: each may unpack to much
            profile = _raw_profile(name, body)
            if profile is not None:
                self.profiles.append(profile)


def _raw_profile(name: bytes, body: bytes) -> bytes | None:
    """Give the Exif block that older programs stored as hexadecimal text, or None.

    The layout is common practice, no source: a keyword, then a name, a length, and hexadecimal
    digits on lines.
    """
    keyword, _, rest = body.partition(b"\0")
    if keyword not in (b"Raw profile type exif", b"Raw profile type APP1"):
        return None
    if name == b"zTXt":
        try:
            rest = zlib.decompressobj().decompress(rest[1:], 2 * MAX_BLOCK_BYTES)
        except zlib.error:
            return b""
    lines = rest.split(None, 2)
    try:
        return bytes.fromhex(lines[2].decode("ascii")) if len(lines) == 3 else b""
    except ValueError:
        return b""


def _webp(data: bytes) -> Lifted:
    """Walk a WebP's chunks (WebP container specification, RFC 9649 section 2)."""
    flaws: list[str] = []
    exif: list[bytes] = []
    size: tuple[int | None, int | None] = (None, None)
    end = 8 + int.from_bytes(data[4:8], "little")
    if end > len(data):
        flaws.append(cut_short(f"it should be {end} bytes long and has {len(data)}"))
    picture = False
    for name, body, whole in _riff_chunks(data):
        picture |= name in (b"VP8 ", b"VP8L", b"ANMF") and bool(body)
        if not whole:
            break
        if name == b"EXIF":
            exif.append(body)
        elif size == (None, None):
            size = _webp_size(name, body)
    if len(exif) > 1:
        flaws.append(
            f"The file holds {len(exif)} Exif blocks where there may be one; "
            f"the first was read. {_ORIGINAL}"
        )
    block = tiff_part(exif[0]) if exif else None
    trouble = None
    if exif and block is None:
        trouble = "the Exif block does not begin as one"
    elif not exif and flaws:
        trouble = "the file ends too early, and an Exif block may be lost"
    return Lifted(block, trouble, *size, no_picture=not picture, flaws=tuple(flaws))


def _riff_chunks(data: bytes) -> Iterator[tuple[bytes, bytes, bool]]:
    """Yield name, content and whether all of it is there; content is padded to even length."""
    at = 12
    for _ in range(MAX_PARTS):
        if at + 8 > len(data):
            return
        length = int.from_bytes(data[at + 4 : at + 8], "little")
        whole = at + 8 + length <= len(data)
        yield data[at : at + 4], data[at + 8 : at + 8 + length], whole
        at += 8 + length + length % 2


def _webp_size(name: bytes, body: bytes) -> tuple[int | None, int | None]:
    """Read the size from the first chunk that states it; see RFC 9649 2.5 to 2.7."""
    if name == b"VP8X" and len(body) >= 10:
        return pair(
            1 + int.from_bytes(body[4:7], "little"), 1 + int.from_bytes(body[7:10], "little")
        )
    if name == b"VP8 " and body[3:6] == b"\x9d\x01\x2a" and len(body) >= 10:
        wide, high = (int.from_bytes(body[n : n + 2], "little") & 0x3FFF for n in (6, 8))
        return pair(wide, high)
    if name == b"VP8L" and body[:1] == b"\x2f" and len(body) >= 5:
        bits = int.from_bytes(body[1:5], "little")
        return (bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1
    return None, None


def _tiff(data: bytes) -> Lifted:
    if data[2:4] in (b"+\0", b"\0+"):
        trouble = "the file is a BigTIFF, which only one of the two Exif readers knows"
        return Lifted(trouble=trouble)
    return Lifted(data)
