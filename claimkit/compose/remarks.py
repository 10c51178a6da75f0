"""Remarks that people typed into records and that a packet for somebody else will show.

A condition or a note is often written for oneself. Nothing of it is hidden, since a record is
evidence as it was written; whoever sends the packet is told of it before, to know what is read.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from claimkit.findings.limits.conditions import SOUND
from claimkit.model.case import Case, Reader
from claimkit.model.document import Document, statements
from claimkit.model.records import CountedItem, Record

# Keys of records that hold free remarks.
KEYS = ("condition", "note")


def remarks_shown(case: Case, document: Document) -> tuple[tuple[str, str], ...]:
    """Give each typed remark that the document prints, as (record and key, words).

    Empty for the owner's own copy. A plain "good" is no remark.
    """
    if document.reader is Reader.OWN:
        return ()
    printed = "\n".join(_spaced(said.text) for _, said in statements(document))
    return tuple(
        (where, text)
        for record in case.facts.records
        for where, text in _remarks(record)
        if _spaced(text) in printed
    )


def _remarks(record: Record) -> Iterator[tuple[str, str]]:
    held: list[tuple[str, object]] = [("", record.body)]
    rows = getattr(record.body, "counted", ())
    held += [(f"counted[{n}].", row) for n, row in enumerate(rows, 1)]
    for prefix, body in held:
        for key in KEYS:
            text = getattr(body, key, None)
            if isinstance(text, str) and not _plain(body, text):
                yield f"{record.path}: {prefix}{key}", text


def _plain(body: object, text: str) -> bool:
    said = text.strip().lower().rstrip(".")
    return not said or (isinstance(body, CountedItem) and said in SOUND)


def _spaced(text: str) -> str:
    return re.sub(r"\s+", " ", text).strip()


def reminder(case: Case, document: Document) -> list[str]:
    """Print the remarks as lines to read before the packet goes out; empty where there are none."""
    found = remarks_shown(case, document)
    if not found:
        return []
    head = f"This packet for the {document.reader.value} shows remarks as they were typed:"
    return [head, *(f"  {where}: “{_spaced(text)}”" for where, text in found)]
