"""A few lines on one gap reading as it is typed: how it fits, and what it is beside the dry fit.

The judgement is the case's own, the one that `gaps` prints; here it is only said more shortly.
"""

from __future__ import annotations

from claimkit.compose.phrases import fit_told, gap, heat_out, percent
from claimkit.compose.terminal.text import wrapped
from claimkit.findings.seams.gaps import of_station, overall
from claimkit.findings.seams.pairs import ORDER, contradiction
from claimkit.findings.seams.readings import NotUsable, of_record
from claimkit.findings.seams.sealant import TOLD as OVER_SEALANT
from claimkit.findings.seams.words import moved_within, named
from claimkit.model.case import Case
from claimkit.model.gap import Change, Comparison, Fit, GapReading
from claimkit.model.records import Record
from claimkit.model.stages import Stage

INDENT = " " * 4


def reading_lines(case: Case, record: Record, station: str) -> list[str]:
    """Say what the reading of a record at a station amounts to beside the others of its place."""
    reading = _reading(case, record, station)
    if reading is None:
        return wrapped(f"Kept, but not usable yet: {_fault(case, record, station)}.", INDENT)
    compared = _compared(case, reading)
    if compared is None:
        return wrapped(f"{gap(reading.measurement)}. {_alone(case, reading)}", INDENT)
    fit = compared.at_dry_fit if reading == compared.before else compared.now
    filled = f", {OVER_SEALANT}" if reading.over_sealant else ""
    lines = wrapped(f"{gap(reading.measurement)}, {fit_told(fit)}{filled}", INDENT)
    if compared.before is None or compared.after is None:
        return lines + wrapped(_first(case, reading), INDENT)
    return lines + _change(compared)


def speaks_against(case: Case, record: Record, station: str) -> bool:
    """Tell whether what was said of a reading leaves something open or does not support anybody."""
    reading = _reading(case, record, station)
    compared = _compared(case, reading) if reading else None
    if reading is None or compared is None:
        return True
    fit = compared.at_dry_fit if reading == compared.before else compared.now
    both = compared.before is not None and compared.after is not None
    return fit.fit is not Fit.WITHIN or (both and compared.change.change is not Change.UNCHANGED)


def _reading(case: Case, record: Record, station: str) -> GapReading | None:
    return next((r for r in case.readings if (r.record, r.station) == (record.id, station)), None)


def _compared(case: Case, reading: GapReading) -> Comparison | None:
    return next((c for c in overall(case) if reading in (c.before, c.after)), None)


def _change(compared: Comparison) -> list[str]:
    change, before = compared.change, compared.before
    since = f"since {named(before)}" if before else ""
    if change.difference is None:
        return wrapped(f"{change.change.value} {since}: {change.because}", INDENT)
    odds = {
        Change.OPENED: change.p_opened,
        Change.CLOSED: change.p_closed,
        Change.UNCHANGED: change.p_unchanged,
    }
    words = {
        Change.CANNOT_TELL: f"CANNOT TELL whether it changed {since}: {gap(change.difference)}",
    }
    said = words.get(
        change.change,
        f"{_in_a_word(compared)} {since}: {gap(change.difference)} "
        f"({percent(odds.get(change.change))})",
    )
    lines = wrapped(said, INDENT)
    if heat := heat_out(compared):
        lines += wrapped(heat, INDENT)
    if change.change is Change.CANNOT_TELL and change.settle:
        lines += wrapped(f"To settle it: {change.settle}", INDENT)
    return lines


def _in_a_word(compared: Comparison) -> str:
    said = moved_within(compared.change) or compared.change.change.value.upper()
    return f"{said[0].upper()}{said[1:]}"


def _first(case: Case, reading: GapReading) -> str:
    """Say that there is nothing yet to hold a reading against."""
    others = [r for r in _of_place(case, reading) if r != reading]
    if not others:
        return "First reading at this station."
    if reading.stage is Stage.DRY_FIT:
        return "A new dry fit of this station. What is read later is held against it."
    return "There is no reading of the dry fit to hold it against."


def _alone(case: Case, reading: GapReading) -> str:
    """Say why a reading is compared with nothing."""
    against = contradiction(case, reading)
    if against:
        return f"Compared with nothing: {against}"
    if ORDER[reading.stage] < ORDER[Stage.DRY_FIT]:
        return "Compared with nothing: it lies before the dry fit."
    return "A later reading of this stage counts in its place."


def _of_place(case: Case, reading: GapReading) -> list[GapReading]:
    return of_station(case, reading.seam, reading.station, reading.piece)


def _fault(case: Case, record: Record, station: str) -> str:
    found = [r for r in of_record(case, record) if isinstance(r, NotUsable)]
    mine = [r.reason for r in found if f"station {station}" in r.where]
    return mine[0].rstrip(".") if mine else "the reason stands under claimkit gaps"
