"""The command `notice`: add a message between the parties to the records, and say what it does.

It asks what is not given, checks everything as the next run would, and writes one new file. Then
it tells which time limits the notice starts, meets or stops, and the next move.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from claimkit.commands.printed import say
from claimkit.model.stop import CannotGoOn

if TYPE_CHECKING:
    from claimkit.intake.entries.record_file import Kept, Refused
    from claimkit.model.case import Case
    from claimkit.model.job import Job

# What is asked, in the order of the questions: key, question.
QUESTIONS = (
    ("about", "What is it about"),
    ("shipment", "Which shipment"),
    ("sender", "From (party)"),
    ("to", "To (party)"),
    ("how", "How (e-mail, tracked post, telephone, portal)"),
    ("sent", "Sent (2026-05-04 09:10, now, today)"),
    ("received", "Received by them, or by you (only this stops a limit)"),
    ("reference", "Their number, tracking or claim number"),
    ("amount", "Amount (1250.00 USD)"),
    ("text", "The words that matter"),
    ("file", "File of the letter in the job folder"),
    ("said_by", "Stated by (person)"),
)
ASKED_AT_MOST = 5
NOT_WRITTEN = "The notice was not written."


@dataclass(frozen=True, slots=True)
class Desk:
    """What the command works with: the folder as it is, its job, and now at the site."""

    there: Kept
    job: Job
    now: datetime


@click.command()
@click.argument("job", type=click.Path(path_type=Path))
@click.option("--about", help="What it is about: claim, acknowledgement, offer ...")
@click.option("--shipment", help="Which shipment, where the job has several.")
@click.option("--from", "sender", help="Who sent it: party id or name.")
@click.option("--to", help="Who it went to: party id or name.")
@click.option("--how", help="E-mail, tracked post, telephone, portal.")
@click.option("--sent", help="When it was sent, local time; or now, today.")
@click.option("--received", help="When it was received: only this stops a limit.")
@click.option("--reference", help="Their number: claim number, tracking number.")
@click.option("--amount", help="Amount claimed, offered or paid, such as '1250.00 USD'.")
@click.option("--text", help="The words that matter.")
@click.option("--file", help="The letter, a file in the job folder.")
@click.option(
    "--disallows/--does-not-disallow",
    "states_disallowance",
    default=None,
    help="Whether it says that it disallows the claim or a part of it.",
)
@click.option(
    "--reasons/--no-reasons", "gives_reasons", default=None, help="Whether it gives reasons."
)
@click.option(
    "--for-carrier/--not-for-carrier",
    "acts_for_carrier",
    default=None,
    help="For an insurer's letter: whether it says that it acts for the carrier.",
)
@click.option("--by", "said_by", help="Who states this: person id or name.")
@click.option(
    "--replaces",
    metavar="RECORD",
    help="Correct that record: what is not given here is taken from it.",
)
@click.option("--reason", help="Why it is corrected.")
@click.option(
    "--as-of",
    type=click.DateTime(["%Y-%m-%d"]),
    metavar="DATE",
    help="Legal day to reason on, YYYY-MM-DD. Default: today at the site.",
)
def notice(job: Path, as_of: datetime | None, **given: Any) -> None:
    """Add a record of a letter, mail, call, offer or payment.

    Without options it asks. It is checked as a whole before one new file is written into records/;
    then it says which time limits the notice starts, meets or stops, and the next move.
    """
    from claimkit.commands.ends import exit_code, progress
    from claimkit.wiring.workspace import work_out

    now = datetime.now(UTC)
    day = as_of.date() if as_of else None
    before = work_out(job, now=now, as_of=day, progress=progress)
    path = record_notice(job, before, {k: v for k, v in given.items() if v is not None}, now)
    after = work_out(job, now=now, as_of=before.as_of, progress=progress)
    say("\n".join(told(before, after, path)))
    raise click.exceptions.Exit(exit_code(after, None))


def record_notice(folder: Path, case: Case, given: dict[str, Any], now: datetime) -> str:
    """Check and write a notice; give its path. Asks where nothing but the folder is given."""
    from zoneinfo import ZoneInfo

    from claimkit.intake.entries.record_file import (
        Refused,
        add,
        checked,
        free_name,
        kept,
        values_of,
    )

    job = case.facts.job
    if job is None:
        raise CannotGoOn(
            "job.toml cannot be used as it stands, and a notice is checked against it. Mend it "
            "first; claimkit status names what is wrong."
        )
    there = kept(folder)
    desk = Desk(there, job, now.astimezone(ZoneInfo(job.site.zone)))
    start = values_of(there, given["replaces"]) if given.get("replaces") else {}
    asks = not given
    values = start | given
    if asks:
        values = _ask(desk, values, [key for key, _ in QUESTIONS])
    for left in reversed(range(ASKED_AT_MOST)):
        ready = _ready(desk, values)
        name = free_name(there, ready, desk.now)
        result = checked(there, ready, name)
        if not isinstance(result, Refused):
            return add(there, result[1], name)
        keys = [k for k, _ in QUESTIONS if any(p.key_path == k for p in result.problems)]
        if not (asks and keys and left):
            raise CannotGoOn(f"{NOT_WRITTEN}\n{_refusal(desk, result)}")
        click.echo(_refusal(desk, result), err=True)
        values = _ask(desk, {k: v for k, v in values.items() if k not in keys}, keys)
    raise AssertionError("the last round writes or refuses")


# Options that are not called as their key of the record.
OPTIONS = {
    "sender": "--from",
    "said_by": "--by",
    "states_disallowance": "--disallows",
    "gives_reasons": "--reasons",
    "acts_for_carrier": "--for-carrier",
}


def _refusal(desk: Desk, result: Refused) -> str:
    """Give every problem with the option that it is about."""
    persons = ", ".join(person.id for person in desk.job.person)
    lines = []
    for problem in result.problems:
        key = problem.key_path
        option = OPTIONS.get(key, f"--{key.replace('_', '-')}")
        write = problem.write
        if key == "said_by" and "missing" in problem.found and persons:
            write = f"Write one of: {persons}."
        lines.append(
            f"  {option}: {problem.found} {write}" if key else f"  {problem.found} {write}"
        )
    return "\n".join(lines)


def _ready(desk: Desk, values: dict[str, Any]) -> dict[str, object]:
    """Turn what was typed into a record's keys: names into ids, now into a time."""
    from claimkit.intake.entries.record_file import in_folder

    ready: dict[str, object] = {"kind": "notice"}
    ready["written"] = f"{desk.now:%Y-%m-%d %H:%M}"
    for key, value in values.items():
        typed = value.strip() if isinstance(value, str) and key != "text" else value
        if typed == "":
            continue
        if key == "about":
            typed = _about(str(typed))
        elif key in ("sender", "to", "said_by"):
            typed = _id_of(desk.job, key, str(typed))
        elif key in ("sent", "received") and str(typed).lower() in ("now", "today"):
            typed = (
                f"{desk.now:%Y-%m-%d %H:%M}"
                if str(typed).lower() == "now"
                else (f"{desk.now:%Y-%m-%d}")
            )
        elif key == "file":
            typed = in_folder(desk.there, str(typed))
        ready[key] = typed
    people = desk.job.person
    if "said_by" not in ready and len(people) == 1:
        ready["said_by"] = people[0].id
    return ready


