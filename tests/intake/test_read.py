"""A job folder read whole: every file once, every problem named, nothing of the user's touched."""

from __future__ import annotations

import hashlib
import subprocess
import sys
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

import claimkit.intake.entries.records
import claimkit.intake.load
import claimkit.intake.metadata.photo
from claimkit.intake.disk import Handle, RealDisk
from claimkit.intake.index import Index
from claimkit.intake.read import read
from claimkit.model.facts import CustodyEvent, Facts
from claimkit.model.photo import FileKind
from claimkit.model.records import Delivery
from tests.intake.chain import check
from tests.intake.dying import DEATHS, CountingDisk, Died, DyingDisk
from tests.intake.folder import DELIVERY, JOB, jpeg, make_job, put

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


def test_a_sound_folder(tmp_path: Path) -> None:
    root = make_job(tmp_path / "kiln-road")
    facts = take(root)
    assert facts.problems == ()
    assert facts.folder_name == "kiln-road"
    assert facts.job is not None
    assert facts.job.title == "Kiln Road 9"
    assert facts.job_sha256 == hashlib.sha256(JOB.encode()).hexdigest()
    (record,) = facts.records
    assert isinstance(record.body, Delivery)
    assert record.body.arrived is not None
    assert record.body.arrived.at == datetime(2026, 5, 4, 14, 5, tzinfo=UTC)  # CDT is UTC-5
    assert [photo.places for photo in facts.photos] == [
        photo.places for photo in sorted(facts.photos, key=lambda p: p.sha256)
    ]
    one = facts.photo_at("photos/1.jpg")
    assert one is not None
    assert one.sha256 == hashlib.sha256(jpeg(1)).hexdigest()
    assert one.dates[0].text == "2026:05:04 09:01:00"
    assert [(paper.path, paper.kind) for paper in facts.papers] == [
        ("documents/bill.pdf", FileKind.PDF)
    ]
    assert {line.path for line in facts.custody.lines[1:]} == {
        "job.toml",
        "records/delivery.toml",
        "photos/1.jpg",
        "photos/2.jpg",
        "documents/bill.pdf",
    }
    check(root / "custody/w.jsonl")


def test_the_log_keeps_the_text_of_job_and_records(tmp_path: Path) -> None:
    facts = take(make_job(tmp_path))
    details = {line.path: line.detail for line in facts.custody.lines}
    assert details["records/delivery.toml"] == DELIVERY
    assert details["job.toml"] == JOB
    events = {line.path: line.event for line in facts.custody.lines}
    assert events["records/delivery.toml"] is CustodyEvent.RECORD_ADDED
    assert events["job.toml"] is CustodyEvent.FIRST_SEEN


def test_the_log_gets_a_records_text_even_where_the_index_knows_the_file(tmp_path: Path) -> None:
    root = make_job(tmp_path / "job")
    take(root, index=Index())
    for log in (root / "custody").iterdir():
        log.unlink()
    facts = take(root, index=Index())
    assert DELIVERY in [line.detail for line in facts.custody.lines]


def test_each_file_is_opened_once(tmp_path: Path) -> None:
    root = make_job(tmp_path / "job")
    put(root, "photos/again/1.jpg", jpeg(1))
    put(root, "records/note.txt", "a note")
    for index in (None, Index()):
        disk = CountingDisk()
        take(root, disk=disk, index=index, log=False)
        opened = [path.relative_to(root).as_posix() for path in disk.opened]
        assert len(opened) == len(set(opened)) == 7


def test_originals_are_left_as_they_were(tmp_path: Path) -> None:
    root = make_job(tmp_path / "job")
    files = {path: path for path in root.rglob("*") if path.is_file()}
    before = {path: (path.read_bytes(), path.stat().st_mtime_ns) for path in files}
    take(root, index=Index())
    take(root, index=Index())
    assert {path: (path.read_bytes(), path.stat().st_mtime_ns) for path in files} == before
    new = {path.relative_to(root).as_posix() for path in root.rglob("*")} - {
        path.relative_to(root).as_posix() for path in files
    }
    assert new == {"photos", "records", "documents", "custody", "custody/w.jsonl"}


