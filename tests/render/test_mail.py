"""Mail drafts read back with the standard library's parser: RFC 5322, MIME, nothing made up."""

from __future__ import annotations

from email import message_from_bytes
from email.message import EmailMessage
from email.policy import default

import pytest

from claimkit.render.mail import LARGEST, Attachment, draft

TWO = (Attachment("letter.pdf", b"%PDF-1.7 x"), Attachment("dent ä.jpg", b"\xff\xd8\xff"))


def opened(data: bytes) -> EmailMessage:
    message = message_from_bytes(data, policy=default)
    assert isinstance(message, EmailMessage)
    assert not message.defects
    return message


def test_a_draft_holds_text_and_files() -> None:
    made = draft("Claim – PRO 1", "Grüße\nzweite", ("a@us.example", "b@them.example"), TWO)
    mail = opened(made.data)
    assert mail["From"] == "a@us.example"
    assert mail["To"] == "b@them.example"
    assert mail["Subject"] == "Claim – PRO 1"
    assert mail["X-Unsent"] == "1"
    body = mail.get_body(("plain",))
    assert body
    assert body.get_content().split() == ["Grüße", "zweite"]
    files = {a.get_filename(): a.get_content() for a in mail.iter_attachments()}
    assert files == {a.name: a.data for a in TWO}
    types = [a.get_content_type() for a in mail.iter_attachments()]
    assert types == ["application/pdf", "image/jpeg"]


def test_no_date_and_no_message_id_are_made_up() -> None:
    mail = opened(draft("s", "t", (None, None), ()).data)
    assert mail["Date"] is None
    assert mail["Message-ID"] is None
    assert mail["To"] is None
    assert mail["From"] is None


def test_the_same_letter_gives_the_same_bytes() -> None:
    one, other = (draft("s", "t", ("a@b.example", None), TWO) for _ in range(2))
    assert one.data == other.data
    assert one.data != draft("s", "t", ("a@b.example", None), TWO[:1]).data


@pytest.mark.parametrize(
    "address", ["a@b.example\r\nBcc: x@y.example", "no address", "", "a@", "a b@c.example,d@e.f"]
)
def test_what_is_no_address_is_left_out(address: str) -> None:
    mail = opened(draft("s", "t", (None, address), ()).data)
    assert mail["To"] is None
    assert mail["Bcc"] is None


def test_a_subject_keeps_to_one_line() -> None:
    mail = opened(draft("Claim\r\nBcc: x@y.example", "t", (None, None), ()).data)
    assert mail["Subject"] == "Claim Bcc: x@y.example"
    assert mail["Bcc"] is None


def test_what_is_too_large_is_named_and_the_rest_goes() -> None:
    large = Attachment("packet.pdf", b"x" * (LARGEST - 5))
    made = draft("s", "t", (None, None), (TWO[0], large, TWO[1]))
    assert made.left_out == ("packet.pdf",)
    assert [a.get_filename() for a in opened(made.data).iter_attachments()] == [a.name for a in TWO]
