"""The same case as JSON: a contract described in docs/json.md and checked by docs/json.schema.json.

Keys are added, never renamed; `schema` rises when a meaning changes.
"""

from __future__ import annotations

from typing import Any

from claimkit.compose import along_json, opening_json
from claimkit.compose.photo_gap_json import photo_gaps
from claimkit.findings.limits.life import Life, lives
from claimkit.findings.limits.next_move import NextMove, next_move
from claimkit.findings.seams.last_chance import LastChance, last_chances
from claimkit.model.case import Case, ClockCorrection, DatedPhoto, Finding, Liability
from claimkit.model.gap import Comparison, GapReading
from claimkit.model.limit import TimeLimit
from claimkit.model.measurement import Measurement
from claimkit.model.moment import Interval
from claimkit.model.quantities import Money
from claimkit.model.receipt import Receipt, ReceiptReading
from claimkit.model.source import Source

SCHEMA = 1


def whole(case: Case, command: str) -> dict[str, Any]:
    """Give what every command's JSON holds: findings, what was not checked, problems."""
    facts = case.facts
    return {
        "schema": SCHEMA,
        "command": command,
        "job": {
            "folder": facts.folder_name,
            "title": facts.job.title if facts.job else None,
            "zone": facts.job.site.zone if facts.job else None,
        },
        "as_of": case.as_of.isoformat(),
        "findings": [_finding(f) for f in case.findings],
        "not_checked": [
            {"rule": n.rule, "where": n.where, "reason": n.reason, "crashed": n.crashed}
            for n in case.not_checked
        ],
        "problems": [
            {"file": p.file, "key_path": p.key_path, "found": p.found, "write": p.write}
            for p in facts.problems
        ],
        "left_alone": [{"path": n.path, "reason": n.reason} for n in facts.not_taken],
    }


def status(case: Case) -> dict[str, Any]:
    """Give everything of the other parts together."""
    parts = (timeline, exceptions, deadlines, gaps)
    merged: dict[str, Any] = {}
    for part in parts:
        merged |= part(case)
    return merged | whole(case, "status")


def timeline(case: Case) -> dict[str, Any]:
    """Give episodes and photos."""
    return whole(case, "timeline") | {
        "episodes": [
            {
                "id": e.id,
                "stage": e.stage.value,
                "about": e.about,
                "interval": _interval(e.interval),
                "sources": _sources(e.sources),
            }
            for e in case.episodes
        ],
        "photos": [_photo(case, d) for d in case.photos],
        "videos": [_photo(case, d) for d in case.videos],
    }


def exceptions(case: Case) -> dict[str, Any]:
    """Give each receipt with its grade."""
    return whole(case, "exceptions") | {"receipts": [_receipt(r) for r in case.receipts]}


def deadlines(case: Case) -> dict[str, Any]:
    """Give each time limit, the next move, how each claim stands, and the carrier's limits."""
    return whole(case, "deadlines") | {
        "time_limits": [_limit(t) for t in case.limits],
        "next_move": _move(case, next_move(case)),
        "claims": [_life(life) for life in lives(case)],
        "liabilities": [_liability(limit) for limit in case.liabilities],
    }


def gaps(case: Case) -> dict[str, Any]:
    """Give readings and comparisons; lengths in mm."""
    return whole(case, "gaps") | {
        "readings": [_reading(r) for r in case.readings],
        "comparisons": [_comparison(c) for c in case.comparisons],
        "lines": along_json.lines(case),
        "last_chance": [_last_chance(chance) for chance in last_chances(case)],
        **photo_gaps(case),
        **opening_json.openings(case),
    }


def _last_chance(chance: LastChance) -> dict[str, Any]:
    return {
        "seam": chance.seam,
        "piece": chance.piece,
        "stations": list(chance.stations),
        "before": chance.before,
        "gone": chance.gone,
        "text": chance.text,
        "sources": _sources(chance.sources),
    }


def _source(source: Source) -> dict[str, Any]:
    pairs = {
        "path": source.path,
        "sha256": source.sha256,
        "key_path": source.key_path,
        "page": source.page,
        "citation": source.citation,
    }
    return {key: value for key, value in pairs.items() if value is not None}


def _sources(sources: tuple[Source, ...]) -> list[dict[str, Any]]:
    return [_source(source) for source in sources]


def _interval(interval: Interval) -> dict[str, Any]:
    return {
        "earliest": interval.earliest.isoformat() if interval.earliest else None,
        "latest": interval.latest.isoformat() if interval.latest else None,
        "basis": interval.basis,
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "rule": finding.rule,
        "standing": finding.standing.value,
        "urgent": finding.urgent,
        "where": finding.where,
        "message": finding.message,
        "do_next": finding.do_next,
        "citation": finding.citation,
        "evidence": _sources(finding.evidence),
    }


def _photo(case: Case, dated: DatedPhoto) -> dict[str, Any]:
    photo = case.facts.photo_of(dated.sha256)
    return {
        "sha256": dated.sha256,
        "places": list(photo.places) if photo else _places(case, dated),
        "taken": _interval(dated.taken),
        "basis": dated.basis.value,
        "camera_text": dated.camera_text,
        "tag": dated.tag,
        "why": dated.why,
        "beside": list(dated.beside),
        "stage": dated.stage.value if dated.stage else None,
        "suspicions": list(dated.suspicions),
        "photographer": dated.by,
        "correction": _correction(dated.correction),
        "corrected": _interval(dated.corrected) if dated.corrected else None,
    }


def _places(case: Case, dated: DatedPhoto) -> list[str]:
    return sorted(p.path for p in case.facts.papers if p.sha256 == dated.sha256)


