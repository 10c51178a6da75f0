"""The command line: read, call, print. Errors become one sentence and an exit code in one place."""

from __future__ import annotations

import gc
import json
import sys
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

import click

from claimkit import __version__
from claimkit.commands import options
from claimkit.commands.cards import add_to as add_cards
from claimkit.commands.ends import exit_code, progress
from claimkit.commands.evidence import add_to
from claimkit.commands.measure import measure
from claimkit.commands.notice import notice
from claimkit.commands.office import add_to as add_office
from claimkit.commands.office import list_all_jobs, with_options
from claimkit.commands.printed import reminding, say
from claimkit.commands.receiving import add_to as add_receiving
from claimkit.findings.seams.rule_names import RULES as SEAM_RULES
from claimkit.model.stop import DONE, STOPPED, CannotGoOn

if TYPE_CHECKING:
    from claimkit.model.case import Case

EXIT_CODES = """\b
Exit codes, the highest that applies:
  0  done; nothing open among what was printed
  1  done; something is missing or does not support you
  2  the command line could not be understood
  3  done, but some file could not be used as it stands
  4  done, but a check failed through a defect of claimkit
  5  nothing could be done; the sentence says why
"""


SECTIONS = (
    ("Before and at the curb", ("new", "receiving-sheet", "receiving-page", "receive", "news")),
    ("At the installation", ("cards", "measure", "gaps")),
    ("What the record says", ("status", "timeline", "exceptions", "deadlines", "ask")),
    (
        "To others",
        ("packet", "letter", "notice", "statement", "calendar", "table", "annex", "bundle"),
    ),
    ("Proof", ("verify", "timestamp")),
)
"""The commands in the order of the work, as help lists them."""


class Commands(click.Group):
    """The command group; help lists commands by the work that they belong to."""

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write one section for each part of the work; what stands in none comes last."""
        placed = {name for _, names in SECTIONS for name in names}
        rest = tuple(name for name in self.list_commands(ctx) if name not in placed)
        widest = max(len(name) for name in self.commands)
        for title, names in (*SECTIONS, ("Others", rest)):
            rows = [
                (name.ljust(widest), self.commands[name].get_short_help_str(80 - widest - 6))
                for name in names
                if name in self.commands
            ]
            if rows:
                with formatter.section(title):
                    formatter.write_dl(rows)


@click.group(cls=Commands, epilog=EXIT_CODES, context_settings={"max_content_width": 80})
@click.version_option(__version__, message="%(prog)s %(version)s")
def app() -> None:
    """Organise delivery damage and claim evidence.

    JOB is a job folder: job.toml, photos/, documents/ and records/. Originals are never changed.
    """


def main() -> None:
    """Run the command line; print a user's error as its sentence."""
    # What is read and worked out stays to the end of the run. Looking for rings among it at every
    # 700th new value, as Python does unless told, took a tenth of the time to a status.
    gc.set_threshold(100_000)
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")
    try:
        # Asked for no end of its own, click gives an exit code back and raises nothing for it.
        sys.exit(app.main(standalone_mode=False) or DONE)
    except CannotGoOn as error:
        say(f"claimkit: {error}", err=True)
        sys.exit(STOPPED)
    except click.ClickException as error:
        error.show()
        sys.exit(error.exit_code)
    except click.exceptions.Exit as error:
        sys.exit(error.exit_code)
    except OSError as error:
        from claimkit.intake.refused import sentence

        if error.errno is None:
            raise  # not the system's word but ours: a defect
        say(f"claimkit: {sentence(error)}", err=True)
        sys.exit(STOPPED)
    except click.Abort:
        click.echo("claimkit: stopped; nothing more was written.", err=True)
        sys.exit(STOPPED)


def _case(job: Path, as_of: datetime | None, fresh: bool, *, measure: bool) -> Case:
    from claimkit.wiring.workspace import work_out

    day = as_of.date() if as_of else None
    now = datetime.now(UTC)
    return work_out(job, now=now, as_of=day, progress=progress, fresh=fresh, measure=measure)


def _part(name: str, help_text: str, prefixes: tuple[str, ...], *, of_jobs: bool = False) -> None:
    """Add one command that prints one part of a case as lines or as JSON.

    With `of_jobs` it also takes a folder of job folders.
    """

    @app.command(name, help=help_text)
    @options.on_a_job
    @with_options(of_jobs)
    @click.option("--json", "as_json", is_flag=True, help="Print JSON; see docs/json.md.")
    def command(
        job: Path, as_of: datetime | None, fresh: bool, as_json: bool, **options: Any
    ) -> None:
        if of_jobs and list_all_jobs(name, job, as_of, as_json, options):
            return
        case = _case(job, as_of, fresh, measure=name == "gaps")
        if as_json:
            from claimkit.compose import asjson

            click.echo(json.dumps(getattr(asjson, name)(case), ensure_ascii=False, indent=2))
        else:
            from claimkit.compose.terminal.lines import told

            say("\n".join(told(case, name, _printer(name))))
        raise click.exceptions.Exit(exit_code(case, prefixes))


def _printer(name: str) -> Callable[[Case], list[str]]:
    """Give what prints a part; only what is printed is loaded."""
    if name == "gaps":
        from claimkit.compose.terminal import gap_lines

        return gap_lines.gaps
    from claimkit.compose.terminal import lines

    printer: Callable[[Case], list[str]] = getattr(lines, name)
    return printer


def _note_problems(case: Case) -> None:
    count = len(case.facts.problems)
    if count:
        files = f"{count} problem{'s' if count > 1 else ''} in the folder's files"
        click.echo(f"claimkit: {files}; see: claimkit status", err=True)


