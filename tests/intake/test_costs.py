"""Cost records: one mistake at a time, told once at its place; working time and per cent exact."""

from __future__ import annotations

from fractions import Fraction

import pytest

from claimkit.intake.entries.problems import Unreadable
from claimkit.intake.entries.shares import share, working_time
from tests.intake.example_folder import JOB, RECORDS, changed, read

REPAIR = RECORDS["records/cost.toml"]
HEAD = 'kind = "cost"\nsaid_by = "dana"\nshipment = "panels"\n'


@pytest.mark.parametrize(
    "text, at, says",
    [
        (changed(REPAIR, 'hours = "2.5 h"', 'hours = "2.5"'), "hours", "not a working time"),
        (changed(REPAIR, 'hours = "2.5 h"', 'hours = "0 h"'), "hours", "more than zero"),
        (changed(REPAIR, 'hours = "2.5 h"\n', ""), "rate", "without hours"),
        (changed(REPAIR, 'rate = "65.00 USD"\n', ""), "hours", "without rate"),
        (changed(REPAIR, 'rate = "65.00 USD"', 'rate = "65.00 CAD"'), "part[1].price", "currency"),
        (changed(REPAIR, 'item = "panel"\n', ""), "item", "concerns one item"),
        (changed(REPAIR, 'item = "panel"', 'item = "panle"'), "item", "panel"),
        (changed(REPAIR, 'what = "repair"', 'what = "repairs"'), "what", '"repair"'),
        (changed(REPAIR, 'hours = "2.5 h"', 'hours = "2.5 h"\namount = "9.00 USD"'), "amount",
         "count twice"),
        (HEAD + 'what = "repair"\nitem = "panel"\n', "hours", "what the repair cost"),
        (HEAD + 'what = "credit"\n', "amount", "is missing"),
        (HEAD + 'what = "credit"\namount = "-5.00 USD"\n', "amount", "minus"),
        (HEAD + 'what = "credit"\npercent = "2 %"\n', "percent", "discount"),
        (HEAD + 'what = "discount"\npercent = "2"\n', "percent", "per cent"),
        (HEAD + 'what = "discount"\npercent = "120 %"\n', "percent", "whole"),
        (
            HEAD + 'what = "discount"\npercent = "2 %"\namount = "1.00 USD"\n',
            "percent",
            "both stand here",
        ),
        (
            HEAD + 'what = "free replacement"\nitem = "panel"\namount = "1.00 USD"\n',
            "amount",
            "no amount",
        ),
        (HEAD + 'what = "free replacement"\n', "item", "one item"),
        (HEAD + 'what = "salvage"\namount = "1.00 USD"\nhours = "1 h"\n', "hours", "repair"),
        (
            HEAD + 'what = "mitigation"\namount = "1.00 USD"\nnotice_given = "x"\n',
            "notice_given",
            "special damages",
        ),
    ],
)  # fmt: skip
def test_one_mistake_is_told_at_its_place(text: str, at: str, says: str) -> None:
    problems = read(records=RECORDS | {"records/cost.toml": text}).problems
    assert any(p.key_path == at and says in p.sentence() for p in problems), problems
    assert {p.file for p in problems} == {"records/cost.toml"}


@pytest.mark.parametrize(
    "text",
    [
        HEAD + 'what = "salvage"\namount = "0.00 USD"\n',  # nothing left of it: zero is a statement
        HEAD + 'what = "allowance"\npercent = "2.5 %"\n',
        HEAD + 'what = "free replacement"\nitem = "panel"\nquantity = 2\n',
        HEAD + 'what = "special damages"\namount = "640.00 USD"\nnotice_given = "by e-mail"\n',
        HEAD + 'what = "repair"\nitem = "panel"\namount = "90.00 USD"\n',
    ],
)
def test_what_is_right_is_not_told(text: str) -> None:
    assert read(records=RECORDS | {"records/cost.toml": text}).problems == ()


@pytest.mark.parametrize(
    "old, new, at",
    [
        ('price_from = "purchase invoice"', 'price_from = "shop"', "item[1].price_from"),
        ('freight_paid = "beside the price"', "freight_paid = true", "shipment[1].freight_paid"),
        ('what = "freight bill"', 'what = "freightbill"', "no_paper[1].what"),
    ],
)
def test_mistakes_in_job_toml(old: str, new: str, at: str) -> None:
    assert [p.key_path for p in read(changed(JOB, old, new)).problems] == [at]


@pytest.mark.parametrize(
    "text, hours",
    [
        ("2.5 h", Fraction(5, 2)),
        ("1 h 45 min", Fraction(7, 4)),
        ("45 min", Fraction(3, 4)),
        ("1 1/2 hours", Fraction(3, 2)),
        ("0,25 h", Fraction(1, 4)),
    ],
)
def test_working_time_is_exact(text: str, hours: Fraction) -> None:
    assert working_time(text).hours == hours


@pytest.mark.parametrize("text", ["2", "h", "", "two hours", "2 days", "-1 h", "99999 h"])
def test_what_is_no_working_time(text: str) -> None:
    with pytest.raises(Unreadable):
        working_time(text)


def test_per_cent_is_exact() -> None:
    assert share("12.5%").of_one == Fraction(1, 8)
    assert share("1/3 per cent").of_one == Fraction(1, 300)
    with pytest.raises(Unreadable):
        share("101 %")
