"""Readings of gaps asked station by station: what is the same for all of them once, then numbers.

One record for each seam. It is written when the next seam is begun, so that the way back leads
over all of its stations, and when the questions end, however they end.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import click

from claimkit.compose.terminal.reading_lines import reading_lines, speaks_against
from claimkit.findings.pieces import same_piece
from claimkit.findings.seams.beside import local_day
from claimkit.findings.seams.pairs import milestones
from claimkit.findings.seams.stage_times import STEP_OF
from claimkit.intake.paths import shown
from claimkit.keyboard import desk as at
from claimkit.keyboard.desk import Desk, value
from claimkit.keyboard.far_off import far_off
from claimkit.keyboard.gaps_head import KEYS, far, far_question, for_all, taken
from claimkit.keyboard.lengths import one, several, unit_of
from claimkit.keyboard.questions import Answers, Question, Talk, tell, yes_or_no
from claimkit.model.job import Joint, Seam, Station
from claimkit.model.measuring import Instrument
from claimkit.model.records import Record
from claimkit.model.stages import Stage
from claimkit.model.stop import CannotGoOn

EXAMPLE = """\
  [[seam]]
  id = "A-B"
  between = ["section-a", "section-b"]
  joint = "butt"

  [[seam.station]]
  id = "front"
  at = "50 mm"

  [[seam.station]]
  id = "back"
  at = "550 mm\""""


