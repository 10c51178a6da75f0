"""Letters to the carrier: the report, the claim, reminders, an answer, and what it is asked for."""

from __future__ import annotations

from claimkit.compose.letters.claimed import claim_had, open_on
from claimkit.compose.letters.parts import (
    Draft,
    damage_table,
    kept_packing,
    listed,
    open_damages,
    part,
    photos_of,
    receipt_words,
    refused,
    short_table,
    shortages,
    text,
    unpacked,
)
from claimkit.compose.letters.reports import earlier_reports
from claimkit.compose.phrases import day, method
from claimkit.compose.terminal.desk import Desk, cited, plain
from claimkit.findings.claim.worksheet import of_shipment, whole_total
from claimkit.findings.limits.events import local_day
from claimkit.findings.limits.life import life_of
from claimkit.model.document import Statement
from claimkit.model.job import Terms
from claimkit.model.limit import LimitState, TimeLimit, Whose
from claimkit.model.records import About
from claimkit.model.source import Source
from claimkit.rules.governing import law_of
from claimkit.rules.marks import marked

CONCEALED_RULE = "NMFC item 300135-A, effective 2015-04-18 (wording read)"
OWN_REPORT = "NMFC items 300140 and 300145 (from memory)"
SUPPLY = "49 USC 14706(c)(1)(B) (wording read): the carrier supplies its rules on request"
ACKNOWLEDGE = "49 CFR 370.5 (summary read)"
DISPOSE = "49 CFR 370.9 (summary read)"
CANADA_NOTICE = (
    "Uniform Conditions of Carriage, notice of claim (terms of the bill read): origin, "
    "destination, date of shipment, estimated amount"
)
SALVAGE = "49 CFR 370.11 (wording read)"
LETTERS = method("letters")
# How the carrier's own duties are called in a letter to it.
DUTIES = {
    "us-motor-acknowledge": "Your acknowledgement of the claim",
    "us-motor-dispose": "Your payment, your refusal or your firm offer",
    "us-motor-status": "Your written status of the claim",
}
AWAITED = (
    "Please send them by return. Until we have seen them, we do not accept that a limitation "
    "applies, nor that the receipt was signed without a remark."
)


def needs_carrier(desk: Desk) -> None:
    """Keep a letter back whose addressee is no carrier of the shipment."""
    party = desk.carrier()
    if not desk.is_carrier(party):
        desk.lacking.append(
            "The addressee is no carrier of this shipment: a broker is none. Enter the carrier "
            "whose truck came."
        )


def us_motor(desk: Desk) -> bool:
    """Tell whether the law of interstate carriage by truck in the United States governs."""
    return desk.shipment.terms is Terms.US_INTERSTATE_MOTOR


def _delivery_day(desk: Desk) -> Statement:
    found = desk.delivered()
    if found:
        return Statement(f"You delivered this shipment on {found.text}.", found.sources)
    blank = desk.blank("day of delivery", "Write a delivery record with signed_at.")
    return plain(f"You delivered this shipment on {blank}.")


def concealed(desk: Desk) -> Draft:
    """Report concealed damage and ask for an inspection. It is no claim, and says so."""
    needs_carrier(desk)
    damages = open_damages(desk, hidden_only=True)
    short = shortages(desk, hidden_only=True)
    if not damages and not short:
        desk.lacking.append(
            "Nothing is on record that came to light after the delivery. Write a damage record "
            "with found_at, or the counts of the unpacking."
        )
    blocks = [b for b in (damage_table(desk, damages), short_table(short, desk)) if b]
    sent_back = refused(desk)
    apart = [plain("What was refused is no part of this report.")] if sent_back else []
    opening = text(_delivery_day(desk), *sent_back, *apart, *unpacked(desk))
    earlier = earlier_reports(desk)
    had = "What you had from us before, oldest first; this report repeats and completes it:"
    before = (text(plain(had)), listed(earlier)) if earlier else ()
    light = text(plain("The following damage or loss came to light after the delivery:"))
    cite = CONCEALED_RULE if desk.shipment.classification_applies else ""
    ask = [
        "We ask you to inspect the goods and their packing. Please name the day and the hour, or "
        "tell us in writing that you do not inspect.",
        "If you do not inspect, our own written inspection report will stand in its place.",
    ]
    sources = (Source(citation=cite),) if cite else ()
    asked = [
        *_late(desk),
        plain(ask[0], *sources),
        plain(ask[1], *((Source(citation=OWN_REPORT),) if cite else ())),
        kept_packing(desk),
        plain(
            "They stay as they were when the damage was found, until you have inspected or have "
            "told us that you do not.",
            *sources,
        ),
        *_estimate(desk),
        plain(_claim_apart(desk)),
    ]
    return Draft(
        desk.carrier(),
        "carrier",
        plain("Report of concealed damage or loss, and request for inspection"),
        (
            part("found", opening, *before, light, *blocks),
            part("receipt", text(*receipt_words(desk)), title="What the receipt states")
            if receipt_words(desk)
            else part("receipt"),
            part("asked", text(*asked), title="Inspection"),
        ),
        photos=photos_of(desk, damages),
        sign=("Signature", "Name and position"),
    )


def _estimate(desk: Desk) -> list[Statement]:
    """Give the estimated amount where the terms want one in the notice (Canada)."""
    if desk.shipment.terms is not Terms.CANADA:
        return []
    lines = of_shipment(desk.case, desk.shipment.id)
    whole = whole_total(desk.case, desk.shipment.id)
    amount = str(whole) if whole else desk.blank("estimate", "Enter the purchase invoice prices.")
    sources = tuple(dict.fromkeys(s for x in lines for s in x.sources))
    return [cited(f"We estimate the amount at {amount}.", CANADA_NOTICE, *sources)]


