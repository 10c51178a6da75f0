"""The words of strangers' papers, read in a process of its own that may be ended at any time.

PDFs, e-mails and web pages come from anybody, and their readers are large; here they can take only
the time and memory that `paper_child` allows. This file imports nothing of claimkit, because it is
run by its path.
"""

from __future__ import annotations

import io
import json
import logging
import sys
from collections import Counter
from collections.abc import Callable
from email import message_from_bytes, policy
from email.message import EmailMessage
from html.parser import HTMLParser
from itertools import groupby, islice
from typing import BinaryIO

CHARACTERS = (3200, 400, 400)
"""How many characters are kept of each page; later pages are not read."""
LINE = 160
MEMORY_BYTES = 1 << 30
TEXT = 256 << 10
"""How many characters of a text are looked at, far more than are kept."""
_BLOCKS = frozenset(
    {"p", "div", "br", "tr", "td", "th", "li", "h1", "h2", "h3", "h4", "h5", "h6", "table", "title"}
)
_SILENT = frozenset({"script", "style"})
LOCKED = "it is locked with a password"

Words = list[list[str]]


def main(requests: BinaryIO, answers: BinaryIO) -> None:
    """Answer until the requests end: a letter, 8 bytes of length and a paper in, a line out.

    The letter says what it is: p a PDF, m an e-mail, h a web page. The line is JSON.
    """
    while len(head := requests.read(9)) == 9:
        data = requests.read(int.from_bytes(head[1:], "big"))
        answers.write(json.dumps(_answer(head[:1], data)).encode("ascii") + b"\n")
        answers.flush()


def _answer(kind: bytes, data: bytes) -> dict[str, object]:
    found: dict[str, object] = {"pages": [], "refused": None, "attached": []}
    try:
        if kind == b"m":
            return found | of_mail(data)
        return found | {"pages": [of_html(data)] if kind == b"h" else pages_of(data)}
    except MemoryError:
        return found | {"refused": "reading it takes more memory than is given to it"}
    except Exception as error:  # whatever a stranger's file breaks is said of that file
        name = type(error).__name__
        said = {"LimitReachedError": "it unpacks to far more than a paper holds"}
        known = LOCKED if str(error) == LOCKED else said.get(name)
        return found | {"refused": known or f"it is broken ({name})"}


def of_mail(data: bytes) -> dict[str, object]:
    """Give the subject and the lines of the body as one page, and the names of attachments."""
    message = message_from_bytes(data, _class=EmailMessage, policy=policy.default)
    body = message.get_body(preferencelist=("plain", "html"))
    lines: list[str] = []
    if isinstance(body, EmailMessage):
        text = str(body.get_content())[:TEXT]
        lines = _web_lines(text) if body.get_content_subtype() == "html" else text.splitlines()
    names = (part.get_filename() for part in message.iter_attachments())
    attached = [name for name in islice(names, 20) if name]
    subject = str(message.get("Subject", "")).splitlines() or [""]
    return {"pages": [[" ".join(subject), *lines]], "attached": attached}


def of_html(data: bytes) -> list[str]:
    """Give the lines of a web page, each block on a line of its own."""
    return _web_lines(data[:TEXT].decode("utf-8-sig", errors="ignore"))


def _web_lines(text: str) -> list[str]:
    reader = _Plain()
    reader.feed(text)
    return "".join(reader.told).splitlines()


def pages_of(data: bytes) -> Words:
    """Give the lines of the first pages, top to bottom, at most CHARACTERS of each.

    Raises ValueError with LOCKED for a PDF with a password, and whatever the reader raises.
    """
    import pypdf

    reader = pypdf.PdfReader(io.BytesIO(data))
    if reader.is_encrypted:
        reader = pypdf.PdfReader(io.BytesIO(_unlocked(data)))
    pages: Words = []
    for page, characters in zip(reader.pages, CHARACTERS, strict=False):
        fragments: list[Fragment] = []
        page.extract_text(visitor_text=_collector(fragments))
        lines: list[str] = []
        left = characters
        for line in in_order(fragments):
            lines.append(line[: min(LINE, left)])
            left -= len(line)
            if left <= 0:
                break
        pages.append(lines)
    return pages


