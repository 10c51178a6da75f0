"""The worksheet against sums done by hand, and against Python's fractions as a second route.

Each expected amount was worked out on paper from the figures in the row; none is copied from
output. What is added and what is taken off follows 49 CFR's traditional presentation form: the
invoice price, every discount and allowance (shared facts, law.md section 3).
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from claimkit.findings.claim.parts import claim_parts, ready
from claimkit.findings.claim.worksheet import of_shipment, rounded, total
from claimkit.model.case import AmountLine, Case
from claimkit.model.contract import LiabilityTerms
from claimkit.model.quantities import Money
from claimkit.model.records import (
    CostOf,
    CostPart,
    CountedItem,
    Damage,
    FoundAt,
    Record,
    Unpacking,
)
from tests.build import record
from tests.findings.office_build import (
    PANEL,
    TRAY,
    a_job,
    cost,
    damage,
    delivery,
    hours,
    percent,
    pounds,
    usd,
    with_item,
    worked,
)


def line(found: Case, kind: str) -> AmountLine:
    """Give the only line of a kind."""
    (only,) = (x for x in found.amount if x.kind == kind)
    return only


def sum_of(*records: Record) -> str:
    whole = total(worked((delivery(), *records)).amount)
    return str(whole)


SHORT = record("unpacking", Unpacking(counted=(CountedItem(item="panel", quantity=3),)))


@pytest.mark.parametrize(
    "records, expected",
    [
        ((damage(),), "USD 412.50"),  # one panel at its invoice price
        ((damage(quantity=3),), "USD 1,237.50"),  # 3 × 412.50
        ((damage(), SHORT), "USD 825.00"),  # one crushed, one of four missing
        ((damage(quantity=4), SHORT), "USD 1,650.00"),  # never more than the four ordered
        ((damage(resolved="replaced by the carrier"),), "None"),  # settled: no silent number
        # one piece replaced free: the goods line ends at 0
        ((damage(), cost(what=CostOf.REPLACEMENT, item="panel")), "USD 0.00"),
        # more were sent than are claimed: nothing below zero from a replacement
        ((damage(), cost(what=CostOf.REPLACEMENT, item="panel", quantity=9)), "USD 0.00"),
        # 825.00 less one of two replaced
        (
            (damage(quantity=2), cost(what=CostOf.REPLACEMENT, item="panel")),
            "USD 412.50",
        ),
        # 412.50 − 50.00 − 12.50
        (
            (
                damage(),
                cost("a", what=CostOf.CREDIT, amount=usd("50.00")),
                cost("b", what=CostOf.ALLOWANCE, amount=usd("12.50")),
            ),
            "USD 350.00",
        ),
        # 2 % of 412.50 is 8.25
        ((damage(), cost(what=CostOf.DISCOUNT, percent=percent("2"))), "USD 404.25"),
        # 1.5 % of 412.50 is 6.1875, rounded 6.19
        ((damage(), cost(what=CostOf.DISCOUNT, percent=percent("1.5"))), "USD 406.31"),
        # a discount on what is left after a free replacement: 2 % of 412.50
        (
            (
                damage(quantity=2),
                cost("a", what=CostOf.REPLACEMENT, item="panel"),
                cost("b", what=CostOf.DISCOUNT, percent=percent("2")),
            ),
            "USD 404.25",
        ),
        # repaired: 2.5 × 65.00 = 162.50, + 2 × 12.40 = 187.30; no panel is bought
        (
            (
                damage(),
                cost(
                    what=CostOf.REPAIR,
                    item="panel",
                    hours=hours("2.5"),
                    rate=usd("65.00"),
                    part=(CostPart(description="trim", quantity=2, price=usd("12.40")),),
                ),
            ),
            "USD 187.30",
        ),
        # two damaged, one of them repaired at 100.00: 412.50 + 100.00
        (
            (
                damage(quantity=2),
                cost(what=CostOf.REPAIR, item="panel", amount=usd("100.00")),
            ),
            "USD 512.50",
        ),
        # one settled by a repair that we paid, another still open: 412.50 + 100.00
        (
            (
                damage("a", resolved="repaired"),
                damage("b"),
                cost(what=CostOf.REPAIR, item="panel", amount=usd("100.00")),
            ),
            "USD 512.50",
        ),
        # a lump sum in the damage record itself
        ((damage(repair_cost=usd("120.00")),), "USD 120.00"),
        # 412.50 + 35.00 re-crating − 20.00 salvage
        (
            (
                damage(),
                cost("a", what=CostOf.MITIGATION, amount=usd("35.00")),
                cost("b", what=CostOf.SALVAGE, amount=usd("20.00")),
            ),
            "USD 427.50",
        ),
        # a standby crew is not in the sum without notice, and is with it
        ((damage(), cost(what=CostOf.SPECIAL, amount=usd("640.00"))), "USD 412.50"),
        (
            (
                damage(),
                cost(what=CostOf.SPECIAL, amount=usd("640.00"), notice_given="e-mail, 20 April"),
            ),
            "USD 1,052.50",
        ),
        ((damage(), cost(what=CostOf.FREIGHT, amount=usd("60.78"))), "USD 473.28"),
    ],
)
def test_sums_by_hand(records: tuple[Record, ...], expected: str) -> None:
    assert sum_of(*records) == expected


@pytest.mark.parametrize(
    "records, why",
    [
        ((damage(),), "1 damaged"),
        ((damage(), SHORT), "1 damaged and 1 short"),
        # Four damaged and one short of four ordered: no more than four are claimed.
        ((damage(quantity=4), SHORT), "4 damaged and 1 short, counted as 4 of 4 ordered"),
        ((damage(quantity=3), SHORT), "3 damaged and 1 short"),
    ],
)
def test_why_so_many_pieces_are_claimed(records: tuple[Record, ...], why: str) -> None:
    assert line(worked((delivery(), *records)), "goods").why == why


def test_each_step_and_rounding_is_shown() -> None:
    repair = cost(what=CostOf.REPAIR, item="panel", hours=hours("1.15"), rate=usd("65.50"))
    found = line(worked((delivery(), damage(), repair)), "repair")
    # 1.15 × 65.50 = 75.325: halves up, 75.33
    assert found.total == usd("75.33")
    assert "1.15 h × USD 65.50 an hour = USD 75.33" in found.steps[0]
    assert "USD 75.325000 rounded to USD 75.33, halves up." in found.steps[0]


@pytest.mark.parametrize(
    "paid, weight, affected, expected",
    [
        # 486.20 × 148 / 1184 = 60.775, rounded 60.78
        ("beside the price", 1184, 148, "60.78"),
        ("in the price", 1184, 148, None),  # it is in the goods' own value already
        ("by others", 1184, 148, None),
        (None, 1184, 148, None),  # not said: asked for, not claimed
        ("beside the price", None, 148, None),  # the share cannot be told
        ("beside the price", 1184, None, None),
    ],
)
def test_freight_is_claimed_by_weight_where_paid_beside_the_price(
    paid: str | None, weight: int | None, affected: int | None, expected: str | None
) -> None:
    ship = {
        "freight_charges": usd("486.20"),
        "freight_paid": paid,
        "weight": pounds(weight) if weight else None,
        "liability": LiabilityTerms(affected_weight=pounds(affected) if affected else None),
    }
    found = worked(job_=a_job(ship=ship))
    freight = [x for x in found.amount if x.kind == "freight"]
    assert [str(x.total.amount) for x in freight] == ([expected] if expected else [])
    asked = any(f.rule == "amount-freight-not-decided" for f in found.findings)
    assert asked is (not expected and paid in (None, "beside the price"))


def test_all_freight_where_all_goods_are_claimed() -> None:
    ship = {"freight_charges": usd("486.20"), "freight_paid": "beside the price"}
    found = worked((delivery(), damage(quantity=4)), a_job(PANEL, ship=ship))
    assert str(line(found, "freight").total.amount) == "486.20"


def test_mixed_currencies_give_no_sum() -> None:
    tray = with_item(TRAY, invoice_price=usd("388.00", "CAD"))
    both = (delivery(), damage(), damage("cracked", item="tray"))
    found = worked(both, a_job(PANEL, tray))
    assert total(found.amount) is None
    assert [n.reason for n in found.not_checked if n.rule == "amount"] == [
        "The worksheet holds amounts in CAD and USD, and no sum is made across currencies. Claim "
        "each currency in a claim of its own, or enter the amounts in the currency that was paid."
    ]


@pytest.mark.parametrize("word", ["retail price", "list price", "quotation", "estimate"])
def test_no_price_but_the_invoices(word: str) -> None:
    found = worked(job_=a_job(with_item(PANEL, price_from=word)))
    assert found.amount == ()
    assert any(word in n.reason for n in found.not_checked if n.rule == "amount")


def test_the_three_things_of_a_claim() -> None:
    found = worked()
    ship = found.facts.job.shipment[0] if found.facts.job else None
    assert ship
    assert [p.holds for p in claim_parts(found, ship)] == [True, True, True]
    assert ready(found, ship)


@pytest.mark.parametrize(
    "records, ship, lacking",
    [
        ((delivery(), damage()), {"pro_number": None}, 0),  # no number identifies the shipment
        ((delivery(cartons_received=4),), {}, 1),  # nothing is wrong: no liability to assert
        ((delivery(), record("d", Damage(item="oak", what="x", found_at=FoundAt.CURB))), {}, 2),
    ],
)
def test_each_missing_thing_keeps_a_letter_from_being_ready(
    records: tuple[Record, ...], ship: dict[str, object], lacking: int
) -> None:
    oak = with_item(PANEL, id="oak", invoice_price=None)
    found = worked(records, a_job(PANEL, oak, ship=ship))
    shipment = found.facts.job.shipment[0] if found.facts.job else None
    assert shipment
    assert not claim_parts(found, shipment)[lacking].holds
    assert not ready(found, shipment)


@given(
    st.fractions(min_value=0, max_value=10**6, max_denominator=10**4),
    st.sampled_from([("USD", 100), ("JPY", 1), ("KWD", 1000)]),
)
@settings(max_examples=200)
def test_rounding_is_to_the_nearest_unit_halves_up(value: Fraction, unit: tuple[str, int]) -> None:
    """ISO 4217 minor units: two decimals for USD, none for JPY, three for KWD."""
    code, per = unit
    money, told = rounded(value, code)
    # A second route in whole numbers: floor(2·v·per + 1) / 2.
    nearest = (2 * value.numerator * per + value.denominator) // (2 * value.denominator)
    assert Fraction(money.amount) == Fraction(nearest, per)
    assert bool(told) is (Fraction(nearest, per) != value)


def test_the_claim_of_one_shipment_holds_nothing_of_another() -> None:
    job_ = a_job(with_item(PANEL, shipment="main"), with_item(TRAY, shipment="second"))
    two = replace(job_, shipment=(*job_.shipment, replace(job_.shipment[0], id="second")))
    came = replace(delivery(), body=replace(delivery().body, shipment="main"))
    found = worked((came, damage(), damage("cracked", item="tray")), two)
    assert [str(total(of_shipment(found, name))) for name in ("main", "second", None)] == [
        "USD 412.50",
        "USD 388.00",
        "USD 800.50",
    ]


def test_total_is_exact() -> None:
    lines = [
        AmountLine("a", "s", 1, usd("0.10"), usd("0.10"), "", ()),
        AmountLine("b", "s", 1, usd("0.20"), usd("0.20"), "", ()),
    ]
    assert total(lines) == Money(Decimal("0.30"), "USD")


def test_freight_is_not_all_where_a_piece_was_replaced_free() -> None:
    ship = {"freight_charges": usd("486.20"), "freight_paid": "beside the price"}
    new = cost(what=CostOf.REPLACEMENT, item="panel")
    found = worked((delivery(), damage(quantity=4), new), a_job(PANEL, ship=ship))
    assert not [x for x in found.amount if x.kind == "freight"]
    assert [f for f in found.findings if f.rule == "amount-freight-not-decided"]


def test_nothing_left_to_demand_is_no_claim() -> None:
    new = cost(what=CostOf.REPLACEMENT, item="panel")
    found = worked((delivery(), damage(), new))
    shipment = found.facts.job.shipment[0] if found.facts.job else None
    assert shipment
    assert [p.holds for p in claim_parts(found, shipment)] == [True, True, False]


def test_a_sum_that_leaves_out_a_damaged_piece_is_not_whole() -> None:
    tray = with_item(TRAY, invoice_price=None)
    both = (delivery(), damage(), damage("cracked", item="tray"))
    found = worked(both, a_job(PANEL, tray))
    shipment = found.facts.job.shipment[0] if found.facts.job else None
    assert shipment
    assert str(total(found.amount)) == "USD 412.50"
    part = claim_parts(found, shipment)[2]
    assert not part.holds
    assert "Floor tray" in part.enter
