"""Calendar entries as iCalendar (RFC 5545): all-day events with alarms, stable in their bytes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from icalendar import Event

# A week before, and at nine in the morning of the day before (an all-day event begins at midnight).
ALARMS = (timedelta(days=-7), timedelta(hours=-15))
PRODUCT = "-//claimkit//time limits//EN"


@dataclass(frozen=True, slots=True)
class CalendarEvent:
    """One all-day event. `modified` is aware; a cancelled one takes itself out of a calendar."""

    uid: str
    day: date
    summary: str
    text: str
    sequence: int
    modified: datetime
    cancelled: bool = False


def calendar_bytes(events: Iterable[CalendarEvent], name: str) -> bytes:
    """Write events as one calendar under a name."""
    from icalendar import Calendar

    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("x-wr-calname", name)
    for event in sorted(events, key=lambda e: (e.day, e.uid)):
        calendar.add_component(_event(event))
    return bytes(calendar.to_ical())


def _event(event: CalendarEvent) -> Event:
    from icalendar import Alarm, Event

    made = Event()
    made.add("uid", event.uid)
    made.add("dtstamp", event.modified.astimezone(UTC))
    made.add("last-modified", event.modified.astimezone(UTC))
    made.add("sequence", event.sequence)
    made.add("dtstart", event.day)
    made.add("dtend", event.day + timedelta(days=1))  # RFC 5545 3.6.1: the end is not included
    made.add("summary", event.summary)
    made.add("description", event.text)
    made.add("transp", "TRANSPARENT")
    made.add("status", "CANCELLED" if event.cancelled else "CONFIRMED")
    if not event.cancelled:
        for before in ALARMS:
            alarm = Alarm()
            alarm.add("action", "DISPLAY")
            alarm.add("description", event.summary)
            alarm.add("trigger", before)
            made.add_component(alarm)
    return made
