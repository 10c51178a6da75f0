"""How pictures are compared: copies alike, others not, and small pictures that were left behind."""

from __future__ import annotations

import io
import json
from itertools import combinations
from pathlib import Path

import pytest
from PIL import Image, ImageDraw

from claimkit.findings.timeline.look_groups import alike
from claimkit.intake.metadata.photo import read_bytes
from claimkit.model.photo import Look, Photo
from claimkit.pixels.looks import all_looks, difference_hash, kept_looks, look
from claimkit.rules.file_marks import ALIKE_BITS, THUMB_BITS
from tests.build import facts, photo, sha
from tests.shared import shared_dir


def drawn(seed: int, size: tuple[int, int] = (1200, 900)) -> Image.Image:
    """Draw a picture of a few large boxes, another for each seed."""
    image = Image.new("RGB", size, (60 + seed * 20 % 120, 90, 120))
    pen = ImageDraw.Draw(image)
    for n in range(6):
        x, y = (seed * 311 + n * 197) % size[0], (seed * 173 + n * 331) % size[1]
        shade = (seed * 67 + n * 83) % 256
        pen.rectangle((x, y, x + 300, y + 260), fill=(shade, 255 - shade, shade // 2))
    return image


def jpeg(image: Image.Image, quality: int = 92, **more: object) -> bytes:
    out = io.BytesIO()
    image.save(out, "JPEG", quality=quality, **more)
    return out.getvalue()


def seen(data: bytes, path: str = "photos/a.jpg") -> tuple[Photo, Look]:
    found = read_bytes(data, path)
    assert isinstance(found, Photo)
    return found, look(found, data)


def groups(*rows: tuple[Photo, Look]) -> list[list[str]]:
    from dataclasses import replace

    built = replace(facts(photos=[p for p, _ in rows]), looks=tuple(found for _, found in rows))
    return [[p.places[0] for p in group] for group in alike(built)]


def test_the_hash_of_a_ramp_is_known() -> None:
    """Lighter to the right: no left neighbour is lighter; and each row is as light as the last."""
    ramp = bytes(20 * x for _ in range(9) for x in range(9))
    assert difference_hash(ramp) == 0
    fall = bytes(reversed(ramp))
    # All 72 pairs along the rows are lighter on the left; no pair along the columns differs.
    assert difference_hash(fall) == (1 << 72) - 1
    assert difference_hash(bytes([100] * 40 + [105] * 41)) is None


def test_a_copy_smaller_and_worse_is_alike_and_another_picture_is_not() -> None:
    image = drawn(1)
    small = image.resize((640, 480))
    rows = [
        seen(jpeg(image), "photos/a.jpg"),
        seen(jpeg(small, quality=40), "photos/b.jpg"),
        *(seen(jpeg(drawn(n)), f"photos/other{n}.jpg") for n in range(2, 8)),
    ]
    (group,) = groups(*rows)
    assert sorted(group) == ["photos/a.jpg", "photos/b.jpg"]


def test_a_turned_file_is_compared_as_it_is_seen() -> None:
    """Orientation 6 stores the picture a quarter turn anticlockwise (CIPA DC-008, tag 274)."""
    image = drawn(3)
    exif = Image.Exif()
    exif[0x0112] = 6
    stored = image.transpose(Image.Transpose.ROTATE_90)
    rows = [seen(jpeg(image)), seen(jpeg(stored, exif=exif), "photos/b.jpg")]
    assert len(groups(*rows)) == 1


def test_copies_of_the_shared_photos_are_alike_and_no_two_photos_are() -> None:
    """Four of the shared folder, each shrunk and encoded again as a messaging app does."""
    originals, copies = [], []
    for path in sorted(shared_dir("seam-photos").glob("*.jpg"))[:12:3]:
        data = path.read_bytes()
        original = seen(data, f"photos/{path.name}")
        image = Image.open(io.BytesIO(data)).convert("RGB")
        image.thumbnail((1280, 1280))
        originals.append(original)
        copies.append(seen(jpeg(image, quality=60), f"photos/copy-{path.name}"))
    assert len(originals) == 4
    assert groups(*originals) == []
    for pair in zip(originals, copies, strict=True):
        assert len(groups(*pair)) == 1


def test_hashes_of_unlike_pictures_are_far_apart() -> None:
    hashes = [int(seen(jpeg(drawn(n)))[1].hash_bits or "0", 16) for n in range(8)]
    assert min((a ^ b).bit_count() for a, b in combinations(hashes, 2)) > ALIKE_BITS


def with_inside(image: Image.Image, inside: Image.Image) -> bytes:
    """Give a JPEG with a small picture in its Exif block, by Pillow's own writer."""
    import struct

    from tests.intake.photo_writer import block, exif_segment, text

    small = jpeg(inside)
    entries = [(0x0201, 4, 1, bytes(4)), (0x0202, 4, 1, struct.pack("<L", len(small)))]
    at = len(block([text(0x010F, "Fairlight")], thumb=entries))
    entries[0] = (0x0201, 4, 1, struct.pack("<L", at))
    whole = block([text(0x010F, "Fairlight")], thumb=entries) + small
    data = jpeg(image)
    return data[:2] + exif_segment(whole) + data[2:]


def test_a_small_picture_that_was_left_behind_is_noticed() -> None:
    image = drawn(4)
    own = image.resize((160, 120))
    assert (seen(with_inside(image, own))[1].thumb_apart or 0) <= 10
    barred = Image.new("RGB", (160, 160))  # black bars above and below
    barred.paste(own, (0, 20))
    assert (seen(with_inside(image, barred))[1].thumb_apart or 0) <= 10
    cropped = image.crop((0, 0, 500, 375)).resize((1200, 900))
    assert (seen(with_inside(cropped, own))[1].thumb_apart or 0) > THUMB_BITS
    assert seen(jpeg(image))[1].thumb_apart is None


@pytest.mark.parametrize(
    "name, differs",
    [
        ("real/Samsung SM-N900A (Galaxy Note 3).jpg", False),
        ("real/Sony DSC-H9.jpg", False),
        ("real/github_issue_12.jpg", False),
        ("real/has-lens-info.jpg", True),  # 205 × 102 px: cropped from a phone's picture
    ],
)
def test_small_pictures_of_shared_files(name: str, differs: bool) -> None:
    found = seen((shared_dir("photos") / name).read_bytes(), name)[1]
    assert found.thumb_apart is not None
    assert (found.thumb_apart > THUMB_BITS) is differs


def test_what_cannot_be_compared_says_why() -> None:
    even = seen(jpeg(Image.new("RGB", (400, 300), (200, 200, 200))))[1]
    assert (even.hash_bits, even.refused) == (None, "The picture is too even to compare.")
    data = jpeg(drawn(5))
    cut = seen(data[: len(data) // 2])[1]
    assert cut.hash_bits is None
    assert "ends before the picture does" in (cut.refused or "")


def test_looks_are_worked_out_once_and_kept(tmp_path: Path) -> None:
    place = tmp_path / "cache" / "looks.json"
    data = {f"photos/{n}.jpg": jpeg(drawn(n)) for n in range(3)}
    photos = [seen(d, p)[0] for p, d in data.items()]
    asked: list[str] = []

    def read(one: Photo) -> bytes:
        asked.append(one.places[0])
        return data[one.places[0]]

    assert kept_looks(photos, place) == ()
    first = all_looks(photos, read, place, workers=2)
    assert len(first) == len(asked) == 3
    assert all_looks(photos, read, place) == kept_looks(photos, place) == first
    assert len(asked) == 3


def test_a_file_that_is_gone_is_left_out(tmp_path: Path) -> None:
    def gone(_: Photo) -> bytes:
        raise FileNotFoundError

    assert all_looks([photo("photos/a.jpg")], gone, tmp_path / "looks.json") == ()


@pytest.mark.parametrize(
    "held",
    [
        b"",
        b"{",
        b"[]",
        json.dumps({"code": 0, "rows": {}}).encode(),
        json.dumps({"code": 1, "rows": {sha("photos/a.jpg"): ["zz", None, None, None]}}).encode(),
        json.dumps({"code": 1, "rows": {sha("photos/a.jpg"): ["00", None, None, None]}}).encode(),
        json.dumps({"code": 1, "rows": {sha("photos/a.jpg"): [1]}}).encode(),
    ],
)
def test_a_damaged_cache_holds_nothing(held: bytes, tmp_path: Path) -> None:
    place = tmp_path / "looks.json"
    place.write_bytes(held)
    assert kept_looks([photo("photos/a.jpg")], place) == ()
