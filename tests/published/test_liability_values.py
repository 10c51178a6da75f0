"""Limits of liability worked by hand from each text, through the whole stage.

Canada: CAD 4.41 per kg on the weight of the shipment (Uniform Conditions of Carriage). CMR Article
23(3): 8.33 SDR per kg short. Montreal Convention Article 22(3): 22 SDR from 2019-12-28 and 26 SDR
from 2024-12-28 (published summaries of the revisions). COGSA s. 4(5): USD 500 per package. The
pound is 0.45359237 kg (NIST SP 811, B.8).
"""

from __future__ import annotations

from datetime import UTC, date, datetime
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest

from claimkit.findings.claim.liability import work_out
from claimkit.model.case import Case, Liability
from claimkit.model.contract import LiabilityLimit, LiabilityTerms, WeightBasis
from claimkit.model.job import Terms
from claimkit.model.quantities import Money, Rate, Weight
from claimkit.model.records import Delivery
from tests.build import facts, job, moment, record, shipment

DELIVERED = Delivery(signed_at=moment("2026-05-04 09:00"))


def kg(value: str) -> Weight:
    return Weight(Fraction(value), f"{value} kg")


def lb(value: str) -> Weight:
    return Weight(Fraction(value) * Fraction("0.45359237"), f"{value} lb")


def rate(amount: str, currency: str, per: str) -> Rate:
    return Rate(Decimal(amount), currency, per, f"{amount} {currency} per {per}")


def by_paper(amount: str, per: str, basis: WeightBasis | None = None) -> LiabilityLimit:
    return LiabilityLimit(rate=rate(amount, "USD", per), basis=basis, source="Tariff 100, item 5")


def limits(delivered: Delivery | None = DELIVERED, **terms: Any) -> tuple[Liability, ...]:
    facts_ = facts(
        job_=job(shipment=(shipment(**terms),)),
        records=[record("d", delivered)] if delivered else [],
    )
    case = Case(facts_, date(2026, 6, 1), datetime(2026, 6, 1, tzinfo=UTC))
    return work_out(case).liabilities


@pytest.mark.parametrize(
    "terms,expected",
    [
        # Case 12: 200 kg × 4.41.
        ({"terms": Terms.CANADA, "weight": kg("200")}, "882.00 CAD"),
        # Case 13: 120 kg × 8.33.
        (
            {"terms": Terms.CMR, "liability": LiabilityTerms(affected_weight=kg("120"))},
            "999.60 XDR",
        ),
        # 441 lb are 200.03423517 kg; × 4.41 = 882.150977...
        ({"terms": Terms.CANADA, "weight": lb("441")}, "882.15 CAD"),
        # 10.5 kg × 22 and × 26, on the last and the first day of each figure.
        (
            {
                "terms": Terms.MONTREAL,
                "bill_date": moment("2024-12-27"),
                "liability": LiabilityTerms(affected_weight=kg("10.5")),
            },
            "231.00 XDR",
        ),
        (
            {
                "terms": Terms.MONTREAL,
                "bill_date": moment("2024-12-28"),
                "liability": LiabilityTerms(affected_weight=kg("10.5")),
            },
            "273.00 XDR",
        ),
        # Three packages × 500.
        (
            {"terms": Terms.COGSA, "liability": LiabilityTerms(affected_packages=3)},
            "1500.00 USD",
        ),
        # A tariff: 0.10 per lb of 412 lb, the whole shipment.
        (
            {
                "terms": Terms.US_INTERSTATE_MOTOR,
                "weight": lb("412"),
                "liability": LiabilityTerms(limit=(by_paper("0.10", "lb", WeightBasis.WHOLE),)),
            },
            "41.20 USD",
        ),
        # The same rate on the 37 lb of the damaged package: 3.70.
        (
            {
                "terms": Terms.US_INTERSTATE_MOTOR,
                "weight": lb("412"),
                "liability": LiabilityTerms(
                    affected_weight=lb("37"),
                    limit=(by_paper("0.10", "lb", WeightBasis.DAMAGED),),
                ),
            },
            "3.70 USD",
        ),
        # A rate per lb on a weight in kg: 10 kg are 22.0462262... lb, × 2.00 = 44.0924...
        (
            {
                "terms": Terms.OWN_CONTRACT,
                "weight": kg("10"),
                "liability": LiabilityTerms(limit=(by_paper("2.00", "lb", WeightBasis.WHOLE),)),
            },
            "44.09 USD",
        ),
        # Half a cent is rounded up: 1 lb × 0.125 = 0.125.
        (
            {
                "terms": Terms.OWN_CONTRACT,
                "weight": lb("1"),
                "liability": LiabilityTerms(limit=(by_paper("0.125", "lb", WeightBasis.WHOLE),)),
            },
            "0.13 USD",
        ),
        # By the shipment and by the package.
        (
            {
                "terms": Terms.OWN_CONTRACT,
                "liability": LiabilityTerms(limit=(by_paper("25000", "shipment"),)),
            },
            "25000.00 USD",
        ),
        (
            {
                "terms": Terms.PARCEL,
                "liability": LiabilityTerms(
                    affected_packages=2, limit=(by_paper("100", "package"),)
                ),
            },
            "200.00 USD",
        ),
    ],
)
def test_worked_values(terms: dict[str, Any], expected: str) -> None:
    (limit,) = limits(**terms)
    assert f"{limit.amount.amount:.2f} {limit.amount.currency}" == expected
    assert limit.sources
    assert limit.citation
    assert any("×" in step for step in limit.steps)


def test_special_drawing_rights_are_turned_only_by_a_rate_with_its_day_and_source() -> None:
    """999.60 SDR × 1.3142 = 1313.674...: 1313.67."""
    whole = {
        "affected_weight": kg("120"),
        "sdr_rate": rate("1.3142", "USD", "SDR"),
        "sdr_date": moment("2026-05-04"),
        "sdr_source": "International Monetary Fund",
    }
    (limit,) = limits(terms=Terms.CMR, liability=LiabilityTerms(**whole))
    assert limit.amount == Money(Decimal("999.60"), "XDR")
    assert limit.converted == Money(Decimal("1313.67"), "USD")
    assert any("Mon 2026-05-04 (International Monetary Fund)" in step for step in limit.steps)
    for lacks in ("sdr_rate", "sdr_date", "sdr_source"):
        (limit,) = limits(terms=Terms.CMR, liability=LiabilityTerms(**(whole | {lacks: None})))
        assert limit.amount == Money(Decimal("999.60"), "XDR")
        assert limit.converted is None
