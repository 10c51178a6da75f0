"""Planning a timeline: which stretches of time are drawn, at which scale, and what each one shows.

The first strip is the whole period to scale. Where many marks crowd in a short time, they are
drawn in a strip of their own, enlarged, and the strip above shows only a letter in their place.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from claimkit.model.document import TimelineBand, TimelineMark

SHORTEST = 600.0  # seconds; nothing is gained by enlarging less than ten minutes
_SHORT, _SHORT_BAND = 0.12, 0.25  # part of a strip that a crowd may cover to be enlarged
_CLOSE, _CLOSE_BAND = 0.004, 0.02  # part of a strip per mark under which marks crowd
_NEAR = 0.03  # part of a strip between marks that still crowd
_CROWD = 3
_MOST_PER_STRIP, _DEEPEST = 6, 4


@dataclass(frozen=True, slots=True)
class Item:
    """A mark or band with its ends as seconds since 1970-01-01 UTC."""

    begins: float
    ends: float
    what: TimelineMark | TimelineBand

    @property
    def is_band(self) -> bool:
        """True for a shaded stretch."""
        return isinstance(self.what, TimelineBand)


@dataclass(frozen=True, slots=True)
class Enlarged:
    """A place in a strip that another strip enlarges."""

    letter: str
    begins: float
    ends: float
    photos: int
    others: int


@dataclass(frozen=True, slots=True)
class Strip:
    """One drawn stretch of time. `letter` is empty for the whole period."""

    letter: str
    begins: float
    ends: float
    items: tuple[Item, ...]
    enlarged: tuple[Enlarged, ...]
    times: float  # how many times larger than the whole period


@dataclass(slots=True)
class _Letters:
    used: int = 0

    def next(self) -> str:
        number, text = self.used, ""
        self.used += 1
        while True:
            text = chr(ord("A") + number % 26) + text
            number = number // 26 - 1
            if number < 0:
                return text


def seconds(at: datetime, zone: ZoneInfo) -> float:
    """Give an instant as seconds; one without an offset is local time of the zone."""
    aware = at if at.tzinfo else at.replace(tzinfo=zone)
    return (aware - datetime(1970, 1, 1, tzinfo=UTC)) / timedelta(seconds=1)


def items_of(
    marks: Sequence[TimelineMark], bands: Sequence[TimelineBand], zone: ZoneInfo
) -> tuple[Item, ...]:
    """Give the dated marks and the bands in the order of their instants."""
    found = [Item(*_span(m.earliest, m.latest, zone), m) for m in marks if m.kind != "undated"]
    found += [Item(*_span(b.begins, b.ends, zone), b) for b in bands]
    return tuple(sorted(found, key=lambda item: (item.begins, item.ends, item.what.label)))


def _span(first: datetime, last: datetime, zone: ZoneInfo) -> tuple[float, float]:
    ends = seconds(first, zone), seconds(last, zone)
    return min(ends), max(ends)


def plan(items: tuple[Item, ...]) -> tuple[Strip, ...]:
    """Plan the strips for at least one item.

    Every mark stands in exactly one strip, a band in each that it overlaps. A strip is at least
    ten minutes long.
    """
    begins, ends = _padded(min(i.begins for i in items), max(i.ends for i in items))
    whole = Strip("", begins, ends, items, (), 1.0)
    return tuple(_strips(whole, tuple(i for i in items if i.is_band), _Letters(), 1))


def _padded(begins: float, ends: float) -> tuple[float, float]:
    pad = (ends - begins) * 0.04
    missing = max(0.0, SHORTEST - (ends - begins) - 2 * pad) / 2
    return begins - pad - missing, ends + pad + missing


def _strips(
    strip: Strip, bands: tuple[Item, ...], letters: _Letters, depth: int
) -> Iterator[Strip]:
    """Yield a strip whose `items` are still all of its marks, then those that enlarge parts."""
    crowds = _crowds(strip) if depth < _DEEPEST else []
    named = [(letters.next(), crowd) for crowd in crowds]
    hidden = {id(item) for _, crowd in named for item in crowd}
    marks = (i for i in strip.items if not i.is_band and id(i) not in hidden)
    shaded = (b for b in bands if b.begins < strip.ends and b.ends > strip.begins)
    enlarged = tuple(_enlarged(name, crowd) for name, crowd in named)
    yield replace(strip, items=(*shaded, *marks), enlarged=enlarged)
    for name, crowd in named:
        first, last = _padded(min(i.begins for i in crowd), max(i.ends for i in crowd))
        times = strip.times * (strip.ends - strip.begins) / (last - first)
        yield from _strips(Strip(name, first, last, crowd, (), times), bands, letters, depth + 1)


def _enlarged(letter: str, crowd: tuple[Item, ...]) -> Enlarged:
    marks = [item.what for item in crowd if isinstance(item.what, TimelineMark)]
    photos = sum(mark.kind == "photo" for mark in marks)
    return Enlarged(
        letter,
        min(item.begins for item in crowd),
        max(item.ends for item in crowd),
        photos,
        len(marks) - photos,
    )


def _crowds(strip: Strip) -> list[tuple[Item, ...]]:
    """Find what is worth enlarging: crowds of marks and small bands; of many, the fullest."""
    whole = strip.ends - strip.begins
    if whole <= 6 * SHORTEST:
        return []
    short = [item for item in strip.items if item.ends - item.begins <= _SHORT_BAND * whole]
    worth = [crowd for crowd in _runs(short, _NEAR * whole) if _worth(crowd, whole)]
    worth.sort(key=lambda crowd: (not any(i.is_band for i in crowd), -len(crowd)))
    return sorted(worth[:_MOST_PER_STRIP], key=lambda crowd: crowd[0].begins)


def _runs(items: Sequence[Item], near: float) -> Iterator[tuple[Item, ...]]:
    run: list[Item] = []
    last = 0.0
    for item in items:
        if run and item.begins - last > near:
            yield tuple(run)
            run = []
        last = max(last, item.ends) if run else item.ends
        run.append(item)
    if run:
        yield tuple(run)


def _worth(crowd: tuple[Item, ...], whole: float) -> bool:
    length = max(i.ends for i in crowd) - min(i.begins for i in crowd)
    marks = sum(not item.is_band for item in crowd)
    band = any(item.is_band for item in crowd)
    most = _SHORT_BAND if band else _SHORT
    crowded = marks * (_CLOSE_BAND if band else _CLOSE)
    return marks >= _CROWD and length <= min(most, crowded) * whole
