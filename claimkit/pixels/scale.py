"""Smaller pictures for print: upright, RGB on white, without metadata, the same bytes every time.

Originals are only read. A picture that is damaged, cut short or too large is refused with the
reason: a grey remainder in its place could mislead.
"""

from __future__ import annotations

import hashlib
import io
import os
import tempfile
import threading
import warnings
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from functools import cache
from importlib import metadata
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL.Image import Image

CODE = 1  # raise whenever the same picture would give other bytes
MOST_PIXELS = 120_000_000  # decoded at once: about 0.4 GB
MOST_PIXELS_JPEG = 300_000_000  # a JPEG is decoded at a fraction of its size
_FORMATS = ("JPEG", "PNG", "WEBP", "TIFF", "AVIF")
_QUIET = threading.Lock()  # the warnings filter belongs to the whole program
_DIGEST = 32


class PictureNotDrawn(Exception):
    """A picture that cannot be drawn. `reason` is a sentence to print in its place."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


@dataclass(frozen=True, slots=True)
class Wanted:
    """A scaled copy that is wanted. `read` gives the original's bytes, asked for when needed.

    `orientation` is the Exif value 1 to 8 or None; it is not applied where the decoder has turned
    the picture already. `redraw` makes another picture of the original instead; such a one is not
    kept.
    """

    sha256: str
    read: Callable[[], bytes]
    long_side_px: int
    quality: int = 80
    orientation: int | None = None
    upright_when_decoded: bool = False
    redraw: Callable[[bytes], bytes] | None = None


def scaled_jpeg(
    data: bytes,
    *,
    long_side_px: int,
    quality: int,
    orientation: int | None,
    upright_when_decoded: bool,
) -> bytes:
    """Give an upright sRGB JPEG of a picture, its long side at most `long_side_px`.

    A picture is never enlarged. Raises PictureNotDrawn.
    """
    try:
        image, size = _decoded(data, long_side_px)
        image = _srgb(_shrunk(_plain(image), size), image.info.get("icc_profile"))
        turn = None if upright_when_decoded else orientation
        return _encoded(_turned(image, turn), quality)
    except PictureNotDrawn:
        raise
    except Exception as error:  # decoders fail on damaged data in more ways than can be listed
        raise PictureNotDrawn(_why(error)) from error


def _why(error: Exception) -> str:
    text = str(error)
    if "truncated" in text.lower() or "end of" in text.lower() or isinstance(error, EOFError):
        return (
            "The file ends before the picture does, and a part would mislead. "
            "Ask for the original from the phone."
        )
    if isinstance(error, MemoryError):
        return "There is not enough memory to decode this picture. The original is unchanged."
    return (
        "The picture in this file is damaged or of a kind that cannot be decoded. "
        "Ask for the original from the phone."
    )


def _decoded(data: bytes, long_side_px: int) -> tuple[Image, tuple[int, int]]:
    """Decode a picture, a JPEG at a fraction of its size, and say the size that is wanted."""
    image = _opened(data)
    wide, high = image.size
    size = _target(image.size, long_side_px)
    jpeg = image.format == "JPEG"
    # A progressive JPEG is held whole, whatever size it is decoded at.
    most = MOST_PIXELS_JPEG if jpeg and not image.info.get("progressive") else MOST_PIXELS
    if wide * high > most:
        raise PictureNotDrawn(
            f"The picture is {wide} × {high} pixels, more than is drawn here "
            f"({most // 1_000_000} million). The original is unchanged; its hash stands below."
        )
    if jpeg:
        image.draft(None, size)
    image.load()
    return image, size


def _opened(data: bytes) -> Image:
    """Open by content, whatever the name says, and only the formats that photos come in."""
    from PIL import Image
    from PIL.JpegImagePlugin import JpegImageFile

    from claimkit.intake.metadata.isobmff import holds_together

    if data[4:8] == b"ftyp" and not holds_together(data):
        # The native decoders can end the whole program on such a file.
        raise PictureNotDrawn(
            "The file's own structure is damaged, so it is not decoded. "
            "Ask for the original from the phone."
        )
    with _QUIET, warnings.catch_warnings():
        warnings.simplefilter("ignore")  # about odd metadata, which is not used here
        Image.preinit()
        Image.init()
        for name in _FORMATS:
            factory, accepts = Image.OPEN[name]
            if accepts is not None and accepts(data[:16]) is True:
                # Not Image.open: its limit on pixels is a global of the library. Of a JPEG with
                # further pictures behind it, the first is the photo.
                return (JpegImageFile if name == "JPEG" else factory)(io.BytesIO(data), "")
        if data[4:8] == b"ftyp":
            import pi_heif

            heif = pi_heif.open_heif(io.BytesIO(data), convert_hdr_to_8bit=True)
            if heif.size[0] * heif.size[1] > MOST_PIXELS:
                wide, high = heif.size
                raise PictureNotDrawn(f"The picture is {wide} × {high} pixels, too many to draw.")
            picture: Image.Image = heif.to_pillow()
            return picture
    raise PictureNotDrawn(
        "This is no picture that can be drawn here: JPEG, HEIC, AVIF, PNG, WebP or TIFF."
    )


def _target(size: tuple[int, int], long_side_px: int) -> tuple[int, int]:
    wide, high = size
    part = min(1.0, long_side_px / max(wide, high))
    return max(1, round(wide * part)), max(1, round(high * part))


def _plain(image: Image) -> Image:
    """Give 8 bits a channel, no palette, and white behind what is transparent."""
    from PIL import Image as module

    if image.mode.startswith("I"):
        if image.mode == "I" and image.format != "PNG":
            raise PictureNotDrawn("The picture has 32 bits a pixel, whose white is not known.")
        # 16 bits: keep the upper eight. Pillow's own conversion would cut off instead.
        return image.convert("I").point(lambda value: value * (1 / 257)).convert("L")
    if image.mode == "F":
        raise PictureNotDrawn("The picture's values are fractions, whose white is not known.")
    if image.mode in ("PA", "LA", "La", "RGBA", "RGBa") or "transparency" in image.info:
        clear = image.convert("RGBA")
        white = module.new("RGBA", clear.size, (255, 255, 255, 255))
        return module.alpha_composite(white, clear).convert("RGB")
    if image.mode in ("1", "P", "YCbCr", "HSV", "RGBX"):
        return image.convert("RGB")
    return image


def _shrunk(image: Image, size: tuple[int, int]) -> Image:
    from PIL import Image as module

    if size == image.size:
        return image
    return image.resize(size, module.Resampling.LANCZOS, reducing_gap=3.0)


def _srgb(image: Image, profile: bytes | None) -> Image:
    """Bring colours to sRGB by the picture's own profile; without one they are taken as sRGB."""
    if profile:
        from PIL import ImageCms

        try:
            own = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            srgb = ImageCms.createProfile("sRGB")
            turned = ImageCms.profileToProfile(image, own, srgb, outputMode="RGB")
            if turned is not None:
                return turned
        except (ImageCms.PyCMSError, OSError, ValueError):
            pass  # a profile that does not fit the picture says nothing about its colours
    return image.convert("RGB")


