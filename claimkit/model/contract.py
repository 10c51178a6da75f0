"""What the user's own papers agree: periods, limits of liability, insurance, each with its source.

A contract, a tariff, a policy or the back of a bill sets lengths that no text in claimkit knows.
The user enters each with the paper that says so; nothing here is ever guessed.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from claimkit.model.moment import Moment
from claimkit.model.quantities import Money, Rate, Span, Weight
from claimkit.model.written import POSITIVE, Entries, Names, Text, written


class Start(StrEnum):
    """What a period of the user's own paper runs from; the words of `rules.carriage`."""

    DELIVERY = "delivery"
    DISCOVERY = "discovery of the damage"
    BILL_DATE = "date of the bill of lading"
    SHIPMENT_DATE = "date of shipment"
    REASONABLE_DATE = "reasonable delivery date"
    CLAIM_RECEIVED = "claim received by the carrier"
    DISALLOWANCE = "written disallowance"


class Duty(StrEnum):
    """What has to be done within a period of the user's own paper."""

    REPORT = "report damage"
    CLAIM = "file a claim"
    CLAIM_UNDELIVERED = "file a claim for goods not delivered"
    SUIT = "bring suit"
    ACKNOWLEDGE = "acknowledge the claim"
    DECIDE = "decide on the claim"
    KEEP_PACKING = "keep the packing"


class WeightBasis(StrEnum):
    """Which weight a rate of liability multiplies."""

    DAMAGED = "damaged packages"
    WHOLE = "whole shipment"


@written
class OwnTerm:
    """One period of your own contract, tariff or policy, with its source."""

    id: Annotated[str, "Short name; its time limit is called own- and this.", Text.ID]
    title: Annotated[str, "What the clause is called, as it should be printed."]
    duty: Annotated[Duty, "What has to be done. To acknowledge and to decide are the carrier's."]
    runs_from: Annotated[Start, "What the period runs from."]
    length: Annotated[Span, "The period as stated, such as '15 calendar days' or '9 months'."]
    source: Annotated[str, "Which paper says so: title, item or section, date."]
    to: Annotated[
        str | None,
        "Party id of who must have it. Default: the carrier, or the insurer.",
        Names.PARTY,
    ] = None
    if_passed: Annotated[str | None, "What the paper says happens when it passes."] = None


@written
class LiabilityLimit:
    """One limit of liability that the bill, the tariff or a contract sets."""

    rate: Annotated[
        Rate,
        "The amount and what it is for: '2.00 USD per lb', '500 USD per package', "
        "'25000 USD per shipment'.",
        POSITIVE,
    ]
    basis: Annotated[
        WeightBasis | None, "For a rate by weight: which weight it multiplies, as the paper says."
    ] = None
    source: Annotated[str, "Which paper says so: title, item or section, date."]


@written
class LiabilityTerms:
    """How far the carrier says that it is liable, and what a limit is counted on."""

    declared_value: Annotated[
        Money | None, "Value declared or agreed on the bill of lading.", POSITIVE
    ] = None
    declared_source: Annotated[str | None, "Where that value stands."] = None
    affected_weight: Annotated[
        Weight | None, "Gross weight of the damaged or missing packages.", POSITIVE
    ] = None
    affected_source: Annotated[
        str | None, "Where that weight comes from: packing list, label, scale."
    ] = None
    affected_packages: Annotated[
        int | None,
        "How many packages, or customary freight units, are damaged or missing, as the bill "
        "counts packages.",
        POSITIVE,
    ] = None
    sdr_rate: Annotated[
        Rate | None, "What one special drawing right is worth: '1.3142 USD per SDR'.", POSITIVE
    ] = None
    sdr_date: Annotated[Moment | None, "The day of that rate."] = None
    sdr_source: Annotated[str | None, "Who published that rate."] = None
    limit: Annotated[
        tuple[LiabilityLimit, ...], "Limits that the bill, the tariff or a contract sets."
    ] = ()


@written
class Policy:
    """An insurance that may cover the goods, as far as you have entered it."""

    insurer: Annotated[str, "Party id of the insurer.", Names.PARTY]
    number: Annotated[str | None, "Number of the policy or certificate."] = None
    shipment: Annotated[str | None, "Shipment id, where it covers one only.", Names.SHIPMENT] = None
    term: Annotated[
        tuple[OwnTerm, ...],
        "Periods that the policy sets: notice, proof of loss, suit.",
        Entries(1),
    ] = ()
