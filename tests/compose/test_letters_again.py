"""Letters after a claim was made: which claim, received when, what was paid, what is open.

The first report is the call that was confirmed (NMFC item 300135-A: telephone is allowed but must
be confirmed in writing). A claim is filed when the carrier receives it (49 CFR 370.3(b)), so a
later letter has to name that day. Amounts by hand: 3 panels of USD 412.50 are USD 1,237.50
(test_letters); what is left after a payment is a subtraction, written beside it.
"""

from __future__ import annotations

from claimkit.compose.letters.book import compose_letter
from claimkit.model.document import Table, statements
from claimkit.model.job import Party, Role
from claimkit.model.letter import Letter, LetterKind
from claimkit.model.records import About, Notice, Record
from tests.build import moment, record
from tests.compose.test_letters import CLAIM, DECLINE, PARTIES, REPORT, made, said, words
from tests.findings.office_build import usd

PAID = said(About.PAYMENT, "2026-05-19", theirs=True, amount=usd("400.00"))


def rows(letter: Letter, first: str) -> list[str]:
    """Give the last cells of the rows that begin with a word."""
    return [
        row[-1].text
        for section in letter.document.sections
        for block in section.blocks
        if isinstance(block, Table)
        for row in block.rows
        if row[0].text == first
    ]


def test_a_repeated_claim_names_the_first_and_demands_the_balance() -> None:
    letter = compose_letter(made(CLAIM, PAID), LetterKind.CLAIM)
    text = words(letter)
    assert (
        "This letter repeats our claim of Wed 2026-05-06 for USD 1,237.50 that you received on "
        "Wed 2026-05-06. It is no new claim." in text
    )
    assert "You have paid USD 400.00, received on Tue 2026-05-19." in text
    # 1,237.50 - 400.00
    assert "we demand payment of USD 837.50, the balance of the full actual loss" in text
    assert "balance USD 837.50" in letter.subject
    assert rows(letter, "Total claimed") == ["USD 1,237.50"]
    assert rows(letter, "Paid") == ["USD -400.00"]
    assert rows(letter, "Balance") == ["USD 837.50"]
    assert "within 30 days of receiving it" not in text  # those days run from the first claim
    assert letter.why_not == ()


def test_a_first_claim_names_none_and_asks_for_its_acknowledgement() -> None:
    letter = compose_letter(made(), LetterKind.CLAIM)
    text = words(letter)
    assert "our claim of" not in text
    assert "within 30 days of receiving it" in text
    assert not rows(letter, "Balance")


def test_a_claim_of_another_amount_is_amended() -> None:
    other = said(About.CLAIM, "2026-05-06", amount=usd("900.00"))
    text = words(compose_letter(made(other), LetterKind.CLAIM))
    assert "This letter amends our claim of Wed 2026-05-06 for USD 900.00 that you" in text
    assert "we demand payment of USD 1,237.50, the full actual loss." in text


def test_a_claim_not_shown_received_is_named_so() -> None:
    sent = record(
        "claim-sent",
        Notice(
            about=About.CLAIM,
            sender="us",
            to="hauler",
            how="post",
            sent=moment("2026-05-06 09:00"),
            amount=usd("1237.50"),
        ),
    )
    text = words(compose_letter(made(sent), LetterKind.CLAIM))
    assert (
        "This letter repeats our claim of Wed 2026-05-06 for USD 1,237.50. Please confirm" in text
    )
    assert "within 30 days of receiving it" in text


def test_a_claim_sent_to_the_broker_is_no_claim_that_the_carrier_has() -> None:
    desk = Party(id="desk", name="Load Desk", roles=(Role.BROKER,))
    to_broker = said(About.CLAIM, "2026-05-06", to="desk", amount=usd("1237.50"))
    found = made(to_broker, party=(*PARTIES, desk))
    assert "our claim of" not in words(compose_letter(found, LetterKind.CLAIM))
    late = compose_letter(found, LetterKind.FOLLOW_UP)
    assert "We sent you our claim" not in words(late)
    assert any("No claim to the carrier is on record" in why for why in late.why_not)


def test_what_is_paid_in_full_is_not_claimed_again() -> None:
    full = said(About.PAYMENT, "2026-05-19", theirs=True, amount=usd("1237.50"))
    letter = compose_letter(made(CLAIM, full), LetterKind.CLAIM)
    assert not letter.ready
    assert any("nothing is left to claim" in why for why in letter.why_not)


def test_a_payment_in_another_currency_leaves_the_balance_blank() -> None:
    other = said(About.PAYMENT, "2026-05-19", theirs=True, amount=usd("400.00", "CAD"))
    letter = compose_letter(made(CLAIM, other), LetterKind.CLAIM)
    assert not letter.ready
    assert any("different currencies" in why for why in letter.why_not)
    assert not rows(letter, "Balance")


def test_the_answer_to_a_disallowance_names_what_was_paid() -> None:
    text = words(compose_letter(made(REPORT, CLAIM, DECLINE, PAID), LetterKind.ANSWER))
    assert "You have paid USD 400.00, received on Tue 2026-05-19." in text
    assert "Of our claim for USD 1,237.50, USD 837.50 is open." in text


def reports(*records: Record) -> list[str]:
    """Give the lines of the report on concealed damage about the reports before it."""
    letter = compose_letter(made(*records), LetterKind.CONCEALED)
    return [s.text for _, s in statements(letter.document) if " report by " in s.text]


CALL = said(About.CONCEALED_DAMAGE, "2026-05-05", how="telephone")
MAIL = said(About.CONCEALED_DAMAGE, "2026-05-06", how="e-mail")
POST = said(About.CONCEALED_DAMAGE, "2026-05-08", how="tracked post")


def test_the_reports_before_are_one_list_with_one_first() -> None:
    """Given to the composer newest first; the list is by day, and the confirmed call leads it."""
    assert reports(POST, MAIL, CALL) == [
        "Concealed damage report by telephone: on Tue 2026-05-05; confirmed in writing, which you "
        "received on Wed 2026-05-06; this was our first report.",
        "Concealed damage report by e-mail: sent on Wed 2026-05-06, received on Wed 2026-05-06.",
        "Concealed damage report by tracked post: sent on Fri 2026-05-08, received on "
        "Fri 2026-05-08.",
    ]


def test_without_a_call_the_first_written_report_received_is_the_first() -> None:
    first, second = reports(POST, MAIL)
    assert first.endswith("this was our first report.")
    assert "first report" not in second


def test_a_report_sent_and_not_shown_received_is_not_the_first() -> None:
    lost = said(About.CONCEALED_DAMAGE, "2026-05-05", how="e-mail", received=None)
    first, second = reports(lost, POST)
    assert "your receipt is not on record" in first
    assert second.endswith("this was our first report.")


def test_a_report_to_the_seller_is_none_to_the_carrier() -> None:
    assert not reports(said(About.CONCEALED_DAMAGE, "2026-05-05", how="e-mail", to="shop"))


def test_the_insurer_is_told_what_the_carrier_paid() -> None:
    text = words(compose_letter(made(CLAIM, PAID), LetterKind.INSURER))
    assert "The carrier has paid USD 400.00, received on Tue 2026-05-19." in text
