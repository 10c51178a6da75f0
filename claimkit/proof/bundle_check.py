"""A received bundle checked whole: its bag, its packet, its list of originals and its logs.

Each original is held against what the packet prints and what the logs say; an excerpt of a log is
followed through the lines that are withheld. Whoever made a bundle could have made all of it: what
shows more is the hash in a covering note that came another way.
"""

from __future__ import annotations

import hashlib
import json
import re
import tempfile
from collections.abc import Collection, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from claimkit.intake.custody_log import NO_LINE, Log, read_log
from claimkit.intake.paths import shown
from claimkit.intake.walk import STAMP
from claimkit.model.anchors import Anchors, LogHead
from claimkit.model.facts import CustodyEvent
from claimkit.model.verified import Outcome, Point, Verified
from claimkit.proof.anchors import Anchor, held_against, reach
from claimkit.proof.bag_check import CONTENTS, MOST_TEXT, Checked, check_bag, text_of
from claimkit.proof.bag_places import BagPlace, Refused, opened
from claimkit.proof.stamps import stamps
from claimkit.render.kept import in_packet

TAG_MANIFEST = "tagmanifest-sha256.txt"
_LOG = re.compile(r"data/custody/([a-z0-9][a-z0-9_-]{0,39})\.(jsonl|excerpt\.txt)")
_WITHHELD = re.compile(rb"withheld ([0-9a-f]{64})")
_SIGHTS = (CustodyEvent.FIRST_SEEN, CustodyEvent.RECORD_ADDED, CustodyEvent.CHANGED)


def verify_bundle(path: Path, *, expect: str | None = None, roots: Sequence[Path] = ()) -> Verified:
    """Verify a received bundle or any other bag, a folder or a zip. Writes nothing beside it.

    `expect` is the hash from the covering note, `roots` certificates of timestamp authorities to
    trust instead of those in the bundle. Raises CannotGoOn where there is no bag.
    """
    place = opened(path)
    name = shown(path.name)
    if isinstance(place, Refused):
        refused = tuple(
            Point(Outcome.BROKEN, where, f"{why} The bundle is not read: ask for it again.")
            for where, why in place.reasons
        )
        return Verified(name, refused, (("files", 0),))
    checked = check_bag(place)
    points = [*checked.points, *_expected(checked, expect)]
    counts = [("files", len(place.sizes))]
    if CONTENTS in place.sizes:
        told = _contents(place)
        if told is None:
            points.append(
                Point(Outcome.BROKEN, CONTENTS, "It cannot be read as a list of contents.")
            )
        else:
            points += _claimkit(place, checked, told, roots)
            counts.append(("originals", len(told.originals)))
    else:
        points.append(
            Point(Outcome.NOTE, name, "It is no bundle of claimkit; it was checked as a bag alone.")
        )
    return Verified(name, tuple(points), tuple(counts))


def _expected(checked: Checked, expect: str | None) -> Iterator[Point]:
    own = checked.hashes.get(TAG_MANIFEST)
    if own is None:
        yield Point(Outcome.OPEN, TAG_MANIFEST, "It is not there; no hash covers the whole bag.")
    elif expect is None:
        yield Point(
            Outcome.OPEN,
            TAG_MANIFEST,
            f"Its SHA-256 is {own}. Whether this is the bundle that was sent shows by comparing "
            "that with the covering note, which came another way: give its hash with --expect.",
        )
    elif expect.strip().lower() == own:
        yield Point(Outcome.HOLDS, TAG_MANIFEST, "Its SHA-256 is the one that you gave.")
    else:
        yield Point(
            Outcome.BROKEN,
            TAG_MANIFEST,
            f"Its SHA-256 is {own}, not the one that you gave. This is another bundle than that "
            "which was sent, or it was changed.",
        )


@dataclass(frozen=True, slots=True)
class _Told:
    """What contents.json says: originals as (place in the bag, path, hash), packet, withheld."""

    originals: tuple[tuple[str, str, str], ...]
    packet: tuple[str, str]
    withheld: tuple[tuple[str, str | None], ...]
    list_file: str


def _contents(place: BagPlace) -> _Told | None:
    try:
        told: Any = json.loads(text_of(place, CONTENTS) or "")
        return _Told(
            tuple((str(o["file"]), str(o["path"]), str(o["sha256"])) for o in told["originals"]),
            (str(told["packet"]["file"]), str(told["packet"]["sha256"])),
            tuple((str(w["path"]), w["sha256"]) for w in told["withheld"]),
            str(told["list_of_originals"]["file"]),
        )
    except (ValueError, KeyError, TypeError, RecursionError):
        return None


def _claimkit(
    place: BagPlace, checked: Checked, told: _Told, roots: Sequence[Path]
) -> Iterator[Point]:
    if TAG_MANIFEST not in place.sizes:
        yield Point(
            Outcome.BROKEN, TAG_MANIFEST, "A bundle of claimkit has it, and it is not there."
        )
    for file, path, sha256 in (*told.originals, (told.packet[0], "the packet", told.packet[1])):
        if checked.hashes.get(file) != sha256:
            yield Point(
                Outcome.BROKEN, shown(file), f"It is not the file that {CONTENTS} has as {path}."
            )
    yield from _list(place, checked, told)
    kept = _packet(place, told.packet[0])
    if kept is None:
        yield Point(
            Outcome.BROKEN, shown(told.packet[0]), "It is no packet of claimkit that can be read."
        )
        kept = Anchors()
    elif kept.originals != checked.hashes.get(told.list_file):
        yield Point(
            Outcome.BROKEN,
            shown(told.list_file),
            f"The packet prints {kept.originals} for the list of originals, and this is another.",
        )
    else:
        yield Point(
            Outcome.HOLDS,
            shown(told.list_file),
            "It is the list of originals that the packet prints.",
        )
    stamped = stamps(_stamp_files(place), (sha256 for *_, sha256 in told.originals), roots)
    yield from stamped.points
    yield from _logs(place, told, (Anchor(told.packet[0], kept.heads), *stamped.anchors))


