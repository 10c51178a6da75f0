"""What the record says of the inspection: asked for, waived, made, and our own report in its stead.

A report that a notice carries as its file is there without being named again. A waiver by
telephone moves no time limit and is still told, as what it was.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from claimkit.findings.limits.calendar import written
from claimkit.findings.limits.events import acts_for_carrier, is_spoken, name_of
from claimkit.findings.limits.life import Step, life_of
from claimkit.model.case import Case
from claimkit.model.job import Shipment
from claimkit.model.records import About
from claimkit.model.source import Source


@dataclass(frozen=True, slots=True)
class Inspected:
    """The steps of the inspection of one shipment, each None where no record tells of it.

    `own_to` is the name of the party that our own report went to.
    """

    asked: Step | None
    waived: Step | None
    made: Step | None
    own: Step | None
    own_to: str = ""

    def files(self, there: Collection[str]) -> tuple[str, ...]:
        """Give the reports that the notices carry and that are in the folder."""
        steps = (self.made, self.own)
        named = (step.notice.file for step in steps if step and step.notice.file)
        return tuple(dict.fromkeys(file for file in named if file in there))

    def sources(self) -> tuple[Source, ...]:
        """Give the records that what is said rests on."""
        steps = (self.waived, self.made, self.own)
        told = tuple(step.source for step in steps if step)
        return told or ((self.asked.source,) if self.asked else ())

    def why_own(self) -> str:
        """Say why there is no report by the carrier: it waived; empty where it did not."""
        if self.waived is None:
            return ""
        spoken = is_spoken(self.waived.notice)
        how = f" ({self.waived.notice.how})" if spoken and self.waived.notice.how else ""
        return f"the carrier waived its inspection{_on(self.waived)}{how}"

    def told(self, there: Collection[str]) -> str:
        """Say how the inspection stands, in the words of a letter; empty where nothing is known."""
        parts = [self.why_own()]
        if self.own:
            inside = self.own.notice.file in there
            went = _on(self.own, "of")
            parts.append(
                f"our own inspection report{went} stands in"
                if inside
                else f"our own inspection report{went} was sent to {self.own_to}"
            )
        if self.made and self.made.notice.file not in there:
            parts.append(f"the carrier inspected{_on(self.made)}; we have no report of it")
        if self.asked and not any((self.waived, self.made, self.own)):
            parts.append(f"the carrier was asked to inspect{_on(self.asked)}; no report has come")
        return "; ".join(part for part in parts if part)


def _on(step: Step, word: str = "on") -> str:
    return f" {word} {written(step.day)}" if step.day else ""


def inspected(case: Case, shipment: Shipment) -> Inspected:
    """Gather what the notices of a shipment say of its inspection, up to the legal day."""
    job = case.facts.job
    life = life_of(case, shipment)
    waived = made = own = None
    for step in life.steps:
        theirs = job is not None and acts_for_carrier(job, shipment, step.notice)
        about = step.notice.about
        if about is About.INSPECTION_WAIVED and theirs:
            waived = step
        elif about is About.INSPECTION_MADE and theirs:
            made = step
        elif about in (About.OWN_INSPECTION, About.INSPECTION_MADE) and not theirs:
            own = step
    asked = life.asked if life.asked and life.asked.day else None
    own_to = name_of(job, own.notice.to) if job and own else ""
    return Inspected(asked, waived, made, own, own_to)
