"""Measure lists of very many jobs: the answer from the index, and a rescan with nothing changed.

    python -m tests.bench.many_jobs FOLDER [COUNT ...] [--photos N]

Makes COUNT (1000 and 10000) job folders below FOLDER, with N photos in each (0): files of 16 by 12
pixels and 0.8 kB, each of its own bytes and with a camera's short Exif block. So the index holds a
row for each photo as after a real first scan, somewhat shorter than those of a telephone's photos,
and the time of reading and hashing megabytes is left out. The first scan is claimkit's own over
these files: no row is put into the index by another way.

Prints for each COUNT, every command in a process of its own: the first scan (an empty index), the
size of what is kept, `deadlines` from the kept briefs with the most memory that it held, a rescan
as a ratio to listing and stat of the same files, and a scan on the next legal day; then the growth.
Aim: under 2 s from the index for 10,000 jobs of 100 photos, and growth linear or better. All files
lie in the system's cache where they fit. 10,000 jobs of 100 photos take 7 GB, 1.1 million files
and folders, and over ten minutes.
Linux and macOS. Not part of the suite.
"""

from __future__ import annotations

import argparse
import io
import json
import os
import resource
import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from PIL import Image

from tests.bench.photos_made import with_exif

ZONE = "America/Chicago"
NOW, AS_OF = datetime(2026, 11, 20, 15, 0, tzinfo=UTC), date(2026, 11, 20)
LISTS = (("--open",), ("--open", "--json"), ("--json",), ("--overdue",), ("--next", "14"))
ROUNDS = 5
UNIT = 1e6 if sys.platform == "darwin" else 1e3  # getrusage: bytes there, kilobytes here
JOB = """title = "Job {n}"
reference = "J-{n}"
[site]
address = "{n} Kiln Road, Ashby"
zone = "America/Chicago"
[[party]]
id = "us"
name = "Marl & Sons"
roles = ["owner", "consignee"]
[[party]]
id = "hauler"
name = "Carrier {c}"
roles = ["delivering carrier"]
[[person]]
id = "dana"
name = "Dana Voss"
[[shipment]]
id = "main"
carrier = "hauler"
pro_number = "P-{n}"
bill_date = {bill}
terms = "us interstate motor"
classification_applies = true
[[item]]
id = "panel"
description = "Wall panel"
invoice_price = "418.00 USD"
"""
DELIVERY = """kind = "delivery"
said_by = "dana"
signed_at = "{day} 09:30"
words = "1 of 4 cartons, lower left corner crushed 4 in"
signed = true
"""
DAMAGE = """kind = "damage"
said_by = "dana"
item = "panel"
found_at = "at the curb"
what = "crushed"
"""


@dataclass(frozen=True, slots=True)
class Ran:
    """One process: seconds on the clock and of the processor, and the most memory in MB."""

    wall: float
    processor: float
    memory: float

    def __str__(self) -> str:
        """Give all three in the words of the print."""
        return f"{self.wall:.2f} s ({self.processor:.2f} s of processor time, {self.memory:.0f} MB)"


def make(root: Path, count: int, photos: int) -> None:
    """Make job folders, their deliveries spread over three hundred days; what is there stays."""
    picture = io.BytesIO()
    Image.new("RGB", (16, 12)).save(picture, "JPEG", quality=88, subsampling=2)
    for n in range(count):
        folder = root / f"job-{n:05d}"
        if folder.exists():
            continue
        (folder / "records").mkdir(parents=True)
        day = date(2026, 1, 5) + timedelta(days=n % 300)
        text = JOB.format(n=n, c=n % 7, bill=day - timedelta(days=3))
        (folder / "records" / "delivery.toml").write_text(
            DELIVERY.format(day=day), encoding="utf-8"
        )
        (folder / "records" / "damage.toml").write_text(DAMAGE, encoding="utf-8")
        if photos:
            (folder / "photos").mkdir()
        began = datetime(day.year, day.month, day.day, 9, 35, tzinfo=ZoneInfo(ZONE))
        for k in range(photos):
            data = with_exif(picture.getvalue(), n * photos + k, began + timedelta(seconds=20 * k))
            (folder / "photos" / f"IMG_{k:04d}.jpg").write_bytes(data)
        (folder / "job.toml").write_text(text, encoding="utf-8")


def listed(folder: str) -> int:
    """List a folder and all below it, and take each file's state: the least a rescan can do."""
    count = 0
    with os.scandir(folder) as listing:
        entries = list(listing)
    for entry in entries:
        entry.stat(follow_symlinks=False)
        count += 1
        if entry.is_dir(follow_symlinks=False):
            count += listed(entry.path)
    return count


