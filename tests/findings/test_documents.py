"""Supporting documents: what each body of terms asks for; there, explained or missing.

49 CFR 370.7 from memory: the bill of lading, evidence of the freight charges, the invoice. Canada:
a copy of the paid freight bill with the final statement of claim (law.md section 4).
"""

from __future__ import annotations

import pytest

from claimkit.findings.claim.documents import supporting
from claimkit.model.job import PAPERS, Paper, Terms
from claimkit.model.records import CostOf, FoundAt, Record
from claimkit.rules.documents import DOCUMENTS
from tests.build import FileKind, OtherFile, case, facts, sha
from tests.findings.office_build import a_job, cost, damage, delivery, usd

BASE = (delivery(), damage())
HIDDEN = (delivery(), damage(found_at=FoundAt.UNPACKING))
REPAIR = (*BASE, cost(what=CostOf.REPAIR, item="panel", amount=usd("90.00")))


@pytest.mark.parametrize(
    "terms, records, wanted",
    [
        (
            Terms.US_INTERSTATE_MOTOR,
            BASE,
            {"bill of lading", "freight bill", "invoice", "delivery receipt"},
        ),
        (
            Terms.US_INTERSTATE_MOTOR,
            HIDDEN,
            {"bill of lading", "freight bill", "invoice", "delivery receipt", "inspection report",
             "packing evidence"},
        ),
        (
            Terms.CANADA,
            BASE,
            {"bill of lading", "freight bill", "invoice", "delivery receipt"},
        ),
        (Terms.PARCEL, BASE, {"bill of lading", "invoice", "delivery receipt"}),
        (Terms.CMR, REPAIR, {"bill of lading", "invoice", "delivery receipt", "repair invoice"}),
    ],
)  # fmt: skip
def test_what_the_terms_ask_for(
    terms: Terms, records: tuple[Record, ...], wanted: set[str]
) -> None:
    found = case(facts(job_=a_job(ship={"terms": terms}), records=records))
    assert found.facts.job
    asked = supporting(found, found.facts.job.shipment[0])
    assert {one.wanted.paper for one in asked} == wanted
    assert all(one.open for one in asked)


def test_a_paper_of_another_shipment_or_not_in_the_folder_supports_nothing() -> None:
    named = (
        Paper(file="documents/a.pdf", what="invoice", shipment="other"),
        Paper(file="documents/gone.pdf", what="freight bill"),
    )
    files = [OtherFile("documents/a.pdf", sha("a"), 9, FileKind.PDF)]
    found = case(facts(job_=a_job(paper=named), records=BASE, papers=files))
    assert found.facts.job
    asked = {s.wanted.paper: s for s in supporting(found, found.facts.job.shipment[0])}
    assert asked["invoice"].open
    assert asked["freight bill"].open


def test_rows_are_whole() -> None:
    assert len({row.id for row in DOCUMENTS}) == len(DOCUMENTS)
    for row in DOCUMENTS:
        assert row.citation.strip()
        assert row.mark in ("S", "P", "M")
        assert row.paper in PAPERS
        assert row.terms
    for terms in Terms:
        assert any(terms in row.terms for row in DOCUMENTS)
