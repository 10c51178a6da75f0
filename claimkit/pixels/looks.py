"""What pictures look like, for comparing: a difference hash, and the small picture inside a file.

A difference hash keeps, for each pair of neighbours in a tiny grey copy, which is lighter. It is
worked out once a picture, kept in the user's cache folder by the hash of the bytes, and never
needed to read a job.
"""

from __future__ import annotations

import contextlib
import io
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from claimkit.model.photo import Look, Photo
from claimkit.pixels.keep import keep, kept

if TYPE_CHECKING:
    from PIL.Image import Image

CODE = 2  # raise whenever the same picture would give another hash
SIDE = 9
COPY_PX = 1200  # the long side at which a packet draws two photos side by side
_SMALL_PX = 72
_EVEN = 12  # a picture whose tiny copy spans fewer grey levels is too even to compare
_SAME_SHAPE = 0.02

TOO_EVEN = "The picture is too even to compare."


def look(photo: Photo, data: bytes, copies: Path | None = None) -> Look:
    """Give what a photo looks like. Never raises for any bytes.

    It is taken from the scaled copy that a packet draws; `copies` is the folder where that is kept,
    so that the original is decoded once for both.
    """
    from claimkit.intake.metadata.thumbnail import thumbnail_of
    from claimkit.pixels.scale import PictureNotDrawn, Wanted, scaled

    wanted = Wanted(
        photo.sha256,
        lambda: data,
        COPY_PX,
        orientation=photo.orientation,
        upright_when_decoded=photo.upright_when_decoded,
    )
    try:
        whole = _small(scaled(wanted, copies), None, upright=True)
    except PictureNotDrawn as refused:
        return Look(photo.sha256, refused=refused.reason)
    grey = tiny(whole)
    bits = difference_hash(grey)
    if bits is None:
        return Look(photo.sha256, refused=TOO_EVEN)
    apart = None
    inside = thumbnail_of(photo.kind, data)
    if inside is not None:
        with contextlib.suppress(PictureNotDrawn):
            small = _small(inside, photo.orientation, photo.upright_when_decoded)
            own = difference_hash(tiny(_cropped(small, whole.width / whole.height)))
            apart = None if own is None else apart_bits(bits, own)
    return Look(photo.sha256, f"{bits:036x}", grey.hex(), apart)


def _small(data: bytes, orientation: int | None, upright: bool) -> Image:
    from PIL import Image as module

    from claimkit.pixels.scale import scaled_jpeg

    jpeg = scaled_jpeg(
        data,
        long_side_px=_SMALL_PX,
        quality=90,
        orientation=orientation,
        upright_when_decoded=upright,
    )
    return module.open(io.BytesIO(jpeg)).convert("L")


def tiny(image: Image) -> bytes:
    """Give a picture as 9 × 9 levels of grey, row by row."""
    from PIL import Image as module

    return image.resize((SIDE, SIDE), module.Resampling.BOX).tobytes()


def difference_hash(grey: bytes) -> int | None:
    """Hash 9 × 9 levels of grey: which of two neighbours is lighter, along rows and columns.

    9 × 8 bits each way, 144 in all. None where the picture is too even to tell.
    """
    if max(grey) - min(grey) < _EVEN:
        return None
    rows = [grey[y * SIDE + x] > grey[y * SIDE + x + 1] for y in range(9) for x in range(8)]
    columns = [grey[y * SIDE + x] > grey[(y + 1) * SIDE + x] for y in range(8) for x in range(9)]
    return sum(1 << n for n, lighter in enumerate(rows + columns) if lighter)


def apart_bits(one: int, other: int) -> int:
    """Count the bits in which two hashes differ."""
    return (one ^ other).bit_count()


def _cropped(image: Image, shape: float) -> Image:
    """Cut bars away that fill a small picture up to another shape than the picture's."""
    wide, high = image.size
    if abs(wide / high / shape - 1) <= _SAME_SHAPE:
        return image
    if wide / high > shape:
        cut = round((wide - high * shape) / 2)
        return image.crop((cut, 0, wide - cut, high))
    cut = round((high - wide / shape) / 2)
    return image.crop((0, cut, wide, high - cut))


def kept_looks(photos: Iterable[Photo], place: Path) -> tuple[Look, ...]:
    """Give the looks of these photos that the cache holds; a damaged cache holds none."""
    held = _held(place)
    found = (held.get(photo.sha256) for photo in photos)
    return tuple(one for one in found if one is not None)


def all_looks(  # noqa: PLR0913 - what is compared and where it is kept, by name
    photos: Sequence[Photo],
    read: Callable[[Photo], bytes],
    place: Path,
    *,
    workers: int = 1,
    copies: Path | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> tuple[Look, ...]:
    """Give the looks of all these photos, working out and keeping those that are missing.

    `read` gives a photo's bytes and may raise OSError; such a photo is left out. Scaled copies are
    kept in `copies` for drawing. `progress(done, total)` counts the photos that are decoded.
    """
    held = _held(place)
    missing = [photo for photo in photos if photo.sha256 not in held]

    def one(photo: Photo) -> Look | None:
        try:
            return look(photo, read(photo), copies)
        except OSError:
            return None

    if missing:
        from concurrent.futures import ThreadPoolExecutor

        with ThreadPoolExecutor(max_workers=max(1, workers)) as pool:
            new = {}
            for done, found in enumerate(pool.map(one, missing), 1):
                if found:
                    new[found.sha256] = found
                if progress:
                    progress(done, len(missing))
        held |= new
        keep(place, CODE, {sha256: _row(one) for sha256, one in held.items()})
    return tuple(held[photo.sha256] for photo in photos if photo.sha256 in held)


def _held(place: Path) -> dict[str, Look]:
    try:
        return {
            sha256: Look(sha256, _hex(bits, 18), _hex(grey, 81), _number(apart), _text(refused))
            for sha256, (bits, grey, apart, refused) in kept(place, CODE).items()
        }
    except (ValueError, TypeError):
        return {}


def _hex(value: object, size: int) -> str | None:
    """Give a kept value back if it is so many bytes as hexadecimal text."""
    if value is not None and len(bytes.fromhex(str(value))) != size:
        raise ValueError("a kept value has another length")
    return _text(value)


def _text(value: object) -> str | None:
    return None if value is None else str(value)


def _number(value: object) -> int | None:
    return None if value is None else int(str(value))


def _row(one: Look) -> list[str | int | None]:
    return [one.hash_bits, one.grey, one.thumb_apart, one.refused]
