"""The reports that the carrier had before: one dated list, oldest first, sent and received.

Only one of them is the first. A report by telephone is it once it was confirmed in writing; until
then the letter that is being written confirms it.
"""

from __future__ import annotations

from claimkit.compose.blocks import say
from claimkit.compose.phrases import day
from claimkit.compose.terminal.desk import LETTERS, Desk
from claimkit.findings.limits.events import (
    carriers_of,
    dated,
    is_spoken,
    local_day,
    notices,
    source_of,
)
from claimkit.model.document import Statement
from claimkit.model.moment import Moment
from claimkit.model.records import About, Notice, Record
from claimkit.model.source import Source

REPORTS = (About.CONCEALED_DAMAGE, About.INSPECTION_REQUESTED, About.DAMAGE_NOTICE)


def earlier_reports(desk: Desk) -> list[Statement]:
    """List what the carrier had from us before this report, oldest first; empty where nothing."""
    found = _ours(desk)
    first = next((n for _, n in found if _counts(desk, n, found)), None)
    return [
        say(_told(desk, notice, found, first=notice is first), *_sources(record, notice), LETTERS)
        for record, notice in found
    ]


def _ours(desk: Desk) -> list[tuple[Record, Notice]]:
    """Give our reports to the carriers of the shipment up to the day of the letter, by time."""
    carriers = carriers_of(desk.job, desk.shipment)
    found = []
    for record, notice in notices(desk.case, desk.shipment):
        when = dated(desk.case, notice, on_receipt=False)
        ours = notice.to in carriers and notice.sender not in carriers
        if notice.about in REPORTS and ours and when and when[0] <= desk.case.as_of:
            found.append((when[0], _at(notice), record.id, record, notice))
    return [(record, notice) for *_, record, notice in sorted(found, key=lambda row: row[:3])]


def _at(notice: Notice) -> float:
    moments = [m.at.timestamp() for m in (notice.sent, notice.received) if m]
    return min(moments)


def _received(desk: Desk, notice: Notice) -> Moment | None:
    there = notice.received
    return there if there and local_day(desk.case, there) <= desk.case.as_of else None


def _confirmation(desk: Desk, call: Notice, found: list[tuple[Record, Notice]]) -> Notice | None:
    """Give the first written report after a call that the carrier is shown to have received."""
    later = [n for _, n in found if not is_spoken(n) and _received(desk, n)]
    return next((n for n in later if _at(n) >= _at(call) or _same_day(desk, n, call)), None)


def _same_day(desk: Desk, one: Notice, other: Notice) -> bool:
    days = [dated(desk.case, n, on_receipt=False) for n in (one, other)]
    return days[0] is not None and days[1] is not None and days[0][0] == days[1][0]


def _counts(desk: Desk, notice: Notice, found: list[tuple[Record, Notice]]) -> bool:
    if is_spoken(notice):
        return _confirmation(desk, notice, found) is not None
    return _received(desk, notice) is not None


def _told(desk: Desk, notice: Notice, found: list[tuple[Record, Notice]], *, first: bool) -> str:
    how = f" by {notice.how}" if notice.how else ""
    what = f"{notice.about.value[0].upper()}{notice.about.value[1:]}{how}"
    parts = [f"{what}: {_when(desk, notice)}"]
    if is_spoken(notice):
        written = _confirmation(desk, notice, found)
        had = _received(desk, written) if written else None
        parts.append(
            f"confirmed in writing, which you received on {day(local_day(desk.case, had))}"
            if had
            else "this letter confirms it"
        )
    if first:
        parts.append("this was our first report")
    return "; ".join(parts) + "."


def _when(desk: Desk, notice: Notice) -> str:
    received = _received(desk, notice)
    if is_spoken(notice):
        moment = notice.sent or notice.received
        return f"on {day(local_day(desk.case, moment))}" if moment else "on a day not recorded"
    sent = f"sent on {day(local_day(desk.case, notice.sent))}" if notice.sent else ""
    had = f"received on {day(local_day(desk.case, received))}" if received else ""
    return ", ".join(w for w in (sent, had or "your receipt is not on record") if w)


def _sources(record: Record, notice: Notice) -> list[Source]:
    keys = [key for key in ("sent", "received") if getattr(notice, key)]
    return [source_of(record, key) for key in keys]
