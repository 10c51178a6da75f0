"""The index is a cache: it saves opening files, and never changes what is read.

Facts through it are compared with facts read afresh, by hand here and at random in
test_index_states.py.
"""

from __future__ import annotations

import os
import sqlite3
import sys
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

import claimkit.intake.contents
from claimkit.intake.disk import RealDisk
from claimkit.intake.entry import Stamp
from claimkit.intake.index import SCHEMA, Index, Row
from claimkit.intake.read import read
from claimkit.model.facts import Facts
from tests.intake.dying import CountingDisk
from tests.intake.folder import jpeg, make_job, put

NOW = datetime(2026, 5, 20, 18, 0, tzinfo=UTC)
ROW = Row("photos/1.jpg", Stamp(3, 5, 7), "ab" * 32, "photo", "v", "", '{"a":1}')


@pytest.fixture(autouse=True)
def _own_places(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CLAIMKIT_CACHE", str(tmp_path / "cache"))
    monkeypatch.setenv("CLAIMKIT_WRITER", "w")


def take(
    root: Path, index: Index | None, disk: RealDisk | None = None, fresh: bool = False
) -> Facts:
    return read(root, now=NOW, index=index, disk=disk, fresh=fresh)


def opened(root: Path, index: Index | None, fresh: bool = False) -> set[str]:
    disk = CountingDisk()
    take(root, index, disk, fresh)
    paths = {path.relative_to(root.resolve()).as_posix() for path in disk.opened}
    return {path for path in paths if not path.startswith("custody/")}


def test_an_unchanged_folder_is_not_opened(tmp_path: Path) -> None:
    root = make_job(tmp_path / "job")
    first = take(root, Index())
    disk = CountingDisk()
    assert take(root, Index(), disk) == first
    assert disk.opened == [], "not even the custody log"
    assert take(root, Index()) == take(root, None) == first


def test_only_what_changed_is_opened(tmp_path: Path) -> None:
    root = make_job(tmp_path / "job")
    take(root, Index())
    put(root, "photos/2.jpg", jpeg(7))
    assert opened(root, Index()) == {"photos/2.jpg"}
    assert take(root, Index()) == take(root, None)
    (root / "photos/2.jpg").rename(root / "photos/moved.jpg")
    # The names of the files are among what the records are checked against.
    assert opened(root, Index()) == {"photos/moved.jpg", "job.toml", "records/delivery.toml"}
    put(root, "records/delivery.toml", (root / "records/delivery.toml").read_text() + "\n")
    assert opened(root, Index()) == {"job.toml", "records/delivery.toml"}
    assert take(root, Index()) == take(root, None)


def test_a_touched_file_is_opened_once_and_then_not(tmp_path: Path) -> None:
    root = make_job(tmp_path / "job")
    take(root, Index())
    os.utime(root / "photos/1.jpg", ns=(1, 1_700_000_000_000_000_000))
    assert opened(root, Index()) == {"photos/1.jpg"}
    assert opened(root, Index()) == set()


def test_fresh_opens_everything_and_writes_the_index(tmp_path: Path) -> None:
    root = make_job(tmp_path / "job")
    take(root, Index())
    assert len(opened(root, Index(), fresh=True)) == 5
    assert opened(root, Index()) == set()
    Index().file.unlink()
    assert len(opened(root, Index(), fresh=True)) == 5
    assert opened(root, Index()) == set()


def test_the_one_exception_is_as_documented(tmp_path: Path) -> None:
    """Same size, same time of writing: seen where the system keeps a time of the last change."""
    root = make_job(tmp_path / "job")
    take(root, Index())
    photo = root / "photos/1.jpg"
    was = photo.stat()
    other = bytearray(photo.read_bytes())
    other[-3] ^= 1
    photo.write_bytes(other)
    os.utime(photo, ns=(was.st_atime_ns, was.st_mtime_ns))
    if sys.platform != "win32":
        assert opened(root, Index()) == {"photos/1.jpg"}
    photo.write_bytes(jpeg(1)[:-3] + b"\0\0\0")
    os.utime(photo, ns=(was.st_atime_ns, was.st_mtime_ns))
    assert opened(root, Index(), fresh=True) >= {"photos/1.jpg"}
    assert take(root, Index()) == take(root, None)


def test_without_a_time_of_the_last_change_the_exception_is_real(tmp_path: Path) -> None:
    class LikeWindows(CountingDisk):
        """Gives no time of the last change of an entry."""

        def scan(self, folder: Path):  # type: ignore[no-untyped-def]
            entries = super().scan(folder)
            return tuple(replace(e, stamp=replace(e.stamp, ctime_ns=0)) for e in entries)

        def read(self, path: Path):  # type: ignore[no-untyped-def]
            got = super().read(path)
            return replace(got, stamp=replace(got.stamp, ctime_ns=0))

    root = make_job(tmp_path / "job")
    take(root, Index(), LikeWindows())
    photo = root / "photos/1.jpg"
    was = photo.stat()
    photo.write_bytes(photo.read_bytes()[:-3] + b"\0\0\0")
    os.utime(photo, ns=(was.st_atime_ns, was.st_mtime_ns))
    facts = take(root, Index(), LikeWindows())
    assert facts.photo_at("photos/1.jpg") != take(root, None).photo_at("photos/1.jpg")
    assert take(root, Index(), LikeWindows(), fresh=True) == take(root, None)


def test_facts_that_other_code_read_are_read_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    root = make_job(tmp_path / "job")
    take(root, Index())
    for module in ("load", "settled"):
        monkeypatch.setattr(f"claimkit.intake.{module}.reading_version", lambda: "another")
    assert len(opened(root, Index())) == 5


def test_what_the_version_of_reading_covers() -> None:
    files = {path.parent.name for path in claimkit.intake.contents._version_files()}
    assert {"exifread", "PIL", "pi_heif", "tzdata"} <= files


def test_jobs_do_not_mix(tmp_path: Path) -> None:
    one, two = make_job(tmp_path / "one"), make_job(tmp_path / "two")
    put(two, "photos/2.jpg", jpeg(9))
    for root in (one, two, one, two):
        assert replace(take(root, Index()), folder_name="") == replace(
            take(root, None), folder_name=""
        )
    assert opened(one, Index()) == opened(two, Index()) == set()


def test_rows_of_files_that_are_gone_are_dropped(tmp_path: Path) -> None:
    root = make_job(tmp_path / "job")
    take(root, Index())
    (root / "photos/2.jpg").unlink()
    take(root, Index())
    assert set(Index().rows(str(root))) == {
        "",
        "job.toml",
        "photos/1.jpg",
        "records/delivery.toml",
        "documents/bill.pdf",
    }


def test_every_column_has_the_declared_type(tmp_path: Path) -> None:
    Index(tmp_path).store("job", [ROW])
    with closing(sqlite3.connect(tmp_path / "index.sqlite")) as db:
        types = {row[1]: (row[2], row[3]) for row in db.execute("PRAGMA table_info(files)")}
        assert types == {
            "job": ("TEXT", 1),
            "path": ("TEXT", 1),
            "size": ("INTEGER", 1),
            "mtime_ns": ("INTEGER", 1),
            "ctime_ns": ("INTEGER", 1),
            "sha256": ("TEXT", 1),
            "kind": ("TEXT", 1),
            "reading": ("TEXT", 1),
            "context": ("TEXT", 1),
            "facts": ("TEXT", 1),
            "problem": ("TEXT", 1),
            "seal": ("TEXT", 1),
        }
        assert db.execute("PRAGMA user_version").fetchone() == (SCHEMA,)
        assert db.execute("PRAGMA journal_mode").fetchone() == ("delete",)
        assert db.execute("SELECT typeof(size), typeof(mtime_ns) FROM files").fetchone() == (
            "integer",
            "integer",
        )


def test_rows_come_back_as_they_were(tmp_path: Path) -> None:
    rows = [ROW, replace(ROW, path="b\\xff é 損.jpg", stamp=Stamp(0, -1, 2**62), facts="{}\0")]
    Index(tmp_path).store("job", rows)
    assert Index(tmp_path).rows("job") == {row.path: row for row in rows}
    assert Index(tmp_path).rows("other job") == {}
    changed = replace(ROW, sha256="cd" * 32)
    Index(tmp_path).store("job", [changed], gone=[rows[1].path])
    assert Index(tmp_path).rows("job") == {ROW.path: changed}


def test_a_time_that_no_column_can_hold_is_left_out(tmp_path: Path) -> None:
    index = Index(tmp_path, pytest.fail)
    index.store("job", [replace(ROW, stamp=Stamp(1, 2**63, 0))])
    assert index.rows("job") == {}


def wrong_version(file: Path) -> None:
    with closing(sqlite3.connect(file)) as db:
        db.execute("PRAGMA user_version = 99")


def no_table(file: Path) -> None:
    with closing(sqlite3.connect(file)) as db:
        db.execute("DROP TABLE files")


def other_columns(file: Path) -> None:
    no_table(file)
    with closing(sqlite3.connect(file)) as db:
        db.execute("CREATE TABLE files (job TEXT, path TEXT)")
        db.commit()


def one_value(file: Path) -> None:
    with closing(sqlite3.connect(file)) as db:
        db.execute("UPDATE files SET sha256 = 'ff' || substr(sha256, 3) WHERE path LIKE '%1.jpg'")
        db.commit()


def not_text(file: Path) -> None:
    with closing(sqlite3.connect(file)) as db:
        db.execute("UPDATE files SET facts = CAST(x'ff00fe' AS TEXT)")
        db.commit()


DAMAGES = {
    "rubbish": lambda file: file.write_bytes(os.urandom(5000)),
    "empty": lambda file: file.write_bytes(b""),
    "cut short": lambda file: file.write_bytes(file.read_bytes()[:5000]),
    "wrong version": wrong_version,
    "no table": no_table,
    "other columns": other_columns,
    "one value": one_value,
    "not text": not_text,
}


@pytest.mark.parametrize("damage", DAMAGES)
def test_a_damaged_index_is_made_anew_and_said_once(tmp_path: Path, damage: str) -> None:
    root = make_job(tmp_path / "job")
    whole = take(root, Index())
    DAMAGES[damage](Index().file)
    os.utime(root / "photos/2.jpg")  # where nothing changed the rows of the files are not asked
    said: list[str] = []
    assert take(root, Index(say=said.append)) == whole
    (sentence,) = said
    assert "was deleted and is made anew" in sentence
    assert opened(root, Index(say=pytest.fail)) == set()


def test_damage_that_shows_only_on_writing(tmp_path: Path) -> None:
    root = make_job(tmp_path / "job")
    other_columns(_made(tmp_path))
    with closing(sqlite3.connect(Index().file)) as db:
        db.execute(f"PRAGMA user_version = {SCHEMA}")
    said: list[str] = []
    index = Index(say=said.append)
    index.rows = lambda job: {}  # type: ignore[method-assign]
    take(root, index)
    assert len(said) == 1
    assert opened(root, Index()) == set()


def test_a_flipped_byte_that_forbids_writing_is_damage(tmp_path: Path) -> None:
    # Byte 18 of the file is its write version; above 2 it is read-only (SQLite, database header).
    root = make_job(tmp_path / "job")
    take(root, Index())
    data = bytearray(Index().file.read_bytes())
    data[18] = 9
    Index().file.write_bytes(data)
    os.utime(root / "photos/1.jpg")
    said: list[str] = []
    take(root, Index(say=said.append))
    assert ["made anew" in sentence for sentence in said] == [True]
    assert opened(root, Index(say=pytest.fail)) == set()


def _made(tmp_path: Path) -> Path:
    Index().store("job", [ROW])
    return Index().file


@pytest.mark.parametrize("how", ["a file in its place", "a folder in its place", "locked", "full"])
def test_an_index_that_cannot_be_used_never_stops_a_run(
    tmp_path: Path, how: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    root = make_job(tmp_path / "job")
    whole = take(root, None)
    said: list[str] = []
    holder = None
    if how == "a file in its place":
        index = Index(put(tmp_path, "file", b"") / "below", said.append)
    elif how == "a folder in its place":
        put(tmp_path, "odd/index.sqlite/x", b"")
        index = Index(tmp_path / "odd", said.append)
    else:
        monkeypatch.setattr("claimkit.intake.index.BUSY_S", 0.05)
        index = Index(say=said.append)
        _made(tmp_path)
        holder = sqlite3.connect(index.file)
        if how == "locked":
            holder.execute("BEGIN EXCLUSIVE")
        else:
            connect = index._connect

            def full() -> sqlite3.Connection:
                db = connect()
                db.execute("PRAGMA max_page_count = 1")
                return db

            monkeypatch.setattr(index, "_connect", full)
    for _run in range(2):
        assert take(root, index) == whole
    if holder:
        holder.close()
    assert said
    assert len(said) == len(set(said)), "said once"
    assert all("cannot be used" in sentence and "CLAIMKIT_CACHE" in sentence for sentence in said)


def test_sentences_go_to_standard_error(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    root = make_job(tmp_path / "job")
    take(root, Index(put(tmp_path, "file", b"") / "below"))
    got = capsys.readouterr()
    assert got.out == ""
    assert got.err.startswith("claimkit: The index ")


def test_a_left_over_journal_goes_with_the_index(tmp_path: Path) -> None:
    file = _made(tmp_path)
    journal = file.with_name(file.name + "-journal")
    file.write_bytes(b"rubbish" * 1000)
    journal.write_bytes(b"rubbish")
    said: list[str] = []
    index = Index(say=said.append)
    assert index.rows("job") == {}
    assert not journal.exists()
    assert len(said) == 1
