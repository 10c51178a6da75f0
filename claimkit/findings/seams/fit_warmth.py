"""A gap against its design at the other temperatures that its seam was read at.

A design gap without a temperature is met by one and the same joint on a warm day and not on a
cold one. Where the answer turns with a temperature that was recorded, it cannot be told before the
maker says which temperature the design gap holds at.
"""

from __future__ import annotations

from collections.abc import Iterable

from claimkit.findings.seams.compare import Limits, fit, probability_within
from claimkit.findings.seams.temperature import Treatment, thermal
from claimkit.findings.seams.words import percent, with_u
from claimkit.model.gap import Fit, GapReading
from claimkit.model.job import Job, Seam
from claimkit.model.measurement import Measurement

Warmths = tuple[tuple[float, Measurement], ...]
"""Other temperatures in °C, ascending, each with what the gap would be there."""

ASK_THE_MAKER = "Ask the maker at which temperature the design gap holds."
EVEN_ODDS = 0.5


def warmths_of(
    job: Job | None, seam: Seam, reading: GapReading, others: Iterable[GapReading]
) -> Warmths:
    """Give the gap at the other temperatures that its seam was read at.

    None where the reading's own temperature, the material or the panel width is not known. The
    gap is moved by the correction of a comparison, with that correction's parts.
    """
    found: dict[float, Measurement] = {}
    for other in others:
        if other.seam != seam.id or other.celsius in (None, reading.celsius):
            continue
        heat = thermal(job, seam, reading, other)
        if heat.treatment is Treatment.CORRECTED and other.celsius is not None:
            found.setdefault(other.celsius, reading.measurement.minus(heat.correction))
    return tuple(sorted(found.items(), key=lambda row: row[0]))


def hangs_on_temperature(reading: GapReading, answer: Fit, limits: Limits, warmths: Warmths) -> str:
    """Say both answers where the other one is at least as likely at another temperature.

    "outside design at 4 °C, within design at 21 °C"; empty where none turns, and where the reading
    itself decides nothing.
    """
    if answer is Fit.CANNOT_TELL:
        return ""
    for celsius, gap in warmths:
        there, p = fit(gap, limits)
        turned = p >= EVEN_ODDS if answer is Fit.OUTSIDE else p < EVEN_ODDS
        if turned:
            likely = (Fit.WITHIN if p >= EVEN_ODDS else Fit.OUTSIDE).value
            word = likely if there is not Fit.CANNOT_TELL else f"more likely {likely} than not"
            return f"{answer.value} at {reading.celsius:g} °C, {word} at {celsius:g} °C"
    return ""


def there_text(warmths: Warmths, limits: Limits) -> str:
    """Print what the gap would be at each other temperature and how likely within its design."""
    told = [
        f"{with_u(gap)} at {celsius:g} °C (within: {percent(probability_within(gap, limits))})"
        for celsius, gap in warmths
    ]
    return f"It would be {', '.join(told)}, by the width of one free panel." if told else ""
