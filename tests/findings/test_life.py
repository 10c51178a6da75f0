"""The life of a claim, letter by letter, and the one next move that follows from it.

Delivered Monday 2026-05-04; a panel was found cracked on Tuesday 05-05. Five working days from
receipt of a request on Wednesday 05-06 end on Wednesday 05-13. What counts as which letter: 49 USC
14706(e)(2), 49 CFR 370.3(c), 370.5 and 370.9; how a claims desk reads a sequence of letters is
common practice, no source.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from claimkit.findings.limits.changes import limit_changes
from claimkit.findings.limits.life import Inspection, Life, Phase, lives
from claimkit.findings.limits.next_move import moves, next_move
from claimkit.findings.limits.packing import keep_until
from claimkit.model.contract import Duty, OwnTerm, Policy, Start
from claimkit.model.job import Party, Role, SaleTerms, Terms
from claimkit.model.quantities import Money, Span
from claimkit.model.records import About, Body
from tests.build import case, facts, job, moment, record, shipment
from tests.findings.cases_check_terms import (
    CRACKED,
    DELIVERED,
    claim,
    made,
    notice,
    refusal,
    report,
    theirs,
)

BROKER = Party(id="agent", name="Lanebridge Brokers", roles=(Role.BROKER,))
ADJUSTER = Party(id="adjuster", name="Hale Adjusters", roles=(Role.INSURER,))


def life(*bodies: Body, **more: Any) -> Life:
    (only,) = lives(made(CRACKED, *bodies, parties=(BROKER, ADJUSTER), **more))
    return only


@pytest.mark.parametrize(
    "bodies,phase",
    [
        ([], Phase.TO_REPORT),
        ([report(received=None, sent="2026-05-06")], Phase.SENT),
        ([report()], Phase.REPORTED),
        ([claim()], Phase.CLAIMED),
        ([report(), claim()], Phase.CLAIMED),
        ([claim(), report(received="2026-05-08")], Phase.CLAIMED),  # a later report is no step back
        ([claim(received=None, sent="2026-05-07")], Phase.SENT),
        ([claim(to="agent")], Phase.TO_REPORT),  # a broker is no carrier
        ([claim(), theirs(About.ACKNOWLEDGEMENT)], Phase.ACKNOWLEDGED),
        ([claim(), theirs(About.ACKNOWLEDGEMENT), theirs(About.STATUS)], Phase.ACKNOWLEDGED),
        ([claim(), theirs(About.OFFER)], Phase.OFFERED),
        ([claim(), theirs(About.DISALLOWANCE)], Phase.UNCLEAR),
        ([claim(), theirs(About.DISALLOWANCE, states_disallowance=True)], Phase.REFUSED),
        ([claim(), refusal()], Phase.DISALLOWED),
        # An offer that says that it disallows the rest, with reasons, is a disallowance.
        (
            [claim(), theirs(About.OFFER, states_disallowance=True, gives_reasons=True)],
            Phase.DISALLOWED,
        ),
        # An insurer's letter has to say that it acts for the carrier.
        ([claim(), replace(refusal(), sender="adjuster")], Phase.CLAIMED),
        (
            [claim(), replace(refusal(), sender="adjuster", acts_for_carrier=True)],
            Phase.DISALLOWED,
        ),
        ([claim(), replace(refusal(), how="telephone")], Phase.CLAIMED),  # spoken moves nothing
        ([claim(), theirs(About.PAYMENT, amount="418.00")], Phase.PAID),
        ([claim(), theirs(About.PAYMENT, amount="100.00")], Phase.PAID_PART),
        (
            [
                claim(),
                theirs(About.PAYMENT, "2026-05-12", amount="100.00"),
                theirs(About.PAYMENT, amount="318.00"),
            ],
            Phase.PAID,
        ),
        ([claim(), theirs(About.PAYMENT)], Phase.PAID_PART),  # how much is not recorded
        (
            [
                claim(),
                theirs(About.OFFER, "2026-05-12", amount="300.00"),
                notice(About.ACCEPTANCE, sent="2026-05-13"),
            ],
            Phase.ACCEPTED,
        ),
        (
            [
                claim(),
                theirs(About.OFFER, "2026-05-12", amount="300.00"),
                notice(About.ACCEPTANCE, sent="2026-05-13"),
                theirs(About.PAYMENT, amount="300.00"),
            ],
            Phase.PAID,
        ),
        ([claim(), refusal(), notice(About.SUIT, sent="2026-05-19")], Phase.SUED),
        (
            [claim(), notice(About.SUIT, sent="2026-05-12"), theirs(About.OFFER)],
            Phase.SUED,  # an offer during a suit does not end it
        ),
        ([claim(received="2026-05-21")], Phase.TO_REPORT),  # after the legal day
        ([claim(received="2026-05-20")], Phase.CLAIMED),  # on it
        # Sent before it, received after it: not shown received yet.
        ([claim(sent="2026-05-19", received="2026-05-21")], Phase.SENT),
        ([notice(About.CLAIM, to="shop", received="2026-05-06")], Phase.TO_REPORT),  # to the seller
        ([notice(About.OTHER, sent="2026-05-06")], Phase.TO_REPORT),  # about something else
        ([notice(About.OTHER, received="2026-05-06")], Phase.TO_REPORT),
        ([notice(About.OTHER), claim()], Phase.CLAIMED),  # one without any date among them
        # One after the legal day hides none that comes after it in the folder.
        ([claim(sent="2026-05-21", received=None), report()], Phase.REPORTED),
        # Who acts for the carrier writes to the carrier: nothing of ours was sent.
        (
            [
                notice(
                    About.DAMAGE_NOTICE,
                    sender="adjuster",
                    sent="2026-05-06",
                    received="2026-05-06",
                    acts_for_carrier=True,
                )
            ],
            Phase.TO_REPORT,
        ),
    ],
)
def test_the_phase(bodies: list[Body], phase: Phase) -> None:
    assert life(*bodies).phase is phase


@pytest.mark.parametrize(
    "amount,paid,phase",
    [
        (Money(Decimal("418.00"), "USD"), Money(Decimal("418.00"), "USD"), Phase.PAID),
        (Money(Decimal("418.00"), "USD"), Money(Decimal("417.99"), "USD"), Phase.PAID_PART),
        (Money(Decimal("418.00"), "USD"), Money(Decimal("500.00"), "CAD"), Phase.PAID_PART),
        (None, Money(Decimal("418.00"), "USD"), Phase.PAID_PART),  # nothing to weigh it against
    ],
)
def test_paid_is_what_reaches_the_claim_in_its_currency(
    amount: Money | None, paid: Money, phase: Phase
) -> None:
    assert life(claim(amount=amount), theirs(About.PAYMENT, amount=paid)).phase is phase


def test_nothing_wrong_is_its_own_phase() -> None:
    (only,) = lives(made())
    assert only.phase is Phase.NOTHING_WRONG


@pytest.mark.parametrize(
    "bodies,state",
    [
        ([report(text="A panel is cracked.")], Inspection.NOT_ASKED),
        ([report(text="Cracked. Please INSPECT.")], Inspection.ASKED),
        ([notice(About.INSPECTION_REQUESTED, received="2026-05-06")], Inspection.ASKED),
        ([report(text=None)], Inspection.NOT_ASKED),
        ([notice(About.OTHER, received="2026-05-06", text="inspected")], Inspection.NOT_ASKED),
        ([report(), theirs(About.INSPECTION_MADE)], Inspection.MADE),
        # Our own inspection, however it is entered, is not the carrier's.
        ([report(), notice(About.INSPECTION_MADE, received="2026-05-08")], Inspection.OWN),
        # Asked again after the carrier waived: the waiver stands.
        (
            [theirs(About.INSPECTION_WAIVED, "2026-05-05"), report()],
            Inspection.WAIVED,
        ),
        ([report(), theirs(About.INSPECTION_WAIVED)], Inspection.WAIVED),
        # That we say it was waived is not the carrier's waiver.
        ([report(), notice(About.INSPECTION_WAIVED, received="2026-05-08")], Inspection.ASKED),
        ([report(), notice(About.OWN_INSPECTION, received="2026-05-08")], Inspection.OWN),
        (
            [
                report(),
                theirs(About.INSPECTION_WAIVED, "2026-05-08"),
                notice(About.OWN_INSPECTION, received="2026-05-09"),
            ],
            Inspection.OWN,
        ),
        (
            [
                report(),
                notice(About.OWN_INSPECTION, received="2026-05-08"),
                theirs(About.INSPECTION_MADE),
            ],
            Inspection.MADE,
        ),
    ],
)
def test_the_inspection(bodies: list[Body], state: Inspection) -> None:
    assert life(*bodies).inspection is state


def test_the_claim_number_is_the_carriers() -> None:
    found = life(claim(reference="our 12"), theirs(About.ACKNOWLEDGEMENT, reference="C-4471"))
    assert found.claim_number == "C-4471"
    assert life(claim(reference="our 12")).claim_number is None


def test_the_first_number_that_the_carrier_gave_is_the_claims() -> None:
    found = life(
        claim(),
        theirs(About.ACKNOWLEDGEMENT, "2026-05-10"),
        theirs(About.STATUS, "2026-05-12", reference="C-4471"),
        theirs(About.OFFER, "2026-05-14", reference="C-9"),
    )
    assert found.claim_number == "C-4471"


def test_the_latest_step_about_something_is_one_that_counts() -> None:
    found = life(
        report(),
        claim(received="2026-05-07"),
        claim(received="2026-05-08", how="telephone"),
        theirs(About.STATUS, "2026-05-12"),
    )
    step = found.last(About.CLAIM)
    assert step
    assert step.record.id == "r2"
    assert found.last(About.OFFER) is None


def test_payments_in_two_currencies_are_not_added() -> None:
    euros = Money(Decimal("318.00"), "EUR")
    found = life(
        claim(),
        theirs(About.PAYMENT, "2026-05-12", amount="100.00"),
        theirs(About.PAYMENT, "2026-05-13", amount=euros),
    )
    assert found.paid is None
    assert found.phase is Phase.PAID_PART


def test_a_step_says_what_is_shown_of_it() -> None:
    texts = [
        step.text
        for step in life(
            report(reference="our 7"),
            claim(received=None, sent="2026-05-07"),
            theirs(About.OFFER, "2026-05-12", amount="100.00"),
            notice(About.OTHER),
        ).steps
    ]
    assert texts == [
        "concealed damage report, Marl & Sons to Northway Freight; number our 7; "
        "received Wed 2026-05-06",
        "claim, Marl & Sons to Northway Freight; USD 418.00; not shown received",
        "offer, Northway Freight to Marl & Sons; USD 100.00",
        "other, Marl & Sons to Northway Freight; not shown received",  # without a day: last
    ]


def test_steps_come_in_order_and_say_which_count() -> None:
    found = life(claim(to="agent"), report(), theirs(About.STATUS, "2026-05-12"))
    assert [(s.notice.about, s.counts) for s in found.steps] == [
        (About.CONCEALED_DAMAGE, True),
        (About.CLAIM, False),
        (About.STATUS, True),
    ]
    assert "Marl & Sons to Lanebridge Brokers" in found.steps[1].text


# Until when the packing is kept


@pytest.mark.parametrize(
    "bodies,words",
    [
        ([], "until the carrier has inspected"),
        ([report()], "until the carrier has inspected"),
        ([report(), theirs(About.INSPECTION_WAIVED)], "your own inspection report is written"),
        ([report(), theirs(About.INSPECTION_MADE)], "until the claim is settled"),
        ([claim(), theirs(About.PAYMENT, amount="418.00")], "ask about salvage"),
    ],
)
def test_how_long_the_packing_is_kept(bodies: list[Body], words: str) -> None:
    found = made(CRACKED, *bodies)
    (only,) = lives(found)
    assert found.facts.job
    text, source = keep_until(found, found.facts.job.shipment[0], only)[0]
    assert words in text
    assert source.citation


def test_a_paper_that_sets_days_for_the_packing_is_counted() -> None:
    keep = OwnTerm(
        id="keep",
        title="Keeping the packing",
        duty=Duty.KEEP_PACKING,
        runs_from=Start.DELIVERY,
        length=Span(15, "calendar days", written="15 calendar days"),
        source="Tariff 12, item 445",
    )
    found = made(CRACKED, own_term=(keep,))
    (only,) = lives(found)
    assert found.facts.job
    points = keep_until(found, found.facts.job.shipment[0], only)
    assert "at least to Tue 2026-05-19" in points[-1][0]
    assert points[-1][1].citation == "Tariff 12, item 445"


# The next move


def line(*bodies: Body, as_of: str = "2026-05-06", **more: Any) -> str:
    day = date.fromisoformat(as_of)
    return next_move(made(CRACKED, *bodies, as_of=day, **more)).line(day)


SELLER_TOLD = notice(About.DAMAGE_NOTICE, to="shop", received="2026-05-06", how="e-mail")


@pytest.mark.parametrize(
    "bodies,as_of,says",
    [
        # Careful count of five business days from Monday 05-04: Friday 05-08.
        ([SELLER_TOLD], "2026-05-06", "By Fri 2026-05-08: Report the damage to the carrier"),
        ([SELLER_TOLD], "2026-05-11", "The last day is Mon 2026-05-11"),
        ([SELLER_TOLD], "2026-05-12", "Mon 2026-05-11, has passed; do it all the same"),
        (
            [SELLER_TOLD, report(received=None, sent="2026-05-06")],
            "2026-05-06",
            "Get proof that the concealed damage report",
        ),
        (
            [SELLER_TOLD, report()],
            "2026-05-07",
            "By Wed 2026-05-13: If the carrier has not inspected by then",
        ),
        (
            [SELLER_TOLD, report()],
            "2026-05-13",
            "Today, Wed 2026-05-13: If the carrier has not inspected by then",
        ),
        (
            [SELLER_TOLD, report()],
            "2026-05-14",
            "Today, Thu 2026-05-14: The carrier has not inspected since it was asked",
        ),
        (
            [SELLER_TOLD, report(), theirs(About.INSPECTION_WAIVED, "2026-05-08")],
            "2026-05-08",
            "The carrier does not inspect: write your own inspection report",
        ),
        # Inspected: the claim itself, nine months from delivery, the working day before 02-04.
        (
            [SELLER_TOLD, report(), theirs(About.INSPECTION_MADE, "2026-05-08")],
            "2026-05-11",
            "By Wed 2027-02-03: File a written claim",
        ),
        # Received 05-07: acknowledged by 06-06, a Saturday; remind on Friday.
        (
            [SELLER_TOLD, claim()],
            "2026-05-20",
            "By Fri 2026-06-05: The carrier acknowledges the claim by Sat 2026-06-06: Remind",
        ),
        (
            [SELLER_TOLD, claim()],
            "2026-06-08",
            "The carrier acknowledges the claim was due on Sat 2026-06-06. Remind the carrier",
        ),
        # Reminded after the day: the decision is next, 120 days on 09-04.
        (
            [
                SELLER_TOLD,
                claim(),
                notice(About.REMINDER, sent="2026-06-09", received="2026-06-09"),
            ],
            "2026-06-10",
            "By Thu 2026-09-03: The carrier pays, declines or makes a firm offer",
        ),
        # A reminder on the last day itself is none after it; sent is enough to have reminded.
        (
            [SELLER_TOLD, claim(), notice(About.REMINDER, sent="2026-06-06")],
            "2026-06-08",
            "was due on Sat 2026-06-06. Remind the carrier",
        ),
        (
            [SELLER_TOLD, claim(), notice(About.REMINDER, sent="2026-06-08")],
            "2026-06-08",
            "By Thu 2026-09-03: The carrier pays",
        ),
        # Of two duties that are late, the later one is asked for.
        (
            [SELLER_TOLD, claim()],
            "2026-09-08",
            "The carrier pays, declines or makes a firm offer was due on Fri 2026-09-04",
        ),
        (
            [SELLER_TOLD, claim(), theirs(About.ACKNOWLEDGEMENT)],
            "2026-05-20",
            "Ask for the carrier's claim number",
        ),
        (
            [SELLER_TOLD, claim(), theirs(About.ACKNOWLEDGEMENT, reference="C-1")],
            "2026-05-20",
            "By Thu 2026-09-03: The carrier pays",
        ),
        (
            [SELLER_TOLD, claim(), theirs(About.OFFER, amount="200.00")],
            "2026-05-20",
            "Answer the offer of USD 200.00 in writing",
        ),
        (
            [SELLER_TOLD, claim(), theirs(About.DISALLOWANCE)],
            "2026-05-20",
            "Ask in writing whether the claim or a part of it is disallowed",
        ),
        ([SELLER_TOLD, claim(), refusal()], "2026-05-20", "Answer the disallowance point by point"),
        # Answered: the suit, two years from 2026-05-18, the working day before Thursday.
        (
            [SELLER_TOLD, claim(), refusal(), notice(About.ANSWER, received="2026-05-19")],
            "2026-05-20",
            "By Wed 2028-05-17: Ask a lawyer whether to sue",
        ),
        (
            [SELLER_TOLD, claim(), theirs(About.PAYMENT, amount="100.00")],
            "2026-05-20",
            "Paid so far: USD 100.00 of USD 418.00. Claim the rest",
        ),
        (
            [
                SELLER_TOLD,
                claim(),
                theirs(About.OFFER, "2026-05-12", amount="300.00"),
                notice(About.ACCEPTANCE, sent="2026-05-13"),
            ],
            "2026-05-20",
            "Watch for the payment of USD 300.00",
        ),
    ],
)
def test_the_next_move(bodies: list[Body], as_of: str, says: str) -> None:
    told = line(*bodies, as_of=as_of)
    assert says in told
    assert "\n" not in told


def test_the_last_day_is_named_only_when_the_careful_day_is_past() -> None:
    assert "The last day is" not in line(SELLER_TOLD, as_of="2026-05-06")
    late = moves(made(CRACKED, SELLER_TOLD, claim(), as_of=date(2026, 9, 8)))
    assert len([m for m in late if "was due on" in m.text]) == 1


def test_after_the_claim_no_report_is_asked_for_and_the_insurer_still_is() -> None:
    term = OwnTerm(
        id="notice",
        title="Notice of loss",
        duty=Duty.REPORT,
        runs_from=Start.DELIVERY,
        length=Span(5, "calendar days"),
        source="Policy, 9",
    )
    found = made(CRACKED, SELLER_TOLD, claim(), parties=(ADJUSTER,))
    assert found.facts.job
    policy = Policy(insurer="adjuster", term=(term,))
    insured = case(
        facts(job_=replace(found.facts.job, policy=(policy,)), records=found.facts.records),
        found.as_of,
    )
    passed = [m for m in moves(insured) if "has passed" in m.text]
    assert [m.to for m in passed] == ["Hale Adjusters (no e-mail entered)"]


def test_a_suit_goes_to_a_court_whoever_the_paper_names() -> None:
    term = OwnTerm(
        id="suit",
        title="Suit by contract",
        duty=Duty.SUIT,
        runs_from=Start.DELIVERY,
        length=Span(1, "years"),
        source="Contract 7",
        to="shop",
    )
    found = made(CRACKED, own_term=(term,))
    (to,) = {m.to for m in moves(found) if any(s.citation == "Contract 7 (U)" for s in m.sources)}
    assert to == "a court, through a lawyer"


def test_a_claim_that_is_paid_asks_the_carrier_nothing_more() -> None:
    found = made(CRACKED, SELLER_TOLD, claim(), theirs(About.PAYMENT, amount="418.00"))
    assert not [m for m in moves(found) if "hauler" in m.to or "Northway" in m.to]


def test_the_addressee_is_a_name_with_its_address() -> None:
    assert line(SELLER_TOLD).endswith("To: Northway Freight (no e-mail entered).")
    one = shipment(terms=Terms.US_INTERSTATE_MOTOR, classification_applies=True)
    parties = tuple(
        replace(p, email="claims@northway.example") if p.id == "hauler" else p for p in job().party
    )
    found = case(
        facts(
            job_=job(shipment=(one,), party=parties),
            records=[record("d", DELIVERED), record("x", CRACKED), record("s", SELLER_TOLD)],
        ),
        date(2026, 5, 6),
    )
    assert next_move(found).to == "Northway Freight, claims@northway.example"
    assert next_move(found).sources


def test_seller_and_insurer_are_named_too() -> None:
    term = OwnTerm(
        id="notice",
        title="Notice of loss",
        duty=Duty.REPORT,
        runs_from=Start.DISCOVERY,
        length=Span(30, "calendar days"),
        source="Policy, 9",
    )
    one = shipment(terms=Terms.US_INTERSTATE_MOTOR, classification_applies=True)
    job_ = job(
        shipment=(one,),
        sale=SaleTerms(report_within=Span(48, "hours"), source="Terms, 4"),
        policy=(Policy(insurer="beacon", term=(term,)),),
    )
    beacon = Party(id="beacon", name="Beacon Mutual", roles=(Role.INSURER,), email="a@b.example")
    found = case(
        facts(
            job_=replace(job_, party=(*job_.party, beacon)),
            records=[record("d", DELIVERED), record("x", CRACKED)],
        ),
        date(2026, 5, 5),
    )
    to = {move.to for move in moves(found)}
    assert "Beacon Mutual, a@b.example" in to
    assert "Tessel Supply (no e-mail entered)" in to


def test_with_nothing_wrong_the_goods_are_to_be_looked_at_by_ones_own_people() -> None:
    day = date(2026, 5, 5)
    move = next_move(made(as_of=day, sale=None))
    assert move.line(day).startswith("By Fri 2026-05-08: Unpack")
    # The seller's three business days: Monday is day 1, so Wednesday.
    assert next_move(made(as_of=day)).line(day).startswith("By Wed 2026-05-06: Unpack")
    assert move.to == "Marl & Sons (your own people)"


def test_two_shipments_give_one_line_the_earlier_first() -> None:
    first = shipment(id="a", terms=Terms.US_INTERSTATE_MOTOR, classification_applies=True)
    second = replace(first, id="b")
    job_ = job(shipment=(first, second))
    items = (replace(job_.item[0], shipment="a"), replace(job_.item[1], shipment="b"))
    told = [replace(SELLER_TOLD, shipment=name) for name in ("a", "b")]
    records = [
        record("da", replace(DELIVERED, shipment="a", signed_at=moment("2026-05-06 09:00"))),
        record("db", replace(DELIVERED, shipment="b", signed_at=moment("2026-05-04 09:00"))),
        record("xa", replace(CRACKED, item="panel", found=moment("2026-05-06 10:00"))),
        record("xb", replace(CRACKED, item="tray")),
        *(record(f"s{n}", body) for n, body in enumerate(told)),
    ]
    found = case(facts(job_=replace(job_, item=items), records=records), date(2026, 5, 6))
    assert next_move(found).shipment == "b"


def test_a_job_that_cannot_be_read_has_a_move_all_the_same() -> None:
    nothing = case(replace(facts(), job=None, job_sha256=None))
    assert next_move(nothing).line(date(2026, 5, 6))


@pytest.mark.parametrize("as_of", ["2026-05-04", "2026-06-30", "2027-03-01", "2029-01-01"])
@pytest.mark.parametrize(
    "bodies", [[], [report()], [claim()], [claim(), refusal()], [claim(), theirs(About.OFFER)]]
)
def test_every_move_is_one_line_with_what_it_rests_on(bodies: list[Body], as_of: str) -> None:
    day = date.fromisoformat(as_of)
    found = made(CRACKED, *bodies, as_of=day)
    for move in moves(found):
        assert re.fullmatch(r"[^\n\t]{20,}", move.line(day))
        assert move.text
        assert move.sources or move.day is None
        assert move.day is None or move.day >= date(2026, 5, 4)
    # What lapsed long ago has its place among the others by another rule (test_next_move).
    keys = [max(m.day, day) for m in moves(found) if m.day and not m.passed]
    assert keys == sorted(keys)


# What one more notice does


def added(before: list[Body], new: Body) -> tuple[tuple[str, str], ...]:
    """Give what the last record changes, both cases on the same day."""
    first = made(CRACKED, *before)
    second = made(CRACKED, *before, new)
    return limit_changes(first, second, f"records/r{len(before) + 1}.toml")


def test_a_claim_starts_meets_and_a_payment_stops() -> None:
    told = added([], claim())
    assert ("meets", "Claim for loss or damage, on Thu 2026-05-07 (main)") in told
    assert ("starts", "The carrier acknowledges the claim, last day Sat 2026-06-06 (main)") in told
    starts = [text for what, text in told if what == "starts"]
    assert len([t for t in starts if "written status" in t]) == 1
    stopped = added([claim()], theirs(About.PAYMENT, amount="418.00"))
    assert [text for what, text in stopped if what == "stops"] == [
        "The carrier's written status of an open claim, period 1 (main)"
    ]
    assert any(what == "meets" and "pays, declines" in text for what, text in stopped)


def test_what_does_nothing_is_said_with_the_reason() -> None:
    ((what, text),) = added([], claim(received=None, sent="2026-05-07"))
    assert what == "not"
    assert "Sent stops no limit" in text
    told = added([claim()], theirs(About.OFFER, amount="100.00"))
    assert any(w == "not" and "14706(e)(2)" in t for w, t in told)
    assert any(w == "starts" and "Suit" in t for w, t in added([claim()], refusal()))


def test_a_late_report_is_met_too_late() -> None:
    told = added([], report(received="2026-05-12"))
    assert any(w == "meets" and t.endswith("too late (main)") for w, t in told)


def test_a_letter_about_something_else_changes_nothing() -> None:
    assert added([], notice(About.OTHER, received="2026-05-07")) == ()
