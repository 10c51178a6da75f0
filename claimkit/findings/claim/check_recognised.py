"""Findings about papers that nobody has named: recognised, not to be told, or named otherwise.

Each rule gives one finding for the job, which lists its files, and ends with the lines to put into
job.toml: as they are where the words tell the kind, else with the kind left open.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from claimkit.findings.claim.paper_kind import Reading, kinds_of
from claimkit.findings.claim.recognised import (
    Unnamed,
    named_papers,
    shipments_of,
    states_number,
    unnamed,
)
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.job import PAPERS, Job
from claimkit.model.source import Source
from claimkit.rules.paper_words import SAME_PAPER

METHOD = "claimkit method: supporting documents (recognised by their words)"
PLACE = "documents/"
NUMBERED = ("bill of lading", "freight bill", "delivery receipt")


def paper_recognised(case: Case) -> tuple[Finding, ...]:
    """Name the files that their words tell and nobody has named, with the lines to confirm them."""
    job = case.facts.job
    found = [one for one in unnamed(case) if one.paper]
    if job is None or not found:
        return ()
    told = " ".join(f"{one.path}, {one.paper}: {one.because()}.{_whose(job, one)}" for one in found)
    explained = {missing.what: n for n, missing in enumerate(job.no_paper, 1)}
    numbers = sorted({explained[one.paper] for one in found if one.paper in explained})
    out = "".join(f"\nTake out no_paper[{n}], if the paper is there after all." for n in numbers)
    entries = [_entry(one.path, one.paper or "", _shipment(job, one)) for one in found]
    return (
        _note(
            "paper-recognised",
            found,
            f"Not named in job.toml. {told}{_rivals(found)}",
            "Look at each, and confirm it in job.toml:\n" + "\n".join(entries) + out,
        ),
    )


def _whose(job: Job, one: Unnamed) -> str:
    """Say what speaks against counting it: it states no number of a shipment."""
    shipments = shipments_of(job, one)
    if not shipments:
        return " It states no shipment's number, so it counts for none of them."
    if one.paper in NUMBERED and all(states_number(s, one) is False for s in shipments):
        return " It does not state the shipment's number."
    return ""


def _rivals(found: list[Unnamed]) -> str:
    """Say of which kinds there are several, so that none of them counts."""
    kinds = [one.paper for one in found if one.paper]
    several = [kind for kind in dict.fromkeys(kinds) if kinds.count(kind) > 1]
    return "".join(
        f" Several may be the {kind}, so none counts until you say which." for kind in several
    )


def _shipment(job: Job, one: Unnamed) -> str:
    """Give the id of the one shipment that it is for, where the job has several; else nothing."""
    found = shipments_of(job, one)
    return found[0].id if len(job.shipment) > 1 and len(found) == 1 else ""


def paper_undecided(case: Case) -> tuple[Finding, ...]:
    """Name the files whose words fit several kinds, or a paper that no claim asks for."""
    found = [one for one in unnamed(case) if one.readings and one.paper is None]
    if case.facts.job is None or not found:
        return ()
    told = " ".join(_undecided(one) for one in found)
    entries = [_entry(one.path, what) for one in found for what in _kinds(one.readings)]
    attached = [
        f"\nSave what is attached to {one.path} into {PLACE}: {', '.join(one.words.attached)}."
        for one in found
        if one.words and one.words.attached
    ]
    do_next = "Keep those of these lines in job.toml that are right:\n" + "\n".join(entries)
    return (_note("paper-undecided", found, told, do_next + "".join(attached)),)


def _undecided(one: Unnamed) -> str:
    first = one.readings[0]
    if first.row.guard:
        kind = first.row.name
        return f"{one.path} reads as {kind}, which no claim asks for: {first.because()}."
    either = "; ".join(f"{reading.row.paper}: {reading.because()}" for reading in one.readings)
    return f"{one.path}: cannot tell which it is. {either[0].upper()}{either[1:]}."


def _kinds(readings: Iterable[Reading]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(reading.row.paper for reading in readings))


def paper_not_told(case: Case) -> tuple[Finding, ...]:
    """Name the files in documents/ whose words say nothing or cannot be read, with the reason."""
    if case.facts.job is None:
        return ()
    found = [one for one in unnamed(case) if not one.readings]
    if not found:
        return ()
    silent: dict[str, list[str]] = {}
    for one in found:
        silent.setdefault(one.refused or "", []).append(one.path)
    told = " ".join(
        f"No text can be read in {', '.join(paths)}: {why}."
        if why
        else f"No paper of the trade is recognised by the words of {', '.join(paths)}."
        for why, paths in silent.items()
    )
    attached = [
        f"\nSave what is attached to {one.path} into {PLACE}: {', '.join(one.words.attached)}."
        for one in found
        if one.words and one.words.attached
    ]
    do_next = (
        "Where a claim needs one, name it in job.toml with one of these words: "
        f"{', '.join(PAPERS)}.\n{_entry(found[0].path, '')}"
    )
    return (_note("paper-not-told", found, told, do_next + "".join(attached)),)


def paper_reads_otherwise(case: Case) -> tuple[Finding, ...]:
    """Name papers whose words are those of another kind than job.toml says."""
    job = case.facts.job
    found = []
    for number, file in named_papers(case):
        paper = job.paper[number - 1] if job else None
        readings = kinds_of(file.words) if file.words else ()
        if paper is None or len(readings) != 1 or _agrees(job, file.path, readings[0].row.paper):
            continue
        read = readings[0]
        found.append(
            Finding(
                "paper-reads-otherwise",
                Standing.NOTE,
                file.path,
                f"job.toml names it as {paper.what}; by its words it is {read.row.name}: "
                f"{read.because()}. It counts as job.toml says.",
                f"Look at it, and mend paper[{number}] of job.toml where it is wrong.",
                (
                    Source("job.toml", case.facts.job_sha256, f"paper[{number}].what"),
                    Source(path=file.path, sha256=file.sha256),
                ),
                METHOD,
            )
        )
    return tuple(found)


def _agrees(job: Job | None, path: str, read: str) -> bool:
    """Tell whether an entry of a file names the kind that is read, or one that goes with it."""
    said = {p.what for p in (job.paper if job else ()) if p.file == path}
    pairs = {frozenset({what, read}) for what in said}
    return read in said or "other" in said or bool(pairs & SAME_PAPER)


def _note(rule: str, found: list[Unnamed], message: str, do_next: str) -> Finding:
    where = found[0].path if len(found) == 1 else PLACE
    sources = tuple(one.source for one in found)
    return Finding(rule, Standing.NOTE, where, message, do_next, sources, METHOD)


def _entry(path: str, what: str, shipment: str = "") -> str:
    """Give the lines for job.toml that name a paper, as they are typed."""
    lines = ["[[paper]]", f"file = {_quoted(path)}", f"what = {_quoted(what)}"]
    return "\n".join([*lines, f"shipment = {_quoted(shipment)}"] if shipment else lines)


def _quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


CHECKS: tuple[tuple[str, str, Callable[[Case], tuple[Finding | NotChecked, ...]]], ...] = (
    ("paper-recognised", "A document recognised by its words, not yet named", paper_recognised),
    ("paper-undecided", "A document whose words fit several kinds, or none asked", paper_undecided),
    ("paper-not-told", "A file in documents/ that its words do not tell", paper_not_told),
    ("paper-reads-otherwise", "A document whose words are another kind's", paper_reads_otherwise),
)
