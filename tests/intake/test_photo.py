"""Whole files, made by hand, read into photos and other files."""

from __future__ import annotations

import hashlib
import itertools
import subprocess
import sys
from datetime import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from claimkit.intake.metadata.photo import read_bytes
from claimkit.model.photo import Camera, DateTag, ExifState, FileKind, OtherFile, Photo
from tests.intake import photo_writer as write
from tests.shared import ROOT

BLOCK = write.camera_block(offset="+02:00", subsec="5")
FILES = {
    "photos/a.jpg": write.jpeg(write.exif_segment(BLOCK)),
    "photos/a.png": write.png(write.chunk(b"eXIf", BLOCK)),
    "photos/a.webp": write.webp(write.riff_chunk(b"EXIF", BLOCK)),
    "photos/a.heic": write.heif(BLOCK),
    "photos/a.tif": BLOCK,
}


def photo(data: bytes, path: str = "photos/a.jpg") -> Photo:
    found = read_bytes(data, path)
    assert isinstance(found, Photo)
    return found


@pytest.mark.parametrize("path", FILES)
def test_the_same_block_states_the_same_in_every_container(path: str) -> None:
    found = photo(FILES[path], path)
    assert found.sha256 == hashlib.sha256(FILES[path]).hexdigest()
    assert (found.size_bytes, found.places) == (len(FILES[path]), (path,))
    assert (found.exif_state, found.exif_reason, found.flaws) == (ExifState.READ, None, ())
    assert found.date("DateTimeOriginal") == DateTag(
        "DateTimeOriginal",
        "2024:05:12 14:03:22",
        "+02:00",
        "5",
        datetime.fromisoformat("2024-05-12 14:03:22.5"),
        120,
        None,
    )
    assert found.camera == Camera("Fairlight", "F2", None, "1.0")
    assert found.orientation == 6
    assert found.upright_when_decoded is (found.kind is FileKind.HEIF)


def test_the_hash_is_that_of_all_the_bytes() -> None:
    data = write.jpeg(write.segment(0xE2, b"x" * 60_000), write.exif_segment(BLOCK))
    assert photo(data).sha256 == hashlib.sha256(data).hexdigest()


def test_three_different_facts() -> None:
    none = photo(write.jpeg())
    unreadable = photo(write.jpeg(write.segment(0xE1, b"Exif\0\0garbage here")))
    no_date = photo(write.jpeg(write.exif_segment(write.block([write.short(0x0112, 1)]))))
    assert (none.exif_state, none.exif_reason) == (ExifState.NONE, None)
    assert unreadable.exif_state is ExifState.UNREADABLE
    assert "does not begin as one" in (unreadable.exif_reason or "")
    assert (no_date.exif_state, no_date.dates, no_date.orientation) == (ExifState.READ, (), 1)


def test_a_tiffs_own_size_is_read_from_its_directory() -> None:
    sides = [write.short(0x0100, 40), write.short(0x0101, 30)]
    assert (photo(write.block(sides), "a.tif").width_px, photo(write.block(sides)).height_px) == (
        40,
        30,
    )


# Names and kinds


def test_a_picture_named_as_another_is_read_by_its_bytes_and_it_is_said() -> None:
    found = photo(FILES["photos/a.jpg"], "photos/IMG_1.HEIC")
    assert found.kind is FileKind.JPEG
    assert found.date("DateTimeOriginal")
    assert found.flaws[0].startswith("photos/IMG_1.HEIC is a JPEG by its first bytes")


