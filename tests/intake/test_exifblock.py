"""Exif blocks taken out of containers that are written by hand, by Pillow and by phones."""

from __future__ import annotations

import io
import struct
import time
import zlib

import pi_heif
import pytest
from PIL import Image, features

from claimkit.intake.metadata import isobmff
from claimkit.intake.metadata.exifblock import MAX_PARTS, lift
from claimkit.intake.metadata.lifted import tiff_part
from claimkit.intake.metadata.magic import kind_of
from claimkit.model.photo import FileKind
from tests.intake import photo_writer as write
from tests.shared import shared_dir

BLOCK = write.camera_block()
OTHER = write.camera_block("1999:01:01 00:00:00")
SEGMENT = write.exif_segment(BLOCK)
XMP = write.segment(0xE1, b"http://ns.adobe.com/xap/1.0/\0<x/>")
needs_avif = pytest.mark.skipif(not features.check("avif"), reason="this Pillow has no AVIF")

WHOLE = [
    ("JPEG", write.jpeg(SEGMENT)),
    # Exif behind others, as left by other programs (CIPA DC-008 wants it first)
    ("JPEG, APP1 and APP2 first", write.jpeg(XMP, write.segment(0xE2, b"x" * 60_000), SEGMENT)),
    # T.81 B.1.1.2: any number of fill bytes of value 255 before a marker
    ("JPEG, fill bytes", write.jpeg(b"\xff\xff\xff", SEGMENT, b"\xff")),
    ("PNG", write.png(write.chunk(b"eXIf", BLOCK))),
    ("PNG, Exif after the picture", write.png(write.chunk(b"eXIf", BLOCK), before_data=False)),
    ("PNG, with the JPEG prefix", write.png(write.chunk(b"eXIf", b"Exif\0\0" + BLOCK))),
    ("WebP", write.webp(write.riff_chunk(b"EXIF", BLOCK))),
    ("WebP, with the JPEG prefix", write.webp(write.riff_chunk(b"EXIF", b"Exif\0\0" + BLOCK))),
    ("WebP, XMP of odd length first",
     write.webp(write.riff_chunk(b"XMP ", b"<x/>."), write.riff_chunk(b"EXIF", BLOCK))),
    ("HEIF", write.heif(BLOCK)),
    ("HEIF of cameras", write.heif(BLOCK, brand=b"heix", prefix=b"")),
    ("HEIF, 32-bit numbers", write.heif(BLOCK, wide_numbers=True)),
    ("HEIF, Exif inside the table", write.heif(BLOCK, in_idat=True)),
    ("HEIF, tied to nothing", write.heif(BLOCK, describes=None)),
    ("HEIF, bytes behind the last box", write.heif(BLOCK) + b"SEFT\1\2\3\4and more"),
]  # fmt: skip


@pytest.mark.parametrize("data", [d for _, d in WHOLE], ids=[n for n, _ in WHOLE])
def test_the_block_comes_out_whole_and_nothing_is_faulted(data: bytes) -> None:
    lifted = lift(kind_of(data), data)
    assert (lifted.block, lifted.trouble, lifted.flaws) == (BLOCK, None, ())
    assert (lifted.width_px, lifted.height_px) == (24, 16)


def test_a_tiff_is_itself_the_block_and_a_bigtiff_is_refused() -> None:
    assert lift(FileKind.TIFF, BLOCK).block == BLOCK
    big = lift(FileKind.TIFF, b"II+\0\x08\0\0\0" + b"\0" * 20)
    assert big.block is None
    assert "BigTIFF" in (big.trouble or "")


@pytest.mark.parametrize(
    "data",
    [write.jpeg(XMP), write.png(), write.webp(), write.heif(None)],
    ids=["JPEG", "PNG", "WebP", "HEIF"],
)
def test_no_exif_is_no_trouble(data: bytes) -> None:
    lifted = lift(kind_of(data), data)
    assert (lifted.block, lifted.trouble, lifted.flaws) == (None, None, ())


TWO = [
    ("JPEG", write.jpeg(SEGMENT, write.exif_segment(OTHER))),
    ("PNG", write.png(write.chunk(b"eXIf", BLOCK), write.chunk(b"eXIf", OTHER))),
    ("WebP", write.webp(write.riff_chunk(b"EXIF", BLOCK), write.riff_chunk(b"EXIF", OTHER))),
    ("HEIF", write.heif(BLOCK, again=OTHER)),
]