QUESTIONS = (
    ("title", "What the job is called in print", True),
    ("address", "Where the goods are delivered: street, town, post code", True),
    ("zone", "IANA time zone of the site, such as America/Chicago", True),
    ("us", "Your own firm", False),
    ("our_roles", "What your own firm is to the job", False),
    ("person", "Who receives and photographs", False),
    ("camera", "That person's phone or camera, as its photos name it", False),
    ("carrier", "The delivering carrier", False),
    ("seller", "The seller", False),
    ("handling_units", "Handling units on the bill (skids, crates)", False),
    ("cartons", "Cartons on the bill", False),
    ("bill_number", "Number of the bill of lading", False),
    ("pro_number", "The carrier's freight-bill (PRO) number", False),
)
"""What `new` asks: the answer's name, the question, and whether the job needs it."""


def _asked(function: Callable[..., Any]) -> Callable[..., Any]:
    for name, question, _ in reversed(QUESTIONS):
        if name == "our_roles":
            choice = click.Choice(["owner", "installer", "consignee"])
            told = f"{question}. Can be repeated. Default: installer."
            function = click.option("--we-are", name, type=choice, multiple=True, help=told)(
                function
            )
            continue
        kind = int if name in ("handling_units", "cartons") else str
        flag = f"--{name.replace('_', '-')}"
        function = click.option(flag, name, type=kind, help=f"{question}.")(function)
    return function


@app.command()
@_asked
@click.argument("folder", type=click.Path(path_type=Path))
def new(folder: Path, **answers: Any) -> None:
    """Start a job folder with a commented job.toml.

    Asks what no option says.

    At a keyboard each question can be left empty except the first three. Nothing that exists is
    overwritten; the folder may hold photos already.
    """
    from claimkit.intake.entries.new import OUR_ROLES, Answers, job_text, make_job_folder

    said = answers["our_roles"]
    answers["our_roles"] = tuple(role for role in OUR_ROLES if role.value in said)
    if sys.stdin.isatty() and not all(answers[name] for name, _, needed in QUESTIONS if needed):
        from claimkit.keyboard.new_asked import asked

        if (folder / "job.toml").exists():
            raise CannotGoOn(
                f"{folder / 'job.toml'} exists already and is left as it is. Edit it, or name "
                "another folder."
            )
        answers = asked(folder, answers, QUESTIONS)
    missing = [f"--{name}" for name, _, needed in QUESTIONS if needed and not answers.get(name)]
    if missing:
        raise click.UsageError(f"Say {', '.join(missing)}, or run this at a keyboard to be asked.")
    given = {name: value for name, value in answers.items() if value not in (None, "", ())}
    made = make_job_folder(folder, job_text(Answers(**given)))
    click.echo(f"{folder / 'job.toml'} and {len(made) - 1} folders are there.")
    click.echo("Read job.toml once; every key says what to write. Then drop photos into photos/.")
    if "us" in given and "our_roles" not in given:
        click.echo(
            "Your firm stands there as installer alone. Where it is the owner of the goods or"
        )
        click.echo("their consignee, add that to its roles, and the consignee to the shipment.")


_part(
    "status",
    "Print what is known, what is missing and the next move. JOB may be a folder of jobs.",
    ("",),
    of_jobs=True,
)
_part(
    "timeline",
    "Print episodes and photos by time. Each says what its time rests on.",
    ("photo-", "video-", "custody-", "file-"),
)
_part(
    "exceptions",
    "Grade the receipt's words and print the words to add.",
    ("receipt-", "delivery-"),
)
_part(
    "deadlines",
    "Print every time limit and how it is counted. JOB may be a folder of jobs.",
    ("limit-", "liability-", "claim-"),
    of_jobs=True,
)
_part("gaps", "Print gap readings and what changed after the dry fit.", SEAM_RULES)


@app.command()
@options.on_a_job
@click.option(
    "--for",
    "reader",
    type=click.Choice(["carrier", "seller", "insurer", "customer", "own"]),
    required=True,
    help="Who will read it. Only your own copy holds advice.",
)
@click.option("--shipment", help="Which shipment, where the job has several.")
@options.paper
@click.option("--out", type=click.Path(path_type=Path), help="File to write. Default: JOB/out/.")
@click.option("--without-location", is_flag=True, help="Leave out positions and the address.")
@click.option(
    "--with-papers",
    is_flag=True,
    help="Add the pages of the PDF documents behind it; the file is then no PDF/A.",
)
def packet(
    job: Path,
    as_of: datetime | None,
    fresh: bool,
    reader: str,
    shipment: str | None,
    paper: Literal["letter", "a4"],
    out: Path | None,
    without_location: bool,
    with_papers: bool,
) -> None:
    """Print a packet in which every statement names its source."""
    from claimkit.compose.packet import places
    from claimkit.model.case import Reader
    from claimkit.wiring.workspace import write_packet

    case = _case(job, as_of, fresh, measure=True)
    if without_location:
        case = places.without_location(case)
    written = write_packet(
        case,
        job,
        Reader(reader),
        shipment=shipment,
        paper=paper,
        out=out,
        now=datetime.now(UTC),
        progress=progress,
        with_papers=with_papers,
        before=reminding(case),
    )
    same = " (the same bytes were there already)" if written.already_there else ""
    click.echo(f"{written.path}{same}\nSHA-256 {written.sha256}")
    for path, reason in written.refused:
        say(f"claimkit: {path} stays out: {reason}", err=True)
    if written.not_archive:
        reasons = "; ".join(written.not_archive)
        click.echo(f"claimkit: this file is no PDF/A-2b and does not say so: {reasons}", err=True)
    _note_problems(case)
    raise click.exceptions.Exit(exit_code(case, None))


app.add_command(notice)
app.add_command(measure)
add_office(app)

add_to(app)
add_receiving(app)
add_cards(app)


if __name__ == "__main__":
    main()
