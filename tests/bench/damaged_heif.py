"""What the native HEIF decoder does with damaged files, and whether the box check keeps them out.

Run by hand on Linux or macOS: `python -m tests.bench.damaged_heif FOLDER --count 20000`, FOLDER
holding HEIC, HIF or AVIF files. Each mutant is opened by pi-heif in a child process; the table
counts the children that died of a signal, apart for those that `isobmff.holds_together` passes.
With --decode the pixels are decoded too, which takes half a second for a 12-megapixel picture.
"""

from __future__ import annotations

import argparse
import os
import random
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from claimkit.intake.metadata.isobmff import holds_together
from claimkit.intake.metadata.magic import HEAD_BYTES, kind_of
from claimkit.model.photo import FileKind
from tests.bench.mutate_photos import damaged


def dies(data: bytes, decode: bool) -> bool:
    """Tell whether opening these bytes with pi-heif kills the process that does it."""
    import pi_heif

    child = os.fork()
    if child == 0:
        try:
            opened = pi_heif.open_heif(data)
            if decode:
                opened.to_pillow()
        finally:
            os._exit(0)  # an exception is an answer; only a signal is counted
    return os.WIFSIGNALED(os.waitpid(child, 0)[1])


def main() -> None:
    """Run from the command line."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("folder", type=Path)
    options.add_argument("--count", type=int, default=20_000)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--decode", action="store_true")
    given = options.parse_args()
    boxed = (FileKind.HEIF, FileKind.AVIF)
    whole = [path.read_bytes() for path in sorted(given.folder.iterdir())]
    sources: Sequence[bytes] = [data for data in whole if kind_of(data[:HEAD_BYTES]) in boxed]
    rng = random.Random(given.seed)
    counts: Counter[tuple[bool, bool]] = Counter()
    for _ in range(given.count):
        data = damaged(rng.choice(sources), rng)
        counts[holds_together(data), dies(data, given.decode)] += 1
    for passed, words in ((True, "passed by the box check"), (False, "kept out by it")):
        alive, dead = counts[passed, False], counts[passed, True]
        print(f"{words}: {alive + dead} opened, {dead} killed the process")


if __name__ == "__main__":
    main()
