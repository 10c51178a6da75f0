"""Amounts for each unit of something, as tariffs and conventions state them: '2.00 USD per lb'.

A rate may have more decimals than its currency, since a published rate of exchange has. Special
drawing rights are no currency of an invoice and are taken here alone, under their code XDR.
"""

from __future__ import annotations

import re
from decimal import Decimal

from claimkit.intake.entries.numbers import plain_text
from claimkit.intake.entries.problems import Unreadable, listed, nearest, quoted
from claimkit.model.quantities import Rate
from claimkit.rules.currencies import CODES

_PER = {
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), "lb"),
    **dict.fromkeys(("kg", "kgs", "kilogram", "kilograms", "kilogramme", "kilo"), "kg"),
    **dict.fromkeys(("package", "packages", "pkg", "carton", "customary freight unit"), "package"),
    **dict.fromkeys(("shipment", "consignment"), "shipment"),
    **dict.fromkeys(("sdr", "xdr", "special drawing right"), "SDR"),
}
_UNITS = ("lb", "kg", "package", "shipment", "SDR")
_SDR = "XDR"
_MOST_DECIMALS = 6  # the International Monetary Fund publishes rates with six
_LARGEST = Decimal(10) ** 12
_AMOUNT = r"(?:\d+|\d{1,3}(?:,\d{3})+)(?:[.]\d+)?|[.]\d+"
_RATE = re.compile(
    rf"(?:([a-z]{{3}}) ?({_AMOUNT})|({_AMOUNT}) ?([a-z]{{3}})) ?(?:per|/|for each|a) ?([a-z ]+)",
    re.ASCII | re.IGNORECASE,
)
_AS = "Write such as '2.00 USD per lb', '8.33 SDR per kg' or '500 USD per package'."


def rate(text: str) -> Rate:
    """Read an amount for each unit: '2.00 USD per lb', 'CAD 4.41/kg', '1.3142 USD per SDR'.

    Exact, with up to six decimals. Raises Unreadable for a bare number, a sign such as $, an
    unknown code or unit.
    """
    found = _RATE.fullmatch(plain_text(text))
    if not found:
        raise Unreadable(f"{quoted(text)} is not an amount for each unit.", _AS)
    written = (found[2] or found[3]).replace(",", "")
    amount = Decimal(written)
    if len(written.partition(".")[2]) > _MOST_DECIMALS or amount > _LARGEST:
        raise Unreadable(f"{quoted(text)} is no plausible rate.", "Look again at the number.")
    return Rate(amount, _code(found[1] or found[4], text), _unit(found[5]), text)


def _code(code: str, text: str) -> str:
    upper = code.upper()
    if upper in ("SDR", _SDR):
        return _SDR
    if upper not in CODES:
        like = nearest(upper, CODES) or "USD"
        raise Unreadable(
            f"{quoted(code)} in {quoted(text)} is not a currency code of ISO 4217.",
            f"Write the code of the currency, such as {like}, or SDR.",
        )
    return upper


def _unit(unit: str) -> str:
    plain = unit.strip().lower()
    if plain not in _PER:
        raise Unreadable(
            f"{quoted(unit.strip())} is no unit that a rate is for.",
            f"Write {listed(_UNITS)}.",
        )
    return _PER[plain]
