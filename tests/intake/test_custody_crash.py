"""A run may die at every step of writing the log: the next recovers, loses nothing and says so.

Every step is enumerated, not drawn: one run counts the points, then each is died at, by the
program's death and by the machine's.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from claimkit.intake.custody import custody_of, log_packet, read_custody, take_in
from claimkit.intake.unlogged import Seen, Taken
from claimkit.intake.writer import writer_name
from claimkit.model.facts import Custody, CustodyEvent
from tests.intake.chain import check
from tests.intake.dying import DEATHS, Died, DyingDisk, Point

NOW = datetime(2026, 5, 20, 18, 0, tzinfo=UTC)
LATER = NOW + timedelta(hours=1)
LATEST = NOW + timedelta(hours=2)
TORN = b'{"at":"2026-05-20T18:00'
Step = Callable[[Path, DyingDisk], Custody]


def sha(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def taken(root: Path, *without: str) -> Taken:
    """Find the files of the folder without any code under test."""
    seen = []
    for path in sorted(root.rglob("*")):
        name = path.relative_to(root).as_posix()
        if path.is_file() and not name.startswith(("custody/", "out/")) and name not in without:
            data = path.read_bytes()
            record = name.startswith("records/")
            seen.append(Seen(name, sha(data), len(data), path, record, record))
    return Taken(tuple(seen))


def make(root: Path) -> None:
    for name, text in {
        "photos/1.jpg": "one",
        "photos/2.jpg": "two",
        "records/delivery.toml": 'said_by = "dana"\nnote = "é ☑"\n',
    }.items():
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        (root / name).write_text(text, encoding="utf-8", newline="\n")


def intake(root: Path, disk: DyingDisk, now: datetime = NOW) -> Custody:
    return custody_of(take_in(root, taken(root), "w", now, disk))


def second(root: Path, disk: DyingDisk) -> Custody:
    return custody_of(take_in(root, taken(root, "photos/1.jpg"), "w", LATER, disk))


def packet(root: Path, disk: DyingDisk) -> Custody:
    return log_packet(
        root,
        path="out/carrier.pdf",
        sha256=sha(b"pdf"),
        for_whom="carrier",
        now=LATER,
        writer="w",
        disk=disk,
    )


def nothing_before(root: Path) -> None:
    make(root)


def one_run_before(root: Path) -> None:
    make(root)
    intake(root, DyingDisk())
    (root / "photos/3.jpg").write_bytes(b"three")
    (root / "records/delivery.toml").write_text('said_by = "lee"\n', encoding="utf-8")


def torn_before(root: Path) -> None:
    """As one run before, and the last line half written."""
    one_run_before(root)
    log = root / "custody/w.jsonl"
    log.write_bytes(log.read_bytes() + TORN)


CASES = {
    "first run": (nothing_before, intake),
    "second run": (one_run_before, second),
    "mending a torn line": (torn_before, second),
    "logging a packet": (one_run_before, packet),
    "logging a packet after a torn line": (torn_before, packet),
}


def points_of(tmp_path: Path, case: str) -> list[Point]:
    before, step = CASES[case]
    root = tmp_path / "counted"
    before(root)
    disk = DyingDisk(death="power fails, names go")
    step(root, disk)
    assert {"write", "flush", "fsync"} <= set(disk.steps)
    lines = check(root / "custody/w.jsonl")
    disk.lose_power()  # what a run has returned from is safe
    assert check(root / "custody/w.jsonl") == lines
    return disk.points


@pytest.mark.parametrize("death", DEATHS)
@pytest.mark.parametrize("case", CASES)
def test_dies_at_every_step(tmp_path: Path, case: str, death: str) -> None:
    before, step = CASES[case]
    points = points_of(tmp_path, case)
    torn = 0
    for number, point in enumerate(points):
        root = tmp_path / str(number)
        before(root)
        with pytest.raises(Died):
            step(root, DyingDisk(die_at=point, death=death))
        torn += recovers(root, step)
    # Where the name of the first log goes with its bytes, there is nothing left to recover.
    assert torn > 0 or (case, death) == ("first run", "power fails, names go")


def recovers(root: Path, step: Step) -> bool:
    """Run again after a death and check the disk; tell whether there was anything to recover."""
    log = root / "custody/w.jsonl"
    left = log.read_bytes() if log.exists() else b""
    whole, torn = left[: left.rfind(b"\n") + 1], left[left.rfind(b"\n") + 1 :]
    kept = len([path for path in root.glob("custody/w.torn-*") if path.suffix != ".tmp"])
    original = {path: path.stat().st_mtime_ns for path in root.rglob("*.jpg")}
    step(root, DyingDisk())
    custody = intake(root, DyingDisk(), LATEST)

    lines = check(log)
    assert log.read_bytes().startswith(whole), "a line that was whole is gone"
    assert custody.breaks == ()
    pieces = [path.read_bytes() for path in root.glob("custody/w.torn-*")]
    assert torn in (b"", *pieces), "torn bytes are gone"
    assert set(pieces) <= {torn, TORN}, "a piece was kept in part"
    assert len(set(pieces)) == len(pieces), "a piece was kept twice"
    broken = bool(torn) or kept > 0 or _short(whole)
    recovered = [line for line in lines if line["event"] == "recovered"]
    assert bool(recovered) == broken
    assert len(custody.recovered) == len(recovered)
    assert len({line.get("path") for line in recovered}) == len(recovered), "said twice"
    assert not list(root.glob("custody/*.tmp")) or not broken
    _nothing_lost(root, lines)
    for path, mtime in original.items():
        assert path.stat().st_mtime_ns == mtime
    size = log.stat().st_size
    intake(root, DyingDisk(), LATEST)
    assert log.stat().st_size == size, "a third run has nothing to say"
    return broken


def _short(whole: bytes) -> bool:
    """Tell, from the lines alone, whether the last run wrote fewer lines than it announced."""
    rows = [json.loads(row) for row in whole.split(b"\n")[:-1]]
    starts = [place for place, row in enumerate(rows) if "lines" in row]
    return bool(starts) and len(rows) - starts[-1] - 1 < rows[starts[-1]]["lines"]


def _nothing_lost(root: Path, lines: list[dict[str, object]]) -> None:
    logged = {(line.get("path"), line.get("sha256")) for line in lines}
    for seen in taken(root).files:
        assert (seen.path, seen.sha256) in logged, seen.path
        if seen.keep_text:
            texts = [line.get("detail") for line in lines if line.get("sha256") == seen.sha256]
            assert seen.where.read_bytes().decode() in texts


def test_a_log_written_in_peace_says_nothing_of_recovery(tmp_path: Path) -> None:
    make(tmp_path)
    custody = intake(tmp_path, DyingDisk())
    assert custody.recovered == ()
    assert [line.event for line in custody.lines] == [
        CustodyEvent.RUN,
        CustodyEvent.FIRST_SEEN,
        CustodyEvent.FIRST_SEEN,
        CustodyEvent.RECORD_ADDED,
    ]


def test_a_torn_line_is_reported_before_anything_is_mended(tmp_path: Path) -> None:
    torn_before(tmp_path)
    before = (tmp_path / "custody/w.jsonl").read_bytes()
    (said,) = read_custody(tmp_path, DyingDisk()).recovered
    assert "23 bytes of an unfinished line" in said
    assert (tmp_path / "custody/w.jsonl").read_bytes() == before


def test_another_writers_torn_line_is_never_touched(tmp_path: Path) -> None:
    torn_before(tmp_path)
    before = (tmp_path / "custody/w.jsonl").read_bytes()
    custody = custody_of(take_in(tmp_path, taken(tmp_path), "other", LATER, DyingDisk()))
    assert (tmp_path / "custody/w.jsonl").read_bytes() == before
    assert any("custody/w.jsonl ends" in sentence for sentence in custody.recovered)


def test_a_disk_that_runs_full_in_the_middle_of_a_line_is_mended(tmp_path: Path) -> None:
    class Full(DyingDisk):
        def die(self) -> None:
            raise OSError(28, "No space left on device")

    one_run_before(tmp_path)
    disk = DyingDisk()
    root = tmp_path.resolve()
    with pytest.raises(OSError, match="No space"):
        take_in(root, taken(root), "w", LATER, Full(die_at=(2, "40")))
    assert disk.steps == []
    assert recovers(root, second)


def test_dying_while_the_writers_name_is_made(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("CLAIMKIT_WRITER", raising=False)
    disk = DyingDisk()
    writer_name(None, disk, tmp_path / "counted")
    for number, point in enumerate(disk.points):
        folder = tmp_path / str(number)
        with pytest.raises(Died):
            writer_name(None, DyingDisk(die_at=point), folder)
        name = writer_name(None, DyingDisk(), folder)
        assert name == writer_name(None, DyingDisk(), folder)
