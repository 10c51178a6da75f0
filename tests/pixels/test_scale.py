"""Scaled copies: upright, plain, whole or refused, and the same bytes every time."""

from __future__ import annotations

import hashlib
import io
import struct
import threading
import time
import zlib
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageChops, ImageCms, ImageOps, ImageStat

from claimkit.pixels.scale import (
    MOST_PIXELS,
    PictureNotDrawn,
    Wanted,
    scaled,
    scaled_in_order,
    scaled_jpeg,
)
from tests.shared import shared_dir

CORNERS = ((0.12, 0.12), (0.88, 0.12), (0.12, 0.88), (0.88, 0.88), (0.5, 0.5))


def asymmetric(size: tuple[int, int] = (640, 360)) -> Image.Image:
    """Draw four corners of four colours, none like another."""
    image = Image.new("RGB", size, (250, 250, 250))
    wide, high = size
    boxes = {
        (200, 30, 30): (0, 0, wide // 3, high // 3),
        (30, 160, 40): (wide * 2 // 3, 0, wide, high // 3),
        (30, 60, 200): (0, high * 2 // 3, wide // 3, high),
    }
    for colour, box in boxes.items():
        image.paste(colour, box)
    return image


def jpeg(image: Image.Image, orientation: int | None = None, **options: object) -> bytes:
    """Encode a picture, with an Exif orientation where one is given."""
    out = io.BytesIO()
    if orientation is not None:
        exif = Image.Exif()
        exif[0x0112] = orientation
        options["exif"] = exif
    image.save(out, "JPEG", quality=95, **options)
    return out.getvalue()


def encoded(image: Image.Image, kind: str, **options: object) -> bytes:
    """Encode a picture in some format."""
    out = io.BytesIO()
    image.save(out, kind, **options)
    return out.getvalue()


def scale(data: bytes, long_side_px: int = 320, orientation: int | None = None) -> Image.Image:
    """Scale and decode again."""
    made = scaled_jpeg(
        data,
        long_side_px=long_side_px,
        quality=92,
        orientation=orientation,
        upright_when_decoded=False,
    )
    image = Image.open(io.BytesIO(made))
    image.load()
    return image


def probes(image: Image.Image) -> list[tuple[int, int, int]]:
    """Read the colours of five places."""
    rgb = image.convert("RGB")
    found = []
    for across, down in CORNERS:
        pixel = rgb.getpixel((int(rgb.width * across), int(rgb.height * down)))
        assert isinstance(pixel, tuple)
        found.append((int(pixel[0]), int(pixel[1]), int(pixel[2])))
    return found


def near(one: list[tuple[int, int, int]], two: list[tuple[int, int, int]], by: int = 6) -> bool:
    """Tell whether all colours are within `by` steps of each other."""
    return all(
        abs(a - b) <= by for p, q in zip(one, two, strict=True) for a, b in zip(p, q, strict=True)
    )


# Oracle: Pillow's own ImageOps.exif_transpose, which reads the tag itself.
@pytest.mark.parametrize("orientation", range(1, 9))
def test_upright_for_every_exif_orientation(orientation: int) -> None:
    data = jpeg(asymmetric(), orientation)
    upright = ImageOps.exif_transpose(Image.open(io.BytesIO(data)))
    made = scale(data, orientation=orientation)
    assert made.size == (upright.width // 2, upright.height // 2)
    assert near(probes(made), probes(upright))


def test_orientations_differ_from_each_other() -> None:
    """Without this, a picture that looks the same all ways would pass the test above."""
    seen = [probes(scale(jpeg(asymmetric(), n), orientation=n)) for n in range(1, 9)]
    pairs = [(a, b) for i, a in enumerate(seen) for b in seen[i + 1 :]]
    assert all(not near(a, b) for a, b in pairs)


def test_not_turned_again_when_the_decoder_has_turned_it() -> None:
    data = jpeg(asymmetric(), 6)
    made = scaled_jpeg(data, long_side_px=320, quality=92, orientation=6, upright_when_decoded=True)
    assert Image.open(io.BytesIO(made)).size == (320, 180)


@pytest.mark.parametrize("orientation", [None, 0, 9, 65535])
def test_an_orientation_that_is_none_changes_nothing(orientation: int | None) -> None:
    assert scale(jpeg(asymmetric()), orientation=orientation).size == (320, 180)


@pytest.mark.parametrize(
    "size, long_side, expected",
    [
        ((640, 360), 320, (320, 180)),
        ((360, 640), 320, (180, 320)),
        ((4032, 3024), 1600, (1600, 1200)),
        ((1001, 333), 500, (500, 166)),
        ((300, 200), 1600, (300, 200)),  # never enlarged
        ((3000, 2), 300, (300, 1)),  # never thinner than a pixel
    ],
)
def test_size(size: tuple[int, int], long_side: int, expected: tuple[int, int]) -> None:
    assert scale(jpeg(Image.new("RGB", size, (90, 90, 90))), long_side).size == expected


def test_decoding_at_a_fraction_looks_like_decoding_whole() -> None:
    """Oracle: the whole picture shrunk by Pillow, compared point by point."""
    image = Image.linear_gradient("L").resize((2400, 1600)).convert("RGB")
    image.paste(asymmetric((900, 600)), (700, 300))
    made = scale(jpeg(image), 600)
    whole = image.resize((600, 400), Image.Resampling.LANCZOS)
    off = ImageChops.difference(made, whole)
    assert max(ImageStat.Stat(off).mean) < 1.5


def test_transparent_becomes_white() -> None:
    clear = asymmetric().convert("RGBA")
    clear.putalpha(Image.new("L", clear.size, 0))
    assert near(probes(scale(encoded(clear, "PNG"))), [(255, 255, 255)] * 5)
    half = Image.new("RGBA", (60, 60), (0, 0, 0, 128))
    assert near(probes(scale(encoded(half, "PNG"))), [(127, 127, 127)] * 5)


def test_palette_with_a_transparent_colour() -> None:
    image = Image.new("P", (60, 60), 0)
    image.putpalette([10, 20, 30, 200, 100, 50])
    data = encoded(image, "PNG", transparency=0)
    assert near(probes(scale(data)), [(255, 255, 255)] * 5)
    assert near(probes(scale(encoded(image, "PNG"))), [(10, 20, 30)] * 5)


def test_sixteen_bit_grey_keeps_its_brightness() -> None:
    """32768 of 65535 is the middle; cutting off above 255 would give white."""
    image = Image.new("I;16", (64, 48), 32768)
    assert near(probes(scale(encoded(image, "PNG"))), [(128, 128, 128)] * 5, by=2)
    assert near(probes(scale(encoded(image, "TIFF"))), [(128, 128, 128)] * 5, by=2)


@pytest.mark.parametrize(
    "mode, colour, kind, expected",
    [
        ("1", 1, "PNG", (255, 255, 255)),
        ("L", 77, "JPEG", (77, 77, 77)),
        ("LA", (77, 255), "PNG", (77, 77, 77)),
        ("CMYK", (0, 255, 255, 0), "JPEG", (255, 0, 0)),
        ("CMYK", (0, 255, 255, 0), "TIFF", (255, 0, 0)),
        ("RGB", (12, 130, 220), "WEBP", (12, 130, 220)),
        ("RGB", (12, 130, 220), "AVIF", (12, 130, 220)),
        ("RGB", (12, 130, 220), "TIFF", (12, 130, 220)),
    ],
)
def test_modes_and_formats(
    mode: str, colour: int | tuple[int, ...], kind: str, expected: tuple[int, int, int]
) -> None:
    image = Image.new(mode, (96, 64), colour)
    assert near(probes(scale(encoded(image, kind))), [expected] * 5, by=8)


def test_colours_follow_the_pictures_own_profile() -> None:
    """A profile that fits is applied; one for other channels says nothing and is left aside."""
    image = Image.new("RGB", (60, 60), (200, 80, 40))
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    lab = ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB")).tobytes()
    plain = probes(scale(jpeg(image)))
    assert near(probes(scale(jpeg(image, icc_profile=srgb))), plain, by=3)
    assert near(probes(scale(jpeg(image, icc_profile=lab))), plain, by=1)
    # The same profile with its red and blue primaries exchanged (ICC.1, tags rXYZ and bXYZ).
    swapped = srgb.replace(b"rXYZ", b"????").replace(b"bXYZ", b"rXYZ").replace(b"????", b"bXYZ")
    assert near(probes(scale(jpeg(image, icc_profile=swapped))), [(40, 80, 200)] * 5, by=6)


@pytest.mark.parametrize("long_side", [320, 5000])
@pytest.mark.parametrize("profiled", [True, False])
def test_nothing_but_the_picture_is_written(profiled: bool, long_side: int) -> None:
    """Segment markers by ITU-T T.81: no APP1 and up, no comment."""
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    options = {"icc_profile": srgb} if profiled else {}
    data = jpeg(asymmetric(), 6, comment=b"secret", xmp=b"<x/>", dpi=(300, 300), **options)
    assert b"secret" in data
    made = scaled_jpeg(
        data, long_side_px=long_side, quality=80, orientation=6, upright_when_decoded=False
    )
    markers, at = [], 2
    while made[at + 1] != 0xDA:
        markers.append(made[at + 1])
        at += 2 + struct.unpack(">H", made[at + 2 : at + 4])[0]
    assert 0xE0 in markers  # JFIF itself
    assert not {0xFE, *range(0xE1, 0xF0)} & set(markers)
    assert b"secret" not in made


def test_cut_short_is_refused_not_half_drawn() -> None:
    whole = jpeg(asymmetric((1200, 900)))
    for part in (0.3, 0.7, 0.95):
        with pytest.raises(PictureNotDrawn, match="ends before the picture does"):
            scale(whole[: int(len(whole) * part)])
    png = encoded(asymmetric(), "PNG")
    with pytest.raises(PictureNotDrawn):
        scale(png[: len(png) // 2])


def png_header(wide: int, high: int) -> bytes:
    """Give a PNG that claims a size and holds next to nothing (ISO/IEC 15948)."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        return (
            struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
        )

    head = struct.pack(">IIBBBBB", wide, high, 8, 2, 0, 0, 0)
    data = chunk(b"IDAT", zlib.compress(b"\0" * 1000))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + data + chunk(b"IEND", b"")


def test_too_large_is_refused_at_once() -> None:
    began = time.process_time()
    with pytest.raises(PictureNotDrawn, match="60000 × 60000 pixels"):
        scale(png_header(60_000, 60_000))
    with pytest.raises(PictureNotDrawn, match="pixels"):
        scale(png_header(MOST_PIXELS // 1000 + 1, 1000))
    assert time.process_time() - began < 2


def test_a_large_jpeg_is_drawn() -> None:
    """108 million pixels, as phones make them, are over Pillow's own limit for opening."""
    data = jpeg(Image.new("L", (12_000, 9_000), 140))
    assert scale(data, 800).size == (800, 600)


@pytest.mark.parametrize("data", [b"", b"\0", b"%PDF-1.7", b"GIF89a", b"\xff\xd8\xff", b"x" * 99])
def test_what_is_no_picture_is_refused(data: bytes) -> None:
    with pytest.raises(PictureNotDrawn) as caught:
        scale(data)
    assert caught.value.reason.endswith(".")


BASES = [jpeg(asymmetric((160, 120)), 6), encoded(asymmetric((60, 40)), "PNG"),
         encoded(asymmetric((60, 40)), "WEBP"), encoded(asymmetric((60, 40)), "TIFF")]  # fmt: skip


@settings(max_examples=150, deadline=None)
@given(
    st.sampled_from(BASES),
    st.lists(st.tuples(st.integers(0, 5000), st.integers(0, 255)), min_size=1, max_size=12),
    st.integers(0, 5000),
)
def test_damaged_bytes_give_a_picture_or_a_reason(
    base: bytes, changes: list[tuple[int, int]], cut: int
) -> None:
    data = bytearray(base)
    for at, value in changes:
        data[at % len(data)] = value
    if cut % 3 == 0:
        del data[cut % len(data) :]
    try:
        made = scale(bytes(data))
    except PictureNotDrawn as refused:
        assert refused.reason  # noqa: PT017 - either outcome is right, nothing else is
    else:
        assert made.mode == "RGB"


def wanted(data: bytes, read: Callable[[], bytes] | None = None, **more: int) -> Wanted:
    """Ask for a scaled copy of some bytes."""
    return Wanted(
        hashlib.sha256(data).hexdigest(),
        read or (lambda: data),
        more.get("long_side_px", 200),
        more.get("quality", 80),
        more.get("orientation"),
    )


def unreadable() -> bytes:
    """Fail as a missing file does."""
    raise FileNotFoundError("gone")


def test_kept_copies_are_the_same_bytes_and_the_original_is_not_read_again(tmp_path: Path) -> None:
    data = jpeg(asymmetric())
    without = scaled(wanted(data), None)
    first = scaled(wanted(data), tmp_path)
    again = scaled(wanted(data, unreadable), tmp_path)
    assert without == first == again


def test_a_damaged_kept_copy_is_made_anew(tmp_path: Path) -> None:
    data = jpeg(asymmetric())
    right = scaled(wanted(data), tmp_path)
    (kept,) = tmp_path.rglob("*.jpg")
    whole = kept.read_bytes()
    for damage in (b"", whole[:-1], whole[:40], b"\0" * 32, whole[:100] + b"?" + whole[101:]):
        kept.write_bytes(damage)
        assert scaled(wanted(data), tmp_path) == right
        assert kept.read_bytes() == whole


def test_size_quality_and_turn_are_kept_apart(tmp_path: Path) -> None:
    data = jpeg(asymmetric())
    asked = [{"long_side_px": 200}, {"long_side_px": 100}, {"quality": 40}, {"orientation": 6}]
    made = [scaled(wanted(data, **more), tmp_path) for more in asked]
    assert len(set(made)) == 4
    assert made == [scaled(wanted(data, **more), tmp_path) for more in asked]


def test_a_folder_that_cannot_be_written_stops_nothing(tmp_path: Path) -> None:
    blocked = tmp_path / "a file"
    blocked.write_text("in the way")
    data = jpeg(asymmetric())
    assert scaled(wanted(data), blocked) == scaled(wanted(data), None)


def test_another_file_than_was_asked_for_is_refused(tmp_path: Path) -> None:
    other = jpeg(asymmetric((300, 300)))
    with pytest.raises(PictureNotDrawn, match="has changed"):
        scaled(wanted(jpeg(asymmetric()), lambda: other), tmp_path)
    with pytest.raises(PictureNotDrawn, match="cannot be read"):
        scaled(wanted(other, unreadable), tmp_path)
    assert not list(tmp_path.rglob("*.jpg"))


def test_order_and_bytes_do_not_depend_on_workers(tmp_path: Path) -> None:
    pictures = [jpeg(asymmetric((200 + 8 * n, 120))) for n in range(12)]
    pictures[5] = pictures[5][:900]

    def slow(n: int) -> Callable[[], bytes]:
        def read() -> bytes:
            time.sleep(0.02 if n % 4 == 0 else 0)
            return pictures[n]

        return read

    asked = [wanted(data, slow(n)) for n, data in enumerate(pictures)]

    def made(workers: int, folder: Path | None) -> list[bytes | str]:
        return [
            one.reason if isinstance(one, PictureNotDrawn) else one
            for one in scaled_in_order(asked, folder, workers=workers)
        ]

    alone = made(1, None)
    assert isinstance(alone[5], str)
    assert made(4, None) == alone
    assert made(3, tmp_path) == alone
    assert made(3, tmp_path) == alone


def test_two_runs_at_once_on_one_folder(tmp_path: Path) -> None:
    pictures = [jpeg(asymmetric((200 + 8 * n, 120))) for n in range(6)]
    asked = [wanted(data) for data in pictures]
    results: list[list[bytes | PictureNotDrawn]] = []

    def run() -> None:
        results.append(list(scaled_in_order(asked, tmp_path, workers=2)))

    threads = [threading.Thread(target=run) for _ in range(3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(results) == 3
    assert results[0] == results[1] == results[2]
    assert not list(tmp_path.rglob("*.part"))


def test_little_is_held_ahead_of_the_reader() -> None:
    begun: list[int] = []
    data = jpeg(asymmetric((40, 30)))

    def counted(n: int) -> Callable[[], bytes]:
        def read() -> bytes:
            begun.append(n)
            return data

        return read

    told: list[tuple[int, int]] = []
    results = scaled_in_order(
        [wanted(data, counted(n)) for n in range(50)],
        None,
        workers=2,
        progress=lambda done, total: told.append((done, total)),
    )
    next(results)
    time.sleep(0.05)
    assert len(begun) <= 4
    assert len(list(results)) == 49
    assert told == [(n, 50) for n in range(1, 51)]


def test_heic_is_upright_without_the_tag() -> None:
    """Oracle: pi_heif's decoded size; its Exif orientation must not be applied again."""
    import pi_heif

    path = shared_dir("photos") / "real" / "Issue 487.heic"
    data = path.read_bytes()
    upright = pi_heif.open_heif(io.BytesIO(data)).to_pillow()
    made = scaled_jpeg(data, long_side_px=320, quality=85, orientation=6, upright_when_decoded=True)
    image = Image.open(io.BytesIO(made))
    assert (image.width > image.height) == (upright.width > upright.height)
    assert near(probes(image), probes(upright.resize(image.size)), by=40)


def test_shared_photos_give_a_picture_or_a_reason_in_time() -> None:
    for path in sorted(shared_dir("photos").glob("*/*")):
        data = path.read_bytes()
        began = time.process_time()
        try:
            assert scale(data).mode == "RGB"
        except PictureNotDrawn as refused:
            assert refused.reason  # noqa: PT017 - either outcome is right, nothing else is
        assert time.process_time() - began < 3, path.name


def test_a_damaged_heif_never_reaches_the_native_decoder(monkeypatch: pytest.MonkeyPatch) -> None:
    """The decoder ends the whole program on some damaged files (tests/bench/damaged_heif.py)."""
    import pi_heif

    def reached(*_: object, **__: object) -> None:
        raise AssertionError("the decoder was given a damaged file")

    monkeypatch.setattr(pi_heif, "open_heif", reached)
    broken = b"\0\0\0\x18ftypheic\0\0\0\0heicmif1" + b"\xff" * 40
    with pytest.raises(PictureNotDrawn, match="structure is damaged"):
        scaled_jpeg(
            broken, long_side_px=100, quality=80, orientation=None, upright_when_decoded=True
        )
