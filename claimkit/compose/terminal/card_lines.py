"""What printing scale cards says at a terminal: which card goes where, what to add, what to do."""

from __future__ import annotations

from collections.abc import Iterator

from claimkit.compose.sheets.cards import WHERE_HEADS, CardBook, Snippet
from claimkit.compose.terminal.lines import findings, head, not_checked
from claimkit.compose.terminal.text import wrapped
from claimkit.model.case import Case
from claimkit.rules.card_steps import LENGTHS

NEXT = (
    "Print at 100 % (actual size), never “fit to page”.",
    "Measure both check lines before you cut: {along} along the sheet, {across} across it. Write "
    "them down, also where they are right.",
    "Cut, tape and photograph as the first page shows: the same card at the same station each "
    "time.",
    "Photograph known spacers with these cards and your phone (bench check): until then, photo "
    "readings witness and do not decide.",
)
_WIDTHS = (16, 20, 18, 11)


def card_lines(case: Case, book: CardBook) -> list[str]:
    """Print the table of cards, the lines to add, the next steps, and what is missing."""
    lines = head(case, "scale cards")
    lines += ["", "Cards", *_table(book)]
    if book.remarks:
        lines += ["", "Without a card, and why"]
        lines += [line for text in book.remarks for line in wrapped(text, "    ", "  ")]
    lines += ["", "Next"]
    for number, text in enumerate(NEXT, start=1):
        said = text.format(**LENGTHS[book.paper])
        lines += wrapped(said, "     ", f"  {number}  ")
    for file, snippets in _by_file((*book.snippets, book.bench)):
        lines += ["", _copy_into(file)]
        for one in snippets:
            lines += [f"  # {one.title}", *(f"  {line}" for line in one.lines)]
    told = findings(case, "card-") + not_checked(case, "card-")
    return [*lines, *(["", "Print check", *told] if told else [])]


def _copy_into(file: str) -> str:
    return f"Add to {file}" if file == "job.toml" else f"Write {file}"


def _by_file(snippets: tuple[Snippet, ...]) -> Iterator[tuple[str, list[Snippet]]]:
    files = dict.fromkeys(one.file for one in snippets)
    for file in files:
        yield file, [one for one in snippets if one.file == file]


def _table(book: CardBook) -> list[str]:
    """Print the rows in columns; a name that is too long for its own moves the rest on."""
    rows = (WHERE_HEADS, *book.where)
    wide = [min(max(len(row[i]) for row in rows) + 2, most) for i, most in enumerate(_WIDTHS)]
    lines = []
    for row in rows:
        cells = [cell.ljust(width) for cell, width in zip(row, wide, strict=False)]
        text = "  " + "".join(
            cell if cell.endswith(" ") else f"{cell}  " for cell in (*cells, row[-1])
        )
        lines += wrapped_row(text.rstrip())
    return lines


def wrapped_row(text: str) -> list[str]:
    """Break a row that is wider than the terminal at its blanks, keeping its columns otherwise."""
    return [text] if len(text) <= 80 else wrapped(" ".join(text.split()), "      ", "  ")
