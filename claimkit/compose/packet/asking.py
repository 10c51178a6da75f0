"""Whom to ask, in the owner's own packet and on the owner's own terminal, and nowhere else."""

from __future__ import annotations

from typing import Any

from claimkit.compose.blocks import say, table
from claimkit.compose.packet.view import View
from claimkit.compose.phrases import method
from claimkit.model.answers import Answer
from claimkit.model.case import Addressee, Candidate, Case
from claimkit.model.document import Block, Paragraphs, Section, Statement
from claimkit.model.job import Job
from claimkit.model.source import Source
from claimkit.rules.addressees import citation

ASKING = method("whom to ask")
EMPHASIS = {Answer.YES: "supports", Answer.NO: "does not support", Answer.CANNOT_TELL: "missing"}


def section(view: View) -> Section | None:
    """Compose one table for each thing that is wrong; None for every reader but the owner."""
    if not view.own:
        return None
    blocks: list[Block] = []
    for addressee in view.case.addressees:
        if view.shipment in (None, addressee.shipment):
            blocks += _addressee(view.job, addressee)
    if not blocks:
        return None
    note = say(
        "What the record says, not who is at fault: that is for people to decide. A broker is no "
        "carrier, and a claim sent to it is not shown filed with one.",
        ASKING,
    )
    return Section("asking", "Whom to ask", (*blocks, Paragraphs((note,), bulleted=False)))


def _addressee(job: Job | None, addressee: Addressee) -> list[Block]:
    about = say(f"{addressee.kind.capitalize()}: {addressee.about}.", *addressee.sources)
    rows = [_row(job, addressee, c) for c in addressee.candidates]
    blocks: list[Block] = [Paragraphs((about,), bulleted=False)]
    if rows:
        blocks.append(table(("Ask", "Answer", "Facts, or what would settle it"), rows, (2, 1, 5)))
    return blocks


def _row(job: Job | None, addressee: Addressee, c: Candidate) -> tuple[Statement, ...]:
    own = tuple(s for _, found in c.because for s in found) or addressee.sources
    cited = (*own, Source(citation=citation(c.who, job, addressee.shipment)), ASKING)
    return (
        say(named(job, c), *cited),
        say(c.answer.value, *cited, emphasis=EMPHASIS[c.answer]),
        say(reasons(c), *cited),
    )


def named(job: Job | None, c: Candidate) -> str:
    """Name a candidate with its party: 'delivering carrier, Northway Freight'."""
    party = job.party_named(c.party) if job else None
    return f"{c.who.value}, {party.name}" if party else c.who.value


def reasons(c: Candidate) -> str:
    """Give the facts that decided; where nothing did, what there is and what is wanted."""
    facts = " ".join(text for text, _ in c.because)
    if c.answer is not Answer.CANNOT_TELL:
        return facts
    wanted = " ".join(dict.fromkeys(c.settle))
    return " ".join(part for part in (facts, f"Wanted: {wanted}" if wanted else "") if part)


def lines(case: Case) -> list[str]:
    """Print the same for a terminal of 80 columns."""
    from claimkit.compose.terminal.lines import head
    from claimkit.compose.terminal.text import wrapped

    found = head(case, "whom to ask")
    for addressee in case.addressees:
        found += ["", *wrapped(f"{addressee.kind.capitalize()}: {addressee.about}.", "  ", "")]
        for c in addressee.candidates:
            label = f"  {c.answer.value:<13}"
            text = f"{named(case.facts.job, c)}. {reasons(c)}".rstrip()
            found += wrapped(text, " " * 15, label)
    if not case.addressees:
        found += ["", *wrapped("Nothing is on record as damaged, short, wrong or out of fit.")]
    note = "What the record says, not who is at fault: that is for people to decide."
    return [*found, "", *wrapped(note)]


def as_json(case: Case) -> dict[str, Any]:
    """Give whom to ask and the worksheet as JSON; see docs/json.md."""
    from claimkit.compose.asjson import whole

    return whole(case, "ask") | {
        "addressees": [
            {
                "kind": a.kind,
                "where": a.where,
                "about": a.about,
                "shipment": a.shipment,
                "candidates": [_candidate(c) for c in a.candidates],
                "sources": [_source(s) for s in a.sources],
            }
            for a in case.addressees
        ],
        "amount": [
            {
                "kind": x.kind,
                "item": x.item or None,
                "shipment": x.shipment,
                "amount": f"{x.total.amount:f}",
                "currency": x.total.currency,
                "claimed": x.claimed,
                "steps": list(x.steps),
                "sources": [_source(s) for s in x.sources],
            }
            for x in case.amount
        ],
    }


def _candidate(c: Candidate) -> dict[str, Any]:
    return {
        "who": c.who.value,
        "party": c.party,
        "answer": c.answer.value,
        "because": [{"text": t, "sources": [_source(s) for s in found]} for t, found in c.because],
        "settle": list(c.settle),
    }


def _source(source: Source) -> dict[str, Any]:
    keys = ("path", "sha256", "key_path", "page", "citation")
    return {key: value for key in keys if (value := getattr(source, key)) is not None}
