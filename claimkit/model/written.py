"""What people write in TOML becomes frozen dataclasses whose fields carry their own explanation.

A field is `Annotated[type, "what it means"]`: the validation of the job folder, the table in
docs/job-folder.md and the index all read this one definition.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar, dataclass_transform

T = TypeVar("T")


@dataclass_transform(frozen_default=True, kw_only_default=True)
def written(cls: type[T]) -> type[T]:
    """Make a frozen, keyword-only dataclass that refuses unknown keys when read from a file."""
    cls.__pydantic_config__ = {"extra": "forbid"}  # type: ignore[attr-defined]
    return dataclass(frozen=True, kw_only=True)(cls)
