"""What goes to a terminal, made safe to show: no text of a job moves a cursor or hides its end.

Records, names of files and papers can hold escape sequences and characters that turn the reading
direction. They are shown as visible codes, line by line; JSON and tables go out by other ways.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from claimkit.intake.paths import shown

if TYPE_CHECKING:
    from collections.abc import Callable

    from claimkit.model.case import Case
    from claimkit.model.document import Document


def say(text: str, *, err: bool = False) -> None:
    """Print lines, on standard error where `err` is set."""
    click.echo("\n".join(shown(line) for line in text.split("\n")), err=err)


def reminding(case: Case) -> Callable[[Document], None]:
    """Give what names, before a packet for somebody else is written, the remarks that it shows."""
    from claimkit.compose.remarks import reminder

    def remind(document: Document) -> None:
        for line in reminder(case, document):
            say(line, err=True)

    return remind
