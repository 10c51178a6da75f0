"""Small caches of what pictures gave, as one JSON file each, put in place whole.

A cache is a convenience: a damaged, foreign or unwritable one holds nothing and stops nothing.
"""

from __future__ import annotations

import hashlib
import json
import os
import tempfile
from pathlib import Path
from typing import Any


def kept(place: Path, code: object) -> dict[str, Any]:
    """Give the rows that the same code kept, by hash of the picture; none where it cannot."""
    try:
        raw = json.loads(place.read_bytes())
        rows = dict(raw["rows"])
        return rows if (raw["code"], raw["seal"]) == (code, _seal(rows)) else {}
    except (OSError, ValueError, TypeError, KeyError, RecursionError):
        return {}


def keep(place: Path, code: object, rows: dict[str, Any]) -> None:
    """Write the rows for the next run."""
    temporary = None
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(dir=place.parent, suffix=".part")
        with os.fdopen(handle, "w", encoding="utf-8") as out:
            plain = json.loads(json.dumps(dict(sorted(rows.items()))))  # as it is read back
            json.dump({"code": code, "seal": _seal(plain), "rows": plain}, out)
        Path(temporary).replace(place)
    except OSError:
        if temporary:
            Path(temporary).unlink(missing_ok=True)


def _seal(rows: dict[str, Any]) -> str:
    # A flipped bit in a kept number would come back as another gap.
    data = json.dumps(rows, sort_keys=True).encode("ascii")
    return hashlib.blake2b(data, digest_size=12).hexdigest()
