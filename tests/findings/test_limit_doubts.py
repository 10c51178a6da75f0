"""Time limits whose event or whose act is not certain: what is counted in case, what stays open.

Days were counted by hand from the rule that each test names; where a rule is from memory the test
says so.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from claimkit.compose.dates import entries
from claimkit.compose.packet import events, time_limits
from claimkit.compose.packet.view import view
from claimkit.compose.terminal.jobs import Listing, Wanted, any_overdue, rows
from claimkit.findings.limits.events import deeds
from claimkit.findings.limits.life import Phase, lives
from claimkit.findings.limits.next_move import next_move
from claimkit.findings.reason import reason
from claimkit.findings.summary import in_brief
from claimkit.model.case import Case, Reader, Standing
from claimkit.model.job import Party, Role, SaleTerms, Site, Terms
from claimkit.model.limit import LimitState, TimeLimit
from claimkit.model.moment import Moment, Precision
from claimkit.model.quantities import Span
from claimkit.model.records import About, CountedItem, Damage, Delivery, FoundAt, Notice, Unpacking
from claimkit.model.summary import JobBrief
from claimkit.render.clockface import stretch_in_words
from claimkit.rules import carriage
from tests.build import ZONE, moment
from tests.findings.cases_check_terms import CRACKED, claim, made, notice, theirs

SUIT = "us-motor-suit"
SEEN = datetime(2026, 5, 20, 12, tzinfo=UTC)
# Claim received 2024-02-29; the letter of Thursday 2024-05-09 does not say that it disallows.
# Two years (49 USC 14706(e)(1), worked case 11 counts so): Saturday 2026-05-09. The last working
# day before it is Friday 2026-05-08.
LETTER = theirs(About.DISALLOWANCE, "2024-05-09", gives_reasons=True)


def limits(case: Case, clause: str) -> list[TimeLimit]:
    return [limit for limit in case.limits if limit.clause.id == clause]


def one(case: Case, clause: str) -> TimeLimit:
    (limit,) = limits(case, clause)
    return limit


def listed(brief: JobBrief, as_of: date, **wanted: Any) -> list[str]:
    return [row.limit.title for row in rows(listing(brief, as_of, **wanted))]


def listing(brief: JobBrief, as_of: date, **wanted: Any) -> Listing:
    return Listing((brief,), lambda _job: as_of, Wanted(**wanted), None, ())


def shown(case: Case, reader: Reader) -> str:
    """Give everything that the packet's time limits say to a reader."""
    return repr(time_limits.section(view(case, reader, None, ())))


def with_letter(as_of: date, *more: Any) -> Case:
    delivered = Delivery(signed_at=moment("2023-05-31 23:58"))
    bodies = (CRACKED, claim(received="2024-02-29"), LETTER, *more)
    return made(*bodies, as_of=as_of, delivered=delivered)


@pytest.mark.parametrize(
    "as_of,state",
    [
        (date(2026, 5, 8), LimitState.RUNNING),
        (date(2026, 5, 9), LimitState.DUE_PASSED),
        (date(2026, 5, 10), LimitState.PASSED),
    ],
)
def test_a_letter_that_may_disallow_is_counted_in_case_it_does(
    as_of: date, state: LimitState
) -> None:
    limit = one(with_letter(as_of), SUIT)
    assert (limit.act_by, limit.nominal) == (date(2026, 5, 8), date(2026, 5, 9))
    assert limit.state is state
    assert limit.provided == "if the letter of Thu 2024-05-09 disallows"
    assert limit.provided in limit.clause.title


def test_it_stands_in_the_lists_the_calendar_and_the_next_move() -> None:
    title = one(with_letter(date(2026, 5, 1)), SUIT).clause.title
    first, eve = date(2026, 5, 1), date(2026, 5, 8)
    brief = in_brief(with_letter(first), "/jobs/a", SEEN)
    assert title in listed(brief, first, within=14)
    (entry,) = [e for e in entries(brief, first) if SUIT in e.key]
    assert entry.day == eve
    assert "if the letter" in entry.summary
    assert next_move(with_letter(eve)).day == eve
    assert "in case the letter of Thu 2024-05-09 disallows" in next_move(with_letter(eve)).text


