"""The carrier's duties and the suit period: which letters start and meet them.

Dates were typed by hand from the rule each names; US federal holidays as observed.
"""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from claimkit.model.job import (
    Party,
    Role,
    TermOverride,
)
from claimkit.model.limit import LimitState
from claimkit.model.quantities import Span
from claimkit.model.records import (
    About,
)
from tests.build import job, moment
from tests.findings.limit_build import (
    ACKNOWLEDGE,
    DISPOSE,
    STATUS,
    SUIT,
    all_of,
    apply,
    claim,
    letter,
    notice,
    one,
)

# The carrier's duties


def test_the_carrier_has_acted_on_the_day_it_sent_its_letter() -> None:
    """Nobody is called late whose letter was on the way in time."""
    bodies = [claim("2026-03-10")]
    in_time = notice(
        About.ACKNOWLEDGEMENT, "us", "hauler", sent="2026-04-09", received="2026-04-13"
    )
    late = notice(About.ACKNOWLEDGEMENT, "us", "hauler", sent="2026-04-10")
    day = date(2026, 5, 1)
    assert one(apply([*bodies, in_time], as_of=day), ACKNOWLEDGE).state is LimitState.MET
    assert one(apply([*bodies, late], as_of=day), ACKNOWLEDGE).state is LimitState.MET_LATE
    assert one(apply(bodies, as_of=day), ACKNOWLEDGE).state is LimitState.PASSED
    assert one(apply(bodies, as_of=date(2026, 4, 9)), ACKNOWLEDGE).state is LimitState.RUNNING


def test_our_own_letter_is_no_acknowledgement() -> None:
    ours = notice(About.ACKNOWLEDGEMENT, "hauler", "us", sent="2026-03-11", received="2026-03-12")
    found = apply([claim("2026-03-10"), ours], as_of=date(2026, 5, 1))
    assert one(found, ACKNOWLEDGE).state is LimitState.PASSED


@pytest.mark.parametrize("about", [About.PAYMENT, About.OFFER, About.DISALLOWANCE])
def test_a_decision_ends_the_carriers_duties(about: About) -> None:
    says = True if about is About.DISALLOWANCE else None
    decided = notice(about, "us", "hauler", sent="2026-06-01", states_disallowance=says)
    found = apply([claim("2026-03-10"), decided], as_of=date(2026, 12, 1))
    assert one(found, DISPOSE).state is LimitState.MET
    assert not all_of(found, STATUS)


def test_status_periods_follow_each_other_while_the_claim_is_open() -> None:
    """120 days from 2026-03-10 end on 07-08, then every 60; a status on 09-01, nothing after."""
    status = notice(About.STATUS, "us", "hauler", sent="2026-09-01")
    found = apply([claim("2026-03-10"), status], as_of=date(2026, 12, 1))
    limits = all_of(found, STATUS)
    assert [t.nominal for t in limits] == [
        date(2026, 9, 6),
        date(2026, 11, 5),
        date(2027, 1, 4),
    ]
    assert [t.state for t in limits] == [LimitState.MET, LimitState.PASSED, LimitState.RUNNING]
    assert len({t.clause.title for t in limits}) == 3
    assert "On record beside it: Status sent" in " ".join(one(found, DISPOSE).because)


def test_a_status_on_day_120_is_none_of_the_sixty_days_after() -> None:
    """49 CFR 370.9: a status at the end of the 120 days, and again at each sixty after."""
    status = notice(About.STATUS, "us", "hauler", sent="2026-07-08")
    found = apply([claim("2026-03-10"), status], as_of=date(2026, 9, 7))
    assert all_of(found, STATUS)[0].state is LimitState.PASSED


def test_a_late_decision_ends_the_periods() -> None:
    paid = notice(About.PAYMENT, "us", "hauler", sent="2026-10-01")
    found = apply([claim("2026-03-10"), paid], as_of=date(2027, 6, 1))
    assert [t.nominal for t in all_of(found, STATUS)] == [date(2026, 9, 6), date(2026, 11, 5)]
    assert one(found, DISPOSE).state is LimitState.MET_LATE


def test_ten_silent_years_do_not_fill_the_page() -> None:
    limits = all_of(apply([claim("2016-03-10")], as_of=date(2026, 3, 10)), STATUS)
    assert len(limits) == 6
    assert limits[-1].nominal is not None
    assert limits[-1].nominal >= date(2026, 3, 10)
    assert limits[-2].state is LimitState.PASSED


def test_the_carriers_own_days_move_the_chain() -> None:
    own = (TermOverride(clause=DISPOSE, length=Span(90, "calendar days"), source="Tariff 1"),)
    limits = all_of(apply([claim("2026-03-10")], override=own), STATUS)
    assert limits[0].started_on == date(2026, 6, 8)


# The suit period


INSURER = Party(id="cover", name="Harbour Mutual", roles=(Role.INSURER,))


@pytest.mark.parametrize(
    "more,started",
    [
        ({}, True),
        ({"about": About.OFFER}, True),  # an offer that also disallows, with reasons
        ({"about": About.OFFER, "states_disallowance": None}, False),
        ({"states_disallowance": False}, False),
        ({"gives_reasons": None}, False),
        ({"gives_reasons": False}, False),
        ({"sender": "cover"}, False),  # an insurer that does not say for whom it acts
        ({"sender": "cover", "acts_for_carrier": False}, False),
        ({"sender": "cover", "acts_for_carrier": True}, True),
        ({"sender": "shop"}, False),  # the seller
        ({"how": "telephone"}, False),  # not written
        ({"how": "letter"}, True),
        ({"sent": None}, False),  # no date at all
        ({"sent": None, "received": moment("2026-06-01")}, True),
        ({"about": About.PAYMENT}, True),  # part paid, the rest disallowed
    ],
)
def test_what_starts_the_suit_period(more: dict[str, Any], started: bool) -> None:
    """49 USC 14706(e)(2): in writing, says so, gives reasons; an insurer says for whom it acts."""
    job_ = job(party=(*job().party, INSURER))
    limit = one(apply([letter(**more)], as_of=date(2026, 7, 1), job_=job_), SUIT)
    runs = limit.started_on == date(2026, 6, 1) and limit.state is LimitState.RUNNING
    assert (runs and not limit.provided) is started
    if started:
        assert limit.nominal == date(2028, 6, 1)


def test_the_stricter_of_sent_and_received_starts_it() -> None:
    limit = one(apply([letter(received="2026-06-05")], as_of=date(2026, 7, 1)), SUIT)
    assert limit.started_on == date(2026, 6, 1)
    assert "stricter reading" in limit.because[0]


def test_the_first_disallowance_starts_it() -> None:
    limit = one(apply([letter("2026-08-01"), letter("2026-06-01")], as_of=date(2026, 9, 1)), SUIT)
    assert limit.started_on == date(2026, 6, 1)


def test_a_suit_meets_it() -> None:
    court = Party(id="court", name="County court", roles=(Role.INSURER,))
    job_ = job(party=(*job().party, court))
    filed = notice(About.SUIT, "court", received="2028-05-31")
    limit = one(apply([letter(), filed], as_of=date(2028, 6, 2), job_=job_), SUIT)
    assert (limit.state, limit.met_on) == (LimitState.MET, date(2028, 5, 31))
    assert one(apply([letter()], as_of=date(2028, 6, 2)), SUIT).state is LimitState.PASSED
