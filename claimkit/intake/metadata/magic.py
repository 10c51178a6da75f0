"""What a file is, told by its first bytes and never by its name.

Phones, messaging apps and people rename pictures; a HEIC may be a JPEG inside and a JPEG may be
nothing at all. The name is compared with the bytes afterwards, so that a mismatch can be said.
"""

from __future__ import annotations

import codecs
from pathlib import PurePosixPath

from claimkit.model.photo import FileKind

HEAD_BYTES = 4096
"""How many first bytes are enough for `kind_of`."""

# Brands of ISO/IEC 23008-12 (HEVC, AVC, VVC, JPEG and JPEG 2000 pictures, and collections),
# of the AV1 Image File Format, and of ISO/IEC 23000-22 (MIAF).
_AVIF_BRANDS = frozenset({b"avif", b"avis", b"avio", b"MA1A", b"MA1B"})
_HEIF_BRANDS = frozenset(
    {
        b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"hevm", b"hevs", b"heif",
        b"avci", b"avcs", b"vvic", b"vvis", b"jpeg", b"jpgs", b"j2ki", b"j2is",
        b"MiHE", b"MiHA", b"MiHB", b"MiAn", b"MiPr",
    }
)  # fmt: skip
_OPEN_BRANDS = frozenset({b"mif1", b"mif2", b"mif3", b"msf1", b"miaf"})
_VIDEO_BRANDS = (
    b"isom", b"iso2", b"iso3", b"iso4", b"iso5", b"iso6", b"mp41", b"mp42", b"avc1", b"qt  ",
    b"M4V", b"M4A", b"3gp", b"3g2", b"mmp4", b"MSNV", b"dash", b"f4v",
)  # fmt: skip
# QuickTime files from before `ftyp` begin with one of these (Apple QuickTime File Format).
_OLD_MOVIE_BOXES = frozenset({b"moov", b"mdat", b"wide", b"pnot"})

_STARTS: tuple[tuple[bytes, FileKind], ...] = (
    (b"\xff\xd8\xff", FileKind.JPEG),
    (b"\x89PNG\r\n\x1a\n", FileKind.PNG),
    (b"II*\0", FileKind.TIFF),
    (b"MM\0*", FileKind.TIFF),
    (b"II+\0", FileKind.TIFF),  # BigTIFF
    (b"MM\0+", FileKind.TIFF),
    (b"GIF87a", FileKind.GIF),
    (b"GIF89a", FileKind.GIF),
    (b"%PDF-", FileKind.PDF),
    (b"\x1a\x45\xdf\xa3", FileKind.VIDEO),  # Matroska and WebM
)

_SUFFIXES: dict[FileKind, str] = {
    FileKind.JPEG: "jpg jpeg jpe jfif mpo",
    FileKind.HEIF: "heic heics heif heifs hif",
    FileKind.AVIF: "avif avifs",
    FileKind.PNG: "png",
    FileKind.WEBP: "webp",
    FileKind.TIFF: "tif tiff dng nef nrw cr2 arw sr2 pef srw",
    FileKind.GIF: "gif",
    FileKind.VIDEO: "mp4 m4v mov qt 3gp 3g2 avi mkv webm",
    FileKind.PDF: "pdf",
    FileKind.TEXT: "txt md toml csv json eml htm html xml svg ics log",
}
_KIND_OF_SUFFIX = {suffix: kind for kind, names in _SUFFIXES.items() for suffix in names.split()}
# Raw formats of cameras whose first bytes are their own: named so that the user is told what to do.
_RAW_SUFFIXES = frozenset({"cr3", "raf", "orf", "rw2", "raw", "rwl", "x3f", "3fr", "iiq"})


def kind_of(head: bytes) -> FileKind:
    """Tell the type of a file from its first bytes.

    `head` is the whole file or at least its first HEAD_BYTES. Text is what decodes as UTF-8 and
    holds no control characters but those of ordinary text. Never raises.
    """
    if not head:
        return FileKind.EMPTY
    by_start = next((kind for start, kind in _STARTS if head.startswith(start)), None)
    kind = by_start or _of_riff(head) or _of_boxes(head)
    if kind is not None:
        return kind
    if _is_text(head):
        return FileKind.TEXT
    # Readers of PDF accept some bytes before the header (Adobe PDF Reference 1.7, appendix H,
    # note 13; cited from memory).
    return FileKind.PDF if b"%PDF-" in head[:1024] else FileKind.UNKNOWN


def kind_by_name(path: str) -> FileKind | None:
    """Tell what kind a name claims, or None where its ending claims none that is known here."""
    return _KIND_OF_SUFFIX.get(PurePosixPath(path).suffix.lower().lstrip("."))


def is_raw_name(path: str) -> bool:
    """Tell whether a name claims a camera's own raw format that is not read here."""
    return PurePosixPath(path).suffix.lower().lstrip(".") in _RAW_SUFFIXES


def _of_riff(head: bytes) -> FileKind | None:
    if head[:4] != b"RIFF":
        return None
    return {b"WEBP": FileKind.WEBP, b"AVI ": FileKind.VIDEO}.get(head[8:12])


def _of_boxes(head: bytes) -> FileKind | None:
    # A box begins with its size; printable bytes there would be a text that happens to match.
    if head[4:8] == b"ftyp" and head[0] < 9:
        return _of_brands(head)
    if head[4:8] in _OLD_MOVIE_BOXES and min(head[:4]) < 9:
        return FileKind.VIDEO
    return None


def _of_brands(head: bytes) -> FileKind:
    """Judge the `ftyp` box: the major brand first, then the compatible ones (14496-12, 4.3)."""
    size = min(int.from_bytes(head[:4], "big"), len(head))
    major = head[8:12]
    others = {head[at : at + 4] for at in range(16, size - 3, 4)}
    judged = (
        (major in _AVIF_BRANDS, FileKind.AVIF),
        (major in _HEIF_BRANDS, FileKind.HEIF),
        (major.startswith(_VIDEO_BRANDS), FileKind.VIDEO),
        (major == b"crx ", FileKind.UNKNOWN),  # Canon's raw format, which is not read here
        (others & _HEIF_BRANDS, FileKind.HEIF),
        (others & _AVIF_BRANDS, FileKind.AVIF),
        (major in _OPEN_BRANDS or others & _OPEN_BRANDS, FileKind.HEIF),
    )
    return next((kind for holds, kind in judged if holds), FileKind.VIDEO)


def _is_text(head: bytes) -> bool:
    try:
        # The last character may be cut by the end of the head, but not by the end of the file.
        whole = len(head) < HEAD_BYTES
        text = codecs.getincrementaldecoder("utf-8")().decode(head, final=whole)
    except UnicodeDecodeError:
        return False
    return bool(text) and not any(c < " " and c not in "\t\n\v\f\r\x1b" for c in text)
