"""The three answers for a pair of readings, with the sentences that give reasons and what to do.

Numbers come from the comparison; here they meet the design, the episodes and the instruments. An
answer that cannot be given says what reading would settle it, or that none can any more.
"""

from __future__ import annotations

import math
from dataclasses import replace

from claimkit.findings.seams.compare import (
    Limits,
    chance_unchanged_shown,
    change,
    fit,
    u_for_change,
    u_for_fit,
)
from claimkit.findings.seams.fit_warmth import (
    ASK_THE_MAKER,
    Warmths,
    hangs_on_temperature,
    there_text,
)
from claimkit.findings.seams.pairs import Pair
from claimkit.findings.seams.temperature import Thermal, Treatment, thermal
from claimkit.findings.seams.words import (
    STAGE_WORDS,
    between,
    budget,
    down_mm,
    named,
    percent,
    plain_mm,
    with_u,
)
from claimkit.model.gap import Change, ChangeJudgement, Fit, FitJudgement, GapReading
from claimkit.model.job import Job, Joint, Seam
from claimkit.model.measurement import Measurement
from claimkit.model.stages import Stage
from claimkit.rules.instruments import ROWS, InstrumentRow

BEST_BY_HAND_MM = 0.02
"""What five close repeats with a 0.05 mm feeler gauge come to; below it no hand reading decides."""


def design_of(seam: Seam) -> Limits | str:
    """Give the design's limits in mm, or the sentence that says why there are none."""
    if seam.joint is Joint.INTERLOCKING:
        return "An interlocking joint has no design gap, so no gap is within or outside its design."
    low = float(seam.design_gap_min.mm) if seam.design_gap_min else None
    high = float(seam.design_gap_max.mm) if seam.design_gap_max else None
    if low is None and high is None:
        return (
            f"The design gap of seam {seam.id} is not entered. Write design_gap_min, "
            "design_gap_max and design_source in job.toml from the maker's instructions."
        )
    if low is not None and high is not None and low > high:
        return (
            f"The smallest design gap of seam {seam.id} is larger than the largest. Correct "
            "design_gap_min and design_gap_max in job.toml."
        )
    return Limits(low, high)


def tolerance_of(seam: Seam) -> float | str:
    """Give the change that matters in mm, or the sentence that says why it is not known."""
    if seam.tolerance is None:
        return (
            f"The change that matters is not entered for seam {seam.id}. Write its tolerance in "
            'job.toml, such as tolerance = "1/32 in", with who set it.'
        )
    if seam.tolerance.mm < 0:
        return f"The tolerance of seam {seam.id} is below zero. Correct it in job.toml."
    return float(seam.tolerance.mm)


def limits_text(seam: Seam, limits: Limits) -> str:
    """Print the design's limits with the paper that states them."""
    if limits.low is None:
        text = f"at most {plain_mm(limits.high or 0.0)}"
    elif limits.high is None:
        text = f"at least {plain_mm(limits.low)}"
    else:
        text = f"{plain_mm(limits.low)} to {plain_mm(limits.high)}"
    return f"{text} ({seam.design_source})" if seam.design_source else text


def fit_of(
    seam: Seam,
    reading: GapReading,
    *,
    past: bool,
    dry_fits: int = 1,
    warmths: Warmths = (),
) -> FitJudgement:
    """Judge one reading against the design, and against the gap at other temperatures.

    `past` where it cannot be taken again; `dry_fits` counts those that it was chosen from;
    `warmths` are the other temperatures in °C that the seam was read at, with the gap there.
    """
    limits = design_of(seam)
    if isinstance(limits, str):
        return FitJudgement(Fit.CANNOT_TELL, None, limits)
    answer, p = fit(reading.measurement, limits)
    which = f" (of {dry_fits} dry-fit readings, the last in its state)" if dry_fits > 1 else ""
    because = (
        f"{with_u(reading.measurement)} at {named(reading)}{which} against a design of "
        f"{limits_text(seam, limits)}: probability of lying within it {percent(p)}."
    )
    other = hangs_on_temperature(reading, answer, limits, warmths)
    if other:
        because += (
            f" {there_text(warmths, limits)} It is {other}; the design states no temperature."
        )
        return FitJudgement(Fit.CANNOT_TELL, p, because, ASK_THE_MAKER, other)
    if reading.celsius is not None:
        because = f"{because} Read at {reading.celsius:g} °C. {there_text(warmths, limits)}".strip()
    if answer is not Fit.CANNOT_TELL:
        return FitJudgement(answer, p, because)
    need = u_for_fit(reading.measurement.value_mm, limits)
    return FitJudgement(answer, p, because, _settle_fit(reading, need, past=past))


