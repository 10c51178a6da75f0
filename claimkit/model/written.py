"""What people write in TOML becomes frozen dataclasses whose fields carry their own explanation.

A field is `Annotated[type, "what it means", marks]`: the validation of the job folder, the table
in docs/job-folder.md, the commented job.toml of a new job and the index all read this one
definition. Marks are plain data and say what a type cannot: what an id names, which values make
sense, how many entries a list has.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import TypeVar, dataclass_transform

T = TypeVar("T")


@dataclass_transform(frozen_default=True, kw_only_default=True)
def written(cls: type[T]) -> type[T]:
    """Make a frozen, keyword-only dataclass that stands for one table of a TOML file."""
    return dataclass(frozen=True, kw_only=True)(cls)


class Names(Enum):
    """What the text of a field points at, so that it can be followed and checked."""

    PARTY = "party"
    CARRIER = "carrier"  # a party with a carrier's role
    BROKER = "broker"  # a party with the role broker
    PERSON = "person"
    SHIPMENT = "shipment"
    THE_SHIPMENT = "the shipment"  # may be left out only where the job has no second one
    ITEM = "item"
    SEAM = "seam"
    FILE = "file"  # a path in the job folder, with forward slashes
    RECORD = "record"


class Text(Enum):
    """What kind of text a field holds, where it is not free text."""

    ID = "id"
    MAY_BE_EMPTY = "may be empty"  # words on a receipt: "" says that nothing was written there
    ZONE = "zone"
    COUNTRY = "country"


@dataclass(frozen=True, slots=True)
class OneOf:
    """The words of which a text is one."""

    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Limits:
    """Which numbers make sense: whole numbers, or lengths in mm, weights in kg.

    `low` and `high` are included, except that `above_low` excludes `low`; None is no limit.
    """

    low: int | None = 0
    high: int | None = None
    above_low: bool = False


@dataclass(frozen=True, slots=True)
class Entries:
    """How many entries a list has where it is there at all; `most` None is no limit."""

    least: int
    most: int | None = None


POSITIVE = Limits(0, above_low=True)
SIGNED = Limits(None)
GAP = Limits(0, 300)  # mm; an opening of more than a foot is no seam: the unit is wrong
