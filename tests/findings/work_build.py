"""Builders for the records of a delivery and the work, so that a case states only what matters."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime
from typing import Any

from claimkit.findings.delivery import received
from claimkit.findings.timeline import episodes, photos
from claimkit.model.case import Case
from claimkit.model.facts import Custody, CustodyEvent, CustodyLine, Facts
from claimkit.model.measuring import Instrument, Reading, Readings
from claimkit.model.photo import Photo
from claimkit.model.records import (
    CountedItem,
    Damage,
    Delivery,
    FoundAt,
    Milestone,
    Record,
    Unpacking,
)
from claimkit.model.stages import Event, Stage
from tests.build import AS_OF, NOW, facts, mm, moment, record, sha


def delivery(record_id: str = "01-delivery", **more: Any) -> Record:
    """A truck at the curb on Monday 4 May 2026, 09:10 to 09:40, two counts as expected."""
    values: dict[str, Any] = {
        "arrived": moment("2026-05-04 09:10"),
        "driver_left": moment("2026-05-04 09:40"),
        "signed_at": moment("2026-05-04 09:35"),
        "units_expected": 1,
        "units_received": 1,
        "cartons_expected": 4,
        "cartons_received": 4,
    }
    return record(record_id, Delivery(**(values | more)))


def counted(item: str, **more: Any) -> CountedItem:
    return CountedItem(**({"item": item, "quantity": 1, "condition": "good"} | more))


def unpacking(
    *items: CountedItem, record_id: str = "02-unpacking", on: str = "2026-05-04", **more: Any
) -> Record:
    """An unpacking from 13:00 to 15:00 of a day, of panel and tray where nothing else is said."""
    values: dict[str, Any] = {
        "began": moment(f"{on} 13:00"),
        "ended": moment(f"{on} 15:00"),
        "counted": items or (counted("panel"), counted("tray")),
    }
    return record(record_id, Unpacking(**(values | more)))


def step(event: Event, began: str, ended: str | None = None, **more: Any) -> Record:
    record_id = more.pop("record_id", f"m-{event.value.replace(' ', '-')}")
    values: dict[str, Any] = {
        "event": event,
        "began": moment(began),
        "ended": moment(ended) if ended else None,
    }
    return record(record_id, Milestone(**(values | more)))


def damage(item: str = "panel", record_id: str = "03-damage", **more: Any) -> Record:
    values: dict[str, Any] = {
        "item": item,
        "found_at": FoundAt.UNPACKING,
        "found": moment("2026-05-04 14:00"),
        "what": "cracked",
    }
    return record(record_id, Damage(**(values | more)))


def readings(
    stage: Stage, taken: str, *stations: str, record_id: str | None = None, **more: Any
) -> Record:
    values: dict[str, Any] = {
        "seam": "s1",
        "stage": stage,
        "taken": moment(taken),
        "instrument": Instrument.TAPER_GAUGE,
        "at": tuple(Reading(station=s, gap=(mm(3),)) for s in stations or ("top", "bottom")),
    }
    name = record_id or f"r-{stage.value.replace(' ', '-')}"
    return record(name, Readings(**(values | more)))


def seen(
    path: str,
    at: str = "2026-05-04 20:00",
    event: CustodyEvent = CustodyEvent.FIRST_SEEN,
    **more: Any,
) -> CustodyLine:
    """A line of one writer's log about a file, at a UTC time."""
    values: dict[str, Any] = {
        "writer": "office",
        "number": 1,
        "at": datetime.fromisoformat(at).replace(tzinfo=UTC),
        "event": event,
        "path": path,
        "sha256": sha(path),
        "detail": None,
        "previous": "0" * 64,
        "line_sha256": sha(f"line {path} {event}"),
    }
    return CustodyLine(**(values | more))


def log(*lines: CustodyLine, **more: Any) -> Custody:
    return Custody(lines=tuple(lines), **more)


def staged(records: Iterable[Record] = (), photos_: Iterable[Photo] = (), **more: Any) -> Case:
    """Run the stages of this part alone: episodes, photos, received."""
    now = more.pop("now", NOW)
    built: Facts = more.pop("built", None) or facts(records=records, photos=photos_, **more)
    return received.work_out(photos.work_out(episodes.work_out(Case(built, AS_OF, now))))
