"""One written begin and end become a stretch of the work: what certainly belongs, what may.

A time written to the minute leaves that minute out at both ends. A step of the work written as a
day is that whole day, because no record says more; such soft ends give way to a time on the same
day that is written more finely. A truck at the curb gets no such leave: minutes decide there.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from zoneinfo import ZoneInfo

from claimkit.findings.written_time import stretch_of
from claimkit.model.moment import Interval, Moment, Precision
from claimkit.model.source import Source
from claimkit.model.stages import Stage

ORDER: tuple[Stage, ...] = tuple(Stage)


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch of one stage. `lo` to `hi` certainly belong, `first` to `last` may.

    None is an end that no record states. `begun` is the instant by which it had certainly begun.
    `lo_soft` and `hi_soft` mark ends that rest on a day's own bounds, `open_end` that no record
    states an end. `why` says in words what the ends rest on.
    """

    stage: Stage
    lo: datetime | None
    hi: datetime | None
    first: datetime | None
    last: datetime | None
    why: str
    sources: tuple[Source, ...]
    begun: datetime | None = None
    lo_soft: bool = False
    hi_soft: bool = False
    open_end: bool = False

    def interval(self) -> Interval:
        """Give what certainly belongs; both ends unknown where nothing certainly does."""
        if self.lo and self.hi and self.hi < self.lo:
            return Interval(None, None, f"{self.why}; no instant certainly belongs to it")
        return Interval(self.lo, self.hi, self.why)

    def widest(self) -> Interval:
        """Give what may belong."""
        if self.first and self.last and self.last < self.first:
            return Interval(None, None, f"{self.why}; the ends contradict each other")
        # What certainly belongs may belong, whatever a neighbour's times say.
        first = min(self.first, self.lo) if self.first and self.lo else self.first
        last = max(self.last, self.hi) if self.last and self.hi else self.last
        return Interval(first, last, self.why)


def contradicts(began: Interval | None, ended: Interval | None) -> bool:
    """Tell whether the end was certainly before the beginning."""
    return bool(
        began and ended and began.earliest and ended.latest and ended.latest < began.earliest
    )


def written_stretch(
    stage: Stage,
    began: Moment | None,
    ended: Moment | None,
    zone: ZoneInfo | None,
    sources: tuple[Source, ...],
) -> Stretch:
    """Make the stretch that a record's own begin and end name, whole days where it gives days."""
    b = stretch_of(began, zone) if began else None
    e = stretch_of(ended, zone) if ended else None
    if contradicts(b, e):
        return Stretch(stage, None, None, None, None, "the record ends before it begins", sources)
    day_began = began is not None and began.precision is Precision.DAY
    day_ended = ended is not None and ended.precision is Precision.DAY
    lo = (b.earliest if day_began else b.latest) if b else None
    hi = b.latest if b and day_began else None
    if e:
        hi = e.latest if day_ended else e.earliest
    if lo and hi and hi < lo and b and e:
        # Begun and ended within one written minute: that minute is the stretch.
        lo, hi = b.earliest, e.latest
    words = [f"began {began.said}"] if began else []
    words.append(f"ended {ended.said}" if ended else "no end stated")
    why = " and ".join(words) + (" (a day counts whole)" if day_began or day_ended else "")
    return Stretch(
        stage,
        lo,
        hi,
        b.earliest if b else None,
        e.latest if e else None,
        why,
        sources,
        begun=b.latest if b else None,
        lo_soft=day_began,
        hi_soft=day_ended or (day_began and not ended),
        open_end=ended is None,
    )


def trimmed(stretches: tuple[Stretch, ...], by: tuple[Stretch, ...]) -> tuple[Stretch, ...]:
    """Let soft ends give way to finely written ends of earlier and later stages on that day."""
    return tuple(_trimmed(stretch, by) for stretch in stretches)


def _trimmed(stretch: Stretch, by: tuple[Stretch, ...]) -> Stretch:
    lo, hi = stretch.lo, stretch.hi
    for other in by:
        place, own = ORDER.index(other.stage), ORDER.index(stretch.stage)
        end, begin = other.last, other.first
        if stretch.lo_soft and lo and hi and end and not other.hi_soft and place < own:
            lo = end if lo < end < hi else lo
        if stretch.hi_soft and lo and hi and begin and not other.lo_soft and place > own:
            hi = begin if lo < begin < hi else hi
    return replace(stretch, lo=lo, hi=hi)


def hull(stretches: tuple[Interval, ...]) -> tuple[datetime | None, datetime | None]:
    """Give the first and last instant of several written times."""
    first = min((i.earliest for i in stretches if i.earliest), default=None)
    last = max((i.latest for i in stretches if i.latest), default=None)
    return first, last
