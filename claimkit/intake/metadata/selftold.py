"""What a picture file says about itself beside its Exif tags: JFIF, XMP, IPTC, a second Exif block.

Only headers are looked at and nothing is decoded. Every walk is bounded; what does not hold
together simply ends it, because the file's own flaws are told elsewhere.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from claimkit.intake.metadata.stated_dates import iptc_date, iso_date
from claimkit.model.photo import FileKind, FileSays, StatedDate

MAX_SEGMENTS = 2_000
MAX_XMP_BYTES = 2_000_000
MAX_FIELDS = 500

_XMP_BEGINS = re.compile(rb"<x:x[am]pmeta|<rdf:RDF")
_XMP_ENDS = re.compile(rb"</x:x[am]pmeta>|</rdf:RDF>")
_DATE_NAMES = "CreateDate|ModifyDate|DateTimeOriginal|DateTimeDigitized|DateCreated"
_XMP_FIELD = re.compile(
    rf"(?P<home>xmp|xap|exif|photoshop):(?P<name>{_DATE_NAMES}|CreatorTool)\s*"
    r"(?:=\s*(?:\"(?P<a>[^\"<]*)\"|'(?P<b>[^'<]*)')|>(?P<c>[^<]*)<)"
)
_IPTC_BLOCK = 0x0404
_DATE_CREATED, _TIME_CREATED = (2, 55), (2, 60)


def told(kind: FileKind, data: bytes) -> FileSays:
    """Give what a picture of that kind says about itself. Never raises for any bytes."""
    if kind is FileKind.JPEG:
        return _of_jpeg(data)
    tool, dates = _of_xmp(_packet(data))
    return FileSays(tool=tool, dates=dates)


def _of_jpeg(data: bytes) -> FileSays:
    jfif, blocks = None, 0
    tool: str | None = None
    dates: list[StatedDate] = []
    for marker, body in _segments(data):
        if marker == 0xE0 and body[:5] == b"JFIF\0" and len(body) >= 7:
            jfif = jfif or f"{body[5]}.{body[6]:02d}"
        elif marker == 0xE1 and body[:5] == b"Exif\0":
            blocks += 1
        elif marker == 0xE1 and tool is None and not any(d.where[:3] == "XMP" for d in dates):
            tool, found = _of_xmp(_packet(body))
            dates += found
        elif marker == 0xED and body[:14] == b"Photoshop 3.0\0":
            dates += _of_iptc(body[14:])
    return FileSays(jfif, blocks, tool, tuple(dates))


def _segments(data: bytes) -> Iterator[tuple[int, bytes]]:
    """Yield marker and content of a JPEG's segments up to the start of scan (T.81, B.1.1.4)."""
    at = 2
    for _ in range(MAX_SEGMENTS):
        while data[at : at + 2] == b"\xff\xff":
            at += 1
        if at + 4 > len(data) or data[at] != 0xFF or data[at + 1] in (0xD9, 0xDA):
            return
        length = int.from_bytes(data[at + 2 : at + 4], "big")
        if length < 2 or at + 2 + length > len(data):
            return
        yield data[at + 1], data[at + 4 : at + 2 + length]
        at += 2 + length


def _packet(data: bytes) -> str:
    """Give the text of the first XMP packet, empty where there is none (ISO 16684-1, 7)."""
    begins = _XMP_BEGINS.search(data)
    if begins is None:
        return ""
    ends = _XMP_ENDS.search(data, begins.end(), begins.start() + MAX_XMP_BYTES)
    return data[begins.start() : ends.end()].decode("utf-8", "replace") if ends else ""


def _of_xmp(text: str) -> tuple[str | None, tuple[StatedDate, ...]]:
    tool: str | None = None
    dates: dict[str, StatedDate] = {}
    for number, found in enumerate(_XMP_FIELD.finditer(text)):
        if number >= MAX_FIELDS:
            break
        home = "xmp" if found["home"] == "xap" else found["home"]
        value = (found["a"] or found["b"] or found["c"] or "").strip()
        if not value:
            continue
        if found["name"] == "CreatorTool":
            tool = tool or value[:100]
        else:
            where = f"XMP {home}:{found['name']}"
            dates.setdefault(where, iso_date(where, value))
    return tool, tuple(dates.values())


def _of_iptc(blocks: bytes) -> tuple[StatedDate, ...]:
    """Read date and time created out of the IPTC-IIM records in Photoshop's image resources."""
    fields: dict[tuple[int, int], str] = {}
    for number, body in _resources(blocks):
        if number == _IPTC_BLOCK:
            for key, value in _datasets(body):
                fields.setdefault(key, value.decode("latin-1").strip("\0 "))
    day = fields.get(_DATE_CREATED)
    if not day:
        return ()
    return (iptc_date("IPTC date created", day, fields.get(_TIME_CREATED, "")),)


def _resources(blocks: bytes) -> Iterator[tuple[int, bytes]]:
    """Yield number and content of image resource blocks: 8BIM, number, padded name, size."""
    at = 0
    for _ in range(MAX_FIELDS):
        if blocks[at : at + 4] != b"8BIM" or at + 12 > len(blocks):
            return
        number = int.from_bytes(blocks[at + 4 : at + 6], "big")
        at += 6
        name = blocks[at] + 1
        at += name + name % 2
        size = int.from_bytes(blocks[at : at + 4], "big")
        at += 4
        yield number, blocks[at : at + size]
        at += size + size % 2


def _datasets(body: bytes) -> Iterator[tuple[tuple[int, int], bytes]]:
    """Yield the standard datasets of IPTC-IIM 4.2, 1.5: marker 1C, record, number, length."""
    at = 0
    for _ in range(MAX_FIELDS):
        if at + 5 > len(body) or body[at] != 0x1C:
            return
        length = int.from_bytes(body[at + 3 : at + 5], "big")
        if length & 0x8000:
            return  # an extended dataset: none that is looked for here
        yield (body[at + 1], body[at + 2]), body[at + 5 : at + 5 + length]
        at += 5 + length
