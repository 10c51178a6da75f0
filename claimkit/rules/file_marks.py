"""What marks a picture file as edited, re-encoded, a screenshot or a near copy, as data.

Names of programs as they stand in Software and CreatorTool, sizes that messaging apps keep to,
forms of screenshots' names. Each row says where it comes from: S seen in files, M from memory.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta


@dataclass(frozen=True, slots=True)
class Program:
    """A program that changes or develops pictures, by a word of the name that it writes.

    `pattern` is matched anywhere without regard to case. `what` says what such a program does.
    """

    pattern: str
    what: str
    must_flag: tuple[str, ...]
    must_pass: tuple[str, ...]
    citation: str
    mark: str


_SEEN = "Software or CreatorTool tags of public files"
_KNOWN = "common practice, no source"
EDITS = "a picture editor"
DEVELOPS = "a program that develops and edits photos"
CONVERTS = "a program that converts pictures"

PROGRAMS: tuple[Program, ...] = (
    Program(
        r"\blightroom\b",
        DEVELOPS,
        ("Adobe Photoshop Lightroom 6.0", "Adobe Lightroom 7.2 (iOS)"),
        ("17.4.1",),
        _SEEN,
        "S",
    ),
    Program(
        r"\b(photoshop|fireworks|pixelmator)\b",
        EDITS,
        ("Adobe Photoshop CS2 Macintosh", "Adobe Fireworks CS3", "Pixelmator 3.6"),
        ("Digital Camera FinePix1400Zoom Ver1.00", "HDR+ 1.0.199571065z"),
        _SEEN,
        "S",
    ),
    Program(r"\bdng converter\b", CONVERTS, ("Adobe DNG Converter 17.4.1 (Windows)",),
            ("N900AUCUCNC2",), _SEEN, "S"),
    Program(
        r"\b(gimp|affinity photo|paint\.net|paint shop|paintshop|photoscape|photofiltre|photopea|"
        r"snapseed|picsart|facetune|canva|vsco|luminar|acorn|photo ?editor|krita)\b",
        EDITS,
        ("GIMP 2.10.36", "paint.net 5.0", "Snapseed 2.0", "Paint Shop Pro Photo 12.00"),
        ("E5000v1.6", "Version 1.0", "1.0"),
        _KNOWN,
        "M",
    ),
    Program(
        r"\b(capture one|darktable|rawtherapee|dxo|aperture|picasa|acdsee|on1)\b",
        DEVELOPS,
        ("Capture One 23 Macintosh", "darktable 4.6.1", "Picasa"),
        ("G975FXXU7CTF1", "Ver.1.02"),
        _KNOWN,
        "M",
    ),
    Program(
        r"\b(imagemagick|graphicsmagick|irfanview|xnview|windows photo viewer)\b",
        CONVERTS,
        ("Microsoft Windows Photo Viewer 6.1.7600.16385", "ImageMagick 7.1"),
        ("9.0.0.168(C782E3R1P9)",),
        _KNOWN,
        "M",
    ),
)  # fmt: skip

# Long sides that messaging apps shrink pictures to: about 960 to 2048 px (S in files).
MESSAGING_PX = (960, 2048)

# Names that phones and computers give to screenshots, without regard to case.
SCREENSHOT_NAMES = r"^(screenshot|screen[ _-]shot|screencapture|bildschirmfoto)([ _-]|\d|$)"
SCREENSHOT_MUST_MATCH = (
    "Screenshot_20240512-140322", "Screen Shot 2026-05-04 at 09.15.00", "Screenshot 2026-05-04",
)  # fmt: skip
SCREENSHOT_MUST_PASS = ("IMG_0042", "screening room", "PXL_20240512_120322123")

# A camera writes its date tags within seconds of each other (own convention).
SAME_MOMENT = timedelta(minutes=1)
# Pictures of one burst follow each other this fast (own convention).
BURST_STEP = timedelta(seconds=3)
BURST_FEWEST = 3

# A difference hash has 144 bits, and two unlike pictures differ in about 70. Copies of 84 shared
# photos that were shrunk to 640 to 1600 px and encoded again differed in at most 10 bits and by 2.3
# of 255 levels of grey on average; of the 3,486 pairs of different photos none was within both
# limits, and the nearest in grey was 6.6 apart (measured; tests/pixels).
ALIKE_BITS = 14
ALIKE_GREY = 5.0
# A small picture that was made from the picture differed in at most 10 bits; in three public files
# that were cropped or turned by a later program it differed in 63 to 97 (measured).
THUMB_BITS = 24
