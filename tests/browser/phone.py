"""A telephone with the receiving page on it, as the tests use it: taps are counted."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

from claimkit.intake.entries.records import read_all
from claimkit.model.job import Item, Job, Party, Person, Role, Shipment, Site
from claimkit.model.records import Delivery, Record
from claimkit.receiving.page.build import page_files

MADE = date(2026, 5, 1)
# 09:10 in Chicago, which keeps summer time in May (IANA: America/Chicago, UTC-05:00).
ARRIVAL = datetime(2026, 5, 4, 14, 10, tzinfo=UTC)
SMALL = {"width": 390, "height": 780}
JOB_TOML = """\
title = "Kiln Road 9"

[site]
address = "9 Kiln Road, Ashby"
zone = "America/Chicago"

[[party]]
id = "us"
name = "Marl & Sons"
roles = ["owner", "installer", "consignee"]
phone = "+1 217 555 0110"

[[party]]
id = "hauler"
name = "Northway Freight"
roles = ["delivering carrier"]

[[person]]
id = "dana"
name = "Dana Voss"

[[shipment]]
id = "main"
carrier = "hauler"
pro_number = "77-1"
handling_units = 2
cartons = 4

[[item]]
id = "panel"
description = "Wall panel"
quantity = 3

[[item]]
id = "tray"
description = "Floor tray"
"""


_CLICKS = """keys => keys.forEach((key) => {
    const found = document.querySelector(`[data-key="${CSS.escape(key)}"]`);
    if (!found) throw new Error(`no ${key} on this screen`);
    found.click();
})"""


def job(**more: Any) -> Job:
    """Give the job of JOB_TOML, or one that differs from it."""
    values: dict[str, Any] = {
        "title": "Kiln Road 9",
        "site": Site(address="9 Kiln Road, Ashby", zone="America/Chicago"),
        "party": (
            Party(
                id="us",
                name="Marl & Sons",
                roles=(Role.OWNER, Role.INSTALLER, Role.CONSIGNEE),
                phone="+1 217 555 0110",
            ),
            Party(id="hauler", name="Northway Freight", roles=(Role.DELIVERING_CARRIER,)),
        ),
        "person": (Person(id="dana", name="Dana Voss"),),
        "shipment": (
            Shipment(id="main", carrier="hauler", pro_number="77-1", handling_units=2, cartons=4),
        ),
        "item": (
            Item(id="panel", description="Wall panel", quantity=3),
            Item(id="tray", description="Floor tray"),
        ),
    }
    return Job(**(values | more))


def write_page(folder: Path, a_job: Job | None = None) -> Path:
    """Write the page's files; give the page."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, data in page_files(a_job or job(), MADE).items():
        (folder / name).write_bytes(data)
    return folder / "index.html"


@dataclass
class Phone:
    """A page in a telephone's browser. `taps` counts what a thumb would do."""

    page: Any
    taps: int = 0
    errors: list[str] = field(default_factory=list)
    thumb: bool = False

    def tap(self, *keys: str) -> None:
        """Tap targets by their keys, one after the other.

        With `thumb` each is a touch on the screen, where it must be visible and uncovered; else
        the page is told of the clicks, which is faster.
        """
        self.taps += len(keys)
        if not self.thumb:
            self.page.evaluate(_CLICKS, list(keys))
            return
        for key in keys:
            self.page.tap(f'[data-key="{key}"]')

    def until(self, script: str) -> Any:
        """Wait until a script gives something true, and give it."""
        for _ in range(300):
            if value := self.page.evaluate(script):
                return value
            self.page.wait_for_timeout(10)
        raise AssertionError(f"never true: {script}")

    def at(self, minutes: int) -> None:
        """Let the clock show so many minutes after the arrival."""
        self.page.clock.set_fixed_time(ARRIVAL + timedelta(minutes=minutes))

    def entry(self) -> dict[str, Any]:
        """Give what is entered so far."""
        value: dict[str, Any] = self.page.evaluate("window.claimkit.app.entry")
        return value

    def save(self, files: int = 1) -> list[tuple[str, bytes]]:
        """Save, and give the names and bytes of what was downloaded."""
        got: list[Any] = []

        def arrived(download: Any) -> None:
            got.append(download)

        self.page.on("download", arrived)
        self.tap("save")
        for _ in range(200):
            if len(got) >= files:
                break
            self.page.wait_for_timeout(10)
        self.page.remove_listener("download", arrived)
        return [(one.suggested_filename, Path(one.path()).read_bytes()) for one in got]


