"""Supporting documents: what each body of terms asks for; there, explained or missing.

49 CFR 370.7 from memory: the bill of lading, evidence of the freight charges, the invoice. Canada:
a copy of the paid freight bill with the final statement of claim.
"""

from __future__ import annotations

import tomllib
from typing import Any

import pytest

from claimkit.compose.terminal.lines import finding
from claimkit.findings.claim.documents import Supporting, supporting
from claimkit.model.case import Case
from claimkit.model.job import PAPERS, Paper, PaperMissing, Terms
from claimkit.model.photo import Words
from claimkit.model.records import About, CostOf, FoundAt, Notice, Record
from claimkit.rules.documents import DOCUMENTS
from tests.build import FileKind, OtherFile, case, facts, moment, photo, record, sha, shipment
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


BILL = ("STRAIGHT BILL OF LADING", "Shipper: A  Consignee: B", "PRO 558-20931", "class 125")
REPORT = ("INSPECTION REPORT", "Inspector: J. Pell", "Nature of damage: crushed carton")


def _file(path: str, *lines: str) -> OtherFile:
    return OtherFile(path, sha(path), 9, FileKind.PDF, words=Words((lines,)) if lines else None)


def _asked(paper: str, found: Case, number: int = 0) -> Supporting:
    assert found.facts.job
    asked = supporting(found, found.facts.job.shipment[number])
    return next(one for one in asked if one.wanted.paper == paper)


def test_a_paper_that_its_words_tell_is_there_as_a_guess() -> None:
    files = [_file("documents/scan.pdf", *BILL)]
    one = _asked("bill of lading", case(facts(job_=a_job(), records=BASE, papers=files)))
    assert one.files == ("documents/scan.pdf",)
    assert one.guess
    assert one.guess.because() == (
        "recognised by its words: line 1 reads “STRAIGHT BILL OF LADING”, with “shipper”, "
        "“consignee”, “class”"
    )


def test_two_files_that_may_be_it_leave_it_open() -> None:
    files = [_file("documents/a.pdf", *BILL), _file("documents/b.pdf", *BILL)]
    found = case(facts(job_=a_job(), records=BASE, papers=files))
    assert _asked("bill of lading", found).open
    (told,) = (f for f in found.findings if f.rule == "paper-recognised")
    assert told.message.endswith(
        "Several may be the bill of lading, so none counts until you say which."
    )


@pytest.mark.parametrize("number, says", [("558-20931", False), ("558-20932", True), (None, False)])
def test_a_bill_of_another_number_is_said_to_be_one(number: str | None, says: bool) -> None:
    files = [_file("documents/a.pdf", *BILL)]
    the_job = a_job(ship={"pro_number": number})
    found = case(facts(job_=the_job, records=BASE, papers=files))
    (told,) = (f for f in found.findings if f.rule == "paper-recognised")
    assert ("It does not state the shipment's number." in told.message) is says


def test_what_the_user_says_comes_before_the_words() -> None:
    files = [_file("documents/scan.pdf", *BILL), _file("documents/a.pdf")]
    named = (Paper(file="documents/a.pdf", what="bill of lading"),)
    one = _asked("bill of lading", case(facts(job_=a_job(paper=named), records=BASE, papers=files)))
    assert (one.files, one.guess) == (("documents/a.pdf",), None)
    lost = (PaperMissing(what="bill of lading", because="lost"),)
    told = facts(job_=a_job(no_paper=lost), records=BASE, papers=files)
    assert _asked("bill of lading", case(told)).because == "lost"


def test_a_file_outside_documents_or_named_by_a_record_is_no_guess() -> None:
    outside = [_file("photos/scan.pdf", *BILL)]
    assert _asked("bill of lading", case(facts(job_=a_job(), records=BASE, papers=outside))).open
    letter = _notice(About.STATUS, "hauler", file="documents/scan.pdf")
    files = [_file("documents/scan.pdf", *BILL)]
    told = facts(job_=a_job(), records=(*BASE, letter), papers=files)
    assert _asked("bill of lading", case(told)).open


def test_among_shipments_the_number_in_the_text_decides() -> None:
    ships = (
        shipment(id="one", terms=Terms.US_INTERSTATE_MOTOR, pro_number="558-20931"),
        shipment(id="two", terms=Terms.US_INTERSTATE_MOTOR, pro_number="7741920"),
    )
    for lines, there in ((BILL, [True, False]), (BILL[:2], [False, False])):
        files = [_file("documents/scan.pdf", *lines, "weight 312 lb")]
        found = case(facts(job_=a_job(shipment=ships), papers=files))
        assert [bool(_asked("bill of lading", found, n).files) for n in (0, 1)] == there
        (told,) = (f for f in found.findings if f.rule == "paper-recognised")
        assert ('shipment = "one"' in told.do_next) is there[0]
        assert ("counts for none" in told.message) is not there[0]


