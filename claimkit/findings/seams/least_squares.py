"""Generalised least squares for a few correlated observations, in plain Python.

The estimate is written as weights of the observations, so that a result made of measurements
keeps every cause of their uncertainty under its name. The matrices are small (one row for each
station of a seam) and need no library of numbers. Sources: A. C. Aitken, On Least Squares and
Linear Combination of Observations (1935); Cholesky's factorisation as in any textbook (M).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

Vector = tuple[float, ...]
Matrix = tuple[Vector, ...]

SMALLEST_PIVOT = 1e-12
"""A pivot below this share of its diagonal is nothing but rounding: the matrix is singular."""


class NotDetermined(ValueError):
    """The observations do not determine the parameters, or are not independent of each other."""


@dataclass(frozen=True, slots=True)
class Weights:
    """How each parameter follows from the observations, and what that says of its uncertainty.

    `rows` holds one row of weights for each parameter; `covariance` is that of the parameters,
    the inverse of X' V^-1 X.
    """

    rows: Matrix
    covariance: Matrix

    def estimate(self, observed: Sequence[float]) -> Vector:
        """Give the parameters for these observations."""
        return tuple(_dot(row, observed) for row in self.rows)


def generalised(
    design: Sequence[Sequence[float]], covariance: Sequence[Sequence[float]]
) -> Weights:
    """Give the weights (X' V^-1 X)^-1 X' V^-1 of the best linear unbiased estimate.

    `design` is X with one row for each observation, `covariance` is V, symmetric. Raises
    NotDetermined where V or X' V^-1 X has no inverse.
    """
    lower = cholesky(covariance)
    columns = [forward(lower, column) for column in zip(*design, strict=True)]
    normal = cholesky([[_dot(a, b) for b in columns] for a in columns])
    size = len(design)
    by_observation = []
    for number in range(size):
        unit = forward(lower, [1.0 if n == number else 0.0 for n in range(size)])
        by_observation.append(solve(normal, [_dot(column, unit) for column in columns]))
    identity = [[1.0 if a == b else 0.0 for b in range(len(columns))] for a in range(len(columns))]
    inverse = tuple(solve(normal, row) for row in identity)
    return Weights(tuple(zip(*by_observation, strict=True)), inverse)


def chi_squared(residuals: Sequence[float], covariance: Sequence[Sequence[float]]) -> float:
    """Give r' V^-1 r, the sum of squared residuals in units of their own uncertainty."""
    whitened = forward(cholesky(covariance), residuals)
    return _dot(whitened, whitened)


def cholesky(matrix: Sequence[Sequence[float]]) -> Matrix:
    """Give the lower triangle L with L L' the symmetric matrix; NotDetermined if it has none."""
    rows: list[list[float]] = []
    for i, given in enumerate(matrix):
        row: list[float] = []
        for j in range(i + 1):
            above = row if j == i else rows[j]
            rest = given[j] - math.fsum(row[k] * above[k] for k in range(j))
            if j < i:
                row.append(rest / rows[j][j])
            elif rest <= SMALLEST_PIVOT * abs(given[i]):
                raise NotDetermined("the matrix is not positive definite")
            else:
                row.append(math.sqrt(rest))
        rows.append(row)
    return tuple(tuple(row) for row in rows)


def forward(lower: Matrix, right: Sequence[float]) -> Vector:
    """Solve L z = b from the top down."""
    found: list[float] = []
    for row, value in zip(lower, right, strict=True):
        done = math.fsum(a * z for a, z in zip(row, found, strict=False))
        found.append((value - done) / row[len(found)])
    return tuple(found)


def solve(lower: Matrix, right: Sequence[float]) -> Vector:
    """Solve L L' z = b: from the top down with L, then from the bottom up with its transpose."""
    middle = forward(lower, right)
    size = len(lower)
    found = [0.0] * size
    for i in reversed(range(size)):
        done = math.fsum(lower[k][i] * found[k] for k in range(i + 1, size))
        found[i] = (middle[i] - done) / lower[i][i]
    return tuple(found)


def _dot(a: Sequence[float], b: Sequence[float]) -> float:
    return math.fsum(x * y for x, y in zip(a, b, strict=True))
