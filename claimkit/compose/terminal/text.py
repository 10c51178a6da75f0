"""How text is set for a terminal of 80 columns: paragraphs and titled sections."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator

WIDTH = 80


def wrapped(text: str, indent: str = "  ", first: str | None = None) -> list[str]:
    """Break a text at the width of the terminal, without splitting file names.

    A line of the text begins a new line: what is to be typed as it stands must not run together.
    """
    lines: list[str] = []
    for part in text.split("\n"):
        before = indent if lines or first is None else first
        # A line of TOML stays whole, however long, so that it can be copied.
        whole = [f"{before}{part}"] if ' = "' in part and lines else []
        lines += whole or _filled(part, before, indent) or [indent.rstrip()]
    return lines


def _filled(text: str, first: str, indent: str) -> list[str]:
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent=first,
        subsequent_indent=indent,
        break_long_words=False,
        break_on_hyphens=False,
    )


def section(title: str, lines: Iterable[str]) -> Iterator[str]:
    """Give a blank line, the title and the lines; nothing where there are no lines."""
    body = list(lines)
    if body:
        yield ""
        yield title
        yield from body
