"""Everything read from one job folder, as values: what was recorded, never what was concluded.

Facts hold the job, every record (replaced ones too), every photo and paper, and what custody
knows of them. Problems are what could not be read, all of them at once.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from unicodedata import normalize

from msgspec import Struct

from claimkit.model.card_photo import MarkedGap, PhotoCards
from claimkit.model.holidays import PublicHolidays
from claimkit.model.job import Job
from claimkit.model.photo import Look, OtherFile, Photo
from claimkit.model.records import Body, Record


@dataclass(frozen=True, slots=True)
class Problem:
    """Something in a file that cannot be used as it stands.

    `file` is relative to the job folder, `key_path` names the place in it (empty for the whole
    file), `found` says what stands there, `write` says what to write or do instead.
    """

    file: str
    key_path: str
    found: str
    write: str

    def sentence(self) -> str:
        """Give the problem as one line: what, where, what next."""
        where = f"{self.file}, {self.key_path}" if self.key_path else self.file
        return f"{where}: {self.found} {self.write}"


class CustodyEvent(StrEnum):
    """What a custody line says."""

    RUN = "run"
    FIRST_SEEN = "first seen"
    CHANGED = "changed"
    MISSING = "missing"
    RETURNED = "returned"
    RECORD_ADDED = "record added"
    PACKET_WRITTEN = "packet written"
    BUNDLE_WRITTEN = "bundle written"
    TIMESTAMPED = "timestamp taken in"
    RECOVERED = "recovered"


class CustodyLine(Struct, frozen=True, array_like=True):
    """One line of one writer's log.

    `at` is aware, UTC. `line_sha256` is the hash of the line as stored, `previous` that of the
    line before it in the same log (64 zeros for the first). `detail` is a record's whole text
    where the line adds or changes one. `was_sha256` is what the path held before, where that
    differs.
    """

    writer: str
    number: int
    at: datetime
    event: CustodyEvent
    path: str | None
    sha256: str | None
    detail: str | None
    previous: str
    line_sha256: str
    was_sha256: str | None = None
    size_bytes: int | None = None


@dataclass(frozen=True, slots=True)
class Custody:
    """All logs of a job read together, and what does not fit in them.

    `breaks` are sentences about lines whose chain does not hold, `recovered` about what a broken
    run left behind.
    """

    lines: tuple[CustodyLine, ...] = ()
    breaks: tuple[str, ...] = ()
    recovered: tuple[str, ...] = ()

    def first_seen(self, sha256: str) -> CustodyLine | None:
        """Give the earliest line that saw these bytes, or None."""
        sights = (CustodyEvent.FIRST_SEEN, CustodyEvent.RECORD_ADDED, CustodyEvent.CHANGED)
        seen = [line for line in self.lines if line.sha256 == sha256 and line.event in sights]
        return min(seen, key=lambda line: (line.at, line.writer, line.number), default=None)


@dataclass(frozen=True, slots=True)
class NotTaken:
    """A file or folder that intake names and leaves alone, with the reason.

    Hidden files, links that lead outside, temporary and conflict files of synced folders.
    """

    path: str
    reason: str


@dataclass(frozen=True, slots=True)
class Facts:
    """What one job folder holds. `folder_name` is its last path part, for print.

    `job` and `job_sha256` are None where job.toml is absent or has problems. `looks` are those of
    the photos whose pictures have been compared so far, `cards` what those show that have been
    looked at for scale cards; `no_cards` says why none could be, empty where they could. `marked`
    are the gaps of the marked_photo records. `holidays` are those of the site around the year in
    which the folder was read, None where they were not looked up.
    """

    folder_name: str
    job: Job | None
    job_sha256: str | None
    records: tuple[Record, ...]
    photos: tuple[Photo, ...]
    papers: tuple[OtherFile, ...]
    not_taken: tuple[NotTaken, ...]
    custody: Custody
    problems: tuple[Problem, ...]
    looks: tuple[Look, ...] = ()
    cards: tuple[PhotoCards, ...] = ()
    no_cards: str = ""
    marked: tuple[MarkedGap, ...] = ()
    holidays: PublicHolidays | None = None

    def unused(self) -> tuple[str, ...]:
        """Name the files that could not be used at all, so that what they state is not known.

        job.toml is not among them: without it there is no job. Neither is custody, which states
        nothing of the goods.
        """
        used = {record.path for record in self.records} | {paper.path for paper in self.papers}
        used |= {place for photo in self.photos for place in photo.places}
        left = (p.file for p in self.problems if "/" in p.file and p.file not in used)
        return tuple(dict.fromkeys(path for path in left if not path.startswith("custody/")))

    def in_force(self, kind: type[Body]) -> tuple[Record, ...]:
        """Give the records of that body that no later record replaces, ordered by id."""
        return tuple(r for r in self.records if r.in_force and isinstance(r.body, kind))

    def photo_at(self, path: str) -> Photo | None:
        """Give the photo with that place in the job folder, or None.

        Two spellings of a name that differ only in how an accent is composed are one (NFC).
        """
        name = normalize("NFC", path)
        return next(
            (p for p in self.photos if any(normalize("NFC", at) == name for at in p.places)), None
        )

    def look_of(self, sha256: str) -> Look | None:
        """Give what the photo of that hash looks like, or None where it has not been compared."""
        return next((look for look in self.looks if look.sha256 == sha256), None)

    def cards_in(self, sha256: str) -> PhotoCards | None:
        """Give what the photo of that hash shows of cards, or None where nobody has looked."""
        return next((found for found in self.cards if found.sha256 == sha256), None)

    def photo_of(self, sha256: str) -> Photo | None:
        """Give the photo of that hash, or None."""
        return next((p for p in self.photos if p.sha256 == sha256), None)
