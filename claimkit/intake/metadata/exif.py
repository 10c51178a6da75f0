"""What an Exif block states, read twice by two libraries that share no code, and compared.

ExifRead reads within a budget, Pillow reads the same bytes again; only the first, the Exif and
the GPS directory count. Where the two differ on a date, neither is claimed; texts are kept raw
and cut at the first NUL.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from claimkit.intake.metadata.directories import Skeleton, look_at
from claimkit.intake.metadata.exifdates import read_date, read_offset
from claimkit.intake.metadata.gps import read_gps
from claimkit.intake.metadata.readings import Reading, Unreadable, by_exifread, by_pillow
from claimkit.model.photo import Camera, DateTag, ExifState, Gps


@dataclass(frozen=True, slots=True)
class _DateRow:
    """A date tag: its directory and number, and the numbers of its own offset and sub-seconds."""

    name: str
    home: str
    tag: int
    offset: int
    subsec: int


# An offset never belongs to another date than its own (DC-008 4.6.5, OffsetTime and following).
_DATES = (
    _DateRow("DateTimeOriginal", "exif", 0x9003, 0x9011, 0x9291),
    _DateRow("DateTimeDigitized", "exif", 0x9004, 0x9012, 0x9292),
    _DateRow("DateTime", "first", 0x0132, 0x9010, 0x9290),
)
_MAKE, _MODEL, _SOFTWARE, _ORIENTATION = 0x010F, 0x0110, 0x0131, 0x0112
_WIDTH, _HEIGHT, _SERIAL = 0x0100, 0x0101, 0xA431


@dataclass(frozen=True, slots=True)
class ExifFacts:
    """What one block states. `width_px` and `height_px` are those of a TIFF's first directory."""

    state: ExifState
    reason: str | None = None
    dates: tuple[DateTag, ...] = ()
    gps: Gps | None = None
    camera: Camera = field(default_factory=Camera)
    orientation: int | None = None
    width_px: int | None = None
    height_px: int | None = None
    flaws: tuple[str, ...] = ()


def read_block(block: bytes) -> ExifFacts:
    """Read an Exif block that begins with its TIFF header.

    Never raises for any bytes: what cannot be read is ExifState.UNREADABLE with the reason, what
    the two readings tell differently is ExifState.DISAGREES.
    """
    skeleton = look_at(block)
    if skeleton.trouble:
        return ExifFacts(ExifState.UNREADABLE, skeleton.trouble)
    try:
        first, second = by_exifread(block), by_pillow(block)
    except Unreadable as error:
        return ExifFacts(ExifState.UNREADABLE, str(error))
    both = _Both(first, second, skeleton)
    dates = tuple(tag for row in _DATES if (tag := _date(both, row)) is not None)
    gps, gps_flaw = (None, None) if skeleton.flaws else read_gps(first, second)
    flaws = skeleton.flaws + ((gps_flaw,) if gps_flaw else ())
    turn = both.number("first", _ORIENTATION)
    return ExifFacts(
        state=ExifState.DISAGREES if both.differ else ExifState.READ,
        reason="; ".join(both.differ) or None,
        dates=dates,
        gps=gps,
        camera=Camera(
            both.name("first", _MAKE),
            both.name("first", _MODEL),
            both.name("exif", _SERIAL),
            both.name("first", _SOFTWARE),
        ),
        orientation=turn if turn is not None and 1 <= turn <= 8 else None,
        width_px=both.number("first", _WIDTH) or None,
        height_px=both.number("first", _HEIGHT) or None,
        flaws=flaws,
    )


class _Both:
    """Two readings side by side; `differ` collects the names of what they tell differently."""

    def __init__(self, first: Reading, second: Reading, skeleton: Skeleton) -> None:
        self.first, self.second, self.skeleton = first, second, skeleton
        self.utf8 = {(directory, tag): text for directory, tag, text in skeleton.utf8}
        self.differ: list[str] = []

    def text(self, directory: str, tag: int) -> tuple[str | None, str | None]:
        """Give both readings of a text; an empty one that the other leaves out is left out."""
        one, two = self.first.text(directory, tag), self.second.text(directory, tag)
        if not one and not two and one != two:
            return None, None
        return one, two

    def name(self, directory: str, tag: int) -> str | None:
        """Give a name that both readings agree on, without blanks at its ends."""
        one, two = self.text(directory, tag)
        if one is None:
            one = two = self.utf8.get((directory, tag))
        return (one or "").strip() or None if one == two else None

    def number(self, directory: str, tag: int) -> int | None:
        """Give a whole number that both readings agree on."""
        one, two = self.first.number(directory, tag), self.second.number(directory, tag)
        return one if one == two else None


def _date(both: _Both, row: _DateRow) -> DateTag | None:
    """Read one date tag with its own offset and sub-seconds, or None where it is absent.

    TIFF/EP (ISO 12234-2) keeps DateTimeOriginal in the first directory; it counts where the Exif
    directory has none, and where both have one they must agree.
    """
    home, text = row.home, both.text(row.home, row.tag)
    other = both.text("first", row.tag) if row.tag == 0x9003 else (None, None)
    if text == (None, None):
        home, text = "first", other
    if text == (None, None):
        return None
    side = "first" if home != row.home else "exif"
    offsets, subsecs = both.text(side, row.offset), both.text(side, row.subsec)
    kept = next((t for t in text if t is not None), "")
    fault = None
    if any(one != two for one, two in (text, offsets, subsecs)):
        fault = "two readings of it differ"
    elif both.skeleton.twice & {(home, row.tag), (side, row.offset), (side, row.subsec)}:
        fault = "it stands twice in the file with different entries"
    elif other not in ((None, None), text):
        fault = "two places of the file state different texts for it"
    elif both.skeleton.astray.shared & {(home, row.tag), (side, row.offset)}:
        fault = "another entry has the same bytes, and a text of the file is left without entry"
    elif both.skeleton.astray.exif_lost and row.name == "DateTime":
        fault = "the part of the Exif that another date of the file belongs to is lost"
    if fault is not None:
        both.differ.append(f"{row.name}: {fault}")
        said = f"It is not used: {fault}. Ask for the original from the phone or camera."
        return DateTag(row.name, kept, offsets[0], subsecs[0], fault=said)
    ended = (side, row.subsec) not in both.skeleton.unended
    local, fault = read_date(kept, subsecs[0] if ended else None)
    return DateTag(row.name, kept, offsets[0], subsecs[0], local, read_offset(offsets[0]), fault)