def no_dry_fit() -> FitJudgement:
    """Give the answer where nobody read this station at the dry fit."""
    return FitJudgement(
        Fit.CANNOT_TELL,
        None,
        "This station has no usable reading at the dry fit.",
        "Only a reading or a photo with a scale from the dry fit could tell.",
    )


def no_later_reading() -> FitJudgement:
    """Give the answer where nobody has read this station since the dry fit."""
    return FitJudgement(
        Fit.CANNOT_TELL,
        None,
        "This station has no usable reading after the dry fit.",
        "Read it again, best with the same instrument.",
    )


def change_of(job: Job | None, seam: Seam, pair: Pair) -> ChangeJudgement:
    """Judge the change between the two readings of a pair."""
    before, after = pair.before, pair.after
    if before is None or after is None:
        return no_change(before)
    if pair.reasons:
        told = f"Not compared between {between(before, after)}: {'; '.join(pair.reasons)}."
        return _untold(told, "Only readings in the same state can be compared.")
    heat = thermal(job, seam, before, after)
    raw = after.measurement.minus(before.measurement)
    difference = raw.plus(heat.correction)
    facts = _difference_text(before, after, difference, heat)
    tolerance = tolerance_of(seam)
    if isinstance(tolerance, str):
        untold = _untold(f"{facts} {tolerance}", "", difference)
        return replace(untold, settle=tolerance)
    numbers = change(difference, tolerance)
    chance = chance_unchanged_shown(difference.u_mm, tolerance)
    because = (
        f"{facts} A change of over {plain_mm(tolerance)} matters: opened "
        f"{percent(numbers.p_opened)}, closed {percent(numbers.p_closed)}, unchanged "
        f"{percent(numbers.p_unchanged)}. {_verdict(numbers.change, difference, pair, tolerance)}"
        f"{_holds_more(before, after, pair.skipped)}"
    )
    settle = ""
    if numbers.change is Change.CANNOT_TELL:
        because += (
            " Had nothing changed, these two readings would have shown it with a chance of "
            f"{percent(chance)}."
        )
        settle = _settle_change(before, difference, tolerance, heat, after)
    return ChangeJudgement(
        numbers.change,
        difference,
        numbers.p_opened,
        numbers.p_closed,
        numbers.p_unchanged,
        tolerance,
        because,
        settle,
        chance,
        heat.taken_out_mm,
    )


def no_change(before: GapReading | None) -> ChangeJudgement:
    """Give the answer where one of the two readings is missing."""
    if before is None:
        return _untold("Without a dry-fit reading no change since it can be told.", "")
    return _untold("Without a later reading no change can be told.", "Read this station again.")


def read_again(need_mm: float, used: GapReading | None = None) -> str:
    """Say with what a gap must be read for a standard uncertainty of at most `need_mm`.

    `used` is the reading that leaves it open: where its own instrument would do, its repeats do
    not agree, and no other instrument mends that.
    """
    enough = [
        row for row in ROWS if row.resolution_mm and row.reads_gaps and _single(row) <= need_mm
    ]
    bound = f"a standard uncertainty of at most {down_mm(need_mm)}"
    if used is not None and any(_is_of(used, row) for row in enough):
        return (
            f"Read it again with the {used.instrument}, three times and anew each time: "
            f"{', '.join(used.written)} lie too far apart. {bound[0].upper()}{bound[1:]} is "
            "needed, which it gives where the repeats agree. Add a record that replaces this one "
            "where one number is a slip."
        )
    if enough:
        coarsest = max(enough, key=lambda row: (row.resolution_mm or 0, -row.operator_mm))
        return f"Read it with a {coarsest.instrument.value} or finer: {bound} is needed."
    if need_mm >= BEST_BY_HAND_MM:
        return (
            f"Read it at least five times with a feeler gauge or a caliper: {bound} is needed, "
            "which one reading does not give."
        )
    return "It lies so near the limit that no reading by hand can decide."


