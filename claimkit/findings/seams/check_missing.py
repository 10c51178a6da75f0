"""What a comparison of gaps lacks: a dry fit, a later reading, a design, a state, a temperature.

Most of it can be mended only while the pieces still stand loose, so it is said early. What is not
compared, and what is left out of a comparison, is listed with its reason.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from claimkit.findings.pieces import same_piece
from claimkit.findings.seams.answers import design_of, tolerance_of
from claimkit.findings.seams.gaps import (
    overall,
    readings_records,
    seam_sources,
    seams_of,
)
from claimkit.findings.seams.last_chance import (
    SEALED_UNREAD,
    TO_READ,
    DryFitLacking,
    dry_fit_lacking,
    last_chances,
)
from claimkit.findings.seams.pairs import milestones
from claimkit.findings.seams.states import State
from claimkit.findings.seams.temperature import Treatment, thermal
from claimkit.findings.seams.words import BUDGET, METHOD, PRACTICE, listed, named, place
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.gap import Comparison, GapReading
from claimkit.model.job import Seam
from claimkit.model.source import Source
from claimkit.model.stages import Event, Stage

Results = tuple[Finding | NotChecked, ...]


def no_dry_fit(case: Case) -> Results:
    """Say which stations have no reading at the dry fit, while it can still be taken."""
    return tuple(_no_dry_fit(case, lacking) for lacking in dry_fit_lacking(case))


def _no_dry_fit(case: Case, lacking: DryFitLacking) -> Finding:
    seam, stations, fixed = lacking.seam, lacking.stations, lacking.fixed
    which = f"Station {listed(stations)}" if len(stations) == 1 else f"Stations {listed(stations)}"
    told = f"{which if stations else 'The seam'} {'has' if len(stations) < 2 else 'have'} "
    told += "no usable reading at the dry fit."
    do = (
        "It cannot be made good any more. Enter any reading or photo with a scale from that day."
        if fixed
        else "Set the pieces together in the opening, level and clamped, and read these gaps with "
        "a photo of each before anything is fastened."
    )
    if fixed:
        told += " Whether the gap was there before the work cannot be told from readings."
    return Finding(
        "gap-no-dry-fit",
        Standing.MISSING,
        place(seam.id, None, lacking.piece),
        told,
        do,
        seam_sources(case, seam.id),
        f"{PRACTICE}; {METHOD}",
        urgent=not fixed,
    )


def no_later_reading(case: Case) -> Results:
    """Say which gaps were read at the dry fit and never again.

    A station that is told as unread before the sealant, or sealed unread, is not told again here.
    """
    told = [c for c in last_chances(case) if c.rule in (TO_READ, SEALED_UNREAD)]
    found = []
    for c in overall(case):
        if c.before is None or c.after is not None:
            continue
        if any(chance.names(c.seam, c.station, c.piece) for chance in told):
            continue
        fastened = bool(milestones(case, Event.FASTENED, c.seam, c.piece))
        when = (
            "now, and again at handover,"
            if fastened
            else ("after fastening and before the sealant, and again at handover,")
        )
        found.append(
            Finding(
                "gap-no-later-reading",
                Standing.MISSING,
                place(c.seam, c.station, c.piece),
                f"The gap was read at {named(c.before)} and has no usable reading since.",
                f"Read it {when} with the same instrument ({c.before.instrument}).",
                (c.before.source, *seam_sources(case, c.seam)),
                f"{PRACTICE}; {METHOD}",
            )
        )
    return tuple(found)


def states_differ(case: Case) -> Results:
    """Name dry fits that are not of the state, or not of the piece, of the later reading."""
    rule = "gap-states-differ"
    found = [
        NotChecked(rule, place(c.seam, c.station, c.piece), c.change.because)
        for c in case.comparisons
        if c.not_comparable
    ]
    for c in overall(case):
        if c.before is None and c.after is not None:
            other = _other_piece(case, c)
            if other is not None:
                found.append(
                    NotChecked(
                        rule,
                        place(c.seam, c.station, c.piece),
                        f"The dry fit in {other.record} is of {_piece(other.piece)}, the reading "
                        f"at {named(c.after)} of {_piece(c.piece)}. They are not compared.",
                    )
                )
    return tuple(found)


def state_not_recorded(case: Case) -> Results:
    """Say where a dry fit's record leaves open how the pieces stood."""
    found = []
    for record, body in readings_records(case):
        missing = State.of(body).not_recorded()
        if body.stage is Stage.DRY_FIT and missing:
            found.append(
                Finding(
                    "gap-state-not-recorded",
                    Standing.MISSING,
                    f"{record.path}, {place(body.seam, None, body.piece)}: {_keys(missing)}",
                    f"The dry fit does not say {listed(missing)}. It is compared as if it were "
                    "in the state of the later reading.",
                    "Add a record that replaces this one and says it, as it was.",
                    (Source(path=record.path, sha256=record.sha256),),
                    METHOD,
                )
            )
    return tuple(found)


