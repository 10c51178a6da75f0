"""The rows of terms, which text binds, the user's own paper, and further terms as further rows.

Dates were typed by hand from the rule each names; US federal holidays as observed.
"""

from __future__ import annotations

from datetime import date

import pytest

from claimkit.findings.limits.conditions import CONCERNS, NEEDS
from claimkit.findings.limits.starts import STARTS
from claimkit.model.job import (
    BillText,
    SaleTerms,
    TermOverride,
    Terms,
)
from claimkit.model.limit import Clause, Whose
from claimkit.model.quantities import Span
from claimkit.model.records import (
    Delivery,
)
from claimkit.rules import carriage
from claimkit.rules.carriage import CLAUSES
from tests.build import job, moment
from tests.findings.limit_build import (
    DAMAGE,
    DELIVERED,
    REPORT,
    all_of,
    apply,
    letter,
    one,
)

SALE_REPORT = next(clause for clause in CLAUSES if clause.id == "sale-report")

# The rows themselves


@pytest.mark.parametrize("clause", CLAUSES, ids=lambda clause: clause.id)
def test_a_row_is_complete_and_its_words_are_known(clause: Clause) -> None:
    assert clause.citation
    assert clause.mark in carriage.MARKS
    assert (clause.mark == "U") == (clause.span.unit == carriage.PAPER_STATES)
    assert clause.on_pass.endswith(".")
    assert clause.do.endswith(".")
    assert clause.to
    assert clause.starts in STARTS
    assert clause.starts in carriage.WOULD_START
    assert set(clause.met_by) <= set(carriage.ACTS)
    assert clause.concerns in CONCERNS
    assert clause.endpoint in {carriage.PLAIN, carriage.SUNDAYS_EXCEPTED}
    assert clause.cautious in {"", carriage.FIRST_DAY_COUNTS}
    assert set(clause.texts) <= {text.value for text in BillText}
    assert set(clause.needs) <= set(NEEDS) | {
        carriage.CLASSIFICATION_APPLIES,
        carriage.CLAIM_OPEN,
        carriage.STATED,
    }


def test_ids_are_unique_and_every_kind_of_terms_has_rows_or_a_reason() -> None:
    ids = [clause.id for clause in CLAUSES]
    assert len(ids) == len(set(ids))
    for terms in Terms:
        rows = [clause for clause in CLAUSES if clause.terms == terms.value]
        assert rows or carriage.NOT_COVERED[terms]


def test_every_bill_text_prints_each_limit_once() -> None:
    for group in {clause.variant_of for clause in CLAUSES if clause.variant_of}:
        printed = [t for c in CLAUSES if c.variant_of == group for t in c.texts]
        assert sorted(printed) == sorted(t.value for t in BillText if t is not BillText.NOT_KNOWN)


# Which text


def test_an_unknown_text_with_one_start_missing_says_what_the_other_would_need() -> None:
    found = apply(bill_text=BillText.NOT_KNOWN, reasonable_delivery=moment("2026-03-10"))
    limit = one(found, "us-motor-claim-nondelivery-before-2016")
    assert limit.nominal == date(2026, 12, 10)
    assert "date of the bill of lading" in limit.because[1]


def test_a_bill_older_than_the_new_text_can_only_print_the_old_one() -> None:
    found = apply(
        bill_text=BillText.NOT_KNOWN,
        bill_date=moment("2016-08-12"),
        reasonable_delivery=moment("2016-08-20"),
    )
    assert one(found, "us-motor-claim-nondelivery-before-2016").nominal == date(2017, 5, 20)
    assert not all_of(found, "us-motor-claim-nondelivery-from-2016")


@pytest.mark.parametrize(
    "bill,delivered,checked",
    [
        (None, "2015-04-17", False),  # the day before the item took effect
        (None, "2015-04-18", True),
        ("2015-04-17", "2015-04-22", False),  # the goods moved before
        ("2015-04-18", "2015-04-22", True),
    ],
)
def test_the_effective_date(bill: str | None, delivered: str, checked: bool) -> None:
    found = apply(
        [Delivery(signed_at=moment(delivered))],
        bill_date=moment(bill) if bill else None,
    )
    assert bool(all_of(found, REPORT)) is checked
    gaps = [gap.rule for gap in found.gaps]
    assert ("limit-outside-effective-dates" in gaps) is not checked


@pytest.mark.parametrize(
    "applies,words", [(None, "by Fri 2026-03-06"), (False, "enter them as an override")]
)
def test_the_classification_binds_only_where_it_applies(applies: bool | None, words: str) -> None:
    found = apply([DELIVERED], classification_applies=applies)
    assert not all_of(found, REPORT)
    (gap,) = [g for g in found.gaps if g.rule == "limit-classification-not-known"]
    assert words in gap.reason


# The user's own paper


