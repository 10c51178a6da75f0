"""What cannot be read, what changes and what claimkit fails on is named, and never ends a run."""

from __future__ import annotations

import hashlib
import os
import sys
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

import claimkit.intake.entries.records
import claimkit.intake.load
import claimkit.intake.metadata.photo
from claimkit.intake.disk import Digest, FileBytes, RealDisk
from claimkit.intake.entry import Entry
from claimkit.intake.index import Index
from claimkit.intake.load import _words
from claimkit.intake.read import read
from claimkit.model.facts import CustodyEvent, Facts
from claimkit.model.photo import FileKind
from claimkit.model.stop import CannotGoOn
from tests.intake.folder import DELIVERY, jpeg, make_job, put

NOW = datetime(2026, 5, 20, 18, 0, tzinfo=UTC)
posix = pytest.mark.skipif(sys.platform == "win32", reason="needs POSIX links")


@pytest.fixture(autouse=True)
def _own_places(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CLAIMKIT_CACHE", str(tmp_path / "cache"))
    monkeypatch.setenv("CLAIMKIT_WRITER", "w")


def take(root: Path, **more: object) -> Facts:
    return read(root, **({"now": NOW} | more))  # type: ignore[arg-type]


def told(facts: Facts) -> dict[str, str]:
    return {problem.file: problem.sentence() for problem in facts.problems}


class Failing(RealDisk):
    """Refuses to read one file, for a number of times."""

    def __init__(self, name: str, error: OSError, times: int = 99) -> None:
        self.name, self.error, self.times = name, error, times

    def read(self, path: Path) -> FileBytes:
        if path.name == self.name and self.times:
            self.times -= 1
            raise self.error
        return super().read(path)


@pytest.mark.parametrize(
    "error, says",
    [
        (PermissionError(13, "Permission denied"), "could not be read: Permission denied."),
        (FileNotFoundError(2, "No such file"), "gone when it was to be read"),
        (OSError(5, "Input/output error"), "could not be read: Input/output error."),
    ],
)
@pytest.mark.parametrize("name", ["1.jpg", "delivery.toml", "job.toml", "bill.pdf"])
def test_a_file_that_cannot_be_read_is_a_problem(
    tmp_path: Path, name: str, error: OSError, says: str
) -> None:
    root = make_job(tmp_path / "job")
    whole = take(root, index=Index())
    index = Index()
    path = next(p.relative_to(root).as_posix() for p in root.rglob(name))
    os.utime(root / path)  # so that the index cannot answer
    for _run in range(2):  # reported every run
        facts = take(root, index=index, disk=Failing(name, error))
        assert says in told(facts)[path]
        assert facts.custody == whole.custody, "whether it is missing is not known"
        if name != "job.toml":  # without which no time of a record can be placed
            assert set(told(facts)) == {path}, "what names the file is not called wrong for it"
    assert index.rows(str(root))[path].problem
    assert take(root, index=Index()).problems == ()


def test_a_file_that_changes_while_it_is_read_is_read_once_more(tmp_path: Path) -> None:
    class Growing(RealDisk):
        def __init__(self, times: int) -> None:
            self.times, self.reads = times, 0

        def read(self, path: Path) -> FileBytes:
            got = super().read(path)
            if path.name != "1.jpg":
                return got
            self.reads += 1
            if self.reads > self.times:
                return got
            return FileBytes(got.data[:100], got.stamp, steady=False)

    root = make_job(tmp_path / "job")
    facts = take(root, disk=Growing(1))
    assert facts.photo_of(hashlib.sha256(jpeg(1)).hexdigest())
    assert facts.problems == ()
    disk = Growing(99)
    assert "changes while it is being read" in told(take(root, disk=disk))["photos/1.jpg"]
    assert disk.reads == 2


def test_a_path_too_long_for_windows_is_said_as_that() -> None:
    """Simulated: Windows tells of such a file only that it is not there."""
    gone, long = FileNotFoundError(2, "The system cannot find the file"), "C:\\jobs\\" + "x" * 252
    assert "Windows opens none of more than 259" in _words(gone, long, "win32")
    for where, system in ((long, "linux"), (long[:-1], "win32"), (f"\\\\?\\{long}", "win32")):
        assert "gone when it was to be read" in _words(gone, where, system)


def test_the_real_disk_sees_a_file_that_grows(tmp_path: Path) -> None:
    file = put(tmp_path, "a.bin", b"x" * 10)
    assert RealDisk().read(file).steady
    assert RealDisk().digest(file, 4) == Digest(
        hashlib.sha256(b"x" * 10).hexdigest(), b"xxxx", RealDisk().read(file).stamp, steady=True
    )


@posix
def test_a_pipe_in_the_place_of_a_file_does_not_hang(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(OSError, match="ordinary"):
        RealDisk().read(tmp_path / "pipe")


def test_a_folder_that_cannot_be_listed(tmp_path: Path) -> None:
    class Closed(RealDisk):
        def scan(self, folder: Path) -> tuple[Entry, ...]:
            if folder.name == "photos":
                raise PermissionError(13, "Permission denied")
            return super().scan(folder)

    root = make_job(tmp_path / "job")
    take(root)
    facts = take(root, disk=Closed())
    assert "could not be read: Permission denied." in told(facts)["photos"]
    assert facts.photos == ()
    assert CustodyEvent.MISSING not in {line.event for line in facts.custody.lines}


def test_a_file_that_is_left_alone_now_is_not_called_missing(tmp_path: Path) -> None:
    class Hiding(RealDisk):
        """Marks one file as hidden, as a Windows or Mac disk can."""

        def scan(self, folder: Path) -> tuple[Entry, ...]:
            return tuple(
                replace(entry, hidden=entry.name == "1.jpg") for entry in super().scan(folder)
            )

    root = make_job(tmp_path / "job")
    whole = take(root)
    facts = take(root, disk=Hiding())
    assert [left.path for left in facts.not_taken] == ["photos/1.jpg"]
    assert facts.custody == whole.custody


def test_no_folder_at_all(tmp_path: Path) -> None:
    with pytest.raises(CannotGoOn, match="cannot be read"):
        take(tmp_path / "absent")
    with pytest.raises(CannotGoOn, match="cannot be read"):
        take(put(tmp_path, "file", b""))


@posix
def test_a_folder_that_is_a_ring_of_links(tmp_path: Path) -> None:
    (tmp_path / "ring").symlink_to("ring")
    with pytest.raises(CannotGoOn, match="cannot be read"):
        take(tmp_path / "ring")


def test_a_very_large_file_is_hashed_and_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(claimkit.intake.load, "LARGE", 1 << 20)
    root = make_job(tmp_path / "job")
    data = b"\0\0\0\x18ftypmp42" + os.urandom(3 << 20)
    put(root, "photos/walk.mp4", data)
    (video,) = (paper for paper in take(root).papers if paper.path.endswith("mp4"))
    assert (video.kind, video.size_bytes) == (FileKind.VIDEO, len(data))
    assert video.sha256 == hashlib.sha256(data).hexdigest()
    assert "larger than 1 MiB" in video.flaws[0]


def test_a_defect_of_claimkit_on_one_photo_hides_no_other(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = claimkit.intake.metadata.photo.read_bytes

    def broken(data: bytes, path: str) -> object:
        if path == "photos/1.jpg":
            raise ZeroDivisionError("a defect")
        return whole(data, path)

    monkeypatch.setattr(claimkit.intake.metadata.photo, "read_bytes", broken)
    root = make_job(tmp_path / "job")
    for _run in range(2):
        facts = take(root, index=Index())
        assert "claimkit failed on it (ZeroDivisionError" in told(facts)["photos/1.jpg"]
        assert facts.photo_at("photos/2.jpg")
        first = facts.custody.first_seen(hashlib.sha256(jpeg(1)).hexdigest())
        assert first, "its bytes are logged all the same"
    monkeypatch.setattr(claimkit.intake.metadata.photo, "read_bytes", whole)
    assert take(root, index=Index()).problems == (), "the index kept nothing of the defect"


def test_a_defect_of_claimkit_on_one_record_hides_no_other(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = claimkit.intake.entries.records.read_all

    def broken(job: object, records: list[tuple[str, bytes]], known: object) -> object:
        if any(path == "records/bad.toml" for path, _ in records):
            raise ZeroDivisionError("a defect")
        return whole(job, records, known)  # type: ignore[arg-type]

    monkeypatch.setattr(claimkit.intake.entries.records, "read_all", broken)
    root = make_job(tmp_path / "job")
    put(root, "records/bad.toml", DELIVERY)
    for _run in range(2):
        facts = take(root, index=Index())
        assert "ZeroDivisionError" in told(facts)["records/bad.toml"]
        assert [record.id for record in facts.records] == ["delivery"]
        assert facts.job
    monkeypatch.setattr(
        claimkit.intake.entries.records,
        "read_all",
        lambda *_: (_ for _ in ()).throw(ValueError("always")),
    )
    facts = take(root)
    assert any("ValueError" in sentence for sentence in told(facts).values())
    assert len(facts.photos) == 2