@pytest.mark.parametrize("data", [d for _, d in TWO], ids=[n for n, _ in TWO])
def test_of_two_blocks_the_first_is_read_and_it_is_said(data: bytes) -> None:
    lifted = lift(kind_of(data), data)
    assert lifted.block == BLOCK
    assert any("holds 2 Exif blocks" in flaw for flaw in lifted.flaws)


def test_exif_behind_the_start_of_scan_is_not_the_pictures() -> None:
    drawn = write.jpeg()
    assert lift(FileKind.JPEG, drawn[:-2] + SEGMENT + b"\xff\xd9").block is None


def test_stray_bytes_between_parts_are_said_and_passed_over() -> None:
    lifted = lift(FileKind.JPEG, write.jpeg(b"\0\0\1", SEGMENT))
    assert lifted.block == BLOCK
    assert "belong to no part of a JPEG at byte 2" in lifted.flaws[0]


@pytest.mark.parametrize(
    "inside", [SEGMENT[:60] + SEGMENT[62:], SEGMENT[:60] + b"xx" + SEGMENT[60:]]
)
def test_a_block_that_lost_or_gained_bytes_is_not_read(inside: bytes) -> None:
    # Its directory still holds together, but the texts have moved away under their places.
    lifted = lift(FileKind.JPEG, write.jpeg(inside))
    assert lifted.block is None
    assert "does not end where the file says" in (lifted.trouble or "")


def test_a_png_block_that_does_not_fit_its_check_sum_is_read_and_it_is_said() -> None:
    good = write.chunk(b"eXIf", BLOCK)
    lifted = lift(FileKind.PNG, write.png(good[:-1] + bytes([good[-1] ^ 1])))
    assert (lifted.block, lifted.changed) == (BLOCK, True)
    assert "does not fit its check sum" in lifted.flaws[0]


def test_a_check_sum_that_was_never_written_proves_nothing() -> None:
    # Seen in a public file: zero in all its parts.
    lifted = lift(FileKind.PNG, write.png(write.chunk(b"eXIf", BLOCK)[:-4] + b"\0\0\0\0"))
    assert (lifted.block, lifted.changed) == (BLOCK, False)
    assert "has no check sum" in lifted.flaws[0]


@pytest.mark.parametrize("packed", [False, True])
def test_the_older_way_to_keep_exif_in_a_png(packed: bool) -> None:
    # Layout from common practice, no source: keyword, name, length, lines of hexadecimal digits.
    raw = b"Exif\0\0" + BLOCK
    words = b"\nexif\n%8d\n" % len(raw)
    words += b"\n".join(raw.hex().encode()[at : at + 72] for at in range(0, 2 * len(raw), 72))
    body = b"\0" + zlib.compress(words) if packed else words
    part = write.chunk(
        b"zTXt" if packed else b"tEXt", b"Raw profile type exif\0" + body + b"\n" * (not packed)
    )
    assert lift(FileKind.PNG, write.png(part)).block == BLOCK
    # The chunk made for it counts before the older way.
    newer = lift(FileKind.PNG, write.png(part, write.chunk(b"eXIf", OTHER)))
    assert newer.block == OTHER


CUT = [
    ("JPEG in the Exif", write.jpeg(SEGMENT)[: len(SEGMENT) - 5], "in the middle of the Exif"),
    ("JPEG before its picture", write.jpeg(XMP)[: len(XMP) + 2], "before its picture data"),
    ("JPEG in its head", b"\xff\xd8\xff\xe1", "in the middle of the Exif"),
    ("PNG before its end", write.png()[:-12], "before its end mark"),
    ("PNG in the Exif", write.png(write.chunk(b"eXIf", BLOCK))[:80], "before its end mark"),
    ("WebP", write.webp(write.riff_chunk(b"EXIF", BLOCK))[:-9], "ends too early"),
    ("HEIF in its table", write.heif(BLOCK)[:120], "table of contents is cut short"),
    ("HEIF in the Exif", write.heif(BLOCK)[:-3], "beyond the end of the file"),
]


@pytest.mark.parametrize("data,reason", [r[1:] for r in CUT], ids=[r[0] for r in CUT])
def test_what_is_cut_short_cannot_say_that_there_is_no_exif(data: bytes, reason: str) -> None:
    lifted = lift(kind_of(data), data)
    assert lifted.block is None
    assert reason in (lifted.trouble or "")
    assert any("cut short" in flaw for flaw in lifted.flaws)


