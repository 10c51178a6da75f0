"""Numbers of a receipt as they are written: "3 of 4", "3/4", "3 ctns rec'd of 4", and their unit.

What they count is worked out in counts.
"""

from __future__ import annotations

from claimkit.findings.receipt.parts import UNITS
from claimkit.findings.receipt.text import LINK, NO_STOP, Token


def pair_at(tokens: tuple[Token, ...], at: int) -> tuple[int, int, int] | None:
    """Read "3/4", "3 of 4", "3 out of the 4" at a token: part, whole, next token."""
    token = tokens[at]
    if token.sort == "pair" and token.value is not None and token.of is not None:
        return token.value, token.of, at + 1
    if token.value is None or token.sort not in ("number", "word"):
        return None
    after = at + 1
    while _between(tokens, after, at):
        after += 1
    if after >= len(tokens) or tokens[after].word != "of" or tokens[after].stop > NO_STOP:
        return None
    after += 1
    while after < len(tokens) and "the" in tokens[after].classes:
        after += 1
    if after >= len(tokens) or tokens[after].sort not in ("number", "word"):
        return None
    whole = tokens[after].value
    return None if whole is None else (token.value, whole, after + 1)


def _between(tokens: tuple[Token, ...], after: int, at: int) -> bool:
    """Tell whether the word may stand before "of": "3 out of 4", "3 ctns rec'd of 4"."""
    if after >= len(tokens) or tokens[after].stop > NO_STOP:
        return False
    unit = after == at + 1 and bool(tokens[after].classes & UNITS)
    took = after <= at + 2 and "took" in tokens[after].classes
    return unit or took or tokens[after].word in ("out", "total")


def unit_near(tokens: tuple[Token, ...], last: int) -> tuple[str, int]:
    """Give the unit named after a count and the token after it; "" where none is."""
    for at in range(last, min(last + 3, len(tokens))):
        if tokens[at].stop > NO_STOP:
            break
        for name in ("handling", "carton", "piece"):
            if name in tokens[at].classes:
                return name, at + 1
        if tokens[at].sort != "word" or tokens[at].classes & {"no", "not", "took", "people"}:
            break
    return "", last


def unit_before(tokens: tuple[Token, ...], at: int) -> str:
    """Give the unit named directly before a count; "" where none is."""
    if at and tokens[at].stop <= LINK:
        for name in ("handling", "carton", "piece"):
            if name in tokens[at - 1].classes:
                return name
    return ""