def test_afterwards_it_is_overdue_and_nobody_is_told_to_keep_to_it() -> None:
    after = date(2026, 5, 11)
    case = with_letter(after)
    brief = in_brief(case, "/jobs/a", SEEN)
    assert one(case, SUIT).clause.title in listed(brief, after, overdue=True)
    assert any_overdue(listing(brief, after))
    told = [f.do_next for f in case.findings if f.rule == "limit-disallowance-incomplete"]
    assert "the last day to sue, Sat 2026-05-09, has passed" in told[0]
    assert "act by" not in told[0]
    assert "2026-05-09, has passed" in next_move(case).text


def test_it_is_never_stated_as_certain_nor_to_the_carrier() -> None:
    case = with_letter(date(2026, 5, 11))
    told = [f for f in case.findings if f.rule == "limit-passed" and "Suit" in f.message]
    assert [f.standing for f in told] == [Standing.MISSING]
    assert "if the letter of" in told[0].message
    assert "Suit against" not in shown(case, Reader.CARRIER)
    assert "Suit against" in shown(case, Reader.OWN)


def test_a_letter_shown_to_disallow_first_needs_no_condition() -> None:
    plain = theirs(About.DISALLOWANCE, "2024-05-08", states_disallowance=True, gives_reasons=True)
    assert one(with_letter(date(2026, 5, 1), plain), SUIT).provided == ""
    later = theirs(About.DISALLOWANCE, "2024-09-02", states_disallowance=True, gives_reasons=True)
    both = limits(with_letter(date(2026, 5, 1), later), SUIT)
    assert [(t.started_on, bool(t.provided)) for t in both] == [
        (date(2024, 9, 2), False),
        (date(2024, 5, 9), True),
    ]


AGENT = Party(id="agent", name="Lanebridge Brokers", roles=(Role.BROKER,))
INSURER = Party(id="cover", name="Harbour Mutual", roles=(Role.INSURER,))


@pytest.mark.parametrize(
    "more,counted",
    [
        ({}, True),
        ({"states_disallowance": True, "gives_reasons": None}, True),
        ({"states_disallowance": False}, False),  # somebody read it and says that it does not
        ({"how": "telephone"}, False),  # the statute wants a written notice
        ({"about": About.OFFER}, False),  # 49 USC 14706(e)(2): an offer alone is none
        ({"sender": "shop"}, False),  # the seller speaks for no carrier
        ({"sender": "cover"}, True),  # an insurer may
        ({"sender": "cover", "acts_for_carrier": False}, False),
    ],
)
def test_which_letters_may_disallow(more: dict[str, Any], counted: bool) -> None:
    values = {"about": About.DISALLOWANCE, "to": "us", "sender": "hauler", "sent": "2026-05-15"}
    letter = notice(**(values | {"gives_reasons": True} | more))
    case = made(CRACKED, claim(), letter, parties=(INSURER,))
    assert bool(one(case, SUIT).provided) is counted


# A letter that is not shown to decline, and a part that is paid

DISPOSE, STATUS = "us-motor-dispose", "us-motor-status"
PART = theirs(About.PAYMENT, "2024-05-13", amount="100.00")


def test_a_letter_not_shown_to_decline_meets_no_duty_of_the_carrier() -> None:
    """49 CFR 370.9: pay, decline or offer within 120 days of 2024-02-29, which is 2024-06-28."""
    case = with_letter(date(2024, 10, 1), PART)  # 100.00 of the 418.00 claimed
    due = one(case, DISPOSE)
    assert (due.state, due.nominal, due.met_on) == (LimitState.PASSED, date(2024, 6, 28), None)
    # Then every sixty days: 2024-08-27, 10-26, 12-25.
    assert limits(case, STATUS)[0].nominal == date(2024, 8, 27)
    assert limits(case, STATUS)[0].state is LimitState.PASSED
    told = shown(case, Reader.CARRIER)
    assert "Letter of Thu 2024-05-09" in told
    assert "not shown to decline or to offer" in told
    assert "100.00 in all of USD 418.00" in told
    assert "Met by: Disallowance" not in told