def _turned(image: Image, orientation: int | None) -> Image:
    """Turn upright by the Exif orientation (CIPA DC-008, tag 274)."""
    from PIL.Image import Transpose

    ways = {
        2: Transpose.FLIP_LEFT_RIGHT,
        3: Transpose.ROTATE_180,
        4: Transpose.FLIP_TOP_BOTTOM,
        5: Transpose.TRANSPOSE,
        6: Transpose.ROTATE_270,
        7: Transpose.TRANSVERSE,
        8: Transpose.ROTATE_90,
    }
    way = ways.get(orientation or 1)
    return image if way is None else image.transpose(way)


def _encoded(image: Image, quality: int) -> bytes:
    image.info.clear()  # comments and the like would be written again
    out = io.BytesIO()
    image.save(out, "JPEG", quality=quality, optimize=True)
    return out.getvalue()


@cache
def _stamp() -> str:
    """Name the versions on which the bytes of a scaled copy depend."""
    from PIL import features

    parts = [str(CODE), *(metadata.version(name) for name in ("pillow", "pi-heif"))]
    parts += [str(features.version(name)) for name in ("jpg", "libjpeg_turbo", "webp", "avif")]
    return hashlib.sha256("|".join(parts).encode()).hexdigest()[:8]


def _place(wanted: Wanted, folder: Path) -> Path:
    turn = 0 if wanted.upright_when_decoded else wanted.orientation or 1
    size = f"{wanted.long_side_px}-{wanted.quality}-{turn}-{_stamp()}"
    return folder / wanted.sha256[:2] / f"{wanted.sha256}-{size}.jpg"