@pytest.mark.parametrize(
    "data,path,kind,words",
    [
        (b"", "photos/a.jpg", FileKind.EMPTY, "is empty (0 bytes)"),
        (b"\0\1\2\3" * 9, "photos/a.jpg", FileKind.UNKNOWN, "is not what its name says"),
        (b"\xff\xd8", "photos/a.jpg", FileKind.UNKNOWN, "is not what its name says"),
        (b"\0\1\2\3" * 9, "photos/a.zip", FileKind.UNKNOWN, "of no kind that is known here"),
        (b"%PDF-1.7\n%%EOF\n", "photos/a.jpg", FileKind.PDF, "is not what its name says"),
        (b"<html>not found</html>", "photos/a.heic", FileKind.TEXT, "is not what its name says"),
        (b"<html>not found</html>", "documents/a.pdf", FileKind.TEXT, "those of a text file"),
        (b"FUJIFILMCCD-RAW 0201\0", "photos/a.RAF", FileKind.UNKNOWN, "raw format"),
        (b"%PDF-1.7\n%%EOF\n", "documents/a.pdf", FileKind.PDF, None),
        (b"%PDF-1.7\n1 0 obj", "documents/a.pdf", FileKind.PDF, "seems to be cut short"),
        (b"GIF89a\1\0\1\0", "photos/a.gif", FileKind.GIF, None),
        (write.box(b"ftyp", b"qt  " + b"\0" * 8), "photos/a.mov", FileKind.VIDEO, None),
        (b"Received 4 cartons\n", "records/a.txt", FileKind.TEXT, None),
    ],
)
def test_what_is_no_picture_is_named_with_what_to_do(
    data: bytes, path: str, kind: FileKind, words: str | None
) -> None:
    found = read_bytes(data, path)
    assert isinstance(found, OtherFile)
    assert (found.path, found.kind, found.size_bytes) == (path, kind, len(data))
    assert found.sha256 == hashlib.sha256(data).hexdigest()
    assert [words in flaw for flaw in found.flaws if words] == [True] * bool(words)
    assert bool(found.flaws) is bool(words)


# Damaged files


def test_a_picture_cut_short_keeps_its_date_and_says_so() -> None:
    found = photo(FILES["photos/a.jpg"][:-4])
    tag = found.date("DateTimeOriginal")
    assert tag is not None
    assert tag.local is not None
    assert any("cut short" in flaw for flaw in found.flaws)


def test_a_date_without_any_picture_is_kept_as_text_and_not_claimed() -> None:
    segment = write.exif_segment(BLOCK)
    found = photo(b"\xff\xd8" + segment + b"\xff\xe2\x05\x58I")
    tag = found.date("DateTimeOriginal")
    assert tag is not None
    assert (tag.text, tag.offset_text) == ("2024:05:12 14:03:22", "+02:00")
    assert (tag.local, tag.offset_minutes) == (None, None)
    assert "no picture" in (tag.fault or "")


XMP_DATE = (
    b"http://ns.adobe.com/xap/1.0/\0<x:xmpmeta xmlns:x='adobe:ns:meta/'>"
    b"<rdf:Description xmp:CreateDate='2024-08-08T08:08:08'/></x:xmpmeta>"
)


def test_what_a_check_sum_proves_to_be_changed_is_kept_as_text_and_not_claimed() -> None:
    # PNG third edition, 5.3: the check sum covers the part's name and content. A changed bit can
    # make the offset of the date of capture (9011) that of the last change (9010), which is sound.
    part = write.chunk(b"eXIf", write.camera_block("2024:05:12 14:03:22", offset="+02:00"))
    assert photo(write.png(part)).dates[0].offset_minutes == 120
    assert part.count(b"\x11\x90\2\0") == 1
    damaged = photo(write.png(part.replace(b"\x11\x90\2\0", b"\x10\x90\2\0")))
    assert [d.text for d in damaged.dates] == ["2024:05:12 14:03:22"] * 3
    assert {(d.local, d.offset_minutes) for d in damaged.dates} == {(None, None)}
    assert all("check sum" in (d.fault or "") for d in damaged.dates)
    where = write.block([], [], [write.text(1, "N"), write.text(0x1D, "2022:06:07")])
    placed = write.chunk(b"eXIf", where)
    assert photo(write.png(placed)).gps is not None
    assert photo(write.png(placed[:-1] + bytes([placed[-1] ^ 1]))).gps is None


