"""A check of the opening asked: plumb at heights, level at places, diagonals, width and height."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import click

from claimkit.compose.terminal.opening_lines import openings
from claimkit.intake.paths import shown
from claimkit.keyboard import desk as at
from claimkit.keyboard.desk import Desk, value
from claimkit.keyboard.lengths import one, unit_of
from claimkit.keyboard.lines import meant
from claimkit.keyboard.questions import Answers, Question, yes_or_no
from claimkit.keyboard.steps_asked import WRITE, seams_question
from claimkit.model.case import Case
from claimkit.model.measuring import TAPE_CLASSES, Instrument, Line, OpeningCheck
from claimkit.model.opening import Tolerated
from claimkit.model.records import Record

_STATED = (Instrument.LEVEL.value, Instrument.OTHER.value)
_TAPES = tuple(i.value for i in Instrument if i.value.startswith(("tape ", "rule ")))
_KEYS = (
    *("opening", "taken", "instrument", "instrument_id", "resolution", "line", "line_accuracy"),
    *("level_turned", "width", "height", "tape", "tape_class", "seams", "photos"),
)
_MEASURED = ("plumb", "level", "diagonals", "width", "height")
_RUNS = (
    ("plumb", "Plumb: height above the base", "from the line back to the wall"),
    ("level", "Level: place along the base", "from the line down to the base"),
)


@dataclass
class Opening:
    """The questions on one check of an opening, and its record once it is written."""

    desk: Desk
    written: Record | None = None

    def following(self, answers: Answers) -> Question | None:
        """Give the next question; None when all are answered."""
        for question in self._questions(answers):
            if question.key not in answers:
                return question
        return None

    def took(self, question: Question, answers: Answers) -> None:
        """Try an answer as part of the record. Raises Unreadable."""
        if question.key != "write" and "opening" in answers:
            self.desk.tried(
                {"taken": at.at_last(self.desk, "now"), "instrument": Instrument.RULE_MM.value}
                | self.values(answers)
            )

    def values(self, answers: Answers) -> dict[str, object]:
        """Give the record as far as it was answered; a height without its offset is left out."""
        values = self.desk.head("opening_check", at.said_by(self.desk, answers))
        for key in _KEYS:
            known = value(answers, key)
            if known is not None:
                values[key] = at.at_last(self.desk, known) if key == "taken" else known
        first, second = value(answers, "diagonal 1"), value(answers, "diagonal 2")
        if first and second:
            values["diagonals"] = [first, second]
        for run, _, _ in _RUNS:
            rows = list(_rows(answers, run))
            if rows:
                values[run] = rows
        return values

    def complete(self, answers: Answers) -> bool:
        """Tell whether it is a record already: something was measured."""
        return any(key in self.values(answers) for key in _MEASURED)

    def end(self, answers: Answers) -> None:
        """Write the record and say what it amounts to."""
        values = self.values(answers)
        about = f"opening {values['opening']}"
        self.written = self.desk.write(values, str(values["taken"]), about)
        case = self._judged()
        click.echo("\n".join(shown(line) for line in openings(case)[1:]))

    def speaks_against(self) -> bool:
        """Tell whether the check shows something outside its tolerance, or leaves it open."""
        states = self._judged().openings
        return any(s.unusable for s in states) or any(
            result.tolerated is not Tolerated.WITHIN for s in states for result in s.results
        )

    def _judged(self) -> Case:
        """Give the case with this check alone among its openings."""
        record = self.written
        if record is None:
            raise ValueError("a check is judged once it is written")
        self.desk.added.remove(record)
        case = self.desk.with_record(record)
        self.desk.added.append(record)
        mine = tuple(state for state in case.openings if state.record == record.id)
        return replace(case, openings=mine, explanations=())

    def _questions(self, answers: Answers) -> Iterator[Question]:
        *who, when = at.who_and_when(self.desk)
        yield from who
        yield self._which()
        yield when
        last = self._last()
        instrument = value(answers, "instrument")
        yield Question(
            "instrument",
            "Offsets read with",
            "What the distances from the line are read with: a rule or tape, or a level itself.",
            usual=last.instrument.value if last else None,
            needed=True,
            choices=tuple(i.value for i in Instrument),
        )
        if instrument in _STATED:
            yield Question(
                "resolution",
                "Read to (1/32 in, 0.5 mm)",
                "The smallest division that the offsets are read to, with its unit.",
                lambda typed: one(typed, ""),
                needed=True,
            )
        yield from _line(answers)
        unit = unit_of(str(value(answers, "resolution") or instrument))
        for run, asks, offset in _RUNS:
            yield from _run(answers, run, asks, offset, unit)
        yield from _sizes(answers, unit)
        yield from seams_question(self.desk.job)
        yield Question(
            "photos",
            "Photos of it (names with ; between; Enter: none)",
            "Photos in the job folder that show it being checked.",
            lambda typed: at.photos(self.desk, typed),
        )
        yield WRITE

    def _which(self) -> Question:
        names = [opening.name for opening in self.desk.job.opening]
        told = f" ({', '.join(names)})" if names else ""
        return Question(
            "opening",
            f"Which opening or wall{told}",
            "Its name. Its tolerances stand in job.toml under [[opening]]; without one the reading "
            "is kept and judged by nothing.",
            lambda typed: meant(typed, names) or typed,
            usual=names[0] if names else None,
            needed=True,
        )

    def _last(self) -> OpeningCheck | None:
        bodies = [record.body for record in self.desk.case.facts.in_force(OpeningCheck)]
        typed = [body for body in bodies if isinstance(body, OpeningCheck)]
        return max(typed, key=lambda body: body.taken.at, default=None)


def _line(answers: Answers) -> Iterator[Question]:
    yield Question(
        "line",
        "Measured from",
        "What is true: a plumb line, a laser, or a level. Enter: a level, the least true.",
        usual=Line.LEVEL.value,
        choices=tuple(line.value for line in Line),
    )
    line = value(answers, "line")
    if line in (Line.LEVEL.value, Line.LASER.value):
        yield Question(
            "line_accuracy",
            f"How far that {line} may be off in 1 m (Enter: not known)",
            "From its maker's sheet, such as 0.5 mm.",
            lambda typed: one(typed, "mm"),
        )
    if line in (Line.LEVEL.value, None):
        yield Question(
            "level_turned",
            "Turned end for end at each place, means written (y/n)",
            "A level that is turned is free of its own error. Enter: not known.",
            yes_or_no,
        )


def _run(answers: Answers, run: str, asks: str, offset: str, unit: str) -> Iterator[Question]:
    """Ask for places and their offsets until an empty answer."""
    number = 1
    while True:
        key = f"{run} {number} at"
        yield Question(
            key,
            f"{asks}, {unit} (Enter: {'no more' if number > 1 else 'not read'})",
            "Two places show a lean, three whether it is straight. The same place again is a "
            "repeat.",
            lambda typed: one(typed, unit, large=True),
        )
        if value(answers, key) is None:
            return
        yield Question(
            f"{run} {number} offset",
            f"  distance {offset}, {unit}",
            f"The distance {offset}; a minus sign where it lies on the line's other side.",
            lambda typed: one(typed, unit),
            needed=True,
        )
        number += 1


def _sizes(answers: Answers, unit: str) -> Iterator[Question]:
    yield Question(
        "tape",
        "Diagonals, width and height measured with (Enter: the same)",
        "The tape, where it is not what the offsets were read with.",
        choices=_TAPES,
    )
    tape = value(answers, "tape")
    if tape:
        yield Question(
            "tape_class",
            "Accuracy class printed on it (Enter: none)",
            "I, II or III, in an oval on the tape's first inches.",
            choices=TAPE_CLASSES,
        )
    unit = unit_of(str(tape)) if tape else unit
    for key, asks, needed in (
        ("diagonal 1", "Diagonal from the foot of the wall up (Enter: not measured)", False),
        ("diagonal 2", "The other diagonal", True),
        ("width", "Width between the measured points (Enter: not measured)", False),
        ("height", "Height between them (Enter: not measured)", False),
    ):
        if key == "diagonal 2" and value(answers, "diagonal 1") is None:
            continue
        yield _size(key, f"{asks}, {unit}", unit, needed=needed)


def _size(key: str, asks: str, unit: str, *, needed: bool) -> Question:
    return Question(
        key,
        asks,
        "The first diagonal rises from the foot of the wall that is checked, or from the left; "
        "with width and height they tell an angle.",
        lambda typed: one(typed, unit, large=True),
        needed=needed,
    )


def _rows(answers: Answers, run: str) -> Iterator[dict[str, object]]:
    number = 1
    while (place := value(answers, f"{run} {number} at")) is not None:
        offset = value(answers, f"{run} {number} offset")
        if offset is not None:
            yield {"at": place, "offset": offset}
        number += 1
