"""What goes to the other side beside a packet: originals under the packet's own numbers.

An original that the reader does not get is named with its hash and the reason, so that what is
left out is as plain as what is there. Logs go out whole, or as an excerpt in which lines about
other things stand by their hashes alone.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Kept:
    """An original in a bundle.

    `number` is the one that the packet gives it, such as P3; `path` its place in the job folder,
    `also` further places of the same bytes; `file` its place in the bundle. `located` is True where
    the file itself states a position.
    """

    number: str
    file: str
    path: str
    sha256: str
    also: tuple[str, ...] = ()
    seen: str = ""
    located: bool = False


@dataclass(frozen=True, slots=True)
class Withheld:
    """An original that the packet rests on and the bundle leaves out."""

    number: str
    path: str
    sha256: str | None
    why: str


@dataclass(frozen=True, slots=True)
class Contents:
    """All that a bundle holds of a job.

    `originals` is the list that the packet prints the hash of, `list_sha256` that hash.
    """

    kept: tuple[Kept, ...]
    withheld: tuple[Withheld, ...]
    originals: str
    list_sha256: str
    shown_lines: frozenset[tuple[str, int]] | None  # of the logs; None: all of them
