"""What the job itself says of its cameras' clocks: photos of a clock, first and last possible days.

A camera_clock record names a photo that shows a clock and what that clock read. Where the two
differ by more than both can be off, every photo of that camera gets a second reading of its time;
claimkit states the difference and corrects nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from claimkit.findings.written_time import stretch_of
from claimkit.model.facts import Facts
from claimkit.model.job import Job, Person
from claimkit.model.measuring import BenchCheck
from claimkit.model.moment import Interval, Moment
from claimkit.model.photo import Camera, Photo
from claimkit.model.records import CameraClock, Record


@dataclass(frozen=True, slots=True)
class ClockShown:
    """A clock in a picture against the camera's own time.

    `low` and `high` bound what would have to be added to the camera's time; both are zero where
    the two agree. `camera` is the camera's name, None where the photo states none.
    """

    record: Record
    sha256: str
    camera: str | None
    low: timedelta
    high: timedelta

    @property
    def agrees(self) -> bool:
        """True where the difference is within what both clocks may be off."""
        return self.low <= timedelta() <= self.high

    def speaks_for(self, photo: Photo) -> bool:
        """Tell whether this clock was shown to the camera that took a photo."""
        return photo.sha256 == self.sha256 or (
            self.camera is not None and photo.camera.name() == self.camera
        )

    def other(self, taken: Interval) -> Interval | None:
        """Give a photo's time as the clock in the picture would have it."""
        if taken.earliest is None or taken.latest is None:
            return None
        basis = f"by the clock shown in record {self.record.id}"
        return Interval(taken.earliest + self.low, taken.latest + self.high, basis)


def clocks_shown(
    facts: Facts, taken: dict[str, Interval], zone: ZoneInfo | None
) -> tuple[ClockShown, ...]:
    """Compare every camera_clock record in force with the time of the photo that it names."""
    return tuple(_clocks_shown(facts, taken, zone))


def _clocks_shown(
    facts: Facts, taken: dict[str, Interval], zone: ZoneInfo | None
) -> Iterator[ClockShown]:
    for record in facts.in_force(CameraClock):
        body = record.body
        if not isinstance(body, CameraClock):
            continue
        photo = facts.photo_at(body.photo)
        when = taken.get(photo.sha256) if photo else None
        if photo is None or when is None or when.earliest is None or when.latest is None:
            continue
        read = stretch_of(body.read, zone)
        if read.earliest is None or read.latest is None:
            continue
        slack = timedelta(seconds=body.within_seconds)
        yield ClockShown(
            record,
            photo.sha256,
            photo.camera.name(),
            read.earliest - slack - when.latest,
            read.latest + slack - when.earliest,
        )


def job_begins(facts: Facts, zone: ZoneInfo | None) -> datetime | None:
    """Give the first instant that the job's bills or records name, or None where none does."""
    shipments = facts.job.shipment if facts.job else ()
    moments = [moment for s in shipments for moment in (s.bill_date, s.shipped)]
    for record in facts.records:
        if record.in_force and not isinstance(record.body, CameraClock | BenchCheck):
            moments += [getattr(record.body, field.name) for field in fields(record.body)]
    firsts = [stretch_of(m, zone).earliest for m in moments if isinstance(m, Moment)]
    return min((at for at in firsts if at), default=None)


def photographer_of(camera: Camera, job: Job | None) -> str | None:
    """Give the id of the one person who photographs with this camera, else None.

    A person is named by make and model, by model alone, or with the serial number; case does not
    count. Two people with the same model cannot be told apart. A record that names a photo says
    who wrote the record, not who held the camera, and decides nothing here.
    """
    if job is None or camera.name() is None:
        return None
    with_serial = {_plain(camera.name() or "")} if camera.serial else set()
    without = Camera(camera.make, camera.model)
    names = {_plain(n) for n in (without.name(), camera.model, _make_model(camera)) if n}
    for known in (with_serial, names):
        found = [person.id for person in job.person if _has(person, known)]
        if found:
            return found[0] if len(found) == 1 else None
    return None


def _make_model(camera: Camera) -> str | None:
    return f"{camera.make} {camera.model}" if camera.make and camera.model else None


def _has(person: Person, names: set[str]) -> bool:
    return any(_plain(camera) in names for camera in person.cameras)


def _plain(name: str) -> str:
    return " ".join(name.casefold().split())
