"""The files in documents/ that job.toml does not name, and what their words say that they are.

A file that job.toml or a record names is the user's statement and is left alone here. What is
recognised is a guess: it can stand in for a statement and is always shown as a guess.
"""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterator
from dataclasses import dataclass
from unicodedata import normalize

from claimkit.findings.claim.paper_kind import Reading, kinds_of
from claimkit.model.case import Case
from claimkit.model.job import Job, Shipment
from claimkit.model.photo import FileKind, OtherFile, Words
from claimkit.model.source import Source

FOLDER = "documents/"
PICTURE = "it is a picture"


@dataclass(frozen=True, slots=True)
class Unnamed:
    """A file in documents/ that nobody has named, and how its words read.

    `readings` are the kinds that it may be; one that is no guard is what it is taken for.
    `words` are None for a picture, and `refused` says why no text can be read in the file.
    """

    path: str
    sha256: str
    words: Words | None
    readings: tuple[Reading, ...]
    refused: str | None

    @property
    def paper(self) -> str | None:
        """The kind that it is recognised as, in words of `model.job.PAPERS`, or None."""
        one = self.readings[0].row if len(self.readings) == 1 else None
        return one.paper if one and not one.guard else None

    @property
    def source(self) -> Source:
        """The file as a source."""
        return Source(path=self.path, sha256=self.sha256)

    def because(self) -> str:
        """Say by which words it is recognised."""
        return f"recognised by its words: {self.readings[0].because()}"


def unnamed(case: Case) -> tuple[Unnamed, ...]:
    """Give the files in documents/ that neither job.toml nor a record names, in order of paths."""
    named = set(_named(case))
    found = [_told(p) for p in case.facts.papers if _a_paper(p)]
    found += [
        Unnamed(place, photo.sha256, None, (), PICTURE)
        for photo in case.facts.photos
        for place in photo.places
        if place.casefold().startswith(FOLDER)
    ]
    left = [one for one in found if normalize("NFC", one.path) not in named]
    return tuple(sorted(left, key=lambda one: one.path))


def named_papers(case: Case) -> tuple[tuple[int, OtherFile], ...]:
    """Give the files that job.toml names as papers, each with the number of its entry."""
    job = case.facts.job
    files = {normalize("NFC", p.path): p for p in case.facts.papers}
    pairs = (
        (number, files.get(normalize("NFC", paper.file)))
        for number, paper in enumerate(job.paper if job else (), 1)
    )
    return tuple((number, file) for number, file in pairs if file)


def recognised(case: Case, shipment: Shipment, paper: str) -> Unnamed | None:
    """Give the one unnamed file that is of a kind by its words and belongs to a shipment, or None.

    Where several may be it nobody can tell which, and none counts. Where the job has several
    shipments, a file belongs to the one whose number stands in it.
    """
    job = case.facts.job
    found = [
        one
        for one in unnamed(case)
        if job and one.paper == paper and shipment in shipments_of(job, one)
    ]
    return found[0] if len(found) == 1 else None


def shipments_of(job: Job, one: Unnamed) -> tuple[Shipment, ...]:
    """Give the shipments that a file is about: the only one, or those whose number it states."""
    if len(job.shipment) == 1:
        return job.shipment
    return tuple(shipment for shipment in job.shipment if states_number(shipment, one))


def states_number(shipment: Shipment, one: Unnamed) -> bool | None:
    """Tell whether a text states a number of the shipment; None where job.toml knows none."""
    pages = one.words.pages if one.words else ()
    text = _digits(" ".join(line for page in pages for line in page))
    known = [_digits(n) for n in (shipment.pro_number, shipment.bill_number) if n]
    numbers = [number for number in known if len(number) >= 4]
    return any(number in text for number in numbers) if numbers else None


def _digits(text: str) -> str:
    """Give letters and digits alone: numbers are written with and without hyphens."""
    return re.sub(r"[\W_]", "", text.casefold())


def _a_paper(file: OtherFile) -> bool:
    papers = (FileKind.PDF, FileKind.TEXT, FileKind.UNKNOWN)
    return file.path.casefold().startswith(FOLDER) and file.kind in papers


def _told(file: OtherFile) -> Unnamed:
    words = file.words
    refused = words.refused if words else "nothing more than its hash was read from it"
    return Unnamed(file.path, file.sha256, words, kinds_of(words) if words else (), refused)


def _named(case: Case) -> Iterator[str]:
    job = case.facts.job
    told = [paper.file for paper in job.paper] if job else []
    for record in case.facts.records:
        told += _texts(record.body)
    return (normalize("NFC", text) for text in told)


def _texts(value: object) -> Iterator[str]:
    """Give every text in a record's body; those that are paths of files name them."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for one in value:
            yield from _texts(one)
    elif dataclasses.is_dataclass(value) and not isinstance(value, type):
        for field in dataclasses.fields(value):
            yield from _texts(getattr(value, field.name))
