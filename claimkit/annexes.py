"""The wiring for the annex: the PDF documents that a reader may see, as one file in out/."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from claimkit.model.case import Case, Reader
from claimkit.model.photo import FileKind
from claimkit.model.stop import CannotGoOn
from claimkit.workspace import Paper, Written, put_in_place


@dataclass(frozen=True, slots=True)
class Annexed:
    """The annex on disk, how many pages it holds, and what was refused: path and sentence."""

    written: Written
    pages: int
    refused: tuple[tuple[str, str], ...]


def write_annex(  # noqa: PLR0913 - what an annex is made from, by name
    case: Case,
    folder: Path,
    reader: Reader,
    *,
    shipment: str | None,
    paper: Paper,
    out: Path | None,
    now: datetime,
) -> Annexed:
    """Write the pages of the PDF documents that a reader's packet lists, and log the file.

    Raises CannotGoOn where there is no such document.
    """
    from claimkit.compose.view import view
    from claimkit.intake.paths import on_disk
    from claimkit.render.annex import AnnexPaper, annex

    seen = view(case, reader, shipment, ())
    papers = [
        AnnexPaper(
            file.path,
            entry.what if entry else "not named in job.toml",
            file.sha256,
            on_disk(folder, file.path).read_bytes(),
        )
        for file, entry in seen.papers()
        if file.kind is FileKind.PDF
    ]
    if not papers:
        raise CannotGoOn("No PDF document of this job is for this reader, so there is no annex.")
    job = case.facts.job
    title = f"Documents: {job.title if job else case.facts.folder_name}"
    made = annex(papers, title, paper)
    of = f"-{shipment}" if shipment else ""
    wanted = out or folder / "out" / f"annex-{reader.value}{of}-{case.as_of}.pdf"
    with tempfile.TemporaryDirectory(prefix="claimkit-") as aside:
        file = Path(aside) / "annex.pdf"
        file.write_bytes(made.pdf)
        written = put_in_place(folder, file, wanted, f"annex for {reader.value}", now)
    return Annexed(written, made.pages, made.refused)
