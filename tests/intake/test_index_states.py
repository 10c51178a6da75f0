"""Whatever happens to a folder and to the index: facts through it are the facts read afresh.

A state machine edits, moves, copies, deletes and touches files, and corrupts, cuts and deletes the
index. After every step it reads through the index and without it, and checks that no unchanged
photo was opened. tests/bench/index_states.py runs it for long.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
import tempfile
from contextlib import AbstractContextManager, closing, nullcontext
from datetime import UTC, datetime, timedelta
from pathlib import Path

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from claimkit.intake.index import Index
from claimkit.intake.read import read
from claimkit.intake.say import Say
from tests.intake.dying import CountingDisk
from tests.intake.folder import DELIVERY, JOB, jpeg, make_job, put

NOW = datetime(2026, 5, 20, 18, 0, tzinfo=UTC)
PLACES = [f"{folder}/{n}.jpg" for folder in ("photos", "photos/curb", "documents") for n in "12"]
RECORDS = ["records/delivery.toml", "records/second.toml"]
ZONES = ["America/Chicago", "America/Denver", "no/zone"]


class Disk(CountingDisk):
    """Counts what is opened. One run at a time here: no lock."""

    def lock(self, root: Path, say: Say | None) -> AbstractContextManager[None]:
        return nullcontext()


class IndexStates(RuleBasedStateMachine):
    """`dirty` are the paths at which something happened since the last run through the index.

    `index_harmed` stays until a run has said so and made the index anew: where nothing changed, a
    run asks for no row of a file, and damage there shows only later.
    """

    @initialize()
    def begin(self) -> None:
        self.base = Path(tempfile.mkdtemp())
        self.root = make_job(self.base / "job")
        self.index_file = self.base / "cache" / "index.sqlite"
        self.clock = 1_700_000_000
        self.hours = 0
        self.dirty = {p.relative_to(self.root).as_posix() for p in self.root.rglob("*")}
        self.names_changed = True
        self.index_harmed = self.index_gone = False

    def teardown(self) -> None:
        if hasattr(self, "base"):
            shutil.rmtree(self.base)

    def files(self) -> list[str]:
        found = (path.relative_to(self.root).as_posix() for path in self.root.rglob("*.jpg"))
        return sorted(found)

    def stamp(self, path: str) -> None:
        """Give a file a time of writing that no other has had, and remember that it changed."""
        self.clock += 1
        os.utime(self.root / path, (self.clock, self.clock))
        self.dirty.add(path)

    @rule(path=st.sampled_from(PLACES), number=st.integers(0, 9))
    def write_photo(self, path: str, number: int) -> None:
        self.names_changed |= not (self.root / path).exists()
        put(self.root, path, jpeg(number))
        self.stamp(path)

    @precondition(lambda self: self.files())
    @rule(data=st.data(), place=st.integers(20, 200), byte=st.integers(0, 255))
    def edit_keeping_the_size(self, data: st.DataObject, place: int, byte: int) -> None:
        path = data.draw(st.sampled_from(self.files()))
        whole = (self.root / path).read_bytes()
        put(self.root, path, whole[:place] + bytes([byte]) + whole[place + 1 :])
        self.stamp(path)

    @precondition(lambda self: self.files())
    @rule(data=st.data(), cut=st.integers(0, 60))
    def edit_keeping_the_time(self, data: st.DataObject, cut: int) -> None:
        path = data.draw(st.sampled_from(self.files()))
        was = (self.root / path).stat()
        put(self.root, path, (self.root / path).read_bytes()[: -1 - cut])
        os.utime(self.root / path, ns=(was.st_atime_ns, was.st_mtime_ns))
        self.dirty.add(path)

    @precondition(lambda self: self.files())
    @rule(data=st.data(), to=st.sampled_from(PLACES), copy=st.booleans())
    def move_or_copy(self, data: st.DataObject, to: str, copy: bool) -> None:
        path = data.draw(st.sampled_from(self.files()))
        if path == to:
            return
        (self.root / to).parent.mkdir(exist_ok=True)
        if copy:
            shutil.copy2(self.root / path, self.root / to)
        else:
            (self.root / path).replace(self.root / to)
        self.names_changed = True
        self.dirty |= {path, to}

    @precondition(lambda self: self.files())
    @rule(data=st.data())
    def delete(self, data: st.DataObject) -> None:
        path = data.draw(st.sampled_from(self.files()))
        (self.root / path).unlink()
        self.names_changed = True
        self.dirty.add(path)

    @precondition(lambda self: self.files())
    @rule(data=st.data())
    def touch(self, data: st.DataObject) -> None:
        self.stamp(data.draw(st.sampled_from(self.files())))

    @rule(path=st.sampled_from(RECORDS), words=st.sampled_from(["clear", "1 ctn wet", "bad = key"]))
    def write_record(self, path: str, words: str) -> None:
        text = DELIVERY.replace("2 ctn crushed", words)
        self.names_changed |= not (self.root / path).exists()
        put(self.root, path, text if words != "bad = key" else f"{text}wordz = 1\n")
        self.stamp(path)

    @rule(zone=st.sampled_from(ZONES))
    def move_the_site(self, zone: str) -> None:
        put(self.root, "job.toml", JOB.replace("America/Chicago", zone))
        self.stamp("job.toml")

    @precondition(lambda self: self.index_file.exists())
    @rule(places=st.lists(st.floats(0, 1, exclude_max=True), min_size=1, max_size=5))
    def flip_bits_of_the_index(self, places: list[float]) -> None:
        whole = bytearray(self.index_file.read_bytes())
        for place in places if whole else ():
            whole[int(place * len(whole))] ^= 0x55
        self.index_file.write_bytes(whole)
        self.index_harmed = True

    @precondition(lambda self: self.index_file.exists())
    @rule(part=st.floats(0, 1))
    def cut_the_index(self, part: float) -> None:
        whole = self.index_file.read_bytes()
        self.index_file.write_bytes(whole[: int(part * len(whole))])
        self.index_harmed = True

    @precondition(lambda self: self.index_file.exists())
    @rule()
    def delete_the_index(self) -> None:
        self.index_file.unlink()
        self.index_harmed = self.index_gone = True

    @precondition(lambda self: self.index_file.exists() and not self.index_harmed)
    @rule(version=st.integers(-1, 100))
    def give_the_index_another_version(self, version: int) -> None:
        with closing(sqlite3.connect(self.index_file)) as db:
            db.execute(f"PRAGMA user_version = {version}")
        self.index_harmed = True

    @invariant()
    def facts_are_those_read_afresh(self) -> None:
        if not hasattr(self, "root"):
            return
        self.hours += 1
        now = NOW + timedelta(hours=self.hours)
        disk, said = Disk(), []
        index = Index(self.index_file.parent, said.append)
        facts = read(self.root, now=now, index=index, disk=disk, writer="w")
        assert facts == read(self.root, now=now, disk=Disk(), log=False)
        opened = {path.relative_to(self.root).as_posix() for path in disk.opened}
        if not self.index_harmed:
            assert said == []
            photos = {path for path in opened if path.endswith(".jpg")}
            assert photos <= self.dirty, "an unchanged photo was opened"
            statements = {path for path in opened if path.endswith(".toml")}
            changed = self.names_changed or {p for p in self.dirty if p.endswith(".toml")}
            assert not statements or changed, "an unchanged record was opened"
        assert len(said) <= 1
        if said or self.index_gone:
            self.index_harmed = self.index_gone = False
        self.dirty, self.names_changed = set(), False
        again = Disk()
        assert read(self.root, now=now, index=index, disk=again, writer="w") == facts
        assert again.opened == []


IndexStates.TestCase.settings = settings(
    max_examples=10,
    stateful_step_count=14,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
TestIndexStates = IndexStates.TestCase
