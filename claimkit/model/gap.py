"""Gaps as the case holds them: readings with their uncertainty, and what two of them amount to.

A reading is of one station in one episode. A comparison gives three answers: how the gap stood at
the dry fit, whether it changed, and how it stands now.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from claimkit.model.answers import Answer
from claimkit.model.card import CardReading
from claimkit.model.measurement import Measurement
from claimkit.model.moment import Interval
from claimkit.model.source import Source
from claimkit.model.stages import Stage


class Meaning(StrEnum):
    """What a reading meets: the panels' faces, or the opening that is seen between their edges."""

    FACES = "face to face"
    OPENING = "visible opening"


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
    piece, `remarks` say how the repeats were treated. `meaning` says what was met; `state_of` is
    the id of the record that tells how the pieces stood, `card` the scale card read in photos.
    `over_sealant` marks one of a filled joint, which shows the joint as it is seen.
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
    meaning: Meaning = Meaning.FACES
    state_of: str | None = None
    card: int | None = None
    over_sealant: bool = False


@dataclass(frozen=True, slots=True)
class FitJudgement:
    """within / outside / cannot tell, with the probability of conformance (JCGM 106:2012).

    `by_temperature` says both answers where they turn with a temperature that the seam was read
    at, empty otherwise; `p_within` is that of the gap as it was read.
    """

    fit: Fit
    p_within: float | None
    because: str
    settle: str = ""
    by_temperature: str = ""


@dataclass(frozen=True, slots=True)
class ChangeJudgement:
    """opened / closed / unchanged / cannot tell, with the difference and its probabilities.

    `difference` is later less earlier, temperature taken out where it could be. `chance_shown` is
    the chance that these two readings could have shown "unchanged" had nothing changed.
    `heat_mm` is what temperature did to the gap and was taken out; None where nothing was.
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
    heat_mm: float | None = None


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

    @property
    def how(self) -> str:
        """Say how both readings were taken: by hand, in photos, or one of each."""
        meanings = {r.meaning for r in (self.before, self.after) if r is not None}
        if meanings == {Meaning.OPENING}:
            return "in photos"
        return "by hand" if meanings <= {Meaning.FACES} else "by hand and in photos"


@dataclass(frozen=True, slots=True)
class PhotoGap:
    """One card in one photo joined to the job: where and when it stands, and what it shows.

    `gap` is the measurement with the print's scale and the edges' radius in it; None where it is
    refused, and then `refused` says why and `do_next` what to do. `stage` is None where photo time
    and loose tag leave it open or contradict each other. `decides` is True where the bench check
    lets the reading decide; `because` says why it does not.
    """

    sha256: str
    card: int
    reading: CardReading
    taken: Interval
    seam: str | None = None
    station: str | None = None
    stage: Stage | None = None
    gap: Measurement | None = None
    refused: str = ""
    do_next: str = ""
    decides: bool = False
    because: str = ""


@dataclass(frozen=True, slots=True)
class BenchRow:
    """One spacer photo of a bench check: known and measured, in mm; or why it was not measured."""

    photo: str
    sha256: str | None
    card: int | None
    known_mm: float
    measured: Measurement | None
    refused: str = ""

    @property
    def error_mm(self) -> float | None:
        """Measured less known, in mm."""
        return self.measured.value_mm - self.known_mm if self.measured else None


@dataclass(frozen=True, slots=True)
class Bench:
    """A bench check worked out for one camera: bias, spread and agreement of its photos, in mm.

    `bias_mm` is the mean error with its standard uncertainty `u_bias_mm`, `spread_mm` the standard
    deviation; None with fewer than two photos. `outside` counts errors beyond their own U (k = 2).
    """

    record: str
    camera: str | None
    cards: tuple[int, ...]
    rows: tuple[BenchRow, ...]
    bias_mm: float | None
    u_bias_mm: float | None
    spread_mm: float | None
    outside: int
    passed: bool
    because: str
    source: Source
