"""Commands for evidence that is looked at hard: verify, and what goes to the other side."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from claimkit.commands import options
from claimkit.commands.printed import reminding, say
from claimkit.model.verified import Outcome, Verified

if TYPE_CHECKING:
    from claimkit.model.case import Case


def add_to(app: click.Group) -> None:
    """Add these commands to the command line."""
    for command in (verify, bundle, statement, timestamp):
        app.add_command(command)


def _case(job: Path, as_of: datetime | None, fresh: bool, now: datetime) -> Case:
    from claimkit.commands.ends import progress
    from claimkit.wiring.workspace import work_out

    day = as_of.date() if as_of else None
    return work_out(job, now=now, as_of=day, progress=progress, fresh=fresh)


@click.command()
@options.on_a_job
@click.option(
    "--for",
    "reader",
    type=click.Choice(["carrier", "seller", "insurer", "customer", "own"]),
    required=True,
    help="Who will get it. The customer's holds no papers, prices or receipts.",
)
@click.option("--shipment", help="Which shipment, where the job has several.")
@options.paper
@click.option("--folder", is_flag=True, help="Write a folder. Default: a zip file.")
@click.option("--without-job-file", is_flag=True, help="Keep job.toml back.")
@click.option("--out", type=click.Path(path_type=Path), help="What to write. Default: in JOB/out/.")
def bundle(
    job: Path,
    as_of: datetime | None,
    fresh: bool,
    reader: str,
    shipment: str | None,
    paper: Literal["letter", "a4"],
    folder: bool,
    without_job_file: bool,
    out: Path | None,
) -> None:
    """Write a packet together with its originals.

    The bundle is a BagIt bag (RFC 8493): originals, records, papers, packet and logs, with a page
    that tells how to check them with tools that every system has. Originals go out as they are,
    with all that they state of themselves, such as a position.
    """
    from claimkit.commands.ends import exit_code as exit_code_of
    from claimkit.commands.ends import progress
    from claimkit.findings.wording import counted
    from claimkit.model.case import Reader
    from claimkit.wiring.handover import write_bundle

    now = datetime.now(UTC)
    case = _case(job, as_of, fresh, now)
    made = write_bundle(
        case,
        job,
        Reader(reader),
        shipment=shipment,
        paper=paper,
        zipped=not folder,
        job_file=not without_job_file,
        out=out,
        now=now,
        progress=progress,
        before=reminding(case),
    )
    kept, left = made.contents.kept, made.contents.withheld
    located = sum(one.located for one in kept)
    click.echo(f"{made.path}\nSHA-256 of its tag manifest {made.sha256}")
    click.echo(f"{counted(len(kept), 'original')}; those that state a position (GPS): {located}.")
    if reader != "own" and any(one.path == "job.toml" for one in kept):
        click.echo("job.toml goes out whole, with all parties, terms and prices that it holds.")
    for one in left:
        say(f"Not in it: {one.path}. {one.why}")
    click.echo(f"Send {made.note.name} another way, so that the bundle can be checked against it.")
    raise click.exceptions.Exit(exit_code_of(case, None))


@click.command()
@options.on_a_job
@click.option("--of", "person", required=True, help="Whose statement: a person's id or name.")
@click.option(
    "--for",
    "reader",
    type=click.Choice(["carrier", "seller", "insurer", "customer", "own"]),
    default="own",
    show_default=True,
    help="Photos get the numbers of this reader's packet.",
)
@click.option("--shipment", help="Which shipment, where the job has several.")
@options.paper
@click.option("--out", type=click.Path(path_type=Path), help="File to write. Default: JOB/out/.")
def statement(
    job: Path,
    as_of: datetime | None,
    fresh: bool,
    person: str,
    reader: str,
    shipment: str | None,
    paper: Literal["letter", "a4"],
    out: Path | None,
) -> None:
    """Draft a witness statement and certificates.

    The statement has the wording of 28 USC 1746; the certificates are those of the Federal Rules
    of Evidence 902(11) and (14). Every sentence names the record or file that it comes from; what
    only the person can say is left blank.
    """
    from claimkit.commands.ends import exit_code as exit_code_of
    from claimkit.model.case import Reader
    from claimkit.wiring.handover import write_draft

    now = datetime.now(UTC)
    case = _case(job, as_of, fresh, now)
    written = write_draft(
        case, job, person, Reader(reader), shipment=shipment, paper=paper, out=out, now=now
    )
    click.echo(f"{written.path}\nSHA-256 {written.sha256}\nA draft: a lawyer reads it first.")
    raise click.exceptions.Exit(exit_code_of(case, None))


@click.command()
@click.argument("job", type=click.Path(path_type=Path))
@click.option(
    "--packet",
    "packets",
    multiple=True,
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="A further copy of a packet, such as the one that was sent. Can be given again.",
)
@click.option(
    "--tsa-root",
    "roots",
    multiple=True,
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="A timestamp authority's certificate to trust, instead of the one kept with its reply.",
)
@click.option("--expect", metavar="SHA256", help="A bundle's hash, from its covering note.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON; see docs/json.md.")
def verify(
    job: Path,
    packets: tuple[Path, ...],
    roots: tuple[Path, ...],
    expect: str | None,
    as_json: bool,
) -> None:
    """Read everything again and hold it against the logs.

    And against what anchors them.

    JOB is a job folder, or a bundle that was received: a zip or a folder. Every original is hashed
    anew, and every log and packet is read. Nothing is written or unpacked. What cannot be seen,
    because nothing outside the logs has kept it, is said.
    """
    from claimkit.proof.bundle_check import verify_bundle
    from claimkit.proof.verify import verify_job
    from claimkit.wiring.workspace import job_folder

    received = job.is_file() or (job / "bagit.txt").exists()
    if packets and received:
        raise click.UsageError("--packet goes with a job folder; a bundle holds its packet.")
    if expect and not received:
        raise click.UsageError("--expect goes with a bundle; this is none.")
    if received:
        _print(verify_bundle(job, expect=expect, roots=roots), as_json)
    else:
        _print(verify_job(job_folder(job), packets=packets, roots=roots), as_json)


@click.command()
@click.argument("job", type=click.Path(path_type=Path))
@click.option(
    "--reply",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="The authority's reply (.tsr), to be checked and taken in.",
)
@click.option(
    "--root",
    "roots",
    multiple=True,
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="The authority's root certificate (PEM or DER), from the authority itself.",
)
def timestamp(job: Path, reply: Path | None, roots: tuple[Path, ...]) -> None:
    """Ask for a timestamp of the originals, or take it in.

    Nothing is sent: the request is written as a file, to be posted to any authority of RFC 3161
    whenever there is network. The list names originals by their hashes alone. A timestamp shows
    that they existed before a time, not when a photo was taken.
    """
    from claimkit.commands.ends import progress
    from claimkit.wiring.handover import take_in_reply, write_request
    from claimkit.wiring.workspace import job_folder

    now = datetime.now(UTC)
    if reply is None:
        made = write_request(job_folder(job), now, progress)
        click.echo(
            f"{made.path}\n"
            f"It asks for a timestamp of {made.originals} originals and the logs;\n"
            f"their list has the SHA-256 {made.list_sha256}.\n"
            "Post the file to a timestamp authority as application/timestamp-query, then:\n"
            f"claimkit timestamp {job} --reply REPLY.tsr --root AUTHORITY.pem"
        )
    elif not roots:
        raise click.UsageError("--reply needs --root, the authority's certificate.")
    else:
        click.echo(take_in_reply(job_folder(job), reply, roots, now))


def _print(told: Verified, as_json: bool) -> None:
    from claimkit.compose.terminal import verified

    if as_json:
        click.echo(json.dumps(verified.as_json(told), ensure_ascii=False, indent=2))
    else:
        say("\n".join(verified.lines(told)))
    raise click.exceptions.Exit(exit_code(told))


def exit_code(told: Verified) -> int:
    """Give the exit code of a verification, as claimkit --help lists them."""
    from claimkit.model.stop import DONE, NOT_READ, OPEN_MATTERS

    if told.of(Outcome.UNREAD):
        return NOT_READ
    return OPEN_MATTERS if told.of(Outcome.BROKEN, Outcome.NOT_LOGGED) else DONE
