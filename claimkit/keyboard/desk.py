"""What readings are recorded with: the job folder, its case, and the clock.

What is typed is tried as the record that it will be, with everything that the folder holds, at
each answer; so a record that is complete can be written at any moment.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import click

from claimkit.findings.reason import reason
from claimkit.intake.entries.new import short_name
from claimkit.intake.entries.problems import Unreadable, quoted
from claimkit.intake.entries.record_file import Refused, add, checked, in_folder, kept, not_taken
from claimkit.keyboard.lines import meant, person, timed
from claimkit.keyboard.questions import Answers, Question, as_typed
from claimkit.model.case import Case
from claimkit.model.job import Job
from claimkit.model.measuring import Readings
from claimkit.model.moment import Moment
from claimkit.model.records import Milestone, Record
from claimkit.model.stop import CannotGoOn

_DAY = 10  # characters of 2026-05-04


@dataclass(frozen=True, slots=True)
class Desk:
    """A job folder with its case as it was at the start; `added` are the records written since.

    `clock` gives the present instant, aware.
    """

    folder: Path
    job: Job
    case: Case
    clock: Callable[[], datetime]
    added: list[Record] = field(default_factory=list)

    def now(self) -> datetime:
        """Give the present time at the site."""
        return self.clock().astimezone(ZoneInfo(self.job.site.zone))

    def head(self, kind: str, said_by: str | None) -> dict[str, object]:
        """Give what every record says beside its own keys."""
        by = {"said_by": said_by} if said_by else {}
        return {"kind": kind, **by, "written": f"{self.now():%Y-%m-%d %H:%M}"}

    def tried(self, values: Mapping[str, object], stem: str = "tried") -> Record:
        """Read typed values as the record that they would be. Raises Unreadable."""
        there = kept(self.folder)
        result = checked(there, values, not_taken(there, stem))
        if isinstance(result, Refused):
            raise Unreadable(
                " ".join(f"{p.found} {p.write}" for p in result.problems) or "It cannot be read.",
                "",
            )
        return result[0]

    def write(self, values: Mapping[str, object], day: str, about: str) -> Record:
        """Write a record under a name of its day and what it is about, and say which.

        Raises CannotGoOn with what was typed where it cannot be written.
        """
        there = kept(self.folder)
        name = not_taken(there, f"{day[:_DAY]}-{short_name(about)}")
        result = checked(there, values, name)
        try:
            if isinstance(result, Refused):
                told = " ".join(f"{p.found} {p.write}" for p in result.problems)
                raise CannotGoOn(f"The record was not written. {told}")
            click.echo(f"  written: {add(there, result[1], name)}")
        except CannotGoOn as error:
            raise CannotGoOn(f"{error}\n{as_typed(values)}") from error
        self.added.append(result[0])
        return result[0]

    def with_record(self, record: Record) -> Case:
        """Reason anew with the records added since, and one that is not written yet."""
        facts = self.case.facts
        records = (*facts.records, *self.added, record)
        return reason(replace(facts, records=records), self.case.as_of, self.clock(), checks=())


def who_and_when(desk: Desk) -> tuple[Question, ...]:
    """Ask who states it, where several could, and when it was."""
    people = desk.job.person
    if not people:
        raise CannotGoOn(
            "job.toml names no person, and every record says who states it. Add to job.toml:\n\n"
            '  [[person]]\n  id = "ruth"\n  name = "Ruth Adair"'
        )
    ids = tuple(one.id for one in people)
    by = Question(
        "who",
        "Who measures",
        f"The person who states this: {', '.join(f'{p.id} ({p.name})' for p in people)}.",
        lambda typed: known_person(desk.job, typed),
        usual=_last_speaker(desk),
        needed=True,
    )
    when = Question(
        "taken",
        "When",
        "Now, a time of today such as 14:20, or a day and time such as 2026-05-04 14:20. Local "
        "time at the site.",
        lambda typed: past(desk, typed),
        usual="now",
        needed=True,
    )
    return (by, when) if len(ids) > 1 else (when,)


def known_person(job: Job, typed: str) -> str:
    """Give the id of a person, by id, name or its first letters. Raises Unreadable."""
    ids = [one.id for one in job.person]
    found = meant(person(job, typed) or typed, ids)
    if found is None:
        raise Unreadable(
            f"{quoted(typed)} is no person of job.toml.", f"There are: {', '.join(ids)}."
        )
    return found


def past(desk: Desk, typed: str) -> str:
    """Read a time that has come; now stays the word, for each record to take its own.

    Raises Unreadable.
    """
    from claimkit.intake.entries.moments import moment

    if typed.lower() == "now":
        return "now"
    text = timed(desk.now(), typed)
    if moment(text, ZoneInfo(desk.job.site.zone)).at > desk.now():
        raise Unreadable(f"{text} has not come yet.", f"It is {desk.now():%Y-%m-%d %H:%M} there.")
    return text


def at_last(desk: Desk, value: object) -> str:
    """Give a time as the record says it: the word now is this minute."""
    return timed(desk.now(), str(value))


def instant(desk: Desk, value: object) -> Moment:
    """Give a time that was typed and taken as the moment that it names."""
    from claimkit.intake.entries.moments import moment

    return moment(at_last(desk, value), ZoneInfo(desk.job.site.zone))


def photos(desk: Desk, typed: str) -> tuple[str, ...]:
    """Find photos of the job folder by path or by name; several stand apart with ; between.

    Raises Unreadable.
    """
    there = kept(desk.folder)
    found = []
    for part in filter(None, (one.strip() for one in typed.split(";"))):
        path = in_folder(there, part)
        by_name = [p for p in there.paths if p.rsplit("/", 1)[-1].casefold() == part.casefold()]
        by_stem = [p for p in there.paths if _stem(p).casefold() == part.casefold()]
        meant_by = [path] if path in there.paths else by_name or by_stem
        if len(meant_by) != 1:
            told = "is more than one file" if meant_by else "is no file of the job folder"
            likely = (
                f"Write one of: {'; '.join(sorted(meant_by)[:4])}."
                if meant_by
                else ("Put it into photos/ and write its name, or press Enter and name it later.")
            )
            raise Unreadable(f"{quoted(part)} {told}.", likely)
        found.append(meant_by[0])
    return tuple(found)


def value(answers: Answers, key: str) -> object:
    """Give an answer, None where it was not given or is not known."""
    given = answers.get(key)
    return given.value if given else None


def said_by(desk: Desk, answers: Answers) -> str | None:
    """Give who states it: who was named, or the only one there is."""
    named = value(answers, "who")
    return str(named) if named else person(desk.job, None)


def pieces(desk: Desk) -> tuple[str, ...]:
    """Name the replacement pieces that the records speak of."""
    bodies = (record.body for record in (*desk.case.facts.records, *desk.added))
    named = (b.piece for b in bodies if isinstance(b, Readings | Milestone) and b.piece)
    return tuple(dict.fromkeys(named))


def piece_question(desk: Desk) -> tuple[Question, ...]:
    """Ask which pieces it is about, where there are replacement pieces."""
    named = pieces(desk)
    if not named:
        return ()
    return (
        Question(
            "piece",
            f"Replacement piece ({', '.join(named)}; - : the first pieces)",
            "Which set of pieces it is about, where some were replaced.",
            usual=named[-1],
        ),
    )


def _stem(path: str) -> str:
    return path.rsplit("/", 1)[-1].rsplit(".", 1)[0]


def _last_speaker(desk: Desk) -> str | None:
    said = [r for r in desk.case.facts.records if isinstance(r.body, Readings | Milestone)]
    known = {one.id for one in desk.job.person}
    return next((r.said_by for r in reversed(said) if r.said_by in known), desk.job.person[0].id)
