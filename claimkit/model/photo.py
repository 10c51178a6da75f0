"""What a photo file states about itself: its bytes' hash, its dates as raw text, its camera.

A photo is one content: the same bytes in two places are one photo. Nothing here says that what
a file states is true; the time it was taken is worked out later, with its basis.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum


class FileKind(StrEnum):
    """The type of a file by its first bytes, never by its name."""

    JPEG = "JPEG"
    HEIF = "HEIF"
    AVIF = "AVIF"
    PNG = "PNG"
    WEBP = "WebP"
    TIFF = "TIFF"
    GIF = "GIF"
    VIDEO = "video"
    PDF = "PDF"
    TEXT = "text"
    EMPTY = "empty"
    UNKNOWN = "unknown"


PICTURES = frozenset(
    {FileKind.JPEG, FileKind.HEIF, FileKind.AVIF, FileKind.PNG, FileKind.WEBP, FileKind.TIFF}
)


class ExifState(StrEnum):
    """Three different facts that are easily confused, and the good case."""

    READ = "read"
    NONE = "no Exif"
    UNREADABLE = "Exif unreadable"
    DISAGREES = "two readings of the Exif disagree"


@dataclass(frozen=True, slots=True)
class DateTag:
    """One Exif date tag with its own offset and sub-seconds, raw and strictly read.

    `tag` is DateTimeOriginal, DateTimeDigitized or DateTime. `text`, `offset_text` and
    `subsec_text` are the raw texts (None where absent). `local` is the naive camera time, with
    microseconds from the sub-seconds, or None where the text is not a valid date and time.
    `offset_minutes` is the UTC offset, or None. `fault` says why `local` is None.
    """

    tag: str
    text: str
    offset_text: str | None = None
    subsec_text: str | None = None
    local: datetime | None = None
    offset_minutes: int | None = None
    fault: str | None = None


@dataclass(frozen=True, slots=True)
class Gps:
    """Position in signed decimal degrees and the GPS clock's UTC time, where the file has them."""

    latitude: float | None = None
    longitude: float | None = None
    date_text: str | None = None
    time_text: str | None = None
    utc: datetime | None = None


@dataclass(frozen=True, slots=True)
class Camera:
    """What the file states of the camera. Two equal phones without serials are one camera here."""

    make: str | None = None
    model: str | None = None
    serial: str | None = None
    software: str | None = None

    def name(self) -> str | None:
        """Name make and model (and serial) as one line, or None where the file states neither."""
        words = [w for w in (self.make, self.model) if w]
        if len(words) == 2 and words[1].lower().startswith(words[0].lower()):
            words = words[1:]
        if not words:
            return None
        return " ".join(words) + (f" no. {self.serial}" if self.serial else "")


@dataclass(frozen=True, slots=True)
class Photo:
    """One photo's bytes and what they state.

    `places` are all its paths in the job folder, sorted. `width_px` and `height_px` are as stored,
    before turning; `orientation` is the Exif value 1 to 8 where stated and valid (for AVIF the
    container's own turn in the same numbers, which its decoders use instead of the Exif value);
    `upright_when_decoded` is True where the decoder has already turned the picture (HEIF), so that
    the tag must not be applied again. `flaws` are sentences about the file: not what its name
    says, cut short, read budget spent.
    """

    sha256: str
    size_bytes: int
    kind: FileKind
    places: tuple[str, ...]
    exif_state: ExifState
    exif_reason: str | None = None
    dates: tuple[DateTag, ...] = ()
    gps: Gps | None = None
    camera: Camera = Camera()
    orientation: int | None = None
    upright_when_decoded: bool = False
    width_px: int | None = None
    height_px: int | None = None
    flaws: tuple[str, ...] = ()

    def date(self, tag: str) -> DateTag | None:
        """Give the date tag of that name, or None."""
        return next((d for d in self.dates if d.tag == tag), None)


@dataclass(frozen=True, slots=True)
class OtherFile:
    """A file in the job folder that is no photo: a paper, a video, or something to name."""

    path: str
    sha256: str
    size_bytes: int
    kind: FileKind
    flaws: tuple[str, ...] = ()
