"""Letters: facts of the record only, blanks where one is missing, ready only when whole.

The three things of a claim are those of 49 CFR 370.3(b); the reasons of an answer those of
rules/decline_reasons.py. That every day and amount in a letter stands in the record, or follows
from it, is checked against the record itself.
"""

from __future__ import annotations

import re
from typing import Any

import pytest

from claimkit.compose.letters.book import COMPOSERS, compose_letter
from claimkit.compose.packet.view import ChooseShipment
from claimkit.findings.claim.worksheet import total
from claimkit.model.case import Case
from claimkit.model.contract import Duty, OwnTerm, Policy, Start
from claimkit.model.document import statements
from claimkit.model.job import BillText, Paper, PaperMissing, Party, Role, Site, Terms
from claimkit.model.letter import Letter, LetterKind
from claimkit.model.quantities import Span
from claimkit.model.records import (
    About,
    Cost,
    CostOf,
    CountedItem,
    FoundAt,
    Notice,
    Record,
    Unpacking,
)
from claimkit.render.pdf import render
from claimkit.rules.decline_reasons import WORDS, Reason, reasons_in
from tests.build import FileKind, OtherFile, case, facts, moment, photo, record, sha, shipment
from tests.compose.jobs import JOBS, sample_case
from tests.findings.office_build import a_job, damage, delivery, usd
from tests.render.reading import page_texts, squeezed

US = Party(
    id="us",
    name="Marl & Sons",
    roles=(Role.OWNER, Role.CONSIGNEE),
    address="5 Quay Road, Ashby",
    email="office@marl.example",
)
HAULER = Party(
    id="hauler",
    name="Northway Freight",
    roles=(Role.DELIVERING_CARRIER,),
    email="claims@northway.example",
)
SHOP = Party(id="shop", name="Tessel Supply", roles=(Role.SELLER, Role.SHIPPER))
WORKS = Party(id="works", name="Tarn Works", roles=(Role.MAKER,))
BEACON = Party(id="beacon", name="Beacon Mutual", roles=(Role.INSURER,))
ANN = Party(id="ann", name="Ann Ellery", roles=(Role.CUSTOMER,))
PARTIES = (US, HAULER, SHOP, WORKS, BEACON, ANN)
PAPERS = ("bill of lading", "freight bill", "invoice", "delivery receipt")
TERM = OwnTerm(
    id="notice",
    title="Notice",
    duty=Duty.REPORT,
    runs_from=Start.DELIVERY,
    length=Span(10, "calendar days", written="10 calendar days"),
    source="policy, 4",
)
SHIP = {
    "bill_text": BillText.FROM_2016,
    "classification_applies": True,
    "clean_at_origin": True,
    "packing_evidence": "photos of the seller of 2026-04-30",
    "bill_number": "B-77",
    "bill_date": moment("2026-04-29"),
    "origin": "Dalton, GA",
    "destination": "Ashby, IL",
}
UNPACKED = record(
    "unpacking",
    Unpacking(
        began=moment("2026-05-04 13:00"),
        counted=(CountedItem(item="panel", quantity=3, condition="one dented"),),
        packing_kept="garage of the site",
    ),
)
DENT = damage("dent", found_at=FoundAt.UNPACKING, what="dented", photos=("photos/dent.jpg",))


def said(about: About, day: str, *, theirs: bool = False, **more: Any) -> Record:
    """Give a notice between us and the carrier, received on its day."""
    ends = {"sender": "hauler", "to": "us"} if theirs else {"sender": "us", "to": "hauler"}
    when = {"sent": moment(f"{day} 09:00"), "received": moment(f"{day} 09:05")}
    return record(
        f"{about.value}-{day}".replace(" ", "-"), Notice(about=about, **(ends | when | more))
    )