def test_every_output_calls_it_a_letter() -> None:
    case = with_letter(date(2024, 10, 1))
    for reader in (Reader.CARRIER, Reader.OWN):
        told = repr(events.section(view(case, reader, None, ())))
        assert "Sent: letter, not shown to decline or to offer" in told
        assert "Sent: disallowance" not in told
    (life,) = lives(case)
    assert life.phase is Phase.UNCLEAR
    assert not [step.text for step in life.steps if "disallowance" in step.text]


def test_a_letter_that_says_it_declines_a_part_ends_the_duty() -> None:
    """A cheque for a part whose letter disallows the rest disposes of the claim (370.9)."""
    rest = theirs(About.PAYMENT, "2024-05-13", amount="100.00", states_disallowance=True)
    case = made(CRACKED, claim(received="2024-02-29"), rest, as_of=date(2024, 10, 1))
    assert (one(case, DISPOSE).state, one(case, DISPOSE).met_on) == (
        LimitState.MET,
        date(2024, 5, 13),
    )
    assert not limits(case, STATUS)


@pytest.mark.parametrize(
    "amount,met", [("317.99", False), ("318.00", True), (None, True)], ids=["short", "whole", "?"]
)
def test_payments_together_reach_the_claim(amount: str | None, met: bool) -> None:
    """100.00 came first, 418.00 is claimed: the second payment needs 318.00."""
    more = {"amount": amount} if amount else {}
    second = theirs(About.PAYMENT, "2024-06-03", **more)
    case = made(CRACKED, claim(received="2024-02-29"), PART, second, as_of=date(2024, 7, 1))
    assert (one(case, DISPOSE).state is LimitState.MET) is met


def test_an_accepted_offer_is_what_is_due() -> None:
    offer = theirs(About.OFFER, "2024-07-01", amount="100.00")
    yes = notice(About.ACCEPTANCE, sent="2024-07-02")
    paid = theirs(About.PAYMENT, "2024-07-03", amount="100.00")
    case = made(CRACKED, claim(received="2024-02-29"), offer, yes, paid, as_of=date(2024, 8, 1))
    shipment = case.facts.job.shipment[0] if case.facts.job else None
    assert shipment
    assert [deed.day for deed in deeds(case, shipment, carriage.PAID)] == [date(2024, 7, 3)]


# Goods tendered and refused

REFUSED = Delivery(
    arrived=moment("2026-01-04 23:30"),
    driver_left=moment("2026-01-05 00:10"),
    signed=False,
    units_expected=1,
    units_received=0,
    refused="the crate, wet through",
)
WET = Damage(item="panel", found_at=FoundAt.CURB, what="wet", found=moment("2026-01-04 23:40"))
TEN_DAYS = SaleTerms(
    report_within=Span(48, "hours", written="48 hours"),
    reject_within=Span(10, "calendar days", written="10 calendar days"),
    source="Terms of sale, clause 7",
)


def refused(delivered: Delivery = REFUSED, as_of: date = date(2026, 1, 5), **more: Any) -> Case:
    return made(WET, delivered=delivered, as_of=as_of, sale=TEN_DAYS, **more)


