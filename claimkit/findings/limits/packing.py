"""How long the packing and the goods must be kept as they are, and which paper says so.

Until the carrier has inspected or waived it in writing; then until one's own report is written;
then until the claim is settled. A period of the user's own paper is counted to its day.
"""

from __future__ import annotations

from claimkit.findings.limits.calendar import CannotCount, nominal_day, site_calendar, written
from claimkit.findings.limits.life import SETTLED, Inspection, Life, Phase
from claimkit.findings.limits.starts import STARTS
from claimkit.model.case import Case
from claimkit.model.contract import Duty
from claimkit.model.job import Shipment, Terms
from claimkit.model.source import Source
from claimkit.rules import carriage
from claimkit.rules.claim_life import HOLD, OWN_REPORT, PRACTICE, SALVAGE

Point = tuple[str, Source]


def keep_until(case: Case, shipment: Shipment, life: Life) -> tuple[Point, ...]:
    """Say until when the packing has to be kept, each sentence with what says so."""
    motor = shipment.terms is Terms.US_INTERSTATE_MOTOR
    if life.phase in SETTLED:
        cited = Source(citation=SALVAGE if motor else PRACTICE)
        text = "The claim is settled: ask about salvage before anything is thrown away."
        return ((text, cited),)
    points: list[Point] = []
    if life.phase is Phase.NOTHING_WRONG:
        text = "Keep the packing until every item has been unpacked, counted and looked at."
        points.append((text, Source(citation=PRACTICE)))
    elif life.inspection is Inspection.WAIVED:
        text = "Keep packing and goods until your own inspection report is written."
        points.append((text, Source(citation=OWN_REPORT if motor else PRACTICE)))
    elif life.inspection in (Inspection.NOT_ASKED, Inspection.ASKED):
        text = (
            "Keep packing and goods as they were found until the carrier has inspected them or "
            "has waived it in writing."
        )
        points.append((text, Source(citation=HOLD if motor else PRACTICE)))
    else:
        text = "Keep packing and goods until the claim is settled."
        points.append((text, Source(citation=PRACTICE)))
    return (*points, *_by_paper(case, shipment))


def _by_paper(case: Case, shipment: Shipment) -> tuple[Point, ...]:
    """Count the periods for keeping the packing that the user's own papers set."""
    job = case.facts.job
    found: list[Point] = []
    for term in shipment.own_term:
        if job is None or term.duty is not Duty.KEEP_PACKING:
            continue
        events = STARTS[term.runs_from.value](case, shipment)
        cited = Source(citation=term.source)
        if not events:
            text = f"{term.title}: {term.length.written}, from {term.runs_from.value}; not begun."
            found.append((text, cited))
            continue
        start = max(event.day for event in events)
        try:
            last = nominal_day(term.length, start, carriage.PLAIN, site_calendar(case.facts))
        except CannotCount as error:
            found.append((f"{term.title}: {error}", cited))
            continue
        text = (
            f"{term.title}: {term.length.written} from {written(start)}, so at least to "
            f"{written(last)}."
        )
        found.append((text, cited))
    return tuple(found)
