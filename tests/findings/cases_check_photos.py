"""For each rule about photos and files a case that fires and one that differs by one fact."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import UTC, datetime, timedelta
from typing import Any

from msgspec import structs

from claimkit.model.case import Case
from claimkit.model.facts import CustodyEvent, NotTaken
from claimkit.model.job import Person
from claimkit.model.photo import ExifState, FileKind, Gps, OtherFile, Photo
from claimkit.model.records import CameraClock, Record
from tests.build import NOW, case, facts, job, moment, photo, record, sha
from tests.findings import cases_check_clocks, cases_check_originals
from tests.findings.work_build import damage, delivery, log, seen, unpacking

CURB = "photos/curb/a.jpg"
RECEIPT = "photos/receipt.jpg"


def with_photo(*records: Record, shot: Photo | None = None, **more: Any) -> Case:
    photos: Iterable[Photo] = (shot,) if shot else ()
    return case(facts(records=records, photos=photos, **more))


def receipt(taken: str | None, **more: Any) -> Case:
    return with_photo(delivery(receipt_photos=(RECEIPT,), **more), shot=photo(RECEIPT, taken))


def dated(taken: str | None, **more: Any) -> Case:
    """One photo beside a delivery on 4 May 2026."""
    return with_photo(delivery(), shot=photo(CURB, taken, **more))


def gps(at: str) -> Gps:
    utc = datetime.fromisoformat(at).replace(tzinfo=UTC)
    return Gps(41.0, -87.0, f"{utc:%Y:%m:%d}", f"{utc:%H:%M:%S}", utc)


def clock_shown(reads: str) -> Case:
    body = CameraClock(photo=CURB, read=moment(reads))
    return with_photo(delivery(), record("clock", body), shot=photo(CURB))


def first_seen(at: str) -> Case:
    return with_photo(delivery(), shot=photo(CURB), custody=log(seen(CURB, at)))


def held(*events: CustodyEvent, path: str = "photos/a.jpg", **more: Any) -> Case:
    lines = [seen(path, event=event, number=n) for n, event in enumerate(events, 1)]
    return case(facts(custody=log(*lines, **more)))


def people(*cameras: str) -> Case:
    somebody = tuple(
        Person(id=f"p{n}", name=f"Person {n}", cameras=(name,)) for n, name in enumerate(cameras)
    )
    return with_photo(shot=photo(CURB), job_=job(person=somebody))


def flawed(*flaws: str) -> Case:
    return with_photo(shot=photo(CURB, flaws=flaws))


def paper(*flaws: str) -> Case:
    held_ = OtherFile("documents/bill.pdf", sha("bill"), 10, FileKind.PDF, flaws)
    return case(facts(papers=(held_,)))


def exif(state: ExifState) -> Case:
    return with_photo(shot=structs.replace(photo(CURB), exif_state=state))


def in_folder(folder: str) -> Case:
    """A photo of Monday 14:00, while the goods were unpacked."""
    shot = photo(f"photos/{folder}/a.jpg", "2026-05-04 14:00:00")
    return with_photo(delivery(), unpacking(), shot=shot)


# The hour that Chicago's clocks repeated: 15 USC 260a, first Sunday of November, from memory.
TWICE = "2025-11-02 01:30:00"

CASES: dict[str, tuple[Callable[[], Case], Callable[[], Case]]] = {
    "photo-none-at-curb": (
        lambda: dated("2026-05-04 09:45:00"),
        lambda: dated("2026-05-04 09:35:00"),
    ),
    "photo-at-curb": (lambda: dated("2026-05-04 09:35:00"), lambda: dated("2026-05-04 09:45:00")),
    "photo-none-of-receipt": (
        lambda: receipt("2026-05-04 09:45:00"),
        lambda: receipt("2026-05-04 09:36:00"),
    ),
    "photo-of-receipt": (
        lambda: receipt("2026-05-04 09:36:00"),
        lambda: receipt("2026-05-04 09:45:00"),
    ),
    "photo-none-of-damage": (
        lambda: with_photo(damage(photos=("photos/other.jpg",)), shot=photo(CURB)),
        lambda: with_photo(damage(photos=(CURB,)), shot=photo(CURB)),
    ),
    "photo-folder-date": (lambda: in_folder("01 curb"), lambda: in_folder("02 unpacking")),
    "photo-undated": (lambda: dated(None), lambda: dated("2026-05-04 09:15:00")),
    "photo-exif-disagrees": (
        lambda: exif(ExifState.DISAGREES),
        lambda: exif(ExifState.READ),
    ),
    # Now is 2026-05-20 18:00 UTC, 13:00 in Chicago.
    "photo-future": (lambda: dated("2026-05-20 13:30:00"), lambda: dated("2026-05-20 13:05:00")),
    "photo-after-intake": (
        lambda: first_seen("2026-05-04 13:00"),
        lambda: first_seen("2026-05-04 14:30"),
    ),
    "photo-default-clock": (
        lambda: dated("2000-01-01 07:12:00", offset=None),
        lambda: dated("2000-01-02 07:12:00", offset=None),
    ),
    # The delivery is the first thing recorded; 30 days before it is 4 April.
    "photo-before-job": (
        lambda: dated("2026-04-03 09:00:00"),
        lambda: dated("2026-04-05 09:00:00"),
    ),
    "photo-clock-and-gps": (
        lambda: dated("2026-05-04 09:15:00", gps=gps("2027-05-04 14:15:00")),
        lambda: dated("2026-05-04 09:15:00", gps=gps("2026-05-04 14:15:20")),
    ),
    "photo-clock-off": (
        lambda: clock_shown("2026-05-04 09:27"),
        lambda: clock_shown("2026-05-04 09:15"),
    ),
    "photo-time-ambiguous": (
        lambda: dated(TWICE, offset=None),
        lambda: dated(TWICE, offset="-06:00"),
    ),
    "photo-no-photographer": (
        lambda: people("Fairlight F2", "Fairlight F2"),
        lambda: people("Fairlight F2", "Fairlight F3"),
    ),
    "photo-flawed": (lambda: flawed("It is cut short."), flawed),
    "photo-long-before-intake": (
        lambda: first_seen("2026-05-12 15:00"),
        lambda: first_seen("2026-05-11 13:00"),
    ),
    "file-not-taken": (
        lambda: case(facts(not_taken=(NotTaken("photos/.x.jpg", "Hidden."),))),
        lambda: case(facts()),
    ),
    "file-flawed": (lambda: paper("It is cut short."), paper),
    "custody-changed": (
        lambda: held(CustodyEvent.FIRST_SEEN, CustodyEvent.CHANGED),
        lambda: held(CustodyEvent.FIRST_SEEN, CustodyEvent.CHANGED, path="job.toml"),
    ),
    "custody-record-edited": (
        lambda: held(CustodyEvent.RECORD_ADDED, CustodyEvent.CHANGED, path="records/01.toml"),
        lambda: held(CustodyEvent.RECORD_ADDED, path="records/01.toml"),
    ),
    "custody-missing": (
        lambda: held(CustodyEvent.FIRST_SEEN, CustodyEvent.MISSING),
        lambda: held(CustodyEvent.FIRST_SEEN, CustodyEvent.MISSING, CustodyEvent.RETURNED),
    ),
    "custody-broken": (
        lambda: held(CustodyEvent.FIRST_SEEN, breaks=("Line 2 does not follow line 1.",)),
        lambda: held(CustodyEvent.FIRST_SEEN),
    ),
    "custody-clock": (
        lambda: first_seen(f"{NOW + timedelta(minutes=3):%Y-%m-%d %H:%M}"),
        lambda: first_seen(f"{NOW + timedelta(minutes=1):%Y-%m-%d %H:%M}"),
    ),
    "custody-recovered": (
        lambda: held(CustodyEvent.FIRST_SEEN, recovered=("A run was cut off.",)),
        lambda: held(CustodyEvent.FIRST_SEEN),
    ),
    **cases_check_clocks.CASES,
    **cases_check_originals.CASES,
}
