"""The wiring of evidence for others: bundles, drafts for those who testify, timestamps."""

from __future__ import annotations

import hashlib
import json
import re
import tempfile
from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import asdict, dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from claimkit import __version__
from claimkit.intake.refused import next_step, reason_of
from claimkit.model.anchors import LogHead
from claimkit.model.bundle import Contents
from claimkit.model.case import Case, Reader
from claimkit.model.facts import CustodyEvent
from claimkit.model.stop import CannotGoOn

if TYPE_CHECKING:
    from claimkit.model.document import Document
    from claimkit.proof.bag import Bag
    from claimkit.wiring.workspace import Progress
    from claimkit.wiring.written import Paper, Written

ORIGINALS, CONTENTS = "data/originals.sha256", "data/contents.json"
HOW_TO = "HOW-TO-CHECK.txt"


@dataclass(frozen=True, slots=True)
class Bundled:
    """A bundle on disk. `sha256` covers all of it: the hash of its tag manifest.

    `located` counts the originals that state a position; `note` is the covering note beside it.
    """

    path: Path
    sha256: str
    contents: Contents
    packet: Written
    note: Path


def write_bundle(  # noqa: PLR0913 - what a bundle is made from, by name
    case: Case,
    folder: Path,
    reader: Reader,
    *,
    shipment: str | None,
    paper: Paper,
    zipped: bool,
    out: Path | None,
    now: datetime,
    job_file: bool = True,
    progress: Progress | None = None,
    before: Callable[[Document], None] | None = None,
) -> Bundled:
    """Write a packet and, with it and everything that it rests on, a BagIt bag.

    Without `out` both go to out/ in the job folder. Nothing that exists is overwritten. `job_file`
    False keeps job.toml back from every reader but the owner. `before` is shown the packet's
    document before anything is written. Raises
    CannotGoOn where an original is no longer what was read, or the place cannot be written.
    """
    from claimkit.compose.packet.bundle import contents
    from claimkit.compose.packet.view import view
    from claimkit.intake.custody import log_entry
    from claimkit.intake.custody_log import Entry
    from claimkit.intake.disk import RealDisk, put
    from claimkit.intake.read import moved
    from claimkit.proof.bag import begin, discard
    from claimkit.render.sources import numbered
    from claimkit.wiring.workspace import versions, write_packet
    from claimkit.wiring.written import within

    packet = write_packet(
        case,
        folder,
        reader,
        shipment=shipment,
        paper=paper,
        out=None,
        now=now,
        progress=progress,
        before=before,
    )
    document = packet.document
    if document is None:
        raise RuntimeError("a packet was written without its document")
    sources = numbered(document).by_source
    numbers = {path: entry.number for entry in sources.values() for path in entry.paths}
    seen = view(case, reader, shipment, versions())
    held = contents(seen, document, numbers, job_file=job_file)
    stem = packet.path.stem + "-bundle"
    wanted = out or folder / "out" / (f"{stem}.zip" if zipped else stem)
    disk, target = RealDisk(), wanted
    try:
        # Two runs at once must not take one name, nor discard what the other is writing.
        with disk.lock(folder.resolve(), None):
            if not folder.is_dir():
                raise moved(folder)
            target = _free(wanted)
            bag, unfinished = begin(target, zipped=zipped)
            try:
                _fill(bag, folder, case, held, packet)
                sha256 = bag.finish(_about(case, now))
                disk.replace(unfinished, target)
                disk.sync_folder(target.parent)
            except BaseException:
                with suppress(OSError, ValueError):
                    bag.place.close()
                discard(unfinished)
                raise
            note = _note_of(target)
            put(disk, note, _note(target, sha256, packet).encode("utf-8"))
        line = Entry(
            CustodyEvent.BUNDLE_WRITTEN,
            within(folder, target),
            sha256,
            detail=f"for {reader.value}",
        )
        log_entry(folder, line, now=now)
    except OSError as error:
        raise CannotGoOn(
            f"The bundle {target} cannot be written ({reason_of(error)}). No part of it was left. "
            + next_step(error, "Mend that, or choose another place with --out.")
        ) from error
    return Bundled(target, sha256, held, packet, note)