def ran(root: Path, *arguments: str, day: date = AS_OF) -> Ran:
    """Run `deadlines` in a process of its own; it has to end as on jobs that it could read."""
    command = [sys.executable, "-m", "claimkit", "deadlines", str(root), "--as-of", f"{day}"]
    start = time.perf_counter()
    child = subprocess.Popen(
        [*command, *arguments], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    _, status, used = os.wait4(child.pid, 0)
    wall = time.perf_counter() - start
    child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode not in (0, 1):  # done; 1: something is overdue
        raise SystemExit(f"deadlines {' '.join(arguments)} ended with {child.returncode}")
    return Ran(wall, used.ru_utime + used.ru_stime, used.ru_maxrss / UNIT)


def check_whole(root: Path, count: int) -> None:
    """Stop where the kept list lacks a job or one of them could not be read."""
    command = [sys.executable, "-m", "claimkit", "deadlines", str(root), "--no-scan", "--json"]
    done = subprocess.run(command, capture_output=True, check=False)
    told = json.loads(done.stdout)
    if len(told["jobs"]) != count or told["not_read"]:
        raise SystemExit(f"{len(told['jobs'])} of {count} jobs are listed")
    if any(job["problems"] or job["defects"] for job in told["jobs"]):
        raise SystemExit("some job has files that could not be used")


def rescanned(folder: str) -> None:
    """Print listing and stat, and a rescan with nothing changed, in turn: the least of three."""
    from claimkit.wiring.alljobs import all_jobs

    root = Path(folder)
    works: tuple[Callable[[], object], ...] = (
        lambda: listed(folder),
        lambda: all_jobs(root, now=NOW, as_of=AS_OF, scan=True),
    )
    least = [(float("inf"), 0.0)] * len(works)
    for _ in range(3):
        for n, work in enumerate(works):
            start, processor = time.perf_counter(), time.process_time()
            work()
            took = (time.perf_counter() - start, time.process_time() - processor)
            least[n] = min(least[n], took)
    (walk, walk_used), (scan, scan_used) = least
    print(
        f"listing and stat {walk:.2f} s ({walk_used:.2f} s of processor time), "
        f"rescan {scan:.2f} s ({scan_used:.2f} s), ratio {scan / walk:.1f}"
    )


def measured(folder: Path, count: int, photos: int) -> dict[str, Ran]:
    """Make and measure one count, print a line for each figure, and give the lists' figures."""
    told = f"{count} jobs of {photos} photos" if photos else f"{count} jobs"
    root, cache = folder / f"many-{count}-{photos}", folder / f"cache-{count}-{photos}"
    os.environ["CLAIMKIT_CACHE"], os.environ["CLAIMKIT_WRITER"] = str(cache), "bench"
    shutil.rmtree(cache, ignore_errors=True)
    start = time.perf_counter()
    make(root, count, photos)
    print(f"{told}: made in {time.perf_counter() - start:.0f} s", flush=True)
    print(f"{told}: first scan {ran(root, '--scan')}", flush=True)
    check_whole(root, count)
    for file in ("index.sqlite", "jobs.sqlite"):
        print(f"{told}: {file} {(cache / file).stat().st_size / 1e6:.1f} MB", flush=True)
    figures = {}
    for arguments in LISTS:
        rounds = [ran(root, "--no-scan", *arguments) for _ in range(ROUNDS)]
        least = min(rounds, key=lambda one: one.wall)
        figures[" ".join(arguments)] = least
        print(f"{told}: deadlines {' '.join(arguments)} from the index {least}", flush=True)
    code = f"from tests.bench.many_jobs import rescanned; rescanned({str(root)!r})"
    done = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True)
    print(f"{told}: {done.stdout.strip()}", flush=True)
    next_day = ran(root, "--scan", day=AS_OF + timedelta(days=1))
    print(f"{told}: scan on the next day {next_day}", flush=True)
    return figures


def main() -> None:
    """Measure each count and print how each list grows from the first to the last."""
    parser = argparse.ArgumentParser()
    parser.add_argument("folder", type=Path)
    parser.add_argument("counts", nargs="*", type=int)
    parser.add_argument("--photos", type=int, default=0)
    asked = parser.parse_args()
    counts = asked.counts or [1000, 10000]
    print(f"own memory, below which none is seen: {resource.getrusage(0).ru_maxrss / UNIT:.0f} MB")
    every = [measured(asked.folder.resolve(), count, asked.photos) for count in counts]
    for name, first in every[0].items():
        last, jobs = every[-1][name], counts[-1] / counts[0]
        time_grown, memory_grown = last.wall / first.wall, last.memory / first.memory
        print(
            f"{jobs:.0f} × the jobs: deadlines {name} {time_grown:.1f} × the time, "
            f"{memory_grown:.1f} × the memory"
        )


if __name__ == "__main__":
    main()
