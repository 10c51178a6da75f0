"""What goes wrong around a run: full disks, files that vanish, two at once, kills, wrong clocks.

Each fault has a plain sentence, leaves no half file under a final name, and loses nothing. The
long kills are in tests/bench/kill_commands.py; a dozen of them run here.
"""

from __future__ import annotations

import errno
import json
import os
import re
import subprocess
import sys
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import click
import pypdfium2
import pytest
from click.testing import CliRunner

import claimkit.intake.disk
from claimkit import cli
from claimkit.cli import app, main
from claimkit.intake.disk import RealDisk, put, put_new
from claimkit.model.case import Reader
from claimkit.model.letter import LetterKind
from claimkit.model.stop import DONE, NOT_READ, STOPPED, CannotGoOn
from claimkit.wiring.annexes import write_annex
from claimkit.wiring.handover import write_bundle
from claimkit.wiring.letterbox import write_letter
from claimkit.wiring.workspace import work_out, write_packet
from tests.bench import kill_commands
from tests.compose.jobs import copy_of
from tests.intake.chain import check
from tests.intake.folder import DELIVERY, JOB, jpeg, make_job
from tests.intake.folder import put as put_file

NOW = datetime(2026, 10, 20, 18, 0, tzinfo=UTC)
DAY = ("--as-of", "2026-10-20")
posix = pytest.mark.skipif(sys.platform == "win32", reason="forks a run")


@pytest.fixture(autouse=True)
def _own_places(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CLAIMKIT_CACHE", str(tmp_path_factory.mktemp("cache")))
    monkeypatch.setenv("CLAIMKIT_WRITER", "w")


@pytest.fixture
def job(tmp_path: Path) -> Path:
    folder = tmp_path / "job"
    copy_of("ready-to-file", folder)
    return folder


def said(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], *words: str) -> str:
    """Run claimkit as the command line does; give what it says on standard error."""
    monkeypatch.setattr(sys, "argv", ["claimkit", *words])
    with pytest.raises(SystemExit) as end:
        main()
    told = capsys.readouterr().err
    assert end.value.code == STOPPED, told
    return told


def one_sentence(told: str, *parts: str) -> None:
    assert "Traceback" not in told
    for part in parts:
        assert part in told
    assert told.startswith("claimkit: ")


# ---- full, read-only and busy disks ----


class Refusing:
    """A file open for writing on a disk that has no room for it, or takes nothing."""

    def __init__(self, number: int) -> None:
        self.number = number

    def __call__(self, path: Path, mode: str) -> Refusing:
        path.open(mode).close()  # the name is there, and nothing more goes in
        return self

    def write(self, _data: bytes) -> None:
        raise OSError(self.number, os.strerror(self.number))

    def close(self) -> None:
        """Nothing was kept."""


FULL = (errno.ENOSPC, "The disk is full: free some space and run this again.")
REFUSED = [
    (("packet", "--for", "own", *DAY), *FULL),
    (("annex", "--for", "carrier", *DAY), *FULL),
    (("timestamp",), *FULL),
    (("notice", *kill_commands.NOTICE, *DAY), *FULL),
    (("receiving-sheet",), *FULL),
    (("calendar", *DAY), *FULL),
    (("calendar", *DAY), errno.EROFS, "The disk can only be read."),
    (("calendar", *DAY), errno.EIO, "The disk or the network failed."),
]


