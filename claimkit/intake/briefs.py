"""All jobs in brief, kept beside the index, so that a list of thousands needs no file opened.

A cache like the index: it may be deleted at any time, and a damaged or foreign one is made anew.
A job's row counts while the names, sizes and times of its files are those it was made from and
claimkit is the same; finding that out opens no file either.
"""

from __future__ import annotations

import hashlib
import os
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any

from claimkit.intake.contents import reading_version
from claimkit.intake.places import cache_folder
from claimkit.model.summary import JobBrief

SCHEMA = 2
BUSY_S = 10.0
DEEPEST = 3  # folders below the one given: jobs/2026/spring/orchard-lane
_COLUMNS: dict[str, Any] = {"path": str, "mark": str, "code": str, "brief": str, "seal": str}
_SCANS: dict[str, Any] = {"root": str, "at": str, "seal": str}


def job_folders(root: Path) -> tuple[Path, ...]:
    """Give the job folders below a folder, in order of their paths; hidden folders left out.

    A job folder holds a job.toml in any letters. Nothing below a job folder is a job. A folder
    that cannot be listed holds none. Raises OSError where `root` itself cannot be listed.
    """
    return tuple(sorted(_below(root, 0)))


def holds_jobs(root: Path) -> bool:
    """Tell whether there is a job folder below a folder; stops at the first one."""
    return any(True for _ in _below(root, 0))


def _below(folder: Path, depth: int) -> Iterator[Path]:
    with os.scandir(folder) as listing:
        inner = [e.path for e in listing if not e.name.startswith(".") and _is_folder(e)]
    for path in inner:
        try:
            with os.scandir(path) as listing:
                job = any(e.name.casefold() == "job.toml" for e in listing)
            if job:
                yield Path(path)
            elif depth + 1 < DEEPEST:
                yield from _below(Path(path), depth + 1)
        except OSError:
            continue


def _is_folder(entry: os.DirEntry[str]) -> bool:
    try:
        return entry.is_dir()
    except OSError:
        return False


@cache
def code_version() -> str:
    """Name the code whose answers the briefs are: claimkit's files, and what reading rests on."""
    package = Path(__file__).resolve().parents[1]
    total = hashlib.blake2b(reading_version().encode())
    for path in sorted(package.rglob("*.py")):
        state = path.stat()
        total.update(f"{path.name}\0{state.st_size}\0{state.st_mtime_ns}\n".encode())
    return total.hexdigest()[:24]


def seal_of(*values: str) -> str:
    """Give the check sum of a row: SQLite keeps none, and a flipped bit would be a wrong day."""
    total = hashlib.blake2b(digest_size=12)
    for value in values:
        data = value.encode("utf-8", "surrogatepass")
        total.update(len(data).to_bytes(8, "big") + data)
    return total.hexdigest()


class Briefs:
    """The kept briefs, in a folder (the user's cache folder). A cache that fails stops nothing."""

    def __init__(self, folder: Path | None = None) -> None:
        self.file = (folder or cache_folder()) / "jobs.sqlite"

    def below(self, root: Path) -> dict[str, tuple[str, str, JobBrief]]:
        """Give what is kept of the jobs below a folder: by path, its mark, its code, its brief."""
        import msgspec

        prefix = f"{root}{os.sep}"
        query = "SELECT path, mark, code, brief, seal FROM jobs WHERE path >= ? AND path < ?"
        end = f"{prefix[:-1]}{chr(ord(os.sep) + 1)}"
        if not self.file.exists():
            return {}
        decoder = msgspec.json.Decoder(JobBrief)
        try:
            with closing(sqlite3.connect(self.file, timeout=BUSY_S)) as db:
                if db.execute("PRAGMA user_version").fetchone()[0] != SCHEMA:
                    raise sqlite3.DatabaseError("of another version")
                rows = db.execute(query, (prefix, end)).fetchall()
            if any(seal != seal_of(*values) for *values, seal in rows):
                raise sqlite3.DatabaseError("a row does not match its check sum")
            return {
                path: (mark, code, decoder.decode(brief)) for path, mark, code, brief, _ in rows
            }
        except (sqlite3.Error, msgspec.MsgspecError, OverflowError, UnicodeError):
            self._discard()
            return {}

    def looked_at(self, root: Path) -> datetime | None:
        """Give when every folder below `root`, or below a folder that holds it, was looked at."""
        places = [str(place) for place in (root, *root.parents)]
        try:
            with closing(sqlite3.connect(self.file, timeout=BUSY_S)) as db:
                marks = ", ".join("?" * len(places))
                query = f"SELECT root, at, seal FROM scans WHERE root IN ({marks})"  # noqa: S608 - ? only
                rows = db.execute(query, places).fetchall()
            sound = [at for root_of, at, seal in rows if seal == seal_of(root_of, at)]
            return max((datetime.fromisoformat(at) for at in sound), default=None)
        except (sqlite3.Error, OSError, ValueError):
            return None

    def store(
        self,
        kept: Sequence[tuple[str, JobBrief]],
        gone: Sequence[str] = (),
        scan: tuple[Path, datetime] | None = None,
    ) -> None:
        """Keep briefs with the marks they were made from, and drop those of jobs gone.

        `scan` is a folder all of whose jobs have been looked at, and when (UTC).
        """
        import msgspec

        values = [
            (brief.path, mark, code_version(), msgspec.json.encode(brief).decode("utf-8"))
            for mark, brief in kept
        ]
        rows = [dict(zip(_COLUMNS, (*row, seal_of(*row)), strict=True)) for row in values]
        for _attempt in ("as it is", "made anew"):
            try:
                self.file.parent.mkdir(parents=True, exist_ok=True)
                with closing(sqlite3.connect(self.file, timeout=BUSY_S)) as connection:
                    _write(connection, rows, gone, scan)
                return
            except OSError:
                return
            except UnicodeDecodeError:  # SQLite's own message repeats a damaged name
                self._discard()
            except sqlite3.DatabaseError as error:
                if isinstance(error, sqlite3.OperationalError):
                    return  # locked, full or not to be written; the next scan tries again
                self._discard()

    def _discard(self) -> None:
        try:
            self.file.unlink(missing_ok=True)
        except OSError:
            return


def _write(
    connection: sqlite3.Connection,
    rows: list[dict[str, Any]],
    gone: Sequence[str],
    scan: tuple[Path, datetime] | None,
) -> None:
    from sqlite_utils import Database

    connection.execute("PRAGMA journal_mode=DELETE")  # the other modes fail on network disks
    connection.execute("BEGIN IMMEDIATE")
    db = Database(connection)
    if not db.table_names():
        db.table("jobs").create(_COLUMNS, pk="path", not_null=set(_COLUMNS))
        db.table("scans").create(_SCANS, pk="root", not_null=set(_SCANS))
        connection.execute(f"PRAGMA user_version = {SCHEMA}")
    elif connection.execute("PRAGMA user_version").fetchone()[0] != SCHEMA:
        raise sqlite3.DatabaseError("of another version")
    table = db.table("jobs")
    for path in gone:
        table.delete_where("path = ?", [path])
    if rows:
        table.insert_all(rows, pk="path", replace=True, columns=_COLUMNS)
    if scan:
        told = (str(scan[0]), scan[1].isoformat())
        row = dict(zip(_SCANS, (*told, seal_of(*told)), strict=True))
        db.table("scans").insert(row, pk="root", replace=True)
    connection.commit()
