"""The words at the beginning of a paper in documents/, for telling what kind of paper it is.

Text, web pages, e-mails and PDFs with a text layer are read; pictures, scans without text, office
formats and anything locked or broken are not, each with its reason. What a paper says is kept as
it stands there; what follows from it is worked out later.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from email import message_from_bytes, policy
from email.message import EmailMessage
from html.parser import HTMLParser
from itertools import islice
from pathlib import PurePosixPath

from claimkit.intake.metadata.pdf_child import CHILD
from claimkit.model.photo import FileKind, Words

FOLDER = "documents/"
CHARACTERS = 4000
LINE = 160
_READ_BYTES = 256 << 10  # of a text, far more than is kept
_MAIL_BYTES = 32 << 20
_OFFICE = frozenset({"doc", "docx", "odt", "rtf", "xls", "xlsx", "ods", "pages", "numbers", "msg"})
_HEADERS = ("from:", "to:", "subject:", "date:", "received:", "return-path:", "message-id:")
_BLOCKS = frozenset(
    {"p", "div", "br", "tr", "td", "th", "li", "h1", "h2", "h3", "h4", "h5", "h6", "table", "title"}
)
_SILENT = frozenset({"script", "style"})


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
        pages, refused = CHILD.words(data)
        return _checked(pages, refused)
    if kind is FileKind.TEXT:
        return _of_mail(data) if _is_mail(data, path) else _of_text(data)
    if kind is FileKind.UNKNOWN:
        office = PurePosixPath(path).suffix.casefold().lstrip(".") in _OFFICE
        why = "it is in the format of an office program" if office else "its format is not known"
        return Words(refused=why)
    return None


def _checked(pages: tuple[tuple[str, ...], ...], refused: str | None) -> Words:
    """Keep clean lines; a PDF without words, or whose letters have no meaning, is refused."""
    if refused:
        return Words(refused=refused)
    text = "".join("".join(line.split()) for page in pages for line in page)
    if not text:
        return Words(refused="it holds pictures of its pages only, as a scan does")
    meant = sum(c.isalnum() and unicodedata.category(c) != "Co" for c in text)
    if meant < len(text) / 2:
        return Words(refused="its letters are stored without saying which letters they are")
    clean = tuple(_lines(page) for page in pages)  # an empty page keeps its place
    return Words(clean)


def _of_text(data: bytes) -> Words:
    text = data[:_READ_BYTES].decode("utf-8-sig", errors="ignore")
    if text.lstrip()[:200].casefold().startswith(("<!doctype html", "<html")):
        text = _of_html(text)
    return Words((_lines(text.splitlines()),))


def _is_mail(data: bytes, path: str) -> bool:
    """Tell an e-mail by its name or by the header lines that it begins with."""
    if path.casefold().endswith(".eml"):
        return True
    first = data[:2000].decode("utf-8", errors="ignore").casefold().lstrip("﻿").splitlines()[:12]
    return sum(line.startswith(_HEADERS) for line in first) >= 3


def _of_mail(data: bytes) -> Words:
    if len(data) > _MAIL_BYTES:
        return Words(mail=True, refused=f"it is larger than {_MAIL_BYTES >> 20} MiB")
    message = message_from_bytes(data, _class=EmailMessage, policy=policy.default)
    body = message.get_body(preferencelist=("plain", "html"))
    text = ""
    if isinstance(body, EmailMessage):
        content = body.get_content()
        text = str(content)[:_READ_BYTES]
        text = _of_html(text) if body.get_content_subtype() == "html" else text
    names = (part.get_filename() for part in message.iter_attachments())
    attached = _lines(name for name in islice(names, 20) if name)
    subject = str(message.get("Subject", ""))
    return Words((_lines([subject, *text.splitlines()]),), mail=True, attached=attached)


def _of_html(text: str) -> str:
    reader = _Plain()
    reader.feed(text)
    return "".join(reader.told)


class _Plain(HTMLParser):
    """The words of a web page, each block on a line of its own."""

    def __init__(self) -> None:
        super().__init__()
        self.told: list[str] = []
        self._silent = 0

    def handle_starttag(self, tag: str, attrs: object) -> None:  # noqa: ARG002 - its signature
        """Begin a line with each block, and stay silent within scripts."""
        self._silent += tag in _SILENT
        if tag in _BLOCKS:
            self.told.append("\n")

    def handle_endtag(self, tag: str) -> None:
        """End the line of a block."""
        if tag in _SILENT:
            self._silent = max(0, self._silent - 1)
        elif tag in _BLOCKS:
            self.told.append("\n")

    def handle_data(self, data: str) -> None:
        """Take the words."""
        if not self._silent:
            self.told.append(data.replace("\n", " "))


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
