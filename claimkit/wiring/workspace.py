"""The wiring: a job folder to a case, and a case to a packet on disk."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from claimkit import __version__
from claimkit.model.case import Case, Reader
from claimkit.model.facts import Facts
from claimkit.model.stop import CannotGoOn
from claimkit.wiring.compared import with_all_looks, with_kept_looks
from claimkit.wiring.measured import with_all_cards, with_kept_cards
from claimkit.wiring.with_job import with_job
from claimkit.wiring.written import Paper, Written, put_in_place

if TYPE_CHECKING:
    from claimkit.model.document import Document, Plate

Progress = Callable[[str, int, int], None]
LIBRARIES = ("reportlab", "pikepdf", "pillow", "pi-heif", "exifread", "holidays", "tzdata")


def job_folder(folder: Path) -> Path:
    """Give the folder if it is a job folder, else say what to do."""
    if not folder.is_dir():
        raise CannotGoOn(f"{folder} is no folder. Give the path of a job folder.")
    if not (folder / "job.toml").exists():
        raise CannotGoOn(
            f"{folder} has no job.toml, so it is no job folder. "
            f"Make one with: claimkit new {folder}"
        )
    return folder


def read_facts(folder: Path, now: datetime, progress: Progress | None, fresh: bool) -> Facts:
    """Read a job folder through the index, log what is new, and name what a dead run left."""
    from claimkit.intake.disk import RealDisk
    from claimkit.intake.index import Index
    from claimkit.intake.read import read
    from claimkit.intake.say import tell
    from claimkit.intake.walk import unfinished

    for path in unfinished(job_folder(folder), RealDisk()):
        tell(
            None,
            f"{path} is unfinished: a run that was cut off has left it, or another run is writing "
            "it now. Nothing of it is used. The same command writes it anew, or delete it.",
        )
    step = partial(progress, "reading") if progress else None
    return read(folder, now=now, index=Index(), progress=step, fresh=fresh)


def work_out(  # noqa: PLR0913 - how a folder is read, by name
    folder: Path,
    *,
    now: datetime,
    as_of: date | None = None,
    progress: Progress | None = None,
    fresh: bool = False,
    measure: bool = False,
) -> Case:
    """Read a job folder and reason over it; `as_of` defaults to today at the site.

    `measure` looks at every photo for scale cards; else only what was kept of them counts.
    """
    from claimkit.findings.reason import nothing_worked_out, reason

    facts = with_kept_cards(with_kept_looks(read_facts(folder, now, progress, fresh)))
    if measure:
        step = partial(progress, "looking for scale cards") if progress else None
        facts = with_all_cards(facts, folder, step)
    if facts.job is None:
        return nothing_worked_out(facts, as_of or now.date(), now)
    return reason(facts, as_of or now.astimezone(ZoneInfo(facts.job.site.zone)).date(), now)


def versions() -> tuple[tuple[str, str], ...]:
    """Name what made the packet; the libraries whose version can change its bytes or dates."""
    from importlib import metadata

    return (("claimkit", __version__), *((n, metadata.version(n)) for n in LIBRARIES))


def write_packet(  # noqa: PLR0913 - what a packet is made from, by name
    case: Case,
    folder: Path,
    reader: Reader,
    *,
    shipment: str | None,
    paper: Paper,
    out: Path | None,
    now: datetime,
    progress: Progress | None = None,
    with_papers: bool = False,
    before: Callable[[Document], None] | None = None,
) -> Written:
    """Draw the packet of a case, put it in place whole, and log its hash.

    `before` is shown the document before anything of it is written.

    `with_papers` adds the pages of the PDF documents that the reader sees, behind the packet.

    Without `out` it goes to out/ in the job folder. A file that is already there and differs is
    left alone: a packet that was sent is never overwritten, the new one gets the next number.
    """
    from claimkit.compose.packet.order import compose
    from claimkit.render.pdf import render_file

    compared = partial(progress, "comparing photos") if progress else None
    case = with_all_looks(with_job(case), folder, compared)
    document = compose(case, reader, shipment=shipment, versions=versions())
    if before:
        before(document)
    step = partial(progress, "drawing") if progress else None
    of = f"-{shipment}" if shipment else ""
    papers = "-with-papers" if with_papers else ""
    wanted = out or folder / "out" / f"{reader.value}{of}{papers}-{case.as_of}.pdf"
    with tempfile.TemporaryDirectory(prefix="claimkit-") as aside:
        pdf = Path(aside) / "packet.pdf"
        archive = render_file(
            document, _pictures(folder, document), pdf, paper=paper, progress=step
        )
        refused: tuple[tuple[str, str], ...] = ()
        if with_papers:
            from claimkit.wiring.annexes import add_papers

            refused = add_papers(case, folder, reader, pdf, shipment=shipment, paper=paper)
        written = put_in_place(folder, pdf, wanted, reader.value, now)
    return replace(written, not_archive=archive.reasons, document=document, refused=refused)


def _pictures(folder: Path, document: Document) -> Callable[[Plate, int], bytes | str]:
    """Scale the plates on all cores, in the order in which drawing asks for them."""
    from claimkit.intake.paths import on_disk
    from claimkit.intake.places import cache_folder
    from claimkit.pixels.scale import PictureNotDrawn, Wanted, scaled_in_order
    from claimkit.render.pdf import pictures_wanted

    asked = {(plate.key, px): plate for plate, px in pictures_wanted(document)}
    wanted = [
        Wanted(
            plate.sha256,
            on_disk(folder, plate.path).read_bytes,
            px,
            orientation=plate.orientation,
            upright_when_decoded=plate.upright_when_decoded,
            redraw=partial(_card_drawn, plate, px) if plate.card else None,
        )
        for (_, px), plate in asked.items()
    ]
    copies = scaled_in_order(wanted, cache_folder() / "pictures", workers=os.cpu_count() or 1)
    order = iter(asked)

    def picture(plate: Plate, px: int) -> bytes | str:
        if next(order) != (plate.key, px):
            raise RuntimeError("pictures are asked for in another order than announced")
        copy = next(copies)
        return copy.reason if isinstance(copy, PictureNotDrawn) else copy

    return picture


def _card_drawn(plate: Plate, px: int, data: bytes) -> bytes:
    """Lay a plate's card square and draw what was found in it."""
    from claimkit.pixels.card_pictures import annotated

    return annotated(
        data,
        plate.card,
        orientation=plate.orientation,
        upright_when_decoded=plate.upright_when_decoded,
        long_side_px=px,
        told=False,
    )
