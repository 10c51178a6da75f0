"""Lengths, weights and money exactly as written, with their exact value.

Inches are fractions and money is decimal: neither passes through a binary float. The text that
a person wrote stays beside the value that was read from it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class Length:
    """A length in millimetres, exact, and the text it was written as."""

    mm: Fraction
    written: str


@dataclass(frozen=True, slots=True)
class Weight:
    """A weight in kilograms, exact, and the text it was written as."""

    kg: Fraction
    written: str


@dataclass(frozen=True, slots=True)
class Temperature:
    """A temperature in degrees Celsius, exact, and the text it was written as."""

    celsius: Fraction
    written: str


@dataclass(frozen=True, slots=True)
class Money:
    """An exact amount and its ISO 4217 currency code.

    `written` is the text it was read from, empty where it was worked out; it takes no part in
    comparing two amounts.
    """

    amount: Decimal
    currency: str
    written: str = field(default="", compare=False)

    def __str__(self) -> str:
        """Print the amount with its currency, thousands grouped."""
        return f"{self.currency} {self.amount:,}"


@dataclass(frozen=True, slots=True)
class Rate:
    """An amount of money for each unit of something: '2.00 USD per lb', '1.3142 USD per SDR'.

    `per` is one of `lb`, `kg`, `package`, `shipment`, `SDR`. `currency` is an ISO 4217 code, or
    XDR for special drawing rights. `written` is the text it was read from.
    """

    amount: Decimal
    currency: str
    per: str
    written: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Span:
    """A length of time as a contract states it: a count of days, months or years.

    `unit` is one of `hours`, `calendar days`, `business days`, `months`, `years`. `extra_days`
    serves texts such as "two years and one day".
    """

    count: int
    unit: str
    extra_days: int = 0
    written: str = ""


@dataclass(frozen=True, slots=True)
class Hours:
    """Working time in hours, exact, and the text it was written as."""

    hours: Fraction
    written: str


@dataclass(frozen=True, slots=True)
class Share:
    """A part of a whole (0.02 for two per cent), exact, and the text it was written as."""

    of_one: Fraction
    written: str