@pytest.mark.parametrize(
    "clause,span,nominal,act_by",
    [
        (REPORT, Span(48, "hours"), "2026-03-04", "2026-03-03"),
        (REPORT, Span(24, "hours"), "2026-03-03", "2026-03-02"),
        (REPORT, Span(1, "business days"), "2026-03-03", "2026-03-02"),
        (REPORT, Span(15, "business days"), "2026-03-23", "2026-03-17"),
        (REPORT, Span(10, "calendar days"), "2026-03-12", "2026-03-11"),
        (DAMAGE, Span(12, "months"), "2027-03-02", "2027-03-01"),
        (DAMAGE, Span(270, "calendar days"), "2026-11-27", "2026-11-25"),  # over Thanksgiving
    ],
)
def test_an_override_replaces_the_length(
    clause: str, span: Span, nominal: str, act_by: str
) -> None:
    own = (TermOverride(clause=clause, length=span, source="Tariff 100, item 5, 2026-01-01"),)
    limit = one(apply([DELIVERED], override=own), clause)
    assert limit.nominal == date.fromisoformat(nominal)
    assert limit.act_by == date.fromisoformat(act_by)
    assert limit.span_source == "Tariff 100, item 5, 2026-01-01"
    assert any("Tariff 100" in step for step in limit.because)
    assert any(s.key_path == "shipment[1].override[1].length" for s in limit.sources)


def test_the_carriers_own_window_binds_without_the_classification() -> None:
    own = (TermOverride(clause=REPORT, length=Span(48, "hours"), source="Carrier's rules, 12"),)
    found = apply([DELIVERED], override=own, classification_applies=False)
    assert one(found, REPORT).nominal == date(2026, 3, 4)
    assert not found.gaps


def test_the_shortest_of_two_papers_counts() -> None:
    papers = [Span(10, "calendar days"), Span(48, "hours"), Span(5, "business days")]
    own = tuple(TermOverride(clause=REPORT, length=s, source=str(s.count)) for s in papers)
    assert one(apply([DELIVERED], override=own), REPORT).span == papers[1]


@pytest.mark.parametrize("text", list(BillText))
@pytest.mark.parametrize("name", ["us-motor-suit", "us-motor-suit-and-day"])
def test_an_override_holds_for_whichever_text_the_bill_prints(name: str, text: BillText) -> None:
    own = (TermOverride(clause=name, length=Span(3, "years"), source="Contract"),)
    found = apply([letter()], as_of=date(2026, 7, 1), override=own, bill_text=text)
    (suit,) = [t for t in found.limits if t.clause.starts == carriage.DISALLOWANCE]
    assert suit.nominal == date(2029, 6, 1)
    assert not found.gaps


@pytest.mark.parametrize(
    "clause,span,words",
    [
        ("us-motor-claim", Span(9, "months"), "Known are: us-motor-concealed-report"),
        (DAMAGE, Span(0, "months"), "no period that can be counted"),
        (DAMAGE, Span(9, "moons"), "no period that can be counted"),
        (DAMAGE, Span(10**12, "hours"), "no period that can be counted"),
    ],
)
def test_an_override_that_fits_nothing_is_said(clause: str, span: Span, words: str) -> None:
    own = (TermOverride(clause=clause, length=span, source="Tariff"),)
    found = apply([DELIVERED], override=own)
    (gap,) = [g for g in found.gaps if g.rule == "limit-override-not-applied"]
    assert words in gap.reason
    assert one(found, DAMAGE).nominal == date(2026, 12, 2), "the text's own period still counts"


@pytest.mark.parametrize(
    "clause,span,below",
    [
        (DAMAGE, Span(8, "months"), True),
        (DAMAGE, Span(9, "months"), False),  # the floor itself
        (DAMAGE, Span(275, "calendar days"), False),  # nine months from 2 March are 275 days
        (DAMAGE, Span(274, "calendar days"), True),
        (REPORT, Span(24, "hours"), False),  # no statute sets a floor
    ],
)
def test_a_paper_below_the_statutes_floor_is_counted_and_told(
    clause: str, span: Span, below: bool
) -> None:
    """49 USC 14706(e)(1): a carrier may not set less than nine months for filing a claim."""
    own = (TermOverride(clause=clause, length=span, source="Tariff"),)
    limit = one(apply([DELIVERED], override=own), clause)
    told = [
        step for step in limit.because if "as the shortest period that a carrier may set" in step
    ]
    assert bool(told) is below
    assert limit.span == span


# Further terms are further rows


def test_terms_that_nobody_has_written_need_only_a_row() -> None:
    """A body of terms that the package does not know: one row, and no function."""
    further = Clause(
        id="further-notice",
        terms=Terms.PARCEL.value,
        title="Notice to a parcel carrier",
        whose=Whose.OURS,
        starts=carriage.SHIPMENT_DATE,
        met_by=(carriage.CLAIM,),
        span=Span(60, "calendar days"),
        endpoint=carriage.PLAIN,
        cautious="",
        citation="a test",
        mark="M",
        on_pass="x.",  # noqa: S106 - it says what happens when a limit passes
        do="x.",
        to="x",
    )
    found = apply([DELIVERED], clauses=(further,), terms=Terms.PARCEL, shipped=moment("2026-02-02"))
    assert one(found, "further-notice").nominal == date(2026, 4, 3)
    assert not found.gaps


def test_a_row_whose_paper_is_not_entered_is_a_gap_unless_it_is_only_counted_where_stated() -> None:
    bare = Clause(
        **{f: getattr(SALE_REPORT, f) for f in SALE_REPORT.__dataclass_fields__} | {"needs": ()}
    )
    found = apply([DELIVERED], clauses=(bare,), job_=job(sale=SaleTerms()))
    assert "no paper of yours states the period" in " ".join(g.reason for g in found.gaps)
    found = apply([DELIVERED], clauses=(SALE_REPORT,), job_=job(sale=SaleTerms()))
    assert "no paper of yours" not in " ".join(g.reason for g in found.gaps)
    assert not found.limits
