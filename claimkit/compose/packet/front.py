"""The first page: the answer, for each reader the one that reader needs.

The carrier sees the three elements of a claim with what supports each and what does not. The
customer sees what was measured, what it means and what happens next, with no price, phone number
or attribution. The owner sees where everything stands and what to do first.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from claimkit.compose.blocks import of_finding, say
from claimkit.compose.packet import claim
from claimkit.compose.packet.goods import shipment_table
from claimkit.compose.packet.view import FAR_FUTURE, View
from claimkit.compose.phrases import heat_out
from claimkit.findings.delivery.received import CONDITION
from claimkit.findings.seams.words import moved_within
from claimkit.findings.wording import counted
from claimkit.model.answers import Answer
from claimkit.model.case import Difference, Element, Reader, Standing
from claimkit.model.document import Answers, Block, Paragraphs, Section, Statement
from claimkit.model.gap import Change, Comparison, Fit, FitJudgement, GapReading
from claimkit.model.source import Source
from claimkit.rules.cautions import CAUTIONS
from claimkit.rules.governing import law_named
from claimkit.rules.marks import marked

SHOWN = {
    Answer.YES: ("Supported by this record.", "supports"),
    Answer.NO: ("The record speaks against it.", "does not support"),
    Answer.CANNOT_TELL: ("Not decided by this record.", "missing"),
}
NO_RECORD = Source(citation="claimkit: nothing in the job folder bears on it")


def section(view: View) -> Section:
    """Compose the first page for the view's reader."""
    blocks: list[Block] = []
    match view.reader:
        case Reader.CARRIER | Reader.INSURER:
            blocks += [Answers(tuple(_elements(view))), *_shipments(view)]
        case Reader.SELLER:
            blocks += [Answers(tuple(_for_seller(view))), *_shipments(view)]
        case Reader.CUSTOMER:
            blocks += [Answers(tuple(_for_customer(view)))]
        case Reader.OWN:
            blocks += [Answers(tuple(_for_owner(view))), *_first_moves(view)]
    blocks.append(_caution())
    return Section("answer", "The answer", tuple(blocks))


def _elements(view: View) -> list[tuple[str, Statement]]:
    rows = []
    for element in _in_view(view):
        text, emphasis = SHOWN[element.shown]
        points = element.supports or element.against
        detail = points[0][0] if points else "Nothing is recorded."
        sources = tuple(s for _, found in (*element.supports, *element.against) for s in found)
        rows.append(
            (
                element.name.capitalize(),
                say(f"{text} {detail}", *sources, _rests_on(view, element), emphasis=emphasis),
            )
        )
    if not rows:
        nothing = say("No shipment is entered in job.toml.", NO_RECORD, emphasis="missing")
        rows.append(("Shipment", nothing))
    return rows


def _rests_on(view: View, element: Element) -> Source:
    """Name the text on what a claimant shows that governs the element's shipment."""
    return Source(citation=law_named(view.job, element.shipment).elements)


def _in_view(view: View) -> list[Element]:
    return [e for e in view.case.elements if view.shipment in (None, e.shipment)]


def _shipments(view: View) -> list[Block]:
    return [shipment_table(view, number, shipment) for number, shipment in view.shipments()]


def weights(view: View) -> Section | None:
    """List what supports each element, what speaks against it, and what is missing."""
    blocks: list[Block] = []
    for element in _in_view(view):
        name = f"{element.name.capitalize()} ({element.shipment})"
        lines = [
            say(f"{name}: {text}", *sources, _rests_on(view, element), emphasis=emphasis)
            for points, emphasis in (
                (element.supports, "supports"),
                (element.against, "does not support"),
            )
            for text, sources in points
        ]
        if view.own:
            rests = _rests_on(view, element)
            lines += [say(f"{name}: {m}", rests, emphasis="missing") for m in element.missing]
        if lines:
            blocks.append(Paragraphs(tuple(lines)))
    return Section("elements", "For and against", tuple(blocks)) if blocks else None


def _for_seller(view: View) -> list[tuple[str, Statement]]:
    compared = [d for d in view.case.differences if view.shipment in (None, d.shipment)]
    differs = [d for d in compared if d.same is Answer.NO]
    rows = []
    if differs:
        text = "; ".join(_differs(d) for d in differs)
        sources = tuple(s for d in differs for s in d.sources)
        rows.append(("Ordered and received", say(f"{text}.", *sources)))
    elif compared:
        sources = tuple(s for d in compared for s in d.sources)
        rows.append(("Ordered and received", say("No difference was found.", *sources)))
    else:
        nothing = say("No unpacking record compares the goods with the order.", NO_RECORD)
        rows.append(("Ordered and received", nothing))
    rows += [row for row in _elements(view) if row[0] != "Amount"]
    compared_seams = [c for c in view.case.comparisons if not c.step and c.before]
    outside = [c for c in compared_seams if c.at_dry_fit.fit is Fit.OUTSIDE]
    for c in outside:
        sources = (c.before.source,) if c.before else ()
        text = f"Seam {c.seam}, station {c.station}: {view.told(c.at_dry_fit.because)}"
        rows.append(("Fit at dry assembly", say(text, *sources)))
    return rows


