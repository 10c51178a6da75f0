"""What a scale card's print lacks: check lines not measured, a print out of scale, one refused.

No photo of a card can show that its print is too large or too small. Only its sheet's two check
lines can, so a card that is in use and was never checked is said while the sheet still exists.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from claimkit.findings.seams.gaps import seams_of
from claimkit.findings.seams.print_scale import (
    METHOD,
    lines_of,
    print_scale,
    scale_of,
    sheets_of,
)
from claimkit.findings.seams.words import listed, plain_mm
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.measuring import CardSheet
from claimkit.model.records import Record
from claimkit.model.source import Source
from claimkit.rules.card_layout import CHECK_WITHIN

Results = tuple[Finding | NotChecked, ...]


def cards_in_use(case: Case) -> dict[int, tuple[Source, ...]]:
    """Give each card that a station names or a photo shows measured, with what says so."""
    found: dict[int, list[Source]] = {}
    for number, seam in enumerate(seams_of(case), start=1):
        for place, station in enumerate(seam.station, start=1):
            if station.card is not None:
                key = f"seam[{number}].station[{place}].card"
                found.setdefault(station.card, []).append(
                    Source(path="job.toml", sha256=case.facts.job_sha256, key_path=key)
                )
    for seen in case.facts.cards:
        photo = case.facts.photo_of(seen.sha256)
        for card in {r.card for r in seen.readings if r.measurement is not None}:
            path = photo.places[0] if photo else None
            found.setdefault(card, []).append(Source(path=path, sha256=seen.sha256))
    return {card: tuple(found[card]) for card in sorted(found)}


def sheet_not_measured(case: Case) -> Results:
    """Name the cards in use whose sheet's check lines no record measures."""
    used = cards_in_use(case)
    scales = {card: print_scale(case, card) for card in used}
    lacking = [card for card in used if not scales[card].covered]
    if not lacking:
        return ()
    unknown = [r for card in lacking for r in sheets_of(case, card)]
    several = len(lacking) > 1
    told = "No record measures the check lines of " + (
        "the sheets of these cards." if several else "this card's sheet."
    )
    if unknown:
        told += (
            f" {unknown[0].path} names no instrument whose division is known, so it does not count."
        )
    u = scales[lacking[0]].u_relative * 100
    told += f" Each reading is widened by {u:.1f} % of the gap (1 SD) for that."
    return (
        Finding(
            "card-sheet-not-measured",
            Standing.MISSING,
            cards_named(lacking),
            told,
            "Measure both lines from tick to tick with a tape or rule and write a card_sheet "
            "record that names the cards; claimkit cards prints its lines. Where the sheet is "
            "gone, print and use new cards before the next reading.",
            tuple(source for card in lacking for source in used[card]),
            METHOD,
        ),
    )


def sheet_scaled(case: Case) -> Results:
    """Say which sheets were printed out of scale, and what that does to their cards' readings."""
    found = []
    for record, body in _sheets(case):
        scale, lines = scale_of(record), lines_of(body)
        if scale is None or scale.refused or all(line.passes for line in lines):
            continue
        off = " and ".join(line.told for line in lines if not line.passes)
        told = f"{off[:1].upper()}{off[1:]}. "
        told += (
            f"Readings with its cards are multiplied by {scale.factor:.4f}."
            if scale.factor != 1.0
            else "The line across passes, so gaps read with its cards stand as they are."
        )
        found.append(
            Finding(
                "card-sheet-scaled",
                Standing.NOTE,
                f"{record.path}, {_of_sheet(body)}",
                told,
                "It is taken into account. A sheet printed at 100 % (actual size) needs no such "
                "factor; keep these cards at stations that were read with them.",
                scale.sources,
                METHOD,
            )
        )
    return tuple(found)


def sheet_refused(case: Case) -> Results:
    """Name the sheets and cards in use whose check lines fit no print; their readings fall."""
    found = []
    told = set()
    for record, body in _sheets(case):
        scale = scale_of(record)
        if scale and scale.refused:
            told.add(scale.refused)
            found.append(_refused(f"{record.path}, {_of_sheet(body)}", scale.refused))
    for card in cards_in_use(case):
        why = print_scale(case, card).refused
        if why and why not in told:
            found.append(_refused(f"card {card}", why))
    return tuple(found)


def _refused(where: str, why: str) -> NotChecked:
    return NotChecked(
        "card-sheet-refused",
        where,
        f"{why} No reading with these cards is used. Measure both lines again and correct the "
        f"record; a line within {plain_mm(CHECK_WITHIN)} (1/32 in) passes. Where they are as "
        "written, print again at 100 %.",
    )


def _sheets(case: Case) -> Iterator[tuple[Record, CardSheet]]:
    for record in case.facts.in_force(CardSheet):
        if isinstance(record.body, CardSheet):
            yield record, record.body


def _of_sheet(body: CardSheet) -> str:
    return cards_named(sorted(set(body.cards))) if body.cards else "all cards"


def cards_named(cards: list[int]) -> str:
    """Name cards by their numbers: card 3; cards 0, 1 and 4."""
    return f"card{'' if len(cards) == 1 else 's'} {listed(str(card) for card in cards)}"


CHECKS: tuple[tuple[str, str, Callable[[Case], Results]], ...] = (
    (
        "card-sheet-not-measured",
        "The check lines of a scale card's sheet were never measured",
        sheet_not_measured,
    ),
    (
        "card-sheet-scaled",
        "A sheet of scale cards was printed out of scale, which is taken into account",
        sheet_scaled,
    ),
    (
        "card-sheet-refused",
        "A sheet's check lines fit no print, so its scale cards are not used",
        sheet_refused,
    ),
)