def _claim_apart(desk: Desk) -> str:
    """Say that a report is no claim, and where the claim stands."""
    life = life_of(desk.case, desk.shipment)
    if any(s.notice.about is About.CLAIM for s in life.steps):
        return "This is a report and a request; our claim is a letter of its own."
    return "This is a report and a request. Our claim, with its amount, follows separately."


def _late(desk: Desk) -> list[Statement]:
    """Where the days to report have passed unmet, offer what shows that it was there before."""
    limit = _limit(desk, "us-motor-concealed-report")
    if limit is None or limit.nominal is None or limit.state is not LimitState.PASSED:
        return []
    burden = cited(
        f"The days to report ended on {day(limit.nominal)}. That the damage did not happen after "
        "the delivery is shown by the state of the packing, which is kept, and by the photos sent "
        "with this report, as dated in the list of sources.",
        CONCEALED_RULE,
        *limit.sources,
    )
    if not photos_of(desk, open_damages(desk, hidden_only=True)):
        desk.lacking.append(
            "The days to report have passed, and no photo of the damage is named: add it to the "
            "damage record."
        )
    return [burden]


def acknowledgement(desk: Desk) -> Draft:
    """Ask the carrier to acknowledge the claim and to give its number."""
    needs_carrier(desk)
    life = life_of(desk.case, desk.shipment)
    said = claim_had(desk, life)
    there = life.last(About.ACKNOWLEDGEMENT)
    if there and life.claim_number:
        desk.lacking.append("The carrier has acknowledged the claim; there is nothing to ask.")
    later = life.last(About.DISALLOWANCE, About.OFFER, About.PAYMENT)
    if later:
        desk.lacking.append(
            f"The carrier has answered the claim since ({later.record.path}); an acknowledgement "
            "is no longer the point."
        )
    due = _limit(desk, "us-motor-acknowledge")
    asks = []
    if due and due.nominal:
        late = desk.case.as_of > due.nominal
        text_ = f"An acknowledgement {'was' if late else 'is'} due by {day(due.nominal)}."
        asks.append(cited(text_, ACKNOWLEDGE, *due.sources))
    if not there:
        asks.append(plain("As of today none has reached us."))
    asks.append(plain("Please acknowledge the claim in writing and give us your claim number."))
    return Draft(
        desk.carrier(),
        "carrier",
        plain("Our claim: request for acknowledgement"),
        (part("asked", text(*said, *asks)),),
        sign=("Signature",),
    )


def _limit(desk: Desk, clause: str) -> TimeLimit | None:
    return next(
        (
            t
            for t in desk.case.limits
            if t.clause.id == clause and t.shipment == desk.shipment.id and t.nominal
        ),
        None,
    )


def follow_up(desk: Desk) -> Draft:
    """Write after a date of the carrier's has passed unmet."""
    needs_carrier(desk)
    life = life_of(desk.case, desk.shipment)
    said = [*claim_had(desk, life), *open_on(desk, life)]
    late = [
        t
        for t in desk.case.limits
        if t.shipment == desk.shipment.id
        and t.clause.whose is Whose.CARRIERS
        and t.state is LimitState.PASSED
    ]
    if not late:
        desk.lacking.append("No date of the carrier's has passed unmet; there is nothing to chase.")
    rows = [
        cited(
            f"{DUTIES.get(t.clause.id, t.clause.title)}: due by {day(t.nominal)}. None has "
            "reached us.",
            marked(t.clause.citation, t.clause.mark),
            *t.sources,
        )
        for t in late
    ]
    asks = [
        plain(
            "Please pay the claim, decline it in writing with your reasons, or make a firm offer.",
            *((Source(citation=DISPOSE),) if us_motor(desk) else ()),
        ),
        plain("If you cannot yet, tell us in writing how the claim stands and why it is delayed."),
    ]
    return Draft(
        desk.carrier(),
        "carrier",
        plain("Our claim: a date that has passed"),
        (part("late", text(*said), listed(rows)), part("asked", text(*asks))),
        sign=("Signature",),
    )


def tariff(desk: Desk) -> Draft:
    """Ask for the tariff, the limitation relied on and the proof of delivery."""
    needs_carrier(desk)
    law = law_of(desk.shipment)
    what = "tariff" if us_motor(desk) else "terms of carriage"
    bill = desk.shipment.bill_date
    dated = f" on {local_day(desk.case, bill)}" if bill else ""
    us = (Source(citation=SUPPLY),) if us_motor(desk) else ()
    asks = [
        plain(f"{law.rates}{dated}", *us),
        plain(
            f"every limitation of liability that you rely on: {law.limit}",
            *us,
        ),
        plain("both sides of the bill of lading as your driver signed it at origin"),
        plain(
            "the proof of delivery with everything written or typed on it, the name and the time, "
            "and any photos that your driver took"
        ),
        plain("the receipts between the carriers that handled it, and any inspection report"),
    ]
    return Draft(
        desk.carrier(),
        "carrier",
        plain(f"Request for {what}, limitation of liability and proof of delivery"),
        (
            part(
                "asked", text(plain("For the shipment named above, please send us:")), listed(asks)
            ),
            part("why", text(plain(AWAITED))),
        ),
        sign=("Signature",),
    )
