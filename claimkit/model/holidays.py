"""The public holidays of a place for some years, as a table that can be kept."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class PublicHolidays:
    """The holidays of a country (ISO 3166 code) or of a subdivision of it, with their names.

    `days` are all those of the years from `first_year` to `last_year`, both included, in order.
    `basis` says in a sentence where they come from.
    """

    country: str
    subdivision: str | None
    first_year: int
    last_year: int
    days: tuple[tuple[date, str], ...]
    basis: str
