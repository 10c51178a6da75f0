"""The sheets of scale cards of a job: steps, which card goes where, what to write, the cards.

Composed from job.toml and the records on sheets measured before. Everything is plain text and
numbers; nothing here knows fonts, and every length on paper is in the rules.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass

from claimkit.findings.seams.card_plan import CardPlace, CardPlan, card_plan
from claimkit.model.case import Case
from claimkit.model.job import Job
from claimkit.model.measuring import CardSheet
from claimkit.rules.card_steps import AT_THE_SEAM, LENGTHS, STEPS, CardStep
from claimkit.rules.cautions import CAUTIONS

BLANK = "______"
TAPES = {"letter": "tape 1/32 in", "a4": "tape 1 mm"}
UNITS = {"letter": "in", "a4": "mm"}
LOOSE_TEXT = (
    "Cut out the three labels. The one that fits stands in every picture: DRY FIT while the "
    "pieces stand loose, FASTENED once they are fastened, CHECK at any later look. Where the label "
    "and the photo's time disagree, neither is claimed."
)


WHERE_HEADS = ("Card", "Seam", "Station", "From start", "In job.toml")


@dataclass(frozen=True, slots=True)
class Snippet:
    """Lines to copy into a file: what they are, the file they belong in, and the lines."""

    title: str
    file: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PrintedCard:
    """One card on a sheet; a spare stands for no seam and has blanks to write in."""

    card: int
    seam: str | None = None
    station: str | None = None
    at: str | None = None


@dataclass(frozen=True, slots=True)
class CardBook:
    """Everything that one print of scale cards holds, in order.

    `sheets` hold the cards of each sheet, `where` the rows of the table of cards: card, seam,
    station, from the seam's start, what job.toml says of it.
    """

    title: str
    paper: str
    cautions: tuple[str, ...]
    steps: tuple[CardStep, ...]
    where: tuple[tuple[str, ...], ...]
    remarks: tuple[str, ...]
    snippets: tuple[Snippet, ...]
    bench: Snippet
    sheets: tuple[tuple[PrintedCard, ...], ...]
    loose: str = LOOSE_TEXT


def compose_cards(case: Case, job: Job, paper: str, *, everything: bool = False) -> CardBook:
    """Compose the print of a job's cards for a paper: letter or a4."""
    plan = card_plan(job, everything=everything)
    places = {place.card: place for place in plan.places}
    sheets = tuple(
        tuple(_printed(number, places.get(number)) for number in sheet) for sheet in plan.sheets
    )
    return CardBook(
        title=" ".join(job.title.split()),
        paper=paper,
        cautions=tuple(c.text for c in (*AT_THE_SEAM, *CAUTIONS) if c.id in _CAUTIONS),
        steps=tuple(_said(step, paper) for step in STEPS),
        where=where_rows(plan),
        remarks=tuple(remarks(plan)),
        snippets=(*add_to_job(plan), *sheet_records(case, job, plan, paper)),
        bench=bench_record(case, job),
        sheets=sheets,
    )


_CAUTIONS = {"ladder", "wet-glass", "sharp-edges", "glass"}


def where_rows(plan: CardPlan) -> tuple[tuple[str, ...], ...]:
    """Give the table of cards; spares come in one row at its end."""
    rows = [
        (
            str(place.card),
            place.seam,
            place.station,
            place.at or "",
            "named" if place.named else f"add: card = {place.card}",
        )
        for place in plan.places
    ]
    if plan.spares:
        rows.append((_numbers(plan.spares), "spare", "", "", ""))
    return tuple(rows)


def remarks(plan: CardPlan) -> Iterable[str]:
    """Say which stations get no card and why, and what to write where a seam has no station."""
    reasons: dict[tuple[str, str], list[str]] = {}
    for left in plan.left_out:
        reasons.setdefault((left.seam, left.why), []).append(left.station or "")
    for (seam, why), stations in reasons.items():
        named = ", ".join(filter(None, stations))
        where = f", station{'s' if len(stations) > 1 else ''} {named}" if named else ""
        yield f"No card at seam {seam}{where}: {why}."
    for place in plan.places:
        if place.caution:
            yield (
                f"Card {place.card} at seam {place.seam}, station {place.station}, is a witness "
                f"only: {place.caution}."
            )
    for seam in plan.no_stations:
        yield (
            f"Seam {seam} has no station, so no card is printed for it. Write its stations into "
            "job.toml (both ends and the middle), then run this again."
        )


