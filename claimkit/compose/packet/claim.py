"""The claim so far, the next moves and the carrier's limit: for the owner's eyes alone.

A letter to the carrier says nothing of its limit, which is the carrier's to show, and nothing of
what is planned next. So these parts stand in the owner's packet and on his terminal only.
"""

from __future__ import annotations

from claimkit.compose.blocks import row, say, table
from claimkit.compose.claim_words import standing
from claimkit.compose.packet.view import View
from claimkit.compose.phrases import day
from claimkit.findings.claim.liability import in_words
from claimkit.findings.limits.life import Life, Phase, lives
from claimkit.findings.limits.next_move import NextMove, moves, next_move
from claimkit.findings.limits.packing import keep_until
from claimkit.model.answers import Answer
from claimkit.model.case import Case, Liability
from claimkit.model.document import Block, Paragraphs, Section, Statement
from claimkit.model.source import Source
from claimkit.rules.marks import marked

SHOWN_MOVES = 3
NO_RECORD = Source(citation="claimkit: nothing in the job folder bears on it")


def next_statement(view: View) -> Statement:
    """Say the next move in one line with its sources."""
    return _moved(view.case, next_move(view.case))


def _moved(case: Case, move: NextMove) -> Statement:
    sources = move.sources or (NO_RECORD,)
    return say(move.line(case.as_of), *sources, emphasis="caution" if move.day else "")


def section(view: View) -> Section | None:
    """Compose the life of each claim in view with the next moves; in the owner's packet only."""
    if not view.own:
        return None
    blocks: list[Block] = []
    chosen = [life for life in lives(view.case) if view.shipment in (None, life.shipment)]
    for life in chosen:
        blocks += _life(view, life)
    if not blocks:
        return None
    planned = [
        move
        for move in moves(view.case)
        if move.shipment is None or view.shipment in (None, move.shipment)
    ]
    lines = tuple(_moved(view.case, move) for move in planned[:SHOWN_MOVES])
    return Section("claim", "The claim so far, and what comes next", (*blocks, Paragraphs(lines)))


def _life(view: View, life: Life) -> list[Block]:
    shipment = view.job.shipment_named(life.shipment) if view.job else None
    if shipment is None:
        return []
    since = (life.since.source,) if life.since else (NO_RECORD,)
    told = [say(standing(life), *since)]
    if life.phase is not Phase.NOTHING_WRONG:
        asked = (life.asked.source,) if life.asked else (NO_RECORD,)
        told.append(say(f"Inspection: {life.inspection.value}.", *asked))
    kept = keep_until(view.case, shipment, life)
    told += [say(text, source) for text, source in kept]
    blocks: list[Block] = [Paragraphs(tuple(told))]
    rows = [
        row(
            day(step.day) if step.day else "not dated",
            step.text,
            "counts" if step.counts else "moves nothing",
            sources=(step.source,),
            emphasis="" if step.counts else "missing",
        )
        for step in life.steps
    ]
    if rows:
        heads = ("Day", f"Shipment {life.shipment}: what was said", "For the claim")
        blocks.append(table(heads, rows, (1.3, 5, 1.2), small=True))
    return blocks


def liability(view: View) -> Section | None:
    """Compose the limits that the carrier may show, beside the loss; in the owner's packet only."""
    if not view.own:
        return None
    limits = [x for x in view.case.liabilities if view.shipment in (None, x.shipment)]
    if not limits:
        return None
    rows = [
        row(
            limit.title,
            in_words(limit.amount),
            str(limit.converted) if limit.converted else "–",
            _loss(limit),
            _against(limit),
            sources=_sources(limit),
        )
        for limit in limits
    ]
    heads = ("The carrier may show a limit of", "Limit", "In money", "Loss", "Below the loss")
    steps = [
        say(f"{limit.title}: {text}", *_sources(limit)) for limit in limits for text in limit.steps
    ]
    blocks = (table(heads, rows, (3, 1.3, 1.3, 1.3, 1.1)), Paragraphs(tuple(steps)))
    return Section("liability", "The carrier's limit of liability, beside the claim", blocks)


def _loss(limit: Liability) -> str:
    return f"{limit.loss}{'' if limit.whole else ' so far'}" if limit.loss else "–"


def _against(limit: Liability) -> str:
    return {Answer.YES: "yes", Answer.NO: "no"}.get(limit.below_loss, "cannot tell")


def _sources(limit: Liability) -> tuple[Source, ...]:
    return (*limit.sources, Source(citation=marked(limit.citation, limit.mark)))