def _about(typed: str) -> str:
    """Give the word for a number of the list, or the word as typed in its own letters."""
    from claimkit.model.records import About

    words = [about.value for about in About]
    if typed.isascii() and typed.isdigit() and 1 <= int(typed[:4]) <= len(words):
        return words[int(typed[:4]) - 1]
    return next((word for word in words if word == typed.lower()), typed)


def _id_of(job: Job, key: str, typed: str) -> str:
    """Give the id of a party or person that was typed by name."""
    named = job.person if key == "said_by" else job.party
    same = [one.id for one in named if one.name.casefold() == typed.casefold()]
    known = {one.id for one in named}
    return same[0] if typed not in known and len(same) == 1 else typed


def _ask(desk: Desk, values: dict[str, Any], keys: list[str]) -> dict[str, Any]:
    """Ask for those keys; an empty answer is not known."""
    asked = dict(values)
    if "about" in keys:
        _show(desk)
    for key, question in QUESTIONS:
        if key in keys and not _needless(desk, key):
            answer = click.prompt(question, default="", show_default=False)
            if answer.strip():
                asked[key] = answer
    if "about" in keys and _about(str(asked.get("about", ""))) in ("offer", "disallowance"):
        for key, question in (
            ("states_disallowance", "Does it say that it disallows the claim or a part (y/n)"),
            ("gives_reasons", "Does it give reasons (y/n)"),
            ("acts_for_carrier", "From another: does it say that it acts for the carrier (y/n)"),
        ):
            answer = click.prompt(question, default="", show_default=False).strip().lower()
            if answer[:1] in ("y", "n"):
                asked[key] = answer.startswith("y")
    return asked


def _needless(desk: Desk, key: str) -> bool:
    """Tell whether there is only one answer: one shipment, one person."""
    one_person = key == "said_by" and len(desk.job.person) == 1
    return one_person or (key == "shipment" and len(desk.job.shipment) < 2)


def _show(desk: Desk) -> None:
    """Show the words, parties and persons that can be answered with."""
    from claimkit.compose.terminal.text import wrapped
    from claimkit.model.records import About

    words = ", ".join(f"{n} {about.value}" for n, about in enumerate(About, start=1))
    shown = [words]
    shown.append("Parties: " + ", ".join(f"{p.id} ({p.name})" for p in desk.job.party))
    if len(desk.job.shipment) > 1:
        shown.append("Shipments: " + ", ".join(s.id for s in desk.job.shipment))
    if len(desk.job.person) > 1:
        shown.append("Persons: " + ", ".join(p.id for p in desk.job.person))
    for text in shown:
        say("\n".join(wrapped(text, "  ", "")))
    click.echo("An empty answer is: not known.")


def told(before: Case, after: Case, path: str) -> list[str]:
    """Say what was written, what it does to the limits, how the claim stands, and what is next."""
    from claimkit.compose.terminal.text import wrapped
    from claimkit.findings.limits.changes import limit_changes
    from claimkit.findings.limits.life import lives
    from claimkit.findings.limits.next_move import next_move
    from claimkit.findings.scope import shipment_of_record

    lines = [path]
    changes = limit_changes(before, after, path)
    for what, text in changes:
        lines += wrapped(text, " " * 10, f"  {what:<8}")
    if not any(what != "not" for what, _ in changes):
        lines.append("  It starts, meets and stops no time limit.")
    record = next((r for r in after.facts.records if r.path == path), None)
    belongs = shipment_of_record(after, record) if record else None
    for life in lives(after):
        if life.shipment == belongs:
            lines += wrapped(f"{life.shipment}: {life.phase.value}", " " * 10, f"  {'stands':<8}")
    lines += wrapped(next_move(after).line(after.as_of), " " * 10, f"  {'next':<8}")
    return lines
