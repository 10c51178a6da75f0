"""The supporting documents: which the terms ask for, which are enclosed, which are explained."""

from __future__ import annotations

from claimkit.compose.blocks import say, table
from claimkit.compose.packet.view import View
from claimkit.compose.phrases import method
from claimkit.findings.claim.documents import Supporting, supporting
from claimkit.findings.claim.parts import wrong_with
from claimkit.model.case import Reader
from claimkit.model.document import Section, Statement
from claimkit.model.source import Source
from claimkit.rules.documents import Wanted

MARKS = {"S": "wording read", "P": "summary read", "M": "from memory"}
SUPPORTING = method("supporting documents")


def section(view: View) -> Section | None:
    """Compose the table for carrier and owner, of the shipments with loss or damage on record."""
    if view.reader not in (Reader.CARRIER, Reader.INSURER, Reader.OWN):
        return None
    rows = [
        _row(view, one)
        for _, shipment in view.shipments()
        if wrong_with(view.case, shipment)
        for one in supporting(view.case, shipment)
    ]
    if not rows:
        return None
    heads = ("Document", "Why", "State")
    return Section("supporting", "Supporting documents", (table(heads, rows, (1.4, 2.6, 3.4)),))


def _row(view: View, one: Supporting) -> tuple[Statement, ...]:
    emphasis = ""
    if one.files:
        said = f" ({one.guess.because()}; not confirmed)" if one.guess else ""
        state = "; ".join((f"{', '.join(one.files)}{said}", *((one.note,) if one.note else ())))
        emphasis = "" if one.guess else "supports"
    elif one.because:
        state = f"not there: {one.because}"
    else:
        state, emphasis = "not there", "missing" if view.own else ""
    rule: Wanted = one.wanted
    sources = (
        *one.sources,
        Source(citation=f"{rule.citation} ({MARKS[rule.mark]})"),
        SUPPORTING,
    )
    return (
        say(rule.paper.capitalize(), *sources),
        say(f"{rule.why[0].upper()}{rule.why[1:]}.", *sources),
        say(state, *sources, emphasis=emphasis),
    )
