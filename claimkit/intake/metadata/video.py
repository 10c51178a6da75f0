"""What a phone's video states of its time: the movie header, the Keys creation date, the day text.

Boxes are those of ISO/IEC 14496-12 and Apple's QuickTime File Format. The movie header counts
seconds since 1904, in UTC by recommendation and in local time in practice; 0 means unset. Keys
hold a date with its own offset. Nothing is decoded and every walk is bounded.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from claimkit.intake.metadata.isobmff import Broken, Budget, boxes_in
from claimkit.intake.metadata.stated_dates import iso_date
from claimkit.model.photo import StatedDate

MOVIE_HEADER = "movie header"
KEYS_DATE = "Keys creation date"
DAY_TEXT = "day text"
EPOCH = datetime(1904, 1, 1)  # noqa: DTZ001 - a clock face until its zone is known
_CREATION_KEY = b"com.apple.quicktime.creationdate"
MAX_KEYS = 500


@dataclass(slots=True)
class _Found:
    """What one file yields."""

    dates: list[StatedDate] = field(default_factory=list)
    duration_s: float | None = None


def video_told(data: bytes) -> tuple[tuple[StatedDate, ...], float | None]:
    """Give the dates that a video states, best first, and its length in seconds.

    Only MOV, MP4 and 3GP hold such boxes; others give nothing. Never raises for any bytes.
    """
    found = _Found()
    budget = Budget()
    try:
        for kind, start, end in _inside(data, 0, len(data), budget):
            if kind == b"moov":
                _movie(data, start, end, budget, found)
                break
    except Broken:
        pass  # what was found before the break stands; more is not claimed
    order = (KEYS_DATE, DAY_TEXT, MOVIE_HEADER)
    found.dates.sort(key=lambda d: order.index(d.where))
    return tuple(found.dates), found.duration_s


def _inside(data: bytes, at: int, end: int, budget: Budget) -> Iterator[tuple[bytes, int, int]]:
    """Yield the boxes that lie wholly between two places."""
    for kind, start, last in boxes_in(data, at, end, budget):
        if last > end:
            return
        yield kind, start, last


def _movie(data: bytes, at: int, end: int, budget: Budget, found: _Found) -> None:
    for kind, start, last in _inside(data, at, end, budget):
        if kind == b"mvhd":
            _header(data[start:last], found)
        elif kind == b"meta":
            _keys(data, start, last, budget, found)
        elif kind == b"udta":
            for name, first, stop in _inside(data, start, last, budget):
                if name == b"\xa9day":
                    _day(data[first:stop], found)


def _header(body: bytes, found: _Found) -> None:
    """Read the movie header (14496-12, 8.2.2): version 0 has 32-bit times, version 1 64-bit."""
    wide = 8 if body[:1] == b"\x01" else 4
    if len(body) < 4 + 3 * wide + 4:
        return
    made = int.from_bytes(body[4 : 4 + wide], "big")
    scale_at = 4 + 2 * wide
    scale = int.from_bytes(body[scale_at : scale_at + 4], "big")
    length = int.from_bytes(body[scale_at + 4 : scale_at + 4 + wide], "big")
    if scale and length < (1 << (8 * wide)) - 1:
        found.duration_s = length / scale
    text = f"{made} s since 1904"
    try:
        local = EPOCH + timedelta(seconds=made) if made else None
    except OverflowError:
        local = None
    found.dates.append(StatedDate(MOVIE_HEADER, text, local))


def _keys(data: bytes, at: int, end: int, budget: Budget, found: _Found) -> None:
    """Read the creation date out of the `meta` box: a list of keys, then values by number."""
    # QuickTime's box begins with its first part, that of ISO with four bytes of version.
    at += 0 if data[at + 4 : at + 8] == b"hdlr" else 4
    number = None
    for kind, start, last in _inside(data, at, end, budget):
        if kind == b"keys":
            number = _number_of(data[start:last])
        elif kind == b"ilst" and number is not None:
            for name, first, stop in _inside(data, start, last, budget):
                if int.from_bytes(name, "big") == number:
                    _value(data, first, stop, budget, found)


def _number_of(body: bytes) -> int | None:
    at = 8
    for number in range(1, MAX_KEYS):
        size = int.from_bytes(body[at : at + 4], "big")
        if size < 8 or at + size > len(body):
            return None
        if body[at + 8 : at + size] == _CREATION_KEY:
            return number
        at += size
    return None


def _value(data: bytes, at: int, end: int, budget: Budget, found: _Found) -> None:
    for kind, start, last in _inside(data, at, end, budget):
        if kind == b"data" and last - start > 8:
            text = data[start + 8 : min(last, start + 8 + 100)].decode("utf-8", "replace")
            found.dates.append(iso_date(KEYS_DATE, text))
            return


def _day(body: bytes, found: _Found) -> None:
    """Read QuickTime's day text: a length, a language, the text."""
    size = int.from_bytes(body[:2], "big")
    text = body[4 : 4 + min(size, 100)].decode("utf-8", "replace").strip("\0 ")
    if text:
        found.dates.append(iso_date(DAY_TEXT, text))
