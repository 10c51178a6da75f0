"""Photo plates: each picture upright with its number, time and basis, camera, file and hash."""

from __future__ import annotations

from claimkit.compose.blocks import say
from claimkit.compose.packet.view import View
from claimkit.compose.phrases import stretch
from claimkit.findings.timeline.file_told import short_words
from claimkit.model.case import DatedPhoto, Reader
from claimkit.model.document import Plate, PlateRow, Section, Statement

ROW = 2


def corrected(view: View, dated: DatedPhoto) -> tuple[str, ...]:
    """Say the corrected time in one line beside the camera's own, and whether it decides."""
    if dated.corrected is None or dated.correction is None:
        return ()
    decides = "" if dated.correction.holds else "; both times are kept open"
    basis = f"{dated.correction.basis.value}{decides}"
    return (f"Corrected: {stretch(dated.corrected, view.zone)} ({basis})",)


def plate(view: View, dated: DatedPhoto) -> Plate:
    """Compose one plate with its caption."""
    photo = view.photo(dated)
    number = view.numbers[dated.sha256]
    source = view.photo_source(photo)
    head = dated.stage.value if dated.stage else "in no stage that can be asserted"
    by = view.job.person_named(dated.by) if view.job else None
    lines = [
        head,
        f"{stretch(dated.taken, view.zone)} ({dated.basis.value})",
        *corrected(view, dated),
        f"Camera: {photo.camera.name() or 'not stated in the file'}. "
        f"Photographer: {by.name if by else 'not named'}.",
        f"{photo.places[0]} · sha256 {photo.sha256[:12]}",
    ]
    if len(photo.places) > 1:
        lines.append(f"The same bytes also stand at {', '.join(photo.places[1:])}.")
    statements: list[Statement] = [say(text, source) for text in lines]
    if view.reader is not Reader.CUSTOMER:
        statements.append(say(short_words(photo, view.facts.look_of(photo.sha256)), source))
        statements += [say(text, source) for text in dated.beside]
    statements += [say(text, source, emphasis="caution") for text in photo.flaws]
    return Plate(
        number,
        photo.sha256,
        photo.places[0],
        photo.orientation,
        photo.upright_when_decoded,
        tuple(statements),
        f"Photo {number}, file {photo.places[0]}",
    )


def section(view: View) -> Section | None:
    """Compose all plates in the order of their numbers."""
    plates = [plate(view, dated) for dated in view.photos]
    if not plates:
        return None
    rows = tuple(PlateRow(tuple(plates[i : i + ROW])) for i in range(0, len(plates), ROW))
    return Section("photos", "Photos", rows, new_page=True)
