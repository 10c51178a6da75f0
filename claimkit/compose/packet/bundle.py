"""Which originals go to which reader with a packet, under which names, and what is left out.

Everything that the packet rests on is either in the bundle or named as left out, with the reason.
Names in a bundle are safe on every system; the names that files had stand beside them.
"""

from __future__ import annotations

import re
import unicodedata

from claimkit.compose.packet.back import originals
from claimkit.compose.packet.view import View
from claimkit.model.anchors import hash_of_list, list_of_originals
from claimkit.model.bundle import Contents, Kept, Withheld
from claimkit.model.case import Reader
from claimkit.model.document import Document, statements
from claimkit.model.facts import CustodyEvent, CustodyLine
from claimkit.model.photo import Photo
from claimkit.model.source import Source

JOB = "job.toml"
_STEM, _ENDING = 40, 8  # characters kept of a name: short enough for any system's longest path
_CUSTOMER_JOB = "It holds prices, telephone numbers and terms that are not the customer's."
_OTHER_SHIPMENTS = "It also describes other shipments of the job."
_KEPT_BACK = "It was kept back. Ask for it where a statement rests on it."
_NOT_IN_VIEW = "It is not among what this reader is shown."


def contents(
    view: View, document: Document, numbers: dict[str, str], *, job_file: bool = True
) -> Contents:
    """Choose what goes out with a packet.

    `numbers` are those that the packet prints, by path in the job folder. `job_file` False keeps
    job.toml back from every reader but the owner.
    """
    listed = [(path, sha256) for _, path, sha256 in originals(view)]
    kept, withheld = [], []
    for path, sha256 in listed:
        number = numbers.get(path, "F0")
        why = _why_not(view, path, job_file)
        if why:
            withheld.append(Withheld(number, path, sha256, why))
            continue
        photo = view.facts.photo_of(sha256)
        kept.append(
            Kept(
                number,
                f"data/originals/{safe_name(number, path)}",
                path,
                sha256,
                photo.places[1:] if photo else (),
                _seen(view, sha256),
                located(photo),
            )
        )
    known = {path for path, _ in listed} | {place for one in kept for place in one.also}
    for source in _named(document):
        path = source.path or ""
        if path and path not in known and not path.startswith("custody"):
            known.add(path)
            withheld.append(Withheld(numbers.get(path, ""), path, source.sha256, _NOT_IN_VIEW))
    return Contents(
        tuple(kept),
        tuple(withheld),
        list_of_originals(listed),
        hash_of_list(listed),
        None if view.own else _shown_lines(view, {one.path for one in kept}),
    )


def located(photo: Photo | None) -> bool:
    """Tell whether a photo's file states a position."""
    return bool(photo and photo.gps and photo.gps.latitude is not None)


def _why_not(view: View, path: str, job_file: bool) -> str | None:
    if path != JOB or view.own:
        return None
    if not job_file:
        return _KEPT_BACK
    if view.reader is Reader.CUSTOMER:
        return _CUSTOMER_JOB
    return _OTHER_SHIPMENTS if view.job and len(view.job.shipment) > 1 else None


def _seen(view: View, sha256: str) -> str:
    line = view.facts.custody.first_seen(sha256)
    return f"{line.at:%Y-%m-%d %H:%M:%S} UTC, {line.writer} line {line.number}" if line else ""


def _named(document: Document) -> list[Source]:
    return [source for _, statement in statements(document) for source in statement.sources]


def _shown_lines(view: View, paths: set[str]) -> frozenset[tuple[str, int]]:
    """Choose the lines of the logs that concern what goes out, and those about runs."""

    def goes(line: CustodyLine) -> bool:
        if line.event in (CustodyEvent.RUN, CustodyEvent.RECOVERED):
            return True
        return line.event is not CustodyEvent.PACKET_WRITTEN and line.path in paths

    return frozenset((x.writer, x.number) for x in view.facts.custody.lines if goes(x))


def safe_name(number: str, path: str) -> str:
    """Give a file name of ASCII letters, digits, dots, hyphens and underlines, number in front.

    No such name is a device's, ends in a dot or differs from another by letter case alone, as long
    as the numbers differ.
    """
    stem, dot, ending = path.rpartition("/")[2].rpartition(".")
    if not dot:
        stem, ending = ending, ""
    stem, ending = _ascii(stem)[:_STEM].strip("._-"), _ascii(ending)[:_ENDING].strip("._-")
    name = f"{number}-{stem}" if stem else number
    return f"{name}.{ending}" if ending else name


def _ascii(text: str) -> str:
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode("ascii")
    return re.sub(r"[^A-Za-z0-9._-]+", "_", plain)
