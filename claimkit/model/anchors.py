"""What a packet says of custody in a form that a program can read back from the file.

The lines of the logs that it knew of, by their hashes, and the hash of its list of originals. The
same stands in its text; a packet that was sent then shows whether a log before those lines changed.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable
from dataclasses import dataclass

_MARK = "claimkit custody 1"
_HEAD = re.compile(r"log ([a-z0-9][a-z0-9_-]{0,39}) line ([1-9]\d{0,8}) ([0-9a-f]{64})")
_ORIGINALS = re.compile(r"originals ([0-9a-f]{64})")


@dataclass(frozen=True, slots=True)
class LogHead:
    """One line of a writer's log, by its number and its hash."""

    writer: str
    number: int
    sha256: str


@dataclass(frozen=True, slots=True)
class Anchors:
    """What something outside the logs has kept of them. `originals` is the hash of a list."""

    heads: tuple[LogHead, ...] = ()
    originals: str | None = None

    def words(self) -> str:
        """Give it as one line of words, to be kept in a file's own description."""
        parts = [_MARK]
        parts += [f"log {h.writer} line {h.number} {h.sha256}" for h in self.heads]
        parts += [f"originals {self.originals}"] if self.originals else []
        return "; ".join(parts)


def anchors_in(words: str) -> Anchors | None:
    """Read the words back; None where they are not such words. Never raises."""
    mark, *parts = words.split("; ")
    if mark != _MARK:
        return None
    heads = [match for part in parts if (match := _HEAD.fullmatch(part))]
    lists = [match for part in parts if (match := _ORIGINALS.fullmatch(part))]
    if len(heads) + len(lists) != len(parts) or len(lists) > 1:
        return None
    return Anchors(
        tuple(LogHead(m[1], int(m[2]), m[3]) for m in heads), lists[0][1] if lists else None
    )


def list_of_originals(files: Iterable[tuple[str, str]]) -> str:
    """Give (path, SHA-256) pairs as lines: hash, two spaces, path, in the order of paths.

    This is the form that sha256sum prints, in UTF-8 with line feeds; paths are those in the job
    folder.
    """
    return "".join(f"{sha256}  {path}\n" for path, sha256 in sorted(set(files)))


def hash_of_list(files: Iterable[tuple[str, str]]) -> str:
    """Give the SHA-256 of a list of originals."""
    text = list_of_originals(files)
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()
