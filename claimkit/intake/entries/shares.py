"""Working time and per cent as people write them on an invoice: '2.5 h', '1 h 45 min', '2 %'.

Both are exact: a quarter of an hour and a half per cent are fractions, never binary floats.
"""

from __future__ import annotations

import re
from fractions import Fraction

from claimkit.intake.entries.numbers import number, plain_text
from claimkit.intake.entries.problems import Unreadable, quoted
from claimkit.model.quantities import Hours, Share

_MOST_HOURS = 10_000  # five people for a year; more is another unit
_TIME = re.compile(
    r"(?:(?P<h>[\d.,/ -]+?) ?(?:h|hr|hrs|hour|hours))?(?: ?(?P<m>\d+) ?(?:min|minute|minutes))?",
    re.ASCII | re.IGNORECASE,
)
_SHARE = re.compile(r"(?P<n>[\d.,/ -]+?) ?(?:%|per ?cent|pct)", re.ASCII | re.IGNORECASE)


def working_time(text: str) -> Hours:
    """Read a working time in hours: '2.5 h', '45 min', '1 h 45 min'. Raises Unreadable."""
    plain = plain_text(text)
    found = _TIME.fullmatch(plain)
    if not found or not (found["h"] or found["m"]):
        raise Unreadable(
            f"{quoted(text)} is not a working time.", "Write such as '2.5 h' or '1 h 45 min'."
        )
    hours = (number(found["h"]) if found["h"] else Fraction(0)) + Fraction(int(found["m"] or 0), 60)
    if hours > _MOST_HOURS:
        raise Unreadable(f"{quoted(text)} is no plausible working time.", "Look again.")
    return Hours(hours, text)


def share(text: str) -> Share:
    """Read a per cent: '2 %', '12.5%', '2 1/2 per cent'. At most 100. Raises Unreadable."""
    found = _SHARE.fullmatch(plain_text(text))
    if not found:
        raise Unreadable(f"{quoted(text)} is not a per cent.", "Write such as '2 %'.")
    value = number(found["n"]) / 100
    if value > 1:
        raise Unreadable(f"{quoted(text)} is more than the whole.", "Look again at the number.")
    return Share(value, text)
