"""One file to what it says: from the index where nothing changed, else by reading it once.

A file is opened at most once; what changes while it is being read is read again, once. What a
reader of claimkit fails on is named as claimkit's defect and its bytes still have their hash.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, replace

from claimkit.intake.contents import (
    Content,
    JobFile,
    RecordFile,
    from_json,
    kind_of,
    reading_version,
    to_json,
    zone_version,
)
from claimkit.intake.disk import Digest, Disk, FileBytes, Stamp
from claimkit.intake.index import UNREAD, Row
from claimkit.intake.walk import FoundFile, Unread, reason_of
from claimkit.model.facts import Problem
from claimkit.model.photo import FileKind, OtherFile, Photo

JOB = "job.toml"
LARGE = 256 << 20  # bytes; a larger file is hashed piece by piece and only its beginning looked at
_HEAD = 1 << 20


@dataclass(frozen=True, slots=True)
class Loaded:
    """A file and what it says.

    `data` are its bytes where this run read them and the custody log may want them. `defect` is
    set where claimkit itself failed on the file.
    """

    file: FoundFile
    content: Content
    sha256: str
    size_bytes: int
    data: bytes | None = None
    defect: Problem | None = None


def is_record(path: str) -> bool:
    """Tell whether a path is that of a record: a TOML file below records/, .txt added or not."""
    top, _, rest = path.partition("/")
    return top.casefold() == "records" and rest.lower().endswith((".toml", ".toml.txt"))


class Loader:
    """Loads files one after the other; `rows` collects what the index should keep of them."""

    def __init__(self, disk: Disk, known: dict[str, Row]) -> None:
        self._disk = disk
        self._known = known
        self._zone: str | None = None
        self.rows: list[Row] = []

    def load(self, file: FoundFile, *, is_job: bool = False) -> Loaded | Unread:
        """Give what a file says, or why it could not be read. job.toml has to come first."""
        context = zone_version(self._zone) if is_record(file.path) else ""
        row = self._known.get(file.path)
        kept = _kept(file, row, context)
        if kept is None:
            try:
                got = _steady(self._disk, file)
            except OSError as error:
                return self._unread(file, _words(error))
            if not got.steady:
                return self._unread(file, "it changes while it is being read")
            kept = self._read(file, got, row, context, is_job)
        if isinstance(kept.content, JobFile):
            self._zone = kept.content.zone
        return kept

    def _read(
        self, file: FoundFile, got: FileBytes | Digest, row: Row | None, context: str, is_job: bool
    ) -> Loaded:
        if isinstance(got, Digest):
            loaded = _large(file, got)
        else:
            loaded = _same_bytes(file, got, row, context) or _parsed(
                file, got.data, self._zone, is_job
            )
        facts = None if loaded.defect else to_json(loaded.content)
        if facts is not None:
            self.rows.append(
                Row(
                    file.path,
                    got.stamp,
                    loaded.sha256,
                    kind_of(loaded.content),
                    reading_version(),
                    context,
                    facts.decode("utf-8"),
                )
            )
        return loaded

    def _unread(self, file: FoundFile, why: str) -> Unread:
        row = Row(file.path, file.stamp, "", UNREAD, reading_version(), "", "", why)
        if self._known.get(file.path) != row:
            self.rows.append(row)
        return Unread(file.path, why)


def _kept(file: FoundFile, row: Row | None, context: str) -> Loaded | None:
    """Give what the index holds of a file, where the file is still as it was.

    A file that could not be read is tried again in every run, so that it is reported in each.
    """
    if row is None or row.stamp != file.stamp or not _current(row, context):
        return None
    return _from_row(file, row, file.stamp)


def _current(row: Row, context: str) -> bool:
    return row.kind != UNREAD and row.reading == reading_version() and row.context == context


def _from_row(file: FoundFile, row: Row, stamp: Stamp) -> Loaded | None:
    try:
        content = from_json(row.kind, row.facts.encode("utf-8"))
    except (ValueError, TypeError, KeyError):
        return None  # the seal held, so another version wrote it: read the file instead
    return Loaded(file, content, row.sha256, stamp.size)


def _same_bytes(file: FoundFile, got: FileBytes, row: Row | None, context: str) -> Loaded | None:
    """Give what the index holds of a touched file whose bytes are the same at the same path.

    At another path the same bytes are read anew: what is said of a file depends on its name.
    """
    if row is None or not _current(row, context):
        return None
    if hashlib.sha256(got.data).hexdigest() != row.sha256:
        return None
    kept = _from_row(file, row, got.stamp)
    return replace(kept, data=_worth_keeping(kept.content, got.data)) if kept else None


def _steady(disk: Disk, file: FoundFile) -> FileBytes | Digest:
    got: FileBytes | Digest
    for _attempt in ("first", "again"):
        large = file.stamp.size > LARGE
        got = disk.digest(file.where, _HEAD) if large else disk.read(file.where)
        if got.steady:
            break
    return got


def _words(error: OSError) -> str:
    if isinstance(error, FileNotFoundError):
        return "it was there when the folder was listed and gone when it was to be read"
    return reason_of(error)


def _large(file: FoundFile, got: Digest) -> Loaded:
    """Take a very large file by its hash and its first bytes; nothing more of it is looked into."""
    from claimkit.intake.photo import read_bytes

    kind = read_bytes(got.head, file.path).kind
    flaw = f"It is larger than {LARGE >> 20} MiB: it was hashed, and nothing more was read from it."
    content = OtherFile(file.path, got.sha256, got.stamp.size, kind, (flaw,))
    return Loaded(file, content, got.sha256, got.stamp.size)


def _parsed(file: FoundFile, data: bytes, zone: str | None, is_job: bool) -> Loaded:
    try:
        content = _content(file.path, data, zone, is_job)
    except Exception as error:  # a defect of ours must not hide the other files
        return _defective(file, data, error)
    sha256 = content.sha256 if isinstance(content, Photo | OtherFile) else None
    sha256 = sha256 or hashlib.sha256(data).hexdigest()
    return Loaded(file, content, sha256, len(data), _worth_keeping(content, data))


def _content(path: str, data: bytes, zone: str | None, is_job: bool) -> Content:
    if is_job:
        from claimkit.intake.records import read_job

        job, problems = read_job(data, path)
        return JobFile(job, problems, job.site.zone if job else _zone_alone(data))
    if is_record(path):
        from claimkit.intake.records import read_record

        return RecordFile(*read_record(data, path, zone))
    from claimkit.intake.photo import read_bytes

    return read_bytes(data, path)


def _zone_alone(data: bytes) -> str | None:
    """Give the site's zone of a job.toml that has problems elsewhere, so that records can be read.

    Without it, one mistyped key of the job would make every time in every record a problem.
    """
    import tomllib
    from zoneinfo import ZoneInfo

    try:
        zone = tomllib.loads(data.decode("utf-8-sig"))["site"]["zone"]
        ZoneInfo(zone)
    except (ValueError, KeyError, TypeError, OSError, RecursionError):
        return None
    return str(zone)


def _defective(file: FoundFile, data: bytes, error: Exception) -> Loaded:
    sha256 = hashlib.sha256(data).hexdigest()
    what = f"claimkit failed on it ({type(error).__name__}: {error})."
    problem = Problem(
        file.path, "", what, "Its bytes were hashed and nothing else. Please report this."
    )
    content = OtherFile(file.path, sha256, len(data), FileKind.UNKNOWN, (what,))
    return Loaded(file, content, sha256, len(data), data, problem)


def _worth_keeping(content: Content, data: bytes) -> bytes | None:
    return data if isinstance(content, JobFile | RecordFile) else None
