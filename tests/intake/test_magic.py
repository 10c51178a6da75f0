"""Kinds by first bytes. The pictures are drawn by Pillow; brands are those of the standards."""

from __future__ import annotations

import io

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from claimkit.intake.metadata.magic import HEAD_BYTES, kind_by_name, kind_of
from claimkit.model.photo import FileKind
from tests.intake.photo_writer import box


def ftyp(major: bytes, *others: bytes) -> bytes:
    return box(b"ftyp", major + b"\0\0\0\0" + b"".join(others)) + box(b"meta", b"\0" * 20)


def drawn(kind: str) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (8, 8)).save(out, kind)
    return out.getvalue()


@pytest.mark.parametrize(
    "pillow_format,kind",
    [
        ("JPEG", FileKind.JPEG),
        ("PNG", FileKind.PNG),
        ("WEBP", FileKind.WEBP),
        ("TIFF", FileKind.TIFF),
        ("GIF", FileKind.GIF),
        ("PDF", FileKind.PDF),
        ("AVIF", FileKind.AVIF),
        ("BMP", FileKind.UNKNOWN),  # none of the kinds that claimkit knows
    ],
)
def test_files_written_by_another_program(pillow_format: str, kind: FileKind) -> None:
    assert kind_of(drawn(pillow_format)[:HEAD_BYTES]) is kind


@pytest.mark.parametrize(
    "head,kind",
    [
        # ISO/IEC 23008-12 annex B: HEVC stills and sequences, and the open brands
        *[(ftyp(b), FileKind.HEIF) for b in (b"heic", b"heix", b"heim", b"heis")],
        *[(ftyp(b), FileKind.HEIF) for b in (b"hevc", b"hevx", b"hevm", b"hevs")],
        *[(ftyp(b), FileKind.HEIF) for b in (b"mif1", b"msf1", b"mif2")],
        # The AV1 Image File Format, also behind the open brand
        *[(ftyp(b), FileKind.AVIF) for b in (b"avif", b"avis")],
        (ftyp(b"mif1", b"mif1", b"avif", b"miaf"), FileKind.AVIF),
        (ftyp(b"mif1", b"mif1", b"heic"), FileKind.HEIF),
        # A major brand nobody knows: the compatible ones tell (14496-12, 4.3)
        (ftyp(b"zzzz", b"mif1", b"heic"), FileKind.HEIF),
        (ftyp(b"zzzz"), FileKind.VIDEO),
        # Videos, with and without `ftyp`
        *[(ftyp(b), FileKind.VIDEO) for b in (b"isom", b"mp42", b"qt  ", b"M4V ", b"3gp5")],
        (ftyp(b"isom", b"isom", b"mif1"), FileKind.VIDEO),
        (box(b"moov", b"\0" * 20), FileKind.VIDEO),
        (box(b"wide", b"") + box(b"mdat", b"\0" * 9), FileKind.VIDEO),
        (b"RIFF\x10\0\0\0AVI LIST", FileKind.VIDEO),
        (b"\x1a\x45\xdf\xa3\x01\0\0\0", FileKind.VIDEO),
        # Canon's CR3 is such a box file too and no video
        (ftyp(b"crx ", b"crx ", b"isom"), FileKind.UNKNOWN),
        # TIFF 6.0 both byte orders; BigTIFF has 43
        (b"II*\0\x08\0\0\0", FileKind.TIFF),
        (b"MM\0*\0\0\0\x08", FileKind.TIFF),
        (b"II+\0\x08\0\0\0", FileKind.TIFF),
        (b"MM\0+\0\x08\0\0", FileKind.TIFF),
        (b"II*\1\x08\0\0\0", FileKind.UNKNOWN),
        (b"\x0d\x0a%PDF-1.7\n%\xe2\xe3\xcf\xd3\0", FileKind.PDF),
        (b"RIFF\x10\0\0\0WAVEfmt \x10\0", FileKind.UNKNOWN),
        (b"", FileKind.EMPTY),
        (b"\xff\xd8", FileKind.UNKNOWN),
        (b"\0" * 64, FileKind.UNKNOWN),
        # Texts, one of which looks like a box and one of which talks of PDF
        ("Kartons: 4 Stück, naß\n".encode(), FileKind.TEXT),
        (b"\xef\xbb\xbfkey = 1\r\n", FileKind.TEXT),
        (b"The ftypes of boxes", FileKind.TEXT),
        (b"Ask moov and wide", FileKind.TEXT),
        (b"The header is %PDF-1.4", FileKind.TEXT),
        (b"caf\xe9", FileKind.UNKNOWN),  # Latin-1 is not UTF-8
        (b"a\0b", FileKind.UNKNOWN),
    ],
)
def test_kinds(head: bytes, kind: FileKind) -> None:
    assert kind_of(head) is kind


def test_a_character_cut_by_the_end_of_the_head_is_still_text() -> None:
    words = "ß" * HEAD_BYTES
    assert kind_of(b"." + words.encode()[: HEAD_BYTES - 1]) is FileKind.TEXT


@given(st.binary(max_size=64))
def test_any_bytes_have_a_kind(head: bytes) -> None:
    assert isinstance(kind_of(head), FileKind)


@pytest.mark.parametrize(
    "path,kind",
    [
        ("photos/IMG_1.HEIC", FileKind.HEIF),
        ("a.b/x.jpeg", FileKind.JPEG),
        ("x.hif", FileKind.HEIF),
        ("x.dng", FileKind.TIFF),
        ("notes", None),
        ("x.zip", None),
    ],
)
def test_what_a_name_claims(path: str, kind: FileKind | None) -> None:
    assert kind_by_name(path) is kind
