"""Whether seller, maker, insurer or our own work is asked: each answer with what it rests on.

`test_addressee` shows that one fact less leaves no "yes"; here no and cannot tell are told apart,
and each says its fact or what is wanted. The facts that decide are those of docs/methods.md, "whom
to ask"; that a flaw of the making, a short packing or a wrong part is no loss on the way is common
practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from claimkit.model.answers import Answer
from claimkit.model.case import Asked, Candidate, Case
from claimkit.model.contract import Policy
from claimkit.model.job import Party, Role, SaleTerms, Terms
from claimkit.model.records import FoundAt, Unpacking, Wrap
from tests.build import case, facts, inches, moment, photo, record
from tests.findings.gap_build import complaint, dry, fastened
from tests.findings.office_build import damage, delivery
from tests.findings.test_addressee import (
    AT_CURB,
    BEACON,
    CLOSED,
    GOOD,
    HAULER,
    HIDDEN,
    LATER,
    NO_NUMBERS,
    PARTIES,
    SHOP,
    SHORT,
    SHORT_CURB,
    SOUND,
    US,
    Made,
    floor,
    gap_job,
    insured,
    made,
    wrong,
)

YES, NO, UNTOLD = Answer.YES, Answer.NO, Answer.CANNOT_TELL
SELLER, MAKER, OWN, INSURER = Asked.SELLER, Asked.MAKER, Asked.OWN_WORK, Asked.INSURER
FLAWED = {"what": "edge delaminated"}
OWN_TRUCK = {"ship": {"terms": Terms.SELLERS_TRUCK, "carrier": "shop"}}
OTHER_SHOP = Party(id="other-shop", name="Dorn Supply", roles=(Role.SELLER,))
OTHER_WORKS = Party(id="other-works", name="Dorn Works", roles=(Role.MAKER,))
OPEN = {"design_gap_max": None, "design_gap_min": None}


def asked(found: Case, whom: Asked, where: str = "") -> list[Candidate]:
    return [
        c
        for a in found.addressees
        for c in a.candidates
        if c.who is whom and (not where or a.where == where)
    ]


def only(found: Case, whom: Asked, where: str = "") -> Candidate:
    (one,) = asked(found, whom, where)
    return one


def uncounted(**more: Any) -> Any:
    return delivery(wrap=Wrap.INTACT, **more)


# Whom, what is known, the answer, and words of what it rests on or of what is wanted.
TOLD: list[tuple[Asked, Made, Answer, str]] = [
    # The seller, for damage.
    (SELLER, {}, UNTOLD, "Until when the risk was the seller's"),
    (SELLER, {"records": (AT_CURB, LATER, SOUND)}, NO, "It was good when it was unpacked."),
    (SELLER, {"records": (AT_CURB, damage(found_at=FoundAt.DRY_FIT), SOUND)}, NO, "It was good"),
    (SELLER, {"records": (AT_CURB, HIDDEN, SOUND)}, UNTOLD, "Until when the risk"),
    (SELLER, {"records": (AT_CURB, LATER)}, UNTOLD, "Until when the risk"),
    (
        SELLER,
        {"records": (AT_CURB, damage(**FLAWED))},
        YES,
        "“delaminated” is a flaw of the making, in goods sold",
    ),
    (SELLER, {"records": (AT_CURB, damage(found_at=FoundAt.LATER, **FLAWED))}, UNTOLD, "Until"),
    (SELLER, OWN_TRUCK, YES, "The seller's own truck brought the goods."),
    (SELLER, {**OWN_TRUCK, "records": (AT_CURB, HIDDEN)}, UNTOLD, "curb"),
    # For what is short.
    (SELLER, {"records": SHORT_CURB}, UNTOLD, "the seller's loading record"),
    (SELLER, {"records": (CLOSED, SHORT)}, YES, "the piece was not in them"),
    (SELLER, {"records": (uncounted(units_received=None), SHORT)}, YES, "wrap intact"),
    (SELLER, {"records": (uncounted(cartons_received=None), SHORT)}, YES, "wrap intact"),
    (
        SELLER,
        {
            "records": (uncounted(cartons_received=None, units_expected=1), SHORT),
            "ship": {**GOOD, **NO_NUMBERS},
        },
        YES,
        "wrap intact",
    ),
    (
        SELLER,
        {
            "records": (uncounted(units_received=None, cartons_expected=4), SHORT),
            "ship": {**GOOD, **NO_NUMBERS},
        },
        YES,
        "wrap intact",
    ),
    # Units were counted, and only of cartons is a number on the bill.
    (
        SELLER,
        {
            "records": (uncounted(cartons_received=None), SHORT),
            "ship": {**GOOD, "handling_units": None},
        },
        UNTOLD,
        "the counts at the curb against",
    ),
    # One delivery came closed and uncounted, another counted with nothing said of its wrap.
    (
        SELLER,
        {
            "records": (
                replace(uncounted(units_received=None, cartons_received=None), id="first"),
                delivery(),
                SHORT,
            )
        },
        UNTOLD,
        "the state of the wrap",
    ),
    # For gaps: the dry fit decides, on open floor and level.
    (SELLER, {**gap_job(), "records": (floor(9),)}, YES, "Outside design at the dry fit"),
    (
        SELLER,
        {**gap_job(), "records": (dry(9),)},
        UNTOLD,
        "so that the opening cannot be the reason",
    ),
    (SELLER, {**gap_job(), "records": (floor(9, set_level=False),)}, UNTOLD, "on a level base"),
    (SELLER, {**gap_job(), "records": (dry(3), fastened(6))}, NO, "the gap was within design"),
    (SELLER, {**gap_job(), "records": (fastened(6),)}, UNTOLD, "A gap reading at the dry fit"),
    (SELLER, {**gap_job(), "records": (fastened(6), complaint(9))}, UNTOLD, "A gap reading at the"),
    (SELLER, {**gap_job(**OPEN), "records": (dry(3), fastened(9))}, UNTOLD, "A gap reading at the"),
    (SELLER, {**gap_job(), "records": (floor(4), fastened(9))}, UNTOLD, "The dry fit is past"),
    # The seller files the claim with the carrier, not the one for what it sent wrong.
    (SELLER, {"sale": SaleTerms(claim_filed_by="shop")}, YES, "the seller files the claim"),
    (
        SELLER,
        {**wrong(hand="right"), "sale": SaleTerms(claim_filed_by="shop")},
        YES,
        "Not what was ordered",
    ),
    # The maker.
    (MAKER, {}, UNTOLD, "Whether the packing was enough"),
    (MAKER, {"records": (AT_CURB, damage(**FLAWED))}, YES, "a flaw of the making"),
    (
        MAKER,
        {"records": (AT_CURB, damage(found_at=FoundAt.LATER, **FLAWED))},
        UNTOLD,
        "Whether it was there",
    ),
    (
        MAKER,
        {"records": (AT_CURB, damage(found_at=FoundAt.LATER, **FLAWED), SOUND)},
        NO,
        "It was good when",
    ),
    (MAKER, {"records": (CLOSED, SHORT)}, UNTOLD, "Who packed and sent it"),
    (
        MAKER,
        {"records": (CLOSED, SHORT), "ship": {**GOOD, "shipper": "works"}},
        YES,
        "the piece was not in them",
    ),
    (
        MAKER,
        {"records": SHORT_CURB, "ship": {**GOOD, "shipper": "works"}},
        UNTOLD,
        "Who packed and sent it",
    ),
    (MAKER, {**wrong(colour="grey"), "ship": {**GOOD, "shipper": "works"}}, UNTOLD, "Who packed"),
    (MAKER, wrong(colour="grey"), UNTOLD, "Who packed and sent it"),
    (MAKER, wrong(size=(inches("34"), inches("90"))), UNTOLD, "made to another size"),
    (MAKER, {**gap_job(), "records": (dry(3), fastened(6))}, NO, "the gap was within design"),
    # Our own work.
    (OWN, {}, NO, "found at the curb, before our work"),
    (OWN, {"records": (AT_CURB, HIDDEN)}, UNTOLD, "A photo of it that is dated at the unpacking"),
    (OWN, {"records": (AT_CURB, LATER, SOUND)}, YES, "It was good when it was unpacked; "),
    (OWN, {**gap_job(), "records": (fastened(6),)}, UNTOLD, "A gap reading at the dry fit"),
    (
        OWN,
        {**gap_job(), "records": (fastened(6), complaint(9))},
        UNTOLD,
        "A gap reading at the dry fit",
    ),
    (OWN, {**gap_job(), "records": (dry(9),)}, NO, "before anything was fastened"),
    (
        OWN,
        {**gap_job(), "records": (dry(3), fastened(6))},
        YES,
        "Within design at the dry fit, opened by the fastened",
    ),
    (OWN, {**gap_job(), "records": (dry(3), complaint(6))}, UNTOLD, "A reading at the handover"),
    (OWN, {**gap_job(), "records": (dry("3.4"), fastened("4.3"))}, UNTOLD, "the seam's material"),
    # 3.7 is within 2 to 4 mm and 4.2 is not, and the half millimetre between is no change by 0.8.
    (OWN, {**gap_job(), "records": (dry("3.7"), fastened("4.2"))}, UNTOLD, "Finer readings"),
    (OWN, {**gap_job(), "records": (dry(4), fastened(9))}, UNTOLD, "The dry fit is past"),
    # An insurer.
    (INSURER, insured(), YES, "Policy CG-1 is entered for it; give notice as it asks."),
    (INSURER, insured(**wrong(hand="right")), UNTOLD, "Whether policy CG-1 covers this"),
    (INSURER, {"parties": (*PARTIES, BEACON)}, UNTOLD, "Which policy of Beacon Mutual"),
]


@pytest.mark.parametrize("whom, known, answer, words", TOLD)
def test_each_answer_says_why(whom: Asked, known: Made, answer: Answer, words: str) -> None:
    found = made(**known)
    for one in asked(found, whom):
        assert one.answer is answer, (one.because, one.settle)
        told = [text for text, _ in one.because] if one.because else []
        assert any(words in text for text in (told if answer is not UNTOLD else one.settle))
    assert asked(found, whom)


def parties_asked(found: Case, whom: Asked) -> list[str | None]:
    return [c.party for c in asked(found, whom)]


@pytest.mark.parametrize(
    "whom, other, shipper", [(SELLER, OTHER_SHOP, "shop"), (MAKER, OTHER_WORKS, "works")]
)
def test_of_several_the_one_that_shipped_is_asked(whom: Asked, other: Party, shipper: str) -> None:
    both = (*PARTIES, other)
    shipped = made(parties=both, ship={**GOOD, "shipper": shipper})
    assert parties_asked(shipped, whom) == [shipper]
    by_another = made(parties=both, ship={**GOOD, "shipper": "hauler"})
    assert parties_asked(by_another, whom) == [shipper, other.id]
    nobody = made(parties=(US, HAULER), ship={**GOOD, "shipper": "hauler"})
    one = only(nobody, whom)
    assert (one.party, one.answer) == (None, UNTOLD)
    assert any(f"Who the {whom} is" in text for text in one.settle)


def test_a_wrong_piece_in_a_closed_carton_is_not_packed_short() -> None:
    grey = wrong(colour="grey")
    records = (CLOSED, *grey["records"][1:])
    found = made(**{**grey, "records": records, "ship": {**GOOD, "shipper": "works"}})
    assert [c.because for c in asked(found, MAKER)] == [()]


def test_only_the_maker_that_packed_is_asked_for_what_is_short() -> None:
    """Packing shows against the one that packed; the other makers are as before."""
    found = made(
        records=(CLOSED, SHORT),
        parties=(*PARTIES, OTHER_WORKS),
        ship={**GOOD, "shipper": "hauler"},
    )
    assert [c.answer for c in asked(found, MAKER)] == [UNTOLD, UNTOLD]
    assert all("Who packed and sent it" in c.settle[0] for c in asked(found, MAKER))


def test_goods_that_never_came_are_not_the_makers_nor_our_works() -> None:
    late = {**GOOD, "bill_number": "B-1", "bill_date": moment("2026-04-20"),
            "reasonable_delivery": moment("2026-05-01")}  # fmt: skip
    found = made(records=(), ship=late)
    assert [a.kind for a in found.addressees] == ["not delivered"]
    assert asked(found, MAKER) == asked(found, OWN) == []
    assert only(found, SELLER).answer is UNTOLD


def test_that_the_seller_files_is_said_of_carriage_alone() -> None:
    files = SaleTerms(claim_filed_by="shop")
    text = "By the terms of sale the seller files the claim with the carrier."

    def says(**known: Any) -> bool:
        because = [t for c in asked(made(sale=files, **known), SELLER) for t, _ in c.because]
        return text in because

    assert says()
    assert says(records=SHORT_CURB)
    assert not says(**wrong(hand="right"))
    assert not says(**{**gap_job(), "records": (floor(9),)})
    # Another files it; nobody is named on either side.
    other = made(sale=SaleTerms(claim_filed_by="other-shop"))
    assert only(other, SELLER).because == ()
    nobody = made(parties=(US, HAULER), sale=SaleTerms(risk_passes="on delivery"))
    assert only(nobody, SELLER).because == ()


def test_a_gap_between_pieces_of_an_unknown_shipment_is_weighed_too() -> None:
    job_ = made(**{**gap_job(), "records": (floor(9),)}).facts.job
    assert job_ is not None
    two = replace(job_, shipment=(*job_.shipment, replace(job_.shipment[0], id="second")))
    (gap,) = case(facts(job_=two, records=(floor(9),))).addressees
    assert gap.shipment is None
    assert {c.answer for c in gap.candidates if c.who in (SELLER, MAKER)} == {YES}


def policy(**more: Any) -> Policy:
    first: Policy = insured()["policy"][0]
    return replace(first, **more)


def test_each_policy_that_covers_the_shipment_is_named_with_its_place() -> None:
    others = policy(shipment="second", number="X-9")
    unnamed = policy(shipment=None, number=None)
    found = made(parties=(*PARTIES, BEACON), policy=(others, policy(), unnamed))
    told = [point for c in asked(found, INSURER) for point in c.because]
    assert [text for text, _ in told] == [
        "Policy CG-1 is entered for it; give notice as it asks.",
        "A policy is entered for it; give notice as it asks.",
    ]
    where = [source.key_path for _, sources in told for source in sources]
    assert where == ["policy[2].insurer", "policy[3].insurer"]


@pytest.mark.parametrize(
    "parties, us",
    [
        ((HAULER, SHOP, US), "us"),
        ((HAULER, replace(US, roles=(Role.OWNER,))), "us"),
        ((HAULER, replace(US, roles=(Role.INSTALLER,))), "us"),
        ((HAULER, replace(US, roles=(Role.CONSIGNEE,))), None),
    ],
)
def test_our_own_work_is_that_of_owner_or_installer(
    parties: tuple[Party, ...], us: str | None
) -> None:
    assert only(made(parties=parties), OWN).party == us


def of_unpacking(*photos: Any, named: tuple[str, ...] = (), of: str = "photos/crack.jpg") -> Answer:
    """Answer for a damage found at the unpacking, with its photo and what the record names."""
    unpacked = record("unpacking", Unpacking(photos=named, ended=moment("2026-05-04 11:00"),
                                             began=moment("2026-05-04 10:00")))  # fmt: skip
    seen = damage(found_at=FoundAt.UNPACKING, photos=(of,))
    return only(made((AT_CURB, seen, unpacked), photos=photos), OWN).answer


def test_only_its_own_photo_of_the_unpacking_shows_a_damage_then() -> None:
    crack = "photos/crack.jpg"
    early = [photo(f"photos/early-{n}.jpg", "2026-05-04 10:30:00") for n in range(8)]
    assert of_unpacking(photo(crack, "2026-05-04 10:30:00")) is NO
    assert of_unpacking(photo(crack, None), *early) is UNTOLD
    assert of_unpacking(photo(crack, "2026-05-20 10:30:00"), *early) is UNTOLD
    assert of_unpacking(*early, of="photos/gone.jpg") is UNTOLD
    # In no stage: the record of the unpacking has to name it.
    assert of_unpacking(photo(crack, "2026-05-06 10:30:00")) is UNTOLD
    assert of_unpacking(photo(crack, "2026-05-06 10:30:00"), named=(crack,)) is NO


def test_a_flaw_is_quoted_as_it_was_written() -> None:
    for what, word in (("edge delaminated", "delaminated"), ("two Voids seen", "Voids")):
        one = only(made((AT_CURB, damage(what=what))), SELLER)
        assert one.because[0][0].startswith(f"“{word}” is a flaw of the making")
