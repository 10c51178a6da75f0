"""Damage pictures at random and draw, compare and measure them: a result or a reason, in time.

Run by hand from the root of the checkout: `python -m tests.bench.mutate_pictures --count 3000`.
Each batch runs in a process of its own with a limit of memory and of seconds for one picture, so
that a native decoder that dies or hangs is seen. Made on the spot: small pictures in every format,
the head of each rewritten to claim a giant size, and pictures that grow beyond measure.
"""

from __future__ import annotations

import argparse
import io
import os
import pickle
import random
import signal
import struct
import sys
import time
import zlib
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from claimkit.model.photo import ExifState, FileKind, Photo
from tests.bench.mutate_photos import damaged

BATCH = 50
GIANT = (b"\xff\xff", b"\x7f\xff", b"\x40\x00", b"\xff\xff\xff\xff", b"\x00\x00\xff\xff")


@dataclass
class Tally:
    """What became of the pictures."""

    done: int = 0
    states: Counter[str] = field(default_factory=Counter)
    wrong: list[str] = field(default_factory=list)
    slowest: float = 0.0
    slowest_name: str = ""


def pictures() -> dict[str, bytes]:
    """Give small pictures in every format that is drawn, one with edges and a gap in it."""
    from PIL import Image

    image = Image.effect_noise((96, 64), 60).convert("RGB")
    image.paste((20, 20, 20), (40, 0, 46, 64))
    made = {}
    for name, kind, more in (
        ("plain.jpg", "JPEG", {}),
        ("progressive.jpg", "JPEG", {"progressive": True}),
        ("plain.png", "PNG", {}),
        ("plain.webp", "WEBP", {}),
        ("lossless.webp", "WEBP", {"lossless": True}),
        ("raw.tif", "TIFF", {}),
        ("lzw.tif", "TIFF", {"compression": "tiff_lzw"}),
        ("deflate.tif", "TIFF", {"compression": "tiff_adobe_deflate"}),
    ):
        out = io.BytesIO()
        image.save(out, kind, **more)
        made[name] = out.getvalue()
    return made


def bombs() -> dict[str, bytes]:
    """Give pictures that claim or hold far more than they weigh."""

    def chunk(name: bytes, data: bytes) -> bytes:
        body = name + data
        return struct.pack(">I", len(data)) + body + struct.pack(">I", zlib.crc32(body))

    def png(side: int, data: bytes, *between: bytes) -> bytes:
        head = struct.pack(">IIBBBBB", side, side, 8, 0, 0, 0, 0)
        return b"\x89PNG\r\n\x1a\n" + b"".join(
            (chunk(b"IHDR", head), *between, chunk(b"IDAT", data), chunk(b"IEND", b""))
        )

    zeros = zlib.compress(bytes(64 << 20), 9)
    text = chunk(b"zTXt", b"a\0\0" + zeros)
    profile = chunk(b"iCCP", b"a\0\0" + zeros)
    jpeg = pictures()["plain.jpg"]
    at = jpeg.index(b"\xff\xc0")
    return {
        "8000 wide.png": png(8000, zeros),
        "60000 wide.png": png(60_000, zeros),
        "2 billion wide.png": png(2_000_000_000, zeros),
        "text.png": png(8, zlib.compress(bytes(72)), text, text, text),
        "profile.png": png(8, zlib.compress(bytes(72)), profile),
        "65535 wide.jpg": jpeg[: at + 5] + b"\xff\xff\xff\xff" + jpeg[at + 9 :],
        "frames.tif": _frames(),
    }


def _frames() -> bytes:
    """Give a TIFF whose one directory is its own next one."""
    entries = b"".join(
        struct.pack("<HHII", tag, 4, 1, value)
        for tag, value in ((256, 4), (257, 4), (258, 8), (259, 1), (262, 1), (273, 8), (279, 16))
    )
    return b"II*\0" + struct.pack("<I", 8) + struct.pack("<H", 7) + entries + struct.pack("<I", 8)


