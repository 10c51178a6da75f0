"""What kind of paper a text is, by its words alone: one kind, several, or none that can be told.

A heading counts only with words that such a paper carries, and where a second kind has as good a
case the answer is that nobody can tell. What comes out is a guess with the line it rests on.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache

from claimkit.model.photo import Words
from claimkit.rules.paper_title import BESIDE, NUMBER, PaperWords
from claimkit.rules.paper_words import (
    HEADING_LINES,
    HEADING_TOGETHER,
    LATER_PAGE_LINES,
    LEAD,
    MAIL_LINES,
    NUMBERED_LINES,
    PAPER_WORDS,
)

# Words in capitals that end before a word in small letters: a heading with more in its line.
_CAPITALS = re.compile(r"[A-ZÀ-Ý][A-ZÀ-Ý /'’-]{5,}(?=\s+[A-ZÀ-Ý]?[a-zà-ÿ]{2})")

# Each mark between words can be matched in one way only, so that no line takes long.
_MARKS = re.compile(r"[\s,/()*-]*")
_BESIDE = re.compile(rf"(?:{BESIDE})\b{_MARKS.pattern}")
_AFTER = re.compile(rf"{_MARKS.pattern}(?:{_BESIDE.pattern})*")
_NUMBER_AFTER = re.compile(rf"(?:{_AFTER.pattern})?{NUMBER}(?:{_AFTER.pattern})?")


@dataclass(frozen=True, slots=True)
class Reading:
    """One kind that a text may be: the heading, its line on its page, and the words beside it.

    `title` is the part of the heading that is a title, in small letters. `numbered` is True for
    one with a number, `shared` for one that several kinds have.
    """

    row: PaperWords
    heading: str
    page: int
    line: int
    found: tuple[str, ...]
    title: str = ""
    numbered: bool = False
    shared: bool = False

    def because(self) -> str:
        """Say what it rests on: the line, and at most three of the words."""
        place = f"line {self.line}" + (f" of page {self.page}" if self.page > 1 else "")
        words = ", ".join(f"“{word}”" for word in self.found[:3])
        return f"{place} reads “{self.heading}”" + (f", with {words}" if words else "")


@lru_cache(maxsize=256)
def kinds_of(words: Words) -> tuple[Reading, ...]:
    """Give the kinds that a text may be: one where it can be told, none where nothing says so.

    A guard (a claim form, a tariff, a letter) is given as the one reading, so that it can be said.
    """
    if words.refused or not words.pages:
        return ()
    first = _of_page(words, 0, HEADING_LINES)
    found = list(first)
    for number in range(1, len(words.pages)):
        for reading in _of_page(words, number, LATER_PAGE_LINES):
            known = {r.row.name for r in found}
            if found and not found[0].row.guard and not reading.row.guard:
                found += [reading] if reading.row.name not in known else []
    return tuple(found)


@dataclass(frozen=True, slots=True)
class _Heading:
    """A line that is a title of a row; `title` is the part of it that is, in small letters."""

    row: PaperWords
    shown: str
    title: str
    line: int
    numbered: bool
    shared: bool

    @property
    def need(self) -> int:
        """How many words must back it; one more for a number that is not in the first line."""
        refers = self.numbered and self.line > 1
        return (self.row.need_shared if self.shared else self.row.need) + refers


def _of_page(words: Words, number: int, depth: int) -> tuple[Reading, ...]:
    """Give the kinds of one page, at most `depth` lines down."""
    text = " ".join(plain(line) for line in words.pages[number])
    headings = [
        heading
        for at, line in enumerate(words.pages[number][:depth], 1)
        for heading in _headings(line, at)
        if not heading.numbered or at <= NUMBERED_LINES
    ]
    readings = [r for h in headings if (r := _backed(h, text, number + 1))]
    backed = [r for r in readings if not r.row.guard]
    if words.mail or _printed_mail(words.pages[number]):
        backed = [r for r in backed if r.row.by_mail and r.line <= MAIL_LINES]
    guard = min((r for r in readings if r.row.guard), key=lambda r: r.line, default=None)
    if guard and all(guard.line <= r.line for r in backed):
        return (guard,)
    strong = [r for r in backed if not r.numbered or r.line == 1] or backed
    top = min((r.line for r in strong), default=0)
    return _leading([r for r in strong if r.line < top + HEADING_TOGETHER])


def _printed_mail(page: tuple[str, ...]) -> bool:
    """Tell an e-mail that was printed: it begins with its header lines."""
    top = {plain(line).partition(":")[0].strip() for line in page[:8] if ":" in line}
    return len(top & {"from", "to", "subject", "sent", "date", "cc"}) >= 3


def _headings(line: str, at: int) -> Iterator[_Heading]:
    shown = " ".join(line.split())[:80]
    cells = _cells(line)
    for row in PAPER_WORDS:
        for titles, numbered, shared in (
            (row.titles, False, False),
            (row.titles, True, False),
            (row.shared, False, True),
            (row.shared, True, True),
        ):
            title = next((c for c in cells if titles and _is_title(c, titles, numbered)), None)
            if title is not None:
                yield _Heading(row, shown, title, at, numbered, shared)
                break


def _backed(heading: _Heading, text: str, page: int) -> Reading | None:
    """Give the reading of a heading where as many words back it as it needs."""
    row = heading.row
    if any(re.search(pattern, text) for pattern in row.never):
        return None
    rest = text.replace(heading.title, " ", 1)
    found = tuple(m.group().strip() for p in row.words if (m := re.search(p, rest)))
    if len(found) < heading.need:
        return None
    return Reading(
        row,
        heading.shown,
        page,
        heading.line,
        found,
        heading.title,
        heading.numbered,
        heading.shared,
    )


def _leading(near: list[Reading]) -> tuple[Reading, ...]:
    """Give the reading that leads by enough words among those of one title, else all."""
    once: dict[str, Reading] = {}
    for reading in sorted(near, key=lambda r: (r.shared, r.numbered, r.line)):
        once.setdefault(reading.row.name, reading)
    found = sorted(once.values(), key=lambda r: -len(r.found))
    kept = []
    for reading in found:
        better = [o for o in found if o.title == reading.title or reading.numbered]
        if all(len(o.found) < len(reading.found) + LEAD for o in better if o is not reading):
            kept.append(reading)
    return tuple(sorted(kept, key=lambda r: r.line))


def _is_title(cell: str, titles: tuple[str, ...], numbered: bool) -> bool:
    """Tell whether a cell is one of the titles, with nothing else but what may stand beside it."""
    title = _one_of(titles)
    return any(
        title.fullmatch(cell, start, end)
        for start in _starts(cell)
        if title.match(cell, start)
        for end in _ends(cell, numbered)
    )


@cache
def _one_of(titles: tuple[str, ...]) -> re.Pattern[str]:
    return re.compile("|".join(titles))


@lru_cache(maxsize=64)
def _starts(cell: str) -> tuple[int, ...]:
    """Give where a title may begin: after nothing but marks and words that may stand before it."""
    starts = [at := _MARKS.match(cell).end()]  # type: ignore[union-attr]  # matches nothing too
    while word := _BESIDE.match(cell, at):
        starts.append(at := word.end())
    return tuple(starts)


@lru_cache(maxsize=64)
def _ends(cell: str, numbered: bool) -> tuple[int, ...]:
    """Give where a title may end: before nothing but what may follow it."""
    follows = _NUMBER_AFTER if numbered else _AFTER
    return tuple(end for end in range(len(cell) + 1) if follows.fullmatch(cell, end))


def _cells(line: str) -> list[str]:
    """Give a line and its parts: what stands apart, what dashes part, capitals at its beginning."""
    parts = re.split(r" {2,}|\s[-–—|•/]\s|\|", line)
    capitals = _CAPITALS.match(line)
    cells = [line, *parts, *([capitals.group()] if capitals else [])]
    return list(dict.fromkeys(plain(cell).strip(" .:;-–—*#_=") for cell in cells))


def plain(text: str) -> str:
    """Give a text in small letters with single spaces and no ligatures."""
    return " ".join(unicodedata.normalize("NFKC", text).casefold().split())
