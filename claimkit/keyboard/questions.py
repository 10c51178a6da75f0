"""Questions one after the other at a keyboard, with a way back, an explanation and a way to stop.

Which question comes next is a function of the answers so far, so going back is taking the last
answer away. An answer that cannot be used says what and what to write, and is asked again.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field

import click

from claimkit.compose.terminal.text import wrapped
from claimkit.intake.entries.problems import Unreadable, quoted
from claimkit.intake.entries.tomltext import toml_document
from claimkit.intake.paths import shown
from claimkit.keyboard.lines import NO, YES, meant, text

BACK, STOP, EXPLAIN, NOTHING = ("<", "back"), (".", "stop"), "?", "-"
BROKEN_OFF = "The input ended here; what was complete is written."
NOTHING_TYPED = "Nothing was written: it ended before anything that can be recorded was typed."
KEYS = "Enter: what stands in [ ].  < one back   - nothing   . stop   ? what is meant"


class Stopped(Exception):
    """The questions end before they are through; `by_word` where that was typed as an answer."""

    def __init__(self, *, by_word: bool) -> None:
        super().__init__("stopped")
        self.by_word = by_word


@dataclass(frozen=True, slots=True)
class Question:
    """One question.

    `read` turns what was typed into the answer, or raises Unreadable. `usual` is what Enter stands
    for; where there is none Enter is: not known, unless the answer is `needed`. `choices` are shown
    above, numbered; a number, or the first letters, name one; with `own_words` anything else is an
    answer too. `says` is a sentence that stands above the question.
    """

    key: str
    asks: str
    explains: str
    read: Callable[[str], object] = str
    usual: str | None = None
    needed: bool = False
    choices: tuple[str, ...] = ()
    own_words: bool = False
    says: str = ""


@dataclass(frozen=True, slots=True)
class Answer:
    """What was typed, and what it was read as; None is not known."""

    typed: str
    value: object


Answers = dict[str, Answer]
Following = Callable[[Answers], Question | None]
Took = Callable[[Question, Answers], None]


@dataclass
class Talk:
    """The answers of one session, and those that were taken back, to be offered again.

    `settled` counts the answers that went into a record: there is no way back behind them.
    """

    answers: Answers = field(default_factory=dict)
    settled: int = 0
    taken_back: dict[str, str] = field(default_factory=dict)
    asked: dict[str, str] = field(default_factory=dict)

    def through(self, following: Following, took: Took) -> None:
        """Ask until nothing follows; `took` hears each answer and may refuse it (Unreadable).

        Raises Stopped where the person, a key or the end of the input ends it.
        """
        while (question := following(self.answers)) is not None:
            typed = self._typed(question)
            if typed is None:
                self._back()
                continue
            try:
                self.answers[question.key] = Answer(typed, answered(question, typed))
                took(question, self.answers)
            except Unreadable as wrong:
                self.answers.pop(question.key, None)
                tell(f"{wrong.found} {wrong.write}".strip())
            else:
                self.taken_back.pop(question.key, None)

    def _typed(self, question: Question) -> str | None:
        """Give what stands for the answer, None for one back. Raises Stopped."""
        usual = self.taken_back.get(question.key, question.usual)
        self.asked[question.key] = question.asks
        if question.says:
            tell(question.says)
        for line in numbered(question.choices):
            click.echo(line)
        while True:
            try:
                typed = text(_set(shown(question.asks) + (f" [{shown(usual)}]" if usual else "")))
            except (click.Abort, KeyboardInterrupt, EOFError):
                with suppress(OSError):  # the terminal itself may be gone
                    click.echo()
                raise Stopped(by_word=False) from None
            low = typed.lower()
            if low in STOP:
                raise Stopped(by_word=True)
            if low in BACK:
                return None
            if typed == EXPLAIN:
                tell(question.explains)
            elif typed in ("", NOTHING) and (question.needed and not (usual and not typed)):
                tell(f"This has to be known. {question.explains}")
            else:
                return "" if typed == NOTHING else typed or usual or ""

    def _back(self) -> None:
        if len(self.answers) == self.settled:
            tell(
                "There is no answer to go back to."
                if not self.settled
                else "What was before stands in a record already. A slip in it is corrected by a "
                "new record that names it (replaces)."
            )
            return
        key, answer = self.answers.popitem()
        if answer.typed:
            self.taken_back[key] = answer.typed
        tell(f"Back at: {self.asked[key].strip()}")


def answered(question: Question, typed: str) -> object:
    """Read what was typed; None where it is empty. Raises Unreadable."""
    if not typed:
        return None
    if not question.choices:
        return question.read(typed)
    try:
        return question.read(chosen(typed, question.choices))
    except Unreadable:
        if not question.own_words or typed.isdigit():
            raise
        return question.read(typed)


def chosen(typed: str, choices: Sequence[str]) -> str:
    """Give the choice that is named by itself, its first letters or its number.

    Raises Unreadable.
    """
    found = meant(typed, choices)
    if (
        found is None
        and typed.isascii()
        and typed.isdigit()
        and 1 <= int(typed[:3]) <= len(choices)
    ):
        found = choices[int(typed[:3]) - 1]
    if found is None:
        last = len(choices)
        raise Unreadable(
            f"{quoted(typed)} is none of these, or more than one of them.",
            f"Write the number, 1 to {last}, or the whole word: {', '.join(choices)}."
            if last > 1
            else f"Write {choices[0]}.",
        )
    return found


def numbered(choices: Sequence[str]) -> list[str]:
    """Give the choices with their numbers as lines."""
    if not choices:
        return []
    return wrapped(
        "   ".join(
            f"{n}\N{NO-BREAK SPACE}{shown(one)}".replace(" ", "\N{NO-BREAK SPACE}")
            for n, one in enumerate(choices, start=1)
        ),
        "  ",
    )


def yes_or_no(typed: str) -> bool:
    """Read yes or no. Raises Unreadable for anything else."""
    low = typed.lower()
    if low in YES or low in NO:
        return low in YES
    raise Unreadable(f"{quoted(typed)} is neither yes nor no.", "Write y or n.")


def as_typed(values: Mapping[str, object]) -> str:
    """Give what was typed as lines to put into a record by hand."""
    return f"What was typed, as a record would say it:\n\n{toml_document(values)}"


def _set(asks: str) -> str:
    """Print all but the last line of a question that is longer than a line; give that one."""
    *lines, last = wrapped(f"{asks}:", "") or [":"]
    for line in lines:
        click.echo(line)
    return last.removesuffix(":")


def tell(said: str) -> None:
    """Print a sentence beneath a question."""
    click.echo("\n".join(shown(line) for line in wrapped(said, "    ")))