def add_to_job(plan: CardPlan) -> Iterable[Snippet]:
    """Give the lines to add to job.toml: proposed numbers, and stations where a seam has none."""
    by_seam: dict[str, list[CardPlace]] = {}
    for place in plan.proposed:
        by_seam.setdefault(place.seam, []).append(place)
    for seam, places in by_seam.items():
        lines = []
        for place in places:
            lines += [f"id = {quoted(place.station)}", f"card = {place.card}    # add this line"]
        yield Snippet(f"Seam {seam}: below the station's id", "job.toml", tuple(lines))
    for seam in plan.no_stations:
        lines = []
        for name in ("start", "middle", "end"):
            lines += ["[[seam.station]]", f"id = {quoted(name)}", f'at = "{BLANK}"']
        yield Snippet(f"Seam {seam}: below its [[seam]] table", "job.toml", tuple(lines))


def sheet_records(case: Case, job: Job, plan: CardPlan, paper: str) -> Iterable[Snippet]:
    """Give a card_sheet record for each sheet, with blanks for what only a tape can tell.

    Where a record measures an earlier print of these cards, the new one replaces it.
    """
    taken = {record.id for record in case.facts.records}
    for number, cards in enumerate(plan.sheets, start=1):
        name = _free("card-sheet", taken)
        taken.add(name)
        old = _measured_before(case, cards)
        measured = _on_record(case)
        fresh = cards if old else tuple(card for card in cards if card not in measured) or cards
        title = f"Sheet {number}: what its check lines measure"
        again = [f"replaces = {quoted(old)}", 'reason = "printed again"'] if old else []
        lines = (
            'kind = "card_sheet"',
            _said_by(job),
            *again,
            f'paper = "{paper}"',
            f'along = "{BLANK} {UNITS[paper]}"',
            f'across = "{BLANK} {UNITS[paper]}"',
            f'instrument = "{TAPES[paper]}"',
            f"cards = [{', '.join(str(card) for card in sorted(fresh))}]",
        )
        if old:
            title = f"Sheet {number} is on record; only where this print is used instead"
        yield Snippet(title, f"records/{name}.toml", lines)


def _on_record(case: Case) -> set[int]:
    """Give the cards that a record in force names as measured: a second one would contradict it."""
    bodies = [record.body for record in case.facts.in_force(CardSheet)]
    return {card for body in bodies if isinstance(body, CardSheet) for card in body.cards}


def _measured_before(case: Case, cards: tuple[int, ...]) -> str | None:
    """Give the id of the one record in force that measures all of these cards by name."""
    found = [
        record.id
        for record in case.facts.in_force(CardSheet)
        if isinstance(record.body, CardSheet) and set(cards) <= set(record.body.cards)
    ]
    return found[0] if len(found) == 1 else None


def bench_record(case: Case, job: Job) -> Snippet:
    """Give a bench_check record to fill in, one table for each photo."""
    lines = (
        'kind = "bench_check"',
        _said_by(job),
        f'taken = "{BLANK}"    # 2026-05-03 16:00',
        "[[spacer]]    # one such table for each photo",
        f'photo = "photos/{BLANK}"',
        f'gap = "{BLANK} mm"',
    )
    name = _free("bench-check", {record.id for record in case.facts.records})
    return Snippet("Bench check: to write down", f"records/{name}.toml", lines)


def quoted(text: str) -> str:
    """Give a text as TOML writes it."""
    return json.dumps(text, ensure_ascii=False)


def _printed(number: int, place: CardPlace | None) -> PrintedCard:
    if place is None:
        return PrintedCard(number)
    return PrintedCard(number, place.seam, place.station, place.at)


def _said(step: CardStep, paper: str) -> CardStep:
    lines = tuple(line.format(**LENGTHS[paper]) for line in step.lines)
    return CardStep(step.id, step.title, lines, step.drawing, step.citation, step.mark)


def _said_by(job: Job) -> str:
    if len(job.person) == 1:
        return f"said_by = {quoted(job.person[0].id)}"
    known = ", ".join(person.id for person in job.person[:6])
    return f'said_by = "{BLANK}"' + (f"    # one of: {known}" if known else "")


def _numbers(cards: tuple[int, ...]) -> str:
    return ", ".join(str(card) for card in sorted(cards))


def _free(stem: str, taken: set[str]) -> str:
    """Give the first name that no record has: card-sheet, card-sheet-2."""
    name, number = stem, 2
    while name in taken:
        name, number = f"{stem}-{number}", number + 1
    return name
