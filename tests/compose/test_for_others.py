"""What a packet for somebody else says: facts, and not what to do in our own files.

The oracle is the rule itself: the walk over every case of the register looks for sentences that
begin with an instruction about job.toml, a record or a command (the words listed here).
"""

from __future__ import annotations

import re
from typing import Any

import pytest

from claimkit.compose.for_others import without_instructions
from claimkit.compose.letters.book import compose_letter
from claimkit.compose.packet.order import compose
from claimkit.compose.remarks import remarks_shown, reminder
from claimkit.model.case import Case, NotChecked, Reader
from claimkit.model.document import Document, statements
from claimkit.model.job import Party, Role, Terms
from claimkit.model.letter import LetterKind
from claimkit.model.records import CountedItem, FoundAt, Milestone, Unpacking
from claimkit.model.stages import Event
from claimkit.render.pdf import READERS
from claimkit.rules.marks import marked
from tests.build import case, facts, moment, record
from tests.findings.office_build import PANEL, TRAY, a_job, damage, delivery, with_item
from tests.findings.test_register import CASES

OTHERS = (Reader.CARRIER, Reader.SELLER, Reader.INSURER, Reader.CUSTOMER)
OWN_FILES = re.compile(
    r"(?:^|[.:;] )(?:Write|Enter|Correct|Add|Mend|Run|Put) "
    r"|\brecord [a-z_]+ =|\b(?:write|enter|correct|record) [a-z]+_[a-z_]+|job\.toml, item"
    r"|a record that replaces"
)
EVERY = "Every rule of the register"


def texts(document: Document, *sections: str) -> list[str]:
    return [s.text for name, s in statements(document) if not sections or name in sections]


def packet(made: Case, reader: Reader, shipment: str | None = None) -> Document:
    job = made.facts.job
    ships = [s.id for s in job.shipment] if job else []
    own = shipment or (ships[0] if ships else None)
    return compose(made, reader, shipment=None if reader is Reader.CUSTOMER else own)


@pytest.mark.parametrize("reader", OTHERS)
def test_no_packet_for_others_says_what_to_do_in_our_own_files(reader: Reader) -> None:
    told = [
        (rule, text)
        for rule, pair in CASES.items()
        for text in texts(packet(pair[0](), reader))
        if OWN_FILES.search(text)
    ]
    assert told == []


def test_the_owner_is_still_told_what_to_do() -> None:
    retail = with_item(PANEL, price_from="retail price")
    made = case(facts(job_=a_job(retail, TRAY), records=(delivery(), damage())))
    own = " ".join(texts(packet(made, Reader.OWN)))
    carrier = " ".join(texts(packet(made, Reader.CARRIER)))
    assert "Write the invoice's price" in own
    assert "is a retail price" in carrier
    assert "Write the invoice's price" not in carrier


def test_a_refusal_without_counts_asks_the_owner_alone() -> None:
    refused = delivery(refused="1 panel, cracked", units_received=None, cartons_received=None)
    made = case(facts(job_=a_job(), records=(refused, damage())))
    assert any("units_received = 0" in t for t in texts(packet(made, Reader.OWN), "limits"))
    carrier = texts(packet(made, Reader.CARRIER), "limits")
    assert any("Something was refused." in t for t in carrier)
    assert not any("units_received" in t for t in carrier)
    counted = delivery(refused="1 panel, cracked", units_received=1)
    known = case(facts(job_=a_job(), records=(counted, damage())))
    assert not any("units_received =" in t for t in texts(packet(known, Reader.OWN), "limits"))


@pytest.mark.parametrize(
    "text, left",
    [
        ("The design gap is not entered. Write design_gap_min in job.toml.", "The design gap is "
         "not entered."),
        ("Whether it was late is not known: enter reasonable_delivery in job.toml.",
         "Whether it was late is not known."),
        ("Report of concealed damage: met.", "Report of concealed damage: met."),
        ("Record 3-dry says dry fit. It is late.", "Record 3-dry says dry fit. It is late."),
        ("Write its tolerance in job.toml.", ""),
    ],
)  # fmt: skip
def test_only_sentences_that_instruct_are_left_out(text: str, left: str) -> None:
    assert without_instructions(text) == left


def test_every_rule_applied_is_said_only_where_it_holds() -> None:
    """The terms of sale were not checked: the carrier is not told so, nor that all was."""
    made = case(
        facts(
            job_=a_job(ship={"terms": Terms.US_INTERSTATE_MOTOR, "classification_applies": True}),
            records=(delivery(), damage()),
        )
    )
    hidden = NotChecked("liability-not-computed", "shipment main", "A weight is missing.")
    none = Case(**{**_fields(made), "not_checked": ()})
    some = Case(**{**_fields(made), "not_checked": (hidden,)})
    assert any(EVERY in t for t in texts(packet(none, Reader.CARRIER)))
    assert not any(EVERY in t for t in texts(packet(some, Reader.CARRIER)))
    assert "not-checked" not in {s.id for s in packet(some, Reader.CARRIER).sections}
    assert any("A weight is missing." in t for t in texts(packet(some, Reader.OWN)))


