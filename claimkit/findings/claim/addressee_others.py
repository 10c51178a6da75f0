"""Whether the seller, the maker or the insurer is to be asked.

The seller answers for goods that are not those ordered, for its own truck, and where its terms say
that it files the claim. The maker answers for flaws of the making and for pieces that do not fit
each other on open floor, level. An insurer is asked where its policy is entered for the shipment.
"""

from __future__ import annotations

from claimkit.findings.claim.addressee_carriers import (
    CURB,
    WAS_REFUSED,
    anything_refused,
    called_sound,
    stating,
)
from claimkit.findings.claim.elements import FOUND, dated_photos
from claimkit.findings.delivery.received import SIZE
from claimkit.findings.limits.conditions import short_at_curb
from claimkit.findings.limits.events import (
    deliveries,
    name_of,
    source_in_job,
    source_of,
)
from claimkit.findings.matters import (
    DAMAGE,
    GAP,
    NOT_DELIVERED,
    SHORTAGE,
    WRONG_PART,
    Matter,
    Weighing,
)
from claimkit.findings.wording import counted
from claimkit.model.case import Asked, Candidate, Case
from claimkit.model.gap import Fit, GapReading
from claimkit.model.job import Job, Role, Shipment, Terms
from claimkit.model.records import Damage, FoundAt, Wrap
from claimkit.model.source import Source
from claimkit.model.stages import Stage
from claimkit.rules.addressees import flaw_of_the_making

EARLY = (FoundAt.CURB, FoundAt.UNPACKING, FoundAt.DRY_FIT)
RISK = (
    "Until when the risk was the seller's, and who files the claim: the terms of sale "
    "(sale.risk_passes, sale.claim_filed_by)."
)
PACKED_WELL = "Whether the packing was enough: how it was packed, and the maker's packing rules."
DRY_FIT = "A gap reading at the dry fit, on open floor, set level."


def candidate(who: Asked, party: str | None, weighed: Weighing) -> Candidate:
    """Give one who may be asked, as far as it was weighed."""
    return Candidate(who, party, weighed.answer(), weighed.because(), weighed.settle())


def _parties(job: Job, role: Role, shipper: str | None) -> list[str | None]:
    """Give the parties of a role; the shipper alone where it is one; [None] where none is."""
    found = [p.id for p in job.party if role in p.roles]
    if shipper in found:
        return [shipper]
    return [*found] or [None]


def _none_entered(party: str | None, who: str, weighed: Weighing) -> None:
    if party is None:
        weighed.wanted.append(f"Who the {who} is: enter the party in job.toml.")


def seller(case: Case, job: Job, matter: Matter) -> tuple[Candidate, ...]:
    """Weigh whether the seller is to be asked."""
    found = []
    shipper = matter.shipment.shipper if matter.shipment else None
    for party in _parties(job, Role.SELLER, shipper):
        weighed = _SELLER[matter.kind](case, job, matter)
        _none_entered(party, "seller", weighed)
        _files_the_claim(case, job, matter, party, weighed)
        found.append(candidate(Asked.SELLER, party, weighed))
    return tuple(found)


def _files_the_claim(
    case: Case, job: Job, matter: Matter, party: str | None, weighed: Weighing
) -> None:
    """Where the terms of sale say that the seller files the claim, it is asked for carriage."""
    named = job.sale.claim_filed_by if job.sale else None
    if party and named == party and matter.kind in (DAMAGE, SHORTAGE, NOT_DELIVERED):
        source = Source("job.toml", case.facts.job_sha256, "sale.claim_filed_by")
        text = "By the terms of sale the seller files the claim with the carrier."
        weighed.says_so.append((text, (source,)))
        weighed.wanted.clear()


def _risk(job: Job) -> str:
    """Ask for what the terms of sale leave open: what is entered of them is said, not asked."""
    sale = job.sale
    if sale is None or not (sale.risk_passes or sale.claim_filed_by):
        return RISK
    told, open_ = [], []
    if sale.risk_passes:
        told.append(f"the risk passes “{sale.risk_passes}”")
        open_.append("whether it happened before the risk passed")
    else:
        open_.append("until when the risk was the seller's (sale.risk_passes)")
    if sale.claim_filed_by:
        told.append(f"{name_of(job, sale.claim_filed_by)} files the claim")
    else:
        open_.append("who files the claim (sale.claim_filed_by)")
    asked = " and ".join(open_)
    return f"{asked[0].upper()}{asked[1:]}. By the terms of sale {', and '.join(told)}."


