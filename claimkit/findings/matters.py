"""One thing that is wrong, with what the record holds of it: what every addressee is judged on."""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.model.answers import Answer
from claimkit.model.case import Difference
from claimkit.model.gap import Comparison
from claimkit.model.job import Item, Shipment
from claimkit.model.records import Damage
from claimkit.model.source import Source

DAMAGE = "damage"
SHORTAGE = "shortage"
NOT_DELIVERED = "not delivered"
WRONG_PART = "wrong part"
GAP = "gap"

Point = tuple[str, tuple[Source, ...]]


@dataclass(frozen=True, slots=True)
class Matter:
    """One damage, shortage, wrong part or gap. `where` names its record, item or seam."""

    kind: str
    where: str
    about: str
    shipment: Shipment | None
    item: Item | None
    sources: tuple[Source, ...]
    damage: Damage | None = None
    short: Difference | None = None
    gap: Comparison | None = None


@dataclass(slots=True)
class Weighing:
    """Facts gathered for and against one answer, and what is still wanted."""

    says_so: list[Point]
    wanted: list[str]
    against: list[Point]

    @classmethod
    def begun(cls) -> Weighing:
        """Begin with nothing."""
        return cls([], [], [])

    def answer(self) -> Answer:
        """No where a fact speaks against it; yes where facts say so and nothing is wanted."""
        if self.against:
            return Answer.NO
        return Answer.YES if self.says_so and not self.wanted else Answer.CANNOT_TELL

    def because(self) -> tuple[Point, ...]:
        """Give the facts that decided, or those there are."""
        return tuple(self.against or self.says_so)

    def settle(self) -> tuple[str, ...]:
        """Give what would settle it, where it cannot be told."""
        return () if self.against else tuple(self.wanted)
