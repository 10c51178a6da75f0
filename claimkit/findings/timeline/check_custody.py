"""Findings about the files themselves: left alone, flawed, changed, missing, a log that breaks.

An original that changed after it was first seen is said as plainly as one that stayed the same.
What custody cannot show is said with it: a log proves nothing before its first anchored head.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

from claimkit.findings.timeline.photo_groups import flaws_told
from claimkit.findings.wording import clock_words, counted, listed
from claimkit.findings.written_time import site_zone
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.facts import CustodyEvent, CustodyLine
from claimkit.model.source import Source

Results = tuple[Finding | NotChecked, ...]

INTAKE = "claimkit method: intake (docs/job-folder.md)"
HANDLING = "Fed. R. Evid. 902(14), committee note: a copy is identified by its hash"
LOG = "claimkit method: custody (docs/job-folder.md)"
JOB_FILE = "job.toml"
RECORDS = "records/"
CLOCK_SLACK = timedelta(minutes=2)  # as the log itself allows between two lines


def file_not_taken(case: Case) -> Results:
    """Name the files and folders that were left alone, with the reasons."""
    left = case.facts.not_taken
    if not left:
        return ()
    reasons = [f"{n.path}: {n.reason}" for n in left[:3]]
    more = f" And {len(left) - 3} more." if len(left) > 3 else ""
    return (
        Finding(
            "file-not-taken",
            Standing.NOTE,
            "the job folder",
            f"{counted(len(left), 'file or folder', 'files or folders')} left alone. "
            f"{' '.join(reasons)}{more}",
            "Rename or move what belongs to the job; the rest can stay.",
            tuple(Source(path=n.path) for n in left),
            INTAKE,
        ),
    )


def file_flawed(case: Case) -> Results:
    """Name the papers and other files that are not what they seem."""
    papers = [p for p in case.facts.papers if p.flaws]
    if not papers:
        return ()
    return (
        Finding(
            "file-flawed",
            Standing.NOTE,
            "the job folder",
            f"{counted(len(papers), 'file')} with a flaw. "
            f"{flaws_told([(p.path, p.flaws) for p in papers])}",
            "Keep the file as it is, and put a whole copy beside it where there is one.",
            tuple(Source(path=p.path, sha256=p.sha256) for p in papers),
            INTAKE,
        ),
    )


def changed(case: Case) -> Results:
    """Name photos and papers whose bytes changed after they were first seen."""
    lines = [
        line
        for line in _lines(case, CustodyEvent.CHANGED)
        if line.path != JOB_FILE and not (line.path or "").startswith(RECORDS)
    ]
    return _about(
        "custody-changed",
        lines,
        "changed after the custody log had seen the first bytes",
        "Find the original (its first hash is in the log) and put it back under a name of its "
        "own; never edit an original, make a copy.",
    )


def record_edited(case: Case) -> Results:
    """Name records that were edited after the log had kept their text."""
    lines = [
        line for line in _lines(case, CustodyEvent.CHANGED) if (line.path or "").startswith(RECORDS)
    ]
    return _about(
        "custody-record-edited",
        lines,
        "edited after the custody log had kept their text",
        "Put the first text back from the log, and write the correction as a new record that "
        "names the one it replaces.",
    )


def missing(case: Case) -> Results:
    """Name files that a log saw and that are gone, save those that lie elsewhere now."""
    last: dict[str, CustodyLine] = {}
    for line in case.facts.custody.lines:
        sights = (CustodyEvent.MISSING, CustodyEvent.RETURNED, CustodyEvent.FIRST_SEEN)
        if line.path and line.event in (*sights, CustodyEvent.CHANGED, CustodyEvent.RECORD_ADDED):
            last[line.path] = line
    here = {p.sha256 for p in case.facts.photos} | {p.sha256 for p in case.facts.papers}
    here |= {r.sha256 for r in case.facts.records}
    gone = [
        line
        for line in last.values()
        if line.event is CustodyEvent.MISSING and line.sha256 not in here
    ]
    return _about(
        "custody-missing",
        gone,
        "seen before and no longer in the folder",
        "Put them back from the phone or a backup; their hashes are in the custody log.",
    )


def broken(case: Case) -> Results:
    """State every place where a custody log does not hold together."""
    breaks = case.facts.custody.breaks
    if not breaks:
        return ()
    more = f" And {len(breaks) - 3} more." if len(breaks) > 3 else ""
    return (
        Finding(
            "custody-broken",
            Standing.AGAINST,
            "custody/",
            f"The custody log does not hold together. {' '.join(breaks[:3])}{more}",
            "Look for an untouched copy of custody/ in a backup or on the other computer. Do not "
            "repair it by hand: what it shows now is itself a fact.",
            (Source(path="custody/"),),
            LOG,
        ),
    )


def clock(case: Case) -> Results:
    """State that a log holds a time later than this computer's: one of the two clocks is wrong."""
    ahead = [line for line in case.facts.custody.lines if line.at > case.now + CLOCK_SLACK]
    if not ahead:
        return ()
    latest = max(ahead, key=lambda line: line.at)
    when = clock_words(latest.at, site_zone(case.facts))
    return (
        Finding(
            "custody-clock",
            Standing.AGAINST,
            "custody/",
            f"The custody log has {counted(len(ahead), 'line')} with a time after this computer's "
            f"now, up to {when} by {latest.writer}. This computer's clock is behind, or that of "
            f"{latest.writer} was ahead.",
            "Look at this computer's clock: every day to act is counted from it. If it is right, "
            f"note down that {latest.writer} wrote with a clock that was ahead.",
            (Source(path=f"custody/{latest.writer}.jsonl"),),
            LOG,
        ),
    )


def recovered(case: Case) -> Results:
    """State what a run that was cut off left behind, and that it was mended."""
    found = case.facts.custody.recovered
    if not found:
        return ()
    more = f" And {len(found) - 3} more." if len(found) > 3 else ""
    return (
        Finding(
            "custody-recovered",
            Standing.NOTE,
            "custody/",
            f"{' '.join(found[:3])}{more}",
            "Nothing needs to be done.",
            (Source(path="custody/"),),
            LOG,
        ),
    )


def _lines(case: Case, event: CustodyEvent) -> list[CustodyLine]:
    return [line for line in case.facts.custody.lines if line.event is event and line.path]


def _about(rule: str, lines: list[CustodyLine], what: str, do_next: str) -> Results:
    if not lines:
        return ()
    paths = list(dict.fromkeys(line.path or "" for line in lines))
    sources = [Source(path=line.path, sha256=line.sha256) for line in lines]
    message = f"{counted(len(paths), 'file')} {what}: {listed(paths)}."
    return (
        Finding(
            rule, Standing.AGAINST, "the job folder", message, do_next, tuple(sources), HANDLING
        ),
    )


CHECKS: tuple[tuple[str, str, Callable[[Case], Results]], ...] = (
    ("file-not-taken", "Files that were left alone", file_not_taken),
    ("file-flawed", "A paper or other file has a flaw", file_flawed),
    ("custody-changed", "An original changed after it was first seen", changed),
    ("custody-record-edited", "A record was edited instead of corrected", record_edited),
    ("custody-missing", "A file that was seen before is missing", missing),
    ("custody-broken", "A custody log does not hold together", broken),
    ("custody-clock", "A custody log is ahead of this computer's clock", clock),
    ("custody-recovered", "A run that was cut off was mended", recovered),
)
