"""What a claim letter says of the inspection report and of papers that their words tell.

That our own report stands in where the carrier does not inspect: NMFC items 300140 and 300145, from
memory. That a claims desk wants the paper and the reason together: common practice, no source.
"""

from __future__ import annotations

from typing import Any

import pytest

from claimkit.compose.letters.book import compose_letter
from claimkit.compose.packet.order import compose
from claimkit.model.case import Case, Reader
from claimkit.model.document import statements
from claimkit.model.letter import Letter, LetterKind
from claimkit.model.photo import Words
from claimkit.model.records import About, Record
from tests.build import FileKind, OtherFile, case, facts, photo, sha
from tests.compose.test_letters import BASE, CLAIM, DECLINE, PARTIES, REPORT, SHIP, said, words
from tests.findings.office_build import a_job

ASKED = said(About.INSPECTION_REQUESTED, "2026-05-05")
WAIVED = said(About.INSPECTION_WAIVED, "2026-05-07", theirs=True)
OWN = said(About.OWN_INSPECTION, "2026-05-08", file="documents/own.pdf")
INVOICE = ("INVOICE", "Qty  Unit price  Amount", "Subtotal 412.50")


def made(*records: Record, **words_of: tuple[str, ...]) -> Case:
    """Give a case whose documents are those named here, with their words."""
    files = [
        OtherFile(path, sha(path), 9, FileKind.PDF, words=Words((lines,)))
        for name, lines in words_of.items()
        for path in (f"documents/{name}.pdf",)
    ]
    given: dict[str, Any] = {"job_": a_job(ship=SHIP, party=PARTIES), "papers": files}
    pictures = (photo("photos/dent.jpg", "2026-05-04 13:20:00"),)
    return case(facts(records=(*BASE, *records), photos=pictures, **given))


def row(letter: Letter, paper: str) -> str:
    """Give what the letter says of one supporting paper."""
    lines = [line for line in letter.text.splitlines() if f"Supporting paper: {paper};" in line]
    assert len(lines) == 1
    return lines[0].partition("State: ")[2]


@pytest.mark.parametrize(
    "records, files, says",
    [
        (
            (ASKED,),
            {},
            "not enclosed: the carrier was asked to inspect on Tue 2026-05-05; no report has come",
        ),
        ((ASKED, WAIVED), {}, "not enclosed: the carrier waived its inspection on Thu 2026-05-07"),
        (
            (ASKED, WAIVED, OWN),
            {"own": ()},
            "enclosed: own.pdf; the carrier waived its inspection on Thu 2026-05-07; our own "
            "inspection report of Fri 2026-05-08 stands in",
        ),
    ],
)
def test_the_letter_names_the_report_and_the_waiver(
    records: tuple[Record, ...], files: dict[str, tuple[str, ...]], says: str
) -> None:
    letter = compose_letter(made(*records, **files), LetterKind.CLAIM)
    assert row(letter, "Inspection report") == says
    assert letter.papers == tuple(f"documents/{name}.pdf" for name in files)


def test_an_answer_to_no_inspection_holds_the_waiver_against_it() -> None:
    found = made(REPORT, CLAIM, WAIVED, OWN, DECLINE, own=())
    text = words(compose_letter(found, LetterKind.ANSWER))
    assert "The carrier waived its inspection on Thu 2026-05-07; our own inspection report" in text
    without = words(compose_letter(made(REPORT, CLAIM, DECLINE), LetterKind.ANSWER))
    assert "waived" not in without


def test_a_guess_is_enclosed_and_the_sender_is_told_to_look() -> None:
    letter = compose_letter(made(ASKED, scan=INVOICE), LetterKind.CLAIM)
    assert row(letter, "Invoice") == "enclosed: scan.pdf"
    assert letter.papers == ("documents/scan.pdf",)
    (look,) = letter.look_at
    assert look.startswith("documents/scan.pdf is enclosed as invoice: recognised by its words")
    assert "recognised" not in letter.text


def test_the_packet_shows_a_guess_as_one() -> None:
    found = made(ASKED, scan=INVOICE)
    for reader in (Reader.CARRIER, Reader.OWN):
        told = [s.text for _, s in statements(compose(found, reader, versions=()))]
        assert any(
            text.startswith("documents/scan.pdf (recognised by its words: line 1 reads “INVOICE”")
            and text.endswith("; not confirmed)")
            for text in told
        )
        assert "not named in job.toml; by its words: invoice" in told
