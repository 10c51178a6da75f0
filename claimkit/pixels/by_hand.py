"""A gap marked by hand on a photo without a card: a known rectangle and points on both edges.

The four corners of a bank card or a tile give the panels' plane in millimetres; the marked edges
are then measured in it. A mouse is no better than a pixel or two and the rectangle seldom lies
quite in the panels' plane, so ± 1 mm is the best that is ever claimed.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from claimkit.model.card import Point, Refusal, Why
from claimkit.model.measurement import Measurement
from claimkit.pixels.four_points import NoPerspective, moved, perspective

CITATION = "docs/rules.md, gaps marked by hand: claimkit's own method"
ID_1_MM = (85.60, 53.98)
"""A bank or identity card (ISO/IEC 7810, ID-1)."""

U_MARK_PX = 1.5
"""How far off a point is marked, as a standard uncertainty (common practice, no source)."""
U_FLOOR_MM = 0.5
"""The plane, the lens and the eye for an edge: with k = 2 never better than ± 1 mm."""
MOST_REACH = 1.0
"""Edges may lie this far off the rectangle, of its own longer side."""
MOST_CORNER_TURN_DEG = 60.0


@dataclass(frozen=True, slots=True)
class Marked:
    """What a person marked, in pixels of the upright picture.

    `corners` from the top left clockwise, `size_mm` the rectangle's width and height, `left` and
    `right` points on the two edges: one each, straight across, or two and more each.
    """

    corners: tuple[Point, Point, Point, Point]
    size_mm: tuple[float, float]
    left: tuple[Point, ...]
    right: tuple[Point, ...]


def gap_by_hand(marked: Marked, *, photo_sha: str) -> Measurement | Refusal:
    """Work out a gap from marks, or say what is wrong with them.

    The uncertainty of each mark is carried through by moving it (JCGM 100:2008, 5.1.3, note 2).
    """
    wide, high = marked.size_mm
    if min(wide, high) <= 0.0 or not _turns_once(marked.corners):
        return Refusal.of(Why.RECTANGLE, wide=wide, high=high)
    if not marked.left or not marked.right:
        return Refusal.of(Why.SIDES)
    try:
        gap = _gap(marked)
        reach = _reach(marked)
        corners = _spread(marked, len(marked.corners), _with_corner)
        edges = _spread(marked, len(marked.left) + len(marked.right), _with_edge)
    except NoPerspective:
        return Refusal.of(Why.RECTANGLE, wide=wide, high=high)
    most = MOST_REACH * max(wide, high)
    if reach > most:
        return Refusal.of(Why.REACH, off=reach, most=most)
    if gap is None or corners is None or edges is None:
        return Refusal.of(Why.SIDES)
    place = f"photo {photo_sha[:12]}"
    return Measurement.of(
        gap,
        {
            f"marked corners: {place}": corners,
            f"marked edges: {place}": edges,
            f"by hand: {place}": U_FLOOR_MM,
        },
    )


def _turns_once(corners: Sequence[Point]) -> bool:
    """Tell whether corners go once around clockwise (y runs down), each turning enough."""
    ring = [*corners, corners[0], corners[1]]
    turns = []
    for (ax, ay), (bx, by), (cx, cy) in zip(ring, ring[1:], ring[2:], strict=False):
        before, after = (bx - ax, by - ay), (cx - bx, cy - by)
        cross = before[0] * after[1] - before[1] * after[0]
        dot = before[0] * after[0] + before[1] * after[1]
        turns.append(math.degrees(math.atan2(cross, dot)))
    return all(abs(turn - 90.0) < MOST_CORNER_TURN_DEG for turn in turns)


def _in_mm(marked: Marked) -> tuple[list[Point], list[Point]]:
    wide, high = marked.size_mm
    flat = ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))
    p = perspective(marked.corners, flat)
    return [moved(p, q) for q in marked.left], [moved(p, q) for q in marked.right]


def _gap(marked: Marked) -> float | None:
    """Give the distance between the edges in mm, None where they are not two sides."""
    left, right = _in_mm(marked)
    if len(left) == 1 and len(right) == 1:
        return math.dist(left[0], right[0]) or None
    direction = _direction(left, right)
    if direction is None:
        return None
    dx, dy = direction
    # Square to the seam: the left edge's places are all smaller than the right edge's, or larger.
    at_left = [x * dy - y * dx for x, y in left]
    at_right = [x * dy - y * dx for x, y in right]
    if max(at_left) >= min(at_right) and max(at_right) >= min(at_left):
        return None
    return abs(sum(at_right) / len(at_right) - sum(at_left) / len(at_left))


def _direction(left: list[Point], right: list[Point]) -> Point | None:
    """Give the seam's direction: along the points of each edge, by least squares over both."""
    sxx = sxy = syy = 0.0
    for points in (left, right):
        mx = sum(x for x, _ in points) / len(points)
        my = sum(y for _, y in points) / len(points)
        sxx += sum((x - mx) ** 2 for x, _ in points)
        sxy += sum((x - mx) * (y - my) for x, y in points)
        syy += sum((y - my) ** 2 for _, y in points)
    if sxx + syy <= 0.0:
        return None
    angle = 0.5 * math.atan2(2.0 * sxy, sxx - syy)
    return math.cos(angle), math.sin(angle)


def _reach(marked: Marked) -> float:
    """Give how far the farthest marked point lies off the rectangle, in mm."""
    wide, high = marked.size_mm
    left, right = _in_mm(marked)
    return max(
        math.hypot(max(-x, x - wide, 0.0), max(-y, y - high, 0.0)) for x, y in [*left, *right]
    )


def _spread(
    marked: Marked, count: int, change: Callable[[Marked, int, Point], Marked]
) -> float | None:
    """Give the standard uncertainty in mm from marking `count` points, each moved both ways."""
    total = 0.0
    for k in range(count):
        for way in ((U_MARK_PX, 0.0), (0.0, U_MARK_PX)):
            more = _gap(change(marked, k, way))
            less = _gap(change(marked, k, (-way[0], -way[1])))
            if more is None or less is None:
                return None
            total += ((more - less) / 2.0) ** 2
    return math.sqrt(total)


def _with_corner(marked: Marked, k: int, by: Point) -> Marked:
    a, b, c, d = (_shifted(q, by) if i == k else q for i, q in enumerate(marked.corners))
    return Marked((a, b, c, d), marked.size_mm, marked.left, marked.right)


def _with_edge(marked: Marked, k: int, by: Point) -> Marked:
    points = [_shifted(q, by) if i == k else q for i, q in enumerate(marked.left + marked.right)]
    n = len(marked.left)
    return Marked(marked.corners, marked.size_mm, tuple(points[:n]), tuple(points[n:]))


def _shifted(point: Point, by: Point) -> Point:
    return point[0] + by[0], point[1] + by[1]
