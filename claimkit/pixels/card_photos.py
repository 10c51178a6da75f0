"""All photos of a job looked at for scale cards, once each; what was seen is kept by their hash.

What a photo shows does not depend on the job: every card is read, and which of them are the job's
own is judged later. A picture that cannot be drawn says so and stops no other.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from functools import cache
from importlib import metadata
from pathlib import Path
from typing import Any

from claimkit.model.card_photo import PhotoCards
from claimkit.model.photo import Photo
from claimkit.pixels.keep import keep, kept
from claimkit.pixels.opencv import available, load
from claimkit.rules.card_layout import CARDS

LIBRARIES = ("numpy", "opencv-python-headless", "pillow", "pi-heif")
MOST_WORKERS = 4  # each holds a decoded picture and its grey copy
SAVE_EVERY = 20  # photos, so that a run that is stopped keeps most of its work


def kept_cards(photos: Sequence[Photo], place: Path) -> tuple[PhotoCards, ...]:
    """Give what the cache holds of these photos; nothing is decoded."""
    held = kept(place, _code())
    found = (_back(held.get(photo.sha256)) for photo in photos)
    return tuple(one for one in found if one is not None)


def all_cards(
    photos: Sequence[Photo],
    read: Callable[[Photo], bytes],
    place: Path,
    *,
    workers: int = 1,
    progress: Callable[[int, int], None] | None = None,
) -> tuple[PhotoCards, ...]:
    """Look at every photo that the cache does not hold, keep what is seen, and give all of it.

    `read` gives a photo's bytes and may raise OSError; such a photo is left out. Without OpenCV
    only what is kept is given. `progress(done, total)` counts the photos that are looked at.
    """
    import msgspec

    held = kept(place, _code())
    missing = [photo for photo in photos if _back(held.get(photo.sha256)) is None]
    if missing and available() is None:
        load()
        with ThreadPoolExecutor(max_workers=max(1, min(workers, MOST_WORKERS))) as pool:
            for done, seen in enumerate(pool.map(lambda p: _seen(p, read), missing), 1):
                if seen is not None:
                    held[seen.sha256] = msgspec.to_builtins(seen)
                if done % SAVE_EVERY == 0:
                    keep(place, _code(), held)
                if progress:
                    progress(done, len(missing))
        keep(place, _code(), held)
    found = (_back(held.get(photo.sha256)) for photo in photos)
    return tuple(one for one in found if one is not None)


def _seen(photo: Photo, read: Callable[[Photo], bytes]) -> PhotoCards | None:
    from claimkit.pixels.cards import read_cards
    from claimkit.pixels.scale import PictureNotDrawn

    try:
        data = read(photo)
    except OSError:
        return None
    if hashlib.sha256(data).hexdigest() != photo.sha256:
        return None  # changed since it was read: the next run reads it anew
    try:
        seen = read_cards(
            data,
            orientation=photo.orientation,
            upright_when_decoded=photo.upright_when_decoded,
            registered=range(CARDS),
            photo_sha=photo.sha256,
        )
    except PictureNotDrawn as refused:
        return PhotoCards(photo.sha256, failed=refused.reason)
    return PhotoCards(photo.sha256, seen.readings, seen.loose)


def _back(row: Any) -> PhotoCards | None:
    import msgspec

    if row is None:
        return None
    try:
        return msgspec.convert(row, PhotoCards)
    except msgspec.ValidationError:
        return None


@cache
def _code() -> str:
    """Name the code that measures: claimkit's own modules and the libraries under them."""
    package = Path(__file__).resolve().parents[1]
    own = [*(package / "pixels").glob("*.py"), *(package / "rules").glob("card_*.py")]
    own += [package / "rules" / "tag_codes.py", *(package / "model").glob("card*.py")]
    total = hashlib.sha256()
    for path in sorted(own):
        total.update(b"\0" + path.name.encode() + b"\0" + path.read_bytes())
    for name in LIBRARIES:
        try:
            total.update(f"{name} {metadata.version(name)}".encode())
        except metadata.PackageNotFoundError:
            total.update(f"{name} none".encode())
    return total.hexdigest()[:16]
