"""Reasons for which carriers decline claims, as data, each with words that give it.

The reasons are those of ASC X12 element 548 that the trade meets most (no opportunity to inspect,
not filed in time, documents required, concealed and not reported) and the excepted causes; the
words are common practice, no source. A reason only chooses which facts an answer sets against it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum


class Reason(StrEnum):
    """What a letter of disallowance gives as its reason."""

    CLEAR_RECEIPT = "the receipt was signed clear"
    NOT_REPORTED = "concealed damage was not reported in time"
    NO_INSPECTION = "no opportunity to inspect"
    NOT_IN_TIME = "the claim was not filed in time"
    DOCUMENTS = "documents are missing"
    PACKAGING = "the packaging was not sufficient"
    LIMIT = "liability is limited"


@dataclass(frozen=True, slots=True)
class Words:
    """A pattern for a reason, with one text that it must find and one that it must not."""

    reason: Reason
    pattern: str
    must_flag: str
    must_pass: str


WORDS: tuple[Words, ...] = (
    Words(
        Reason.CLEAR_RECEIPT,
        r"\b(signed|delivered|received) (for )?(clear|clean|in good (order|condition))\b"
        r"|\b(clear|clean) (delivery )?receipt\b|\bno exceptions? (was |were )?(noted|taken)\b",
        "The freight was signed clear.",
        "The receipt was signed by your clerk.",
    ),
    Words(
        Reason.NOT_REPORTED,
        r"\bnot (been )?reported (with)?in\b|\breported (too )?late\b"
        r"|\bconcealed\b.*\bnot reported\b"
        r"|\boutside (of )?the \w+[- ]day (reporting|window)",
        "Concealed damage was not reported within five days.",
        "You reported the damage on 5 May.",
    ),
    Words(
        Reason.NO_INSPECTION,
        r"\bno (opportunity|chance) to inspect\b|\b(unable|not able) to inspect\b"
        r"|\bnot (available|held) for inspection\b"
        r"|\bpackag\w+ (was |were )?(not (kept|retained)|discarded)",
        "We had no opportunity to inspect the goods.",
        "Our inspection showed no cause.",
    ),
    Words(
        Reason.NOT_IN_TIME,
        r"\b(not|never) (been )?filed (with)?in\b|\bfiled (too )?late\b|\btime[- ]barred\b"
        r"|\b(claim )?(was )?received after (the )?(nine|9)[- ]months?",
        "The claim was not filed within nine months.",
        "The claim was filed on 5 May.",
    ),
    Words(
        Reason.DOCUMENTS,
        r"\b(missing|incomplete|insufficient|lack of|no) (supporting )?document"
        r"|\bdocument\w* (is |are |was |were )?(missing|required|incomplete)",
        "Supporting documents are missing.",
        "The documents were reviewed.",
    ),
    Words(
        Reason.PACKAGING,
        r"\b(insufficient|inadequate|improper|poor|defective) (pack(ag)?ing|packaged|packed)\b"
        r"|\b(improperly|inadequately|insufficiently) pack",
        "Damage was due to insufficient packaging.",
        "The packaging was crushed.",
    ),
    Words(
        Reason.LIMIT,
        r"\b(limit(ation|ed)?|released value|maximum liability)\b.*"
        r"\b(liab|tariff|per (lb|pound|kg))"
        r"|\bliability (is )?limited\b",
        "Our liability is limited to $2.00 per pound under the tariff.",
        "There is a speed limit at the site.",
    ),
)  # fmt: skip


def reasons_in(text: str) -> tuple[Reason, ...]:
    """Give the reasons that a letter's words give, each once, in the order of the rules."""
    plain = " ".join(text.split())
    found = [w.reason for w in WORDS if re.search(w.pattern, plain, re.IGNORECASE)]
    return tuple(dict.fromkeys(found))
