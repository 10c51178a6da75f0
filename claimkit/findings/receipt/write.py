"""The exact words to add to a receipt while the driver is there, for paper and for a handheld.

They are put together from what is recorded and from what the receipt already says. Where a fact is
missing a blank stands for it, and nothing is made up. A handheld's remark holds about 60 signs.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from claimkit.findings.receipt.counts import Recorded
from claimkit.findings.receipt.reading import Read
from claimkit.findings.receipt.refusal import refused_units
from claimkit.model.receipt import Grade, Reservation

BLANK = "___"
HANDHELD = 60
FURTHER = "Subject to further inspection."
FURTHER_SHORT = "Subj to further insp"


@dataclass(frozen=True, slots=True)
class Found:
    """One damage recorded at the curb, as far as it was recorded.

    `which` are the words that name the pieces, where they are not so many of an item.
    """

    item: str
    what: str
    part: str | None = None
    extent: str | None = None
    quantity: int = 1
    stated: bool = False
    which: str | None = None


@dataclass(frozen=True, slots=True)
class AtTheCurb:
    """What the delivery record knows beside the words. None where nobody recorded it."""

    counts: Recorded = field(default_factory=Recorded)
    unit: str = "handling unit"
    inspected: bool | None = None
    why_not: str | None = None
    found: tuple[Found, ...] = ()
    refused: str | None = None


@dataclass(frozen=True, slots=True)
class _Line:
    """One thing to write: on paper, and on a handheld from fullest to shortest."""

    long: str
    short: tuple[str, ...]


def to_write(
    taken: Read, grade: Grade, reservation: Reservation, curb: AtTheCurb
) -> tuple[str, str]:
    """Give the words to add, long and short; both empty where nothing is to be added."""
    lines = [
        *_correction(taken, grade),
        *_counts(taken, grade, curb),
        *_refusal(taken, curb),
        *_damages(taken, grade, curb),
        *_reserve(grade, reservation, curb),
    ]
    if not lines:
        return "", ""
    facts = any(line.long != FURTHER for line in lines)
    tail = f" Driver: {BLANK} Time: {BLANK}" if facts else ""
    return " ".join(line.long for line in lines) + tail, _short(lines)


def _short(lines: list[_Line]) -> str:
    """Fit as many lines as the handheld holds, the first lines first, whole words only."""
    out = ""
    for line in lines:
        for text in line.short:
            joined = f"{out}. {text}" if out else text
            if len(joined) <= HANDHELD:
                out = joined
                break
    return out


def _correction(taken: Read, grade: Grade) -> list[_Line]:
    """Take back the words that contradict, quoting them."""
    if grade is not Grade.CONTRADICTORY:
        return []
    said = [taken.good_text(g) for g in taken.said.good if g.reach in ("all", "received")]
    if not said and taken.said.refusals:
        return [_Line("Correction of the count above; the refusal stands.", ("Correction",))]
    if not said:
        return [_Line("Correction of the count above.", ("Correction",))]
    quoted = ", ".join(f"“{words}”" for words in dict.fromkeys(said))
    stands = [taken.exception_text(e) for e in taken.said.exceptions if e.specific]
    kept = ", ".join(f"“{words}”" for words in dict.fromkeys(stands))
    long = f"Correction: {quoted} is withdrawn" + (f"; {kept} stands." if kept else ".")
    return [_Line(long, (f"Correction, not {said[0]}", "Correction"))]


def _counts(taken: Read, grade: Grade, curb: AtTheCurb) -> list[_Line]:
    recorded = curb.counts
    lines = []
    for what, unit, expected, received in (
        ("handling", curb.unit, recorded.units_expected, recorded.units_received),
        ("carton", "carton", recorded.cartons_expected, recorded.cartons_received),
    ):
        if expected is None or received is None:
            continue
        back = refused_units(taken.words, curb.refused, recorded, what)
        short = expected - received
        missing = short - (back or 0)
        told = taken.states_short(short) or (back is not None and taken.states_short(missing))
        wrong = short > 0 and not told and not (missing == 0 and taken.said.refusals)
        clash = grade is Grade.CONTRADICTORY and _count_clash(taken)
        if (
            wrong
            or (clash and short >= 0)
            or (short < 0 and not any(e.category == "overage" for e in taken.said.exceptions))
        ):
            lines.append(_count_line(unit, expected, received, back))
    if lines or not _count_asked(taken, grade, recorded):
        return lines
    text = f"Received {BLANK} of {BLANK} {curb.unit}s and {BLANK} of {BLANK} cartons."
    return [_Line(text, (f"Rcvd {BLANK} of {BLANK} {curb.unit}s",))]


def _refusal(taken: Read, curb: AtTheCurb) -> list[_Line]:
    """State a refusal that is recorded and not in the words, with its reason."""
    if not curb.refused or taken.said.refusals:
        return []
    reason = curb.refused.strip().rstrip(".")
    return [_Line(f"Refused {reason}.", (f"Refused {reason}", "Refusal: see paper"))]


def _count_line(unit: str, expected: int, received: int, back: int | None) -> _Line:
    """Say the count with what was refused apart from what is short; None is refused, not how many.

    Refused units beyond the missing ones came and were counted with those received.
    """
    units = unit if expected == 1 else f"{unit}s"
    long = f"Received {received} of {expected} {units}"
    short = f"Rcvd {received} of {expected} {units}"
    missing = expected - received - (back or 0)
    if received < expected and back is None:
        long += f"; {BLANK} refused, {BLANK} short"
        short += f", {BLANK} refused, {BLANK} short"
    elif received < expected and back:
        long += f"; {back} {unit if back == 1 else unit + 's'} refused"
        short += f", refused {back}"
    if received < expected and back is not None and missing > 0:
        long += f"; {missing} {unit if missing == 1 else unit + 's'} short"
        short += f", short {missing}"
    elif received > expected:
        long += f"; {received - expected} over"
        short += f", over {received - expected}"
    return _Line(long + ".", (short,))


def _count_asked(taken: Read, grade: Grade, recorded: Recorded) -> bool:
    """Tell whether a count is missing that the words need: a shortage with no number."""
    if grade is Grade.NOT_STATED:
        return recorded.units_received is None and recorded.cartons_received is None
    vague = any(e.category == "shortage" and not e.specific for e in taken.said.exceptions)
    counted = grade is Grade.CONTRADICTORY and _count_clash(taken)
    return (vague and taken.short_by_count is None) or counted


def _count_clash(taken: Read) -> bool:
    return any("received" in text or "count" in text for text in taken.clash)


def _damages(taken: Read, grade: Grade, curb: AtTheCurb) -> list[_Line]:
    unstated = [found for found in curb.found if not found.stated]
    if unstated:
        return [_damage_line(found) for found in unstated]
    vague = [
        e
        for e in taken.said.exceptions
        if e.category in ("kind", "generic", "vague") and not e.specific
    ]
    refused = taken.said.refusal is not None and grade is Grade.TOO_VAGUE
    if grade is Grade.SPECIFIC or not (vague or refused):
        return []
    kinds = dict.fromkeys(
        taken.text(e.hit.head, e.hit.last).lower() for e in vague if e.category == "kind"
    )
    kind = ", ".join(kinds) or f"{BLANK} (kind of damage)"
    head = "Refused" if refused else "Damaged"
    long = (
        f"{head}: {BLANK} of {BLANK} pieces, which {BLANK}, where on it {BLANK}, "
        f"{kind}, size {BLANK}."
    )
    short_kind = ", ".join(kinds) or BLANK
    return [
        _Line(
            long,
            (
                f"Pc {BLANK} of {BLANK}, {BLANK} side {short_kind} {BLANK} in",
                f"Pc {BLANK} {short_kind}",
            ),
        )
    ]


def _damage_line(found: Found) -> _Line:
    part = found.part or f"where on it {BLANK}"
    extent = found.extent or f"size {BLANK}"
    which = found.which or f"{found.quantity} {found.item}"
    long = f"{which}: {part} {found.what}, {extent}."
    brief = f"{which} {found.part or BLANK} {found.what}"
    return _Line(
        long,
        (
            f"{brief} {found.extent or BLANK}",
            brief,
            f"{which} {found.what}",
            f"{found.quantity} pc {found.part or BLANK} {found.what}",
            f"{found.quantity} pc {found.what}",
        ),
    )


def _reserve(grade: Grade, reservation: Reservation, curb: AtTheCurb) -> list[_Line]:
    if reservation is Reservation.FULL and grade is not Grade.CONTRADICTORY:
        return []
    if curb.inspected is False:
        why = f"Unable to inspect: {curb.why_not or BLANK}. {FURTHER}"
        return [_Line(why, (f"Unable to inspect. {FURTHER_SHORT}", FURTHER_SHORT))]
    if curb.inspected is True or grade in (Grade.CLEAR, Grade.SPECIFIC):
        return []
    return [_Line(FURTHER, (FURTHER_SHORT,))]
