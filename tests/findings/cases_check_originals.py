"""For each rule on what files say of themselves a case that fires and one that differs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from typing import Any

from msgspec import structs

from claimkit.model.case import Case
from claimkit.model.photo import (
    Camera,
    DateTag,
    ExifState,
    FileKind,
    FileSays,
    Look,
    OtherFile,
    Photo,
    StatedDate,
)
from tests.build import case, facts, photo, sha
from tests.findings.work_build import delivery

TAKEN = "2026-05-04 09:15:00"
PLAIN = FileSays(jfif="1.01", exif_blocks=1)
VIDEO = "photos/VID_1.mp4"
# 144 bits and 81 levels of grey, invented; the other differs in half of the bits.
BITS, GREY = "0f" * 18, "5a" * 81
OTHER_BITS = "ff" * 18


def one(shot: Photo, *looks: Look) -> Case:
    built = facts(records=[delivery()], photos=[shot])
    return case(replace(built, looks=looks))


def changed_at(text: str, **more: Any) -> Photo:
    """A photo of 4 May 2026, 09:15:00, whose file also states a date of change."""
    shot = photo("photos/a.jpg", TAKEN, **more)
    face = datetime.fromisoformat(text)
    return structs.replace(
        shot, dates=(*shot.dates, DateTag("DateTime", f"{face:%Y:%m:%d %H:%M:%S}", local=face))
    )


def bare(**more: Any) -> Photo:
    """A file with no Exif, 1600 px wide, with a JFIF header."""
    values: dict[str, Any] = {
        "make": None,
        "model": None,
        "exif_state": ExifState.NONE,
        "width_px": 1600,
        "height_px": 1200,
        "says": FileSays(jfif="1.01"),
    }
    path = more.pop("path", "photos/a.jpg")
    return photo(path, None, **(values | more))


def xmp(text: str, where: str = "XMP photoshop:DateCreated", **more: Any) -> Photo:
    date = StatedDate(where, text, datetime.fromisoformat(text), **more)
    return photo("photos/a.jpg", TAKEN, says=structs.replace(PLAIN, dates=(date,)))


def two(bits: str, grey: str = GREY) -> Case:
    """An original and a bare file, with the looks of both."""
    shots = (photo("photos/a.jpg", TAKEN), bare(path="photos/b.jpg"))
    looks = (Look(shots[0].sha256, BITS, GREY), Look(shots[1].sha256, bits, grey))
    return case(replace(facts(records=[delivery()], photos=shots), looks=looks))


def burst(step_s: int) -> Case:
    shots = [photo(f"photos/{n}.jpg", f"2026-05-04 09:15:{n * step_s:02d}") for n in range(3)]
    return case(facts(records=[delivery()], photos=shots))


def header(text: str) -> StatedDate:
    return StatedDate("movie header", "x s since 1904", datetime.fromisoformat(text))


def keys(text: str, minutes: int = -300) -> StatedDate:
    return StatedDate("Keys creation date", text, datetime.fromisoformat(text), minutes)


def video(*dates: StatedDate, path: str = VIDEO, length: float = 5.0) -> Case:
    held = OtherFile(path, sha(path), 1000, FileKind.VIDEO, dates=dates, duration_s=length)
    return case(facts(records=[delivery()], papers=[held]))


CASES: dict[str, tuple[Callable[[], Case], Callable[[], Case]]] = {
    "photo-as-camera-wrote": (
        lambda: one(changed_at(TAKEN)),
        lambda: one(changed_at("2026-05-04 11:15:00")),
    ),
    "photo-reencoded": (lambda: one(bare()), lambda: one(bare(width_px=4000, height_px=3000))),
    "photo-editor-named": (
        lambda: one(photo("a.jpg", camera=Camera("Fairlight", "F2", software="GIMP 2.10"))),
        lambda: one(photo("a.jpg", camera=Camera("Fairlight", "F2", software="Ver.1.02"))),
    ),
    "photo-changed-later": (
        lambda: one(changed_at("2026-05-04 09:16:01")),
        lambda: one(changed_at("2026-05-04 09:16:00")),
    ),
    "photo-thumbnail-differs": (
        lambda: one(photo("a.jpg"), Look(sha("a.jpg"), BITS, GREY, 25)),
        lambda: one(photo("a.jpg"), Look(sha("a.jpg"), BITS, GREY, 24)),
    ),
    "photo-exif-twice": (
        lambda: one(photo("a.jpg", says=structs.replace(PLAIN, exif_blocks=2))),
        lambda: one(photo("a.jpg", says=PLAIN)),
    ),
    "photo-dates-disagree": (
        lambda: one(xmp("2026-05-05 09:15:00")),
        lambda: one(xmp("2026-05-04 09:15:00")),
    ),
    "photo-screenshot": (
        lambda: one(photo("photos/Screenshot_20260504-091500.png")),
        lambda: one(photo("photos/IMG_20260504_091500.png")),
    ),
    "photo-look-alike": (lambda: two(BITS), lambda: two(OTHER_BITS)),
    "photo-burst": (lambda: burst(2), lambda: burst(5)),
    "video-dated": (lambda: video(keys("2026-05-04 09:15:00")), video),
    "video-undated": (video, lambda: video(header("2026-05-04 14:15:00"))),
    "video-dates-differ": (
        lambda: video(keys("2026-05-04 09:15:00"), header("2026-05-06 14:15:00")),
        lambda: video(keys("2026-05-04 09:15:00"), header("2026-05-04 14:15:05")),
    ),
}
