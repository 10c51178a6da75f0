"""What goes to a terminal, made safe to show: no text of a job moves a cursor or hides its end.

Records, names of files and papers can hold escape sequences and characters that turn the reading
direction. They are shown as visible codes, line by line; JSON and tables go out by other ways.
"""

from __future__ import annotations

import click

from claimkit.intake.paths import shown


def say(text: str, *, err: bool = False) -> None:
    """Print lines, on standard error where `err` is set."""
    click.echo("\n".join(shown(line) for line in text.split("\n")), err=err)
