"""The wiring for the annex: the PDF documents that a reader may see, as one file in out/."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from claimkit.model.case import Case, Reader
from claimkit.model.photo import FileKind
from claimkit.model.stop import CannotGoOn
from claimkit.wiring.written import Paper, Written, put_in_place

if TYPE_CHECKING:
    from claimkit.render.annex import Annex


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
    from claimkit.wiring.with_job import with_job

    made = _annex(with_job(case), folder, reader, shipment, paper)
    of = f"-{shipment}" if shipment else ""
    wanted = out or folder / "out" / f"annex-{reader.value}{of}-{case.as_of}.pdf"
    with tempfile.TemporaryDirectory(prefix="claimkit-") as aside:
        file = Path(aside) / "annex.pdf"
        file.write_bytes(made.pdf)
        written = put_in_place(folder, file, wanted, f"annex for {reader.value}", now)
    return Annexed(written, made.pages, made.refused)


def _annex(case: Case, folder: Path, reader: Reader, shipment: str | None, paper: Paper) -> Annex:
    from claimkit.compose.packet.view import view
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
    return annex(papers, title, paper)


def add_papers(  # noqa: PLR0913 - what a packet is made from, by name
    case: Case, folder: Path, reader: Reader, pdf: Path, *, shipment: str | None, paper: Paper
) -> tuple[tuple[str, str], ...]:
    """Put the pages of a reader's PDF documents behind a drawn packet; give what was refused.

    The packet then claims no PDF/A any more: the pages of others are taken as they are. The same
    packet and papers give the same bytes. Raises CannotGoOn where there is no such document.
    """
    import io

    import pikepdf

    made = _annex(case, folder, reader, shipment, paper)
    with pikepdf.open(pdf, allow_overwriting_input=True) as whole:
        at = len(whole.pages)
        with pikepdf.open(io.BytesIO(made.pdf)) as papers:
            whole.pages.extend(papers.pages)
            with whole.open_outline() as outline:
                outline.root.append(pikepdf.OutlineItem("Documents as pages", at))
            with whole.open_metadata(set_pikepdf_as_editor=False, update_docinfo=False) as said:
                for key in ("pdfaid:part", "pdfaid:conformance", "pdfaid:rev"):
                    if key in said:
                        del said[key]
            whole.save(pdf, deterministic_id=True)
    return made.refused
