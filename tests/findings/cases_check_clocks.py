"""For each rule about cameras' clocks a case that fires and one that differs by one fact."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

from claimkit.model.case import Case
from claimkit.model.photo import Gps, Photo
from claimkit.model.records import CameraClock, Record
from tests.build import case, facts, moment, photo, record
from tests.findings.work_build import delivery

DAY = "2026-05-04"


def gps(at: str) -> Gps:
    utc = datetime.fromisoformat(at).replace(tzinfo=UTC)
    return Gps(41.0, -87.0, f"{utc:%Y:%m:%d}", f"{utc:%H:%M:%S}", utc)


def shot(name: str, at: str, fix: str | None = None, **more: Any) -> Photo:
    """A photo of 4 May 2026, or of a whole date, in folder photos/."""
    whole = at if len(at) > 8 else f"{DAY} {at}"
    if fix is not None:
        more["gps"] = gps(fix if len(fix) > 8 else f"{DAY} {fix}")
    return photo(f"photos/{name}.jpg", whole, **more)


def clock(name: str, read: str, within: int = 60, record_id: str | None = None) -> Record:
    whole = read if len(read) > 8 else f"{DAY} {read}"
    body = CameraClock(photo=f"photos/{name}.jpg", read=moment(whole), within_seconds=within)
    return record(record_id or f"clock-{name}", body)


def made(*photos: Photo, records: tuple[Record, ...] = (), **of_delivery: Any) -> Case:
    """The truck stands at the curb from 09:10 to 09:40 in Chicago, 14:10 to 14:40 UTC."""
    return case(facts(records=[delivery(**of_delivery), *records], photos=photos))


def shown(read: str) -> Case:
    return made(shot("a", "09:15:00"), records=(clock("a", read),))


def twice(second: str) -> Case:
    """Two pictures of a clock by one camera, the first of them right."""
    shots = (shot("a", "09:15:00"), shot("b", "12:00:00"))
    return made(*shots, records=(clock("a", "09:15"), clock("b", second)))


def fixes(*ages_s: int, apart_s: int = 0, **more: Any) -> tuple[Photo, ...]:
    """One photo every three minutes from 09:12, each with a fix of that age."""
    found = []
    for number, age in enumerate(ages_s):
        at = datetime.fromisoformat(f"{DAY} 09:12") + timedelta(minutes=3 * number)
        fix = at + timedelta(hours=5, seconds=apart_s - age)
        found.append(shot(f"g{number}", f"{at:%H:%M:%S}", f"{fix:%Y-%m-%d %H:%M:%S}", **more))
    return tuple(found)


def by_clock_and_gps(read: str) -> Case:
    return made(*fixes(5, 9, 12, 7), records=(clock("g0", read),))


def counted(second: str, **more: Any) -> Case:
    return made(shot("IMG_0042", "09:30:00", **more), shot("IMG_0043", second, **more))


def receipt_at(taken: str) -> Case:
    return made(shot("r", taken), receipt_photos=("photos/r.jpg",))


def early(taken: str) -> Case:
    """A camera without offsets, whose photos lie at the curb but for the year."""
    return made(shot("a", taken, offset=None), shot("b", taken[:-2] + "30", offset=None))


def years_apart(read: str) -> Case:
    """A photo whose clock stood a year back, and one at the curb whose own time fits."""
    old = shot("old", "2025-05-03 16:24:05")
    return made(old, shot("b", "09:15:00"), records=(clock("old", read),))


CASES: dict[str, tuple[Callable[[], Case], Callable[[], Case]]] = {
    "photo-clock-corrected": (lambda: shown("09:27"), lambda: shown("09:15")),
    "photo-clock-does-not-hold": (
        lambda: years_apart("2026-05-03 16:24"),
        lambda: years_apart("2025-05-03 16:24"),
    ),
    "photo-clock-sound": (lambda: shown("09:15"), lambda: shown("09:27")),
    "photo-clock-set-between": (lambda: twice("14:00"), lambda: twice("12:00")),
    "photo-clock-evidence-differs": (
        lambda: by_clock_and_gps("10:12"),
        lambda: by_clock_and_gps("09:12"),
    ),
    "photo-clock-and-counter": (lambda: counted("08:00:00"), lambda: counted("09:31:00")),
    # Ten minutes' grace before the arrival at 09:10.
    "photo-clock-and-events": (lambda: receipt_at("08:58:00"), lambda: receipt_at("09:01:00")),
    "photo-clock-would-fit": (
        lambda: early("2025-05-04 09:15:00"),
        lambda: early("2026-05-04 09:15:00"),
    ),
    # The last fix is four hours old.
    "photo-gps-stale": (
        lambda: made(*fixes(5, 9, 12, 7, 15_000)),
        lambda: made(*fixes(5, 9, 12, 7, 18)),
    ),
    # One lone fix, an hour before the picture or twenty minutes.
    "photo-gps-earlier": (lambda: made(*fixes(3600)), lambda: made(*fixes(1200))),
}
