"""Whether our own work is to be asked: damage after a sound unpacking, a gap that moved.

A photo of the unpacking rules our own hands out only where the goods had not stood with us before
it, and where no record of ours speaks of our own part.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from claimkit.findings.claim.addressee_carriers import UNPACKED, called_sound
from claimkit.findings.claim.addressee_others import DRY_FIT, candidate
from claimkit.findings.claim.elements import FOUND
from claimkit.findings.limits.calendar import written
from claimkit.findings.limits.conditions import unpackings_of
from claimkit.findings.limits.events import deliveries, local_day, stated_times
from claimkit.findings.matters import DAMAGE, GAP, Matter, Weighing
from claimkit.model.case import Asked, Candidate, Case
from claimkit.model.gap import Change, Fit
from claimkit.model.job import Job, Role, Shipment
from claimkit.model.records import Damage, FoundAt, Unpacking
from claimkit.model.source import Source
from claimkit.model.stages import Stage

# Words in which a record speaks of our own hands: "by our own cart", "I am not sure", "we dropped".
OURSELVES = re.compile(r"\b(?:I|we|us|our|ours|my|me|ourselves)\b")
HARDLY_MOVED = (
    "Finer readings: the gap was within design at the dry fit and is outside it now, and moved by "
    "no more than its tolerance."
)


def own_work(case: Case, job: Job, matter: Matter) -> tuple[Candidate, ...]:
    """Weigh our own work: for damage and gaps alone."""
    if matter.kind == DAMAGE and matter.damage and matter.shipment:
        weighed = _own_damage(case, matter.shipment, matter, matter.damage)
    elif matter.kind == GAP:
        weighed = _own_gap(matter)
    else:
        return ()
    us = next((p.id for p in job.party if Role.INSTALLER in p.roles or Role.OWNER in p.roles), None)
    return (candidate(Asked.OWN_WORK, us, weighed),)


def _own_damage(case: Case, shipment: Shipment, matter: Matter, damage: Damage) -> Weighing:
    found = Weighing.begun()
    if damage.found_at is FoundAt.CURB:
        found.against.append(("It was found at the curb, before our work.", matter.sources))
        return found
    if damage.found_at is FoundAt.UNPACKING:
        shown = _unpacking_photos(case, shipment, damage)
        if not shown:
            found.wanted.append("A photo of it that is dated at the unpacking.")
        found.wanted += _with_us(case, shipment, damage)
        found.wanted += _doubts(case, shipment, matter, damage)
        if shown and not found.wanted:
            text = "A photo dated at the unpacking shows it."
            found.against.append((text, shown))
        return found
    sound = called_sound(case, shipment, matter.item)
    if sound:
        text = f"It was good when it was unpacked; {FOUND[damage.found_at]}."
        found.says_so.append((text, (*sound, *matter.sources)))
    else:
        found.wanted.append(UNPACKED)
    return found


def _with_us(case: Case, shipment: Shipment, damage: Damage) -> Iterator[str]:
    """Ask what happened between a delivery and an unpacking on a later day: we had the goods."""
    came = [day for _, body in deliveries(case, shipment) for _, day in stated_times(case, body)]
    if damage.found:
        opened = [local_day(case, damage.found)]
    else:
        opened = [local_day(case, b.began) for _, b in unpackings_of(case, shipment) if b.began]
    if came and opened and max(came) < min(opened):
        yield (
            f"Where the goods stood, and whether they were moved or opened, between the delivery "
            f"on {written(max(came))} and the unpacking on {written(min(opened))}: a photo of the "
            "unpacking does not show that."
        )


def _doubts(case: Case, shipment: Shipment, matter: Matter, damage: Damage) -> Iterator[str]:
    """Give what our own records say of our own part, in their words: who wrote it may know."""
    said = [("the damage record", text) for text in (damage.what, damage.extent) if text]
    for record, body in unpackings_of(case, shipment):
        mine = [c for c in body.counted if matter.item and c.item == matter.item.id]
        said += [(record.path, c.condition) for c in mine if c.condition]
    for path, text in said:
        if OURSELVES.search(text):
            yield f"What is behind “{text}” ({path}): whoever wrote it may know."


def _unpacking_photos(case: Case, shipment: Shipment, damage: Damage) -> tuple[Source, ...]:
    """Give the photos of the damage that are dated in the unpacking or named in its record."""
    named = {
        path
        for _, body in unpackings_of(case, shipment)
        if isinstance(body, Unpacking)
        for path in body.photos
    }
    found = []
    for path in damage.photos:
        photo = case.facts.photo_at(path)
        dated = next((d for d in case.photos if photo and d.sha256 == photo.sha256), None)
        early = (Stage.ARRIVAL, Stage.CURB, Stage.UNPACKING)
        if dated and (dated.stage in early or (path in named and dated.stage is None)):
            found.append(Source(path=path, sha256=dated.sha256))
    return tuple(found)


def _own_gap(matter: Matter) -> Weighing:
    found = Weighing.begun()
    gap = matter.gap
    if gap is None or gap.before is None or gap.before.stage is not Stage.DRY_FIT:
        found.wanted.append(DRY_FIT)
    elif gap.at_dry_fit.fit is Fit.OUTSIDE:
        text = "It was outside design at the dry fit, before anything was fastened."
        found.against.append((text, (gap.before.source,)))
    elif gap.at_dry_fit.fit is Fit.CANNOT_TELL:
        found.wanted.append(gap.at_dry_fit.settle or DRY_FIT)
    elif gap.after is None:
        found.wanted.append("A reading after the fastening.")
    elif gap.change.change not in (Change.OPENED, Change.CLOSED):
        found.wanted.append(gap.change.settle or HARDLY_MOVED)
    elif gap.after.stage is Stage.COMPLAINT:
        found.wanted.append(
            "A reading at the handover: a change up to a complaint also holds settling and use."
        )
    else:
        text = f"Within design at the dry fit, {gap.change.change.value} by the {gap.after.stage}."
        found.says_so.append((text, (gap.before.source, gap.after.source)))
    return found
