"""What `receive` asks, in the order of the work, and how the words are graded as they are typed.

An empty answer is: not known. A time that cannot be read is asked for again at once; everything
else is checked together at the end.
"""

from __future__ import annotations

import re
from typing import Any

import click

from claimkit.compose.sheets.receiving_words import CARTONS, UNIT, Names, Seen, words
from claimkit.intake.paths import shown
from claimkit.keyboard.lines import YES, number, one_of, text, time_asked, yes_or_no
from claimkit.receiving.desk import Desk, curb_of, grade_lines, graded, show_recognised
from claimkit.receiving.scan import can_recognise
from claimkit.rules.receiving import KINDS, REASONS, WHERES, Choice


def ask(desk: Desk) -> dict[str, Any]:
    """Ask everything once."""
    typed: dict[str, Any] = {}
    click.echo("An empty answer is: not known.")
    for step in (_who, _truck, _counts, _look):
        step(desk, typed)
    seen = _damages(desk, typed)
    _receipt(desk, typed, seen)
    _signing(desk, typed)
    return typed


def ask_again(
    desk: Desk, typed: dict[str, Any], keys: set[str], refusal: str
) -> dict[str, Any] | None:
    """Ask again for what cannot be as it was typed; None where nothing of it was asked."""
    questions = {
        "arrived": "The truck came at",
        "left": "The driver left at",
        "signed-at": "Signed at",
        "by": "Stated by (person)",
        "shipment": "Which shipment",
        "because": "Why not inspected",
        "driver": "The driver's name",
    }
    wrong = [key for key in questions if key in keys]
    if not wrong:
        return None
    click.echo(refusal, err=True)
    again = dict(typed)
    for key in wrong:
        name = "said_by" if key == "by" else key.replace("-", "_")
        times = key in ("arrived", "left", "signed-at")
        answer = _time(desk, questions[key]) if times else text(questions[key])
        again[name] = answer or None
    return again


def _who(desk: Desk, typed: dict[str, Any]) -> None:
    if len(desk.job.shipment) > 1:
        ids = [shipment.id for shipment in desk.job.shipment]
        typed["shipment"] = one_of("Which shipment", ids)
    if len(desk.job.person) != 1:
        ids = [person.id for person in desk.job.person]
        typed["said_by"] = text(f"Stated by ({', '.join(ids) or 'person'})") or None


def _truck(desk: Desk, typed: dict[str, Any]) -> None:
    typed["arrived"] = _time(desk, "The truck came at (09:10, now)")


def _counts(desk: Desk, typed: dict[str, Any]) -> None:
    shipment = desk.shipment(typed)
    unit = desk.names(typed).unit.many
    asked = (
        ("units", unit, shipment.handling_units if shipment else None),
        ("cartons", "cartons", shipment.cartons if shipment else None),
    )
    for key, what, on_bill in asked:
        typed[f"{key}_listed"] = number(f"{what} on the driver's paper", on_bill)
        typed[key] = number(f"{what} counted")


def _look(desk: Desk, typed: dict[str, Any]) -> None:
    del desk
    typed["wrap"] = one_of("Wrap and seal", ["intact", "broken"])
    typed["inspected"] = one_of("Looked at", ["opened", "outside", "no"])
    if typed["inspected"] == "no":
        reasons = ", ".join(choice.long for choice in REASONS)
        typed["because"] = text(f"Why not ({reasons})") or None


def _damages(desk: Desk, typed: dict[str, Any]) -> tuple[Seen, ...]:
    """Ask for damages until an empty answer, each as which, where, what, how big."""
    names = desk.names(typed)
    seen: list[Seen] = []
    while True:
        which = text("Damage on which (carton 2, skid 1; empty: no more)")
        if not which:
            return tuple(seen)
        on, numbers = pieces(which, names)
        seen.append(
            Seen(
                on,
                kind=_picked("What is wrong", KINDS) or "damaged",
                numbers=numbers,
                where=_picked("Where on it", WHERES),
                size=text("How big (4 in)") or None,
            )
        )


