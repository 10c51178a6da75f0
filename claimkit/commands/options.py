"""Options that several commands take, each written once."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

Command = TypeVar("Command", bound=Callable[..., Any])
LEGAL_DAY = "Legal day to reason on, YYYY-MM-DD. Default: today at the site."

job = click.argument("job", type=click.Path(path_type=Path))
fresh = click.option("--fresh", is_flag=True, help="Read every file again, past the index.")
paper = click.option(
    "--paper", type=click.Choice(["letter", "a4"]), default="letter", show_default=True
)


def as_of(help_text: str = LEGAL_DAY) -> Callable[[Command], Command]:
    """Give the option for a day."""
    return click.option(
        "--as-of", type=click.DateTime(["%Y-%m-%d"]), metavar="DATE", help=help_text
    )


def on_a_job(function: Command) -> Command:
    """Add what every command takes that works a job out: its folder, the day, reading afresh."""
    return job(as_of()(fresh(function)))
