"""The wiring: a job folder to a case, and a case to a packet on disk. One screen, no logic."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from importlib import metadata
from pathlib import Path
from zoneinfo import ZoneInfo

from claimkit import __version__
from claimkit.model.case import Case, Reader
from claimkit.model.document import Plate
from claimkit.model.facts import Facts
from claimkit.model.stop import CannotGoOn

Progress = Callable[[str, int, int], None]
LIBRARIES = ("reportlab", "pillow", "pi-heif", "exifread", "holidays", "tzdata")
LONG_SIDE_PX = 1600


@dataclass(frozen=True, slots=True)
class Written:
    """A packet on disk: its path, its hash, and whether the same bytes were there already."""

    path: Path
    sha256: str
    already_there: bool
    pages: int


def job_folder(folder: Path) -> Path:
    """Give the folder if it is a job folder, else say what to do."""
    if not folder.is_dir():
        raise CannotGoOn(f"{folder} is no folder. Give the path of a job folder.")
    if not (folder / "job.toml").exists():
        raise CannotGoOn(
            f"{folder} has no job.toml, so it is no job folder. "
            f"Make one with: claimkit new {folder}"
        )
    return folder


def read_facts(folder: Path, now: datetime, progress: Progress | None, fresh: bool) -> Facts:
    """Read a job folder through the index and log what is new in it."""
    from claimkit.intake.index import Index
    from claimkit.intake.read import read

    def step(done: int, total: int) -> None:
        if progress:
            progress("reading", done, total)

    return read(job_folder(folder), now=now, index=None if fresh else Index(), progress=step)


def work_out(
    folder: Path,
    *,
    now: datetime,
    as_of: date | None = None,
    progress: Progress | None = None,
    fresh: bool = False,
) -> Case:
    """Read a job folder and reason over it; `as_of` defaults to today at the site."""
    from claimkit.findings.reason import reason

    facts = read_facts(folder, now, progress, fresh)
    zone = ZoneInfo(facts.job.site.zone if facts.job else "UTC")
    return reason(facts, as_of or now.astimezone(zone).date(), now)


def versions() -> tuple[tuple[str, str], ...]:
    """Name what made the packet; the libraries whose version can change its bytes or dates."""
    return (("claimkit", __version__), *((n, metadata.version(n)) for n in LIBRARIES))