REPORT = said(About.CONCEALED_DAMAGE, "2026-05-05", text="Please inspect.")
CLAIM = said(About.CLAIM, "2026-05-06", amount=usd("1237.50"))
DECLINE = said(
    About.DISALLOWANCE,
    "2026-05-18",
    theirs=True,
    reference="C-1",
    states_disallowance=True,
    gives_reasons=True,
    text="Concealed damage was not reported within five days. We had no opportunity to inspect.",
)
BASE = (delivery(), damage(), DENT, UNPACKED)


def made(*more: Record, as_of: Any = None, ship: Any = None, **job: Any) -> Case:
    papers = job.pop("papers", PAPERS)
    named = tuple(Paper(file=f"documents/{n}.pdf", what=kind) for n, kind in enumerate(papers))
    values: dict[str, Any] = {
        "party": PARTIES,
        "paper": named,
        "no_paper": (PaperMissing(what="inspection report", because="asked for on 2026-05-05"),),
        "policy": (Policy(insurer="beacon", number="CG-1", term=(TERM,)),),
        "reference": "M-9",
    }
    files = [OtherFile(p.file, sha(p.file), 9, FileKind.PDF) for p in named]
    records = job.pop("records", BASE)
    the_job = a_job(ship=SHIP | (ship or {}), **(values | job))
    pictures = (photo("photos/dent.jpg", "2026-05-04 13:20:00"),)
    given = facts(job_=the_job, records=(*records, *more), papers=files, photos=pictures)
    return case(given, as_of) if as_of else case(given)


def words(letter: Letter) -> str:
    return "\n".join(s.text for _, s in statements(letter.document))


BLANK = "______"
READY: dict[LetterKind, tuple[Record, ...]] = {
    LetterKind.CONCEALED: (),
    LetterKind.CLAIM: (),
    LetterKind.ACKNOWLEDGEMENT: (CLAIM,),
    LetterKind.ANSWER: (REPORT, CLAIM, DECLINE),
    LetterKind.TERMS: (),
    LetterKind.PACKING: (),
    LetterKind.SELLER: (),
    LetterKind.MAKER: (),
    LetterKind.INSURER: (),
}


@pytest.mark.parametrize("kind", READY, ids=lambda k: k.value)
def test_a_letter_whose_facts_are_there_is_ready(kind: LetterKind) -> None:
    letter = compose_letter(made(*READY[kind]), kind)
    assert letter.why_not == ()
    assert BLANK not in words(letter)
    assert "DRAFT" not in words(letter)


@pytest.mark.parametrize("kind", list(LetterKind), ids=lambda k: k.value)
@pytest.mark.parametrize("name", JOBS)
def test_every_sentence_has_a_source_and_every_kind_composes(name: str, kind: LetterKind) -> None:
    letter = compose_letter(sample_case(name), kind)
    assert set(COMPOSERS) == set(LetterKind)
    for _, statement in statements(letter.document):
        assert statement.sources
        assert statement.text.strip()
    assert letter.ready is ("DRAFT" not in words(letter))


def known_days(found: Case) -> set[str]:
    """Give every day that the record states or that follows from it by the rules."""
    text = repr(found.facts)
    days = set(re.findall(r"\d{4}-\d{2}-\d{2}", text))
    days |= {
        f"{int(y):04d}-{int(m):02d}-{int(d):02d}"
        for y, m, d in re.findall(r"datetime\((\d{4}), (\d+), (\d+)", text)
    }
    days |= {d.isoformat() for t in found.limits for d in (t.nominal, t.act_by, t.met_on) if d}
    return days | {found.as_of.isoformat()}


@pytest.mark.parametrize("kind", list(LetterKind), ids=lambda k: k.value)
def test_no_day_and_no_amount_that_the_record_does_not_give(kind: LetterKind) -> None:
    found = made(REPORT, CLAIM, DECLINE)
    text = words(compose_letter(found, kind))
    days = set(re.findall(r"\b20\d\d-\d\d-\d\d\b", text))
    assert days <= known_days(found)
    assert days
    amounts = set(re.findall(r"USD (-?[\d,]+\.\d\d)", text))
    lines = {f"{x.total.amount:,}" for x in found.amount} | {
        f"{x.price.amount:,}" for x in found.amount
    }
    whole = total(found.amount)
    assert whole
    assert amounts <= lines | {f"{whole.amount:,}", "1,237.50"}


