"""The stages of a job in the order of the work, and the dated steps between them."""

from __future__ import annotations

from enum import StrEnum


class Stage(StrEnum):
    """The stages of a job in the order of the work. An episode is one, perhaps repeated."""

    ARRIVAL = "arrival"
    CURB = "at the curb"
    UNPACKING = "unpacking"
    DRY_FIT = "dry fit"
    BEFORE_FASTENING = "before fastening"
    FASTENED = "fastened"
    SEALED = "sealed"
    HANDOVER = "handover"
    COMPLAINT = "complaint"


class Event(StrEnum):
    """Things that happen once and are dated by a milestone record."""

    OLD_FIXTURE_REMOVED = "old fixture removed"
    INSTALLATION_STARTED = "installation started"
    DRY_FIT = "dry fit"
    FASTENED = "fastened"
    SEALED = "sealed"
    HANDOVER = "handover"
    COMPLAINT = "complaint"