def drawn(name: str, data: bytes) -> str:
    """Draw, compare and measure one picture; give what came of it."""
    from claimkit.pixels.cards import read_cards
    from claimkit.pixels.looks import look
    from claimkit.pixels.opencv import available
    from claimkit.pixels.scale import PictureNotDrawn, scaled_jpeg

    photo = Photo(
        sha256="0" * 64, size_bytes=len(data), kind=FileKind.JPEG, places=(name,),
        exif_state=ExifState.NONE,
    )  # fmt: skip
    told = []
    try:
        scaled_jpeg(data, long_side_px=64, quality=80, orientation=1, upright_when_decoded=False)
        told.append("drawn")
    except PictureNotDrawn:
        told.append("refused")
    told.append("compared" if look(photo, data).refused is None else "not compared")
    if available() is None:
        try:
            read_cards(data, orientation=1, upright_when_decoded=False, registered=range(4),
                       photo_sha=photo.sha256)  # fmt: skip
            told.append("measured")
        except PictureNotDrawn:
            told.append("not measured")
    return ", ".join(told)


def one(name: str, data: bytes, tally: Tally, seconds: float) -> None:
    """Draw one picture within its seconds and put down what came of it."""
    signal.setitimer(signal.ITIMER_REAL, seconds)
    began = time.perf_counter()
    try:
        tally.states[drawn(name, data)] += 1
    except Exception as error:  # whatever comes out is what is looked for
        tally.wrong.append(f"{name}: {type(error).__name__}: {error}")
    took = time.perf_counter() - began
    tally.done += 1
    if took > tally.slowest:
        tally.slowest, tally.slowest_name = took, name


def apart(what: Callable[[Tally], None], name: str, mib: int) -> Tally:
    """Do it in a process of its own that may take so much more memory."""
    reading, writing = os.pipe()
    pid = os.fork()
    if pid == 0:
        import resource

        os.close(reading)
        signal.signal(signal.SIGALRM, signal.SIG_DFL)  # ends the process also in native code
        statm = Path("/proc/self/statm")
        if statm.exists():
            begins = int(statm.read_text().split()[0]) * resource.getpagesize()
            resource.setrlimit(resource.RLIMIT_AS, (begins + (mib << 20),) * 2)
        tally = Tally()
        what(tally)
        with os.fdopen(writing, "wb") as out:
            pickle.dump(tally, out)
        os._exit(0)
    os.close(writing)
    with os.fdopen(reading, "rb") as told:
        sent = told.read()
    _, status = os.waitpid(pid, 0)
    if status or not sent:
        return Tally(wrong=[f"{name}: the process ended with {status}"])
    tally: Tally = pickle.loads(sent)  # noqa: S301 - what our own child sent
    return tally


def batch(
    sources: list[tuple[str, bytes]], seed: int, count: int, seconds: float
) -> Callable[[Tally], None]:
    """Give what draws so many mutants."""

    def what(tally: Tally) -> None:
        rng = random.Random(seed)
        for _ in range(count):
            name, data = rng.choice(sources)
            raw = bytearray(damaged(data, rng))
            if rng.random() < 0.3 and len(raw) > 40:  # a giant number near the head
                number, at = rng.choice(GIANT), rng.randrange(4, min(len(raw) - 4, 200))
                raw[at : at + len(number)] = number
            one(name, bytes(raw), tally, seconds)

    return what


def main() -> int:
    """Run from the command line; exit 1 where anything crashed, hung or asked for too much."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--count", type=int, default=3000)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--seconds", type=float, default=5.0, help="for one picture")
    options.add_argument("--mib", type=int, default=1500, help="of memory for one picture")
    given = options.parse_args()
    drawn("first", pictures()["plain.jpg"])  # the libraries are loaded once
    whole = Tally()
    sources = list(pictures().items())
    runs = [
        (f"bomb {name}", lambda t, n=name, d=data: one(n, d, t, given.seconds))
        for name, data in bombs().items()
    ]
    runs += [
        (
            f"batch {first}",
            batch(sources, given.seed + first, min(BATCH, given.count - first), given.seconds),
        )
        for first in range(0, given.count, BATCH)
    ]
    for name, what in runs:
        got = apart(what, name, given.mib)
        whole.done += got.done
        whole.states += got.states
        whole.wrong += got.wrong
        if got.slowest > whole.slowest:
            whole.slowest, whole.slowest_name = got.slowest, got.slowest_name
    print(f"{whole.done} pictures, {len(bombs())} of them bombs; {len(whole.wrong)} wrong")
    print(f"slowest {whole.slowest * 1000:.0f} ms ({whole.slowest_name}); {dict(whole.states)}")
    print("".join(f"{line}\n" for line in whole.wrong[:40]), end="")
    return 1 if whole.wrong else 0


if __name__ == "__main__":
    sys.exit(main())