def test_the_claim_has_its_three_things_and_the_form_s_fields() -> None:
    found = made()
    text = words(compose_letter(found, LetterKind.CLAIM))
    # crushed 1 + dented 1 + one of four missing: 3 × 412.50
    for field in (
        "558-20931", "B-77", "M-9", "Northway Freight", "Dalton, GA", "Ashby, IL", "Wed 2026-04-29",
        "Mon 2026-05-04", "demand payment of USD 1,237.50", "is liable", "damage and concealed "
        "damage and loss", "3 × USD 412.50", "Total claimed",
    ):  # fmt: skip
        assert field in text, field


@pytest.mark.parametrize(
    "kind, case_, says",
    [
        (LetterKind.CLAIM, made(ship={"pro_number": None, "bill_number": None}), "pro_number"),
        (LetterKind.CLAIM, made(papers=("invoice",)), "freight bill"),
        (LetterKind.CLAIM, made(party=(US, SHOP)), "carrier"),
        (
            LetterKind.CLAIM,
            made(party=(US, Party(id="hauler", name="Desk", roles=(Role.BROKER,)), SHOP)),
            "broker",
        ),
        (LetterKind.CONCEALED, made(records=(delivery(), damage())), "came to light"),
        (
            LetterKind.CONCEALED,
            made(records=(delivery(), DENT)),
            "packing_kept",
        ),
        (LetterKind.ACKNOWLEDGEMENT, made(), "No claim"),
        (LetterKind.ACKNOWLEDGEMENT, made(CLAIM, DECLINE), "answered"),
        (LetterKind.FOLLOW_UP, made(CLAIM), "No date of the carrier's has passed"),
        (LetterKind.ANSWER, made(CLAIM), "No letter of the carrier"),
        (LetterKind.ANSWER, made(CLAIM, DECLINE, ship={"packing_evidence": None}), "inspection"),
        (LetterKind.INSURER, made(policy=()), "policy.number"),
        (LetterKind.NON_RECEIPT, made(records=(delivery(), damage())), "Nothing is on record"),
        (LetterKind.PACKING, made(records=(delivery(),)), "Nothing is on record"),
        (LetterKind.CUSTOMER, made(), "who mends"),
    ],
)
def test_a_missing_fact_keeps_a_letter_back(kind: LetterKind, case_: Case, says: str) -> None:
    letter = compose_letter(case_, kind)
    assert not letter.ready
    assert any(says in why for why in letter.why_not), letter.why_not
    assert words(letter).startswith("DRAFT, not ready to send.")


def test_a_passed_date_of_the_carrier_is_chased() -> None:
    from datetime import date

    # Received Wed 2026-05-06: 30 days end on Fri 2026-06-05 (49 CFR 370.5).
    letter = compose_letter(made(CLAIM, as_of=date(2026, 6, 8)), LetterKind.FOLLOW_UP)
    assert letter.ready
    due = "Your acknowledgement of the claim: due by Fri 2026-06-05. None has reached us."
    assert due in words(letter)
    assert "The carrier" not in words(letter)  # it is spoken to, not about
    assert "You received our claim for USD 1,237.50 on Wed 2026-05-06." in words(letter)


def test_an_answer_takes_the_reasons_one_by_one() -> None:
    text = words(compose_letter(made(REPORT, CLAIM, DECLINE), LetterKind.ANSWER))
    assert "You say: concealed damage was not reported in time. You received our report on" in text
    assert "You say: no opportunity to inspect. You had our request to inspect on" in text
    assert "Mon 2026-05-11" in text  # five business days from Mon 2026-05-04


