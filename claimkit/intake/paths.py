"""Names of files as the disk has them and as they can be shown, compared and found again.

A file name may hold bytes that are no text, or characters that would move a cursor or turn the
reading direction. Such parts are shown as visible codes. Names that differ only in how an accent
is composed are one name to a reader (Unicode Standard Annex 15), and are compared that way.
"""

from __future__ import annotations

import re
import unicodedata
from pathlib import Path

CUSTODY = "custody"  # the folders of a job that are claimkit's own
OUT = "out"
# Directional formatting characters of Unicode Standard Annex 9: they can disguise a file's ending.
_TURNING = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
_UNSHOWABLE = frozenset({"Cc", "Cs", "Zl", "Zp"})
_CODE = re.compile(r"\\x([0-9a-f]{2})|\\u([0-9a-f]{4})")


def shown(name: str) -> str:
    r"""Give a name with undecodable bytes, control and turning characters as visible codes.

    A byte that is no text becomes `\x` and its two hexadecimal digits, any other such character
    `\u` and four. All other names come back unchanged.
    """
    if name.isascii() and name.isprintable():
        return name
    return "".join(_code(c) if _hides(c) else c for c in name)


def on_disk(root: Path, path: str) -> Path:
    """Find the file that intake named `path`, a path relative to `root` with forward slashes.

    Undoes `shown`. Where no such file is there, the path comes back as it would be.
    """
    plain = root / path
    if "\\" not in path or plain.exists():
        return plain
    raw = root / _CODE.sub(_character, path)
    return raw if raw.exists() else plain


def same_name(path: str) -> str:
    """Give the form under which two spellings of one name compare equal (Unicode NFC)."""
    return path if path.isascii() else unicodedata.normalize("NFC", path)


def _hides(character: str) -> bool:
    return unicodedata.category(character) in _UNSHOWABLE or character in _TURNING


def _code(character: str) -> str:
    point = ord(character)
    if 0xDC80 <= point <= 0xDCFF:  # how Python carries an undecodable byte (PEP 383)
        return f"\\x{point - 0xDC00:02x}"
    return f"\\u{point:04x}"


def _character(code: re.Match[str]) -> str:
    byte, point = code.groups()
    return chr(0xDC00 + int(byte, 16)) if byte else chr(int(point, 16))