@pytest.mark.parametrize(
    "data",
    [
        write.jpeg(SEGMENT)[:-2],
        write.png(write.chunk(b"eXIf", BLOCK))[:-3],
        write.webp(write.riff_chunk(b"EXIF", BLOCK), write.riff_chunk(b"XMP ", b"x" * 99))[:-40],
        write.heif(BLOCK, in_idat=True)[:-3],
    ],
    ids=["JPEG", "PNG", "WebP", "HEIF"],
)
def test_a_block_before_the_cut_is_still_taken_out(data: bytes) -> None:
    lifted = lift(kind_of(data), data)
    assert lifted.block == BLOCK
    assert any("cut short" in flaw for flaw in lifted.flaws)
    assert not lifted.no_picture


@pytest.mark.parametrize(
    "data,there",
    [
        (write.jpeg(SEGMENT), False),
        (write.jpeg(SEGMENT)[: len(SEGMENT) + 20], True),
        (write.png(write.chunk(b"eXIf", BLOCK)), False),
        (write.png(write.chunk(b"eXIf", BLOCK))[: 33 + 12 + len(BLOCK)], True),
        (write.webp(write.riff_chunk(b"EXIF", BLOCK)), False),
    ],
)
def test_a_file_without_any_picture_data_is_told_apart(data: bytes, there: bool) -> None:
    lifted = lift(kind_of(data), data)
    assert lifted.block == BLOCK
    assert lifted.no_picture is there


def _meta_only(*boxes: bytes) -> bytes:
    return write.box(b"ftyp", b"heic\0\0\0\0heic") + write.box(b"meta", b"\0" * 4 + b"".join(boxes))


EXIF_ITEM = write.box(b"iinf", b"\0" * 4 + b"\0\1" + write.box(b"infe", b"\2\0\0\0\0\2\0\0Exif\0"))
BROKEN = [
    # A 64-bit box of size 0 hung a reader for over 25 s (facts measured on public files)
    (
        "64-bit size 0",
        "claims a size of 0 bytes",
        write.box(b"ftyp", b"heic" + b"\0" * 4) + b"\0\0\0\1free" + b"\0" * 80,
    ),
    (
        "size 7",
        "claims a size of 7 bytes",
        write.box(b"ftyp", b"heic" + b"\0" * 4) + b"\0\0\0\7free",
    ),
    (
        "no table",
        "no table of contents",
        write.box(b"ftyp", b"heic" + b"\0" * 4) + write.box(b"mdat", b"x" * 50),
    ),
    ("a child larger than its parent", "reaches beyond", _meta_only(b"\0\0\xff\xffiinf\0\0\0\0")),
    (
        "places that end early",
        "in the middle of its content",
        _meta_only(write.box(b"iloc", b"\0\0\0\0\x44\0\xff\xff\0\1")),
    ),
    (
        "version 9 of the places",
        "unknown version 9",
        _meta_only(write.box(b"iloc", b"\x09\0\0\0\x44\0\0\0")),
    ),
    (
        "a place given twice",
        "given twice",
        _meta_only(write.box(b"iloc", b"\0\0\0\0\x44\0\0\2" + b"\0\2\0\0\0\1\0\0\0\1\0\0\0\1" * 2)),
    ),
    (
        "endless pieces of nothing",
        "more than 200000 steps",
        _meta_only(
            write.box(
                b"iloc",
                b"\0\0\0\0\0\0\xff\xff"
                + b"".join(struct.pack(">HHH", n, 0, 65_535) for n in range(9000)),
            )
        ),
    ),
    (
        "an item whose name is no text",
        "name is no text",
        _meta_only(
            write.box(
                b"iinf", b"\0" * 4 + b"\0\1" + write.box(b"infe", b"\2\0\0\0\0\2\0\0Exif\xff\0")
            )
        ),
    ),
    (
        "Exif outside the file",
        "beyond the end of the file",
        _meta_only(
            EXIF_ITEM,
            write.box(b"iloc", b"\0\0\0\0\x44\0\0\1" + b"\0\2\0\0\0\1\0\xff\0\0\0\0\0\x40"),
        ),
    ),
    (
        "Exif of no size",
        "beyond the end of the file",
        _meta_only(
            EXIF_ITEM, write.box(b"iloc", b"\0\0\0\0\x44\0\0\1" + b"\0\2\0\0\0\1\0\0\0\1\0\0\0\0")
        ),
    ),
    (
        "Exif in another file",
        "stored in a way",
        _meta_only(
            EXIF_ITEM, write.box(b"iloc", b"\0\0\0\0\x44\0\0\1" + b"\0\2\0\1\0\1\0\0\0\1\0\0\0\4")
        ),
    ),
    (
        "Exif that is none",
        "does not begin as one",
        _meta_only(
            EXIF_ITEM, write.box(b"iloc", b"\0\0\0\0\x44\0\0\1" + b"\0\2\0\0\0\1\0\0\0\1\0\0\0\x20")
        ),
    ),
]


