"""How text is set for a terminal of 80 columns: paragraphs and titled sections."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator

WIDTH = 80


def wrapped(text: str, indent: str = "  ", first: str | None = None) -> list[str]:
    """Break one paragraph at the width of the terminal, without splitting file names."""
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent=indent if first is None else first,
        subsequent_indent=indent,
        break_long_words=False,
        break_on_hyphens=False,
    ) or [indent.rstrip()]


def section(title: str, lines: Iterable[str]) -> Iterator[str]:
    """Give a blank line, the title and the lines; nothing where there are no lines."""
    body = list(lines)
    if body:
        yield ""
        yield title
        yield from body
