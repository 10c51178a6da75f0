"""The office's commands: all jobs at once, letters, whom to ask.

A folder of job folders in place of a job lists them all: limits by their day to act, or where
each job stands.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, Literal

import click

from claimkit.model.stop import CannotGoOn

DONE, OPEN_MATTERS, NOT_READ, DEFECT = 0, 1, 3, 4
FILTERS = ("overdue", "within", "carrier", "open_only", "as_csv", "bom", "scan")


def for_all_jobs(function: Callable[..., Any]) -> Callable[..., Any]:
    """Add the options that a folder of jobs takes."""
    for decorate in (
        click.option(
            "--scan/--no-scan", default=None, help="All jobs: look at every folder, or at none."
        ),
        click.option("--bom", is_flag=True, help="With --csv: mark the text as UTF-8 in front."),
        click.option("--csv", "as_csv", is_flag=True, help="All jobs: print rows for a table."),
        click.option("--open", "open_only", is_flag=True, help="All jobs: only what is open."),
        click.option("--carrier", metavar="NAME", help="All jobs: only this carrier's."),
        click.option(
            "--next",
            "within",
            type=click.IntRange(0, 36600),
            metavar="N",
            help="All jobs: only what is due within N days.",
        ),
        click.option("--overdue", is_flag=True, help="All jobs: only what is past its day."),
    ):
        function = decorate(function)
    return function


def with_options(of_jobs: bool) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Give a decorator that adds those options where a command takes a folder of jobs."""
    return for_all_jobs if of_jobs else lambda function: function


def list_all_jobs(
    command: str, folder: Path, as_of: datetime | None, as_json: bool, options: dict[str, Any]
) -> bool:
    """Print all jobs below a folder and end with its exit code; False where it is none of jobs."""
    from claimkit.alljobs import is_folder_of_jobs

    if not is_folder_of_jobs(folder):
        used = [name for name in FILTERS if options[name] not in (None, False)]
        if used and (folder / "job.toml").exists():
            raise CannotGoOn(
                f"{folder} is one job. Filters, --csv and --scan are for a folder of job folders; "
                "for one job's limits as a table: claimkit table JOB --of limits."
            )
        return False
    from claimkit.alljobs import all_jobs, legal_day
    from claimkit.cli import progress
    from claimkit.compose import jobs

    now, chosen = datetime.now(UTC), as_of.date() if as_of else None
    every = all_jobs(folder, now=now, as_of=chosen, scan=options["scan"], progress=progress)
    wanted = jobs.Wanted(
        options["overdue"], options["within"], options["carrier"], options["open_only"]
    )
    listing = jobs.Listing(
        every.jobs,
        lambda job: legal_day(job, now, chosen),
        wanted,
        every.looked_at,
        every.outlived,
    )
    click.echo(_printed(command, listing, as_json=as_json, options=options), nl=False)
    raise click.exceptions.Exit(_exit_code(listing))


def _printed(command: str, listing: Any, *, as_json: bool, options: dict[str, Any]) -> str:
    from claimkit.compose import jobs
    from claimkit.compose.cells import csv_text

    if as_json:
        return json.dumps(jobs.as_json(listing, command), ensure_ascii=False, indent=2) + "\n"
    if options["as_csv"]:
        if command == "deadlines":
            return csv_text(jobs.DEADLINE_HEADS, jobs.deadline_rows(listing), bom=options["bom"])
        return csv_text(jobs.STATUS_HEADS, jobs.status_rows(listing), bom=options["bom"])
    lines = jobs.deadlines(listing) if command == "deadlines" else jobs.status(listing)
    return "\n".join(lines) + "\n"


def _exit_code(listing: Any) -> int:
    from claimkit.compose.jobs import any_overdue

    if any(job.defects for job in listing.jobs):
        return DEFECT
    if any(job.error or job.problems for job in listing.jobs):
        return NOT_READ
    return OPEN_MATTERS if any_overdue(listing) else DONE


KINDS = (
    "concealed-damage",
    "claim",
    "acknowledgement",
    "follow-up",
    "disallowance",
    "tariff",
    "packing-evidence",
    "seller",
    "maker",
    "insurer",
    "non-receipt",
    "customer",
)


@click.command()
@click.argument("job", type=click.Path(path_type=Path))
@click.option("--about", type=click.Choice(KINDS), required=True, help="What the letter is for.")
@click.option("--shipment", help="Which shipment, where the job has several.")
@click.option("--paper", type=click.Choice(["letter", "a4"]), default="letter", show_default=True)
@click.option("--no-packet", is_flag=True, help="Do not write and attach the evidence packet.")
@click.option(
    "--out", type=click.Path(path_type=Path), help="Folder to write to. Default: JOB/out/."
)
@click.option(
    "--as-of",
    type=click.DateTime(["%Y-%m-%d"]),
    metavar="DATE",
    help="Day of the letter, YYYY-MM-DD. Default: today at the site.",
)
def letter(  # noqa: PLR0913, PLR0917 - a command's options are its parameters
    job: Path,
    about: str,
    shipment: str | None,
    paper: Literal["letter", "a4"],
    no_packet: bool,
    out: Path | None,
    as_of: datetime | None,
) -> None:
    """Write a letter as PDF and as a mail draft with packet, papers and photos.

    Nothing is sent. What the record does not state is a marked blank, and the letter then says
    that it is not ready. Once it is sent, record it: claimkit notice JOB.
    """
    from claimkit.cli import progress
    from claimkit.letterbox import write_letter
    from claimkit.model.letter import LetterKind
    from claimkit.workspace import work_out

    now = datetime.now(UTC)
    day = as_of.date() if as_of else None
    case = work_out(job, now=now, as_of=day, progress=progress)
    posted = write_letter(
        case,
        job,
        LetterKind(about),
        shipment=shipment,
        paper=paper,
        out=out,
        now=now,
        with_packet=not no_packet,
    )
    click.echo(f"{posted.pdf.path}\n{posted.mail.path}")
    for name in posted.left_out:
        click.echo(f"Not attached for its size: {name}. Send it in a mail of its own.")
    if posted.letter.ready:
        click.echo("Ready: read it, sign it, send it, and keep the proof of receipt.")
        raise click.exceptions.Exit(DONE)
    click.echo("Not ready:")
    for text in posted.letter.why_not:
        click.echo(f"  {text}")
    raise click.exceptions.Exit(OPEN_MATTERS)


def add_to(app: click.Group) -> None:
    """Add the office's own commands to the command line."""
    for command in (letter,):
        app.add_command(command)
