"""What a job's calendar entries said the last time, so that a change raises their SEQUENCE.

Kept in out/calendar.json of the job: RFC 5545 3.8.7.4 wants a number that rises with each change,
and a calendar that has seen a higher one ignores the rest. Where the file is lost or damaged the
numbers go on from the minutes since 2020, so that they are higher than any counted before.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, replace
from datetime import UTC, date, datetime
from pathlib import Path
from uuid import NAMESPACE_URL, uuid5

from claimkit.intake.disk import RealDisk, put
from claimkit.model.summary import CalendarEntry

FILE = "calendar.json"
_BEGAN = datetime(2020, 1, 1, tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Kept:
    """One entry as it was last written. `modified` is aware, as ISO text; `gone` is cancelled."""

    uid: str
    digest: str
    sequence: int
    modified: str
    day: str
    summary: str
    gone: bool = False


def kept(folder: Path) -> dict[str, Kept] | None:
    """Give what was last written of a job's entries, by their keys; None where it is damaged."""
    import msgspec

    file = folder / "out" / FILE
    try:
        raw = json.loads(file.read_text(encoding="utf-8"))
        found = msgspec.convert(raw["entries"], dict[str, Kept])
        for one in found.values():
            date.fromisoformat(one.day)
            if datetime.fromisoformat(one.modified).tzinfo is None:
                raise ValueError("a time without a zone")
        return found
    except FileNotFoundError:
        return {}
    except (OSError, ValueError, TypeError, KeyError, RecursionError):
        return None  # msgspec.ValidationError is a ValueError


def advance(
    before: dict[str, Kept] | None, entries: tuple[CalendarEntry, ...], job: str, now: datetime
) -> dict[str, Kept]:
    """Give each entry with its uid and its SEQUENCE: raised where it changed, came back or went.

    `job` names the job for uids that are new; `now` is aware. Entries that went stay, cancelled.
    """
    first = int((now - _BEGAN).total_seconds() // 60) if before is None else 0
    old = before or {}
    found: dict[str, Kept] = {}
    for entry in entries:
        was = old.get(entry.key)
        if was and was.digest == entry.digest and not was.gone:
            found[entry.key] = was
            continue
        uid = was.uid if was else f"{uuid5(NAMESPACE_URL, f'claimkit:{job}:{entry.key}')}"
        sequence = was.sequence + 1 if was else first
        found[entry.key] = Kept(
            uid,
            entry.digest,
            sequence,
            now.isoformat(timespec="seconds"),
            entry.day.isoformat(),
            entry.summary,
        )
    for key, was in old.items():
        if key not in found:
            changed = replace(
                was,
                gone=True,
                sequence=was.sequence + 1,
                modified=now.isoformat(timespec="seconds"),
            )
            found[key] = was if was.gone else changed
    return found


def keep(folder: Path, entries: dict[str, Kept]) -> None:
    """Write what the entries say now. Raises OSError."""
    raw = {"entries": {key: asdict(value) for key, value in sorted(entries.items())}}
    (folder / "out").mkdir(exist_ok=True)
    data = json.dumps(raw, ensure_ascii=False, indent=1).encode("utf-8")
    put(RealDisk(), folder / "out" / FILE, data)
