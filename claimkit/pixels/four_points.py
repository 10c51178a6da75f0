"""The perspective that takes four points to four others, in plain arithmetic.

It needs neither NumPy nor OpenCV, so that a gap marked by hand can be worked out, and a card's
picture straightened for print, where those are absent.
"""

from __future__ import annotations

from collections.abc import Sequence

Point = tuple[float, float]
Eight = tuple[float, float, float, float, float, float, float, float]


class NoPerspective(ValueError):
    """Four points of which three lie in line, or that no camera could see so."""


def perspective(from_points: Sequence[Point], to_points: Sequence[Point]) -> Eight:
    """Give a..h of u = (ax + by + c) / (gx + hy + 1) and v = (dx + ey + f) / (gx + hy + 1).

    Both take four points. Raises NoPerspective.
    """
    rows: list[list[float]] = []
    for (x, y), (u, v) in zip(from_points, to_points, strict=True):
        rows.append([x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y, u])
        rows.append([0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y, v])
    a, b, c, d, e, f, g, h = _solved(rows)
    return a, b, c, d, e, f, g, h


def moved(p: Eight, point: Point) -> Point:
    """Apply a perspective to a point. Raises NoPerspective for one on the horizon."""
    x, y = point
    w = p[6] * x + p[7] * y + 1.0
    if abs(w) < 1e-9:
        raise NoPerspective("a point on the horizon")
    return (p[0] * x + p[1] * y + p[2]) / w, (p[3] * x + p[4] * y + p[5]) / w


def _solved(rows: list[list[float]]) -> list[float]:
    """Solve eight equations, each row its coefficients and the right side, with full pivots."""
    n = len(rows)
    largest = max(abs(value) for row in rows for value in row)
    for k in range(n):
        pivot = max(range(k, n), key=lambda i: abs(rows[i][k]))
        rows[k], rows[pivot] = rows[pivot], rows[k]
        if abs(rows[k][k]) <= 1e-12 * largest:
            raise NoPerspective("three of the four points lie in line")
        for i in range(k + 1, n):
            part = rows[i][k] / rows[k][k]
            rows[i] = [a - part * b for a, b in zip(rows[i], rows[k], strict=True)]
    found = [0.0] * n
    for k in reversed(range(n)):
        rest = sum(rows[k][j] * found[j] for j in range(k + 1, n))
        found[k] = (rows[k][n] - rest) / rows[k][k]
    return found
