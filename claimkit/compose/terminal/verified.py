"""What a verification has shown, as lines for the terminal and as JSON."""

from __future__ import annotations

import textwrap
from typing import Any

from claimkit.model.verified import Outcome, Point, Verified

_HEADS = {
    Outcome.BROKEN: "Does not hold",
    Outcome.UNREAD: "Could not be read",
    Outcome.NOT_LOGGED: "Not in any log yet",
    Outcome.OPEN: "Cannot be seen from here",
    Outcome.HOLDS: "Holds",
    Outcome.NOTE: "To be known",
}
_WIDE = 79
_MEANING = (
    "Files that hold are byte for byte what was logged. That does not show when, where or of what "
    "a photo was taken. An anchor kept in this folder counts for as much as its copies elsewhere."
)


def verdict(verified: Verified) -> str:
    """Say the whole in one sentence."""
    broken = len(verified.of(Outcome.BROKEN))
    unread = len(verified.of(Outcome.UNREAD))
    unlogged = len(verified.of(Outcome.NOT_LOGGED))
    looked = ", ".join(
        f"{count} {what.removesuffix('s') if count == 1 else what}"
        for what, count in verified.counts
    )
    parts = []
    if broken:
        parts.append(f"{broken} {'thing does' if broken == 1 else 'things do'} not hold")
    if unread:
        parts.append(f"{unread} could not be read")
    if unlogged:
        parts.append(f"{unlogged} {'is' if unlogged == 1 else 'are'} not in any log yet")
    return f"{verified.subject}: {'; '.join(parts) or 'all that was looked at holds'} ({looked})."


def lines(verified: Verified) -> list[str]:
    """Give the points for the terminal, what does not hold first."""
    told = textwrap.wrap(verdict(verified), _WIDE)
    for outcome, head in _HEADS.items():
        points = verified.of(outcome)
        if not points:
            continue
        told += ["", head]
        for sentence, places in _grouped(points).items():
            if len(places) == 1:
                told += _wrapped(f"{places[0]}: {sentence}", 2)
            else:
                told += _wrapped(sentence, 2)
                told += [line for place in places for line in _wrapped(place, 4)]
    return [*told, "", *textwrap.wrap(_MEANING, _WIDE)]


def _grouped(points: tuple[Point, ...]) -> dict[str, list[str]]:
    """Give each sentence once with all the places that it is said of."""
    places: dict[str, list[str]] = {}
    for point in points:
        places.setdefault(point.sentence, []).append(point.where)
    return places


def _wrapped(text: str, indent: int) -> list[str]:
    first, rest = " " * indent, " " * (indent + 2)
    return textwrap.wrap(
        text, _WIDE, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False
    )


def as_json(verified: Verified) -> dict[str, Any]:
    """Give the points as JSON values; docs/json.md describes them."""
    return {
        "schema": 1,
        "command": "verify",
        "subject": verified.subject,
        "verdict": verdict(verified),
        "looked_at": dict(verified.counts),
        "points": [
            {"outcome": p.outcome.value, "where": p.where, "sentence": p.sentence}
            for p in verified.points
        ],
    }
