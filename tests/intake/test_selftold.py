"""What picture files and videos say beside Exif, against other readers and hand-made files."""

from __future__ import annotations

import csv
import random
import struct
from datetime import datetime

import pytest

from claimkit.intake.metadata.isobmff import MAX_STEPS
from claimkit.intake.metadata.photo import read_bytes
from claimkit.intake.metadata.selftold import told
from claimkit.intake.metadata.stated_dates import iptc_date, iso_date
from claimkit.intake.metadata.thumbnail import thumbnail_of
from claimkit.intake.metadata.video import video_told
from claimkit.model.photo import FileKind, OtherFile, Photo
from tests.intake.photo_writer import block, box, camera_block, exif_segment, jpeg, segment, text
from tests.shared import shared_dir

# Columns of the shared table, made with exiftool and pyexiv2, and where the same stands here.
COLUMNS = {
    "XMP_exif_DateTimeOriginal": "XMP exif:DateTimeOriginal",
    "XMP_xmp_CreateDate": "XMP xmp:CreateDate",
    "XMP_photoshop_DateCreated": "XMP photoshop:DateCreated",
}
# Its XMP is compressed in a chunk that is not unpacked here.
NOT_READ = {"real/utf8-in-ztxt.png"}


def reference() -> list[tuple[dict[str, str], Photo | OtherFile]]:
    folder = shared_dir("photos")
    with (folder / "truth.csv").open(encoding="utf-8", newline="") as table:
        rows = list(csv.DictReader(table))
    return [(row, read_bytes((folder / row["path"]).read_bytes(), row["path"])) for row in rows]


def plain(date: str) -> str:
    """Write a date as the reference table does: colons in the day, a space before the time."""
    return date[:10].replace("-", ":") + date[10:].replace("T", " ")


def test_xmp_dates_are_those_of_the_reference() -> None:
    compared = 0
    for row, found in reference():
        if not isinstance(found, Photo) or row["path"] in NOT_READ:
            continue
        texts = {date.where: plain(date.text) for date in found.says.dates}
        for column, where in COLUMNS.items():
            assert texts.get(where, "") == row[column], (row["path"], column)
            compared += bool(row[column])
    assert compared == 14


def test_iptc_dates_and_jfif_versions_are_those_of_the_reference() -> None:
    iptc = jfif = 0
    for row, found in reference():
        if not isinstance(found, Photo):
            continue
        # exiftool prints the two bytes of a version apart: 1 1 is 1.01.
        stated = row["JFIFVersion"].split()
        assert found.says.jfif == (f"{stated[0]}.{int(stated[1]):02d}" if stated else None)
        jfif += bool(stated)
        date = next((d for d in found.says.dates if d.where[:4] == "IPTC"), None)
        assert (date is not None) is bool(row["IPTC_DateCreated"])
        if date is not None and date.local is not None:
            assert f"{date.local:%Y:%m:%d}" == row["IPTC_DateCreated"]
            assert date.day_only is not bool(row["IPTC_TimeCreated"])
            iptc += 1
    assert (iptc, jfif) == (2, 16)


def test_video_dates_are_those_of_the_reference() -> None:
    """exiftool gives the movie header as it stands and the Keys date with its offset."""
    seen = 0
    for row, found in reference():
        if not isinstance(found, OtherFile) or not row["QuickTime_CreateDate"]:
            continue
        dates = {date.where: date for date in found.dates}
        header = dates["movie header"].local
        assert f"{header:%Y:%m:%d %H:%M:%S}" == row["QuickTime_CreateDate"]
        if row["Keys_CreationDate"]:
            keys = dates["Keys creation date"]
            assert plain(keys.text) == row["Keys_CreationDate"]
            assert keys.offset_minutes == 480
        seen += 1
    assert seen == 2


@pytest.mark.parametrize(
    "written, local, minutes, day_only",
    [
        ("2024-05-12T14:03:22+02:00", "2024-05-12 14:03:22", 120, False),
        ("2024-05-12T14:03:22+0200", "2024-05-12 14:03:22", 120, False),
        ("2024-05-12T14:03-05:00", "2024-05-12 14:03:00", -300, False),
        ("2024-05-12T14:03:22.5Z", "2024-05-12 14:03:22.500000", 0, False),
        ("2024-05-12", "2024-05-12 00:00:00", None, True),
        ("2024-02-30", None, None, False),
        ("12 May 2024", None, None, False),
        ("", None, None, False),
    ],
)
def test_iso_dates(written: str, local: str | None, minutes: int | None, day_only: bool) -> None:
    """ISO 8601 in the profile of XMP, ISO 16684-1, 8.2.1.2 (from memory)."""
    found = iso_date("x", written)
    assert found.text == written
    assert found.local == (datetime.fromisoformat(local) if local else None)
    assert found.offset_minutes == minutes
    assert found.day_only is day_only


def test_iptc_dates_need_their_form() -> None:
    assert iptc_date("x", "20020916", "").day_only
    assert iptc_date("x", "20020916", "182307-0500").offset_minutes == -300
    assert iptc_date("x", "2002-09-16", "").local is None
    assert iptc_date("x", "20021316", "").local is None


def xmp_segment(words: str) -> bytes:
    packet = f'<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF>{words}</rdf:RDF></x:xmpmeta>'
    return segment(0xE1, b"http://ns.adobe.com/xap/1.0/\0" + packet.encode())


