"""Damage photo files at random and read them: no crash, no second lost, no wrong date.

Run by hand in a process of its own, from the root of the checkout:
`python -m tests.bench.mutate_photos --count 50000 --seed 1`. On POSIX each batch is read by a
process of its own, which may take so much more memory than it begins with and so many seconds for
one mutant; one that dies, hangs or asks for more is counted as crashed. A mutant is drawn from
files written by hand and, where they are at hand, from the shared test photos. A date is wrong
where every date, offset and sub-second text of the original still stands in the mutant, as often
as before, and the tool claims another date, or another offset, than the original states for that
tag. A date that lost its sub-seconds with their directory entry is less exact, not wrong. Counted
apart as renamed: a text that is whole and stands in a sound entry, whose tag number was changed
into that of another date's text, so that the file states it of that date. No reader can tell.
"""

from __future__ import annotations

import argparse
import os
import pickle
import random
import signal
import sys
import time
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from claimkit.intake.metadata.photo import read_bytes
from claimkit.model.photo import DateTag, Photo
from tests.intake import photo_writer as write

BATCH = 500  # mutants to a process
EXTREMES = (b"\0\0\0\0", b"\xff\xff\xff\xff", b"\0\0\0\1", b"\1\0\0\0", b"\x7f\xff\xff\xff")


@dataclass(frozen=True)
class Original:
    """A whole file, what it states, the texts that state it, and which tag holds which."""

    name: str
    data: bytes
    stated: dict[str, tuple[datetime | None, int | None]]
    texts: tuple[tuple[bytes, int], ...]
    held: dict[tuple[str, str], str]


@dataclass
class Tally:
    """What became of the mutants."""

    read: int = 0
    untouched: int = 0
    states: Counter[str] = field(default_factory=Counter)
    crashes: list[str] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)
    renamed: list[str] = field(default_factory=list)
    slowest: float = 0.0
    slowest_name: str = ""


def original(name: str, data: bytes) -> Original:
    """Read a whole file once; its own dates are the yardstick of its mutants."""
    photo = read_bytes(data, name)
    dates = photo.dates if isinstance(photo, Photo) else ()
    stated = {d.tag: (d.local, d.offset_minutes) for d in dates}
    texts = {t for d in dates for t in (d.text, d.offset_text, d.subsec_text) if t}
    counts = tuple((t.encode(), data.count(t.encode())) for t in sorted(texts))
    return Original(name, data, stated, counts, held(dates))


def held(dates: Iterable[DateTag]) -> dict[tuple[str, str], str]:
    """Give the texts by the name of their date and what they are of it."""
    kinds = ("text", "offset_text", "subsec_text")
    return {(d.tag, kind): said for d in dates for kind in kinds if (said := getattr(d, kind))}


def is_renamed(source: Original, photo: Photo, tag: str) -> bool:
    """Tell whether what a tag states anew are whole texts that another tag has lost.

    What was the tag's own before must still be there.
    """
    now = held(photo.dates)
    lost = {key: said for key, said in source.held.items() if key not in now}
    mine = [key for key in {*now, *source.held} if key[0] == tag]
    new = [key for key in mine if key not in source.held]
    return bool(new) and all(
        now.get(key) == source.held[key]
        if key in source.held
        else (key[1], now[key]) in {(kind, said) for (_, kind), said in lost.items()}
        for key in mine
    )


