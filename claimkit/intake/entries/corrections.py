"""Which record corrects which: a correction names the record that it replaces, and both stay.

A chain of corrections ends in one record that is in force. Where the chain forks, turns back on
itself or names nothing, that is told, and no record is taken out of force on such grounds.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from claimkit.intake.entries.problems import nearest, quoted
from claimkit.model.facts import Problem


@dataclass(frozen=True, slots=True)
class Link:
    """What a record says of itself here: its id, file, kind (None where unread) and `replaces`."""

    id: str
    path: str
    kind: str | None
    replaces: str | None


def replaced_by(links: Iterable[Link]) -> tuple[dict[str, str], tuple[Problem, ...]]:
    """Give the id of each replaced record with the id of the one that replaces it, and problems.

    Two records that replace the same one are both told; the first by id counts as the one that
    does. A record that stands in a circle is not replaced.
    """
    ordered = sorted(links, key=lambda link: (link.id, link.path))
    by_id: dict[str, Link] = {}
    problems = list(_same_id(ordered, by_id))
    result: dict[str, str] = {}
    for link in ordered:
        if link.replaces is None:
            continue
        if told := _wrong(link, by_id):
            problems.append(Problem(link.path, "replaces", *told))
        elif other := result.get(link.replaces):
            problems.append(
                Problem(
                    link.path,
                    "replaces",
                    f"{quoted(link.replaces)} is replaced by {quoted(other)} too.",
                    f"Let this one replace {quoted(other)}, if it is the later one.",
                )
            )
        else:
            result[link.replaces] = link.id
    return result, tuple(problems)


def _same_id(links: Iterable[Link], by_id: dict[str, Link]) -> Iterator[Problem]:
    """Fill `by_id` and tell of two files whose names give one id."""
    for link in links:
        if first := by_id.get(link.id):
            found = f"the record has the id {quoted(link.id)}, as {first.path} has."
            yield Problem(link.path, "", found, "Give one of the two files another name.")
        else:
            by_id[link.id] = link


def _wrong(link: Link, by_id: Mapping[str, Link]) -> tuple[str, str] | None:
    """Give what is wrong with what a record replaces, or None."""
    named = link.replaces or ""
    if named == link.id:
        return "the record replaces itself.", "Write the id of the record that it corrects."
    old = by_id.get(named)
    if old is None:
        like = _plain_id(named) if _plain_id(named) in by_id else nearest(named, by_id)
        hint = f'Did you mean "{like}"? ' if like and like != link.id else ""
        return (
            f"{quoted(named)} is no record here.",
            f"{hint}Write the record's path below records/ without its ending.",
        )
    if old.kind is not None and link.kind is not None and old.kind != link.kind:
        return (
            f"{quoted(named)} is of the kind {old.kind}, and this is a {link.kind}.",
            f'Write a record of kind = "{old.kind}" to correct it.',
        )
    if _in_a_circle(link, by_id):
        return (
            "the records that this one replaces lead back to itself.",
            "Take replaces out of the oldest of them.",
        )
    return None


def _in_a_circle(link: Link, by_id: Mapping[str, Link]) -> bool:
    seen: set[str] = set()
    at = link.replaces
    while at is not None and at not in seen:
        if at == link.id:
            return True
        seen.add(at)
        at = by_id[at].replaces if at in by_id else None
    return False


def _plain_id(text: str) -> str:
    return record_id(text.replace("\\", "/"))


def record_id(path: str) -> str:
    """Give a record's id: its path below records/ without .toml or .toml.txt."""
    name = path.removeprefix("records/")
    lower = name.lower()
    for ending in (".toml.txt", ".toml"):
        if lower.endswith(ending):
            return name[: -len(ending)]
    return name
