"""A letter as a draft for a mail program: one file that opens ready to be looked at and sent.

RFC 5322 and MIME, written with the standard library. The same letter and attachments give the same
bytes. Nothing is sent from here, and no date or message id is made up: the mail program sets both.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from email.headerregistry import Address
from email.message import EmailMessage
from email.policy import SMTP

LARGEST = 18 << 20  # bytes of attachments; many mail servers refuse messages above 20 to 25 MB
_TYPES = {
    ".pdf": ("application", "pdf"),
    ".jpg": ("image", "jpeg"),
    ".jpeg": ("image", "jpeg"),
    ".png": ("image", "png"),
    ".txt": ("text", "plain"),
}


@dataclass(frozen=True, slots=True)
class Attachment:
    """A file to go with a mail, under a name without folders."""

    name: str
    data: bytes


@dataclass(frozen=True, slots=True)
class Draft:
    """A mail as a file, and the names of attachments that did not go into it for their size."""

    data: bytes
    left_out: tuple[str, ...]


def draft(
    subject: str,
    text: str,
    addresses: tuple[str | None, str | None],
    attachments: Sequence[Attachment],
) -> Draft:
    """Write a mail draft. `addresses` are from and to, None where not known.

    Attachments go in as they come until LARGEST is reached; those that no longer fit are named.
    """
    message = EmailMessage(policy=SMTP)
    sender, to = (_address(a) for a in addresses)
    if sender:
        message["From"] = sender
    if to:
        message["To"] = to
    message["Subject"] = " ".join(subject.split())
    message["X-Unsent"] = "1"  # several mail programs open such a file for editing
    message.set_content(text, charset="utf-8", cte="quoted-printable")
    left_out, size = [], 0
    for attachment in attachments:
        size += len(attachment.data)
        if size > LARGEST:
            size -= len(attachment.data)
            left_out.append(attachment.name)
            continue
        main, sub = _type(attachment.name)
        message.add_attachment(
            attachment.data, maintype=main, subtype=sub, filename=attachment.name
        )
    _fixed_boundary(message, text, attachments)
    return Draft(message.as_bytes(), tuple(left_out))


def _type(name: str) -> tuple[str, str]:
    ending = f".{name.rsplit('.', 1)[-1].lower()}"
    main, sub = _TYPES.get(ending, ("application", "octet-stream"))
    return ("application", "octet-stream") if main == "text" else (main, sub)


def _address(text: str | None) -> Address | None:
    """Read an address; None where it is none that a mail program would take."""
    if not text or "@" not in text:
        return None
    try:
        return Address(addr_spec=text.strip())
    except (ValueError, IndexError):
        return None


def _fixed_boundary(message: EmailMessage, text: str, attachments: Sequence[Attachment]) -> None:
    """Set the boundary from the contents; the library's own is drawn at random."""
    if message.is_multipart():
        total = hashlib.sha256(text.encode())
        for attachment in attachments:
            total.update(attachment.name.encode("utf-8", "surrogatepass") + attachment.data)
        message.set_boundary(f"=_{total.hexdigest()[:40]}")
