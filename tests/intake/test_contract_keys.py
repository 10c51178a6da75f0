"""The user's own periods, policies and limits of liability as they are typed into job.toml.

A rate is read exactly; ISO 4217 gives the codes, and XDR is its code for special drawing rights.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

from claimkit.intake.contents import Stated, from_json, to_json
from claimkit.intake.entries.problems import Unreadable
from claimkit.intake.entries.rates import rate
from claimkit.intake.entries.records import read_all
from claimkit.model.contract import Duty, Start, WeightBasis
from claimkit.model.job import Job
from claimkit.model.quantities import Rate, Span

BASE = """\
title = "Hall"
[site]
address = "1 Yard Road"
zone = "America/Chicago"
[[party]]
id = "us"
name = "Marl & Sons"
roles = ["owner"]
[[party]]
id = "hauler"
name = "Northway Freight"
roles = ["delivering carrier"]
[[party]]
id = "beacon"
name = "Beacon Mutual"
roles = ["insurer"]
[sale]
report_within = "72 hours"
reject_within = "10 calendar days"
refusal = "refuse only what is destroyed"
claim_filed_by = "us"
source = "Terms of sale, 4"
[[shipment]]
id = "main"
carrier = "hauler"
terms = "own contract"
weight = "412 lb"
[[shipment.own_term]]
id = "notice"
title = "Notice of damage"
duty = "report damage"
runs_from = "delivery"
length = "48 hours"
source = "Contract 7, clause 9.2"
[shipment.liability]
declared_value = "2500.00 USD"
declared_source = "bill, box 23"
affected_weight = "96 lb"
affected_packages = 1
sdr_rate = "1.3142 USD per SDR"
sdr_date = "2026-05-04"
sdr_source = "International Monetary Fund"
[[shipment.liability.limit]]
rate = "2.00 USD per lb"
basis = "damaged packages"
source = "Tariff 100, item 780"
[[policy]]
insurer = "beacon"
number = "CG-77201"
[[policy.term]]
id = "notice"
title = "Notice of loss"
duty = "report damage"
runs_from = "discovery of the damage"
length = "30 calendar days"
source = "Policy, section 9"
"""


def told(text: str) -> list[tuple[str, str]]:
    read = read_all(("job.toml", text.encode()), [], frozenset())
    return [(p.key_path, f"{p.found} {p.write}") for p in read.problems]


def job() -> Job:
    read = read_all(("job.toml", BASE.encode()), [], frozenset())
    assert read.problems == ()
    assert read.job
    return read.job


def test_every_key_is_read_as_it_is_meant() -> None:
    shipment = job().shipment[0]
    (term,) = shipment.own_term
    assert (term.duty, term.runs_from) == (Duty.REPORT, Start.DELIVERY)
    assert (term.length.count, term.length.unit) == (48, "hours")
    assert shipment.liability
    assert shipment.liability.affected_weight
    assert shipment.liability.affected_weight.kg == 96 * Fraction("0.45359237")
    (limit,) = shipment.liability.limit
    assert limit.rate == Rate(Decimal("2.00"), "USD", "lb")
    assert limit.basis is WeightBasis.DAMAGED
    assert shipment.liability.sdr_rate == Rate(Decimal("1.3142"), "USD", "SDR")
    (policy,) = job().policy
    assert policy.term[0].runs_from is Start.DISCOVERY
    sale = job().sale
    assert sale
    assert sale.reject_within == Span(10, "calendar days", written="10 calendar days")


def test_the_index_keeps_them_exactly() -> None:
    content = Stated(job(), (), ())
    data = to_json(content)
    assert data is not None
    assert from_json("stated", data) == content


@pytest.mark.parametrize(
    "old,new,key,says",
    [
        ('length = "48 hours"', 'length = "5 days"', "shipment[1].own_term[1].length", "which"),
        ('duty = "report damage"', 'duty = "report"', ".duty", "report damage"),
        ('runs_from = "delivery"', 'runs_from = "deliverry"', ".runs_from", '"delivery"'),
        ('source = "Contract 7, clause 9.2"\n', "", "own_term[1].source", "is missing"),
        ('source = "Tariff 100, item 780"\n', "", "limit[1].source", "is missing"),
        ('claim_filed_by = "us"', 'claim_filed_by = "uss"', "sale.claim_filed_by", "us"),
        ('insurer = "beacon"', 'insurer = "bacon"', "policy[1].insurer", "beacon"),
        ('"2.00 USD per lb"', '"2.00 USD"', "limit[1].rate", "for each unit"),
        ('"2.00 USD per lb"', '"$2.00 per lb"', "limit[1].rate", "for each unit"),
        ('"2.00 USD per lb"', '"2.00 USX per lb"', "limit[1].rate", "ISO 4217"),
        ('"2.00 USD per lb"', '"2.00 USD per stone"', "limit[1].rate", "package"),
        ('"2.00 USD per lb"', '"0 USD per lb"', "limit[1].rate", "more than zero"),
        ('"2.00 USD per lb"', '"500 USD per package"', "limit[1].basis", "multiplies no weight"),
        ('"2.00 USD per lb"', '"2.00 USD per SDR"', "limit[1].rate", "no limit for goods"),
        ('"damaged packages"', '"the lot"', "limit[1].basis", "whole shipment"),
        ('"1.3142 USD per SDR"', '"1.3142 USD per kg"', "liability.sdr_rate", "special drawing"),
        ('"1.3142 USD per SDR"', '"8.33 SDR per SDR"', "liability.sdr_rate", "special drawing"),
        ('affected_weight = "96 lb"', 'affected_weight = "413 lb"', "affected_weight", "412 lb"),
        ("affected_packages = 1", "affected_packages = 0", "affected_packages", "zero"),
        ('declared_value = "2500.00 USD"', 'declared_value = "2500"', "declared", "currency"),
        ("[[policy.term]]", "[[policy.terms]]", "policy[1]", "term"),
    ],
)
def test_each_mistake_is_told_at_its_place(old: str, new: str, key: str, says: str) -> None:
    assert BASE.count(old) >= 1
    problems = told(BASE.replace(old, new, 1))
    assert any(key in where and says in text for where, text in problems), problems


def test_two_terms_of_one_name_and_a_carriers_duty_with_an_addressee_are_told() -> None:
    start, end = BASE.index("[[shipment.own_term]]"), BASE.index("[shipment.liability]")
    term = BASE[start:end]
    assert any("already" in text for _, text in told(BASE[:end] + term + BASE[end:]))
    theirs = term.replace("report damage", "decide on the claim") + 'to = "hauler"\n'
    assert "shipment[1].own_term[1].to" in dict(told(BASE.replace(term, theirs)))


@pytest.mark.parametrize(
    "text,amount,currency,per",
    [
        ("2.00 USD per lb", "2.00", "USD", "lb"),
        ("USD 2.00 per pound", "2.00", "USD", "lb"),
        ("CAD 4.41/kg", "4.41", "CAD", "kg"),
        ("8.33 SDR per kg", "8.33", "XDR", "kg"),
        ("8.33 xdr per kilogram", "8.33", "XDR", "kg"),
        ("500 usd per package", "500", "USD", "package"),
        ("500 USD per customary freight unit", "500", "USD", "package"),
        ("25,000 USD per shipment", "25000", "USD", "shipment"),
        (".5 USD per lb", "0.5", "USD", "lb"),
        ("1.314215 USD per SDR", "1.314215", "USD", "SDR"),
    ],
)
def test_rates(text: str, amount: str, currency: str, per: str) -> None:
    assert rate(text) == Rate(Decimal(amount), currency, per)
    assert rate(text).written == text


@pytest.mark.parametrize(
    "text",
    [
        "",
        "2.00",
        "2.00 USD",
        "USD per lb",
        "two USD per lb",
        "2,5 USD per lb",
        "-1 USD per lb",
        "1.3142157 USD per SDR",
        "2.00 USD per lb per kg",
        "1e3 USD per lb",
        "9" * 14 + " USD per lb",
    ],
)
def test_what_is_no_rate_is_refused(text: str) -> None:
    with pytest.raises(Unreadable):
        rate(text)
