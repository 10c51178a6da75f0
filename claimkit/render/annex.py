"""The annex: pages of the PDF documents of a job, each under a line that says which file it is.

A document that is broken, encrypted or active is refused with a sentence: a page that runs
something, or that another program repairs by guessing, is no evidence. What annotations show is
drawn into the page; links and scripts are not taken over. The original is never changed.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from claimkit.render.style import MARGIN_SIDE, NOTE, PAPER, RUNNING, Look, Paper
from claimkit.render.text import Line, Span, lines, one_line

if TYPE_CHECKING:
    from pikepdf import Page, Pdf

LARGEST = 60 << 20  # bytes
MOST_PAGES = 100
_HEAD, _FOOT = 52.0, 30.0
# Kinds of annotations and actions that do something (ISO 32000-1, 12.5.6 and 12.6.4).
_ACTIVE_NOTES = {"/RichMedia", "/Screen", "/Movie", "/Sound", "/FileAttachment", "/3D"}
_ACTIVE = {
    "/JavaScript",
    "/Launch",
    "/SubmitForm",
    "/ImportData",
    "/Rendition",
    "/GoToE",
    "/GoToR",
    "/Movie",
    "/Sound",
    "/RichMediaExecute",
}


class PaperRefused(Exception):
    """A document that does not go into the annex; the message is a sentence that says why."""


@dataclass(frozen=True, slots=True)
class AnnexPaper:
    """One document: its path, what it is, its hash and its bytes."""

    path: str
    what: str
    sha256: str
    data: bytes


@dataclass(frozen=True, slots=True)
class Annex:
    """The annex as PDF, and what was refused: path and sentence. `pages` counts those taken in."""

    pdf: bytes
    pages: int
    refused: tuple[tuple[str, str], ...]


def annex(papers: Sequence[AnnexPaper], title: str, paper: Paper) -> Annex:
    """Put the pages of all sound documents behind a list of all. Same papers, same bytes."""
    import pikepdf

    opened: list[tuple[AnnexPaper, Pdf]] = []
    refused: list[tuple[str, str]] = []
    for one in papers:
        try:
            opened.append((one, sound(one.data)))
        except PaperRefused as error:
            refused.append((one.path, str(error)))
    told = _list(papers, {one.path: len(pdf.pages) for one, pdf in opened}, dict(refused))
    captions = [
        f"{one.path} · page {number} of {len(pdf.pages)} · sha256 {one.sha256[:12]} · {one.what}"
        for one, pdf in opened
        for number in range(1, len(pdf.pages) + 1)
    ]
    base, first = _base(title, told, captions, PAPER[paper])
    with pikepdf.open(io.BytesIO(base)) as whole:
        at = first
        for _, pdf in opened:
            for page in pdf.pages:
                _place(whole, whole.pages[at], page, _room(PAPER[paper]))
                at += 1
        out = io.BytesIO()
        whole.save(out, deterministic_id=True)
    return Annex(out.getvalue(), len(captions), tuple(refused))


def sound(data: bytes) -> Pdf:
    """Open a PDF whose pages can be shown as they are. Raises PaperRefused."""
    import pikepdf

    if len(data) > LARGEST:
        raise PaperRefused(f"It is larger than {LARGEST >> 20} MiB. It stays in the bundle.")
    try:
        pdf = pikepdf.open(io.BytesIO(data), attempt_recovery=False)
    except pikepdf.PasswordError:
        raise PaperRefused("It is encrypted. Ask for one without a password.") from None
    except Exception as error:  # a damaged file fails in more ways than can be listed
        raise PaperRefused("It is broken. Ask the sender for it again.") from error
    try:
        if pdf.is_encrypted:
            raise PaperRefused("It is encrypted. Ask for one without a password.")
        if why := _active(pdf):
            raise PaperRefused(f"It is active ({why}). Print it to a plain PDF and add that.")
        if not 1 <= len(pdf.pages) <= MOST_PAGES:
            raise PaperRefused(f"It has {len(pdf.pages)} pages; 1 to {MOST_PAGES} are taken in.")
        _decode(pdf)
        pdf.flatten_annotations("screen")
    except PaperRefused:
        raise
    except Exception as error:
        raise PaperRefused("It is broken. Ask the sender for it again.") from error
    return pdf


def _decode(pdf: Pdf) -> None:
    """Decode what every page draws, so that a damaged stream is found before the annex is made."""
    import pikepdf

    for page in pdf.pages:
        drawn: Any = page.obj.get("/Contents")
        for stream in drawn if isinstance(drawn, pikepdf.Array) else (drawn,):
            if stream is not None:
                stream.read_bytes()


def _active(pdf: Pdf) -> str | None:
    """Say what in a PDF does something by itself or on a click, or give None."""
    return next(_activity(pdf), None)


def _activity(pdf: Pdf) -> Iterator[str]:
    root: Any = pdf.Root
    names = root.get("/Names", {})
    if "/AA" in root or _acts(root.get("/OpenAction")):
        yield "it acts when it is opened"
    if "/JavaScript" in names:
        yield "a script"
    if "/EmbeddedFiles" in names:
        yield "files inside it"
    if "/XFA" in root.get("/AcroForm", {}):
        yield "an XFA form"
    for page in pdf.pages:
        if "/AA" in page.obj:
            yield "a page acts on its own"
        for note in page.obj.get("/Annots", []):
            kind = str(note.get("/Subtype", ""))
            if kind in _ACTIVE_NOTES:
                yield f"an annotation of the kind {kind[1:]}"
            if _acts(note.get("/A")) or "/AA" in note:
                yield "an annotation that acts"


def _acts(action: Any) -> bool:
    """Tell whether an action, or one that follows it, is of an active kind."""
    seen = 0
    while action is not None and hasattr(action, "get") and seen < 50:
        kind = action.get("/S")
        if kind is not None and str(kind) in _ACTIVE:
            return True
        action = action.get("/Next")
        seen += 1
    return False


def _place(whole: Pdf, base: Page, shown: Page, room: Any) -> None:
    """Show a page of a document on a page of the annex, upright, as large as it fits.

    Not the library's own overlay: it names what it draws at random, and bytes must not differ.
    """
    import pikepdf

    form = whole.copy_foreign(shown.as_form_xobject())
    resources = base.obj.Resources
    resources.XObject = pikepdf.Dictionary(Shown=form)
    drawn = base.calc_form_xobject_placement(
        form, pikepdf.Name.Shown, room, allow_shrink=True, allow_expand=False
    )
    base.contents_add(b"q\n", prepend=True)
    base.contents_add(b"\nQ\n" + drawn)


def _room(size: tuple[float, float]) -> Any:
    """Give the area of a page in which a document's page is shown."""
    import pikepdf

    side = MARGIN_SIDE / 2
    return pikepdf.Rectangle(side, _FOOT, size[0] - side, size[1] - _HEAD)