def test_a_refused_tender_starts_the_sellers_periods() -> None:
    """From Sunday 2026-01-04: 48 hours end on Tuesday 01-06, ten days on Wednesday 01-14."""
    report, reject = one(refused(), "sale-report"), one(refused(), "sale-reject")
    assert (report.nominal, report.act_by) == (date(2026, 1, 6), date(2026, 1, 5))
    assert (reject.nominal, reject.act_by) == (date(2026, 1, 14), date(2026, 1, 13))
    assert "UCC 2-602(1), from memory" in report.because[0]
    # The carrier's own periods run from a delivery, and there was none.
    assert one(refused(), "us-motor-claim-damage").state is LimitState.NOT_STARTED


@pytest.mark.parametrize("more", [{"refused": None}, {"units_received": 1, "refused": None}])
def test_only_a_refusal_is_a_tender(more: dict[str, Any]) -> None:
    """A truck that brought nothing has tendered nothing; what was left there was delivered."""
    (report,) = limits(refused(replace(REFUSED, **more)), "sale-report")
    assert "Tendered" not in report.because[0]


def asked(case: Case) -> str:
    return " ".join(f"{f.message} {f.do_next}" for f in case.findings)


def test_what_left_with_the_driver_is_not_to_be_unpacked_or_photographed() -> None:
    gone, here = asked(refused()), asked(refused(replace(REFUSED, units_received=1, refused=None)))
    for words in ("The shipment is delivered", "Photograph it now", "Unpack"):
        assert words not in gone
        assert words in here
    assert "where the goods are held" in gone
    part = asked(refused(replace(REFUSED, units_received=1, units_expected=2)))
    assert "If the piece is still there: Photograph it now" in part


# Not delivered, or short inside a unit that came

NOT_DELIVERED = "us-motor-claim-nondelivery-from-2016"
INSIDE = Unpacking(
    counted=(CountedItem(item="panel", quantity=0), CountedItem(item="tray", quantity=1))
)
ONE_SKID = Delivery(signed_at=moment("2026-05-04 09:30"), units_expected=1, units_received=1)


@pytest.mark.parametrize(
    "delivered,certain",
    [
        (ONE_SKID, False),  # the skid came, a panel inside it did not
        (replace(ONE_SKID, units_expected=2), True),  # a whole skid is missing
        (replace(ONE_SKID, cartons_received=3), False),  # a carton short on the skid that came
        # Nobody counted skids: the cartons are the units.
        (replace(ONE_SKID, units_received=None, cartons_received=3), True),
        (replace(ONE_SKID, units_received=0), True),  # nothing came
    ],
)
def test_a_piece_short_inside_is_no_goods_not_delivered(delivered: Delivery, certain: bool) -> None:
    """Uniform bill, text from 2016: the non-delivery period is for what failed to be delivered."""
    units = 2 if delivered.units_expected == 2 else 1
    more = {"bill_date": moment("2025-05-01"), "handling_units": units, "cartons": 4}
    case = made(CRACKED, INSIDE, claim(), delivered=delivered, **more)
    limit = one(case, NOT_DELIVERED)
    assert limit.state is LimitState.MET_LATE  # nine months from 2025-05-01 ended on 2026-02-01
    assert limit.provided == ("" if certain else "if treated as not delivered")
    assert ("goods not delivered" in shown(case, Reader.CARRIER)) is certain
    assert "goods not delivered" in shown(case, Reader.OWN)
    told = [f.standing for f in case.findings if f.rule == "limit-met-late"]
    assert told == [Standing.AGAINST if certain else Standing.NOTE]


# Sent in time and received after


def austrian(*bodies: Any, terms: Terms = Terms.CMR, as_of: date = date(2026, 2, 1)) -> Case:
    """Delivered in Austria on Tuesday 2025-12-23.

    CMR, seven days without Sundays and public holidays (25, 26 December, 1 January; European
    holidays as published): 24, 27, 29, 30, 31 December, 2 and 3 January, a Saturday. Montreal,
    fourteen days: Tuesday 2026-01-06.
    """
    delivered = Delivery(signed_at=moment("2025-12-23 16:50"))
    place = Site(address="x", zone=ZONE, country="AT", subdivision="5")
    begun = made(CRACKED, *bodies, delivered=delivered, as_of=as_of, terms=terms)
    job = begun.facts.job
    assert job
    return reason(replace(begun.facts, job=replace(job, site=place)), as_of, SEEN)