def pieces(typed: str, names: Names) -> tuple[str, tuple[int, ...]]:
    """Read which pieces are meant: "carton 2", "skids 1 and 3", an item by id or its words."""
    numbers = tuple(int(digits[:6]) for digits in re.findall(r"\d+", typed))
    plain = " ".join(re.sub(r"\d+|\band\b|[,#&]", " ", typed.lower()).split())
    for on, name in ((UNIT, names.unit), (CARTONS, names.carton)):
        if plain in (name.one.lower(), name.many.lower(), name.short_one.lower()):
            return on, numbers
    for item, (name, _) in names.items.items():
        if typed.strip().lower() in (item.lower(), name.one.lower()):
            return item, ()
    return CARTONS, numbers


def _receipt(desk: Desk, typed: dict[str, Any], seen: tuple[Seen, ...]) -> None:
    """Ask for the words, the suggested ones shown first, and grade them until nothing is added."""
    typed["receipt"] = one_of("The receipt is on", ["paper", "device", "none"])
    if typed["receipt"] == "none":
        return
    curb, names = curb_of(typed, seen), desk.names(typed)
    suggested = words(curb, names, "short" if typed["receipt"] == "device" else "long")
    click.echo("Write on the carrier's copy before signing:")
    click.echo(click.wrap_text(shown(suggested), 78, "    ", "    "))
    read = _scans(desk, typed)
    typed["words"] = _words(suggested, read)
    while True:
        click.echo("\n".join(map(shown, grade_lines(graded(desk, typed)))))
        more = text("Added to it (empty: nothing more)")
        if not more:
            return
        typed["words"] = f"{typed['words']} {more}".strip()


def _words(suggested: str, read: str) -> str:
    take = ", t: the text read by machine" if read else ""
    answer = text(f"What stands there now, exactly (=: as above, -: nothing{take})")
    if answer == "t" and read:
        return _confirmed(read)
    return {"=": suggested, "-": "", "": ""}.get(answer, answer)


def _confirmed(read: str) -> str:
    """Take what a machine read only when a person says that it stands there so."""
    one_line = " ".join(read.split())
    click.echo(click.wrap_text(shown(one_line), 78, "    ", "    "))
    if text("Does exactly this stand there (y/n)").lower() in YES:
        return one_line
    return text("What stands there now, exactly")


def _scans(desk: Desk, typed: dict[str, Any]) -> str:
    """Ask for pictures of the receipt; give what a machine reads in them, where one is there."""
    files = []
    while file := text("Photo or scan of the receipt (file; empty: none)"):
        files.append(file)
    if files:
        typed["receipt_photo"] = tuple(files)
    if not can_recognise():
        return ""
    return "\n".join(filter(None, (show_recognised(desk, file, click.echo) for file in files)))


def _signing(desk: Desk, typed: dict[str, Any]) -> None:
    typed["driver"] = text("The driver's name") or None
    if typed.get("receipt") != "none":
        typed["signed"] = yes_or_no("Did you sign (y/n)")
        typed["driver_signed"] = yes_or_no("Did the driver sign by the words (y/n)")
        if typed["signed"]:
            typed["signed_at"] = _time(desk, "Signed at")
    typed["left"] = _time(desk, "The driver left at")
    typed["refused"] = text("Refused, and why (empty: nothing)") or None


def _picked(question: str, choices: tuple[Choice, ...]) -> str | None:
    """Ask for one of the receipt's words, or words of one's own."""
    answer = text(f"{question} ({', '.join(choice.long for choice in choices)})")
    known = {word: c.id for c in choices for word in (c.id, c.long.lower())}
    return known.get(answer.lower(), answer) or None


def _time(desk: Desk, question: str) -> str | None:
    return time_asked(question, desk.now, desk.job.site.zone)
