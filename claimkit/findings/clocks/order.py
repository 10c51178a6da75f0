"""File counters against times: a counter that rises while the clock falls back shows a set clock.

Counters are compared only within one camera, one form of name and one folder. Two phones of one
model have counters of their own and can look like one clock that jumps: where the times jump
often, or between counters far apart, nothing is claimed.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import PurePosixPath

from claimkit.findings.clocks.evidence import Shot
from claimkit.findings.wording import in_words
from claimkit.model.clock import Reversal
from claimkit.rules.capture import COUNTER_NEAR, COUNTER_SLACK, NAME_PATTERNS

COUNTED = re.compile(r"^(?P<form>[A-Za-z][A-Za-z_-]{0,7}\d{0,3}?)(?P<number>\d{4})$", re.ASCII)
WRAPS = 10_000
MOST_REVERSALS = 2


@dataclass(frozen=True, slots=True)
class Order:
    """What the counters of one camera say.

    `parts` maps photos to their stretch between reversals; photos whose counter says nothing are
    not in it. `mixed` is True where times jump so often that the counters are not one camera's.
    """

    reversals: tuple[Reversal, ...] = ()
    parts: tuple[tuple[str, int], ...] = ()
    mixed: bool = False


def counter_of(path: str) -> tuple[str, int] | None:
    """Give the form and number of a name such as IMG_0042 or DSC01234, None for any other."""
    stem = PurePosixPath(path).stem
    if any(re.match(row.pattern, stem) for row in NAME_PATTERNS):
        return None
    found = COUNTED.fullmatch(stem)
    if found is None:
        return None
    folder = str(PurePosixPath(path).parent)
    return f"{folder}/{found['form'].upper()}", int(found["number"])


def order_of(shots: Sequence[Shot]) -> Order:
    """Hold counters against times; the form of name that most photos have decides alone."""
    forms: dict[str, list[tuple[int, Shot]]] = {}
    for shot in shots:
        counted = counter_of(shot.photo.places[0])
        if counted is not None:
            forms.setdefault(counted[0], []).append((counted[1], shot))
    if not forms:
        return Order()
    rows = max(forms.values(), key=len)
    if len({number for number, _ in rows}) < len(rows):
        return Order(mixed=True)  # two files with one number are not one camera's row
    ordered = _unwrapped(rows)
    found = [_reversal(a, b) for a, b in pairwise(ordered)]
    cuts = [r for r in found if r is not None]
    far = any(
        r is not None and b[0] - a[0] > COUNTER_NEAR and not a[1].photo.camera.serial
        for r, (a, b) in zip(found, pairwise(ordered), strict=True)
    )
    if len(cuts) > MOST_REVERSALS or far:
        return Order(mixed=True)
    part, parts = 0, [(ordered[0][1].photo.sha256, 0)]
    for reversal, (_, (_, shot)) in zip(found, pairwise(ordered), strict=True):
        part += reversal is not None
        parts.append((shot.photo.sha256, part))
    return Order(tuple(cuts), tuple(parts))


def _unwrapped(rows: list[tuple[int, Shot]]) -> list[tuple[int, Shot]]:
    """Order by counter; after 9999 comes 0000 or 0001."""
    numbers = [number for number, _ in rows]
    wrapped = max(numbers) - min(numbers) > WRAPS // 2
    lifted = [(n + WRAPS if wrapped and n < WRAPS // 2 else n, shot) for n, shot in rows]
    return sorted(lifted, key=lambda row: row[0])


def _reversal(a: tuple[int, Shot], b: tuple[int, Shot]) -> Reversal | None:
    first, second = a[1], b[1]
    back = first.earliest - second.latest
    if back <= COUNTER_SLACK:
        return None
    names = f"{first.photo.places[0]} and then {second.photo.places[0]}"
    said = (
        f"The file counter rises from {names}, while the camera's time falls back by "
        f"{in_words(back)}."
    )
    return Reversal(first.photo.sha256, second.photo.sha256, said)
