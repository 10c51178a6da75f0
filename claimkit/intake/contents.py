"""What files turned out to be, and how that is kept in the index as JSON.

Photos and other files stand each for itself. job.toml and the records are kept together, with the
problems that were found in and between them, and so is all that a whole folder says. What does not
come back from JSON exactly as it was is not kept, and is read again each time.
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

from claimkit.model.facts import Custody, Facts, NotTaken, Problem
from claimkit.model.holidays import PublicHolidays
from claimkit.model.job import Job
from claimkit.model.moment import Moment
from claimkit.model.photo import OtherFile, Photo
from claimkit.model.records import KINDS, Record


@dataclass(frozen=True, slots=True)
class Stated:
    """What job.toml and all records state together; `job` is None where it cannot be used.

    `holidays` are those of the job's site around the year of reading, None where none are known.
    """

    job: Job | None
    records: tuple[Record, ...]
    problems: tuple[Problem, ...]
    holidays: PublicHolidays | None = None


Content = Photo | OtherFile | Stated
_KINDS: dict[str, type[Any]] = {"photo": Photo, "other": OtherFile, "stated": Stated}
# Each file that names the version of a library or table whose reading the index keeps.
_READERS = (
    ("exifread", "__init__.py"),
    ("PIL", "_version.py"),
    ("pi_heif", "_version.py"),
    ("pypdf", "_version.py"),
    ("rapidfuzz", "__init__.py"),
    ("holidays", "version.py"),
    ("tzdata", "__init__.py"),
)
_ZONE_FILES = ("tzdata.zi", "+VERSION", "America/New_York")


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


@dataclass(frozen=True, slots=True)
class _Folder:
    """Facts as JSON gives them back: the records still raw."""

    folder_name: str
    job: Job | None
    job_sha256: str | None
    records: tuple[Any, ...]
    photos: tuple[Photo, ...]
    papers: tuple[OtherFile, ...]
    not_taken: tuple[NotTaken, ...]
    custody: Custody
    problems: tuple[Problem, ...]
    holidays: PublicHolidays | None = None


def kind_of(content: Content) -> str:
    """Name what a content is: photo, other or stated."""
    return next(kind for kind, cls in _KINDS.items() if isinstance(content, cls))


def to_json(content: Content) -> str | None:
    """Give a content as JSON, or None where JSON cannot carry it exactly."""
    import msgspec

    try:
        data = msgspec.json.encode(content, enc_hook=_from_fraction).decode("utf-8")
        return data if from_json(kind_of(content), data) == content else None
    except (ValueError, TypeError, NotImplementedError):
        return None


def from_json(kind: str, data: str) -> Content:
    """Read a content back. Raises ValueError or TypeError where the JSON is not such a content."""
    import msgspec

    if kind == "stated":
        return _stated(msgspec.json.decode(data))
    if kind not in _KINDS:
        raise ValueError(f"no content is a {kind}")
    content: Content = msgspec.json.decode(data, type=_KINDS[kind], dec_hook=_to_fraction)
    return content


def facts_to_json(facts: Facts) -> bytes | None:
    """Give what intake read of a folder as JSON, or None where JSON cannot carry it exactly."""
    import msgspec

    try:
        data = msgspec.json.encode(facts, enc_hook=_from_fraction)
        return data if facts_from_json(data) == facts else None
    except (ValueError, TypeError, NotImplementedError):
        return None


def facts_from_json(data: bytes) -> Facts:
    """Read a folder's facts back. Raises ValueError or TypeError where the JSON holds none."""
    import msgspec

    raw = msgspec.json.decode(data, type=_Folder, dec_hook=_to_fraction)
    fields = {name: getattr(raw, name) for name in _Folder.__dataclass_fields__}
    return Facts(**(fields | {"records": tuple(_record(one) for one in raw.records)}))


def _stated(raw: Any) -> Stated:
    import msgspec

    job = msgspec.convert(raw["job"], Job | None, dec_hook=_to_fraction)
    problems = msgspec.convert(raw["problems"], tuple[Problem, ...])
    holidays = msgspec.convert(raw["holidays"], PublicHolidays | None)
    return Stated(job, tuple(_record(one) for one in raw["records"]), problems, holidays)


def _record(raw: Any) -> Record:
    import msgspec

    head = msgspec.convert(raw, _Head)
    body = msgspec.convert(raw["body"], KINDS[head.kind], dec_hook=_to_fraction)
    fields = {name: getattr(head, name) for name in _Head.__dataclass_fields__}
    return Record(**(fields | {"body": body}))


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

    Facts that other code or another time zone table gave are not taken from the index. No library
    is imported for this.
    """
    total = hashlib.sha256(repr(sys.version_info[:3]).encode())
    package = Path(__file__).resolve().parents[1]
    parts = ("intake", "model", "rules")
    own = sorted(path for part in parts for path in (package / part).rglob("*.py"))
    for path in (*own, *_version_files()):
        total.update(b"\0" + path.name.encode() + b"\0" + path.read_bytes())
    return total.hexdigest()[:16]


def _version_files() -> list[Path]:
    from zoneinfo import TZPATH  # records hold times whose offsets come from these tables

    specs = ((find_spec(package), name) for package, name in _READERS)
    folders = [
        (folder, name)
        for spec, name in specs
        if spec
        for folder in spec.submodule_search_locations or ()
    ]
    folders += [(folder, name) for folder in TZPATH for name in _ZONE_FILES]
    files = (Path(folder) / name for folder, name in folders)
    return [file for file in files if file.is_file()]