def test_an_answer_to_a_limit_asks_for_the_agreement_and_gives_up_nothing() -> None:
    limit = said(
        About.OFFER, "2026-05-18", theirs=True, amount=usd("200.00"),
        text="Our liability is limited under the tariff to 2.00 USD per lb.",
    )  # fmt: skip
    text = words(compose_letter(made(REPORT, CLAIM, limit), LetterKind.ANSWER))
    assert "the agreement or declaration of value" in text
    assert "It offers USD 200.00." in text


@pytest.mark.parametrize("row", WORDS, ids=lambda w: w.reason.value)
def test_words_of_reasons_flag_and_pass(row: Any) -> None:
    assert row.reason in reasons_in(row.must_flag)
    assert row.reason not in reasons_in(row.must_pass)


def test_every_reason_has_words_and_an_answer() -> None:
    from claimkit.compose.letters.answer import _ANSWERS

    assert {row.reason for row in WORDS} == set(Reason) == set(_ANSWERS)


def test_what_speaks_against_us_and_whom_to_blame_stay_at_home() -> None:
    own = made(record("late", damage(found_at=FoundAt.LATER).body), REPORT, CLAIM, DECLINE)
    for kind in LetterKind:
        text = words(compose_letter(own, kind))
        assert "own work" not in text
        assert "may say that it happened later" not in text


def test_the_customer_reads_no_price_number_or_blame() -> None:
    text = words(compose_letter(made(REPORT, CLAIM, DECLINE), LetterKind.CUSTOMER))
    assert not re.search(r"USD|558-20931|Northway|carrier|liab|claim|fault", text)
    assert "dented" in text


def test_no_letter_says_that_more_came_than_came() -> None:
    """One of four panels is missing: nobody may read that four were received."""
    for kind in (LetterKind.SELLER, LetterKind.INSURER, LetterKind.PACKING):
        text = words(compose_letter(made(), kind))
        assert "rdered" in text
        assert not re.search(r"received[^.]*4 × Wall panel", text)


def test_a_telephone_report_is_confirmed() -> None:
    call = said(About.CONCEALED_DAMAGE, "2026-05-05", how="telephone")
    text = words(compose_letter(made(call), LetterKind.CONCEALED))
    assert "report by telephone: on Tue 2026-05-05; this letter confirms it." in text
    assert "first report" not in text  # it is one only when it has been confirmed


def test_a_late_report_brings_its_evidence() -> None:
    from datetime import date

    found = made(as_of=date(2026, 5, 12))  # the five days ended on Mon 2026-05-11
    letter = compose_letter(found, LetterKind.CONCEALED)
    assert "did not happen after" in words(letter)
    assert letter.ready
    bare = made(records=(delivery(), damage("x", found_at=FoundAt.UNPACKING), UNPACKED),
                as_of=date(2026, 5, 12))  # fmt: skip
    assert not compose_letter(bare, LetterKind.CONCEALED).ready


def test_a_letter_is_about_one_shipment() -> None:
    two = a_job(party=PARTIES)
    both = (*two.shipment, shipment(id="second"))
    found = made(shipment=both)
    with pytest.raises(ChooseShipment, match="2 shipments"):
        compose_letter(found, LetterKind.CLAIM)
    with pytest.raises(ChooseShipment, match="no shipment"):
        compose_letter(found, LetterKind.CLAIM, "third")
    assert compose_letter(found, LetterKind.CLAIM, "second").shipment == "second"


@pytest.mark.parametrize("kind", [LetterKind.CLAIM, LetterKind.CUSTOMER], ids=lambda k: k.value)
def test_the_drawn_letter_holds_every_word(kind: LetterKind) -> None:
    letter = compose_letter(made(), kind)
    pdf = render(letter.document, lambda *_: "", paper="a4")
    drawn = squeezed("".join(page_texts(pdf)))
    head = letter.document.letter
    assert head
    for _, statement in statements(letter.document):
        first = squeezed(statement.text)[:24]  # a longer one may run on to the next page
        assert first in drawn, statement.text
    for label in head.sign:
        assert squeezed(label) in drawn
    assert pdf == render(letter.document, lambda *_: "", paper="a4")


