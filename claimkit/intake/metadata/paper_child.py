"""Asks a process of its own for the words of a paper, and ends it where it takes too long.

One child serves all papers of a run, since starting it costs more than reading a paper. What it
cannot read, or not in time, is a sentence and never an error.
"""

from __future__ import annotations

import atexit
import json
import subprocess
import sys
from dataclasses import dataclass, field
from pathlib import Path
from threading import Lock, Thread

SECONDS = 20
LARGE = 32 << 20  # bytes; papers of the trade are far smaller
_CHILD = Path(__file__).with_name("paper_reader.py")


@dataclass(frozen=True, slots=True)
class Told:
    """What the child says of a paper: lines by page, why there are none, names of attachments."""

    pages: tuple[tuple[str, ...], ...] = ()
    refused: str | None = None
    attached: tuple[str, ...] = ()


@dataclass(slots=True)
class Child:
    """The process that reads papers, started when it is first needed; `program` is its file."""

    program: Path = _CHILD
    seconds: float = SECONDS
    _process: subprocess.Popen[bytes] | None = None
    _one_at_a_time: Lock = field(default_factory=Lock)

    def read(self, kind: bytes, data: bytes) -> Told:
        """Give the words of a paper, or why there are none; `kind` as in `paper_reader.main`."""
        if len(data) > LARGE:
            return Told(refused=f"it is larger than {LARGE >> 20} MiB")
        with self._one_at_a_time:
            line = self._ask(kind + len(data).to_bytes(8, "big") + data)
        if line is None:
            return Told(refused=f"reading it took longer than {self.seconds:g} seconds")
        try:
            said = json.loads(line)
            pages = tuple(tuple(page) for page in said["pages"])
            return Told(pages, said["refused"], tuple(said["attached"]))
        except (ValueError, KeyError, TypeError):
            return Told(refused="it ended the program that reads it")

    def end(self) -> None:
        """End the process; the next paper starts another."""
        process, self._process = self._process, None
        if process is None:
            return
        process.kill()
        process.wait()
        for pipe in (process.stdin, process.stdout):
            if pipe:
                try:
                    pipe.close()
                except OSError:  # what was not taken any more cannot be flushed
                    continue

    def _ask(self, data: bytes) -> bytes | None:
        """Give the answer, empty where the process died; None where it did not come in time."""
        answer: list[bytes] = []
        try:
            process = self._running()
        except OSError:
            return b""
        asking = Thread(target=_exchange, args=(process, data, answer), daemon=True)
        asking.start()
        asking.join(self.seconds)
        late = asking.is_alive()
        if late:
            process.kill()
            asking.join()
        if not answer or not answer[0]:
            self.end()
        return None if late else (answer[0] if answer else b"")

    def _running(self) -> subprocess.Popen[bytes]:
        if self._process is None or self._process.poll() is not None:
            self.end()
            self._process = subprocess.Popen(  # noqa: S603 - this Python, our own file
                [sys.executable, "-P", str(self.program)],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
            )
        return self._process


def _exchange(process: subprocess.Popen[bytes], data: bytes, answer: list[bytes]) -> None:
    if process.stdin is None or process.stdout is None:
        raise ValueError("the process has both pipes")
    try:
        process.stdin.write(data)
        process.stdin.flush()
        answer.append(process.stdout.readline())
    except OSError:  # it died while it was being asked
        answer.append(b"")


CHILD = Child()
atexit.register(CHILD.end)
