"""Letters to insurer and customer, for packing evidence, and the certificate of non-receipt."""

from __future__ import annotations

from datetime import date

from claimkit.compose.blocks import row, say, table
from claimkit.compose.letters.claimed import claimed, payments
from claimkit.compose.letters.not_as_ordered import carrier_told, ordered
from claimkit.compose.letters.parts import (
    Draft,
    curb_counts,
    damage_table,
    kept_packing,
    listed,
    open_damages,
    part,
    photos_of,
    refused,
    short_table,
    shortages,
    text,
    wrong_parts,
)
from claimkit.compose.phrases import day, method
from claimkit.compose.terminal.desk import BLANK, Desk, cited, plain
from claimkit.findings.claim.same_piece import missing_beside
from claimkit.findings.claim.worksheet import not_whole, of_shipment, total
from claimkit.findings.limits.events import source_of
from claimkit.findings.matters import GAP
from claimkit.model.case import Reader
from claimkit.model.document import Block, Statement
from claimkit.model.job import Role
from claimkit.model.limit import LimitState, Whose
from claimkit.model.source import Source
from claimkit.rules import carriage
from claimkit.rules.marks import marked
from claimkit.rules.testimony import DECLARATION_WITHIN

BREACH = "UCC 2-607(3)(a) (wording read): notice of breach within a reasonable time"
# The form for signing within the United States; 1746(1), with its longer words, is for outside.
DECLARATION = marked(DECLARATION_WITHIN.citation, DECLARATION_WITHIN.mark)


def packing_evidence(desk: Desk) -> Draft:
    """Ask the seller for evidence of packing and of the condition at origin."""
    seller = desk.with_role(Role.SELLER, Role.SHIPPER, Role.MAKER)
    damages, short = open_damages(desk), shortages(desk)
    if not damages and not short:
        desk.lacking.append("Nothing is on record as damaged or short.")
    asks = [
        "photos of the packing and of the loaded truck, as the files that the camera made",
        "the packing list, with the weight of each package",
        "how this article is packed by your or the maker's rules",
        "what was checked before packing, when and by whom",
        "the bill of lading as signed by the driver at origin, both sides",
        "the purchase invoice and, where you paid the freight, the paid freight bill",
    ]
    due = _next_day(desk)
    why = plain(
        "We claim from the carrier, who will ask how the goods were packed and in which condition "
        "they left. Only you have that."
    )
    by = (
        say(f"Please send it so that we have it by {day(due[0])}.", *due[1])
        if due
        else plain("Please send it by return.")
    )
    blocks = [b for b in (damage_table(desk, damages), short_table(short, desk)) if b]
    return Draft(
        seller,
        "seller",
        plain("Request for evidence of packing and of the condition at origin"),
        (
            part("found", text(ordered(desk, desk.with_role(Role.SELLER))), *blocks),
            part("asked", text(why, plain("Please send us:")), listed(plain(a) for a in asks)),
            part("by", text(by)),
        ),
        photos=photos_of(desk, damages),
        sign=("Signature",),
        claim_number=False,
    )


def _next_day(desk: Desk) -> tuple[date, tuple[Source, ...]] | None:
    """Give the next day to act of our own for this shipment, with what says so."""
    open_ones = [
        (t.act_by, t)
        for t in desk.case.limits
        if t.shipment == desk.shipment.id
        and t.clause.whose is Whose.OURS
        and t.state is LimitState.RUNNING
        and t.act_by
        and set(t.clause.met_by) & {carriage.CLAIM, carriage.REPORT}
    ]
    if not open_ones:
        return None
    by, first = min(open_ones, key=lambda pair: pair[0])
    return by, (*first.sources, Source(citation=first.clause.citation))


def insurer(desk: Desk) -> Draft:
    """Give the insurer notice of the loss, and ask what it wants."""
    party = desk.with_role(Role.INSURER)
    number, policy = next(
        (
            (n, p)
            for n, p in enumerate(desk.job.policy, 1)
            if p.shipment in (None, desk.shipment.id)
        ),
        (0, None),
    )
    if policy:
        party = desk.job.party_named(policy.insurer) or party
    key = Source("job.toml", desk.case.facts.job_sha256, f"policy[{number}].number")
    named = (
        say(f"Policy or certificate: {policy.number}.", key)
        if policy and policy.number
        else plain(
            f"Policy or certificate: {desk.blank('number', 'Enter policy.number in job.toml.')}."
        )
    )
    damages, short = open_damages(desk), shortages(desk)
    if not (damages or short or curb_counts(desk)):
        desk.lacking.append("Nothing is on record as damaged, short or not delivered.")
    blocks = [b for b in (damage_table(desk, damages), short_table(short, desk)) if b]
    asks = [
        plain(
            "Please confirm that you have this notice, give us its number, and tell us whether "
            "you send a surveyor and which papers you want by when."
        ),
        plain("We give up no right against the carrier or anybody else, nor one of yours."),
        kept_packing(desk),
        *carrier_told(desk),
    ]
    return Draft(
        party,
        "insurer",
        plain("Notice of loss"),
        (
            part(
                "found",
                text(
                    named,
                    ordered(desk),
                    *curb_counts(desk),
                    *refused(desk),
                    *_loss(desk),
                    *payments(desk, claimed(desk), "The carrier has"),
                ),
                *blocks,
            ),
            part("asked", text(*asks)),
        ),
        photos=photos_of(desk, damages),
        packet=Reader.INSURER,
        sign=("Signature",),
        claim_number=False,
    )


