"""A delivery receipt graded: what its words amount to, which words decided, what to add."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from claimkit.model.answers import Answer
from claimkit.model.source import Source


class Grade(StrEnum):
    """What a delivery receipt's words amount to (our own convention, docs/rules.md)."""

    CONTRADICTORY = "contradictory"
    SPECIFIC = "specific"
    RESERVATION_ONLY = "reservation only"
    TOO_VAGUE = "too vague"
    CLEAR = "clear"
    NOT_STATED = "not stated"


class Reservation(StrEnum):
    """Whether the words reserve a later inspection, and how strongly."""

    FULL = "full"
    WEAK = "weak"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Match:
    """Words that a wording rule matched: their span in the text as given and what they show.

    `what` is one of: kind of damage, shortage, which piece, how many, where on it, extent,
    reservation, good order, refusal, indicator, count, small print, negated, something else.
    """

    what: str
    text: str
    start: int
    end: int
    rule: str


@dataclass(frozen=True, slots=True)
class ReceiptReading:
    """The words of one receipt graded.

    `because` says which words decided, `write_long` and `write_short` what to write while the
    driver is still there (paper and handheld), empty where nothing is to be added.
    """

    grade: Grade
    reservation: Reservation
    matches: tuple[Match, ...]
    because: tuple[str, ...]
    write_long: str
    write_short: str


@dataclass(frozen=True, slots=True)
class Receipt:
    """The receipt of one delivery record: the carrier's copy graded, and ours where it differs."""

    record: Source
    shipment: str | None
    words: str | None
    reading: ReceiptReading
    our_words: str | None = None
    our_reading: ReceiptReading | None = None
    copies_differ: Answer = Answer.CANNOT_TELL
