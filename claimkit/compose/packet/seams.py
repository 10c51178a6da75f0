"""Gaps: readings with their uncertainty against the design, plotted and told in three answers."""

from __future__ import annotations

import math

from claimkit.compose.blocks import row, say, table
from claimkit.compose.packet import seam_lines
from claimkit.compose.packet.view import View
from claimkit.compose.phrases import (
    COVERAGE_FACTOR,
    fit_told,
    gap,
    job_source,
    millimetres,
    percent,
    settling,
    stretch,
)
from claimkit.findings.claim.worksheet import shipment_of
from claimkit.findings.seams.sealant import TOLD as OVER_SEALANT
from claimkit.findings.seams.sealant import VISIBLE
from claimkit.findings.seams.words import moved_within
from claimkit.model.case import Reader
from claimkit.model.document import Block, GapPlot, GapPoint, Paragraphs, Section, Statement
from claimkit.model.gap import Change, Comparison, GapReading, Meaning
from claimkit.model.job import Seam
from claimkit.model.source import Source

BUDGET = Source(citation="claimkit method: gap readings and their uncertainty (JCGM 100:2008)")
RULE = Source(citation="claimkit method: comparing gaps (JCGM 106:2012)")
NOT_READ = "not read"


def section(view: View) -> Section | None:
    """Compose plots, answers, readings and contributions for the seams in view."""
    seams = [s for s in (view.job.seam if view.job else ()) if _concerns(view, s)]
    blocks: list[Block] = []
    for seam in seams:
        readings = [r for r in view.case.readings if r.seam == seam.id]
        if readings:
            blocks += _seam(view, seam, readings)
    return Section("gaps", "Gaps at the seams", tuple(blocks), new_page=True) if blocks else None


def _concerns(view: View, seam: Seam) -> bool:
    if view.reader in (Reader.CUSTOMER, Reader.OWN) or view.job is None:
        return True
    items = [view.job.item_named(name) for name in seam.between]
    return any(i and shipment_of(view.job, i) == view.shipment for i in items)


def _seam(view: View, seam: Seam, readings: list[GapReading]) -> list[Block]:
    number = view.job.seam.index(seam) + 1 if view.job else 0
    design = job_source(view.case, f"seam[{number}]")
    low = float(seam.design_gap_min.mm) if seam.design_gap_min else None
    high = float(seam.design_gap_max.mm) if seam.design_gap_max else None
    origin = f" ({seam.design_source})" if seam.design_source else ""
    head = say(
        f"Seam {seam.id}, {seam.joint.value}, between {' and '.join(seam.between)}. "
        f"Design gap {millimetres(low)} to {millimetres(high)}{origin}; a change matters from "
        f"{millimetres(float(seam.tolerance.mm) if seam.tolerance else None)}.",
        design,
    )
    blocks: list[Block] = [Paragraphs((head,), bulleted=False, heads=True)]
    for station in dict.fromkeys(r.station for r in readings):
        points = tuple(_point(view, r) for r in readings if r.station == station)
        told = "; ".join(point.statement.text for point in points)
        title = f"Seam {seam.id}, station {station}"
        blocks.append(GapPlot(title, points, low, high, f"Gap, {title}: {told}"))
    compared = [c for c in view.case.comparisons if c.seam == seam.id]
    blocks += _answers(view, compared, design)
    filled = [r for r in readings if r.over_sealant]
    if filled:
        shown = "; ".join(f"{r.station}, {r.stage.value}" for r in filled)
        text = f"{OVER_SEALANT[0].upper()}{OVER_SEALANT[1:]} ({shown}). {VISIBLE}"
        blocks.append(Paragraphs((say(text, *_sources(view, *filled), RULE),)))
    blocks += seam_lines.blocks(view, seam, design)
    blocks.append(_readings(view, readings))
    blocks.append(_budget(readings))
    return blocks


def _sources(view: View, *readings: GapReading | None) -> tuple[Source, ...]:
    found: list[Source] = []
    for reading in readings:
        if reading is not None:
            found.append(reading.source)
            for sha in reading.witness:
                photo = view.facts.photo_of(sha)
                if photo and sha in view.numbers:
                    found.append(view.photo_source(photo))
    return tuple(found)


