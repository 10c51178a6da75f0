"""How long a printed card's millimetre is: what the check lines of its sheet say.

A printer that fits a page to its margins makes every card a few per cent smaller, and no photo of
a card can show it. Two lines of known length on each sheet, measured with a tape, do. Where nobody
measured them, a reading keeps its value and becomes as uncertain as such a print may be off.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from claimkit.findings.seams.words import plain_mm
from claimkit.model.case import Case
from claimkit.model.measuring import CardSheet
from claimkit.model.records import Record
from claimkit.model.source import Source, cited
from claimkit.rules.card_layout import CHECK_LINES, CHECK_WITHIN, CheckLine
from claimkit.rules.instruments import BY_INSTRUMENT

METHOD = "claimkit method: gap readings and their uncertainty (scale cards)"

FIT_TO_PAGE = 0.045
"""By how much “fit to page” shifts a print at most, about: common practice, no source."""
MOST_OFF = 0.1
"""A line further off than this part of its length was misread, or is of another sheet."""
SAME = 1e-6  # mm; lengths are exact as written, the limits are binary numbers


@dataclass(frozen=True, slots=True)
class LineMeasured:
    """A check line: what it should measure and what it does, in mm."""

    line: CheckLine
    measured: float

    @property
    def off(self) -> float:
        """By how much it is longer than it should be, in mm."""
        return self.measured - self.line.length

    @property
    def scale(self) -> float:
        """True length over nominal length."""
        return self.measured / self.line.length

    @property
    def passes(self) -> bool:
        """True where it is within the tolerance."""
        return abs(self.off) <= CHECK_WITHIN + SAME

    @property
    def told(self) -> str:
        """Say what it measures, in words."""
        return (
            f"the line {self.line.way} the sheet measures {plain_mm(self.measured)} where "
            f"{plain_mm(self.line.length)} was drawn"
        )


@dataclass(frozen=True, slots=True)
class PrintScale:
    """The scale of one card's print.

    `factor` is true mm per printed card mm, for lengths across the card; exactly 1 where the
    check line passes, is not known, or the card is refused. `u_relative` is its relative standard
    uncertainty. `refused` says why no reading with this card may be used. `covered` is True where
    a record measures its sheet. `because` is one sentence.
    """

    factor: float
    u_relative: float
    refused: str | None
    sources: tuple[Source, ...]
    because: str
    covered: bool = True


def sheets_of(case: Case, card: int) -> tuple[Record, ...]:
    """Give the records in force that measure a card's sheet; those that name it come alone."""
    records = case.facts.in_force(CardSheet)
    named = tuple(r for r in records if isinstance(r.body, CardSheet) and card in r.body.cards)
    return named or tuple(r for r in records if isinstance(r.body, CardSheet) and not r.body.cards)


def print_scale(case: Case, card: int) -> PrintScale:
    """Give the print scale of a card, 0 to 145, from the records that measure its sheet.

    Several records that cover one card must agree, for nobody can tell which print was used.
    """
    found = [scale for record in sheets_of(case, card) if (scale := scale_of(record))]
    if not found:
        return _not_measured(card, sheets_of(case, card))
    sources = tuple(source for scale in found for source in scale.sources)
    refused = next((scale for scale in found if scale.refused), None)
    if refused:
        return refused
    factors = [scale.factor for scale in found]
    least = min(line.length for _, pair in CHECK_LINES for line in pair)
    if max(factors) - min(factors) > CHECK_WITHIN / least:
        why = (
            f"{len(found)} records measure a sheet with card {card} and give its print a "
            f"different scale ({', '.join(f'{factor:.4f}' for factor in factors)})."
        )
        return _refused(why, sources)
    widest = max(found, key=lambda scale: scale.u_relative)
    return PrintScale(widest.factor, widest.u_relative, None, sources, widest.because)


def scale_of(record: Record) -> PrintScale | None:
    """Give the print scale that one record states; None where its instrument has no division."""
    body = record.body
    if not isinstance(body, CardSheet):
        return None
    row = BY_INSTRUMENT[body.instrument]
    if row.resolution_mm is None:
        return None
    sources = tuple(
        Source(path=record.path, sha256=record.sha256, key_path=key) for key in ("along", "across")
    )
    along, across = lines_of(body)
    why = _why_refused(along, across)
    if why:
        return _refused(why, sources)
    hand = math.hypot(float(row.resolution_mm) / math.sqrt(12.0), row.operator_mm)
    even = CHECK_WITHIN / math.sqrt(3.0)
    u = math.hypot(hand / across.line.length, even / across.line.length)
    u = math.hypot(u, row.scale_limit / math.sqrt(3.0))
    if across.passes:
        because = f"{_capital(across.told)}, within {plain_mm(CHECK_WITHIN)}: the card is to size."
        return PrintScale(1.0, u, None, sources, because)
    because = (
        f"{_capital(across.told)}, so lengths read with its cards are multiplied by "
        f"{across.scale:.4f}."
    )
    return PrintScale(across.scale, u, None, sources, because)


def lines_of(body: CardSheet) -> tuple[LineMeasured, LineMeasured]:
    """Give the two check lines of a measured sheet: along and across."""
    along, across = dict(CHECK_LINES)[body.paper]
    return (
        LineMeasured(along, float(body.along.mm)),
        LineMeasured(across, float(body.across.mm)),
    )


def _why_refused(along: LineMeasured, across: LineMeasured) -> str | None:
    """Say why a sheet cannot be used: a line far off, or no one scale that fits both lines."""
    for line in (along, across):
        if abs(line.scale - 1.0) > MOST_OFF:
            return (
                f"{_capital(line.told)}: more than {MOST_OFF * 100:.0f} % off, so it was misread "
                "or is of another sheet."
            )
    room = CHECK_WITHIN / along.line.length + CHECK_WITHIN / across.line.length
    if abs(along.scale - across.scale) > room + SAME:
        return (
            f"{_capital(along.told)}, and {across.told}: the print is stretched one way, or a "
            "line was misread."
        )
    return None


def _refused(why: str, sources: tuple[Source, ...]) -> PrintScale:
    return PrintScale(1.0, FIT_TO_PAGE / math.sqrt(3.0), why, sources, why)


def _not_measured(card: int, records: tuple[Record, ...]) -> PrintScale:
    """Widen for a print that nobody measured, or with something whose division is not known."""
    because = (
        f"No record measures the check lines of card {card}'s sheet, so its print may be off by "
        f"up to {FIT_TO_PAGE * 100:.1f} %."
    )
    sources = tuple(Source(path=record.path, sha256=record.sha256) for record in records)
    if records:
        because = (
            f"The check lines of card {card}'s sheet were measured with an instrument whose "
            f"division is not known, so its print may be off by up to {FIT_TO_PAGE * 100:.1f} %."
        )
    u = FIT_TO_PAGE / math.sqrt(3.0)
    return PrintScale(1.0, u, None, sources or (cited(METHOD),), because, covered=False)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
