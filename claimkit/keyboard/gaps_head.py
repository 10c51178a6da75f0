"""What is asked once for all gap readings of a session: stage, instrument, how the pieces stand."""

from __future__ import annotations

from claimkit.findings.seams.stage_times import far_from_step, stage_at
from claimkit.findings.seams.states import FIXED_STAGES, FLOOR, OPENING
from claimkit.intake.entries.quantities import temperature
from claimkit.keyboard import desk as at
from claimkit.keyboard.desk import Desk, value
from claimkit.keyboard.lengths import one
from claimkit.keyboard.questions import Answers, Question, yes_or_no
from claimkit.model.measuring import Instrument, Readings
from claimkit.model.moment import Interval
from claimkit.model.stages import Stage
from claimkit.rules.instruments import BY_INSTRUMENT

STAGES = tuple(
    stage.value
    for stage in (
        Stage.DRY_FIT,
        Stage.BEFORE_FASTENING,
        Stage.FASTENED,
        Stage.SEALED,
        Stage.HANDOVER,
        Stage.COMPLAINT,
    )
)
KEYS = (
    *("stage", "instrument", "instrument_id", "resolution", "temperature"),
    *("place", "set_level", "clamped", "piece"),
)
"""The answers that stand in every record of the session."""
_INSTRUMENTS = tuple(i.value for i in Instrument if BY_INSTRUMENT[i].reads_gaps)


def for_all(desk: Desk, answers: Answers) -> tuple[Question, ...]:
    """Ask what holds for all readings of the session."""
    last = _last(desk)
    fixed = value(answers, "stage") in {stage.value for stage in FIXED_STAGES}
    same = last and last.instrument == value(answers, "instrument")
    other = value(answers, "instrument") == Instrument.OTHER
    stage = Question(
        "stage",
        "Stage",
        "In which stage of the work the pieces are now. Nothing read after fastening shows how "
        "it was before.",
        usual=_stage(desk, answers),
        needed=True,
        choices=STAGES,
    )
    instrument = Question(
        "instrument",
        "Read with",
        "What the gaps are read with and its smallest division. The same one each time.",
        usual=last.instrument.value if last else None,
        needed=True,
        choices=_INSTRUMENTS,
    )
    which = Question(
        "instrument_id",
        "Which one (its number)",
        "The number or mark on that gauge or rule: what is off about it then cancels between "
        "two readings. Enter: not known.",
        usual=last.instrument_id if last and same else None,
    )
    division = Question(
        "resolution",
        "Its smallest division (0.5 mm, 1/32 in)",
        "The smallest step that it shows, with its unit.",
        lambda typed: one(typed, ""),
        needed=True,
    )
    return (
        *at.who_and_when(desk),
        stage,
        instrument,
        *((division,) if other else ()),
        which,
        *at.piece_question(desk),
        *_far(desk, answers),
        *how_they_stand(fixed=fixed),
        _AT_EACH,
    )


def how_they_stand(*, fixed: bool) -> tuple[Question, ...]:
    """Ask how warm the pieces are and how they stand; once fastened they stand in the opening."""
    return (_TEMPERATURE, _LEVEL, *(() if fixed else (_PLACE, _CLAMPED)))


def _last(desk: Desk) -> Readings | None:
    bodies = [record.body for record in desk.case.facts.in_force(Readings)]
    typed = [body for body in bodies if isinstance(body, Readings)]
    return max(typed, key=lambda body: body.taken.at, default=None)


def taken(desk: Desk, answers: Answers) -> Interval:
    """Give the time of the readings, as it was typed."""
    return at.instant(desk, value(answers, "taken") or "now").interval("as typed")


def _stage(desk: Desk, answers: Answers) -> str:
    """Give the stage that the recorded steps had reached at the time that was typed."""
    reached = stage_at(desk.case, (seam.id for seam in desk.job.seam), taken(desk, answers))
    return (reached or Stage.DRY_FIT).value


def far(desk: Desk, answers: Answers, seam: str) -> str:
    """Say how far the time lies from the recorded step of the stage; empty where it does not."""
    stage, piece = value(answers, "stage"), value(answers, "piece")
    if stage is None:
        return ""
    place = (seam, str(piece) if piece else None)
    found = far_from_step(desk.case, place, Stage(str(stage)), taken(desk, answers))
    return found[0] if found else ""


def far_question(key: str, stage: object, told: str) -> Question:
    """Ask whether a stage is meant although its time lies elsewhere."""
    return Question(
        key,
        f"{str(stage).capitalize()} all the same (y/n)",
        f"The time that was typed lies {told}. n goes back to the time and the stage. Without a "
        "step of its own record that first: claimkit measure JOB --of step.",
        yes_or_no,
        needed=True,
        says=f"That time lies {told}.",
    )


def _far(desk: Desk, answers: Answers) -> tuple[Question, ...]:
    """Ask where the time lies far from the stage on every seam; of one seam it is asked there."""
    told = [far(desk, answers, seam.id) for seam in desk.job.seam if seam.station]
    if not told or not all(told):
        return ()
    return (far_question("sure", value(answers, "stage"), told[0]),)


_PLACE = Question(
    "place",
    "Where the pieces stand",
    "In the opening where they will stay, or on the open floor. Enter: not known.",
    choices=(OPENING, FLOOR),
)
_CLAMPED = Question(
    "clamped",
    "Clamped or held together (y/n)",
    "Whether the pieces are held as they will be. A loose gap is no dry fit. Enter: not known.",
    yes_or_no,
)
_LEVEL = Question(
    "set_level",
    "On a level base (y/n)",
    "Whether the pieces stand level. Enter: not known.",
    yes_or_no,
)
_TEMPERATURE = Question(
    "temperature",
    "Temperature of the pieces (20 C, 68 F)",
    "Of the pieces, not of the air outside: warm pieces have smaller gaps. Enter: not known.",
    lambda typed: temperature(typed).written,
)
_AT_EACH = Question(
    "also",
    "Also at each station (Enter: neither)",
    "Whether to ask at each station for the photo that shows it being read, and for the step "
    "between the two faces.",
    choices=("photo", "step", "both"),
)
