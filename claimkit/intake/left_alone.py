"""Names of files that are not the job's own: what systems, programs and synced folders leave.

Each row is a pattern on the name alone and the reason that is given for leaving the file where
it is. The rows are common practice of operating systems and file synchronisation; they name what
such files look like, and no file is left alone without being named.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

_FLAGS = re.IGNORECASE | re.DOTALL


@dataclass(frozen=True, slots=True)
class LeftAlone:
    """A pattern that a whole name must match, letter case aside, and why such a file is left."""

    pattern: str
    reason: str


_SYSTEM = "The operating system made it; it belongs to no job."
_TEMPORARY = (
    "A temporary file of a program or an unfinished download. Finish or close what made it; "
    "rename the file if it belongs to the job."
)
_CONFLICT = (
    "A copy that a synced folder made when two devices changed one file. Compare it with the "
    "file it was made from, keep what is right under a plain name, and delete the other."
)
_PLACEHOLDER = (
    "Hidden, and by its name a stand-in for a file that a synced folder has not fetched yet. "
    "Fetch the file itself to this computer."
)
_HIDDEN = "Hidden. Rename it without the leading dot if it belongs to the job."
HIDDEN_BY_MARK = "Hidden by the file system. Show it if it belongs to the job."

# First match decides. Common practice, no source, unless a row says otherwise.
ROWS: tuple[LeftAlone, ...] = (
    LeftAlone(r"\.DS_Store|\.localized|\.apdisk|Icon\r", _SYSTEM),
    LeftAlone(r"Thumbs\.db|ehthumbs(_vista)?\.db|desktop\.ini", _SYSTEM),
    LeftAlone(r"\$RECYCLE\.BIN|System Volume Information|lost\+found", _SYSTEM),
    LeftAlone(r"__MACOSX|@eaDir|\.Trash(es|-\d+)?", _SYSTEM),
    # AppleDouble: the second half of a Mac file on a disk that cannot hold it (RFC 1740).
    LeftAlone(r"\._.+", "The system's data about the file of the same name without '._'."),
    LeftAlone(r"~\$.+|\.~lock\..+#?", _TEMPORARY),
    LeftAlone(r".+\.(tmp|temp|part|partial|crdownload|download|opdownload|swp|swx)", _TEMPORARY),
    LeftAlone(r".+~", _TEMPORARY),
    LeftAlone(
        r"\..+\.(jpe?g|hei[cf]|hif|avif|png|webp|tiff?|gif|dng|mov|mp4|pdf|toml|txt)\.[a-z]+",
        _PLACEHOLDER,
    ),
    LeftAlone(r".*\bconflict(ed)?[ _-](copy|version)\b.*", _CONFLICT),
    LeftAlone(r".*[._ -]sync[._ -]conflict[._ -].*", _CONFLICT),
    # In brackets with nothing but a number or date: "panel (conflict with wall)" is a user's name.
    LeftAlone(
        r".*[(\[]((case|name|unicode) )?conflict(ed)?([ _.-]*\d[\d ._:T-]*)?[)\]].*", _CONFLICT
    ),
    LeftAlone(r".*[._-]conflict(ed)?[._ -]?\d{8}[._ T-]?\d{4,6}\b.*", _CONFLICT),
    LeftAlone(
        r".*\b(konfliktkopie|copie en conflit|copia en conflicto|copia in conflitto)\b.*",
        _CONFLICT,
    ),
    LeftAlone(r"\..+", _HIDDEN),
)


def why_left_alone(name: str) -> str | None:
    """Give the reason why a file or folder of that name is not taken, or None where it is."""
    if not _any().fullmatch(name):  # nearly every name: one look instead of one for each row
        return None
    return next(row.reason for row in ROWS if re.fullmatch(row.pattern, name, _FLAGS))


@cache
def _any() -> re.Pattern[str]:
    return re.compile("|".join(row.pattern for row in ROWS), _FLAGS)
