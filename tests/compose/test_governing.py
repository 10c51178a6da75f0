"""Law is cited where it governs: no American statute or case in a packet under CMR or in Canada.

CMR Articles 17(1), 23(1) and 25(1), from memory: the carrier answers between taking over and
delivery, and compensation goes by the value at the place and time of taking over. The American
texts are those of shared facts law.md section 1, which govern interstate carriage by truck.
"""

from __future__ import annotations

import re
from datetime import date
from typing import Any

import pytest

from claimkit.compose.letters.book import compose_letter
from claimkit.compose.packet.order import compose
from claimkit.model.case import Case, Reader
from claimkit.model.document import Document, statements
from claimkit.model.job import Site, Terms
from claimkit.model.letter import LetterKind
from claimkit.model.records import About, CountedItem, FoundAt, Unpacking
from claimkit.rules.governing import PRACTICE, law_of
from tests.build import moment, record, shipment
from tests.compose.test_letters import CLAIM, DECLINE, REPORT, made, said, words
from tests.findings.office_build import damage, delivery, usd

AMERICAN = re.compile(r"\bCFR\b|\b49 USC|NMFC|\bUCC\b|So\.2d|F\. Supp|F\.[23]d|U\.S\.|Elmore|83 FR")
SITES = {
    Terms.CMR: Site(address="9 Kiln Road", zone="Europe/Vienna", country="AT", subdivision="9"),
    Terms.CANADA: Site(
        address="9 Kiln Road", zone="America/Toronto", country="CA", subdivision="ON"
    ),
}
PAID = said(About.PAYMENT, "2026-05-19", theirs=True, amount=usd("400.00"))


def under(terms: Terms, **more: Any) -> Case:
    """Give a case with hidden damage, a shortage, a clear receipt, a claim, a refusal, a payment.

    It was delivered on Sat 2026-05-02, so that seven days end on a day of rest.
    """
    when = moment("2026-05-02 09:30")
    came = delivery(
        signed_at=when, arrived=when, words="", refused="1 carton, wet", units_received=1
    )
    rows = (CountedItem(item="panel", quantity=3, condition="one dented"),)
    unpacking = record("unpacking", Unpacking(counted=rows, packing_kept="no"))
    records = (came, damage(found_at=FoundAt.UNPACKING), unpacking)
    ship = {"terms": terms, "classification_applies": None, "packing_evidence": None}
    given = {"records": records, "site": SITES[terms], "as_of": date(2026, 5, 20)} | more
    return made(REPORT, CLAIM, DECLINE, PAID, ship=ship, **given)


def american(document: Document) -> set[str]:
    found = set()
    for _, statement in statements(document):
        texts = [statement.text, *(s.citation or "" for s in statement.sources)]
        found |= {text for text in texts if AMERICAN.search(text)}
    return found


@pytest.mark.parametrize("terms", list(SITES))
@pytest.mark.parametrize("reader", list(Reader))
def test_no_packet_rests_on_law_that_does_not_govern(terms: Terms, reader: Reader) -> None:
    assert american(compose(under(terms), reader, shipment="main")) == set()


@pytest.mark.parametrize("terms", list(SITES))
@pytest.mark.parametrize("kind", list(LetterKind))
def test_no_letter_rests_on_law_that_does_not_govern(terms: Terms, kind: LetterKind) -> None:
    letter = compose_letter(under(terms), kind)
    assert american(letter.document) == set()
    assert "tariff" not in words(letter)


@pytest.mark.parametrize("terms", list(SITES))
def test_no_finding_rests_on_law_that_does_not_govern(terms: Terms) -> None:
    found = [f for f in under(terms).findings if AMERICAN.search(f.citation)]
    assert found == []


def test_in_the_states_the_law_is_cited() -> None:
    document = compose(made(), Reader.CARRIER, shipment="main")
    assert any("Elmore" in text for text in american(document))
    claim = compose_letter(made(), LetterKind.CLAIM)
    assert "the full actual loss" in words(claim)
    assert "name the tariff item" in words(claim)
    assert any("49 CFR 370.3(b)" in text for text in american(claim.document))


def test_under_cmr_the_value_at_the_taking_over_is_claimed() -> None:
    found = under(Terms.CMR)
    letter = compose_letter(found, LetterKind.CLAIM)
    assert "by the value of the goods at the place and time of taking over" in words(letter)
    cited = {s.citation for _, one in statements(letter.document) for s in one.sources}
    assert any("Articles 23(1) and 25(1), from memory" in (c or "") for c in cited)
    packet = compose(found, Reader.CARRIER, shipment="main")
    text = " ".join(s.text for _, s in statements(packet))
    assert "full actual loss" not in text


@pytest.mark.parametrize("terms", [t for t in Terms if t is not Terms.US_INTERSTATE_MOTOR])
def test_only_interstate_trucking_rests_on_its_statute(terms: Terms) -> None:
    law = law_of(shipment(terms=terms))
    assert not AMERICAN.search(f"{law.elements} {law.answers} {law.claim} {law.loss_text}")
    known = (Terms.CMR, Terms.CANADA, Terms.MONTREAL, Terms.COGSA)
    assert (law.elements == PRACTICE) is (terms not in known)
