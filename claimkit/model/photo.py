"""What a photo file states about itself: its bytes' hash, its dates as raw text, its camera.

A photo is one content: the same bytes in two places are one photo. Nothing here says that what
a file states is true; the time it was taken is worked out later, with its basis. What a job has by
the thousand is a msgspec Struct, which the index reads twice as fast as a dataclass.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from msgspec import Struct


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


class DateTag(Struct, frozen=True, array_like=True):
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


class Gps(Struct, frozen=True, array_like=True):
    """Position in signed decimal degrees and the GPS clock's UTC time, where the file has them."""

    latitude: float | None = None
    longitude: float | None = None
    date_text: str | None = None
    time_text: str | None = None
    utc: datetime | None = None


class Camera(Struct, frozen=True, array_like=True):
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


class StatedDate(Struct, frozen=True, array_like=True):
    """A date that a file states outside its Exif tags: in XMP, in IPTC, in a video's boxes.

    `where` names the place, `text` is the raw text. `local` is the clock face, None where the text
    is no date; `offset_minutes` its own UTC offset, None where it has none. `day_only` is True
    where no time of day is given.
    """

    where: str
    text: str
    local: datetime | None = None
    offset_minutes: int | None = None
    day_only: bool = False


class FileSays(Struct, frozen=True, array_like=True):
    """What a picture file says about itself beside its Exif tags, as it stands there.

    `jfif` is the version of a JFIF header, `exif_blocks` how many Exif blocks a JPEG holds, `tool`
    the program that XMP names as the picture's maker, `dates` those of XMP and IPTC.
    """

    jfif: str | None = None
    exif_blocks: int = 0
    tool: str | None = None
    dates: tuple[StatedDate, ...] = ()


class Photo(Struct, frozen=True, array_like=True):
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
    says: FileSays = FileSays()

    def date(self, tag: str) -> DateTag | None:
        """Give the date tag of that name, or None."""
        return next((d for d in self.dates if d.tag == tag), None)


@dataclass(frozen=True, slots=True)
class Words:
    """The words at the beginning of a paper: the lines of its first pages, top to bottom.

    Not more is kept than telling the kind of paper needs. `mail` is True for an e-mail, whose first
    line is its subject, and `attached` are the names of its attachments. `refused` says why no
    words could be read, as the end of a sentence that begins "no text can be read in it:".
    """

    pages: tuple[tuple[str, ...], ...] = ()
    mail: bool = False
    attached: tuple[str, ...] = ()
    refused: str | None = None


@dataclass(frozen=True, slots=True)
class OtherFile:
    """A file in the job folder that is no photo: a paper, a video, or something to name.

    `dates` and `duration_s` are what a video states of itself. `words` are those of a file in
    documents/, None where nobody looked for any.
    """

    path: str
    sha256: str
    size_bytes: int
    kind: FileKind
    flaws: tuple[str, ...] = ()
    dates: tuple[StatedDate, ...] = ()
    duration_s: float | None = None
    words: Words | None = None


@dataclass(frozen=True, slots=True)
class Look:
    """What a photo's picture looks like, for comparing; worked out apart from reading the file.

    `grey` is a tiny grey copy of the upright picture, row by row, and `hash_bits` a difference hash
    of it, both as hexadecimal text; None where the picture is too even to compare or cannot be
    decoded, and then `refused` says why. `thumb_apart` is in how many bits the small picture inside
    the file differs from the picture, None where there is none.
    """

    sha256: str
    hash_bits: str | None = None
    grey: str | None = None
    thumb_apart: int | None = None
    refused: str | None = None
