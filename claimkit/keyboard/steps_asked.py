"""A step of the work asked: which, when, on which seams. Without steps no photo has its place."""

from __future__ import annotations

import re
from dataclasses import dataclass

from claimkit.findings.seams.states import FIXED_STAGES
from claimkit.intake.entries.problems import Unreadable, quoted
from claimkit.keyboard import desk as at
from claimkit.keyboard.desk import Desk, value
from claimkit.keyboard.gaps_head import how_they_stand
from claimkit.keyboard.lines import meant
from claimkit.keyboard.questions import Answers, Question, yes_or_no
from claimkit.model.job import Job
from claimkit.model.records import Milestone, Record
from claimkit.model.stages import Event, Stage

STANDING = ("temperature", "set_level", "place", "clamped")
KEYS = ("event", "began", "ended", "seams", "piece", *STANDING, "note")

WRITE = Question(
    "write",
    "Write it (y/n)",
    "y writes the record, n leaves everything as it was, < goes back to mend an answer.",
    yes_or_no,
    usual="y",
    needed=True,
)


@dataclass
class Step:
    """The questions on one step of the work, and its record once it is written."""

    desk: Desk
    written: Record | None = None

    def following(self, answers: Answers) -> Question | None:
        """Give the next question; None when all are answered."""
        for question in (
            *at.who_and_when(self.desk)[:-1],
            Question(
                "event",
                "Which step",
                "What happened or began.",
                usual=self._next(),
                needed=True,
                choices=tuple(event.value for event in Event),
            ),
            _time(self.desk, "began", "When it happened or began", usual="now"),
            _time(self.desk, "ended", "When it ended (Enter: not known)"),
            *seams_question(self.desk.job),
            *at.piece_question(self.desk),
            *self._standing(answers),
            Question(
                "note",
                "What else matters (Enter: nothing)",
                "Words of your own: the weather, who held what, why it was done again.",
            ),
            WRITE,
        ):
            if question.key not in answers:
                return question
        return None

    def took(self, question: Question, answers: Answers) -> None:
        """Try an answer as part of the record. Raises Unreadable."""
        if question.key != "write" and "event" in answers:
            self.desk.tried({"began": at.at_last(self.desk, "now")} | self.values(answers))

    def values(self, answers: Answers) -> dict[str, object]:
        """Give the record as far as it was answered."""
        values = self.desk.head("milestone", at.said_by(self.desk, answers))
        for key in KEYS:
            known = value(answers, key)
            if known is not None:
                times = key in ("began", "ended")
                values[key] = at.at_last(self.desk, known) if times else known
        return values

    def complete(self, answers: Answers) -> bool:
        """Tell whether it is a record already: the step and its time."""
        return "event" in answers and "began" in answers

    def end(self, answers: Answers) -> None:
        """Write the record."""
        values = self.values(answers)
        self.written = self.desk.write(values, str(values["began"]), str(values["event"]))

    def _standing(self, answers: Answers) -> tuple[Question, ...]:
        """Ask how the pieces stand at a step that begins a stage: photos of cards go by it."""
        stage = next((s for s in Stage if s.value == value(answers, "event")), None)
        if stage is None or not self.desk.job.seam:
            return ()
        return how_they_stand(fixed=stage in FIXED_STAGES)

    def _next(self) -> str | None:
        """Give the step after the last one that is recorded, in the order of the work."""
        order = list(Event)
        bodies = (record.body for record in self.desk.case.facts.in_force(Milestone))
        done = [order.index(body.event) for body in bodies if isinstance(body, Milestone)]
        following = max(done, default=-1) + 1
        return order[following].value if following < len(order) - 1 else None


def seams_question(job: Job) -> tuple[Question, ...]:
    """Ask which seams it is about, where there are several."""
    ids = tuple(seam.id for seam in job.seam)
    if len(ids) < 2:
        return ()
    return (
        Question(
            "seams",
            f"Which seams ({', '.join(ids)}; Enter: all)",
            "One or more of them, with a space or comma between.",
            lambda typed: seams_named(typed, ids),
        ),
    )


def seams_named(typed: str, ids: tuple[str, ...]) -> list[str]:
    """Read the seams on a line. Raises Unreadable."""
    if (whole := meant(typed, ids)) is not None:
        return [whole]
    found = []
    for word in re.split(r"[\s,;]+", typed):
        named = meant(word, ids)
        if named is None:
            raise Unreadable(f"{quoted(word)} is no seam.", f"There are: {', '.join(ids)}.")
        found.append(named)
    return list(dict.fromkeys(found))


def _time(desk: Desk, key: str, asks: str, usual: str | None = None) -> Question:
    return Question(
        key,
        asks,
        "Now, a time of today such as 14:20, or a day and time such as 2026-05-04 14:20. Local "
        "time at the site.",
        lambda typed: at.past(desk, typed),
        usual=usual,
        needed=usual is not None,
    )