def test_a_picture_in_documents_has_no_words() -> None:
    found = case(facts(job_=a_job(), photos=[photo("documents/scan.jpg")]))
    (told,) = (f for f in found.findings if f.rule == "paper-not-told")
    assert told.message == "No text can be read in documents/scan.jpg: it is a picture."
    # Nothing says what it is, so no kind is put into the reader's hand.
    words, lines = told.do_next.split("\n", 1)
    assert all(paper in words for paper in PAPERS)
    assert lines == '[[paper]]\nfile = "documents/scan.jpg"\nwhat = ""'


def _notice(about: About, sender: str = "us", **more: Any) -> Record:
    to = "hauler" if sender == "us" else "us"
    day = {"sent": moment("2026-05-12 09:00"), "received": moment("2026-05-12 09:05")}
    return record(
        about.value.replace(" ", "-"), Notice(about=about, sender=sender, to=to, **day | more)
    )


_EARLIER = {"sent": moment("2026-05-11"), "received": moment("2026-05-11")}
ASKED = _notice(About.INSPECTION_REQUESTED, **_EARLIER)
WAIVED = _notice(About.INSPECTION_WAIVED, "hauler")
OWN = _notice(About.OWN_INSPECTION, file="documents/own.pdf")
THEIRS = _notice(About.INSPECTION_MADE, "hauler", file="documents/theirs.pdf")
WAIVED_ON = "the carrier waived its inspection on Tue 2026-05-12"


@pytest.mark.parametrize(
    "records, files, there, because, note",
    [
        ((), (), (), None, ""),
        (
            (ASKED,), (), (),
            "the carrier was asked to inspect on Mon 2026-05-11; no report has come", "",
        ),
        ((ASKED, WAIVED), (), (), WAIVED_ON, ""),
        (
            (ASKED, WAIVED, OWN), ("documents/own.pdf",), ("documents/own.pdf",), None,
            f"{WAIVED_ON}; our own inspection report of Tue 2026-05-12 stands in",
        ),
        (
            (ASKED, WAIVED, OWN), (), (),
            f"{WAIVED_ON}; our own inspection report of Tue 2026-05-12 was sent to Northway "
            "Freight", "",
        ),
        (
            (ASKED, OWN), ("documents/own.pdf",), ("documents/own.pdf",), None,
            "our own inspection report of Tue 2026-05-12 stands in",
        ),
        ((ASKED, THEIRS), ("documents/theirs.pdf",), ("documents/theirs.pdf",), None, ""),
        (
            (ASKED, THEIRS), (), (),
            "the carrier inspected on Tue 2026-05-12; we have no report of it", "",
        ),
        # waived by telephone: it moves no limit, and it was said
        (
            (ASKED, _notice(About.INSPECTION_WAIVED, "hauler", how="telephone")), (), (),
            f"{WAIVED_ON} (telephone)", "",
        ),
        # a waiver that we wrote ourselves is none
        (
            (ASKED, _notice(About.INSPECTION_WAIVED)), (), (),
            "the carrier was asked to inspect on Mon 2026-05-11; no report has come", "",
        ),
    ],
)  # fmt: skip
def test_the_inspection_report(
    records: tuple[Record, ...],
    files: tuple[str, ...],
    there: tuple[str, ...],
    because: str | None,
    note: str,
) -> None:
    papers = [_file(path) for path in files]
    one = _asked(
        "inspection report",
        case(facts(job_=a_job(), records=(*HIDDEN, *records), papers=papers)),
    )
    assert (one.files, one.because, one.note) == (there, because, note)
    named = {record.path for record in records}
    if because or note:
        assert named & {source.path for source in one.sources}


def test_the_carrier_s_report_that_came_as_a_paper() -> None:
    files = [_file("documents/scan.pdf", *REPORT)]
    named = (Paper(file="documents/scan.pdf", what="inspection report"),)
    for the_job, guessed in ((a_job(paper=named), False), (a_job(), True)):
        told = facts(job_=the_job, records=(*HIDDEN, ASKED), papers=files)
        one = _asked("inspection report", case(told))
        assert (one.files, one.because) == (("documents/scan.pdf",), None)
        assert bool(one.guess) is guessed


@pytest.mark.parametrize(
    "path",
    ['documents/a "b".pdf', "documents/back\\slash.pdf", f"documents/{'long name ' * 9}.pdf"],
)
def test_the_lines_to_confirm_are_toml_as_printed(path: str) -> None:
    found = case(facts(job_=a_job(), records=BASE, papers=[_file(path, *BILL)]))
    (told,) = (f for f in found.findings if f.rule == "paper-recognised")
    printed = [line.strip() for line in finding(told)]
    lines = printed[printed.index("[[paper]]") : printed.index("[paper-recognised]")]
    assert tomllib.loads("\n".join(lines)) == {"paper": [{"file": path, "what": "bill of lading"}]}
