"""Time and memory of measuring one 12-megapixel photo, beside decoding the same JPEG.

Run by hand in a process of its own, from the root of the checkout:
`OMP_NUM_THREADS=1 python -m tests.bench.seam_speed`. One core: OpenCV's own threads are switched
off here, NumPy's by that variable. Memory is what the process needs at most beyond what it held
with the picture decoded (Linux only).
"""

from __future__ import annotations

import argparse
import io
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import cv2
import numpy as np
from PIL import Image

from claimkit.pixels.cards import read_cards, read_grey
from claimkit.pixels.grey import GreyPicture, decoded_grey
from tests.seams.random_scenes import scene
from tests.seams.render_photo import render

AIM_SECONDS, AIM_MB = 0.3, 200.0


def held_mb(which: str) -> float | None:
    """Read VmRSS (now) or VmHWM (most so far) in MB; None where there is no /proc."""
    try:
        text = Path("/proc/self/status").read_text(encoding="ascii")
    except OSError:
        return None
    rows = dict(line.split(":", 1) for line in text.splitlines() if ":" in line)
    return float(rows[which].split()[0]) / 1024.0


def forget_the_most() -> None:
    """Let the kernel count the most memory afresh (proc(5), clear_refs)."""
    try:
        Path("/proc/self/clear_refs").write_text("5", encoding="ascii")
    except OSError:
        print("the peak of memory cannot be reset here: its figure includes decoding")


def median_of(count: int, work: Callable[[], object]) -> float:
    """Give the median of the processor's time, in seconds: others on the machine do not count."""
    times = []
    for _ in range(count):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return sorted(times)[len(times) // 2]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("--photos", type=int, default=5)
    parser.add_argument("--seed", type=int, default=7)
    parser.add_argument("--memory", type=Path, help="only measure the memory for this photo")
    args = parser.parse_args()
    if args.memory:
        print(f"more memory while measuring: {memory_mb(args.memory.read_bytes()):.0f} MB", end="")
        return
    cv2.setNumThreads(1)
    photos = [
        render(scene("good", np.random.default_rng((args.seed, n)))) for n in range(args.photos)
    ]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "photo.jpg"
        path.write_bytes(photos[0])
        # A process of its own: one that has rendered holds freed memory that would be used again.
        command = [sys.executable, "-m", "tests.bench.seam_speed", "--memory", str(path)]
        told = subprocess.run(command, check=True, capture_output=True, text=True).stdout
    print(f"{told} (aim {AIM_MB:.0f})")
    worst = 0.0
    for data in photos:
        jpeg = median_of(5, lambda data=data: Image.open(io.BytesIO(data)).load())
        grey = decoded_grey(data, orientation=None, upright_when_decoded=False)
        took = median_of(5, lambda grey=grey: read_grey(grey, "0" * 64))
        whole = median_of(3, lambda data=data: read_cards(data))
        worst = max(worst, took)
        print(
            f"JPEG decoded {jpeg * 1000:.0f} ms, measured after decoding {took * 1000:.0f} ms "
            f"({took / jpeg:.2f} of decoding), bytes to readings {whole * 1000:.0f} ms"
        )
    print(f"worst {worst * 1000:.0f} ms (aim {AIM_SECONDS * 1000:.0f})")


def memory_mb(data: bytes) -> float:
    """Give the most memory that measuring adds, the first time, in MB."""
    grey = decoded_grey(data, orientation=None, upright_when_decoded=False)
    read_grey(GreyPicture(np.zeros((64, 64), np.uint8), None), "0" * 64)
    before = held_mb("VmRSS")
    forget_the_most()
    read_grey(grey, "0" * 64)
    most = held_mb("VmHWM")
    return most - before if most is not None and before is not None else float("nan")


if __name__ == "__main__":
    main()
