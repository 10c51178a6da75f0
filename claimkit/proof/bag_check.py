"""A received bag checked as RFC 8493 asks, whoever wrote it: lists, hashes, nothing over.

What other checkers let pass is refused or named: a fetch.txt, tag files that no list covers, names
that not every system can hold. Nothing is unpacked and nothing is written.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

from claimkit.intake.paths import shown
from claimkit.model.verified import Outcome, Point
from claimkit.proof.bag_places import BagPlace, why_unsafe

MANIFEST = re.compile(r"(tag)?manifest-([a-z0-9]+)\.txt")
_LINE = re.compile(r"([0-9A-Fa-f]+)[ \t]+\*?(.+)")
_STRONG = frozenset({"sha256", "sha384", "sha512"})
_KNOWN: dict[str, Callable[[], Any]] = {
    name: getattr(hashlib, name) for name in ("sha256", "sha384", "sha512")
} | {name: (lambda name=name: hashlib.new(name, usedforsecurity=False)) for name in ("md5", "sha1")}
CONTENTS = "data/contents.json"  # what makes a bag a bundle of claimkit
MOST_TEXT = 64 << 20  # bytes of a list or a tag file that are read


@dataclass(slots=True)
class Checked:
    """What a bag's own rules have shown. `hashes` are the SHA-256 of all files by name."""

    points: list[Point] = field(default_factory=list)
    hashes: dict[str, str] = field(default_factory=dict)

    def say(self, outcome: Outcome, where: str, sentence: str) -> None:
        """Add a point."""
        self.points.append(Point(outcome, shown(where), sentence))


def check_bag(place: BagPlace) -> Checked:
    """Check a bag against its own lists."""
    checked = Checked()
    _declaration(place, checked)
    if "fetch.txt" in place.sizes:
        checked.say(
            Outcome.BROKEN,
            "fetch.txt",
            "It names files that lie elsewhere. Nothing is fetched; ask for a bag that is whole.",
        )
    for name in sorted(place.sizes):
        why = why_unsafe(name)
        if why:
            checked.say(Outcome.BROKEN, name, why)
    lists = {name: match for name in place.sizes if (match := MANIFEST.fullmatch(name))}
    if not any(match[1] is None for match in lists.values()):
        checked.say(Outcome.BROKEN, "manifest-sha256.txt", "There is no list of the payload.")
    wanted = {match[2] for match in lists.values()} & _KNOWN.keys()
    found = _hashed(place, wanted | {"sha256"}, checked)
    checked.hashes = {name: hashes["sha256"] for name, hashes in found.items()}
    for name, match in sorted(lists.items()):
        _list(place, checked, found, name, tag=match[1] is not None, algorithm=match[2])
    if lists and not any(m[1] is None and m[2] in _STRONG for m in lists.values()):
        checked.say(
            Outcome.OPEN,
            "manifest",
            "Its lists use a hash that can be forged (MD5 or SHA-1). Ask for one with SHA-256.",
        )
    _oxum(place, checked)
    return checked


def text_of(place: BagPlace, name: str) -> str | None:
    """Read a text of a bag; None where it is not there, too long or no UTF-8."""
    if place.sizes.get(name, MOST_TEXT + 1) > MOST_TEXT:
        return None
    try:
        return b"".join(place.blocks(name)).decode("utf-8-sig")
    except (OSError, UnicodeDecodeError):
        return None


def _declaration(place: BagPlace, checked: Checked) -> None:
    told = text_of(place, "bagit.txt") or ""
    lines = [line.strip() for line in told.splitlines()]
    if not (
        len(lines) == 2
        and re.fullmatch(r"BagIt-Version: (0\.9[3-7]|1\.0)", lines[0])
        and re.fullmatch(r"Tag-File-Character-Encoding: UTF-8", lines[1], re.IGNORECASE)
    ):
        checked.say(
            Outcome.BROKEN, "bagit.txt", "It is not the declaration of a bag in UTF-8 (RFC 8493)."
        )


def _hashed(place: BagPlace, wanted: set[str], checked: Checked) -> dict[str, dict[str, str]]:
    found = {}
    for name in sorted(place.sizes):
        digests = {algorithm: _KNOWN[algorithm]() for algorithm in sorted(wanted)}
        try:
            for block in place.blocks(name):
                for digest in digests.values():
                    digest.update(block)
        except OSError as error:
            checked.say(Outcome.BROKEN, name, f"It cannot be read whole: {error}.")
            continue
        found[name] = {algorithm: digest.hexdigest() for algorithm, digest in digests.items()}
    return found


def _list(  # noqa: PLR0913 - a list and what it is held against
    place: BagPlace,
    checked: Checked,
    found: dict[str, dict[str, str]],
    name: str,
    *,
    tag: bool,
    algorithm: str,
) -> None:
    """Hold one list against the files: each once, each there, each with its hash, none over."""
    if algorithm not in _KNOWN:
        checked.say(Outcome.OPEN, name, f"The hash {algorithm} is not known here; not checked.")
        return
    listed: dict[str, str] = {}
    for line, sha, path in _rows(place, name, checked):
        if path in listed:
            checked.say(Outcome.BROKEN, name, f"Line {line} lists {shown(path)} a second time.")
        elif not tag and not path.startswith("data/"):
            checked.say(Outcome.BROKEN, name, f"Line {line} lists a file outside data/.")
        listed[path] = sha
    for path, sha in sorted(listed.items()):
        if path not in place.sizes:
            checked.say(Outcome.BROKEN, path, f"{name} lists it, and it is not there.")
        elif path in found and found[path][algorithm] != sha:
            checked.say(
                Outcome.BROKEN, path, f"It is not the file that {name} lists: its hash differs."
            )
    over = [p for p in place.sizes if p not in listed and p.startswith("data/") is not tag]
    for path in sorted(over):
        if not tag:
            checked.say(Outcome.BROKEN, path, f"{name} does not list it: it was added.")
        elif not path.startswith("tagmanifest-"):
            outcome = Outcome.BROKEN if CONTENTS in place.sizes else Outcome.NOTE
            checked.say(outcome, path, f"{name} does not cover it: it may have been added.")


def _rows(place: BagPlace, name: str, checked: Checked) -> Iterator[tuple[int, str, str]]:
    told = text_of(place, name)
    if told is None:
        checked.say(Outcome.BROKEN, name, "It cannot be read as a list in UTF-8.")
        return
    for number, line in enumerate(re.split(r"\r\n|\n|\r", told), 1):
        if not line.strip():
            continue
        match = _LINE.fullmatch(line)
        if not match:
            checked.say(Outcome.BROKEN, name, f"Line {number} is no hash and name.")
            continue
        path = match[2]
        for code, character in (("%0D", "\r"), ("%0A", "\n"), ("%25", "%")):  # RFC 8493, 2.1.3
            path = path.replace(code, character).replace(code.lower(), character)
        yield number, match[1].lower(), path.removeprefix("./")


def _oxum(place: BagPlace, checked: Checked) -> None:
    told = re.search(
        r"^Payload-Oxum: *(\d+)\.(\d+)\s*$", text_of(place, "bag-info.txt") or "", re.MULTILINE
    )
    if not told:
        return
    payload = [size for name, size in place.sizes.items() if name.startswith("data/")]
    counted = tuple(number.lstrip("0") or "0" for number in told.groups())
    if counted != (str(sum(payload)), str(len(payload))):
        checked.say(
            Outcome.BROKEN,
            "bag-info.txt",
            f"It counts {told[1][:30]} bytes in {told[2][:30]} files; there are {sum(payload)} in "
            f"{len(payload)}.",
        )