@dataclass
class Gaps:
    """The questions on gaps of one session, and what was written of them."""

    desk: Desk
    talk: Talk
    seams: tuple[Seam, ...] = ()
    taken: dict[int, str] = field(default_factory=dict)
    written: dict[int, Record] = field(default_factory=dict)
    against: dict[str, bool] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Find the seams that can be read. Raises CannotGoOn where there are none."""
        self.seams = tuple(
            seam
            for seam in self.desk.job.seam
            if seam.station and seam.joint is not Joint.INTERLOCKING
        )
        if self.seams:
            return
        what = "no seam" if not self.desk.job.seam else "no seam with a gap and its stations"
        raise CannotGoOn(
            f"job.toml has {what}, so there is no place to read. Add to job.toml, with the ids of "
            f"its items (between) and the places where you read:\n\n{EXAMPLE}\n\n"
            "Three stations a seam are best: both ends and the middle."
        )

    def following(self, answers: Answers) -> Question | None:
        """Give the next question; None when the person has no further seam."""
        for question in for_all(self.desk, answers):
            if question.key not in answers:
                return question
        number = 1
        while f"seam {number}" in answers:
            seam = self._seam(answers, number)
            if seam is None:
                return None
            for question in self._in(answers, number, seam):
                if question.key not in answers:
                    return question
            number += 1
        return self._which_seam(answers, number)

    def took(self, question: Question, answers: Answers) -> None:
        """Try an answer as part of its record; show what a reading amounts to; write what is done.

        Raises Unreadable.
        """
        kind, _, rest = question.key.partition(" ")
        if kind == "seam":
            self._begin(answers, int(rest))
        elif kind == "sure":
            self._sure(question.key, rest, answers)
        elif kind in ("gap", "far", "step", "photo"):
            number, _, station = rest.partition(" ")
            if kind == "far" and not value(answers, question.key):
                del answers[question.key], answers[f"gap {rest}"]
                return
            record = self.desk.tried(
                self.values(answers, int(number), doubted=True) or self._empty(answers)
            )
            if kind == "far" or (kind == "gap" and not self._doubt(answers, int(number), station)):
                self._show(record, station, answers, int(number))
        else:
            self.desk.tried(self._empty(answers))

    def end(self, answers: Answers) -> None:
        """Write the seam that is not written yet, as far as it was read."""
        numbers = [int(key[5:]) for key in answers if key.startswith("seam ")]
        for number in numbers:
            if number not in self.written:
                self._write(answers, number)

    def unread(self, answers: Answers) -> list[str]:
        """Name the stations, seam by seam, that have no reading of this stage, now or before."""
        begun = {seam.id: n for n in self.taken if (seam := self._seam(answers, n))}
        before = self._read_before(answers)
        found = []
        for seam in self.seams:
            number = begun.get(seam.id)
            left = [
                station.id
                for station in seam.station
                if (seam.id, station.id) not in before
                and (number is None or self._gap(answers, number, station.id) is None)
            ]
            if left:
                found.append(f"{seam.id} {', '.join(left)}")
        return found

    def unconfirmed(self, answers: Answers) -> list[str]:
        """Name what was typed and not taken, for it is far from the rest and was not confirmed."""
        return [
            f"{seam.id} {station.id}: {' '.join(given)}"
            for number in self.taken
            if (seam := self._seam(answers, number))
            for station in seam.station
            if (given := _texts(answers, f"gap {number} {station.id}"))
            and self._gap(answers, number, station.id) is None
        ]

    def speaks_against(self, answers: Answers) -> bool:
        """Tell whether what was said of the readings that count leaves something open."""
        return any(
            against and value(answers, f"gap {place}") is not None
            for place, against in self.against.items()
        )

    def step_lacking(self, answers: Answers) -> str:
        """Name the step of the work that the stage has and no record dates; empty where none."""
        stage = value(answers, "stage")
        event = STEP_OF.get(Stage(str(stage))) if stage else None
        piece = value(answers, "piece")
        if event is None:
            return ""
        case, read = self.desk.case, [s.id for n in self.taken if (s := self._seam(answers, n))]
        piece = str(piece) if piece else None
        return "" if all(milestones(case, event, seam, piece) for seam in read) else event.value

    def values(
        self, answers: Answers, number: int, *, doubted: bool = False
    ) -> dict[str, object] | None:
        """Give the record of a seam as far as it was read; None where no gap was.

        What is far from the rest and not confirmed is left out, unless it is `doubted` to try it.
        """
        seam = self._seam(answers, number)
        rows = list(self._rows(answers, number, seam, doubted=doubted)) if seam else []
        if seam is None or not rows:
            return None
        return self._common(answers) | {
            "seam": seam.id,
            "taken": self.taken.get(number) or at.at_last(self.desk, value(answers, "taken")),
            "at": rows,
        }

    def _in(self, answers: Answers, number: int, seam: Seam) -> Iterator[Question]:
        """Ask for a seam: whether its time is meant, then its stations one after the other."""
        told = "" if "sure" in answers else far(self.desk, answers, seam.id)
        if told:
            yield far_question(f"sure {number}", value(answers, "stage"), told)
        for station in self._stations(answers, number, seam):
            yield from self._at(answers, number, seam, station)

    def _stations(self, answers: Answers, number: int, seam: Seam) -> tuple[Station, ...]:
        """Give the stations to read: those that are still unread, or all where none or all are."""
        if any(self._seam(answers, earlier) == seam for earlier in range(1, number)):
            return seam.station
        before = self._read_before(answers, this_visit=True)
        left = tuple(one for one in seam.station if (seam.id, one.id) not in before)
        return left or seam.station

    def _sure(self, key: str, number: str, answers: Answers) -> None:
        """Go back where a stage at that time is not meant: to the time, or to another seam."""
        if value(answers, key):
            return
        for gone in (key, f"seam {number}") if number else (key, "stage", "taken"):
            answers.pop(gone, None)
        if number:
            self.taken.pop(int(number), None)
            tell(
                "Nothing is read of it. Choose another seam, or stop with . and begin again with "
                "its time and stage."
            )

    def _gap(self, answers: Answers, number: int, station: str) -> object:
        """Give a gap that counts: one that is far from the rest counts once it is confirmed."""
        given = value(answers, f"gap {number} {station}")
        sure = value(answers, f"far {number} {station}")
        return (
            None if given is None or (not sure and self._doubt(answers, number, station)) else given
        )

    def _doubt(self, answers: Answers, number: int, station: str) -> str:
        seam, piece = self._seam(answers, number), value(answers, "piece")
        given = _texts(answers, f"gap {number} {station}")
        if seam is None or not given:
            return ""
        return far_off(self.desk.case, seam, (station, str(piece) if piece else None), given)

    def _at(
        self, answers: Answers, number: int, seam: Seam, station: Station
    ) -> Iterator[Question]:
        """Ask for the gap at a station, and what was wanted beside it."""
        unit, mine = self._unit(answers), f"{number} {station.id}"
        where = f" ({station.at.written})" if station.at else ""
        yield Question(
            f"gap {mine}",
            f"{seam.id} {station.id}{where}, {unit}",
            "The gap: 4.5 or 7/32 in the instrument's unit, or with its own: 5.5 mm, 0.22 in. "
            "Repeats on one line: 4.5 4.4 4.5. Enter: not read.",
            lambda typed: several(typed, unit, self._before(answers)),
        )
        doubt = self._doubt(answers, number, station.id)
        if doubt:
            yield Question(
                f"far {mine}",
                f"  {' '.join(_texts(answers, f'gap {mine}'))} at {station.id}, is it so (y/n)",
                f"{doubt} y takes it as it was typed, n asks for it again.",
                yes_or_no,
                needed=True,
                says=doubt,
            )
        also = value(answers, "also")
        if value(answers, f"gap {mine}") is None or not also:
            return
        if also in ("step", "both"):
            yield Question(
                f"step {mine}",
                f"  {station.id}, step between the faces, {unit}",
                "How far the right-hand face stands proud of the left one; a minus sign where it "
                "stands back, 0 where they are flush. Enter: not read.",
                lambda typed: one(typed, unit),
            )
        if also in ("photo", "both"):
            yield Question(
                f"photo {mine}",
                f"  {station.id}, photo of it",
                "A photo in the job folder with the instrument in this gap: its name, or its path. "
                "Several with ; between. Enter: none.",
                lambda typed: at.photos(self.desk, typed),
            )

    def _which_seam(self, answers: Answers, number: int) -> Question:
        done = [s.id for n in range(1, number) if (s := self._seam(answers, n))]
        before = self._read_before(answers)
        waiting = [seam for seam in self.seams if seam.id not in done]
        first = [s for s in waiting if any((s.id, one.id) not in before for one in s.station)]
        left = [seam.id for seam in (first or (waiting if number == 1 else ()))]
        return Question(
            f"seam {number}",
            "Seam" if number == 1 else "Next seam" + ("" if left else " (Enter: done)"),
            "The seam that you read now. Its stations follow in the order of job.toml. The record "
            "of the seam before is written now; until then < leads back.",
            usual=left[0] if left else None,
            needed=number == 1,
            choices=tuple(seam.id for seam in self.seams),
        )

    def _begin(self, answers: Answers, number: int) -> None:
        """Begin a seam: the one before it is written, and there is no way back into it."""
        if number > 1:
            self._write(answers, number - 1)
            self.talk.settled = len(answers) - 1
        seam = self._seam(answers, number)
        if seam is None:
            return
        self.taken[number] = at.at_last(self.desk, value(answers, "taken"))
        asked = self._stations(answers, number, seam)
        done = [station.id for station in seam.station if station not in asked]
        if done:
            tell(
                f"Read in this stage already: {', '.join(done)}. To read them again, choose the "
                "seam once more afterwards."
            )

    def _write(self, answers: Answers, number: int) -> None:
        values = self.values(answers, number)
        if values is not None and number not in self.written:
            about = f"{values['stage']}-{values['seam']}"
            self.written[number] = self.desk.write(values, str(values["taken"]), about)

    def _show(self, record: Record, station: str, answers: Answers, number: int) -> None:
        if value(answers, f"gap {number} {station}") is None:
            tell("not read")
            return
        case = self.desk.with_record(record)
        click.echo("\n".join(shown(line) for line in reading_lines(case, record, station)))
        self.against[f"{number} {station}"] = speaks_against(case, record, station)

    def _rows(
        self, answers: Answers, number: int, seam: Seam, *, doubted: bool
    ) -> Iterator[dict[str, object]]:
        for station in seam.station:
            typed = value(answers, f"gap {number} {station.id}")
            gap: Any = typed if doubted else self._gap(answers, number, station.id)
            if gap is None:
                continue
            row: dict[str, object] = {"station": station.id, "gap": list(gap)}
            step: Any = value(answers, f"step {number} {station.id}")
            photo: Any = value(answers, f"photo {number} {station.id}")
            yield (
                row | ({"step": step} if step else {}) | ({"witness": list(photo)} if photo else {})
            )

    def _common(self, answers: Answers) -> dict[str, object]:
        head = self.desk.head("readings", at.said_by(self.desk, answers))
        known = {key: value(answers, key) for key in KEYS}
        return head | {key: said for key, said in known.items() if said is not None}

    def _empty(self, answers: Answers) -> dict[str, object]:
        """Give a record with a made-up reading, to try what holds for all readings."""
        seam = self.seams[0]
        made_up: dict[str, object] = {
            "stage": Stage.DRY_FIT.value,
            "instrument": Instrument.RULE_MM.value,
            "seam": seam.id,
            "taken": at.at_last(self.desk, value(answers, "taken") or "now"),
            "at": [{"station": seam.station[0].id, "gap": ["1 mm"]}],
        }
        return made_up | self._common(answers)

    def _seam(self, answers: Answers, number: int) -> Seam | None:
        chosen = value(answers, f"seam {number}")
        return next((seam for seam in self.seams if seam.id == chosen), None)

    def _unit(self, answers: Answers) -> str:
        return unit_of(str(value(answers, "resolution") or value(answers, "instrument")))

    def _before(self, answers: Answers) -> tuple[str, ...]:
        """Give the gaps with a unit of their own that were typed before."""
        texts: list[str] = []
        for key, answer in answers.items():
            given: Any = answer.value
            if key.startswith("gap ") and given:
                texts += given
        return tuple(texts)

    def _read_before(self, answers: Answers, *, this_visit: bool = False) -> set[tuple[str, str]]:
        """Give seam and station of what was read in this stage before this session.

        With `this_visit` a complaint of another day is another one, to be read anew.
        """
        stage, piece = value(answers, "stage"), value(answers, "piece")
        day = local_day(self.desk.case, taken(self.desk, answers))
        any_day = not this_visit or stage != Stage.COMPLAINT.value
        return {
            (r.seam, r.station)
            for r in self.desk.case.readings
            if r.stage.value == stage
            and same_piece(r.piece, str(piece) if piece else None)
            and (any_day or local_day(self.desk.case, r.taken) == day)
        }


def _texts(answers: Answers, key: str) -> tuple[str, ...]:
    given: Any = value(answers, key)
    return tuple(given or ())
