"""Three-valued answers. Evidence often cannot decide, and saying so is an answer."""

from __future__ import annotations

from enum import StrEnum


class Answer(StrEnum):
    """Yes, no, or cannot tell."""

    YES = "yes"
    NO = "no"
    CANNOT_TELL = "cannot tell"