@contextmanager
def phone(chromium: Any, address: str, **more: Any) -> Iterator[Phone]:
    """Open a page on a telephone in Chicago that is offline unless told otherwise."""
    offline = more.pop("offline", True)
    script = more.pop("script", None)
    settings = {
        "viewport": SMALL,
        "timezone_id": "America/Chicago",
        "locale": "en-US",
        "has_touch": True,
        "is_mobile": True,
        "offline": offline,
        "accept_downloads": True,
    }
    context = chromium.new_context(**(settings | more))
    context.set_default_timeout(5000)
    try:
        page = context.new_page()
        found = Phone(page)
        page.on("pageerror", lambda error: found.errors.append(str(error)))
        page.on(
            "console", lambda said: found.errors.append(said.text) if said.type == "error" else None
        )
        if script:
            page.add_init_script(script)
        page.clock.set_fixed_time(ARRIVAL)
        page.goto(address)
        yield found
    finally:
        context.close()


def clean_delivery(user: Phone) -> None:
    """Enter a delivery with nothing wrong, up to and without saving it."""
    user.tap("arrived-stamp", "next", "all-taken", "next")
    user.at(6)
    user.tap("units-all", "cartons-all", "next")
    user.tap("wrap-intact", "indicators-none", "inspected-outside", "no-damage", "next")
    user.at(12)
    user.tap("form-paper", "wrote-this", "next")
    user.tap("shot-before-signing", "signed-we-signed", "driver-signed-signed", "no-name")
    user.tap("shot-signed", "next")
    user.at(20)
    user.tap("left-stamp")


def two_damages(user: Phone) -> None:
    """Enter a delivery with two damages, up to and without saving it."""
    user.tap("arrived-stamp", "next", "all-taken", "next")
    user.at(6)
    user.tap("units-all", "cartons-all", "next")
    user.tap("wrap-intact", "indicators-none", "inspected-outside")
    user.tap("add-damage", "which-2", "kind-crushed", "where-lower-left", "size-4in")
    user.tap("damage-done")
    user.tap("add-damage", "which-1", "which-3", "kind-wet", "where-bottom", "size-12in")
    user.tap("damage-done", "next")
    user.at(12)
    user.tap("form-device", "wrote-this", "next")
    user.tap("shot-before-signing", "signed-we-signed", "driver-signed-declined", "wrote-that")
    user.tap("no-name", "shot-signed", "next")
    user.at(20)
    user.tap("left-stamp")


def read_saved(
    saved: Iterable[tuple[str, bytes]], job_toml: str = JOB_TOML
) -> tuple[tuple[Record, ...], tuple[str, ...]]:
    """Read saved files as they would lie in records/; give the records and every problem."""
    files = {f"records/{name}": data for name, data in saved}
    records = [(path, data) for path, data in files.items() if path.endswith((".toml", ".txt"))]
    written = read_all(("job.toml", job_toml.encode()), records, frozenset(files))
    return written.records, tuple(problem.sentence() for problem in written.problems)


def delivery(records: tuple[Record, ...]) -> Delivery:
    """Give the one delivery in force."""
    bodies = [r.body for r in records if r.in_force and isinstance(r.body, Delivery)]
    assert len(bodies) == 1
    return bodies[0]