def _seller_damage(case: Case, job: Job, matter: Matter) -> Weighing:
    found = Weighing.begun()
    shipment, damage = matter.shipment, matter.damage
    if shipment is None or damage is None:
        return found
    sound = called_sound(case, shipment, matter.item)
    if damage.found_at in (FoundAt.DRY_FIT, FoundAt.LATER) and sound:
        found.against.append(("It was good when it was unpacked.", sound))
        return found
    flaw = flaw_of_the_making(damage.what)
    if flaw and damage.found_at in EARLY:
        found.says_so.append((f"“{flaw}” is a flaw of the making, in goods sold.", matter.sources))
    elif shipment.clean_at_origin is False:
        source = source_in_job(case, shipment, "clean_at_origin")
        found.says_so.append(("The bill notes an exception when the goods left.", (source,)))
    elif shipment.terms is Terms.SELLERS_TRUCK:
        source = source_in_job(case, shipment, "terms")
        found.says_so.append(("The seller's own truck brought the goods.", (source,)))
        shown = damage.found_at is FoundAt.CURB and (
            dated_photos(case, damage) or stating(case, shipment, damage)
        )
        if not shown:
            found.wanted.append(CURB)
    else:
        found.wanted.append(_risk(job))
    return found


def _seller_short(case: Case, job: Job, matter: Matter) -> Weighing:
    found = Weighing.begun()
    if matter.shipment is None:
        return found
    if matter.item is None:
        found.wanted.append("Whether all was loaded: the seller's loading record and photos.")
        return found
    _packed_short(case, matter.shipment, found)
    del job
    return found


def _packed_short(case: Case, shipment: Shipment, found: Weighing) -> None:
    """Add whether packing that came whole and closed lacks the piece: it was packed short."""
    whole = [
        (record, body)
        for record, body in deliveries(case, shipment)
        if body.wrap is Wrap.INTACT
        and (body.units_received is not None or body.cartons_received is not None)
    ]
    if anything_refused(case, shipment):
        found.wanted.append(WAS_REFUSED)
    elif whole and not short_at_curb(case, shipment) and _counted_against(case, shipment):
        sources = tuple(source_of(record, "wrap") for record, _ in whole)
        text = f"{_came(case, shipment)}, wrap intact, and the piece was not in them."
        found.says_so.append((text, sources))
    else:
        found.wanted.append(
            "Whether all units and cartons came closed: the counts at the curb against the bill's, "
            "and the state of the wrap."
        )


def _came(case: Case, shipment: Shipment) -> str:
    """Say which counts at the curb are whole, and that cartons were not counted where not."""
    bodies = [body for _, body in deliveries(case, shipment)]
    units = [b.units_received for b in bodies]
    cartons = [b.cartons_received for b in bodies]
    counts = (
        (units, shipment.handling_units or any(b.units_expected for b in bodies), "handling unit"),
        (cartons, shipment.cartons or any(b.cartons_expected for b in bodies), "carton"),
    )
    whole = [
        counted(sum(n for n in numbers if n), word)
        for numbers, due, word in counts
        if due and numbers and None not in numbers
    ]
    text = f"By the count at the curb {' and '.join(whole)} came, none short"
    return text if not shipment.cartons or None not in cartons else f"{text}, cartons not counted"


def _counted_against(case: Case, shipment: Shipment) -> bool:
    """Tell whether a count at the curb has a number on the bill or receipt beside it."""
    return any(
        (b.units_received is not None and (b.units_expected or shipment.handling_units))
        or (b.cartons_received is not None and (b.cartons_expected or shipment.cartons))
        for _, b in deliveries(case, shipment)
    )


def _seller_undelivered(case: Case, job: Job, matter: Matter) -> Weighing:
    found = Weighing.begun()
    found.wanted.append(_risk(job))
    del case, matter
    return found


def _seller_wrong(case: Case, job: Job, matter: Matter) -> Weighing:
    found = Weighing.begun()
    found.says_so.append((f"Not what was ordered: {matter.about}.", matter.sources))
    del case, job
    return found