@pytest.mark.parametrize("reason,data", [r[1:] for r in BROKEN], ids=[r[0] for r in BROKEN])
def test_broken_boxes_are_a_reason_and_cost_no_time(reason: str, data: bytes) -> None:
    began = time.process_time()
    lifted = isobmff.lift(data)
    assert time.process_time() - began < 1
    assert lifted.block is None
    assert reason in (lifted.trouble or "")
    assert not isobmff.holds_together(data)


def test_exif_tied_to_another_picture_is_said_and_of_several_none_is_chosen() -> None:
    one = isobmff.lift(write.heif(BLOCK, describes=7))
    assert one.block == BLOCK
    assert "tied to another picture" in one.flaws[0]
    two = isobmff.lift(write.heif(BLOCK, again=OTHER, describes=7))
    assert two.block is None
    assert "2 Exif blocks" in (two.trouble or "")


@pytest.mark.parametrize(
    "data",
    [
        b"\xff\xd8" + write.segment(0xE0, b"") * (MAX_PARTS + 1),
        b"\xff\xd8\xff" + b"\xff\xd0" * (MAX_PARTS + 1),
        b"\x89PNG\r\n\x1a\n" + write.chunk(b"tIME", b"") * (MAX_PARTS + 1),
    ],
    ids=["segments", "markers", "chunks"],
)
def test_a_file_of_endless_parts_is_given_up_and_it_is_said(data: bytes) -> None:
    lifted = lift(kind_of(data), data)
    assert any("not read further" in flaw for flaw in lifted.flaws)
    assert lifted.trouble


@needs_avif
@pytest.mark.parametrize("orientation", range(1, 9))
def test_an_avifs_turn_is_what_libavif_reads(orientation: int) -> None:
    # Pillow writes an Exif orientation as the container's turn; libavif reads it back.
    exif = Image.Exif()
    exif[0x0112] = orientation
    data = write.avif(exif.tobytes())
    with Image.open(io.BytesIO(data)) as image:
        assert image.getexif().get(0x0112, 1) == orientation
    assert (isobmff.lift(data).turn or 1) == orientation


@needs_avif
def test_the_block_of_an_avif_is_what_libheif_takes_out() -> None:
    data = write.avif(BLOCK)  # Pillow writes the block anew, without its orientation
    theirs = tiff_part(pi_heif.open_heif(data).info["exif"])
    assert theirs
    assert isobmff.lift(data).block == theirs


def test_the_blocks_of_phones_are_what_libheif_takes_out() -> None:
    seen = 0
    for path in sorted((shared_dir("photos") / "real").iterdir()):
        data = path.read_bytes()
        if kind_of(data[:4096]) not in (FileKind.HEIF, FileKind.AVIF):
            continue
        try:
            theirs = pi_heif.open_heif(data).info["exif"]
        except ValueError:  # refused, because its picture is cut short; its table is whole
            assert path.name == "corrupted.hif"
            continue
        ours = isobmff.lift(data)
        assert ours.block == (tiff_part(theirs) if theirs else None), path.name
        seen += 1
    assert seen == 5


def test_stored_sizes_are_those_that_pillow_reads() -> None:
    seen = 0
    for path in sorted((shared_dir("photos") / "real").iterdir()):
        data = path.read_bytes()
        kind = kind_of(data[:4096])
        if kind not in (FileKind.JPEG, FileKind.PNG, FileKind.AVIF):
            continue
        try:
            with Image.open(io.BytesIO(data)) as image:
                theirs = image.size
        except OSError:
            continue
        ours = lift(kind, data)
        assert (ours.width_px, ours.height_px) == theirs, path.name
        seen += 1
    assert seen >= 25


@pytest.mark.parametrize("size", [(1, 1), (3, 70), (300, 2)])
@pytest.mark.parametrize("lossless", [False, True])
def test_webp_sizes_of_the_simple_layouts(size: tuple[int, int], lossless: bool) -> None:
    out = io.BytesIO()
    Image.new("RGB", size).save(out, "WEBP", lossless=lossless)
    lifted = lift(FileKind.WEBP, out.getvalue())
    assert (lifted.width_px, lifted.height_px) == size
    assert lifted.flaws == ()
