"""What a run sees that no custody log has said yet: new, changed, missing and returned files.

The state of each file follows from all logs together, so a file that another computer has logged
is not new. Nothing is read or written here.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from claimkit.intake.paths import same_name
from claimkit.model.facts import CustodyEvent, CustodyLine

_SIGHTS = frozenset(
    {
        CustodyEvent.FIRST_SEEN,
        CustodyEvent.RECORD_ADDED,
        CustodyEvent.CHANGED,
        CustodyEvent.RETURNED,
    }
)


@dataclass(frozen=True, slots=True)
class Seen:
    """A file as this run found it.

    `is_record` marks the files of records/, `keep_text` those whose whole text goes into the log.
    `data` are its bytes, where this run has read them.
    """

    path: str
    sha256: str
    size_bytes: int
    where: Path
    is_record: bool = False
    keep_text: bool = False
    data: bytes | None = None


@dataclass(frozen=True, slots=True)
class Taken:
    """All files that a run has read, and the paths of files and folders that it could not.

    Nothing is said of a file that lies at or below one of `unread`: whether it is still there,
    or still the same, is not known.
    """

    files: tuple[Seen, ...]
    unread: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class News:
    """Something that the log should say of a file; `seen` is None where it is missing.

    `path` is spelled as the logs first spelled it.
    """

    event: CustodyEvent
    path: str
    sha256: str
    was_sha256: str | None = None
    seen: Seen | None = None


@dataclass(frozen=True, slots=True)
class _State:
    sha256: str
    present: bool


def unlogged(lines: Iterable[CustodyLine], taken: Taken) -> tuple[News, ...]:
    """Tell what the log should say, in order of paths, missing files last.

    `lines` are those of all logs, each after all that its writer knew of.
    """
    states = _states(lines)
    known_as = _known_as(states, taken.files)
    news = []
    for seen in sorted(taken.files, key=lambda seen: seen.path):
        path = known_as.get(seen.path, seen.path)
        state = states.get(path)
        event = _event(seen, state)
        if event:
            was = state.sha256 if state and state.sha256 != seen.sha256 else None
            news.append(News(event, path, seen.sha256, was, seen))
    unsure = {same_name(path) for path in taken.unread}
    found = set(known_as.values())
    news += [
        News(CustodyEvent.MISSING, path, states[path].sha256)
        for path in sorted(states)
        if states[path].present and path not in found and not _at_or_below(path, unsure)
    ]
    return tuple(news)


def _states(lines: Iterable[CustodyLine]) -> dict[str, _State]:
    states: dict[str, _State] = {}
    for line in lines:
        if line.path is None or line.sha256 is None:
            continue
        if line.event in _SIGHTS:
            states[line.path] = _State(line.sha256, present=True)
        elif line.event is CustodyEvent.MISSING:
            states[line.path] = _State(line.sha256, present=False)
    return states


def _known_as(states: dict[str, _State], files: Sequence[Seen]) -> dict[str, str]:
    """Match each found path with the path that the logs know it by.

    The same spelling comes first; else one that differs only in how accents are composed.
    """
    exact = {seen.path for seen in files if seen.path in states}
    by_name = {same_name(path): path for path in sorted(states) if path not in exact}
    known = {path: path for path in exact}
    for seen in files:
        if seen.path not in exact and same_name(seen.path) in by_name:
            known[seen.path] = by_name.pop(same_name(seen.path))
    return known


def _event(seen: Seen, state: _State | None) -> CustodyEvent | None:
    if state is None:
        return CustodyEvent.RECORD_ADDED if seen.is_record else CustodyEvent.FIRST_SEEN
    if state.sha256 != seen.sha256:
        return CustodyEvent.CHANGED
    return None if state.present else CustodyEvent.RETURNED


def _at_or_below(path: str, unsure: set[str]) -> bool:
    parts = same_name(path).split("/")
    return any("/".join(parts[:depth]) in unsure for depth in range(1, len(parts) + 1))
