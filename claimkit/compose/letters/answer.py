"""The answer to a letter that declines a claim or a part of it: reason by reason, from the record.

A reason for which no fact is on record leaves a marked blank: an answer that says nothing would be
taken for none.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from claimkit.compose.letters.carrier import SUPPLY
from claimkit.compose.letters.claimed import open_on, say_notice
from claimkit.compose.letters.parts import (
    Draft,
    curb_counts,
    evidence,
    kept_packing,
    listed,
    open_damages,
    papers,
    part,
    photos_of,
    receipt_words,
    text,
    unpacked,
)
from claimkit.compose.phrases import day
from claimkit.compose.terminal.desk import Desk, cited, plain
from claimkit.findings.claim.inspection_report import inspected
from claimkit.findings.limits.events import acts_for_carrier, local_day, source_of
from claimkit.findings.limits.life import Step, life_of
from claimkit.model.case import Reader
from claimkit.model.document import Block, Statement
from claimkit.model.job import Terms
from claimkit.model.limit import LimitState, TimeLimit
from claimkit.model.records import About
from claimkit.model.source import Source
from claimkit.rules import carriage
from claimkit.rules.decline_reasons import Reason, reasons_in
from claimkit.rules.governing import law_of
from claimkit.rules.marks import marked

NO_WAIVER = (
    "Home Furniture v. Red Ball Motor Freight, 343 So.2d 319 (La. App. 1977) (read): a clear "
    "receipt is evidence and no waiver"
)
BURDEN = "NMFC item 300135-A, effective 2015-04-18 (wording read): after the days, evidence is due"
DISALLOWANCE = "49 USC 14706(e)(2) (wording read)"


def answer(desk: Desk) -> Draft:
    """Answer the carrier's latest letter that declines the claim or offers less."""
    step = _their_letter(desk)
    blocks: list[Block] = []
    if step is None:
        desk.lacking.append(
            "No letter of the carrier that declines the claim is on record: add it with "
            "claimkit notice."
        )
    else:
        blocks.append(text(*_their_words(desk, step)))
    reasons = reasons_in(step.notice.text or "") if step else ()
    answers: list[Statement] = []
    for reason in reasons:
        said = _ANSWERS[reason](desk)
        first = replace(said[0], text=f"You say: {reason.value}. {said[0].text}")
        answers += [first, *said[1:]]
    if step and not reasons:
        answers.append(_no_reason(desk, step))
    asks = [
        plain(
            "Please look at the claim again and pay it, or answer each of these points in writing."
            if reasons
            else "Please look at the claim again and pay it, or tell us in writing which part you "
            "disallow and for which reasons.",
            *((Source(citation=DISALLOWANCE),) if _us(desk) and not reasons else ()),
        ),
        plain(
            "Until then the claim stands as it was made; nothing in this letter gives up a part."
        ),
    ]
    sheet = papers(desk) if Reason.DOCUMENTS in reasons else None
    return Draft(
        desk.carrier(),
        "carrier",
        plain("Answer to your letter on our claim"),
        (
            part("letter", *blocks),
            part("answers", listed(answers), *([sheet] if sheet else []), title="Your reasons"),
            part("evidence", *evidence(desk), title="What is on record"),
            part("asked", text(*asks)),
        ),
        photos=photos_of(desk, open_damages(desk)),
        packet=Reader.CARRIER,
        sign=("Signature",),
    )


def _us(desk: Desk) -> bool:
    return desk.shipment.terms is Terms.US_INTERSTATE_MOTOR


def _their_letter(desk: Desk) -> Step | None:
    steps = life_of(desk.case, desk.shipment).steps
    return next(
        (
            s
            for s in reversed(steps)
            if acts_for_carrier(desk.job, desk.shipment, s.notice)
            and (
                s.notice.about in (About.DISALLOWANCE, About.OFFER) or s.notice.states_disallowance
            )
        ),
        None,
    )


def _their_words(desk: Desk, step: Step) -> list[Statement]:
    notice = step.notice
    key = "sent" if notice.sent else "received"
    moment = notice.sent or notice.received
    when = f" of {day(local_day(desk.case, moment))}" if moment else ""
    number = f", your number {notice.reference}," if notice.reference else ""
    said = [say_notice(f"We have your letter{when}{number} on our claim.", step, key)]
    if notice.text:
        quoted = f"It says: “{' '.join(notice.text.split())}”"
        said.append(Statement(quoted, (source_of(step.record, "text"),)))
    if notice.about is About.OFFER and notice.amount:
        offered = f"It offers {notice.amount}."
        said.append(Statement(offered, (source_of(step.record, "amount"),)))
    return said + open_on(desk, life_of(desk.case, desk.shipment))