def _correction(found: ClockCorrection | None) -> dict[str, Any] | None:
    if found is None:
        return None
    return {
        "low_s": found.low.total_seconds(),
        "high_s": found.high.total_seconds(),
        "basis": found.basis.value,
        "evidence": list(found.evidence),
        "holds": found.holds,
        "named": found.named,
        "why_not": found.why_not,
        "sources": _sources(found.sources),
    }


def _receipt(receipt: Receipt) -> dict[str, Any]:
    return {
        "record": _source(receipt.record),
        "shipment": receipt.shipment,
        "words": receipt.words,
        **_graded(receipt.reading),
        "our_words": receipt.our_words,
        "our_copy": _graded(receipt.our_reading) if receipt.our_reading else None,
        "copies_differ": receipt.copies_differ.value,
    }


def _graded(reading: ReceiptReading) -> dict[str, Any]:
    return {
        "grade": reading.grade.value,
        "reservation": reading.reservation.value,
        "matches": [
            {"what": m.what, "text": m.text, "start": m.start, "end": m.end, "rule": m.rule}
            for m in reading.matches
        ],
        "because": list(reading.because),
        "write_on_paper": reading.write_long,
        "write_on_handheld": reading.write_short,
    }


def _limit(limit: TimeLimit) -> dict[str, Any]:
    clause = limit.clause
    days = {"started_on": limit.started_on, "last_day": limit.nominal, "act_by": limit.act_by}
    return {
        "clause": clause.id,
        "title": clause.title,
        "shipment": limit.shipment,
        "whose": clause.whose.value,
        "state": limit.state.value,
        **{key: value.isoformat() if value else None for key, value in days.items()},
        "met_on": limit.met_on.isoformat() if limit.met_on else None,
        "period": {
            "count": limit.span.count,
            "unit": limit.span.unit,
            "extra_days": limit.span.extra_days,
        },
        "period_source": limit.span_source,
        "do": clause.do,
        "to": clause.to,
        "on_pass": clause.on_pass,
        "provided": limit.provided or None,
        "doubt": limit.doubt or None,
        "because": list(limit.steps()),
        "citation": clause.citation,
        "mark": clause.mark,
        "sources": _sources(limit.sources),
    }


def _move(case: Case, move: NextMove) -> dict[str, Any]:
    return {
        "day": move.day.isoformat() if move.day else None,
        "line": move.line(case.as_of),
        "do": move.text,
        "to": move.to or None,
        "shipment": move.shipment,
        "sources": _sources(move.sources),
    }


def _life(life: Life) -> dict[str, Any]:
    return {
        "shipment": life.shipment,
        "phase": life.phase.value,
        "since": life.since.day.isoformat() if life.since and life.since.day else None,
        "inspection": life.inspection.value,
        "claim_number": life.claim_number,
        "claimed": _money(life.claimed),
        "offered": _money(life.offered),
        "paid": _money(life.paid),
        "steps": [
            {
                "day": step.day.isoformat() if step.day else None,
                "text": step.text,
                "counts": step.counts,
                "sources": _sources((step.source,)),
            }
            for step in life.steps
        ],
    }


def _liability(limit: Liability) -> dict[str, Any]:
    return {
        "rule": limit.rule,
        "shipment": limit.shipment,
        "title": limit.title,
        "limit": _money(limit.amount),
        "converted": _money(limit.converted),
        "loss": _money(limit.loss),
        "below_loss": limit.below_loss.value,
        "steps": list(limit.steps),
        "citation": limit.citation,
        "mark": limit.mark,
        "sources": _sources(limit.sources),
    }


def _money(money: Money | None) -> dict[str, str] | None:
    """Give an exact amount as text; XDR is the code of special drawing rights."""
    return {"amount": str(money.amount), "currency": money.currency} if money else None


def _measurement(measurement: Measurement | None) -> dict[str, Any] | None:
    if measurement is None:
        return None
    return {
        "value_mm": measurement.value_mm,
        "u_mm": measurement.u_mm,
        "parts_mm": dict(measurement.parts),
    }


def _reading(reading: GapReading) -> dict[str, Any]:
    return {
        "seam": reading.seam,
        "station": reading.station,
        "piece": reading.piece,
        "stage": reading.stage.value,
        "taken": _interval(reading.taken),
        "gap": _measurement(reading.measurement),
        "as_written": list(reading.written),
        "instrument": reading.instrument,
        "meaning": reading.meaning.value,
        "card": reading.card,
        "over_sealant": reading.over_sealant,
        "state": list(reading.state),
        "celsius": reading.celsius,
        "source": _source(reading.source),
        "witness": list(reading.witness),
        "witness_holds": reading.witness_holds.value,
    }


def _comparison(c: Comparison) -> dict[str, Any]:
    return {
        "seam": c.seam,
        "station": c.station,
        "piece": c.piece,
        "between": c.between,
        "step": c.step,
        "before": _reading(c.before) if c.before else None,
        "after": _reading(c.after) if c.after else None,
        "at_dry_fit": {"answer": c.at_dry_fit.fit.value, "p_within": c.at_dry_fit.p_within},
        "change": {
            "answer": c.change.change.value,
            "difference": _measurement(c.change.difference),
            "tolerance_mm": c.change.tolerance_mm,
            "p_opened": c.change.p_opened,
            "p_closed": c.change.p_closed,
            "p_unchanged": c.change.p_unchanged,
            "chance_shown": c.change.chance_shown,
        },
        "now": {"answer": c.now.fit.value, "p_within": c.now.p_within},
        "because": [t for t in (c.at_dry_fit.because, c.change.because, c.now.because) if t],
        "to_settle": [t for t in (c.at_dry_fit.settle, c.change.settle, c.now.settle) if t],
        "not_comparable": list(c.not_comparable),
    }
