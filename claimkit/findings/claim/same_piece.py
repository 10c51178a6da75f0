"""Pieces that are damaged and missing at once: refused at the curb, they are one loss each.

A piece that the driver took back is on record twice, as damage seen at the curb and as a count
that is short at the unpacking. Where the record tells that it is the same piece it is counted
once; where it could be and the record does not tell, it is counted once and asked about.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from claimkit.findings.claim.costs import repairs
from claimkit.findings.claim.worksheet import open_damages
from claimkit.findings.limits.events import deliveries, source_of
from claimkit.findings.receipt.refusal import stated
from claimkit.findings.timeline.likeness import same_condition
from claimkit.model.answers import Answer
from claimkit.model.case import Case, Difference
from claimkit.model.job import Item, Job, Shipment
from claimkit.model.records import Damage, FoundAt, Record, Unpacking
from claimkit.model.source import Source

_LONG_ENOUGH = 3  # letters of a word that may name an item


@dataclass(frozen=True, slots=True)
class SamePiece:
    """How many pieces of one item are damaged and short at once, by the record or perhaps.

    `told` are those that the record tells, `perhaps` those of which it does not tell. `question`
    asks about the latter and is empty without them.
    """

    told: int = 0
    perhaps: int = 0
    question: str = ""
    sources: tuple[Source, ...] = ()

    @property
    def once(self) -> int:
        """Give the pieces that are counted once and not twice."""
        return self.told + self.perhaps


def refusals(case: Case, shipment: Shipment) -> tuple[tuple[str, Source], ...]:
    """Give what was refused at the curb, in the words of the delivery records or the receipt."""
    found = []
    for record, body in deliveries(case, shipment):
        if body.refusal or stated(body.words):
            key = "refused" if body.refusal else "words"
            text = " ".join((body.refusal or body.words or "").split())
            found.append((text, source_of(record, key)))
    return tuple(found)


def same_pieces(
    case: Case, job: Job, item: Item, damages: list[tuple[Record, Damage]], short: int
) -> SamePiece:
    """Tell how many of an item's damaged pieces are among its missing ones.

    `damages` are those claimed as pieces, `short` the pieces found fewer than ordered.
    """
    shipment = job.shipment_named(item.shipment)
    if shipment is None or short <= 0 or not damages:
        return SamePiece()
    refused = refusals(case, shipment)
    good = _counted_good(case, item)
    curb = sum(d.quantity for _, d in damages if d.found_at is FoundAt.CURB)
    unpacked = sum(d.quantity for _, d in damages if d.found_at is FoundAt.UNPACKING)
    told = perhaps = 0
    at_curb = _at_curb(bool(refused), good, _names(job, item, refused), after=curb < _all(damages))
    if at_curb is Answer.YES:
        told = min(curb, short)
    elif at_curb is Answer.CANNOT_TELL:
        perhaps = min(curb, short)
    if good is Answer.YES:  # counted as good, and damaged at the unpacking: not told which it is
        perhaps += min(unpacked, short - told - perhaps)
    sources = tuple(source for _, source in refused)
    return SamePiece(told, perhaps, _question(item, perhaps) if perhaps else "", sources)


def claimed_whole(case: Case, item: str) -> list[tuple[Record, Damage]]:
    """Give an item's open damages that are claimed as pieces, not as a lump sum of a repair."""
    itemised = bool(repairs(case, item))
    return [(r, d) for r, d in open_damages(case, item) if itemised or not d.repair_cost]


def missing_beside(
    case: Case, shipment: Shipment, *, perhaps: bool = False
) -> tuple[Difference, ...]:
    """Give what is short of a shipment beside what was refused, each loss once.

    Items come before the cartons and the units that held them. A piece that is damaged and
    missing at once is left to the damages; with `perhaps`, one that may be as well, and every
    item that a refusal names without a damage record.
    """
    job = case.facts.job
    short = [d for d in case.differences if d.not_here and d.shipment == shipment.id]
    items: list[Difference] = []
    for found in short:
        item = job.item_named(found.item) if job else None
        if job is None or item is None:
            continue
        left = found.not_here - _refused_of(case, job, item, found.not_here, perhaps=perhaps)
        if left > 0:
            items.append(replace(found, short=left, refused=0))
    if items or refusals(case, shipment) or any(job and job.item_named(d.item) for d in short):
        return tuple(items)
    cartons = [d for d in short if d.what == "cartons"]
    return tuple(cartons or short)


def _refused_of(case: Case, job: Job, item: Item, short: int, *, perhaps: bool) -> int:
    """Count the missing pieces of an item that were refused; with `perhaps`, may have been."""
    damages = claimed_whole(case, item.id)
    same = same_pieces(case, job, item, damages, short)
    if not perhaps:
        return same.told
    shipment = job.shipment_named(item.shipment)
    at_curb = any(d.found_at is FoundAt.CURB for _, d in damages)
    named = shipment is not None and _names(job, item, refusals(case, shipment))
    return short if named and not at_curb else same.once


def _all(damages: list[tuple[Record, Damage]]) -> int:
    return sum(d.quantity for _, d in damages)


def _at_curb(refused: bool, good: Answer, named: bool, *, after: bool) -> Answer:
    """Tell whether pieces seen damaged at the curb are those that are missing.

    `good` says whether the pieces that were counted were all good, `named` whether the words of
    the refusal name the item, `after` whether later damage explains pieces counted as not good.
    """
    if not refused:
        return Answer.CANNOT_TELL if good is Answer.YES else Answer.NO
    if good is Answer.YES:
        return Answer.YES
    if named and (good is Answer.CANNOT_TELL or after):
        return Answer.YES
    return Answer.NO if good is Answer.NO and not named else Answer.CANNOT_TELL


def _counted_good(case: Case, item: Item) -> Answer:
    """Tell whether every piece of an item that was counted was good."""
    found = {
        same_condition(row.condition)
        for record in case.facts.in_force(Unpacking)
        if isinstance(record.body, Unpacking)
        for row in record.body.counted
        if row.item == item.id and row.quantity != 0
    }
    if Answer.NO in found:
        return Answer.NO
    return Answer.YES if found == {Answer.YES} else Answer.CANNOT_TELL


def _names(job: Job, item: Item, refused: tuple[tuple[str, Source], ...]) -> bool:
    """Tell whether a refusal names the item by a word of its own, or can mean no other."""
    home = job.shipment_named(item.shipment)
    others = [i for i in job.item if i != item and job.shipment_named(i.shipment) == home]
    if not others:
        return bool(refused)
    shared = {word for other in others for word in _words(f"{other.id} {other.description}")}
    own = _words(f"{item.id} {item.description}") - shared
    return any(own & _words(text) for text, _ in refused)


def _words(text: str) -> set[str]:
    found = re.findall(r"[^\W\d_]+", text.casefold())
    return {word.removesuffix("s") for word in found if len(word) >= _LONG_ENOUGH}


def _question(item: Item, perhaps: int) -> str:
    pieces = "piece" if perhaps == 1 else "pieces"
    which = "Is the damaged piece" if perhaps == 1 else "Are the damaged pieces"
    return (
        f"{item.description}: {perhaps} {pieces} can be damaged and missing at once, and the "
        f"record does not tell; {'it is' if perhaps == 1 else 'they are'} counted once. {which} "
        "among those counted at the unpacking, or among the missing? Correct the unpacking record "
        "(counted: quantity of all pieces found, condition of those that are damaged) or write in "
        "the delivery record what was refused."
    )
