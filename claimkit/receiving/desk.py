"""A delivery recorded at a keyboard: asked in the order of the work, graded as it is typed.

What was typed is checked with everything that the folder holds before one new record is written.
The words to suggest are the same phrases that the sheet and the page use.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import click

from claimkit.compose.sheets.receiving_words import (
    AtTheCurb,
    Counts,
    Form,
    Names,
    Seen,
    names_of,
    words,
)
from claimkit.intake.entries.record_file import (
    Kept,
    Refused,
    add,
    checked,
    in_folder,
    kept,
    values_of,
)
from claimkit.intake.paths import shown
from claimkit.model.facts import Problem
from claimkit.model.job import Job, Shipment
from claimkit.model.receipt import Grade, ReceiptReading
from claimkit.model.stop import CannotGoOn
from claimkit.receiving.scan import (
    READER,
    Linked,
    NotRead,
    can_recognise,
    copy_in,
    linked,
    recognised,
)
from claimkit.rules.receiving import OUTSIDE_ONLY

ASKED_AT_MOST = 5
PROTECTED = (Grade.SPECIFIC, Grade.RESERVATION_ONLY)
# What is typed, and the key of the record that it fills.
_COUNTS = {
    "units_listed": "units_expected",
    "units": "units_received",
    "cartons_listed": "cartons_expected",
    "cartons": "cartons_received",
}
_TIMES = {"arrived": "arrived", "left": "driver_left", "signed_at": "signed_at"}
_PLAIN = ("shipment", "wrap", "driver", "signed", "driver_signed", "refused", "reason")


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


def receive_delivery(folder: Path, given: dict[str, Any], now: datetime) -> int:
    """Record a delivery from options, or by asking where there are none; give the exit code.

    0 where the words keep a claim open, 1 where something is to be added. Raises CannotGoOn where
    nothing was written.
    """
    from claimkit.intake.entries.records import JOB_FILE, read_job
    from claimkit.receiving.prompts import ask, ask_again

    there = kept(folder)
    job, _ = read_job(there.job[1], JOB_FILE)
    if job is None:
        raise CannotGoOn(
            "job.toml cannot be used as it stands, and a delivery is checked against it. Mend it "
            "first; claimkit status names what is wrong."
        )
    desk = Desk(there, job, now.astimezone(ZoneInfo(job.site.zone)))
    asks = not given
    typed = ask(desk) if asks else given
    if not asks:
        _suggest(desk, typed)
    for left in reversed(range(ASKED_AT_MOST)):
        values, files = _values(desk, typed)
        there = replace(desk.there, paths=desk.there.paths | {file.path for file in files})
        name = _free_name(desk, values)
        result = checked(there, values, name)
        if not isinstance(result, Refused):
            for file in files:
                copy_in(there, file)
            return _told(desk, add(there, result[1], name), values, typed)
        refusal = "\n".join(_refused(problem) for problem in result.problems)
        keys = {_typed_as(problem.key_path) for problem in result.problems}
        again = ask_again(desk, typed, keys, refusal) if asks and left else None
        if again is None:
            raise CannotGoOn(f"The delivery was not written.\n{refusal}")
        typed = again
    raise AssertionError("the last round writes or refuses")


def _refused(problem: Problem) -> str:
    place = f"{_typed_as(problem.key_path)}: " if problem.key_path else ""
    return f"  {place}{problem.found} {problem.write}"


def _typed_as(key: str) -> str:
    """Give the name under which a key of the record is asked for."""
    named = {record: typed for typed, record in (*_COUNTS.items(), *_TIMES.items())}
    named |= {"not_inspected_because": "because", "said_by": "by"}
    named |= {"words_on_our_copy": "our-words", "receipt_photos": "receipt-photo"}
    return named.get(key.split("[", maxsplit=1)[0], key).replace("_", "-")


def _values(desk: Desk, typed: dict[str, Any]) -> tuple[dict[str, object], list[Linked]]:
    """Turn what was typed into a record's keys, and give the files that it names."""
    values: dict[str, object] = {"kind": "delivery", "written": f"{desk.now:%Y-%m-%d %H:%M}"}
    if typed.get("replaces"):
        values = values_of(desk.there, typed["replaces"]) | values | {"replaces": typed["replaces"]}
    for key, record_key in _TIMES.items():
        if typed.get(key):
            values[record_key] = timed(desk, typed[key])
    values |= {key: typed[key] for key in _PLAIN if typed.get(key) not in (None, "")}
    values |= {r: typed[t] for t, r in _COUNTS.items() if typed.get(t) is not None}
    values |= _inspected(typed)
    if typed.get("receipt"):
        values["receipt"] = {"device": "driver's device"}.get(typed["receipt"], typed["receipt"])
    for key, record_key in (("words", "words"), ("our_words", "words_on_our_copy")):
        if typed.get(key) is not None:
            values[record_key] = typed[key]
    said_by = person(desk.job, typed.get("said_by"))
    if said_by:
        values["said_by"] = said_by
    writer = desk.job.person_named(said_by)
    if typed.get("words") and writer:
        values["words_by"] = writer.name
    files: list[Linked] = []
    for key, record_key in (("receipt_photo", "receipt_photos"), ("photo", "photos")):
        named = [linked(desk.there, file) for file in typed.get(key, ())]
        if named:
            values[record_key] = [file.path for file in named]
        files += named
    return values, files


