"""Limits of liability as data: so much for each kilogram or package, on which weight, since when.

A limit is the carrier's defence and the carrier's to show; a claim is made for the full actual
loss. Special drawing rights stay what they are until the user gives a rate and its day. For motor
carriers in the United States no text sets a figure: the bill or the tariff does, and the user
enters it. Marks as in `rules.carriage`.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from claimkit.model.contract import WeightBasis
from claimkit.model.job import Terms

SDR = "XDR"


@dataclass(frozen=True, slots=True)
class LiabilityRow:
    """One limit that a text sets.

    `per` is kg or package. `basis` says which weight it multiplies, None where it multiplies
    packages. `beside` are sentences on what the figure leaves out. Effective dates are inclusive.
    """

    id: str
    terms: str
    title: str
    rate: Decimal
    currency: str
    per: str
    basis: WeightBasis | None
    citation: str
    mark: str
    beside: tuple[str, ...] = ()
    effective_from: date | None = None
    effective_to: date | None = None


FREIGHT_TOO = (
    "Carriage charges, customs duties and other charges of the carriage are refunded beside it, in "
    "proportion (Article 23(4), from memory)."
)
WHOLE_WORTHLESS = (
    "Where the damage takes the worth of the whole consignment, its whole weight counts: enter "
    "that as affected_weight."
)

ROWS: tuple[LiabilityRow, ...] = (
    LiabilityRow(
        id="ca-liability",
        terms=Terms.CANADA.value,
        title="Uniform Conditions of Carriage: CAD 4.41 per kg of the shipment",
        rate=Decimal("4.41"),
        currency="CAD",
        per="kg",
        basis=WeightBasis.WHOLE,
        citation=(
            "Uniform Conditions of Carriage, as printed on bills of lading: at most $4.41 per "
            "kilogram ($2.00 per pound) on the weight of the shipment; O. Reg. 643/05 Sched. 1, "
            "from memory"
        ),
        mark="S",
        effective_from=date(2006, 1, 1),
    ),
    LiabilityRow(
        id="cmr-liability",
        terms=Terms.CMR.value,
        title="CMR: 8.33 SDR per kg of gross weight short or damaged",
        rate=Decimal("8.33"),
        currency=SDR,
        per="kg",
        basis=WeightBasis.DAMAGED,
        citation=(
            "CMR Article 23(3), by the Protocol of 5 July 1978: 8.33 units of account per kilogram "
            "of gross weight short; Article 25(2) for damage, from memory"
        ),
        mark="P",
        beside=(FREIGHT_TOO, WHOLE_WORTHLESS),
        effective_from=date(1980, 12, 28),
    ),
    LiabilityRow(
        id="montreal-liability-2019",
        terms=Terms.MONTREAL.value,
        title="Montreal Convention: 22 SDR per kg",
        rate=Decimal("22"),
        currency=SDR,
        per="kg",
        basis=WeightBasis.DAMAGED,
        citation=(
            "Montreal Convention 1999 Article 22(3), as revised from 2019-12-28: 22 special "
            "drawing rights per kilogram"
        ),
        mark="P",
        beside=(WHOLE_WORTHLESS,),
        effective_from=date(2019, 12, 28),
        effective_to=date(2024, 12, 27),
    ),
    LiabilityRow(
        id="montreal-liability-2024",
        terms=Terms.MONTREAL.value,
        title="Montreal Convention: 26 SDR per kg",
        rate=Decimal("26"),
        currency=SDR,
        per="kg",
        basis=WeightBasis.DAMAGED,
        citation=(
            "Montreal Convention 1999 Article 22(3), as revised from 2024-12-28: 26 special "
            "drawing rights per kilogram"
        ),
        mark="P",
        beside=(WHOLE_WORTHLESS,),
        effective_from=date(2024, 12, 28),
    ),
    LiabilityRow(
        id="cogsa-liability",
        terms=Terms.COGSA.value,
        title="COGSA: USD 500 per package or customary freight unit",
        rate=Decimal("500"),
        currency="USD",
        per="package",
        basis=None,
        citation="COGSA s. 4(5), 46 USC 30701 note: $500 per package or customary freight unit",
        mark="S",
        beside=(
            "What counts as a package is often disputed; the bill's count of packages is a start.",
        ),
        effective_from=date(1936, 7, 15),
    ),
)

# What a declared value does under each text.
DECLARED: dict[Terms, str] = {
    Terms.US_INTERSTATE_MOTOR: (
        "49 USC 14706(c)(1)(A): a value established by written declaration or agreement limits "
        "the liability, if it is reasonable"
    ),
    Terms.CANADA: "Uniform Conditions of Carriage: a higher value declared on the bill replaces it",
    Terms.CMR: "CMR Article 24, from memory: a declared value replaces it, against a surcharge",
    Terms.MONTREAL: (
        "Montreal Convention 1999 Article 22(3): a special declaration of interest replaces it"
    ),
    Terms.COGSA: "COGSA s. 4(5): a value declared before shipment and inserted in the bill",
}
BY_CONTRACT = "the bill, tariff or contract that you entered"
ACTUAL_LOSS = "49 USC 14706(a)(1): liable for the actual loss or injury"
ASK_FOR_RULES = "49 USC 14706(c)(1)(B): the carrier supplies its rules on request (wording read)"
