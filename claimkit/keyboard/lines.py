"""One line typed at a keyboard or out of a pipe: words, numbers, one of a few, a time.

Every command that asks reads its answers here. An empty answer is: not known. What comes out of a
pipe is shown behind its question, so that what is printed reads as a session does.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable
from datetime import datetime
from zoneinfo import ZoneInfo

import click

from claimkit.model.job import Job

YES = ("y", "yes", "s", "si", "sí")
NO = ("n", "no")


def text(question: str) -> str:
    """Ask for a line. Raises click.Abort where the input ends or is broken off."""
    if sys.stdin.isatty():
        return str(click.prompt(question, default="", show_default=False)).strip()
    click.echo(f"{question}: ", nl=False)
    line = sys.stdin.readline()
    if not line:
        raise click.Abort
    click.echo(line.rstrip("\r\n"))
    return line.strip()


def yes_or_no(question: str) -> bool | None:
    """Ask for yes or no; anything else that is typed is no."""
    answer = text(question).lower()
    return None if not answer else answer in YES


def number(question: str, default: int | None = None) -> int | None:
    """Ask for a whole number until one is typed, or nothing."""
    asked = f"{question} [{default}]" if default is not None else question
    while True:
        answer = text(asked)
        if not answer:
            return default
        if answer.isascii() and answer.isdigit():
            return int(answer[:9])
        click.echo("  Write a whole number, or nothing.")


def one_of(question: str, options: list[str]) -> str | None:
    """Ask for one of a few words; its first letters are enough."""
    while True:
        answer = text(f"{question} ({', '.join(options)})")
        if not answer:
            return None
        if (found := meant(answer, options)) is not None:
            return found
        click.echo(f"  Write one of: {', '.join(options)}.")


def meant(answer: str, options: Iterable[str]) -> str | None:
    """Give the one option that an answer names: itself, or its first letters where they are one."""
    known = list(options)
    if answer in known:
        return answer
    low = answer.lower()
    whole = [option for option in known if option.lower() == low]
    begun = whole or [option for option in known if option.lower().startswith(low)]
    return begun[0] if len(begun) == 1 else None


def time_asked(question: str, now: datetime, zone: str) -> str | None:
    """Ask for a time until one can be read at the site, or nothing is typed."""
    from claimkit.intake.entries.moments import moment
    from claimkit.intake.entries.problems import Unreadable

    while True:
        answer = text(question)
        if not answer:
            return None
        try:
            moment(timed(now, answer), ZoneInfo(zone))
        except Unreadable as error:
            click.echo(f"  {error.found} {error.write}")
        else:
            return timed(now, answer)


def timed(now: datetime, typed: str) -> str:
    """Give a time for a record: now, and a time of day alone, are of this day at the site."""
    plain = typed.strip()
    if plain.lower() == "now":
        return f"{now:%Y-%m-%d %H:%M}"
    hour, colon, minute = plain.partition(":")
    if colon and hour.isdecimal() and len(hour) <= 2 and minute[:2].isdecimal():
        return f"{now:%Y-%m-%d} {hour:0>2}:{minute}"
    return plain


def person(job: Job, typed: str | None) -> str | None:
    """Give the id of a person named by id or by name; the only one there is where none is."""
    if typed is None:
        return job.person[0].id if len(job.person) == 1 else None
    named = [one.id for one in job.person if one.name.casefold() == typed.casefold()]
    known = {one.id for one in job.person}
    return named[0] if typed not in known and len(named) == 1 else typed
