"""Commands for the curb: the sheet, the page, the record by prompts, and what came in since.

The sheet and the page are made before the delivery, from job.toml alone; `receive` writes the
same delivery record as the page does.
"""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

import click

from claimkit.commands import options
from claimkit.commands.printed import say
from claimkit.model.stop import CannotGoOn

if TYPE_CHECKING:
    from claimkit.model.job import Job

LANGUAGES = click.Choice(["en", "es"])


def add_to(app: click.Group) -> None:
    """Add these commands to the command line."""
    for command in (receiving_sheet, receiving_page, receive, news):
        app.add_command(command)


@click.command("receiving-sheet")
@click.argument("job", type=click.Path(path_type=Path))
@click.option("--shipment", help="Which shipment. Default: all, one after the other.")
@click.option("--language", type=LANGUAGES, default="en", show_default=True)
@options.paper
@click.option("--out", type=click.Path(path_type=Path), help="File to write. Default: JOB/out/.")
def receiving_sheet(
    job: Path,
    shipment: str | None,
    language: Literal["en", "es"],
    paper: Literal["letter", "a4"],
    out: Path | None,
) -> None:
    """Print the sheet for the curb and the unpacking.

    One page for each shipment at the curb, one for its unpacking, and one on getting the original
    photos off the telephones. Made from job.toml alone, before the delivery.
    """
    from claimkit.compose.sheets.book import compose
    from claimkit.render.boxes import Overfull
    from claimkit.render.sheet import render_sheet

    known = _job(job)
    try:
        pdf = render_sheet(compose(known, language, _shipment(known, shipment)), paper)
    except Overfull as error:
        raise CannotGoOn(
            f"A text in {job / 'job.toml'} is longer than a page, so no sheet can be printed. "
            "Shorten its titles, names, addresses and descriptions to a few words."
        ) from error
    of = f"-{shipment}" if shipment else ""
    path = out or job / "out" / f"receiving-sheet{of}-{language}-{paper}.pdf"
    _put(job, path, pdf)
    click.echo(path)


@click.command("receiving-page")
@click.argument("job", type=click.Path(path_type=Path))
@click.option("--shipment", help="Which shipment. Default: all, to pick from on the page.")
@click.option("--no-telephones", is_flag=True, help="Leave telephone numbers out of the page.")
@click.option("--out", type=click.Path(path_type=Path), help="Folder to write. Default: JOB/out/.")
def receiving_page(job: Path, shipment: str | None, no_telephones: bool, out: Path | None) -> None:
    """Make the page for a telephone at the curb.

    It works without a network.

    Three files: index.html, sw.js and manifest.webmanifest. Android and laptops run index.html
    from a file; an iPhone needs all three under one https address. See docs/receiving.md.
    """
    from zoneinfo import ZoneInfo

    from claimkit.receiving.page.build import PAGE, page_files

    known = _job(job)
    made = datetime.now(ZoneInfo(known.site.zone)).date()
    files = page_files(known, made, _shipment(known, shipment), telephones=not no_telephones)
    folder = out or job / "out" / "receiving-page"
    for name, data in files.items():
        _put(job, folder / name, data)
    click.echo(folder / PAGE)
    if not known.person:
        click.echo(
            "claimkit: job.toml names no person. The page will ask for a name; add it as "
            "[[person]] before the record is read.",
            err=True,
        )


