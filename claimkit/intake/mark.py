"""The state of a job folder's files as one short text, found out without opening any of them.

It changes with every name, size and time below the folder, so two equal marks mean that nothing
was touched between them. claimkit's own folders are left out: what it writes there changes no fact,
and the custody logs have their state beside this one.
"""

from __future__ import annotations

import hashlib
import os
import stat
from pathlib import Path

from claimkit.intake.entry import changed_ns, is_hidden, is_link, status_of
from claimkit.intake.paths import CUSTODY, OUT

_OWN = frozenset({CUSTODY, OUT})


def mark_of(folder: Path) -> str:
    """Name the state of a folder's files by their paths, sizes and times. Opens no file.

    A link counts with where it leads. Raises OSError where the folder, or one below it, cannot be
    listed.
    """
    rows: list[str] = []
    _note(rows, str(folder), "")
    rows.sort()
    text = "".join(rows).encode("utf-8", "surrogatepass")
    return hashlib.blake2b(text, digest_size=16).hexdigest()


def _note(rows: list[str], folder: str, inside: str) -> None:
    """Add a row for each entry: fields that hold no zero byte, with one between and two behind."""
    below: list[tuple[str, str]] = []
    with os.scandir(folder) as listing:
        for entry in listing:
            status = status_of(entry)
            if status is None:
                continue
            name = inside + entry.name
            hidden = "hidden" if is_hidden(status) else "seen"
            if stat.S_ISREG(status.st_mode):
                times = f"{status.st_size} {status.st_mtime_ns} {changed_ns(status)}"
                rows.append(f"{name}\0{times} {hidden}\0\0")
            elif is_link(status):
                rows.append(f"{name}\0link {hidden}\0{_end_of(entry.path)}\0\0")
            elif not stat.S_ISDIR(status.st_mode):
                rows.append(f"{name}\0{stat.S_IFMT(status.st_mode)}\0\0")
            elif name not in _OWN:
                rows.append(f"{name}/\0{hidden}\0\0")
                below.append((entry.path, f"{name}/"))
    for path, name in below:
        _note(rows, path, name)


def _end_of(link: str) -> str:
    """Tell where a link leads. What lies in the folder has a row of its own, with its times."""
    try:
        Path(link).stat()
    except OSError:
        return "nowhere"
    return os.path.realpath(link)
