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
from claimkit.model.gap import Bench, Comparison, GapReading, PhotoGap
from claimkit.model.limit import TimeLimit
from claimkit.model.moment import Interval
from claimkit.model.opening import Explanation, OpeningState
from claimkit.model.quantities import Money
from claimkit.model.receipt import Receipt
from claimkit.model.seam_line import SeamLine
from claimkit.model.source import Source
from claimkit.model.stages import Stage


class Reader(StrEnum):
    """For whom a packet is made."""

    CARRIER = "carrier"
    SELLER = "seller"
    INSURER = "insurer"
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


@dataclass(frozen=True, slots=True)
class Difference:
    """Ordered against received, one item and one property. `same` is no where they differ.

    `short` is the number of pieces found fewer than ordered, without the `refused` ones that went
    back at the curb; both are 0 for every other property.
    """

    item: str
    shipment: str | None
    what: str
    ordered: str
    found: str
    same: Answer
    sources: tuple[Source, ...]
    short: int = 0
    refused: int = 0

    @property
    def not_here(self) -> int:
        """How many pieces were not received, refused ones among them."""
        return self.short + self.refused


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
    `loss` is the full actual loss as far as it has a price, None where it has none; `whole` says
    whether every item that is claimed has one.
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
    whole: bool = True

    @property
    def below_loss(self) -> Answer:
        """Tell whether the limit is less than the loss; cannot tell across currencies.

        A loss that is not whole may still grow: a limit above what is counted tells nothing.
        """
        for shown in (self.amount, self.converted):
            if shown and self.loss and shown.currency == self.loss.currency:
                above = Answer.NO if self.whole else Answer.CANNOT_TELL
                return Answer.YES if shown.amount < self.loss.amount else above
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
    lines: tuple[SeamLine, ...] = ()
    benches: tuple[Bench, ...] = ()
    photo_gaps: tuple[PhotoGap, ...] = ()
    openings: tuple[OpeningState, ...] = ()
    explanations: tuple[Explanation, ...] = ()
