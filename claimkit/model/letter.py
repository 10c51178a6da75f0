"""A letter of the office: its kind, its text as a document, and whether it may be sent as it is."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from claimkit.model.case import Reader
from claimkit.model.document import Document


class LetterKind(StrEnum):
    """What a letter is for; the words of `claimkit letter --about`."""

    CONCEALED = "concealed-damage"
    CLAIM = "claim"
    ACKNOWLEDGEMENT = "acknowledgement"
    FOLLOW_UP = "follow-up"
    ANSWER = "disallowance"
    TERMS = "tariff"
    PACKING = "packing-evidence"
    SELLER = "seller"
    MAKER = "maker"
    INSURER = "insurer"
    NON_RECEIPT = "non-receipt"
    CUSTOMER = "customer"


@dataclass(frozen=True, slots=True)
class Letter:
    """A composed letter. `to_email` and `from_email` are None where job.toml names none.

    `why_not` are sentences on what keeps it from being sent as it is; a letter without any is
    ready. `photos` are hashes of the photos to send with it, `packet` the reader whose packet goes
    along (None: none), `papers` paths of documents to send with it, `text` the same words as plain
    text for the body of a mail. `look_at` are sentences on enclosed papers that nobody has named.
    """

    kind: LetterKind
    shipment: str
    document: Document
    subject: str
    to_email: str | None
    from_email: str | None
    why_not: tuple[str, ...]
    photos: tuple[str, ...]
    packet: Reader | None
    papers: tuple[str, ...]
    text: str
    look_at: tuple[str, ...] = ()

    @property
    def ready(self) -> bool:
        """True where nothing keeps it back."""
        return not self.why_not
