"""What the facts amount to: dated photos, episodes, receipts graded, time limits, gaps, findings.

A case is derived and can be thrown away. Each conclusion names the facts and rules it rests on,
and what could not be checked stands beside what was.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum

from claimkit.model.answers import Answer
from claimkit.model.clock import ClockState
from claimkit.model.facts import Facts
from claimkit.model.measurement import Measurement
from claimkit.model.moment import Interval
from claimkit.model.quantities import Money, Span
from claimkit.model.records import Stage
from claimkit.model.source import Source


class Reader(StrEnum):
    """For whom a packet is made."""

    CARRIER = "carrier"
    SELLER = "seller"
    CUSTOMER = "customer"
    OWN = "own"


class Standing(StrEnum):
    """How a finding bears on the user's position."""

    SUPPORTS = "supports"
    AGAINST = "does not support"
    MISSING = "missing"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Finding:
    """One conclusion of one rule.

    `rule` is its public id. `where` names the shipment, item, seam or file. `message` says what
    is so and `do_next` what to do (empty where nothing is to be done). `urgent` is True where it
    can only be mended now: before the driver leaves, before the sealant.
    """

    rule: str
    standing: Standing
    where: str
    message: str
    do_next: str
    evidence: tuple[Source, ...]
    citation: str
    urgent: bool = False


@dataclass(frozen=True, slots=True)
class NotChecked:
    """A rule that could not be applied, and why. `crashed` marks a defect of claimkit itself."""

    rule: str
    where: str
    reason: str
    crashed: bool = False


class TimeBasis(StrEnum):
    """What a photo's time rests on, best first."""

    OFFSET_TAG = "camera's offset tag"
    SITE_ZONE = "site's time zone assumed"
    CLOCK_SHOWN = "corrected by a clock shown in a picture"
    CLOCKS_AGREE = "corrected by GPS and the records, which agree"
    GPS_ALONE = "corrected by GPS alone"
    VIDEO_DATE = "video's own date with its offset"
    VIDEO_CLOCK = "video's clock of unknown zone"
    NONE = "no usable time"


@dataclass(frozen=True, slots=True)
class ClockCorrection:
    """What must be added to a camera's time, between `low` and `high`, and what says so.

    `evidence` are sentences with their `sources`. `holds` is True where the corrected time may
    place the photo in an episode: a clock in a picture near enough in time, or independent
    evidence that agrees; `why_not` says why it is False. `named` says what kind of error would
    give this difference.
    """

    low: timedelta
    high: timedelta
    basis: TimeBasis
    evidence: tuple[str, ...]
    sources: tuple[Source, ...]
    holds: bool
    named: str | None = None
    why_not: str | None = None


@dataclass(frozen=True, slots=True)
class DatedPhoto:
    """A photo and when it was taken, as far as can be told.

    `taken` has unknown ends where nothing dates it. `camera_text` is the date tag exactly as the
    camera wrote it with its offset, `tag` its name. `why` says in words how the interval follows.
    `beside` are sentences on what corroborates or contradicts: GPS, file name. `stage` is the one
    episode whose interval holds the whole of `taken`, else None. `suspicions` are rule ids such
    as a default clock. `by` is the id of the photographer, None where nobody is named.
    `correction` is what the evidence says must be added to the camera's time, `corrected` the
    interval that follows; both None where the camera's time stands as it is.
    """

    sha256: str
    taken: Interval
    basis: TimeBasis
    camera_text: str | None
    tag: str | None
    why: str
    beside: tuple[str, ...] = ()
    stage: Stage | None = None
    episode: str | None = None
    suspicions: tuple[str, ...] = ()
    by: str | None = None
    correction: ClockCorrection | None = None
    corrected: Interval | None = None

    @property
    def stands(self) -> Interval:
        """Give the time that decides: the corrected one where it holds, else the camera's."""
        if self.corrected and self.correction and self.correction.holds:
            return self.corrected
        return self.taken

    @property
    def rests_on(self) -> TimeBasis:
        """Tell what the deciding time rests on."""
        holds = self.correction and self.correction.holds
        return self.correction.basis if self.correction and holds else self.basis