def reserved(**more: Any) -> Notice:
    return notice(About.DAMAGE_NOTICE, how="tracked post", **more)


def test_what_was_sent_in_time_is_in_time_if_sending_counts() -> None:
    """CMR Article 30(1) speaks of sending reservations (from memory)."""
    case = austrian(reserved(sent="2026-01-03", received="2026-01-05"))
    limit = one(case, "cmr-reserve-hidden")
    assert (limit.state, limit.met_on) == (LimitState.IN_DOUBT, None)
    assert (limit.nominal, limit.act_by) == (date(2026, 1, 3), date(2026, 1, 2))
    said = "sent in time, on Sat 2026-01-03, received Mon 2026-01-05: in time if sending counts"
    assert limit.doubt.startswith(f"{said} (CMR Article 30(1)")
    assert "from memory" in limit.doubt
    told = shown(case, Reader.CARRIER)
    assert said in told
    assert "met late" not in told
    hidden = [f for f in case.findings if limit.clause.title in f.message]
    assert {f.standing for f in hidden} == {Standing.NOTE}
    brief = in_brief(case, "/jobs/a", SEEN)
    (row,) = [t for t in brief.limits if t.clause == limit.clause.id]
    assert row.state_on(date(2026, 2, 1)) is LimitState.IN_DOUBT


def test_the_letter_sent_in_time_counts_though_a_later_one_came_first() -> None:
    first = reserved(sent="2026-01-03", received="2026-01-07")
    second = reserved(sent="2026-01-04", received="2026-01-05")
    limit = one(austrian(first, second), "cmr-reserve-hidden")
    assert "sent in time, on Sat 2026-01-03, received Wed 2026-01-07" in limit.doubt


@pytest.mark.parametrize(
    "more,state",
    [
        ({"sent": "2026-01-03", "received": "2026-01-03"}, LimitState.MET),
        ({"sent": "2026-01-03"}, LimitState.IN_DOUBT),
        ({"sent": "2026-01-04", "received": "2026-01-05"}, LimitState.MET_LATE),
        ({"sent": "2026-01-04"}, LimitState.PASSED),
        ({"received": "2026-01-05"}, LimitState.MET_LATE),  # when it was sent is not recorded
        ({"sent": "2026-01-03", "received": "2026-01-05", "how": "telephone"}, LimitState.PASSED),
    ],
)
def test_when_sending_may_serve(more: dict[str, str], state: LimitState) -> None:
    limit = one(austrian(notice(About.DAMAGE_NOTICE, **more)), "cmr-reserve-hidden")
    assert limit.state is state


def test_until_the_last_day_the_reservation_is_to_be_made_beyond_doubt() -> None:
    case = austrian(reserved(sent="2026-01-02"), as_of=date(2026, 1, 2))
    limit = one(case, "cmr-reserve-hidden")
    assert limit.state is LimitState.RUNNING
    assert "its receipt is not on record" in limit.doubt


@pytest.mark.parametrize("terms,flat", [(Terms.CMR, False), (Terms.US_INTERSTATE_MOTOR, True)])
def test_nobody_is_told_that_sending_stops_nothing_where_it_may(terms: Terms, flat: bool) -> None:
    case = austrian(reserved(sent="2026-01-02"), terms=terms, as_of=date(2026, 1, 2))
    told = [f.message for f in case.findings if f.rule == "limit-sent-not-received"]
    assert told
    assert any("Sent stops no limit" in text for text in told) is flat


def test_a_complaint_dispatched_in_time_under_montreal() -> None:
    """Montreal Convention Article 31(3): given or dispatched within the times (from memory)."""
    sent = reserved(sent="2026-01-06", received="2026-01-08")
    limit = one(austrian(sent, terms=Terms.MONTREAL), "montreal-notice")
    assert limit.state is LimitState.IN_DOUBT
    assert "given or dispatched" in limit.doubt