def test_a_date_in_xmp_only_is_mentioned_and_not_used() -> None:
    found = photo(write.jpeg(write.segment(0xE1, XMP_DATE)))
    assert found.exif_state is ExifState.NONE
    assert found.dates == ()
    assert "XMP" in found.flaws[0]
    # With a date of capture in the Exif there is nothing to mention.
    both = photo(write.jpeg(write.exif_segment(BLOCK), write.segment(0xE1, XMP_DATE)))
    assert both.flaws == ()


def test_a_defect_of_claimkit_on_one_file_is_told_and_hides_no_other(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def broken(raw: bytes) -> None:
        raise ZeroDivisionError("planted")

    monkeypatch.setattr("claimkit.intake.metadata.photo.read_block", broken)
    found = photo(FILES["photos/a.jpg"])
    assert found.exif_state is ExifState.UNREADABLE
    assert "claimkit failed on this file (ZeroDivisionError: planted)" in (found.exif_reason or "")


# Behaviour


def test_the_order_of_files_changes_nothing() -> None:
    # One Exif library keeps what it read of one HEIC for the next.
    files = {
        **FILES,
        "b.heic": write.heif(write.camera_block("2001:01:01 01:01:01"), in_idat=True),
        "c.heic": write.heif(None),
        "d.jpg": write.jpeg(write.exif_segment(write.camera_block("1999:09:09 09:09:09", ">"))),
    }
    alone = {path: read_bytes(data, path) for path, data in files.items()}
    for names in itertools.islice(itertools.permutations(files), 0, 40_320, 1_009):
        assert {path: read_bytes(files[path], path) for path in names} == alone


def test_nothing_is_warned_or_printed_about_a_users_file() -> None:
    # ExifRead logs a text that is no UTF-8, Pillow warns of a value that is cut off.
    script = (
        "from claimkit.intake.metadata.photo import read_bytes\n"
        "from tests.intake.photo_writer import block, text\n"
        "damaged = block([text(0x0132, b'\\xff\\xfe')], [(0x9003, 2, 200, b'x' * 5)])\n"
        "read_bytes(damaged, 'a.tif')\n"
    )
    command = [sys.executable, "-W", "always", "-c", script]
    run = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    assert (run.stdout, run.stderr) == ("", "")


def _printed(script: str) -> str:
    command = [sys.executable, "-c", script]
    run = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    return run.stdout


def test_importing_it_loads_none_of_the_picture_libraries() -> None:
    script = (
        "import sys, claimkit.intake.metadata.photo\n"
        "print(sorted({'exifread', 'PIL', 'pi_heif', 'numpy'} & set(sys.modules)))\n"
    )
    assert _printed(script).strip() == "[]"


def test_no_native_decoder_is_loaded_for_reading() -> None:
    # pi-heif ends the whole program on some damaged files, so intake must do without it.
    script = (
        "import sys; from claimkit.intake.metadata.photo import read_bytes\n"
        "from tests.intake.photo_writer import camera_block, heif\n"
        "print(read_bytes(heif(camera_block()), 'a.heic').exif_state.value)\n"
        "print('pi_heif' in sys.modules)\n"
    )
    assert _printed(script).split() == ["read", "False"]


STARTS = [
    b"", b"\xff\xd8\xff\xe1", b"\x89PNG\r\n\x1a\n", b"RIFF\xff\0\0\0WEBP", b"II*\0\x08\0\0\0",
    b"\0\0\0\x14ftypheic\0\0\0\0mif1", b"\0\0\0\x14ftypavif\0\0\0\0mif1", b"MM\0+",
]  # fmt: skip


@settings(max_examples=400, deadline=None)
@given(st.sampled_from(STARTS), st.binary(max_size=200))
def test_any_bytes_become_a_photo_or_another_file(start: bytes, tail: bytes) -> None:
    found = read_bytes(start + tail, "photos/a.jpg")
    assert isinstance(found, Photo | OtherFile)
    if isinstance(found, Photo):
        assert "claimkit failed" not in (found.exif_reason or "")
        assert found.exif_state is not ExifState.UNREADABLE or found.exif_reason
