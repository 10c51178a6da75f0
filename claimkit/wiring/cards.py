"""The wiring of the scale cards: a case to a print in out/, whole, numbered and logged."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from claimkit.model.case import Case
from claimkit.model.stop import CannotGoOn
from claimkit.wiring.written import Paper, Written, put_in_place

if TYPE_CHECKING:
    from claimkit.compose.sheets.cards import CardBook


@dataclass(frozen=True, slots=True)
class CardsWritten:
    """A print of scale cards on disk, and what is on it."""

    written: Written
    book: CardBook


def write_cards(  # noqa: PLR0913 - what a print is made from, by name
    case: Case,
    folder: Path,
    *,
    paper: Paper,
    out: Path | None,
    now: datetime,
    everything: bool = False,
) -> CardsWritten:
    """Draw the scale cards of a job and log the file.

    A print that is there and differs is left alone: its cards may be in use. Raises CannotGoOn
    where job.toml cannot be used.
    """
    from claimkit.compose.sheets.cards import compose_cards
    from claimkit.render.cards import render_cards

    job = case.facts.job
    if job is None:
        told = "\n".join(f"  {p.sentence()}" for p in case.facts.problems if p.file == "job.toml")
        raise CannotGoOn(f"{folder / 'job.toml'} cannot be used as it stands.\n{told}")
    book = compose_cards(case, job, paper, everything=everything)
    which = "-all" if everything else ""
    wanted = out or folder / "out" / f"cards{which}-{paper}.pdf"
    with tempfile.TemporaryDirectory(prefix="claimkit-") as aside:
        pdf = Path(aside) / "cards.pdf"
        archive = render_cards(book, pdf)
        written = put_in_place(folder, pdf, wanted, "use at the seams: scale cards", now)
    return CardsWritten(replace(written, not_archive=archive.reasons), book)
