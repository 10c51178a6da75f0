"""What was read from each file, kept so that an unchanged file is not opened again.

The index is a cache in one SQLite file for all jobs; it may be deleted at any time. A row counts
while the file's path, size and times are those it was made from; else the file is read again. What
a whole folder said is kept beside the rows of its files, for the run in which nothing changed. A
damaged or foreign index is deleted and made anew, and a cache that cannot be written never stops a
run: both are said.

The one exception: an edit that leaves a file's size and all its times as they were is not seen. On
Linux and the Mac the time of the entry's last change counts too, which no program can set back, so
that takes two edits within one tick of the disk's clock (some milliseconds; two seconds on FAT). On
Windows, and on network disks without that time, setting the time of writing back is enough.
`--fresh` reads every file again. The same holds of a custody log; `claimkit verify` asks no index.
"""

from __future__ import annotations

import hashlib
import os
import sqlite3
import sys
import zlib
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import astuple, dataclass
from pathlib import Path
from typing import Any

from claimkit.intake.entry import Stamp
from claimkit.intake.places import cache_folder
from claimkit.intake.say import Say

SCHEMA = 2
BUSY_S = 10.0
UNREAD = "unread"
_COLUMNS: dict[str, Any] = {
    "job": str,
    "path": str,
    "size": int,
    "mtime_ns": int,
    "ctime_ns": int,
    "sha256": str,
    "kind": str,
    "reading": str,
    "context": str,
    "facts": str,
    "problem": str,
    "seal": str,
}
_SELECT = f"SELECT {', '.join(_COLUMNS)} FROM files WHERE job = ?"  # noqa: S608 - our own names
_SETTLED: dict[str, Any] = {"job": str, "state": str, "facts": bytes, "seal": str}
_SELECT_SETTLED = "SELECT facts, seal FROM settled WHERE job = ? AND state = ?"
# What keeps the index from being used without being damage (https://sqlite.org/rescode.html).
_NOT_DAMAGE = frozenset(
    {
        sqlite3.SQLITE_BUSY,
        sqlite3.SQLITE_CANTOPEN,
        sqlite3.SQLITE_FULL,
        sqlite3.SQLITE_IOERR,
        sqlite3.SQLITE_LOCKED,
        sqlite3.SQLITE_PERM,
        sqlite3.SQLITE_PROTOCOL,
        sqlite3.SQLITE_READONLY,
    }
)


@dataclass(frozen=True, slots=True)
class Row:
    """One file as the index keeps it.

    `kind` is that of its content, or UNREAD with the reason in `problem`. `reading` names the code
    that read it and `context` what else its facts depend on. `facts` is JSON.
    """

    path: str
    stamp: Stamp
    sha256: str
    kind: str
    reading: str
    context: str
    facts: str
    problem: str = ""


@dataclass(frozen=True, slots=True)
class Settled:
    """What a whole folder said, as JSON, and the state of its files in which it said so."""

    state: str
    facts: bytes


class _Damaged(Exception):
    """The file is no index of this version."""