def _pieces_do_not_fit(case: Case, job: Job, matter: Matter) -> Weighing:
    """Weigh the dry fit: outside design on open floor and level, the pieces themselves differ."""
    found = Weighing.begun()
    gap = matter.gap
    before = gap.before if gap else None
    if gap is None or before is None or before.stage is not Stage.DRY_FIT:
        found.wanted.append(DRY_FIT)
        return found
    if gap.at_dry_fit.fit is Fit.WITHIN:
        found.against.append(("At the dry fit the gap was within design.", (before.source,)))
        return found
    if gap.at_dry_fit.fit is Fit.CANNOT_TELL:
        found.wanted.append(gap.at_dry_fit.settle or DRY_FIT)
        return found
    found.says_so.append((f"Outside design at the dry fit: {matter.where}.", (before.source,)))
    for state, wanted in (
        ("open floor", "A dry fit on open floor, so that the opening cannot be the reason."),
        ("level", "Whether the pieces stood on a level base at the dry fit."),
    ):
        if not _stood(before, state):
            found.wanted.append(wanted)
    del case, job
    return found


def _stood(reading: GapReading, word: str) -> bool:
    return any(word in text and "not " not in text for text in reading.state)


_SELLER = {
    DAMAGE: _seller_damage,
    SHORTAGE: _seller_short,
    NOT_DELIVERED: _seller_undelivered,
    WRONG_PART: _seller_wrong,
    GAP: _pieces_do_not_fit,
}


def maker(case: Case, job: Job, matter: Matter) -> tuple[Candidate, ...]:
    """Weigh whether the maker is to be asked; not for goods that never came."""
    if matter.kind == NOT_DELIVERED:
        return ()
    shipper = matter.shipment.shipper if matter.shipment else None
    found = []
    for party in _parties(job, Role.MAKER, shipper):
        weighed = _maker(case, job, matter, party)
        _none_entered(party, "maker", weighed)
        found.append(candidate(Asked.MAKER, party, weighed))
    return tuple(found)


def _maker(case: Case, job: Job, matter: Matter, party: str | None) -> Weighing:
    if matter.kind == GAP:
        return _pieces_do_not_fit(case, job, matter)
    found = Weighing.begun()
    shipment = matter.shipment
    if matter.kind == DAMAGE and matter.damage and shipment:
        _flaw(case, shipment, matter, matter.damage, found)
    elif matter.kind == SHORTAGE and matter.item and shipment and party == shipment.shipper:
        _packed_short(case, shipment, found)
    elif matter.kind == WRONG_PART and matter.short and matter.short.what == SIZE:
        found.wanted.append(
            "The number on the piece: with the ordered number it was made to another size, with "
            "another number the wrong one was sent."
        )
    else:
        found.wanted.append("Who packed and sent it: the maker, or the seller from its stock.")
    return found


def _flaw(case: Case, shipment: Shipment, matter: Matter, damage: Damage, found: Weighing) -> None:
    flaw = flaw_of_the_making(damage.what)
    sound = called_sound(case, shipment, matter.item)
    if not flaw:
        found.wanted.append(PACKED_WELL)
    elif damage.found_at in EARLY:
        text = f"“{flaw}” is a flaw of the making, {FOUND[damage.found_at]}."
        found.says_so.append((text, matter.sources))
    else:
        found.wanted.append("Whether it was there when the piece was unpacked.")
        if sound:
            found.against.append(("It was good when it was unpacked.", sound))


def insurer(case: Case, job: Job, matter: Matter) -> tuple[Candidate, ...]:
    """Weigh whether an insurer is to be asked: a policy that names the shipment or all of them."""
    shipment = matter.shipment.id if matter.shipment else None
    found: list[Candidate] = []
    covered = set()
    for number, policy in enumerate(job.policy, 1):
        if policy.shipment not in (None, shipment):
            continue
        weighed = Weighing.begun()
        name = f"policy {policy.number}" if policy.number else "a policy"
        source = Source("job.toml", case.facts.job_sha256, f"policy[{number}].insurer")
        if matter.kind in (WRONG_PART, GAP):
            weighed.wanted.append(f"Whether {name} covers this: read its terms.")
        else:
            text = f"{name[0].upper()}{name[1:]} is entered for it; give notice as it asks."
            weighed.says_so.append((text, (source,)))
        covered.add(policy.insurer)
        found.append(candidate(Asked.INSURER, policy.insurer, weighed))
    for party in job.party:
        if Role.INSURER in party.roles and party.id not in covered:
            weighed = Weighing.begun()
            weighed.wanted.append(f"Which policy of {party.name} covers this shipment: [[policy]].")
            found.append(candidate(Asked.INSURER, party.id, weighed))
    return tuple(found)