def originals(shared: Path | None, largest: int) -> list[Original]:
    """Give the files that mutants are drawn from, no larger than so many bytes."""
    little = write.camera_block(
        "2024:05:12 14:03:22", offset="+02:00", subsec="123", changed="2023:01:02 03:04:05"
    )
    big = write.camera_block("2021:11:30 23:59:59", ">", digitized="2020:02:29 00:00:00")
    gps = write.block(
        [write.text(0x0132, "2022:06:07 08:09:10")],
        [write.text(0x9003, "2022:06:07 08:09:11"), write.text(0x9010, "-05:00")],
        [write.text(1, "N"), write.ratios(2, [(52, 1), (31, 1), (12, 1)]), write.text(3, "E"),
         write.ratios(4, [(13, 1), (24, 1), (18, 1)]), write.text(0x1D, "2022:06:07")],
        [write.text(0x0132, "1999:09:09 09:09:09")],
    )  # fmt: skip
    made = []
    for label, block in (("little", little), ("big", big), ("gps", gps)):
        made += [
            (f"{label}.jpg", write.jpeg(write.exif_segment(block))),
            (f"{label}.png", write.png(write.chunk(b"eXIf", block))),
            (f"{label}.webp", write.webp(write.riff_chunk(b"EXIF", block))),
            (f"{label}.heic", write.heif(block)),
            (f"{label}-idat.heic", write.heif(block, in_idat=True)),
            (f"{label}.tif", block),
        ]
    if shared is not None:
        for part in ("crafted", "real", "hostile"):
            for path in sorted((shared / part).iterdir()):
                if 0 < path.stat().st_size <= largest:
                    made.append((f"{part}/{path.name}", path.read_bytes()))
    return [original(name, data) for name, data in made]


def damaged(data: bytes, rng: random.Random) -> bytes:
    """Change a file in one to eight places, mostly near its beginning, where the structure is."""
    raw = bytearray(data)
    for _ in range(rng.choice((1, 1, 1, 2, 3, 8))):
        if len(raw) < 8:
            break
        reach = rng.choice((64, 512, 4096, len(raw)))
        at = rng.randrange(min(reach, len(raw) - 4))
        what = rng.randrange(8)
        if what == 0:
            raw[at] = rng.randrange(256)
        elif what == 1:
            raw[at] ^= 1 << rng.randrange(8)
        elif what == 2:
            raw[at : at + 4] = rng.choice(EXTREMES)
        elif what == 3:
            del raw[at : at + rng.choice((1, 2, 4, 12, 100))]
        elif what == 4:
            raw[at:at] = bytes(rng.randrange(256) for _ in range(rng.choice((1, 2, 4, 12))))
        elif what == 5:
            there = rng.randrange(len(raw))
            raw[at : at + 12] = raw[there : there + 12]
        elif what == 6 and rng.random() < 0.3:
            del raw[at + 4 :]
        else:
            raw[at : at + 2] = rng.randrange(65_536).to_bytes(2, "big")
    return bytes(raw)


def judge(source: Original, data: bytes, tally: Tally) -> None:
    """Read one mutant and put down what came of it."""
    began = time.process_time()
    try:
        photo = read_bytes(data, source.name)
    except Exception as error:  # whatever comes out is what is looked for
        tally.crashes.append(f"{source.name}: {type(error).__name__}: {error}")
        return
    took = time.process_time() - began
    if took > tally.slowest:
        tally.slowest, tally.slowest_name = took, source.name
    tally.read += 1
    if not isinstance(photo, Photo):
        tally.states["no photo"] += 1
        return
    tally.states[photo.exif_state.value] += 1
    if photo.exif_reason and "claimkit failed" in photo.exif_reason:
        tally.crashes.append(f"{source.name}: {photo.exif_reason}")
    if all(data.count(text) >= count for text, count in source.texts):
        tally.untouched += 1
        for date in photo.dates:
            stated, offset = source.stated.get(date.tag, (None, None))
            plain = stated and stated.replace(microsecond=0)
            if date.local not in (None, stated, plain) or date.offset_minutes not in (None, offset):
                renamed = is_renamed(source, photo, date.tag)
                (tally.renamed if renamed else tally.wrong).append(
                    f"{source.name}: {date} instead of {stated} {offset}"
                )


def mutate(
    sources: Sequence[Original],
    count: int,
    seed: int,
    before_each: Callable[[], None] = lambda: None,
) -> Tally:
    """Read so many mutants of these files; the same seed gives the same mutants."""
    rng, tally = random.Random(seed), Tally()
    for _ in range(count):
        before_each()
        source = rng.choice(sources)
        judge(source, damaged(source.data, rng), tally)
    return tally


