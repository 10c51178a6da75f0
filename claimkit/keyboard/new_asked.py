"""What `new` asks at a keyboard, each answer tried in a job.toml as it is given.

A wrong one is said with what to write, and asked again there; none of the others is lost.
"""

from __future__ import annotations

import re
import shlex
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click

from claimkit.intake.entries.new import OUR_ROLES, Answers, job_text
from claimkit.intake.entries.problems import Unreadable
from claimkit.keyboard.questions import KEYS, Question, Stopped, Talk, chosen
from claimkit.keyboard.questions import Answers as Told
from claimkit.model.stop import CannotGoOn

NUMBERS = ("handling_units", "cartons")
ROLES = "our_roles"
_MADE_UP = {"title": "job", "address": "address", "zone": "UTC"}
"""What stands for a needed answer while another is tried."""


def asked(
    folder: Path, given: Mapping[str, Any], questions: Sequence[tuple[str, str, bool]]
) -> dict[str, Any]:
    """Ask for what is not given; give everything that is known by the names of `Answers`.

    `questions` are name, question and whether it is needed. Raises CannotGoOn where it was broken
    off, with the command that goes on from there.
    """
    known = {name: one for name, one in given.items() if one not in (None, "", ())}
    form = _Form(known, tuple(questions))
    talk = Talk()
    click.echo(KEYS)
    try:
        talk.through(form.following, form.took)
    except (Stopped, KeyboardInterrupt):
        told = form.known(talk.answers)
        raise CannotGoOn(f"Nothing was written.{_go_on(folder, told)}") from None
    return form.known(talk.answers)


@dataclass(frozen=True, slots=True)
class _Form:
    """The answers given as options, and the questions for the others."""

    given: dict[str, Any]
    questions: tuple[tuple[str, str, bool], ...]

    def following(self, answers: Told) -> Question | None:
        """Give the next question; None when all are answered."""
        for name, asks, needed in self.questions:
            if name in answers or name in self.given:
                continue
            if name == ROLES and "us" not in self.known(answers):
                continue
            return _question(name, asks, needed=needed or name == ROLES)
        return None

    def took(self, question: Question, answers: Told) -> None:
        """Try the answers so far as a job.toml. Raises Unreadable."""
        del question
        try:
            job_text(Answers(**(_MADE_UP | self.known(answers))))
        except CannotGoOn as error:
            raise Unreadable(str(error), "") from error

    def known(self, answers: Told) -> dict[str, Any]:
        """Give what is known by its name."""
        told = {name: a.value for name, a in answers.items() if a.value is not None}
        return self.given | told


def _question(name: str, asks: str, *, needed: bool) -> Question:
    if name == ROLES:
        return Question(
            name,
            "Your firm is (one or more, with a comma between)",
            "owner: the goods are yours. consignee: the bill names you as who receives them. "
            "installer: you put them in. Time limits and letters go by it.",
            _roles,
            needed=True,
            says="1 owner   2 installer   3 consignee",
        )
    explains = "It has to stand in job.toml." if needed else "Enter: not known; add it later."
    return Question(name, asks, explains, _number if name in NUMBERS else str, needed=needed)


def _roles(typed: str) -> tuple[Any, ...]:
    words = [word for word in re.split(r"[\s,;+&]+|\band\b", typed) if word]
    roles = [chosen(word, tuple(role.value for role in OUR_ROLES)) for word in words]
    return tuple(role for role in OUR_ROLES if role.value in roles)


def _number(typed: str) -> int:
    if typed.isascii() and typed.isdigit():
        return int(typed[:9])
    raise Unreadable("That is no whole number.", "Write a whole number, or nothing.")


def _go_on(folder: Path, told: Mapping[str, Any]) -> str:
    """Give the command that keeps what was typed; empty where nothing was."""
    if not told:
        return ""
    words = ["claimkit", "new", str(folder)]
    for name, one in told.items():
        flag = "--we-are" if name == ROLES else f"--{name.replace('_', '-')}"
        for text in one if isinstance(one, tuple) else (one,):
            words += [flag, str(text)]
    return f" With what was typed it goes on by:\n\n{shlex.join(words)}"
