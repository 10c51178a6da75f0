"""A folder in which nothing changed is answered whole from the index, and no file is opened.

Each thing that may change between two runs must be seen: it is done to a folder that the index
answers for, and what is read then is compared with what is read afresh.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
import sys
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from claimkit.intake.custody import log_packet
from claimkit.intake.disk import FileBytes, RealDisk
from claimkit.intake.entry import Entry
from claimkit.intake.index import Index, Settled
from claimkit.intake.mark import mark_of
from claimkit.intake.read import read
from claimkit.model.facts import Facts
from claimkit.proof.verify import verify_job
from tests.intake.dying import CountingDisk
from tests.intake.folder import DELIVERY, jpeg, make_job, put

NOW = datetime(2026, 5, 20, 18, 0, tzinfo=UTC)
LATER = NOW + timedelta(hours=1)
posix = pytest.mark.skipif(sys.platform == "win32", reason="needs POSIX links")


@pytest.fixture(autouse=True)
def _own_places(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CLAIMKIT_CACHE", str(tmp_path / "cache"))
    monkeypatch.setenv("CLAIMKIT_WRITER", "w")


def take(root: Path, **more: object) -> Facts:
    return read(root, **({"now": NOW, "index": Index(say=pytest.fail)} | more))  # type: ignore[arg-type]


def opened(root: Path, **more: object) -> list[str]:
    disk = CountingDisk()
    take(root, disk=disk, **more)
    return sorted(path.relative_to(root).as_posix() for path in disk.opened)


def settled_job(root: Path) -> Path:
    """Make a job folder for which the index answers."""
    root = make_job(root)
    take(root)
    assert opened(root) == []
    return root


def log(root: Path) -> Path:
    return root / "custody/w.jsonl"


def put_back_times(file: Path, change: Callable[[], object]) -> None:
    was = file.stat()
    change()
    os.utime(file, ns=(was.st_atime_ns, was.st_mtime_ns))


def swap(file: Path, old: bytes, new: bytes) -> None:
    """Change a file and keep its size and time of writing."""
    data = file.read_bytes()
    assert old in data
    assert len(old) == len(new)
    put_back_times(file, lambda: file.write_bytes(data.replace(old, new, 1)))


def append_line(root: Path) -> None:
    log_packet(root, path="out/p.pdf", sha256="ab" * 32, for_whom="carrier", now=LATER, writer="b")


CHANGES: dict[str, Callable[[Path], object]] = {
    "a photo edited": lambda root: put(root, "photos/1.jpg", jpeg(5)),
    "a photo added": lambda root: put(root, "photos/3.jpg", jpeg(3)),
    "a photo removed": lambda root: (root / "photos/1.jpg").unlink(),
    "a photo moved": lambda root: (root / "photos/1.jpg").rename(root / "documents/1.jpg"),
    "a photo made a folder": lambda root: (
        (root / "photos/1.jpg").unlink(),
        (root / "photos/1.jpg").mkdir(),
    ),
    "two photos that change names": lambda root: (
        (root / "photos/1.jpg").rename(root / "x"),
        (root / "photos/2.jpg").rename(root / "photos/1.jpg"),
        (root / "x").rename(root / "photos/2.jpg"),
    ),
    "a record edited": lambda root: put(
        root, "records/delivery.toml", DELIVERY.replace("2 ctn crushed", "1 ctn wet")
    ),
    "a record added with a mistake": lambda root: put(root, "records/b.toml", "kind = 1"),
    "job.toml removed": lambda root: (root / "job.toml").unlink(),
    "a hidden file added": lambda root: put(root, ".DS_Store", b""),
    "a folder named Custody": lambda root: put(root, "Custody/x.txt", b"x"),
    "a file in the place of out": lambda root: put(root, "out", b"x"),
    "a stray file in custody": lambda root: put(root, "custody/note.txt", b"x"),
    "a log removed": lambda root: log(root).unlink(),
    "the custody folder removed": lambda root: shutil.rmtree(root / "custody"),
    "a log cut short": lambda root: log(root).write_bytes(log(root).read_bytes()[:-300]),
    "a log cut in a line": lambda root: log(root).write_bytes(log(root).read_bytes()[:-20]),
    "a log that another writer began": append_line,
    "a line of a log changed": lambda root: log(root).write_bytes(
        log(root).read_bytes().replace(b"photos/1.jpg", b"photos/1.png", 1)
    ),
}


@pytest.mark.parametrize("change", CHANGES)
def test_every_change_is_seen(tmp_path: Path, change: str) -> None:
    root = settled_job(tmp_path / "job")
    before = take(root)
    CHANGES[change](root)
    facts = take(root, now=LATER)
    assert facts == take(root, index=None, log=False)
    assert facts != before, "the change is one that shows"
    assert take(root) == facts
    assert opened(root) == [], "and now this is what the index answers"


@pytest.mark.skipif(sys.platform == "win32", reason="Windows gives no time of the last change")
def test_a_log_edited_under_its_old_size_and_time_is_seen(tmp_path: Path) -> None:
    root = settled_job(tmp_path / "job")
    assert take(root).custody.breaks == ()
    swap(log(root), b"photos/1.jpg", b"photos/9.jpg")
    assert any("line 5" in broken for broken in take(root).custody.breaks)


class LikeWindows(RealDisk):
    """Gives no time of the last change of an entry."""

    def scan(self, folder: Path) -> tuple[Entry, ...]:
        entries = super().scan(folder)
        return tuple(replace(e, stamp=replace(e.stamp, ctime_ns=0)) for e in entries)

    def read(self, path: Path) -> FileBytes:
        got = super().read(path)
        return replace(got, stamp=replace(got.stamp, ctime_ns=0))

    def mark(self, root: Path) -> str:
        return repr([file for file in sorted(root.rglob("*")) if "custody" not in file.parts])


def test_without_a_time_of_the_last_change_fresh_and_verify_see_the_edited_log(
    tmp_path: Path,
) -> None:
    """The one exception of the index, on Windows and some network disks: told in its docstring."""
    root = make_job(tmp_path / "job")
    take(root, disk=LikeWindows())
    swap(log(root), b"photos/1.jpg", b"photos/9.jpg")
    assert take(root, disk=LikeWindows()).custody.breaks == ()
    assert take(root, disk=LikeWindows(), fresh=True).custody.breaks
    assert take(root, disk=LikeWindows()).custody.breaks, "kept anew"


def test_verify_and_fresh_read_the_log_whatever_the_index_says(tmp_path: Path) -> None:
    root = settled_job(tmp_path / "job")
    assert "custody/w.jsonl" in opened(root, fresh=True)
    disk = CountingDisk()
    verify_job(root, disk=disk)
    assert log(root) in disk.opened


def test_breaks_are_told_in_every_run(tmp_path: Path) -> None:
    root = settled_job(tmp_path / "job")
    swap(log(root), b"photos/1.jpg", b"photos/9.jpg")
    put(root, "photos/3.jpg", jpeg(3))
    broken = take(root).custody.breaks
    assert broken
    assert opened(root) == []
    assert take(root).custody.breaks == broken


def test_a_run_that_left_something_undone_is_not_kept(tmp_path: Path) -> None:
    class Closed(RealDisk):
        def read(self, path: Path) -> FileBytes:
            if path.name == "2.jpg":
                raise PermissionError(13, "Permission denied")
            return super().read(path)

    root = make_job(tmp_path / "job")
    assert take(root, disk=Closed()).problems
    assert "photos/2.jpg" in opened(root)
    assert opened(root) == []


def test_a_run_that_wrote_no_log_is_not_kept(tmp_path: Path) -> None:
    root = make_job(tmp_path / "job")
    assert "5 lines are missing" in take(root, log=False).problems[0].found
    assert len(take(root).custody.lines) == 6
    assert opened(root, log=False) == []


def test_a_text_that_could_not_be_logged_is_logged_later(tmp_path: Path) -> None:
    class Vanishing(RealDisk):
        """Cannot read a record again whose text is to go into the log."""

        def read(self, path: Path) -> FileBytes:
            if path.name == "delivery.toml":
                raise OSError(5, "Input/output error")
            return super().read(path)

    root = make_job(tmp_path / "job")
    take(root, log=False)
    take(root, disk=Vanishing())
    lines = take(root, now=LATER).custody.lines
    assert [line.path for line in lines if line.at == LATER and line.path] == [
        "records/delivery.toml"
    ]


def test_a_log_that_another_run_is_to_mend_is_looked_at_each_time(tmp_path: Path) -> None:
    root = settled_job(tmp_path / "job")
    append_line(root)
    other = root / "custody/b.jsonl"
    other.write_bytes(other.read_bytes()[:-9])
    assert "custody/b.jsonl ends with" in take(root).custody.recovered[0]
    assert opened(root) == ["custody/b.jsonl", "custody/w.jsonl"]


def test_a_photo_that_changes_while_the_folder_is_read_is_seen_by_the_next_run(
    tmp_path: Path,
) -> None:
    class Busy(RealDisk):
        """Another program writes to a photo after it has been read."""

        def read(self, path: Path) -> FileBytes:
            got = super().read(path)
            if path.name == "1.jpg":
                put(root, "photos/1.jpg", jpeg(8))
            return got

    root = make_job(tmp_path / "job")
    take(root, disk=Busy())
    assert take(root) == take(root, index=None)


def test_a_log_that_grows_while_it_is_read_is_seen_by_the_next_run(tmp_path: Path) -> None:
    class Busy(RealDisk):
        """A synced folder brings another line after the log has been read."""

        def read(self, path: Path) -> FileBytes:
            got = super().read(path)
            if path.name == "b.jsonl":
                path.write_bytes(grown)
            return got

    root = settled_job(tmp_path / "job")
    append_line(root)
    short = (root / "custody/b.jsonl").read_bytes()
    append_line(root)
    grown = (root / "custody/b.jsonl").read_bytes()
    (root / "custody/b.jsonl").write_bytes(short)
    first = take(root, now=LATER, disk=Busy())
    assert len([line for line in first.custody.lines if line.writer == "b"]) == 1
    then = take(root, now=LATER)
    assert len([line for line in then.custody.lines if line.writer == "b"]) == 2


def test_what_claimkit_writes_to_out_changes_nothing(tmp_path: Path) -> None:
    root = settled_job(tmp_path / "job")
    put(root, "out/packet.pdf", b"%PDF")
    assert opened(root) == []


def test_two_jobs_and_a_moved_one_do_not_answer_for_each_other(tmp_path: Path) -> None:
    one, two = settled_job(tmp_path / "one"), settled_job(tmp_path / "two")
    put(two, "photos/2.jpg", jpeg(9))
    assert take(two) == take(two, index=None)
    assert opened(one) == opened(two) == []
    one.rename(tmp_path / "three")
    two.rename(tmp_path / "one")
    assert take(one).photos == take(one, index=None).photos
    assert take(one).folder_name == "one"


def test_an_index_that_was_deleted_is_made_anew(tmp_path: Path) -> None:
    root = settled_job(tmp_path / "job")
    whole = take(root)
    Index().file.unlink()
    assert take(root) == whole
    assert opened(root) == []


def statement(change: str) -> Callable[[Path], None]:
    def damage(file: Path) -> None:
        with closing(sqlite3.connect(file)) as db:
            db.execute(change)
            db.commit()

    return damage


DAMAGES = {
    "no table": statement("DROP TABLE settled"),
    "a word": statement(
        "UPDATE settled SET facts = CAST(replace(CAST(facts AS TEXT), 'Kiln', 'Kilm') AS BLOB)"
    ),
    "cut short": statement("UPDATE settled SET facts = substr(facts, 1, 99)"),
    "as text": statement("UPDATE settled SET facts = CAST(facts AS TEXT)"),
    "another seal": statement("UPDATE settled SET seal = 'xy' || substr(seal, 3)"),
}


@pytest.mark.parametrize("damage", DAMAGES)
def test_what_was_changed_in_the_index_is_not_believed(tmp_path: Path, damage: str) -> None:
    root = settled_job(tmp_path / "job")
    whole = take(root)
    DAMAGES[damage](Index().file)
    said: list[str] = []
    assert take(root, index=Index(say=said.append)) == whole
    assert ["was deleted and is made anew" in sentence for sentence in said] == [True]
    assert opened(root) == []


def test_what_was_kept_of_one_job_is_not_believed_of_another(tmp_path: Path) -> None:
    settled_job(tmp_path / "two")
    root = settled_job(tmp_path / "one")
    whole = take(root)
    with closing(sqlite3.connect(Index().file)) as db:
        db.execute(
            "UPDATE settled SET (facts, seal) = (SELECT facts, seal FROM settled AS other"
            " WHERE other.job <> settled.job) WHERE job = ?",
            (str(root),),
        )
        db.commit()
    said: list[str] = []
    assert take(root, index=Index(say=said.append)) == whole
    assert len(said) == 1


def test_the_seal_covers_whose_facts_they_are(tmp_path: Path) -> None:
    said: list[str] = []
    index = Index(tmp_path, said.append)
    index.store("one", (), settled=Settled("state", b"{}"))
    assert index.settled("one", "state") == b"{}"
    assert index.settled("one", "another state") is index.settled("two", "state") is None
    statement("UPDATE settled SET job = 'two'")(index.file)
    assert index.settled("two", "state") is None
    assert ["does not match its check sum" in sentence for sentence in said] == [True]


def test_facts_that_other_code_kept_under_a_good_seal_are_read_again(tmp_path: Path) -> None:
    root = settled_job(tmp_path / "job")
    whole = take(root)
    with closing(sqlite3.connect(Index().file)) as db:
        (state,) = db.execute("SELECT state FROM settled").fetchone()
    for facts in (b"{}", b"rubbish", b'{"records": [{}]}'):
        Index().store(str(root), (), settled=Settled(state, facts))
        assert take(root) == whole


@posix
def test_where_a_link_leads_is_part_of_the_state(tmp_path: Path) -> None:
    root = make_job(tmp_path / "job")
    outside = put(tmp_path, "outside.jpg", jpeg(4))
    (root / "photos/link.jpg").symlink_to(outside)
    (root / "photos/hidden.jpg").symlink_to(root / ".aside/5.jpg")
    put(root, ".aside/5.jpg", jpeg(5))
    whole = take(root)
    assert opened(root) == []
    put(root, ".aside/5.jpg", jpeg(6))
    assert take(root) == take(root, index=None) != whole
    (root / ".aside/5.jpg").unlink()
    assert take(root) == take(root, index=None)
    outside.unlink()
    assert take(root) == take(root, index=None)
    os.link(root / "photos/1.jpg", outside)  # the same file, with the same times
    for target in (root / "photos/1.jpg", outside):
        (root / "photos/link.jpg").unlink()
        (root / "photos/link.jpg").symlink_to(target)
        assert take(root) == take(root, index=None)


@pytest.mark.parametrize(
    "one, other",
    [
        # Names that hold what stands between two rows or fields of the mark.
        ({"a": b"", "b": b""}, {"a\nb": b""}),
        ({"a/b": b""}, {"a": b"", "b": b""}),
        ({"a 0": b""}, {"a": b"", "0": b""}),
        ({"d/x": b"", "d/y/z": b""}, {"d/x": b"", "d/y": b"", "d/z": b""}),
    ],
)
@posix
def test_two_different_folders_have_two_marks(
    tmp_path: Path, one: dict[str, bytes], other: dict[str, bytes]
) -> None:
    marks = []
    for name, files in (("one", one), ("other", other)):
        for path, data in files.items():
            put(tmp_path / name, path, data)
            os.utime(tmp_path / name / path, ns=(1, 1))
        marks.append(mark_of(tmp_path / name))
    assert marks[0] != marks[1]


@posix
def test_a_folder_below_that_cannot_be_listed_is_never_settled(tmp_path: Path) -> None:
    class Closed(CountingDisk):
        """Cannot list one folder (root, who may run the tests, can list any)."""

        def mark(self, root: Path) -> str:
            raise PermissionError(13, "Permission denied")

        def scan(self, folder: Path) -> tuple[Entry, ...]:
            if folder.name == "documents":
                raise PermissionError(13, "Permission denied")
            return super().scan(folder)

    root = make_job(tmp_path / "job")
    for _run in range(2):
        facts = take(root, disk=Closed())
        assert [problem.file for problem in facts.problems] == ["documents"]
