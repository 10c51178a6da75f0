"""What `measure` does: asks, and however the questions end, writes what is complete.

Nothing that was typed is lost: what is no record yet is printed as the lines of one.
"""

from __future__ import annotations

import click

from claimkit.intake.paths import shown
from claimkit.keyboard.desk import Desk
from claimkit.keyboard.gaps_asked import Gaps
from claimkit.keyboard.opening_asked import Opening
from claimkit.keyboard.questions import (
    BROKEN_OFF,
    KEYS,
    NOTHING_TYPED,
    Question,
    Stopped,
    Talk,
    as_typed,
    tell,
)
from claimkit.keyboard.steps_asked import Step
from claimkit.model.stop import DONE, OPEN_MATTERS, CannotGoOn

WHAT = ("gaps", "opening", "step")
_WHAT = Question(
    "what",
    "What to record",
    "gaps: readings station by station. opening: plumb, level, square before fastening. step: a "
    "step of the work, such as the dry fit or the fastening.",
    usual="gaps",
    needed=True,
    choices=WHAT,
)


def measure_at(desk: Desk, what: str | None) -> int:
    """Ask and write; give the exit code.

    0 where all stations were read and nothing speaks against them, 1 where something is left open,
    does not support anybody, or the input broke off. Raises CannotGoOn where nothing was written.
    """
    click.echo(KEYS)
    if what is None:
        first = Talk()
        try:
            first.through(lambda a: None if "what" in a else _WHAT, lambda *_: None)
        except Stopped:
            raise CannotGoOn(NOTHING_TYPED) from None
        what = str(first.answers["what"].value)
    talk = Talk()
    if what == "gaps":
        return _gaps(Gaps(desk, talk), talk)
    return _one_record(Opening(desk) if what == "opening" else Step(desk), talk)


def _gaps(gaps: Gaps, talk: Talk) -> int:
    broken_off = _broken_off(talk, gaps)
    gaps.end(talk.answers)  # before anything is said: the terminal may be gone
    doubted = gaps.unconfirmed(talk.answers)
    if doubted:
        tell(f"Not taken, for it was not confirmed: {'; '.join(doubted)}.")
    if not gaps.written:
        raise CannotGoOn(NOTHING_TYPED)
    unread = gaps.unread(talk.answers)
    if broken_off:
        tell(BROKEN_OFF)
    if unread:
        tell(f"Not read: {'; '.join(unread)}.")
    lacking = gaps.step_lacking(talk.answers)
    if lacking:
        tell(
            f"The step “{lacking}” has no record yet, and without it no reading has its place. "
            "Record it with: claimkit measure JOB --of step"
        )
    last = list(gaps.written.values())[-1]
    tell(
        f"A slip in what is written: copy {last.path} under a new name in records/, mend it there "
        "and add these two lines. The old one stays as it is.\n"
        f'  replaces = "{last.id}"\n  reason = "…"'
    )
    open_ = broken_off or unread or lacking or gaps.speaks_against(talk.answers)
    return OPEN_MATTERS if open_ else DONE


def _one_record(asked: Opening | Step, talk: Talk) -> int:
    broken_off = _broken_off(talk, asked)
    unwanted = "write" in talk.answers and not talk.answers["write"].value
    if unwanted or not asked.complete(talk.answers):
        if not unwanted and len(talk.answers) > 1:
            lines = as_typed(asked.values(talk.answers)).splitlines()
            click.echo("\n".join(shown(line) for line in lines))
        raise CannotGoOn("Nothing was written, as you said." if unwanted else NOTHING_TYPED)
    asked.end(talk.answers)
    if broken_off:
        tell(BROKEN_OFF)
    against = isinstance(asked, Opening) and asked.speaks_against()
    return OPEN_MATTERS if broken_off or against else DONE


def _broken_off(talk: Talk, asked: Gaps | Opening | Step) -> bool:
    """Ask; tell whether the questions ended by a key or the end of the input, not by a word."""
    try:
        talk.through(asked.following, asked.took)
    except Stopped as stop:
        return not stop.by_word
    except KeyboardInterrupt:  # while an answer was worked out
        return True
    return False
