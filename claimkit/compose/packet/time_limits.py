"""Time limits as a table and as steps that can be followed by hand."""

from __future__ import annotations

from claimkit.compose.blocks import row, say, table
from claimkit.compose.packet.view import View
from claimkit.compose.phrases import day
from claimkit.model.document import Block, Paragraphs, Section, Table
from claimkit.model.limit import LimitState, TimeLimit, Whose
from claimkit.model.source import Source
from claimkit.rules.carriage import NOT_CARRIAGE
from claimkit.rules.marks import marked

# What the carrier does late speaks neither for nor against the claimant.
EMPHASIS = {
    LimitState.MET: "supports",
    LimitState.MET_LATE: "does not support",
    LimitState.PASSED: "does not support",
    LimitState.DUE_PASSED: "missing",
    LimitState.NO_DATE: "missing",
}


def section(view: View) -> Section | None:
    """Compose the limits of the shipments in view.

    The careful day, the limits that have not started, those counted only in case a condition holds
    and those towards seller and insurer are for the owner alone.
    """
    limits = [t for t in view.case.limits if view.shipment in (None, t.shipment)]
    if not view.own:
        limits = [t for t in limits if _for_others(t)]
    if not limits:
        return None
    blocks: list[Block] = [_table(view, limits)]
    steps = []
    for limit in limits:
        told = limit.steps() if view.own else limit.because
        steps += [
            say(f"{limit.clause.title}: {text}", *_sources(limit))
            for text in map(view.told, told)
            if text
        ]
        if view.own:
            steps.append(say(f"If it passes: {limit.clause.on_pass}", *_sources(limit)))
    if steps:
        blocks.append(Paragraphs(tuple(steps)))
    note = say(
        f"Counted as of {day(view.case.as_of)} by the local calendar at the site. The carrier's "
        "tariff or the signed bill can shorten or change a period.",
        Source(citation="claimkit method: counting time limits"),
        emphasis="caution",
    )
    blocks.append(Paragraphs((note,), bulleted=False))
    return Section("limits", "Time limits", tuple(blocks))


def _for_others(limit: TimeLimit) -> bool:
    begun = limit.started_on is not None and not limit.provided
    return begun and limit.clause.terms not in NOT_CARRIAGE


def _whose(view: View, limit: TimeLimit) -> str:
    if view.own or limit.clause.whose is Whose.CARRIERS:
        return limit.clause.whose.value
    return "the claimant's"


def _state(limit: TimeLimit) -> str:
    if limit.state is LimitState.IN_DOUBT:
        return f"{limit.state.value}: {limit.doubt}"
    return limit.state.value + (f" {day(limit.met_on)}" if limit.met_on else "")


def _sources(limit: TimeLimit) -> tuple[Source, ...]:
    return (*limit.sources, Source(citation=marked(limit.clause.citation, limit.clause.mark)))


def _table(view: View, limits: list[TimeLimit]) -> Table:
    rows = []
    for limit in limits:
        period = limit.span.written or f"{limit.span.count} {limit.span.unit}"
        cells = [
            limit.clause.title,
            f"{_whose(view, limit)}; {period}",
            day(limit.started_on),
            day(limit.nominal),
        ]
        if view.own:
            cells.append(day(limit.act_by))
        cells.append(_state(limit))
        theirs = limit.clause.whose is Whose.CARRIERS
        emphasis = "" if theirs or limit.provided else EMPHASIS.get(limit.state, "")
        rows.append(row(*cells, sources=_sources(limit), emphasis=emphasis))
    heads = ["Limit", "Whose, how long", "Runs from", "Last day", "Act by", "State"]
    widths = [2.3, 1.7, 1.35, 1.35, 1.35, 1.9]
    if not view.own:
        del heads[4], widths[4]
    return table(tuple(heads), rows, tuple(widths))
