"""What `receive` asks, in the order of the work, each answer tried as part of the record.

The questions are those of `claimkit.keyboard`: with a way back, an explanation and a way to stop.
The words on the receipt are graded as they are typed, beside all that was typed before them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

import click

from claimkit.compose.sheets.receiving_words import Seen, words
from claimkit.findings.receipt.write import BLANK
from claimkit.intake.entries.problems import Unreadable
from claimkit.intake.paths import shown
from claimkit.keyboard.lines import meant, person
from claimkit.keyboard.questions import Answers, Question, yes_or_no
from claimkit.model.receipt import ReceiptReading
from claimkit.model.records import nothing_said
from claimkit.model.stop import CannotGoOn
from claimkit.receiving.desk import (
    Desk,
    curb_of,
    days_after,
    grade_lines,
    graded,
    past,
    show_recognised,
)
from claimkit.receiving.named import pieces, whole
from claimkit.receiving.scan import Linked, can_recognise, linked
from claimkit.rules.receiving import KINDS, REASONS, WHERES, Choice

PLAIN = (
    *("shipment", "said_by", "arrived", "units_listed", "units", "cartons_listed", "cartons"),
    *("wrap", "inspected", "because", "receipt", "driver", "signed", "driver_signed"),
    *("signed_at", "left", "refused"),
)
"""The answers that are taken as they are, by the names of the options."""
_AS_READ = "t"
_CLOCK = "Now, a time of that day such as 09:40, or a day and time such as 2026-05-04 09:40."
_LATER = (
    "A photo can be added later: claimkit receive JOB --replaces RECORD --receipt-photo FILE "
    '--reason "photo added".'
)
_TAIL = f" Driver: {BLANK} Time: {BLANK}"


@dataclass
class Curb:
    """The questions of one delivery; `tried` raises Unreadable where they are no record so far."""

    desk: Desk
    tried: Callable[[dict[str, Any]], None]
    read: dict[str, str] = field(default_factory=dict)

    def following(self, answers: Answers) -> Question | None:
        """Give the next question; None when all are answered."""
        return next((q for q in self._questions(answers) if q.key not in answers), None)

    def took(self, question: Question, answers: Answers) -> None:
        """Try an answer as part of the record; grade the words. Raises Unreadable."""
        kind, _, number = question.key.partition(" ")
        if kind == "sure" and not answers[question.key].value:
            del answers[question.key], answers[number]
            return
        typed = self.typed(answers)
        if person(self.desk.job, typed.get("said_by")):
            self.tried(typed)
        if kind == "scan" and answers[question.key].value and can_recognise():
            file = answers[question.key].typed
            self.read[file] = show_recognised(self.desk, file, click.echo)
        settled = "words" in typed and kind in ("words", "exactly", "again")
        if settled or (kind == "more" and answers[question.key].value):
            lines = grade_lines(self._graded(answers))
            click.echo("\n".join(shown(line) for line in lines))

    def typed(self, answers: Answers) -> dict[str, Any]:
        """Give the answers by the names of the options; what is not known is left out."""
        typed = {
            k: answers[k].value for k in PLAIN if k in answers and answers[k].value is not None
        }
        scans = [a.value for k, a in answers.items() if k.startswith("scan ") and a.value]
        if scans:
            typed["receipt_photo"] = tuple(scans)
        said = self._words(answers)
        if said is not None:
            typed["words"] = said
        return typed

    def complete(self, answers: Answers) -> bool:
        """Tell whether the record can stand: the receipt is settled, words and all, or is none."""
        typed = self.typed(answers)
        return typed.get("receipt") == "none" or "words" in typed

    def seen(self, answers: Answers) -> tuple[Seen, ...]:
        """Give the damages that were typed."""
        found = []
        for key, answer in answers.items():
            kind, _, number = key.partition(" ")
            if kind == "damage" and answer.value is not None:
                named: Any = answer.value  # what `pieces` reads
                on, numbers = named
                what, where, size = (
                    _told(answers, f"{k} {number}") for k in ("kind", "where", "size")
                )
                found.append(Seen(on, what or "damaged", numbers, where=where, size=size))
        return tuple(found)

    def suggested(self, answers: Answers) -> str:
        """Give the words for the carrier's copy, from what was typed before them."""
        typed = self.typed(answers)
        curb, names = curb_of(typed, self.seen(answers)), self.desk.names(typed)
        return words(curb, names, "short" if typed.get("receipt") == "device" else "long")

    def _questions(self, answers: Answers) -> Iterator[Question]:
        yield from self._who()
        yield self._time("arrived", "The truck came at (09:10, now)", answers)
        yield from self._counts(answers)
        yield from _look(answers)
        yield from self._damages(answers)
        yield from self._receipt(answers)
        yield from self._signing(answers)

    def _who(self) -> Iterator[Question]:
        ids = tuple(shipment.id for shipment in self.desk.job.shipment)
        if len(ids) > 1:
            asks = "Which shipment came"
            yield Question("shipment", asks, "Its id in job.toml.", needed=True, choices=ids)
        people = self.desk.job.person
        if len(people) > 1:
            named = ", ".join(f"{one.id} ({one.name})" for one in people)
            yield Question(
                "said_by",
                "Stated by",
                f"The person who states this: {named}.",
                self._person,
                needed=True,
                choices=tuple(one.id for one in people),
                own_words=True,
            )

    def _person(self, typed: str) -> str:
        ids = [one.id for one in self.desk.job.person]
        found = meant(person(self.desk.job, typed) or typed, ids)
        if found is None:
            raise Unreadable(
                f"{shown(typed)} is no person of job.toml.", f"There are: {', '.join(ids)}."
            )
        return found

    def _time(self, key: str, asks: str, answers: Answers) -> Question:
        day = None if key == "arrived" else _told(answers, "arrived")
        return Question(
            key, asks, f"{_CLOCK} Enter: not known.", lambda typed: past(self.desk, typed, day)
        )

    def _counts(self, answers: Answers) -> Iterator[Question]:
        typed = self.typed(answers)
        shipment = self.desk.shipment(typed)
        unit = self.desk.names(typed).unit.many
        for key, what, on_bill in (
            ("units", unit, shipment.handling_units if shipment else None),
            ("cartons", "cartons", shipment.cartons if shipment else None),
        ):
            yield Question(
                f"{key}_listed",
                f"{what} on the driver's paper",
                "The count that his paper or screen states. Enter: what stands in [ ], from "
                "job.toml, or not known.",
                whole,
                usual=None if on_bill is None else str(on_bill),
            )
            yield Question(
                key,
                f"{what} counted",
                "What you counted yourself. Enter: not counted.",
                whole,
            )

    def _damages(self, answers: Answers) -> Iterator[Question]:
        number = 1
        while True:
            yield Question(
                f"damage {number}",
                "Damage on which (carton 2, skid 1; Enter: no more)",
                "Unit, carton or item, with its number: carton 2, skids 1 and 3, or the id of an "
                "item. Enter: no more damage.",
                lambda typed: pieces(
                    typed, self.desk.names(self.typed(answers)), self._most(answers)
                ),
            )
            if f"damage {number}" in answers and answers[f"damage {number}"].value is None:
                return
            yield _one_of(f"kind {number}", "What is wrong", KINDS, ids=True)
            yield _one_of(f"where {number}", "Where on it", WHERES, ids=True)
            yield Question(f"size {number}", "How big (4 in)", "With its unit. Enter: not known.")
            number += 1

    def _most(self, answers: Answers) -> dict[str, int]:
        """Give how many units and cartons there are to number, where that is known."""
        typed = self.typed(answers)
        counts = {
            "unit": (typed.get("units_listed"), typed.get("units")),
            "carton": (typed.get("cartons_listed"), typed.get("cartons")),
        }
        return {on: max(n for n in pair if n) for on, pair in counts.items() if any(pair)}

    def _receipt(self, answers: Answers) -> Iterator[Question]:
        yield Question(
            "receipt",
            "The receipt is on",
            "What is signed: the carrier's paper, the driver's device, or nothing at all.",
            choices=("paper", "device", "none"),
        )
        if _told(answers, "receipt") == "none":
            return
        yield from self._scans(answers)
        scanned = " ".join(filter(None, self._recognised(answers)))
        as_read = ", t: as read" if scanned else ""
        yield Question(
            "words",
            f"What stands there now (=: as above{as_read}, Enter: nothing)",
            "Exactly what is written on the carrier's copy, word for word, good or bad. = where "
            "you wrote the words above. Enter: nothing stands there.",
        )
        if scanned and _told(answers, "words") == _AS_READ:
            yield Question(
                "exactly",
                "Does exactly this stand there (y/n)",
                "What the machine read has to be compared with the paper, word for word.",
                yes_or_no,
                needed=True,
                says=" ".join(scanned.split()),
            )
            if "exactly" in answers and not answers["exactly"].value:
                yield Question("again", "What stands there now, exactly", "Word for word.")
        number = 1
        while number == 1 or _told(answers, f"more {number - 1}"):
            yield Question(
                f"more {number}",
                "Added to it (=: the words to add, Enter: nothing more)",
                "What was written onto it since, exactly. = where you wrote the words to add.",
                lambda typed: self._added(typed, answers),
            )
            number += 1

    def _scans(self, answers: Answers) -> Iterator[Question]:
        number = 1
        while number == 1 or _told(answers, f"scan {number - 1}"):
            yield Question(
                f"scan {number}",
                "Photo or scan of the receipt (file; Enter: none, or later)",
                f"A file of the job folder or of this computer; it is copied in. {_LATER}",
                self._file,
                says=f"Write on the carrier's copy before signing:\n{self.suggested(answers)}"
                if number == 1
                else "",
            )
            number += 1

    def _file(self, typed: str) -> Linked:
        try:
            return linked(self.desk.there, typed)
        except CannotGoOn as error:
            raise Unreadable(str(error), f"Or press Enter. {_LATER}") from error

    def _recognised(self, answers: Answers) -> list[str]:
        files = [a.typed for k, a in answers.items() if k.startswith("scan ") and a.value]
        return [self.read.get(file, "") for file in files]

    def _signing(self, answers: Answers) -> Iterator[Question]:
        yield Question("driver", "The driver's name", "As he gives it. Enter: not known.")
        if _told(answers, "receipt") != "none":
            yield Question(
                "signed",
                "Did you sign (y/n)",
                "Whether our side signed. Enter: not known.",
                yes_or_no,
            )
            yield Question(
                "driver_signed",
                "Did the driver sign by the words (y/n)",
                "Whether he signed beside what you wrote. Enter: not known.",
                yes_or_no,
            )
            if "signed" in answers and answers["signed"].value:
                yield from self._timed("signed_at", "Signed at", answers)
        yield from self._timed("left", "The driver left at", answers)
        yield Question(
            "refused",
            "Refused, and why (Enter: nothing)",
            "Which piece the carrier took back again and why. Enter: nothing was refused.",
            lambda typed: None if nothing_said(typed) else typed,
        )

    def _timed(self, key: str, asks: str, answers: Answers) -> Iterator[Question]:
        """Ask for a time after the arrival, and once more where it is days after it."""
        yield self._time(key, asks, answers)
        told = days_after(self.desk, _told(answers, "arrived"), _told(answers, key))
        if told:
            yield Question(
                f"sure {key}",
                "Is that so (y/n)",
                f"That is {told}. y takes it, n asks for the time again.",
                yes_or_no,
                needed=True,
                says=f"{asks} {_told(answers, key)}: that is {told}.",
            )

    def _words(self, answers: Answers) -> str | None:
        """Give the words on the carrier's copy as they stand; None where that is not settled."""
        if "words" not in answers:
            return None
        said = _told(answers, "words")
        scanned = " ".join(" ".join(filter(None, self._recognised(answers))).split())
        if said == _AS_READ and scanned:
            if "exactly" not in answers:
                return None
            if not answers["exactly"].value and "again" not in answers:
                return None
            said = scanned if answers["exactly"].value else _told(answers, "again")
        if said == "=":
            said = self._suggested_then(answers)
        more = [str(a.value) for k, a in answers.items() if k.startswith("more ") and a.value]
        return " ".join([said, *more]).strip()

    def _suggested_then(self, answers: Answers) -> str:
        """Give the suggested words as they stood above the question on what was written."""
        return self.suggested({k: a for k, a in answers.items() if k.split()[0] not in _OF_WORDS})

    def _graded(self, answers: Answers) -> ReceiptReading:
        return graded(self.desk, self.typed(answers), self.seen(answers))

    def _added(self, typed: str, answers: Answers) -> str | None:
        """Read what was added; = is what was said to add. Raises Unreadable."""
        if typed != "=":
            return typed
        reading = self._graded(answers)
        device = _told(answers, "receipt") == "device"
        add = reading.write_short if device else reading.write_long.removesuffix(_TAIL)
        if BLANK in add:
            raise Unreadable(
                "The words to add have blanks (___).", "Write what stands there, with them filled."
            )
        return add or None


