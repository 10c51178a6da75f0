"""The words at the beginning of a paper in documents/, for telling what kind of paper it is.

Text, web pages, e-mails and PDFs with a text layer are read; pictures, scans without text, office
formats and anything locked or broken are not, each with its reason. What a paper says is kept as
it stands there; what follows from it is worked out later.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from pathlib import PurePosixPath

from claimkit.intake.metadata.paper_child import CHILD, Told
from claimkit.model.photo import FileKind, Words

FOLDER = "documents/"
CHARACTERS = 4000
LINE = 160
_READ_BYTES = 256 << 10  # of a text, far more than is kept
_OFFICE = frozenset({"doc", "docx", "odt", "rtf", "xls", "xlsx", "ods", "pages", "numbers", "msg"})
_HEADERS = ("from:", "to:", "subject:", "date:", "received:", "return-path:", "message-id:")


def words_of(data: bytes, kind: FileKind, path: str) -> Words | None:
    """Give the words of a paper, or why there are none; None for what is no paper.

    `path` is the place in the job folder; only documents/ is looked into. Never raises.
    """
    if not path.casefold().startswith(FOLDER):
        return None
    try:
        return _words(data, kind, path)
    except Exception as error:  # a stranger's file must not hide the others
        return Words(refused=f"it is broken ({type(error).__name__})")


def _words(data: bytes, kind: FileKind, path: str) -> Words | None:
    if kind is FileKind.PDF:
        return _of_pdf(CHILD.read(b"p", data))
    if kind is FileKind.TEXT:
        return _of_text(data, path)
    if kind is FileKind.UNKNOWN:
        office = PurePosixPath(path).suffix.casefold().lstrip(".") in _OFFICE
        why = "it is in the format of an office program" if office else "its format is not known"
        return Words(refused=why)
    return None


def _of_pdf(told: Told) -> Words:
    """Keep clean lines; a PDF without words, or whose letters have no meaning, is refused."""
    if told.refused:
        return Words(refused=told.refused)
    text = "".join("".join(line.split()) for page in told.pages for line in page)
    if not text:
        return Words(refused="it holds pictures of its pages only, as a scan does")
    meant = sum(c.isalnum() and unicodedata.category(c) != "Co" for c in text)
    if meant < len(text) / 2:
        return Words(refused="its letters are stored without saying which letters they are")
    return Words(tuple(_lines(page) for page in told.pages))  # an empty page keeps its place


def _of_text(data: bytes, path: str) -> Words:
    text = data[:_READ_BYTES].decode("utf-8-sig", errors="ignore")
    mail = _is_mail(text, path)
    if not mail and not text.lstrip()[:200].casefold().startswith(("<!doctype html", "<html")):
        return Words((_lines(text.splitlines()),))
    told = CHILD.read(b"m" if mail else b"h", data)
    pages = tuple(_lines(page) for page in told.pages)
    return Words(pages, mail, _lines(told.attached), told.refused)


def _is_mail(text: str, path: str) -> bool:
    """Tell an e-mail by its name or by the header lines that it begins with."""
    if path.casefold().endswith(".eml"):
        return True
    first = text[:2000].casefold().splitlines()[:12]
    return sum(line.startswith(_HEADERS) for line in first) >= 3


def _lines(lines: Iterable[str]) -> tuple[str, ...]:
    """Give lines that hold something, without control characters, CHARACTERS in all.

    Two spaces or more become two: they part what stands apart on a line.
    """
    kept: list[str] = []
    left = CHARACTERS
    for line in lines:
        whole = line.replace("\t", "  ").encode("utf-8", errors="ignore").decode("utf-8")
        spaced = "".join(" " if c.isspace() else c for c in whole if c.isprintable() or c.isspace())
        cells = (cell.strip() for cell in spaced.split("  "))
        clean = "  ".join(cell for cell in cells if cell)[: min(LINE, left)].strip()
        if not clean:
            continue
        kept.append(clean)
        left -= len(clean)
        if left <= 0:
            break
    return tuple(kept)
