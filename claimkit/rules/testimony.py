"""What the drafts for people who testify rest on: forms and rules of evidence, with their sources.

Marks as elsewhere: S the provision's own words were read, P a summary was read, M from memory.
All of it is United States federal law; another forum may ask for other words.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Provision:
    """A provision and what it says for these drafts."""

    id: str
    text: str
    citation: str
    mark: str


DECLARATION_WITHIN = Provision(
    "declaration-within",
    "I declare under penalty of perjury that the foregoing is true and correct. Executed on "
    "(date). (Signature)",
    "28 U.S.C. 1746(2), signed within the United States, read 2026-11-25",
    "S",
)
DECLARATION_OUTSIDE = Provision(
    "declaration-outside",
    "I declare under penalty of perjury under the laws of the United States of America that the "
    "foregoing is true and correct. Executed on (date). (Signature)",
    "28 U.S.C. 1746(1), signed outside the United States, read 2026-11-25",
    "S",
)
WITNESS = Provision(
    "witness",
    "A witness with knowledge says that an item is what it is claimed to be.",
    "FRE 901(b)(1), from memory",
    "M",
)
REGULAR_RECORD = Provision(
    "regular-record",
    "The record was made at or near the time by, or from what was told by, someone with "
    "knowledge; it was kept in the course of a regularly conducted activity; and making it was a "
    "regular practice of that activity.",
    "FRE 803(6)(A) to (C) as certified under FRE 902(11), from memory",
    "M",
)
DIGITAL_COPY = Provision(
    "digital-copy",
    "Data copied from a device, medium or file is authenticated by a process of digital "
    "identification, ordinarily a hash value, as a qualified person certifies.",
    "FRE 902(14) and its committee note of 2017, summary read 2026-11-25",
    "P",
)
NOTICE = Provision(
    "notice",
    "The other side gets reasonable written notice, and the records and the certificate to "
    "inspect, before they are offered.",
    "FRE 902(11), summary read 2026-11-25",
    "P",
)
SUMMARY = Provision(
    "summary",
    "A summary or chart of voluminous material may be offered as proof of its content; the "
    "originals are made available.",
    "FRE 1006, as of 2024-12-01, summary read",
    "P",
)
AID = Provision(
    "illustrative-aid",
    "An illustrative aid helps to understand the evidence and is none itself.",
    "FRE 107, as of 2024-12-01, summary read",
    "P",
)
DUPLICATE = Provision(
    "duplicate",
    "A printout that reflects the data accurately is an original, and a duplicate is admitted as "
    "one unless its authenticity is questioned.",
    "FRE 1001(d) and 1003, from memory",
    "M",
)
PROVISIONS = (
    DECLARATION_WITHIN,
    DECLARATION_OUTSIDE,
    WITNESS,
    REGULAR_RECORD,
    DIGITAL_COPY,
    NOTICE,
    SUMMARY,
    AID,
    DUPLICATE,
)

PARTS: tuple[tuple[str, str, Provision], ...] = (
    (
        "Photos",
        "Scaled copies of originals, which are in the bundle under the same numbers",
        DUPLICATE,
    ),
    (
        "Tables of damages, readings, events, records, documents and hashes",
        "Summaries of the originals",
        SUMMARY,
    ),
    (
        "The timeline and the plots of gaps, as drawn",
        "Illustrations; they show nothing that the tables do not say",
        AID,
    ),
    (
        "The answer, for and against, time limits and amount",
        "What was worked out from the record; for counsel, and no evidence by itself",
        AID,
    ),
)
"""Which parts of a packet are what, by their headings; the packet's contents give their pages."""
