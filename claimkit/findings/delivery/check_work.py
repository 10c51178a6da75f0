"""Findings about the order of the work: too early, begun with damage, sealed unread.

Work that begins with a broken, wrong or ill-fitting piece is hard to undo, and a joint that is
sealed unread can never be read again. Each rule says so before it happens where it can, and
after it as plainly.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from claimkit.findings.delivery import check_delivery, check_received, work_order
from claimkit.findings.delivery.readiness import Step, Want, in_time, starts, steps, wants
from claimkit.findings.delivery.received import OF_THE_PIECE
from claimkit.findings.pieces import plain_piece, same_piece
from claimkit.findings.seams.gaps import overall
from claimkit.findings.seams.reads import Unread, read_in_time, sealed_unread, still_unread
from claimkit.findings.wording import listed, record_source
from claimkit.findings.written_time import site_zone, stretch_of
from claimkit.model.answers import Answer
from claimkit.model.case import Case, Difference, Finding, NotChecked, Standing
from claimkit.model.gap import Comparison, Fit, GapReading
from claimkit.model.moment import Interval
from claimkit.model.records import Damage, Delivery, FoundAt, Record, Unpacking
from claimkit.model.source import Source
from claimkit.model.stages import Event

Results = tuple[Finding | NotChecked, ...]

PRACTICE = "common practice, no source"
ONCE_SEALED = "common practice, no source: a filled joint shows no gap (claimkit method: gaps)"


def old_fixture_early(case: Case) -> Results:
    """Tell where the old fixture was taken out before the goods were known to fit."""
    found = []
    for step in steps(case, Event.OLD_FIXTURE_REMOVED):
        lacking = [w for w in wants(case, step.began) if w.answer is not Answer.YES]
        if not lacking:
            continue
        sure = any(w.answer is Answer.NO for w in lacking)
        message = (
            f"The old fixture was removed on {step.body.began.said} before these were done, or "
            f"shown to be done: {_whys(lacking)}. If a piece is broken, wrong or does not fit, the "
            "customer is left without a working room."
        )
        found.append(
            Finding(
                "work-old-fixture-early",
                Standing.AGAINST if sure else Standing.MISSING,
                "the work",
                message,
                "Do what is missing at once, and agree in writing what the customer uses until "
                "the new fixture works.",
                (step.source(), *_evidence(lacking)),
                PRACTICE,
            )
        )
    return tuple(found)


def old_fixture_in_time(case: Case) -> Results:
    """Tell where the old fixture was taken out only after the goods were known to fit."""
    found = []
    for step in steps(case, Event.OLD_FIXTURE_REMOVED):
        done = wants(case, step.began)
        if done and all(want.answer is Answer.YES for want in done):
            found.append(
                Finding(
                    "work-old-fixture-in-time",
                    Standing.SUPPORTS,
                    "the work",
                    f"Before the old fixture was removed on {step.body.began.said} the goods "
                    f"were {listed([want.what for want in done], 4)}.",
                    "",
                    (step.source(), *_evidence(list(done))),
                    PRACTICE,
                )
            )
    return tuple(found)


def not_ready_to_start(case: Case) -> Results:
    """Tell, while nothing has been taken out or begun, what stands against beginning."""
    if steps(case, Event.OLD_FIXTURE_REMOVED) or starts(case) or not case.facts.in_force(Delivery):
        return ()
    lacking = [w for w in wants(case, None) if w.answer is not Answer.YES]
    reasons = [f"not yet {w.why}" for w in lacking]
    sources = list(_evidence(lacking))
    for record, body in _open_damages(case):
        reasons.append(f"open damage: {body.item}, {body.what}")
        sources.append(record_source(record, "what"))
    for row in _wrong_pieces(case):
        reasons.append(f"{row.item} differs in {row.what}")
        sources += row.sources
    for c in _out_of_design(case):
        reasons.append(f"seam {c.seam}, station {c.station}, out of design at the dry fit")
        sources += [c.before.source] if c.before else []
    if not reasons:
        return ()
    sources += [record_source(r, "arrived") for r in case.facts.in_force(Delivery)]
    return (
        Finding(
            "work-not-ready-to-start",
            Standing.MISSING,
            "the work",
            f"Nothing is recorded as begun, and this stands against beginning: "
            f"{listed(reasons, 8)}.",
            "Leave the old fixture in and fasten nothing until every piece is unpacked, counted, "
            "sized, undamaged and dry-assembled within its design.",
            tuple(dict.fromkeys(sources)),
            PRACTICE,
            urgent=True,
        ),
    )


@dataclass(frozen=True, slots=True)
class Begun:
    """Something that stood against beginning, and the step that began the work all the same."""

    rule: str
    where: str
    what: str
    known: Interval | None
    sources: tuple[Source, ...]
    do_next: str


def started_with_damage(case: Case) -> Results:
    """Tell where work began although a damage was known and not settled."""
    zone = site_zone(case.facts)
    todo = (
        "Stop where that is still possible. Have the damage settled in writing (replaced, "
        "repaired, accepted by the customer) before going on; a later claim that it was there "
        "before is harder to make."
    )
    found: list[Finding | NotChecked] = []
    for record, body in _open_damages(case):
        known = stretch_of(body.found, zone) if body.found else None
        what = f"the damage “{body.what}” to {body.item} (found: {body.found_at.value}),"
        begun = Begun(
            "work-started-with-damage",
            f"item {body.item}",
            what,
            known,
            (record_source(record, "found_at"),),
            todo,
        )
        if known is None and body.found_at is FoundAt.LATER:
            if starts(case):
                reason = f"Record {record.id} does not say when the damage was found."
                found.append(NotChecked(begun.rule, begun.where, reason))
            continue
        found += _begun(case, begun, by_stage=body.found_at is not FoundAt.LATER)
    return tuple(found)


def started_with_wrong_part(case: Case) -> Results:
    """Tell where work began with a piece that is not the one ordered."""
    found: list[Finding | NotChecked] = []
    for row in _wrong_pieces(case):
        begun = Begun(
            "work-started-with-wrong-part",
            f"item {row.item}",
            f"a piece that differs from the order ({row.item}: {row.what} {row.found}, ordered "
            f"{row.ordered}),",
            _seen(case, row),
            row.sources,
            "Stop where that is still possible, and tell the seller in writing which piece differs "
            "and how. Fit it only where seller and customer have agreed in writing.",
        )
        # The piece was the wrong one all along, whenever somebody looked.
        found += _begun(case, begun, by_stage=True, always=True)
    return tuple(found)


def started_out_of_design(case: Case) -> Results:
    """Tell where work began although a seam was outside its design at the dry fit."""
    found: list[Finding | NotChecked] = []
    seams: dict[tuple[str, str], list[GapReading]] = {}
    for c in _out_of_design(case):
        if c.before is not None:
            seams.setdefault((c.seam, plain_piece(c.piece)), []).append(c.before)
    for (seam, piece), read in seams.items():
        stations = listed([r.station for r in read])
        begun = Begun(
            "work-started-out-of-design",
            f"seam {seam}",
            f"the fit of seam {seam} at {stations}, outside its design at the dry fit,",
            read[0].taken,
            tuple(dict.fromkeys(r.source for r in read)),
            "Stop where that is still possible. Show the dry-fit reading to the seller and the "
            "maker in writing and wait for their answer; going on makes the fit one's own.",
        )
        mine = [
            s
            for s in starts(case)
            if same_piece(s.body.piece, piece) and (not s.body.seams or seam in s.body.seams)
        ]
        found += _begun(case, begun, by_stage=False, among=tuple(mine))
    return tuple(found)


_KNOWN = {
    Answer.YES: "known and not settled",
    Answer.NO: "found only afterwards",
    Answer.CANNOT_TELL: "perhaps known already: the times written do not tell which came first",
}


def _begun(
    case: Case,
    begun: Begun,
    *,
    by_stage: bool,
    always: bool = False,
    among: tuple[Step, ...] | None = None,
) -> list[Finding]:
    """Give the finding for the first start by which the thing was, or may have been, known.

    `by_stage`: a thing with no time of its own belongs to a stage that comes before any start.
    `always`: the first start counts, whenever the thing became known.
    """
    begins = starts(case) if among is None else among
    for number, step in enumerate(begins):
        answer = in_time(begun.known, step.began)
        if begun.known is None and by_stage:
            answer = Answer.YES
        if answer is Answer.NO and not always:
            continue
        verb = "went on" if number else "began"
        return [
            Finding(
                begun.rule,
                Standing.MISSING if answer is Answer.CANNOT_TELL else Standing.AGAINST,
                begun.where,
                f"The work {verb} ({step.named()}) with {begun.what} {_KNOWN[answer]}.",
                begun.do_next,
                (step.source(), *begun.sources),
                PRACTICE,
            )
        ]
    return []


def sealed_without_reading(case: Case) -> Results:
    """Tell of each seam that was sealed with a station unread after fastening."""
    return tuple(
        Finding(
            "work-sealed-unread",
            Standing.AGAINST,
            _seam(unread),
            f"Seam {unread.seam} was sealed ({unread.step.named()}) with no reading after "
            f"fastening{_stations(unread)}. What the gap was then cannot be read any more.",
            "Read what can still be seen, as stage sealed, and say that it was read over the "
            "sealant. Say plainly that no reading from before the sealing exists.",
            (unread.step.source(), *unread.sources),
            ONCE_SEALED,
        )
        for unread in sealed_unread(case)
    )


def read_when_sealed(case: Case) -> Results:
    """Tell of each seam that was read after fastening and before it was sealed."""
    return tuple(
        Finding(
            "work-read-in-time",
            Standing.SUPPORTS,
            _seam(read),
            f"Seam {read.seam} was read after fastening, before it was sealed "
            f"({read.step.named()}).",
            "",
            (read.step.source(), *read.sources),
            ONCE_SEALED,
        )
        for read in read_in_time(case)
    )


def read_before_sealing(case: Case) -> Results:
    """Tell of each fastened seam that is not yet sealed which stations still want a reading."""
    return tuple(
        Finding(
            "work-read-before-sealing",
            Standing.MISSING,
            _seam(unread),
            f"Seam {unread.seam} is fastened ({unread.step.named()}), not sealed, and not read "
            f"after fastening{_stations(unread)}.",
            f"Read seam {unread.seam} before the sealant, with the instrument of the dry fit and a "
            "photo of each reading.",
            (unread.step.source(), *unread.sources),
            ONCE_SEALED,
            urgent=True,
        )
        for unread in still_unread(case)
    )


def _seam(unread: Unread) -> str:
    return f"seam {unread.seam}" + (f", piece {unread.piece}" if unread.piece else "")


def _stations(unread: Unread) -> str:
    return f" at {listed(list(unread.stations))}" if unread.stations else ""


def _whys(lacking: list[Want]) -> str:
    return "; ".join(w.why for w in lacking)


def _evidence(lacking: list[Want]) -> tuple[Source, ...]:
    return tuple(dict.fromkeys(s for w in lacking for s in w.sources))


def _open_damages(case: Case) -> list[tuple[Record, Damage]]:
    return [
        (r, r.body)
        for r in case.facts.in_force(Damage)
        if isinstance(r.body, Damage) and r.body.resolved is None
    ]


def _wrong_pieces(case: Case) -> list[Difference]:
    return [d for d in case.differences if d.what in OF_THE_PIECE and d.same is Answer.NO]


def _out_of_design(case: Case) -> list[Comparison]:
    return [c for c in overall(case) if c.before and c.at_dry_fit.fit is Fit.OUTSIDE]


def _seen(case: Case, row: Difference) -> Interval | None:
    """Give when a difference was found: the end of the unpacking that its source names."""
    zone = site_zone(case.facts)
    paths = {source.path for source in row.sources}
    for record in case.facts.in_force(Unpacking):
        if record.path in paths and isinstance(record.body, Unpacking):
            moment = record.body.ended or record.body.began
            return stretch_of(moment, zone) if moment else None
    return None


CHECKS: tuple[tuple[str, str, Callable[[Case], Results]], ...] = (
    (
        "work-old-fixture-early",
        "The old fixture was removed before the goods were known to fit",
        old_fixture_early,
    ),
    (
        "work-old-fixture-in-time",
        "The old fixture was removed after the goods were known to fit",
        old_fixture_in_time,
    ),
    ("work-not-ready-to-start", "Something stands against beginning", not_ready_to_start),
    ("work-started-with-damage", "Work began with open damage", started_with_damage),
    ("work-started-with-wrong-part", "Work began with a wrong piece", started_with_wrong_part),
    ("work-started-out-of-design", "Work began with a fit out of design", started_out_of_design),
    ("work-sealed-unread", "Sealed with no reading after fastening", sealed_without_reading),
    ("work-read-in-time", "Read after fastening and before sealing", read_when_sealed),
    ("work-read-before-sealing", "Fastened, not sealed, not read", read_before_sealing),
    *work_order.CHECKS,
    *check_delivery.CHECKS,
    *check_received.CHECKS,
)
