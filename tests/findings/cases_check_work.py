"""For each rule about deliveries, goods and work a case that fires and one that does not."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from claimkit.model.case import Case
from claimkit.model.job import Item, Job
from claimkit.model.records import CountedItem, Record, Wrap
from claimkit.model.stages import Event, Stage
from tests.build import case, facts, job, mm, moment
from tests.findings.gap_build import dry
from tests.findings.work_build import counted, damage, delivery, readings, step, unpacking

OLD_OUT = "2026-05-06"
DRY = step(Event.DRY_FIT, "2026-05-05 09:00", "2026-05-05 12:00")
STARTED = step(Event.INSTALLATION_STARTED, "2026-05-07")
FASTENED = step(Event.FASTENED, "2026-05-08 09:00", "2026-05-08 11:00")
SEALED = step(Event.SEALED, "2026-05-09 09:00")
ORDERED = (
    Item(id="panel", description="Wall panel", size=(mm(900), mm(2100)), size_tolerance=mm(2)),
    Item(id="tray", description="Floor tray", hand="left"),
)


def of(*records: Record, job_: Job | None = None) -> Case:
    return case(facts(records=records, job_=job_))


def goods(*items: CountedItem, more: tuple[Record, ...] = (), **of_record: Any) -> Case:
    """Goods ordered with a size and a hand, and what the unpacking record says of them."""
    return of(delivery(), unpacking(*items, **of_record), *more, job_=job(item=ORDERED))


def panel(size: int | None = 2100, **more: Any) -> CountedItem:
    return counted("panel", size=(mm(900), mm(size)) if size else (), **more)


def tray(**more: Any) -> CountedItem:
    return counted("tray", **({"hand": "left"} | more))


def removed(on: str, *records: Record) -> Case:
    return goods(panel(), tray(), more=(DRY, step(Event.OLD_FIXTURE_REMOVED, on), *records))


def counts(**of_delivery: Any) -> Case:
    return of(delivery(**of_delivery))


CASES: dict[str, tuple[Callable[[], Case], Callable[[], Case]]] = {
    "work-old-fixture-early": (lambda: removed("2026-05-04"), lambda: removed("2026-05-06")),
    "work-old-fixture-in-time": (lambda: removed("2026-05-06"), lambda: removed("2026-05-04")),
    "work-not-ready-to-start": (
        lambda: goods(panel(None), tray(), more=(DRY,)),
        lambda: goods(panel(), tray(), more=(DRY,)),
    ),
    "work-started-with-damage": (
        lambda: of(damage(), STARTED),
        lambda: of(damage(resolved="replaced"), STARTED),
    ),
    "work-started-with-wrong-part": (
        lambda: goods(panel(), tray(hand="right"), more=(STARTED,)),
        lambda: goods(panel(), tray(hand="LH"), more=(STARTED,)),
    ),
    "work-started-out-of-design": (
        # The seam's design is 2 to 4 mm; the dry fit of gap_build is on 4 May 2026 at 10:00.
        lambda: of(dry(6), STARTED),
        lambda: of(dry(3), STARTED),
    ),
    "work-sealed-unread": (
        lambda: of(FASTENED, SEALED, readings(Stage.FASTENED, "2026-05-08 15:00", "top")),
        lambda: of(FASTENED, SEALED, readings(Stage.FASTENED, "2026-05-08 15:00")),
    ),
    "work-read-in-time": (
        lambda: of(FASTENED, SEALED, readings(Stage.FASTENED, "2026-05-08 15:00")),
        lambda: of(FASTENED, SEALED, readings(Stage.FASTENED, "2026-05-08 15:00", "top")),
    ),
    "work-read-before-sealing": (
        lambda: of(FASTENED),
        lambda: of(FASTENED, readings(Stage.FASTENED, "2026-05-08 15:00")),
    ),
    "delivery-times-contradict": (
        lambda: of(delivery(driver_left=moment("2026-05-04 08:40"), signed_at=None)),
        lambda: of(delivery(signed_at=None)),
    ),
    "work-order": (
        lambda: of(FASTENED, step(Event.SEALED, "2026-05-07")),
        lambda: of(FASTENED, step(Event.SEALED, "2026-05-09")),
    ),
    "delivery-none": (lambda: of(unpacking()), lambda: of(delivery(), unpacking())),
    "delivery-short": (lambda: counts(cartons_received=3), counts),
    "delivery-over": (lambda: counts(cartons_received=5), counts),
    "delivery-not-counted": (
        lambda: counts(cartons_received=None, wrap=Wrap.BROKEN),
        lambda: counts(cartons_received=None, wrap=Wrap.INTACT),
    ),
    "delivery-counts-clash": (lambda: counts(units_expected=2), counts),
    "received-not-unpacked": (lambda: of(delivery()), lambda: of(delivery(), unpacking())),
    "received-differs": (lambda: goods(panel(2103), tray()), lambda: goods(panel(2102), tray())),
    "received-condition-unrecorded": (
        lambda: of(unpacking(counted("panel", condition="corner chipped"), counted("tray"))),
        lambda: of(
            unpacking(counted("panel", condition="corner chipped"), counted("tray")), damage()
        ),
    ),
    "received-not-checked": (
        lambda: goods(panel(None), tray()),
        lambda: goods(panel(), tray()),
    ),
    "received-as-ordered": (
        lambda: goods(panel(), tray()),
        lambda: goods(panel(), tray(hand="right")),
    ),
    "packing-not-kept": (
        lambda: of(unpacking(packing_kept="no"), damage()),
        lambda: of(unpacking(packing_kept="No. 3 Mill Lane, garage"), damage()),
    ),
}