@pytest.mark.parametrize("found_at", [FoundAt.CURB, FoundAt.UNPACKING])
def test_the_row_for_what_could_be_seen_needs_something_seen(found_at: FoundAt) -> None:
    dented = Damage(item="tray", found_at=found_at, what="dented")
    rows_of = limits(austrian(dented), "cmr-reserve-apparent")
    assert bool(rows_of) is (found_at is FoundAt.CURB)


# A notice without the amount that the printed terms ask for


@pytest.mark.parametrize(
    "as_of,amount,state",
    [
        (date(2026, 7, 3), None, LimitState.DUE_PASSED),
        (date(2026, 7, 4), None, LimitState.IN_DOUBT),
        (date(2026, 7, 4), "418.00", LimitState.MET),
    ],
)
def test_a_notice_without_the_amount_is_not_shown_to_meet_the_terms(
    as_of: date, amount: str | None, state: LimitState
) -> None:
    """Canada: delivered Monday 2026-05-04, 60 days end on Friday 2026-07-03 (worked case 12)."""
    more = {"amount": amount} if amount else {}
    told = notice(About.DAMAGE_NOTICE, received="2026-06-01", **more)
    terms = {"terms": Terms.CANADA, "shipped": moment("2026-04-29")}
    case = made(CRACKED, told, as_of=as_of, **terms)
    limit = one(case, "ca-notice")
    assert (limit.nominal, limit.state) == (date(2026, 7, 3), state)
    words = "received in time, on Mon 2026-06-01; does not state the amount: not shown to be met"
    assert (limit.doubt == words) is (amount is None)
    met = [f for f in case.findings if f.rule == "limit-met" and "estimated amount" in f.message]
    assert bool(met) is (state is LimitState.MET)


# Telephoned in time, confirmed after


def test_a_telephone_report_confirmed_after_the_days_does_not_vanish() -> None:
    """Case 7: delivered Wednesday 2023-05-31, five business days end on Wednesday 2023-06-07.

    NMFC item 300135-A: by telephone, to be confirmed in writing; it does not say until when.
    """
    call = notice(About.CONCEALED_DAMAGE, how="telephone", received="2023-06-06")
    mail = notice(About.CONCEALED_DAMAGE, how="e-mail", received="2023-06-08")
    delivered = Delivery(signed_at=moment("2023-05-31 23:58"))
    case = made(CRACKED, call, mail, delivered=delivered, as_of=date(2023, 7, 3))
    limit = one(case, "us-motor-concealed-report")
    assert limit.state is LimitState.IN_DOUBT
    assert limit.doubt == (
        "telephoned Tue 2023-06-06, in time if confirmation may follow; confirmed Thu 2023-06-08; "
        "not a bar"
    )
    assert limit.doubt in shown(case, Reader.CARRIER)
    assert "does not support" not in shown(case, Reader.CARRIER)


# The carrier's own days


@pytest.mark.parametrize(
    "more,state",
    [
        ({"received": "2024-03-31"}, LimitState.IN_DOUBT),
        ({"received": "2024-03-30"}, LimitState.MET),
        ({"sent": "2024-03-30", "received": "2024-03-31"}, LimitState.MET),
        ({"sent": "2024-03-31", "received": "2024-03-31"}, LimitState.MET_LATE),
    ],
)
def test_only_the_day_of_sending_calls_the_carrier_late(
    more: dict[str, str], state: LimitState
) -> None:
    """49 CFR 370.5: thirty days from 2024-02-29 end on Saturday 2024-03-30."""
    letter = notice(About.ACKNOWLEDGEMENT, "us", "hauler", **more)
    case = made(CRACKED, claim(received="2024-02-29"), letter, as_of=date(2024, 5, 1))
    limit = one(case, "us-motor-acknowledge")
    assert limit.state is state
    if state is LimitState.IN_DOUBT:
        assert limit.doubt == "received Sun 2024-03-31; the day of sending is not recorded"
    late = [f for f in case.findings if f.rule == "limit-carrier-late"]
    assert bool(late) is (state is LimitState.MET_LATE)
    assert "does not support" not in shown(case, Reader.CARRIER)


