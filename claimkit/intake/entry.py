"""What the disk says of a file or a folder without opening it: its kind, size and times."""

from __future__ import annotations

import os
import stat
import sys
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

_MAC_HIDDEN = 0x8000  # UF_HIDDEN of chflags(2)
_CAN_HIDE = any(hasattr(os.stat_result, name) for name in ("st_file_attributes", "st_flags"))
_JUNCTION = getattr(stat, "IO_REPARSE_TAG_MOUNT_POINT", 0xA0000003)


class EntryKind(StrEnum):
    """What stands at a place, before any link is followed."""

    FILE = "file"
    FOLDER = "folder"
    LINK = "link"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class Stamp:
    """What the disk says of a file without opening it.

    `size` in bytes; `mtime_ns` when it was last written; `ctime_ns` when its entry last changed,
    which no program can set back (0 on Windows, where that field means the creation).
    """

    size: int
    mtime_ns: int
    ctime_ns: int = 0


@dataclass(frozen=True, slots=True)
class Entry:
    """One name in a folder. `hidden` is the file system's own mark, not a leading dot."""

    name: str
    kind: EntryKind
    stamp: Stamp
    hidden: bool = False


def status_of(found: os.DirEntry[str]) -> os.stat_result | None:
    """Give the state of an entry, links not followed; None where it is gone since the listing."""
    try:
        # What a listing says of a file can be out of date on Windows (os.DirEntry.stat).
        if sys.platform == "win32":
            return Path(found.path).lstat()
        return found.stat(follow_symlinks=False)
    except FileNotFoundError:
        return None


def changed_ns(status: os.stat_result) -> int:
    """Give when an entry last changed; 0 on Windows, where that field means the creation."""
    return 0 if sys.platform == "win32" else status.st_ctime_ns


def stamp_of(status: os.stat_result) -> Stamp:
    """Give size and times from a status."""
    return Stamp(status.st_size, status.st_mtime_ns, changed_ns(status))


def entry_of(name: str, status: os.stat_result) -> Entry:
    """Give an entry from its name and status."""
    if is_link(status):
        kind = EntryKind.LINK
    elif stat.S_ISDIR(status.st_mode):
        kind = EntryKind.FOLDER
    else:
        kind = EntryKind.FILE if stat.S_ISREG(status.st_mode) else EntryKind.OTHER
    return Entry(name, kind, stamp_of(status), is_hidden(status))


def is_hidden(status: os.stat_result) -> bool:
    """Tell whether the file system itself hides an entry, as Windows and the Mac can."""
    return _CAN_HIDE and bool(
        getattr(status, "st_file_attributes", 0) & stat.FILE_ATTRIBUTE_HIDDEN
        or getattr(status, "st_flags", 0) & _MAC_HIDDEN
    )


def is_link(status: os.stat_result) -> bool:
    """Tell whether an entry is a link, or a Windows folder that stands for another (junction)."""
    return stat.S_ISLNK(status.st_mode) or getattr(status, "st_reparse_tag", 0) == _JUNCTION
