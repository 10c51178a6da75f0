"""Which move comes next, what is left out of it, and how it is written.

Goods delivered on Monday 2026-05-04 with a panel cracked. Days were counted by hand: five business
days (NMFC item 300135), nine months (49 USC 14706(e)(1)), seven days for hidden damage (CMR
Article 30(1)). What a claims desk does first is common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any

import pytest

from claimkit.findings.limits.next_move import NOTHING, NextMove, moves, next_move
from claimkit.findings.reason import reason
from claimkit.model.case import Case, Finding, Standing
from claimkit.model.contract import Duty, OwnTerm, Start
from claimkit.model.job import Party, Role, SaleTerms, Site, Terms
from claimkit.model.quantities import Span
from claimkit.model.records import About, Damage, FoundAt
from claimkit.model.source import Source
from tests.build import ZONE, case, facts, job, moment, record, shipment
from tests.findings.cases_check_terms import (
    CRACKED,
    DELIVERED,
    PAPER,
    claim,
    made,
    notice,
    report,
    theirs,
    told_seller,
)

DAY = date(2026, 5, 6)
NOW = datetime(2026, 5, 6, 12, tzinfo=UTC)
CITED = (Source(citation="common practice, no source"),)


@pytest.mark.parametrize(
    "move,text",
    [
        (NextMove(None, "Do it.", "", CITED), "Do it."),
        (NextMove(None, "Do it.", "Northway", CITED), "Do it. To: Northway."),
        (NextMove(date(2026, 5, 5), "Do it.", "", CITED), "Today, Wed 2026-05-06: Do it."),
        (NextMove(date(2026, 5, 6), "Do it.", "", CITED), "Today, Wed 2026-05-06: Do it."),
        (NextMove(date(2026, 5, 7), "Do it.", "", CITED), "By Thu 2026-05-07: Do it."),
    ],
)
def test_a_move_says_by_when_what_and_to_whom(move: NextMove, text: str) -> None:
    assert move.line(DAY) == text


def accepted(*more: Any, sale: SaleTerms | None) -> list[str]:
    offer = theirs(About.OFFER, "2026-05-12", amount="300.00")
    yes = notice(About.ACCEPTANCE, sent="2026-05-13")
    found = made(CRACKED, claim(), offer, yes, *more, sale=sale, as_of=date(2026, 5, 14))
    assert all(m.day is None for m in moves(found) if "Watch for the payment" in m.text)
    return [m.text for m in moves(found)]


def within(days: int) -> SaleTerms:
    return SaleTerms(report_within=Span(days, "calendar days"), source=PAPER)


@pytest.mark.parametrize(
    "days,first",
    [
        (14, "seller"),  # to Monday 05-18, so Friday 05-15: tomorrow
        (18, "seller"),  # to Friday 05-22, so Thursday 05-21: the last day of the week
        (22, "payment"),  # to Tuesday 05-26, after Memorial Day: so Friday 05-22
        (60, "payment"),  # to Friday 07-03
    ],
)
def test_a_move_without_a_day_stands_behind_those_of_the_coming_week(days: int, first: str) -> None:
    # The legal day is Thursday 2026-05-14; the week ends on Thursday 05-21.
    assert first in accepted(sale=within(days))[0].lower()


def test_what_has_no_number_of_days_is_to_be_done_without_delay() -> None:
    # UCC 2-607(3)(a): the buyer must within a reasonable time notify the seller.
    found = [m for m in moves(made(CRACKED, sale=None)) if m.text.startswith("Without delay")]
    assert [m.day for m in found] == [None]
    assert found[0].to == "Tessel Supply (no e-mail entered)"
    told = moves(made(CRACKED, told_seller(), sale=None))
    assert not [m for m in told if m.text.startswith("Without delay")]


def test_where_the_holidays_are_not_known_the_last_day_itself_is_the_day() -> None:
    one = shipment(terms=Terms.US_INTERSTATE_MOTOR, classification_applies=True)
    site = Site(address="x", zone=ZONE, subdivision="ZZ")
    records = [record("d", DELIVERED), record("x", CRACKED), record("r", report())]
    found = moves(case(facts(job_=job(shipment=(one,), site=site), records=records), DAY))
    # Nine months from 2026-05-04; no working day before it can be told.
    assert date(2027, 2, 4) in {m.day for m in found}
    # Five working days from the request cannot be counted either, so no day is made up.
    assert not [m for m in found if "has not inspected" in m.text]


@pytest.mark.parametrize(
    "as_of, first",
    [
        # The seller was to be told by 2026-05-07; the claim is due on 2027-02-04: act by 02-03.
        ("2026-05-12", True),  # passed within the week: nothing is more urgent
        ("2027-02-01", False),  # passed long ago: what falls due on Wednesday comes first
        ("2027-01-20", True),  # nothing falls due within the week
    ],
)
def test_what_lapsed_long_ago_waits_for_what_falls_due_within_the_week(
    as_of: str, first: bool
) -> None:
    found = made(CRACKED, report(), as_of=date.fromisoformat(as_of))
    assert ("has passed" in moves(found)[0].text) is first, [m.line(DAY) for m in moves(found)]
    assert passed(found), "it is still told"


def passed(found: Case) -> list[NextMove]:
    return [m for m in moves(found) if "has passed" in m.text]


def test_after_the_claim_the_seller_is_still_to_be_told() -> None:
    # Three business days from 05-04, the first not counted: Thursday 05-07 has passed.
    (late,) = passed(made(CRACKED, claim()))
    assert late.to == "Tessel Supply (no e-mail entered)"
    assert late.passed
    assert late.day == date(2026, 5, 20)
    # Without a claim the carrier is to be told too.
    assert len(passed(made(CRACKED))) == 2


def test_a_paper_that_names_who_must_have_the_report_outlives_the_claim() -> None:
    def term(to: str | None) -> OwnTerm:
        return OwnTerm(
            id="r",
            title="Notice under the contract",
            duty=Duty.REPORT,
            runs_from=Start.DELIVERY,
            length=Span(5, "calendar days"),
            source="Contract 7",
            to=to,
        )

    agent = Party(id="agent", name="Lanebridge Brokers", roles=(Role.BROKER,))
    named = made(CRACKED, claim(), told_seller(), own_term=(term("agent"),), parties=(agent,))
    assert [m.to for m in passed(named)] == ["Lanebridge Brokers (no e-mail entered)"]
    open_to = made(CRACKED, claim(), told_seller(), own_term=(term(None),), parties=(agent,))
    assert passed(open_to) == []


def test_a_reservation_at_the_door_is_not_asked_for_afterwards() -> None:
    """CMR Article 30(1): for damage that can be seen, not later than at delivery."""
    dented = Damage(item="panel", found_at=FoundAt.CURB, what="dented")
    found = made(dented, terms=Terms.CMR, sale=None, as_of=date(2026, 5, 20))
    by_clause = {t.clause.id: t.state.value for t in found.limits}
    assert by_clause["cmr-reserve-apparent"] == "passed"
    assert [m.text for m in passed(found) if "apparent" in m.text.lower()] == []
    titles = {t.clause.title for t in found.limits if t.clause.id == "cmr-reserve-apparent"}
    assert not [m for m in passed(found) if any(m.text.startswith(t) for t in titles)]


def proofs(*bodies: Any) -> list[NextMove]:
    return [m for m in moves(made(CRACKED, *bodies)) if "Get proof" in m.text]


def test_proof_is_asked_for_once_and_only_of_what_is_not_shown_done() -> None:
    unproved = claim(received=None, sent="2026-05-07")
    (one,) = proofs(told_seller(), unproved)
    assert "records/r2.toml" in one.text
    assert one.passed
    assert one.day == date(2026, 5, 20)
    # A second copy that was received does what the first was to do.
    assert proofs(told_seller(), unproved, claim(received="2026-05-08")) == []
    # The report is shown received, the claim not: the claim's proof is still missing.
    (still,) = proofs(told_seller(), report(), unproved)
    assert "records/r3.toml" in still.text
    # A notice of loss to the carrier serves several limits and is one letter.
    plain = notice(About.DAMAGE_NOTICE, sent="2026-05-06", how="letter")
    assert len(proofs(told_seller(), plain)) == 1


def test_the_day_on_which_inspection_was_asked_for_is_named() -> None:
    # Asked and received on Wednesday 05-06; five working days on is Wednesday 05-13.
    found = moves(made(CRACKED, told_seller(), report(), as_of=date(2026, 5, 14)))
    (late,) = [m for m in found if "has not inspected" in m.text]
    assert "since it was asked on Wed 2026-05-06: write" in late.text
    assert late.passed
    assert late.day == date(2026, 5, 13)
    found = moves(made(CRACKED, told_seller(), report(), as_of=date(2026, 5, 13)))
    (due,) = [m for m in found if "has not inspected" in m.text]
    assert "by then, write" in due.text
    assert not due.passed
    waived = theirs(About.INSPECTION_WAIVED, "2026-05-08")
    found = moves(made(CRACKED, told_seller(), report(), waived, as_of=date(2026, 5, 13)))
    (own,) = [m for m in found if "does not inspect" in m.text]
    assert own.passed
    assert own.day == date(2026, 5, 13)


def finding(standing: Standing, do_next: str, *, urgent: bool = False) -> Finding:
    return Finding(
        rule="x",
        standing=standing,
        where="job",
        message="x",
        do_next=do_next,
        evidence=CITED,
        citation="x",
        urgent=urgent,
    )


def coming(as_of: str, *bodies: Any, **more: Any) -> NextMove:
    """Give the next move of goods shipped on 2026-05-04, after all checks."""
    one = shipment(
        terms=Terms.US_INTERSTATE_MOTOR,
        classification_applies=True,
        bill_date=moment("2026-05-04"),
        **more,
    )
    records = [record(f"r{number}", body) for number, body in enumerate(bodies)]
    made_of = facts(job_=job(shipment=(one,)), records=records)
    return next_move(reason(made_of, date.fromisoformat(as_of), NOW))


@pytest.mark.parametrize(
    "as_of,expected,day,says",
    [
        # Nobody has lost goods that are not to be there yet: common practice, no source.
        ("2026-05-06", None, None, "receiving sheet"),
        ("2026-05-06", "2026-05-07", date(2026, 5, 7), "receiving sheet"),
        ("2026-05-07", "2026-05-07", date(2026, 5, 7), "receiving sheet"),
        # Nine months from the bill's date (49 USC 14706(e)(1)) end on Thursday 2027-02-04.
        ("2026-05-08", "2026-05-07", date(2027, 2, 3), "not delivered"),
        # 60 days from 05-04 are 07-03 (CMR Article 20(1), from memory).
        ("2026-07-03", None, None, "receiving sheet"),
        ("2026-07-04", None, date(2027, 2, 3), "not delivered"),
    ],
)
def test_before_the_delivery_the_next_move_is_to_receive(
    as_of: str, expected: str | None, day: date | None, says: str
) -> None:
    more = {"reasonable_delivery": moment(expected)} if expected else {}
    move = coming(as_of, **more)
    assert says in move.text
    assert move.day == day
    whose = "Northway" if "not delivered" in says else "your own people"
    assert whose in move.to


def test_after_the_delivery_nothing_is_to_be_received() -> None:
    assert "receiving sheet" not in coming("2026-05-06", DELIVERED).text
    # Goods that are recorded without their delivery came: they are neither awaited nor missing.
    text = coming("2026-05-06", replace(CRACKED, found=moment("2026-05-05 10:00"))).text
    assert "receiving sheet" not in text
    assert "not delivered" not in text


def fallback(*findings: Finding, roles: tuple[Role, ...] = (Role.OWNER,)) -> NextMove:
    """Give the next move of a job in which nothing runs, with these findings."""
    parties = (
        Party(id="hauler", name="Northway Freight", roles=(Role.DELIVERING_CARRIER,)),
        Party(id="us", name="Marl & Sons", roles=roles),
    )
    bare = case(facts(job_=job(shipment=(), seam=(), party=parties)))
    return next_move(replace(bare, findings=findings))


def test_where_nothing_runs_a_finding_says_what_to_do_the_urgent_one_first() -> None:
    move = fallback(
        finding(Standing.SUPPORTS, "Nothing of this.", urgent=True),
        finding(Standing.MISSING, "", urgent=True),
        finding(Standing.AGAINST, "Second."),
        finding(Standing.MISSING, "First.", urgent=True),
    )
    assert move.line(DAY) == "First. To: Marl & Sons (your own people)."
    assert fallback(finding(Standing.AGAINST, "Against.")).text == "Against."
    assert fallback(finding(Standing.SUPPORTS, "No.")).line(DAY) == NOTHING
    nobody = fallback(finding(Standing.MISSING, "Do it."), roles=(Role.INSTALLER,))
    assert nobody.line(DAY) == "Do it. To: your own people."


def test_of_two_shipments_with_the_same_move_the_ids_decide() -> None:
    one = shipment(id="b", terms=Terms.US_INTERSTATE_MOTOR, classification_applies=True)
    job_ = job(shipment=(one, replace(one, id="a")))
    items = (replace(job_.item[0], shipment="a"), replace(job_.item[1], shipment="b"))
    records = [
        record(f"d{name}", replace(DELIVERED, shipment=name, signed_at=moment("2026-05-04 09:30")))
        for name in ("a", "b")
    ]
    records += [record("xa", CRACKED), record("xb", replace(CRACKED, item="tray"))]
    found = case(facts(job_=replace(job_, item=items), records=records), DAY)
    assert next_move(found).shipment == "a"


def texts(*bodies: Any, as_of: str = "2026-05-20") -> list[str]:
    found = made(CRACKED, told_seller(), *bodies, as_of=date.fromisoformat(as_of))
    return [m.text for m in moves(found)]


def test_the_carriers_time_to_inspect_runs_from_receipt() -> None:
    # Sent on Wednesday 05-06, received on Friday 05-08: five working days on is Friday 05-15.
    late = report(sent="2026-05-06", received="2026-05-08")
    found = moves(made(CRACKED, told_seller(), late, as_of=date(2026, 5, 11)))
    assert [m.day for m in found if "has not inspected by then" in m.text] == [date(2026, 5, 15)]


OFFER = theirs(About.OFFER, "2026-05-12", amount="200.00")


@pytest.mark.parametrize(
    "between,after,asked",
    [
        ([], [], True),
        ([theirs(About.ACKNOWLEDGEMENT, "2026-05-10", reference="C-1")], [], True),  # numbered
        ([notice(About.REMINDER, received="2026-05-11")], [], True),  # before the offer
        ([], [notice(About.ANSWER, received="2026-05-14")], False),
        ([], [notice(About.ANSWER, received="2026-05-14", how="telephone")], True),  # spoken
        ([], [notice(About.ANSWER, sent="2026-05-14")], True),  # not shown received
    ],
)
def test_an_offer_is_to_be_answered_until_it_was_answered_in_writing(
    between: list[Any], after: list[Any], asked: bool
) -> None:
    found = made(CRACKED, told_seller(), claim(), *between, OFFER, *after)
    mine = [m for m in moves(found) if "Answer the offer" in m.text]
    assert bool(mine) is asked
    assert all(m.passed and m.day == date(2026, 5, 20) for m in mine)


@pytest.mark.parametrize(
    "reminder,late",
    [
        (notice(About.REMINDER, sent="2026-06-08"), False),
        (notice(About.REMINDER, sent="2026-06-08", how="telephone"), True),
        (theirs(About.REMINDER, "2026-06-08"), True),  # the carrier's own letter
        (notice(About.REMINDER, sent="2026-06-05"), True),  # before the day
    ],
)
def test_only_our_written_reminder_after_the_day_reminds(reminder: Any, late: bool) -> None:
    """49 CFR 370.5(a): 30 days from 2026-05-07 end on Saturday 06-06."""
    told = texts(claim(), reminder, as_of="2026-06-10")
    assert (
        bool([t for t in told if "acknowledges the claim was due on Sat 2026-06-06" in t]) is late
    )


def test_one_duty_of_the_carriers_is_named_at_a_time_to_its_last_day() -> None:
    told = texts(claim())
    assert len([t for t in told if t.startswith("The carrier ")]) == 1
    # On the last day itself, a Saturday, the working day before it has passed.
    found = moves(made(CRACKED, told_seller(), claim(), as_of=date(2026, 6, 6)))
    (duty,) = [m for m in found if "acknowledges the claim by Sat 2026-06-06" in m.text]
    assert duty.day == date(2026, 6, 6)
    found = moves(made(CRACKED, told_seller(), claim(), as_of=date(2026, 6, 5)))
    (duty,) = [m for m in found if "acknowledges the claim by Sat 2026-06-06" in m.text]
    assert duty.day == date(2026, 6, 5)
