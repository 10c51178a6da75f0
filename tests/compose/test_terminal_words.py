"""Small words of the printed lines: numbers with their nouns, columns, places said once."""

from __future__ import annotations

import re
from datetime import date

import pytest

from claimkit.compose.packet.order import compose
from claimkit.compose.terminal import jobs
from claimkit.compose.terminal.lines import EACH, exceptions, findings, grouped, status
from claimkit.findings.register import CHECKS
from claimkit.model.case import Case, Finding, Reader, Standing
from claimkit.model.document import Timeline
from claimkit.model.photo import FileKind, OtherFile
from claimkit.model.records import Delivery
from claimkit.model.source import Source
from tests.build import case, facts, job, moment, photo, record, sha, shipment


def folder(many: int) -> Case:
    """Give a case with so many photos, papers and records."""
    names = [f"{number}" for number in range(many)]
    papers = [OtherFile(f"documents/{n}.pdf", sha(n), 9, FileKind.PDF) for n in names]
    records = [record(n, Delivery(signed_at=moment("2026-05-04 09:30"))) for n in names]
    photos = [photo(f"photos/{n}.jpg") for n in names]
    return case(facts(photos=photos, papers=papers, records=records))


@pytest.mark.parametrize(
    "many,said",
    [
        (0, "0 photos, 0 dated; 0 records; 0 documents"),
        (1, "1 photo, 1 dated; 1 record; 1 document"),
        (2, "2 photos, 2 dated; 2 records; 2 documents"),
    ],
)
def test_one_thing_is_told_in_the_singular(many: int, said: str) -> None:
    assert f"  {said}" in status(folder(many))


def test_what_is_said_of_a_receipt_stands_in_one_column() -> None:
    ours = Delivery(
        signed_at=moment("2026-05-04 09:30"),
        words="Carton 2 crushed",
        words_on_our_copy="Carton 2 crushed, 6 in",
    )
    lines = exceptions(case(facts(records=[record("d", ours)])))
    begins = lines.index("Receipt, shipment main") + 1
    told = [line for line in lines[begins : lines.index("", begins)] if line[2:15].strip()]
    assert {"words", "grade", "our copy", "differs"} <= {line[2:15].strip() for line in told}
    assert all(line[14] == " " and line[15] != " " for line in told)


def test_a_finding_names_its_place_once() -> None:
    late = shipment(reasonable_delivery=moment("2026-05-06"))
    lost = case(facts(job_=job(shipment=(late,))), date(2026, 5, 20))
    text = " ".join(" ".join(findings(lost, "ask-")).split())
    assert "shipment main: nothing was delivered: whom to ask" in text
    assert text.count("shipment main") == 1


@pytest.mark.parametrize(
    "wanted,says",
    [
        (jobs.Wanted(), "No time limit of these jobs has begun."),
        (jobs.Wanted(overdue=True), "No time limit of these jobs fits what was asked for."),
    ],
)
def test_why_no_limit_is_listed_is_said(wanted: jobs.Wanted, says: str) -> None:
    empty = jobs.Listing((), lambda _: date(2026, 5, 20), wanted, None, ())
    assert says in jobs.deadlines(empty)


def test_a_packet_counts_one_in_the_singular_too() -> None:
    document = compose(folder(1), Reader.OWN)
    plots = [b.alt for s in document.sections for b in s.blocks if isinstance(b, Timeline)]
    assert any("and 1 photo in local time" in alt for alt in plots)


def test_a_title_over_several_places_states_something_and_promises_nothing() -> None:
    """A title stands alone before its places: it must not announce what only a message says."""
    announcing = re.compile(r"^(?:What|Until|Whether (?!.*cannot)|Which)|, and (?:what|the better)")
    titles = [c.title for c in CHECKS if c.id not in EACH]
    grouped_ones = [t for t in titles if t not in NOT_GROUPED]
    assert [t for t in grouped_ones if announcing.search(t)] == []


# Answers of this rule are "not checked", which is printed place by place with its reason.
NOT_GROUPED = ("Whether the freight classification's rules bind",)


def _finding(rule: str, where: str, message: str) -> Finding:
    source = Source(citation="test")
    return Finding(rule, Standing.AGAINST, where, message, "Do it.", (source,), "test")


def test_several_limits_of_one_shipment_are_each_named() -> None:
    lines = grouped(
        [
            _finding("limit-passed", "shipment a", "Report to the seller: the last day passed."),
            _finding("limit-passed", "shipment a", "Rejection of the goods: the last day passed."),
            _finding("limit-passed", "shipment b", "Suit: the last day passed."),
        ]
    )
    text = " ".join(" ".join(lines).split())
    assert "shipment a (Report to the seller, Rejection of the goods)" in text
    assert "shipment b (Suit)" in text
    assert text.count("Do it.") == 1


def test_each_paper_that_is_missing_is_named() -> None:
    lines = grouped(
        [
            _finding("paper-missing", "shipment a", f"No {what} is named in job.toml: it shows x.")
            for what in ("freight bill", "invoice")
        ]
    )
    text = " ".join(" ".join(lines).split())
    assert "is not named: shipment a (freight bill, invoice)." in text


def test_a_refusal_is_told_place_by_place() -> None:
    lines = grouped(
        [
            _finding("receipt-refused", f"shipment {n}", f"Goods were refused: {n} crates.")
            for n in (1, 2)
        ]
    )
    text = " ".join(" ".join(lines).split())
    assert "shipment 1: Goods were refused: 1 crates." in text
    assert "shipment 2: Goods were refused: 2 crates." in text
