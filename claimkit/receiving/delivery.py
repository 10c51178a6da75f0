"""A delivery recorded at a keyboard: asked in the order of the work, graded as it is typed.

What was typed is checked with everything that the folder holds before one new record is written.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import click

from claimkit.compose.sheets.receiving_words import Form, Seen, words
from claimkit.compose.terminal.text import wrapped
from claimkit.intake.entries.new import short_name
from claimkit.intake.entries.problems import Unreadable
from claimkit.intake.entries.record_file import Refused, add, checked, kept, not_taken, values_of
from claimkit.intake.paths import shown
from claimkit.keyboard.lines import person, timed
from claimkit.keyboard.questions import (
    BROKEN_OFF,
    KEYS,
    NOTHING_TYPED,
    Stopped,
    Talk,
    as_typed,
    tell,
)
from claimkit.model.facts import Problem
from claimkit.model.receipt import Grade
from claimkit.model.stop import DONE, OPEN_MATTERS, CannotGoOn
from claimkit.receiving.desk import (
    COUNTS,
    Desk,
    curb_of,
    days_after,
    grade_lines,
    graded,
    inspected,
    show_recognised,
)
from claimkit.receiving.scan import Linked, can_recognise, copy_in, linked

PROTECTED = (Grade.SPECIFIC, Grade.RESERVATION_ONLY)
# What is typed, and the key of the record that it fills.
_TIMES = {"arrived": "arrived", "left": "driver_left", "signed_at": "signed_at"}
_PLAIN = ("shipment", "wrap", "driver", "signed", "driver_signed", "refused", "reason")


def receive_delivery(folder: Path, given: dict[str, Any], now: datetime) -> int:
    """Record a delivery from options, or by asking where there are none; give the exit code.

    0 where the words keep a claim open, 1 where something is to be added. Raises CannotGoOn where
    nothing was written.
    """
    from claimkit.intake.entries.records import JOB_FILE, read_job

    there = kept(folder)
    job, _ = read_job(there.job[1], JOB_FILE)
    if job is None:
        raise CannotGoOn(
            "job.toml cannot be used as it stands, and a delivery is checked against it. Mend it "
            "first; claimkit status names what is wrong."
        )
    desk = Desk(there, job, now.astimezone(ZoneInfo(job.site.zone)))
    if not given:
        return _by_asking(desk)
    _suggest(desk, given)
    record = _read(desk, given)
    if isinstance(record, tuple):
        told = "\n".join(_refused(problem) for problem in record)
        raise CannotGoOn(f"The delivery was not written.\n{told}")
    for key, said in (("left", "The driver left"), ("signed_at", "It was signed")):
        arrived, later = (str(record.values.get(_TIMES[k], "")) for k in ("arrived", key))
        if given.get(key) and (after := days_after(desk, arrived, later)):
            _warn(f"{said} {after}. Where that is a slip, correct it: --replaces {record.name}.")
    return _told(desk, record, given, ())


@dataclass(frozen=True, slots=True)
class _Whole:
    """A delivery that can be written: its keys, the files that it names, its name and text."""

    values: dict[str, object]
    files: list[Linked]
    name: str
    text: str


def _read(desk: Desk, typed: dict[str, Any]) -> _Whole | tuple[Problem, ...]:
    """Read what was typed as a record with all that the folder holds, or give every problem."""
    values, files = _values(desk, typed)
    there = replace(desk.there, paths=desk.there.paths | {file.path for file in files})
    name = _free_name(desk, values)
    result = checked(there, values, name)
    if isinstance(result, Refused):
        return result.problems
    return _Whole(values, files, name, result[1])


def _by_asking(desk: Desk) -> int:
    """Ask; write what is complete however the questions end, or print what was typed."""
    from claimkit.receiving.prompts import Curb

    if not desk.job.person:
        raise CannotGoOn(
            "job.toml names no person, and every record says who states it. Add to job.toml:\n\n"
            '  [[person]]\n  id = "ruth"\n  name = "Ruth Adair"'
        )
    click.echo(KEYS)
    curb, talk = Curb(desk, lambda typed: _tried(desk, typed)), Talk()
    broken_off = True
    try:
        talk.through(curb.following, curb.took)
        broken_off = False
    except (Stopped, KeyboardInterrupt):
        pass
    typed, seen = curb.typed(talk.answers), curb.seen(talk.answers)
    record = _read(desk, typed)
    if isinstance(record, tuple) or (broken_off and not curb.complete(talk.answers)):
        raise CannotGoOn(_not_written(desk, typed, curb.suggested(talk.answers) if seen else ""))
    told = _told(desk, record, typed, seen, asked=True)
    if not broken_off:
        return told
    tell(
        f"{BROKEN_OFF} What is missing is added by a record that replaces it: claimkit receive JOB "
        f'--replaces {record.name} --reason "…", with --driver, --left and the like.'
    )
    return OPEN_MATTERS


def _tried(desk: Desk, typed: dict[str, Any]) -> None:
    """Try the answers so far as a record. Raises Unreadable with every problem."""
    result = _read(desk, typed)
    if isinstance(result, tuple):
        raise Unreadable(" ".join(f"{p.found} {p.write}" for p in result) or "Type it again.", "")


def _not_written(desk: Desk, typed: dict[str, Any], suggested: str) -> str:
    """Say that nothing was written, with what was typed as the lines of a record."""
    if not typed:
        return NOTHING_TYPED
    values, _ = _values(desk, typed)
    seen = f"\n\nThe words for the receipt, from the damages typed:\n\n{suggested}"
    return (
        "Nothing was written: it ended before the words on the receipt were settled.\n"
        f"{as_typed(values)}{seen if suggested else ''}"
    )


def _warn(said: str) -> None:
    click.echo("\n".join(shown(line) for line in wrapped(said, "")), err=True)


def _refused(problem: Problem) -> str:
    place = f"{_typed_as(problem.key_path)}: " if problem.key_path else ""
    return f"  {place}{problem.found} {problem.write}"


def _typed_as(key: str) -> str:
    """Give the name under which a key of the record is asked for."""
    named = {record: typed for typed, record in (*COUNTS.items(), *_TIMES.items())}
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
            values[record_key] = timed(desk.now, typed[key], str(values.get("arrived", "")))
    values |= {key: typed[key] for key in _PLAIN if typed.get(key) not in (None, "")}
    values |= {r: typed[t] for t, r in COUNTS.items() if typed.get(t) is not None}
    values |= inspected(typed)
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
        named = [
            file if isinstance(file, Linked) else linked(desk.there, file)
            for file in typed.get(key, ())
        ]
        if named:
            values[record_key] = [file.path for file in named]
        files += named
    return values, files


def _free_name(desk: Desk, values: dict[str, object]) -> str:
    """Give a name that no record has: the day, delivery, its shipment, a number where needed."""
    day = str(values.get("arrived", ""))[:10]
    day = day if len(day) == 10 and day[:4].isdecimal() else f"{desk.now:%Y-%m-%d}"
    of = f"-{short_name(str(values['shipment']))}" if values.get("shipment") else ""
    return not_taken(desk.there, f"{day}-delivery{of}")


def _suggest(desk: Desk, typed: dict[str, Any]) -> None:
    """Show words to write where the options give none, and what a machine reads on the receipt.

    A correction of an earlier record has nothing to write at the curb: it keeps that one's words.
    """
    if typed.get("words") is None and typed.get("receipt") != "none":
        form: Form = "short" if typed.get("receipt") == "device" else "long"
        said = words(curb_of(typed), desk.names(typed), form)
        if not typed.get("replaces"):
            _warn(
                "No --words are given. While the driver is there, write on the carrier's copy: "
                f"{said}"
            )
        if can_recognise():
            for file in typed.get("receipt_photo", ()):
                show_recognised(desk, file, lambda text: click.echo(text, err=True))


def _told(
    desk: Desk,
    record: _Whole,
    typed: dict[str, Any],
    seen: tuple[Seen, ...],
    *,
    asked: bool = False,
) -> int:
    """Write the record; say where it is and what its words amount to; give the exit code."""
    there = replace(desk.there, paths=desk.there.paths | {file.path for file in record.files})
    for file in record.files:
        copy_in(there, file)
    click.echo(add(there, record.text, record.name))
    values = record.values
    if asked and not values.get("receipt_photos") and values.get("receipt") != "none":
        tell(
            "No photo of the receipt yet. Add it with: claimkit receive JOB --replaces "
            f'{record.name} --receipt-photo FILE --reason "photo added"'
        )
    if values.get("receipt") == "none":
        return DONE
    recorded = typed | {t: values.get(r) for t, r in COUNTS.items()}
    recorded |= {key: values.get(key) for key in ("words", "shipment")}
    reading = graded(desk, recorded, seen)
    click.echo("\n".join(map(shown, grade_lines(reading, gone="driver_left" in values))))
    # What was opened and found whole may be signed for as such.
    honest = reading.grade is Grade.CLEAR and values.get("inspected") is True
    kept_open = reading.grade in PROTECTED or honest
    return DONE if kept_open and not reading.write_long else OPEN_MATTERS