def test_only_the_log_is_opened_for_writing(tmp_path: Path) -> None:
    @dataclass
    class Watching(RealDisk):
        opened: list[str] = field(default_factory=list)

        def open(self, path: Path, mode: str) -> Handle:
            self.opened.append(path.name)
            return super().open(path, mode)

        def replace(self, source: Path, target: Path) -> None:
            raise AssertionError

        def remove(self, path: Path) -> None:
            raise AssertionError

    disk = Watching()
    take(make_job(tmp_path / "job"), disk=disk, index=Index())
    assert disk.opened == ["w.jsonl"]


def test_the_same_bytes_in_two_places_are_one_photo(tmp_path: Path) -> None:
    root = make_job(tmp_path / "job")
    put(root, "a copy.jpg", jpeg(1))
    put(root, "photos/named.HEIC", jpeg(1))
    facts = take(root)
    photo = facts.photo_at("photos/1.jpg")
    assert photo is not None
    assert photo.places == ("a copy.jpg", "photos/1.jpg", "photos/named.HEIC")
    assert len(facts.photos) == 2
    alone = claimkit.intake.metadata.photo.read_bytes(jpeg(1), "photos/named.HEIC").flaws
    assert alone, "a JPEG named HEIC has a flaw"
    assert photo.flaws == tuple(f"photos/named.HEIC: {flaw}" for flaw in alone)


def test_files_at_odd_places_are_taken(tmp_path: Path) -> None:
    root = make_job(tmp_path / "job")
    put(root, "loose.jpg", jpeg(3))
    put(root, "records/scan.jpg", jpeg(4))
    put(root, "records/more/late.toml.txt", DELIVERY)
    facts = take(root)
    assert facts.photo_at("loose.jpg")
    assert facts.photo_at("records/scan.jpg")
    assert "more/late" in [record.id for record in facts.records]


def test_toml_files_at_odd_places_are_named(tmp_path: Path) -> None:
    root = make_job(tmp_path / "job")
    put(root, "damage.toml", "x = 1\n")
    assert "lies outside records/" in told(take(root))["damage.toml"]


def test_no_job_at_all(tmp_path: Path) -> None:
    root = make_job(tmp_path / "job")
    (root / "job.toml").rename(root / "job.toml.txt")
    facts = take(root)
    assert (facts.job, facts.job_sha256) == (None, None)
    assert told(facts)["job.toml"].endswith("is not there. Rename job.toml.txt to job.toml.")
    (root / "job.toml.txt").unlink()
    assert "claimkit new" in told(take(root))["job.toml"]


def test_all_problems_of_all_files_come_at_once(tmp_path: Path) -> None:
    root = make_job(tmp_path / "job")
    put(root, "job.toml", JOB.replace("cartons = 4", "cartonz = 4"))
    put(root, "records/a.toml", DELIVERY.replace("words", "wordz"))
    put(root, "records/b.toml", "kind = \n")
    put(root, "records/c.toml", DELIVERY.replace("photos/1.jpg", "photos/absent.jpg"))
    assert {"job.toml", "records/a.toml", "records/b.toml", "records/c.toml"} <= set(
        told(take(root))
    )


def test_problems_come_again_from_the_index(tmp_path: Path) -> None:
    root = make_job(tmp_path / "job")
    put(root, "records/a.toml", DELIVERY.replace("words", "wordz"))
    first = take(root, index=Index(), log=False)
    disk = CountingDisk()
    again = take(root, index=Index(), log=False, disk=disk)
    assert again == first
    assert disk.opened == []
    assert "records/a.toml" in told(again)


def test_a_new_photo_mends_a_record_that_names_it(tmp_path: Path) -> None:
    # What is said of a record depends on the other files' names, not on its own bytes alone.
    root = make_job(tmp_path / "job")
    put(root, "records/c.toml", DELIVERY.replace("photos/1.jpg", "photos/late.jpg"))
    assert "records/c.toml" in told(take(root, index=Index()))
    put(root, "photos/late.jpg", jpeg(5))
    facts = take(root, index=Index())
    assert "records/c.toml" not in told(facts)
    assert replace(facts, custody=take(root).custody) == take(root)


