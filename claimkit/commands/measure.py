"""The command `measure`: gaps, the opening or a step of the work, recorded at a keyboard."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import click

from claimkit.model.stop import CannotGoOn


@click.command()
@click.argument("job", type=click.Path(path_type=Path))
@click.option(
    "--of",
    "what",
    type=click.Choice(["gaps", "opening", "step"]),
    help="What to record. Default: it asks.",
)
def measure(job: Path, what: str | None) -> None:
    """Record gaps, the opening or a step of the work.

    It asks, and says at once what a gap is beside the dry fit.

    Gaps are asked station by station: a number and Enter. Each seam becomes one new file in
    records/, checked as a whole. Stop at any question; what is complete is written.
    """
    from claimkit.commands.ends import ends_kept, progress
    from claimkit.keyboard.desk import Desk
    from claimkit.keyboard.measure import measure_at
    from claimkit.wiring.workspace import work_out

    def now() -> datetime:
        return datetime.now(UTC)

    case = work_out(job, now=now(), progress=progress)
    known = case.facts.job
    if known is None:
        raise CannotGoOn(
            "job.toml cannot be used as it stands, and readings are checked against it. Mend it "
            "first; claimkit status names what is wrong."
        )
    if any(station.card is not None for seam in known.seam for station in seam.station):
        case = work_out(job, now=now(), progress=progress, measure=True)
    with ends_kept():
        told = measure_at(Desk(job, known, case, now), what)
    work_out(job, now=now(), progress=progress)  # so that the custody log has the new records
    raise click.exceptions.Exit(told)