def _fields(made: Case) -> dict[str, Any]:
    return {name: getattr(made, name) for name in made.__dataclass_fields__}


DOUBT = "two cracked, I am not sure whether one was cracked by our own cart"


def _doubtful() -> Case:
    rows = (
        CountedItem(item="panel", quantity=4, condition=DOUBT),
        CountedItem(item="tray", quantity=1, condition="good"),
    )
    noted = Milestone(event=Event.DRY_FIT, began=moment("2026-05-06 08:00"), note="knocked it")
    return case(
        facts(
            job_=a_job(ship={"classification_applies": True}),
            records=(
                delivery(),
                damage(found_at=FoundAt.UNPACKING),
                record("u", Unpacking(counted=rows, began=moment("2026-05-05 08:00"))),
                record("m", noted),
            ),
        )
    )


@pytest.mark.parametrize("reader", [Reader.CARRIER, Reader.SELLER])
def test_a_typed_condition_stands_once_and_is_named_before(reader: Reader) -> None:
    made = _doubtful()
    document = packet(made, reader)
    assert sum(DOUBT in t for t in texts(document)) == 1
    assert remarks_shown(made, document) == (("records/u.toml: counted[1].condition", DOUBT),)
    lines = reminder(made, document)
    assert reader.value in lines[0]
    assert DOUBT in lines[1]


def test_nothing_is_named_of_what_a_reader_does_not_see() -> None:
    made = _doubtful()
    assert reminder(made, packet(made, Reader.OWN)) == []
    assert reminder(made, packet(made, Reader.CUSTOMER)) == []


def test_the_insurers_letter_takes_a_packet_of_the_insurers_own() -> None:
    beacon = Party(id="ins", name="Beacon Mutual", roles=(Role.INSURER,), email="b@b.example")
    made = case(facts(job_=a_job(party=(beacon,)), records=(delivery(), damage())))
    letter = compose_letter(made, LetterKind.INSURER)
    assert letter.packet is Reader.INSURER
    document = packet(made, Reader.INSURER)
    assert "insurer" in document.subtitle
    assert "carrier" not in f"{document.subtitle} {READERS[document.reader]}"
    sections = [s.id for s in document.sections]
    assert sections == [s.id for s in packet(made, Reader.CARRIER).sections]


def test_nothing_is_marked_as_read_that_has_no_source_or_is_from_memory() -> None:
    """S, P and M exclude what the citation says of itself (docs/rules.md, the marks)."""
    assert marked("49 CFR 370.5", "S") == "49 CFR 370.5 (S)"
    assert marked("common practice, no source", "S") == "common practice, no source"
    assert marked("28 USC 1746, from memory", "M") == "28 USC 1746, from memory"
    assert marked("O. Reg. 643/05, from memory", "S").endswith("from memory (the rest: S)")
    wrong = re.compile(r"(?:no source|from memory)[^;\]]{0,3}\((?:S|P|M|U)\)")
    for pair in CASES.values():
        made = pair[0]()
        cited = [
            source.label()
            for _, said in statements(packet(made, Reader.OWN))
            for source in said.sources
        ]
        assert not [text for text in cited if wrong.search(text)]


def test_the_certificate_has_the_words_for_signing_in_the_united_states() -> None:
    """28 U.S.C. 1746(2): "I declare (or certify, verify, or state) under penalty of perjury that
    the foregoing is true and correct. Executed on (date)."; (1), with "under the laws of the
    United States of America", is for outside it.
    """
    made = case(facts(job_=a_job(), records=(delivery(), damage())))
    letter = compose_letter(made, LetterKind.NON_RECEIPT).document
    said, sources = next((s.text, s.sources) for _, s in statements(letter) if "perjury" in s.text)
    assert "that the foregoing is true and correct" in said
    assert "under the laws of" not in said
    assert any("1746(2)" in source.label() and "memory" not in source.label() for source in sources)


def test_units_are_short_of_what_is_expected_and_articles_of_what_was_ordered() -> None:
    came = delivery(units_received=1, words="1 of 2 skids received, short 1")
    job = a_job(ship={"handling_units": 2, "cartons": None})
    row = CountedItem(item="panel", quantity=3)
    at_curb = case(facts(job_=job, records=(came,)))
    told = [t for e in at_curb.elements for t, _ in e.supports]
    assert any("handling units" in t and "1 fewer than expected by the bill" in t for t in told)
    unpacked = case(facts(job_=job, records=(came, record("u", Unpacking(counted=(row,))))))
    told = [t for e in unpacked.elements for t, _ in e.supports]
    assert "Wall panel: 1 fewer than ordered." in told