def _loss(desk: Desk) -> list[Statement]:
    """State the loss as far as it is counted."""
    lines = [x for x in of_shipment(desk.case, desk.shipment.id) if x.claimed]
    whole = total(lines)
    if whole is None:
        return []
    sources = tuple(dict.fromkeys(s for x in lines for s in x.sources))
    why = not_whole(desk.case, desk.shipment.id)
    said = f"The loss, as far as it is counted: {whole}.{' ' * bool(why)}{why}"
    return [say(said, *sources, method("the amount"))]


def non_receipt(desk: Desk) -> Draft:
    """Make the certificate that what is short was not received; its search is for the signer."""
    short = list(missing_beside(desk.case, desk.shipment, perhaps=True))
    sent_back = refused(desk)
    counts = [] if short or sent_back else curb_counts(desk)
    goods = bool(short or counts)
    if not goods:
        desk.lacking.append(
            "What is missing was refused at the delivery: it came and was sent back, and a "
            "certificate of non-receipt is not for it."
            if sent_back
            else "Nothing is on record as short or not delivered."
        )
    desk.lacking.append(
        "Fill in by hand who looked for the goods, where, when and with what result; no record "
        "states it, and nobody signs what he did not do."
    )
    apart = []
    if sent_back and goods:
        desk.lacking.append(
            "Take out of the list whatever was refused at the delivery or lay in what was refused."
        )
    if sent_back:
        apart.append(
            plain(
                "This statement is not about goods that came and were refused.",
                *sent_back[0].sources,
            )
        )
    return Draft(
        desk.carrier(),
        "carrier",
        plain("Certificate of non-receipt"),
        (
            part(
                "found",
                text(
                    plain("Goods of the shipment named above that are on record as missing:")
                    if goods
                    else None,
                    *counts,
                ),
                *[b for b in (short_table(short, desk),) if b],
                text(*apart, *sent_back),
            ),
            part("declared", text(*_search(), _declared(desk))),
        ),
        sign=("Signature of the person who looked",),
    )


def _search() -> list[Statement]:
    """Leave blank what only the one who looked can state."""
    return [
        plain(f"Name, position and what I did at the delivery or the unpacking: {BLANK}{BLANK}."),
        plain(f"Where I looked for these goods, and on which days: {BLANK}{BLANK}."),
        plain(f"Whether any of them came in this delivery or later: {BLANK}{BLANK}."),
    ]


def _declared(desk: Desk) -> Statement:
    if desk.job.site.country == "US":
        return cited(
            "I declare under penalty of perjury that the foregoing is true and correct. "
            f"Executed on {BLANK}.",
            DECLARATION,
        )
    return plain(f"I state this to the best of my knowledge. Place and day: {BLANK}.")


def customer(desk: Desk) -> Draft:
    """Tell the customer what was found, and leave open who mends it by when. No price, no blame."""
    party = desk.with_role(Role.CUSTOMER)
    rows = []
    for record, d in open_damages(desk):
        item = desk.job.item_named(d.item)
        name = item.description if item else d.item
        what = ", ".join(w for w in (d.what, d.part, d.extent) if w)
        rows.append(_to_mend(f"{name}: {what}", (source_of(record, "what"),)))
    for found in (*shortages(desk), *wrong_parts(desk)):
        item = desk.job.item_named(found.item)
        name = item.description if item else found.item
        text_ = f"{name}: {found.what} {found.found}, ordered {found.ordered}"
        rows.append(_to_mend(text_, found.sources))
    rows += [
        _to_mend(a.about[0].upper() + a.about[1:], a.sources)
        for a in desk.case.addressees
        if a.kind == GAP and a.shipment in (None, desk.shipment.id)
    ]
    if not rows:
        desk.lacking.append("Nothing is on record that is still to be mended.")
    desk.lacking.append("Fill in who mends each thing by when; no record states it.")
    heads = ("What was found", "Who mends it", "By when")
    blocks: list[Block] = [table(heads, rows, (4, 2, 1.4))] if rows else []
    return Draft(
        party,
        "customer",
        plain("What was found with your goods, and what happens next"),
        (
            part("found", text(plain("This is what was found, and who sees to it by when:"))),
            part("table", *blocks),
            part("next", text(plain("We tell you as soon as a day changes."))),
        ),
        packet=Reader.CUSTOMER,
        sign=("Signature",),
        claim_number=False,
    )


def _to_mend(what: str, sources: tuple[Source, ...]) -> tuple[Statement, ...]:
    return row(what, BLANK, "________", sources=sources)
