"""Acts that may or may not meet a time limit: what was done, and what it would turn on.

Sent in time and received after, where the text speaks of sending; telephoned in time and confirmed
after; received in time without the amount that the terms ask for; a letter of the carrier of which
only the day of receipt is known. None of these is met, and none is missed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from claimkit.findings.limits.calendar import written
from claimkit.findings.limits.events import (
    Deed,
    dated,
    deeds,
    is_spoken,
    local_day,
    matching,
    source_of,
    spoken,
)
from claimkit.model.case import Case
from claimkit.model.job import Shipment
from claimkit.model.limit import Clause, Whose
from claimkit.model.records import Notice
from claimkit.model.source import Source
from claimkit.rules import carriage

_BY_WIRE = re.compile(r"phon|call|voice", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Doubt:
    """One act that is not certain to meet a limit: the words, its day, its record."""

    said: str
    day: date
    source: Source


def acts(case: Case, shipment: Shipment, clause: Clause) -> tuple[Deed, ...]:
    """Give what is on record that does what a clause asks for, in time or late."""
    return tuple(
        deed
        for word in clause.met_by
        for deed in deeds(case, shipment, word, clause.party)
        if not (clause.wants_amount and deed.notice and deed.notice.amount is None)
    )


def doubt_of(
    case: Case, shipment: Shipment, clause: Clause, period: tuple[date, date], late: Deed | None
) -> Doubt | None:
    """Give the first act within a period that is not certain to meet its clause, or None.

    `period` are its careful first day and its plain last day; `late` is the act that met it after
    the last day, where there is one. What lies after the legal day is left out.
    """
    found = [
        *_no_day_of_sending(clause, late),
        *_sent_in_time(case, shipment, clause, period),
        *_told_in_time(case, shipment, clause, period, late),
        *_without_amount(case, shipment, clause, period, late),
    ]
    known = [doubt for doubt in found if doubt.day <= case.as_of]
    return min(known, key=lambda doubt: (doubt.day, doubt.source.path or ""), default=None)


def _no_day_of_sending(clause: Clause, late: Deed | None) -> Iterator[Doubt]:
    """Give a letter of the carrier's that came after its day: it may have been sent before."""
    if clause.whose is Whose.CARRIERS and late and late.notice and late.notice.sent is None:
        said = f"received {written(late.day)}; the day of sending is not recorded"
        yield Doubt(said, late.day, late.source)


def _sent_in_time(
    case: Case, shipment: Shipment, clause: Clause, period: tuple[date, date]
) -> Iterator[Doubt]:
    if not clause.sending_counts:
        return
    for word in clause.met_by:
        for record, notice in matching(case, shipment, word, clause.party):
            sent = local_day(case, notice.sent) if notice.sent else None
            if sent is None or is_spoken(notice) or not period[0] <= sent <= period[1]:
                continue
            had = local_day(case, notice.received) if notice.received else None
            received = (
                f"received {written(had)}"
                if had and had <= case.as_of
                else "its receipt is not on record"
            )
            said = (
                f"sent in time, on {written(sent)}, {received}: in time if sending counts "
                f"({clause.sending_counts})"
            )
            yield Doubt(said, sent, source_of(record, "sent"))


def _told_in_time(
    case: Case,
    shipment: Shipment,
    clause: Clause,
    period: tuple[date, date],
    late: Deed | None,
) -> Iterator[Doubt]:
    """Give a report by word of mouth within the period that was confirmed in writing after it."""
    if late is None:
        return
    for word in clause.met_by:
        if not carriage.ACTS[word].oral_counts:
            continue
        for record, notice in spoken(case, shipment, word, clause.party):
            when = dated(case, notice, on_receipt=False)
            if when and period[0] <= when[0] <= period[1]:
                how = "telephoned" if _by_wire(notice) else "told by word of mouth"
                said = (
                    f"{how} {written(when[0])}, in time if confirmation may follow; confirmed "
                    f"{written(late.day)}; not a bar"
                )
                # Until it was confirmed the report by word of mouth alone met nothing.
                yield Doubt(said, late.day, source_of(record, when[1]))


def _by_wire(notice: Notice) -> bool:
    return _BY_WIRE.search(notice.how or "") is not None


def _without_amount(
    case: Case,
    shipment: Shipment,
    clause: Clause,
    period: tuple[date, date],
    late: Deed | None,
) -> Iterator[Doubt]:
    if not clause.wants_amount:
        return
    for word in clause.met_by:
        for deed in deeds(case, shipment, word, clause.party):
            stated = deed.notice is None or deed.notice.amount is not None
            if stated or not period[0] <= deed.day <= period[1]:
                continue
            said = (
                f"received in time, on {written(deed.day)}; does not state the amount: not shown "
                "to be met"
            )
            if late:
                said += f"; the amount followed on {written(late.day)}"
            yield Doubt(said, deed.day, deed.source)
