"""The wiring for letters: a case to a letter as PDF and as a mail draft in out/, both logged."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from claimkit.model.case import Case, Reader
from claimkit.model.document import Document
from claimkit.model.letter import Letter, LetterKind
from claimkit.render.mail import Attachment
from claimkit.wiring.with_job import with_job
from claimkit.wiring.workspace import write_packet
from claimkit.wiring.written import Paper, Written, put_in_place

PHOTO_PX = 1600


@dataclass(frozen=True, slots=True)
class Posted:
    """A letter on disk: the letter, its PDF, its mail draft, and what did not go into the mail."""

    letter: Letter
    pdf: Written
    mail: Written
    left_out: tuple[str, ...]


def write_letter(  # noqa: PLR0913 - what a letter is made from, by name
    case: Case,
    folder: Path,
    kind: LetterKind,
    *,
    shipment: str | None,
    paper: Paper,
    out: Path | None,
    now: datetime,
    with_packet: bool = True,
    before: Callable[[Document], None] | None = None,
) -> Posted:
    """Write one letter as PDF and as a mail draft with packet, photos and papers attached.

    `before` is shown the packet's document before it is written.
    `out` is a folder; default: out/ of the job. What is there and differs is left alone.
    """
    from claimkit.compose.letters.book import compose_letter
    from claimkit.render.mail import draft
    from claimkit.render.pdf import render

    letter = compose_letter(with_job(case), kind, shipment)
    pdf = render(letter.document, _no_picture, paper=paper)
    name = f"letter-{kind.value}-{letter.shipment}-{case.as_of}"
    attached = [Attachment(f"{name}.pdf", pdf)]
    if letter.packet and with_packet:
        attached.append(_packet(case, folder, letter, paper, now, before))
    attached += _papers(folder, letter)
    attached += _photos(case, folder, letter)
    mail = draft(letter.subject, letter.text, (letter.from_email, letter.to_email), attached)
    home = out or folder / "out"
    written = [
        _put(folder, home / f"{name}{ending}", data, kind, now)
        for ending, data in ((".pdf", pdf), (".eml", mail.data))
    ]
    return Posted(letter, written[0], written[1], mail.left_out)


def _put(folder: Path, wanted: Path, data: bytes, kind: LetterKind, now: datetime) -> Written:
    """Put a file in place whole and log its hash; one that is there and differs is kept."""
    with tempfile.TemporaryDirectory(prefix="claimkit-") as aside:
        made = Path(aside) / wanted.name
        made.write_bytes(data)
        return put_in_place(folder, made, wanted, f"letter {kind.value}", now)


def _no_picture(_plate: object, _pixels: int) -> str:
    return "A letter shows no picture."


def _packet(  # noqa: PLR0913, PLR0917 - what a packet is made from
    case: Case,
    folder: Path,
    letter: Letter,
    paper: Paper,
    now: datetime,
    before: Callable[[Document], None] | None,
) -> Attachment:
    """Write the packet that goes along, and give it as an attachment."""
    if letter.packet is None:
        raise ValueError("this letter has no packet")
    of = None if letter.packet is Reader.CUSTOMER else letter.shipment
    written = write_packet(
        case, folder, letter.packet, shipment=of, paper=paper, out=None, now=now, before=before
    )
    return Attachment(written.path.name, written.path.read_bytes())


def _papers(folder: Path, letter: Letter) -> list[Attachment]:
    """Give the supporting papers as they are."""
    from claimkit.intake.paths import on_disk

    return [
        Attachment(path.rsplit("/", 1)[-1], on_disk(folder, path).read_bytes())
        for path in letter.papers
    ]


def _photos(case: Case, folder: Path, letter: Letter) -> list[Attachment]:
    """Give the photos scaled, upright and without metadata; one that cannot be drawn is left."""
    from claimkit.intake.paths import on_disk
    from claimkit.pixels.scale import PictureNotDrawn, scaled_jpeg

    found = []
    for sha256 in letter.photos:
        photo = case.facts.photo_of(sha256)
        if photo is None:
            continue
        stem = photo.places[0].rsplit("/", 1)[-1].rpartition(".")[0] or sha256[:12]
        try:
            data = scaled_jpeg(
                on_disk(folder, photo.places[0]).read_bytes(),
                long_side_px=PHOTO_PX,
                quality=80,
                orientation=photo.orientation,
                upright_when_decoded=photo.upright_when_decoded,
            )
        except PictureNotDrawn:
            continue
        found.append(Attachment(f"{stem}.jpg", data))
    return found
