"""Sixty-three public and crafted files against the reference readings of exiftool and pyexiv2."""

from __future__ import annotations

import csv
import time
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest

from claimkit.intake.metadata.photo import read_bytes
from claimkit.model.photo import DateTag, ExifState, FileKind, OtherFile, Photo
from tests.bench.mutate_photos import mutate, originals
from tests.shared import shared_dir

# Column of the date's text, of its own offset, and of its own sub-seconds where the table has one.
COLUMNS = {
    "DateTimeOriginal": ("OffsetTimeOriginal", "SubSecTimeOriginal"),
    "DateTimeDigitized": ("OffsetTimeDigitized", None),
    "DateTime": ("OffsetTime", "SubSecTime"),
}


@pytest.fixture(scope="module")
def rows() -> list[tuple[dict[str, str], Photo | OtherFile, float]]:
    return list(_rows(shared_dir("photos")))


def _rows(folder: Path) -> Iterator[tuple[dict[str, str], Photo | OtherFile, float]]:
    with (folder / "truth.csv").open(encoding="utf-8", newline="") as table:
        for row in csv.DictReader(table):
            data = (folder / row["path"]).read_bytes()
            began = time.process_time()
            found = read_bytes(data, row["path"])
            yield row, found, time.process_time() - began


def test_every_file_is_read_within_a_second_and_its_hash_is_right(
    rows: list[tuple[dict[str, str], Photo | OtherFile, float]],
) -> None:
    assert len(rows) == 63
    for row, found, took in rows:
        assert took < 1, row["path"]
        assert found.sha256 == row["sha256"], row["path"]


def test_every_agreed_row_is_read_as_the_references_read_it(
    rows: list[tuple[dict[str, str], Photo | OtherFile, float]],
) -> None:
    agreed = [(row, found) for row, found, _ in rows if row["reference_agreement"][:5] == "agree"]
    assert len(agreed) == 53
    for row, found in agreed:
        assert isinstance(found, Photo), row["path"]
        for name, (offset, subsec) in COLUMNS.items():
            tag = found.date(name) or DateTag(name, "")
            assert tag.text == row[name], row["path"]
            # An offset or sub-seconds without their date are nothing that the tool states.
            if tag.text:
                assert (tag.offset_text or "") == row[offset], row["path"]
                assert subsec is None or (tag.subsec_text or "") == row[subsec], row["path"]


def test_no_claimed_time_differs_from_the_reference(
    rows: list[tuple[dict[str, str], Photo | OtherFile, float]],
) -> None:
    claimed = 0
    for row, found, _ in rows:
        for tag in found.dates if isinstance(found, Photo) else ():
            if tag.local is None:
                continue
            stated = datetime.fromisoformat(row[tag.tag].replace(":", "-", 2))
            assert tag.local.replace(microsecond=0) == stated, row["path"]
            claimed += 1
    assert claimed >= 100


def test_gps_camera_and_kind(
    rows: list[tuple[dict[str, str], Photo | OtherFile, float]],
) -> None:
    for row, found, _ in rows:
        if not isinstance(found, Photo) or row["reference_agreement"] != "agree":
            continue
        names = (row["Make"], row["Model"], row["BodySerialNumber"], row["Software"])
        camera = found.camera
        ours = (camera.make, camera.model, camera.serial, camera.software)
        assert tuple(n or "" for n in ours) == names, row["path"]
        place = found.gps
        if place is not None and place.latitude is not None and place.longitude is not None:
            # The table's place carries no sign.
            assert abs(place.latitude) == pytest.approx(float(row["GPSLatitude"]), abs=1e-9)
            assert abs(place.longitude) == pytest.approx(float(row["GPSLongitude"]), abs=1e-9)
        if place is not None:
            assert (place.date_text or "") == row["GPSDateStamp"], row["path"]


def test_what_is_said_of_the_files_that_are_wrong_in_themselves(
    rows: list[tuple[dict[str, str], Photo | OtherFile, float]],
) -> None:
    found = {row["path"]: photo for row, photo, _ in rows}
    assert found["crafted/c61_zero_length.jpg"].kind is FileKind.EMPTY
    assert found["real/meta.mov"].kind is FileKind.VIDEO
    assert "not what its name says" in found["crafted/c58_jpeg_named_heic.HEIC"].flaws[0]
    assert "cut short" in found["crafted/c59_truncated_pixels.jpg"].flaws[0]
    assert "cut short" in found["real/corrupted.hif"].flaws[0]
    assert "XMP" in found["crafted/c25_xmp_only.jpg"].flaws[0]
    hang = found["hostile/heic_box64_size0_loop.heic"]
    assert isinstance(hang, Photo)
    assert hang.exif_state is ExifState.UNREADABLE
    # The references refuse these two, which end before any picture: texts only, no time.
    for name in ("2007-05-12-08-19-07", "2099-08-12-19-59-29"):
        damaged = found[f"real/{name}-sep-{name}a.jpg"]
        assert isinstance(damaged, Photo)
        assert damaged.dates
        assert [tag.local for tag in damaged.dates] == [None] * 3


@pytest.mark.parametrize("with_shared", [False, True], ids=["written by hand", "shared photos"])
def test_a_slice_of_the_mutants_is_read_without_crash_or_wrong_date(with_shared: bool) -> None:
    # The whole run, of 50,000 and more, is tests/bench/mutate_photos.py.
    shared = shared_dir("photos") if with_shared else None
    tally = mutate(originals(shared, largest=60_000), count=300, seed=20_260_504)
    assert tally.crashes == []
    assert tally.wrong == []
    assert tally.slowest < 1
    assert tally.untouched > 150
    assert tally.states["read"] > 50