def _point(view: View, reading: GapReading) -> GapPoint:
    where = f"{reading.stage.value}{_seen(reading)}"
    filled = f", {OVER_SEALANT}" if reading.over_sealant else ""
    text = f"{where}: {gap(reading.measurement)}{filled}"
    statement = say(text, *_sources(view, reading), BUDGET)
    expanded = COVERAGE_FACTOR * reading.measurement.u_mm
    return GapPoint(where, reading.measurement.value_mm, expanded, statement)


def _seen(reading: GapReading) -> str:
    """Mark what a photo shows: the opening between the edges, not the faces."""
    return ", in photos" if reading.meaning is Meaning.OPENING else ""


def _how(c: Comparison) -> str:
    return "" if c.how == "by hand" else f", {c.how}"


def _answers(view: View, compared: list[Comparison], design: Source) -> list[Block]:
    rows: list[tuple[Statement, ...]] = []
    told: list[Statement] = []
    for c in compared:
        sources = (*_sources(view, c.before, c.after), design, RULE)
        rows.append(row(*_cells(c), sources=sources))
        if not c.step or c.change.change in (Change.OPENED, Change.CLOSED):
            reasons = (c.change.because, *c.not_comparable)
            told += [
                say(f"Station {c.station}{_how(c)}: {text}", *sources)
                for text in map(view.told, reasons)
                if text
            ]
        if view.reader in (Reader.OWN, Reader.CUSTOMER):
            told += [
                say(
                    f"Station {c.station}{_how(c)}, to settle {answers}: {text}",
                    *sources,
                    emphasis="missing",
                )
                for answers, settles in settling(c)
                if (text := view.next_step(settles))
            ]
    if not rows:
        return []
    heads = ("Station", "Between", "At the first", "Change", "Difference", "At the later")
    unique = tuple(dict.fromkeys(told))
    return [table(heads, rows, (1, 2, 1.5, 1.5, 1.6, 1.5)), Paragraphs(unique)]


def _cells(c: Comparison) -> tuple[str, ...]:
    change = c.change
    shown = {
        "opened": change.p_opened,
        "closed": change.p_closed,
        "unchanged": change.p_unchanged,
    }.get(change.change.value)
    first = c.at_before or c.at_dry_fit
    return (
        (f"{c.station}, {c.piece}" if c.piece else c.station) + _how(c),
        c.between or "–",
        fit_told(first) if c.before else NOT_READ,
        (moved_within(change) or change.change.value)
        + (f" ({percent(shown)})" if shown is not None else ""),
        gap(change.difference) if change.difference else "–",
        fit_told(c.now) if c.after else NOT_READ,
    )


def _readings(view: View, readings: list[GapReading]) -> Block:
    rows = [
        row(
            r.station,
            r.stage.value,
            stretch(r.taken, view.zone),
            ", ".join(r.written) + (" (over the sealant)" if r.over_sealant else ""),
            gap(r.measurement),
            r.instrument,
            f"{r.celsius:g} °C" if r.celsius is not None else "–",
            sources=_sources(view, r),
        )
        for r in readings
    ]
    heads = ("Station", "Stage", "When", "As read", "Gap ± U (k = 2)", "Read with", "Temp.")
    return table(heads, rows, (1, 1.4, 2, 1.8, 1.6, 1.6, 0.8), small=True)


def _budget(readings: list[GapReading]) -> Block:
    rows = [
        row(
            r.station,
            r.stage.value,
            "; ".join(f"{cause} {part:.3f}" for cause, part in _contributions(r)),
            f"{r.measurement.u_mm:.3f}",
            sources=(r.source, BUDGET),
        )
        for r in readings
    ]
    heads = ("Station", "Stage", "Contributions to the standard uncertainty, mm", "u, mm")
    return table(heads, rows, (1, 1.4, 5.4, 0.8), small=True)


def _contributions(reading: GapReading) -> list[tuple[str, float]]:
    """Give the contributions by kind of cause (the word before the colon), largest first, in mm."""
    kinds: dict[str, float] = {}
    for cause, part in reading.measurement.parts:
        kind = cause.partition(":")[0]
        kinds[kind] = math.hypot(kinds.get(kind, 0.0), part)
    return sorted(kinds.items(), key=lambda pair: (-pair[1], pair[0]))
