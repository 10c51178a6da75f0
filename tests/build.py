"""Small builders for facts and cases, so that a test states only what matters to it."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from datetime import UTC, date, datetime, timedelta, timezone
from fractions import Fraction
from typing import Any
from zoneinfo import ZoneInfo

from claimkit.findings.reason import reason
from claimkit.model.case import Case
from claimkit.model.facts import Custody, Facts, NotTaken, Problem
from claimkit.model.job import Item, Job, Joint, Party, Person, Role, Seam, Shipment, Site, Station
from claimkit.model.moment import Moment, Precision
from claimkit.model.photo import Camera, DateTag, ExifState, FileKind, Gps, OtherFile, Photo
from claimkit.model.quantities import Length, Temperature
from claimkit.model.records import KINDS, Body, Record

ZONE = "America/Chicago"
AS_OF = date(2026, 5, 20)
NOW = datetime(2026, 5, 20, 18, 0, tzinfo=UTC)


def sha(name: str) -> str:
    """Give a stable 64-digit hash for a name."""
    return hashlib.sha256(name.encode()).hexdigest()


def moment(text: str, zone: str = ZONE) -> Moment:
    """Read '2026-05-04', '2026-05-04 09:10' or '2026-05-04 09:10:30' as local time."""
    naive = datetime.fromisoformat(text)
    aware = naive.replace(tzinfo=ZoneInfo(zone))
    fixed = aware.astimezone(timezone(aware.utcoffset() or timedelta()))
    precision = {10: Precision.DAY, 16: Precision.MINUTE}.get(len(text), Precision.SECOND)
    return Moment(fixed, text, precision)


def mm(value: str | int | float) -> Length:
    """Give a length written in mm."""
    return Length(Fraction(str(value)), f"{value} mm")


def inches(value: str) -> Length:
    """Give a length written in inches: '3/16', '1 1/8'."""
    total = sum((Fraction(part) for part in value.split()), Fraction(0))
    return Length(total * Fraction("25.4"), f"{value} in")


def celsius(value: int) -> Temperature:
    """Give a temperature."""
    return Temperature(Fraction(value), f"{value} C")


def record(record_id: str, body: Body, **more: Any) -> Record:
    """Give a record with that body; `more` sets replaces, replaced_by, said_by ..."""
    kind = next(name for name, cls in KINDS.items() if isinstance(body, cls))
    more.setdefault("said_by", "dana")
    path = f"records/{record_id}.toml"
    return Record(id=record_id, path=path, sha256=sha(path), kind=kind, body=body, **more)


def photo(
    path: str,
    taken: str | None = "2026-05-04 09:15:00",
    *,
    offset: str | None = "-05:00",
    make: str | None = "Fairlight",
    model: str | None = "F2",
    **more: Any,
) -> Photo:
    """Give a JPEG with a DateTimeOriginal (local camera text) and its own offset tag."""
    dates: tuple[DateTag, ...] = ()
    if taken is not None:
        local = datetime.fromisoformat(taken)
        minutes = None
        if offset is not None:
            sign = -1 if offset[0] == "-" else 1
            minutes = sign * (int(offset[1:3]) * 60 + int(offset[4:6]))
        text = f"{local:%Y:%m:%d %H:%M:%S}"
        dates = (DateTag("DateTimeOriginal", text, offset, None, local, minutes, None),)
    values: dict[str, Any] = {
        "sha256": sha(path),
        "size_bytes": 2_000_000,
        "kind": FileKind.JPEG,
        "places": (path,),
        "exif_state": ExifState.READ if taken or make else ExifState.NONE,
        "dates": dates,
        "camera": Camera(make, model),
        "orientation": 1,
        "width_px": 4000,
        "height_px": 3000,
    }
    return Photo(**(values | more))


def shipment(**more: Any) -> Shipment:
    """Give a shipment of one skid with four cartons."""
    values: dict[str, Any] = {
        "id": "main",
        "carrier": "hauler",
        "handling_units": 1,
        "cartons": 4,
    }
    return Shipment(**(values | more))


def seam(**more: Any) -> Seam:
    """Give a butt seam with a design gap of 2 to 4 mm and a tolerance of 0.8 mm."""
    values: dict[str, Any] = {
        "id": "s1",
        "between": ("panel", "tray"),
        "joint": Joint.BUTT,
        "design_gap_min": mm(2),
        "design_gap_max": mm(4),
        "design_source": "instructions, step 4",
        "tolerance": mm("0.8"),
        "station": (Station(id="top"), Station(id="bottom")),
    }
    return Seam(**(values | more))


def job(**more: Any) -> Job:
    """Give a job with one shipment, two items and one seam."""
    values: dict[str, Any] = {
        "title": "Kiln Road 9",
        "site": Site(address="9 Kiln Road, Ashby", zone=ZONE),
        "party": (
            Party(id="us", name="Marl & Sons", roles=(Role.OWNER, Role.INSTALLER, Role.CONSIGNEE)),
            Party(id="hauler", name="Northway Freight", roles=(Role.DELIVERING_CARRIER,)),
            Party(id="shop", name="Tessel Supply", roles=(Role.SELLER, Role.SHIPPER)),
        ),
        "person": (Person(id="dana", name="Dana Voss", cameras=("Fairlight F2",)),),
        "shipment": (shipment(),),
        "item": (
            Item(id="panel", description="Wall panel"),
            Item(id="tray", description="Floor tray"),
        ),
        "seam": (seam(),),
    }
    return Job(**(values | more))


def facts(
    *,
    job_: Job | None = None,
    records: Iterable[Record] = (),
    photos: Iterable[Photo] = (),
    papers: Iterable[OtherFile] = (),
    not_taken: Iterable[NotTaken] = (),
    custody: Custody | None = None,
    problems: Iterable[Problem] = (),
) -> Facts:
    """Give facts; the default job has one of everything."""
    return Facts(
        folder_name="kiln-road",
        job=job_ or job(),
        job_sha256=sha("job.toml"),
        records=tuple(sorted(records, key=lambda r: r.id)),
        photos=tuple(sorted(photos, key=lambda p: p.sha256)),
        papers=tuple(papers),
        not_taken=tuple(not_taken),
        custody=custody or Custody(),
        problems=tuple(problems),
    )


def case(facts_: Facts, as_of: date = AS_OF, now: datetime = NOW) -> Case:
    """Reason over the facts with the whole register."""
    return reason(facts_, as_of, now)


__all__ = [
    "AS_OF", "NOW", "ZONE", "Camera", "DateTag", "ExifState", "FileKind", "Gps", "OtherFile",
    "case", "celsius", "facts", "inches", "job", "mm", "moment", "photo", "record", "seam", "sha",
    "shipment",
]  # fmt: skip
