"""Placing a strip's marks: each gets a bar or dot and a label beside it, in lanes without overlap.

Photos that would print on the same spot share one label. Where a strip would grow higher than
allowed, marks that lie close together are joined until it does not.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from claimkit.render.style import Look
from claimkit.render.text import Line, Span, lines

DOT = 2.6  # half the width of a mark that is a point
_CLEAR = 5.0
_LABEL_PART = 0.46


@dataclass(frozen=True, slots=True)
class Spot:
    """What is to be placed: `left` and `right` in points, and its label as spans."""

    left: float
    right: float
    kind: str
    label: tuple[Span, ...]


@dataclass(frozen=True, slots=True)
class Set:
    """A placed mark: its bar, its label's lines and place, and how far down its lane lies."""

    spot: Spot
    lines: tuple[Line, ...]
    label_x: float
    label_below: bool
    down: float
    high: float


@dataclass(slots=True)
class _Lane:
    down: float
    high: float
    taken: list[tuple[float, float]]

    def free(self, left: float, right: float) -> bool:
        return all(right + _CLEAR <= a or left >= b + _CLEAR for a, b in self.taken)


def in_lanes(spots: Iterable[Spot], wide: float, look: Look) -> tuple[tuple[Set, ...], float]:
    """Place spots in the order given; give them placed and the height they need in points."""
    lanes: list[_Lane] = []
    placed: list[tuple[Spot, tuple[Line, ...], float, bool, _Lane]] = []
    for spot in spots:
        text, x, below = _beside(spot, wide)
        widest = max((line.width for line in text), default=0.0)
        left, right = min(spot.left - DOT, x), max(spot.right + DOT, x + widest)
        high = (len(text) + below) * look.leading
        lane = next((n for n in lanes if n.high >= high and n.free(left, right)), None)
        if lane is None:
            down = sum(n.high for n in lanes)
            lane = _Lane(down, high, [])
            lanes.append(lane)
        lane.taken.append((left, right))
        placed.append((spot, text, x, below, lane))
    sets = tuple(
        Set(spot, text, x, below, lane.down, lane.high) for spot, text, x, below, lane in placed
    )
    return sets, sum(lane.high for lane in lanes)


def _beside(spot: Spot, wide: float) -> tuple[tuple[Line, ...], float, bool]:
    """Choose the label's place: right of the mark, left of it, or under a wide bar."""
    text = lines(spot.label, wide * _LABEL_PART)
    widest = max(line.width for line in text)
    right = spot.right + DOT + 2.5
    if right + widest <= wide:
        return text, right, False
    left = spot.left - DOT - 2.5 - widest
    if left >= 0:
        return text, left, False
    return text, min(max(spot.left, 0.0), wide - widest), True


def joined(
    spots: Sequence[Spot],
    near: float,
    label: Callable[[Sequence[int]], tuple[Span, ...]],
) -> list[Spot]:
    """Join spots whose both ends lie within `near` points of the first of their group.

    `label` gives the label for the indices of a group. Spots come sorted by their left ends.
    """
    groups: list[list[int]] = []
    for i, spot in enumerate(spots):
        for group in reversed(groups):
            first = spots[group[0]]
            if spot.left - first.left > near:
                continue
            if abs(spot.right - first.right) <= near:
                group.append(i)
                break
        else:
            groups.append([i])
    return [
        Spot(
            min(spots[i].left for i in group),
            max(spots[i].right for i in group),
            spots[group[0]].kind,
            label(group) if len(group) > 1 else spots[group[0]].label,
        )
        for group in groups
    ]
