"""Comparing uncertain times, against every way the unknown ends could fall.

The oracle counts: ends are hours, a missing end takes every value it could have, and the answer
is yes or no only where all of these agree. It knows nothing of the comparisons in the package.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone
from itertools import product

import pytest

from claimkit.model.answers import Answer
from claimkit.model.moment import Interval, Moment, Precision, before, inside

BASE = datetime(2026, 3, 2, tzinfo=UTC)
HOURS = range(4)
# One hour beyond the hours above on each side: a missing end may lie outside everything.
WIDE = range(-1, 5)
ENDS = [
    (first, last)
    for first, last in product([None, *HOURS], [None, *HOURS])
    if first is None or last is None or first <= last
]


def interval(ends):
    at = [None if end is None else BASE + timedelta(hours=end) for end in ends]
    return Interval(at[0], at[1], "test")


@pytest.mark.parametrize(
    "written,precision,said",
    [
        # How a TOML date-time stands in a file (TOML 1.0: T or a space, seconds always).
        ("2026-09-14T08:00:00", Precision.MINUTE, "2026-09-14 08:00"),
        ("2026-09-14t08:00:00", Precision.MINUTE, "2026-09-14 08:00"),
        ("2026-09-14 08:00:00", Precision.MINUTE, "2026-09-14 08:00"),
        ("2026-09-14T08:00:00.000", Precision.MINUTE, "2026-09-14 08:00"),
        ("2026-09-14T08:00:00-05:00", Precision.MINUTE, "2026-09-14 08:00-05:00"),
        ("2026-09-14T08:00:00Z", Precision.MINUTE, "2026-09-14 08:00Z"),
        ("2026-09-14T00:00:00", Precision.MINUTE, "2026-09-14 00:00"),
        # What was written to the second stays so.
        ("2026-09-14T08:00:07", Precision.SECOND, "2026-09-14 08:00:07"),
        ("2026-09-14 08:00:00", Precision.SECOND, "2026-09-14 08:00:00"),
        # As people write it.
        ("2026-09-14 08:00", Precision.MINUTE, "2026-09-14 08:00"),
        ("2026-09-14 08:00-05:00", Precision.MINUTE, "2026-09-14 08:00-05:00"),
        ("2026-09-14", Precision.DAY, "2026-09-14"),
    ],
)
def test_a_sentence_says_a_time_as_people_do(written, precision, said):
    moment = Moment(BASE, written, precision)
    assert moment.said == said
    assert moment.written == written


def fillings(ends):
    """Every set of hours that these ends allow."""
    firsts = WIDE if ends[0] is None else [ends[0]]
    lasts = WIDE if ends[1] is None else [ends[1]]
    return [set(range(a, b + 1)) for a, b in product(firsts, lasts) if a <= b]


def agreed(answers):
    return Answer.CANNOT_TELL if len(set(answers)) > 1 else answers[0]


@pytest.mark.parametrize("a", ENDS)
def test_before_is_told_only_where_every_instant_agrees(a):
    for b in ENDS:
        pairs = product(set().union(*fillings(a)), set().union(*fillings(b)))
        answers = [Answer.YES if one < two else Answer.NO for one, two in pairs]
        assert before(interval(a), interval(b)) is agreed(answers), (a, b)


@pytest.mark.parametrize("a", ENDS)
def test_inside_is_told_only_where_every_unknown_end_agrees(a):
    def one_answer(x, y):
        return Answer.YES if x <= y else Answer.CANNOT_TELL if x & y else Answer.NO

    for b in ENDS:
        answers = [one_answer(x, y) for x, y in product(fillings(a), fillings(b))]
        expected = agreed(answers)
        if None in b and expected is Answer.YES:
            # A single instant at the known end. Towards a missing end nothing is asserted.
            expected = Answer.CANNOT_TELL
        assert inside(interval(a), interval(b)) is expected, (a, b)


def test_an_interval_has_zones_and_its_ends_in_order():
    naive = BASE.replace(tzinfo=None)
    for ends in ((naive, None), (None, naive), (BASE, naive)):
        with pytest.raises(ValueError, match="zone"):
            Interval(*ends, "test")
    with pytest.raises(ValueError, match="begins"):
        Interval(BASE, BASE - timedelta(microseconds=1), "test")
    assert Interval(BASE, BASE, "test").known
    assert not Interval(None, BASE, "test").known
    assert not Interval(BASE, None, "test").known


# ISO 8601-1:2019, 5.3: a time of reduced precision names the whole of its minute or day.
@pytest.mark.parametrize(
    "precision, last",
    [
        (Precision.SECOND, "2026-03-02T09:30:00.999999-06:00"),
        (Precision.MINUTE, "2026-03-02T09:30:59.999999-06:00"),
        (Precision.DAY, "2026-03-03T09:29:59.999999-06:00"),
    ],
)
def test_a_written_time_is_the_whole_of_what_it_names(precision, last):
    at = datetime(2026, 3, 2, 9, 30, tzinfo=timezone(timedelta(hours=-6)))
    found = Moment(at, "as written", precision).interval("test")
    assert found.earliest == at
    assert found.latest == datetime.fromisoformat(last)


def test_a_day_on_which_the_clocks_change_ends_where_the_next_begins():
    # 8 March 2026, America/Chicago: 02:00 becomes 03:00 (15 U.S.C. 260a), a day of 23 hours.
    at = datetime(2026, 3, 8, tzinfo=timezone(timedelta(hours=-6)))
    ends = datetime(2026, 3, 9, tzinfo=timezone(timedelta(hours=-5)))
    found = Moment(at, "2026-03-08", Precision.DAY, ends).interval("test")
    assert found.latest - found.earliest == timedelta(hours=23) - timedelta(microseconds=1)
