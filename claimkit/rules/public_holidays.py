"""The public holidays of a place, by the holidays library: one day, or a table of some years.

The library is slow to load, so a table is made when a job is read, and days outside it are asked
of the library when they are needed.
"""

from __future__ import annotations

from datetime import date
from functools import lru_cache
from typing import Any

from claimkit.model.holidays import PublicHolidays

BEFORE, AFTER = 2, 3  # years of a table before and after the one it is made in


class NotKnown(ValueError):
    """A place or a year whose public holidays are not known; the message says what to do."""


def holiday(country: str, subdivision: str | None, day: date) -> str | None:
    """Give a day's holiday name or None. Raises NotKnown for a place or a year not covered."""
    known = _known(country, subdivision)
    if not known.start_year <= day.year <= known.end_year:
        raise NotKnown(f"The public holidays of {day.year} are not known.")
    name: str | None = known.get(day)
    return name


def basis(country: str, subdivision: str | None) -> str:
    """Say where the holidays of a place come from. Raises NotKnown for a place not covered."""
    from importlib.metadata import version

    _known(country, subdivision)
    place = f"{country}-{subdivision}" if subdivision else country
    return f"Public holidays of {place} by the holidays library {version('holidays')}."


@lru_cache(maxsize=16)
def table(country: str, subdivision: str | None, year: int) -> PublicHolidays | None:
    """Give the holidays of a place around a year, or None where they are not known."""
    try:
        known = _known(country, subdivision)
    except NotKnown:
        return None
    first, last = max(year - BEFORE, known.start_year), min(year + AFTER, known.end_year)
    for each in range(first, last + 1):
        known.get(date(each, 1, 1))  # the library works a year out when it is first asked of it
    days = sorted((day, name) for day, name in known.items() if first <= day.year <= last)
    return PublicHolidays(
        country, subdivision, first, last, tuple(days), basis(country, subdivision)
    )


@lru_cache(maxsize=16)
def _known(country: str, subdivision: str | None) -> Any:
    import holidays

    try:
        known = holidays.country_holidays(country, subdiv=subdivision)
    except NotImplementedError:
        place = f"{country}-{subdivision}" if subdivision else country
        known_parts = holidays.list_supported_countries().get(country)
        write = (
            f"write one of {', '.join(known_parts)}, or leave site.subdivision out"
            if known_parts
            else "write the ISO 3166 code of the country in site.country"
        )
        raise NotKnown(f"The public holidays of {place} are not known: {write}.") from None

    # Without a language the library takes the reader's own, and the names would differ by machine.
    english = "en_US" in known.supported_languages
    language = "en_US" if english else known.default_language
    return holidays.country_holidays(country, subdiv=subdivision, language=language)
