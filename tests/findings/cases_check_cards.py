"""For each rule about printed cards a case that fires and one that differs by one fact."""

from __future__ import annotations

from collections.abc import Callable

from claimkit.model.case import Case
from claimkit.model.job import Station
from claimkit.model.measuring import CardSheet, Instrument
from tests.build import case, facts, inches, job, record, seam


def sheet(record_id: str = "cards", **more) -> object:
    """A record of a Letter sheet whose lines measure what they should, by a tape of 1/32 in."""
    values = {
        "paper": "letter",
        "along": inches("10"),
        "across": inches("7"),
        "instrument": Instrument.TAPE_32ND,
    }
    return record(record_id, CardSheet(**(values | more)))


def with_cards(*records, cards: tuple[int | None, ...] = (3,)) -> Case:
    """A seam with a station for each card, and these records."""
    stations = tuple(Station(id=f"s{n}", card=card) for n, card in enumerate(cards))
    return case(facts(job_=job(seam=(seam(station=stations),)), records=records))


CASES: dict[str, tuple[Callable[[], Case], Callable[[], Case]]] = {
    "card-sheet-not-measured": (
        lambda: with_cards(sheet(cards=(4,))),
        lambda: with_cards(sheet(cards=(3,))),
    ),
    # 7 in ± 1/32 in passes; 6 15/16 in is 1/16 in short. Along it is short in the same measure.
    "card-sheet-scaled": (
        lambda: with_cards(sheet(across=inches("6 15/16"), along=inches("9 29/32"))),
        lambda: with_cards(sheet(across=inches("6 31/32"), along=inches("9 31/32"))),
    ),
    # 1/4 in short across and true along: no one scale makes both within 1/32 in.
    "card-sheet-refused": (
        lambda: with_cards(sheet(across=inches("6 3/4"))),
        lambda: with_cards(sheet(across=inches("6 31/32"))),
    ),
}
