"""Time limits: one clause of a body of terms as data, and how it stands for one shipment.

The nominal last day is the plain count; the act-by day is the careful one and always a working day.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from claimkit.model.quantities import Span
from claimkit.model.source import Source


class Whose(StrEnum):
    """Who has to act within a time limit."""

    OURS = "ours"
    CARRIERS = "the carrier's"


@dataclass(frozen=True, slots=True)
class Clause:
    """One time limit of one body of terms, as data.

    `starts` and `met_by` name events in words of `rules.carriage`; `span` is the period,
    `endpoint` the counting rule's name, `cautious` the careful count's name. `mark` is S (read),
    P (summary read), M (from memory) or U (the user's own paper). `on_pass` says what passing it
    means. Effective dates are inclusive; outside them the clause is not checked. `texts` are the
    bill texts that print it (none: every text), `variant_of` the one limit that several texts
    print differently. `needs` are the conditions under which it binds and `concerns` what must be
    wrong for passing it to matter, both in words of `rules.carriage`. `floor` is the shortest
    period that a statute lets a carrier set. `repeats` is True where each period is followed by
    another. `party` is the id of the one party that must have the notice, where the paper names
    one. `sending_counts` cites a text that speaks of sending, so that what was sent in time and
    received after it may serve; `wants_amount` is True where the notice has to state an amount.
    """

    id: str
    terms: str
    title: str
    whose: Whose
    starts: str
    met_by: tuple[str, ...]
    span: Span
    endpoint: str
    cautious: str
    citation: str
    mark: str
    on_pass: str
    do: str
    to: str
    effective_from: date | None = None
    effective_to: date | None = None
    texts: tuple[str, ...] = ()
    variant_of: str = ""
    needs: tuple[str, ...] = ()
    concerns: str = ""
    floor: Span | None = None
    floor_citation: str = ""
    repeats: bool = False
    party: str = ""
    sending_counts: str = ""
    wants_amount: bool = False


class LimitState(StrEnum):
    """How a time limit stands on the legal day. NO_DATE runs, and no number of days ends it.

    IN_DOUBT: its last day is past, and something on record may or may not have met it.
    """

    NOT_STARTED = "not started"
    NO_DATE = "running, no date"
    RUNNING = "running"
    DUE_PASSED = "act-by day passed"
    MET = "met"
    MET_LATE = "met late"
    PASSED = "passed"
    IN_DOUBT = "not certain"


@dataclass(frozen=True, slots=True)
class TimeLimit:
    """One clause applied to one shipment.

    `nominal` is the last day by the plain count, `act_by` the careful day, always a working day;
    both None until the event has happened, or where no number of days is set. `because` are the
    steps of the count as sentences, `span_source` names the paper where the user's own period
    replaced the clause's. `provided` names the condition under which it is counted at all ("if the
    letter of … disallows"): such a limit is the owner's alone and is never stated as certain.
    `doubt` says what on record may or may not meet it, `doubt_on` since which day; `met_on` is
    then None.
    """

    clause: Clause
    shipment: str
    state: LimitState
    started_on: date | None
    nominal: date | None
    act_by: date | None
    met_on: date | None
    because: tuple[str, ...]
    sources: tuple[Source, ...]
    span: Span
    span_source: str | None = None
    act_because: tuple[str, ...] = ()
    provided: str = ""
    doubt: str = ""
    doubt_on: date | None = None

    def steps(self) -> tuple[str, ...]:
        """Give the whole count: what the last day follows from, then the day to act."""
        return self.because + self.act_because
