"""What a delivery is recorded with, and what its words amount to as they are typed.

The words to suggest are the same phrases that the sheet and the page use.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from claimkit.compose.sheets.receiving_words import (
    AtTheCurb,
    Counts,
    Names,
    Seen,
    chosen,
    names_of,
    which_words,
)
from claimkit.compose.terminal.text import wrapped
from claimkit.findings.wording import counted
from claimkit.intake.entries.problems import Unreadable
from claimkit.intake.entries.record_file import Kept, in_folder
from claimkit.intake.paths import shown
from claimkit.keyboard.lines import timed
from claimkit.model.job import Job, Shipment
from claimkit.model.receipt import ReceiptReading
from claimkit.receiving.scan import READER, NotRead, recognised
from claimkit.rules.receiving import OUTSIDE_ONLY

LONGEST_STAY = timedelta(hours=12)
"""How long a truck may stand over midnight and be believed unasked (our own)."""
# What is typed, and the key of the record that it fills.
COUNTS = {
    "units_listed": "units_expected",
    "units": "units_received",
    "cartons_listed": "cartons_expected",
    "cartons": "cartons_received",
}


@dataclass(frozen=True, slots=True)
class Desk:
    """What a record is written with: the folder as it is, its job, and now at the site."""

    there: Kept
    job: Job
    now: datetime

    def shipment(self, typed: dict[str, Any]) -> Shipment | None:
        """Give the shipment that is recorded."""
        return self.job.shipment_named(typed.get("shipment"))

    def names(self, typed: dict[str, Any]) -> Names:
        """Give the names of its things on a receipt."""
        return names_of(self.job, self.shipment(typed))


def inspected(typed: dict[str, Any]) -> dict[str, object]:
    """Give whether the goods were inspected: seeing the outside alone is not seeing the goods."""
    if typed.get("inspected") is None:
        return {"not_inspected_because": typed["because"]} if typed.get("because") else {}
    if typed["inspected"] == "opened":
        return {"inspected": True}
    because = typed.get("because") or (OUTSIDE_ONLY if typed["inspected"] == "outside" else None)
    return {"inspected": False} | ({"not_inspected_because": because} if because else {})


def past(desk: Desk, typed: str, arrived: str | None = None) -> str:
    """Read a time that has come; a time of day alone is of the day of the arrival.

    Raises Unreadable.
    """
    from claimkit.intake.entries.moments import moment

    text = timed(desk.now, typed, arrived)
    if moment(text, ZoneInfo(desk.job.site.zone)).at > desk.now:
        raise Unreadable(f"{text} has not come yet.", f"It is {desk.now:%Y-%m-%d %H:%M} there.")
    return text


def days_after(desk: Desk, arrived: str | None, later: str | None) -> str:
    """Say how long after the arrival a time lies, where that is too long for one delivery.

    Empty where it is not, or where either is not known or cannot be read.
    """
    from claimkit.intake.entries.moments import moment

    if not arrived or not later:
        return ""
    zone = ZoneInfo(desk.job.site.zone)
    try:
        came, went = moment(arrived, zone), moment(later, zone)
    except Unreadable:
        return ""  # told where it is read as a record
    days = (went.day - came.day).days
    if days < 1 or went.at - came.at < LONGEST_STAY:
        return ""
    return f"{counted(days, 'day')} after the truck came ({came.said})"


def curb_of(typed: dict[str, Any], seen: tuple[Seen, ...] = ()) -> AtTheCurb:
    """Give what decides the words to suggest."""
    return AtTheCurb(
        units=Counts(typed.get("units_listed"), typed.get("units")),
        cartons=Counts(typed.get("cartons_listed"), typed.get("cartons")),
        cartons_in_wrap=bool(typed.get("cartons_listed")) and typed.get("cartons") is None,
        seen=seen,
        wrap_broken=(1,) if typed.get("wrap") == "broken" and typed.get("units") == 1 else (),
        inspected=typed.get("inspected"),
        because=typed.get("because"),
    )


def graded(desk: Desk, typed: dict[str, Any], seen: tuple[Seen, ...] = ()) -> ReceiptReading:
    """Grade the words beside the counts, the damages and the inspection that were typed."""
    from claimkit.findings.receipt.counts import Recorded
    from claimkit.findings.receipt.grade import grade_at
    from claimkit.findings.receipt.write import AtTheCurb as Known
    from claimkit.findings.receipt.write import Found

    curb, names = curb_of(typed, seen), desk.names(typed)
    looked_at = inspected(typed)
    why_not = looked_at.get("not_inspected_because")
    unit = desk.names(typed).unit.one
    counted: dict[str, Any] = {record: typed.get(key) for key, record in COUNTS.items()}
    known = Known(
        counts=Recorded(**counted, unit=unit),
        unit=unit,
        refused=typed.get("refused"),
        inspected=None if "inspected" not in looked_at else bool(looked_at["inspected"]),
        why_not=str(why_not) if why_not else None,
        found=tuple(
            Found(
                item="",
                what=chosen("kind", one.kind, "long"),
                part=chosen("where", one.where, "long") or None,
                extent=one.size,
                which=which_words(curb, names, one),
            )
            for one in seen
        ),
    )
    return grade_at(typed.get("words"), known)


def grade_lines(reading: ReceiptReading, *, gone: bool = False) -> list[str]:
    """Say what the words amount to, why, and what to add while the driver is there.

    Once the driver is gone the same facts belong into the report to the carrier.
    """
    lines = [f"  These words are: {reading.grade.value}."]
    for because in reading.because:
        lines += wrapped(because, "    ")
    if reading.write_long:
        if gone:
            lines.append("  This is not on the receipt. Report it to the carrier in writing today:")
            return lines + wrapped(reading.write_long, "    ")
        lines.append("  While the driver is there, add:")
        lines += wrapped(reading.write_long, "    ")
        lines += wrapped(f"on a handheld: {reading.write_short}", "    ")
    return lines


def show_recognised(desk: Desk, file: str, say: Callable[[str], None]) -> str:
    """Show what a machine reads on a receipt, as a suggestion; give it, empty where nothing is."""
    inside = in_folder(desk.there, file)
    path = desk.there.root / inside if inside in desk.there.paths else Path(file).expanduser()
    try:
        text = recognised(path)
    except NotRead as error:
        say("\n".join(wrapped(f"{shown(file)}: {error.reason}", "  ")))
        return ""
    head = (
        f"{READER} reads this in {shown(file)}. Compare it with the paper; nothing is taken from "
    )
    say("\n".join(wrapped(f"{head}it:", "  ")))
    say("\n".join(line for read in text.splitlines() for line in wrapped(shown(read), "    ")))
    return text