def _unlocked(data: bytes) -> bytes:
    """Give a PDF that opens without a password (such as one that only forbids printing) as such."""
    import pikepdf

    try:
        with pikepdf.open(io.BytesIO(data)) as pdf:
            plain = io.BytesIO()
            pdf.save(plain)
    except pikepdf.PasswordError as error:
        raise ValueError(LOCKED) from error
    return plain.getvalue()


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


class Fragment:
    """A run of text: where it begins on the page, which way it runs, how large it is."""

    __slots__ = ("along", "size", "text", "x", "y")

    def __init__(self, text: str, x: float, y: float, along: tuple[int, int], size: float) -> None:
        self.text, self.x, self.y, self.along, self.size = text, x, y, along, size


Visitor = Callable[[str, list[float], list[float], object, float], None]


def _collector(fragments: list[Fragment]) -> Visitor:
    def visit(text: str, cm: list[float], tm: list[float], _font: object, size: float) -> None:
        if not text.strip():
            return
        a, b = tm[0] * cm[0] + tm[1] * cm[2], tm[0] * cm[1] + tm[1] * cm[3]
        x = tm[4] * cm[0] + tm[5] * cm[2] + cm[4]
        y = tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
        scale = (a * a + b * b) ** 0.5 or 1.0
        along = (round(a / scale), round(b / scale))
        # A run may hold several lines; only the first begins at this place.
        for number, line in enumerate(text.splitlines()):
            lower = number * size * scale
            at_x, at_y = x + lower * along[1], y - lower * along[0]
            fragments.append(Fragment(line, at_x, at_y, along, max(1.0, size * scale)))

    return visit


def in_order(fragments: list[Fragment]) -> list[str]:
    """Give the lines as they stand on the page, top to bottom; text set another way comes last.

    What stands apart on a line is parted by two spaces: a heading at the right edge is one.
    """
    if not fragments:
        return []
    main_way = Counter(f.along for f in fragments).most_common(1)[0][0]
    straight = [f for f in fragments if f.along == main_way]
    a, b = main_way

    def across(f: Fragment) -> float:
        return f.y * a - f.x * b

    straight.sort(key=lambda f: -across(f))
    lines: list[list[Fragment]] = []
    for f in straight:
        if lines and abs(across(lines[-1][0]) - across(f)) < 0.4 * min(f.size, lines[-1][0].size):
            lines[-1].append(f)
        else:
            lines.append([f])
    told = [_joined(sorted(line, key=lambda f: f.x * a + f.y * b), a, b) for line in lines]
    rest = [f.text.strip() for f in fragments if f.along != main_way]
    return [line for line, _ in groupby(text for text in (*told, *rest) if text)]


def _joined(line: list[Fragment], a: int, b: int) -> str:
    """Join the runs of one line: words set one by one with a space, what stands apart with two."""
    told = ""
    for before, f in zip([None, *line], line, strict=False):
        text = f.text.strip()
        if before is None:
            told = text
            continue
        began = (f.x - before.x) * a + (f.y - before.y) * b
        gap = began / before.size - _width(before.text)
        letters = len(text) == 1 and len(before.text.strip()) == 1
        told += ("" if letters and gap < LETTER_GAP else " " if gap < WORD_GAP else "  ") + text
    return told


LETTER_GAP, WORD_GAP = 0.5, 0.9
"""Gaps in heights of the letters: a space is a quarter; the rest allows for widths not known."""
_NARROW, _WIDE = frozenset("iljtfrI.,:;'|!()[]/ -"), frozenset("mwMW@%&")


def _width(text: str) -> float:
    """Give about how wide a text is in an ordinary type, in heights of its letters."""
    narrow = sum(c in _NARROW for c in text)
    wide = sum(c in _WIDE for c in text)
    capitals = sum(c.isupper() and c not in _WIDE and c != "I" for c in text)
    return (
        0.3 * narrow + 0.85 * wide + 0.68 * capitals + 0.54 * (len(text) - narrow - wide - capitals)
    )


def _limit_memory() -> None:
    if sys.platform == "win32":
        return
    import resource

    try:
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY_BYTES, MEMORY_BYTES))
    except (ValueError, OSError):  # macOS refuses limits below what is mapped already
        return


if __name__ == "__main__":
    logging.disable(logging.CRITICAL)
    _limit_memory()
    out = sys.stdout.buffer
    sys.stdout = sys.stderr  # nothing but answers may come out
    main(sys.stdin.buffer, out)
