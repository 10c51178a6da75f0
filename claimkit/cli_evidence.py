"""Commands for evidence that is looked at hard: verify, and what goes to the other side."""

from __future__ import annotations

import json
from pathlib import Path

import click

from claimkit.model.verified import Outcome, Verified


def add_to(app: click.Group) -> None:
    """Add these commands to the command line."""
    for command in (verify,):
        app.add_command(command)


@click.command()
@click.argument("job", type=click.Path(path_type=Path))
@click.option(
    "--packet",
    "packets",
    multiple=True,
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="A further copy of a packet, such as the one that was sent. Can be given again.",
)
@click.option("--json", "as_json", is_flag=True, help="Print JSON; see docs/json.md.")
def verify(job: Path, packets: tuple[Path, ...], as_json: bool) -> None:
    """Read everything again and hold it against the logs and what anchors them.

    Every original is hashed anew, and every log and packet is read. Nothing is written. What
    cannot be seen, because nothing outside the logs has kept it, is said.
    """
    from claimkit.intake.verify import verify_job
    from claimkit.workspace import job_folder

    told = verify_job(job_folder(job), packets=packets)
    _print(told, as_json)


def _print(told: Verified, as_json: bool) -> None:
    from claimkit.compose import verified

    if as_json:
        click.echo(json.dumps(verified.as_json(told), ensure_ascii=False, indent=2))
    else:
        click.echo("\n".join(verified.lines(told)))
    raise click.exceptions.Exit(exit_code(told))


def exit_code(told: Verified) -> int:
    """Give the exit code of a verification, as claimkit --help lists them."""
    from claimkit.cli import DONE, NOT_READ, OPEN_MATTERS

    if told.of(Outcome.UNREAD):
        return NOT_READ
    return OPEN_MATTERS if told.of(Outcome.BROKEN, Outcome.NOT_LOGGED) else DONE