def test_the_zone_of_the_job_reaches_records_from_the_index(tmp_path: Path) -> None:
    root = make_job(tmp_path / "job")
    take(root, index=Index())
    put(root, "job.toml", JOB.replace("America/Chicago", "America/Denver"))
    (record,) = take(root, index=Index()).records
    assert isinstance(record.body, Delivery)
    assert record.body.arrived is not None
    assert record.body.arrived.at == datetime(2026, 5, 4, 15, 5, tzinfo=UTC)  # MDT is UTC-6


def test_a_folder_that_cannot_be_written_is_read_and_says_so(tmp_path: Path) -> None:
    class ReadOnly(RealDisk):
        def make_folder(self, path: Path) -> None:
            raise OSError(30, "Read-only file system")

        def open(self, path: Path, mode: str) -> Handle:
            raise OSError(30, "Read-only file system")

    root = make_job(tmp_path / "job")
    facts = take(root, disk=ReadOnly())
    assert told(facts)["custody"].startswith(
        "custody: 5 lines are missing from the custody log, and it cannot be written: Read-only"
    )
    assert len(facts.photos) == 2
    take(root)
    assert take(root, disk=ReadOnly()).problems == (), "nothing is missing from the log"


def test_reading_without_logging_writes_nothing_and_says_what_is_missing(tmp_path: Path) -> None:
    root = make_job(tmp_path / "job")
    facts = take(root, log=False)
    assert not (root / "custody").exists()
    assert "5 lines are missing from the custody log" in told(facts)["custody"]
    take(root)
    logged = take(root, log=False)
    assert logged.problems == ()
    assert len(logged.custody.lines) == 6


def test_progress_counts_every_file(tmp_path: Path) -> None:
    steps: list[tuple[int, int]] = []
    take(make_job(tmp_path / "job"), progress=lambda done, total: steps.append((done, total)))
    assert steps == [(n, 5) for n in range(1, 6)]


def test_facts_do_not_depend_on_where_the_folder_lies(tmp_path: Path) -> None:
    one = take(make_job(tmp_path / "a" / "job"))
    other = take(make_job(tmp_path / "b" / "job"))
    assert one == other


def test_a_path_through_a_link_is_the_same_job(tmp_path: Path) -> None:
    root = make_job(tmp_path / "job")
    try:
        (tmp_path / "link").symlink_to(root, target_is_directory=True)
    except OSError:
        pytest.skip("links need a right that this user lacks")
    take(root, index=Index())
    disk = CountingDisk()
    take(tmp_path / "link", index=Index(), disk=disk)
    assert [path.name for path in disk.opened if path.name != "w.jsonl"] == []


WARM = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from claimkit.intake.index import Index
from claimkit.intake.read import read
facts = read(Path(sys.argv[1]), now=datetime(2026, 5, 21, tzinfo=UTC), index=Index())
assert len(facts.photos) == 2 and len(facts.records) == 1 and facts.job, facts
heavy = ("pydantic", "exifread", "PIL", "pi_heif", "sqlite_utils", "numpy",
         "claimkit.intake.metadata.photo", "claimkit.intake.entries.records")
print(*(name for name in heavy if name in sys.modules))
"""


def test_with_nothing_changed_no_reader_is_even_imported(tmp_path: Path) -> None:
    root = make_job(tmp_path / "job")
    take(root, index=Index())
    done = subprocess.run(
        [sys.executable, "-c", WARM, str(root)], capture_output=True, text=True, check=False
    )
    assert (done.stdout.strip(), done.stderr) == ("", "")


@pytest.mark.parametrize("death", DEATHS)
def test_a_whole_run_dies_at_every_step(tmp_path: Path, death: str) -> None:
    counted = DyingDisk()
    take(make_job(tmp_path / "counted" / "job"), disk=counted)
    sound = take(tmp_path / "counted" / "job")
    assert len(counted.points) > 20
    for number, point in enumerate(counted.points):
        root = make_job(tmp_path / str(number) / "job")
        with pytest.raises(Died):
            take(root, disk=DyingDisk(die_at=point, death=death))
        facts = take(root, now=NOW + timedelta(hours=1))
        assert replace(facts, custody=sound.custody) == sound
        assert facts.custody.breaks == ()
        check(root / "custody/w.jsonl")
        for line in sound.custody.lines[1:]:
            assert facts.custody.first_seen(line.sha256 or "")
