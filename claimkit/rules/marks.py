"""A citation with its mark: S read, P a summary read, M from memory, U the user's own paper.

A citation that says of itself that there is no source, or that it is from memory, is not marked as
read beside that.
"""

from __future__ import annotations

NO_SOURCE, FROM_MEMORY = "no source", "from memory"


def marked(citation: str, mark: str) -> str:
    """Give a citation with its mark in brackets, and without where it says so itself.

    Where a part of it is from memory and the rest was read, the mark is that of the rest.
    """
    if not mark or NO_SOURCE in citation:
        return citation
    if FROM_MEMORY in citation:
        return citation if mark == "M" else f"{citation} (the rest: {mark})"
    return f"{citation} ({mark})"
