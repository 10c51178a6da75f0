"""What is wrong with a typed reading itself: its witness, its date, its instrument, its twin.

A photo named as witness must be dated where the reading says, a stage must agree with its date,
and two readings of one episode must agree with each other. Nothing here judges the gap.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from itertools import combinations

from claimkit.findings.seams.gaps import of_station, readings_records, seams_of, stations_of
from claimkit.findings.seams.normal import K_TWO_SIDED
from claimkit.findings.seams.pairs import contradiction, same_episode
from claimkit.findings.seams.photo_readings import from_photos
from claimkit.findings.seams.readings import (
    ONE_SIDED,
    has_station,
    read_all,
    resolution_mm,
    stands_apart,
)
from claimkit.findings.seams.witness import each_witness
from claimkit.findings.seams.words import (
    BUDGET,
    PRACTICE,
    STAGE_WORDS,
    WITNESS,
    listed,
    named,
    place,
    plain_mm,
    with_u,
)
from claimkit.model.answers import Answer
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.gap import GapReading
from claimkit.model.source import Source

Results = tuple[Finding | NotChecked, ...]


def stage_and_time_differ(case: Case) -> Results:
    """Name readings whose stage and date contradict each other; neither is claimed."""
    return tuple(
        NotChecked(
            "gap-stage-and-time-differ",
            place(r.seam, r.station, r.piece),
            f"{told} The reading is not compared. Correct the stage or the date in a record that "
            "replaces the wrong one.",
        )
        for r in case.readings
        if (told := contradiction(case, r))
    )


def not_usable(case: Case) -> Results:
    """Name typed readings that are no measurement: no resolution, wrong instrument, no seam."""
    rule = "gap-reading-not-usable"
    found = [NotChecked(rule, u.where, u.reason) for u in read_all(case)[1]]
    if case.facts.job is not None:
        found += [
            NotChecked(
                rule,
                place(r.seam, r.station, r.piece),
                f"{r.record} names a seam that job.toml does not have. Add the seam there, or "
                "correct its name in a record that replaces this one.",
            )
            for r in case.readings
            if case.facts.job.seam_named(r.seam) is None
        ]
    return tuple(found)


def witness_elsewhere(case: Case) -> Results:
    """Name photos that witness a reading and are certainly dated in another episode."""
    return tuple(
        Finding(
            "gap-witness-elsewhere",
            Standing.AGAINST,
            place(reading.seam, reading.station, reading.piece),
            f"{path} is named as witness of the reading at {named(reading)}, but is dated "
            f"elsewhere: {_dated(case, path)}.",
            "Name the photo that was taken with this reading, or correct the camera's clock with "
            "a camera_clock record.",
            _witness_sources(case, reading, path),
            WITNESS,
        )
        for reading, path, answer in _witnesses(case)
        if answer is Answer.NO
    )


def witness_not_dated(case: Case) -> Results:
    """Name photos that witness a reading but cannot be placed in its episode."""
    return tuple(
        Finding(
            "gap-witness-not-dated",
            Standing.MISSING,
            place(reading.seam, reading.station, reading.piece),
            f"{path} is named as witness of the reading at {named(reading)}, but cannot be placed "
            f"in that episode: {_dated(case, path)}.",
            "Ask for the original photo from the phone, or record when the episode began and "
            "ended in a milestone.",
            _witness_sources(case, reading, path),
            WITNESS,
        )
        for reading, path, answer in _witnesses(case)
        if answer is Answer.CANNOT_TELL
    )


def no_witness(case: Case) -> Results:
    """Say which records of readings name no photo for a station."""
    found = []
    for record, body in readings_records(case):
        shown = _shown_in_photos(case, record.id)
        bare = [
            r.station
            for r in body.at
            if not r.witness and r.station not in shown and has_station(case, body.seam, r.station)
        ]
        if bare:
            found.append(
                Finding(
                    "gap-no-witness",
                    Standing.MISSING,
                    f"{record.path}, {place(body.seam, None, body.piece)}",
                    f"No photo shows the reading at {STAGE_WORDS[body.stage]} of station "
                    f"{listed(dict.fromkeys(bare))}.",
                    "Photograph each reading with the instrument in the gap and the station's "
                    "name in view, and name the photo in the record.",
                    (Source(path=record.path, sha256=record.sha256, key_path="at"),),
                    PRACTICE,
                )
            )
    return tuple(found)


def readings_disagree(case: Case) -> Results:
    """Name readings of one station in one episode that differ by more than they may."""
    found: list[Finding | NotChecked] = []
    for seam in seams_of(case):
        for station, piece in stations_of(case, seam):
            readings = of_station(case, seam.id, station, piece)
            found += [
                _disagree(a, b)
                for a, b in combinations(readings, 2)
                if a.meaning is b.meaning and same_episode(a, b) and _apart(a, b)
            ]
    return tuple(found)


def _shown_in_photos(case: Case, record: str) -> set[str]:
    """Give the stations of a record that a card in a photo of the same day shows as well."""
    read = {r.station: r for r in case.readings if r.record == record}
    photos = (*from_photos(case), *from_photos(case, deciding=False))
    return {
        p.station
        for p in photos
        if p.state_of == record and p.station in read and p.seam == read[p.station].seam
    }


def _apart(a: GapReading, b: GapReading) -> bool:
    difference = a.measurement.minus(b.measurement)
    return round(abs(difference.value_mm) - K_TWO_SIDED * difference.u_mm, 6) > 0


def _disagree(a: GapReading, b: GapReading) -> Finding:
    return Finding(
        "gap-readings-disagree",
        Standing.AGAINST,
        place(a.seam, a.station, a.piece),
        f"Two readings of {named(a)} differ by more than their uncertainty: "
        f"{with_u(a.measurement)} in {a.record} ({a.instrument}), {with_u(b.measurement)} in "
        f"{b.record} ({b.instrument}). The later one is compared.",
        _which_holds(a, b),
        (a.source, b.source),
        f"{BUDGET}; two-sided 95 %",
    )


def _which_holds(a: GapReading, b: GapReading) -> str:
    """Say how to settle two readings: with both instruments, or anew with the one."""
    if a.instrument != b.instrument:
        return "Read it again with both instruments side by side and say in a record which holds."
    return (
        f"Both were made with a {a.instrument}. Read it again with it three times, anew each time, "
        "and say in a record that replaces the wrong one which holds."
    )


def finer_than_instrument(case: Case) -> Results:
    """Name readings written finer than the instrument's divisions."""
    found = []
    for record, body in readings_records(case):
        step = resolution_mm(body)
        for number, reading in enumerate(body.at, start=1):
            finer = [gap.written for gap in reading.gap if step and _between_marks(gap.mm, step)]
            if finer and step and has_station(case, body.seam, reading.station):
                source = Source(
                    path=record.path, sha256=record.sha256, key_path=f"at[{number}].gap"
                )
                found.append(
                    Finding(
                        "gap-finer-than-instrument",
                        Standing.NOTE,
                        place(body.seam, reading.station, body.piece),
                        f"{listed(finer)} lies between the divisions of a "
                        f"{body.instrument.value} ({plain_mm(step)} apart). The uncertainty is "
                        "that of the divisions.",
                        "Check that the record names the instrument that was used.",
                        (source,),
                        BUDGET,
                    )
                )
    return tuple(found)


