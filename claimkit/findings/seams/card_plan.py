"""Which scale card stands at which station: the job's own numbers first, free ones proposed.

Three cards a seam are worth their work: both ends, where a taper shows, and the middle, where a
bow shows. What is left out is named with its reason. The job's own file is never written; a
proposal is told as the line to add.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from claimkit.model.job import Job, Joint, Seam, Station
from claimkit.rules.card_layout import CARDS, SHEET_COLUMNS, SHEET_ROWS
from claimkit.rules.card_sheet import MOST_A_SEAM, NO_CARD

A_SHEET = SHEET_COLUMNS * SHEET_ROWS


@dataclass(frozen=True, slots=True)
class CardPlace:
    """A card and its station. `named` is False where the number is proposed and not in the job.

    `at` is the distance from the seam's start as written. `caution` says why a card that is asked
    for there is only a witness.
    """

    card: int
    seam: str
    station: str
    at: str | None
    named: bool
    caution: str | None = None


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A station, or with None a whole seam, that gets no card, and why."""

    seam: str
    station: str | None
    why: str


@dataclass(frozen=True, slots=True)
class CardPlan:
    """All cards of a print. `spares` fill the last sheet and stand for no station yet.

    `no_stations` are butt seams that name no station: nothing can be printed for them.
    """

    places: tuple[CardPlace, ...]
    left_out: tuple[LeftOut, ...]
    no_stations: tuple[str, ...]
    spares: tuple[int, ...]

    @property
    def proposed(self) -> tuple[CardPlace, ...]:
        """Give the places whose card job.toml does not name yet."""
        return tuple(place for place in self.places if not place.named)

    @property
    def sheets(self) -> tuple[tuple[int, ...], ...]:
        """Give the numbers of each sheet's cards, six or, where numbers run out, fewer."""
        numbers = [place.card for place in self.places] + list(self.spares)
        return tuple(
            tuple(numbers[start : start + A_SHEET]) for start in range(0, len(numbers), A_SHEET)
        )


def card_plan(job: Job, *, everything: bool = False) -> CardPlan:
    """Give a job's cards; with `everything` every station has one where a card can lie flat."""
    taken = {s.card for seam in job.seam for s in seam.station if s.card is not None}
    free = iter([number for number in range(CARDS) if number not in taken])
    places: list[CardPlace] = []
    left_out: list[LeftOut] = []
    for seam in job.seam:
        chosen = seam.station if everything and seam.joint not in NO_CARD else _worth(seam)
        for station in seam.station:
            number = station.card
            if number is None and station in chosen:
                number = next(free, None)
                if number is None:
                    left_out.append(LeftOut(seam.id, station.id, "all 146 numbers are taken"))
                    continue
            if number is None:
                left_out.append(LeftOut(seam.id, station.id, _why_not(seam)))
                continue
            places.append(_place(seam, station, number))
        if not seam.station and seam.joint in NO_CARD:
            left_out.append(LeftOut(seam.id, None, NO_CARD[seam.joint]))
    used = taken | {place.card for place in places}
    room = -len(places) % A_SHEET if places else A_SHEET
    spares = [n for n in reversed(range(CARDS)) if n not in used][:room]
    without = tuple(s.id for s in job.seam if not s.station and s.joint not in NO_CARD)
    return CardPlan(tuple(places), tuple(left_out), without, tuple(spares))


def _place(seam: Seam, station: Station, number: int) -> CardPlace:
    at = station.at.written if station.at else None
    named = station.card is not None
    return CardPlace(number, seam.id, station.id, at, named, NO_CARD.get(seam.joint))


def _worth(seam: Seam) -> tuple[Station, ...]:
    """Give the stations that are worth a card and have none: at most three a seam with those."""
    if seam.joint is not Joint.BUTT:
        return ()
    room = MOST_A_SEAM - sum(1 for station in seam.station if station.card is not None)
    wanted = [station for station in _three(seam.station) if station.card is None]
    return tuple(wanted[: max(room, 0)])


def _three(stations: tuple[Station, ...]) -> Iterator[Station]:
    """Give first, last and middle: by their distance where all state one, else as written."""
    if len(stations) <= MOST_A_SEAM:
        yield from stations
        return
    distances = [station.at.mm for station in stations if station.at]
    if len(distances) < len(stations):
        yield from (stations[0], stations[-1], stations[len(stations) // 2])
        return
    by_distance = sorted(zip(distances, stations, strict=True), key=lambda pair: pair[0])
    (start, first), *between, (end, last) = by_distance
    yield first
    yield last
    middle = (start + end) / 2
    yield min(between, key=lambda pair: abs(pair[0] - middle))[1]


def _why_not(seam: Seam) -> str:
    if seam.joint in NO_CARD:
        return NO_CARD[seam.joint]
    return (
        "both ends and the middle tell a taper and a bow, and three cards a seam are enough; "
        "read it with a rule or feeler gauge"
    )