def _keys(missing: tuple[str, ...]) -> str:
    """Name the keys that are left out: 'where they stood (place)' gives 'place'."""
    return listed(text.rpartition("(")[2].rstrip(")") for text in missing)


def no_design(case: Case) -> Results:
    """Say where no gap can be judged within or outside its design, and why."""
    return tuple(
        NotChecked("gap-no-design", place(seam.id), design)
        for seam in _read_seams(case)
        if isinstance(design := design_of(seam), str)
    )


def no_tolerance(case: Case) -> Results:
    """Say where no change can be judged, because nobody entered the change that matters."""
    return tuple(
        NotChecked("gap-no-tolerance", place(seam.id), tolerance)
        for seam in _read_seams(case)
        if isinstance(tolerance := tolerance_of(seam), str)
    )


def temperature_not_recorded(case: Case) -> Results:
    """Say where a comparison had to be widened for want of temperatures."""
    return tuple(
        Finding(
            "gap-temperature-not-recorded",
            Standing.MISSING,
            place(c.seam, c.station, c.piece),
            told,
            "Write the temperature of the pieces in the next readings. Where somebody noted it at "
            "the time, add it in a record that replaces the one without.",
            tuple(r.source for r in (c.before, c.after) if r and r.celsius is None),
            f"claimkit method: temperature in a comparison; {BUDGET}",
        )
        for c, told in _heat(case, Treatment.WIDENED)
    )


def temperature_left_out(case: Case) -> Results:
    """Name comparisons that leave temperature out, and what is missing for it."""
    return tuple(
        NotChecked(
            "gap-temperature-left-out",
            place(c.seam, c.station, c.piece),
            f"{told} A gap that opens in the cold may have moved for that alone.",
        )
        for c, told in _heat(case, Treatment.LEFT_OUT)
    )


def _heat(case: Case, treatment: Treatment) -> Iterator[tuple[Comparison, str]]:
    for c in overall(case):
        seam = case.facts.job.seam_named(c.seam) if case.facts.job else None
        if seam is None or c.before is None or c.after is None or c.change.difference is None:
            continue
        heat = thermal(case.facts.job, seam, c.before, c.after)
        if heat.treatment is treatment:
            yield c, heat.because


def _read_seams(case: Case) -> list[Seam]:
    return [s for s in seams_of(case) if any(r.seam == s.id for r in case.readings)]


def _other_piece(case: Case, c: Comparison) -> GapReading | None:
    return next(
        (
            r
            for r in case.readings
            if r.stage is Stage.DRY_FIT
            and (r.seam, r.station) == (c.seam, c.station)
            and not same_piece(r.piece, c.piece)
        ),
        None,
    )


def _piece(name: str | None) -> str:
    return f"the replacement piece {name}" if name else "the first pieces"


CHECKS: tuple[tuple[str, str, Callable[[Case], Results]], ...] = (
    ("gap-no-dry-fit", "A station has no reading at the dry fit", no_dry_fit),
    ("gap-no-later-reading", "A gap was read at the dry fit and never again", no_later_reading),
    ("gap-states-differ", "A dry fit in another state is not compared", states_differ),
    (
        "gap-state-not-recorded",
        "The record of a dry fit leaves out how the pieces stood",
        state_not_recorded,
    ),
    ("gap-no-design", "No design gap to judge against", no_design),
    ("gap-no-tolerance", "No tolerance to judge a change against", no_tolerance),
    (
        "gap-temperature-not-recorded",
        "A comparison is widened for want of temperatures",
        temperature_not_recorded,
    ),
    ("gap-temperature-left-out", "A comparison leaves temperature out", temperature_left_out),
)
