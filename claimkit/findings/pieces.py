"""Which set of pieces a record means: the first ones, or others that came in their place.

Records name the others as people write, with capitals and spaces as they come. No name means the
first pieces.
"""

from __future__ import annotations


def plain_piece(piece: str | None) -> str:
    """Give the name of a set of pieces in its plain form; empty for the first pieces."""
    return " ".join((piece or "").split()).casefold()


def same_piece(a: str | None, b: str | None) -> bool:
    """Tell whether two entries name the same piece; no entry means the first pieces."""
    return plain_piece(a) == plain_piece(b)
