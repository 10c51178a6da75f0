"""A job in brief, kept in the index: its dates as they stand on any day, and what was open.

The days of a time limit do not depend on the day of asking; how it stands on that day is worked
out from them. What does depend on it is kept with the day on which it would change.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import date, datetime

from claimkit.model.limit import LimitState, Whose


@dataclass(frozen=True, slots=True)
class LimitBrief:
    """One time limit of one shipment. `carrier` holds the carriers' names for filtering.

    `matters` is False where passing it would cost nothing, as far as the record shows. `undated`
    is True for a limit that runs without a number of days. From `doubt_on` something is on record
    that may or may not have met it.
    """

    clause: str
    title: str
    shipment: str
    carrier: str
    whose: Whose
    started_on: date | None
    nominal: date | None
    act_by: date | None
    met_on: date | None
    matters: bool
    undated: bool
    repeats: bool
    do: str
    to: str
    doubt_on: date | None = None

    def state_on(self, as_of: date) -> LimitState:
        """Say how it stands on a day: the same as a run on that day would say."""
        if self.undated and not (self.met_on and self.met_on <= as_of):
            return LimitState.NO_DATE
        if self.nominal is None:
            return LimitState.NOT_STARTED if self.met_on is None else LimitState.MET
        if self.met_on and self.met_on <= as_of:
            return LimitState.MET if self.met_on <= self.nominal else LimitState.MET_LATE
        if as_of > self.nominal:
            doubted = self.doubt_on is not None and self.doubt_on <= as_of
            return LimitState.IN_DOUBT if doubted else LimitState.PASSED
        if self.whose is Whose.OURS and self.act_by and as_of > self.act_by:
            return LimitState.DUE_PASSED
        return LimitState.RUNNING


@dataclass(frozen=True, slots=True)
class JobBrief:
    """One job folder in brief. `error` says why it could not be read at all, else empty.

    `worked_on` is the legal day that the counts and the next move were worked out for, and
    `holds_until` the last day on which they are the same (None: no date of the job changes them).
    `seen_at` is when its files were last looked at.
    """

    path: str
    folder: str
    title: str
    reference: str
    zone: str
    worked_on: date
    holds_until: date | None
    seen_at: datetime
    problems: int
    defects: int
    urgent: int
    missing: int
    against: int
    amount: str
    next_day: date | None
    next_text: str
    next_to: str
    next_passed: bool
    error: str
    limits: tuple[LimitBrief, ...]


@dataclass(frozen=True, slots=True)
class CalendarEntry:
    """One all-day entry. `key` names it within its job; `digest` changes with what it says."""

    key: str
    day: date
    summary: str
    text: str

    @property
    def digest(self) -> str:
        """Name what the entry says."""
        said = f"{self.day.isoformat()}\0{self.summary}\0{self.text}"
        return hashlib.sha256(said.encode()).hexdigest()[:16]