def _stamp_files(place: BagPlace) -> dict[str, bytes]:
    found = {}
    for name, size in place.sizes.items():
        stamp = STAMP.fullmatch(name.removeprefix("data/custody/"))
        if name.startswith("data/custody/") and stamp and size <= MOST_TEXT:
            with suppress(OSError):  # told with the hashes of all files
                found[name.rpartition("/")[2]] = b"".join(place.blocks(name))
    return found


def _list(place: BagPlace, checked: Checked, told: _Told) -> Iterator[Point]:
    """Hold the list of originals against what is there and what is named as withheld."""
    text = text_of(place, told.list_file) or ""
    listed = {tuple(line.split("  ", 1)) for line in text.splitlines() if "  " in line}
    held = {(sha256, path) for _, path, sha256 in told.originals}
    withheld = {(sha256, path) for path, sha256 in told.withheld}
    for sha256, path in sorted(listed - held - withheld):
        yield Point(
            Outcome.BROKEN,
            shown(path),
            f"The list has it as {sha256}, and it is not in the bundle.",
        )
    for sha256, path in sorted(held - listed):
        yield Point(
            Outcome.BROKEN, shown(path), f"It is in the bundle as {sha256}, and the list lacks it."
        )
    for path, _ in told.withheld:
        yield Point(Outcome.NOTE, shown(path), "It is not in the bundle, which says why.")
    if checked.hashes.get(told.list_file) is None:
        yield Point(Outcome.BROKEN, shown(told.list_file), "The list of originals is not there.")


def _packet(place: BagPlace, name: str) -> Anchors | None:
    if name not in place.sizes:
        return None
    with tempfile.TemporaryDirectory(prefix="claimkit-") as folder:
        copy = Path(folder) / "packet.pdf"
        try:
            with copy.open("wb") as out:
                for block in place.blocks(name):
                    out.write(block)
        except OSError:
            return None
        return in_packet(copy)


def _logs(place: BagPlace, told: _Told, kept: Sequence[Anchor]) -> Iterator[Point]:
    logs = []
    seen: set[tuple[str | None, str | None]] = set()
    for name in sorted(place.sizes):
        match = _LOG.fullmatch(name)
        if not match:
            continue
        data = (text_of(place, name) or "").encode("utf-8")
        log = read_excerpt(match[1], data) if match[2] != "jsonl" else read_log(match[1], data)
        for sentence in log.breaks:
            yield Point(Outcome.BROKEN, name, sentence)
        seen |= {(s.line.path, s.line.sha256) for s in log.lines if s.line.event in _SIGHTS}
        logs.append(log)
    for _, path, sha256 in told.originals:
        if (path, sha256) not in seen:
            yield Point(Outcome.BROKEN, shown(path), "No log in the bundle has it with this hash.")
    whole = [log for log in logs if not isinstance(log, Excerpt)]
    cut = {log.writer: log for log in logs if isinstance(log, Excerpt)}
    anchors = tuple(_of(anchor, cut.keys()) for anchor in kept)
    yield from held_against(whole, anchors)
    yield from reach(whole, anchors)
    for anchor in kept:
        for head in anchor.heads:
            if head.writer in cut:
                yield _head_in(cut[head.writer], head, anchor.name)


def _of(anchor: Anchor, cut: Collection[str]) -> Anchor:
    """Leave to an anchor the logs that are here whole, or not at all."""
    return Anchor(anchor.name, tuple(h for h in anchor.heads if h.writer not in cut))


def _head_in(log: Excerpt, head: LogHead, name: str) -> Point:
    where = f"data/custody/{log.writer}.excerpt.txt"
    if log.hashes[head.number - 1 : head.number] == (head.sha256,):
        return Point(Outcome.HOLDS, where, f"Its line {head.number} is as {name} has kept it.")
    return Point(Outcome.BROKEN, where, f"Its line {head.number} is not as {name} has kept it.")


@dataclass(frozen=True, slots=True)
class Excerpt(Log):
    """A log of which some lines are withheld; `hashes` are those of all its lines in order."""

    hashes: tuple[str, ...] = ()


def read_excerpt(writer: str, data: bytes) -> Excerpt:
    """Follow the chain of an excerpt: each line that is shown names the hash of the one before.

    Between withheld lines nothing can be followed; the first shown line after them names the last.
    """
    lines, breaks, hashes = [], [], []
    before = NO_LINE
    for number, row in enumerate(data.split(b"\n")[:-1], 1):
        match = _WITHHELD.fullmatch(row)
        if match:
            before = match[1].decode()
            hashes.append(before)
            continue
        (stored,) = read_log(writer, row + b"\n").lines or (None,)
        if stored is None:
            breaks.append(f"Line {number} is no line of a log and is not withheld either.")
        elif stored.line.previous != before or stored.line.number != number:
            breaks.append(
                f"Line {number} does not follow from what stands before it. A line there was "
                "changed, removed, moved or put in."
            )
        if stored:
            lines.append(stored)
        before = hashlib.sha256(row).hexdigest()
        hashes.append(before)
    return Excerpt(writer, tuple(lines), tuple(breaks), number=len(hashes), hashes=tuple(hashes))