@dataclass(frozen=True, slots=True)
class Episode:
    """A stretch of the work. `id` is unique in the case; `about` names shipment, seams or piece.

    `interval` runs from the earliest to the latest instant that certainly belong to it (an end
    that no record states is None). `sources` are the records that state its ends. `widest` runs
    from the first to the last instant that may belong to it: what lies outside is certainly not
    part of it.
    """

    id: str
    stage: Stage
    interval: Interval
    about: str
    sources: tuple[Source, ...]
    widest: Interval | None = None


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
    one.
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


class LimitState(StrEnum):
    """How a time limit stands on the legal day. NO_DATE runs, and no number of days ends it."""

    NOT_STARTED = "not started"
    NO_DATE = "running, no date"
    RUNNING = "running"
    DUE_PASSED = "act-by day passed"
    MET = "met"
    MET_LATE = "met late"
    PASSED = "passed"


@dataclass(frozen=True, slots=True)
class TimeLimit:
    """One clause applied to one shipment.

    `nominal` is the last day by the plain count, `act_by` the careful day, always a working day;
    both None until the event has happened, or where no number of days is set. `because` are the
    steps of the count as sentences, `span_source` names the paper where the user's own period
    replaced the clause's.
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

    def steps(self) -> tuple[str, ...]:
        """Give the whole count: what the last day follows from, then the day to act."""
        return self.because + self.act_because


class Fit(StrEnum):
    """A gap against its design limits."""

    WITHIN = "within design"
    OUTSIDE = "outside design"
    CANNOT_TELL = "cannot tell"


class Change(StrEnum):
    """A gap between two episodes."""

    OPENED = "opened"
    CLOSED = "closed"
    UNCHANGED = "unchanged"
    CANNOT_TELL = "cannot tell"


@dataclass(frozen=True, slots=True)
class GapReading:
    """One reading of one station in one episode, with its uncertainty's parts.

    `repeats_mm` are the readings as typed, `written` their texts. `state` says how the pieces
    stood (place, level, clamped) for comparability. `witness` are photo hashes; `witness_holds`
    tells whether each named photo is itself dated in the right stage. `piece` names a replacement
    piece, `remarks` say how the repeats were treated.
    """

    seam: str
    station: str
    stage: Stage
    taken: Interval
    measurement: Measurement
    repeats_mm: tuple[float, ...]
    written: tuple[str, ...]
    instrument: str
    state: tuple[str, ...]
    celsius: float | None
    source: Source
    record: str
    witness: tuple[str, ...] = ()
    witness_holds: Answer = Answer.CANNOT_TELL
    piece: str | None = None
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FitJudgement:
    """within / outside / cannot tell, with the probability of conformance (JCGM 106:2012)."""

    fit: Fit
    p_within: float | None
    because: str
    settle: str = ""


@dataclass(frozen=True, slots=True)
class ChangeJudgement:
    """opened / closed / unchanged / cannot tell, with the difference and its probabilities.

    `difference` is later less earlier, temperature taken out where it could be. `chance_shown` is
    the chance that these two readings could have shown "unchanged" had nothing changed.
    """

    change: Change
    difference: Measurement | None
    p_opened: float | None
    p_closed: float | None
    p_unchanged: float | None
    tolerance_mm: float | None
    because: str
    settle: str = ""
    chance_shown: float | None = None


@dataclass(frozen=True, slots=True)
class Comparison:
    """One station between two readings: three answers, not one.

    The dry fit against the latest reading; where `step` is True, two consecutive readings.
    `at_dry_fit` is about the dry fit in both; `at_before` judges the earlier reading of the two
    and `now` the later. `between` names the two episodes. `not_comparable` says why the two
    readings were not compared, empty where they were.
    """

    seam: str
    station: str
    before: GapReading | None
    after: GapReading | None
    at_dry_fit: FitJudgement
    change: ChangeJudgement
    now: FitJudgement
    at_before: FitJudgement | None = None
    step: bool = False
    between: str = ""
    piece: str | None = None
    not_comparable: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Difference:
    """Ordered against received, one item and one property. `same` is no where they differ.

    `short` is the number of pieces found fewer than ordered; 0 for every other property.
    """

    item: str
    shipment: str | None
    what: str
    ordered: str
    found: str
    same: Answer
    sources: tuple[Source, ...]
    short: int = 0


@dataclass(frozen=True, slots=True)
class Element:
    """One element of the carrier's liability and what bears on it.

    `name` is good order at origin, damaged at delivery, or amount. The texts carry their sources.
    """

    name: str
    shipment: str
    shown: Answer
    supports: tuple[tuple[str, tuple[Source, ...]], ...]
    against: tuple[tuple[str, tuple[Source, ...]], ...]
    missing: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AmountLine:
    """One line of the worksheet: quantity × price, exact; what takes off has a negative total.

    `kind` is one of the words of `findings.amount`, `steps` how the total follows, each rounding
    said. A line that is not `claimed` stands beside the sum and is not in it. `item` is empty
    where a line concerns the whole shipment.
    """

    item: str
    shipment: str
    quantity: int
    price: Money
    total: Money
    why: str
    sources: tuple[Source, ...]
    kind: str = "goods"
    steps: tuple[str, ...] = ()
    claimed: bool = True


class Asked(StrEnum):
    """Whom to ask for something that is wrong. A broker is none of them."""

    ORIGIN_CARRIER = "origin carrier"
    DELIVERING_CARRIER = "delivering carrier"
    LAST_MILE_CARRIER = "last-mile carrier"
    SELLER = "seller"
    MAKER = "maker"
    INSURER = "insurer"
    OWN_WORK = "own work"


@dataclass(frozen=True, slots=True)
class Candidate:
    """One who may be asked: yes where the facts say so, no, or cannot tell.

    `party` is the id of the party where job.toml names one. `because` are the facts with their
    sources, `settle` what would decide where the answer is cannot tell.
    """

    who: Asked
    party: str | None
    answer: Answer
    because: tuple[tuple[str, tuple[Source, ...]], ...]
    settle: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Addressee:
    """Whom to ask for one damage, shortage, wrong part or gap; several where the facts allow.

    `kind` is damage, shortage, wrong part or gap; `about` names it in words, `where` its record,
    item or seam.
    """

    kind: str
    where: str
    about: str
    shipment: str | None
    candidates: tuple[Candidate, ...]
    sources: tuple[Source, ...]

    @property
    def asked(self) -> tuple[Candidate, ...]:
        """Give those whom the facts name."""
        return tuple(c for c in self.candidates if c.answer is Answer.YES)


@dataclass(frozen=True, slots=True)
class Liability:
    """What a carrier may show as the limit of its liability for one shipment; never taken off.

    `rule` is the row of `rules.liability` or the user's own entry. `amount` is in the currency of
    the text, XDR for special drawing rights; `converted` where the user gave a rate and its day.
    `loss` is the full actual loss as far as it has a price, None where it has none.
    """

    rule: str
    shipment: str
    title: str
    amount: Money
    converted: Money | None
    loss: Money | None
    steps: tuple[str, ...]
    citation: str
    mark: str
    sources: tuple[Source, ...]

    @property
    def below_loss(self) -> Answer:
        """Tell whether the limit is less than the loss; cannot tell across currencies."""
        for shown in (self.amount, self.converted):
            if shown and self.loss and shown.currency == self.loss.currency:
                return Answer.YES if shown.amount < self.loss.amount else Answer.NO
        return Answer.CANNOT_TELL


@dataclass(frozen=True, slots=True)
class Case:
    """All that follows from the facts on one legal day."""

    facts: Facts
    as_of: date
    now: datetime
    photos: tuple[DatedPhoto, ...] = ()
    episodes: tuple[Episode, ...] = ()
    receipts: tuple[Receipt, ...] = ()
    limits: tuple[TimeLimit, ...] = ()
    readings: tuple[GapReading, ...] = ()
    comparisons: tuple[Comparison, ...] = ()
    differences: tuple[Difference, ...] = ()
    amount: tuple[AmountLine, ...] = ()
    elements: tuple[Element, ...] = ()
    liabilities: tuple[Liability, ...] = ()
    addressees: tuple[Addressee, ...] = ()
    findings: tuple[Finding, ...] = ()
    not_checked: tuple[NotChecked, ...] = ()
    clocks: tuple[ClockState, ...] = ()
    videos: tuple[DatedPhoto, ...] = ()
