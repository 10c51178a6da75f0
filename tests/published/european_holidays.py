"""Public holidays of Germany and France, 2011 to 2030, typed for the second count of days.

Easter Sundays were typed from the published tables of the Gregorian calendar and are checked
against python-dateutil in test_random_dates. Germany: those kept in every state (Article 2 of the
Unification Treaty for 3 October; the others by each state's law, from memory), and Reformation Day
of 2017, kept in every state that once. France: Code du travail L3133-1, from memory.
"""

from __future__ import annotations

from datetime import date, timedelta

EASTER_SUNDAYS = tuple(
    date.fromisoformat(text)
    for text in [
        "2011-04-24",
        "2012-04-08",
        "2013-03-31",
        "2014-04-20",
        "2015-04-05",
        "2016-03-27",
        "2017-04-16",
        "2018-04-01",
        "2019-04-21",
        "2020-04-12",
        "2021-04-04",
        "2022-04-17",
        "2023-04-09",
        "2024-03-31",
        "2025-04-20",
        "2026-04-05",
        "2027-03-28",
        "2028-04-16",
        "2029-04-01",
        "2030-04-21",
    ]
)
# Days after Easter Sunday.
GOOD_FRIDAY, EASTER_MONDAY, ASCENSION, WHIT_MONDAY = -2, 1, 39, 50


def _table(fixed: str, movable: tuple[int, ...], once: str = "") -> frozenset[date]:
    days = {
        date.fromisoformat(f"{sunday.year}-{month_day}")
        for sunday in EASTER_SUNDAYS
        for month_day in fixed.split()
    }
    days |= {sunday + timedelta(days=shift) for sunday in EASTER_SUNDAYS for shift in movable}
    return frozenset(days | {date.fromisoformat(text) for text in once.split()})


GERMAN = _table(
    "01-01 05-01 10-03 12-25 12-26",
    (GOOD_FRIDAY, EASTER_MONDAY, ASCENSION, WHIT_MONDAY),
    "2017-10-31",
)
FRENCH = _table(
    "01-01 05-01 05-08 07-14 08-15 11-01 11-11 12-25", (EASTER_MONDAY, ASCENSION, WHIT_MONDAY)
)