_OF_WORDS = ("words", "exactly", "again", "more")


def _look(answers: Answers) -> Iterator[Question]:
    yield Question(
        "wrap",
        "Wrap and seal",
        "Stretch wrap, straps and seal as they came. Enter: not looked at.",
        choices=("intact", "broken"),
    )
    yield Question(
        "inspected",
        "Looked at",
        "opened: the goods themselves were seen. outside: the boxes from outside. no: nothing "
        "could be looked at. Enter: not known.",
        choices=("opened", "outside", "no"),
    )
    if _told(answers, "inspected") == "no":
        yield _one_of("because", "Why not", REASONS)


def _one_of(key: str, asks: str, choices: tuple[Choice, ...], *, ids: bool = False) -> Question:
    """Ask for one of the receipt's words, by its id where that is wanted, or for one's own."""
    known = {choice.long: choice.id for choice in choices} if ids else {}
    return Question(
        key,
        asks,
        "A number, the first letters, or words of your own. Enter: not known.",
        lambda typed: known.get(typed, typed),
        choices=tuple(choice.long for choice in choices),
        own_words=True,
    )


def _told(answers: Answers, key: str) -> str:
    """Give an answer as text; empty where it was not given or is not known."""
    given = answers.get(key)
    return "" if given is None or given.value is None else str(given.value)
