"""One file to what it says: from the index where nothing changed, else by reading it once.

A file is opened at most once; what changes while it is being read is read again, once. What a
reader of claimkit fails on is named as claimkit's defect and its bytes still have their hash.
"""

from __future__ import annotations

import hashlib
import sys
from dataclasses import dataclass, field, replace

from claimkit.intake.contents import Content, Stated, from_json, kind_of, reading_version, to_json
from claimkit.intake.disk import Digest, Disk, FileBytes
from claimkit.intake.entry import Stamp
from claimkit.intake.index import UNREAD, Row
from claimkit.intake.refused import reason_of
from claimkit.intake.walk import FoundFile, Unread
from claimkit.model.facts import Problem
from claimkit.model.photo import FileKind, OtherFile, Photo

LARGE = 256 << 20  # bytes; a larger file is hashed piece by piece and only its beginning looked at
STATEMENT = "statement"
_HEAD = 1 << 20
_LONG_ON_WINDOWS = 260  # MAX_PATH of Microsoft's "Maximum Path Length Limitation"


@dataclass(frozen=True, slots=True)
class Loaded:
    """A file, its hash, and what it is.

    `content` is None for job.toml and the records, whose contents are read together; `data` are
    their bytes where this run has opened them. `defect` is set where claimkit itself failed.
    """

    file: FoundFile
    sha256: str
    size_bytes: int
    content: Photo | OtherFile | None = None
    data: bytes | None = None
    defect: Problem | None = None


@dataclass(slots=True)
class Loader:
    """Loads files one after the other; `rows` collects what the index should keep of them.

    `holds_stated` tells whether the index has, or is to keep, what job.toml and the records state.
    """

    disk: Disk
    known: dict[str, Row]
    rows: list[Row] = field(default_factory=list)
    holds_stated: bool = False

    def load(self, file: FoundFile, *, statement: bool) -> Loaded | Unread:
        """Give what a file says, or why it could not be read."""
        row = self.known.get(file.path)
        if row and row.stamp == file.stamp and _current(row, statement):
            kept = _from_row(file, row, file.stamp)
            if kept:
                return kept
        return self.open(file, statement=statement)

    def open(self, file: FoundFile, *, statement: bool) -> Loaded | Unread:
        """As `load`, past what the index says."""
        try:
            got = _steady(self.disk, file)
        except OSError as error:
            return self._unread(file, _words(error, str(file.where)))
        if not got.steady:
            return self._unread(file, "it changes while it is being read")
        loaded = self._read(file, got, statement)
        self._keep(loaded, got.stamp)
        return loaded

    def stated(self, context: str) -> Stated | None:
        """Give what the index holds of job.toml and the records read together under `context`."""
        row = self.known.get("")
        if row is None or row.reading != reading_version() or row.context != context:
            return None
        content = _content(row)
        self.holds_stated = isinstance(content, Stated)
        return content if isinstance(content, Stated) else None

    def keep_stated(self, stated: Stated, context: str) -> None:
        """Let the index keep what job.toml and the records state together, under no path."""
        facts = to_json(stated)
        if facts is not None:
            kind = kind_of(stated)
            self.holds_stated = True
            self.rows.append(Row("", Stamp(0, 0), "", kind, reading_version(), context, facts))

    def _read(self, file: FoundFile, got: FileBytes | Digest, statement: bool) -> Loaded:
        if isinstance(got, Digest):
            return _large(file, got)
        if statement:
            sha256 = hashlib.sha256(got.data).hexdigest()
            return Loaded(file, sha256, len(got.data), data=got.data)
        row = self.known.get(file.path)
        return _same_bytes(file, got, row) or _parsed(file, got.data)

    def _keep(self, loaded: Loaded, stamp: Stamp) -> None:
        facts = to_json(loaded.content) if loaded.content else ""
        if facts is None or loaded.defect:
            return
        kind = kind_of(loaded.content) if loaded.content else STATEMENT
        path = loaded.file.path
        self.rows.append(Row(path, stamp, loaded.sha256, kind, reading_version(), "", facts))

    def _unread(self, file: FoundFile, why: str) -> Unread:
        row = Row(file.path, file.stamp, "", UNREAD, reading_version(), "", "", why)
        if self.known.get(file.path) != row:
            self.rows.append(row)
        return Unread(file.path, why)


