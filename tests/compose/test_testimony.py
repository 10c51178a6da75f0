"""Drafts for people who testify: the law's own words, nothing but the record, all of it sourced."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner
from pikepdf import pdfa

from claimkit.cli import app
from claimkit.compose.packet.testimony import BLANK, draft
from claimkit.model.case import Reader
from claimkit.model.document import Document, Section, statements
from claimkit.model.records import Delivery
from claimkit.model.stop import DONE, CannotGoOn
from claimkit.model.verified import Outcome
from claimkit.proof.verify import verify_job
from claimkit.rules.testimony import (
    DECLARATION_OUTSIDE,
    DECLARATION_WITHIN,
    PARTS,
    PROVISIONS,
)
from tests.build import case, facts, job, record
from tests.compose.jobs import copy_of, sample_case
from tests.compose.test_sources import unsourced

# Typed from the United States Code, title 28, section 1746 (uscode.elaws.us, read 2026-11-25);
# of "(or certify, verify, or state)" the first word is used.
OUTSIDE = (
    "I declare under penalty of perjury under the laws of the United States of America that the "
    "foregoing is true and correct. Executed on (date). (Signature)"
)
WITHIN = (
    "I declare under penalty of perjury that the foregoing is true and correct. Executed on "
    "(date). (Signature)"
)


def section(document: Document, name: str) -> Section:
    return next(one for one in document.sections if one.id == name)


def text_of(document: Document, *names: str) -> str:
    return "\n".join(s.text for name, s in statements(document) if not names or name in names)


def test_the_declaration_has_the_words_of_the_statute() -> None:
    assert DECLARATION_OUTSIDE.text == OUTSIDE
    assert DECLARATION_WITHIN.text == WITHIN
    printed = text_of(draft(sample_case("ready-to-file"), "inez", Reader.OWN), "declaration")
    for form in (OUTSIDE, WITHIN):
        words = form.partition(" Executed")[0]
        assert words in printed
    assert printed.count("Signature: ____") == 2


def test_every_provision_says_where_it_is_from() -> None:
    assert len({p.id for p in PROVISIONS}) == len(PROVISIONS)
    for provision in PROVISIONS:
        assert provision.mark in ("S", "P", "M")
        assert provision.citation
        assert ("from memory" in provision.citation) is (provision.mark == "M")
    assert {provision for _, _, provision in PARTS} <= set(PROVISIONS)


@pytest.mark.parametrize(
    "name, person", [("ready-to-file", "inez"), ("ready-to-file", "tobias"), ("disputed-gap", "")]
)
@pytest.mark.parametrize("reader", list(Reader))
def test_every_sentence_has_a_source(name: str, person: str, reader: Reader) -> None:
    found = sample_case(name)
    assert found.facts.job
    people = [person] if person else [p.id for p in found.facts.job.person]
    drafted = 0
    for one in people:
        try:
            document = draft(found, one, reader)
        except CannotGoOn:
            continue  # this reader sees nothing from this person
        drafted += 1
        assert unsourced(document, found) == []
        assert document.sections[0].id == "draft"
        assert "lawyer" in text_of(document, "draft")
    assert drafted or reader is Reader.CUSTOMER


def test_it_says_what_the_persons_records_say_and_nothing_of_others() -> None:
    found = sample_case("ready-to-file")
    own = text_of(draft(found, "Inez Calloway", Reader.OWN), "statement")
    (delivery,) = found.facts.in_force(Delivery)
    assert isinstance(delivery.body, Delivery)
    assert delivery.body.words
    assert f"“{delivery.body.words}”" in own
    assert "concealed damage report" not in own  # Tobias wrote that
    other = text_of(draft(found, "tobias", Reader.OWN), "statement")
    assert "concealed damage report" in other
    assert "arrived" not in other
    with pytest.raises(StopIteration):
        section(draft(found, "tobias", Reader.OWN), "photos")  # no camera is his


def test_what_a_record_leaves_open_is_not_said() -> None:
    """Each field alone: present it is told, absent it is not."""
    fields = {
        "inspected": (True, "inspected before signing"),
        "words": ("two crushed", "“two crushed”"),
        "words_by": (None, ""),
        "signed": (False, "declined to sign the receipt"),
        "driver_signed": (True, "The driver signed the exception"),
        "cartons_received": (3, "I counted 3 cartons"),
        "refused": ("one skid", "Refused: one skid"),
    }
    silent = Delivery(shipment="main")
    for name, (value, words) in fields.items():
        if not words:
            continue
        found = case(facts(records=[record("d", replace(silent, **{name: value}))]))
        by = found.facts.records[0].said_by
        told = text_of(draft(found, by, Reader.OWN), "statement")
        assert words in told, name
        others = [w for n, (_, w) in fields.items() if w and n != name]
        assert not [w for w in others if w in told], name


def test_a_replaced_record_is_left_out() -> None:
    found = case(facts(records=[
        replace(record("old", Delivery(words="good order")), replaced_by="new"),
        replace(record("new", Delivery(words="two crushed")), replaces="old"),
    ]))  # fmt: skip
    told = text_of(draft(found, found.facts.records[0].said_by, Reader.OWN), "statement")
    assert "two crushed" in told
    assert "good order" not in told


def test_only_the_person_can_fill_the_blanks() -> None:
    document = draft(sample_case("ready-to-file"), "inez", Reader.OWN)
    for name in ("statement", "copies", "regular", "declaration"):
        assert BLANK in text_of(document, name)
    photos = text_of(document, "photos")
    assert photos.count(BLANK) >= 7  # what each photo shows is for her to say
    assert "Strike those" in photos


@pytest.mark.parametrize("of", ["nobody", "", "INEZ  CALLOWAY"])
def test_an_unknown_person_is_a_sentence(of: str) -> None:
    with pytest.raises(CannotGoOn, match=r"inez \(Inez Calloway\)"):
        draft(sample_case("ready-to-file"), of, Reader.OWN)


def test_somebody_without_records_or_photos_is_a_sentence() -> None:
    found = case(facts(job_=job(), records=[]))
    assert found.facts.job
    with pytest.raises(CannotGoOn, match="has nothing from"):
        draft(found, found.facts.job.person[0].id, Reader.OWN)


def test_the_command_writes_an_archive_file_and_logs_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("CLAIMKIT_CACHE", str(tmp_path / "cache"))
    monkeypatch.setenv("CLAIMKIT_WRITER", "test")
    root = tmp_path / "job"
    copy_of("ready-to-file", root)
    options = ["--of", "inez", "--as-of", "2026-10-20"]
    result = CliRunner().invoke(app, ["statement", str(root), *options])
    assert result.exit_code == DONE, result.output
    file = root / "out" / "statement-inez-2026-10-20.pdf"
    assert pdfa.validate_written(file, "2b").passed
    assert re.search(r"SHA-256 [0-9a-f]{64}", result.stdout)
    told = verify_job(root)
    assert not told.of(Outcome.BROKEN)
    assert any(p.where == f"out/{file.name}" for p in told.of(Outcome.HOLDS))
