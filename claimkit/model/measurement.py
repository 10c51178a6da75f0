"""A length with its uncertainty kept as contributions, so that what two readings share is known.

Each part is a signed standard uncertainty in millimetres under the name of its cause. Two
measurements that name the same cause share it: in a difference it cancels, in a sum it adds.
This is the law of propagation of uncertainty, JCGM 100:2008, 5.2, with each cause independent of
the others.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Measurement:
    """A value in millimetres and its parts: cause to signed standard uncertainty, in mm."""

    value_mm: float
    parts: tuple[tuple[str, float], ...]

    @classmethod
    def of(cls, value_mm: float, parts: Mapping[str, float]) -> Measurement:
        """Build from a mapping; causes are kept in order of their names."""
        return cls(value_mm, tuple(sorted(parts.items())))

    @property
    def u_mm(self) -> float:
        """The combined standard uncertainty in mm (JCGM 100:2008, 5.1.2)."""
        return math.hypot(*(part for _, part in self.parts))

    def contributions(self) -> tuple[tuple[str, float, float], ...]:
        """Give each cause with its standard uncertainty in mm and its share of the variance.

        Largest first, equal ones in order of their names; causes without effect are left out,
        shares add up to 1.
        """
        total = self.u_mm
        found = [(cause, abs(part), (part / total) ** 2) for cause, part in self.parts if part]
        return tuple(sorted(found, key=lambda row: -row[1]))

    def scaled(self, factor: float) -> Measurement:
        """Multiply value and parts by a known number."""
        return Measurement(
            self.value_mm * factor, tuple((cause, part * factor) for cause, part in self.parts)
        )

    def plus(self, other: Measurement) -> Measurement:
        """Add; parts with the same cause add with their signs."""
        parts = dict(self.parts)
        for cause, part in other.parts:
            parts[cause] = parts.get(cause, 0.0) + part
        return Measurement.of(self.value_mm + other.value_mm, parts)

    def minus(self, other: Measurement) -> Measurement:
        """Subtract; parts with the same cause cancel with their signs."""
        return self.plus(other.scaled(-1.0))


def covariance(a: Measurement, b: Measurement) -> float:
    """Give the covariance of two measurements in mm², from the causes they share."""
    other = dict(b.parts)
    return math.fsum(part * other.get(cause, 0.0) for cause, part in a.parts)
