"""Reading a drawn packet back with libraries that did not draw it: pdfium and qpdf."""

from __future__ import annotations

import io
from dataclasses import dataclass

import pikepdf
import pypdfium2


@dataclass(frozen=True)
class Link:
    """A link: its page and area, and the page and height it leads to. Pages from 0."""

    page: int
    area: tuple[float, float, float, float]
    to_page: int
    to_y: float


def page_texts(pdf: bytes) -> list[str]:
    """Give the text of each page."""
    with pypdfium2.PdfDocument(pdf) as document:
        return [page.get_textpage().get_text_range().replace("\r\n", "\n") for page in document]


def squeezed(text: str) -> str:
    """Take out everything that a line break may add or take; pdfium reads ﬁ as two letters."""
    return "".join(text.replace("ﬁ", "fi").split())


def links(pdf: bytes) -> list[Link]:
    """Give every link; one that leads nowhere raises KeyError."""
    found = []
    with pikepdf.open(io.BytesIO(pdf)) as document:
        number = {page.objgen: i for i, page in enumerate(document.pages)}
        for i, page in enumerate(document.pages):
            for note in page.get("/Annots", []):
                assert note.Subtype == "/Link"
                target = note.Dest
                area = tuple(float(edge) for edge in note.Rect)
                found.append(Link(i, area, number[target[0].objgen], float(target[3])))  # type: ignore[arg-type]
    return found


def text_in(pdf: bytes, page: int, area: tuple[float, float, float, float]) -> str:
    """Give the text inside an area of a page."""
    with pypdfium2.PdfDocument(pdf) as document:
        left, low, right, high = area
        text = document[page].get_textpage().get_text_bounded(left, low, right, high)
        return text.strip()


def text_areas(pdf: bytes) -> list[list[tuple[tuple[float, float, float, float], str]]]:
    """Give for each page the areas that hold text: (left, low, right, high), text."""
    pages = []
    with pypdfium2.PdfDocument(pdf) as document:
        for page in document:
            text = page.get_textpage()
            count = text.count_rects()
            areas = [text.get_rect(i) for i in range(count)]
            pages.append([(area, text.get_text_bounded(*area)) for area in areas])
    return pages
