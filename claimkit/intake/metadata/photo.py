"""One file's bytes become a photo or another file: hash, kind, Exif facts and what is wrong.

Each file is read once. A file that is not what its name says, is empty, cut short or hostile is
a fact with a reason and never an error; that a file states no date, has no Exif, or has Exif
that cannot be read are three different facts.
"""

from __future__ import annotations

import hashlib

from msgspec import structs

from claimkit.intake.metadata.exif import ExifFacts, read_block
from claimkit.intake.metadata.exifblock import lift
from claimkit.intake.metadata.magic import HEAD_BYTES, is_raw_name, kind_by_name, kind_of
from claimkit.intake.metadata.paper import words_of
from claimkit.intake.metadata.selftold import told
from claimkit.intake.metadata.video import video_told
from claimkit.model.photo import PICTURES, DateTag, ExifState, FileKind, OtherFile, Photo

_NO_PICTURE = (
    "It is not used: the file ends before any picture data, so there is no picture that it could "
    "be the date of."
)
_CHANGED = (
    "It is not used: the Exif block was changed after its check sum was written, and nobody can "
    "tell where. Ask for the original from the phone or camera."
)
_XMP_DATES = (b":CreateDate", b":DateTimeOriginal", b":DateTimeDigitized", b":DateCreated")


def read_bytes(data: bytes, path: str) -> Photo | OtherFile:
    """Read one file's bytes.

    `path` is the file's place in the job folder, with forward slashes. A picture of one of
    PICTURES is a Photo with that one place; papers, videos, texts, empty files and files of no
    known kind are OtherFile, whatever their name. Never raises for any bytes.
    """
    sha256 = hashlib.sha256(data).hexdigest()
    kind = kind_of(data[:HEAD_BYTES])
    if kind not in PICTURES:
        flaws = _other_flaws(kind, path, data)
        dates, duration_s = video_told(data) if kind is FileKind.VIDEO else ((), None)
        words = words_of(data, kind, path)
        return OtherFile(path, sha256, len(data), kind, flaws, dates, duration_s, words)
    photo = Photo(sha256, len(data), kind, (path,), ExifState.NONE, flaws=_name_flaws(kind, path))
    try:
        return _read_picture(photo, data)
    except Exception as error:  # a defect of claimkit must not hide the other files
        reason = f"claimkit failed on this file ({type(error).__name__}: {error}); please report it"
        return structs.replace(photo, exif_state=ExifState.UNREADABLE, exif_reason=reason)


def _read_picture(photo: Photo, data: bytes) -> Photo:
    lifted = lift(photo.kind, data)
    if lifted.block is not None:
        facts = read_block(lifted.block)
    elif lifted.trouble is not None:
        facts = ExifFacts(ExifState.UNREADABLE, lifted.trouble)
    else:
        facts = ExifFacts(ExifState.NONE)
    dates = facts.dates
    if lifted.no_picture:
        dates = tuple(_not_used(d, _NO_PICTURE) for d in dates)
    if lifted.changed:
        dates = tuple(_not_used(d, _CHANGED) for d in dates)
    tiff = photo.kind is FileKind.TIFF
    flaws = photo.flaws + lifted.flaws + facts.flaws
    if not any(d.local for d in facts.dates if d.tag != "DateTime") and _has_xmp_date(data):
        flaws += (
            "A date of capture stands only in the file's XMP text, which any program can write; it "
            "was not used. Ask for the original from the phone or camera.",
        )
    return structs.replace(
        photo,
        exif_state=facts.state,
        exif_reason=facts.reason,
        dates=dates,
        gps=None if lifted.changed else facts.gps,
        camera=facts.camera,
        # AVIF decoders turn by the container's own turn and leave the Exif tag aside.
        orientation=lifted.turn if photo.kind is FileKind.AVIF else facts.orientation,
        upright_when_decoded=photo.kind is FileKind.HEIF,
        width_px=facts.width_px if tiff else lifted.width_px,
        height_px=facts.height_px if tiff else lifted.height_px,
        flaws=flaws,
        says=told(photo.kind, data),
    )


def _not_used(tag: DateTag, why: str) -> DateTag:
    """Keep a date's text but claim no time from it."""
    return structs.replace(tag, local=None, offset_minutes=None, fault=tag.fault or why)


def _has_xmp_date(data: bytes) -> bool:
    """Tell whether an XMP text in the file names a date; the text is not parsed."""
    return b"adobe:ns:meta" in data and any(mark in data for mark in _XMP_DATES)


def _name_flaws(kind: FileKind, path: str) -> tuple[str, ...]:
    claimed = kind_by_name(path)
    if claimed in (None, kind):
        return ()
    return (
        f"{path} is a {kind} by its first bytes, not what its name says; it was read as {kind}. "
        "Leave it as it is; to open it elsewhere, give a copy the right ending.",
    )


def _other_flaws(kind: FileKind, path: str, data: bytes) -> tuple[str, ...]:
    claimed = kind_by_name(path)
    if kind is FileKind.EMPTY:
        return (
            f"{path} is empty (0 bytes). Copy it again from where it came; if it is empty there "
            "too, ask for the original.",
        )
    if is_raw_name(path):
        return (
            f"{path} is in a camera's raw format that is not read here. Add the JPEG of the same "
            "picture from the camera, and keep this file.",
        )
    if kind is FileKind.UNKNOWN:
        said = "not what its name says" if claimed else "of no kind that is known here"
        return (
            f"{path} is {said}: its first bytes fit no picture, PDF, video or text. It is kept "
            "and listed but not read. Copy it again from where it came, or ask for the original.",
        )
    flaws: tuple[str, ...] = ()
    if claimed not in (None, kind):
        flaws += (
            f"{path} is not what its name says: its first bytes are those of a {kind} file. "
            "Ask for the original, or give a copy the right ending.",
        )
    # Readers of PDF look for the end mark in the last 1024 bytes (Adobe PDF Reference 1.7,
    # appendix H, note 18; cited from memory).
    if kind is FileKind.PDF and b"%%EOF" not in data[-1024:]:
        flaws += (
            f"{path} seems to be cut short: the end mark of a PDF is missing. Copy it again from "
            "where it came, or ask for the original.",
        )
    return flaws