def _fill(bag: Bag, folder: Path, case: Case, held: Contents, packet: Written) -> None:
    """Put everything into the bag."""
    from claimkit.compose.packet.how_to_check import how_to_check
    from claimkit.intake.paths import on_disk

    place = f"data/packet/{packet.path.name}"
    bag.copy(place, packet.path, packet.sha256)
    for one in held.kept:
        bag.copy(one.file, on_disk(folder, one.path), one.sha256)
    bag.text(ORIGINALS, held.originals.encode("utf-8"))
    logs = []
    for name, data in _logs(folder, held):
        logs.append(name)
        bag.text(name, data)
    told = _contents(case, held, (place, packet.sha256), logs)
    bag.text(CONTENTS, (json.dumps(told, ensure_ascii=True, indent=1) + "\n").encode("ascii"))
    bag.text(HOW_TO, how_to_check(held, (place, packet.sha256), tuple(logs)).encode("utf-8"))


def _about(case: Case, now: datetime) -> list[tuple[str, str]]:
    """Describe the bag, in the words that RFC 8493, 2.2.2 keeps for it."""
    job = case.facts.job
    return [
        ("Bag-Software-Agent", f"claimkit {__version__}"),
        ("Bagging-Date", f"{now:%Y-%m-%d}"),
        ("External-Description", job.title if job else case.facts.folder_name),
    ]


def _contents(
    case: Case, held: Contents, packet: tuple[str, str], logs: Iterable[str]
) -> dict[str, object]:
    return {
        "claimkit_bundle": 1,
        "as_of": case.as_of.isoformat(),
        "packet": {"file": packet[0], "sha256": packet[1]},
        "list_of_originals": {"file": ORIGINALS, "sha256": held.list_sha256},
        "originals": [asdict(one) for one in held.kept],
        "withheld": [asdict(one) for one in held.withheld],
        "logs": list(logs),
        "originals_with_position": sum(one.located for one in held.kept),
    }


def _logs(folder: Path, held: Contents) -> Iterable[tuple[str, bytes]]:
    """Give timestamps, and each log whole or with the lines kept back by their hashes alone."""
    from claimkit.intake.custody import read_logs
    from claimkit.intake.custody_log import log_path
    from claimkit.intake.disk import RealDisk
    from claimkit.proof.verify import stamp_files

    disk = RealDisk()
    for name, data in stamp_files(folder.resolve(), disk).items():
        yield f"data/custody/{name}", data
    for log in read_logs(folder.resolve(), disk):
        data = disk.read(folder / log_path(log.writer)).data
        if held.shown_lines is None:
            yield f"data/{log_path(log.writer)}", data
            continue
        rows = data[: log.whole].split(b"\n")[:-1]
        shown = {number for writer, number in held.shown_lines if writer == log.writer}
        told = [
            row if number in shown else b"withheld " + hashlib.sha256(row).hexdigest().encode()
            for number, row in enumerate(rows, 1)
        ]
        yield f"data/custody/{log.writer}.excerpt.txt", b"".join(row + b"\n" for row in told)


def write_draft(  # noqa: PLR0913 - what a draft is made from, by name
    case: Case,
    folder: Path,
    of: str,
    reader: Reader,
    *,
    shipment: str | None,
    paper: Paper,
    out: Path | None,
    now: datetime,
) -> Written:
    """Draw the drafts for one person who may testify, put them in place and log their hash."""
    from claimkit.compose.packet.testimony import draft
    from claimkit.render.pdf import render_file
    from claimkit.wiring.with_job import with_job
    from claimkit.wiring.workspace import versions
    from claimkit.wiring.written import put_in_place

    document = draft(with_job(case), of, reader, shipment=shipment, versions=versions())
    name = re.sub(r"[^a-z0-9]+", "-", of.casefold()).strip("-")[:60] or "person"
    wanted = out or folder / "out" / f"statement-{name}-{case.as_of}.pdf"
    with tempfile.TemporaryDirectory(prefix="claimkit-") as aside:
        pdf = Path(aside) / "draft.pdf"
        archive = render_file(document, lambda *_: "", pdf, paper=paper)
        written = put_in_place(folder, pdf, wanted, f"draft statement of {of}", now)
    return replace(written, not_archive=archive.reasons)


@dataclass(frozen=True, slots=True)
class Requested:
    """A request for a timestamp on disk, the hash of its list, and what the list names."""

    path: Path
    list_sha256: str
    originals: int