def _current(row: Row, statement: bool) -> bool:
    """Tell whether a row was read as the file would be read now.

    A file that could not be read is tried again in every run, so that it is reported in each.
    """
    wanted = (row.kind == STATEMENT) if statement else row.kind not in (STATEMENT, UNREAD)
    return wanted and row.reading == reading_version()


def _from_row(file: FoundFile, row: Row, stamp: Stamp) -> Loaded | None:
    if row.kind == STATEMENT:
        return Loaded(file, row.sha256, stamp.size)
    content = _content(row)
    if not isinstance(content, Photo | OtherFile):
        return None
    return Loaded(file, row.sha256, stamp.size, content)


def _content(row: Row) -> Content | None:
    try:
        return from_json(row.kind, row.facts)
    except (ValueError, TypeError, KeyError):
        return None  # its check sum held, so other code wrote it: read the file instead


def _same_bytes(file: FoundFile, got: FileBytes, row: Row | None) -> Loaded | None:
    """Give what the index holds of a touched file whose bytes are the same at the same path.

    At another path the same bytes are read anew: what is said of a file depends on its name.
    """
    if row is None or not _current(row, statement=False):
        return None
    if hashlib.sha256(got.data).hexdigest() != row.sha256:
        return None
    return _from_row(file, row, got.stamp)


def _steady(disk: Disk, file: FoundFile) -> FileBytes | Digest:
    got: FileBytes | Digest
    for _attempt in ("first", "again"):
        large = file.stamp.size > LARGE
        got = disk.digest(file.where, _HEAD) if large else disk.read(file.where)
        if got.steady:
            break
    return got


def _words(error: OSError, where: str, system: str = sys.platform) -> str:
    if system == "win32" and len(where) >= _LONG_ON_WINDOWS and not where.startswith("\\\\?\\"):
        return (
            f"its path has {len(where)} characters, and Windows opens none of more than "
            f"{_LONG_ON_WINDOWS - 1} unless it is set to; move the job folder to a shorter one"
        )
    if isinstance(error, FileNotFoundError):
        return "it was there when the folder was listed and gone when it was to be read"
    return reason_of(error)


def _large(file: FoundFile, got: Digest) -> Loaded:
    """Take a very large file by its hash and its first bytes; nothing more of it is looked into."""
    head = _parsed(file, got.head)
    kind = head.content.kind if head.content else FileKind.UNKNOWN
    flaw = f"It is larger than {LARGE >> 20} MiB: it was hashed, and nothing more was read from it."
    content = OtherFile(file.path, got.sha256, got.stamp.size, kind, (flaw,))
    return Loaded(file, got.sha256, got.stamp.size, content, defect=head.defect)


def _parsed(file: FoundFile, data: bytes) -> Loaded:
    from claimkit.intake.metadata.photo import read_bytes

    try:
        content = read_bytes(data, file.path)
    except Exception as error:  # a defect of ours must not hide the other files
        problem = defect(file.path, error)
        sha256 = hashlib.sha256(data).hexdigest()
        content = OtherFile(file.path, sha256, len(data), FileKind.UNKNOWN, (problem.found,))
        return replace(Loaded(file, sha256, len(data), content), defect=problem)
    return Loaded(file, content.sha256, len(data), content)


def defect(path: str, error: Exception) -> Problem:
    """Name a failure of claimkit itself on a file."""
    what = f"claimkit failed on it ({type(error).__name__}: {error})."
    return Problem(path, "", what, "Its bytes were hashed and nothing else. Please report this.")