class Index:
    """The index in a folder (the user's cache folder), opened for each use.

    `say` gets each sentence about the index itself once; None prints them on standard error.
    """

    def __init__(self, folder: Path | None = None, say: Say | None = None) -> None:
        self.file = (folder or cache_folder()) / "index.sqlite"
        self._say = say
        self._said: set[str] = set()
        self._sound: dict[str, dict[str, Row]] = {}

    def rows(self, job: str) -> dict[str, Row]:
        """Give the rows of one job folder by path; none where the index cannot be used."""
        with self._guarded(), self._opened() as db:
            if db is None:
                return {}
            found = {row.path: row for row in map(_unsealed, db.execute(_SELECT, (job,)))}
            self._sound[job] = found
            return found
        return {}

    def settled(self, job: str, state: str) -> bytes | None:
        """Give what one job folder said in that state, or None where that is not known."""
        with self._guarded(), self._opened() as db:
            row = db.execute(_SELECT_SETTLED, (job, state)).fetchone() if db else None
            if row is None:
                return None
            facts, seal = row
            if type(facts) is not bytes or seal != _seal_of_facts(job, state, facts):
                raise _Damaged("what it holds of a folder does not match its check sum")
            return facts
        return None

    def store(
        self,
        job: str,
        rows: Sequence[Row],
        gone: Sequence[str] = (),
        settled: Settled | None = None,
    ) -> None:
        """Put rows of one job folder in the place of those with their paths; drop those gone.

        `settled` takes the place of what was kept of the whole folder.
        """
        kept = {row.path: row for row in rows}
        for _attempt in ("as it is", "made anew"):
            with self._guarded():
                self.file.parent.mkdir(parents=True, exist_ok=True)
                sealed = [_sealed(job, row) for row in kept.values() if _fits(row)]
                with closing(self._connect()) as db:
                    _write(db, job, sealed, gone, settled)
                return
            if self.file.exists():
                return  # not damaged: full, locked or not to be written
            sound = self._sound.get(job, {})  # what was read of the index that is now deleted
            kept = {path: row for path, row in sound.items() if path not in gone} | kept

    @contextmanager
    def _opened(self) -> Iterator[sqlite3.Connection | None]:
        """Open the index for reading; None where there is none yet."""
        if not self.file.exists():
            yield None
            return
        with closing(self._connect()) as db:
            if _version(db) != SCHEMA:
                raise _Damaged("it is of another version")
            yield db

    def _connect(self) -> sqlite3.Connection:
        return sqlite3.connect(self.file, timeout=BUSY_S)

    @contextmanager
    def _guarded(self) -> Iterator[None]:
        """Turn what is wrong with the index into a sentence; delete it where it is damaged."""
        try:
            yield
        except OSError as error:
            self._tell_unused(error.strerror or str(error))
        except sqlite3.Error as error:
            code = getattr(error, "sqlite_errorcode", None)
            if code is not None and code & 0xFF in _NOT_DAMAGE and not self._marked(code):
                self._tell_unused(str(error))
            else:
                self._discard(str(error))
        except UnicodeDecodeError:  # SQLite's own message repeats the damaged name of a table
            self._discard("its text is damaged")
        except _Damaged as error:
            self._discard(str(error))

    def _marked(self, code: int) -> bool:
        """Tell whether it is a byte in the file, and not the disk, that forbids writing."""
        places = (self.file, self.file.parent)
        return code == sqlite3.SQLITE_READONLY and all(os.access(p, os.W_OK) for p in places)

    def _discard(self, why: str) -> None:
        try:
            for ending in ("", "-journal", "-wal", "-shm"):
                self.file.with_name(self.file.name + ending).unlink(missing_ok=True)
        except OSError as error:
            self._tell_unused(f"{why}, and it cannot be deleted: {error.strerror or error}")
        else:
            self._tell(f"The index {self.file} was deleted and is made anew ({why}).")

    def _tell_unused(self, why: str) -> None:
        self._tell(
            f"The index {self.file} cannot be used ({why}), so every file is read again. "
            "Set CLAIMKIT_CACHE to a folder that can be written."
        )

    def _tell(self, sentence: str) -> None:
        if sentence in self._said:
            return
        self._said.add(sentence)
        if self._say:
            self._say(sentence)
        else:
            print(f"claimkit: {sentence}", file=sys.stderr)


def _version(db: sqlite3.Connection) -> int:
    return int(db.execute("PRAGMA user_version").fetchone()[0])


def _write(
    connection: sqlite3.Connection,
    job: str,
    rows: list[dict[str, Any]],
    gone: Sequence[str],
    settled: Settled | None,
) -> None:
    from sqlite_utils import Database

    connection.execute("PRAGMA journal_mode=DELETE")  # the other modes fail on network disks
    connection.execute("BEGIN IMMEDIATE")  # two runs that both begin to write wait for each other
    db = Database(connection)
    new = not db.table_names()
    if not new and _version(connection) != SCHEMA:
        raise _Damaged("it is of another version")
    if new:
        db.table("files").create(_COLUMNS, pk=("job", "path"), not_null=set(_COLUMNS))
        db.table("settled").create(_SETTLED, pk="job", not_null=set(_SETTLED))
        connection.execute(f"PRAGMA user_version = {SCHEMA}")
    table = db.table("files")
    for path in gone:
        table.delete_where("job = ? and path = ?", [job, path])
    table.insert_all(rows, pk=("job", "path"), replace=True, columns=_COLUMNS)
    if settled:
        seal = _seal_of_facts(job, settled.state, settled.facts)
        whole = {"job": job, "state": settled.state, "facts": settled.facts, "seal": seal}
        db.table("settled").insert(whole, pk="job", replace=True, columns=_SETTLED)
    connection.commit()


def _fits(row: Row) -> bool:
    # A time beyond the year 2262 is no 64-bit count of nanoseconds; such a file is read each time.
    return all(abs(value) < 1 << 63 for value in astuple(row.stamp))


def _sealed(job: str, row: Row) -> dict[str, Any]:
    values = (job, row.path, *astuple(row.stamp), *astuple(row)[2:])
    return dict(zip(_COLUMNS, (*values, _seal(values)), strict=True))


def _unsealed(values: tuple[Any, ...]) -> Row:
    if values[-1] != _seal(values[:-1]):
        raise _Damaged("a row does not match its check sum")
    _job, path, size, mtime_ns, ctime_ns, *rest = values[:-1]
    return Row(path, Stamp(size, mtime_ns, ctime_ns), *rest)


def _seal(values: tuple[Any, ...]) -> str:
    # SQLite keeps no check sum: a flipped bit in a stored value would come back as a fact.
    return hashlib.blake2b(
        repr(values).encode("utf-8", "surrogatepass"), digest_size=12
    ).hexdigest()


def _seal_of_facts(job: str, state: str, facts: bytes) -> str:
    # A megabyte in each run: the check sum that PNG and zip files carry, the quickest at hand.
    name = f"{state}\0{job}".encode("utf-8", "surrogatepass")
    return f"{zlib.crc32(facts, zlib.crc32(name)):08x}"
