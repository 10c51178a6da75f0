"""Small caches of what pictures gave, as one JSON file each, put in place whole.

A cache is a convenience: a damaged, foreign or unwritable one holds nothing and stops nothing.
"""

from __future__ import annotations

import json
import os
import tempfile
from pathlib import Path
from typing import Any


def kept(place: Path, code: object) -> dict[str, Any]:
    """Give the rows that the same code kept, by hash of the picture; none where it cannot."""
    try:
        raw = json.loads(place.read_bytes())
        rows = raw["rows"]
        return dict(rows) if raw["code"] == code else {}
    except (OSError, ValueError, TypeError, KeyError):
        return {}


def keep(place: Path, code: object, rows: dict[str, Any]) -> None:
    """Write the rows for the next run."""
    temporary = None
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(dir=place.parent, suffix=".part")
        with os.fdopen(handle, "w", encoding="utf-8") as out:
            json.dump({"code": code, "rows": dict(sorted(rows.items()))}, out)
        Path(temporary).replace(place)
    except OSError:
        if temporary:
            Path(temporary).unlink(missing_ok=True)
