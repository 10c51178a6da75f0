"""Change the caches byte by byte: no run crashes, and none believes a wrong fact.

Run by hand from the root of the checkout: `python -m tests.bench.index_bytes --stride 1`. Three
caches are damaged in turn: the index of files, the briefs of all jobs, and what pictures gave.
Each byte is replaced by one drawn from a seed, and the same reading is done again; what it gives
is held against what it gave before anything was damaged.
"""

from __future__ import annotations

import argparse
import os
import random
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

NOW = datetime(2026, 10, 20, 18, 0, tzinfo=UTC)
Case = tuple[Path, Callable[[], Any]]  # the cache's file, and the reading that uses it


def index_of_files(home: Path) -> Case:
    """Give the index of a small job, and reading that job."""
    from claimkit.intake.index import Index
    from claimkit.intake.read import read
    from tests.intake.folder import make_job

    root = make_job(home / "job")

    def again() -> Any:
        return read(root, now=NOW, index=Index(say=lambda _: None), writer="w")

    again()
    return Index().file, again


def briefs_of_jobs(home: Path) -> Case:
    """Give the briefs of two jobs, and listing them without a look at their folders."""
    from claimkit.intake.briefs import Briefs
    from claimkit.wiring.alljobs import all_jobs
    from tests.compose.jobs import copy_of

    root = home / "jobs"
    for name in ("ready-to-file", "disputed-gap"):
        copy_of(name, root / name)
    day = NOW.date()
    all_jobs(root, now=NOW, as_of=day)

    def again() -> Any:
        told = all_jobs(root, now=NOW, as_of=day, scan=False)
        return told.jobs, told.looked_at

    return Briefs().file, again


def what_pictures_gave(home: Path) -> Case:
    """Give a cache of pictures' rows, and reading it back."""
    from claimkit.pixels.keep import keep, kept

    place = home / "cards.json"
    keep(place, "code", {f"{n:064x}": {"gap_mm": 3.25 + n, "why": None} for n in range(8)})
    return place, lambda: kept(place, "code")


CACHES = (index_of_files, briefs_of_jobs, what_pictures_gave)


def _nothing(value: Any) -> bool:
    """Tell whether a reading gave nothing at all, as after a damaged cache was thrown away."""
    return value in ({}, ((), None))


def damage(case: Case, stride: int, rng: random.Random) -> Iterator[str]:
    """Damage every nth byte alone; give what went wrong."""
    file, again = case
    whole = file.read_bytes()
    right = again()
    first = rng.randrange(stride)
    for at in range(first, len(whole), stride):
        raw = bytearray(whole)
        raw[at] ^= rng.randrange(1, 256)
        file.write_bytes(raw)
        try:
            got = again()
        except Exception as error:  # whatever comes out is what is looked for
            yield f"byte {at}: {type(error).__name__}: {error}"
            continue
        # Briefs and kept rows may be gone, or in part; none may be another than it was.
        if got != right and not _nothing(got) and not _part(got, right):
            yield f"byte {at}: another answer"
    file.write_bytes(whole)


def _part(got: Any, right: Any) -> bool:
    """Tell whether a listing of jobs lacks some, and holds none that was not there."""
    if not isinstance(got, tuple) or len(got) != 2 or not isinstance(got[0], tuple):
        return False
    return set(got[0]) <= set(right[0]) and got[1] in (None, right[1])


def main() -> int:
    """Run from the command line; exit 1 where anything crashed or another answer came."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--stride", type=int, default=1, help="every nth byte")
    options.add_argument("--seed", type=int, default=1)
    given = options.parse_args()
    rng, bad = random.Random(given.seed), 0
    for make in CACHES:
        with tempfile.TemporaryDirectory(prefix="claimkit-bytes-") as home:
            os.environ["CLAIMKIT_CACHE"] = str(Path(home) / "cache")
            case = make(Path(home))
            size, began = case[0].stat().st_size, time.perf_counter()
            wrong = list(damage(case, given.stride, rng))
            took = time.perf_counter() - began
            print(
                f"{make.__name__}: {size // given.stride} of {size} bytes, {len(wrong)} wrong, "
                f"{took:.0f} s"
            )
            print("".join(f"  {line}\n" for line in wrong[:10]), end="")
            bad += len(wrong)
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
