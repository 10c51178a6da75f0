"""How a run ends: its exit code from what the case holds, progress, a terminal that is closed."""

from __future__ import annotations

import signal
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

import click

from claimkit.model.stop import DEFECT, DONE, NOT_READ, OPEN_MATTERS

if TYPE_CHECKING:
    from claimkit.model.case import Case


def progress(what: str, done: int, total: int) -> None:
    """Show progress on a terminal, on standard error, so that output can be piped."""
    if sys.stderr.isatty() and total > 20:
        end = "\n" if done >= total else ""
        click.echo(f"\r{what} {done} of {total}" + end, err=True, nl=False)


def exit_code(case: Case, prefixes: tuple[str, ...] | None) -> int:
    """Give the exit code of a case; `prefixes` limit which findings count, None counts none."""
    if any(n.crashed for n in case.not_checked):
        return DEFECT
    if case.facts.problems:
        return NOT_READ
    standings = ("missing", "does not support")
    if prefixes is not None and any(
        f.standing.value in standings and f.rule.startswith(prefixes) for f in case.findings
    ):
        return OPEN_MATTERS
    return DONE


@contextmanager
def ends_kept() -> Iterator[None]:
    """Take a closed terminal, or the word to end, as Ctrl-C: what is complete is written first."""

    def end(*_: object) -> None:
        raise KeyboardInterrupt

    known = [s for s in ("SIGHUP", "SIGTERM") if hasattr(signal, s)]
    if threading.current_thread() is not threading.main_thread():
        known = []
    before = {name: signal.signal(getattr(signal, name), end) for name in known}
    try:
        yield
    finally:
        for name, handler in before.items():
            signal.signal(getattr(signal, name), handler)