@click.command()
@click.argument("job", type=click.Path(path_type=Path))
@click.option("--shipment", help="Which shipment, where the job has several.")
@click.option("--arrived", help="When the truck came: 2026-05-04 09:10, 09:10, or now.")
@click.option("--left", help="When the driver left, likewise.")
@click.option(
    "--receipt",
    type=click.Choice(["paper", "device", "none"]),
    help="What the receipt was signed on.",
)
@click.option(
    "--inspected",
    type=click.Choice(["opened", "outside", "no"]),
    help="What could be looked at before signing.",
)
@click.option("--because", help="Why the goods were not inspected.")
@click.option("--wrap", type=click.Choice(["intact", "broken"]), help="Stretch wrap and seal.")
@click.option("--units-listed", type=int, help="Handling units on the driver's paper.")
@click.option("--units", type=int, help="Handling units counted.")
@click.option("--cartons-listed", type=int, help="Cartons on the driver's paper.")
@click.option("--cartons", type=int, help="Cartons counted.")
@click.option("--words", help="The words on the carrier's copy, exactly; '' where there are none.")
@click.option("--our-words", help="The words on our copy, where they differ.")
@click.option("--driver", help="The driver's name.")
@click.option("--signed/--not-signed", default=None, help="Whether our side signed.")
@click.option(
    "--driver-signed/--driver-declined", default=None, help="Whether the driver signed the words."
)
@click.option("--signed-at", help="When it was signed.")
@click.option("--refused", help="What was refused and why.")
@click.option(
    "--receipt-photo",
    multiple=True,
    help="Scan or photo of the receipt; copied into documents/ from elsewhere. Can be repeated.",
)
@click.option("--photo", multiple=True, help="Another photo from the curb. Can be repeated.")
@click.option("--by", "said_by", help="Who states this: person id or name.")
@click.option("--replaces", metavar="RECORD", help="Correct that delivery record.")
@click.option("--reason", help="Why it is corrected.")
def receive(job: Path, **given: Any) -> None:
    """Record a delivery and grade the receipt as it is typed.

    It says what to add while the driver is there.

    Without options it asks, in the order of the work, and grades the words as they are typed. The
    record is checked as a whole before one new file is written into records/.
    """
    from claimkit.commands.ends import ends_kept
    from claimkit.receiving.delivery import receive_delivery
    from claimkit.wiring.workspace import job_folder

    asked = {key: value for key, value in given.items() if value not in (None, ())}
    with ends_kept():
        told = receive_delivery(job_folder(job), asked, datetime.now(UTC))
    raise click.exceptions.Exit(told)


@click.command()
@click.argument("job", type=click.Path(path_type=Path))
@click.option("--all", "everything", is_flag=True, help="Every run that found something new.")
@click.option("--fresh", is_flag=True, help="Read every file again, past the index.")
def news(job: Path, everything: bool, fresh: bool) -> None:
    """Print what came in since last time.

    Photos, records, changes, files gone.

    The custody log keeps what each run saw first, so nothing is lost by running another command
    before: the last run that found something new is shown, on whatever computer it was.
    """
    from claimkit.commands.ends import progress
    from claimkit.compose.terminal.news_lines import news_lines
    from claimkit.model.stop import NOT_READ
    from claimkit.wiring.workspace import work_out

    case = work_out(job, now=datetime.now(UTC), progress=progress, fresh=fresh)
    say("\n".join(news_lines(case, everything=everything)))
    raise click.exceptions.Exit(NOT_READ if case.facts.problems else 0)


def _job(folder: Path) -> Job:
    """Read job.toml alone; every problem of it at once where it cannot be used."""
    from claimkit.intake.entries.records import JOB_FILE, read_job
    from claimkit.wiring.workspace import job_folder

    path = job_folder(folder) / JOB_FILE
    try:
        data = path.read_bytes()
    except OSError as error:
        raise CannotGoOn(f"{path} cannot be read: {error.strerror or error}.") from error
    job, problems = read_job(data, JOB_FILE)
    if job is None:
        told = "\n".join(f"  {problem.sentence()}" for problem in problems)
        raise CannotGoOn(f"{path} cannot be used as it stands.\n{told}")
    return job


def _shipment(job: Job, shipment: str | None) -> str | None:
    if shipment is None or any(one.id == shipment for one in job.shipment):
        return shipment
    there = ", ".join(one.id for one in job.shipment) or "none"
    raise click.UsageError(f"{shipment} is no shipment of this job. There are: {there}.")


def _put(job: Path, path: Path, data: bytes) -> None:
    from claimkit.intake.disk import RealDisk, put
    from claimkit.wiring.written import not_written

    disk = RealDisk()
    try:
        disk.make_folder(path.parent)
        with disk.lock(job.resolve(), None):
            put(disk, path, data)
    except OSError as error:
        raise not_written(path, error) from error
