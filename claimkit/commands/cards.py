"""The command that prints scale cards for a job's seams."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import Literal

import click

from claimkit.commands import options
from claimkit.commands.printed import say


@click.command()
@click.argument("job", type=click.Path(path_type=Path))
@click.option("--all", "everything", is_flag=True, help="A card at every station of butt seams.")
@options.paper
@click.option("--out", type=click.Path(path_type=Path), help="File to write. Default: JOB/out/.")
@options.as_of()
def cards(
    job: Path,
    everything: bool,
    paper: Literal["letter", "a4"],
    out: Path | None,
    as_of: datetime | None,
) -> None:
    """Print scale cards for the seams.

    With a card taped over a seam, the gap can be measured in a photo. The print holds the steps
    with drawings, six cards a sheet with two check lines, and loose tags for what is being done.

    Each butt seam has cards at both ends and in the middle; corner, lap and interlocking joints
    are read by hand. A station's number is its card in job.toml, else a free one is proposed, with
    the line to add: job.toml itself is never written.
    """
    from claimkit.commands.ends import exit_code, progress
    from claimkit.compose.terminal.card_lines import card_lines
    from claimkit.wiring.cards import write_cards
    from claimkit.wiring.workspace import work_out

    now, day = datetime.now(UTC), as_of.date() if as_of else None
    case = work_out(job, now=now, as_of=day, progress=progress)
    made = write_cards(case, job, paper=paper, out=out, now=now, everything=everything)
    same = " (the same bytes were there already)" if made.written.already_there else ""
    say("\n".join(card_lines(case, made.book)))
    click.echo(f"\n{made.written.path}{same}")
    if made.written.not_archive:
        reasons = "; ".join(made.written.not_archive)
        click.echo(f"claimkit: this file is no PDF/A-2b and does not say so: {reasons}", err=True)
    raise click.exceptions.Exit(exit_code(case, ("card-",)))


def add_to(app: click.Group) -> None:
    """Add this command to the command line."""
    app.add_command(cards)