def _inspected(typed: dict[str, Any]) -> dict[str, object]:
    """Give whether the goods were inspected: seeing the outside alone is not seeing the goods."""
    if typed.get("inspected") is None:
        return {"not_inspected_because": typed["because"]} if typed.get("because") else {}
    if typed["inspected"] == "opened":
        return {"inspected": True}
    because = typed.get("because") or (OUTSIDE_ONLY if typed["inspected"] == "outside" else None)
    return {"inspected": False} | ({"not_inspected_because": because} if because else {})


def person(job: Job, typed: str | None) -> str | None:
    """Give the id of a person named by id or by name; the only one there is where none is."""
    if typed is None:
        return job.person[0].id if len(job.person) == 1 else None
    named = [one.id for one in job.person if one.name.casefold() == typed.casefold()]
    known = {one.id for one in job.person}
    return named[0] if typed not in known and len(named) == 1 else typed


def timed(desk: Desk, typed: str) -> str:
    """Give a time for a record: now, and a time of day alone, are of this day at the site."""
    text = typed.strip()
    if text.lower() == "now":
        return f"{desk.now:%Y-%m-%d %H:%M}"
    hour, colon, minute = text.partition(":")
    if colon and hour.isdecimal() and len(hour) <= 2 and minute[:2].isdecimal():
        return f"{desk.now:%Y-%m-%d} {hour:0>2}:{minute}"
    return text


def _free_name(desk: Desk, values: dict[str, object]) -> str:
    """Give a name that no record has: the day, delivery, its shipment, a number where needed."""
    from claimkit.intake.entries.corrections import record_id
    from claimkit.intake.entries.new import short_name

    taken = {record_id(path).casefold() for path in desk.there.paths}
    day = str(values.get("arrived", ""))[:10]
    day = day if len(day) == 10 and day[:4].isdecimal() else f"{desk.now:%Y-%m-%d}"
    of = f"-{short_name(str(values['shipment']))}" if values.get("shipment") else ""
    number = 1
    while True:
        name = f"{day}-delivery{of}" + (f"-{number}" if number > 1 else "")
        if name.casefold() not in taken:
            return name
        number += 1


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


def graded(desk: Desk, typed: dict[str, Any]) -> ReceiptReading:
    """Grade the words beside the counts and the inspection that were typed."""
    from claimkit.findings.receipt.counts import Recorded
    from claimkit.findings.receipt.grade import grade_at
    from claimkit.findings.receipt.write import AtTheCurb as Known

    looked_at = _inspected(typed)
    why_not = looked_at.get("not_inspected_because")
    known = Known(
        counts=Recorded(**{record: typed.get(key) for key, record in _COUNTS.items()}),
        unit=desk.names(typed).unit.one,
        inspected=None if "inspected" not in looked_at else bool(looked_at["inspected"]),
        why_not=str(why_not) if why_not else None,
    )
    return grade_at(typed.get("words"), known)


def grade_lines(reading: ReceiptReading, *, gone: bool = False) -> list[str]:
    """Say what the words amount to, why, and what to add while the driver is there.

    Once the driver is gone the same facts belong into the report to the carrier.
    """
    from claimkit.compose.terminal.text import wrapped

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


def _suggest(desk: Desk, typed: dict[str, Any]) -> None:
    """Show words to write where the options give none, and what a machine reads on the receipt.

    A correction of an earlier record has nothing to write at the curb: it keeps that one's words.
    """
    if typed.get("words") is None and typed.get("receipt") != "none":
        form: Form = "short" if typed.get("receipt") == "device" else "long"
        said = words(curb_of(typed), desk.names(typed), form)
        if not typed.get("replaces"):
            click.echo(
                "No --words are given. While the driver is there, write on the carrier's copy: "
                f"{shown(said)}",
                err=True,
            )
        if can_recognise():
            for file in typed.get("receipt_photo", ()):
                show_recognised(desk, file, lambda text: click.echo(text, err=True))


def show_recognised(desk: Desk, file: str, say: Callable[[str], None]) -> str:
    """Show what a machine reads on a receipt, as a suggestion; give it, empty where nothing is."""
    inside = in_folder(desk.there, file)
    path = desk.there.root / inside if inside in desk.there.paths else Path(file).expanduser()
    try:
        text = recognised(path)
    except NotRead as error:
        say(f"{file}: {error.reason}")
        return ""
    say(f"{READER} reads this in {file}. Compare it with the paper; nothing is taken from it:")
    say("\n".join(f"    {shown(line)}" for line in text.splitlines()))
    return text


def _told(desk: Desk, path: str, values: dict[str, object], typed: dict[str, Any]) -> int:
    """Say where the record is and what its words amount to; give the exit code."""
    from claimkit.model.stop import DONE, OPEN_MATTERS

    click.echo(path)
    if values.get("receipt") == "none":
        return DONE
    recorded = typed | {t: values.get(r) for t, r in _COUNTS.items()}
    recorded |= {key: values.get(key) for key in ("words", "shipment")}
    reading = graded(desk, recorded)
    click.echo("\n".join(map(shown, grade_lines(reading, gone="driver_left" in values))))
    # What was opened and found whole may be signed for as such.
    honest = reading.grade is Grade.CLEAR and values.get("inspected") is True
    kept_open = reading.grade in PROTECTED or honest
    return DONE if kept_open and not reading.write_long else OPEN_MATTERS