def _differs(d: Difference) -> str:
    """Say what differs; the words of a condition stand in the table of the goods."""
    if d.what == CONDITION:
        return f"{d.item}: condition not good"
    return f"{d.item}: {d.what} {d.found}, ordered {d.ordered}"


def _for_customer(view: View) -> list[tuple[str, Statement]]:
    readings = view.case.readings
    if not readings:
        nothing = say("No gap has been read, so nothing can be said of one.", NO_RECORD)
        return [("What was measured", nothing)]
    sources = tuple(r.source for r in readings)
    seams = sorted({r.seam for r in readings})
    stages = list(dict.fromkeys(r.stage.value for r in sorted(readings, key=_when)))
    names = "seam " + seams[0] if len(seams) == 1 else "seams " + ", ".join(seams)
    number = counted(len(readings), "reading")
    measured = f"Gaps of {names}, {number}: {', '.join(stages)}."
    compared = _telling(view)
    rows = [("What was measured", say(measured, *sources))]
    rows += [("What it means", told) for told in _meanings(view)]
    nexts = " ".join(_settling(view, compared)[:2])
    text = f"{nexts} Agreed, by whom and by when: ______________________".strip()
    rows.append(("What happens next", say(text, *sources)))
    return rows


def _settling(view: View, compared: list[Comparison]) -> list[str]:
    """Give what would settle an answer, each with its seam and the stations that it is about."""
    found: dict[tuple[str, str], list[str]] = {}
    for c in compared:
        for text in map(view.next_step, (c.at_dry_fit.settle, c.change.settle, c.now.settle)):
            if text:
                found.setdefault((c.seam, text), []).append(c.station)
    return [f"Seam {seam}, {_named(names)}: {text}" for (seam, text), names in found.items()]


def _named(stations: Iterable[str]) -> str:
    names = list(dict.fromkeys(stations))
    return f"station{'s' if len(names) > 1 else ''} {', '.join(names)}"


def _when(reading: GapReading) -> tuple[datetime, str]:
    return (reading.taken.earliest or FAR_FUTURE, reading.record)


def _telling(view: View) -> list[Comparison]:
    """Give the comparisons that tell something: dry fit to latest, and steps that moved."""
    moved = (Change.OPENED, Change.CLOSED)
    return [c for c in view.case.comparisons if not c.step or c.change.change in moved]


def _meanings(view: View) -> list[Statement]:
    """Say what the comparisons tell, stations of a seam with the same answer in one sentence."""
    groups: dict[tuple[str, str], list[Comparison]] = {}
    for c in _telling(view):
        groups.setdefault((c.seam, _told(c)), []).append(c)
    found = []
    for (seam, told), members in groups.items():
        names = _named(c.station for c in members)
        sources = [r.source for c in members for r in (c.before, c.after) if r]
        found.append(say(f"Seam {seam}, {names}: {told}.", *(sources or (NO_RECORD,))))
    return found


def _told(c: Comparison) -> str:
    words = []
    if c.before and not c.step:
        words.append(f"{_fit(c.at_dry_fit)} at the {c.before.stage.value}")
    if c.before and c.after:
        heat = f", {heat_out(c)}" if heat_out(c) else ""
        still = moved_within(c.change) or "unchanged"
        words.append(
            {
                Change.CANNOT_TELL: f"whether it changed between {c.between} cannot be told",
                Change.UNCHANGED: f"{still} between {c.between}{heat}",
                Change.OPENED: f"opened between {c.between}{heat}",
                Change.CLOSED: f"closed between {c.between}{heat}",
            }[c.change.change]
        )
    if c.after and not c.step:
        words.append(f"{_fit(c.now)} at the latest reading ({c.after.stage.value})")
    return "; ".join(words) or "cannot tell"


def _fit(judged: FitJudgement) -> str:
    turns = f" ({judged.by_temperature})" if judged.by_temperature else ""
    return f"{judged.fit.value}{turns}"


def _for_owner(view: View) -> list[tuple[str, Statement]]:
    rows = _elements(view)
    for receipt in view.case.receipts:
        text = f"Receipt of {receipt.shipment or 'the delivery'}: {receipt.reading.grade.value}."
        rows.append(("Receipt", say(text, receipt.record)))
    rows.append(("Next move", claim.next_statement(view)))
    rows += [("Gap", told) for told in _meanings(view)]
    return rows


def _first_moves(view: View) -> list[Block]:
    findings = [
        f
        for f in view.findings()
        if f.do_next and f.standing in (Standing.MISSING, Standing.AGAINST)
    ]
    findings.sort(key=lambda f: not f.urgent)
    lines = [of_finding(f, advice=True) for f in findings[:5]]
    return [Paragraphs(tuple(lines))] if lines else []


def _caution() -> Paragraphs:
    return Paragraphs(tuple(_cautions("right")))


def _cautions(concerns: str) -> list[Statement]:
    return [
        say(c.text, Source(citation=marked(c.citation, c.mark)), emphasis="caution")
        for c in CAUTIONS
        if c.concerns == concerns
    ]


def cautions(view: View) -> Section | None:
    """Compose the cautions for whoever lifts, cuts, fastens or connects; not for who pays."""
    if view.reader in (Reader.CARRIER, Reader.INSURER):
        return None
    return Section("cautions", "Cautions", (Paragraphs(tuple(_cautions("body"))),))