def _no_reason(desk: Desk, step: Step) -> Statement:
    if step.notice.gives_reasons:
        enter = "Enter the letter's reasons in its notice record (text), or answer them by hand."
        if step.notice.text:
            enter = (
                "None of the reasons that claimkit answers was recognised in the letter's words "
                "(text): answer them by hand."
            )
        blank = desk.blank("answer to the reasons given", enter)
        return plain(f"To your reasons: {blank}.", source_of(step.record, "gives_reasons"))
    sources = (Source(citation=DISALLOWANCE),) if _us(desk) else ()
    return plain("Your letter gives no reason that we could answer. Please give it.", *sources)


def _met(desk: Desk, word: str) -> TimeLimit | None:
    return next(
        (
            t
            for t in desk.case.limits
            if t.shipment == desk.shipment.id
            and word in t.clause.met_by
            and t.state is LimitState.MET
            and t.met_on
        ),
        None,
    )


def _in_time(desk: Desk, word: str, what: str) -> list[Statement]:
    limit = _met(desk, word)
    if limit is None or limit.nominal is None:
        return []
    return [
        cited(
            f"You received {what} on {day(limit.met_on)}. The period ended on "
            f"{day(limit.nominal)}.",
            marked(limit.clause.citation, limit.clause.mark),
            *limit.sources,
        )
    ]


def _clear_receipt(desk: Desk) -> list[Statement]:
    found = [*receipt_words(desk), *curb_counts(desk)]
    found += _in_time(desk, carriage.REPORT, "our report of what was concealed")
    words = "A receipt without a remark is evidence of what could be seen, and no waiver."
    law = cited(words, NO_WAIVER) if desk.job.site.country == "US" else plain(words)
    return [*found, law]


def _not_reported(desk: Desk) -> list[Statement]:
    in_time = _in_time(desk, carriage.REPORT, "our report")
    if in_time:
        return in_time
    found = [*unpacked(desk), kept_packing(desk)]
    if not desk.shipment.classification_applies:
        return [
            plain("That the damage did not happen after the delivery is shown by this:"),
            *found,
        ]
    burden = cited(
        "A later report does not bar the claim; it asks for reasonable evidence that the damage "
        "did not happen after the delivery. It is this:",
        BURDEN,
    )
    return [burden, *found]


def _no_inspection(desk: Desk) -> list[Statement]:
    step = life_of(desk.case, desk.shipment).asked
    found = []
    if step and step.notice.received:
        asked = day(local_day(desk.case, step.notice.received))
        found.append(say_notice(f"You had our request to inspect on {asked}.", step, "received"))
    told = inspected(desk.case, desk.shipment)
    if told.waived or told.own:
        there = {p.path for p in desk.case.facts.papers}
        there |= {place for p in desk.case.facts.photos for place in p.places}
        text_ = told.told(there)
        found.append(Statement(f"{text_[0].upper()}{text_[1:]}.", told.sources()))
    elif not found:
        enter = "Record the request for an inspection, with the day on which they received it."
        found.append(plain(f"Our request to inspect: {desk.blank('day and proof', enter)}."))
    return [*found, kept_packing(desk)]


def _not_in_time(desk: Desk) -> list[Statement]:
    found = _in_time(desk, carriage.CLAIM, "our claim")
    if found:
        return found
    enter = "Record the day on which the carrier received the claim, with the proof of it."
    return [plain(f"You received our claim on {desk.blank('day and proof', enter)}.")]


def _documents(desk: Desk) -> list[Statement]:
    del desk
    return [plain("The supporting papers are these; a paper that cannot be had is explained.")]


def _packaging(desk: Desk) -> list[Statement]:
    evidence_ = desk.shipment.packing_evidence
    if evidence_:
        text_ = f"How the goods were packed is shown by {evidence_}."
        return [Statement(text_, (desk.key("packing_evidence"),))]
    enter = (
        "Ask the seller for evidence of the packing: claimkit letter JOB --about packing-evidence."
    )
    blank = desk.blank("what shows how the goods were packed", enter)
    return [plain(f"The goods were packed as shown by {blank}.")]


def _limited(desk: Desk) -> list[Statement]:
    us, law = _us(desk), law_of(desk.shipment)
    return [
        plain(
            f"The claim is for {law.loss}. If you rely on a limit, please send us {law.limit}, "
            "as in force on the day of the bill.",
            *((Source(citation=SUPPLY),) if us else ()),
            Source(citation=law.loss_text),
        )
    ]


_ANSWERS: dict[Reason, Callable[[Desk], list[Statement]]] = {
    Reason.CLEAR_RECEIPT: _clear_receipt,
    Reason.NOT_REPORTED: _not_reported,
    Reason.NO_INSPECTION: _no_inspection,
    Reason.NOT_IN_TIME: _not_in_time,
    Reason.DOCUMENTS: _documents,
    Reason.PACKAGING: _packaging,
    Reason.LIMIT: _limited,
}
