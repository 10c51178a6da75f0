"""Two runs at once: the second waits, says so, and neither loses a line."""

from __future__ import annotations

import subprocess
import sys
import time
from datetime import UTC, datetime
from pathlib import Path

import pytest

from claimkit.intake.disk import RealDisk
from claimkit.intake.lock import lock_file, locked
from claimkit.intake.read import read
from claimkit.model.stop import CannotGoOn
from tests.intake.chain import check
from tests.intake.folder import jpeg, make_job, put

HOLD = """
import sys, time
from pathlib import Path
from claimkit.intake.lock import locked
with locked(Path(sys.argv[1])):
    print("held", flush=True)
    sys.stdin.readline()
"""
READ = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from claimkit.intake.read import read
for line in sys.stdin:
    read(Path(sys.argv[1]), now=datetime(2026, 5, 20, tzinfo=UTC))
    print("read", flush=True)
"""


@pytest.fixture(autouse=True)
def _own_places(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CLAIMKIT_CACHE", str(tmp_path / "cache"))
    monkeypatch.setenv("CLAIMKIT_WRITER", "w")


def start(script: str, root: Path) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-c", script, str(root)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )


def test_a_second_run_waits_and_says_so(tmp_path: Path) -> None:
    root = make_job(tmp_path / "job")
    with start(HOLD, root) as other:
        assert other.stdout
        assert other.stdin
        assert other.stdout.readline() == "held\n"
        said: list[str] = []

        def let_go(sentence: str) -> None:
            said.append(sentence)
            assert other.stdin
            other.stdin.write("\n")
            other.stdin.flush()

        began = time.monotonic()
        with locked(root, let_go, say_after_s=0.2):
            assert time.monotonic() - began >= 0.2
            assert other.wait(5) == 0
    assert said == [f"Another run of claimkit is at work on {root}; waiting for it."]


def test_a_run_that_ends_soon_is_waited_for_in_silence(tmp_path: Path) -> None:
    with locked(tmp_path, pytest.fail):
        pass
    with locked(tmp_path, pytest.fail):
        pass


def test_waiting_has_an_end(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with (
        locked(tmp_path),
        pytest.raises(CannotGoOn, match=r"more than 0\.2 seconds\. End it, or wait"),
        locked(tmp_path, say_after_s=0.1, give_up_after_s=0.2),
    ):
        pytest.fail("both held it")
    assert "waiting for it." in capsys.readouterr().err


def test_a_dead_run_holds_no_lock(tmp_path: Path) -> None:
    with start(HOLD, tmp_path) as other:
        assert other.stdout
        assert other.stdout.readline() == "held\n"
        other.kill()
        other.wait(5)
        with locked(tmp_path, say_after_s=2.0, give_up_after_s=2.0):
            pass


def test_another_job_is_not_waited_for(tmp_path: Path) -> None:
    with locked(tmp_path / "a"), locked(tmp_path / "b", say_after_s=0.0, give_up_after_s=0.0):
        assert lock_file(tmp_path / "a") != lock_file(tmp_path / "b")


def test_the_lock_lies_outside_the_job(tmp_path: Path) -> None:
    root = tmp_path / "job"
    root.mkdir()
    with locked(root):
        assert list(root.iterdir()) == []


def test_without_a_cache_the_lock_lies_in_custody(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("CLAIMKIT_CACHE", str(put(tmp_path, "file", b"") / "below"))
    root = tmp_path / "job"
    root.mkdir()
    with (
        locked(root),
        pytest.raises(CannotGoOn),
        locked(root, lambda _: None, say_after_s=0.0, give_up_after_s=0.1),
    ):
        pytest.fail("both held it")
    facts = read(make_job(root), now=datetime(2026, 5, 20, tzinfo=UTC), disk=RealDisk())
    assert facts.not_taken == ()


def test_where_nothing_can_be_written_no_lock_is_needed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("CLAIMKIT_CACHE", str(put(tmp_path, "file", b"") / "below"))
    put(tmp_path, "job/custody", b"no folder")
    entered = False
    with locked(tmp_path / "job"):
        entered = True
    assert entered


def test_two_processes_at_once_write_one_whole_log(tmp_path: Path) -> None:
    root = make_job(tmp_path / "job")
    with start(READ, root) as one, start(READ, root) as two:
        for number in range(3, 9):
            put(root, f"photos/{number}.jpg", jpeg(number))
            for run in (one, two):
                assert run.stdin
                run.stdin.write("\n")
                run.stdin.flush()
            for run in (one, two):
                assert run.stdout
                assert run.stdout.readline() == "read\n"
        for run in (one, two):
            assert run.stdin
            run.stdin.close()
            assert run.wait(10) == 0
    lines = check(root / "custody/w.jsonl")
    logged = [line["path"] for line in lines if line["event"] == "first seen"]
    assert len(logged) == len(set(logged)) == 10, "each file is logged by one of the two, once"
