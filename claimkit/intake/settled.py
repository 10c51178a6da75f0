"""What a whole job folder said, kept in the index while nothing in it is touched.

Only a run that left nothing undone is kept: every file read, every line in the custody log, no log
cut off. Its facts stand under the folder's state, which is names, sizes and times taken before
anything was read, so that whatever changes later changes the state. Where the state is the same no
file is opened, the custody logs neither; `--fresh` and `claimkit verify` always read them.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from pathlib import Path

from claimkit.intake.contents import facts_from_json, facts_to_json, reading_version
from claimkit.intake.custody import Shelf, listed
from claimkit.intake.disk import Disk
from claimkit.intake.entry import Entry
from claimkit.intake.index import Index, Settled
from claimkit.model.facts import Facts


def settled_facts(index: Index, job: str, root: Path, mark: str, disk: Disk) -> Facts | None:
    """Give the facts of a folder in which nothing has changed since they were kept, or None.

    `mark` is the state of its files but the custody logs, `job` the folder's name in the index.
    """
    try:
        state = _state(mark, listed(root, disk))
    except OSError:
        return None
    data = index.settled(job, state)
    try:
        return facts_from_json(data) if data else None
    except (ValueError, TypeError, KeyError):
        return None  # its check sum held, so other code wrote it: read the folder instead


def to_settle(facts: Facts, mark: str, shelf: Shelf) -> Settled | None:
    """Give what the index is to keep of a folder of which everything could be read and logged.

    `shelf` is custody/ as this run left it. None where it is not at rest.
    """
    if not shelf.at_rest:
        return None
    data = facts_to_json(facts)
    return Settled(_state(mark, shelf.listed), data) if data else None


def _state(mark: str, logs: Sequence[Entry]) -> str:
    total = hashlib.blake2b(f"{reading_version()}\0{mark}".encode(), digest_size=16)
    for log in logs:
        total.update(repr(log).encode("utf-8", "surrogatepass"))
    return total.hexdigest()
