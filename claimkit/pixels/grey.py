"""A photo decoded upright in grey at full size, with the focal length that its camera states.

Of a JPEG only the brightness is decoded, which saves two thirds of the memory. What the file says
of its lens is a help for the view angle and never needed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from claimkit.pixels.scale import MOST_PIXELS, PictureNotDrawn, _opened, _plain, _turned, _why

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from PIL.Image import Image

_EXIF_IFD, _FOCAL_35 = 0x8769, 0xA405


@dataclass(frozen=True)
class GreyPicture:
    """Grey values 0 to 255, rows first; the focal length as on 35 mm film, or None."""

    pixels: NDArray[np.uint8]
    focal_35: float | None

    @property
    def size(self) -> tuple[int, int]:
        """Width and height in pixels."""
        high, wide = self.pixels.shape
        return wide, high


def decoded_grey(
    data: bytes,
    *,
    orientation: int | None,
    upright_when_decoded: bool,
    most_pixels: int = MOST_PIXELS,
) -> GreyPicture:
    """Decode a photo's bytes upright in grey at full size. Raises PictureNotDrawn."""
    import numpy as np

    try:
        image = _opened(data)
        wide, high = image.size
        if wide * high > most_pixels:
            raise PictureNotDrawn(
                f"The picture is {wide} × {high} pixels, more than is measured here "
                f"({most_pixels // 1_000_000} million)."
            )
        if image.format == "JPEG":
            image.draft("L", image.size)
        image.load()
        # After loading: asked before, a PNG loads itself, hides what fails and keeps half of it.
        focal = _focal_35(image)
        grey = _plain(image).convert("L")
        upright = _turned(grey, None if upright_when_decoded else orientation)
        return GreyPicture(np.asarray(upright, np.uint8), focal)
    except PictureNotDrawn:
        raise
    except Exception as error:  # decoders fail on damaged data in more ways than can be listed
        raise PictureNotDrawn(_why(error)) from error


def _focal_35(image: Image) -> float | None:
    """Read FocalLengthIn35mmFilm (CIPA DC-008, tag 41989); None where absent or absurd."""
    try:
        stated = float(image.getexif().get_ifd(_EXIF_IFD).get(_FOCAL_35) or 0.0)
    except Exception:  # hostile Exif must not stop the measuring
        return None
    return stated if math.isfinite(stated) and 8.0 <= stated <= 500.0 else None
