"""What a disk refuses, as words: the system's reason, and what a person can do about it.

A full disk, a file that another program holds and a folder that was renamed while claimkit was at
work are nobody's defect. Each has its own next step; all others keep the one that the caller gives.
"""

from __future__ import annotations

import errno

from claimkit.intake.paths import shown

_FULL = "The disk is full: free some space and run this again."
_MOVED = (
    "It was there before: put it back, or wait until the folder is synchronised, and run this "
    "again."
)
_READ_ONLY = "The disk can only be read. Work on a copy of the folder on another disk."
_BUSY = "Another program holds it. Close it there, or wait for the synchronising, and run again."
_NEXT = {  # by name, since not every system has every number
    "ENOSPC": _FULL,
    "EDQUOT": _FULL,
    "EFBIG": "The disk cannot hold so large a file. Use another disk.",
    "EROFS": _READ_ONLY,
    "EBUSY": _BUSY,
    "ETXTBSY": _BUSY,
    "ENAMETOOLONG": "Move the job folder to a shorter path, or shorten the name.",
    "EIO": "The disk or the network failed. Copy the folder to another disk before anything.",
    "EMFILE": "Close other programs and run this again.",
}
_SHARING, _LOCKED, _DISK_FULL = 32, 33, 112  # Windows, System Error Codes 0 to 499
_NEXT_ON_WINDOWS = {_SHARING: _BUSY, _LOCKED: _BUSY, _DISK_FULL: _FULL}


def reason_of(error: OSError) -> str:
    """Give the system's reason for refusing, as words."""
    return (error.strerror or str(error)).rstrip(".")


def next_step(error: OSError, otherwise: str) -> str:
    """Give what to do about a refusal: what its kind asks for, else the sentence given."""
    windows = _NEXT_ON_WINDOWS.get(getattr(error, "winerror", None) or 0)
    return windows or _NEXT.get(errno.errorcode.get(error.errno or 0, ""), otherwise)


def sentence(error: OSError) -> str:
    """Give the whole sentence on a refusal that no command has words of its own for."""
    name = error.filename if isinstance(error.filename, str) else ""
    where = shown(name) if name else "A file"
    gone = isinstance(error, FileNotFoundError | NotADirectoryError)
    otherwise = _MOVED if gone else "Give this user the right to it, or close what holds it."
    return (
        f"{where} could not be used: {reason_of(error)}. {next_step(error, otherwise)} "
        "What was finished before stays."
    )