def write_request(folder: Path, now: datetime, progress: Progress | None = None) -> Requested:
    """Write a list of all originals and log heads, and the request for its timestamp.

    Whatever is new in the job folder is logged first. The same list gives the same request.
    """
    from claimkit.intake.custody import read_logs
    from claimkit.intake.disk import RealDisk, put
    from claimkit.proof.stamps import list_text, name_of, request
    from claimkit.proof.verify import fresh
    from claimkit.wiring.workspace import read_facts

    read_facts(folder, now, progress, fresh=True)
    disk, root = RealDisk(), folder.resolve()
    try:
        with disk.lock(root, None):
            taken, _ = fresh(root, disk)
            heads = [
                LogHead(log.writer, log.number, log.last)
                for log in read_logs(root, disk)
                if log.number
            ]
            text = list_text((one.sha256 for one in taken.files), heads)
            path = root / "custody" / f"{name_of(text)}.tsq"
            asked = request(text)
            put(disk, path.with_suffix(".list"), text)
            put(disk, path, asked)
    except OSError as error:
        raise _no_custody(error) from error
    return Requested(path, hashlib.sha256(text).hexdigest(), len(taken.files))


def take_in_reply(folder: Path, reply: Path, roots: tuple[Path, ...], now: datetime) -> str:
    """Check an authority's reply, keep it beside its list and log it; give a sentence.

    Raises CannotGoOn where it is not a valid timestamp of a list of this job.
    """
    from claimkit.intake.custody import log_entry
    from claimkit.intake.custody_log import Entry
    from claimkit.intake.disk import RealDisk, put
    from claimkit.proof.stamps import check, read_list
    from claimkit.proof.verify import stamp_files

    disk, root = RealDisk(), folder.resolve()
    data, trusted = _given(reply), [_given(one) for one in roots]
    lists = {n: t for n, t in stamp_files(root, disk).items() if n.endswith(".list")}
    if not lists:
        raise CannotGoOn(
            f"{folder} has no request for a timestamp. Make one with: claimkit timestamp {folder}"
        )
    why = {}
    for name, text in lists.items():
        found = check(text, data, trusted)
        listed = read_list(text)
        if isinstance(found, str) or listed is None:
            why[name] = found
            continue
        path = root / "custody" / name.replace(".list", ".tsr")
        told = {
            "at": found.at.isoformat(),
            "authority": found.authority,
            "certificate": found.root_sha256,
            "list": hashlib.sha256(text).hexdigest(),
            "originals": len(listed.originals),
            "heads": {head.writer: [head.number, head.sha256] for head in listed.heads},
        }
        try:
            put(disk, path.with_suffix(".pem"), b"\n".join(trusted))
            put(disk, path, data)
            line = Entry(
                CustodyEvent.TIMESTAMPED,
                f"custody/{path.name}",
                hashlib.sha256(data).hexdigest(),
                len(data),
                detail=json.dumps(told, sort_keys=True),
            )
            log_entry(root, line, now=now)
        except OSError as error:
            raise _no_custody(error) from error
        return (
            f"{found.authority} states that the {len(listed.originals)} originals and the logs "
            f"named in custody/{name} existed before {found.at:%Y-%m-%d %H:%M:%S} UTC."
        )
    reasons = {str(reason) for reason in why.values()}
    raise CannotGoOn(f"{reply} was not taken in. {' '.join(sorted(reasons))}")


def _given(file: Path) -> bytes:
    try:
        return file.read_bytes()
    except OSError as error:
        why = reason_of(error)
        raise CannotGoOn(f"{file} cannot be read: {why}. Give a file that you may read.") from error


def _no_custody(error: OSError) -> CannotGoOn:
    what_next = next_step(error, "Give this user the right to write to it.")
    return CannotGoOn(f"custody/ cannot be written ({reason_of(error)}). {what_next}")


def _note(target: Path, sha256: str, packet: Written) -> str:
    return (
        f"Covering note for {target.name}\n\n"
        "Send this another way than the bundle, such as by e-mail, so that its reader can tell\n"
        "that the bundle is the one that was sent.\n\n"
        f"SHA-256 of tagmanifest-sha256.txt in the bundle, which covers every file in it:\n{sha256}"
        f"\n\nSHA-256 of the packet in it, {packet.path.name}:\n{packet.sha256}\n"
    )


def _free(wanted: Path) -> Path:
    """Give the first name that is free: a bundle that was sent is never overwritten."""
    path, number = wanted, 2
    while path.exists() or _note_of(path).exists():
        path = wanted.with_stem(f"{wanted.stem}-{number}")
        number += 1
    return path


def _note_of(target: Path) -> Path:
    return target.with_name(f"{target.stem}-note.txt")
