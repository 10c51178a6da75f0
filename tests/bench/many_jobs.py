"""Measure lists of very many jobs: the answer from the index, and a rescan with nothing changed.

    python tests/bench/many_jobs.py FOLDER [COUNT ...]

Makes COUNT (1000 and 10000) job folders without photos below FOLDER, works each out once, and
prints: how long that took, how long `deadlines` takes from the kept briefs in a process of its
own, and a rescan as a ratio to listing and stat of the same files. Not part of the suite.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from datetime import UTC, date, datetime, timedelta
from functools import partial
from pathlib import Path

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


def make(root: Path, count: int) -> None:
    """Make job folders, their deliveries spread over three hundred days."""
    for n in range(count):
        folder = root / f"job-{n:05d}"
        if folder.exists():
            continue
        (folder / "records").mkdir(parents=True)
        day = date(2026, 1, 5) + timedelta(days=n % 300)
        text = JOB.format(n=n, c=n % 7, bill=day - timedelta(days=3))
        (folder / "job.toml").write_text(text, encoding="utf-8")
        (folder / "records" / "delivery.toml").write_text(
            DELIVERY.format(day=day), encoding="utf-8"
        )
        (folder / "records" / "damage.toml").write_text(DAMAGE, encoding="utf-8")


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


def best(times: int, run: object) -> float:
    """Give the shortest of several runs, in seconds."""
    found = []
    for _ in range(times):
        start = time.perf_counter()
        run()  # type: ignore[operator]
        found.append(time.perf_counter() - start)
    return min(found)


def main(folder: str, *counts: str) -> None:
    """Measure each count and print a line for each figure."""
    from claimkit.wiring.alljobs import all_jobs

    for count in map(int, counts or ("1000", "10000")):
        root = Path(folder).resolve() / f"many-{count}"
        os.environ["CLAIMKIT_CACHE"] = str(Path(folder).resolve() / f"cache-{count}")
        make(root, count)
        now, day = datetime(2026, 11, 20, 15, 0, tzinfo=UTC), date(2026, 11, 20)
        start = time.perf_counter()
        all_jobs(root, now=now, as_of=day, scan=True)
        print(f"{count} jobs: first scan {time.perf_counter() - start:.1f} s")
        for arguments in (("--open",), ("--open", "--json"), ("--overdue",), ("--next", "14")):
            command = [sys.executable, "-m", "claimkit", "deadlines", str(root), "--no-scan"]
            command += ["--as-of", "2026-11-20", *arguments]
            took = best(3, partial(subprocess.run, command, capture_output=True, check=False))
            print(f"{count} jobs: deadlines {' '.join(arguments)} from the index {took:.2f} s")
        walk = best(3, partial(listed, str(root)))
        scan = best(3, partial(all_jobs, root, now=now, as_of=day, scan=True))
        print(
            f"{count} jobs: listing and stat {walk:.2f} s, rescan {scan:.2f} s, "
            f"ratio {scan / walk:.1f}"
        )


if __name__ == "__main__":
    main(*sys.argv[1:])
