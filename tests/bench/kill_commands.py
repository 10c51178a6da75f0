"""Kill every command that writes, at random points: nothing is lost, and the next run goes on.

Run by hand, in a process of its own, from the root of the checkout:
`python -m tests.bench.kill_commands --kills 600 --seed 1`. Each kill forks a run of one command on
a fresh copy of a sample job and ends it with SIGKILL: at a random moment, or a moment after one of
its own openings, renamings, removals or new folders. Then the folder is looked at without claimkit,
and the same command is run again to its end.

What is looked at: every original as it was; every whole custody line still there and its chain
whole (tests/intake/chain.py); every file under a final name whole by its own kind; after the next
run no problem that was not there before, every file logged once, what was left unfinished named.
"""

from __future__ import annotations

import argparse
import csv
import hashlib
import io
import json
import os
import random
import shutil
import signal
import sys
import tempfile
import threading
import time
import tomllib
import zipfile
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from email import message_from_bytes
from pathlib import Path

from tests.intake.chain import check

DAY = ("--as-of", "2026-10-20")
TABLE = ("--of", "photos", "--out", "{aside}/t.csv")
NEW = ("--title", "Birch Lane 3", "--address", "3 Birch Lane", "--zone", "America/Chicago")
NOTICE = (
    *("--about", "claim", "--from", "us", "--to", "hauler", "--how", "e-mail"),
    *("--sent", "2026-10-16 08:30", "--text", "One panel cracked.", "--by", "inez"),
)
RECEIVE = (
    *("--arrived", "2026-10-08 09:10", "--left", "2026-10-08 09:40", "--receipt", "paper"),
    *("--signed", "--words", "Carton 2 of 4: lower left corner crushed, 4 in.", "--by", "inez"),
)
EVENTS = frozenset({"open", "os.rename", "os.remove", "os.mkdir", "os.rmdir", "os.truncate"})
SOON_S = 0.004  # after an event, at most: long enough to be in the middle of what follows it


@dataclass(frozen=True)
class Command:
    """A command that writes: its sample job and its words; {job} and {aside} stand for folders."""

    name: str
    job: str
    words: tuple[str, ...]


@dataclass
class Killed:
    """What became of the kills."""

    kills: int = 0
    ended_first: int = 0
    left_unfinished: int = 0
    recovered: int = 0
    by: Counter[str] = field(default_factory=Counter)
    wrong: list[str] = field(default_factory=list)


def commands() -> tuple[Command, ...]:
    """Give every command that writes."""
    ready, gap = "ready-to-file", "disputed-gap"
    return (
        Command("new", "", ("new", "{aside}/birch", *NEW)),
        Command("receive", ready, ("receive", "{job}", *RECEIVE)),
        Command("notice", ready, ("notice", "{job}", *NOTICE, *DAY)),
        Command("packet", ready, ("packet", "{job}", "--for", "carrier", *DAY)),
        Command("letter", ready, ("letter", "{job}", "--about", "claim", *DAY)),
        Command("cards", gap, ("cards", "{job}", *DAY)),
        Command("bundle", ready, ("bundle", "{job}", "--for", "carrier", *DAY)),
        Command("bundle folder", ready, ("bundle", "{job}", "--for", "own", "--folder", *DAY)),
        Command("timestamp", ready, ("timestamp", "{job}")),
        Command("calendar", ready, ("calendar", "{job}", *DAY)),
        Command("table", ready, ("table", "{job}", *TABLE, *DAY)),
        Command("statement", ready, ("statement", "{job}", "--of", "inez", *DAY)),
        Command("annex", ready, ("annex", "{job}", "--for", "carrier", *DAY)),
        Command("gaps", gap, ("gaps", "{job}", *DAY)),
        Command("measure", gap, ("measure", "{job}", "--of", "gaps")),
        Command("status", ready, ("status", "{job}", *DAY)),
        Command("receiving-sheet", ready, ("receiving-sheet", "{job}")),
        Command("receiving-page", ready, ("receiving-page", "{job}")),
    )  # fmt: skip


# What is typed where a command asks: one seam read, and the end of the input at the next one.
TYPED = {"measure": "2026-09-10 10:00\ncomplaint\n\n\n\n\n\nA-B\n4.4\n4.4\n\n"}


# ---- one run, forked so that the libraries are loaded once ----