def repeat_apart(case: Case) -> Results:
    """Name readings of which one repeat stands far apart from the others; none is dropped."""
    bodies = {record.id: body for record, body in readings_records(case)}
    found = []
    for reading in case.readings:
        body = bodies.get(reading.record)
        one = stands_apart(body, reading.repeats_mm) if body else None
        if one is None:
            continue
        found.append(
            Finding(
                "gap-repeat-stands-apart",
                Standing.MISSING,
                place(reading.seam, reading.station, reading.piece),
                f"{_which_apart(reading, one)} The mean and its uncertainty count them all.",
                "Where it is a slip of writing, add a record that replaces this one with what was "
                "read, and say so in it. Else read the station again where it can still be.",
                (reading.source,),
                f"{BUDGET}; what stands apart is our own convention",
            )
        )
    return tuple(found)


def _which_apart(reading: GapReading, one: float) -> str:
    said = ", ".join(reading.written)
    if len(reading.repeats_mm) == 2:
        return f"The two repeats at {named(reading)} ({said}) stand far apart."
    return f"Of the repeats at {named(reading)} ({said}) one stands apart: {plain_mm(one)}."


def leaf_did_not_go_in(case: Case) -> Results:
    """Name gaps read as 0 mm with a feeler gauge: that is one side of the gap only."""
    return tuple(
        Finding(
            "gap-below-thinnest-leaf",
            Standing.NOTE,
            place(reading.seam, reading.station, reading.piece),
            f"Read at {named(reading)}: {ONE_SIDED}.",
            "Write into the next record which leaf was the thinnest that was tried.",
            (reading.source,),
            PRACTICE,
        )
        for reading in case.readings
        if ONE_SIDED in reading.remarks
    )


def _between_marks(mm: Fraction, step: float) -> bool:
    divisions = float(mm) / step
    return abs(divisions - round(divisions)) > 0.1


def _witnesses(case: Case) -> Iterator[tuple[GapReading, str, Answer]]:
    bodies = {record.id: body for record, body in readings_records(case)}
    for reading in case.readings:
        body = bodies.get(reading.record)
        tables = body.at if body else ()
        paths = [p for r in tables if r.station == reading.station for p in r.witness]
        for path, answer in each_witness(case, reading, tuple(dict.fromkeys(paths))):
            yield reading, path, answer


def _dated(case: Case, path: str) -> str:
    photo = case.facts.photo_at(path)
    if photo is None:
        return "there is no photo at that path"
    dated = next((d for d in case.photos if d.sha256 == photo.sha256), None)
    if dated is None or dated.taken.earliest is None:
        return "nothing dates it"
    stage = f", in {STAGE_WORDS[dated.stage]}" if dated.stage else ""
    return f"{dated.taken.earliest:%Y-%m-%d %H:%M}{stage}"


def _witness_sources(case: Case, reading: GapReading, path: str) -> tuple[Source, ...]:
    photo = case.facts.photo_at(path)
    found = Source(path=path, sha256=photo.sha256) if photo else Source(path=path)
    return (reading.source, found)


CHECKS: tuple[tuple[str, str, Callable[[Case], Results]], ...] = (
    (
        "gap-stage-and-time-differ",
        "A reading's stage and its date contradict each other",
        stage_and_time_differ,
    ),
    ("gap-reading-not-usable", "A typed reading is no measurement", not_usable),
    ("gap-witness-elsewhere", "A witness photo is dated elsewhere", witness_elsewhere),
    ("gap-witness-not-dated", "A witness photo cannot be placed", witness_not_dated),
    ("gap-no-witness", "A reading has no witness photo", no_witness),
    (
        "gap-readings-disagree",
        "Two readings of one episode differ by more than they may",
        readings_disagree,
    ),
    (
        "gap-finer-than-instrument",
        "A reading is written finer than its instrument reads",
        finer_than_instrument,
    ),
    ("gap-repeat-stands-apart", "One repeat stands far apart from the others", repeat_apart),
    (
        "gap-below-thinnest-leaf",
        "A feeler gauge's 0 mm says only that no leaf went in",
        leaf_did_not_go_in,
    ),
)