def test_a_claim_for_nothing_is_not_ready() -> None:
    pieces = {"item": "panel", "quantity": 9}
    free = record("free", Cost(what=CostOf.REPLACEMENT, **pieces))
    assert not compose_letter(made(free), LetterKind.CLAIM).ready


def test_a_report_in_time_says_nothing_of_a_late_one() -> None:
    from datetime import date

    letter = compose_letter(made(as_of=date(2026, 5, 6)), LetterKind.CONCEALED)
    assert "The days to report ended" not in words(letter)


def test_an_answer_does_not_call_a_late_claim_in_time() -> None:
    """Nine months from Mon 2026-05-04 ended on Thu 2027-02-04; the carrier had it after that."""
    from datetime import date

    late = said(About.CLAIM, "2027-02-10", amount=usd("1237.50"))
    decline = said(
        About.DISALLOWANCE, "2027-02-20", theirs=True, states_disallowance=True,
        gives_reasons=True, text="The claim was not filed within nine months.",
    )  # fmt: skip
    found = made(REPORT, late, decline, as_of=date(2027, 3, 1))
    letter = compose_letter(found, LetterKind.ANSWER)
    assert not letter.ready
    assert "The period ended on Thu 2027-02-04" not in words(letter)


@pytest.mark.parametrize("quoted", [None, "The matter does not merit payment."])
def test_an_answer_asks_for_the_letters_words_only_where_they_are_missing(
    quoted: str | None,
) -> None:
    """A letter that gives reasons none of which is known: its words are quoted, not asked for."""
    decline = said(
        About.DISALLOWANCE, "2026-05-18", theirs=True, states_disallowance=True,
        gives_reasons=True, text=quoted,
    )  # fmt: skip
    letter = compose_letter(made(REPORT, CLAIM, decline), LetterKind.ANSWER)
    told = " ".join(letter.why_not)
    assert ("Enter the letter's reasons" in told) is (quoted is None)
    assert "answer them by hand" in told
    assert (quoted or "") in words(letter)


def test_a_notice_in_canada_has_its_four_things() -> None:
    """Origin, destination, date of shipment, estimated amount (law.md section 4)."""
    ship = {"terms": Terms.CANADA, "shipped": moment("2026-04-29"), "classification_applies": None}
    text = words(compose_letter(made(ship=ship), LetterKind.CONCEALED))
    for thing in ("Dalton, GA", "Ashby, IL", "Wed 2026-04-29", "estimate the amount at USD 1,237"):
        assert thing in text


@pytest.mark.parametrize("kind", list(LetterKind), ids=lambda k: k.value)
def test_no_rule_of_the_us_is_cited_for_a_carriage_under_other_terms(kind: LetterKind) -> None:
    found = made(
        REPORT,
        CLAIM,
        DECLINE,
        ship={"terms": Terms.CMR, "classification_applies": None},
        site=Site(address="9 Kiln Road, Ashby", zone="Europe/Vienna", country="AT"),
    )
    cited = {
        s.citation or ""
        for _, statement in statements(compose_letter(found, kind).document)
        for s in statement.sources
    }
    assert not [c for c in cited if re.search(r"CFR|USC|NMFC|UCC|So\.2d|Fed", c)]


def test_letters_of_a_folder_that_holds_every_key_and_of_one_that_holds_almost_none() -> None:
    """Nothing crashes: every stage runs, every kind composes, every blank is named."""
    from claimkit.findings.claim.worksheet import of_shipment
    from tests.intake import example_folder

    written = example_folder.read()
    assert written.job
    whole = case(facts(job_=written.job, records=written.records))
    bare = case(facts(job_=a_job(party=(), item=())))
    for found in (whole, bare):
        assert not [n for n in found.not_checked if n.crashed]
        for kind in LetterKind:
            letter = compose_letter(found, kind)
            assert letter.ready is ("DRAFT" not in words(letter))
            assert (BLANK in words(letter)) <= (not letter.ready)
    assert of_shipment(whole, "panels")