@pytest.mark.parametrize(
    "to,label",
    [
        ("agent", "Received: claim, to Lanebridge Brokers, a broker"),
        ("shop", "Received: claim, to Tessel Supply"),
        ("hauler", "Received: claim'"),
    ],
)
def test_the_timeline_names_who_had_it_where_that_was_no_carrier(to: str, label: str) -> None:
    """49 CFR 370.3(b): a claim is filed with a carrier; a broker is none."""
    case = made(CRACKED, claim(to=to), parties=(AGENT,))
    assert label in repr(events.section(view(case, Reader.CARRIER, None, ())))


# Hours over a change of the clocks


def over_the_change(signed: str, offset: str, hours: int) -> TimeLimit:
    """Give a seller's hours from a delivery in Ontario, where clocks go back at 02:00 EDT.

    On Sunday 2025-11-02 (Time Act, R.S.O. 1990, c. T.9, from memory): 01:00 to 02:00 comes twice.
    """
    at = Moment(datetime.fromisoformat(f"{signed}{offset}"), signed, Precision.MINUTE)
    sale = SaleTerms(report_within=Span(hours, "hours", written=f"{hours} hours"), source="s. 7")
    begun = made(CRACKED, delivered=Delivery(signed_at=at), as_of=date(2025, 11, 2), sale=sale)
    job = begun.facts.job
    assert job
    place = Site(address="x", zone="America/Toronto", country="CA", subdivision="ON")
    case = reason(replace(begun.facts, job=replace(job, site=place)), date(2025, 11, 2), SEEN)
    return one(case, "sale-report")


@pytest.mark.parametrize(
    "signed,offset,hours,last,act,says",
    [
        # The second 01:50 would be 48 hours before Tuesday 01:50; the first is an hour earlier.
        ("2025-11-02 01:50", "-04:00", 48, 4, 3, "Tue 2025-11-04 at 00:50 UTC−05:00"),
        ("2025-11-02 01:50", "-05:00", 48, 4, 3, "Tue 2025-11-04 at 01:50 UTC−05:00"),
        # From half past midnight the hour that comes twice ends them on the day before; Monday is
        # then the last day, and the day to act is the working day of the event or before.
        ("2025-11-02 00:30", "-04:00", 48, 3, 3, "Mon 2025-11-03 at 23:30 UTC−05:00"),
        ("2025-11-04 10:00", "-05:00", 48, 6, 5, "Thu 2025-11-06 at 10:00 UTC−05:00"),
    ],
)
def test_hours_are_elapsed_time(
    signed: str, offset: str, hours: int, last: int, act: int, says: str
) -> None:
    limit = over_the_change(signed, offset, hours)
    assert says in " ".join(limit.because)
    assert (limit.nominal, limit.act_by) == (date(2025, 11, last), date(2025, 11, act))


def test_the_plot_of_that_night_carries_offsets() -> None:
    """05:18 UTC is 01:18 UTC−04:00 and 06:07 UTC is 01:07 UTC−05:00 in Toronto."""
    begins, ends = (
        datetime(2025, 11, 2, h, m, tzinfo=UTC).timestamp() for h, m in ((5, 18), (6, 7))
    )
    zone = ZoneInfo("America/Toronto")
    said = stretch_in_words(begins, ends, zone)
    assert said == "Sun 2 Nov 2025, 01:18 UTC−04:00 to 01:07 UTC−05:00"
    assert stretch_in_words(ends, ends + 600, zone) == "Sun 2 Nov 2025, 01:07 to 01:17"