def _is_of(reading: GapReading, row: InstrumentRow) -> bool:
    """Tell whether a reading with repeats was made with an instrument of this row."""
    name = row.instrument.value
    own = reading.instrument == name or reading.instrument.startswith(f"{name} (")
    return own and len(reading.repeats_mm) > 1


def _single(row: InstrumentRow) -> float:
    resolution = float(row.resolution_mm or 0) / math.sqrt(12.0)
    return math.hypot(resolution, row.operator_mm, row.zero_limit_mm / math.sqrt(3.0))


def _settle_fit(reading: GapReading, need: float, *, past: bool) -> str:
    if past:
        return (
            f"{STAGE_WORDS[reading.stage].capitalize()} is past and cannot be read again. Another "
            "reading or a photo with a scale from that day could settle it, with a standard "
            f"uncertainty of at most {down_mm(need)}."
        )
    return read_again(need, reading)


def _settle_change(
    before: GapReading,
    difference: Measurement,
    tolerance: float,
    heat: Thermal,
    after: GapReading | None = None,
) -> str:
    """Say what would settle a change that cannot be told, keeping the earlier reading as it is."""
    need = u_for_change(difference.value_mm, tolerance)
    fixed = math.hypot(before.measurement.u_mm, heat.correction.u_mm)
    enter = f"Enter {heat.enter}. " if heat.enter else ""
    widened = heat.treatment is Treatment.WIDENED
    if need > fixed:
        return enter * widened + read_again(math.sqrt(need * need - fixed * fixed), after)
    if widened and need > before.measurement.u_mm:
        return enter + "Without them no later reading can settle it."
    first = f"Enter {heat.enter} first: the difference may then be another. " if enter else ""
    return (
        f"{first}A later reading that gives the same difference cannot settle it: that needs a "
        f"standard uncertainty of at most {down_mm(need)}, and the reading at {named(before)} with "
        f"the temperatures already has {fixed:.2f} mm. A finer record of that day would be needed."
    )


def _difference_text(
    before: GapReading, after: GapReading, difference: Measurement, heat: Thermal
) -> str:
    warmth = f" {heat.because}" if heat.because else ""
    return (
        f"{with_u(before.measurement)} at {named(before)}, {with_u(after.measurement)} at "
        f"{named(after)}.{warmth} Difference {with_u(difference, sign=True)} (U with k = 2; "
        f"standard uncertainties in mm: {budget(difference)})."
    )


def _verdict(answer: Change, difference: Measurement, pair: Pair, tolerance: float) -> str:
    stretch = between(pair.before, pair.after)
    if answer is Change.UNCHANGED and abs(difference.value_mm) > 2.0 * difference.u_mm:
        text = f"It changed by less than the {plain_mm(tolerance)} that matters between {stretch}."
    elif answer is Change.UNCHANGED:
        text = f"It is unchanged within {plain_mm(tolerance)} between {stretch}."
    elif answer is Change.CANNOT_TELL:
        text = f"Whether it changed between {stretch} cannot be told from these readings."
    else:
        text = f"It {answer.value} between {stretch}."
    return text


def _holds_more(before: GapReading, after: GapReading, skipped: int) -> str:
    """Say what else lies in the stretch up to a complaint."""
    if after.stage is not Stage.COMPLAINT:
        return ""
    more = " That stretch also holds curing, settling, use and temperature."
    if not skipped and before.stage in (Stage.DRY_FIT, Stage.BEFORE_FASTENING):
        more += " No reading parts the fastening from what came after it."
    return more


def _untold(because: str, settle: str, difference: Measurement | None = None) -> ChangeJudgement:
    return ChangeJudgement(Change.CANNOT_TELL, difference, None, None, None, None, because, settle)
