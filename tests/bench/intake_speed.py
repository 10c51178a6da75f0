"""Reading a job of many 12-megapixel photos, beside reading, hashing and Pillow's own Exif reader.

    python -m tests.bench.intake_speed FOLDER [COUNT]

Makes COUNT (1000) photos below FOLDER, then in one run and on the same files: a cold index against
the floor (read each file, SHA-256, Pillow's Exif with its inner directory), and an unchanged job
against listing and stat. Then jobs of 1,000 and 10,000 small photos: nothing changed, and one photo
touched. Each is the least of several rounds, the floor in turn with ours; all files lie in the
system's cache. Aims: 1.25 × and 3 ×, no file opened where nothing changed, linear growth.
"""

from __future__ import annotations

import gc
import hashlib
import io
import os
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from PIL import ExifTags, Image

from claimkit.intake.disk import FileBytes, RealDisk
from claimkit.intake.index import Index
from claimkit.intake.read import read
from tests.bench.photos_made import make_job

NOW = datetime(2026, 5, 20, tzinfo=UTC)
ROUNDS, MANY = 3, 40  # for what takes seconds, and what takes milliseconds


class Counting(RealDisk):
    """The disk, counting the files of the job that are opened: its custody logs too."""

    opened = 0

    def read(self, path: Path) -> FileBytes:
        """Read a file and count it."""
        type(self).opened += 1
        return super().read(path)


def floor(paths: list[Path]) -> None:
    """Do the least that intake can do: read, hash, and let Pillow read the Exif block."""
    for path in paths:
        data = path.read_bytes()
        hashlib.sha256(data).hexdigest()
        with Image.open(io.BytesIO(data)) as picture:
            exif = picture.getexif()
            exif.get_ifd(ExifTags.IFD.Exif).get(ExifTags.Base.DateTimeOriginal)


def listed(folder: str) -> int:
    """List a folder and all below it with each entry's state."""
    count = 0
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_dir(follow_symlinks=False):
                count += listed(entry.path)
            else:
                entry.stat(follow_symlinks=False)
                count += 1
    return count


def least(rounds: int, *works: Callable[[], object]) -> list[float]:
    """Time each work in turn, several rounds, and give the least of each in seconds."""
    best = [float("inf")] * len(works)
    for _ in range(rounds):
        for n, work in enumerate(works):
            start = time.perf_counter()
            work()
            best[n] = min(best[n], time.perf_counter() - start)
    return best


def main(folder: Path, count: int) -> None:
    """Make the photos, measure, print."""
    job = folder / f"job-{count}"
    paths = make_job(job, count)
    size = sum(path.stat().st_size for path in paths) / 1e6
    print(f"{count} photos, {size:.0f} MB")
    with tempfile.TemporaryDirectory() as aside:
        number = iter(range(1000))

        def cold() -> None:
            read(job, now=NOW, index=Index(Path(aside) / str(next(number))), writer="bench")

        floor(paths)
        cold()  # custody is written once; both have the files in the cache
        base, ours = least(ROUNDS, lambda: floor(paths), cold)
        print(f"cold index: {ours:.2f} s; floor {base:.2f} s; ratio {ours / base:.2f} (aim 1.25)")
        unchanged(job, Path(aside))


def unchanged(job: Path, aside: Path) -> None:
    """Measure a job in which nothing changed, and one in which one photo was touched."""
    index = Index(aside / job.name)
    read(job, now=NOW, index=index, writer="bench")
    Counting.opened = 0

    def again() -> None:
        read(job, now=NOW, index=index, writer="bench", disk=Counting())

    base, ours = least(MANY, lambda: listed(str(job)), again)
    opened = Counting.opened

    def touched() -> None:
        os.utime(job / "photos" / "IMG_0005.jpg")
        again()

    (one,) = least(ROUNDS, touched)
    print(
        f"{job.name}, nothing changed: {ours * 1e3:.1f} ms; scandir and stat {base * 1e3:.1f} ms; "
        f"ratio {ours / base:.1f} (aim 3); files opened: {opened}; one photo touched: "
        f"{one * 1e3:.0f} ms"
    )


def growth(folder: Path) -> None:
    """Measure the same for many more, small photos."""
    with tempfile.TemporaryDirectory() as aside:
        for count in (1000, 10000):
            job = folder / f"small-{count}"
            make_job(job, count, small=True)
            unchanged(job, Path(aside))


if __name__ == "__main__":
    gc.set_threshold(100_000)  # as the command line does
    main(Path(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 1000)
    growth(Path(sys.argv[1]))
