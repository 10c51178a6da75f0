"""The office's commands: all jobs at once, letters, calendar, tables, whom to ask.

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

from claimkit.commands import options
from claimkit.commands.printed import reminding, say
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
    from claimkit.wiring.alljobs import is_folder_of_jobs

    if not is_folder_of_jobs(folder):
        used = [name for name in FILTERS if options[name] not in (None, False)]
        if used and (folder / "job.toml").exists():
            raise CannotGoOn(
                f"{folder} is one job. Filters, --csv and --scan are for a folder of job folders; "
                "for one job's limits as a table: claimkit table JOB --of limits."
            )
        return False
    from claimkit.commands.ends import progress
    from claimkit.compose.terminal import jobs
    from claimkit.wiring.alljobs import all_jobs, legal_day

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
    printed = _printed(command, listing, as_json=as_json, options=options)
    if options["as_csv"] or as_json:
        click.echo(printed.encode("utf-8"), nl=False)  # as bytes: line ends stay as they are
    else:
        say(printed.removesuffix("\n"))
    raise click.exceptions.Exit(_exit_code(listing))


def _printed(command: str, listing: Any, *, as_json: bool, options: dict[str, Any]) -> str:
    from claimkit.compose.cells import csv_text
    from claimkit.compose.terminal import jobs

    if as_json:
        import msgspec  # json.dumps takes twice as long as all else for ten thousand jobs

        told = msgspec.json.encode(jobs.as_json(listing, command))
        return msgspec.json.format(told, indent=2).decode("utf-8") + "\n"
    if options["as_csv"]:
        if command == "deadlines":
            return csv_text(jobs.DEADLINE_HEADS, jobs.deadline_rows(listing), bom=options["bom"])
        return csv_text(jobs.STATUS_HEADS, jobs.status_rows(listing), bom=options["bom"])
    lines = jobs.deadlines(listing) if command == "deadlines" else jobs.status(listing)
    return "\n".join(lines) + "\n"


def _exit_code(listing: Any) -> int:
    from claimkit.compose.terminal.jobs import any_overdue

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
@options.paper
@click.option("--no-packet", is_flag=True, help="Do not write and attach the evidence packet.")
@click.option(
    "--out", type=click.Path(path_type=Path), help="Folder to write to. Default: JOB/out/."
)
@options.as_of("Day of the letter, YYYY-MM-DD. Default: today at the site.")
def letter(
    job: Path,
    about: str,
    shipment: str | None,
    paper: Literal["letter", "a4"],
    no_packet: bool,
    out: Path | None,
    as_of: datetime | None,
) -> None:
    """Write a letter as PDF and as a mail draft.

    Packet, papers and photos go along.

    Nothing is sent. What the record does not state is a marked blank, and the letter then says
    that it is not ready. Once it is sent, record it: claimkit notice JOB.
    """
    from claimkit.commands.ends import progress
    from claimkit.model.letter import LetterKind
    from claimkit.wiring.letterbox import write_letter
    from claimkit.wiring.workspace import work_out

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
        before=reminding(case),
    )
    click.echo(f"{posted.pdf.path}\n{posted.mail.path}")
    for name in posted.left_out:
        click.echo(f"Not attached for its size: {name}. Send it in a mail of its own.")
    for text in posted.letter.look_at:
        say(text)
    if posted.letter.ready:
        click.echo("Ready: read it, sign it, send it, and keep the proof of receipt.")
        raise click.exceptions.Exit(DONE)
    click.echo("Not ready:")
    for text in posted.letter.why_not:
        say(f"  {text}")
    raise click.exceptions.Exit(OPEN_MATTERS)


@click.command()
@click.argument("job", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), help="File to write. Default: JOB/out/.")
@options.as_of("Legal day, YYYY-MM-DD. Default: today at the site.")
def calendar(job: Path, out: Path | None, as_of: datetime | None) -> None:
    """Write the open time limits as a calendar.

    JOB may be a folder of jobs.

    One all-day entry on each day to act, with alarms and what to do. Written again, an entry that
    changed replaces the old one, and one that is done is taken out.
    """
    from claimkit.wiring.diary import write_calendar
    from claimkit.wiring.workspace import job_folder

    day = as_of.date() if as_of else None
    if not _holds_jobs(job):
        job_folder(job)
    made = write_calendar(job, now=datetime.now(UTC), as_of=day, out=out)
    done = f", {made.cancelled} taken out" if made.cancelled else ""
    click.echo(f"{made.path}\n{made.entries} {'entry' if made.entries == 1 else 'entries'}{done}")
    for name in made.begun_anew:
        click.echo(f"{name}: out/calendar.json was damaged and begun anew.", err=True)
    for brief in made.not_read:
        click.echo(f"{brief.folder}: {brief.error}", err=True)
    raise click.exceptions.Exit(NOT_READ if made.not_read else DONE)


def _holds_jobs(folder: Path) -> bool:
    from claimkit.wiring.alljobs import is_folder_of_jobs

    return is_folder_of_jobs(folder)


@click.command("table")
@click.argument("job", type=click.Path(path_type=Path))
@click.option(
    "--of",
    "what",
    type=click.Choice(["amount", "limits", "photos"]),
    required=True,
    help="The worksheet, the time limits, or the register of photos.",
)
@click.option("--bom", is_flag=True, help="Mark the text as UTF-8 in front; some programs need it.")
@click.option("--out", type=click.Path(path_type=Path), help="File to write. Default: print it.")
@options.as_of("Legal day, YYYY-MM-DD. Default: today at the site.")
def table_command(
    job: Path, what: str, bom: bool, out: Path | None, as_of: datetime | None
) -> None:
    """Print a table for a spreadsheet.

    CSV in UTF-8, no cell that starts a formula.
    """
    from claimkit.commands.ends import exit_code, progress
    from claimkit.compose.cells import csv_text
    from claimkit.compose.packet.registers import TABLES
    from claimkit.wiring.with_job import with_job
    from claimkit.wiring.workspace import work_out

    day = as_of.date() if as_of else None
    case = with_job(work_out(job, now=datetime.now(UTC), as_of=day, progress=progress))
    heads, rows = TABLES[what]
    text = csv_text(heads, rows(case), bom=bom)
    if out is None:
        click.echo(text.encode("utf-8"), nl=False)  # as bytes: line ends stay as they are
    else:
        _write(out, text)
        click.echo(f"{out}")
    raise click.exceptions.Exit(exit_code(case, None))


def _write(out: Path, text: str) -> None:
    from claimkit.intake.disk import RealDisk, put_new
    from claimkit.wiring.written import not_written

    try:
        put_new(RealDisk(), out, text.encode("utf-8"))
    except FileExistsError:
        raise CannotGoOn(
            f"{out} exists already, and nothing is overwritten. Choose another name."
        ) from None
    except OSError as error:
        raise not_written(out, error) from error


@click.command()
@click.argument("job", type=click.Path(path_type=Path))
@options.as_of("Legal day, YYYY-MM-DD. Default: today at the site.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON; see docs/json.md.")
def ask(job: Path, as_of: datetime | None, as_json: bool) -> None:
    """Print whom to ask for each thing that is wrong.

    With the facts that say so, or what would settle it.
    """
    from claimkit.commands.ends import exit_code, progress
    from claimkit.compose.packet import asking
    from claimkit.wiring.with_job import with_job
    from claimkit.wiring.workspace import work_out

    day = as_of.date() if as_of else None
    case = with_job(work_out(job, now=datetime.now(UTC), as_of=day, progress=progress))
    if as_json:
        click.echo(json.dumps(asking.as_json(case), ensure_ascii=False, indent=2))
    else:
        say("\n".join(asking.lines(case)))
    raise click.exceptions.Exit(exit_code(case, ("ask-",)))


@click.command()
@click.argument("job", type=click.Path(path_type=Path))
@click.option(
    "--for",
    "reader",
    type=click.Choice(["carrier", "seller", "insurer", "own"]),
    required=True,
    help="Who will read it.",
)
@click.option("--shipment", help="Which shipment, where the job has several.")
@options.paper
@click.option("--out", type=click.Path(path_type=Path), help="File to write. Default: JOB/out/.")
@options.as_of("Legal day, YYYY-MM-DD. Default: today at the site.")
def annex(
    job: Path,
    reader: str,
    shipment: str | None,
    paper: Literal["letter", "a4"],
    out: Path | None,
    as_of: datetime | None,
) -> None:
    """Put the pages of the PDF documents together.

    Each under its file's name and hash.

    A document that is broken, encrypted or active is refused with the reason; it stays as it is.
    """
    from claimkit.commands.ends import progress
    from claimkit.findings.wording import counted
    from claimkit.model.case import Reader
    from claimkit.wiring.annexes import write_annex
    from claimkit.wiring.workspace import work_out

    now, day = datetime.now(UTC), as_of.date() if as_of else None
    case = work_out(job, now=now, as_of=day, progress=progress)
    made = write_annex(case, job, Reader(reader), shipment=shipment, paper=paper, out=out, now=now)
    click.echo(f"{made.written.path}\n{counted(made.pages, 'page')} of documents")
    for path, why in made.refused:
        say(f"{path}: {why}")
    raise click.exceptions.Exit(OPEN_MATTERS if made.refused else DONE)


def add_to(app: click.Group) -> None:
    """Add the office's own commands to the command line."""
    for command in (ask, letter, annex, calendar, table_command):
        app.add_command(command)
