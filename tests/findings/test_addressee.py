"""Whom to ask: for each addressee cases that decide, and each again with one fact taken away.

The facts that decide are those of docs/methods.md, "whom to ask"; they follow the prima facie case
(Missouri Pacific R.R. v. Elmore & Stahl, 377 U.S. 134, from memory) and law.md sections 1 and 3.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from claimkit.compose.packet.order import compose
from claimkit.model.answers import Answer
from claimkit.model.case import Asked, Case, Reader
from claimkit.model.contract import Duty, OwnTerm, Policy, Start
from claimkit.model.document import statements
from claimkit.model.job import BillText, Job, Paper, Party, Role, SaleTerms, Terms
from claimkit.model.quantities import Span
from claimkit.model.records import (
    About,
    CountedItem,
    FoundAt,
    Notice,
    Record,
    Unpacking,
    Wrap,
)
from claimkit.model.stages import Event
from claimkit.rules.addressees import DEFECTS, flaw_of_the_making
from tests.build import case, facts, inches, mm, moment, photo, record, seam
from tests.findings.gap_build import complaint, dry, fastened, handover, milestone
from tests.findings.office_build import PANEL, TRAY, a_job, damage, delivery, with_item

US = Party(id="us", name="Marl & Sons", roles=(Role.OWNER, Role.INSTALLER, Role.CONSIGNEE))
HAULER = Party(id="hauler", name="Northway", roles=(Role.DELIVERING_CARRIER,))
RIDGE = Party(id="ridge", name="Ridge Lines", roles=(Role.ORIGIN_CARRIER,))
SHOP = Party(id="shop", name="Tessel Supply", roles=(Role.SELLER, Role.SHIPPER))
WORKS = Party(id="works", name="Tarn Works", roles=(Role.MAKER,))
BEACON = Party(id="beacon", name="Beacon Mutual", roles=(Role.INSURER,))
MILE = replace(HAULER, roles=(Role.LAST_MILE_CARRIER,))
PARTIES = (US, HAULER, SHOP, WORKS)
CURB_PHOTO = photo("photos/curb.jpg", "2026-05-04 09:15:00")
SPECIFIC = "1 of 4 cartons, lower left corner crushed 4 in"
GOOD = {"clean_at_origin": True, "classification_applies": True, "bill_text": BillText.FROM_2016}
PACKED = {**GOOD, "packing_evidence": "the seller's photos of the packing"}
REPORT = record(
    "report",
    Notice(
        about=About.CONCEALED_DAMAGE,
        sender="us",
        to="hauler",
        sent=moment("2026-05-05 08:30"),
        received=moment("2026-05-05 08:40"),
    ),
)
SHORT = record("unpacking", Unpacking(counted=(CountedItem(item="panel", quantity=3),)))
SOUND = record(
    "unpacking", Unpacking(counted=(CountedItem(item="panel", quantity=4, condition="good"),))
)
HIDDEN = damage(found_at=FoundAt.UNPACKING)
AT_CURB = delivery(driver_left=moment("2026-05-04 09:35"))
CLEAR = {"words": "received in good order"}
Made = dict[str, Any]


def made(
    records: tuple[Record, ...] = (AT_CURB, damage()),
    ship: dict[str, Any] | None = None,
    photos: tuple[Any, ...] = (),
    parties: tuple[Party, ...] = PARTIES,
    **job: Any,
) -> Case:
    items = job.pop("items", (PANEL, TRAY))
    the_job: Job = a_job(*items, ship=GOOD if ship is None else ship, party=parties, **job)
    return case(facts(job_=the_job, records=records, photos=photos))


def without(ship: dict[str, Any], key: str) -> dict[str, Any]:
    return {k: v for k, v in ship.items() if k != key}


def origin(**more: Any) -> Made:
    ship = {**GOOD, "origin_carrier": "ridge", **more}
    return {"ship": ship, "parties": (*PARTIES, RIDGE)}


def last_mile(**more: Any) -> Made:
    return {"ship": {**GOOD, **more}, "parties": (US, MILE, SHOP, WORKS)}


def gap_job(**of_seam: Any) -> Made:
    return {"seam": (seam(**of_seam),), "parties": PARTIES}


def floor(*gap: Any, **more: Any) -> Record:
    return dry(*gap, place="on open floor", **more)


def wrong(**found: Any) -> Made:
    """A panel ordered left, white, 36 × 90 in, with a drain in the centre; found as given."""
    panel = with_item(
        PANEL,
        hand="left",
        colour="white",
        size=(inches("36"), inches("90")),
        drain_position="centre",
    )
    row = CountedItem(item="panel", quantity=4, **found)
    return {"records": (AT_CURB, record("unpacking", Unpacking(counted=(row,)))), "items": (panel,)}


def insured(shipment: str | None = "main", **more: Any) -> Made:
    term = OwnTerm(
        id="notice",
        title="Notice",
        duty=Duty.REPORT,
        runs_from=Start.DELIVERY,
        length=Span(10, "calendar days"),
        source="policy, 4",
    )
    policy = Policy(insurer="beacon", number="CG-1", shipment=shipment, term=(term,))
    return {"policy": (policy,), "parties": (*PARTIES, BEACON), **more}


UNINSURED = {"parties": (*PARTIES, BEACON)}
NOT_HERE: Made = {
    "records": (),
    "ship": {
        **GOOD,
        "bill_number": "B-1",
        "bill_date": moment("2026-04-20"),
        "reasonable_delivery": moment("2026-05-01"),
    },
}
SHORT_CURB = (delivery(words="Received 3 of 4 cartons", cartons_received=3),)
CLOSED = delivery(wrap=Wrap.INTACT)
LATER = damage(found_at=FoundAt.LATER)
PHOTO = {"records": (delivery(driver_left=moment("2026-05-04 09:35"), **CLEAR),
                     damage(photos=("photos/curb.jpg",)))}  # fmt: skip

UNCOUNTED = {"units_received": None, "cartons_received": None}
NO_NUMBERS = {"cartons": None, "handling_units": None}
OWN_TRUCK = {"terms": Terms.SELLERS_TRUCK, "carrier": "shop"}
COUNTED = record("unpacking", Unpacking(counted=(CountedItem(item="panel", quantity=4),)))

# (whom, what decides, the same with one fact less)
CASES: list[tuple[Asked, Made, Made]] = [
    # delivering carrier
    (Asked.DELIVERING_CARRIER, {}, {"ship": without(GOOD, "clean_at_origin")}),
    (Asked.DELIVERING_CARRIER, {}, {"records": (delivery(words=None), damage())}),
    (
        Asked.DELIVERING_CARRIER,
        {**PHOTO, "photos": (CURB_PHOTO,)},
        {**PHOTO, "photos": (photo("photos/curb.jpg", None),)},  # no time in the photo
    ),
    (
        Asked.DELIVERING_CARRIER,
        {"records": (delivery(**CLEAR), HIDDEN, REPORT), "ship": PACKED},
        {"records": (delivery(**CLEAR), HIDDEN), "ship": PACKED},  # not reported
    ),
    (
        Asked.DELIVERING_CARRIER,
        {"records": (AT_CURB, HIDDEN), "ship": PACKED},
        {"records": (AT_CURB, HIDDEN), "ship": GOOD},  # nothing on packing
    ),
    (
        Asked.DELIVERING_CARRIER,
        {"records": SHORT_CURB},
        {"records": (delivery(words=None, cartons_received=3),)},
    ),
    (Asked.DELIVERING_CARRIER, NOT_HERE, {**NOT_HERE, "ship": without(NOT_HERE["ship"],
                                                                     "bill_number")}),
    (Asked.DELIVERING_CARRIER, NOT_HERE, {**NOT_HERE, "ship": without(NOT_HERE["ship"],
                                                                     "clean_at_origin")}),
    # the carrier whose truck came is a last-mile carrier
    (Asked.LAST_MILE_CARRIER, last_mile(), last_mile(clean_at_origin=None)),
    (Asked.LAST_MILE_CARRIER, last_mile(), {**last_mile(), "parties": PARTIES}),  # not its role
    (
        Asked.LAST_MILE_CARRIER,
        {**last_mile(), "records": SHORT_CURB},
        {**last_mile(clean_at_origin=None), "records": SHORT_CURB},
    ),
    (
        Asked.LAST_MILE_CARRIER,
        {**last_mile(**PACKED), "records": (AT_CURB, HIDDEN)},
        {**last_mile(), "records": (AT_CURB, HIDDEN)},
    ),
    (
        Asked.LAST_MILE_CARRIER,
        {**last_mile(), **PHOTO, "photos": (CURB_PHOTO,)},
        {**last_mile(), **PHOTO, "photos": ()},
    ),
    # origin carrier
    (Asked.ORIGIN_CARRIER, origin(), origin(terms=Terms.NOT_KNOWN)),
    (Asked.ORIGIN_CARRIER, origin(), origin(clean_at_origin=None)),
    (
        Asked.ORIGIN_CARRIER,
        {**origin(**PACKED), "records": (AT_CURB, HIDDEN)},
        {**origin(), "records": (AT_CURB, HIDDEN)},
    ),
    (
        Asked.ORIGIN_CARRIER,
        {**origin(), "records": SHORT_CURB},
        {**origin(), "records": (delivery(words=None, cartons_received=3),)},
    ),
    (Asked.ORIGIN_CARRIER, origin(), {**origin(), "ship": GOOD}),  # not named as its carrier
    # seller
    (Asked.SELLER, wrong(hand="right"), wrong()),
    (Asked.SELLER, wrong(colour="grey"), wrong()),
    (Asked.SELLER, wrong(size=(inches("34"), inches("90"))), wrong()),
    (Asked.SELLER, wrong(drain_position="left"), wrong()),
    (
        Asked.SELLER,
        {"ship": {**GOOD, "clean_at_origin": False}},
        {"ship": without(GOOD, "clean_at_origin")},
    ),
    (
        Asked.SELLER,
        {"records": (CLOSED, SHORT)},
        {"records": (delivery(), SHORT)},  # nobody says how the wrap was
    ),
    (
        Asked.SELLER,
        {"records": (CLOSED, SHORT)},
        {"records": (delivery(wrap=Wrap.INTACT, **UNCOUNTED), SHORT)},
    ),
    (
        Asked.SELLER,
        {"records": (CLOSED, SHORT)},
        {"records": (CLOSED, SHORT), "ship": {**GOOD, **NO_NUMBERS}},  # nothing to count against
    ),
    (
        Asked.SELLER,
        # Only the receipt says how many cartons there should be.
        {"records": (delivery(wrap=Wrap.INTACT, cartons_expected=4), SHORT),
         "ship": {**GOOD, **NO_NUMBERS}},
        # The bill has a number of units, and only the cartons were counted.
        {"records": (delivery(wrap=Wrap.INTACT, units_received=None), SHORT),
         "ship": {**GOOD, "cartons": None}},
    ),
    (
        Asked.SELLER,
        {**PHOTO, "photos": (CURB_PHOTO,), "ship": OWN_TRUCK},
        {**PHOTO, "photos": (photo("photos/curb.jpg", None),), "ship": OWN_TRUCK},
    ),
    (
        Asked.SELLER,
        {"sale": SaleTerms(claim_filed_by="shop")},
        {"sale": SaleTerms(risk_passes="on delivery")},
    ),
    # maker
    (
        Asked.MAKER,
        {"records": (AT_CURB, damage(what="edge delaminated", found_at=FoundAt.UNPACKING))},
        {"records": (AT_CURB, damage(what="edge damaged", found_at=FoundAt.UNPACKING))},
    ),
    (
        Asked.MAKER,
        {"records": (AT_CURB, damage(what="hinge holes mis-drilled", found_at=FoundAt.DRY_FIT))},
        {"records": (AT_CURB, damage(what="hinge holes mis-drilled", found_at=FoundAt.LATER))},
    ),
    (
        Asked.MAKER,
        {"records": (AT_CURB, damage(what="air bubble in the face"))},
        {"records": (AT_CURB, damage(what="air bubble in the face")), "parties": (US, HAULER)},
    ),
    (
        Asked.MAKER,
        {**gap_job(), "records": (floor(9),)},
        {**gap_job(), "records": (dry(9),)},  # in the opening
    ),
    (
        Asked.MAKER,
        {**gap_job(), "records": (floor(9),)},
        {**gap_job(), "records": (floor(9, set_level=None),)},
    ),
    (
        Asked.MAKER,
        {**gap_job(), "records": (floor(9),)},
        {**gap_job(design_gap_max=None, design_gap_min=None), "records": (floor(9),)},
    ),
    # insurer
    (Asked.INSURER, insured(), UNINSURED),
    (Asked.INSURER, insured(shipment=None), UNINSURED),
    (
        Asked.INSURER,
        insured(records=SHORT_CURB),
        {**UNINSURED, "records": SHORT_CURB},
    ),
    (Asked.INSURER, insured(**NOT_HERE), {**UNINSURED, **NOT_HERE}),
    (
        Asked.INSURER,
        insured(records=(AT_CURB, HIDDEN)),
        insured(**wrong(hand="right")),  # a wrong part is no loss on the way
    ),
    # own work
    (
        Asked.OWN_WORK,
        {"records": (AT_CURB, LATER, SOUND)},
        {"records": (AT_CURB, LATER)},
    ),
    (
        Asked.OWN_WORK,
        {"records": (AT_CURB, LATER, SOUND)},
        {"records": (AT_CURB, LATER, COUNTED)},  # counted, and nobody wrote how it was
    ),
    (
        Asked.OWN_WORK,
        {"records": (AT_CURB, damage(found_at=FoundAt.DRY_FIT), SOUND)},
        {"records": (AT_CURB, damage(found_at=FoundAt.DRY_FIT))},
    ),
    (
        Asked.OWN_WORK,
        {**gap_job(), "records": (dry(3), fastened(6))},
        {**gap_job(), "records": (fastened(6),)},  # no dry fit
    ),
    (
        Asked.OWN_WORK,
        {**gap_job(), "records": (dry(3), handover(6))},
        {**gap_job(), "records": (dry(3), complaint(6))},  # settling and use lie between
    ),
    (
        Asked.OWN_WORK,
        {**gap_job(), "records": (dry(3), fastened(1))},
        {**gap_job(design_gap_max=None, design_gap_min=None), "records": (dry(3), fastened(1))},
    ),
]  # fmt: skip


def answers(found: Case, whom: Asked) -> list[Answer]:
    return [c.answer for a in found.addressees for c in a.candidates if c.who is whom]


@pytest.mark.parametrize("whom, decides, less", CASES)
def test_facts_decide_and_one_fact_less_does_not(whom: Asked, decides: Made, less: Made) -> None:
    assert Answer.YES in answers(made(**decides), whom)
    assert Answer.YES not in answers(made(**less), whom)


@pytest.mark.parametrize("whom", list(Asked))
def test_each_addressee_has_five_cases(whom: Asked) -> None:
    assert sum(asked is whom for asked, _, _ in CASES) >= 5


@pytest.mark.parametrize("whom, decides, less", CASES)
def test_every_answer_names_its_facts_or_what_is_wanted(
    whom: Asked, decides: Made, less: Made
) -> None:
    for found in (made(**decides), made(**less)):
        for addressee in found.addressees:
            for c in addressee.candidates:
                if c.answer is Answer.CANNOT_TELL:
                    assert c.settle
                else:
                    assert c.because
                assert all(sources for _, sources in c.because)


def test_a_broker_is_not_asked_as_a_carrier() -> None:
    broker = Party(id="hauler", name="Desk Brokers", roles=(Role.BROKER,))
    found = made(parties=(US, broker, SHOP))
    assert Answer.YES not in answers(found, Asked.DELIVERING_CARRIER)
    (only,) = (c for a in found.addressees for c in a.candidates if "carrier" in c.who)
    assert only.party is None
    assert "broker" in only.settle[-1]


def test_several_are_asked_where_the_facts_allow() -> None:
    found = made(**insured(), sale=SaleTerms(claim_filed_by="shop"))
    (addressee,) = found.addressees
    asked = {c.who for c in addressee.asked}
    assert asked == {Asked.DELIVERING_CARRIER, Asked.SELLER, Asked.INSURER}


def test_the_sellers_own_truck_makes_no_carrier() -> None:
    found = made(ship={"terms": Terms.SELLERS_TRUCK, "carrier": "shop"})
    assert answers(found, Asked.DELIVERING_CARRIER) == []
    assert answers(found, Asked.SELLER) == [Answer.YES]


def test_what_was_good_when_unpacked_is_not_the_carriers() -> None:
    found = made((AT_CURB, LATER, SOUND))
    assert answers(found, Asked.DELIVERING_CARRIER) == [Answer.NO]


def test_a_settled_damage_asks_nobody() -> None:
    assert made((AT_CURB, damage(resolved="replaced"))).addressees == ()


@pytest.mark.parametrize("word", DEFECTS, ids=lambda w: w.pattern)
def test_each_word_of_a_flaw_flags_and_passes(word: Any) -> None:
    assert flaw_of_the_making(word.must_flag)
    assert flaw_of_the_making(word.must_pass) is None


@pytest.mark.parametrize("reader", list(Reader))
@pytest.mark.parametrize("of", [insured, lambda: {**gap_job(), "records": (dry(3), fastened(6))}])
def test_only_the_owner_reads_whom_to_ask(reader: Reader, of: Callable[[], Made]) -> None:
    document = compose(made(**of()), reader)
    there = "asking" in [s.id for s in document.sections]
    assert there is (reader is Reader.OWN)
    text = " ".join(s.text for _, s in statements(document))
    assert ("own work" in text) is (reader is Reader.OWN)


def test_a_gap_is_compared_in_mm() -> None:
    """The seam of these cases allows 2 to 4 mm: 9 is outside, 3 within, 1 and 6 outside."""
    assert (mm(2), mm(4)) == (seam().design_gap_min, seam().design_gap_max)


def test_a_policy_of_another_shipment_covers_nothing_here() -> None:
    assert Answer.YES not in answers(made(**insured(shipment="other")), Asked.INSURER)


def test_a_piece_may_have_been_in_the_carton_that_did_not_come() -> None:
    """Three of four cartons came: that the piece was packed short is then not shown."""
    three = delivery(wrap=Wrap.INTACT, words="Received 3 of 4 cartons", cartons_received=3)
    found = made((three, SHORT))
    item = [a for a in found.addressees if a.where == "item panel"]
    assert [c.answer for a in item for c in a.candidates if c.who is Asked.SELLER] == [
        Answer.CANNOT_TELL
    ]


def test_counted_without_its_condition_nothing_is_called_sound() -> None:
    found = made((AT_CURB, LATER, COUNTED))
    assert answers(found, Asked.OWN_WORK) == [Answer.CANNOT_TELL]


def test_only_an_insurer_is_asked_as_one() -> None:
    assert answers(made(), Asked.INSURER) == []
    assert answers(made(**UNINSURED), Asked.INSURER) == [Answer.CANNOT_TELL]
    assert answers(made(**insured()), Asked.INSURER) == [Answer.YES], "named once"


def test_a_carrier_that_is_both_is_asked_as_the_delivering_one() -> None:
    both = replace(HAULER, roles=(Role.DELIVERING_CARRIER, Role.LAST_MILE_CARRIER))
    found = made(parties=(US, both, SHOP, WORKS))
    assert answers(found, Asked.DELIVERING_CARRIER) == [Answer.YES]
    assert answers(found, Asked.LAST_MILE_CARRIER) == []


def test_a_photo_named_at_the_unpacking_and_taken_at_the_handover_shows_nothing_of_it() -> None:
    def own(taken: str | None) -> list[Answer]:
        path = "photos/crack.jpg"
        named = record("unpacking", Unpacking(photos=(path,)))
        seen = damage(found_at=FoundAt.UNPACKING, photos=(path,))
        over = milestone(
            Event.HANDOVER, "2026-05-08 09:00", "m-over", ended=moment("2026-05-08 11:00")
        )
        records = (AT_CURB, seen, named, over)
        return answers(made(records, photos=(photo(path, taken),)), Asked.OWN_WORK)

    assert own("2026-05-08 10:00:00") == [Answer.CANNOT_TELL]
    assert own("2026-05-05 10:00:00") == [Answer.NO], "in no stage, and the record names it"


def test_what_is_short_is_of_its_own_shipment() -> None:
    job_ = a_job(
        replace(PANEL, shipment="main"), replace(TRAY, shipment="second"), ship=GOOD, party=PARTIES
    )
    second = replace(job_.shipment[0], id="second")
    records = [replace(r, body=replace(r.body, shipment="main")) for r in (AT_CURB, SHORT)]
    found = case(facts(job_=replace(job_, shipment=(*job_.shipment, second)), records=records))
    panels = [a for a in found.addressees if a.where == "item panel"]
    assert [a.shipment for a in panels] == ["main"]


def _of(found: Case, who: Asked, about: str = "") -> tuple[str, Answer]:
    """Give what is said to and wanted of one candidate as one text, and the answer."""
    one = next(a for a in found.addressees if about in a.about)
    candidate = next(c for c in one.candidates if c.who is who)
    said = " ".join([*(text for text, _ in candidate.because), *candidate.settle])
    return said, candidate.answer


@pytest.mark.parametrize("cartons, counted", [(None, False), (4, True)])
def test_only_what_was_counted_is_said_to_have_come(cartons: int | None, counted: bool) -> None:
    came = delivery(wrap=Wrap.INTACT, units_received=1, cartons_received=cartons)
    said, _ = _of(made((came, SHORT)), Asked.SELLER)
    assert "1 handling unit" in said
    assert ("4 cartons" in said) is counted
    assert ("cartons not counted" in said) is not counted


def test_of_a_shortage_beside_a_refusal_it_is_not_said_that_all_came() -> None:
    came = delivery(wrap=Wrap.INTACT, refused="1 panel, cracked")
    said, answer = _of(made((came, SHORT)), Asked.SELLER)
    assert "in what was refused" in said
    assert "wrap intact" not in said
    assert answer is Answer.CANNOT_TELL


def test_terms_of_sale_that_are_entered_are_said_and_not_asked_for() -> None:
    both = SaleTerms(risk_passes="on signature", claim_filed_by="us")
    said, _ = _of(made(sale=both), Asked.SELLER)
    assert "the risk passes “on signature”" in said
    assert "Marl & Sons files the claim" in said
    assert "sale.risk_passes" not in said
    assert "sale.claim_filed_by" not in said
    half, _ = _of(made(sale=SaleTerms(risk_passes="on signature")), Asked.SELLER)
    assert "sale.claim_filed_by" in half
    assert "sale.risk_passes" not in half
    nothing, _ = _of(made(), Asked.SELLER)
    assert "sale.risk_passes" in nothing


@pytest.mark.parametrize(
    "day, condition, answer",
    [
        ("2026-05-04", "cracked", Answer.NO),
        ("2026-05-10", "cracked", Answer.CANNOT_TELL),
        ("2026-05-04", "cracked, not sure, perhaps by our own cart", Answer.CANNOT_TELL),
        ("2026-05-04", "cracked, I dropped it", Answer.CANNOT_TELL),
    ],
)
def test_own_work_is_ruled_out_only_where_we_did_not_hold_the_goods_in_between(
    day: str, condition: str, answer: Answer
) -> None:
    began, ended = moment(f"{day} 14:00"), moment(f"{day} 15:00")
    shown = photo("photos/open.jpg", f"{day} 14:30:00")
    row = CountedItem(item="panel", quantity=4, condition=condition)
    opened = record("unpacking", Unpacking(began=began, ended=ended, counted=(row,)))
    hurt = damage(found_at=FoundAt.UNPACKING, photos=("photos/open.jpg",))
    found = made((AT_CURB, hurt, opened), photos=(shown,))
    said, told = _of(found, Asked.OWN_WORK)
    assert told is answer
    assert ("between the delivery" in said) is (day == "2026-05-10")
    assert ("whoever wrote it may know" in said) is (len(condition) > 10)


def test_a_clean_bill_says_on_what_it_rests() -> None:
    """The entry alone, or the bill itself: the paper is what the carrier signed."""
    bare, _ = _of(made(photos=(CURB_PHOTO,)), Asked.DELIVERING_CARRIER)
    assert "By what was entered the bill was signed at origin" in bare
    assert "the bill of lading itself is not in the folder" in bare
    paper = Paper(file="photos/bill.jpg", what="bill of lading")
    there = made(photos=(CURB_PHOTO, photo("photos/bill.jpg")), paper=(paper,))
    said, _ = _of(there, Asked.DELIVERING_CARRIER)
    assert "The bill was signed at origin with no exception." in said
    assert "not in the folder" not in said
    origin_now = next(e for e in there.elements if e.name == "good order at origin")
    assert any(s.path == "photos/bill.jpg" for _, found in origin_now.supports for s in found)
