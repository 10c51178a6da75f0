"""A packet with many 12-megapixel photos, beside scaling the same photos with Pillow alone.

    python -m tests.bench.packet_speed FOLDER [COUNT ...]

Makes jobs of COUNT (50, 200 and 800) photos below FOLDER. For each, in processes of their own: the
floor (decode by draft mode, scale and encode on as many threads as ours), the packet for the first
time, and the packet with the scaled copies kept; with the most memory that each packet held.
Aims: 1.15 × the floor, under a tenth of it, under 350 MB and flat. Linux and macOS.
"""

from __future__ import annotations

import io
import os
import resource
import shutil
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from PIL import Image

LONG_SIDE, QUALITY = 1200, 80  # what two plates side by side are drawn at
AS_OF = "2026-05-20"


def scaled(path: Path) -> int:
    """Decode a photo as small as it may be, scale and encode it: equal sharpness, least work."""
    with Image.open(io.BytesIO(path.read_bytes())) as picture:
        picture.draft("RGB", (LONG_SIDE, LONG_SIDE))
        picture.thumbnail((LONG_SIDE, LONG_SIDE), Image.Resampling.LANCZOS)
        out = io.BytesIO()
        picture.save(out, "JPEG", quality=QUALITY, optimize=True)
    return out.tell()


def floor(paths: list[Path]) -> float:
    """Time the scaling of all photos on all cores, in seconds."""
    start = time.perf_counter()
    with ThreadPoolExecutor(os.cpu_count() or 1) as pool:
        list(pool.map(scaled, paths))
    return time.perf_counter() - start


def floor_apart(job: Path) -> float:
    """Time the floor in a process of its own, so that its memory is not counted with ours."""
    code = (
        "import sys; from pathlib import Path; from tests.bench.packet_speed import floor; "
        f"print(floor(sorted(Path({str(job)!r}).glob('photos/*.jpg'))))"
    )
    done = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True)
    return float(done.stdout)


def packet(job: Path, cache: Path) -> tuple[float, float]:
    """Make a packet in a process of its own; give seconds and the most memory in MB."""
    shutil.rmtree(job / "out", ignore_errors=True)
    code = (
        "import sys; from claimkit.cli import app; "
        f"sys.exit(app.main(['packet', {str(job)!r}, '--for', 'own', '--as-of', {AS_OF!r}], "
        "standalone_mode=False))"
    )
    start = time.perf_counter()
    child = subprocess.Popen(
        [sys.executable, "-c", code],
        env={**os.environ, "CLAIMKIT_CACHE": str(cache), "CLAIMKIT_WRITER": "bench"},
        stdout=subprocess.DEVNULL,
    )
    _, status, used = os.wait4(child.pid, 0)
    took = time.perf_counter() - start
    if os.waitstatus_to_exitcode(status):
        raise SystemExit(f"the packet of {job} failed")
    unit = 1e6 if sys.platform == "darwin" else 1e3  # getrusage: bytes there, kilobytes here
    return took, used.ru_maxrss / unit


def main(folder: Path, counts: list[int]) -> None:
    """Measure every count and print a line for each."""
    print(f"{os.cpu_count()} cores; own memory {resource.getrusage(0).ru_maxrss / 1e3:.0f} MB")
    for count in counts:
        job, cache = folder / f"job-{count}", folder / f"cache-{count}"
        made = f"from tests.bench.photos_made import *; make_job(Path({str(job)!r}), {count})"
        subprocess.run([sys.executable, "-c", made], check=True)  # its memory is not ours
        paths = sorted(job.glob("photos/*.jpg"))
        for path in paths:
            path.read_bytes()  # all of it into the system's cache, for both
        shutil.rmtree(cache, ignore_errors=True)
        base = floor_apart(job)
        first, most = packet(job, cache)
        again, most_again = packet(job, cache)
        print(
            f"{count} photos: floor {base:.2f} s; first packet {first:.2f} s = "
            f"{first / base:.2f} × (aim 1.15), {most:.0f} MB; with copies kept {again:.2f} s = "
            f"{again / base:.2f} × (aim 0.10), {most_again:.0f} MB"
        )


if __name__ == "__main__":
    main(Path(sys.argv[1]), [int(n) for n in sys.argv[2:]] or [50, 200, 800])