def _batch(sources: Sequence[Original], count: int, seed: int, budget: Budget) -> Tally:
    """Read so many mutants in a process of its own, within the budget of each."""
    reading, writing = os.pipe()
    pid = os.fork()
    if pid == 0:
        os.close(reading)
        budget.hold()
        try:
            tally = mutate(sources, count, seed, before_each=budget.again)
        except BaseException as error:  # a hang, or what no `except Exception` catches
            tally = Tally(crashes=[f"batch {seed}: {type(error).__name__}: {error}"])
        with os.fdopen(writing, "wb") as out:
            pickle.dump(tally, out)
        os._exit(0)
    os.close(writing)
    with os.fdopen(reading, "rb") as told:
        sent = told.read()
    _, status = os.waitpid(pid, 0)
    if status or not sent:
        return Tally(crashes=[f"batch {seed}: the process ended with {status}"])
    tally: Tally = pickle.loads(sent)  # noqa: S301 - what our own child sent
    return tally


@dataclass(frozen=True)
class Budget:
    """What one mutant may take: seconds, and MiB beyond what the process begins with."""

    seconds: float
    mib: int

    def hold(self) -> None:
        """Have the system refuse more memory, and end what takes longer."""
        import resource

        pages = int(Path("/proc/self/statm").read_text().split()[0]) if _PROC.exists() else 0
        if pages:
            most = pages * resource.getpagesize() + (self.mib << 20)
            resource.setrlimit(resource.RLIMIT_AS, (most, most))
        signal.signal(signal.SIGALRM, _too_long)

    def again(self) -> None:
        """Begin the seconds of the next mutant."""
        signal.setitimer(signal.ITIMER_REAL, self.seconds)


_PROC = Path("/proc/self/statm")


class TooLong(BaseException):
    """One mutant took more than its seconds."""


def _too_long(_number: int, _frame: object) -> None:
    raise TooLong("a mutant took more than its seconds")


def _together(tallies: Iterable[Tally]) -> Tally:
    whole = Tally()
    for one in tallies:
        whole.read += one.read
        whole.untouched += one.untouched
        whole.states += one.states
        whole.crashes += one.crashes
        whole.wrong += one.wrong
        whole.renamed += one.renamed
        if one.slowest > whole.slowest:
            whole.slowest, whole.slowest_name = one.slowest, one.slowest_name
    return whole


def main() -> int:
    """Run from the command line; exit 1 where anything crashed, was wrong or took a second."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--count", type=int, default=50_000)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--shared", type=Path, help="the folder of the shared test photos")
    options.add_argument("--largest", type=int, default=800_000, help="bytes of a source file")
    options.add_argument("--seconds", type=float, default=1.0, help="for one mutant")
    options.add_argument("--mib", type=int, default=256, help="of memory for one mutant")
    given = options.parse_args()
    sources = originals(given.shared, given.largest)
    if sys.platform == "win32":
        tally = mutate(sources, given.count, given.seed)
    else:
        budget, batches = Budget(given.seconds, given.mib), range(0, given.count, BATCH)
        tally = _together(
            _batch(sources, min(BATCH, given.count - first), given.seed + first, budget)
            for first in batches
        )
    print(f"{tally.read} read, {len(tally.crashes)} crashed; {tally.untouched} with whole dates")
    print(f"{len(tally.wrong)} wrong dates; {len(tally.renamed)} sound entries renamed")
    print(f"slowest {tally.slowest * 1000:.0f} ms ({tally.slowest_name}); {dict(tally.states)}")
    for line in (tally.crashes + tally.wrong)[:40]:
        print(line)
    for line in tally.renamed[:40]:
        print("renamed:", line)
    return 1 if tally.crashes or tally.wrong or tally.slowest >= 1 else 0


if __name__ == "__main__":
    sys.exit(main())