def test_a_jpeg_tells_its_blocks_its_tool_and_its_dates() -> None:
    data = jpeg(
        exif_segment(camera_block()),
        xmp_segment(
            '<rdf:Description xmp:CreatorTool="Tool 1" xmp:CreateDate="2024-05-12T14:03:22"/>'
            "<photoshop:DateCreated>2024-05-13</photoshop:DateCreated>"
        ),
        exif_segment(camera_block("2020:01:01 01:01:01")),
    )
    found = told(FileKind.JPEG, data)
    assert found.exif_blocks == 2
    assert found.tool == "Tool 1"
    assert [(d.where, d.text) for d in found.dates] == [
        ("XMP xmp:CreateDate", "2024-05-12T14:03:22"),
        ("XMP photoshop:DateCreated", "2024-05-13"),
    ]


def test_text_in_the_picture_data_is_no_xmp() -> None:
    data = jpeg() + b'<x:xmpmeta><a xmp:CreateDate="2024-05-12"/></x:xmpmeta>'
    assert told(FileKind.JPEG, data).dates == ()
    behind = (
        b"\xff\xd8" + segment(0xDA, bytes(10)) + xmp_segment('<a xmp:CreateDate="2024-05-12"/>')
    )
    assert told(FileKind.JPEG, behind).dates == ()


def test_the_small_picture_comes_out_of_the_second_directory() -> None:
    """The layout of CIPA DC-008: tags 0201 and 0202 in the directory after the first."""
    small = jpeg()
    for order in "<>":
        entries = [
            (0x0201, 4, 1, struct.pack(order + "L", 0)),
            (0x0202, 4, 1, struct.pack(order + "L", len(small))),
        ]
        at = len(block([text(0x010F, "Fairlight")], thumb=entries, order=order))
        entries[0] = (0x0201, 4, 1, struct.pack(order + "L", at))
        whole = block([text(0x010F, "Fairlight")], thumb=entries, order=order) + small
        assert thumbnail_of(FileKind.JPEG, jpeg(exif_segment(whole))) == small
    assert thumbnail_of(FileKind.JPEG, jpeg(exif_segment(camera_block()))) is None
    assert thumbnail_of(FileKind.PNG, b"") is None


# Videos, box by box (ISO/IEC 14496-12, 8.2.2; Apple QuickTime File Format, metadata)

AT = 3_798_360_202  # 2024-05-12 12:03:22, as exiftool reads the shared crafted video


def movie_header(made: int, scale: int = 1000, length: int = 5000, version: int = 0) -> bytes:
    if version:
        body = b"\1\0\0\0" + struct.pack(">QQLQ", made, made, scale, length)
    else:
        body = b"\0\0\0\0" + struct.pack(">LLLL", made, made, scale, length)
    return box(b"mvhd", body + bytes(80))


def keys_box(date: bytes, *, iso: bool = False) -> bytes:
    names = [b"com.apple.quicktime.make", b"com.apple.quicktime.creationdate"]
    keys = b"".join(struct.pack(">L", 8 + len(n)) + b"mdta" + n for n in names)
    listed = [
        struct.pack(">LL", 24 + len(v), number) + box(b"data", struct.pack(">LL", 1, 0) + v)
        for number, v in ((1, b"Fairlight"), (2, date))
    ]
    parts = box(b"hdlr", bytes(25)) + box(b"keys", struct.pack(">LL", 0, 2) + keys)
    return box(b"meta", (bytes(4) if iso else b"") + parts + box(b"ilst", b"".join(listed)))


def movie(*parts: bytes, brand: bytes = b"qt  ") -> bytes:
    head = box(b"ftyp", brand + bytes(4) + brand)
    return head + box(b"mdat", bytes(50)) + box(b"moov", b"".join(parts))


@pytest.mark.parametrize("version", [0, 1])
def test_the_movie_header_counts_from_1904(version: int) -> None:
    dates, length = video_told(movie(movie_header(AT, version=version)))
    assert [d.local for d in dates] == [datetime.fromisoformat("2024-05-12 12:03:22")]
    assert dates[0].offset_minutes is None
    assert length == 5.0


def test_zero_is_unset() -> None:
    dates, _ = video_told(movie(movie_header(0)))
    assert [(d.where, d.local) for d in dates] == [("movie header", None)]


@pytest.mark.parametrize("iso", [False, True])
def test_the_keys_date_comes_first_with_its_offset(iso: bool) -> None:
    data = movie(movie_header(AT), keys_box(b"2024-05-12T14:03:22+0200", iso=iso))
    dates, _ = video_told(data)
    assert [d.where for d in dates] == ["Keys creation date", "movie header"]
    assert dates[0].offset_minutes == 120


def test_the_day_text_is_read() -> None:
    words = b"2024-05-12T14:03:22+0200"
    day = box(b"\xa9day", struct.pack(">HH", len(words), 0x55C4) + words)
    dates, _ = video_told(movie(movie_header(AT), box(b"udta", day)))
    assert [d.where for d in dates] == ["day text", "movie header"]


def test_damaged_videos_give_what_they_hold_and_never_raise() -> None:
    data = movie(movie_header(AT), keys_box(b"2024-05-12T14:03:22+0200"))
    draw = random.Random(6)
    for _ in range(400):
        broken = bytearray(data)
        for _ in range(draw.randint(1, 4)):
            broken[draw.randrange(len(broken))] = draw.randrange(256)
        video_told(bytes(broken[: draw.randint(1, len(broken))]))
    many = box(b"free", b"") * (MAX_STEPS // 100)
    assert video_told(many)[0] == ()


def test_damaged_headers_never_raise() -> None:
    data = jpeg(exif_segment(camera_block()), xmp_segment('<a xmp:CreateDate="2024-05-12"/>'))
    draw = random.Random(7)
    for _ in range(400):
        broken = bytearray(data)
        for _ in range(draw.randint(1, 6)):
            broken[draw.randrange(len(broken))] = draw.randrange(256)
        told(FileKind.JPEG, bytes(broken))
        thumbnail_of(FileKind.JPEG, bytes(broken))
