"""The carrier's limit beside the loss: what is missing is said, nothing is ever taken off."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from claimkit.findings.claim.liability import missing, work_out
from claimkit.findings.claim.worksheet import total
from claimkit.model.answers import Answer
from claimkit.model.case import Case
from claimkit.model.contract import LiabilityLimit, LiabilityTerms, WeightBasis
from claimkit.model.job import Shipment, Terms
from claimkit.model.quantities import Money, Rate, Weight
from claimkit.model.records import Delivery
from tests.build import facts, job, moment, record, shipment
from tests.findings.cases_check_terms import (
    BY_WEIGHT,
    CRACKED,
    POUNDS_96,
    by_road,
    limited,
    made,
)

KG_100 = Weight(Fraction(100), "100 kg")


def worked(one: Shipment, *deliveries: Delivery, as_of: str = "2026-06-01") -> Case:
    records = [record(f"d{number}", body) for number, body in enumerate(deliveries)]
    facts_ = facts(job_=job(shipment=(one,)), records=records)
    day = date.fromisoformat(as_of)
    return work_out(Case(facts_, day, datetime(2026, 6, 1, tzinfo=UTC)))


DELIVERED = Delivery(signed_at=moment("2026-05-04 09:00"))


@pytest.mark.parametrize(
    "one,words",
    [
        (shipment(terms=Terms.CANADA), "the weight of the shipment is not entered"),
        (shipment(terms=Terms.CMR, weight=KG_100), "gross weight of the damaged or missing"),
        (shipment(terms=Terms.COGSA), "customary freight units"),
        (
            shipment(
                terms=Terms.US_INTERSTATE_MOTOR,
                weight=KG_100,
                liability=limited(limit=(replace(BY_WEIGHT, basis=None),)),
            ),
            "whether it multiplies the damaged packages or the whole shipment",
        ),
    ],
)
def test_what_is_missing_is_asked_for_and_no_figure_is_given(one: Shipment, words: str) -> None:
    case = worked(one, DELIVERED)
    assert not case.liabilities
    (gap,) = missing(case)
    assert gap.rule == "liability-not-computed"
    assert words in gap.reason


def test_goods_that_never_came_are_the_whole_weight() -> None:
    one = shipment(terms=Terms.CMR, weight=KG_100, shipped=moment("2026-04-01"))
    assert not worked(one).liabilities  # on the road, as far as is known
    nothing = Delivery(signed_at=moment("2026-05-04 09:00"), units_received=0)
    (limit,) = worked(one, nothing).liabilities
    assert limit.amount == Money(Decimal("833.00"), "XDR")
    expected = replace(one, reasonable_delivery=moment("2026-05-31"))
    assert worked(expected).liabilities
    assert not worked(expected, as_of="2026-05-31").liabilities


def test_before_anything_moved_no_text_is_chosen() -> None:
    case = worked(shipment(terms=Terms.CANADA, weight=KG_100))
    assert not case.liabilities
    assert not missing(case)


def test_a_change_of_the_figure_on_the_road_is_said() -> None:
    one = shipment(
        terms=Terms.MONTREAL,
        bill_date=moment("2024-12-27"),
        liability=LiabilityTerms(affected_weight=KG_100),
    )
    (limit,) = worked(one, Delivery(signed_at=moment("2024-12-30 09:00"))).liabilities
    assert limit.amount.amount == 2200
    assert any("26 SDR per kg was in force" in step for step in limit.steps)
    (limit,) = worked(one, Delivery(signed_at=moment("2024-12-27 20:00"))).liabilities
    assert not any("was in force" in step for step in limit.steps)


def test_a_declared_value_stands_beside_the_text_and_says_what_it_does() -> None:
    one = shipment(
        terms=Terms.CANADA,
        weight=KG_100,
        bill_date=moment("2026-04-01"),
        liability=LiabilityTerms(
            declared_value=Money(Decimal("2500.00"), "CAD"), declared_source="bill, box 23"
        ),
    )
    declared, text = worked(one, DELIVERED).liabilities
    assert declared.amount == Money(Decimal("2500.00"), "CAD")
    assert "bill, box 23" in declared.citation
    assert text.amount == Money(Decimal("441.00"), "CAD")
    assert any("declared value of CAD 2,500.00" in step for step in text.steps)


@pytest.mark.parametrize(
    "price,answer", [("192.01", Answer.YES), ("192.00", Answer.NO), ("191.99", Answer.NO)]
)
def test_the_loss_is_compared_and_stays_whole(price: str, answer: Answer) -> None:
    """96 lb × 2.00 USD per lb = 192.00; the claim is the full loss in each case."""
    case = made(CRACKED, liability=limited(), price=price)
    (limit,) = case.liabilities
    assert limit.below_loss is answer
    assert limit.loss == Money(Decimal(price), "USD")
    assert total(case.amount) == Money(Decimal(price), "USD")
    assert limit.steps[-1].startswith(f"The claim stays the full actual loss, USD {price}")


def test_the_weight_is_shown_exactly_with_where_it_comes_from() -> None:
    liability = limited(affected_source="packing list, carton 3")
    (limit,) = made(CRACKED, liability=liability).liabilities
    said = "It multiplies: 96 lb = 43.54486752 kg, the damaged or missing packages (packing list"
    assert any(step.startswith(said) for step in limit.steps)
    assert "USD 2.00 per lb × 96 lb = USD 192.00." in limit.steps
    (limit,) = worked(shipment(terms=Terms.CANADA, weight=KG_100), DELIVERED).liabilities
    assert "It multiplies: 100 kg, the whole shipment." in limit.steps
    third = Weight(Fraction(1, 3), "1/3 kg")
    (limit,) = worked(shipment(terms=Terms.CANADA, weight=third), DELIVERED).liabilities
    assert any("1/3 kg = 0.333333… kg" in step for step in limit.steps)
    assert not any("rounded" in step for step in limit.steps)  # 4.41 / 3 = 1.47 exactly
    terms = LiabilityTerms(affected_weight=third)
    (limit,) = worked(shipment(terms=Terms.CMR, liability=terms), DELIVERED).liabilities
    assert any("rounded to SDR 2.78, halves up" in step for step in limit.steps)  # 2.7766...


def test_two_currencies_are_not_compared() -> None:
    case = by_road(sdr_date=None)
    (limit,) = case.liabilities
    assert limit.below_loss is Answer.CANNOT_TELL
    assert not [f for f in case.findings if f.rule == "liability-limit-below-loss"]
    (limit,) = by_road(sdr_date=moment("2026-05-04")).liabilities
    assert limit.below_loss is not Answer.CANNOT_TELL


def test_each_limit_that_was_entered_is_shown_for_itself() -> None:
    second = replace(BY_WEIGHT, basis=WeightBasis.WHOLE, source="Contract 7")
    case = made(
        CRACKED,
        weight=Weight(2 * POUNDS_96.kg, "192 lb"),
        liability=limited(limit=(BY_WEIGHT, second)),
    )
    amounts = [str(limit.amount) for limit in case.liabilities]
    assert amounts == ["USD 192.00", "USD 384.00"]
    assert len({limit.rule for limit in case.liabilities}) == 2


@settings(max_examples=200, deadline=None)
@given(
    st.decimals(min_value="0.01", max_value="9999", places=2),
    st.integers(1, 10**6),
    st.sampled_from(["lb", "kg"]),
)
def test_the_product_is_exact_to_the_half_cent(amount: Decimal, grams: int, per: str) -> None:
    """A second route: whole numbers of grams and hundredths of grains of a pound, no decimals."""
    weight = Weight(Fraction(grams, 1000), f"{grams} g")
    limit_ = LiabilityLimit(
        rate=Rate(amount, "USD", per), basis=WeightBasis.WHOLE, source="Tariff 1"
    )
    one = shipment(weight=weight, liability=LiabilityTerms(limit=(limit_,)))
    (limit,) = worked(one, DELIVERED).liabilities
    cents = int(amount * 100)
    # kg: cents × g / 1000; lb: cents × g × 10^5 / 45359237, since 1 lb is 453.59237 g.
    top, bottom = (cents * grams, 1000) if per == "kg" else (cents * grams * 10**5, 45359237)
    expected, rest = divmod(top, bottom)
    expected += 2 * rest >= bottom
    assert int(limit.amount.amount * 100) == expected


def test_the_limit_never_changes_the_amount_claimed() -> None:
    without = made(CRACKED)
    with_limit = made(CRACKED, liability=limited())
    assert without.amount == with_limit.amount
