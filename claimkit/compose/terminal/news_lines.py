"""What came in since last time, as lines for an 80-column terminal."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from claimkit.compose.phrases import clock, site_zone, stretch
from claimkit.compose.terminal.lines import head, left_alone, no_job, problems
from claimkit.compose.terminal.text import wrapped
from claimkit.findings.news import TITLES, Piece, Run, What, counted_of, of_sort, runs
from claimkit.findings.wording import counted, in_words
from claimkit.model.case import Case

NAMED = 12  # more files of one sort are counted, not listed
_LATE = timedelta(days=2)  # photos are taken off a telephone within a day or two (own convention)


def news_lines(case: Case, *, everything: bool = False) -> list[str]:
    """Print the last run that found something new, or every one."""
    if case.facts.job is None:
        return no_job(case, "news")
    found = runs(case)
    lines = head(case, "news")
    if not found:
        return [*lines, "", "Nothing has come in yet."]
    if not found[0].this:
        lines += ["", "Nothing new in this run."]
    for run in found if everything else found[:1]:
        lines += _run(case, run)
    rest = len(found) - 1
    if rest and not everything:
        lines += ["", f"{counted(rest, 'earlier run')} found something new: claimkit news --all"]
    told = [*problems(case), *left_alone(case)]
    return [*lines, "", "Files with problems", *told] if told else lines


def _run(case: Case, run: Run) -> Iterator[str]:
    at = clock(run.at, site_zone(case))
    yield ""
    yield from wrapped(f"New in this run, {at}" if run.this else f"Last new at {at}", "  ", "")
    yield f"  by {run.writer}: " + ", ".join(
        counted_of(run, what) for what in TITLES if of_sort(run, what)
    )
    for what, (one, many) in TITLES.items():
        pieces = of_sort(run, what)
        if pieces:
            yield ""
            yield f"{len(pieces)} {one if len(pieces) == 1 else many}"
            for piece in pieces[:NAMED]:
                yield from wrapped(_told(case, run, piece), "    ", "  ")
            if len(pieces) > NAMED:
                yield f"  and {len(pieces) - NAMED} more"


def _told(case: Case, run: Run, piece: Piece) -> str:
    if piece.what is What.GONE:
        return f"{piece.path}: no longer in the folder. Put it back if it was not meant to go."
    if piece.what is What.AGAIN:
        return f"{piece.path}: the same bytes as {piece.other}; counts once."
    if piece.what is What.MOVED:
        return f"{piece.other} is now {piece.path}; the bytes are the same."
    said = _record(piece) or _photo(case, run, piece)
    return f"{piece.path}: {said}" if said else piece.path


def _record(piece: Piece) -> str:
    record = piece.record
    if record is None:
        return ""
    told = f"{record.kind.replace('_', ' ')}, stated by {record.said_by}"
    if record.replaces:
        told += f", corrects {record.replaces}"
    if record.replaced_by:
        told += f"; {record.replaced_by} stands in its place"
    return told


def _photo(case: Case, run: Run, piece: Piece) -> str:
    """Say when a photo was taken, in which stage, and whether it came late."""
    dated = piece.photo
    if dated is None:
        return ""
    taken = dated.taken
    if taken.latest is None or not taken.known:
        return "no usable time; get the original while the telephone still has it"
    told = f"taken {stretch(taken, site_zone(case))}"
    told += f", {dated.stage}" if dated.stage else ", in no stage that the records bound"
    late = run.at - taken.latest
    return f"{told}, {in_words(late)} before it came in" if late > _LATE else told