def _list(
    papers: Sequence[AnnexPaper], pages: dict[str, int], refused: dict[str, str]
) -> list[str]:
    told = []
    for one in papers:
        count = pages.get(one.path)
        state = f"{count} page{'' if count == 1 else 's'} below" if count else refused[one.path]
        told.append(f"{one.what}: {one.path}. {state}")
        told.append(f"SHA-256 {one.sha256}")
    return told


def _base(
    title: str, told: list[str], captions: list[str], size: tuple[float, float]
) -> tuple[bytes, int]:
    """Draw the list and an empty page under a caption for each page; tell where these begin."""
    from reportlab.pdfgen.canvas import Canvas

    from claimkit.render.glyphs import REGULAR, font

    out = io.BytesIO()
    font(REGULAR)
    canvas = Canvas(out, pagesize=size, invariant=1, initialFontName=REGULAR, lang="en-US")
    canvas.setTitle(title)
    wide = size[0] - 2 * MARGIN_SIDE
    look = Look(9.6, 13.2)
    y, listed = size[1] - 70, 1
    _text(canvas, title, Look(15, 19, strong=True), MARGIN_SIDE, y, wide)
    y -= 30
    for number, text in enumerate(told):
        for line in lines([Span(text, NOTE if number % 2 else look)], wide):
            if y < 60:
                canvas.showPage()
                y, listed = size[1] - 60, listed + 1
            _pieces(canvas, line, MARGIN_SIDE, y)
            y -= look.leading
        y -= 4 if number % 2 else 0
    canvas.showPage()
    for caption in captions:
        _text(canvas, caption, RUNNING, MARGIN_SIDE / 2, size[1] - 36, size[0] - MARGIN_SIDE)
        canvas.showPage()
    canvas.save()
    return out.getvalue(), listed


def _text(  # noqa: PLR0913, PLR0917 - a text and its place
    canvas: Any, text: str, look: Look, x: float, y: float, wide: float
) -> None:
    _pieces(canvas, one_line([Span(text, look)], wide), x, y)


def _pieces(canvas: Any, line: Line, x: float, y: float) -> None:
    from claimkit.render.glyphs import font

    for piece in line.pieces:
        font(piece.font)
        canvas.setFillColorRGB(*piece.look.ink)
        canvas.setFont(piece.font, piece.look.size)
        canvas.drawString(x + piece.x, y, piece.text)
