"""The sample jobs, made once per test run in a temporary folder and reasoned over."""

from __future__ import annotations

import functools
import shutil
import sys
import tempfile
from datetime import UTC, date, datetime
from pathlib import Path

from claimkit.findings.reason import reason
from claimkit.intake.read import read
from claimkit.model.case import Case

ROOT = Path(__file__).resolve().parents[2]
JOBS = ("ready-to-file", "wording-and-dates-wrong", "disputed-gap", "opened-and-out-of-plumb")
NOW = datetime(2026, 10, 20, 15, 0, tzinfo=UTC)
AS_OF = date(2026, 10, 20)
_FOLDER = tempfile.TemporaryDirectory(prefix="claimkit-", ignore_cleanup_errors=True)


@functools.cache
def sample_folder(job: str) -> Path:
    """Give a copy of a sample job in a temporary folder of this test run."""
    sys.path.insert(0, str(ROOT / "sample_jobs"))
    try:
        import make
    finally:
        sys.path.pop(0)
    folder = Path(_FOLDER.name) / job
    make.write(folder, make.JOBS[job]())
    return folder


def copy_of(job: str, target: Path) -> None:
    """Copy a sample job to a folder, without what commands of other tests left in it."""
    shutil.copytree(sample_folder(job), target, ignore=shutil.ignore_patterns("custody", "out"))


@functools.cache
def sample_case(job: str) -> Case:
    """Read and reason over a sample job on a fixed day."""
    facts = read(sample_folder(job), now=NOW, index=None, writer="test")
    return reason(facts, AS_OF, NOW)
