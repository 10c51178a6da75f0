"""One run at a time on a job folder: a second one waits, and says that it waits.

The lock is a file in the user's cache folder, named by the job folder's place, so that a synced
folder is not littered. It keeps apart runs of one user on one computer. It does not reach two
computers, two users or two runs with different cache folders; there, one log for each writer keeps
the logs whole.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from claimkit.intake.places import cache_folder
from claimkit.intake.say import Say, tell
from claimkit.model.stop import CannotGoOn

SAY_AFTER_S = 1.0
GIVE_UP_AFTER_S = 600.0


def lock_file(root: Path) -> Path:
    """Give the lock file of a job folder; `root` is resolved."""
    name = os.path.normcase(root)
    key = hashlib.sha256(name.encode("utf-8", "surrogatepass")).hexdigest()[:24]
    return cache_folder() / "locks" / f"{key}.lock"


@contextmanager
def locked(
    root: Path,
    say: Say | None = None,
    *,
    say_after_s: float = SAY_AFTER_S,
    give_up_after_s: float = GIVE_UP_AFTER_S,
) -> Iterator[None]:
    """Keep other runs away from the job folder `root` (resolved) while the block runs.

    `say` gets one sentence when the wait is longer than `say_after_s` seconds; None prints it on
    standard error. Raises CannotGoOn after `give_up_after_s` seconds. Where the cache folder
    cannot be written, the lock lies in custody/; where that cannot be written either, nothing of
    the job can, and no lock is needed.
    """
    from filelock import FileLock, Timeout

    outside = lock_file(root)
    for file in (outside, root / "custody" / ".lock"):
        try:
            # A job folder that is not there is not made by locking it.
            file.parent.mkdir(parents=file is outside, exist_ok=True)
            lock = FileLock(file)
            try:
                lock.acquire(timeout=min(say_after_s, give_up_after_s))
            except Timeout:
                tell(say, f"Another run of claimkit is at work on {root}; waiting for it.")
                lock.acquire(timeout=max(0.0, give_up_after_s - say_after_s))
        except Timeout:
            raise CannotGoOn(
                f"Another run of claimkit has been at work on {root} for more than "
                f"{give_up_after_s:g} seconds. End it, or wait for it, and run this again."
            ) from None
        except (OSError, NotImplementedError):
            continue
        try:
            yield
        finally:
            lock.release()
        return
    yield