def scaled(wanted: Wanted, folder: Path | None) -> bytes:
    """Give a scaled copy, kept in `folder` for the next time (None: nowhere).

    A kept copy is used only if it is whole; one that is not, or cannot be written, is made anew.
    Raises PictureNotDrawn, also where the original is no longer the file with that hash.
    """
    place = _place(wanted, folder) if folder and wanted.redraw is None else None
    kept = _kept(place) if place else None
    if kept is not None:
        return kept
    try:
        data = wanted.read()
    except OSError as error:
        raise PictureNotDrawn(
            f"The file cannot be read ({type(error).__name__}). Put it back and run again."
        ) from error
    if hashlib.sha256(data).hexdigest() != wanted.sha256:
        raise PictureNotDrawn("The file has changed since it was read. Run again.")
    if wanted.redraw is not None:
        return wanted.redraw(data)
    jpeg = scaled_jpeg(
        data,
        long_side_px=wanted.long_side_px,
        quality=wanted.quality,
        orientation=wanted.orientation,
        upright_when_decoded=wanted.upright_when_decoded,
    )
    if place:
        _keep(jpeg, place)
    return jpeg


def _kept(place: Path) -> bytes | None:
    """Give a kept copy whose own hash, behind the picture, is right."""
    try:
        held = place.read_bytes()
    except OSError:
        return None
    jpeg, digest = held[:-_DIGEST], held[-_DIGEST:]
    return jpeg if hashlib.sha256(jpeg).digest() == digest and jpeg else None


def _keep(jpeg: bytes, place: Path) -> None:
    """Put a copy in place at once, so that no other run reads half of it."""
    temporary = None
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(dir=place.parent, suffix=".part")
        with os.fdopen(handle, "wb") as out:
            out.write(jpeg + hashlib.sha256(jpeg).digest())
        Path(temporary).replace(place)
    except OSError:
        # The folder is a convenience: full, read-only or in use by another run, work goes on.
        if temporary:
            Path(temporary).unlink(missing_ok=True)


def scaled_in_order(
    wanted: Sequence[Wanted],
    folder: Path | None,
    *,
    workers: int = 1,
    progress: Callable[[int, int], None] | None = None,
) -> Iterator[bytes | PictureNotDrawn]:
    """Give scaled copies in the order asked for, made by `workers` threads at once.

    The result does not depend on `workers`. At most twice as many copies as workers are held.
    `progress(done, total)` is called in the caller's thread.
    """

    def one(item: Wanted) -> bytes | PictureNotDrawn:
        try:
            return scaled(item, folder)
        except PictureNotDrawn as refused:
            return refused

    waiting: deque[Future[bytes | PictureNotDrawn]] = deque()
    rest = iter(wanted)
    pool = ThreadPoolExecutor(max_workers=max(1, workers))
    try:
        for done in range(1, len(wanted) + 1):
            while len(waiting) < 2 * max(1, workers) and (item := next(rest, None)) is not None:
                waiting.append(pool.submit(one, item))
            result = waiting.popleft().result()
            if progress:
                progress(done, len(wanted))
            yield result
    finally:
        pool.shutdown(wait=True, cancel_futures=True)
