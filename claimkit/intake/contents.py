"""What one file of a job folder turned out to be, and how it is kept in the index as JSON.

A record's or job's facts stand beside the problems that were found in the same bytes. What does
not come back from JSON exactly as it was is not kept, and its file is read again each time.
"""

from __future__ import annotations

import hashlib
import sys
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from claimkit.model.facts import Problem
from claimkit.model.job import Job
from claimkit.model.moment import Moment
from claimkit.model.photo import OtherFile, Photo
from claimkit.model.records import KINDS, Record


@dataclass(frozen=True, slots=True)
class RecordFile:
    """What a file of records/ states; `record` is None where it cannot be used."""

    record: Record | None
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class JobFile:
    """What job.toml states; `zone` is the site's time zone even where the rest has problems."""

    job: Job | None
    problems: tuple[Problem, ...]
    zone: str | None


Content = Photo | OtherFile | RecordFile | JobFile
_KINDS: dict[str, type[Any]] = {
    "photo": Photo,
    "other": OtherFile,
    "record": RecordFile,
    "job": JobFile,
}
# Each file that names the version of a library whose reading the index keeps.
_READERS = (
    ("exifread", "__init__.py"),
    ("PIL", "_version.py"),
    ("pi_heif", "_version.py"),
    ("pydantic", "version.py"),
)


@dataclass(frozen=True, slots=True)
class _Head:
    """A record without its body, which can be read only when its kind is known."""

    id: str
    path: str
    sha256: str
    kind: str
    said_by: str
    body: Any
    written: Moment | None = None
    replaces: str | None = None
    reason: str | None = None
    replaced_by: str | None = None


def kind_of(content: Content) -> str:
    """Name what a content is: photo, other, record or job."""
    return next(kind for kind, cls in _KINDS.items() if isinstance(content, cls))


def to_json(content: Content) -> bytes | None:
    """Give a content as JSON, or None where JSON cannot carry it exactly."""
    import msgspec

    try:
        data = msgspec.json.encode(content, enc_hook=_from_fraction)
        return data if from_json(kind_of(content), data) == content else None
    except (ValueError, TypeError, NotImplementedError):
        return None


def from_json(kind: str, data: bytes) -> Content:
    """Read a content back. Raises ValueError where the JSON is not such a content."""
    import msgspec

    if kind not in _KINDS:
        raise ValueError(f"no content is a {kind}")
    if kind != "record":
        content: Content = msgspec.json.decode(data, type=_KINDS[kind], dec_hook=_to_fraction)
        return content
    raw = msgspec.json.decode(data)
    problems = msgspec.convert(raw["problems"], tuple[Problem, ...])
    if raw["record"] is None:
        return RecordFile(None, problems)
    head = msgspec.convert(raw["record"], _Head)
    body = msgspec.convert(raw["record"]["body"], KINDS[head.kind], dec_hook=_to_fraction)
    fields = {name: getattr(head, name) for name in _Head.__dataclass_fields__}
    return RecordFile(Record(**(fields | {"body": body})), problems)


def _from_fraction(value: Any) -> str:
    if isinstance(value, Fraction):
        return str(value)
    raise NotImplementedError(f"the index keeps no {type(value).__name__}")


def _to_fraction(kind: type[Any], value: Any) -> Any:
    if kind is Fraction:
        return Fraction(value)
    raise NotImplementedError(f"the index keeps no {kind.__name__}")


@cache
def reading_version() -> str:
    """Name the code that turns bytes into facts: claimkit's own, Python's and the libraries'.

    Facts that other code has read are not taken from the index. No library is imported for this.
    """
    total = hashlib.sha256(repr(sys.version_info[:3]).encode())
    package = Path(__file__).resolve().parents[1]
    own = sorted(path for part in ("intake", "model") for path in (package / part).glob("*.py"))
    for path in (*own, *_version_files()):
        total.update(b"\0" + path.name.encode() + b"\0" + path.read_bytes())
    return total.hexdigest()[:16]


def _version_files() -> list[Path]:
    specs = ((find_spec(package), name) for package, name in _READERS)
    folders = (
        (folder, name)
        for spec, name in specs
        if spec
        for folder in spec.submodule_search_locations or ()
    )
    files = (Path(folder) / name for folder, name in folders)
    return [file for file in files if file.is_file()]


@cache
def zone_version(zone: str | None) -> str:
    """Name a time zone with the offsets it has in this computer's data.

    Records hold times with their offset worked out, so a newer time zone table must not find the
    old offsets in the index. Midwinter and midsummer of the years around are looked at.
    """
    if not zone:
        return ""
    from datetime import UTC, datetime
    from zoneinfo import ZoneInfo

    try:
        table = ZoneInfo(zone)
    except (OSError, ValueError):
        return zone
    days = (datetime(year, month, 15, tzinfo=UTC) for year in range(2000, 2041) for month in (1, 7))
    offsets = repr([day.astimezone(table).utcoffset() for day in days])
    return f"{zone} {hashlib.sha256(offsets.encode()).hexdigest()[:12]}"