def _child(words: Sequence[str], told: Path, when: tuple[int, float] | None) -> None:
    """Be the run; `when` is after how many events, and how much later, it is to be killed."""
    out = os.open(told, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
    os.dup2(out, 1)
    os.dup2(out, 2)
    # A test run has put others in their place.
    sys.stdout = os.fdopen(os.dup(1), "w", encoding="utf-8")
    sys.stderr = os.fdopen(os.dup(2), "w", encoding="utf-8")
    if words[0] in TYPED:
        typed, typing = os.pipe()
        os.write(typing, TYPED[words[0]].encode())
        os.close(typing)
        os.dup2(typed, 0)
        sys.stdin = os.fdopen(os.dup(0), encoding="utf-8")
    if when is not None:
        _armed(*when)
    sys.argv = ["claimkit", *words]
    from claimkit.cli import main

    code = 0
    try:
        main()
    except SystemExit as end:
        code = end.code if isinstance(end.code, int) else 1
    except BaseException:  # as the interpreter would print it
        import traceback

        traceback.print_exc()
        code = 99
    sys.stdout.flush()
    sys.stderr.flush()
    os._exit(code)


def _armed(events: int, later: float) -> None:
    """Kill this process some time after its nth change of the disk."""
    left = [events]

    def watch(event: str, arguments: tuple[object, ...]) -> None:
        if event not in EVENTS or (event == "open" and not _writes(arguments)):
            return
        left[0] -= 1
        if left[0] == 0:
            threading.Thread(target=_kill, args=(later,), daemon=True).start()

    sys.addaudithook(watch)


def _kill(later: float) -> None:
    time.sleep(later)
    os.kill(os.getpid(), signal.SIGKILL)


def _writes(arguments: tuple[object, ...]) -> bool:
    flags = arguments[2] if len(arguments) > 2 else 0
    return isinstance(flags, int) and bool(flags & (os.O_WRONLY | os.O_RDWR))


def _events_of(words: Sequence[str], told: Path) -> int:
    """Count the changes of the disk in a whole run, by a run of its own."""
    reading, writing = os.pipe()
    pid = os.fork()
    if pid == 0:
        count = [0]

        def watch(event: str, arguments: tuple[object, ...]) -> None:
            if event in EVENTS and (event != "open" or _writes(arguments)):
                count[0] += 1

        whole = os._exit

        def ended(code: int) -> None:
            os.write(writing, str(count[0]).encode())
            whole(code)

        os._exit = ended  # type: ignore[assignment]
        sys.addaudithook(watch)
        _child(words, told, None)
    os.close(writing)
    os.waitpid(pid, 0)
    with os.fdopen(reading) as counted:
        return int(counted.read() or 0)


def run(words: Sequence[str], told: Path, when: tuple[int, float] | float | None) -> int | None:
    """Run a command; give its exit code, or None where it was killed."""
    pid = os.fork()
    if pid == 0:
        _child(words, told, when if isinstance(when, tuple) else None)
    if isinstance(when, float):
        time.sleep(when)
        os.kill(pid, signal.SIGKILL)
    _, status = os.waitpid(pid, 0)
    return None if os.WIFSIGNALED(status) else os.WEXITSTATUS(status)


# ---- what is looked at, without claimkit ----


def originals(root: Path) -> dict[str, bytes]:
    """Give every file of a job that is not claimkit's own."""
    return {
        p.relative_to(root).as_posix(): p.read_bytes()
        for p in root.rglob("*")
        if p.is_file() and p.relative_to(root).parts[0] not in ("custody", "out")
    }


def logs(root: Path) -> dict[str, bytes]:
    """Give the custody logs up to their last whole lines."""
    found = {p.name: p.read_bytes() for p in root.glob("custody/*.jsonl")}
    return {name: data[: data.rfind(b"\n") + 1] for name, data in found.items()}


def _pdf(data: bytes) -> bool:
    import pypdfium2

    return data.rstrip().endswith(b"%%EOF") and len(pypdfium2.PdfDocument(data)) > 0


def _zip(data: bytes) -> bool:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        names = archive.namelist()
        return archive.testzip() is None and any("tagmanifest" in name for name in names)


def _toml(data: bytes) -> bool:
    return bool(tomllib.loads(data.decode("utf-8"))) and data.endswith(b"\n")


def _csv(data: bytes) -> bool:
    rows = csv.reader(data.decode("utf-8").splitlines())
    return data.endswith(b"\n") and len({len(row) for row in rows}) == 1


WHOLE: dict[str, Callable[[bytes], bool]] = {
    ".pdf": _pdf,
    ".zip": _zip,
    ".toml": _toml,
    ".eml": lambda data: message_from_bytes(data).defects == [] and data.rstrip().endswith(b"--"),
    ".ics": lambda data: data.endswith(b"END:VCALENDAR\r\n"),
    ".json": lambda data: bool(json.loads(data)),
    ".csv": _csv,
    ".txt": lambda data: data.endswith(b"\n"),
    ".html": lambda data: data.rstrip().endswith(b"</html>"),
    ".js": lambda data: len(data) > 200,
    ".webmanifest": lambda data: bool(json.loads(data)),
    ".tsq": lambda data: len(data) > 40 and data[0] == 0x30 and data[1] == len(data) - 2,
    ".list": lambda data: data.endswith(b"\n"),
}  # fmt: skip


def half(root: Path) -> list[str]:
    """Name the files under final names that are not whole."""
    wrong = []
    for path in sorted(p for p in root.rglob("*") if p.is_file()):
        name = path.relative_to(root).as_posix()
        own = name.startswith(("out/", "custody/", "records/")) or name in ("job.toml", "t.csv")
        cut_off = any(part.endswith(".tmp") for part in path.relative_to(root).parts)
        log = name.startswith("custody/") and (".jsonl" in name or ".torn-" in name)
        bag = any((parent / "bagit.txt").exists() for parent in path.parents)
        if not own or cut_off or log or bag:
            continue
        whole = WHOLE.get(path.suffix)
        try:
            if whole is None or not whole(path.read_bytes()):
                wrong.append(name if whole else f"{name} (of no known kind)")
        except Exception as error:  # whatever a reader says of half a file
            wrong.append(f"{name} ({type(error).__name__}: {error})")
    for bag in root.glob("out/*/bagit.txt"):
        if not bag.parent.name.endswith(".tmp"):
            wrong += _bag(bag.parent)
    return wrong


def _bag(bag: Path) -> list[str]:
    rows = (bag / "manifest-sha256.txt").read_text("utf-8").splitlines()
    listed = dict(reversed(row.split("  ", 1)) for row in rows)
    there = {p.relative_to(bag).as_posix(): p for p in (bag / "data").rglob("*") if p.is_file()}
    bad = [n for n, s in listed.items() if n not in there or _sha(there[n]) != s]
    return [f"{bag.name}/{name}" for name in (*bad, *(there.keys() - listed.keys()))]


def _sha(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


# ---- one kill ----


class Bench:
    """The sample jobs, and for each command how long it takes and how often it changes the disk."""

    def __init__(self, home: Path, chosen: Sequence[Command]) -> None:
        self.home, self.chosen = home, chosen
        self.measured: dict[str, tuple[float, int]] = {}
        self.number = 0

    def fresh(self, command: Command) -> tuple[Path, Path]:
        """Give a fresh copy of the command's job and an empty folder beside it."""
        from tests.compose.jobs import copy_of

        self.number += 1
        root, aside = self.home / f"{self.number}", self.home / f"{self.number}-aside"
        aside.mkdir()
        if command.job:
            copy_of(command.job, root)
        os.environ["CLAIMKIT_CACHE"] = str(self.home / f"{self.number}-cache")
        os.environ["CLAIMKIT_WRITER"] = "w"
        return root, aside

    def words(self, command: Command, root: Path, aside: Path) -> list[str]:
        """Give the command line."""
        return [w.replace("{job}", str(root)).replace("{aside}", str(aside)) for w in command.words]

    def measure(self, command: Command) -> tuple[float, int]:
        """Give the seconds and the changes of the disk of a whole run on a fresh copy."""
        if command.name not in self.measured:
            root, aside = self.fresh(command)
            told = self.home / "told"
            began = time.perf_counter()
            events = _events_of(self.words(command, root, aside), told)
            took = time.perf_counter() - began
            text = told.read_text("utf-8")
            if "Traceback" in text or not events:
                raise RuntimeError(f"{command.name} does not work at all:\n{text}")
            self.measured[command.name] = (took, events)
            self.clear()
        return self.measured[command.name]

    def clear(self) -> None:
        """Take away the last copy."""
        for ending in ("", "-aside", "-cache"):
            shutil.rmtree(self.home / f"{self.number}{ending}", ignore_errors=True)

    def kill(self, command: Command, rng: random.Random, tally: Killed) -> None:
        """Kill one run, look at what is left, run it again and look again."""
        took, events = self.measure(command)
        root, aside = self.fresh(command)
        words, told = self.words(command, root, aside), self.home / "told"
        where = root if command.job else aside / "birch"
        if rng.random() < 0.3 and command.job:
            run(("status", str(root)), told, None)  # so that there are logs and an index already
        before = originals(where) if command.job else {}
        logged = logs(where)
        when: tuple[int, float] | float = (rng.randint(1, events), rng.random() * SOON_S)
        if rng.random() < 0.25:
            when = rng.random() * took
        tally.kills += 1
        if run(words, told, when) is not None:
            tally.ended_first += 1
        tally.by[command.name] += 1
        try:
            self._look(command, where, aside, before, logged)
            self._again(command, words, where, tally)
        except AssertionError as wrong:
            tally.wrong.append(f"{command.name}, killed at {when}: {wrong}")
        self.clear()

    def _look(
        self,
        command: Command,
        root: Path,
        aside: Path,
        before: dict[str, bytes],
        logged: dict[str, bytes],
    ) -> None:
        now = originals(root) if root.exists() else {}
        for name, data in before.items():
            assert now.get(name) == data, f"{name} is not as it was"
        added = {n for n in now.keys() - before.keys() if not n.endswith(".tmp")}
        assert all(n.startswith(("records/", "job.toml")) for n in added), added
        for name, data in logged.items():
            assert logs(root)[name].startswith(data), f"{name} lost a line"
        assert not (wrong := half(root) + half(aside)), f"half files: {wrong}"

    def _again(self, command: Command, words: list[str], root: Path, tally: Killed) -> None:
        told = self.home / "told"
        if command.job:
            self._said(root, told, tally)
        code = run(words, told, None)
        text = told.read_text("utf-8")
        done = code in (0, 1) or (code == 5 and "exists already" in text)
        assert done, f"the next run ended with {code}: {text[-400:]}"
        assert not (wrong := half(root)), f"half files after the next run: {wrong}"
        if not command.job:
            assert run(("status", str(root)), told, None) in (0, 1), told.read_text("utf-8")
        run(("status", str(root)), told, None)
        lines = check(root / "custody" / "w.jsonl") if (root / "custody").exists() else []
        seen = Counter(
            (x["path"], x["sha256"]) for x in lines if x["event"] in ("first seen", "record added")
        )
        for name, data in originals(root).items():
            times = seen[name, hashlib.sha256(data).hexdigest()]
            assert name.endswith(".tmp") or times == 1, f"{name} is logged {times} times"

    def _said(self, root: Path, told: Path, tally: Killed) -> None:
        """Look whether the very next run of any command names what was left."""
        unfinished = [p.name for p in (root / "out").glob("*.tmp")]
        log = root / "custody" / "w.jsonl"
        held = log.read_bytes() if log.exists() else b""
        torn = bool(held) and not held.endswith(b"\n")
        code = run(("status", str(root)), told, None)
        text = " ".join(told.read_text("utf-8").split())  # as it was before it was set in lines
        assert code in (0, 1), f"status ended with {code}: {text[-400:]}"
        for name in unfinished:
            assert f"out/{name} is unfinished" in text, f"{name} is not named"
        tally.left_unfinished += bool(unfinished)
        if torn:
            tally.recovered += 1
            assert "in the middle of a line" in text, "what was recovered is not said"


def kill_all(kills: int, seed: int, chosen: Sequence[Command], home: Path) -> Killed:
    """Kill so many runs, the commands in turn."""
    import claimkit.cli
    import claimkit.compose.packet.order
    import claimkit.findings.register
    import claimkit.intake.read
    import claimkit.render.pdf
    import claimkit.wiring.handover  # noqa: F401 - loaded once, before the forks
    from claimkit.intake.contents import reading_version

    reading_version()
    rng, tally, bench = random.Random(seed), Killed(), Bench(home, chosen)
    for number in range(kills):
        bench.kill(chosen[number % len(chosen)], rng, tally)
    return tally


def main() -> int:
    """Run from the command line; exit 1 where anything was lost or left half."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--kills", type=int, default=510)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--only", help="one command")
    given = options.parse_args()
    chosen = [c for c in commands() if given.only in (None, c.name)]
    began = time.perf_counter()
    with tempfile.TemporaryDirectory(prefix="claimkit-kills-") as home:
        tally = kill_all(given.kills, given.seed, chosen, Path(home))
    print(
        f"{tally.kills} kills in {time.perf_counter() - began:.0f} s; "
        f"{tally.ended_first} came too late"
    )
    print(f"{tally.left_unfinished} left a file unfinished, {tally.recovered} a line of a log")
    print(f"{len(tally.wrong)} wrong; {dict(tally.by)}")
    for line in tally.wrong[:40]:
        print(line)
    return 1 if tally.wrong else 0


if __name__ == "__main__":
    sys.exit(main())
