"""One line typed at a keyboard or out of a pipe: words, numbers, one of a few, a time.

Every command that asks reads its answers here. An empty answer is: not known. What comes out of a
pipe is shown behind its question, so that what is printed reads as a session does.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable
from datetime import datetime

import click

from claimkit.model.job import Job

_DAY = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
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


def meant(answer: str, options: Iterable[str]) -> str | None:
    """Give the one option that an answer names: itself, or its first letters where they are one."""
    known = list(options)
    if answer in known:
        return answer
    low = answer.lower()
    whole = [option for option in known if option.lower() == low]
    begun = whole or [option for option in known if option.lower().startswith(low)]
    return begun[0] if len(begun) == 1 else None


def timed(now: datetime, typed: str, day: str | None = None) -> str:
    """Give a time for a record: now is this minute at the site.

    A time of day alone is of the `day` that a text begins with (2026-05-04 ...), or of today.
    """
    plain = typed.strip()
    if plain.lower() == "now":
        return f"{now:%Y-%m-%d %H:%M}"
    hour, colon, minute = plain.partition(":")
    if colon and hour.isdecimal() and len(hour) <= 2 and minute[:2].isdecimal():
        of = _DAY.match(day or "")
        return f"{of[0] if of else f'{now:%Y-%m-%d}'} {hour:0>2}:{minute}"
    return plain


def person(job: Job, typed: str | None) -> str | None:
    """Give the id of a person named by id or by name; the only one there is where none is."""
    if typed is None:
        return job.person[0].id if len(job.person) == 1 else None
    named = [one.id for one in job.person if one.name.casefold() == typed.casefold()]
    known = {one.id for one in job.person}
    return named[0] if typed not in known and len(named) == 1 else typed