@pytest.mark.parametrize("words, number, says", REFUSED, ids=lambda value: str(value)[:20])
def test_a_disk_that_refuses_is_one_sentence_and_leaves_no_half_file(
    job: Path,
    words: tuple[str, ...],
    number: int,
    says: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    before = kill_commands.originals(job)
    with monkeypatch.context() as patch:
        patch.setattr(claimkit.intake.disk, "_RealHandle", Refusing(number))
        one_sentence(said(patch, capsys, words[0], str(job), *words[1:]), says)
    assert kill_commands.originals(job) == before
    assert kill_commands.half(job) == []
    assert not list((job / "out").glob("*.tmp")), "half a file keeps a full disk full"


def test_reading_goes_on_where_the_log_cannot_be_written(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(claimkit.intake.disk, "_RealHandle", Refusing(errno.ENOSPC))
        result = CliRunner().invoke(app, ["status", str(job), *DAY])
    assert result.exit_code == NOT_READ
    told = " ".join(result.stdout.split())
    assert "missing from the custody log, and it cannot be written: No space left" in told
    assert "The disk is full: free some space and run this again." in told
    assert CliRunner().invoke(app, ["status", str(job), *DAY]).exit_code != NOT_READ


@posix
def test_a_bundle_that_the_disk_does_not_hold_leaves_nothing(job: Path, tmp_path: Path) -> None:
    """The kernel itself refuses: no file may be larger than the packet by more than a little."""
    import resource

    limit = resource.getrlimit(resource.RLIMIT_FSIZE)
    words = ["bundle", str(job), "--for", "carrier", *DAY]
    assert CliRunner().invoke(app, ["packet", str(job), "--for", "carrier", *DAY]).exit_code == DONE
    (packet,) = (job / "out").iterdir()
    resource.setrlimit(resource.RLIMIT_FSIZE, (packet.stat().st_size + 20_000, limit[1]))
    try:
        code = kill_commands.run(words, tmp_path / "told", None)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, limit)
    told = (tmp_path / "told").read_text("utf-8")
    assert code == STOPPED, told
    assert "cannot be written (File too large)" in told
    assert not list((job / "out").glob("*bundle*"))


def test_a_name_that_is_taken_is_never_written_over(tmp_path: Path) -> None:
    put_new(RealDisk(), tmp_path / "a", b"first")
    with pytest.raises(FileExistsError):
        put_new(RealDisk(), tmp_path / "a", b"second")
    assert (tmp_path / "a").read_bytes() == b"first"


@pytest.mark.parametrize("times", [1, 3, 99])
def test_a_file_that_another_program_holds_is_waited_for_a_little(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, times: int
) -> None:
    """As on Windows, where a viewer or a synced folder keeps a file from being replaced."""
    left = [times]
    replace = Path.replace

    def held(self: Path, target: Path) -> Path:
        left[0] -= 1
        if left[0] >= 0:
            raise PermissionError(errno.EACCES, "Access is denied", str(target))
        return replace(self, target)

    monkeypatch.setattr(Path, "replace", held)
    monkeypatch.setattr(claimkit.intake.disk, "_HELD_S", (0.0, 0.0, 0.0, 0.0))
    (tmp_path / "a").write_bytes(b"old")
    if times < 5:
        put(RealDisk(), tmp_path / "a", b"new")
        assert (tmp_path / "a").read_bytes() == b"new"
        return
    with pytest.raises(PermissionError):
        put(RealDisk(), tmp_path / "a", b"new")
    assert (tmp_path / "a").read_bytes() == b"old"
    assert [p.name for p in tmp_path.iterdir()] == ["a"]


def test_a_packet_that_is_held_open_is_one_sentence(
    job: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def held(self: Path, target: Path) -> Path:
        raise PermissionError(errno.EACCES, "Access is denied", str(target))

    assert CliRunner().invoke(app, ["status", str(job), *DAY]).exit_code != STOPPED
    monkeypatch.setattr(RealDisk, "replace", lambda *where: held(*where[1:]))
    told = said(monkeypatch, capsys, "packet", str(job), "--for", "own", *DAY)
    one_sentence(told, "Access is denied", "Close it where it is open, or choose another place")


@pytest.mark.parametrize(
    "error, says",
    [
        (FileNotFoundError(2, "No such file", "photos/a.jpg"), "photos/a.jpg could not be used"),
        (OSError(errno.ENOSPC, "No space left on device"), "The disk is full"),
        (PermissionError(13, "Permission denied", "x\u202egpj"), "x\\u202egpj could not be used"),
    ],
)
def test_a_refusal_that_no_command_foresaw_is_a_sentence_too(
    error: OSError, says: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def refused(**_: object) -> None:
        raise error

    monkeypatch.setattr(cli.app, "main", refused)
    one_sentence(said(monkeypatch, capsys), says)


# ---- what vanishes between reading and writing ----


def packet(job: Path) -> object:
    case = work_out(job, now=NOW, as_of=NOW.date())
    next(job.rglob("*.jpg")).unlink()
    written = write_packet(case, job, Reader.OWN, shipment=None, paper="letter", out=None, now=NOW)
    text = "".join(
        page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(written.path)
    )
    assert re.search(r"The\s+file\s+cannot\s+be\s+read", text), "the packet says which is missing"
    return written


def letter(job: Path) -> object:
    case = work_out(job, now=NOW, as_of=NOW.date())
    for paper in (job / "documents").iterdir():
        paper.unlink()
    return write_letter(
        case, job, LetterKind.CLAIM, shipment=None, paper="letter", out=None, now=NOW
    )


def annexed(job: Path) -> object:
    case = work_out(job, now=NOW, as_of=NOW.date())
    for paper in (job / "documents").iterdir():
        paper.unlink()
    return write_annex(case, job, Reader.CARRIER, shipment=None, paper="letter", out=None, now=NOW)


def bundled(job: Path) -> object:
    case = work_out(job, now=NOW, as_of=NOW.date())
    next((job / "records").iterdir()).unlink()
    return write_bundle(
        case, job, Reader.OWN, shipment=None, paper="letter", zipped=True, out=None, now=NOW
    )


@pytest.mark.parametrize("make", [packet, letter, annexed, bundled])
def test_a_file_that_is_gone_when_it_is_drawn_is_named(
    job: Path, make: Callable[[Path], object]
) -> None:
    try:
        make(job)
    except CannotGoOn as no:
        told = str(no)
    except OSError as error:  # for which the command line has one sentence
        from claimkit.intake.refused import sentence

        told = sentence(error)
    else:
        assert make is packet
        return
    assert re.search(r"(documents|records)/", told)
    assert "run claimkit verify" in told or "Put it back" in told or "put it back" in told
    assert not list((job / "out").glob("*bundle*"))
    assert kill_commands.half(job) == []


@pytest.mark.parametrize("when", range(1, 8))
def test_a_folder_renamed_while_it_is_read(tmp_path: Path, when: int) -> None:
    from claimkit.intake.disk import FileBytes
    from claimkit.intake.read import read

    root, moved = make_job(tmp_path / "job"), tmp_path / "moved"

    class Moving(RealDisk):
        reads = 0

        def read(self, path: Path) -> FileBytes:
            self.reads += 1
            if self.reads == when:
                root.rename(moved)
            return super().read(path)

    if when <= 5:
        with pytest.raises(CannotGoOn, match="was moved or renamed while claimkit was at work"):
            read(root, now=NOW, disk=Moving())
    else:
        read(root, now=NOW, disk=Moving())
    assert moved.exists() or when > 5, "five files are read"
    assert root.exists() is not moved.exists(), "no second folder is begun in the old place"
    there = moved if moved.exists() else root
    assert read(there, now=NOW).problems == ()
    assert len([x for x in check(there / "custody/w.jsonl") if "first" in x["event"]]) == 4


def test_a_folder_renamed_while_a_packet_is_drawn(job: Path, tmp_path: Path) -> None:
    case = work_out(job, now=NOW, as_of=NOW.date())
    job.rename(tmp_path / "renamed")
    with pytest.raises(CannotGoOn, match="was moved or renamed while claimkit was at work"):
        write_packet(case, job, Reader.OWN, shipment=None, paper="letter", out=None, now=NOW)
    assert not job.exists()


# ---- two runs at once ----


def at_once(told: Path, *commands: list[str]) -> list[tuple[int, str]]:
    """Fork the runs together; give their exit codes and what they said."""
    pids = []
    for number, words in enumerate(commands):
        pid = os.fork()
        if pid == 0:
            kill_commands._child(words, told / f"told-{number}", None)
        pids.append(pid)
    codes = [os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1]) for pid in pids]
    texts = [(told / f"told-{n}").read_text("utf-8") for n in range(len(commands))]
    return list(zip(codes, texts, strict=True))


@posix
def test_two_packets_at_once_take_two_names(job: Path, tmp_path: Path) -> None:
    words = ["packet", str(job), "--for", "customer", *DAY, "--paper"]
    ended = at_once(tmp_path, [*words, "letter"], [*words, "a4"])
    assert [code for code, _ in ended] == [DONE, DONE], ended
    made = sorted(p.name for p in (job / "out").iterdir())
    assert made == ["customer-2026-10-20-2.pdf", "customer-2026-10-20.pdf"]
    assert kill_commands.half(job) == []
    lines = check(job / "custody" / "w.jsonl")
    assert sorted(x["path"] for x in lines if x["event"] == "packet written") == [
        f"out/{name}" for name in made
    ]


@posix
def test_two_new_jobs_in_one_folder_make_one(tmp_path: Path) -> None:
    words = ["new", str(tmp_path / "birch"), *kill_commands.NEW]
    ended = at_once(tmp_path, words, words)
    assert sorted(code for code, _ in ended) == [DONE, STOPPED], ended
    assert any("left as it is" in text for _, text in ended)
    assert kill_commands.half(tmp_path / "birch") == []


@posix
def test_two_notices_at_once_are_two_records_or_one_and_a_sentence(
    job: Path, tmp_path: Path
) -> None:
    words = ["notice", str(job), *kill_commands.NOTICE, *DAY]
    ended = at_once(tmp_path, words, words)
    new = [p.name for p in (job / "records").iterdir() if p.name.startswith("2026-10-16-claim")]
    written = sum(code != STOPPED for code, _ in ended)
    assert len(new) == written >= 1
    assert all("Run this again" in text for code, text in ended if code == STOPPED)
    assert kill_commands.half(job) == []


# ---- kill -9 ----


@posix
@pytest.mark.skipif(sys.platform == "darwin", reason="forking with threads is not safe there")
def test_a_dozen_kills_lose_nothing(tmp_path: Path) -> None:
    names = ("new", "notice", "calendar", "receiving-page")
    chosen = [c for c in kill_commands.commands() if c.name in names]
    died = 0
    for seed in range(7, 12):  # on a busy machine many kills come too late
        home = tmp_path / str(seed)
        home.mkdir()
        tally = kill_commands.kill_all(12, seed, chosen, home)
        assert tally.wrong == []
        died += tally.kills - tally.ended_first
        if died >= 6:
            break
    assert died >= 6, "most died before they had ended"


# ---- the clock ----


def status_at(job: Path, now: datetime, monkeypatch: pytest.MonkeyPatch) -> tuple[str, str]:
    class Clock(datetime):
        @classmethod
        def now(cls, tz: object = None) -> datetime:  # type: ignore[override]
            return now

    monkeypatch.setattr(cli, "datetime", Clock)
    result = CliRunner().invoke(app, ["status", str(job)])
    return " ".join(result.stdout.split()), result.stderr


def test_a_clock_that_was_years_ahead_is_told_ever_after(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    ahead = NOW + timedelta(days=4000)
    assert "custody-clock" not in status_at(job, ahead, monkeypatch)[0]
    out, err = status_at(job, NOW, monkeypatch)
    assert "This computer's clock is behind, or that of w was ahead." in out
    assert "Look at this computer's clock" in err
    put_file(job, "photos/late.jpg", jpeg(9))  # and the log goes on, with its order kept
    status_at(job, NOW + timedelta(hours=1), monkeypatch)
    assert check(job / "custody" / "w.jsonl")[-1]["path"] == "photos/late.jpg"


def test_a_clock_that_is_behind_is_told_at_once(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert status_at(job, NOW, monkeypatch)[1] == ""
    assert status_at(job, NOW - timedelta(minutes=1), monkeypatch)[1] == "", (
        "clocks differ a little"
    )
    out, err = status_at(job, datetime(1970, 1, 1, tzinfo=UTC), monkeypatch)
    assert "[custody-clock]" in out
    assert "1970-01-01 00:00 UTC" in err
    assert "as of Wed 1969-12-31" in out, "the day that is reasoned on stands on top"


# ---- synced folders and consoles ----


def test_conflict_copies_of_everything_are_named_and_not_read(job: Path) -> None:
    first = CliRunner().invoke(app, ["status", str(job), "--json", *DAY])
    copies = [
        "job (conflicted copy 2026-10-20).toml",
        "records/2026-10-08-delivery.sync-conflict-20261020-101010-ABCDEF.toml",
        "photos/F2 (case conflict).jpg",
        "custody/w (conflicted copy).jsonl",
    ]
    for name in copies:
        put_file(job, name, (job / "job.toml").read_bytes())
    again = CliRunner().invoke(app, ["status", str(job), "--json", *DAY])
    left = [one["path"] for one in json.loads(again.stdout)["left_alone"]]
    assert sorted(left) == sorted(copies)
    assert first.exit_code == again.exit_code


@pytest.mark.parametrize("encoding", ["cp437"])  # the least that a Windows console shows
def test_a_console_of_another_encoding_ends_no_run(tmp_path: Path, encoding: str) -> None:
    root = make_job(tmp_path / "job")
    put_file(root, "job.toml", JOB.replace("Road 9", "Road ☂"))
    own = {"PYTHONIOENCODING": encoding, "PYTHONUTF8": "0", "LC_ALL": "C", "LANG": "C"}
    result = subprocess.run(
        [sys.executable, "-m", "claimkit", "timeline", str(root)],
        env=os.environ | own,
        capture_output=True,
        check=False,
    )
    assert b"Traceback" not in result.stderr
    assert "☂" in result.stdout.decode("utf-8")


def test_what_no_console_can_show_is_shown_as_codes(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    told = said(monkeypatch, capsys, "status", "no/ü☂/\udcff\u202egpj")
    assert "\u202e" not in told
    assert "is no folder" in told


HOSTILE = r"\u001b]0;gone\u0007\u001b[2J\u202egpj\u2028\u0085"


@pytest.mark.parametrize(
    "words",
    [
        ("status",),
        ("timeline",),
        ("exceptions",),
        ("deadlines",),
        ("gaps",),
        ("ask",),
        ("cards",),
        ("annex", "--for", "own"),
        ("letter", "--about", "claim", "--no-packet"),
    ],
    ids=lambda words: words[0],
)
def test_no_text_of_a_job_reaches_the_terminal_as_a_command(
    tmp_path: Path, words: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What moves a cursor (ECMA-48) or turns the reading direction (UAX 9) is shown as a code."""
    monkeypatch.setenv("CLAIMKIT_CACHE", str(tmp_path / "cache"))
    root = make_job(tmp_path / "job")
    job_toml = JOB.replace('Road 9"', f'Road 9{HOSTILE}"').replace("Freight", f"Freight{HOSTILE}")
    put_file(root, "job.toml", job_toml.replace("Wall panel", f"Wall panel{HOSTILE}"))
    put_file(root, "records/delivery.toml", DELIVERY.replace("crushed", f"crushed{HOSTILE}"))
    monkeypatch.setattr(click.utils, "should_strip_ansi", lambda *_: False)  # as on a terminal
    result = CliRunner().invoke(app, [words[0], str(root), *words[1:], *DAY], color=True)
    assert isinstance(result.exception, SystemExit | None)
    shown = re.findall(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e]", result.output)
    assert shown == []


def test_a_text_longer_than_a_page_is_no_sheet(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    root = make_job(tmp_path / "job")
    put_file(
        root, "job.toml", JOB.replace("Wall panel", "wide " * 1190).replace("Road 9", "w " * 2900)
    )
    one_sentence(said(monkeypatch, capsys, "receiving-sheet", str(root)), "is longer than a page")
