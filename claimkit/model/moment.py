"""Times as people and cameras give them: intervals whose ends are themselves uncertain.

A time written to the minute is that whole minute, a date is that whole local day, and a camera's
local time without an offset may be several instants. Comparing two such times has three answers.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum

from claimkit.model.answers import Answer


class Precision(StrEnum):
    """How finely a person wrote a time."""

    SECOND = "second"
    MINUTE = "minute"
    DAY = "day"


@dataclass(frozen=True, slots=True)
class Interval:
    """A time known to lie between two instants, both inclusive.

    Ends are aware datetimes; None means not bounded on that side. `basis` says in words why.
    """

    earliest: datetime | None
    latest: datetime | None
    basis: str

    def __post_init__(self) -> None:
        """Refuse naive ends and ends in the wrong order."""
        for end in (self.earliest, self.latest):
            if end is not None and end.tzinfo is None:
                raise ValueError("an interval's ends carry their zone")
        if self.earliest and self.latest and self.latest < self.earliest:
            raise ValueError("an interval ends after it begins")

    @property
    def known(self) -> bool:
        """True when both ends are known."""
        return self.earliest is not None and self.latest is not None


def before(a: Interval, b: Interval) -> Answer:
    """Tell whether every instant of `a` precedes every instant of `b`."""
    if a.latest is not None and b.earliest is not None and a.latest < b.earliest:
        return Answer.YES
    if a.earliest is not None and b.latest is not None and a.earliest >= b.latest:
        return Answer.NO
    return Answer.CANNOT_TELL


def inside(a: Interval, b: Interval) -> Answer:
    """Tell whether `a` lies in `b`: yes only when the whole of it does.

    No when they cannot overlap. An open end of `b` is a missing fact, not an endless
    stretch: towards it nothing is asserted.
    """
    if before(a, b) is Answer.YES or before(b, a) is Answer.YES:
        return Answer.NO
    if a.earliest is None or a.latest is None or b.earliest is None or b.latest is None:
        return Answer.CANNOT_TELL
    if b.earliest <= a.earliest and a.latest <= b.latest:
        return Answer.YES
    return Answer.CANNOT_TELL


@dataclass(frozen=True, slots=True)
class Moment:
    """A time that a person wrote in a record.

    `at` is its first instant, with the fixed UTC offset in force at the site; `written` is the
    text as found in the record; `precision` says how long it may be. `ends` is the first instant
    after it, where its length is not the usual one: a day on which the clocks change has 23 or
    25 hours.
    """

    at: datetime
    written: str
    precision: Precision
    ends: datetime | None = None

    @property
    def day(self) -> date:
        """The local calendar date at the site."""
        return self.at.date()

    @property
    def said(self) -> str:
        """The text as a sentence says it: no T between day and hour, no seconds that TOML adds."""
        text = re.sub(r"(?<=\d)[Tt](?=\d)", " ", self.written)
        if self.precision is Precision.MINUTE:
            text = re.sub(r"(?<= \d\d:\d\d):00(?:\.0+)?", "", text)
        return text

    def interval(self, basis: str) -> Interval:
        """Give the stretch of time that the written text names."""
        spans = {
            Precision.SECOND: timedelta(seconds=1),
            Precision.MINUTE: timedelta(minutes=1),
            Precision.DAY: timedelta(days=1),
        }
        ends = self.ends or self.at + spans[self.precision]
        return Interval(self.at, ends - timedelta(microseconds=1), basis)
