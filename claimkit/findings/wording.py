"""How findings say a list of files, a stretch of time or a date in plain words.

Two hundred photos must not give two hundred lines: a list names the first few and counts the
rest. Differences of time are said in the units that a person would use.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta, tzinfo

from claimkit.model.facts import Facts
from claimkit.model.records import Record
from claimkit.model.source import Source

NAMED = 3


def listed(names: Sequence[str], most: int = NAMED) -> str:
    """Name the first few and count the rest: 'a, b, c and 197 more'."""
    if len(names) <= most + 1:
        return ", ".join(names)
    return f"{', '.join(names[:most])} and {len(names) - most} more"


def counted(number: int, one: str, many: str | None = None) -> str:
    """Say a number with its noun: '1 photo', '12 photos'."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def in_words(length: timedelta) -> str:
    """Say a length of time, sign left out: '12 s', '4 min', '5 h', '5 h 30 min', '16 days'.

    Rounded to seconds, from ten minutes on to minutes, from two days on to days.
    """
    seconds = round(abs(length).total_seconds())
    if seconds < 60:
        return f"{seconds} s"
    if seconds < 600:
        rest = f" {seconds % 60} s" if seconds % 60 else ""
        return f"{seconds // 60} min{rest}"
    minutes = round(seconds / 60)
    hours = minutes // 60
    if hours < 1:
        return f"{minutes} min"
    if hours < 48:
        rest = f" {minutes % 60} min" if minutes % 60 else ""
        return f"{hours} h{rest}"
    return f"{round(seconds / 86400)} days"


def stretch_words(one: timedelta, other: timedelta) -> str:
    """Say two lengths as a stretch, sign left out; once where both read the same."""
    low, high = (in_words(length) for length in sorted((abs(one), abs(other))))
    return f"about {low}" if low == high else f"{low} to {high}"


def clock_words(instant: datetime, zone: tzinfo | None = None) -> str:
    """Print an instant to the second with its offset, in the given zone where there is one."""
    local = instant.astimezone(zone) if zone else instant
    offset = local.utcoffset() or timedelta()
    return f"{local:%Y-%m-%d %H:%M:%S} {offset_words(offset)}"


def offset_words(offset: timedelta) -> str:
    """Print a UTC offset: 'UTC', 'UTC−05:00', 'UTC+10:30'."""
    minutes = round(offset.total_seconds() / 60)
    if not minutes:
        return "UTC"
    sign = "−" if minutes < 0 else "+"
    return f"UTC{sign}{abs(minutes) // 60:02d}:{abs(minutes) % 60:02d}"


def record_source(record: Record, key_path: str | None = None) -> Source:
    """Name a record, or one of its keys, as a source."""
    return Source(path=record.path, sha256=record.sha256, key_path=key_path)


def job_source(facts: Facts, key_path: str | None = None) -> Source:
    """Name job.toml, or one of its keys, as a source."""
    return Source(path="job.toml", sha256=facts.job_sha256, key_path=key_path)


def photo_sources(facts: Facts, hashes: Sequence[str]) -> tuple[Source, ...]:
    """Name photos as sources, each by its first place."""
    found = (facts.photo_of(sha256) for sha256 in hashes)
    return tuple(Source(path=p.places[0], sha256=p.sha256) for p in found if p)
