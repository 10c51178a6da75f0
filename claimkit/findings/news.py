"""What is new since last time: what each run was the first to see, from the custody logs.

Photos and records come late, twice, from several telephones and under other names. A run's news
says of each file whether it is new, the same bytes again, moved, changed, gone or back, and places
new photos in the work as far as their own time allows.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from claimkit.findings.wording import counted
from claimkit.model.case import Case, DatedPhoto
from claimkit.model.facts import CustodyEvent, CustodyLine
from claimkit.model.photo import Photo
from claimkit.model.records import Record


class What(StrEnum):
    """What a run found of one file."""

    PHOTO = "photo"
    PAPER = "paper"
    RECORD = "record"
    AGAIN = "same again"
    MOVED = "moved"
    CHANGED = "changed"
    GONE = "gone"
    BACK = "back"


# In the order in which they are told: one, and many.
TITLES = {
    What.RECORD: ("record", "records"),
    What.PHOTO: ("new photo", "new photos"),
    What.PAPER: ("other new file", "other new files"),
    What.AGAIN: ("file that was here already", "files that were here already"),
    What.MOVED: ("file moved or renamed", "files moved or renamed"),
    What.CHANGED: ("file changed", "files changed"),
    What.GONE: ("file gone", "files gone"),
    What.BACK: ("file back again", "files back again"),
}


@dataclass(frozen=True, slots=True)
class Piece:
    """One file of a run's news.

    `other` is the path of the same bytes elsewhere, where `what` is AGAIN or MOVED. `photo` is the
    photo dated, `record` the record, where the folder still holds them.
    """

    what: What
    path: str
    other: str | None = None
    photo: DatedPhoto | None = None
    record: Record | None = None


@dataclass(frozen=True, slots=True)
class Run:
    """One run that found something new. `at` is when, UTC; `this` is True for the run in hand."""

    at: datetime
    writer: str
    this: bool
    pieces: tuple[Piece, ...]


def runs(case: Case) -> tuple[Run, ...]:
    """Give every run that found something new, the latest first."""
    open_batch: dict[str, list[CustodyLine]] = {}
    seen_before: dict[str, str] = {}
    found: list[tuple[list[CustodyLine], dict[str, str]]] = []
    for line in case.facts.custody.lines:
        if line.event is CustodyEvent.RUN:
            open_batch[line.writer] = [line]
            found.append((open_batch[line.writer], dict(seen_before)))
        elif line.path and line.sha256 and line.writer in open_batch:
            open_batch[line.writer].append(line)
            if line.event is not CustodyEvent.MISSING:
                seen_before.setdefault(line.sha256, line.path)
    told = (_run(case, batch, before) for batch, before in found)
    return tuple(sorted((run for run in told if run.pieces), key=lambda r: r.at, reverse=True))


def of_sort(run: Run, what: What) -> list[Piece]:
    """Give the pieces of one sort."""
    return [piece for piece in run.pieces if piece.what is what]


def counted_of(run: Run, what: What) -> str:
    """Say how many pieces of one sort there are."""
    one, many = TITLES[what]
    return counted(len(of_sort(run, what)), one, many)


def summary(case: Case) -> str | None:
    """Say in one line what this run was the first to see; None where nothing was new."""
    found = [run for run in runs(case) if run.this]
    if not found:
        return None
    return ", ".join(counted_of(found[0], what) for what in TITLES if of_sort(found[0], what))


def _run(case: Case, batch: list[CustodyLine], before: dict[str, str]) -> Run:
    first, *lines = batch
    gone = {line.sha256: line.path for line in lines if line.event is CustodyEvent.MISSING}
    pieces = tuple(_pieces(case, lines, before, gone))
    return Run(first.at, first.writer, first.at == case.now, pieces)


def _pieces(
    case: Case,
    lines: list[CustodyLine],
    before: dict[str, str],
    gone: dict[str | None, str | None],
) -> Iterator[Piece]:
    """Give the pieces of one run; a file gone from one path and new at another has moved."""
    here = dict(before)
    moved: set[str | None] = set()
    for line in lines:
        path, sha256 = line.path or "", line.sha256 or ""
        if line.event in (CustodyEvent.FIRST_SEEN, CustodyEvent.RECORD_ADDED):
            if gone.get(sha256) not in (None, *moved):
                moved.add(gone[sha256])
                yield _piece(case, What.MOVED, line, gone[sha256])
            elif here.get(sha256, path) != path:
                yield _piece(case, What.AGAIN, line, here[sha256])
            else:
                yield _piece(case, _kind(case, line), line)
            here.setdefault(sha256, path)
        elif line.event is CustodyEvent.CHANGED:
            yield _piece(case, What.CHANGED, line)
        elif line.event is CustodyEvent.RETURNED:
            yield _piece(case, What.BACK, line)
    for line in lines:
        if line.event is CustodyEvent.MISSING and line.path not in moved:
            yield Piece(What.GONE, line.path or "")


def _piece(case: Case, what: What, line: CustodyLine, other: str | None = None) -> Piece:
    dated = next((d for d in case.photos if d.sha256 == line.sha256), None)
    record = next((r for r in case.facts.records if r.sha256 == line.sha256), None)
    return Piece(what, line.path or "", other, dated, record)


def _kind(case: Case, line: CustodyLine) -> What:
    if line.event is CustodyEvent.RECORD_ADDED:
        return What.RECORD
    photo: Photo | None = case.facts.photo_of(line.sha256 or "")
    return What.PHOTO if photo else What.PAPER
